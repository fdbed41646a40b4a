//! The wishes that come after the objective: the largest useful offcut, then few fence settings. Pieces change places on
//! the boards that are used anyway; nothing is paid for it with more boards.

use super::problem::Problem;
use super::rebuild::Filling;
use super::tree::Tree;
use crate::effort::Budget;
use crate::size::Size;

/// How well a plan meets the later wishes: area of the largest useful offcut, then settings saved; the larger the better.
fn worth(problem: &Problem, trees: &[Tree], useful: Size) -> (i128, i64) {
    let real = |x: i64| x * problem.unit - problem.kerf;
    let largest = trees.iter().flat_map(|tree| tree.leaves().iter().map(|&l| tree.node(l))).filter_map(|node| {
        let size = Size::new(real(node.width), real(node.height));
        let fits = |s: Size| s.width > 0 && s.height > 0 && s.width >= useful.width && s.height >= useful.height;
        (fits(size) || fits(size.turned())).then(|| size.area())
    });
    let settings: i64 = trees.iter().map(|t| t.extents() as i64).sum();
    (largest.max().unwrap_or(0), -settings)
}

/// Moves pieces about while the effort lasts; gives the best plan seen, without the boards that it emptied.
pub(crate) fn tidy(problem: &Problem, trees: Vec<Tree>, useful: Size, budget: &Budget<'_>) -> Vec<Tree> {
    let kinds: Vec<usize> = trees.iter().map(|t| t.kind).collect();
    let mut filling = Filling::new(problem, &kinds, 5);
    filling.trees.clone_from(&trees);
    filling.out.clear();
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
