//! The Assembly: parts with their places, joints between them, fittings, and what moves.

mod build;
mod carried;
mod contact;
mod drawer;
mod finish;
mod fitting;
mod fronts;
mod handles;
mod hinges;
mod holders;
mod joints;
mod panels;
mod part;
mod platform;
mod purpose;
mod scene;
mod stand;
mod tilting;

#[cfg(test)]
pub(crate) mod tests;

pub use build::{BuildError, Cause, Problem, build, build_loaded};
pub use fitting::{FittingKind, MountedFitting, StandPiece, listed};
pub use handles::{HANDY_HEIGHT, handle_holes, handle_of, handled_front};
pub(crate) use hinges::hinge_of;
pub use hinges::{hinge_count, hinge_places};
pub(crate) use holders::STAY_SIDES;
pub use holders::{BRACKET_SCREW_FROM_END, bracket_screws, stay_ranges};
pub use part::{Band, Grain, Groove, Hole, Machining, Part, PartEdge, PartFace, PartOutline, PartSize, Placement};
pub use purpose::Purpose;

use serde::Serialize;

use crate::geometry::{Cuboid, Direction, Point};
use crate::layout::LaidThing;
use crate::length::Length;
use crate::worktop::{Outline, TopPiece};

/// Everything that is built, in world axes, all moving parts shut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Assembly {
    /// The parts, in the order of the parts list.
    pub parts: Vec<Part>,
    /// Which parts meet, and how.
    pub joints: Vec<Joint>,
    /// Hardware with its place.
    pub fittings: Vec<MountedFitting>,
    /// What moves, and how.
    pub movers: Vec<Mover>,
    /// The things in their places.
    pub things: Vec<LaidThing>,
    /// The outside box.
    pub envelope: Cuboid,
    /// The worktop as a whole, if it has one; its pieces are parts.
    #[serde(skip)]
    pub worktop: Option<Worktop>,
}

/// A worktop as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Worktop {
    /// Its outline in plan.
    pub outline: Outline,
    /// What it is cut from, from left to right.
    pub pieces: Vec<TopPiece>,
}

impl Assembly {
    /// The mass of all parts, kg; without things and fittings.
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        self.parts.iter().map(|part| part.mass_kg).sum()
    }

    /// The part with this number.
    #[must_use]
    pub fn part(&self, number: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.number == number)
    }
}

/// Two parts that meet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Joint {
    /// Index of the part whose face receives the other, into [`Assembly::parts`].
    pub face_part: usize,
    /// Index of the part whose edge (or second face) meets it.
    pub edge_part: usize,
    /// The rectangle in which they touch, flat along one axis.
    pub contact: Cuboid,
    /// From the face part into the edge part.
    pub direction: Direction,
    /// How they are joined.
    pub kind: JoinedBy,
}

/// How two parts are joined.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub enum JoinedBy {
    /// Wood dowels.
    Dowels {
        /// Diameter.
        diameter: Length,
        /// Length.
        length: Length,
        /// Whether a few screws press the joint while the glue sets.
        with_screws: bool,
    },
    /// Screws through the face part into the edge part.
    Screws,
    /// The edge part stands in a groove of the face part.
    Housing {
        /// Depth of the groove.
        depth: Length,
    },
    /// The edge part is glued into a rebate along an edge of the face part.
    Rebate {
        /// Depth of the rebate, from the face.
        depth: Length,
        /// The side on which the rebate is open: there the parts are flush.
        open: Direction,
    },
    /// Steel angles in the corner.
    Angles,
    /// Nothing but contact: loose shelves, applied worktops.
    Loose,
}

impl JoinedBy {
    /// How deep the edge part stands in the face part.
    #[must_use]
    pub const fn seat(&self) -> Option<Length> {
        match self {
            Self::Housing { depth } | Self::Rebate { depth, .. } => Some(*depth),
            Self::Dowels { .. } | Self::Screws | Self::Angles | Self::Loose => None,
        }
    }
}

/// Something that moves: a drawer, a pull-out, a door, a flap, a tilting compartment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mover {
    /// A stable id, such as `drawer crates`.
    pub id: String,
    /// The bay that it closes or comes out of.
    pub bay: String,
    /// Indices of the parts that move, into [`Assembly::parts`].
    pub parts: Vec<usize>,
    /// Indices of the things that move with it, into [`Assembly::things`].
    pub things: Vec<usize>,
    /// Indices of the fittings that move with it and stand out, such as handles, into [`Assembly::fittings`].
    pub fittings: Vec<usize>,
    /// How it moves.
    pub motion: Motion,
}

/// How something moves from shut to fully open.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Motion {
    /// Along a straight line.
    Slide {
        /// Where to.
        direction: Direction,
        /// How far.
        travel: Length,
    },
    /// About an axis.
    Turn {
        /// A point on the axis.
        pivot: Point,
        /// The direction of the axis; the turn is counter-clockwise seen against it.
        axis: Direction,
        /// Largest angle, degrees.
        opens_deg: f64,
    },
}
