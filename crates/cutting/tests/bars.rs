//! Bar plans on invented and random questions, each one through the independent checker.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "a test")]

use casewright_cutting::{
    Bar, BarPiece, BarPlan, Effort, Goal, Objective, Quantity, Saw, Status, Unwatched, check_bars, cut_bars,
};
use proptest::prelude::*;

fn plan(stock: &[Bar], pieces: &[BarPiece], saw: Saw, least: Objective) -> BarPlan {
    let goal = Goal { least, ..Goal::default() };
    let plan = cut_bars(stock, pieces, &saw, &goal, &Effort::work(300_000), &Unwatched).expect("a sound question");
    if let Err(flaws) = check_bars(stock, pieces, &saw, &goal, &plan) {
        panic!("{flaws:#?}\n{plan:#?}");
    }
    plan
}

/// Bars used and status for `(length, quantity)` on unlimited bars.
fn check(length: i64, kerf: i64, pieces: &[(i64, u32)], bars: i128, status: Status) {
    let pieces: Vec<BarPiece> = pieces.iter().map(|&(l, n)| BarPiece::new(format!("{l}"), l, n)).collect();
    let plan = plan(&[Bar::new("bar", length)], &pieces, Saw { kerf, trim: 0 }, Objective::FewestBoards);
    assert_eq!((plan.value, plan.status), (bars, status));
}

#[test]
fn the_kerf_counts_between_pieces_only() {
    check(100, 0, &[(50, 2)], 1, Status::ProvenBest);
    check(100, 1, &[(50, 2)], 2, Status::ProvenBest);
    check(101, 1, &[(50, 2)], 1, Status::ProvenBest);
}

#[test]
fn first_fit_is_not_enough_here() {
    // Falling lengths by best fit take three bars: 51 + 27, 51 + 27, rest.
    check(100, 0, &[(51, 2), (27, 2), (26, 1), (23, 1), (22, 2)], 3, Status::ProvenBest);
    check(100, 0, &[(44, 2), (24, 2), (32, 2)], 2, Status::ProvenBest);
}

#[test]
fn scarce_bars_are_used_where_they_pay() {
    let stock = [
        Bar { cost: 10, ..Bar::new("new", 100) },
        Bar { cost: 1, quantity: Quantity::Limited(1), ..Bar::new("offcut", 60) },
    ];
    let found =
        plan(&stock, &[BarPiece::new("a", 50, 3), BarPiece::new("b", 60, 0)], Saw::default(), Objective::LeastMoney);
    assert_eq!((found.value, found.status), (11, Status::ProvenBest));
}

#[test]
fn what_is_missing_is_said() {
    let stock = [Bar { quantity: Quantity::Limited(1), raw_ends: true, ..Bar::new("only", 100) }];
    let saw = Saw { kerf: 2, trim: 5 };
    let found = plan(&stock, &[BarPiece::new("a", 44, 3)], saw, Objective::FewestBoards);
    assert_eq!(found.status, Status::Impossible { area_short: 44 });
    assert_eq!(found.bars[0].offcut, None);
}

/// The fewest equal bars by trying everything.
fn brute(length: i64, pieces: &[i64]) -> usize {
    fn place(length: i64, pieces: &[i64], bars: &mut Vec<i64>, most: usize) -> bool {
        let Some((&first, rest)) = pieces.split_first() else { return true };
        for i in 0..bars.len() {
            if bars[i] + first <= length && !bars[..i].contains(&bars[i]) {
                bars[i] += first;
                if place(length, rest, bars, most) {
                    return true;
                }
                bars[i] -= first;
            }
        }
        if bars.len() < most {
            bars.push(first);
            if place(length, rest, bars, most) {
                return true;
            }
            bars.pop();
        }
        false
    }
    (0..=pieces.len()).find(|&most| place(length, pieces, &mut Vec::new(), most)).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn the_fewest_bars_are_found(length in 10i64..60, pieces in proptest::collection::vec(1i64..40, 1..9)) {
        let pieces: Vec<i64> = pieces.into_iter().filter(|&p| p <= length).collect();
        let wanted: Vec<BarPiece> = pieces.iter().map(|&l| BarPiece::new("p", l, 1)).collect();
        let found = plan(&[Bar::new("bar", length)], &wanted, Saw::default(), Objective::FewestBoards);
        prop_assert_eq!(found.value, brute(length, &pieces) as i128);
        prop_assert!(found.bound <= found.value);
    }

    #[test]
    fn every_plan_passes_the_checker(
        bars in proptest::collection::vec((1i64..100, 0u32..5, 0i64..9, any::<bool>()), 0..4),
        pieces in proptest::collection::vec((1i64..60, 0u32..6), 0..10),
        kerf in 0i64..4, trim in 0i64..6, goal in 0u8..3,
    ) {
        let stock: Vec<Bar> = bars
            .into_iter()
            .map(|(length, n, cost, raw_ends)| Bar {
                cost,
                raw_ends,
                quantity: if n == 4 { Quantity::Unlimited } else { Quantity::Limited(n) },
                ..Bar::new("bar", length)
            })
            .collect();
        let pieces: Vec<BarPiece> = pieces.into_iter().map(|(l, n)| BarPiece::new("p", l, n)).collect();
        let least = [Objective::FewestBoards, Objective::LeastArea, Objective::LeastMoney][goal as usize];
        let saw = Saw { kerf, trim };
        let found = plan(&stock, &pieces, saw, least);
        prop_assert!(!found.missing.is_empty() || found.bound <= found.value);
        prop_assert_eq!(found, plan(&stock, &pieces, saw, least));
    }
}

/// Prices of the programme were made whole numbers that did not fit 64 bits when cost is length in nanometres.
#[test]
fn bars_in_nanometres_are_planned_by_length() {
    let mm = 1_000_000;
    let stock = [
        Bar { quantity: Quantity::Limited(2), ..Bar::new("rest", 2740 * mm) },
        Bar { quantity: Quantity::Limited(1), ..Bar::new("offcut", 1333 * mm) },
        Bar::new("new", 5800 * mm),
    ];
    let lengths = [(1870, 3), (1210, 2), (905, 4), (633, 5), (417, 3)];
    let pieces = lengths.map(|(length, n)| BarPiece::new(format!("{length}"), length * mm, n));
    let saw = Saw { kerf: 3_200_000, trim: 0 };
    let found = plan(&stock, &pieces, saw, Objective::LeastArea);
    assert!(found.missing.is_empty());
    // The same question in tenths of a millimetre has the same answer.
    let coarse = |x: i64| x / 100_000;
    let stock = stock.map(|bar| Bar { length: coarse(bar.length), ..bar });
    let pieces = pieces.map(|piece| BarPiece { length: coarse(piece.length), ..piece });
    let again = plan(&stock, &pieces, Saw { kerf: 32, trim: 0 }, Objective::LeastArea);
    assert_eq!(found.value, again.value * 100_000);
    assert!((found.bound - again.bound * 100_000).abs() <= 100_000, "{} {}", found.bound, again.bound);
}

/// The longest bar, the shortest piece and the highest price that are accepted.
#[test]
fn the_largest_numbers_are_no_overflow() {
    let long = 1_000_000_000_000;
    let stock =
        [Bar { cost: i64::MAX, ..Bar::new("dear", long) }, Bar { cost: i64::MAX, ..Bar::new("long", long / 2) }];
    let pieces =
        [BarPiece::new("half", long / 2 + 1, 3), BarPiece::new("crumb", 1, 1), BarPiece::new("third", long / 3, 2)];
    for least in [Objective::FewestBoards, Objective::LeastArea, Objective::LeastMoney] {
        let found = plan(&stock, &pieces, Saw::default(), least);
        assert!(found.missing.is_empty() && found.bound <= found.value && found.bars.len() == 3, "{found:?}");
    }
}
