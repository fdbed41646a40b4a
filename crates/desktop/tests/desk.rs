//! The window driven by accessible names, the way a screen reader would drive it.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::design::Design;
use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use egui_kittest::kittest::Queryable;
use support::{Desk, settle, window};

#[test]
fn a_design_opens_solved_and_every_control_has_a_name() {
    let desk = Desk::open();
    assert!(desk.app().latest().unwrap().troubles.is_empty(), "{:?}", desk.app().latest().unwrap().troubles);
    assert_eq!(desk.outside(Axis::X), Length::from_mm(1500));
    assert!(desk.sees("Laundry alcove") && desk.sees("1500 × 1900 × 650"));
    desk.harness.check_accessibility();
}

#[test]
fn a_bay_is_selected_on_the_drawing_and_explained() {
    let mut desk = Desk::open();
    desk.click("Bay small things");
    assert!(desk.sees("in a drawer") && desk.sees("WHY IT IS THIS SIZE"));
    assert!(desk.sees("fixed at 160 mm"));
    desk.click("Bay dryer bay in the list");
    assert!(desk.sees("Holds dryer, standing") && desk.sees("left over"));
    desk.harness.check_accessibility();
}

#[test]
fn a_typed_width_is_solved_saved_and_read_back() {
    let mut desk = Desk::open();
    desk.write("Width", "1400 + 2 * gap");
    assert_eq!(desk.outside(Axis::X), Length::from_mm(1406));
    assert!(desk.sees("= 1406") && desk.sees("1406 × 1900 × 650"));
    assert!(desk.sees("edits not saved"));
    desk.click("Save");
    assert!(!desk.sees("edits not saved"));
    let read = Design::from_ron(&std::fs::read_to_string(&desk.file).unwrap()).unwrap();
    assert_eq!(read, *desk.app().design());
    let again = window(Some(desk.file.clone()), desk.folder.path().join("state"));
    assert_eq!(again.state().as_ref().unwrap().design(), &read);
}

#[test]
fn a_text_that_makes_no_sense_stays_in_its_field_with_the_reason() {
    let mut desk = Desk::open();
    desk.write("Width", "1400 + gab");
    assert!(desk.sees("✖") && desk.sees("did you mean"));
    assert_eq!(desk.outside(Axis::X), Length::from_mm(1500));
    desk.write("Width", "-5");
    assert!(desk.sees("must be more than 0"));
    desk.write("Width", "1300");
    assert!(!desk.sees("must be more than 0"));
    assert_eq!(desk.outside(Axis::X), Length::from_mm(1300));
}

#[test]
fn a_conflict_is_said_in_words_and_its_mend_mends_it() {
    let mut desk = Desk::open();
    desk.write("Width", "900");
    let latest = desk.app().latest().unwrap();
    assert!(!latest.troubles.is_empty() && desk.sees("too much over the width"));
    assert!(desk.sees("before the last edit"));
    let mend = latest.troubles[0].mends.iter().find(|mend| mend.command.is_some()).unwrap().words.clone();
    let label = format!("Mend: {mend}");
    // The same mend is offered over the drawing and beside the field; the first one stands higher up.
    let buttons = desk.harness.get_all_by_label(&label);
    buttons.min_by(|a, b| a.rect().top().total_cmp(&b.rect().top())).unwrap().click();
    settle(&mut desk.harness);
    assert_eq!(desk.app().latest().unwrap().troubles, []);
    desk.click("Undo");
    assert!(desk.sees("too much over the width"));
    desk.click("Undo");
    assert_eq!(desk.outside(Axis::X), Length::from_mm(1500));
    desk.click("Redo");
    assert!(desk.sees("too much over the width"));
}

#[test]
fn bays_are_divided_and_taken_away_with_named_undo() {
    let mut desk = Desk::open();
    let before = desk.app().design().clone();
    // A click with the pointer would meet the shelf in the middle of it.
    desk.harness.get_by_label("Bay shelves").click_accesskit();
    settle(&mut desk.harness);
    desk.click("Divide by an upright");
    assert!(desk.sees("Bay shelves 2"));
    desk.click("Bay shelves 2 in the list");
    desk.click("Remove");
    desk.click("Undo");
    desk.click("Undo");
    assert_eq!(*desk.app().design(), before);
}

#[test]
fn a_file_changed_elsewhere_is_read_again_or_asked_about() {
    let mut desk = Desk::open();
    let text = std::fs::read_to_string(&desk.file).unwrap().replace("AtMost(\"1500\")", "AtMost(\"1450\")");
    std::fs::write(&desk.file, &text).unwrap();
    std::thread::sleep(std::time::Duration::from_millis(900));
    settle(&mut desk.harness);
    assert_eq!(desk.outside(Axis::X), Length::from_mm(1450));
    desk.write("Height", "1800");
    std::fs::write(&desk.file, text.replace("AtMost(\"1450\")", "AtMost(\"1420\")")).unwrap();
    std::thread::sleep(std::time::Duration::from_millis(900));
    settle(&mut desk.harness);
    assert!(desk.sees("The file was changed elsewhere"));
    desk.click("Keep mine");
    assert_eq!(desk.outside(Axis::X), Length::from_mm(1450));
    assert_eq!(desk.outside(Axis::Y), Length::from_mm(1800));
}

#[test]
fn edits_that_were_not_saved_come_back() {
    let mut desk = Desk::open();
    desk.write("Width", "1333");
    let edited = desk.app().design().clone();
    let Desk { harness, file, folder } = desk;
    drop(harness);
    let mut again = window(Some(file.clone()), folder.path().join("state"));
    assert!(again.query_by_label("Restore them").is_some());
    again.get_by_label("Restore them").click();
    settle(&mut again);
    assert_eq!(*again.state().as_ref().unwrap().design(), edited);
    drop(again);
    let mut third = window(Some(file.clone()), folder.path().join("state"));
    third.get_by_label("Discard them").click();
    settle(&mut third);
    let fourth = window(Some(file), folder.path().join("state"));
    assert!(fourth.query_by_label("Restore them").is_none());
}

#[test]
fn the_command_list_finds_by_typing_and_the_language_changes() {
    let mut desk = Desk::open();
    desk.click("Find a command");
    desk.write_in_list("What do you want to do?", "deutsch");
    assert!(desk.sees("Befehl suchen") && desk.sees("UNTERZUBRINGEN"));
    desk.harness.check_accessibility();
}

#[test]
fn a_damaged_file_is_explained_and_leaves_the_desk_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("bad.ron");
    std::fs::write(&file, "(schema: 1, titel: \"x\")").unwrap();
    let harness = window(Some(file), folder.path().join("state"));
    assert!(harness.query_by_label("This file cannot be opened").is_some());
    assert!(harness.query_all_by_label_contains("title").next().is_some());
}

#[test]
fn a_divider_is_dragged_as_one_edit_and_stays_within_what_is_asked() {
    let mut desk = Desk::open();
    let before = desk.app().design().clone();
    let width = |desk: &Desk, bay: &str| {
        desk.app().good().unwrap().layout.as_ref().unwrap().bay(bay).unwrap().clear.size(Axis::X)
    };
    let start = width(&desk, "wet side");
    let handle = desk.harness.get_by_label("Divider between wet side and dry side").rect();
    // Above the things, where nothing else lies under the pointer.
    let from = egui::pos2(handle.center().x, handle.top() + 20.0);
    desk.harness.drag_at(from);
    desk.harness.run_steps(2);
    for step in 1..=6 {
        desk.harness.hover_at(from + egui::vec2(-6.0 * step as f32, 0.0));
        settle(&mut desk.harness);
    }
    assert!(desk.app().design() != &before);
    desk.harness.drop_at(from + egui::vec2(-36.0, 0.0));
    settle(&mut desk.harness);
    let moved = width(&desk, "wet side");
    assert!(moved < start - Length::from_mm(20), "{start:?} became {moved:?}");
    assert!(moved >= Length::from_mm(635), "the dryer with its air still fits");
    let boards = Length::from_mm(3 * 18);
    assert_eq!(width(&desk, "wet side") + width(&desk, "dry side") + boards, desk.outside(Axis::X));
    desk.click("Undo");
    assert_eq!(*desk.app().design(), before);
}

#[test]
fn several_bays_are_taken_together_and_made_equal() {
    let mut desk = Desk::open();
    desk.click("Bay upper crate in the list");
    let other = "Bay shelves in the list";
    desk.harness.get_by_label(other).click_modifiers(egui::Modifiers::COMMAND);
    settle(&mut desk.harness);
    assert!(desk.sees("2 bays selected"));
    desk.click("Make equally high");
    let layout = desk.app().good().unwrap().layout.clone().unwrap();
    let height = |bay: &str| layout.bay(bay).unwrap().clear.size(Axis::Y);
    assert_eq!(height("upper crate"), height("shelves"));
}

#[test]
fn a_dimension_is_typed_over_on_the_drawing() {
    let mut desk = Desk::open();
    desk.click("Dimension: Outside height on the drawing");
    desk.write("Outside height on the drawing", "1850");
    assert_eq!(desk.outside(Axis::Y), Length::from_mm(1850));
    assert!(desk.sees("1500 × 1850 × 650"));
}

#[test]
fn what_is_said_changes_with_the_language() {
    let mut desk = Desk::open();
    for (command, said) in [("copy the bay", "Select one bay first."), ("deutsch", "Zuerst ein Fach wählen.")] {
        desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
        settle(&mut desk.harness);
        desk.write_in_list("What do you want to do?", command);
        assert!(desk.sees(said), "{said}");
    }
}
