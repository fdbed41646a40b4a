//! Materials, edge banding, and what parts and their edges are called.

use serde::{Deserialize, Serialize};

use crate::expr::Dim;

/// A board material of one thickness.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Material<L = Dim> {
    /// Thickness as measured.
    pub thickness: L,
    /// What it is made of.
    pub kind: MaterialKind,
    /// Whether the face has a direction that parts must keep.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub grain: bool,
    /// Density, kg/m³; the kind's usual one if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_kg_m3: Option<f64>,
    /// Modulus of elasticity in bending, MPa; the kind's usual one if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub modulus_mpa: Option<f64>,
    /// Colour or finish, in words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub finish: String,
}

/// What a board is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum MaterialKind {
    /// Particleboard, raw or faced.
    Particleboard,
    /// Medium-density fibreboard.
    Mdf,
    /// Thin high-density fibreboard or hardboard.
    Hardboard,
    /// Plywood.
    Plywood,
    /// Oriented strand board.
    Osb,
    /// Solid softwood.
    Softwood,
    /// Solid hardwood.
    Hardwood,
}

impl MaterialKind {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Particleboard, Self::Mdf, Self::Hardboard, Self::Plywood, Self::Osb, Self::Softwood, Self::Hardwood];

    /// Usual density in kg/m³: EN 312 P2 and EN 622-5 boards as on data sheets; plywood, OSB and solid wood are middle
    /// values (common practice), to be replaced by the user's own where mass matters.
    #[must_use]
    pub const fn usual_density_kg_m3(self) -> f64 {
        match self {
            Self::Particleboard => 660.0,
            Self::Mdf => 740.0,
            Self::Hardboard => 850.0,
            Self::Plywood => 680.0,
            Self::Osb => 620.0,
            Self::Softwood => 450.0,
            Self::Hardwood => 700.0,
        }
    }
}

/// An edge banding.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Banding<L = Dim> {
    /// Thickness that it adds to the edge.
    pub thickness: L,
    /// Width of the strip as bought.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub width: Option<L>,
    /// Length of one bar as bought, for banding that is sold in straight lengths (solid lippings, thick edges); if not given it
    /// comes from the roll.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub sold_in: Option<L>,
    /// Colour or finish, in words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub finish: String,
}

/// Which edges of which parts are banded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BandRule {
    /// The roles that it applies to.
    pub roles: Vec<Role>,
    /// The edges, as they lie in the finished piece.
    pub edges: Vec<Edge>,
    /// The name of the banding.
    pub band: String,
}

/// An edge of a part as it lies in the finished piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Edge {
    /// Towards the person.
    Front,
    /// Towards the wall.
    Rear,
    /// At the left.
    Left,
    /// At the right.
    Right,
    /// Towards the floor.
    Lower,
    /// Towards the ceiling.
    Upper,
}

impl Edge {
    /// All six.
    pub const ALL: [Self; 6] = [Self::Front, Self::Rear, Self::Left, Self::Right, Self::Lower, Self::Upper];
}

/// What a part does in the piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Role {
    /// Outer upright panel.
    Side,
    /// Inner upright panel.
    Upright,
    /// Lowest lying panel.
    Bottom,
    /// Highest lying panel under a worktop, or the visible top.
    Top,
    /// Lying panel between bays, or loose in a bay.
    Shelf,
    /// Narrow strip that holds two sides together.
    Rail,
    /// Panel that closes the rear.
    Back,
    /// Door, drawer front, flap or fixed front.
    Front,
    /// Strip that closes the space under the bottom.
    Plinth,
    /// The slab on top.
    Worktop,
    /// Side of a drawer box.
    DrawerSide,
    /// Front or rear of a drawer box.
    DrawerEnd,
    /// Bottom of a drawer box.
    DrawerBottom,
    /// Board that carries a thing on slides.
    Platform,
    /// Strip along a platform that keeps the thing in place.
    SideStrip,
    /// Side of a tilting compartment.
    BinSide,
    /// Bottom, rear or lid of a tilting compartment.
    BinPanel,
}

impl Role {
    /// All of them.
    pub const ALL: [Self; 17] = [
        Self::Side,
        Self::Upright,
        Self::Bottom,
        Self::Top,
        Self::Shelf,
        Self::Rail,
        Self::Back,
        Self::Front,
        Self::Plinth,
        Self::Worktop,
        Self::DrawerSide,
        Self::DrawerEnd,
        Self::DrawerBottom,
        Self::Platform,
        Self::SideStrip,
        Self::BinSide,
        Self::BinPanel,
    ];

    /// The word for a part that does this.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Side => "side",
            Self::Upright => "upright",
            Self::Bottom => "bottom",
            Self::Top => "top",
            Self::Shelf => "shelf",
            Self::Rail => "rail",
            Self::Back => "back",
            Self::Front => "front",
            Self::Plinth => "plinth",
            Self::Worktop => "worktop",
            Self::DrawerSide => "drawer side",
            Self::DrawerEnd => "drawer end",
            Self::DrawerBottom => "drawer bottom",
            Self::Platform => "platform",
            Self::SideStrip => "strip",
            Self::BinSide => "side of a tilt-out",
            Self::BinPanel => "panel of a tilt-out",
        }
    }

    /// Whether openings for air may be cut in such parts.
    #[must_use]
    pub const fn may_have_openings(self) -> bool {
        matches!(
            self,
            Self::Side
                | Self::Upright
                | Self::Bottom
                | Self::Top
                | Self::Shelf
                | Self::Back
                | Self::Front
                | Self::Plinth
                | Self::Worktop
        )
    }
}
