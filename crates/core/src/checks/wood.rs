//! Solid wood that moves across the grain.

use std::collections::BTreeMap;

use super::context::Context;
use super::report::{Found, Report};
use crate::assembly::{Grain, JoinedBy, Part};
use crate::design::{MaterialKind, Role};
use crate::finding::Severity;
use crate::geometry::Axis;
use crate::mechanics::movement::{INDOOR_MOISTURE, MovementNeed, need};

/// Moisture of wood as it is worked, %, and the shank of a screw, mm.
const MADE_AT: f64 = 9.0;
const SHANK: f64 = 4.0;
/// Movement that joints take, mm.
const TAKES: f64 = 1.0;

/// A part that moves more than joints take.
struct Moves<'a> {
    part: &'a Part,
    across: f64,
    need: MovementNeed,
}

impl Moves<'_> {
    fn by(&self) -> f64 {
        self.need.grows + self.need.shrinks
    }
}

/// Says of each material what moves most, apart for what is held by something that does not move along and for what is not.
pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    let (low, high) = INDOOR_MOISTURE;
    let mut found: BTreeMap<(Severity, &str), Vec<Moves<'_>>> = BTreeMap::new();
    for (index, part) in context.assembly.parts.iter().enumerate() {
        if !is_solid(context, part) {
            continue;
        }
        let Some(it) = context.properties(part) else { continue };
        // Across the grain is the width where the grain has a direction; else nobody knows, and the larger side counts.
        let size = part.finished;
        let across = match part.grain {
            Grain::AlongLength => size.width.mm(),
            Grain::None => size.length.mm().max(size.width.mm()),
        };
        let need = need(across, it.movement_percent.value / 100.0, MADE_AT, low.value, high.value, SHANK);
        let moves = Moves { part, across, need };
        if moves.by() > TAKES {
            let severity = if is_held(context, index) { Severity::Warning } else { Severity::Note };
            found.entry((severity, part.material.as_str())).or_default().push(moves);
        }
    }
    // The worst first.
    for ((severity, material), mut all) in found.into_iter().rev() {
        all.sort_by(|a, b| b.by().total_cmp(&a.by()));
        tell(context, severity, material, &all, report);
    }
}

fn is_solid(context: &Context<'_>, part: &Part) -> bool {
    context.properties(part).is_some_and(|it| matches!(it.kind, MaterialKind::Softwood | MaterialKind::Hardwood))
}

/// The way that a part moves in the world; none if it does not, or if nobody knows.
fn way(context: &Context<'_>, index: usize) -> Option<Axis> {
    let part = context.assembly.parts.get(index)?;
    (is_solid(context, part) && part.grain == Grain::AlongLength).then_some(part.world_from_part.width.axis)
}

/// Whether a part is joined to one that does not move along with it, or lies on the carcass as its worktop.
fn is_held(context: &Context<'_>, index: usize) -> bool {
    let own = way(context, index);
    let worktop = context.assembly.parts.get(index).is_some_and(|part| part.role == Role::Worktop);
    worktop
        || context.assembly.joints.iter().any(|joint| {
            let partner = match (joint.edge_part == index, joint.face_part == index) {
                (true, _) => joint.face_part,
                (_, true) => joint.edge_part,
                _ => return false,
            };
            matches!(
                joint.kind,
                JoinedBy::Dowels { .. } | JoinedBy::Rebate { .. } | JoinedBy::Screws | JoinedBy::Angles
            ) && (own.is_none() || way(context, partner) != own)
        })
}

fn tell(context: &Context<'_>, severity: Severity, material: &str, all: &[Moves<'_>], report: &mut Report) {
    let Some((worst, others)) = all.split_first() else { return };
    let Some(it) = context.properties(worst.part) else { return };
    let mut what = format!(
        "{} is solid wood, {} across the grain: between winter and summer it moves by {}",
        worst.part.name,
        context.size(worst.across),
        context.size(worst.by())
    );
    match others.len() {
        0 => {}
        1 => what.push_str(&format!("; another part of {material} moves less")),
        count => what.push_str(&format!("; {count} other parts of {material} move less")),
    }
    let mut finding = Found::new(severity, "wood.moves", what)
        .measured(context.size(worst.by()))
        .limit(context.size(TAKES))
        .source(it.movement_percent.source)
        .source(INDOOR_MOISTURE.1.source)
        .mend(format!(
            "fix one edge only, screws elsewhere in slots {} long across the grain, {} free at its edges",
            context.size(worst.need.slot),
            context.size(worst.need.grows)
        ))
        .place(worst.part.cuboid)
        .field(context.bay_field(&worst.part.bay))
        .usage(worst.by() / TAKES / 10.0);
    for moves in all {
        finding = finding.about(moves.part.number.clone());
    }
    report.add(finding);
}
