//! Holes and grooves between the world and a part's own frame.

use crate::assembly::{Groove, Hole, Machining, Part, PartEdge, PartFace, Purpose};
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::length::Length;

/// A hole as it lies in the world.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HoleInWorld {
    /// Where its axis enters the part.
    pub entry: Point,
    /// Into the part, along its axis.
    pub into: Direction,
    /// How deep; the whole part if it goes through.
    pub depth: Length,
    /// Diameter.
    pub diameter: Length,
    /// Whether it goes through.
    pub through: bool,
}

impl HoleInWorld {
    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> Point {
        self.entry.moved(self.into, self.depth)
    }

    /// The box round it.
    #[must_use]
    pub fn cuboid(&self) -> Cuboid {
        let mut cuboid = Cuboid::between(self.entry, self.end());
        let radius = Length::from_nm((self.diameter.nm() + 1) / 2);
        for axis in Axis::ALL.into_iter().filter(|&axis| axis != self.into.axis) {
            cuboid = cuboid.grown(Direction::new(axis, false), radius).grown(Direction::new(axis, true), radius);
        }
        cuboid
    }
}

/// The face or edge of a part that looks in a direction of the world.
pub(super) fn face_towards(part: &Part, direction: Direction) -> PartFace {
    let frame = part.world_from_part;
    match frame.edge_towards(direction) {
        Some(edge) => PartFace::Edge(edge),
        None if direction == frame.thickness => PartFace::Over,
        None => PartFace::Under,
    }
}

/// The hole in the part's own frame: `entry` lies on the part, `into` points into it.
pub(super) fn bore(
    part: &Part,
    entry: Point,
    into: Direction,
    diameter: Length,
    depth: Option<Length>,
    purpose: Purpose,
) -> Hole {
    let face = face_towards(part, into.reversed());
    let (u, v, w) = part.world_from_part.from_world(entry);
    let at = match face {
        PartFace::Under | PartFace::Over => (u, v),
        PartFace::Edge(PartEdge::Start | PartEdge::End) => (v, w),
        PartFace::Edge(PartEdge::Near | PartEdge::Far) => (u, w),
    };
    Hole { face, at, diameter, depth, purpose, joint: None }
}

/// The hole of a part as it lies in the world.
#[must_use]
pub fn hole_in_world(part: &Part, hole: &Hole) -> HoleInWorld {
    let (frame, size) = (part.world_from_part, part.finished);
    let (a, b) = hole.at;
    let (u, v, w) = match hole.face {
        PartFace::Under => (a, b, Length::ZERO),
        PartFace::Over => (a, b, size.thickness),
        PartFace::Edge(PartEdge::Start) => (Length::ZERO, a, b),
        PartFace::Edge(PartEdge::End) => (size.length, a, b),
        PartFace::Edge(PartEdge::Near) => (a, Length::ZERO, b),
        PartFace::Edge(PartEdge::Far) => (a, size.width, b),
    };
    let into = frame.inwards(hole.face);
    HoleInWorld {
        entry: frame.to_world(u, v, w),
        into,
        depth: hole.depth.unwrap_or_else(|| part.cuboid.size(into.axis)),
        diameter: hole.diameter,
        through: hole.depth.is_none(),
    }
}

/// The space that a groove takes, in the world; none for a groove in an edge.
#[must_use]
pub fn groove_in_world(part: &Part, groove: &Groove) -> Option<Cuboid> {
    let (low, high) = match groove.face {
        PartFace::Under => (Length::ZERO, groove.depth),
        PartFace::Over => (part.finished.thickness - groove.depth, part.finished.thickness),
        PartFace::Edge(_) => return None,
    };
    let frame = part.world_from_part;
    Some(Cuboid::between(
        frame.to_world(groove.from.0, groove.from.1, low),
        frame.to_world(groove.to.0, groove.to.1, high),
    ))
}

/// The holes of a part.
pub(crate) fn holes(part: &Part) -> impl Iterator<Item = &Hole> {
    part.machining.iter().filter_map(|it| match it {
        Machining::Hole(hole) => Some(hole),
        Machining::Groove(_) => None,
    })
}

/// The grooves of a part.
pub(super) fn grooves(part: &Part) -> impl Iterator<Item = &Groove> {
    part.machining.iter().filter_map(|it| match it {
        Machining::Groove(groove) => Some(groove),
        Machining::Hole(_) => None,
    })
}
