//! Boards that are cut alike: one drawing serves them all.

use super::{CutBoard, CuttingPlan, Lot, PlacedPart, matched_rows};
use crate::assembly::Part;
use crate::design::Resolved;

/// Boards of one lot that are cut alike, or one board.
#[derive(Clone, Debug, PartialEq)]
pub struct AlikeBoards<'p> {
    /// Their lot.
    pub lot: &'p Lot,
    /// Each board with its number among all boards of the plan, from 1. There is one at least.
    pub boards: Vec<(usize, &'p CutBoard)>,
}

impl<'p> AlikeBoards<'p> {
    /// The places of parts, each with what lies there on the first board, the second and so on.
    #[must_use]
    pub fn places(&self) -> Vec<Vec<&'p PlacedPart>> {
        let sorted: Vec<Vec<&PlacedPart>> = self.boards.iter().map(|(_, it)| by_place(it)).collect();
        let count = sorted.iter().map(Vec::len).min().unwrap_or_default();
        (0..count).map(|place| sorted.iter().filter_map(|it| it.get(place).copied()).collect()).collect()
    }
}

/// The boards of a plan, those that are cut alike together with the first of them: of one entry of the stock, with parts of
/// one size in each place and the same cuts. Rests of boards, and boards whose parts match in their grain, stand alone.
#[must_use]
pub fn alike_boards<'p>(design: &Resolved, parts: &[Part], plan: &'p CuttingPlan) -> Vec<AlikeBoards<'p>> {
    let matched: Vec<usize> = matched_rows(design, parts).into_iter().flat_map(|it| it.parts).collect();
    let may_share = |board: &CutBoard| {
        board.rest.is_none()
            && !board.offcuts.iter().any(|it| it.taken)
            && !board.parts.iter().any(|it| matched.contains(&it.part))
    };
    let mut all: Vec<AlikeBoards<'p>> = Vec::new();
    for (index, (lot, board)) in plan.boards().enumerate() {
        let first = |it: &AlikeBoards<'p>| it.boards.first().map(|it| it.1);
        let same = |it: &&mut AlikeBoards<'p>| {
            std::ptr::eq(it.lot, lot)
                && may_share(board)
                && first(it).is_some_and(|other| may_share(other) && are_cut_alike(parts, other, board))
        };
        match all.iter_mut().find(same) {
            Some(others) => others.boards.push((index + 1, board)),
            None => all.push(AlikeBoards { lot, boards: vec![(index + 1, board)] }),
        }
    }
    all
}

fn by_place(board: &CutBoard) -> Vec<&PlacedPart> {
    let mut parts: Vec<&PlacedPart> = board.parts.iter().collect();
    parts.sort_by_key(|it| (it.y, it.x));
    parts
}

fn are_cut_alike(parts: &[Part], one: &CutBoard, other: &CutBoard) -> bool {
    let (a, b) = (by_place(one), by_place(other));
    let same_place = |(a, b): (&&PlacedPart, &&PlacedPart)| {
        let part = |it: &PlacedPart| parts.get(it.part).map(|part| (part.cut, part.grain));
        let place = |it: &PlacedPart| (it.x, it.y, it.length, it.width, it.turned, it.only_to_length, it.old_banding);
        part(a) == part(b) && place(a) == place(b) && a.keeps == b.keeps
    };
    let same_cuts = one.cuts.len() == other.cuts.len()
        && one.cuts.iter().zip(&other.cuts).all(|(a, b)| {
            (a.number, a.setting, a.fence, a.rip, &a.what, a.slot)
                == (b.number, b.setting, b.fence, b.rip, &b.what, b.slot)
        });
    one.board == other.board
        && (one.size, &one.good, &one.kept, &one.offcuts) == (other.size, &other.good, &other.kept, &other.offcuts)
        && a.len() == b.len()
        && a.iter().zip(&b).all(same_place)
        && same_cuts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assembly::tests::built;
    use crate::length::Length;
    use crate::sample::{design_of, mm, open};
    use crate::stock::{Quality, SawCut, Workpiece};

    fn placed(part: usize, x: i64, size: (Length, Length)) -> PlacedPart {
        PlacedPart {
            part,
            x: mm(x),
            y: Length::ZERO,
            length: size.0,
            width: size.1,
            turned: false,
            only_to_length: false,
            keeps: Vec::new(),
            old_banding: 0,
        }
    }

    fn board(copy: u32, part: (usize, &str), at: i64, size: (Length, Length)) -> CutBoard {
        let cut = SawCut {
            number: 1,
            setting: 1,
            fence: mm(at),
            rip: false,
            what: Workpiece::Board,
            into: (Workpiece::Waste, Workpiece::Part(part.1.to_owned())),
            slot: (mm(at), Length::ZERO, mm(3), mm(1000)),
        };
        CutBoard {
            name: "sheet".to_owned(),
            copy,
            board: 0,
            rest: None,
            size: (mm(2500), mm(1000)),
            good: Vec::new(),
            kept: Vec::new(),
            parts: vec![placed(part.0, at + 3, size)],
            cuts: vec![cut],
            settings: 1,
            offcuts: Vec::new(),
        }
    }

    fn numbers(plan: &CuttingPlan) -> Vec<Vec<usize>> {
        let design = design_of(open("all", 0));
        let (_, assembly) = built(&design);
        let all = alike_boards(&design, &assembly.parts, plan);
        all.iter().map(|it| it.boards.iter().map(|it| it.0).collect()).collect()
    }

    #[test]
    fn boards_with_equal_parts_in_equal_places_are_drawn_once() {
        let (_, assembly) = built(&design_of(open("all", 0)));
        let at = |number: &str| assembly.parts.iter().position(|it| it.number == number).unwrap();
        let size = |index: usize| (assembly.parts[index].cut.length, assembly.parts[index].cut.width);
        // A plain box: both sides are alike, and so are top and bottom.
        let (left, right, top) = (at("SL"), at("SR"), at("TO"));
        assert_eq!(size(left), size(right));
        assert_ne!(size(left), size(top));
        let lot = |boards| Lot {
            material: "board".to_owned(),
            which: String::new(),
            boards,
            missing: Vec::new(),
            quality: Quality::Best,
            after_others: false,
            spare: Vec::new(),
        };
        let plan = |lots| CuttingPlan { lots, ..CuttingPlan::default() };
        let first = board(1, (left, "SL"), 100, size(left));
        let second = board(2, (right, "SR"), 100, size(right));
        let other = board(3, (top, "TO"), 100, size(top));
        let boards = vec![first.clone(), other.clone(), second.clone()];
        let both = plan(vec![lot(boards)]);
        assert_eq!(numbers(&both), [vec![1, 3], vec![2]]);
        // Which part lies where is kept for each board.
        let design = design_of(open("all", 0));
        let all = alike_boards(&design, &assembly.parts, &both);
        let places: Vec<Vec<usize>> = all[0].places().iter().map(|it| it.iter().map(|it| it.part).collect()).collect();
        assert_eq!(places, [[left, right]]);
        // Moved by a millimetre, from the rest of a board, or in another lot, each is drawn.
        let moved = board(2, (right, "SR"), 101, size(right));
        assert_eq!(numbers(&plan(vec![lot(vec![first.clone(), moved])])), [[1], [2]]);
        let rest = CutBoard { rest: Some(1), ..second.clone() };
        assert_eq!(numbers(&plan(vec![lot(vec![first.clone(), rest])])), [[1], [2]]);
        assert_eq!(numbers(&plan(vec![lot(vec![first]), lot(vec![second])])), [[1], [2]]);
    }
}
