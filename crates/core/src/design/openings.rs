//! Leads of appliances, and openings in panels that air goes through.

use serde::{Deserialize, Serialize};

use super::boards::Role;
use crate::expr::Dim;

/// The lead of an appliance, from where it comes out of the rear to the plug.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lead<L = Dim> {
    /// Its length, plug included.
    pub length: L,
    /// Where it comes out, from the left of the appliance as seen from the front; its middle if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub from_left: Option<L>,
    /// Where it comes out, from the bottom of the appliance; its bottom if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub from_below: Option<L>,
    /// The socket that it is plugged into, by the name of the obstacle; the one with the shortest way if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub socket: Option<String>,
}

/// An opening in a panel, for air to go in or out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Opening<L = Dim> {
    /// The panel that it is cut in: plinth, back, bottom, top, shelf, side, upright, worktop or front.
    pub panel: Role,
    /// The bay that it serves.
    pub bay: String,
    /// Its size along X and Y; along Z in place of the one that is the panel's thickness: X and Z in lying panels, Z and Y
    /// in upright ones.
    pub size: (L, L),
    /// From the left (in upright panels the rear) and from the lower edge (in lying panels the rear) of what the panel shows
    /// of the bay to the opening; in the middle if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub at: Option<(L, L)>,
    /// The share that a grille leaves free.
    #[serde(default = "whole", skip_serializing_if = "is_whole")]
    pub free: f64,
}

const fn whole() -> f64 {
    1.0
}

fn is_whole(free: &f64) -> bool {
    *free == whole()
}
