//! The search for one material: a first plan by greedy filling, then ever cheaper sets of boards.

use super::choice::{Choice, choices};
use super::crowd::crowded;
use super::dual::{Block, boards_needed};
use super::problem::Problem;
use super::rebuild::Filling;
use super::seamless::seamless;
use super::strips::Strips;
use super::tight::{pile, tight};
use super::tree::Tree;
use crate::effort::Budget;

/// What the search found.
pub(crate) struct Found {
    /// Boards with at least one piece each.
    pub(crate) trees: Vec<Tree>,
    /// Items that found no room.
    pub(crate) out: Vec<usize>,
    /// Proven bound on the objective for placing every item.
    pub(crate) bound: i128,
    /// Whether it is proven that not every item can be placed.
    pub(crate) impossible: bool,
}

/// Area left out, then cost: what is compared between plans.
type Worth = (i128, (i128, i128));

fn cost(problem: &Problem, trees: &[Tree]) -> (i128, i128) {
    trees
        .iter()
        .filter(|t| t.count > 0)
        .filter_map(|t| problem.kinds.get(t.kind))
        .fold((0, 0), |sum, k| (sum.0 + k.cost.0, sum.1 + k.cost.1))
}

fn worth(problem: &Problem, trees: &[Tree], out: &[usize]) -> Worth {
    let left: i128 = out.iter().filter_map(|&i| problem.items.get(i)).map(|i| i.area).sum();
    (left, cost(problem, trees))
}

/// How far the enumeration of board sets goes.
const MOST_CHOICES: usize = 20_000;
const CHOICE_TRIES: usize = 200_000;

/// Searches until the best is proven or the effort is spent.
pub(crate) fn solve(problem: &Problem, budget: &Budget<'_>) -> Found {
    let (mut sets, mut bound) = choices(problem, None, 1, CHOICE_TRIES);
    let room = !sets.is_empty();
    let fewest = fewest(problem);
    bound.0 = bound.0.max(fewest);
    let mut best = first_plan(problem, budget);
    let mut best_worth = worth(problem, &best.0, &best.1);
    if !best.1.is_empty() {
        place_all(problem, &mut best, budget);
        best_worth = worth(problem, &best.0, &best.1);
    }
    budget.note(Some(best_worth.1.0), bound.0);
    if best.1.is_empty() {
        if problem.kinds.len() == 1 {
            fewer(problem, &mut best, bound.0, budget);
        } else {
            sets = choices(problem, Some(best_worth.1), MOST_CHOICES, CHOICE_TRIES).0;
            sets.retain(|s| s.cost.0 >= bound.0);
            if let Some(trees) = seamless(problem, &sets, budget) {
                best = (trees, Vec::new());
                best_worth = worth(problem, &best.0, &best.1);
                sets.retain(|s| s.cost < best_worth.1);
            }
            cheaper(problem, &mut best, &sets, budget);
        }
    }
    let (mut trees, out) = best;
    let impossible = !room || (!out.is_empty() && crowded(problem));
    trees.retain(|t| t.count > 0);
    Found { trees, out, bound: bound.0, impossible }
}

/// A bound on the objective from dual feasible functions: on the number of boards, times the cheapest.
fn fewest(problem: &Problem) -> i128 {
    let zones = problem.kinds.iter().map(|k| k.zones.as_slice());
    let Some(most_zones) = zones.clone().map(<[_]>::len).max() else {
        return 0;
    };
    if most_zones > 1 {
        return 0;
    }
    let width = zones.clone().flatten().map(|z| z.0).max().unwrap_or(1);
    let height = zones.flatten().map(|z| z.1).max().unwrap_or(1);
    let lays = |lay: fn((bool, bool)) -> bool, item: &super::problem::Item| {
        problem.kinds.iter().any(|k| item.lays.get(k.grain).is_some_and(|&l| lay(l)))
    };
    let blocks: Vec<Block> = problem
        .items
        .iter()
        .map(|i| Block { width: i.width, height: i.height, given: lays(|l| l.0, i), turned: lays(|l| l.1, i) })
        .collect();
    let most = (60_000 / blocks.len().max(1)).clamp(4, 60);
    let count = boards_needed(&blocks, width, height, most);
    i128::from(count) * problem.kinds.iter().map(|k| k.cost.0).min().unwrap_or(0)
}

/// The best of several greedy fillings that open boards as they need them.
fn first_plan(problem: &Problem, budget: &Budget<'_>) -> (Vec<Tree>, Vec<usize>) {
    let mut best: Option<(Worth, Vec<Tree>, Vec<usize>)> = None;
    let mut by_price: Vec<usize> = (0..problem.kinds.len()).collect();
    by_price.sort_by(|&a, &b| {
        let price = |k: usize| {
            problem
                .kinds
                .get(k)
                .map_or(f64::INFINITY, |k| (k.cost.0 as f64 + 1e-9 * k.cost.1 as f64) / k.area.max(1) as f64)
        };
        price(a).total_cmp(&price(b)).then(a.cmp(&b))
    });
    let mut preferences = vec![by_price.clone()];
    for &kind in by_price.iter().take(8) {
        let mut list = vec![kind];
        list.extend(by_price.iter().copied().filter(|&k| k != kind));
        preferences.push(list);
    }
    preferences.dedup();
    for preference in &preferences {
        for order in 0..5 {
            if best.is_some() && budget.over() {
                break;
            }
            let mut filling = Filling::new(problem, &[], 1);
            let mut left: Vec<u32> = problem.kinds.iter().map(|k| k.limit).collect();
            filling.rebuild(order, 0.0, budget, |item| {
                let kind = preference.iter().copied().find(|&k| {
                    left.get(k).is_some_and(|&n| n > 0)
                        && problem.kinds.get(k).is_some_and(|kind| problem.fits(item, kind))
                })?;
                if let Some(n) = left.get_mut(kind) {
                    *n -= 1;
                }
                Some(kind)
            });
            let value = worth(problem, &filling.trees, &filling.out);
            if best.as_ref().is_none_or(|b| value < b.0) {
                best = Some((value, filling.trees, filling.out));
            }
        }
    }
    best.map_or_else(|| (Vec::new(), (0..problem.items.len()).collect()), |(_, trees, out)| (trees, out))
}

/// When stock is short: all boards at once, as many pieces as possible.
fn place_all(problem: &Problem, best: &mut (Vec<Tree>, Vec<usize>), budget: &Budget<'_>) {
    let wanted = problem.items.len() as u32;
    let kinds: Vec<usize> = problem
        .kinds
        .iter()
        .enumerate()
        .flat_map(|(k, kind)| std::iter::repeat_n(k, kind.limit.min(wanted) as usize))
        .take(problem.items.len().max(1) * 4)
        .collect();
    let mut best_worth = worth(problem, &best.0, &best.1);
    let mut filling = Filling::new(problem, &kinds, 2);
    filling.rebuild(0, 0.0, budget, |_| None);
    while budget.share() < 0.5 && filling.improve(budget) {
        let value = worth(problem, &filling.trees, &filling.out);
        if value < best_worth {
            best_worth = value;
            *best = (filling.trees.clone(), filling.out.clone());
            if filling.out.is_empty() {
                return;
            }
        }
    }
}

/// One kind of board: one board fewer, again and again.
fn fewer(problem: &Problem, best: &mut (Vec<Tree>, Vec<usize>), bound: i128, budget: &Budget<'_>) {
    let kinds: Vec<usize> = best.0.iter().map(|t| t.kind).collect();
    let mut filling = Filling::new(problem, &kinds, 3);
    filling.trees.clone_from(&best.0);
    filling.out.clear();
    let base = 10_000 * problem.items.len() as u64 + 20_000;
    loop {
        best.0.retain(|t| t.count > 0);
        if cost(problem, &best.0).0 <= bound || best.0.len() <= 1 {
            return;
        }
        filling.trees.retain(|t| t.count > 0);
        let area = |t: &Tree| t.items().filter_map(|i| problem.items.get(i)).map(|i| i.area).sum::<i128>();
        let least = (0..filling.trees.len()).min_by_key(|&i| filling.trees.get(i).map(area));
        filling.drop_board(least.unwrap_or(0));
        let kinds: Vec<usize> = filling.trees.iter().map(|t| t.kind).collect();
        let mut round = 0u32;
        loop {
            // The more pieces, the more lies in strips where they are many.
            if problem.items.len() > LAST
                && let Some(strips) = Strips::new(problem, &kinds, u64::from(round))
                && let Some(trees) = from_strips(problem, strips, base << round.min(30), budget)
            {
                filling.trees = trees;
                filling.out.clear();
                filling.restart();
            } else {
                improve(&mut filling, base << (round + 4).min(40), budget);
            }
            if filling.out.is_empty() {
                break;
            }
            if budget.over() {
                return;
            }
            round += 1;
        }
        best.0.clone_from(&filling.trees);
        budget.note(Some(cost(problem, &best.0).0), bound);
    }
}

/// Several kinds of board: sets cheaper than the best, by bisection with ever longer tries.
fn cheaper(problem: &Problem, best: &mut (Vec<Tree>, Vec<usize>), sets: &[Choice], budget: &Budget<'_>) {
    let mut high = sets.len();
    let mut round = 0u32;
    let base = 10_000 * problem.items.len() as u64 + 20_000;
    let pile = if problem.items.len() > MANY { pile(problem, budget) } else { None };
    while high > 0 && !budget.over() {
        let mut low = 0;
        while low < high {
            let middle = low + (high - low) / 2;
            let Some(set) = sets.get(middle) else { return };
            let seed = u64::from(round) * 7919 + middle as u64;
            let slice = base << round.min(30);
            let strips = match &pile {
                Some(pile) if round % 4 != 2 => Some(tight(problem, &set.kinds(), pile, TIGHT, seed, budget)),
                _ => Strips::new(problem, &set.kinds(), seed),
            };
            let found = if round % 4 != 3
                && let Some(strips) = strips
            {
                from_strips(problem, strips, slice, budget)
            } else {
                let mut filling = Filling::new(problem, &set.kinds(), seed);
                filling.rebuild(round as usize % 5, 0.0, budget, |_| None);
                filling.restart();
                improve(&mut filling, slice, budget).then_some(filling.trees)
            };
            if let Some(trees) = found {
                *best = (trees, Vec::new());
                high = middle;
            } else if budget.over() {
                return;
            } else {
                low = middle + 1;
            }
        }
        round += 1;
    }
}

/// Whether all pieces find room within so much work.
fn improve(filling: &mut Filling<'_>, work: u64, budget: &Budget<'_>) -> bool {
    let until = budget.spent() + work;
    while !filling.out.is_empty() && budget.spent() < until && filling.improve(budget) {}
    filling.out.is_empty()
}

/// Pieces left at which the tries of the last strips begin.
const LAST: usize = 100;

/// Pieces left at which strips without waste end.
const TIGHT: usize = 80;

/// Pieces from which on strips without waste are made of all of them.
const MANY: usize = 150;

/// Pieces that strips leave to be put in one by one.
const SINGLE: usize = 10;

/// From strips with little waste: the last ones are cut again and again in other ways, and what is left over is put in.
fn from_strips(problem: &Problem, mut first: Strips<'_>, work: u64, budget: &Budget<'_>) -> Option<Vec<Tree>> {
    first.run(LAST, budget);
    let until = budget.spent() + work * 4;
    let mut seed = 0;
    while !budget.over() && (seed == 0 || budget.spent() < until) {
        seed += 1;
        budget.spend(20 * problem.items.len() as u64);
        let mut strips = first.again(seed);
        strips.run(SINGLE, budget);
        let mut filling = Filling::new(problem, &[], seed);
        filling.trees = strips.trees();
        filling.out = strips.left;
        filling.rebuild(seed as usize % 5, 0.0, budget, |_| None);
        filling.settle();
        if filling.out.is_empty() || (filling.out.len() <= 3 && improve(&mut filling, work / 32, budget)) {
            return Some(filling.trees);
        }
    }
    None
}
