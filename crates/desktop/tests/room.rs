//! Room, worktop and openings entered in the window.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::design::{Design, ObstacleKind, Role, SiteWall, Tie, TopShape};
use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

/// A window so high that all of a column is in it.
fn tall() -> Desk {
    let mut desk = Desk::tall();
    desk.harness.set_size(egui::vec2(1440.0, 4000.0));
    settle(&mut desk.harness);
    desk
}

fn shape(desk: &Desk) -> TopShape {
    desk.app().design().carcass.worktop.as_ref().unwrap().shape.clone().unwrap()
}

/// What is on the screen is in the file after saving.
fn saved(desk: &mut Desk) {
    desk.click("Save");
    let read = Design::from_ron(&std::fs::read_to_string(&desk.file).unwrap()).unwrap();
    assert_eq!(read, *desk.app().design());
}

#[test]
fn the_room_is_entered_as_it_was_measured() {
    let mut desk = tall();
    desk.click("The room");
    desk.write("Name", "old radiator");
    assert_eq!(desk.app().design().site.obstacles[0].name, "old radiator");
    desk.choose("Kind", "door");
    desk.choose("Its leaf", "swings");
    desk.write("Opens by, degrees", "-95");
    let door = desk.app().design().site.obstacles[0].clone();
    assert_eq!((door.kind, door.swing.unwrap().opens_deg), (ObstacleKind::Door, -95.0));
    desk.choose("Its leaf", "does not swing");
    desk.choose("Kind", "radiator");

    desk.click("Add to Wall behind");
    desk.write("Wall behind 1: along", "600");
    desk.write("Wall behind 1: up", "900");
    desk.write("Wall behind 1: out", "4");
    desk.click("Add to Left wall");
    desk.click("Add to Left wall");
    desk.write("Left wall 2: along", "3");
    let walls = desk.app().design().site.walls.clone();
    assert_eq!(walls.iter().map(|it| it.wall).collect::<Vec<_>>(), [SiteWall::Rear, SiteWall::Left, SiteWall::Left]);
    assert_eq!((walls[0].at.0.text(), walls[0].at.1.text(), walls[0].at.2.text()), ("600", "900", "4"));
    assert_eq!(walls[2].at.0.text(), "3");
    desk.click("Remove 1 of Left wall");
    assert_eq!(desk.app().design().site.walls[1].at.0.text(), "3");

    desk.click("Add to FLOOR");
    desk.write("FLOOR 1: height", "-6");
    assert_eq!(desk.app().design().site.floor[0].height.text(), "-6");
    desk.harness.check_accessibility();
    saved(&mut desk);
}

#[test]
fn a_worktop_gets_its_shape() {
    let mut desk = tall();
    desk.click("Worktop");
    desk.choose("Worktop", "a slab on the carcass");
    desk.choose("Outline", "of its own shape");
    desk.choose("Front corners", "rounded");
    desk.write("Right radius", "60");
    let now = shape(&desk).corners;
    assert_eq!((now.0.unwrap().text(), now.1.unwrap().text()), ("40", "60"));

    desk.choose("Front edge", "with a step in depth");
    desk.write("Begins, from the left", "500");
    desk.write("Right part further out", "-80");
    assert_eq!(shape(&desk).step.unwrap().out.text(), "-80");
    // Points take the place of the step in one edit, and undo brings it back.
    desk.choose("Front edge", "through points");
    desk.write("Points of the front edge 2: rounded", "150");
    assert!(shape(&desk).step.is_none());
    assert_eq!(shape(&desk).front[1].round.as_ref().unwrap().text(), "150");
    desk.click("Undo");
    desk.click("Undo");
    assert!(shape(&desk).step.is_some() && shape(&desk).front.is_empty());

    desk.click("Add to Wall behind, measured");
    desk.click("Add to Wall behind, measured");
    desk.write("Wall behind, measured 2: along", "1400");
    desk.write("Wall behind, measured 2: out", "5");
    assert_eq!(shape(&desk).wall[1].1.text(), "5");
    desk.click("Add a cut-out");
    desk.write("For", "sink");
    desk.write("sink: Width", "450");
    desk.write("sink: radius of its corners", "12");
    let cut_out = shape(&desk).cut_outs[0].clone();
    assert_eq!((cut_out.name.as_str(), cut_out.size.0.text(), cut_out.radius.text()), ("sink", "450", "12"));
    desk.click("Remove sink");
    assert!(shape(&desk).cut_outs.is_empty());
    desk.click("Add to Joints across its length");
    desk.write("Joints across its length 1: from the left", "700");
    assert_eq!(shape(&desk).joints[0].text(), "700");
    desk.harness.check_accessibility();
    saved(&mut desk);
}

#[test]
fn openings_are_cut_for_a_bay() {
    let mut desk = tall();
    desk.click("Bay dryer bay in the list");
    desk.click("Add an opening");
    desk.choose("Place", "measured");
    desk.harness.get_all_by_role_and_label(egui::Role::TextInput, "From below").next().unwrap();
    desk.write("From below", "120");
    desk.choose("Cut in", "Plinth");
    desk.write("Free share (grille)", "0.6");
    let opening = desk.app().design().carcass.openings[0].clone();
    assert_eq!((opening.panel, opening.bay.as_str(), opening.free), (Role::Plinth, "dryer bay", 0.6));
    assert_eq!(opening.at.unwrap().1.text(), "120");
    // It follows the bay's name.
    desk.write("Bay", "machine");
    assert_eq!(desk.app().design().carcass.openings[0].bay, "machine");
    desk.click("Remove this opening");
    assert!(desk.app().design().carcass.openings.is_empty());
    desk.harness.check_accessibility();
}

#[test]
fn what_belongs_together_is_listed_and_let_go() {
    let mut desk = tall();
    let before = desk.app().design().carcass.ties.len();
    desk.click("Bay dry side in the list");
    let row = desk.harness.get_by_label("Bay wet side in the list");
    row.click_modifiers(egui::Modifiers::COMMAND);
    settle(&mut desk.harness);
    desk.click("Make equally wide");
    assert_eq!(desk.app().design().carcass.ties.len(), before + 1);
    desk.click("Carcass as a whole");
    desk.click("What belongs together");
    assert!(desk.sees("equally wide: dry side, wet side") || desk.sees("equally wide: wet side, dry side"));
    let ties = desk.app().design().carcass.ties.clone();
    assert!(matches!(ties.last(), Some(Tie::SameWidth(_))));
    desk.harness.get_all_by_label_contains("Let go: equally wide").last().unwrap().click();
    settle(&mut desk.harness);
    assert_eq!(desk.app().design().carcass.ties.len(), before);
}

#[test]
fn what_is_added_has_the_same_size_in_every_unit() {
    let mut desk = tall();
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", "inches");
    assert!(matches!(desk.app().design().unit, casewright_core::unit::Unit::Inch { .. }));
    desk.click("The room");
    desk.click("Add an obstacle");
    desk.click("Boards and banding");
    desk.click("Saw");
    desk.choose("Offcuts kept", "from a size of your own");
    desk.click("Bay dryer bay in the list");
    desk.click("Add an opening");
    desk.click("Carcass as a whole");
    desk.click("Worktop");
    desk.choose("Worktop", "a slab on the carcass");
    desk.choose("Outline", "of its own shape");
    desk.click("Add a cut-out");
    desk.click("Add to Joints across its length");
    desk.click("Add to Joints across its length");
    let design = desk.app().design();
    let resolved = design.resolve().unwrap();
    let mm = casewright_core::length::Length::from_mm;
    assert_eq!(resolved.site.obstacles.last().unwrap().size, (mm(100), mm(100), mm(100)));
    assert_eq!(resolved.saw.useful, Some((mm(300), mm(100))));
    assert_eq!(resolved.carcass.openings[0].size, (mm(100), mm(60)));
    let shape = resolved.carcass.worktop.unwrap().shape.unwrap();
    assert_eq!(shape.cut_outs[0].size, (mm(480), mm(400)));
    // Each joint stands behind the one before.
    assert_eq!(shape.joints, [mm(300), mm(600)]);
}
