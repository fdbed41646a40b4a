//! Slides, handles, strings, stays, brackets, what comes out of things and their leads, by the names of their controls.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first thing that is not as it should be"
)]

mod support;

use casewright_core::design::{Front, Holding, Inside, ThingSide, TiltStay, TiltStop};
use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

fn tall(select: &str) -> Desk {
    let mut desk = Desk::open_copy("tests/moving.ron");
    desk.harness.set_size(egui::vec2(1440.0, 3200.0));
    settle(&mut desk.harness);
    desk.click(select);
    desk
}

fn holding(desk: &Desk, bay: &str) -> Holding {
    match &desk.app().design().carcass.bay.named(bay).unwrap().inside {
        Inside::Holds { by, .. } => by.clone(),
        other => panic!("{other:?}"),
    }
}

fn front(desk: &Desk, bay: &str) -> Front {
    desk.app().design().carcass.bay.named(bay).unwrap().front.clone().unwrap()
}

fn stay(desk: &Desk) -> Option<TiltStay> {
    let Holding::TiltOut { stay, .. } = holding(desk, "tilting") else { panic!() };
    stay.map(|it| *it)
}

#[test]
fn strings_stays_and_the_string_of_the_lid_are_entered() {
    let mut desk = tall("Bay tilting in the list");
    let before = desk.app().design().clone();
    assert_eq!(stay(&desk), None);
    desk.choose("String or stay", "Its own ends");
    desk.write("On the compartment, away", "180");
    assert_eq!(stay(&desk).unwrap().compartment.1.text(), "180");
    desk.choose("Goes taut", "At an angle");
    desk.write("Taut at", "25");
    assert_eq!(stay(&desk).unwrap().stop, TiltStop::At(25.0));
    desk.choose("Goes taut", "By its length");
    desk.write("String length", "140");
    assert!(matches!(stay(&desk).unwrap().stop, TiltStop::Long(it) if it.text() == "140"));
    desk.choose("Held by", "rod");
    desk.click("One at each side");
    let now = stay(&desk).unwrap();
    assert_eq!((now.with.as_deref(), now.both_sides), (Some("rod"), true));
    desk.choose("String of the lid", "Its own ends");
    desk.write("Lid string on the carcass, away", "520");
    desk.write("Lid starts to open at", "8");
    desk.choose("Pulley", "On the compartment");
    desk.write("Pulley, behind", "55");
    let lid = stay(&desk).unwrap().lid.unwrap();
    assert_eq!((lid.carcass.1.text(), lid.starts_deg), ("520", 8.0));
    assert_eq!(lid.pulley.unwrap().0.text(), "55");
    for _ in 0..13 {
        desk.click("Undo");
    }
    assert_eq!(*desk.app().design(), before, "one step each");
}

#[test]
fn what_holds_a_flap_is_entered() {
    let mut desk = tall("Bay dryer bay in the list");
    desk.choose("Closed by", "a flap hinged above");
    assert_eq!(front(&desk, "dryer bay").stay, None);
    desk.choose("String or stay of the flap", "Its own ends");
    desk.write("On the flap, away", "90");
    desk.choose("Goes taut", "At an angle");
    desk.write("Taut at", "80");
    desk.click("One at each side");
    let stay = front(&desk, "dryer bay").stay.unwrap();
    assert_eq!((stay.flap.1.text(), stay.stop, stay.both_sides), ("90", TiltStop::At(80.0), true));
    // What has a length of its own leaves no more to be said of that.
    desk.choose("Held by", "rod");
    assert_eq!(front(&desk, "dryer bay").stay.unwrap().with.as_deref(), Some("rod"));
    assert!(desk.harness.query_by_label("Goes taut").is_none());
    // A door takes none.
    desk.choose("Closed by", "a flap hinged below");
    assert!(front(&desk, "dryer bay").stay.is_some());
    desk.choose("String or stay of the flap", "None");
    assert_eq!(front(&desk, "dryer bay").stay, None);
}

#[test]
fn slides_handles_and_brackets_are_chosen() {
    let mut desk = tall("Bay lower crate in the list");
    desk.choose("Slides", "open slide");
    let Holding::PullOut { slide, .. } = holding(&desk, "lower crate") else { panic!() };
    assert_eq!(slide.as_deref(), Some("open slide"));
    desk.choose("Slides", "The longest that fits");
    assert!(matches!(holding(&desk, "lower crate"), Holding::PullOut { slide: None, .. }));
    desk.choose("Handle", "bar");
    desk.choose("Brackets", "angle");
    let front = front(&desk, "lower crate");
    assert_eq!((front.handle.as_deref(), front.brackets.as_deref()), (Some("bar"), Some("angle")));
}

#[test]
fn what_comes_out_of_a_thing_and_its_lead_are_entered() {
    let mut desk = tall("Bay dryer bay in the list");
    desk.harness.query_all_by_label("dryer").last().unwrap().click();
    settle(&mut desk.harness);
    desk.click("Add a tank, tray or sieve");
    desk.write("tray: comes out by", "220");
    desk.choose("tray: comes out at", "Above");
    desk.click("Add a tank, tray or sieve");
    let outs = desk.app().design().things.get("dryer").unwrap().pull_outs.clone();
    assert_eq!(outs.iter().map(|it| it.name.as_str()).collect::<Vec<_>>(), ["tray", "tray 2"]);
    assert_eq!((outs[0].travel.text(), outs[0].towards), ("220", ThingSide::Top));
    desk.click("Remove tray");
    assert_eq!(desk.app().design().things.get("dryer").unwrap().pull_outs.len(), 1);
    desk.choose("Lead", "It has one");
    desk.write("Lead length", "1800");
    desk.choose("Plugged into", "wall socket");
    let lead = desk.app().design().things.get("dryer").unwrap().lead.clone().unwrap();
    assert_eq!((lead.length.text(), lead.socket.as_deref()), ("1800", Some("wall socket")));
}

#[test]
fn sentences_with_names_are_german_as_soon_as_a_file_is_open() {
    let mut desk = Desk::open();
    desk.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
    settle(&mut desk.harness);
    desk.write_in_list("What do you want to do?", "deutsch");
    // Another design, with other names.
    let file = desk.folder.path().join("moving.ron");
    std::fs::copy(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/moving.ron"), &file).unwrap();
    desk.harness.state_mut().as_mut().unwrap().open(&file);
    desk.harness.set_size(egui::vec2(1440.0, 3200.0));
    settle(&mut desk.harness);
    desk.click("Fach dryer bay in der Liste");
    assert!(desk.sees("Fach \"") || desk.sees("von \""), "reasons name bays");
    assert!(!desk.sees("of bay \"") && !desk.sees("close to what it holds"), "no English is left");
}
