//! What a person asks of proposals for the carcass: which things may stay out, which belong together, which are used often,
//! and what counts more.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// What is asked of proposals. Names are those of things, or of bays that are not divided.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Arrange {
    /// May be left out where not all fits.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub wished: Vec<String>,
    /// Wanted in one column or row, next to each other.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub together: Vec<Vec<String>>,
    /// What carries it may be chosen anew, though it stands in a bay already.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub free: Vec<String>,
    /// Divided bays that stay as they are inside.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub keep: Vec<String>,
    /// Used often: wanted between hip and shoulder.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub often: Vec<String>,
    /// How much each criterion counts beside the others, 0 for not at all; by its key, such as `low`. Usually 1, and half of
    /// it for `area`, `set_ups` and `cost`.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub weights: BTreeMap<String, f64>,
}

impl Arrange {
    /// The keys of the criteria by which proposals are judged, in the order in which they are listed.
    pub const CRITERIA: [&'static str; 11] =
        ["dead", "open", "parts", "area", "fresh", "low", "handy", "lines", "span", "set_ups", "cost"];
}
