//! Where something is bought, boards that cost nothing give what they can first: what lies in the workshop is used up, and what
//! is bought keeps the largest rest. No more is bought for it.

use super::problem::Problem;
use super::rebuild::Filling;
use super::tidy::{Worth, is_free, worth};
use super::tree::Tree;
use crate::effort::Budget;
use crate::size::Size;

/// Boards that cost nothing of which is taken; the smallest are the first.
const MOST_KEPT: usize = 100;

/// Fillings of these boards that are tried.
const TRIES: u64 = 60;

/// The best plan seen in which boards that cost nothing are filled first and all else comes from the bought boards of this plan.
pub(crate) fn kept_first(problem: &Problem, trees: Vec<Tree>, useful: Size, budget: &Budget<'_>) -> Vec<Tree> {
    let bought: Vec<usize> = trees.iter().map(|it| it.kind).filter(|&kind| !is_free(problem, kind)).collect();
    let kept = kept(problem);
    if bought.is_empty() || kept.is_empty() {
        return trees;
    }
    let mut best = Seen { worth: worth(problem, &trees, useful), trees };
    let work = 300 * problem.items.len() as u64 + 2_000;
    for seed in 0..TRIES {
        if budget.over() {
            break;
        }
        let mut first = Filling::new(problem, &kept, seed);
        first.rebuild(seed as usize % 6, 0.0, budget, |_| None);
        let until = budget.spent() + work;
        // The first tries take what is largest, each order as it comes; later ones exchange pieces.
        while seed >= 6 && !first.out.is_empty() && budget.spent() < until && first.improve(budget) {}
        let mut second = Filling::new(problem, &bought, seed);
        second.out.clone_from(&first.out);
        second.either_way = seed % 2 == 1;
        second.rebuild(seed as usize % 6, 0.0, budget, |_| None);
        best.look(problem, &first, &second, useful);
        second.restart();
        let until = budget.spent() + work;
        while budget.spent() < until && second.improve(budget) {
            best.look(problem, &first, &second, useful);
        }
    }
    best.trees
}

/// The boards that cost nothing, one entry a board, smallest first.
fn kept(problem: &Problem) -> Vec<usize> {
    let wanted = problem.items.len() as u32;
    let free = problem.kinds.iter().enumerate().filter(|(kind, _)| is_free(problem, *kind));
    let mut kept: Vec<(i128, usize)> =
        free.flat_map(|(at, kind)| std::iter::repeat_n((kind.area, at), kind.limit.min(wanted) as usize)).collect();
    kept.sort_unstable();
    kept.truncate(MOST_KEPT);
    kept.into_iter().map(|it| it.1).collect()
}

/// The best plan so far.
struct Seen {
    worth: Worth,
    trees: Vec<Tree>,
}

impl Seen {
    fn look(&mut self, problem: &Problem, first: &Filling<'_>, second: &Filling<'_>, useful: Size) {
        if !second.out.is_empty() {
            return;
        }
        let trees = first.trees.iter().chain(&second.trees).filter(|it| it.count > 0);
        let trees: Vec<Tree> = trees.cloned().collect();
        let now = worth(problem, &trees, useful);
        if now > self.worth {
            *self = Self { worth: now, trees };
        }
    }
}
