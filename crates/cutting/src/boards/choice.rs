//! Which boards to cut into: sets of boards in the order of their cost.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::problem::{Kind, Problem};

/// A set of boards: how many of each kind.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Choice {
    pub(crate) cost: (i128, i128),
    pub(crate) counts: Vec<u32>,
}

impl Choice {
    /// What its boards have together, in reduced units.
    pub(crate) fn area(&self, problem: &Problem) -> i128 {
        self.counts.iter().zip(&problem.kinds).map(|(&n, kind)| i128::from(n) * kind.area).sum()
    }

    /// The kinds, one entry a board.
    pub(crate) fn kinds(&self) -> Vec<usize> {
        self.counts.iter().enumerate().flat_map(|(kind, &n)| std::iter::repeat_n(kind, n as usize)).collect()
    }
}

/// The sets of boards with room enough by area, cheapest first, all cheaper than `below`; and a proven bound on the cost.
/// At most `most` sets; the search for them ends after `tries` steps, and the bound is then that of the step reached. Where it
/// ends before it has found any, all boards together are the one set, if they have room enough: none means that all are too few.
pub(crate) fn choices(
    problem: &Problem,
    below: Option<(i128, i128)>,
    most: usize,
    tries: usize,
) -> (Vec<Choice>, (i128, i128)) {
    let need: i128 = problem.items.iter().map(|i| i.area).sum();
    let total = problem.items.len() as u32;
    let limit = |kind: &Kind| kind.limit.min(total);
    let mut heap = BinaryHeap::new();
    heap.push(Reverse(((0, 0), 0usize, 0i128, vec![0u32; problem.kinds.len()])));
    let mut found = Vec::new();
    let mut bound = None;
    let mut steps = 0;
    while let Some(Reverse((cost, from, area, counts))) = heap.pop() {
        steps += 1;
        if below.is_some_and(|b| cost >= b) {
            break;
        }
        if area >= need {
            bound.get_or_insert(cost);
            found.push(Choice { cost, counts: counts.clone() });
            if found.len() >= most {
                break;
            }
        }
        if steps > tries {
            bound.get_or_insert(cost);
            if found.is_empty() {
                let all = everything(problem, limit);
                found.extend(Some(all).filter(|it| it.area(problem) >= need && below.is_none_or(|b| it.cost < b)));
            }
            break;
        }
        for (index, kind) in problem.kinds.iter().enumerate().skip(from) {
            let mut more = counts.clone();
            let Some(count) = more.get_mut(index) else {
                continue;
            };
            if *count >= limit(kind) {
                continue;
            }
            *count += 1;
            heap.push(Reverse(((cost.0 + kind.cost.0, cost.1 + kind.cost.1), index, area + kind.area, more)));
        }
    }
    (found, bound.or(below).unwrap_or((0, 0)))
}

/// All boards together, of each kind as many as `limit` says.
fn everything(problem: &Problem, limit: impl Fn(&Kind) -> u32) -> Choice {
    let counts: Vec<u32> = problem.kinds.iter().map(limit).collect();
    let cost = counts.iter().zip(&problem.kinds).fold((0, 0), |sum, (&n, kind)| {
        let n = i128::from(n);
        (sum.0 + n * kind.cost.0, sum.1 + n * kind.cost.1)
    });
    Choice { cost, counts }
}
