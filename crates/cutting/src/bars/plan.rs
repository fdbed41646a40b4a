//! The way in for bars.

use std::collections::BTreeMap;

use super::dive::{Found, solve};
use super::problem::Problem;
use crate::effort::{Budget, Effort, Watch};
use crate::error::{CuttingError, Fault, MAX_LENGTH, MAX_PIECES};
use crate::goal::{Goal, Saw};
use crate::piece::BarPiece;
use crate::plan::{BarPlan, CutBar, Missing, Status, judge};
use crate::stock::Bar;

/// A cutting plan for lengths from bars. The same question and [`Effort::work`] give the same plan everywhere.
///
/// # Errors
/// Everything that makes the question meaningless: empty or huge lengths, negative prices.
pub fn cut_bars(
    stock: &[Bar],
    pieces: &[BarPiece],
    saw: &Saw,
    goal: &Goal,
    effort: &Effort,
    watch: &dyn Watch,
) -> Result<BarPlan, CuttingError> {
    check_question(stock, pieces, saw)?;
    let mut materials: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (index, piece) in pieces.iter().enumerate().filter(|(_, p)| p.quantity > 0) {
        materials.entry(&piece.material).or_default().push(index);
    }
    let mut plan =
        BarPlan { bars: Vec::new(), missing: Vec::new(), status: Status::ProvenBest, value: 0, bound: 0, work: 0 };
    let mut missing: BTreeMap<usize, u32> = BTreeMap::new();
    let mut impossible = false;
    let share = effort.part_of(materials.len());
    for (material, chosen) in materials {
        let budget = Budget::new(&share, watch);
        let problem = Problem::new(stock, material, pieces, &chosen, saw, goal);
        let Found { bars, missing: lost, bound, impossible: never } = solve(&problem, &budget);
        let mut ready: Vec<std::slice::Iter<'_, usize>> = problem.lengths.iter().map(|l| l.pieces.iter()).collect();
        let mut used: BTreeMap<usize, u32> = BTreeMap::new();
        for pattern in &bars {
            let Some(kind) = problem.kinds.get(pattern.kind) else { continue };
            let Some(bar) = stock.get(kind.bar) else { continue };
            let trim = if bar.raw_ends { saw.trim } else { 0 };
            let mut at = trim;
            let mut cut = Vec::new();
            for &(length, n) in &pattern.counts {
                for _ in 0..n {
                    // A pattern may hold more of a length than is still wanted: the rest is offcut.
                    let Some(&piece) = ready.get_mut(length).and_then(Iterator::next) else { break };
                    cut.push((piece, at));
                    at += pieces.get(piece).map_or(0, |p| p.length) + saw.kerf;
                }
            }
            if cut.is_empty() {
                continue;
            }
            let rest = bar.length - trim - at;
            let copy = used.entry(kind.bar).or_default();
            let offcut = (rest > 0).then_some((at, rest));
            plan.bars.push(CutBar { bar: kind.bar, copy: *copy, pieces: cut, offcut });
            *copy += 1;
            plan.value += i128::from(kind.cost);
        }
        for piece in ready.into_iter().flatten() {
            *missing.entry(*piece).or_default() += 1;
        }
        impossible |= never && lost.iter().any(|&m| m > 0);
        plan.bound += i128::from(bound);
        plan.work += budget.spent();
    }
    plan.bars.sort_by_key(|b| (b.bar, b.copy));
    let short: i128 =
        missing.iter().filter_map(|(&i, &n)| Some(i128::from(pieces.get(i)?.length) * i128::from(n))).sum();
    plan.status = match (missing.is_empty(), impossible) {
        (true, _) => judge(plan.value, plan.bound),
        (false, true) => Status::Impossible { area_short: short },
        (false, false) => Status::Unplaced { area_short: short },
    };
    plan.missing = missing.into_iter().map(|(piece, count)| Missing { piece, count }).collect();
    Ok(plan)
}

fn check_question(stock: &[Bar], pieces: &[BarPiece], saw: &Saw) -> Result<(), CuttingError> {
    let mut faults = Vec::new();
    let sound = |x: i64| (1..=MAX_LENGTH).contains(&x);
    if !(0..=MAX_LENGTH).contains(&saw.kerf) || !(0..=MAX_LENGTH).contains(&saw.trim) {
        faults.push(Fault::Saw { kerf: saw.kerf, trim: saw.trim });
    }
    for bar in stock {
        let name = bar.name.clone();
        if !sound(bar.length) {
            faults.push(Fault::BarLength { name: name.clone(), length: bar.length });
        }
        if bar.cost < 0 {
            faults.push(Fault::Cost { name, cost: bar.cost });
        }
    }
    for piece in pieces.iter().filter(|p| !sound(p.length)) {
        faults.push(Fault::BarLength { name: piece.name.clone(), length: piece.length });
    }
    let count: u64 = pieces.iter().map(|p| u64::from(p.quantity)).sum();
    if count > MAX_PIECES {
        faults.push(Fault::TooMany { count });
    }
    if faults.is_empty() { Ok(()) } else { Err(CuttingError(faults)) }
}
