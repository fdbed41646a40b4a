//! The pack from the window: the whole of it, with the cutting plan; as a PDF or into a folder; what is said of it, and where.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use std::path::Path;

use casewright_desktop::files::journal::Journal;
use casewright_drawing::Sheet;
use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

const TROLLEY: &str = "../../demo/container-trolley.ron";

/// Presses keys with Ctrl, writes a name into the dialog that opens, and confirms.
fn write_to(desk: &mut Desk, shift: bool, field: &str, name: &Path) {
    let modifiers = egui::Modifiers { shift, ..egui::Modifiers::COMMAND };
    desk.harness.key_press_modifiers(modifiers, egui::Key::P);
    settle(&mut desk.harness);
    desk.write(field, &name.display().to_string());
    settle(&mut desk.harness);
}

/// An edit that changes nothing of what is built, but the design.
fn add_a_thing(desk: &mut Desk) {
    desk.harness.key_press(egui::Key::T);
    settle(&mut desk.harness);
}

fn titles(sheets: &[Sheet]) -> Vec<&str> {
    sheets.iter().map(|sheet| sheet.title_block.supplementary_title.as_str()).collect()
}

fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        std::fs::read_dir(folder).unwrap().map(|it| it.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn the_sheets_have_the_cutting_plan_among_them_once_it_is_there() {
    let mut desk = Desk::open_copy(TROLLEY);
    desk.harness.key_press(egui::Key::Num7);
    settle(&mut desk.harness);
    settle(&mut desk.harness);
    let sheets = desk.app().good().unwrap().sheets.clone().unwrap().unwrap();
    for name in ["Board 1: ", "Labels", "Buying list", "Banding list"] {
        assert!(titles(&sheets).iter().any(|it| it.starts_with(name)), "{name}: {:?}", titles(&sheets));
    }
    // After an edit the sheets are of the new design, and those of the old plan are not among them.
    add_a_thing(&mut desk);
    assert!(desk.sees("until the cutting is planned"));
    let sheets = desk.app().good().unwrap().sheets.clone().unwrap().unwrap();
    assert!(!titles(&sheets).contains(&"Buying list"));
    desk.click("Undo");
    settle(&mut desk.harness);
    assert!(!desk.sees("until the cutting is planned"), "the plan is of this design again");
    let sheets = desk.app().good().unwrap().sheets.clone().unwrap().unwrap();
    assert!(titles(&sheets).contains(&"Buying list"));
}

#[test]
fn the_pdf_of_the_window_has_the_cutting_plan_and_the_plan_is_kept() {
    let mut desk = Desk::open_copy(TROLLEY);
    let pdf = desk.folder.path().join("pack.pdf");
    write_to(&mut desk, false, "File name", &pdf);
    assert!(desk.sees("Written to") && desk.sees(&pdf.display().to_string()));
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
    let planned = std::ptr::from_ref(desk.app().cuts().planned().unwrap());
    // The same plan serves again, here for the folder.
    let into = desk.folder.path().join("everything");
    write_to(&mut desk, true, "Folder", &into);
    assert_eq!(planned, std::ptr::from_ref(desk.app().cuts().planned().unwrap()));
    let names = names_in(&into);
    assert!(desk.sees(&format!("{} files written into", names.len())));
    for end in [".pdf", "-01.svg", "-parts.csv", "-banding.csv", "-cutting.csv", "-buying.csv", "-stock-after.csv"] {
        assert!(names.contains(&format!("alcove{end}")), "{end}: {names:?}");
    }
    assert_eq!(std::fs::read(into.join("alcove.pdf")).unwrap(), std::fs::read(&pdf).unwrap());
    // Once more: what is there is not replaced unasked.
    let before = std::fs::metadata(into.join("alcove.pdf")).unwrap().modified().unwrap();
    write_to(&mut desk, true, "Folder", &into);
    assert!(desk.sees("There is a pack of this design in the folder"));
    desk.click("Cancel");
    assert_eq!(std::fs::metadata(into.join("alcove.pdf")).unwrap().modified().unwrap(), before);
}

#[test]
fn what_cannot_be_written_is_said_in_words_and_leaves_nothing() {
    let mut desk = Desk::open_copy(TROLLEY);
    let taken = desk.folder.path().join("taken");
    std::fs::write(&taken, "a file").unwrap();
    write_to(&mut desk, true, "Folder", &taken);
    assert!(desk.sees("cannot be written into: it is a file; name a folder"));
    assert_eq!(std::fs::read_to_string(&taken).unwrap(), "a file");
    // Where there is trouble there is nothing to write.
    let mut desk = Desk::open();
    desk.write("Height", "100");
    let pdf = desk.folder.path().join("pack.pdf");
    write_to(&mut desk, false, "File name", &pdf);
    assert!(desk.sees("mend what is in the way first") && !pdf.exists());
}

#[test]
fn the_writing_can_be_stopped() {
    let mut desk = Desk::open_copy(TROLLEY);
    let pdf = desk.folder.path().join("pack.pdf");
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::P);
    settle(&mut desk.harness);
    desk.harness.get_by_role_and_label(egui::Role::TextInput, "File name").focus();
    desk.harness.run_steps(2);
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    desk.harness.run_steps(1);
    let field = desk.harness.get_by_role_and_label(egui::Role::TextInput, "File name");
    field.type_text(&pdf.display().to_string());
    desk.harness.run_steps(2);
    desk.harness.key_press(egui::Key::Enter);
    desk.harness.run_steps(2);
    desk.harness.get_by_label("Stop").click();
    desk.harness.run_steps(2);
    settle(&mut desk.harness);
    assert!(desk.sees("Stopped: nothing was written") && !pdf.exists());
    // It can be begun again.
    write_to(&mut desk, false, "File name", &pdf);
    assert!(pdf.exists());
}

#[test]
fn nothing_moves_whatever_is_said() {
    let long = format!("{}.ron", "a-long-name-".repeat(12));
    for width in [760.0, 1280.0, 1920.0] {
        let mut desk = Desk::open_copy(TROLLEY);
        desk.harness.set_size(egui::vec2(width, 800.0));
        settle(&mut desk.harness);
        let tops = |desk: &Desk| {
            ["Cutting", "Findings", "Bay inside in the list"]
                .map(|name| desk.harness.query_by_label(name).map(|it| it.rect().top()))
        };
        let before = tops(&desk);
        assert!(before[0].is_some() && before[1].is_some());
        let place = desk.folder.path().join(&long);
        desk.harness.key_press_modifiers(egui::Modifiers { shift: true, ..egui::Modifiers::COMMAND }, egui::Key::S);
        settle(&mut desk.harness);
        desk.write("File name", &place.display().to_string());
        // The whole is what a screen reader says.
        let said = format!("Saved to {}", place.display());
        assert!(desk.sees(&said), "{width}");
        let label = desk.harness.get_by_label(&said).rect();
        assert!(label.right() <= width, "{label:?} leaves a window of {width}");
        let after = tops(&desk);
        assert_eq!(before[1], after[1], "{width}");
        // The file has a longer name now: the bar may only differ by that, not by what is said.
        desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::D);
        settle(&mut desk.harness);
        assert_eq!(tops(&desk), after, "{width}");
    }
}

#[test]
fn the_first_edit_makes_the_bar_no_higher() {
    for name in ["a.ron", "a-cabinet-for-the-utility-room.ron"] {
        for width in [1100.0, 1280.0, 1366.0, 1920.0] {
            let folder = tempfile::tempdir().unwrap();
            let file = folder.path().join(name);
            std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(TROLLEY), &file).unwrap();
            let mut harness = support::window(Some(file), folder.path().join("state"));
            harness.set_size(egui::vec2(width, 800.0));
            settle(&mut harness);
            let top = |harness: &egui_kittest::Harness<'static, _>| harness.get_by_label("Cutting").rect().top();
            let before = top(&harness);
            // At these widths all of it stands in one line.
            if width >= 1280.0 {
                let line = |label: &str| harness.get_by_label(label).rect().center().y;
                assert!((line("New design") - line("Window")).abs() < 2.0, "{name} {width}");
            }
            harness.key_press(egui::Key::T);
            settle(&mut harness);
            assert_eq!(before, top(&harness), "{name} {width}");
        }
    }
}

#[test]
fn a_closed_window_leaves_no_lock_file() {
    let mut desk = Desk::open_copy(TROLLEY);
    let journal = desk.folder.path().join("state").join("journal");
    assert!(names_in(&journal).iter().any(|name| name.ends_with(".hold")), "{:?}", names_in(&journal));
    desk.harness.state_mut().as_mut().unwrap().end();
    assert_eq!(names_in(&journal), Vec::<String>::new());
    // Nor does one that goes without a word, if only it goes.
    let again = support::window(Some(desk.file.clone()), desk.folder.path().join("state"));
    drop(again);
    assert_eq!(names_in(&journal), Vec::<String>::new());
    assert!(!Journal::in_folder(journal).sit(Some(&desk.file)));
}

#[test]
fn a_plan_is_of_the_design_again_after_undo() {
    let mut desk = Desk::open_copy(TROLLEY);
    desk.harness.key_press(egui::Key::Num0);
    settle(&mut desk.harness);
    assert!(!desk.sees("The design has changed since"));
    add_a_thing(&mut desk);
    assert!(desk.sees("The design has changed since"));
    desk.click("Undo");
    settle(&mut desk.harness);
    assert!(!desk.sees("The design has changed since") && !desk.sees("Plan again"));
    desk.click("Redo");
    settle(&mut desk.harness);
    assert!(desk.sees("The design has changed since"));
}

#[test]
fn the_drawing_speaks_german() {
    let mut desk = Desk::open_copy("../../demo/laundry-alcove.ron");
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", "deutsch");
    settle(&mut desk.harness);
    let view = &desk.app().good().unwrap().views[&casewright_desktop::pipeline::ViewKind::Fronts];
    let said: Vec<&String> = view.labels.iter().flat_map(|label| &label.lines).collect();
    assert!(said.iter().any(|line| line.contains("Tür") || line.contains("front")), "{said:?}");
    for english in ["door", "flap", "drawer front"] {
        assert!(!said.iter().any(|line| line.contains(english)), "{said:?}");
    }
}
