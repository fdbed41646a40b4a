//! Lower bounds on the number of equal boards by dual feasible functions, in exact whole numbers.
//!
//! The functions: identity, threshold and rounding functions of Fekete & Schepers, Math. Program. 91 (2001) 11-31, and
//! Carlier, Clautiaux & Moukrim, Comput. Oper. Res. 34 (2007) 2223-2250. A product of one function for each direction
//! is a valid weight of a rectangle; the weights over the weight of a board, rounded up, bound the number of boards.

/// A dual feasible function on 0..=`full`: weights of extents, and the weight of the full extent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Weights {
    of: Vec<i64>,
    full: i64,
}

impl Weights {
    /// No fewer bars can hold so many copies of the extents.
    pub(crate) fn needed(&self, copies: &[u32]) -> i128 {
        let sum: i128 = self.of.iter().zip(copies).map(|(&w, &n)| i128::from(w) * i128::from(n)).sum();
        let full = i128::from(self.full.max(1));
        (sum + full - 1) / full
    }
}

#[derive(Debug, Clone, Copy)]
enum Function {
    Identity,
    /// Below `e` nothing, above `full - e` everything.
    Threshold(i64),
    /// Rounding down to multiples of a `k`-th, from both ends.
    Round(i64),
    /// Rounding to fractions of `k + 1`.
    Fraction(i64),
}

fn weight(function: Function, x: i64, full: i64) -> i64 {
    match function {
        Function::Identity => x,
        Function::Threshold(e) => {
            if x > full - e {
                full
            } else if x < e {
                0
            } else {
                x
            }
        }
        Function::Round(k) => {
            if 2 * x > full {
                2 * (full / k) - 2 * ((full - x) / k)
            } else if 2 * x == full {
                full / k
            } else {
                2 * (x / k)
            }
        }
        Function::Fraction(k) => {
            // Scaled by k * full, so that it stays whole.
            let n = i128::from(k + 1) * i128::from(x);
            let full_wide = i128::from(full);
            let value = if n % full_wide == 0 { i128::from(k) * i128::from(x) } else { n / full_wide * full_wide };
            i64::try_from(value).unwrap_or(0)
        }
    }
}

fn full_weight(function: Function, full: i64) -> i64 {
    match function {
        Function::Identity | Function::Threshold(_) => full,
        Function::Round(k) => 2 * (full / k),
        Function::Fraction(k) => k * full,
    }
}

/// The functions worth trying for these extents.
pub(crate) fn families(extents: &[i64], full: i64, most: usize) -> Vec<Weights> {
    let mut marks: Vec<i64> = extents.iter().flat_map(|&x| [x, full - x]).filter(|&x| x > 0 && 2 * x <= full).collect();
    marks.sort_unstable();
    marks.dedup();
    let step = marks.len().div_ceil(most.max(1)).max(1);
    let mut list = vec![Function::Identity];
    for &mark in marks.iter().step_by(step) {
        list.push(Function::Threshold(mark));
        list.push(Function::Round(mark));
        if mark < full / 2 {
            list.push(Function::Round(mark + 1));
        }
    }
    list.extend((1..=8).filter(|k| full < i64::MAX / 32 / k).map(Function::Fraction));
    let mut all: Vec<Weights> = list
        .into_iter()
        .map(|f| Weights { of: extents.iter().map(|&x| weight(f, x, full)).collect(), full: full_weight(f, full) })
        .filter(|w| w.full > 0)
        .collect();
    all.sort_by(|a, b| (&a.of, a.full).cmp(&(&b.of, b.full)));
    all.dedup();
    all
}

/// A rectangle for the bound: extents, and whether it may lie as given and turned.
pub(crate) struct Block {
    pub(crate) width: i64,
    pub(crate) height: i64,
    pub(crate) given: bool,
    pub(crate) turned: bool,
}

/// No fewer boards of `width` x `height` can hold all blocks. Work is about blocks x (most functions) squared.
pub(crate) fn boards_needed(blocks: &[Block], width: i64, height: i64, most: usize) -> i64 {
    let mut extents: Vec<i64> = blocks.iter().flat_map(|b| [b.width, b.height]).collect();
    extents.sort_unstable();
    extents.dedup();
    let spot = |x: i64| extents.binary_search(&x).unwrap_or(0);
    let spots: Vec<(usize, usize)> = blocks.iter().map(|b| (spot(b.width), spot(b.height))).collect();
    let by_width = families(&extents, width, most);
    let by_height = families(&extents, height, most);
    let mut best = 0;
    for f in &by_width {
        for g in &by_height {
            let at = |w: &Weights, i: usize| w.of.get(i).copied().unwrap_or(0);
            let mut sum = 0i128;
            for (block, &(i, j)) in blocks.iter().zip(&spots) {
                let given = (block.given && block.width <= width && block.height <= height)
                    .then(|| i128::from(at(f, i)) * i128::from(at(g, j)));
                let turned = (block.turned && block.height <= width && block.width <= height)
                    .then(|| i128::from(at(f, j)) * i128::from(at(g, i)));
                sum += match (given, turned) {
                    (Some(a), Some(b)) => a.min(b),
                    (Some(a), None) | (None, Some(a)) => a,
                    (None, None) => 0,
                };
            }
            let one = i128::from(f.full) * i128::from(g.full);
            best = best.max(((sum + one - 1) / one) as i64);
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every function must keep: extents that fit together have weights that fit together.
    #[test]
    fn functions_are_dual_feasible() {
        for full in [7i64, 12, 23, 40] {
            let extents: Vec<i64> = (0..=full).collect();
            for weights in families(&extents, full, 100) {
                // Unbounded knapsack over all extents: the exact test of dual feasibility.
                let mut best = vec![0i64; full as usize + 1];
                for room in 1..=full as usize {
                    for x in 1..=room {
                        best[room] = best[room].max(best[room - x] + weights.of[x]);
                    }
                }
                assert!(best[full as usize] <= weights.full, "{weights:?} on {full}");
            }
        }
    }
}
