//! What must be fitted before a step, because a hand with a tool does not get there after it.

use std::collections::BTreeSet;

use crate::assembly::{Assembly, JoinedBy, MountedFitting};
use crate::checks::place_opening;
use crate::design::{Resolved, Role, ThingKind};
use crate::geometry::{Axis, Cuboid};
use crate::layout::Layout;
use crate::length::Length;
use crate::routes::{HOLE, LeadRoute};
use crate::unit::DecimalMark;

/// Clear width that a hand with a short driver needs to drive a screw into the wall of a bay (from memory).
const DRIVER: Length = Length::from_mm(260);
/// A bay deeper than this from its open front is not reached with both hands (own choice).
const ARM: Length = Length::from_mm(700);

/// What must be fitted before the step that brings `groups` together.
pub(super) fn before(
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    leads: &[LeadRoute],
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
    let joined = joints.iter().filter_map(|&joint| assembly.joints.get(joint)).filter(|it| it.kind != JoinedBy::Loose);
    let backs: BTreeSet<usize> = joined
        .flat_map(|it| [it.face_part, it.edge_part])
        .filter(|&part| assembly.parts.get(part).is_some_and(|it| it.role == Role::Back))
        .collect();
    list.extend(through_backs(design, layout, assembly, leads, &backs));
    list
}

/// What must be cut in these backs for leads and air of appliances, each with its place as seen from the front; where no way of a
/// lead is known and nothing is cut for its appliance, that something has to be.
fn through_backs(
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    leads: &[LeadRoute],
    backs: &BTreeSet<usize>,
) -> Vec<String> {
    let size = |length: Length| design.unit.format_named(length, DecimalMark::Point);
    let part = |index: usize| assembly.parts.get(index).filter(|_| backs.contains(&index));
    // Which part it is cut in, its size, and where it begins.
    let opening = |index: usize| {
        let opening = design.carcass.openings.get(index)?;
        let placed = place_opening(layout, assembly, opening)?;
        let (part, at) = (part(placed.part)?, placed.cuboid);
        let (x, y) = (at.min.x - part.cuboid.min.x, at.min.y - part.cuboid.min.y);
        let (width, height) = (size(opening.size.0), size(opening.size.1));
        let place = format!("begins {} from the left and {} from below", size(x), size(y));
        Some((format!("opening of {width} x {height} in {}", part.number), place))
    };
    let mut list = Vec::new();
    for (index, thing) in assembly.things.iter().enumerate() {
        let name = &thing.name;
        if design.things.get(name).is_none_or(|it| it.kind != ThingKind::Appliance) {
            continue;
        }
        let before = list.len();
        let way = leads.iter().find(|it| it.thing == index).and_then(|it| it.way.as_ref());
        let mut named = BTreeSet::new();
        for pass in way.iter().flat_map(|it| &it.passes) {
            if let Some(index) = pass.opening {
                named.insert(index);
                let cut = opening(index);
                list.extend(cut.map(|(what, place)| format!("{what} for the lead of {name}: {place}")));
            } else if let Some(part) = part(pass.part) {
                let (x, y) = (pass.at.x - part.cuboid.min.x, pass.at.y - part.cuboid.min.y);
                list.push(format!(
                    "hole of {} with a grommet in {} for the lead of {name}: its middle {} from the left and {} from below",
                    size(HOLE),
                    part.number,
                    size(x),
                    size(y)
                ));
            }
        }
        let bay = layout.bays.get(thing.bay).map(|it| it.name.as_str());
        let others = design.carcass.openings.iter().enumerate();
        let others = others.filter(|(index, it)| Some(it.bay.as_str()) == bay && !named.contains(index));
        let cuts = others.filter_map(|(index, _)| opening(index));
        list.extend(cuts.map(|(what, place)| format!("{what} for the air of {name}: {place}")));
        let behind = |back: &usize| {
            let meets = |axis: Axis, back: &Cuboid| {
                let (one, two) = (back.range(axis), thing.cuboid.range(axis));
                one.0 < two.1 && two.0 < one.1
            };
            assembly.parts.get(*back).is_some_and(|it| meets(Axis::X, &it.cuboid) && meets(Axis::Y, &it.cuboid))
        };
        if list.len() == before && way.is_none() && backs.iter().any(behind) {
            list.push(format!("opening for the lead and the air of {name} in the back"));
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
