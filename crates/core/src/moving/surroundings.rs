//! What is round each moving part when it stands as open as it goes: what is beside it, the room before it, and whether
//! what it carries can be lifted out. Only the clearance sheet asks; the checks do without.

use super::room::{Fixed, FixedKind, RoomSide, fixed_bodies};
use super::{Clearances, Moving, Solid, first_touch, gap_mm, placed};
use crate::assembly::{Assembly, Motion};
use crate::design::{Resolved, Role};
use crate::geometry::{Axis, Direction};
use crate::length::Length;

/// How far the room before an open part is looked at, mm.
const LOOK_MM: f64 = 5_000.0;

/// What is round a moving part when it stands as open as it goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Surroundings {
    /// The nearest body of the site to its sides, and how near, mm.
    pub beside: Option<(f64, String)>,
    /// Free room before it, mm, and what ends it; none if nothing does within the site.
    pub before: Option<(f64, String)>,
    /// One for each thing that it carries.
    pub lifts: Vec<Lift>,
}

/// Whether a thing can be taken out of what carries it.
#[derive(Clone, Debug, PartialEq)]
pub struct Lift {
    /// The thing.
    pub thing: String,
    /// How much of its depth stays behind the front edge of the carcass, mm.
    pub behind: f64,
    /// Free height above it when open, mm, and what ends it; none where nothing is above it.
    pub above: Option<(f64, String)>,
    /// Its own height, mm.
    pub height: f64,
}

/// What is round each moving part when it stands as open as `clearances` says, in the order of [`Clearances::each`].
#[must_use]
pub fn surroundings(design: &Resolved, assembly: &Assembly, clearances: &Clearances) -> Vec<Surroundings> {
    let fixed = fixed_bodies(design, assembly);
    let each = clearances.each.iter().filter_map(|it| Some((clearances.moving.get(it.moving)?, it.opens)));
    each.map(|(moving, opens)| round(moving, opens, &fixed, assembly)).collect()
}

fn round(moving: &Moving, opens: f64, fixed: &[Fixed], assembly: &Assembly) -> Surroundings {
    let open = moving.at(opens);
    let site = || fixed.iter().filter(|it| it.kind.is_of_site());
    let beside = site()
        .filter(|it| !matches!(it.kind, FixedKind::Room(RoomSide::Floor | RoomSide::Wall)))
        .flat_map(|it| open.iter().map(move |solid| (gap_mm(solid, &it.solid), it.name.clone())))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    // What comes towards the person, from its foremost point on.
    let foremost = open.iter().map(|it| it.range(Axis::Z).1).fold(f64::NEG_INFINITY, f64::max);
    let look = Motion::Slide { direction: Direction::FRONT, travel: Length::from_mm_f64(LOOK_MM) };
    let before = site()
        .flat_map(|it| {
            open.iter().filter_map(move |solid| {
                let touch = first_touch(solid, &look, &it.solid)?;
                Some((solid.range(Axis::Z).1 + touch.at - foremost, it.name.clone()))
            })
        })
        .map(|(free, name)| (free.max(0.0), name))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let lifts = if moving.mover.is_some() { lifts(moving, opens, fixed, assembly) } else { Vec::new() };
    Surroundings { beside, before, lifts }
}

fn lifts(moving: &Moving, opens: f64, fixed: &[Fixed], assembly: &Assembly) -> Vec<Lift> {
    let edge = assembly
        .parts
        .iter()
        .filter(|it| matches!(it.role, Role::Side | Role::Upright | Role::Bottom))
        .map(|it| it.cuboid.max.z.mm())
        .fold(f64::NEG_INFINITY, f64::max);
    let up = Motion::Slide { direction: Direction::UP, travel: Length::from_mm_f64(LOOK_MM) };
    let things = moving.things.iter().filter_map(|&it| assembly.things.get(it));
    things
        .map(|thing| {
            let open = placed(&Solid::from(&thing.cuboid), &moving.motion, opens);
            let above = fixed
                .iter()
                .filter_map(|it| Some((first_touch(&open, &up, &it.solid)?.at, it.name.clone())))
                .min_by(|a, b| a.0.total_cmp(&b.0));
            Lift {
                thing: thing.name.clone(),
                behind: (edge - open.range(Axis::Z).0).max(0.0),
                above,
                height: thing.cuboid.size(Axis::Y).mm(),
            }
        })
        .collect()
}
