//! What under-mounted slides need in a drawer box: a hole in the rear end for the hook of each slide, and pilot holes for
//! the clips in the front corners. The notches for the slides are made with the rear end. Figures are those of the
//! library; the maker's drilling sheet goes before them.

use super::bore::bore;
use super::drill::blind;
use super::taken::Taken;
use crate::assembly::{Assembly, Hole, Part, Purpose};
use crate::design::{Fitting, Resolved, Role, SlideMount};
use crate::fittings::{UnderSlides, library};
use crate::geometry::{Direction, Point};
use crate::length::Length;

/// Drills the boxes on under-mounted slides, before anything that can give way to these holes.
pub(super) fn drill(design: &Resolved, assembly: &mut Assembly, taken: &mut Taken) {
    let Ok(library) = library() else { return };
    let data = &library.slides.under_mounted;
    let under = |name: &str| matches!(design.fittings.get(name), Some(Fitting::Slide(slide)) if slide.mount == SlideMount::Under);
    let mut bays: Vec<String> =
        assembly.fittings.iter().filter(|it| under(&it.name)).map(|it| it.bay.clone()).collect();
    bays.dedup();
    for bay in bays {
        let of = |role: Role| {
            let own = assembly.parts.iter().enumerate().filter(|(_, it)| it.bay == bay && it.role == role);
            own.collect::<Vec<_>>()
        };
        let (sides, ends, bottom) = (of(Role::DrawerSide), of(Role::DrawerEnd), of(Role::DrawerBottom));
        let ([(_, one), (_, other)], Some((_, bottom))) = (&sides[..], bottom.first()) else { continue };
        let inside = (one.cuboid.max.x.min(other.cuboid.max.x), one.cuboid.min.x.max(other.cuboid.min.x));
        let low = bottom.cuboid.min.y;
        let by_depth = |it: &&(usize, &Part)| it.1.cuboid.max.z;
        let (Some(&(front, front_end)), Some(&(rear, rear_end))) =
            (ends.iter().max_by_key(by_depth), ends.iter().min_by_key(by_depth))
        else {
            continue;
        };
        let hooks = hooks(data, rear_end, inside, low);
        let clips = clips(data, front_end, inside, low);
        taken.bore(assembly, rear, hooks);
        taken.bore(assembly, front, clips);
    }
}

fn both((left, right): (Length, Length), from: f64) -> [Length; 2] {
    let from = Length::from_mm_f64(from);
    [left + from, right - from]
}

/// The holes for the hooks, from behind into the rear end.
fn hooks(data: &UnderSlides, end: &Part, inside: (Length, Length), low: Length) -> Vec<Hole> {
    let (diameter, depth, from_side, above) = data.hook_hole.0;
    let hole = |x: Length| {
        let at = Point::new(x, low + Length::from_mm_f64(above), end.cuboid.min.z);
        let depth = blind(end, Direction::FRONT, Length::from_mm_f64(depth));
        bore(end, at, Direction::FRONT, Length::from_mm_f64(diameter), Some(depth), Purpose::SlideHook)
    };
    both(inside, from_side).map(hole).into()
}

/// The pilot holes for the clips, into the rear face of the front end under the bottom.
fn clips(data: &UnderSlides, end: &Part, inside: (Length, Length), low: Length) -> Vec<Hole> {
    let (diameter, depth, from_side, under) = data.clip_screw.0;
    let hole = |x: Length| {
        let at = Point::new(x, low - Length::from_mm_f64(under), end.cuboid.min.z);
        let depth = blind(end, Direction::FRONT, Length::from_mm_f64(depth));
        bore(end, at, Direction::FRONT, Length::from_mm_f64(diameter), Some(depth), Purpose::SlideClip)
    };
    both(inside, from_side).map(hole).into()
}
