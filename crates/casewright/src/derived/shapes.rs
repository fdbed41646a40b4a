//! Boxes, directions and frames as they stand in the derived file.

use casewright_core::Length;
use casewright_core::assembly::Placement;
use casewright_core::geometry::{Axis, Cuboid, Direction, Point};
use serde::Serialize;

/// A box between two corners, each [x, y, z] in millimetres.
#[derive(Debug, Serialize)]
pub(super) struct Solid {
    min: [f64; 3],
    max: [f64; 3],
}

impl From<&Cuboid> for Solid {
    fn from(cuboid: &Cuboid) -> Self {
        Self { min: point(cuboid.min), max: point(cuboid.max) }
    }
}

/// A point as [x, y, z] in millimetres.
pub(super) fn point(point: Point) -> [f64; 3] {
    [point.x.mm(), point.y.mm(), point.z.mm()]
}

/// A pair of lengths in millimetres.
pub(super) fn pair((first, second): (Length, Length)) -> [f64; 2] {
    [first.mm(), second.mm()]
}

/// A direction along an axis: `+x`, `-z`.
#[derive(Debug, Serialize)]
pub(super) struct Way(&'static str);

impl From<Direction> for Way {
    fn from(direction: Direction) -> Self {
        Self(match (direction.axis, direction.negative) {
            (Axis::X, false) => "+x",
            (Axis::X, true) => "-x",
            (Axis::Y, false) => "+y",
            (Axis::Y, true) => "-y",
            (Axis::Z, false) => "+z",
            (Axis::Z, true) => "-z",
        })
    }
}

/// The own frame of a part.
#[derive(Debug, Serialize)]
pub(super) struct Frame {
    origin: [f64; 3],
    length: Way,
    width: Way,
    thickness: Way,
}

impl From<&Placement> for Frame {
    fn from(placement: &Placement) -> Self {
        Self {
            origin: point(placement.origin),
            length: placement.length.into(),
            width: placement.width.into(),
            thickness: placement.thickness.into(),
        }
    }
}
