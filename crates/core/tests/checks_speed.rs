//! How long all checks take: on the demos at most 2 ms, on 300 bays at most 30 ms. Timing says something only in release:
//! `cargo test --release -p casewright-core --test checks_speed -- --ignored --nocapture`.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

mod wall_of_bays;

use std::time::{Duration, Instant};

use casewright_core::checks::{self, CheckOptions};
use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use wall_of_bays::wall_of_bays;

fn derived(text: &str) -> Derived {
    let design = Design::from_ron(text).unwrap_or_else(|faults| panic!("{faults:?}"));
    derive(&design).unwrap_or_else(|error| panic!("{error}"))
}

/// The middle of eleven runs.
fn time(it: &Derived) -> Duration {
    let options = CheckOptions::default();
    let mut runs: Vec<Duration> = (0..11)
        .map(|_| {
            let start = Instant::now();
            assert!(!checks::all(&it.design, &it.layout, &it.assembly, &options).is_empty());
            start.elapsed()
        })
        .collect();
    runs.sort();
    runs[5]
}

#[test]
fn small_wall_is_checked() {
    let it = derived(&wall_of_bays(3, 10));
    assert_eq!(it.layout.bays.iter().filter(|it| it.is_leaf).count(), 30);
    let findings = checks::all(&it.design, &it.layout, &it.assembly, &CheckOptions::default());
    assert!(findings.iter().any(|it| it.check == "rack.sideways"), "{findings:?}");
}

#[test]
fn the_order_of_work_is_looked_for_once() {
    let small = derived(&wall_of_bays(1, 10));
    assert!(small.order.get().is_some(), "{} parts", small.assembly.parts.len());
    // More parts than a person waits for: only when it is asked for, and then kept.
    let large = derived(&wall_of_bays(3, 10));
    assert!(large.order.get().is_none(), "{} parts", large.assembly.parts.len());
    assert!(std::ptr::eq(large.order_of_work(), large.order_of_work()));
    assert!(!large.order_of_work().steps.is_empty());
}

#[test]
#[ignore = "timing: deriving against the order of work, 100 and 300 bays"]
fn how_long_the_order_of_work_takes() {
    for columns in [3, 10, 30] {
        let design = Design::from_ron(&wall_of_bays(columns, 10)).unwrap_or_else(|faults| panic!("{faults:?}"));
        let start = Instant::now();
        let it = derive(&design).unwrap_or_else(|error| panic!("{error}"));
        let deriving = start.elapsed();
        let start = Instant::now();
        let steps = it.order_of_work().steps.len();
        let order = start.elapsed();
        let start = Instant::now();
        assert_eq!(it.order_of_work().steps.len(), steps);
        println!(
            "{} bays, {} parts: derived {deriving:?}, order of work {order:?}, asked again {:?}",
            columns * 10,
            it.assembly.parts.len(),
            start.elapsed()
        );
    }
}

#[test]
#[ignore = "timing, in release only"]
fn checks_are_fast() {
    let demos = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo");
    let mut paths: Vec<_> = std::fs::read_dir(demos).unwrap().map(|it| it.unwrap().path()).collect();
    paths.sort();
    for path in paths.iter().filter(|it| it.extension().is_some_and(|it| it == "ron")) {
        let taken = time(&derived(&std::fs::read_to_string(path).unwrap()));
        println!("{}: {taken:?}", path.display());
        assert!(taken <= Duration::from_millis(2), "{taken:?}");
    }
    let it = derived(&wall_of_bays(30, 10));
    assert_eq!(it.layout.bays.iter().filter(|it| it.is_leaf).count(), 300);
    let taken = time(&it);
    println!("300 bays, {} parts: {taken:?}", it.assembly.parts.len());
    assert!(taken <= Duration::from_millis(30), "{taken:?}");
}
