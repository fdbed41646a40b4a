//! The start page: what is written down counts, and can be taken back; and lists that drop down, by keyboard alone.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::design::ObstacleKind;
use egui_kittest::kittest::Queryable;
use support::{Desk, click, settle, window, write};

fn measure(
    harness: &mut egui_kittest::Harness<'static, Option<casewright_desktop::App>>,
    whose: &str,
    sizes: [&str; 3],
) {
    for (axis, size) in ["Width", "Height", "Depth"].into_iter().zip(sizes) {
        write(harness, &format!("{axis} of {whose}"), size);
    }
}

#[test]
fn what_is_written_down_counts_even_where_nobody_pressed_the_button_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(None, folder.path().join("state"));
    // Two crates of one kind; a third kind is taken back again.
    write(&mut harness, "Name", "peg box");
    write(&mut harness, "Weighs", "4,5");
    measure(&mut harness, "your own", ["300", "200", "250"]);
    click(&mut harness, "Add it");
    click(&mut harness, "One more: peg box");
    write(&mut harness, "Name", "mistake");
    measure(&mut harness, "your own", ["300", "200", "250"]);
    click(&mut harness, "Add it");
    click(&mut harness, "One fewer: mistake");
    // Two entries are left as they are written, without a click on their buttons.
    write(&mut harness, "Name", "tumble dryer");
    write(&mut harness, "Weighs", "48");
    measure(&mut harness, "your own", ["598", "848", "610"]);
    measure(&mut harness, "what is in the way", ["900", "600", "110"]);
    click(&mut harness, "Draw a first carcass");
    let app = harness.state().as_ref().unwrap();
    let things: Vec<(&str, f64)> = app.design().things.iter().map(|it| (it.0.as_str(), it.1.mass_kg)).collect();
    assert_eq!(things, [("tumble dryer", 48.0), ("peg box", 4.5), ("peg box 2", 4.5)]);
    let kinds: Vec<ObstacleKind> = app.design().site.obstacles.iter().map(|it| it.kind).collect();
    assert_eq!(kinds, [ObstacleKind::Radiator]);
}

#[test]
fn a_list_that_drops_down_closes_when_one_is_taken_by_keyboard() {
    let mut desk = Desk::tall();
    let list = |desk: &Desk| desk.harness.query_all_by_label("set in").count();
    desk.harness.get_by_role_and_label(egui::Role::ComboBox, "Back").click();
    settle(&mut desk.harness);
    let open = list(&desk);
    assert!(open > 0);
    for key in [egui::Key::ArrowDown, egui::Key::ArrowDown, egui::Key::Enter] {
        desk.harness.key_press(key);
        settle(&mut desk.harness);
    }
    assert!(list(&desk) < open, "the list is still open");
}

#[test]
fn a_back_of_its_own_board_is_chosen_in_the_window() {
    let mut desk = Desk::tall();
    desk.click("Boards and banding");
    desk.click("Materials");
    desk.choose("Add a board", "plywood 6");
    desk.click("Carcass as a whole");
    desk.choose("Board of the back", "plywood 6");
    let back = |desk: &Desk| {
        let assembly = desk.app().good().unwrap().assembly.as_ref().unwrap();
        assembly.parts.iter().find(|it| it.role == casewright_core::design::Role::Back).unwrap().material.clone()
    };
    assert_eq!(back(&desk), "plywood 6");
    desk.choose("Board of the back", "as the carcass");
    assert_eq!(back(&desk), desk.app().design().carcass.construction.board);
}

#[test]
fn the_letters_of_banded_edges_are_german_too() {
    let mut desk = Desk::open_copy("../../demo/laundry-alcove.ron");
    desk.harness.key_press(egui::Key::F3);
    settle(&mut desk.harness);
    let letters = |desk: &Desk, of: &str| desk.harness.query_all_by_label(of).count();
    assert!(letters(&desk, "F") + letters(&desk, "NF") + letters(&desk, "SENF") > 0);
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", "deutsch");
    settle(&mut desk.harness);
    assert_eq!(letters(&desk, "F") + letters(&desk, "NF") + letters(&desk, "SENF"), 0);
    assert!(letters(&desk, "G") + letters(&desk, "NG") + letters(&desk, "AENG") > 0);
}
