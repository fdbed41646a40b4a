//! Measured sizes put into a design.

use std::collections::BTreeSet;

use super::{Difference, DifferenceKind};
use crate::assembly::{Assembly, Part, PartEdge, PartSize, build};
use crate::design::{Bay, Extent, Resolved, Role, Want};
use crate::geometry::{Axis, Cuboid};
use crate::layout::Layout;
use crate::length::Length;
use crate::solve::solve;

/// How far the ends of a part may lie beyond the opening that it spans: grooves, thicknesses and set-backs.
const REACH: Length = Length::from_mm(60);
/// Rounds of pulling; each round settles at least one size of one part.
const ROUNDS: usize = 24;

/// A design with the measured sizes in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Applied {
    /// The design from which everything is derived now.
    pub design: Resolved,
    /// What differs from the design alone.
    pub differences: Vec<Difference>,
}

/// Puts what was measured into a design. Without measurements the design is unchanged.
#[must_use]
pub fn apply(nominal: &Resolved) -> Applied {
    if nominal.as_built.is_empty() {
        return Applied { design: nominal.clone(), differences: Vec::new() };
    }
    let mut design = nominal.clone();
    let mut differences = Vec::new();
    let planned = derived(nominal);
    for (name, &thickness) in &nominal.as_built.thickness {
        if let Some(material) = design.materials.get_mut(name)
            && material.thickness != thickness
        {
            differences.push(measured(name, "thickness", material.thickness, thickness));
            material.thickness = thickness;
        }
    }
    for (name, opening) in &nominal.as_built.openings {
        let clear = planned.as_ref().and_then(|(layout, _)| Some(layout.bay(name)?.clear));
        for (which, axis, size) in [("width", Axis::X, opening.width), ("height", Axis::Y, opening.height)] {
            let Some(size) = size else { continue };
            if let Some(clear) = clear
                && clear.size(axis) != size
            {
                differences.push(measured(name, which, clear.size(axis), size));
            }
            let mut trial = design.clone();
            if let Some(bay) = trial.carcass.bay.named_mut(name) {
                *want(bay, axis) = Want::Fixed(size);
            }
            design = accepted(design, trial, name, axis, size);
        }
    }
    design = pulled(design);
    if let (Some((_, before)), Some((_, after))) = (&planned, &derived(&design)) {
        differences.extend(follow(before, after, nominal));
    }
    Applied { design, differences }
}

/// The trial if it solves; else the trial with the envelope giving way; else what there was.
fn accepted(design: Resolved, trial: Resolved, bay: &str, axis: Axis, size: Length) -> Resolved {
    if derived(&trial).is_some() {
        return trial;
    }
    let Some((layout, _)) = derived(&design) else { return trial };
    let Some(clear) = layout.bay(bay).map(|it| it.clear.size(axis)) else { return design };
    let mut giving = trial;
    *extent(&mut giving, axis) = Extent::Fixed(layout.envelope.size(axis) + size - clear);
    if derived(&giving).is_some() { giving } else { design }
}

fn measured(of: &str, which: &'static str, planned: Length, now: Length) -> Difference {
    Difference { of: of.to_owned(), which, planned, now, kind: DifferenceKind::Measured }
}

fn derived(design: &Resolved) -> Option<(Layout, Assembly)> {
    let layout = solve(design).ok()?.layout;
    let assembly = build(design, &layout).ok()?;
    Some((layout, assembly))
}

/// Pulls on bays and envelope until each cut part has its place, as far as that can be.
fn pulled(mut design: Resolved) -> Resolved {
    // What was tried and did not solve is not tried again.
    let mut given_up: BTreeSet<(String, Axis)> = BTreeSet::new();
    for _ in 0..ROUNDS {
        let Some((layout, assembly)) = derived(&design) else { return design };
        let next = design.as_built.cut.iter().find_map(|(number, &(length, width))| {
            let part = assembly.part(number)?;
            let frame = part.world_from_part;
            [(frame.length.axis, length - part.finished.length), (frame.width.axis, width - part.finished.width)]
                .into_iter()
                .find(|(axis, off)| *off != Length::ZERO && !given_up.contains(&(number.clone(), *axis)))
                .map(|(axis, off)| (number.clone(), axis, off))
        });
        let Some((number, axis, off)) = next else { break };
        let ways = assembly.part(&number).map(|part| knobs(&design, &layout, part, axis, off)).unwrap_or_default();
        let settled = |assembly: &Assembly, number: &str, (length, width): (Length, Length)| {
            let size = assembly.part(number).map(|it| it.finished);
            size.map_or((false, false), |it| (it.length == length, it.width == width))
        };
        // The part has its size along the axis, and what was settled before has not come loose.
        let met = |trial: &Resolved| {
            let Some((_, now)) = derived(trial) else { return false };
            let along_length = now.part(&number).is_some_and(|it| it.world_from_part.length.axis == axis);
            trial.as_built.cut.iter().all(|(other, &size)| {
                let (before, after) = (settled(&assembly, other, size), settled(&now, other, size));
                // What is asked now must hold; what held must go on holding.
                let asked = |along: bool| *other == number && along_length == along;
                (after.0 || !(before.0 || asked(true))) && (after.1 || !(before.1 || asked(false)))
            })
        };
        match ways.into_iter().find(|trial| met(trial)) {
            Some(trial) => design = trial,
            None => {
                given_up.insert((number, axis));
            }
        }
    }
    design
}

/// Designs in which something that decides the size of a part along an axis is changed by `off`: the tightest opening
/// that it spans, then wider ones, then the envelope.
fn knobs(design: &Resolved, layout: &Layout, part: &Part, axis: Axis, off: Length) -> Vec<Resolved> {
    let own = part.cuboid.range(axis);
    let near = |cuboid: &Cuboid| {
        let range = cuboid.range(axis);
        let ends = [(own.0 - range.0).abs(), (own.1 - range.1).abs()];
        ends.iter().all(|it| *it <= REACH).then(|| ends.into_iter().max().unwrap_or_default())
    };
    let beside = |cuboid: &Cuboid| {
        Axis::ALL.into_iter().filter(|&it| it != axis).all(|it| {
            let (a, b) = (cuboid.range(it), part.cuboid.range(it));
            a.0 <= b.1 && b.0 <= a.1
        })
    };
    let mut designs = Vec::new();
    if axis != Axis::Z {
        let mut bays: Vec<_> = (layout.bays.iter().filter(|bay| beside(&bay.clear)))
            .filter_map(|bay| Some((near(&bay.clear)?, std::cmp::Reverse(bay.depth), bay)))
            .collect();
        bays.sort_by_key(|(far, depth, bay)| (*far, *depth, bay.name.clone()));
        for (_, _, bay) in bays {
            let mut trial = design.clone();
            let size = bay.clear.size(axis) + off;
            if let Some(found) = trial.carcass.bay.named_mut(&bay.name) {
                *want(found, axis) = Want::Fixed(size);
            }
            designs.push(trial);
        }
    }
    let carcass = !matches!(part.role, Role::DrawerSide | Role::DrawerEnd | Role::DrawerBottom | Role::BinPanel);
    if carcass {
        let mut trial = design.clone();
        *extent(&mut trial, axis) = Extent::Fixed(layout.envelope.size(axis) + off);
        designs.push(trial);
    }
    designs
}

fn extent(design: &mut Resolved, axis: Axis) -> &mut Extent<Length> {
    let envelope = &mut design.carcass.envelope;
    match axis {
        Axis::X => &mut envelope.width,
        Axis::Y => &mut envelope.height,
        Axis::Z => &mut envelope.depth,
    }
}

const fn want(bay: &mut Bay<Length>, axis: Axis) -> &mut Want<Length> {
    match axis {
        Axis::X => &mut bay.width,
        _ => &mut bay.height,
    }
}

/// Sizes that follow, and cut parts that do not fit.
fn follow(before: &Assembly, after: &Assembly, nominal: &Resolved) -> Vec<Difference> {
    let mut list = Vec::new();
    for part in &after.parts {
        let cut = nominal.as_built.cut.get(&part.number);
        let planned = before.part(&part.number).map(|it| it.finished);
        for (which, size) in [("length", 0), ("width", 1)] {
            let of = |it: PartSize| if size == 0 { it.length } else { it.width };
            let now = of(part.finished);
            let (planned, now, kind) = match (cut, planned) {
                (Some(cut), _) => {
                    let has = if size == 0 { cut.0 } else { cut.1 };
                    (now, has, DifferenceKind::DoesNotFit)
                }
                (None, Some(planned)) => (of(planned), now, DifferenceKind::Follows),
                (None, None) => continue,
            };
            if planned != now {
                list.push(Difference { of: part.number.clone(), which, planned, now, kind });
            }
        }
    }
    list
}

/// Gives every cut part of an assembly the size that it has, measured from its datum corner; hands back whether any has
/// another size than its place asks for.
pub fn freeze(design: &Resolved, assembly: &mut Assembly) -> bool {
    let mut changed = false;
    for part in &mut assembly.parts {
        let Some(&(length, width)) = design.as_built.cut.get(&part.number) else { continue };
        let finished = PartSize { length, width, ..part.finished };
        if finished == part.finished {
            continue;
        }
        let bands = |edges: [PartEdge; 2]| -> Length {
            part.bands.iter().filter(|band| edges.contains(&band.edge)).map(|band| band.thickness).sum()
        };
        part.cut.length = length - bands([PartEdge::Start, PartEdge::End]);
        part.cut.width = width - bands([PartEdge::Near, PartEdge::Far]);
        part.mass_kg *= (length.mm() * width.mm()) / (part.finished.length.mm() * part.finished.width.mm());
        part.finished = finished;
        let far = part.world_from_part.to_world(length, width, finished.thickness);
        part.cuboid = Cuboid::between(part.world_from_part.origin, far);
        changed = true;
    }
    changed
}
