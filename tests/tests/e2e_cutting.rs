//! Cutting plans of random designs from random stock, checked by rules that share nothing with the planning; the replay of the
//! saw cuts in crate `cutting` checks them as well, in every debug build.

use std::cell::Cell;

use casewright_core::Length;
use casewright_core::assembly::{Grain, Part};
use casewright_core::design::{Board, BoardSource, Resolved, Role};
use casewright_core::pipeline::{Derived, derive};
use casewright_core::stock::CuttingPlan;
use casewright_cutting::Effort;
use casewright_stock::{PlanOptions, plan};
use casewright_tests::invariants::written;
use casewright_tests::random_design;
use casewright_tests::sound_plan::sound;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

const CASES: u32 = 300;

fn mm(range: std::ops::Range<i64>) -> impl Strategy<Value = Length> {
    range.prop_map(|tenths| Length::from_um(tenths * 100))
}

/// What there is in a workshop: sheets to buy, counted offcuts, old panels that are spoilt along their edges, panels that
/// serve one role, boards with holes in their middle.
fn board() -> impl Strategy<Value = Board<Length>> {
    let material = prop_oneof![3 => Just("main"), 1 => Just("thin")];
    let quantity = prop_oneof![1 => Just(None), 3 => (1..5_u32).prop_map(Some)];
    let source = prop_oneof![Just(BoardSource::New), Just(BoardSource::Offcut), Just(BoardSource::Salvaged)];
    let edge = || mm(0..400);
    let spoilt = prop::option::weighted(0.3, (edge(), edge(), edge(), edge()));
    let role =
        prop_oneof![4 => Just(Vec::new()), 1 => Just(vec![Role::Shelf]), 1 => Just(vec![Role::Side, Role::Upright])];
    let price = prop::option::of((1..90_u8).prop_map(f64::from));
    (material, mm(3000..28_000), mm(1000..20_700), quantity, source, spoilt, prop::bool::weighted(0.15), role, price)
        .prop_map(|(material, length, width, quantity, source, spoilt, holed, only_for, price)| {
            // A hole in the middle leaves a good rectangle on both sides of it.
            let third = Length::from_mm(length.nm() / 3_000_000);
            let good = if holed {
                vec![
                    (Length::ZERO, Length::ZERO, third, width),
                    (third + third, Length::ZERO, length - third - third, width),
                ]
            } else {
                Vec::new()
            };
            let spoilt = if holed { None } else { spoilt };
            Board { quantity, source, spoilt, good, only_for, price, ..Board::new("", material, (length, width)) }
        })
}

fn stocked() -> impl Strategy<Value = Resolved> {
    (random_design::design(), prop::collection::vec(board(), 0..7)).prop_map(|(mut design, mut boards)| {
        for (number, board) in boards.iter_mut().enumerate() {
            board.name = format!("board {}", number + 1);
        }
        design.boards = boards;
        design
    })
}

/// Whether a sheet that can be bought without number surely holds a part: 20 mm are left for edges and saw.
fn surely_held(board: &Board<Length>, part: &Part) -> bool {
    let spare = Length::from_mm(20);
    let plain =
        board.quantity.is_none() && board.spoilt.is_none() && board.good.is_empty() && board.only_for.is_empty();
    let fits = |along: Length, across: Length| along + spare <= board.size.0 && across + spare <= board.size.1;
    let (length, width) = (part.cut.length, part.cut.width);
    plain
        && board.material == part.material
        && (fits(length, width) || (part.grain == Grain::None && fits(width, length)))
}

fn looked_at(work: &Derived, plan: &CuttingPlan) {
    sound(work, plan);
    for part in plan.missing().into_iter().map(|it| &work.assembly.parts[it]) {
        let held = work.design.boards.iter().find(|it| surely_held(it, part));
        assert!(held.is_none(), "{} is missing, but {} holds it", part.number, held.map_or("", |it| &it.name));
    }
    for lot in &plan.lots {
        let says_short = lot.quality.is_short();
        assert_eq!(says_short, !lot.missing.is_empty(), "{:?} of {:?}", lot.quality, lot.missing);
    }
}

#[test]
fn plans_of_random_designs_are_sound() {
    random_design::with_room(run);
}

fn run() {
    let (whole, short) = (Cell::new(0_u32), Cell::new(0_u32));
    let config = Config { cases: CASES, failure_persistence: None, max_shrink_iters: 300, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let options = PlanOptions { effort: Effort::work(300_000), spare: None, ..PlanOptions::default() };
    let outcome = runner.run(&stocked(), |design| {
        let Ok(Some(design)) = written::design(&design) else { return Ok(()) };
        let Ok(work) = derive(&design) else { return Ok(()) };
        let made = plan(&work.design, &work.assembly, &options).map_err(|it| TestCaseError::fail(it.to_string()))?;
        looked_at(&work, &made);
        let again = plan(&work.design, &work.assembly, &options).map_err(|it| TestCaseError::fail(it.to_string()))?;
        prop_assert_eq!(&made, &again, "the same effort gives the same plan");
        let count = if made.missing().is_empty() { &whole } else { &short };
        count.set(count.get() + 1);
        Ok(())
    });
    outcome.unwrap_or_else(|error| panic!("{error}"));
    let (whole, short) = (whole.get(), short.get());
    println!("{whole} plans of everything, {short} with parts missing");
    assert!(whole >= CASES / 20 && short >= CASES / 20, "{whole} whole, {short} short: too few of one kind");
}
