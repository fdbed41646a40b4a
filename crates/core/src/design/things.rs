//! Things: what must be housed, with the air and the access that it needs.

use serde::{Deserialize, Serialize};

use super::bay::Opens;
use super::openings::Lead;
use crate::expr::Dim;

/// What must be housed: appliance, crate, container or bin.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thing<L = Dim> {
    /// What kind of thing it is.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub kind: ThingKind,
    /// Width, height and depth as it stands with its front towards the person.
    pub size: (L, L, L),
    /// Mass when empty, kg.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub mass_kg: f64,
    /// Mass of what it may hold, kg.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub load_kg: f64,
    /// Free space that it needs round it.
    #[serde(default = "Air::default", skip_serializing_if = "is_no_air")]
    pub air: Air<L>,
    /// Whether it may also stand turned by a quarter about the vertical, width and depth changing places.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub may_turn: bool,
    /// How one gets at it.
    #[serde(default = "open_access", skip_serializing_if = "is_open_access")]
    pub access: Access<L>,
    /// Its lead, if it is plugged in.
    #[serde(default = "no_lead", skip_serializing_if = "Option::is_none")]
    pub lead: Option<Lead<L>>,
}

fn no_lead<L>() -> Option<Lead<L>> {
    None
}

fn open_access<L>() -> Access<L> {
    Access::Open
}

fn is_open_access<L>(access: &Access<L>) -> bool {
    matches!(access, Access::Open)
}

fn is_no_air<L>(air: &Air<L>) -> bool {
    let Air { sides, left, right, top, rear, front } = air;
    [sides, left, right, top, rear, front].iter().all(|it| it.is_none())
}

/// What kind of thing it is; decides words, cautions and drawing, never a size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThingKind {
    /// Plugged in, gives off heat.
    Appliance,
    /// An open box that is carried full.
    Crate,
    /// A closed or stacking box.
    Container,
    /// For waste or laundry.
    Bin,
    /// Anything else.
    #[default]
    Other,
}

/// Free space round a thing. `sides` serves for `left` and `right` where these are not given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Air<L = Dim> {
    /// Left and right.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub sides: Option<L>,
    /// Left, if other than `sides`.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub left: Option<L>,
    /// Right, if other than `sides`.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub right: Option<L>,
    /// Above.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub top: Option<L>,
    /// Behind.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub rear: Option<L>,
    /// Before it, inside the carcass.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub front: Option<L>,
}

fn none<L>() -> Option<L> {
    None
}

impl<L> Default for Air<L> {
    fn default() -> Self {
        Self { sides: None, left: None, right: None, top: None, rear: None, front: None }
    }
}

/// How one gets at what the thing holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Access<L = Dim> {
    /// From the front, without a door of its own.
    Open,
    /// By a door of its own in its front.
    FrontDoor {
        /// The edge that the door turns about.
        opens: Opens,
        /// How far the open door stands out before the front of the thing.
        reach: L,
    },
    /// From above, by a lid or by hand.
    Above {
        /// Free height needed above it when in use.
        headroom: L,
    },
}
