//! Holes of handles: through the front, and through the end of a drawer box that lies flat behind it.

use super::bore::bore;
use super::taken::Taken;
use crate::assembly::{Assembly, FittingKind, Purpose, handle_holes, handle_of, handled_front};
use crate::design::Resolved;
use crate::geometry::{Axis, Direction};
use crate::length::Length;

/// Diameter of these holes, for screws M4 (common practice).
const HOLE: Length = Length::from_mm(5);

/// Drills for the handles of all fronts, before anything that can give way to them.
pub(super) fn drill(design: &Resolved, assembly: &mut Assembly, taken: &mut Taken) {
    for fitting in assembly.fittings.clone() {
        if fitting.kind != FittingKind::Handle {
            continue;
        }
        let Some(handle) = handle_of(design, &fitting.name) else { continue };
        let Some((front, part)) = handled_front(&assembly.parts, &fitting) else { continue };
        let rear = part.cuboid.min.z;
        let holes = handle_holes(handle, &fitting.cuboid);
        let lies_behind = |at: usize| {
            assembly.parts.get(at).is_some_and(|it| {
                it.bay == fitting.bay
                    && it.cuboid.max.z == rear
                    && it.world_from_part.thickness_axis() == Axis::Z
                    && holes.iter().all(|hole| {
                        [Axis::X, Axis::Y].into_iter().all(|axis| {
                            let (low, high) = it.cuboid.range(axis);
                            (low..=high).contains(&hole.along(axis))
                        })
                    })
            })
        };
        let behind: Vec<usize> = (0..assembly.parts.len()).filter(|&at| lies_behind(at)).collect();
        for index in std::iter::once(front).chain(behind) {
            let Some(part) = assembly.parts.get(index) else { continue };
            let face = part.cuboid.max.z;
            let through = holes
                .iter()
                .map(|hole| bore(part, hole.with(Axis::Z, face), Direction::REAR, HOLE, None, Purpose::HandleScrew));
            let through = through.collect();
            taken.bore(assembly, index, through);
        }
    }
}
