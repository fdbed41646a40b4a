//! The way of the loads: from things and shelves through uprights down to the feet.
//!
//! Lying panels are taken from the top down. Each is a beam along the wall over what supports it: the uprights that it
//! ends at or lies on, feet, or the floor. Its reactions go into the uprights, and what an upright has gathered goes on
//! to the panel or foot under it. Joints count as hinges, which errs on the safe side for sag.

mod loads;
mod supports;

#[cfg(test)]
mod tests;

use serde::Serialize;

use loads::{hang_movers, moved, own_loads, share_the_rest, shifted, things_on};
use supports::{hang_sides, lies_on, rests_on, supports};

use super::context::{Context, centre, lies, stands};
use super::options::CheckOptions;
use crate::assembly::{Assembly, Grain, Part};
use crate::design::{MaterialKind, Resolved};
use crate::geometry::Axis;
use crate::layout::Layout;
use crate::length::Length;
use crate::mechanics::GRAVITY;
use crate::mechanics::beam::{Beam, Bent, Load, Section, SectionPart};
use crate::mechanics::materials::BoardProperties;

/// How near faces must be to count as touching: loose shelves have play, housed ones stand in grooves.
const NEAR: Length = Length::from_mm(3);

/// A panel that sags by less does not touch a foot that was lifted off, mm.
const TOUCH_MM: f64 = 1e-6;

/// The most of a load on a front and a rear foot that the front one carries, where the load stands near the front (own choice).
const FRONT_SHARE: f64 = 2.0 / 3.0;

/// What supports a lying panel at one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum SupportKind {
    /// An upright panel beside which it ends: through a joint, or on pins.
    Beside(usize),
    /// An upright panel that it lies on.
    On(usize),
    /// So many feet that stand together: in rows one behind the other, or nearly so.
    Foot(u32),
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
    /// Load on each place of feet: along the wall from the left end of the site, mm; N; and the most of it that one foot may
    /// carry, 1 for all. Where rows are out of line, a place is that of one row, and its load an equal share.
    pub feet: Vec<(f64, f64, f64)>,
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
    share_the_rest(context, &standing, &mut carried.uprights);
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
        let (x0, length) = (part.cuboid.min.x.mm(), part.cuboid.size(Axis::X).mm());
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
        let lines = supports(context, &standing, part, &lying.with);
        let mut beams: Vec<Lying> = Vec::new();
        for supports in lines {
            let mut beam = Lying { supports, ..lying.clone() };
            hang_sides(context, length, &carried.uprights, &mut beam);
            bend(length, &mut beam);
            beams.push(beam);
        }
        let rows = beams.len() as f64;
        for support in beams.iter().flat_map(|it| &it.supports) {
            if let SupportKind::Foot(count) = support.kind {
                // Each row carries its share of the whole. Of a pair the front foot may carry up to two thirds where loads
                // stand near the front; and so may the front one of rows out of line.
                let most = if count <= 1 { 1.0 } else { FRONT_SHARE * rows };
                carried.feet.push((x0 + support.at, support.reaction / rows, most));
            }
        }
        // Of rows out of line the one that lets the panel sag most speaks for it.
        let Some(lying) = beams.into_iter().max_by(|a, b| deepest(a).total_cmp(&deepest(b))) else { continue };
        for support in &lying.supports {
            if let SupportKind::Beside(v) | SupportKind::On(v) = support.kind {
                add(&mut carried.uprights, v, support.reaction);
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

/// How far a panel sags at most, mm.
fn deepest(lying: &Lying) -> f64 {
    let stretches = lying.bent.iter().flat_map(Bent::stretches);
    stretches.map(|(_, _, it)| it.value.abs()).fold(0.0, f64::max)
}

/// Solves the beam. Fewer than two supports hold nothing. A foot pushes and never pulls: the one that would have to pull most
/// is lifted off and the others carry all, until none pulls or two are left; one that the panel comes down on again is put
/// back. An upright may pull: its joint holds it.
pub(super) fn bend(length: f64, lying: &mut Lying) {
    let mut off: Vec<SupportPoint> = Vec::new();
    // So many times at most, so that it comes to an end.
    let mut returns = lying.supports.len();
    while !lying.on_floor && lying.supports.len() >= 2 {
        let places = lying.supports.iter().map(|it| it.at).collect();
        let beam = Beam::continuous(length, places, lying.section);
        let Ok(bent) = beam.bend(&lying.loads) else { return };
        for (support, reaction) in lying.supports.iter_mut().zip(&bent.reactions) {
            support.reaction = *reaction;
        }
        let pulls = |it: &SupportPoint| matches!(it.kind, SupportKind::Foot(_)) && it.reaction < 0.0;
        let pulling = lying.supports.iter().enumerate().filter(|(_, it)| pulls(it));
        let most = pulling.min_by(|a, b| a.1.reaction.total_cmp(&b.1.reaction)).map(|it| it.0);
        let sag = |it: &SupportPoint| bent.deflection(it.at);
        let pressed = off.iter().enumerate().filter(|(_, it)| sag(it) > TOUCH_MM);
        let pressed = pressed.max_by(|a, b| sag(a.1).total_cmp(&sag(b.1))).map(|it| it.0);
        lying.bent = Some(bent);
        if let Some(most) = most.filter(|_| lying.supports.len() > 2) {
            off.push(lying.supports.remove(most));
        } else if let Some(pressed) = pressed.filter(|_| returns > 0) {
            returns -= 1;
            lying.supports.push(off.swap_remove(pressed));
            lying.supports.sort_by(|a, b| a.at.total_cmp(&b.at));
        } else {
            return;
        }
    }
}

/// Stiffness and strength of a panel and of those that lie on it.
fn section(context: &Context<'_>, part: &Part, with: &[usize]) -> Section {
    let others = with.iter().filter_map(|&i| context.assembly.parts.get(i));
    let sections: Vec<Section> =
        std::iter::once(part).chain(others).filter_map(|it| part_section(context, it)).collect();
    Section::stacked(&sections)
}

/// The section of one lying part that spans along the wall.
pub(super) fn part_section(context: &Context<'_>, part: &Part) -> Option<Section> {
    part_board(context, part).map(|it| Section::of_part(&it))
}

/// One lying part that spans along the wall as a board of a section.
pub(super) fn part_board(context: &Context<'_>, part: &Part) -> Option<SectionPart> {
    let it = context.properties(part)?;
    let directed =
        matches!(it.kind, MaterialKind::Plywood | MaterialKind::Osb | MaterialKind::Softwood | MaterialKind::Hardwood);
    let across = directed && part.grain == Grain::AlongLength && part.world_from_part.length.axis == Axis::Z;
    Some(board(it, part.cuboid.size(Axis::Z).mm(), part.cuboid.size(Axis::Y).mm(), across))
}

/// A board so wide and high, mm, in a section that bends along its grain or across it, with the strength that it keeps for
/// years: k_mod / 1.3; across the grain less by as much as it is less stiff.
pub(super) fn board(it: &BoardProperties, width: f64, height: f64, across: bool) -> SectionPart {
    let (modulus, weaker) = if across {
        (it.modulus_across.value, it.modulus_across.value / it.modulus.value)
    } else {
        (it.modulus.value, 1.0)
    };
    SectionPart {
        width,
        height,
        bottom: 0.0,
        modulus,
        strength: it.bending_strength.value * weaker * it.kmod_long.value / 1.3,
        shear_ratio: it.shear_ratio.value,
    }
}
