//! The window driven by accessible names, the way a screen reader would drive it.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

use std::path::{Path, PathBuf};

use casewright_core::design::Design;
use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use casewright_desktop::App;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

/// A window at work on a copy of the alcove, with its own folder for everything that it keeps.
struct Desk {
    harness: Harness<'static, Option<App>>,
    file: PathBuf,
    folder: tempfile::TempDir,
}

fn window(file: Option<PathBuf>, state: PathBuf) -> Harness<'static, Option<App>> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1440.0, 900.0))
        .with_max_steps(16)
        .with_theme(egui::Theme::Light)
        .with_context_setup(casewright_desktop::theme::set_fonts)
        .build_ui_state(
            move |ui, app: &mut Option<App>| {
                app.get_or_insert_with(|| App::new(ui.ctx(), file.as_deref(), Some(state.clone()))).show(ui);
            },
            None,
        );
    settle(&mut harness);
    harness
}

fn settle(harness: &mut Harness<'static, Option<App>>) {
    for _ in 0..3 {
        if let Some(app) = harness.state_mut() {
            app.settle();
        }
        harness.run_steps(3);
    }
}

impl Desk {
    fn open() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("alcove.ron");
        std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/alcove.ron"), &file).unwrap();
        let harness = window(Some(file.clone()), folder.path().join("state"));
        Self { harness, file, folder }
    }

    fn app(&self) -> &App {
        self.harness.state().as_ref().unwrap()
    }

    fn click(&mut self, name: &str) {
        self.harness.get_by_label(name).click();
        settle(&mut self.harness);
    }

    /// Writes over what a field says and leaves it.
    fn write(&mut self, name: &str, text: &str) {
        let field = self.harness.get_by_role_and_label(egui::Role::TextInput, name);
        field.focus();
        self.harness.run_steps(2);
        self.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
        self.harness.run_steps(1);
        self.harness.get_by_role_and_label(egui::Role::TextInput, name).type_text(text);
        self.harness.run_steps(2);
        self.harness.key_press(egui::Key::Enter);
        settle(&mut self.harness);
    }

    fn sees(&self, text: &str) -> bool {
        self.harness.query_all_by_label_contains(text).next().is_some()
    }

    fn outside(&self, axis: Axis) -> Length {
        self.app().good().unwrap().layout.as_ref().unwrap().envelope.size(axis)
    }
}

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
    desk.click("Take away");
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
    third.get_by_label("Give them up").click();
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

impl Desk {
    fn write_in_list(&mut self, name: &str, text: &str) {
        self.harness.get_by_role_and_label(egui::Role::TextInput, name).type_text(text);
        self.harness.run_steps(2);
        self.harness.key_press(egui::Key::Enter);
        settle(&mut self.harness);
    }
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
