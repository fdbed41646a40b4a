//! The datum check: does every set-up put its holes where the assembly has them, and if not, is it one board off?

use super::set_up::{JigPlan, Reference, SetUp, boards_at, bored_by};
use crate::assembly::{Assembly, Part};
use crate::finding::{Finding, Severity};
use crate::geometry::Point;
use crate::joinery::hole_in_world;
use crate::length::Length;

/// Stands at the named edges, adds spacers and the block, and compares with the holes of the assembly. A set-up that is
/// off by the thickness of a board at that edge says which board was forgotten or counted twice.
#[must_use]
pub fn check(assembly: &Assembly, plan: &JigPlan) -> Vec<Finding> {
    let mut findings = Vec::new();
    for set_up in &plan.set_ups {
        let Some(part) = assembly.parts.get(set_up.part) else { continue };
        for (is_fence, reference) in [(true, &set_up.fence), (false, &set_up.end)] {
            if let Some(off) = off_by(assembly, plan, set_up, part, is_fence) {
                findings.push(finding(assembly, set_up, part, reference, off));
            }
        }
    }
    findings
}

/// How far the holes come to lie from where they belong, away from the named edge if above zero; none if they are right.
fn off_by(assembly: &Assembly, plan: &JigPlan, set_up: &SetUp, part: &Part, is_fence: bool) -> Option<Length> {
    let block = plan.blocks.get(set_up.block)?;
    let reference = if is_fence { &set_up.fence } else { &set_up.end };
    let inwards = part.world_from_part.inwards(reference.from);
    let edge = if inwards.negative { part.cuboid.max } else { part.cuboid.min };
    let first = *set_up.how.holes.first()?;
    let in_block = if is_fence {
        block.from_fence
    } else {
        let at = *block.holes.get(first.checked_sub(1)?)?;
        if set_up.how.reversed { block.length() - at } else { at }
    };
    let drilled = edge.along(inwards.axis) + (reference.spacer + in_block) * inwards.sign();
    let holes = bored_by(assembly, set_up.part, set_up.joint, Some(set_up.screws));
    let entries: Vec<Point> = holes.map(|hole| hole_in_world(part, hole).entry).collect();
    // The first hole is the one nearest to the edge in the direction of the row.
    let distance = |point: &Point| (point.along(inwards.axis) - edge.along(inwards.axis)) * inwards.sign();
    let wanted = entries.iter().map(distance).min()?;
    let off = (drilled - edge.along(inwards.axis)) * inwards.sign() - wanted;
    (off != Length::ZERO).then_some(off)
}

fn finding(assembly: &Assembly, set_up: &SetUp, part: &Part, reference: &Reference, off: Length) -> Finding {
    let boards = boards_at(assembly, set_up.part, reference.from);
    let board = boards.iter().find(|(_, more)| more.abs() == off.abs());
    let beyond = if off > Length::ZERO { "too far from" } else { "too near to" };
    let amount = off.abs().mm();
    let mut what = format!("a drilling set-up of the {} puts its holes {amount} mm {beyond} its edge", part.name);
    let mut mend = format!("take a spacer of {} mm", (reference.spacer - off).mm());
    let mut about = vec![part.number.clone()];
    if let Some((board, _)) = board {
        what = format!("{what}: just the thickness of the {}", board.name);
        mend = format!("measure from the edge of the {} itself, not from the {}; {mend}", part.name, board.name);
        about.push(board.number.clone());
    }
    Finding {
        severity: Severity::Error,
        check: "joinery.datum",
        what,
        measured: Some(format!("{} mm", reference.spacer.mm())),
        limit: Some(format!("{} mm", (reference.spacer - off).mm())),
        source: Some("own rule: every mark is counted from the part's own datum".to_owned()),
        mend: Some(mend),
        place: Some(part.cuboid),
        about,
        field: None,
    }
}
