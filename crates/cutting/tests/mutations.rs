//! The checker: a sound plan passes, and the same plan with any one thing changed does not.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "a test")]

use casewright_cutting::{
    Axis, Bar, BarPiece, BarPlan, Board, CutNode, Effort, Flaw, Goal, Missing, Piece, Plan, Quantity, RawEdges, Rect,
    Saw, Size, Status, Unwatched, What, check_bars, check_plan, cut, cut_bars,
};

/// A question and its plan, to be changed.
#[derive(Clone)]
struct Case {
    stock: Vec<Board>,
    pieces: Vec<Piece>,
    saw: Saw,
    plan: Plan,
}

impl Case {
    fn flaws(&self) -> Vec<Flaw> {
        check_plan(&self.stock, &self.pieces, &self.saw, &Goal::default(), &self.plan).err().unwrap_or_default()
    }
}

/// Two kinds of board, one with a spoilt strip; pieces with grain, in a group and in a row; kerf and trim.
fn sound() -> Case {
    let stock = vec![
        Board {
            grain: Some(Axis::X),
            quantity: Quantity::Limited(2),
            zones: vec![Rect::new(0, 0, 300, 400), Rect::new(320, 0, 280, 400)],
            ..Board::new("salvaged", 600, 400)
        },
        Board {
            grain: Some(Axis::X),
            raw: RawEdges::ALL,
            quantity: Quantity::Limited(1),
            ..Board::new("sheet", 700, 460)
        },
    ];
    let front = |name: &str, width| Piece {
        grain: Some(Axis::X),
        group: Some("fronts".into()),
        row: Some(Axis::X),
        ..Piece::new(name, width, 140)
    };
    let pieces = vec![
        Piece { quantity: 3, grain: Some(Axis::X), ..Piece::new("side", 280, 190) },
        Piece { quantity: 4, grain: Some(Axis::Y), ..Piece::new("shelf", 170, 90) },
        Piece { quantity: 2, group: Some("pair".into()), ..Piece::new("rail", 120, 75) },
        front("left", 240),
        front("right", 200),
        Piece { quantity: 2, grain: Some(Axis::X), ..Piece::new("square", 110, 110) },
    ];
    let saw = Saw { kerf: 4, trim: 10 };
    let goal = Goal { useful: Size::new(100, 50), ..Goal::default() };
    let plan = cut(&stock, &pieces, &saw, &goal, &Effort::work(500_000), &Unwatched).expect("a sound question");
    let case = Case { stock, pieces, saw, plan };
    assert_eq!((case.flaws(), case.plan.missing.len(), case.plan.boards.len()), (Vec::new(), 0, 2));
    case
}

/// Changes the plan once for every board and every number below the list's length; each change must be found.
fn each(what: &str, count: impl Fn(&Case, usize) -> usize, change: impl Fn(&mut Case, usize, usize)) {
    let case = sound();
    let mut tried = 0;
    for board in 0..case.plan.boards.len() {
        for number in 0..count(&case, board) {
            let mut changed = case.clone();
            change(&mut changed, board, number);
            assert!(!changed.flaws().is_empty(), "{what} {number} of board {board} is not found");
            tried += 1;
        }
    }
    assert!(tried > 0, "{what}: nothing to change");
}

fn placements(case: &Case, board: usize) -> usize {
    case.plan.boards[board].placements.len()
}

fn offcuts(case: &Case, board: usize) -> usize {
    case.plan.boards[board].offcuts.len()
}

fn cuts(case: &Case, board: usize) -> usize {
    case.plan.boards[board].cuts.len()
}

#[test]
fn a_changed_piece_is_found() {
    each("shifted right", placements, |c, b, n| c.plan.boards[b].placements[n].rect.x += 1);
    each("shifted left", placements, |c, b, n| c.plan.boards[b].placements[n].rect.x -= 1);
    each("shifted up", placements, |c, b, n| c.plan.boards[b].placements[n].rect.y += 1);
    each("shifted down", placements, |c, b, n| c.plan.boards[b].placements[n].rect.y -= 1);
    each("too wide", placements, |c, b, n| c.plan.boards[b].placements[n].rect.size.width += 1);
    each("too low", placements, |c, b, n| c.plan.boards[b].placements[n].rect.size.height -= 1);
    // Of the pair no grain says how it lies, but its size does.
    each("turned", placements, |c, b, n| c.plan.boards[b].placements[n].turned ^= true);
    each("left out", placements, |c, b, n| {
        c.plan.boards[b].placements.remove(n);
    });
    each("cut twice", placements, |c, b, n| {
        let again = c.plan.boards[b].placements[n];
        c.plan.boards[b].placements.push(again);
    });
    each("of another kind", placements, |c, b, n| {
        let placement = &mut c.plan.boards[b].placements[n];
        placement.piece = (placement.piece + 1) % 6;
    });
    each("of no kind", placements, |c, b, n| c.plan.boards[b].placements[n].piece = 99);
    each("another copy", placements, |c, b, n| c.plan.boards[b].placements[n].copy += 1);
    each("marked as wide as the board", placements, |c, b, n| c.plan.boards[b].placements[n].spans = Some(Axis::X));
}

#[test]
fn pieces_that_change_places_are_found() {
    let case = sound();
    for (b, board) in case.plan.boards.iter().enumerate() {
        for i in 0..board.placements.len() {
            for j in 0..i {
                let mut changed = case.clone();
                let list = &mut changed.plan.boards[b].placements;
                (list[i].rect, list[j].rect) = (list[j].rect, list[i].rect);
                // Copies of one kind may change places.
                if list[i].piece != list[j].piece {
                    assert!(!changed.flaws().is_empty(), "{i} and {j} of board {b}");
                }
            }
        }
    }
}

#[test]
fn a_changed_cut_is_found() {
    each("moved up", cuts, |c, b, n| c.plan.boards[b].cuts[n].at += 1);
    each("moved down", cuts, |c, b, n| c.plan.boards[b].cuts[n].at -= 1);
    each("far out", cuts, |c, b, n| c.plan.boards[b].cuts[n].at += 5_000);
    each("turned", cuts, |c, b, n| c.plan.boards[b].cuts[n].across = c.plan.boards[b].cuts[n].across.other());
    each("left out", cuts, |c, b, n| {
        c.plan.boards[b].cuts.remove(n);
    });
    each("other workpiece", cuts, |c, b, n| c.plan.boards[b].cuts[n].workpiece += 1);
    each("other fence", cuts, |c, b, n| c.plan.boards[b].cuts[n].fence += 1);
    each("other number", cuts, |c, b, n| c.plan.boards[b].cuts[n].number += 1);
    each("setting left out", cuts, |c, b, n| {
        c.plan.boards[b].cuts.iter_mut().skip(n).for_each(|cut| cut.setting += 1);
    });
    each("nothing falls off", cuts, |c, b, n| {
        let cut = &mut c.plan.boards[b].cuts[n];
        if cut.low.take().is_none() {
            cut.high = None;
        }
    });
    each("one setting more", |_, _| 1, |c, b, _| c.plan.boards[b].settings += 1);
    each("in the other order", |c, b| cuts(c, b) - 1, |c, b, n| c.plan.boards[b].cuts.swap(n, n + 1));
}

fn leaf(node: &mut CutNode) -> &mut CutNode {
    if !matches!(node.what, What::Split { .. }) {
        return node;
    }
    match &mut node.what {
        What::Split { parts, .. } => leaf(parts.first_mut().expect("a part")),
        _ => unreachable!("seen above"),
    }
}

#[test]
fn a_changed_offcut_or_nesting_is_found() {
    each("larger", offcuts, |c, b, n| c.plan.boards[b].offcuts[n].rect.size.width += 1);
    each("moved", offcuts, |c, b, n| c.plan.boards[b].offcuts[n].rect.y += 1);
    each("left out", offcuts, |c, b, n| {
        c.plan.boards[b].offcuts.remove(n);
    });
    let spoilt = |c: &Case, b: usize| c.plan.boards[b].offcuts.iter().filter(|it| !it.good).count();
    each("spoilt and called good", spoilt, |c, b, n| {
        c.plan.boards[b].offcuts.iter_mut().filter(|it| !it.good).nth(n).expect("one").good = true;
    });
    each("spoilt and called useful", spoilt, |c, b, n| {
        c.plan.boards[b].offcuts.iter_mut().filter(|it| !it.good).nth(n).expect("one").useful = true;
    });
    each("a leaf of the nesting", |_, _| 1, |c, b, _| leaf(&mut c.plan.boards[b].tree).rect.x += 1);
    each("the whole of the nesting", |_, _| 1, |c, b, _| c.plan.boards[b].tree.rect.size.width += 1);
}

#[test]
fn a_changed_question_is_found() {
    let whole = |_: &Case, _: usize| 1;
    each("wider saw", whole, |c, _, _| c.saw.kerf += 1);
    each("narrower saw", whole, |c, _, _| c.saw.kerf -= 1);
    each("no kerf", whole, |c, _, _| c.saw.kerf = 0);
    each("another material", |_, _| 6, |c, _, n| c.pieces[n].material = "other".into());
    each("another board's material", whole, |c, b, _| c.stock[c.plan.boards[b].board].material = "other".into());
    each(
        "grain the other way",
        |_, _| 6,
        |c, _, n| match c.pieces[n].grain {
            Some(axis) => c.pieces[n].grain = Some(axis.other()),
            // Of the pair: whichever way it lies, one grain forbids it.
            None => {
                let turned =
                    c.plan.boards.iter().flat_map(|b| &b.placements).find(|p| p.piece == n).expect("one").turned;
                c.pieces[n].grain = Some(if turned { Axis::X } else { Axis::Y });
            }
        },
    );
    each("one copy more", |_, _| 6, |c, _, n| c.pieces[n].quantity += 1);
    each("one copy fewer", |_, _| 6, |c, _, n| c.pieces[n].quantity -= 1);
    each("a copy missing and cut", |_, _| 6, |c, _, n| c.plan.missing.push(Missing { piece: n, count: 1 }));
    each("missing what nobody wants", whole, |c, _, _| c.plan.missing.push(Missing { piece: 99, count: 1 }));
    each("a board smaller", whole, |c, b, _| c.stock[c.plan.boards[b].board].size.width -= 1);
    each("a board that is not there", whole, |c, b, _| c.plan.boards[b].copy += 7);
    each("no such board", whole, |c, b, _| c.plan.boards[b].board = 9);
    each("a board twice", whole, |c, b, _| {
        let again = c.plan.boards[b].clone();
        c.plan.boards.push(again);
    });
    each("more trim", |_, _| 1, |c, _, _| c.saw.trim += 200);
    each(
        "zones away",
        |_, _| 1,
        |c, _, _| {
            c.stock.iter_mut().for_each(|board| board.zones = vec![Rect::new(0, 0, 1, 1)]);
        },
    );
    each("another value", |_, _| 1, |c, _, _| c.plan.value += 1);
    each("a bound above the value", |_, _| 1, |c, _, _| c.plan.bound = c.plan.value + 1);
    each(
        "called proven below its value, or not proven at it",
        |_, _| 1,
        |c, _, _| match c.plan.status {
            Status::ProvenBest => c.plan.bound -= 1,
            _ => c.plan.status = Status::ProvenBest,
        },
    );
    each("called unplaced", |_, _| 1, |c, _, _| c.plan.status = Status::Unplaced { area_short: 0 });
    each("called within per cent", |_, _| 1, |c, _, _| c.plan.status = Status::WithinPercent(3.0));
    each("in another order of the row", |_, _| 1, |c, _, _| c.pieces.swap(3, 4));
}

#[test]
fn a_group_on_two_boards_is_found() {
    let saw = Saw::default();
    let stock = [Board { quantity: Quantity::Limited(2), ..Board::new("b", 100, 100) }];
    let mut pieces = [Piece { quantity: 2, ..Piece::new("front", 100, 60) }];
    let plan = cut(&stock, &pieces, &saw, &Goal::default(), &Effort::work(10_000), &Unwatched).expect("sound");
    assert_eq!((plan.boards.len(), check_plan(&stock, &pieces, &saw, &Goal::default(), &plan)), (2, Ok(())));
    pieces[0].group = Some("fronts".into());
    assert!(check_plan(&stock, &pieces, &saw, &Goal::default(), &plan).is_err());
}

type Bars = (Vec<Bar>, Vec<BarPiece>, Saw, BarPlan);

#[test]
fn a_changed_bar_is_found() {
    let stock = vec![Bar { raw_ends: true, quantity: Quantity::Limited(3), ..Bar::new("bar", 1000) }];
    let pieces = vec![BarPiece::new("long", 430, 3), BarPiece::new("short", 120, 4)];
    let saw = Saw { kerf: 4, trim: 10 };
    let plan = cut_bars(&stock, &pieces, &saw, &Goal::default(), &Effort::work(100_000), &Unwatched).expect("sound");
    let sound = (stock, pieces, saw, plan);
    let flaws = |(stock, pieces, saw, plan): &Bars| {
        check_bars(stock, pieces, saw, &Goal::default(), plan).err().unwrap_or_default()
    };
    assert_eq!((flaws(&sound), sound.3.missing.len()), (Vec::new(), 0));
    let check = |what: &str, change: &dyn Fn(&mut Bars)| {
        let mut changed = sound.clone();
        change(&mut changed);
        assert!(!flaws(&changed).is_empty(), "{what} is not found");
    };
    check("shifted down", &|c| c.3.bars[0].pieces[0].1 -= 1);
    check("shifted up, into the next", &|c| c.3.bars[0].pieces[0].1 += 1);
    check("cut twice", &|c| {
        let again = c.3.bars[0].pieces[0];
        c.3.bars[0].pieces.push(again);
    });
    check("left out", &|c| {
        c.3.bars[0].pieces.pop();
    });
    check("another kind", &|c| c.3.bars[0].pieces[0].0 ^= 1);
    check("no kind", &|c| c.3.bars[0].pieces[0].0 = 9);
    check("another offcut", &|c| c.3.bars[0].offcut = Some((1, 2)));
    check("another bar", &|c| c.3.bars[0].bar = 1);
    check("a bar that is not there", &|c| c.3.bars[0].copy = 3);
    check("a bar twice", &|c| c.3.bars[0].copy = 1);
    check("a wider saw", &|c| c.2.kerf += 1);
    check("more trim", &|c| c.2.trim += 1);
    check("a shorter bar", &|c| c.0[0].length -= 1);
    check("another material", &|c| c.1[0].material = "other".into());
    check("missing and cut", &|c| c.3.missing.push(Missing { piece: 0, count: 1 }));
    check("missing what nobody wants", &|c| c.3.missing.push(Missing { piece: 9, count: 1 }));
    check("another value", &|c| c.3.value -= 1);
    check("a bound above the value", &|c| c.3.bound = c.3.value + 1);
    check("called impossible", &|c| c.3.status = Status::Impossible { area_short: 0 });
    check("an empty bar", &|c| c.3.bars[0].pieces.clear());
}
