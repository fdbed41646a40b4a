//! Boards, materials and banding entered in the window, one by one, from a table and from an old cabinet.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::design::{Board, BoardEdge, BoardSource, Design, Edge, Least, MaterialKind, Role};
use casewright_core::length::Length;
use casewright_core::unit::Unit;
use casewright_stock::{read_box, read_table};
use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

fn at_the_stock() -> Desk {
    let mut desk = Desk::tall();
    desk.click("Boards and banding");
    desk
}

/// The boards as they are worked out.
fn worked_out(desk: &Desk) -> Vec<Board<Length>> {
    assert_eq!(desk.app().latest().unwrap().troubles, []);
    desk.app().good().unwrap().resolved.as_ref().unwrap().boards.clone()
}

/// Writes into a text of several lines, as pasted.
fn paste(desk: &mut Desk, text: &str) {
    let field = desk.harness.get_by_role_and_label(egui::Role::MultilineTextInput, "Boards from a table");
    field.focus();
    desk.harness.run_steps(2);
    desk.harness.event(egui::Event::Paste(text.to_owned()));
    settle(&mut desk.harness);
}

fn board(desk: &Desk, index: usize) -> Board {
    desk.app().design().boards[index].clone()
}

/// Opens the line of a board, which begins with its name.
fn open(desk: &mut Desk, name: &str) {
    desk.harness.get_all_by_label_contains(&format!("{name}  ")).next().unwrap().click();
    settle(&mut desk.harness);
}

#[test]
fn a_board_is_entered_as_it_was_measured() {
    let mut desk = at_the_stock();
    desk.choose("Add a sheet of", "birch ply");
    let name = board(&desk, 0).name;
    open(&mut desk, &name);
    desk.write("Name", "shelf of the old desk");
    desk.write("Length", "1200");
    desk.write("Width", "380");
    desk.write("Thickness", "17.6");
    desk.write("How many", "3");
    desk.write("Price of one", "4,50");
    desk.choose("It is", "salvaged");
    desk.choose("Along its edges", "strips are spoilt");
    desk.write("Spoilt, start", "35");
    desk.write("Family", "old desk");
    let now = board(&desk, 0);
    assert_eq!((now.name.as_str(), now.quantity, now.price), ("shelf of the old desk", Some(3), Some(4.5)));
    assert_eq!((now.size.0.text(), now.size.1.text()), ("1200", "380"));
    assert_eq!(now.thickness.as_ref().map(|it| it.text().to_owned()).as_deref(), Some("17.6"));
    assert_eq!((now.source, now.family.as_str()), (BoardSource::Salvaged, "old desk"));
    assert_eq!(now.spoilt.as_ref().map(|it| it.0.text().to_owned()).as_deref(), Some("35"));
    assert!(desk.sees("1200 × 380, 3 pieces"), "the line says what it is");

    desk.click("Only an area of it is good");
    desk.click("Duplicate");
    assert_eq!(board(&desk, 1).good, board(&desk, 0).good);
    assert_ne!(board(&desk, 1).name, board(&desk, 0).name);
    assert_eq!(board(&desk, 0).good.len(), 1);
    desk.click("Undo");
    assert_eq!(desk.app().design().boards.len(), 1);
    desk.harness.get_all_by_label("Remove").last().unwrap().click();
    settle(&mut desk.harness);
    assert!(desk.app().design().boards.is_empty());
    desk.click("Undo");
    // Nothing of it is lost on the way through the file.
    desk.click("Save");
    let read = Design::from_ron(&std::fs::read_to_string(&desk.file).unwrap()).unwrap();
    assert_eq!(read, *desk.app().design());
}

#[test]
fn a_name_that_is_taken_is_refused_in_its_field() {
    let mut desk = at_the_stock();
    desk.choose("Add a sheet of", "birch ply");
    desk.choose("Add a sheet of", "hardboard");
    let (first, second) = (board(&desk, 0).name, board(&desk, 1).name);
    open(&mut desk, &second);
    desk.write("Name", &first);
    assert!(desk.sees("✖") && desk.sees("is taken"));
    assert_eq!(board(&desk, 1).name, second);
}

#[test]
fn rows_of_a_table_come_in_or_say_what_is_wrong_with_them() {
    let mut desk = at_the_stock();
    desk.click("Paste a table…");
    desk.harness.key_press(egui::Key::Escape);
    settle(&mut desk.harness);
    assert!(!desk.sees("Boards from a table"), "nothing entered, nothing added");
    desk.click("Paste a table…");
    paste(&mut desk, "oak shelf\toak\t800\t300\t2\n");
    assert!(desk.sees("oak shelf is of oak, which is no material of this design: birch ply, hardboard"));
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    let table = "door\tbirch ply\t2000\t600\t2\nback\thardboard\t1990\tsix\t1\n";
    paste(&mut desk, table);
    assert!(desk.sees("line 2: width"), "the row is named");
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    paste(&mut desk, "name\tmaterial\tlength\twidth\thow often\ndoor\tbirch ply\t2000\t600\t2\n");
    assert!(desk.sees("there is no column \"how often\" to fill"), "no count is lost in silence");
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    let table = "door\tbirch ply\t2000\t600\t2\nback\thardboard\t1990\t610,5\t1\n";
    paste(&mut desk, table);
    assert!(desk.sees("1990 × 610.5") || desk.sees("610.5"), "what comes in is shown first");
    desk.click("Add 3 boards");
    let names: Vec<String> = desk.app().design().boards.iter().map(|it| it.name.clone()).collect();
    assert_eq!(names, ["door", "back"]);
    assert!(desk.sees("Boards added: 3"));
    // As the command reads the same table.
    let read = read_table(table, Unit::default()).unwrap();
    desk.choose("Add a sheet of", "birch ply");
    desk.choose("Add a sheet of", "hardboard");
    let sizes: Vec<_> = worked_out(&desk).iter().map(|it| it.size).collect();
    assert_eq!(sizes[..2], read.iter().map(|it| it.size).collect::<Vec<_>>());
    // Once more: the names are free ones.
    desk.click("Paste a table…");
    paste(&mut desk, table);
    desk.click("Add 3 boards");
    assert_eq!(board(&desk, 4).name, "door (2)");
    desk.click("Undo");
    assert_eq!(desk.app().design().boards.len(), 4);
}

#[test]
fn an_old_cabinet_gives_its_panels() {
    let mut desk = at_the_stock();
    desk.click("Take an old cabinet apart…");
    for (field, text) in [
        ("Name", "office shelf"),
        ("Width", "800"),
        ("Height", "2000"),
        ("Depth", "400"),
        ("Thickness", "18"),
        ("Shelves", "four"),
    ] {
        desk.write(&format!("{field} of the old cabinet"), text);
    }
    assert!(desk.sees("✖ four"), "no count");
    desk.write("Shelves of the old cabinet", "4");
    desk.click("Rows of holes for the shelves");
    desk.click("Add 8 boards");
    let line = "name=office shelf, size=800x2000x400, material=birch ply, thickness=18, shelves=4, rows=yes";
    let told = casewright_core::stock::dismantle(&read_box(line, Unit::default()).unwrap());
    // Parts can be no larger than the boards that there are: a whole sheet, too.
    desk.choose("Add a sheet of", "birch ply");
    assert_eq!(worked_out(&desk).get(..3).unwrap(), told, "as the command gives them");
}

#[test]
fn materials_banding_and_the_saw_are_entered() {
    let mut desk = at_the_stock();
    // Lists drop down only where they can be seen.
    desk.harness.set_size(egui::vec2(1440.0, 6000.0));
    for section in ["Materials", "Edge banding", "Saw", "Banded edges", "Boards of single parts"] {
        desk.click(section);
    }
    desk.write("New material", "white 16");
    desk.write("New banding", "white 1");
    let design = desk.app().design();
    assert_eq!(design.materials["white 16"].kind, MaterialKind::Particleboard);
    assert_eq!(design.banding["white 1"].thickness.text(), "1");
    desk.write("Saw cut", "2.8");
    desk.choose("Keep least", "boards cut into");
    assert_eq!(desk.app().design().saw.kerf.as_ref().unwrap().text(), "2.8");
    assert_eq!(desk.app().design().saw.least, Least::Boards);
    desk.choose("Offcuts kept", "from a size of your own");
    desk.write("Least length", "400");
    assert_eq!(desk.app().design().saw.useful.as_ref().unwrap().0.text(), "400");

    desk.choose("Band edges with", "white 1");
    let rule = desk.app().design().carcass.construction.banding[0].clone();
    assert_eq!((rule.roles, rule.edges), (vec![Role::Shelf], vec![Edge::Front]));
    desk.choose("Shelf", "white 16");
    assert_eq!(desk.app().design().carcass.construction.boards[&Role::Shelf], "white 16");
    // In use: it stays. Out of use: it goes.
    desk.click("Remove white 16");
    assert!(desk.app().design().materials.contains_key("white 16") && desk.sees("Something is made of white 16"));
    desk.choose("Shelf", "as the carcass");
    desk.click("Remove white 16");
    assert!(!desk.app().design().materials.contains_key("white 16"));

    desk.choose("Add a sheet of", "hardboard");
    let name = board(&desk, 0).name;
    open(&mut desk, &name);
    desk.choose("Banding, near edge", "white 1");
    assert_eq!(board(&desk, 0).banded[0].edge, BoardEdge::Near);
    desk.write("Family", "old backs");
    desk.choose("Back from", "old backs");
    assert_eq!(desk.app().design().carcass.construction.from_stock[&Role::Back], "old backs");
    desk.harness.check_accessibility();

    // Of the banding too the last one goes.
    desk.choose("Banding, near edge", "none worth keeping");
    desk.harness.get_all_by_label_contains("white 1: Shelf").next().unwrap().click();
    settle(&mut desk.harness);
    desk.click("Remove this rule");
    desk.click("Remove white 1");
    assert!(desk.app().design().banding.is_empty());
}

#[test]
fn what_is_wrong_with_a_table_is_said_in_german_too() {
    let mut desk = at_the_stock();
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", "deutsch");
    desk.click("Tabelle einfügen…");
    let field = desk.harness.get_by_role_and_label(egui::Role::MultilineTextInput, "Platten aus einer Tabelle");
    field.focus();
    desk.harness.run_steps(2);
    desk.harness
        .event(egui::Event::Paste("Tür; birch ply; 2000; 0; zwei\nBoden; birch ply; 800; 300; zwei\n".to_owned()));
    settle(&mut desk.harness);
    assert!(desk.sees("Zeile 1: Breite: Maß fehlt; eine Länge über null schreiben"));
    assert!(desk.sees("Zeile 2: Anzahl: zwei ist keine Anzahl; eine ganze Zahl schreiben"));
}
