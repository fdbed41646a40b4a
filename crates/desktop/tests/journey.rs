//! The whole journey by accessible names: from an empty page to the written pack. And random actions (200, or as
//! many as `CASEWRIGHT_ACTIONS` says), after which the window still stands and every frame was quick.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use std::time::{Duration, Instant};

use casewright_desktop::App;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use support::{click, settle, watched, write};

type Window = Harness<'static, Option<App>>;

thread_local! {
    /// The longest that the window took to build one frame.
    static SLOWEST: std::cell::Cell<Duration> = const { std::cell::Cell::new(Duration::ZERO) };
}

fn window(file: Option<std::path::PathBuf>, state: std::path::PathBuf) -> Window {
    watched(file, state, |frame| SLOWEST.set(SLOWEST.get().max(frame)))
}

/// Presses a control as a screen reader would, wherever it lies.
fn press(harness: &mut Window, name: &str) {
    harness.get_by_label(name).click_accesskit();
    settle(harness);
}

#[test]
fn from_an_empty_page_to_the_written_pack() {
    let folder = tempfile::tempdir().unwrap();
    let state = folder.path().join("state");
    // Recent files tell the chooser where to begin.
    let near = folder.path().join("near.ron");
    std::fs::write(&near, "").unwrap();
    let mut settings = casewright_desktop::files::settings::Settings::default();
    settings.remember(&near);
    settings.keep(&state).unwrap();

    let mut harness = window(None, state);
    write(&mut harness, "Width of the room", "1400");
    write(&mut harness, "Height of the room", "1500");
    for _ in 0..2 {
        click(&mut harness, "One more: container 600 × 400");
    }
    click(&mut harness, "One more: washing machine or dryer");
    write(&mut harness, "Name", "tool box");
    write(&mut harness, "Width of your own", "420");
    write(&mut harness, "Height of your own", "200");
    write(&mut harness, "Depth of your own", "250");
    click(&mut harness, "Add it");
    click(&mut harness, "Draw a first carcass");
    let app = harness.state().as_ref().unwrap();
    assert_eq!(app.latest().unwrap().troubles, []);
    assert_eq!(app.design().things.len(), 4);

    press(&mut harness, "Bay open");
    click(&mut harness, "Divide by a shelf");
    click(&mut harness, "Bay open in the list");
    press(&mut harness, "Height of open on the drawing");
    write(&mut harness, "Height of open on the drawing", "250");
    let layout = harness.state().as_ref().unwrap().good().unwrap().layout.clone().unwrap();
    let height = layout.bay("open").unwrap().clear.size(casewright_core::geometry::Axis::Y);
    assert_eq!(height, casewright_core::length::Length::from_mm(250));
    press(&mut harness, "Free again: Height of open on the drawing");
    harness.key_press(egui::Key::Escape);
    settle(&mut harness);
    write(&mut harness, "Title", "First try");

    click(&mut harness, "Save");
    write(&mut harness, "File name", "first try");
    let file = folder.path().canonicalize().unwrap().join("first try.ron");
    let saved = casewright_core::design::Design::from_ron(&std::fs::read_to_string(&file).unwrap()).unwrap();
    assert_eq!(&saved, harness.state().as_ref().unwrap().design());

    click(&mut harness, "Sheets");
    assert!(harness.query_all_by_label_contains("Sheet 1 of").next().is_some());
    click(&mut harness, "Next sheet");
    click(&mut harness, "As PDF…");
    harness.check_accessibility();
    write(&mut harness, "File name", "first try");
    let pdf = file.with_extension("pdf");
    let began = Instant::now();
    while !pdf.exists() {
        assert!(began.elapsed() < Duration::from_secs(60), "no PDF was written");
        std::thread::sleep(Duration::from_millis(50));
        settle(&mut harness);
    }
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF-"));
}

/// A small generator that gives the same actions every time (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % most as u64) as usize
    }
}

#[test]
fn random_actions_leave_the_window_standing() {
    let count = std::env::var("CASEWRIGHT_ACTIONS").ok().and_then(|count| count.parse().ok()).unwrap_or(200);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("alcove.ron");
    std::fs::copy(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/alcove.ron"), &file).unwrap();
    let mut harness = window(Some(file), folder.path().join("state"));
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    let keys = [
        egui::Key::A,
        egui::Key::U,
        egui::Key::M,
        egui::Key::B,
        egui::Key::E,
        egui::Key::X,
        egui::Key::T,
        egui::Key::N,
        egui::Key::W,
        egui::Key::H,
        egui::Key::Num1,
        egui::Key::Num2,
        egui::Key::Num3,
        egui::Key::Num4,
        egui::Key::Num5,
        egui::Key::Num6,
        egui::Key::PageDown,
        egui::Key::PageUp,
        egui::Key::Backspace,
        egui::Key::Insert,
        egui::Key::Delete,
        egui::Key::Escape,
        egui::Key::Tab,
        egui::Key::Enter,
        egui::Key::ArrowUp,
        egui::Key::Home,
        egui::Key::F3,
        egui::Key::F2,
    ];
    for _ in 0..count {
        match dice.below(10) {
            0..=3 => harness.key_press(keys[dice.below(keys.len())]),
            4 => {
                let undo = if dice.below(3) == 0 { egui::Key::Y } else { egui::Key::Z };
                harness.key_press_modifiers(egui::Modifiers::COMMAND, undo);
            }
            5..=6 => {
                let at = egui::pos2(dice.below(1440) as f32, dice.below(900) as f32);
                let to = egui::pos2(dice.below(1440) as f32, dice.below(900) as f32);
                harness.drag_at(at);
                harness.run_steps(1);
                harness.hover_at(to);
                harness.run_steps(1);
                harness.drop_at(to);
            }
            7 => harness.event(egui::Event::Text(["5", "0", "x", " ", "1/2", "ä"][dice.below(6)].to_owned())),
            _ => {
                let at = egui::pos2(dice.below(1440) as f32, dice.below(900) as f32);
                harness.hover_at(at);
                harness.run_steps(1);
                harness.drag_at(at);
                harness.run_steps(1);
                harness.drop_at(at);
            }
        }
        harness.run_steps(1);
    }
    settle(&mut harness);
    let slowest = SLOWEST.get();
    println!("{count} actions, slowest frame without painting: {slowest:?}");
    // In a debug build; a stall of the window would be the pipeline's seconds, not a frame's.
    assert!(slowest < Duration::from_millis(500), "a frame took {slowest:?}");
}
