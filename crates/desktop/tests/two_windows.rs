//! Two windows on one file: the second says so, neither writes over what the other saved unasked, and what both had not
//! saved is found again after a crash of both.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::design::Design;
use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use egui_kittest::kittest::Queryable as _;
use support::{Desk, settle, window};

/// A second window on the same file, in the place of the first, which goes on beside it.
fn second(first: &Desk) -> Desk {
    let harness = window(Some(first.file.clone()), first.folder.path().join("state"));
    // Only the first one's folder is used; this one's own is empty.
    Desk { harness, file: first.file.clone(), folder: tempfile::tempdir().unwrap() }
}

fn on_disk(desk: &Desk) -> Design {
    Design::from_ron(&std::fs::read_to_string(&desk.file).unwrap()).unwrap()
}

fn save(desk: &mut Desk) {
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
    settle(&mut desk.harness);
}

#[test]
fn what_one_saves_is_not_written_over_by_the_other_unasked() {
    let mut one = Desk::open();
    assert!(!one.sees("open in another window"));
    let mut two = second(&one);
    assert!(two.sees("open in another window"));
    two.write("Height", "1800");
    one.write("Width", "1333");
    save(&mut one);
    // At once, before the second looks at the file by itself.
    save(&mut two);
    assert!(two.sees("The file was changed elsewhere"));
    assert_eq!(on_disk(&two), *one.app().design());
    two.click("Keep mine");
    save(&mut two);
    assert_eq!(on_disk(&two), *two.app().design());
    // The first had nothing unsaved and follows.
    std::thread::sleep(std::time::Duration::from_millis(900));
    settle(&mut one.harness);
    assert_eq!(one.outside(Axis::Y), Length::from_mm(1800));
}

#[test]
fn a_crash_of_both_loses_the_edits_of_neither() {
    let mut one = Desk::open();
    let mut two = second(&one);
    one.write("Width", "1333");
    two.write("Height", "1800");
    let edited = [one.app().design().clone(), two.app().design().clone()];
    let Desk { harness, file, folder } = one;
    drop((harness, two));
    for design in edited {
        let mut again = window(Some(file.clone()), folder.path().join("state"));
        again.get_by_label("Restore them").click();
        settle(&mut again);
        assert_eq!(*again.state().as_ref().unwrap().design(), design);
        again.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
        settle(&mut again);
    }
}

#[test]
fn what_someone_is_in_the_middle_of_writing_is_not_written_over_unasked() {
    let mut desk = Desk::open();
    desk.write("Title", "A title of mine");
    let whole = std::fs::read_to_string(&desk.file).unwrap();
    let half = whole.replacen("carcass: (", "carcass: ", 1);
    assert!(Design::read(&half).is_err());
    std::fs::write(&desk.file, &half).unwrap();
    desk.click("Save");
    assert!(desk.sees("The file cannot be read"));
    desk.click("Cancel");
    assert_eq!(std::fs::read_to_string(&desk.file).unwrap(), half);
    assert!(desk.sees("edits not saved"));
    // Asked again, however often: the stamp is not what decides.
    desk.click("Save");
    desk.click("Replace it");
    let saved = std::fs::read_to_string(&desk.file).unwrap();
    assert_eq!(&Design::from_ron(&saved).unwrap(), desk.app().design());
    // The author's layout is the one that was read, not the broken one.
    assert_eq!(saved, whole.replacen("Laundry alcove", "A title of mine", 1));
}
