//! The wishes that come after the objective: the largest useful offcut (of what is bought, if something is), then few fence settings. Pieces change places on
//! the boards that are used anyway; nothing is paid for it with more boards.

use super::problem::Problem;
use super::rebuild::Filling;
use super::tree::Tree;
use crate::effort::Budget;
use crate::size::Size;

/// How well a plan meets the later wishes, the larger the better: money saved; area of the largest useful offcut; area of pieces
/// that need not come from bought boards; area of boards that cost nothing and need not be cut into; settings saved.
pub(crate) type Worth = (i128, i128, i128, i128, i64);

/// Whether a board of this kind costs nothing. Under goals without money none does.
pub(crate) fn is_free(problem: &Problem, kind: usize) -> bool {
    problem.kinds.get(kind).is_some_and(|it| it.cost.0 == 0)
}

/// How well a plan meets the later wishes. Where something is bought, the offcut that counts is one of what is bought: boards that
/// cost nothing are there to be used.
pub(crate) fn worth(problem: &Problem, trees: &[Tree], useful: Size) -> Worth {
    let used = || trees.iter().filter(|it| it.count > 0);
    let cost = |tree: &Tree| problem.kinds.get(tree.kind).map_or(0, |it| it.cost.0);
    let money: i128 = if problem.kinds.iter().any(|it| it.cost.0 == 0) { used().map(cost).sum() } else { 0 };
    let counts = |tree: &Tree| money == 0 || !is_free(problem, tree.kind);
    let real = |x: i64| x * problem.unit - problem.kerf;
    let leaves = trees.iter().filter(|it| counts(it)).flat_map(|it| it.leaves().iter().map(|&l| it.node(l)));
    let largest = leaves.filter_map(|node| {
        let size = Size::new(real(node.width), real(node.height));
        let fits = |s: Size| s.width > 0 && s.height > 0 && s.width >= useful.width && s.height >= useful.height;
        (fits(size) || fits(size.turned())).then(|| size.area())
    });
    let area = |tree: &Tree| tree.items().filter_map(|i| problem.items.get(i)).map(|i| i.area).sum::<i128>();
    let from_bought: i128 = if money == 0 { 0 } else { used().filter(|it| !is_free(problem, it.kind)).map(area).sum() };
    let from_free: i128 = used()
        .filter(|it| is_free(problem, it.kind))
        .filter_map(|it| problem.kinds.get(it.kind))
        .map(|it| it.cost.1)
        .sum();
    let settings: i64 = trees.iter().map(|t| t.extents() as i64).sum();
    (-money, largest.max().unwrap_or(0), -from_bought, -from_free, -settings)
}

/// Moves pieces about while the effort lasts; gives the best plan seen, without the boards that it emptied.
pub(crate) fn tidy(problem: &Problem, trees: Vec<Tree>, useful: Size, budget: &Budget<'_>) -> Vec<Tree> {
    let kinds: Vec<usize> = trees.iter().map(|t| t.kind).collect();
    let mut filling = Filling::new(problem, &kinds, 5);
    filling.trees.clone_from(&trees);
    filling.out.clear();
    // Where boards that cost nothing are in it, the largest rest of what is bought is what is looked for.
    filling.either_way = kinds.iter().any(|&kind| is_free(problem, kind));
    filling.restart();
    let mut best_worth = worth(problem, &trees, useful);
    let mut best = trees;
    while filling.improve(budget) {
        if !filling.out.is_empty() {
            continue;
        }
        let now = worth(problem, &filling.trees, useful);
        if now > best_worth {
            best_worth = now;
            best.clone_from(&filling.trees);
        }
    }
    best.retain(|t| t.count > 0);
    best
}
