//! One piece to be cut: its place, its finished and cut sizes, its banded edges and its machining.

use serde::Serialize;

use super::Purpose;
use crate::design::Role;
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::length::Length;

/// One piece to be cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// Part number: unchanged as long as nothing that concerns the part changes.
    pub number: String,
    /// What it is called on drawings, such as `shelf over drawer`.
    pub name: String,
    /// What it does.
    pub role: Role,
    /// The bay that it belongs to.
    pub bay: String,
    /// The name of its material.
    pub material: String,
    /// Which way the grain runs.
    pub grain: Grain,
    /// Size with edge banding.
    pub finished: PartSize,
    /// Size as sawn, without edge banding.
    pub cut: PartSize,
    /// Edge banding, at most one an edge.
    pub bands: Vec<Band>,
    /// Where the part's own frame lies in the world.
    pub world_from_part: Placement,
    /// The finished part in world axes, shut.
    pub cuboid: Cuboid,
    /// Holes, grooves and the like, in the part's own frame.
    pub machining: Vec<Machining>,
    /// What is left of the rectangle, if it is cut to a shape.
    pub outline: Option<PartOutline>,
    /// Mass, kg.
    pub mass_kg: f64,
}

/// The shape of a part that is no rectangle, in its own frame, millimetres. The rectangle round it is what is sawn first.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartOutline {
    /// The edge, closed, in straight lines that keep within 0.02 mm of the curves: U and V.
    pub edge: Vec<[f64; 2]>,
    /// Openings in it.
    pub openings: Vec<Vec<[f64; 2]>>,
    /// Area without the openings, square millimetres.
    pub area_mm2: f64,
    /// Lengths of its four edges as they run.
    pub lengths: Vec<(PartEdge, Length)>,
}

impl Part {
    /// The length of an edge as it runs, with banding round the corner: of a shaped part along its curve.
    #[must_use]
    pub fn edge_length(&self, edge: PartEdge) -> Length {
        let shaped = self.outline.iter().flat_map(|it| &it.lengths).find(|it| it.0 == edge);
        shaped.map_or_else(
            || match edge {
                PartEdge::Near | PartEdge::Far => self.finished.length,
                PartEdge::Start | PartEdge::End => self.finished.width,
            },
            |it| it.1,
        )
    }
}

/// Length along the grain if there is one, else the longer side; width; thickness.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct PartSize {
    /// Along U of the part.
    pub length: Length,
    /// Along V of the part.
    pub width: Length,
    /// Along W of the part.
    pub thickness: Length,
}

/// Which way the grain runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Grain {
    /// Along the length.
    AlongLength,
    /// The face has no direction.
    None,
}

/// The four edges of a part in its own frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum PartEdge {
    /// Where the length begins, U = 0.
    Start,
    /// Where the length ends.
    End,
    /// Where the width begins, V = 0.
    Near,
    /// Where the width ends.
    Far,
}

impl PartEdge {
    /// Its name, in one word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::End => "end",
            Self::Near => "near",
            Self::Far => "far",
        }
    }
}

/// The two faces of a part in its own frame, and its edges as faces to drill into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum PartFace {
    /// W = 0.
    Under,
    /// W = thickness.
    Over,
    /// An edge; places on it are given along the edge and from W = 0.
    Edge(PartEdge),
}

/// Banding on one edge.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Band {
    /// The edge.
    pub edge: PartEdge,
    /// The name of the banding.
    pub name: String,
    /// Thickness that it adds.
    pub thickness: Length,
}

/// Where a part's own frame (U length, V width, W thickness, origin at the datum corner) lies in the world. The three
/// directions are right-handed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Placement {
    /// The datum corner.
    pub origin: Point,
    /// Where U points.
    pub length: Direction,
    /// Where V points.
    pub width: Direction,
    /// Where W points.
    pub thickness: Direction,
}

impl Placement {
    /// The frame with its datum at the corner of `cuboid` from which all three directions point inwards.
    #[must_use]
    pub fn at_corner(cuboid: &Cuboid, length: Direction, width: Direction, thickness: Direction) -> Self {
        let mut origin = cuboid.min;
        for direction in [length, width, thickness] {
            if direction.negative {
                origin = origin.with(direction.axis, cuboid.max.along(direction.axis));
            }
        }
        Self { origin, length, width, thickness }
    }

    /// The world point of (u, v, w).
    #[must_use]
    pub fn to_world(&self, u: Length, v: Length, w: Length) -> Point {
        self.origin.moved(self.length, u).moved(self.width, v).moved(self.thickness, w)
    }

    /// The (u, v, w) of a world point.
    #[must_use]
    pub fn from_world(&self, point: Point) -> (Length, Length, Length) {
        let along =
            |direction: Direction| (point.along(direction.axis) - self.origin.along(direction.axis)) * direction.sign();
        (along(self.length), along(self.width), along(self.thickness))
    }

    /// Which edge of the part looks in `direction` of the world; none if a face does.
    #[must_use]
    pub fn edge_towards(&self, direction: Direction) -> Option<PartEdge> {
        if direction == self.length {
            Some(PartEdge::End)
        } else if direction == self.length.reversed() {
            Some(PartEdge::Start)
        } else if direction == self.width {
            Some(PartEdge::Far)
        } else if direction == self.width.reversed() {
            Some(PartEdge::Near)
        } else {
            None
        }
    }

    /// Into the part, away from one of its edges or faces, in the world.
    #[must_use]
    pub const fn inwards(&self, face: PartFace) -> Direction {
        match face {
            PartFace::Under => self.thickness,
            PartFace::Over => self.thickness.reversed(),
            PartFace::Edge(PartEdge::Start) => self.length,
            PartFace::Edge(PartEdge::End) => self.length.reversed(),
            PartFace::Edge(PartEdge::Near) => self.width,
            PartFace::Edge(PartEdge::Far) => self.width.reversed(),
        }
    }

    /// The axis that the thickness lies along.
    #[must_use]
    pub const fn thickness_axis(&self) -> Axis {
        self.thickness.axis
    }
}

/// What is cut or drilled into a part, in its own frame.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub enum Machining {
    /// A round hole.
    Hole(Hole),
    /// A groove along the length or the width.
    Groove(Groove),
}

/// A round hole.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Hole {
    /// The face or edge that it enters.
    pub face: PartFace,
    /// Its centre on that face: U and V on faces; along the edge and W on edges.
    pub at: (Length, Length),
    /// Diameter.
    pub diameter: Length,
    /// Depth; through if none.
    pub depth: Option<Length>,
    /// What it is for.
    pub purpose: Purpose,
    /// Index of the joint that made it, into the assembly's joints.
    pub joint: Option<usize>,
}

impl Hole {
    /// Whether a screw of a joint goes through it or into it.
    #[must_use]
    pub const fn is_for_screw(&self) -> bool {
        matches!(self.purpose, Purpose::Screw { .. })
    }
}

/// A groove in a face.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Groove {
    /// The face.
    pub face: PartFace,
    /// The corner of its rectangle with the smaller U and V.
    pub from: (Length, Length),
    /// The corner with the larger U and V.
    pub to: (Length, Length),
    /// Depth.
    pub depth: Length,
    /// What it is for.
    pub purpose: Purpose,
}
