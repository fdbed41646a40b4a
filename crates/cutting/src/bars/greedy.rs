//! Whole plans at once: best fit with falling lengths, and filling bar after bar as full as possible.

use std::collections::BTreeSet;

use super::knapsack::{Thing, branch};
use super::problem::{Pattern, Problem};
use crate::effort::Budget;
use crate::random::Random;

/// Random numbers that decide between equals are below this.
const RANDOM: i64 = 64;

/// Bars chosen one after the other, each filled as full as possible around the longest length left
/// (minimum bin slack: Gupta & Ho, Prod. Plan. Control 10 (1999) 598-603). Fails when stock is short. With random numbers, these
/// decide between contents that fill a bar equally.
pub(crate) fn fullest(
    problem: &Problem,
    demands: &[u32],
    limits: &[u32],
    nodes: u64,
    mut random: Option<&mut Random>,
    budget: &Budget<'_>,
) -> Option<Vec<Pattern>> {
    // Many times more than all that is added at random.
    let count = demands.iter().map(|&d| i64::from(d)).sum::<i64>().max(1);
    let scale = if random.is_some() { RANDOM * count } else { 1 };
    let longest = problem.kinds.iter().map(|k| k.length).max().unwrap_or(0);
    if longest.checked_mul(scale).is_none_or(|most| most > i64::MAX / 2) {
        return None;
    }
    let mut left = demands.to_vec();
    let mut stock = limits.to_vec();
    let mut plan = Vec::new();
    while let Some(first) = left.iter().position(|&n| n > 0) {
        let longest = problem.lengths.get(first)?.length;
        let mut best: Option<(f64, Pattern)> = None;
        for (kind, k) in problem.kinds.iter().enumerate() {
            if stock.get(kind).is_none_or(|&n| n == 0) || k.length < longest {
                continue;
            }
            let things: Vec<Thing> = problem
                .lengths
                .iter()
                .zip(&left)
                .enumerate()
                .filter(|(_, (_, n))| **n > 0)
                .map(|(index, (l, &n))| Thing {
                    length: l.length,
                    value: l.length * scale + random.as_mut().map_or(0, |r| r.below(RANDOM as usize) as i64),
                    copies: n - u32::from(index == first),
                    index,
                })
                .collect();
            let content = branch(&things, k.length - longest, nodes, budget);
            let mut counts = content.counts;
            match counts.iter_mut().find(|c| c.0 == first) {
                Some(c) => c.1 += 1,
                None => counts.push((first, 1)),
            }
            counts.sort_unstable();
            let price = (k.cost as f64 + 1e-9 * k.length as f64) / (content.value / scale + longest) as f64;
            if best.as_ref().is_none_or(|b| price < b.0) {
                best = Some((price, Pattern { kind, counts }));
            }
        }
        let (_, pattern) = best?;
        take(&pattern, &mut left, &mut stock);
        plan.push(pattern);
    }
    Some(plan)
}

/// Takes a pattern's content out of demands and stock.
pub(crate) fn take(pattern: &Pattern, demands: &mut [u32], limits: &mut [u32]) {
    for &(index, n) in &pattern.counts {
        if let Some(d) = demands.get_mut(index) {
            *d = d.saturating_sub(n);
        }
    }
    if let Some(n) = limits.get_mut(pattern.kind)
        && *n != u32::MAX
    {
        *n = n.saturating_sub(1);
    }
}

/// Best fit with falling lengths; new bars of the kind that comes first in `prefer`. Gives also what found no room.
pub(crate) fn best_fit(
    problem: &Problem,
    demands: &[u32],
    limits: &[u32],
    prefer: &[usize],
) -> (Vec<Pattern>, Vec<u32>) {
    let mut stock = limits.to_vec();
    let mut missing = vec![0u32; demands.len()];
    // Bars in use by their room, so that the tightest one is found at once.
    let mut open: BTreeSet<(i64, usize)> = BTreeSet::new();
    let mut bars: Vec<Pattern> = Vec::new();
    for (index, (l, &demand)) in problem.lengths.iter().zip(demands).enumerate() {
        for copy in 0..demand {
            let spot = open.range((l.length, 0)..).next().copied();
            let (room, bar) = if let Some(key) = spot {
                open.remove(&key);
                key
            } else {
                let fits = |k: usize| {
                    stock.get(k).is_some_and(|&n| n > 0)
                        && problem.kinds.get(k).is_some_and(|kind| kind.length >= l.length)
                };
                let Some(kind) = prefer.iter().copied().find(|&k| fits(k)) else {
                    if let Some(m) = missing.get_mut(index) {
                        *m = demand - copy;
                    }
                    break;
                };
                if let Some(n) = stock.get_mut(kind)
                    && *n != u32::MAX
                {
                    *n -= 1;
                }
                bars.push(Pattern { kind, counts: Vec::new() });
                (problem.kinds.get(kind).map_or(0, |k| k.length), bars.len() - 1)
            };
            open.insert((room - l.length, bar));
            if let Some(pattern) = bars.get_mut(bar) {
                match pattern.counts.last_mut() {
                    Some(last) if last.0 == index => last.1 += 1,
                    _ => pattern.counts.push((index, 1)),
                }
            }
        }
    }
    (bars, missing)
}
