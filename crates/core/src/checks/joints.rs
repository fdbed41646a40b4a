//! Joints of lying panels against what they carry, pins of loose shelves, and feet.

use super::carry::{Carried, SupportKind};
use super::context::{Context, newtons};
use super::report::{Found, Report};
use crate::assembly::{JoinedBy, Joint, Machining, Part};
use crate::design::Role;
use crate::finding::Severity;
use crate::geometry::Axis;
use crate::joinery::screw_for_edge;
use crate::length::Length;
use crate::mechanics::fasteners::{dowel_load, load_per_dowel};
use crate::mechanics::fittings::FOOT_LOAD;
use crate::mechanics::source::{Source, Sourced};

/// Greatest distance of dowels in a joint, and the first from the ends, mm.
const PITCH: f64 = 200.0;
const FROM_END: f64 = 50.0;

/// What one 5 mm shelf pin should carry, N.
const PIN_LOAD: Sourced = Sourced::new(200.0, Source::memory("5 mm shelf pin in particleboard"));

pub(super) fn check(context: &Context<'_>, carried: &Carried, report: &mut Report) {
    let holes = holes_of_joints(context);
    let mut by_pair: std::collections::BTreeMap<(usize, usize), usize> = std::collections::BTreeMap::new();
    for (i, joint) in context.assembly.joints.iter().enumerate() {
        by_pair.insert((joint.face_part, joint.edge_part), i);
    }
    let joint_at =
        |face: usize, edge: usize| by_pair.get(&(face, edge)).and_then(|&i| Some((i, context.assembly.joints.get(i)?)));
    for lying in &carried.lying {
        let Some(part) = context.assembly.parts.get(lying.part) else { continue };
        for &(upright, load) in &lying.hung {
            if let Some((i, joint)) = joint_at(upright, lying.part) {
                joint_load(context, part, joint, holes.get(i).copied().unwrap_or_default(), load, report);
            }
        }
        for support in &lying.supports {
            let SupportKind::Beside(upright) = support.kind else { continue };
            match joint_at(upright, lying.part) {
                Some((i, joint)) if joint.kind != JoinedBy::Loose => {
                    joint_load(
                        context,
                        part,
                        joint,
                        holes.get(i).copied().unwrap_or_default(),
                        support.reaction,
                        report,
                    );
                }
                _ if part.role == Role::Shelf => pins(context, part, support.reaction, report),
                _ => {}
            }
        }
    }
    feet(context, carried, report);
}

/// For each joint the number of holes in edges and their least depth, mm.
fn holes_of_joints(context: &Context<'_>) -> Vec<(usize, f64)> {
    let mut holes = vec![(0, f64::INFINITY); context.assembly.joints.len()];
    for part in &context.assembly.parts {
        for machining in &part.machining {
            let Machining::Hole(hole) = machining else { continue };
            let edge = matches!(hole.face, crate::assembly::PartFace::Edge(_));
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
    joint: &Joint,
    holes: (usize, f64),
    reaction: f64,
    report: &mut Report,
) {
    let length = [Axis::X, Axis::Y, Axis::Z].map(|axis| joint.contact.size(axis).mm()).into_iter().fold(0.0, f64::max);
    let (diameter, embedded, what) = match joint.kind {
        JoinedBy::Dowels { diameter, length } => {
            // Two thirds of the length in the edge (trade guideline), less the air at the bottom of the hole.
            let drilled = if holes.1.is_finite() { holes.1 - 1.0 } else { length.mm() * 2.0 / 3.0 };
            (diameter.mm(), drilled, "dowel")
        }
        JoinedBy::Screws => {
            let face = context.assembly.parts.get(joint.face_part).map_or(Length::ZERO, thickness);
            let depth = part.cuboid.size(joint.direction.axis);
            // Where no screw is short enough the joinery check says so.
            let Some(screw) = screw_for_edge(face, depth) else { return };
            let drilled = if holes.1.is_finite() { holes.1 } else { screw.pilot_depth.mm() };
            (screw.diameter.mm(), drilled, "screw")
        }
        JoinedBy::Housing { .. } | JoinedBy::Angles | JoinedBy::Loose => return,
    };
    let Some(material) = context.properties(part) else { return };
    let planned = (((length - 2.0 * FROM_END) / PITCH).ceil().max(0.0) as usize + 1).max(2);
    let count = if holes.0 > 0 { holes.0 } else { planned };
    let places: Vec<f64> = (0..count).map(|i| i as f64).collect();
    let each = load_per_dowel(reaction, 0.0, &places);
    let limit = dowel_load(diameter, embedded, material.internal_bond.value);
    if each > limit.value {
        let need = (reaction.abs() / limit.value).ceil();
        let name = context.assembly.parts.get(joint.face_part).map_or("", |it| it.name.as_str());
        report.add(
            Found::new(
                Severity::Warning,
                if what == "dowel" { "joint.dowels" } else { "joint.screws" },
                format!("{count} {what}s carry {} at the {name} end of {}", newtons(reaction), part.name),
            )
            .measured(format!("{} each", newtons(each)))
            .limit(format!("{} each", newtons(limit.value)))
            .source(limit.source)
            .source(material.internal_bond.source)
            .mend(if part.role == Role::Bottom {
                format!("{need:.0} {what}s, or feet whose plates reach under the sides")
            } else {
                format!("{need:.0} {what}s, or a strip or groove that carries the board")
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

/// Feet: the load of each place along the wall, shared by its rows as the rows stand.
fn feet(context: &Context<'_>, carried: &Carried, report: &mut Report) {
    let Some(&(at, load)) = carried.feet.iter().max_by(|a, b| a.1.total_cmp(&b.1)) else { return };
    let rows = context
        .assembly
        .fittings
        .iter()
        .filter(|it| {
            let (low, high) = it.cuboid.range(Axis::X);
            it.cuboid.min.y <= context.floor() && ((low + high).mm() / 2.0 - at).abs() < 1.0
        })
        .map(|it| it.count as usize)
        .sum::<usize>()
        .max(1);
    // The front row may carry up to two thirds where loads stand near the front.
    let each = if rows == 1 { load } else { load * 2.0 / 3.0 };
    if each > FOOT_LOAD.value {
        report.add(
            Found::new(Severity::Warning, "foot.load", format!("one foot carries about {}", newtons(each)))
                .measured(newtons(each))
                .limit(newtons(FOOT_LOAD.value))
                .source(FOOT_LOAD.source)
                .mend("more feet under the uprights, or let the sides stand on the floor")
                .usage(each / FOOT_LOAD.value),
        );
    }
}
