//! Joints of lying panels against what they carry, pins of loose shelves, and feet.

use super::carry::{Carried, SupportKind};
use super::context::{Context, newtons};
use super::options::CheckOptions;
use super::report::{Found, Report};
use crate::assembly::{Assembly, JoinedBy, Joint, Machining, Part, StandPiece};
use crate::design::{Resolved, Role, Stand};
use crate::finding::Severity;
use crate::fittings::usual_foot;
use crate::geometry::Axis;
use crate::joinery::{WALL_UNDER, at_least, dowel_depths, places, screw_for_edge};
use crate::layout::Layout;
use crate::length::Length;
use crate::mechanics::GRAVITY;
use crate::mechanics::fasteners::{dowel_load, load_per_dowel};
use crate::mechanics::materials::BoardProperties;
use crate::mechanics::source::{Source, Sourced};
use crate::text::FieldPath;
use crate::unit::DecimalMark;

/// What one 5 mm shelf pin should carry, N.
const PIN_LOAD: Sourced = Sourced::new(200.0, Source::memory("5 mm shelf pin in particleboard"));

pub(super) fn check(context: &Context<'_>, carried: &Carried, report: &mut Report) {
    let holes = holes_of_joints(context);
    for load in loads(context, carried) {
        match load {
            Load::Joint(joint, part, force) => {
                let drilled = holes.get(joint).copied().unwrap_or_default();
                joint_load(context, part, joint, drilled, force, report);
            }
            Load::Pins(part, force) => pins(context, part, force, report),
        }
    }
    feet(context, carried, report);
}

/// What hangs on something: a part on the joint of this index, or a loose shelf on pins; with the force, N.
enum Load<'a> {
    Joint(usize, &'a Part, f64),
    Pins(&'a Part, f64),
}

/// What lying panels hang on joints and pins.
fn loads<'a>(context: &Context<'a>, carried: &Carried) -> Vec<Load<'a>> {
    let mut by_pair: std::collections::BTreeMap<(usize, usize), usize> = std::collections::BTreeMap::new();
    for (i, joint) in context.assembly.joints.iter().enumerate() {
        by_pair.insert((joint.face_part, joint.edge_part), i);
    }
    let joint_at =
        |face: usize, edge: usize| by_pair.get(&(face, edge)).and_then(|&i| Some((i, context.assembly.joints.get(i)?)));
    let mut loads = Vec::new();
    for lying in &carried.lying {
        let Some(part) = context.assembly.parts.get(lying.part) else { continue };
        for &(upright, load) in &lying.hung {
            if let Some((i, _)) = joint_at(upright, lying.part) {
                loads.push(Load::Joint(i, part, load));
            }
        }
        for support in &lying.supports {
            let SupportKind::Beside(upright) = support.kind else { continue };
            match joint_at(upright, lying.part) {
                Some((i, joint)) if joint.kind != JoinedBy::Loose => {
                    loads.push(Load::Joint(i, part, support.reaction));
                }
                _ if part.role == Role::Shelf => loads.push(Load::Pins(part, support.reaction)),
                _ => {}
            }
        }
    }
    loads
}

/// For each joint of an assembly, whose panels carry so much, the least number of dowels or screws that carry what hangs on
/// it; nothing where nothing hangs on it, or where it is joined otherwise.
#[must_use]
pub fn fixings_needed(design: &Resolved, layout: &Layout, assembly: &Assembly, carried: &Carried) -> Vec<usize> {
    let options = CheckOptions::of(design);
    let context = Context::new(design, layout, assembly, &options);
    let mut needed = vec![0; assembly.joints.len()];
    for load in loads(&context, carried) {
        let Load::Joint(joint, part, force) = load else { continue };
        let Some(fixing) = assembly.joints.get(joint).and_then(|it| fixing(&context, part, it, f64::INFINITY)) else {
            continue;
        };
        let count = (force.abs() / fixing.limit.value - 1e-9).ceil().clamp(0.0, 1e6) as usize;
        if let Some(it) = needed.get_mut(joint) {
            *it = count.max(*it);
        }
    }
    needed
}

/// One dowel or screw of a joint.
struct Fixing<'a> {
    /// What it is called, and the check of its load.
    what: (&'static str, &'static str),
    /// What it should carry, N.
    limit: Sourced,
    diameter: Length,
    material: &'a BoardProperties,
}

/// The dowels or screws by which a part hangs on a joint; `depth` of their holes in its edge, mm, infinite where they are
/// not drilled yet. None where the joint is made otherwise, or no screw is short enough: the joinery check says so.
fn fixing<'a>(context: &'a Context<'_>, part: &Part, joint: &Joint, depth: f64) -> Option<Fixing<'a>> {
    let face = context.assembly.parts.get(joint.face_part).map_or(Length::ZERO, thickness);
    let edge = part.cuboid.size(joint.direction.axis);
    let or_drilled = |planned: Length| if depth.is_finite() { depth } else { planned.mm() };
    let (diameter, embedded, what) = match joint.kind {
        JoinedBy::Dowels { diameter, length, .. } => {
            // Less the air at the bottom of the hole.
            let planned = dowel_depths(length, face).1.min(edge - WALL_UNDER);
            (diameter, or_drilled(planned) - 1.0, ("dowel", "joint.dowels"))
        }
        JoinedBy::Screws => {
            let screw = screw_for_edge(face, edge)?;
            (screw.diameter, or_drilled(screw.pilot_depth), ("screw", "joint.screws"))
        }
        JoinedBy::Housing { .. } | JoinedBy::Rebate { .. } | JoinedBy::Angles | JoinedBy::Loose => return None,
    };
    let material = context.properties(part)?;
    let limit = dowel_load(diameter.mm(), embedded, material.internal_bond.value);
    Some(Fixing { what, limit, diameter, material }).filter(|it| it.limit.value > 0.0)
}

/// For each joint the number of holes in edges and their least depth, mm.
fn holes_of_joints(context: &Context<'_>) -> Vec<(usize, f64)> {
    let mut holes = vec![(0, f64::INFINITY); context.assembly.joints.len()];
    for part in &context.assembly.parts {
        for machining in &part.machining {
            let Machining::Hole(hole) = machining else { continue };
            let edge = matches!(hole.face, crate::assembly::PartFace::Edge(_));
            let dowelled = |i: usize| {
                let joint = context.assembly.joints.get(i);
                joint.is_some_and(|it| matches!(it.kind, JoinedBy::Dowels { .. }))
            };
            // Screws that only press a dowelled joint are not reckoned with.
            if hole.joint.is_some_and(dowelled) && hole.is_for_screw() {
                continue;
            }
            if let (true, Some(it)) = (edge, hole.joint.and_then(|i| holes.get_mut(i))) {
                it.0 += 1;
                it.1 = it.1.min(hole.depth.map_or(f64::INFINITY, crate::length::Length::mm));
            }
        }
    }
    holes
}

const fn thickness(part: &Part) -> Length {
    part.finished.thickness
}

fn joint_load(
    context: &Context<'_>,
    part: &Part,
    index: usize,
    holes: (usize, f64),
    reaction: f64,
    report: &mut Report,
) {
    let Some(joint) = context.assembly.joints.get(index) else { return };
    let Some(Fixing { what: (what, check), limit, diameter, material }) = fixing(context, part, joint, holes.1) else {
        return;
    };
    let length = Axis::ALL.map(|axis| joint.contact.size(axis)).into_iter().max().unwrap_or_default();
    let count = if holes.0 > 0 { holes.0 } else { places(length, diameter).len().max(1) };
    let spread: Vec<f64> = (0..count).map(|i| i as f64).collect();
    let each = load_per_dowel(reaction, 0.0, &spread);
    if each > limit.value * (1.0 + 1e-9) {
        let need = (reaction.abs() / limit.value).ceil();
        let name = context.assembly.parts.get(joint.face_part).map_or("", |it| it.name.as_str());
        // The rule has laid as many as there is room for at the shortest pitch.
        let is_full = at_least(length, diameter, usize::MAX).len() <= count;
        report.add(
            Found::new(
                Severity::Warning,
                check,
                format!("{count} {what}s carry {} where {} joins {name}", newtons(reaction), part.name),
            )
            .measured(format!("{} each", newtons(each)))
            .limit(format!("{} each", newtons(limit.value)))
            .source(limit.source)
            .source(material.internal_bond.source)
            .mend(match (part.role == Role::Bottom, is_full) {
                (true, false) => format!("{need:.0} {what}s, or feet whose plates reach under the sides"),
                (true, true) => "feet whose plates reach under the sides: there is no room for more".to_owned(),
                (false, false) => format!("{need:.0} {what}s, or a strip or groove that carries the board"),
                (false, true) => "a strip or groove that carries the board: there is no room for more".to_owned(),
            })
            .place(joint.contact)
            .about(part.number.clone())
            .field(context.bay_field(&part.bay))
            .usage(each / limit.value),
        );
    }
}

fn pins(context: &Context<'_>, part: &Part, reaction: f64, report: &mut Report) {
    // Two pins at each end.
    let each = reaction / 2.0;
    if each > PIN_LOAD.value {
        report.add(
            Found::new(
                Severity::Warning,
                "joint.pins",
                format!("the pins under {} carry {} each", part.name, newtons(each)),
            )
            .measured(newtons(each))
            .limit(newtons(PIN_LOAD.value))
            .source(PIN_LOAD.source)
            .mend("a fixed shelf, strips under its ends, or three pins at each end")
            .place(part.cuboid)
            .about(part.number.clone())
            .field(context.bay_field(&part.bay))
            .usage(each / PIN_LOAD.value),
        );
    }
}

/// Feet or castors: the load of each place along the wall, shared by its rows as the rows stand. One that others lift off is
/// never said to carry more than all of them together.
fn feet(context: &Context<'_>, carried: &Carried, report: &mut Report) {
    let all: f64 = carried.feet.iter().map(|it| it.1).sum();
    let Some(each) = carried.feet.iter().map(|&(_, load, most)| load.min(all) * most).max_by(f64::total_cmp) else {
        return;
    };
    let stand = &context.design.carcass.stand;
    let (piece, height) = match *stand {
        Stand::Floor => return,
        Stand::Castors { height, .. } => (StandPiece::Castor, height),
        Stand::Feet { height, .. } | Stand::Plinth { height, .. } => (StandPiece::Foot, height),
    };
    let Some(usual) = usual_foot(piece) else { return };
    let measured = newtons(each);
    let given = stand.load_kg().map(|it| (it * GRAVITY, Source::OWN));
    let (limit, source) = given.unwrap_or_else(|| (usual.load_n.0, usual.load_n.source()));
    let (low, high) = usual.height.0;
    if given.is_none() && piece == StandPiece::Castor && !(low..=high).contains(&height.mm()) {
        // A castor carries by the size of its wheel: nothing is known of other sizes than the usual one.
        let height = context.design.unit.format_named(height, DecimalMark::Point);
        let what = format!("one castor carries about {measured}; what castors {height} high carry is not known here");
        report.add(
            Found::new(Severity::Note, "foot.load", what)
                .measured(measured)
                .mend("look it up in the sheet of their maker before they are bought, and write it as `load_kg` of the stand")
                .field(at_stand())
                .usage(each / limit),
        );
    } else if each > limit {
        let (what, mend) = match piece {
            StandPiece::Castor => {
                ("castor", "stronger castors, their load as `load_kg` of the stand, or more of them under the uprights")
            }
            _ => ("foot", "more feet under the uprights, or let the sides stand on the floor"),
        };
        report.add(
            Found::new(Severity::Warning, "foot.load", format!("one {what} carries about {measured}"))
                .measured(measured)
                .limit(newtons(limit))
                .source(source)
                .mend(mend)
                .field(at_stand())
                .usage(each / limit),
        );
    }
}

/// Where a design says what it stands on.
fn at_stand() -> Option<FieldPath> {
    Some(FieldPath::root().field("carcass").field("stand"))
}
