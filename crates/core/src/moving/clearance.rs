//! Clearances: for each moving part how far it opens and what it meets first, and which moving parts block one another.
//! What is free round it then is [`super::surroundings()`].

use super::room::{Fixed, FixedKind, fixed_bodies};
use super::{Solid, Touch, first_touch, placed};
use crate::assembly::{Assembly, Motion};
use crate::design::{Access, Opens, OwnPullOut, Resolved, Role, ThingSide};
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::length::Length;

/// Thickness that the door of an appliance is taken to have where nothing is known of it (own choice).
const APPLIANCE_DOOR: Length = Length::from_mm(40);
/// How far the door of an appliance is taken to open, degrees (own choice; the manual says).
const APPLIANCE_OPENS_DEG: f64 = 90.0;

/// A moving body of a mover, with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What it is called.
    pub name: String,
    /// The body, shut.
    pub solid: Solid,
    /// What it is.
    pub kind: PieceKind,
}

/// What a moving body is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceKind {
    /// A front, or the leaf of a door.
    Front,
    /// A handle.
    Handle,
    /// What is behind a front, or comes out of a thing.
    Inner,
}

/// All that moves together.
#[derive(Clone, Debug, PartialEq)]
pub struct Moving {
    /// What it is called, such as `drawer crates`.
    pub id: String,
    /// The bay.
    pub bay: String,
    /// Index of the mover in the assembly; none for what is a thing's own.
    pub mover: Option<usize>,
    /// How it moves.
    pub motion: Motion,
    /// Its bodies, shut.
    pub pieces: Vec<Piece>,
    /// The things that it carries, or the appliance whose door it is.
    pub things: Vec<usize>,
    /// Index of the obstacle that it is, for the leaf of a door of the room.
    pub obstacle: Option<usize>,
}

impl Moving {
    /// Travel in mm or opening angle in degrees.
    #[must_use]
    pub fn full(&self) -> f64 {
        full_way(&self.motion)
    }

    /// Whether it turns.
    #[must_use]
    pub const fn turns(&self) -> bool {
        matches!(self.motion, Motion::Turn { .. })
    }

    /// Its bodies after it has moved by so much.
    #[must_use]
    pub fn at(&self, amount: f64) -> Vec<Solid> {
        self.pieces.iter().map(|it| placed(&it.solid, &self.motion, amount)).collect()
    }
}

/// Travel in mm or opening angle in degrees.
#[must_use]
pub fn full_way(motion: &Motion) -> f64 {
    match motion {
        Motion::Slide { travel, .. } => travel.mm(),
        Motion::Turn { opens_deg, .. } => *opens_deg,
    }
}

/// What a moving part meets.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    /// Which of its pieces.
    pub piece: String,
    /// What that piece is.
    pub piece_kind: PieceKind,
    /// What it meets.
    pub with: String,
    /// What that is; none if it is another moving part.
    pub kind: Option<FixedKind>,
    /// Where and when the body itself is met; none if only the distance to keep from it is.
    pub solid: Option<Touch>,
    /// Where and when the body is met with the distance to keep.
    pub touch: Touch,
}

/// The clearance of one moving part.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// Index into [`Clearances::moving`].
    pub moving: usize,
    /// Each obstacle that it meets on its way, the first first; of the piece itself only the first part met.
    pub meets: Vec<Meeting>,
    /// How far it opens: mm or degrees.
    pub opens: f64,
}

/// How one moving part stands in the way of another.
#[derive(Clone, Debug, PartialEq)]
pub struct Blocking {
    /// Index of the one that opens.
    pub opens: usize,
    /// Index of the one in its way.
    pub blocker: usize,
    /// How.
    pub how: How,
    /// Where they meet: with the other as open as it goes, or shut if it must be opened first.
    pub meeting: Meeting,
}

/// In what way one moving part stands in the way of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Only one of the two can be open.
    WhenOpen,
    /// The other must be opened first.
    WhenShut,
    /// It cannot be opened whether the other is shut or open.
    Always,
}

/// All clearances of a piece in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearances {
    /// What moves.
    pub moving: Vec<Moving>,
    /// One each.
    pub each: Vec<Clearance>,
    /// Which block one another.
    pub blocking: Vec<Blocking>,
}

/// All that moves: the movers of the assembly, then the doors of appliances and what comes out of them, then the doors of
/// the room.
#[must_use]
pub fn moving(design: &Resolved, assembly: &Assembly) -> Vec<Moving> {
    let mut all: Vec<Moving> = assembly
        .movers
        .iter()
        .enumerate()
        .map(|(index, it)| {
            let parts = it.parts.iter().filter_map(|&i| assembly.parts.get(i));
            let things = it.things.iter().filter_map(|&i| assembly.things.get(i));
            let part = |part: &crate::assembly::Part| Piece {
                name: part.name.clone(),
                solid: Solid::from(&part.cuboid),
                kind: if part.role == Role::Front { PieceKind::Front } else { PieceKind::Inner },
            };
            let thing = |thing: &crate::layout::LaidThing| Piece {
                name: thing.name.clone(),
                solid: Solid::from(&thing.cuboid),
                kind: PieceKind::Inner,
            };
            let fittings = it.fittings.iter().filter_map(|&i| assembly.fittings.get(i));
            let handle = |it: &crate::assembly::MountedFitting| Piece {
                name: format!("handle of {}", it.bay),
                solid: Solid::from(&it.cuboid),
                kind: PieceKind::Handle,
            };
            Moving {
                id: it.id.clone(),
                bay: it.bay.clone(),
                mover: Some(index),
                motion: it.motion,
                pieces: parts.map(part).chain(things.map(thing)).chain(fittings.map(handle)).collect(),
                things: it.things.clone(),
                obstacle: None,
            }
        })
        .collect();
    for (index, laid) in assembly.things.iter().enumerate() {
        let Some(thing) = design.things.get(&laid.name) else { continue };
        let Access::FrontDoor { opens, reach } = &thing.access else { continue };
        let Some((leaf, motion)) = appliance_door(&laid.cuboid, *opens, *reach) else { continue };
        let carried = assembly.movers.iter().any(|it| it.things.contains(&index));
        if carried {
            continue; // It opens when what carries it stands open, and moves along.
        }
        let name = format!("door of {}", laid.name);
        all.push(Moving {
            id: name.clone(),
            bay: String::new(),
            mover: None,
            motion,
            pieces: vec![Piece { name, solid: Solid::from(&leaf), kind: PieceKind::Front }],
            things: vec![index],
            obstacle: None,
        });
    }
    for (index, laid) in assembly.things.iter().enumerate() {
        let Some(thing) = design.things.get(&laid.name) else { continue };
        let carried = assembly.movers.iter().any(|it| it.things.contains(&index));
        if carried {
            continue;
        }
        for own in &thing.pull_outs {
            let name = format!("{} of {}", own.name, laid.name);
            let (body, direction) = own_pull_out(&laid.cuboid, own);
            all.push(Moving {
                id: name.clone(),
                bay: String::new(),
                mover: None,
                motion: Motion::Slide { direction, travel: own.travel },
                pieces: vec![Piece { name, solid: Solid::from(&body), kind: PieceKind::Inner }],
                things: vec![index],
                obstacle: None,
            });
        }
    }
    for (index, it) in design.site.obstacles.iter().enumerate() {
        let Some(swing) = &it.swing else { continue };
        let pivot = Point::new(swing.about.0, Length::ZERO, swing.about.1);
        let axis = Direction::new(Axis::Y, swing.opens_deg > 0.0);
        all.push(Moving {
            id: it.name.clone(),
            bay: String::new(),
            mover: None,
            motion: Motion::Turn { pivot, axis, opens_deg: swing.opens_deg.abs() },
            pieces: vec![Piece { name: it.name.clone(), solid: super::obstacle_solid(it), kind: PieceKind::Front }],
            things: Vec::new(),
            obstacle: Some(index),
        });
    }
    all
}

/// What comes out of a thing, shut, and where to. What would reach beyond the thing is cut to it.
fn own_pull_out(body: &Cuboid, own: &OwnPullOut<Length>) -> (Cuboid, Direction) {
    let depth = own.depth.unwrap_or(own.travel);
    let within = |axis: Axis, (low, high): (Length, Length)| {
        let (least, most) = body.range(axis);
        let low = low.max(least).min(most);
        (low, high.max(low).min(most))
    };
    let from_low = |axis: Axis, from: Length, size: Length| {
        let low = body.range(axis).0 + from;
        within(axis, (low, low + size))
    };
    let from_high = |axis: Axis, from: Length, size: Length| {
        let high = body.range(axis).1 - from;
        within(axis, (high - size, high))
    };
    let ((across, up), (width, height)) = (own.corner, own.size);
    let rising = from_low(Axis::Y, up, height);
    match own.towards {
        ThingSide::Front => {
            let z = from_high(Axis::Z, Length::ZERO, depth);
            (Cuboid::from_ranges(from_low(Axis::X, across, width), rising, z), Direction::FRONT)
        }
        // Who looks at the left side has the rear at the left hand, who looks at the right side the front.
        ThingSide::Left => {
            let x = from_low(Axis::X, Length::ZERO, depth);
            (Cuboid::from_ranges(x, rising, from_low(Axis::Z, across, width)), Direction::LEFT)
        }
        ThingSide::Right => {
            let x = from_high(Axis::X, Length::ZERO, depth);
            (Cuboid::from_ranges(x, rising, from_high(Axis::Z, across, width)), Direction::RIGHT)
        }
        ThingSide::Top => {
            let y = from_high(Axis::Y, Length::ZERO, depth);
            let (x, z) = (from_low(Axis::X, across, width), from_high(Axis::Z, up, height));
            (Cuboid::from_ranges(x, y, z), Direction::UP)
        }
    }
}

/// The door of an appliance: a leaf in its front face as wide as it reaches out when open, from the hinged edge.
fn appliance_door(body: &Cuboid, opens: Opens, reach: Length) -> Option<(Cuboid, Motion)> {
    let front = body.with_range(Axis::Z, (body.max.z - APPLIANCE_DOOR, body.max.z));
    let (axis, along, from_low) = match opens {
        Opens::HingedLeft => (Direction::DOWN, Axis::X, true),
        Opens::HingedRight => (Direction::UP, Axis::X, false),
        Opens::HingedBelow => (Direction::RIGHT, Axis::Y, true),
        Opens::HingedAbove => (Direction::LEFT, Axis::Y, false),
        Opens::Pair | Opens::WithHolding | Opens::Fixed => return None,
    };
    let (low, high) = front.range(along);
    let range = if from_low { (low, (low + reach).min(high)) } else { ((high - reach).max(low), high) };
    let leaf = front.with_range(along, range);
    let pivot = Point::new(leaf.min.x, leaf.min.y, leaf.max.z);
    let pivot = if from_low { pivot } else { pivot.with(along, high) };
    Some((leaf, Motion::Turn { pivot, axis, opens_deg: APPLIANCE_OPENS_DEG }))
}

/// The clearances of a built piece.
#[must_use]
pub fn clearances(design: &Resolved, assembly: &Assembly) -> Clearances {
    let moving = moving(design, assembly);
    let fixed = fixed_bodies(design, assembly);
    let each: Vec<Clearance> = moving.iter().enumerate().map(|(index, it)| clearance(index, it, &fixed)).collect();
    let mut blocking = Vec::new();
    for (a, opens) in moving.iter().enumerate() {
        for (b, blocker) in moving.iter().enumerate().filter(|&(b, _)| b != a) {
            let until = each.get(b).map_or(blocker.full(), |it| it.opens);
            if let Some((how, meeting)) = blocked(opens, blocker, until) {
                blocking.push(Blocking { opens: a, blocker: b, how, meeting });
            }
        }
    }
    Clearances { moving, each, blocking }
}

fn clearance(index: usize, moving: &Moving, fixed: &[Fixed]) -> Clearance {
    let mut meets: Vec<Meeting> = Vec::new();
    for body in fixed {
        // The appliance does not meet its own door.
        if matches!(body.kind, FixedKind::Thing(thing) if moving.mover.is_none() && moving.things.contains(&thing)) {
            continue;
        }
        // What a door of the room meets of the room is not this program's business.
        if moving.obstacle.is_some() && body.kind.is_of_site() {
            continue;
        }
        let zone = body.zone();
        let Some((piece, touch)) = first_of(moving, &zone) else { continue };
        let own = matches!(body.kind, FixedKind::Part(_) | FixedKind::Thing(_));
        if own && touch.at <= 0.0 && !shut_in(moving, &zone) {
            continue; // Parts that overlap at rest are another check's business.
        }
        let solid = if body.keep_mm > 0.0 { first_of(moving, &body.solid).map(|it| it.1) } else { Some(touch) };
        meets.push(meeting(piece, &body.name, Some(body.kind), solid, touch));
    }
    meets.sort_by(|a, b| a.touch.at.total_cmp(&b.touch.at).then_with(|| a.with.cmp(&b.with)));
    // Of the piece itself the first is enough.
    let mut own_seen = false;
    meets.retain(|it| {
        let own = matches!(it.kind, Some(FixedKind::Part(_) | FixedKind::Thing(_)));
        !own || !std::mem::replace(&mut own_seen, true)
    });
    let opens = meets.first().map_or(moving.full(), |it| it.touch.at);
    Clearance { moving: index, meets, opens }
}

fn meeting(piece: &Piece, with: &str, kind: Option<FixedKind>, solid: Option<Touch>, touch: Touch) -> Meeting {
    Meeting { piece: piece.name.clone(), piece_kind: piece.kind, with: with.to_owned(), kind, solid, touch }
}

/// Whether what comes out of a thing stands against a body that keeps it from coming out at all.
fn shut_in(moving: &Moving, zone: &Solid) -> bool {
    let comes_out = moving.mover.is_none() && !moving.turns();
    comes_out && !moving.pieces.iter().any(|it| super::sweep::meet_at_rest(&it.solid, zone))
}

/// Which piece of what moves first meets a body, and where.
fn first_of<'m>(moving: &'m Moving, zone: &Solid) -> Option<(&'m Piece, Touch)> {
    let is_front = |it: &Piece| it.kind == PieceKind::Front;
    moving
        .pieces
        .iter()
        .filter_map(|it| Some((it, first_touch(&it.solid, &moving.motion, zone)?)))
        // The front before what it covers, where both meet at once.
        .min_by(|a, b| a.1.at.total_cmp(&b.1.at).then(is_front(b.0).cmp(&is_front(a.0))))
}

/// Whether one moving part stands in the way of another.
fn blocked(opens: &Moving, blocker: &Moving, until: f64) -> Option<(How, Meeting)> {
    let against = |amount: f64| {
        let bodies = blocker.at(amount);
        let met = bodies.iter().zip(&blocker.pieces).filter_map(|(solid, piece)| {
            let (own, touch) = first_of(opens, solid)?;
            Some(meeting(own, &piece.name, None, Some(touch), touch))
        });
        met.min_by(|a, b| a.touch.at.total_cmp(&b.touch.at))
    };
    // What overlaps at rest is another check's business.
    let shut = against(0.0).filter(|it| it.touch.at > 0.0);
    match (shut, against(until)) {
        (None, None) => None,
        (None, Some(open)) => Some((How::WhenOpen, open)),
        (Some(shut), None) => Some((How::WhenShut, shut)),
        (Some(_), Some(open)) => Some((How::Always, open)),
    }
}
