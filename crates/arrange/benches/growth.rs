//! How proposing grows with the number of things: crates, tubs and an appliance in a long low cabinet.
//! `cargo bench -p casewright-arrange --bench growth`.
#![allow(clippy::panic, reason = "a bench that cannot begin has nothing to measure")]

use casewright_arrange::{Effort, Request, Unwatched, propose, search};
use casewright_core::design::Design;

fn main() {
    divan::main();
}

/// Invented things, no two of one size, in a cabinet that grows with them.
fn request(count: usize) -> Request {
    let thing = |i: usize| {
        let (width, height) = (280 + 37 * (i * 5 % 7), 160 + 29 * (i * 3 % 8));
        let kind = ["Crate", "Container", "Other"][i % 3];
        format!("\"thing {i}\": (kind: {kind}, size: ({width}, {height}, 400), mass_kg: {i}, may_turn: true)")
    };
    let things: Vec<String> = (0..count).map(thing).collect();
    let text = format!(
        "(schema: 1, title: \"t\", unit: Millimetre(step: 0.5), things: {{{}}},
          materials: {{\"ply\": (thickness: 18, kind: Plywood)}},
          fittings: {{\"slide 450\": Slide(mount: Side, length: 450, side_space: 12.7, height: 45, load_kg: 35)}},
          carcass: (envelope: (width: Fixed({}), height: Fixed(1200), depth: Fixed(520)), construction: (board: \"ply\"),
          bay: (name: \"all\", inside: Open())))",
        things.join(", "),
        500 + 210 * count
    );
    let design = Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}"));
    Request::of(&design, None).unwrap_or_else(|error| panic!("{error}"))
}

const COUNTS: [usize; 5] = [4, 6, 8, 10, 12];

#[divan::bench(args = COUNTS, sample_count = 5, sample_size = 1)]
fn proposals(bencher: divan::Bencher<'_, '_>, count: usize) {
    let request = request(count);
    bencher.bench(|| propose(&request, Effort::NORMAL, &Unwatched).map(|it| it.proposals.len()));
}

#[divan::bench(args = COUNTS, sample_count = 20, sample_size = 1)]
fn derive_one(bencher: divan::Bencher<'_, '_>, count: usize) {
    let first = first(count);
    bencher.bench(|| casewright_core::pipeline::derive(&first.design).is_ok());
}

#[divan::bench(args = COUNTS, sample_count = 20, sample_size = 1)]
fn judge_one(bencher: divan::Bencher<'_, '_>, count: usize) {
    let first = first(count);
    bencher.bench(|| casewright_arrange::criteria::judge(&first.derived));
}

fn first(count: usize) -> casewright_arrange::Proposal {
    let effort = Effort { beam: 2, tries: 4 };
    let mut found = propose(&request(count), effort, &Unwatched).unwrap_or_else(|error| panic!("{error}")).proposals;
    found.swap_remove(0)
}

#[divan::bench(args = COUNTS, sample_count = 5, sample_size = 1)]
fn search_alone(bencher: divan::Bencher<'_, '_>, count: usize) {
    let request = request(count);
    let all = (1 << count) - 1;
    bencher.bench(|| search(&request, request.place.room, Effort::NORMAL.beam, Some(all), &Unwatched).fits(all));
}
