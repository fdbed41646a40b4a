//! What remains after cutting, offered back as stock.

use super::CuttingPlan;
use crate::design::{Board, BoardEdge, BoardSource, Resolved};
use crate::expr::Dim;
use crate::length::Length;
use crate::unit::Unit;

/// The stock after cutting: what was not cut into as it is, less what was used; then the useful offcuts as boards of their
/// own. Kinds that are bought as needed stay. New sheets that are there in a counted number lose those that were used.
#[must_use]
pub fn remains(design: &Resolved, plan: &CuttingPlan) -> Vec<Board<Length>> {
    let mut boards = Vec::new();
    for (index, board) in design.boards.iter().enumerate() {
        let used = plan.boards().filter(|(_, it)| it.board == index && it.rest.is_none()).count();
        let left = board.quantity.map(|count| count.saturating_sub(u32::try_from(used).unwrap_or(u32::MAX)));
        if left != Some(0) {
            boards.push(Board { quantity: left, ..board.clone() });
        }
    }
    let mut offcuts: Vec<Board<Length>> = Vec::new();
    for (_, cut) in plan.boards() {
        let Some(from) = design.boards.get(cut.board) else { continue };
        for offcut in cut.offcuts.iter().filter(|it| it.useful && !it.taken) {
            let touches = |edge: BoardEdge| match edge {
                BoardEdge::Start => offcut.x == Length::ZERO,
                BoardEdge::End => offcut.x + offcut.length == cut.size.0,
                BoardEdge::Near => offcut.y == Length::ZERO,
                BoardEdge::Far => offcut.y + offcut.width == cut.size.1,
            };
            let kept: Vec<_> = cut.kept.iter().filter(|it| touches(it.edge)).collect();
            let over = |a: BoardEdge, b: BoardEdge| -> Length {
                kept.iter().filter(|it| it.edge == a || it.edge == b).map(|it| it.thickness).sum()
            };
            let size = (
                offcut.length + over(BoardEdge::Start, BoardEdge::End),
                offcut.width + over(BoardEdge::Near, BoardEdge::Far),
            );
            let name = bare_name(&format!("rest of {} {}", cut.name, cut.copy), &boards, &offcuts);
            offcuts.push(Board {
                thickness: from.thickness,
                quantity: Some(1),
                source: if from.source == BoardSource::New { BoardSource::Offcut } else { from.source },
                family: from.family.clone(),
                banded: from.banded.iter().filter(|it| kept.iter().any(|k| k.edge == it.edge)).cloned().collect(),
                finish: from.finish.clone(),
                only_for: from.only_for.clone(),
                ..Board::new(name, from.material.clone(), size)
            });
        }
    }
    boards.extend(offcuts);
    boards
}

/// The name, with a number behind it where it is taken.
#[must_use]
pub fn bare_name<L>(name: &str, boards: &[Board<L>], more: &[Board<Length>]) -> String {
    let taken = |name: &str| boards.iter().any(|it| it.name == name) || more.iter().any(|it| it.name == name);
    if !taken(name) {
        return name.to_owned();
    }
    (2..).map(|count| format!("{name} ({count})")).find(|it| !taken(it)).unwrap_or_default()
}

/// The board with its lengths as a design file writes them.
#[must_use]
pub fn written(board: &Board<Length>, unit: Unit) -> Board<Dim> {
    let dim = |length: Length| Dim::of(length, unit);
    Board {
        name: board.name.clone(),
        material: board.material.clone(),
        size: (dim(board.size.0), dim(board.size.1)),
        thickness: board.thickness.map(dim),
        quantity: board.quantity,
        source: board.source,
        family: board.family.clone(),
        spoilt: board.spoilt.map(|(start, end, near, far)| (dim(start), dim(end), dim(near), dim(far))),
        good: board.good.iter().map(|(x, y, length, width)| (dim(*x), dim(*y), dim(*length), dim(*width))).collect(),
        banded: board.banded.clone(),
        finish: board.finish.clone(),
        only_for: board.only_for.clone(),
        price: board.price,
    }
}
