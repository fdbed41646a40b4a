//! How long the window takes for one frame while a divider is dragged, with the demo and with 300 bays: the time that its
//! own thread is at work (solving, checks and drawing views go on in others), without the painting of the graphics card.
//! `cargo test --release -p casewright-desktop --test frames -- --nocapture` gives the figures of docs/benchmarks.md.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;
#[path = "support/walls.rs"]
mod walls;

use std::path::{Path, PathBuf};
use std::time::Duration;

use egui_kittest::kittest::Queryable;
use support::watched;
use walls::wall_of_bays;

thread_local! {
    static FRAMES: std::cell::RefCell<Vec<Duration>> = const { std::cell::RefCell::new(Vec::new()) };
}

/// Frames while a divider is dragged there and back; the half of them took no longer than the first time given back, 99
/// of a hundred no longer than the second, and none longer than the third.
fn dragged(file: PathBuf, divider: &str) -> [Duration; 3] {
    let state = file.with_extension("state");
    let mut harness = watched(Some(file), state, |frame| FRAMES.with_borrow_mut(|frames| frames.push(frame)));
    for _ in 0..4 {
        harness.state_mut().as_mut().unwrap().settle();
        harness.run_steps(3);
    }
    let handle = harness.get_by_label(divider).rect();
    let from = egui::pos2(handle.center().x, handle.top() + 8.0);
    FRAMES.with_borrow_mut(Vec::clear);
    harness.drag_at(from);
    harness.run_steps(2);
    for step in 0..100_u8 {
        let away = f32::from(step % 25).min(25.0 - f32::from(step % 25));
        harness.hover_at(from + egui::vec2(away * 2.0, 0.0));
        harness.run_steps(1);
        if step % 5 == 0 {
            // What was worked out meanwhile comes in, as it would in a slower hand.
            harness.state_mut().as_mut().unwrap().settle();
        }
    }
    harness.drop_at(from);
    harness.run_steps(2);
    let mut frames = FRAMES.with_borrow(Clone::clone);
    frames.sort();
    let at = |percent: usize| frames[(frames.len() - 1) * percent / 100];
    [at(50), at(99), at(100)]
}

#[test]
fn no_frame_of_the_demo_takes_long() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("alcove.ron");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/laundry-alcove.ron"), &file).unwrap();
    let [middle, most, longest] = dragged(file, "Divider between dryer bay and middle");
    println!("demo: half of the frames within {middle:?}, 99 % within {most:?}, all within {longest:?}");
    // The goal is 16 ms as it is shipped; without optimisation everything takes many times longer.
    let limit = if cfg!(debug_assertions) { 250 } else { 16 };
    assert!(longest < Duration::from_millis(limit), "a frame took {longest:?}");
}

#[test]
fn frames_with_three_hundred_bays() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("wall.ron");
    std::fs::write(&file, wall_of_bays(30).to_ron().unwrap()).unwrap();
    let [middle, most, longest] = dragged(file, "Divider between column 3 and column 4");
    println!("300 bays: half of the frames within {middle:?}, 99 % within {most:?}, all within {longest:?}");
    let limit = if cfg!(debug_assertions) { 2000 } else { 100 };
    assert!(longest < Duration::from_millis(limit), "a frame took {longest:?}");
}
