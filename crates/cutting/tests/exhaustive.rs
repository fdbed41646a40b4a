//! Small random questions against exhaustive search: what the crate finds is possible, and what it calls proven is true.
//!
//! The search here shares nothing with the crate: of every rectangle it lists all sets of pieces that through cuts at every
//! whole coordinate, a kerf wide, can give; then it tries all ways to cover the order with such sets.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "a test")]

use std::collections::BTreeMap;

use casewright_cutting::{
    Axis, Bar, BarPiece, Board, Effort, Goal, Objective, Piece, Plan, Quantity, RawEdges, Rect, Saw, Size, Status,
    Unwatched, Wanted, check_bars, check_plan, cut, cut_bars, fill,
};

/// Random numbers that stay the same (Knuth's MMIX multiplier).
struct Numbers(u64);

impl Numbers {
    /// From `low` to `high`, both included.
    fn from(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + ((self.0 >> 33) as i64) % (high - low + 1)
    }

    fn grain(&mut self) -> Option<Axis> {
        [None, None, Some(Axis::X), Some(Axis::Y)][self.from(0, 3) as usize]
    }
}

/// How many questions: `CASEWRIGHT_CASES`, or the usual number.
fn cases(usual: u32) -> u32 {
    std::env::var("CASEWRIGHT_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// Sets of up to three copies of each of three kinds, as bits: bit a + 4 b + 16 c for a, b and c copies.
type Sets = u64;

const NOTHING: Sets = 1;

/// Copies of each kind in the set of this number.
fn copies(set: usize) -> [u32; 3] {
    [set as u32 % 4, set as u32 / 4 % 4, set as u32 / 16]
}

/// Sets with one of each side.
fn both(a: Sets, b: Sets) -> Sets {
    let mut out = 0;
    for i in (0..64).filter(|i| a >> i & 1 == 1) {
        for j in (0..64).filter(|j| b >> j & 1 == 1) {
            let (one, other) = (copies(i), copies(j));
            if (0..3).all(|kind| one[kind] + other[kind] <= 3) {
                out |= 1 << (i + j);
            }
        }
    }
    out
}

/// All sets that one board can give.
struct Exhaustive<'a> {
    pieces: &'a [Piece],
    grain: Option<Axis>,
    kerf: i64,
    known: BTreeMap<(i64, i64), Sets>,
}

impl Exhaustive<'_> {
    fn lies(&self, piece: &Piece, width: i64, height: i64) -> bool {
        let across = matches!((piece.grain, self.grain), (Some(a), Some(b)) if a != b);
        let along = matches!((piece.grain, self.grain), (Some(a), Some(b)) if a == b);
        let (w, h) = (piece.size.width, piece.size.height);
        !across && w <= width && h <= height || !along && h <= width && w <= height
    }

    fn rectangle(&mut self, width: i64, height: i64) -> Sets {
        if width <= 0 || height <= 0 {
            return NOTHING;
        }
        if let Some(&sets) = self.known.get(&(width, height)) {
            return sets;
        }
        let mut sets = NOTHING;
        for (kind, piece) in self.pieces.iter().enumerate() {
            if self.lies(piece, width, height) {
                sets |= 1 << [1, 4, 16][kind];
            }
        }
        for at in 1..width {
            let (low, high) = (self.rectangle(at, height), self.rectangle(width - at - self.kerf, height));
            sets |= both(low, high);
        }
        for at in 1..height {
            let (low, high) = (self.rectangle(width, at), self.rectangle(width, height - at - self.kerf));
            sets |= both(low, high);
        }
        self.known.insert((width, height), sets);
        sets
    }
}

/// The rectangles of a board that are left when raw edges are trimmed and what is not good is given up.
fn usable(board: &Board, saw: &Saw) -> Vec<Size> {
    let trim = |raw: bool| if raw { saw.trim } else { 0 };
    let (left, bottom) = (trim(board.raw.left), trim(board.raw.bottom));
    let (right, top) = (board.size.width - trim(board.raw.right), board.size.height - trim(board.raw.top));
    let whole = [Rect::new(0, 0, board.size.width, board.size.height)];
    let zones = if board.zones.is_empty() { &whole[..] } else { &board.zones };
    let clipped = |z: &Rect| Size::new(z.right().min(right) - z.x.max(left), z.top().min(top) - z.y.max(bottom));
    zones.iter().map(clipped).filter(|size| size.width > 0 && size.height > 0).collect()
}

fn sets_of(board: &Board, pieces: &[Piece], saw: &Saw) -> Sets {
    let mut search = Exhaustive { pieces, grain: board.grain, kerf: saw.kerf, known: BTreeMap::new() };
    usable(board, saw).iter().map(|size| search.rectangle(size.width, size.height)).fold(NOTHING, both)
}

/// The least cost of covering `wanted` copies with sets of kinds `(sets, limit, cost)`, all of the pieces in the group from one
/// board; none where it cannot be done.
fn cover(kinds: &[(Sets, u32, i128)], wanted: [u32; 3], group: [bool; 3]) -> Option<i128> {
    fn go(
        kinds: &[(Sets, u32, i128)],
        group: [bool; 3],
        wanted: [u32; 3],
        left: [u32; 3],
        limits: &[u32],
        known: &mut BTreeMap<([u32; 3], Vec<u32>), Option<i128>>,
    ) -> Option<i128> {
        if left == [0; 3] {
            return Some(0);
        }
        let key = (left, limits.to_vec());
        if let Some(&cost) = known.get(&key) {
            return cost;
        }
        let mut best: Option<i128> = None;
        for (kind, &(sets, _, cost)) in kinds.iter().enumerate().filter(|(kind, _)| limits[*kind] > 0) {
            let mut limits = limits.to_vec();
            limits[kind] -= 1;
            for set in (1..64).filter(|set| sets >> set & 1 == 1) {
                let given = copies(set);
                let mut grouped = (0..3).filter(|i| group[*i]);
                if grouped.clone().any(|i| given[i] > 0) && grouped.any(|i| given[i] < wanted[i]) {
                    continue;
                }
                let rest = [0, 1, 2].map(|i: usize| left[i].saturating_sub(given[i]));
                if rest != left
                    && let Some(more) = go(kinds, group, wanted, rest, &limits, known)
                {
                    best = Some(best.map_or(cost + more, |best| best.min(cost + more)));
                }
            }
        }
        known.insert(key, best);
        best
    }
    // More boards than pieces are never needed.
    let total: u32 = wanted.iter().sum();
    let limits: Vec<u32> = kinds.iter().map(|kind| kind.1.min(total)).collect();
    go(kinds, group, wanted, wanted, &limits, &mut BTreeMap::new())
}

fn board(number: &mut Numbers, saw: &Saw) -> Board {
    let (width, height) = (number.from(4, 11), number.from(4, 11));
    // Some boards have a strip across that is spoilt: at least a kerf wide, so that cuts can part what is good.
    let at = number.from(1, width - 1);
    let after = at + saw.kerf.max(1);
    let spoilt = number.from(0, 3) == 0 && after < width;
    Board {
        zones: if spoilt {
            vec![Rect::new(0, 0, at, height), Rect::new(after, 0, width - after, height)]
        } else {
            Vec::new()
        },
        grain: number.grain(),
        raw: if number.from(0, 2) == 0 { RawEdges { left: true, top: true, ..RawEdges::NONE } } else { RawEdges::NONE },
        quantity: match number.from(0, 3) {
            0 => Quantity::Unlimited,
            n => Quantity::Limited(n as u32),
        },
        cost: number.from(0, 9),
        ..Board::new("board", width, height)
    }
}

fn pieces(number: &mut Numbers) -> Vec<Piece> {
    let piece = |number: &mut Numbers| Piece {
        grain: number.grain(),
        quantity: number.from(1, 3) as u32,
        ..Piece::new("piece", number.from(1, 7), number.from(1, 7))
    };
    (0..3).map(|_| piece(number)).collect()
}

fn saw(number: &mut Numbers) -> Saw {
    Saw { kerf: number.from(0, 2), trim: number.from(0, 2) }
}

/// Pieces twice as long or wide as wanted reach through whole boards as well as several to a board.
#[test]
fn patterns_of_one_board_are_the_best_there_are() {
    let mut number = Numbers(1);
    let (mut limited, mut turned) = (0, 0);
    for case in 0..cases(400) {
        let saw = saw(&mut number);
        let board = board(&mut number, &saw);
        let pieces = pieces(&mut number);
        let wanted: Vec<Wanted> = pieces
            .iter()
            .map(|piece| Wanted {
                piece: piece.clone(),
                copies: Quantity::Limited(piece.quantity),
                value: number.from(0, 20),
            })
            .collect();
        let worth = |set: usize| (0..3).map(|kind| i64::from(copies(set)[kind]) * wanted[kind].value).sum::<i64>();
        let allowed = |set: usize| (0..3).all(|kind| copies(set)[kind] <= pieces[kind].quantity);
        let sets = sets_of(&board, &pieces, &saw);
        let best = (0..64).filter(|&set| sets >> set & 1 == 1 && allowed(set)).map(worth).max().unwrap();
        let found = fill(&board, &wanted, &saw, &Goal::default(), &Effort::NORMAL, &Unwatched).expect("sound");
        let place = format!("case {case}: {board:?} {wanted:?} {saw:?} {found:?}");
        assert!(found.value <= i128::from(best) && found.bound >= i128::from(best), "best {best}, {place}");
        assert!(board.zones.len() > 1 || found.status == Status::ProvenBest, "best {best}, {place}");
        // The pattern is what it claims to be.
        let cut = found.board.iter().flat_map(|board| &board.placements);
        let mut made = pieces.clone();
        made.iter_mut().for_each(|piece| piece.quantity = 0);
        cut.clone().for_each(|placement| made[placement.piece].quantity += 1);
        let value: i64 = made.iter().zip(&wanted).map(|(piece, w)| w.value * i64::from(piece.quantity)).sum();
        assert_eq!(i128::from(value), found.value, "{place}");
        assert!(made.iter().zip(&pieces).all(|(made, piece)| made.quantity <= piece.quantity), "{place}");
        if let Some(cut) = &found.board {
            let boards = vec![cut.clone()];
            let status = Status::ProvenBest;
            let plan = Plan { boards, missing: Vec::new(), status, value: 1, bound: 1, work: 0 };
            check_plan(std::slice::from_ref(&board), &made, &saw, &Goal::default(), &plan)
                .expect("a plan without flaws");
        }
        limited += u32::from(made.iter().zip(&pieces).any(|(made, piece)| made.quantity == piece.quantity));
        turned += u32::from(found.board.is_some_and(|cut| cut.placements.iter().any(|it| it.turned)));
    }
    assert!(limited > 100 && turned > 100, "{limited} met a limit, {turned} turned a piece");
}

const OBJECTIVES: [Objective; 3] = [Objective::FewestBoards, Objective::LeastArea, Objective::LeastMoney];

/// What was compared: plans of everything at the best value, above it, and questions that cannot be answered.
#[derive(Debug, Default)]
struct Tally {
    best: u32,
    proven: u32,
    worse: u32,
    impossible: u32,
    said: u32,
}

impl Tally {
    fn compare(&mut self, best: Option<i128>, whole: bool, value: i128, bound: i128, status: Status, place: &str) {
        match best {
            Some(best) => {
                assert!(!matches!(status, Status::Impossible { .. }), "it can be done for {best}: {place}");
                assert!(bound <= best, "bound {bound}, best {best}: {place}");
                assert!(!whole || value >= best, "value {value}, best {best}: {place}");
                assert!(status != Status::ProvenBest || value == best, "value {value}, best {best}: {place}");
                self.best += u32::from(whole && value == best);
                self.worse += u32::from(!whole || value > best);
                self.proven += u32::from(status == Status::ProvenBest);
            }
            None => {
                assert!(!whole, "it cannot be done: {place}");
                self.impossible += 1;
                self.said += u32::from(matches!(status, Status::Impossible { .. }));
            }
        }
    }
}

#[test]
fn plans_of_boards_are_no_better_than_the_best_and_proofs_are_true() {
    let mut number = Numbers(2);
    let mut tally = Tally::default();
    for case in 0..cases(400) {
        let saw = saw(&mut number);
        let stock: Vec<Board> = (0..number.from(1, 3)).map(|_| board(&mut number, &saw)).collect();
        let mut pieces = pieces(&mut number);
        let is_grouped = number.from(0, 2) == 0;
        for piece in pieces.iter_mut().take(2).filter(|_| is_grouped) {
            piece.group = Some("all from one".to_owned());
        }
        let least = OBJECTIVES[number.from(0, 2) as usize];
        let kinds: Vec<(Sets, u32, i128)> = stock
            .iter()
            .map(|board| {
                let cost = match least {
                    Objective::FewestBoards => 1,
                    Objective::LeastArea => board.size.area(),
                    Objective::LeastMoney => i128::from(board.cost),
                };
                (sets_of(board, &pieces, &saw), board.quantity.at_most(u32::MAX), cost)
            })
            .collect();
        let group = [is_grouped, is_grouped, false];
        let best = cover(&kinds, [0, 1, 2].map(|kind: usize| pieces[kind].quantity), group);
        let goal = Goal { least, ..Goal::default() };
        let plan = cut(&stock, &pieces, &saw, &goal, &Effort::work(300_000), &Unwatched).expect("sound");
        check_plan(&stock, &pieces, &saw, &goal, &plan).expect("a plan without flaws");
        let place = format!("case {case}: {stock:?} {pieces:?} {saw:?} {least:?} {:?}", plan.status);
        tally.compare(best, plan.missing.is_empty(), plan.value, plan.bound, plan.status, &place);
    }
    println!("{tally:?}");
    assert!(tally.best > 100 && tally.impossible > 50 && tally.said > 10 && tally.proven > 50, "{tally:?}");
    assert!(tally.worse * 20 <= tally.best, "{tally:?}");
}

#[test]
fn plans_of_bars_are_no_better_than_the_best_and_proofs_are_true() {
    let mut number = Numbers(3);
    let mut tally = Tally::default();
    for case in 0..cases(1500) {
        let saw = saw(&mut number);
        let stock: Vec<Bar> = (0..number.from(1, 3))
            .map(|_| Bar {
                raw_ends: number.from(0, 1) == 0,
                quantity: if number.from(0, 2) == 0 {
                    Quantity::Unlimited
                } else {
                    Quantity::Limited(number.from(0, 3) as u32)
                },
                cost: number.from(0, 9),
                ..Bar::new("bar", number.from(5, 40))
            })
            .collect();
        let pieces: Vec<BarPiece> =
            (0..3).map(|_| BarPiece::new("length", number.from(1, 20), number.from(1, 3) as u32)).collect();
        let least = OBJECTIVES[number.from(0, 2) as usize];
        let kinds: Vec<(Sets, u32, i128)> = stock
            .iter()
            .map(|bar| {
                let room = bar.length - if bar.raw_ends { 2 * saw.trim } else { 0 };
                let fits = |set: &usize| {
                    let count = copies(*set);
                    let long: i64 = (0..3).map(|kind| i64::from(count[kind]) * pieces[kind].length).sum();
                    let cuts = (i64::from(count.iter().sum::<u32>()) - 1).max(0);
                    long + cuts * saw.kerf <= room
                };
                let sets = (0..64).filter(fits).fold(0, |sets, set| sets | 1 << set) | NOTHING;
                let cost = match least {
                    Objective::FewestBoards => 1,
                    Objective::LeastArea => i128::from(bar.length),
                    Objective::LeastMoney => i128::from(bar.cost),
                };
                (sets, bar.quantity.at_most(u32::MAX), cost)
            })
            .collect();
        let best = cover(&kinds, [0, 1, 2].map(|kind: usize| pieces[kind].quantity), [false; 3]);
        let goal = Goal { least, ..Goal::default() };
        let plan = cut_bars(&stock, &pieces, &saw, &goal, &Effort::work(300_000), &Unwatched).expect("sound");
        check_bars(&stock, &pieces, &saw, &goal, &plan).expect("a plan without flaws");
        let place = format!("case {case}: {stock:?} {pieces:?} {saw:?} {least:?} {:?}", plan.status);
        tally.compare(best, plan.missing.is_empty(), plan.value, plan.bound, plan.status, &place);
    }
    println!("{tally:?}");
    assert!(tally.best > 400 && tally.impossible > 100 && tally.said > 50 && tally.proven > 400, "{tally:?}");
    assert!(tally.worse * 25 <= tally.best, "{tally:?}");
}

/// The largest rest, in area, that the bought board of a question can keep at the least price: each size of rest is asked for as
/// one more piece that only a bought board can give.
fn largest_rest(stock: &[Board], pieces: &[Piece], saw: &Saw, useful: Size, least: i128) -> i128 {
    let wanted = [0, 1].map(|kind: usize| pieces[kind].quantity);
    let dearest =
        stock.iter().filter(|it| it.cost > 0).map(|it| it.size).max_by_key(|it| it.area()).unwrap_or_default();
    let mut sizes: Vec<Size> = (1..=dearest.width)
        .flat_map(|width| (1..=dearest.height).map(move |height| Size::new(width, height)))
        .filter(|it| it.width >= useful.width && it.height >= useful.height)
        .collect();
    sizes.sort_by_key(|it| -it.area());
    let possible = |size: &Size| {
        let mut asked = pieces.to_vec();
        asked.push(Piece { quantity: 1, ..Piece::new("rest", size.width, size.height) });
        let kinds: Vec<(Sets, u32, i128)> = stock
            .iter()
            .map(|board| {
                let sets = sets_of(board, &asked, saw);
                // Bits of sets with a rest begin at 16.
                let sets = if board.cost > 0 { sets } else { sets & 0xffff };
                (sets, board.quantity.at_most(u32::MAX), i128::from(board.cost))
            })
            .collect();
        cover(&kinds, [wanted[0], wanted[1], 1], [false; 3]) == Some(least)
    };
    sizes.iter().find(|it| possible(it)).map_or(0, |it| it.area())
}

/// Where something is bought, what lies in the workshop is used first: no rest of a bought board is larger than the largest
/// there is, and most are as large; and none is smaller than it would be if the kept boards were not there.
#[test]
fn kept_boards_are_used_first_and_the_rest_of_what_is_bought_is_large() {
    let mut number = Numbers(4);
    let (mut asked, mut reached, mut with_kept) = (0, 0, 0);
    for case in 0..cases(120) {
        let saw = Saw { kerf: number.from(0, 1), trim: 0 };
        let kept = |number: &mut Numbers| Board {
            quantity: Quantity::Limited(number.from(1, 2) as u32),
            ..Board::new("kept", number.from(2, 5), number.from(2, 5))
        };
        let mut stock: Vec<Board> = (0..number.from(1, 2)).map(|_| kept(&mut number)).collect();
        stock.push(Board { cost: 5, ..Board::new("bought", number.from(5, 8), number.from(5, 8)) });
        let pieces: Vec<Piece> = (0..2)
            .map(|_| Piece {
                quantity: number.from(1, 3) as u32,
                ..Piece::new("piece", number.from(1, 5), number.from(1, 5))
            })
            .collect();
        let useful = Size::new(1, 1);
        let kinds: Vec<(Sets, u32, i128)> = stock
            .iter()
            .map(|it| {
                (sets_of(it, &pieces_of_three(&pieces), &saw), it.quantity.at_most(u32::MAX), i128::from(it.cost))
            })
            .collect();
        let wanted = [pieces[0].quantity, pieces[1].quantity, 0];
        let Some(least) = cover(&kinds, wanted, [false; 3]).filter(|it| *it > 0) else { continue };
        let goal = Goal { least: Objective::LeastMoney, useful };
        let effort = Effort::work(5_000_000);
        let plan = cut(&stock, &pieces, &saw, &goal, &effort, &Unwatched).expect("sound");
        check_plan(&stock, &pieces, &saw, &goal, &plan).expect("a plan without flaws");
        let rest = |plan: &Plan, stock: &[Board]| {
            let bought = plan.boards.iter().filter(|it| stock[it.board].cost > 0);
            bought.flat_map(|it| &it.offcuts).filter(|it| it.useful).map(|it| it.rect.area()).max().unwrap_or(0)
        };
        let place = format!("case {case}: {stock:?} {pieces:?} {saw:?} {plan:?}");
        if plan.value != least {
            continue;
        }
        let (best, found) = (largest_rest(&stock, &pieces, &saw, useful, least), rest(&plan, &stock));
        assert!(found <= best, "{found} of {best}: {place}");
        let without = cut(&stock[stock.len() - 1..], &pieces, &saw, &goal, &effort, &Unwatched).expect("sound");
        assert!(without.value > plan.value || rest(&without, &stock[stock.len() - 1..]) <= found, "{place}");
        asked += 1;
        reached += u32::from(found == best);
        with_kept += u32::from(plan.boards.iter().any(|it| stock[it.board].cost == 0));
    }
    println!("{asked} asked, {reached} as large as can be, {with_kept} with kept boards");
    assert!(asked > 60 && with_kept * 3 > asked * 2 && reached * 20 >= asked * 19, "{asked} {reached} {with_kept}");
}

/// The same with a third kind that nobody wants.
fn pieces_of_three(pieces: &[Piece]) -> Vec<Piece> {
    let none = Piece { quantity: 0, ..Piece::new("none", 100, 100) };
    pieces.iter().cloned().chain(std::iter::once(none)).collect()
}
