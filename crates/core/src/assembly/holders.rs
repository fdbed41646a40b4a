//! Stays and dampers of tilting compartments and angle brackets of fronts, where they sit.

use super::scene::Scene;
use super::{Motion, MountedFitting};
use crate::design::{Bay, Fitting, Holding, Inside, Role, TiltStay};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;

/// How wide a stay or damper is drawn (common practice: 8 to 15 mm).
const DRAWN: Length = Length::from_mm(10);

/// Mounts them, bay by bay.
pub(super) fn draft(scene: &mut Scene<'_>) {
    for laid in &scene.layout.bays {
        let Some(bay) = scene.bay(&laid.name) else { continue };
        if let Inside::Holds { by: Holding::TiltOut { stay: Some(stay), .. }, .. } = &bay.inside {
            stays(scene, bay, stay, &laid.clear);
        }
        if let Inside::Holds { by: Holding::PullOut { .. }, .. } = &bay.inside {
            brackets(scene, bay);
        }
    }
}

fn push(scene: &mut Scene<'_>, name: &str, what: String, bay: &str, cuboid: Cuboid) {
    let (name, bay) = (name.to_owned(), bay.to_owned());
    scene.fittings.push(MountedFitting { name, what, remark: String::new(), bay, cuboid, count: 1 });
}

/// Between its two ends when shut, beside the compartment.
fn stays(scene: &mut Scene<'_>, bay: &Bay<Length>, stay: &TiltStay<Length>, clear: &Cuboid) {
    let Some(name) = &stay.with else { return };
    let what = match scene.design.fittings.get(name) {
        Some(Fitting::Stay(it)) => match it.length {
            Some(length) => format!("stay {} mm long, holds {} N m", length.mm(), it.holds_nm),
            None => format!("stay cut to length, holds {} N m", it.holds_nm),
        },
        Some(Fitting::Damper(it)) => format!("damper, stroke {} mm, {} N", it.stroke.mm(), it.force_n),
        _ => return,
    };
    let motion = scene.movers.iter().find(|it| it.bay == bay.name).map(|it| it.motion);
    let Some(Motion::Turn { pivot, axis, .. }) = motion else { return };
    let at = |(behind, away): (Length, Length)| {
        (pivot.z - behind, if axis.negative { pivot.y - away } else { pivot.y + away })
    };
    let (a, b) = (at(stay.carcass), at(stay.compartment));
    let range = |a: Length, b: Length| (a.min(b) - DRAWN.half(), a.max(b) + DRAWN.half());
    let (y, z) = (range(a.1, b.1), range(a.0, b.0));
    let left = (clear.min.x, clear.min.x + DRAWN);
    let right = (clear.max.x - DRAWN, clear.max.x);
    for x in [left, right].into_iter().take(if stay.both_sides { 2 } else { 1 }) {
        push(scene, name, what.clone(), &bay.name, Cuboid::from_ranges(x, y, z));
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
        push(scene, name, what.clone(), &bay.name, Cuboid::from_ranges(x, y, z));
    }
}
