//! Proposals in the window: searched in the background, compared, taken over in one step.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

/// Does something from the list of commands.
fn find(desk: &mut Desk, words: &str) {
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", words);
}

#[test]
fn a_proposal_is_taken_over_and_taken_back() {
    let mut desk = Desk::open();
    let before = desk.app().design().clone();
    desk.click("Propose carcasses");
    let count = desk.app().gallery().proposals().count();
    assert!(count >= 2, "{count}");
    assert!(desk.sees("Proposals for the carcass") && desk.sees("Proposal 1") && desk.sees("Proposal 2"));
    let second = desk.app().gallery().proposals().nth(1).unwrap().design.clone();
    assert_ne!(second, before);

    // Two are compared, with a table of what is better in each.
    for name in ["Compare: Proposal 1", "Compare: Proposal 2"] {
        desk.click(name);
    }
    assert!(desk.sees("fewest panel lines") && desk.sees("✔") && !desk.sees("Proposal 3"));
    desk.click("Show all again");

    desk.click("Adopt: Proposal 2");
    assert_eq!(*desk.app().design(), second);
    assert!(!desk.sees("Proposals for the carcass"), "the drawing is shown again");
    desk.click("Undo");
    assert_eq!(*desk.app().design(), before, "one step");
    desk.click("Redo");
    assert_eq!(*desk.app().design(), second);
}

#[test]
fn one_bay_alone_is_divided_anew() {
    let mut desk = Desk::open();
    // Without a bay there is nothing to divide.
    find(&mut desk, "propose divisions");
    assert_eq!(desk.app().gallery().proposals().count(), 0);
    desk.click("Bay dry side in the list");
    find(&mut desk, "propose divisions");
    assert!(desk.sees("Proposals for dry side"));
    let all: Vec<_> = desk.app().gallery().proposals().map(|it| it.design.clone()).collect();
    assert!(!all.is_empty());
    let wet = |design: &casewright_core::design::Design| design.carcass.bay.named("wet side").cloned();
    assert!(all.iter().all(|it| wet(it) == wet(desk.app().design())), "the rest stays");
}

#[test]
fn it_speaks_german() {
    let mut desk = Desk::open();
    find(&mut desk, "deutsch");
    desk.click("Korpus vorschlagen");
    assert!(desk.sees("Vorschläge für den Korpus") && desk.sees("Übernehmen") && desk.sees("Teile"));
    assert!(desk.harness.query_by_label_contains("parts").is_none(), "no English is left");
}
