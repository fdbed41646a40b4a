//! The order of work in the window: its steps are ticked, kept with the design, and taken back one by one.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::design::Design;
use casewright_core::pipeline::derive;
use support::{Desk, settle};

#[test]
fn steps_are_ticked_kept_and_taken_back() {
    let mut desk = Desk::tall();
    desk.harness.key_press(egui::Key::F4);
    settle(&mut desk.harness);
    let before = desk.app().design().clone();
    let derived = derive(&before).unwrap();
    let steps = derived.order_of_work().steps.clone();
    let first = &steps[0];
    assert!(desk.sees(&format!("0 of {} steps done", steps.len())));
    // The step says what it brings together, and what it needs.
    let label = format!("1  Glue-up: {}", first.title);
    assert!(desk.sees(&label) && desk.sees("parts at hand"), "{label}");
    desk.click(&label);
    assert_eq!(desk.app().design().progress.steps, std::slice::from_ref(&first.id));
    assert!(desk.sees(&format!("1 of {} steps done", steps.len())));
    // What is saved is what the sheets read.
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
    settle(&mut desk.harness);
    let saved = Design::from_ron(&std::fs::read_to_string(&desk.file).unwrap()).unwrap();
    assert_eq!(saved.progress.steps, std::slice::from_ref(&first.id));
    desk.click("Undo");
    assert_eq!(*desk.app().design(), before);
    // Ticked again and taken off by hand.
    desk.click(&label);
    desk.click(&label);
    assert_eq!(desk.app().design().progress.steps, Vec::<String>::new());
}

#[test]
fn it_speaks_german() {
    let mut desk = Desk::tall();
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", "deutsch");
    desk.click("Schritte");
    assert!(desk.sees("Schritten erledigt") && desk.sees("Verleim"), "in German");
    assert!(!desk.sees("parts at hand"), "nothing is left in English");
}
