//! Solid wood that moves across the grain.

use super::context::Context;
use super::report::{Found, Report};
use crate::assembly::{Grain, JoinedBy};
use crate::design::{MaterialKind, Role};
use crate::finding::Severity;
use crate::mechanics::movement::{INDOOR_MOISTURE, need};

/// Moisture of wood as it is worked, %, and the shank of a screw, mm.
const MADE_AT: f64 = 9.0;
const SHANK: f64 = 4.0;
/// Movement that joints take, mm.
const TAKES: f64 = 1.0;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    let (low, high) = INDOOR_MOISTURE;
    for (index, part) in context.assembly.parts.iter().enumerate() {
        let Some(it) = context.properties(part) else { continue };
        if !matches!(it.kind, MaterialKind::Softwood | MaterialKind::Hardwood) {
            continue;
        }
        // Across the grain is the width where the grain has a direction; else nobody knows, and the larger side counts.
        let size = part.finished;
        let across = match part.grain {
            Grain::AlongLength => size.width.mm(),
            Grain::None => size.length.mm().max(size.width.mm()),
        };
        let found = need(across, it.movement_percent.value / 100.0, MADE_AT, low.value, high.value, SHANK);
        if found.grows + found.shrinks <= TAKES {
            continue;
        }
        let held = context.assembly.joints.iter().any(|joint| {
            (joint.edge_part == index || joint.face_part == index)
                && matches!(joint.kind, JoinedBy::Dowels { .. } | JoinedBy::Screws | JoinedBy::Angles)
        });
        let severity = if held || part.role == Role::Worktop { Severity::Warning } else { Severity::Note };
        report.add(
            Found::new(
                severity,
                "wood.moves",
                format!(
                    "{} is solid wood, {} across the grain: between winter and summer it moves by {}",
                    part.name,
                    context.size(across),
                    context.size(found.grows + found.shrinks)
                ),
            )
            .measured(context.size(found.grows + found.shrinks))
            .limit(context.size(TAKES))
            .source(it.movement_percent.source)
            .source(high.source)
            .mend(format!(
                "fix one edge only, screws elsewhere in slots {} long across the grain, {} free at its edges",
                context.size(found.slot),
                context.size(found.grows)
            ))
            .place(part.cuboid)
            .about(part.number.clone())
            .field(context.bay_field(&part.bay))
            .usage((found.grows + found.shrinks) / TAKES / 10.0),
        );
    }
}
