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
    /// What comes out of it by itself: a tank, a tray, a sieve.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub pull_outs: Vec<OwnPullOut<L>>,
    /// Its lead, if it is plugged in.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub lead: Option<Lead<L>>,
}

/// Something that comes straight out of a thing: the water tank of a dryer, its lint tray, the filter of a machine. It is
/// as deep as it comes out unless that is given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnPullOut<L = Dim> {
    /// Its name, unique in the thing.
    pub name: String,
    /// Its lower left corner in the side that it comes out of, as one looks at that side: from the left, from below; on
    /// top from the left and from the front.
    pub corner: (L, L),
    /// Its width and height there.
    pub size: (L, L),
    /// How far it comes out.
    pub travel: L,
    /// How deep it reaches into the thing; as far as it comes out if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub depth: Option<L>,
    /// Through which side.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub towards: ThingSide,
}

/// A side of a thing as it stands with its front towards the person.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThingSide {
    /// Towards the person.
    #[default]
    Front,
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// On top.
    Top,
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
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub sides: Option<L>,
    /// Left, if other than `sides`.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub left: Option<L>,
    /// Right, if other than `sides`.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub right: Option<L>,
    /// Above.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub top: Option<L>,
    /// Behind.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub rear: Option<L>,
    /// In front of it, inside the carcass.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub front: Option<L>,
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
        /// How far the open door stands out from the front of the thing.
        reach: L,
    },
    /// From above, by a lid or by hand.
    Above {
        /// Free height needed above it when in use.
        headroom: L,
    },
}
