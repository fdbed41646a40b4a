//! The way of a piece to its place, in the side section: pushed straight in, or leaned and lifted past what is in the way.

use std::cmp::{Ordering, Reverse};
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};

use serde::Serialize;

use super::overhead;
use crate::design::{ObstacleKind, Resolved, SiteWall};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;
use crate::moving::planar::{self, Spot};

/// Steps of the way: along it, and in leaning.
const STEP_MM: f64 = 10.0;
const STEP_DEG: i32 = 1;
/// How far two people lift a piece on its way, mm (own choice).
const LIFTS_MM: [f64; 3] = [0.0, 30.0, 80.0];
/// What touches by less does not meet, mm.
const TOUCH_MM: f64 = 0.05;
/// The end of the room for what has none.
const FAR_MM: f64 = 10_000.0;

/// Something in the way: ranges of z and y.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// What it is called.
    pub name: String,
    /// From the wall towards the person, mm.
    pub z: (f64, f64),
    /// Above the floor, mm.
    pub y: (f64, f64),
}

/// A place on the way: of the middle of the piece.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Pose {
    /// Its middle, mm from the wall.
    pub z: f64,
    /// How far its top leans towards the person, degrees; below zero towards the wall.
    pub lean_deg: f64,
    /// How far its lowest corner is lifted off the floor, mm.
    pub lift: f64,
}

/// How a piece gets to its place.
#[derive(Clone, Debug, PartialEq)]
pub enum BringIn {
    /// Straight, upright and on the floor.
    Straight,
    /// Leaned or lifted: the poses from the room to its place, no more leaned than it must be.
    Leaned(Vec<Pose>),
    /// By no way that was looked for: every 10 mm and every degree, lifted by up to 80 mm.
    Not {
        /// What is in the way when it is pushed straight in.
        by: String,
    },
}

/// What is in the way of a piece whose box is given: obstacles along all of its width, what ends the niche above, and what
/// the survey says of the ceiling. What is narrower is gone round, and doors are opened.
#[must_use]
pub fn blocks(design: &Resolved, piece: &Cuboid) -> Vec<Block> {
    let site = &design.site;
    let across = piece.range(Axis::X);
    let mut all: Vec<Block> = site
        .obstacles
        .iter()
        .filter(|it| it.kind != ObstacleKind::Door && it.swing.is_none())
        .filter(|it| it.corner.0 <= across.0 && it.corner.0 + it.size.0 >= across.1)
        .map(|it| Block {
            name: it.name.clone(),
            z: (it.corner.2.mm(), (it.corner.2 + it.size.2).mm()),
            y: (it.corner.1.mm(), (it.corner.1 + it.size.1).mm()),
        })
        .collect();
    if let Some(it) = overhead(design, piece) {
        let z = (-FAR_MM, it.reach.map_or(FAR_MM, Length::mm));
        all.push(Block { name: it.name, z, y: (it.height.mm(), FAR_MM) });
    }
    let mut above = |z: (f64, f64), height: Length| {
        all.push(Block { name: "the ceiling".to_owned(), z, y: (height.mm(), FAR_MM) });
    };
    if let Some(ceiling) = design.assumed.ceiling {
        above((-FAR_MM, FAR_MM), ceiling);
    }
    // Between two surveyed points the lower one holds for both.
    let mut points: Vec<(Length, Length)> =
        site.walls.iter().filter(|it| it.wall == SiteWall::Above).map(|it| (it.at.2, it.at.1)).collect();
    points.sort_unstable();
    if let [(z, y)] = points[..] {
        above((-FAR_MM, z.mm()), y);
    }
    for pair in points.windows(2) {
        let &[(from, one), (to, other)] = pair else { continue };
        above((from.mm(), to.mm()), one.min(other));
    }
    all
}

/// How a piece of this height and depth gets to its place with its rear at `rear`, past `blocks`, over the floor and before
/// the wall at `wall` (all mm). Between two neighbouring poses the hull of both is clear; it keeps to the arc of a corner
/// within a few hundredths of a millimetre.
#[must_use]
pub fn bring_in(height: f64, depth: f64, rear: f64, wall: f64, blocks: &[Block]) -> BringIn {
    let there = Pose { z: rear + depth / 2.0, lean_deg: 0.0, lift: 0.0 };
    // What stands in its very place is another finding.
    let in_place = |it: &Block| {
        let alone = Search { height, depth, wall: f64::NEG_INFINITY, blocks: std::slice::from_ref(it) };
        alone.meets(&alone.body(there)).is_some()
    };
    let blocks: Vec<Block> = blocks.iter().filter(|it| !in_place(it)).cloned().collect();
    let search = Search { height, depth, wall: wall.min(rear), blocks: &blocks };
    let outermost = blocks.iter().map(|it| it.z.1).filter(|it| *it < FAR_MM).fold(rear + depth, f64::max);
    let out = Pose { z: outermost + depth / 2.0 + STEP_MM, ..there };
    match search.between(there, out) {
        None => BringIn::Straight,
        Some(by) => match search.way(there, outermost) {
            Some(poses) => BringIn::Leaned(poses),
            None => BringIn::Not { by: by.to_owned() },
        },
    }
}

/// A pose on the grid: steps outwards from its place, degrees, and which lift.
type Node = (i32, i32, usize);

/// What is looked at next: the least lean so far, then the furthest out.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Next {
    lean: Reverse<i32>,
    out: i32,
    node: Reverse<Node>,
}

struct Search<'b> {
    height: f64,
    depth: f64,
    wall: f64,
    blocks: &'b [Block],
}

impl Search<'_> {
    /// The four corners of the piece: (z, y).
    fn body(&self, pose: Pose) -> Vec<Spot> {
        let (sin, cos) = pose.lean_deg.to_radians().sin_cos();
        let middle = pose.lift + (self.height * cos + self.depth * sin.abs()) / 2.0;
        let (h, d) = (self.height / 2.0, self.depth / 2.0);
        let corner = |(z, y): (f64, f64)| [pose.z + z * cos + y * sin, middle - z * sin + y * cos];
        [(-d, -h), (d, -h), (d, h), (-d, h)].map(corner).to_vec()
    }

    /// The first thing that a body meets.
    fn meets(&self, body: &[Spot]) -> Option<&str> {
        if body.iter().any(|it| it[0] < self.wall - TOUCH_MM) {
            return Some("the wall");
        }
        let block = self.blocks.iter().find(|it| planar::overlap(body, &planar::rectangle(it.z, it.y)) > TOUCH_MM);
        block.map(|it| it.name.as_str())
    }

    /// What is met on the way from one pose to the next.
    fn between(&self, from: Pose, to: Pose) -> Option<&str> {
        let mut corners = self.body(from);
        corners.extend(self.body(to));
        planar::hull(&corners).and_then(|hull| self.meets(&hull))
    }

    fn pose(there: Pose, (out, lean, lift): Node) -> Pose {
        Pose {
            z: there.z + f64::from(out) * STEP_MM,
            lean_deg: f64::from(lean),
            lift: LIFTS_MM.get(lift).copied().unwrap_or_default(),
        }
    }

    /// The way that leans least, from the room to its place.
    fn way(&self, there: Pose, outermost: f64) -> Option<Vec<Pose>> {
        // So far out that nothing is in the way, however it leans.
        let most = ((outermost - there.z + self.height.hypot(self.depth)) / STEP_MM).ceil() as i32;
        let mut from: BTreeMap<Node, Node> = BTreeMap::new();
        let mut done: BTreeSet<Node> = BTreeSet::new();
        let mut open = BinaryHeap::new();
        let start: Node = (0, 0, 0);
        open.push(Next { lean: Reverse(0), out: 0, node: Reverse(start) });
        while let Some(Next { lean: Reverse(so_far), node: Reverse(node), .. }) = open.pop() {
            if !done.insert(node) {
                continue;
            }
            let pose = Self::pose(there, node);
            if self.body(pose).iter().all(|it| it[0] > outermost) {
                let mut poses = vec![pose];
                let mut at = node;
                while let Some(before) = from.get(&at) {
                    poses.push(Self::pose(there, *before));
                    at = *before;
                }
                return Some(poses);
            }
            let (out, lean, lift) = node;
            let mut neighbours = vec![(out + 1, lean, lift), (out - 1, lean, lift)];
            neighbours.extend([(out, lean + STEP_DEG, lift), (out, lean - STEP_DEG, lift)]);
            neighbours.extend((0..LIFTS_MM.len()).filter(|it| it.abs_diff(lift) == 1).map(|it| (out, lean, it)));
            for next in neighbours {
                let inside = (0..=most).contains(&next.0) && next.1.abs() <= 90;
                if inside && !done.contains(&next) && self.between(pose, Self::pose(there, next)).is_none() {
                    from.entry(next).or_insert(node);
                    let lean = so_far.max(next.1.abs());
                    open.push(Next { lean: Reverse(lean), out: next.0, node: Reverse(next) });
                }
            }
        }
        None
    }
}

impl BringIn {
    /// The furthest lean on the way, degrees, and the highest lift, mm.
    #[must_use]
    pub fn most(&self) -> (f64, f64) {
        let Self::Leaned(poses) = self else { return (0.0, 0.0) };
        let lean =
            poses.iter().map(|it| it.lean_deg).max_by(|a, b| a.abs().partial_cmp(&b.abs()).unwrap_or(Ordering::Equal));
        (lean.unwrap_or_default(), poses.iter().map(|it| it.lift).fold(0.0, f64::max))
    }
}
