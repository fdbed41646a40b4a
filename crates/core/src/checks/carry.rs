//! The way of the loads: from things and shelves through uprights down to the feet.
//!
//! Lying panels are taken from the top down. Each is a beam along the wall over what supports it: the uprights that it
//! ends at or lies on, feet, or the floor. Its reactions go into the uprights, and what an upright has gathered goes on
//! to the panel or foot under it. Joints count as hinges, which errs on the safe side for sag.

use serde::Serialize;

use super::context::{Context, centre, lies, overlap, stands};
use super::options::CheckOptions;
use crate::assembly::{Assembly, Grain, Part};
use crate::design::{Inside, MaterialKind, Resolved, Role, ThingKind};
use crate::geometry::{Axis, Cuboid};
use crate::layout::Layout;
use crate::length::Length;
use crate::mechanics::GRAVITY;
use crate::mechanics::beam::{Beam, Bent, Load, Section, SectionPart};
use crate::mechanics::limits::MOST_ON_A_SHELF;

/// How near faces must be to count as touching: loose shelves have play, housed ones stand in grooves.
const NEAR: Length = Length::from_mm(3);
const HOUSED: Length = Length::from_mm(12);
const UNDER_TOPS: Length = Length::from_mm(45);

/// What supports a lying panel at one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum SupportKind {
    /// An upright panel beside which it ends: through a joint, or on pins.
    Beside(usize),
    /// An upright panel that it lies on.
    On(usize),
    /// A foot.
    Foot,
}

/// One place of support.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SupportPoint {
    /// From the left end of the panel, mm.
    pub at: f64,
    /// What it is; an index of a part for uprights.
    pub kind: SupportKind,
    /// What it carries, N.
    pub reaction: f64,
}

/// A lying panel with what it carries.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lying {
    /// The part, an index into the assembly's.
    pub part: usize,
    /// Parts that lie on it over its whole length and bend with it.
    pub with: Vec<usize>,
    /// Uprights that hang on its ends, by index of the part, with their load, N.
    pub hung: Vec<(usize, f64)>,
    /// The supports, from left to right.
    pub supports: Vec<SupportPoint>,
    /// The loads, places from its left end, N and mm.
    pub loads: Vec<Load>,
    /// The part of the load, N, that nobody named but the checks assume.
    pub assumed: f64,
    /// Names of the things on it.
    pub things: Vec<String>,
    /// The stack's stiffness and strength.
    pub section: Section,
    /// How it bends; none if it lies on the floor or is not held.
    pub bent: Option<Bent>,
    /// Whether it lies on the floor.
    pub on_floor: bool,
}

/// What all panels carry, and what reaches the feet.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Carried {
    /// The lying panels, from the top down.
    pub lying: Vec<Lying>,
    /// What each part that stands has gathered, N, by part index.
    pub uprights: Vec<f64>,
    /// Load on each place of feet: along the wall from the left end of the site, mm, and N.
    pub feet: Vec<(f64, f64)>,
}

/// What all panels carry.
#[must_use]
pub fn carried_by(design: &Resolved, layout: &Layout, assembly: &Assembly, options: &CheckOptions) -> Carried {
    carry(&Context::new(design, layout, assembly, options))
}

pub(super) fn carry(context: &Context<'_>) -> Carried {
    let parts = &context.assembly.parts;
    let standing: Vec<(usize, &Part)> = context.still().filter(|(_, it)| stands(it.role)).collect();
    let mut order: Vec<(usize, &Part)> = context.still().filter(|(_, it)| lies(it.role)).collect();
    order.sort_by_key(|&(i, it)| (std::cmp::Reverse(it.cuboid.max.y), i));
    let mut carried = Carried { uprights: vec![0.0; parts.len()], ..Carried::default() };
    for &(i, it) in &standing {
        add(&mut carried.uprights, i, it.mass_kg * GRAVITY);
    }
    hang_movers(context, &standing, &mut carried.uprights);
    let things = things_on(context, &order);
    let lower = lies_on(&order);
    let mut covered_by: Vec<Vec<usize>> = vec![Vec::new(); order.len()];
    for (&(i, _), on) in order.iter().zip(&lower) {
        if let Some(list) = on.filter(|it| it.1).and_then(|it| covered_by.get_mut(it.0)) {
            list.push(i);
        }
    }
    let mut from_above: Vec<Above> = vec![Above::default(); order.len()];
    for (place, &(i, part)) in order.iter().enumerate() {
        let (x0, x1) = (part.cuboid.min.x.mm(), part.cuboid.max.x.mm());
        let length = x1 - x0;
        let mut lying = Lying {
            part: i,
            with: covered_by.get(place).cloned().unwrap_or_default(),
            hung: Vec::new(),
            supports: Vec::new(),
            loads: vec![Load::uniform(0.0, length, part.mass_kg * GRAVITY / length)],
            assumed: 0.0,
            things: Vec::new(),
            section: Section::stiff(0.0),
            bent: None,
            on_floor: part.cuboid.min.y <= context.floor() + Length::from_mm(1),
        };
        own_loads(context, part, things.get(place).map_or(&[], Vec::as_slice), &mut lying);
        if let Some(above) = from_above.get(place) {
            lying.loads.extend(above.loads.iter().filter_map(|it| shifted(it, x0, length)));
            lying.assumed += above.assumed;
            lying.things.extend(above.things.iter().cloned());
        }
        for &(v, upright) in &standing {
            if rests_on(&upright.cuboid, &part.cuboid) {
                let load = carried.uprights.get(v).copied().unwrap_or(0.0);
                let at = (centre(&upright.cuboid)[0] - x0).clamp(0.0, length);
                lying.loads.push(Load::point(at, load));
            }
        }
        if let Some((under, _)) = lower.get(place).copied().flatten() {
            // It lies flat on another panel: all goes down to that one.
            if let Some(above) = from_above.get_mut(under) {
                above.loads.extend(lying.loads.iter().map(|it| moved(it, x0)));
                above.assumed += lying.assumed;
                above.things.append(&mut lying.things);
            }
            continue;
        }
        lying.section = section(context, part, &lying.with);
        supports(context, &standing, part, &lying.with, &mut lying.supports);
        hang_sides(context, length, &carried.uprights, &mut lying);
        bend(length, &mut lying);
        for support in &lying.supports {
            match support.kind {
                SupportKind::Beside(v) | SupportKind::On(v) => add(&mut carried.uprights, v, support.reaction),
                SupportKind::Foot => carried.feet.push((x0 + support.at, support.reaction)),
            }
        }
        carried.lying.push(lying);
    }
    carried
}

fn add(list: &mut [f64], index: usize, value: f64) {
    if let Some(it) = list.get_mut(index) {
        *it += value;
    }
}

/// What comes down from panels that lie on another, in world places.
#[derive(Clone, Debug, Default)]
struct Above {
    loads: Vec<Load>,
    assumed: f64,
    things: Vec<String>,
}

/// On feet, a bottom carries the sides that end beside it: they are its load and not its support.
fn hang_sides(context: &Context<'_>, length: f64, uprights: &[f64], lying: &mut Lying) {
    if lying.supports.iter().filter(|it| it.kind == SupportKind::Foot).count() < 2 {
        return;
    }
    let raised = |v: usize| {
        context.assembly.parts.get(v).is_some_and(|it| it.cuboid.min.y > context.floor() + Length::from_mm(1))
    };
    let mut kept = Vec::new();
    for support in lying.supports.drain(..) {
        match support.kind {
            SupportKind::Beside(v) if raised(v) => {
                let load = uprights.get(v).copied().unwrap_or(0.0);
                lying.loads.push(Load::point(support.at.clamp(0.0, length), load));
                lying.hung.push((v, load));
            }
            _ => kept.push(support),
        }
    }
    lying.supports = kept;
}

/// Solves the beam. Fewer than two supports hold nothing.
fn bend(length: f64, lying: &mut Lying) {
    if lying.on_floor || lying.supports.len() < 2 {
        return;
    }
    let places = lying.supports.iter().map(|it| it.at).collect();
    let beam = Beam::continuous(length, places, lying.section);
    if let Ok(bent) = beam.bend(&lying.loads) {
        for (support, reaction) in lying.supports.iter_mut().zip(&bent.reactions) {
            support.reaction = *reaction;
        }
        lying.bent = Some(bent);
    }
}

/// For each lying panel the one that it lies flat on, by place in the order, and whether it covers that one's length.
fn lies_on(order: &[(usize, &Part)]) -> Vec<Option<(usize, bool)>> {
    let mut by_top: std::collections::BTreeMap<Length, Vec<usize>> = std::collections::BTreeMap::new();
    for (place, (_, part)) in order.iter().enumerate() {
        by_top.entry(part.cuboid.max.y).or_default().push(place);
    }
    order
        .iter()
        .map(|(_, part)| {
            let candidates = by_top.get(&part.cuboid.min.y)?;
            let best = candidates.iter().filter_map(|&place| {
                let (_, under) = order.get(place)?;
                if under.role == Role::Rail {
                    // Narrow strips: what lies on them reaches the uprights as a beam of its own.
                    return None;
                }
                let under = &under.cuboid;
                let x = overlap(part.cuboid.range(Axis::X), under.range(Axis::X));
                let z = overlap(part.cuboid.range(Axis::Z), under.range(Axis::Z));
                (x > 0.0 && z > 0.0).then_some((place, x * z, x / under.size(Axis::X).mm()))
            });
            let (place, _, share) = best.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))?;
            // On several panels side by side it is a beam of its own.
            let covered = overlap(part.cuboid.range(Axis::X), order.get(place)?.1.cuboid.range(Axis::X));
            (covered > 0.5 * part.cuboid.size(Axis::X).mm()).then_some((place, share > 0.8))
        })
        .collect()
}

/// Whether an upright stands on a lying panel.
fn rests_on(upright: &Cuboid, lying: &Cuboid) -> bool {
    let gap = upright.min.y - lying.max.y;
    gap <= Length::from_mm(1)
        && gap >= -HOUSED
        && upright.min.y > lying.min.y
        && overlap(upright.range(Axis::X), lying.range(Axis::X)) > 0.0
        && overlap(upright.range(Axis::Z), lying.range(Axis::Z)) > 0.0
        && upright.max.y > lying.max.y
}

/// The supports of a panel and of those that bend with it.
fn supports(
    context: &Context<'_>,
    standing: &[(usize, &Part)],
    part: &Part,
    with: &[usize],
    into: &mut Vec<SupportPoint>,
) {
    let mut low = part.cuboid;
    for other in with.iter().filter_map(|&i| context.assembly.parts.get(i)) {
        low = low.with_range(Axis::Y, (low.min.y, other.cuboid.max.y.max(low.max.y)));
    }
    let (x0, length) = (low.min.x, low.size(Axis::X).mm());
    for &(v, upright) in standing {
        let it = &upright.cuboid;
        if overlap(it.range(Axis::Z), low.range(Axis::Z)) <= 0.0 {
            continue;
        }
        // A worktop may lie on the tops of boxes whose sides end under these.
        let reach = if part.role == Role::Worktop { UNDER_TOPS } else { Length::from_mm(1) };
        let under = it.max.y >= low.min.y - reach
            && it.max.y <= low.min.y + HOUSED
            && it.max.y < low.max.y
            && it.min.y < low.min.y;
        if under && overlap(it.range(Axis::X), low.range(Axis::X)) > 0.0 {
            let at = ((it.min.x.max(low.min.x) + it.max.x.min(low.max.x)).mm() / 2.0 - x0.mm()).clamp(0.0, length);
            into.push(SupportPoint { at, kind: SupportKind::On(v), reaction: 0.0 });
            continue;
        }
        if overlap(it.range(Axis::Y), part.cuboid.range(Axis::Y)) <= 0.0 {
            continue;
        }
        // Ends beside it: the panel's end within reach of the upright's face.
        let left = (low.min.x - it.max.x) <= NEAR && (it.max.x - low.min.x) <= HOUSED;
        let right = (it.min.x - low.max.x) <= NEAR && (low.max.x - it.min.x) <= HOUSED;
        if left {
            into.push(SupportPoint { at: 0.0, kind: SupportKind::Beside(v), reaction: 0.0 });
        } else if right {
            into.push(SupportPoint { at: length, kind: SupportKind::Beside(v), reaction: 0.0 });
        }
    }
    if part.role == Role::Bottom {
        for fitting in &context.assembly.fittings {
            let near = (fitting.cuboid.max.y - low.min.y).abs() <= Length::from_mm(1);
            if near
                && fitting.cuboid.min.y < low.min.y
                && overlap(fitting.cuboid.range(Axis::X), low.range(Axis::X)) > 0.0
            {
                let at = (centre(&fitting.cuboid)[0] - x0.mm()).clamp(0.0, length);
                into.push(SupportPoint { at, kind: SupportKind::Foot, reaction: 0.0 });
            }
        }
    }
    into.sort_by(|a, b| a.at.total_cmp(&b.at));
    // Feet in several rows, and uprights side by side, are one line of support.
    into.dedup_by(|b, a| b.at - a.at < 1.0);
}

/// Stiffness and strength of a panel and of those that lie on it.
fn section(context: &Context<'_>, part: &Part, with: &[usize]) -> Section {
    let others = with.iter().filter_map(|&i| context.assembly.parts.get(i));
    let sections: Vec<Section> =
        std::iter::once(part).chain(others).filter_map(|it| part_section(context, it)).collect();
    Section::stacked(&sections)
}

/// The section of one lying part that spans along the wall, with the strength that it keeps for years: k_mod / 1.3.
pub(super) fn part_section(context: &Context<'_>, part: &Part) -> Option<Section> {
    let it = context.properties(part)?;
    let directed =
        matches!(it.kind, MaterialKind::Plywood | MaterialKind::Osb | MaterialKind::Softwood | MaterialKind::Hardwood);
    let across = directed && part.grain == Grain::AlongLength && part.world_from_part.length.axis == Axis::Z;
    let modulus = if across { it.modulus_across.value } else { it.modulus.value };
    let weaker = if across { it.modulus_across.value / it.modulus.value } else { 1.0 };
    Some(Section::of_part(&SectionPart {
        width: part.cuboid.size(Axis::Z).mm(),
        height: part.cuboid.size(Axis::Y).mm(),
        bottom: 0.0,
        modulus,
        strength: it.bending_strength.value * weaker * it.kmod_long.value / 1.3,
        shear_ratio: it.shear_ratio.value,
    }))
}

/// The still things on each lying panel, by place in the order.
fn things_on(context: &Context<'_>, order: &[(usize, &Part)]) -> Vec<Vec<usize>> {
    let mut by_top: std::collections::BTreeMap<Length, Vec<usize>> = std::collections::BTreeMap::new();
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
fn own_loads(context: &Context<'_>, part: &Part, things: &[usize], lying: &mut Lying) {
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
            let force = (pressure * depth * (to - from)).min(MOST_ON_A_SHELF.value * GRAVITY);
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
fn open_over(context: &Context<'_>, part: &Part) -> Vec<(Length, Length)> {
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
fn hang_movers(context: &Context<'_>, standing: &[(usize, &Part)], uprights: &mut [f64]) {
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
        for &(v, _) in [beside(true), beside(false)].into_iter().flatten() {
            add(uprights, v, (parts + things) * GRAVITY / 2.0);
        }
    }
}

/// A load at places from `x0`, cut to `[0, length]`.
fn shifted(load: &Load, x0: f64, length: f64) -> Option<Load> {
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
fn moved(load: &Load, x0: f64) -> Load {
    match *load {
        Load::Point { at, force } => Load::point(at + x0, force),
        Load::Spread { from, to, first, last } => Load::Spread { from: from + x0, to: to + x0, first, last },
    }
}
