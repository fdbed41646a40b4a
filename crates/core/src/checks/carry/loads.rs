//! Loads: things, what open space is assumed to hold, what moves.

use std::collections::BTreeMap;

use super::{Lying, NEAR, add};
use crate::assembly::Part;
use crate::checks::context::{Context, lies, overlap, stands};
use crate::design::{Inside, Role, ThingKind};
use crate::geometry::Axis;
use crate::length::Length;
use crate::mechanics::GRAVITY;
use crate::mechanics::beam::Load;
use crate::mechanics::limits::MOST_ON_A_SHELF;

/// The still things on each lying panel, by place in the order.
pub(super) fn things_on(context: &Context<'_>, order: &[(usize, &Part)]) -> Vec<Vec<usize>> {
    let mut by_top: BTreeMap<Length, Vec<usize>> = BTreeMap::new();
    for (place, (_, part)) in order.iter().enumerate() {
        by_top.entry(part.cuboid.max.y).or_default().push(place);
    }
    let mut result = vec![Vec::new(); order.len()];
    for (t, thing) in context.assembly.things.iter().enumerate() {
        if context.mover_of_thing(t).is_some() {
            continue;
        }
        let near = by_top.range(thing.cuboid.min.y - NEAR..=thing.cuboid.min.y + NEAR).flat_map(|it| it.1);
        let best = near
            .filter_map(|&place| {
                let under = &order.get(place)?.1.cuboid;
                let x = overlap(thing.cuboid.range(Axis::X), under.range(Axis::X));
                let z = overlap(thing.cuboid.range(Axis::Z), under.range(Axis::Z));
                (x > 0.0 && z > 0.0).then_some((place, x * z))
            })
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        if let Some(list) = best.and_then(|(place, _)| result.get_mut(place)) {
            list.push(t);
        }
    }
    result
}

/// Loads of things, and what an open space over the panel is assumed to hold.
pub(super) fn own_loads(context: &Context<'_>, part: &Part, things: &[usize], lying: &mut Lying) {
    let (x0, length) = (part.cuboid.min.x.mm(), part.cuboid.size(Axis::X).mm());
    for &t in things {
        let Some(thing) = context.assembly.things.get(t) else { continue };
        let (own, load) = context.thing_mass(t);
        let weight = (own + load) * GRAVITY;
        let (from, to) = (thing.cuboid.min.x.mm() - x0, thing.cuboid.max.x.mm() - x0);
        let kind = context.design.things.get(&thing.name).map(|it| it.kind);
        if kind == Some(ThingKind::Appliance) {
            // On feet, 50 mm in from its sides (common practice).
            let inset = 50.0_f64.min((to - from) / 4.0);
            for at in [from + inset, to - inset] {
                lying.loads.push(Load::point(at.clamp(0.0, length), weight / 2.0));
            }
        } else {
            lying.loads.extend(shifted(&Load::uniform(from, to, weight / (to - from)), 0.0, length));
        }
        lying.things.push(thing.name.clone());
    }
    let depth = part.cuboid.size(Axis::Z).mm();
    let pressure = context.options.shelf_use.load().value * 1e-6;
    let mut assume = |from: f64, to: f64| {
        if to > from {
            let force =
                (pressure * depth * (to - from)).min(MOST_ON_A_SHELF.value * GRAVITY) * context.options.load_share;
            lying.assumed += force;
            lying.loads.extend(shifted(&Load::uniform(from, to, force / (to - from)), 0.0, length));
        }
    };
    if part.role == Role::Worktop {
        assume(0.0, length);
        return;
    }
    let open = |name: &str| context.bay(name).is_some_and(|it| matches!(it.inside, Inside::Open { .. }));
    if part.role == Role::Shelf && context.layout.panels.iter().any(|it| it.loose && it.cuboid == part.cuboid) {
        if open(&part.bay) {
            assume(0.0, length);
        }
        return;
    }
    for bay in open_over(context, part) {
        assume(bay.0.mm() - x0, bay.1.mm() - x0);
    }
    // Nothing but the room above: what stands on top of a piece of ordinary height.
    let top_free = part.role == Role::Top
        && context.design.carcass.worktop.is_none()
        && part.cuboid.max.y == context.assembly.envelope.max.y
        && (part.cuboid.max.y - context.floor()).mm() <= 1800.0;
    if top_free {
        assume(0.0, length);
    }
}

/// Ranges along the wall of the open bays right over a panel.
pub(super) fn open_over(context: &Context<'_>, part: &Part) -> Vec<(Length, Length)> {
    let bays = context.layout.bays.iter().filter(|it| {
        it.is_leaf
            && (it.clear.min.y - part.cuboid.max.y).abs() <= NEAR
            && overlap(it.clear.range(Axis::X), part.cuboid.range(Axis::X)) > 0.0
            && overlap(it.clear.range(Axis::Z), part.cuboid.range(Axis::Z)) > 0.0
    });
    bays.filter(|it| context.bay(&it.name).is_some_and(|bay| matches!(bay.inside, Inside::Open { .. })))
        .map(|it| (it.clear.min.x.max(part.cuboid.min.x), it.clear.max.x.min(part.cuboid.max.x)))
        .collect()
}

/// What moves hangs, half and half, on the uprights beside its bay.
pub(super) fn hang_movers(context: &Context<'_>, standing: &[(usize, &Part)], uprights: &mut [f64]) {
    for mover in &context.assembly.movers {
        let Some(bay) = context.laid(&mover.bay) else { continue };
        let parts: f64 = mover.parts.iter().filter_map(|&i| context.assembly.parts.get(i)).map(|it| it.mass_kg).sum();
        let things: f64 = mover.things.iter().map(|&i| context.thing_mass(i)).map(|(own, load)| own + load).sum();
        let beside = |left: bool| {
            standing.iter().find(|(_, it)| {
                let near = if left {
                    (it.cuboid.max.x - bay.clear.min.x).abs() <= NEAR
                } else {
                    (it.cuboid.min.x - bay.clear.max.x).abs() <= NEAR
                };
                near && overlap(it.cuboid.range(Axis::Y), bay.clear.range(Axis::Y)) > 0.0
                    && overlap(it.cuboid.range(Axis::Z), bay.clear.range(Axis::Z)) > 0.0
            })
        };
        let found: Vec<usize> = [beside(true), beside(false)].into_iter().flatten().map(|it| it.0).collect();
        for &v in &found {
            add(uprights, v, (parts + things) * GRAVITY / found.len() as f64);
        }
    }
}

/// Backs, fixed fronts and plinths hang on all uprights alike: a small share.
pub(super) fn share_the_rest(context: &Context<'_>, standing: &[(usize, &Part)], uprights: &mut [f64]) {
    let rest: f64 =
        context.still().filter(|(_, it)| !stands(it.role) && !lies(it.role)).map(|(_, it)| it.mass_kg).sum();
    for &(v, _) in standing {
        add(uprights, v, rest * GRAVITY / standing.len() as f64);
    }
}

/// A load at places from `x0`, cut to `[0, length]`.
pub(super) fn shifted(load: &Load, x0: f64, length: f64) -> Option<Load> {
    match *load {
        Load::Point { at, force } => Some(Load::point((at - x0).clamp(0.0, length), force)),
        Load::Spread { from, to, first, last } => {
            let (a, b) = ((from - x0).max(0.0), (to - x0).min(length));
            let slope = (last - first) / (to - from);
            let at = |x: f64| first + slope * (x + x0 - from);
            (a < b).then(|| Load::Spread { from: a, to: b, first: at(a), last: at(b) })
        }
    }
}

/// A load at world places.
pub(super) fn moved(load: &Load, x0: f64) -> Load {
    match *load {
        Load::Point { at, force } => Load::point(at + x0, force),
        Load::Spread { from, to, first, last } => Load::Spread { from: from + x0, to: to + x0, first, last },
    }
}
