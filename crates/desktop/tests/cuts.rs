//! The cutting plan in the window: planned in the background, board by board, with numbers of cuts.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

/// An example with boards in stock.
const STOCKED: &str = "../../demo/laundry-alcove.ron";

/// Does something from the list of commands.
fn find(desk: &mut Desk, words: &str) {
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", words);
}

#[test]
fn boards_are_shown_with_their_cuts() {
    let mut desk = Desk::open_copy(STOCKED);
    let before = desk.app().design().clone();
    desk.harness.key_press(egui::Key::Num0);
    settle(&mut desk.harness);
    let planned = desk.app().cuts().planned().unwrap();
    let plan = planned.plan.clone();
    let count = plan.boards().count();
    assert!(count >= 2, "{count} boards");
    let cuts: usize = plan.boards().map(|it| it.1.cuts.len()).sum();
    assert!(desk.sees("Cutting plan") && desk.sees(&format!("{count} boards, {cuts} cuts")));
    assert_eq!(*desk.app().design(), before, "looking changes nothing");

    // Each board has its picture and every one of its cuts, the part numbers among what comes off.
    for (index, (_, board)) in plan.boards().enumerate() {
        let name = format!("Board {}: {} {}", index + 1, board.name, board.copy);
        // Those further down are scrolled away, where a pointer cannot click.
        desk.harness.get_by_label(&name).click_accesskit();
        settle(&mut desk.harness);
        assert!(desk.sees(&format!("Picture of {name}")));
        if let Some(last) = board.cuts.last() {
            let number = last.number.to_string();
            assert!(desk.harness.query_all_by_label(&number).next().is_some(), "cut {number} of {name}");
        }
        let settings = board.cuts.last().map_or(0, |it| it.setting);
        for setting in 1..=settings.min(3) {
            assert!(desk.sees(&format!("{setting}: ")), "setting {setting} of {name}");
        }
    }

    // A change of the design leaves the old plan, said to be old, until it is planned again.
    find(&mut desk, "add a thing");
    assert!(desk.sees("The design has changed since"));
    desk.click("Plan again");
    assert!(!desk.sees("The design has changed since") && desk.sees("Cutting plan"));
    desk.harness.key_press(egui::Key::Num0);
    settle(&mut desk.harness);
    assert!(!desk.sees("Cutting plan"), "the drawing is shown again");
}

#[test]
fn it_speaks_german() {
    let mut desk = Desk::open_copy(STOCKED);
    find(&mut desk, "deutsch");
    desk.click("Zuschnitt");
    assert!(desk.sees("Zuschnittplan") && desk.sees("Platte 1:") && desk.sees("Anschlag") && desk.sees("Diesseits"));
    for english in ["Board 1", "the board", "crosscut", "Proven best", "Remains"] {
        assert!(!desk.sees(english), "{english}");
    }
}

#[test]
fn a_sheet_is_added_where_it_lacks() {
    let mut desk = Desk::open();
    desk.harness.key_press(egui::Key::Num0);
    settle(&mut desk.harness);
    let material = desk.app().cuts().planned().unwrap().plan.lots[0].material.clone();
    desk.click(&format!("Add a sheet of {material}"));
    settle(&mut desk.harness);
    assert!(desk.app().design().boards.iter().any(|it| it.material == material));
    assert!(desk.sees("Board 1: new sheet 1"));
}

#[test]
fn without_boards_it_says_how_to_enter_them() {
    let mut desk = Desk::tall();
    assert!(desk.app().design().boards.is_empty());
    desk.harness.key_press(egui::Key::Num0);
    settle(&mut desk.harness);
    assert!(desk.sees("No boards are entered yet") && desk.sees("Boards and banding"));
    assert!(!desk.sees("impossible") && !desk.sees("missing"), "nothing is impossible yet");
    desk.click("Select boards and banding");
    desk.choose("Add a sheet of", "birch ply");
    // The first board is planned at once; the plan says what still has none.
    assert!(desk.sees("Board 1: new sheet 1") && desk.sees("no boards entered yet for"));
    assert!(!desk.sees("No boards are entered yet"));
    assert_eq!(desk.app().design().boards.len(), 1);
}
