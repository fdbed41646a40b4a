//! Hinges of doors and flaps: how many, and where.

use super::finish::mass_of;
use super::scene::Scene;
use super::{FittingKind, MountedFitting};
use crate::design::{Fitting, Hinge, Opens, Resolved};
use crate::fittings::{figures, hinges_by_height, hinges_by_mass, library};
use crate::geometry::{Axis, Direction};
use crate::length::Length;

/// The least from the end of a low door to the middle of its outermost hinge: half of what a cup and its two screws take.
const LEAST_FROM_END: Length = Length::from_mm(30);
/// Space that is drawn for a hinge, along the edge of the door and across it.
const DRAWN: Length = Length::from_mm(60);

/// The hinge that the design names; the first if there are several.
pub(crate) fn hinge_of(design: &Resolved) -> Option<(&str, &Hinge<Length>)> {
    design.fittings.iter().find_map(|(name, fitting)| match fitting {
        Fitting::Hinge(hinge) => Some((name.as_str(), hinge)),
        _ => None,
    })
}

/// The most hinges that are mounted; the check says that a leaf is too heavy for them.
const MOST: u32 = 6;

/// The number of hinges of a leaf so long at the hinged edge, so wide across it and so heavy: the most that any published
/// chart asks for its mass, one more for wide leaves, and never less than the height bands (from memory).
/// The check of hinges goes by the same charts.
#[must_use]
pub fn hinge_count(length: Length, width: Length, mass_kg: f64) -> u32 {
    let Ok(library) = library() else { return MOST };
    let charts = &library.hinges.cup_hinge;
    hinges_by_mass(charts, mass_kg, width.mm()).unwrap_or(MOST).max(hinges_by_height(charts, length.mm()))
}

/// The places of the hinges along an edge, from its lower or left end: evenly spread between two that keep 80 mm from
/// the ends, or a fifth of a short edge but at least 30 mm; an edge that is too short for two has one in the middle, and no
/// two come nearer than 120 mm.
#[must_use]
pub fn hinge_places(length: Length, count: u32) -> Vec<Length> {
    let end = figures().hinge_from_end.min(Length::from_nm(length.nm() / 5).max(LEAST_FROM_END));
    if length < LEAST_FROM_END * 4 {
        return vec![length.half()];
    }
    let room = (length - end * 2).nm() / (DRAWN * 2).nm();
    let steps = (i64::from(count.max(2)) - 1).min(room.max(1));
    (0..=steps).map(|i| end + Length::from_nm((length - end * 2).nm() * i / steps)).collect()
}

/// Mounts the hinges of a front.
pub(super) fn mount(scene: &mut Scene<'_>, draft: usize, opens: Opens) {
    let Some(part) = scene.drafts.get(draft) else { return };
    let (axis, side) = match opens {
        Opens::HingedLeft => (Axis::Y, Direction::LEFT),
        Opens::HingedRight => (Axis::Y, Direction::RIGHT),
        Opens::HingedBelow => (Axis::X, Direction::DOWN),
        _ => (Axis::X, Direction::UP),
    };
    let length = part.cuboid.size(axis);
    let count = hinge_count(length, part.cuboid.size(side.axis), mass_of(scene.design, &part.material, &part.cuboid));
    let (kind, name, what) = match hinge_of(scene.design) {
        Some((name, hinge)) => {
            (FittingKind::CupHinge, name.to_owned(), format!("hinge with a {} mm cup", hinge.cup.mm()))
        }
        None => (FittingKind::Hinge, "hinge".to_owned(), "hinge".to_owned()),
    };
    // The hinge lies behind the front, from the hinged edge inwards.
    let (bay, front) = (part.bay.clone(), part.cuboid);
    let behind = front.with_range(Axis::Z, (front.min.z - DRAWN, front.min.z));
    let (low, high) = front.range(side.axis);
    let across = if side.negative { (low, low + DRAWN) } else { (high - DRAWN, high) };
    for place in hinge_places(length, count) {
        let middle = front.range(axis).0 + place;
        let cuboid =
            behind.with_range(side.axis, across).with_range(axis, (middle - DRAWN.half(), middle + DRAWN.half()));
        scene.fittings.push(MountedFitting {
            kind,
            name: name.clone(),
            what: what.clone(),
            remark: String::new(),
            bay: bay.clone(),
            cuboid,
            count: 1,
        });
    }
}
