//! The fewest blocks that serve all rows: an exact set cover for as many rows as a piece usually has, within a number of
//! steps.

use std::cmp::Reverse;

/// Up to so many rows the cover is proved to be the smallest, unless the proof takes too many steps; beyond, the block that
/// serves most of what is left comes next (greedy, at most about ln n times as many; Chvátal 1979).
pub const EXACT_UP_TO: usize = 24;
/// Steps of the proof at the most, so that no piece keeps its maker waiting; what is best by then stands. Counted, not
/// timed: the same piece gives the same blocks everywhere.
const MOST_STEPS: usize = 20_000;

/// Indices of the fewest sets that hold all items from 0 to `items`; of covers of the same size the first in the order
/// of the sets. Items that no set holds are passed over.
#[must_use]
pub fn fewest(items: usize, sets: &[Vec<usize>]) -> Vec<usize> {
    let mut held = vec![false; items];
    for item in sets.iter().flatten() {
        if let Some(held) = held.get_mut(*item) {
            *held = true;
        }
    }
    let wanted: Vec<usize> = (0..items).filter(|item| held.get(*item) == Some(&true)).collect();
    let mut best = greedy(held, sets);
    if wanted.len() <= EXACT_UP_TO {
        search(&wanted, sets, &mut Vec::new(), &mut best, &mut 0);
    }
    best.sort_unstable();
    best
}

/// Takes the set that holds most of what is `left`, until nothing is.
fn greedy(mut left: Vec<bool>, sets: &[Vec<usize>]) -> Vec<usize> {
    let mut taken = Vec::new();
    loop {
        let gain = |set: &[usize]| set.iter().filter(|item| left.get(**item) == Some(&true)).count();
        // The first of equals.
        let best = sets.iter().enumerate().map(|(index, set)| (gain(set), Reverse(index))).max();
        let Some((gain, Reverse(index))) = best else { return taken };
        if gain == 0 {
            return taken;
        }
        for item in sets.get(index).into_iter().flatten() {
            if let Some(left) = left.get_mut(*item) {
                *left = false;
            }
        }
        taken.push(index);
    }
}

/// Depth first: the item that the fewest sets hold is covered next; whatever cannot beat the best so far is left.
fn search(left: &[usize], sets: &[Vec<usize>], taken: &mut Vec<usize>, best: &mut Vec<usize>, steps: &mut usize) {
    *steps += 1;
    if *steps > MOST_STEPS {
        return;
    }
    if left.is_empty() {
        if taken.len() < best.len() {
            best.clone_from(taken);
        }
        return;
    }
    let largest = sets.iter().map(|set| set.iter().filter(|item| left.contains(item)).count()).max().unwrap_or(0);
    // So many more are needed at the very least.
    if largest == 0 || taken.len() + left.len().div_ceil(largest) >= best.len() {
        return;
    }
    let holders = |item: usize| sets.iter().enumerate().filter(move |(_, set)| set.contains(&item));
    let Some(&item) = left.iter().min_by_key(|item| holders(**item).count()) else { return };
    let candidates: Vec<usize> = holders(item).map(|(index, _)| index).collect();
    for index in candidates {
        let Some(set) = sets.get(index) else { continue };
        let rest: Vec<usize> = left.iter().copied().filter(|item| !set.contains(item)).collect();
        taken.push(index);
        search(&rest, sets, taken, best, steps);
        taken.pop();
    }
}
