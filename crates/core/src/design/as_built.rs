//! What was measured on the real piece, and what is done: from then on it goes before what was computed.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::expr::Dim;

/// Sizes measured on the real piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AsBuilt<L = Dim> {
    /// Thickness of boards by the name of the material.
    #[serde(default = "BTreeMap::new", skip_serializing_if = "BTreeMap::is_empty")]
    pub thickness: BTreeMap<String, L>,
    /// Parts that are cut, by their number, with their finished length and width: they stay as they are.
    #[serde(default = "BTreeMap::new", skip_serializing_if = "BTreeMap::is_empty")]
    pub cut: BTreeMap<String, (L, L)>,
    /// Openings by the name of their bay.
    #[serde(default = "BTreeMap::new", skip_serializing_if = "BTreeMap::is_empty")]
    pub openings: BTreeMap<String, MeasuredOpening<L>>,
    /// The two diagonals of openings, by the name of their bay: rising to the right, and falling.
    #[serde(default = "BTreeMap::new", skip_serializing_if = "BTreeMap::is_empty")]
    pub diagonals: BTreeMap<String, (L, L)>,
}

/// The clear size of an opening as measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasuredOpening<L = Dim> {
    /// From left to right.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub width: Option<L>,
    /// From below to above.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub height: Option<L>,
}

impl<L> Default for AsBuilt<L> {
    fn default() -> Self {
        Self { thickness: BTreeMap::new(), cut: BTreeMap::new(), openings: BTreeMap::new(), diagonals: BTreeMap::new() }
    }
}

impl<L> AsBuilt<L> {
    /// Whether nothing was measured yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let Self { thickness, cut, openings, diagonals } = self;
        thickness.is_empty() && cut.is_empty() && openings.is_empty() && diagonals.is_empty()
    }
}

/// What is ticked off.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Progress {
    /// Numbers of the parts that are cut.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<String>,
    /// Ids of the steps that are done, as the order of work gives them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<String>,
}
