//! All checks of a built piece: each demo, and a made-up wall of 300 bays; and one answer to a what-if question.
//!
//! `cargo bench -p casewright-core --bench checks`. The figures are in docs/benchmarks.md.
#![allow(clippy::expect_used, reason = "a benchmark of a design that does not build measures nothing")]

#[path = "../tests/wall_of_bays/mod.rs"]
mod wall_of_bays;

use casewright_core::checks::{self, CheckOptions, WhatIf};
use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use casewright_core::routes::routes;
use casewright_core::{build_plan, jigs};
use divan::{Bencher, black_box};
use wall_of_bays::wall_of_bays;

const DEMOS: [&str; 3] = ["laundry-alcove", "container-trolley", "alcove-bookcase"];

fn main() {
    divan::main();
}

fn derived(text: &str) -> Derived {
    derive(&Design::from_ron(text).expect("a design")).expect("a piece")
}

fn demo(name: &str) -> Derived {
    let path = format!("{}/../../demo/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    derived(&std::fs::read_to_string(path).expect("a demo"))
}

fn check_all(bencher: Bencher<'_, '_>, it: &Derived) {
    let options = CheckOptions::of(&it.design);
    bencher.bench_local(|| black_box(checks::all(&it.design, &it.layout, &it.assembly, black_box(&options))));
}

#[divan::bench(args = DEMOS)]
fn all_checks(bencher: Bencher<'_, '_>, name: &str) {
    check_all(bencher, &demo(name));
}

#[divan::bench]
fn all_checks_of_300_bays(bencher: Bencher<'_, '_>) {
    let it = derived(&wall_of_bays(30, 10));
    assert_eq!(it.layout.bays.iter().filter(|it| it.is_leaf).count(), 300);
    check_all(bencher, &it);
}

/// The ways of leads, on every edit; of the demos only the laundry alcove has a lead.
#[divan::bench]
fn ways_of_leads(bencher: Bencher<'_, '_>) {
    let it = demo("laundry-alcove");
    assert_eq!(it.leads.len(), 1);
    bencher.bench_local(|| black_box(routes(&it.design, &it.layout, black_box(&it.assembly))));
}

#[divan::bench]
fn what_if(bencher: Bencher<'_, '_>) {
    let it = demo("laundry-alcove");
    let open = it.assembly.movers.iter().map(|it| it.id.clone()).collect();
    let ask = WhatIf { open, options: CheckOptions::of(&it.design), ..WhatIf::default() };
    bencher.bench_local(|| black_box(checks::what_if(&it.design, &it.layout, &it.assembly, black_box(&ask))));
}

/// The order of work, on every edit for what comes together in no order.
#[divan::bench(args = DEMOS)]
fn order_of_work(bencher: Bencher<'_, '_>, name: &str) {
    let it = demo(name);
    bencher.bench_local(|| black_box(build_plan::plan(&it.design, &it.layout, &it.assembly, &it.leads)));
}

#[divan::bench]
fn order_of_work_of_300_bays(bencher: Bencher<'_, '_>) {
    let it = derived(&wall_of_bays(30, 10));
    bencher.bench_local(|| black_box(build_plan::plan(&it.design, &it.layout, &it.assembly, &it.leads)));
}

/// The drilling blocks, on every edit for the datum check.
#[divan::bench]
fn blocks_of_300_bays(bencher: Bencher<'_, '_>) {
    let it = derived(&wall_of_bays(30, 10));
    bencher.bench_local(|| black_box(jigs::plan(&it.assembly)));
}

#[divan::bench(args = DEMOS)]
fn blocks(bencher: Bencher<'_, '_>, name: &str) {
    let it = demo(name);
    bencher.bench_local(|| black_box(jigs::plan(&it.assembly)));
}
