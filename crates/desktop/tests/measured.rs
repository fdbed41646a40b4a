//! What was measured on the real piece, entered in the window: cut parts stay as they are, the rest follows, one step each.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::length::Length;
use casewright_core::pipeline::derive;
use support::{Desk, settle};

fn size(desk: &Desk, number: &str) -> (Length, Length) {
    let derived = derive(desk.app().design()).unwrap();
    let part = derived.assembly.part(number).unwrap().finished;
    (part.length, part.width)
}

#[test]
fn a_part_that_is_cut_keeps_its_size_and_the_rest_follows() {
    let mut desk = Desk::tall();
    let before = desk.app().design().clone();
    let (planned, side) = (size(&desk, "SR"), size(&desk, "SL"));
    assert_eq!(planned.0, side.0, "both sides are equally long");
    desk.select_part("SL");
    desk.click("Cut");
    assert_eq!(desk.app().design().progress.parts, ["SL"]);
    desk.click("Measured after cutting");
    assert_eq!(size(&desk, "SL"), side, "as planned to begin with");
    let shorter = side.0 - Length::from_mm(4);
    desk.write("Length", &format!("{}", shorter.mm()));
    assert_eq!(size(&desk, "SL").0, shorter);
    assert_eq!(size(&desk, "SR").0, shorter, "what is not cut follows");

    for _ in 0..3 {
        desk.click("Undo");
    }
    assert_eq!(*desk.app().design(), before, "one step each");
}

#[test]
fn openings_diagonals_and_boards_are_entered() {
    let mut desk = Desk::tall();
    desk.click("Bay over the dryer in the list");
    desk.click("Opening measured");
    let clear = derive(desk.app().design()).unwrap().layout.bay("over the dryer").unwrap().clear;
    let wider = clear.size(casewright_core::geometry::Axis::X) + Length::from_mm(1);
    desk.write("Measured width", &format!("{}", wider.mm()));
    let clear = derive(desk.app().design()).unwrap().layout.bay("over the dryer").unwrap().clear;
    assert_eq!(clear.size(casewright_core::geometry::Axis::X), wider);

    desk.click("Diagonals measured");
    desk.write("Rising to the right", "1000.5");
    let measured = desk.app().design().as_built.diagonals["over the dryer"].clone();
    assert_eq!(measured.0.text(), "1000.5");

    desk.select_part("SL");
    desk.click("Thickness of birch ply measured");
    desk.write("Thickness", "17.5");
    let derived = derive(desk.app().design()).unwrap();
    assert_eq!(derived.assembly.part("SL").unwrap().finished.thickness, Length::from_um(17_500));
    assert_eq!(derived.assembly.part("SL").unwrap().finished.thickness, Length::from_um(17_500));
}

#[test]
fn it_speaks_german() {
    let mut desk = Desk::open();
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", "deutsch");
    desk.click("Fach over the dryer in der Liste");
    assert!(desk.sees("AM GEBAUTEN MÖBEL") && desk.sees("Öffnung gemessen"));
}
