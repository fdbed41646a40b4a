//! Stays, dampers and struts of tilting compartments and flaps, and angle brackets of fronts, where they sit.

use super::scene::Scene;
use super::{FittingKind, Motion, MountedFitting};
use crate::design::{Bay, Bracket, Fitting, Holding, Inside, Role};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::length::Length;
use crate::moving::tilt::Given;

/// How wide a stay, damper or strut is drawn (common practice: 8 to 18 mm).
const DRAWN: Length = Length::from_mm(10);
/// How far beside the side of the carcass that of a flap lies: the ball stud of a plate stands off by about so much (common
/// practice). Beside a compartment there is no such room.
const BESIDE: Length = Length::from_mm(10);
/// From the end of a leg of a bracket to its outermost screw (common practice).
pub const BRACKET_SCREW_FROM_END: Length = Length::from_mm(10);

/// Mounts them, bay by bay.
pub(super) fn draft(scene: &mut Scene<'_>) {
    for laid in &scene.layout.bays {
        let Some(bay) = scene.bay(&laid.name) else { continue };
        // The front is drafted before what it stands before.
        let turns = |motion: Motion| matches!(motion, Motion::Turn { axis, .. } if axis.axis == Axis::X);
        let movers = || scene.movers.iter().filter(|it| it.bay == bay.name).map(|it| it.motion).filter(|it| turns(*it));
        let (first, last) = (movers().next(), movers().next_back());
        for (given, motion, is_flap) in [(Given::of_flap(bay), first, true), (Given::of_compartment(bay), last, false)]
        {
            if let (Some(given), Some(motion)) = (given, motion) {
                stays(scene, bay, &given, motion, &stay_ranges(&laid.clear, is_flap));
            }
        }
        if let Inside::Holds { by: Holding::PullOut { .. }, .. } = &bay.inside {
            brackets(scene, bay);
        }
    }
}

fn push(scene: &mut Scene<'_>, kind: FittingKind, name: &str, what: String, bay: &str, cuboid: Cuboid) {
    let (name, bay) = (name.to_owned(), bay.to_owned());
    scene.fittings.push(MountedFitting { kind, name, what, remark: String::new(), bay, cuboid, count: 1 });
}

/// The range along the wall that a stay takes at the left and at the right of a clear opening.
#[must_use]
pub fn stay_ranges(clear: &Cuboid, is_flap: bool) -> [(Length, Length); 2] {
    let beside = if is_flap { BESIDE } else { Length::ZERO };
    let (left, right) = (clear.min.x + beside, clear.max.x - beside);
    [(left, left + DRAWN), (right - DRAWN, right)]
}

/// Between its two ends when shut, beside what turns.
fn stays(scene: &mut Scene<'_>, bay: &Bay<Length>, given: &Given<'_>, motion: Motion, x: &[(Length, Length); 2]) {
    let Some(name) = given.with else { return };
    let what = match scene.design.fittings.get(name) {
        Some(Fitting::Stay(it)) => match it.length {
            Some(length) => format!("stay {} mm long, holds {} N m", length.mm(), it.holds_nm),
            None => format!("stay cut to length, holds {} N m", it.holds_nm),
        },
        Some(Fitting::Damper(it)) => format!("damper, stroke {} mm, {} N", it.stroke.mm(), it.force_n),
        Some(Fitting::Strut(it)) => {
            format!("strut, {} to {} mm long, {} N", it.length_in.mm(), it.length_out.mm(), it.force_n)
        }
        _ => return,
    };
    let Motion::Turn { pivot, axis, .. } = motion else { return };
    let at = |(behind, away): (Length, Length)| {
        (pivot.z - behind, if axis.negative { pivot.y - away } else { pivot.y + away })
    };
    let (a, b) = (at(*given.carcass), at(*given.moved));
    let range = |a: Length, b: Length| (a.min(b) - DRAWN.half(), a.max(b) + DRAWN.half());
    let (y, z) = (range(a.1, b.1), range(a.0, b.0));
    for &x in x.iter().take(given.count() as usize) {
        push(scene, FittingKind::Stay, name, what.clone(), &bay.name, Cuboid::from_ranges(x, y, z));
    }
}

/// On the platform behind the front, one near each of its ends, within its strips.
fn brackets(scene: &mut Scene<'_>, bay: &Bay<Length>) {
    let Some(name) = bay.front.as_ref().and_then(|it| it.brackets.as_ref()) else { return };
    let Some(Fitting::Bracket(bracket)) = scene.design.fittings.get(name) else { return };
    let of = |role: Role| scene.drafts.iter().filter(move |it| it.bay == bay.name && it.role == role);
    let Some(platform) = of(Role::Platform).next().map(|it| it.cuboid) else { return };
    let strip = of(Role::SideStrip).map(|it| it.cuboid.size(Axis::X)).max().unwrap_or_default();
    let y = (platform.max.y, platform.max.y + bracket.leg);
    let z = (platform.max.z - bracket.leg, platform.max.z);
    let (left, right) = (platform.min.x + strip, platform.max.x - strip);
    let what = format!("angle bracket, legs {} mm, {} mm wide", bracket.leg.mm(), bracket.width.mm());
    for x in [(left, left + bracket.width), (right - bracket.width, right)] {
        push(scene, FittingKind::Bracket, name, what.clone(), &bay.name, Cuboid::from_ranges(x, y, z));
    }
}

/// Where the screws of a leg lie, from the corner of the bracket: two in a short leg, three in one of 60 mm, four in one of
/// 80 mm and more (common practice: so many holes have usual brackets of these sizes), evenly from 0.3 of the leg on.
#[must_use]
pub fn bracket_screws(bracket: &Bracket<Length>) -> Vec<Length> {
    let leg = bracket.leg.nm();
    let count = match bracket.leg.mm() {
        it if it < 50.0 => 2,
        it if it < 80.0 => 3,
        _ => 4,
    };
    let (first, last) = (leg * 3 / 10, leg - BRACKET_SCREW_FROM_END.nm());
    let places = (0..count).map(|i| first + (last - first) * i / (count - 1));
    places.filter(|it| *it > 0 && *it < leg).map(|it| Length::from_nm(it).rounded_to(Length::from_um(500))).collect()
}

/// The side of the opening that a stay is at.
pub(crate) const STAY_SIDES: [Direction; 2] = [Direction::LEFT, Direction::RIGHT];
