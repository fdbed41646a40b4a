//! What stands still round the moving parts: floor, walls, obstacles with the distance to keep, the worktop next door, and
//! the piece itself.

use super::Solid;
use crate::assembly::Assembly;
use crate::design::{Obstacle, ObstacleKind, ObstacleShape, Resolved};
use crate::geometry::Axis;
use crate::length::Length;
use crate::survey::overhead;

/// How far walls and floor are taken to reach, mm.
const FAR_MM: f64 = 10_000.0;

/// What a fixed body is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FixedKind {
    /// An obstacle of the site, by its index.
    Obstacle(usize, ObstacleKind),
    /// The room itself, or the worktop next door.
    Room(RoomSide),
    /// A part that stands still, by its index.
    Part(usize),
    /// A thing that stands still, by its index.
    Thing(usize),
}

impl FixedKind {
    /// Whether it is of the site, not of the piece or what stands in it.
    #[must_use]
    pub const fn is_of_site(self) -> bool {
        matches!(self, Self::Obstacle(..) | Self::Room(_))
    }
}

/// What ends the room round a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoomSide {
    /// The floor.
    Floor,
    /// The wall behind the piece.
    Wall,
    /// The left wall of a niche.
    LeftWall,
    /// The right wall of a niche.
    RightWall,
    /// What ends the niche above: the ceiling, a sill, a beam.
    Above,
    /// The worktop next door.
    NeighbourWorktop,
}

impl RoomSide {
    /// What it is called.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Floor => "the floor",
            Self::Wall => "the wall",
            Self::LeftWall => "the left wall",
            Self::RightWall => "the right wall",
            Self::Above => "what is above",
            Self::NeighbourWorktop => "the worktop next door",
        }
    }
}

/// A body that stands still.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixed {
    /// What it is called.
    pub name: String,
    /// What it is.
    pub kind: FixedKind,
    /// The body itself.
    pub solid: Solid,
    /// The distance that moving parts keep from it, mm.
    pub keep_mm: f64,
}

impl Fixed {
    /// The body with the distance to keep.
    #[must_use]
    pub fn zone(&self) -> Solid {
        if self.keep_mm > 0.0 { self.solid.grown(self.keep_mm) } else { self.solid.clone() }
    }
}

/// An obstacle as a body; an outline that encloses no area counts as the whole box.
#[must_use]
pub fn obstacle_solid(it: &Obstacle<Length>) -> Solid {
    let (corner, size) = (&it.corner, &it.size);
    let range = |from: Length, by: Length| (from.mm(), (from + by).mm());
    let whole = [range(corner.0, size.0), range(corner.1, size.1), range(corner.2, size.2)];
    let at = |from: Length, by: Length| (from + by).mm();
    let prism = match &it.shape {
        ObstacleShape::Box => None,
        ObstacleShape::Upright(points) => {
            let outline: Vec<[f64; 2]> = points.iter().map(|(x, z)| [at(corner.2, *z), at(corner.0, *x)]).collect();
            Solid::prism(Axis::Y, range(corner.1, size.1), &outline)
        }
        ObstacleShape::Lengthwise(points) => {
            let outline: Vec<[f64; 2]> = points.iter().map(|(z, y)| [at(corner.1, *y), at(corner.2, *z)]).collect();
            Solid::prism(Axis::X, range(corner.0, size.0), &outline)
        }
    };
    prism.unwrap_or(Solid::Box(whole))
}

/// All that stands still, the site first. Parts and things of movers are left out.
#[must_use]
pub fn fixed_bodies(design: &Resolved, assembly: &Assembly) -> Vec<Fixed> {
    let mut all = site_bodies(design, assembly);
    let moves = |list: fn(&crate::assembly::Mover) -> &Vec<usize>, index: usize| {
        assembly.movers.iter().any(|mover| list(mover).contains(&index))
    };
    for (index, part) in assembly.parts.iter().enumerate().filter(|(index, _)| !moves(|it| &it.parts, *index)) {
        let solid = Solid::from(&part.cuboid);
        all.push(Fixed { name: part.name.clone(), kind: FixedKind::Part(index), solid, keep_mm: 0.0 });
    }
    for (index, thing) in assembly.things.iter().enumerate().filter(|(index, _)| !moves(|it| &it.things, *index)) {
        let solid = Solid::from(&thing.cuboid);
        all.push(Fixed { name: thing.name.clone(), kind: FixedKind::Thing(index), solid, keep_mm: 0.0 });
    }
    all
}

/// Floor, walls, obstacles and the worktop next door.
#[must_use]
pub fn site_bodies(design: &Resolved, assembly: &Assembly) -> Vec<Fixed> {
    let site = &design.site;
    let everywhere = (-FAR_MM, FAR_MM);
    let mut all: Vec<Fixed> = site
        .obstacles
        .iter()
        .enumerate()
        .map(|(index, it)| Fixed {
            name: it.name.clone(),
            kind: FixedKind::Obstacle(index, it.kind),
            solid: obstacle_solid(it),
            keep_mm: it.keep_clear.unwrap_or_default().mm(),
        })
        .collect();
    let mut room = |side: RoomSide, ranges: [(f64, f64); 3]| {
        let (name, kind) = (side.words().to_owned(), FixedKind::Room(side));
        all.push(Fixed { name, kind, solid: Solid::Box(ranges), keep_mm: 0.0 });
    };
    room(RoomSide::Floor, [everywhere, (-FAR_MM, assembly.envelope.min.y.mm().min(0.0)), everywhere]);
    room(RoomSide::Wall, [everywhere, everywhere, (-FAR_MM, 0.0)]);
    if let Some(niche) = &site.niche {
        let deep = (0.0, niche.depth.map_or(FAR_MM, Length::mm));
        let width = niche.width.mm();
        if niche.left_wall {
            room(RoomSide::LeftWall, [(-FAR_MM, 0.0), everywhere, deep]);
        }
        if niche.right_wall {
            room(RoomSide::RightWall, [(width, FAR_MM), everywhere, deep]);
        }
    }
    if let Some(top) = &site.neighbour_worktop {
        let envelope = assembly.envelope.range(Axis::X);
        let x = if top.on_left { (-FAR_MM, envelope.0.mm().min(0.0)) } else { (envelope.1.mm(), FAR_MM) };
        let height = ((top.height - top.thickness).mm(), top.height.mm());
        room(RoomSide::NeighbourWorktop, [x, height, (0.0, top.depth.mm())]);
    }
    if let Some(it) = overhead(design, &assembly.envelope) {
        for plane in it.planes {
            let x = plane.x.map_or(everywhere, |(from, to)| (from.mm(), to.mm()));
            let z = (plane.z.0.mm(), plane.z.1.map_or(FAR_MM, Length::mm));
            let solid = Solid::Box([x, (it.height.mm(), FAR_MM), z]);
            all.push(Fixed { name: plane.name, kind: FixedKind::Room(RoomSide::Above), solid, keep_mm: 0.0 });
        }
    }
    all
}
