//! The way in: checks the question, parts it by material, searches, and puts the answer together.

use std::collections::BTreeMap;

use super::assemble::assemble;
use super::kept::kept_first;
use super::problem::Problem;
use super::solve::{Found, solve};
use super::tidy::tidy;
use crate::effort::{Budget, Effort, Watch};
use crate::error::{CuttingError, Fault, MAX_LENGTH, MAX_PIECES};
use crate::goal::{Goal, Saw};
use crate::piece::Piece;
use crate::plan::{CutBoard, Missing, Plan, Status, judge};
use crate::size::Size;
use crate::stock::Board;

/// A cutting plan for `pieces` from `stock`. The same question and [`Effort::work`] give the same plan everywhere.
///
/// When the stock does not suffice, the plan says what is missing; that is not an error.
///
/// # Errors
/// Everything that makes the question meaningless: empty or huge sizes, zones outside a board, negative prices.
pub fn cut(
    stock: &[Board],
    pieces: &[Piece],
    saw: &Saw,
    goal: &Goal,
    effort: &Effort,
    watch: &dyn Watch,
) -> Result<Plan, CuttingError> {
    check_question(stock, pieces, saw)?;
    let mut materials: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (index, piece) in pieces.iter().enumerate().filter(|(_, p)| p.quantity > 0) {
        materials.entry(&piece.material).or_default().push(index);
    }
    let mut sum = Sum::default();
    let mut left = materials.len() as u32;
    let mut work = effort.work;
    let started = Budget::new(effort, watch);
    for (material, chosen) in materials {
        let share = Effort {
            work: if work == u64::MAX { work } else { work / u64::from(left.max(1)) },
            time: effort.time.map(|t| t.mul_f64((1.0 - started.share()).max(0.0)) / left.max(1)),
        };
        // A small part is kept for the wishes after the objective.
        let main = Effort {
            work: if share.work == u64::MAX { u64::MAX } else { share.work / 10 * 9 },
            time: share.time.map(|t| t.mul_f64(0.94)),
        };
        let rest = Effort { work: (share.work / 10).min(3_000_000), time: share.time.map(|t| t.mul_f64(0.06)) };
        let budget = Budget::new(&main, watch);
        let boards: Vec<usize> =
            stock.iter().enumerate().filter(|(_, b)| b.material == material).map(|(i, _)| i).collect();
        sum.material(stock, pieces, &boards, &chosen, saw, goal, &budget, &rest, watch);
        if work != u64::MAX {
            work = work.saturating_sub(budget.spent());
        }
        left -= 1;
    }
    Ok(sum.plan())
}

/// The answers for all materials, added up.
#[derive(Default)]
struct Sum {
    boards: Vec<CutBoard>,
    missing: BTreeMap<usize, u32>,
    value: i128,
    bound: i128,
    work: u64,
    short: i128,
    impossible: bool,
}

impl Sum {
    #[allow(clippy::too_many_arguments, reason = "the whole question, once")]
    fn material(
        &mut self,
        stock: &[Board],
        pieces: &[Piece],
        boards: &[usize],
        chosen: &[usize],
        saw: &Saw,
        goal: &Goal,
        budget: &Budget<'_>,
        rest: &Effort,
        watch: &dyn Watch,
    ) {
        let mut problem = Problem::new(stock, boards, pieces, chosen, saw, goal);
        let hopeless: Vec<usize> = (0..problem.items.len())
            .filter(|&i| problem.items.get(i).is_some_and(|item| !problem.kinds.iter().any(|k| problem.fits(item, k))))
            .collect();
        if !hopeless.is_empty() {
            self.impossible = true;
            for &i in &hopeless {
                if let Some(item) = problem.items.get(i) {
                    item.pieces().for_each(|piece| self.lose(pieces, piece));
                }
            }
            problem.leave_out(&hopeless);
        }
        if problem.items.is_empty() {
            return;
        }
        let Found { trees, out, bound, impossible } = solve(&problem, budget);
        for &i in &out {
            if let Some(item) = problem.items.get(i) {
                item.pieces().for_each(|piece| self.lose(pieces, piece));
            }
        }
        self.impossible |= impossible && !out.is_empty();
        let half = Effort { work: rest.work / 2, time: rest.time.map(|it| it / 2) };
        let mut trees = trees;
        if out.is_empty() && goal.useful != Size::default() {
            let first = Budget::new(&half, watch);
            trees = kept_first(&problem, trees, goal.useful, &first);
            let left = rest.work - first.spent().min(half.work);
            let after = Budget::new(&Effort { work: left, time: rest.time.map(|it| it / 2) }, watch);
            trees = tidy(&problem, trees, goal.useful, &after);
            self.work += first.spent() + after.spent();
        }
        self.bound += bound;
        self.work += budget.spent();
        let mut copies: BTreeMap<usize, u32> = BTreeMap::new();
        let mut used: BTreeMap<usize, u32> = BTreeMap::new();
        let mut order: Vec<_> = trees.iter().collect();
        order.sort_by_key(|t| t.kind);
        for tree in order {
            let Some(kind) = problem.kinds.get(tree.kind) else {
                continue;
            };
            let copy = used.entry(kind.board).or_default();
            let number = |piece: usize| {
                let next = copies.entry(piece).or_default();
                *next += 1;
                *next - 1
            };
            self.boards.extend(assemble(&problem, kind, &tree.slices(), pieces, stock, goal, *copy, number));
            *copy += 1;
            self.value += kind.cost.0;
        }
    }

    fn lose(&mut self, pieces: &[Piece], piece: usize) {
        *self.missing.entry(piece).or_default() += 1;
        self.short += pieces.get(piece).map_or(0, |p| p.size.area());
    }

    fn plan(mut self) -> Plan {
        self.boards.sort_by_key(|b| (b.board, b.copy));
        let status = if self.missing.is_empty() {
            judge(self.value, self.bound)
        } else if self.impossible {
            Status::Impossible { area_short: self.short }
        } else {
            Status::Unplaced { area_short: self.short }
        };
        let missing = self.missing.into_iter().map(|(piece, count)| Missing { piece, count }).collect();
        Plan { boards: self.boards, missing, status, value: self.value, bound: self.bound, work: self.work }
    }
}

/// Everything that is wrong with the question.
pub(crate) fn check_question(stock: &[Board], pieces: &[Piece], saw: &Saw) -> Result<(), CuttingError> {
    let mut faults = Vec::new();
    let sound = |s: Size| (1..=MAX_LENGTH).contains(&s.width) && (1..=MAX_LENGTH).contains(&s.height);
    if !(0..=MAX_LENGTH).contains(&saw.kerf) || !(0..=MAX_LENGTH).contains(&saw.trim) {
        faults.push(Fault::Saw { kerf: saw.kerf, trim: saw.trim });
    }
    for board in stock {
        let name = board.name.clone();
        if !sound(board.size) {
            faults.push(Fault::BoardSize { name: name.clone(), width: board.size.width, height: board.size.height });
        }
        for (index, zone) in board.zones.iter().enumerate() {
            let inside = sound(zone.size)
                && zone.x >= 0
                && zone.y >= 0
                && zone.x <= board.size.width - zone.size.width
                && zone.y <= board.size.height - zone.size.height;
            if !inside {
                faults.push(Fault::Zone { name: name.clone(), number: index + 1 });
            }
        }
        if board.cost < 0 {
            faults.push(Fault::Cost { name, cost: board.cost });
        }
    }
    for piece in pieces {
        if !sound(piece.size) {
            let (width, height) = (piece.size.width, piece.size.height);
            faults.push(Fault::PieceSize { name: piece.name.clone(), width, height });
        }
    }
    let count: u64 = pieces.iter().map(|p| u64::from(p.quantity)).sum();
    if count > MAX_PIECES {
        faults.push(Fault::TooMany { count });
    }
    let mut groups: BTreeMap<&str, &Piece> = BTreeMap::new();
    for piece in pieces {
        if let Some(group) = &piece.group {
            let first = *groups.entry(group).or_insert(piece);
            if first.material != piece.material {
                let (one, other) = (first.material.clone(), piece.material.clone());
                faults.push(Fault::GroupMaterial { group: group.clone(), one, other });
            }
            if first.row != piece.row || (first.row.is_some() && first.grain != piece.grain) {
                faults.push(Fault::Row { group: group.clone() });
            }
        }
    }
    if faults.is_empty() { Ok(()) } else { Err(CuttingError(faults)) }
}
