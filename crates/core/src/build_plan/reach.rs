//! What must be fitted before a step, because a hand with a tool does not get there after it.

use std::collections::BTreeSet;

use crate::assembly::{Assembly, JoinedBy, MountedFitting};
use crate::design::{Resolved, Role, ThingKind};
use crate::geometry::{Axis, Cuboid};
use crate::layout::Layout;
use crate::length::Length;

/// Clear width that a hand with a short driver needs to drive a screw into the wall of a bay (from memory).
const DRIVER: Length = Length::from_mm(260);
/// A bay deeper than this from its open front is not reached with both hands (own choice).
const ARM: Length = Length::from_mm(700);

/// What must be fitted before the step that brings `groups` together.
pub(super) fn before(
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    groups: &[Vec<usize>],
    joints: &[usize],
) -> Vec<String> {
    let mut list = Vec::new();
    let mut seen = BTreeSet::new();
    for fitting in &assembly.fittings {
        let Some(bay) = layout.bay(&fitting.bay) else { continue };
        let walls = walls(assembly, fitting);
        let group_of = |part: usize| groups.iter().position(|group| group.contains(&part));
        // The step closes the bay when it brings the walls on both sides of the opening together.
        let closing: BTreeSet<usize> = opening_walls(assembly, &bay.clear).into_iter().filter_map(group_of).collect();
        let mounted = walls.iter().any(|&wall| group_of(wall).is_some());
        if closing.len() < 2 || !mounted {
            continue;
        }
        let width = bay.clear.size(Axis::X);
        let depth = bay.clear.size(Axis::Z);
        let why = if width < DRIVER {
            format!("the opening of {} mm leaves no room for a driver", width.mm())
        } else if depth > ARM {
            format!("{} mm deep is out of reach", depth.mm())
        } else {
            continue;
        };
        let parts: Vec<&str> =
            walls.iter().filter_map(|&wall| Some(assembly.parts.get(wall)?.number.as_str())).collect();
        if seen.insert((fitting.name.clone(), fitting.bay.clone())) {
            list.push(format!("{} of {} on {}: {why}", fitting.name, fitting.bay, parts.join(", ")));
        }
    }
    let closes_back =
        joints.iter().filter_map(|&joint| assembly.joints.get(joint)).filter(|it| it.kind != JoinedBy::Loose).any(
            |joint| {
                let role = |part: usize| assembly.parts.get(part).map(|it| it.role);
                role(joint.face_part) == Some(Role::Back) || role(joint.edge_part) == Some(Role::Back)
            },
        );
    if closes_back {
        for (name, thing) in &design.things {
            if thing.kind == ThingKind::Appliance && assembly.things.iter().any(|it| it.name == *name) {
                list.push(format!("opening for the lead and the air of {name} in the back"));
            }
        }
    }
    list
}

/// The parts that a fitting is fixed to: those whose faces it touches.
fn walls(assembly: &Assembly, fitting: &MountedFitting) -> Vec<usize> {
    let touches = |a: &Cuboid, b: &Cuboid| {
        Axis::ALL.into_iter().all(|axis| {
            let (one, two) = (a.range(axis), b.range(axis));
            one.0 <= two.1 && two.0 <= one.1
        })
    };
    let parts = assembly.parts.iter().enumerate();
    parts.filter(|(_, part)| touches(&part.cuboid, &fitting.cuboid)).map(|(index, _)| index).collect()
}

/// The upright panels right at the left and the right of an opening.
fn opening_walls(assembly: &Assembly, clear: &Cuboid) -> Vec<usize> {
    let beside = |cuboid: &Cuboid| {
        let (x, open) = (cuboid.range(Axis::X), clear.range(Axis::X));
        let meets = |axis: Axis| {
            let (one, two) = (cuboid.range(axis), clear.range(axis));
            one.0 < two.1 && two.0 < one.1
        };
        (x.1 == open.0 || x.0 == open.1) && meets(Axis::Y) && meets(Axis::Z)
    };
    let parts = assembly.parts.iter().enumerate();
    let upright = parts.filter(|(_, part)| matches!(part.role, Role::Side | Role::Upright));
    upright.filter(|(_, part)| beside(&part.cuboid)).map(|(index, _)| index).collect()
}
