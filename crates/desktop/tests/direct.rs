//! Direct work on the elevation with the pointer: things, bays, dividers and dimensions taken hold of where they are drawn.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::design::{Design, Inside, Want};
use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use casewright_desktop::command::tree;
use egui::{Modifiers, Pos2, vec2};
use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

impl Desk {
    /// Presses the pointer at one place, takes it to another in steps, and lets go.
    fn carry(&mut self, from: Pos2, to: Pos2) {
        self.hold(from, to);
        self.harness.drop_at(to);
        settle(&mut self.harness);
    }

    /// The same without letting go.
    fn hold(&mut self, from: Pos2, to: Pos2) {
        self.harness.hover_at(from);
        self.harness.run_steps(2);
        self.harness.drag_at(from);
        self.harness.run_steps(2);
        for step in 1..=8 {
            self.harness.hover_at(from + (to - from) * (step as f32 / 8.0));
            settle(&mut self.harness);
        }
    }

    fn place(&self, name: &str) -> egui::Rect {
        self.harness.get_by_label(name).rect()
    }

    fn bay(&self, name: &str) -> Option<Inside> {
        self.app().design().carcass.bay.named(name).map(|bay| bay.inside.clone())
    }

    fn select_both(&mut self, first: &str, second: &str) {
        self.click(&format!("Bay {first} in the list"));
        self.harness.get_by_label(&format!("Bay {second} in the list")).click_modifiers(Modifiers::COMMAND);
        settle(&mut self.harness);
    }

    /// Undo brings the design back exactly, redo makes the same again.
    #[track_caller]
    fn is_undone_and_redone(&mut self, before: &Design) {
        let after = self.app().design().clone();
        assert!(after != *before, "nothing was done");
        self.click("Undo");
        assert_eq!(self.app().design(), before);
        self.click("Redo");
        assert_eq!(*self.app().design(), after);
    }
}

fn holds(things: &[&str]) -> impl Fn(&Inside) -> bool {
    let things: Vec<String> = things.iter().map(|name| (*name).to_owned()).collect();
    move |inside| matches!(inside, Inside::Holds { things: held, .. } if *held == things)
}

#[test]
fn a_thing_is_dragged_from_the_list_into_a_bay() {
    let mut desk = Desk::open();
    let before = desk.app().design().clone();
    let from = desk.place("Thing crate left in the list").center();
    let to = desk.place("Bay shelves").center() + vec2(14.0, -14.0);
    desk.carry(from, to);
    assert!(desk.bay("shelves").is_some_and(|inside| holds(&["crate left"])(&inside)));
    assert!(desk.bay("lower crate").is_some_and(|inside| matches!(inside, Inside::Open { .. })));
    desk.is_undone_and_redone(&before);
}

#[test]
fn bays_change_places_and_are_joined_wrapped_doubled_and_taken_away() {
    let mut desk = Desk::open();
    let start = desk.app().design().clone();
    desk.select_both("lower crate", "shelves");
    desk.harness.key_press(egui::Key::X);
    settle(&mut desk.harness);
    let names = tree::names(desk.app().design());
    let place = |name: &str| names.iter().position(|it| it == name).unwrap();
    assert!(place("shelves") < place("upper crate") && place("upper crate") < place("lower crate"));
    desk.is_undone_and_redone(&start);
    desk.click("Undo");

    let check = |desk: &mut Desk, button: &str, change: &dyn Fn(&Desk) -> bool| {
        let before = desk.app().design().clone();
        desk.click("Bay over the dryer in the list");
        desk.click(button);
        assert!(change(desk), "{button}");
        desk.is_undone_and_redone(&before);
        desk.click("Undo");
    };
    check(&mut desk, "Wrap in its own box", &|desk| {
        desk.bay("over the dryer").is_some_and(|inside| matches!(inside, Inside::Boxed { .. }))
    });
    check(&mut desk, "Duplicate", &|desk| desk.bay("over the dryer 2").is_some());
    check(&mut desk, "Remove", &|desk| desk.bay("over the dryer").is_none());
    desk.click("Bay dryer bay in the list");
    desk.click("Join with the next bay");
    assert!(desk.bay("over the dryer").is_none());
    desk.is_undone_and_redone(&start);
}

#[test]
fn what_can_be_done_is_offered_under_the_pointer_and_divides_there() {
    let mut desk = Desk::open();
    let bay = desk.place("Bay over the dryer");
    // A quarter of the way up, between the loose shelves.
    let at = Pos2::new(bay.center().x + 20.0, bay.bottom() - bay.height() * 0.2);
    desk.harness.hover_at(at);
    desk.harness.run_steps(2);
    for pressed in [true, false] {
        let button = egui::PointerButton::Secondary;
        desk.harness.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers: Modifiers::NONE });
        desk.harness.run_steps(2);
    }
    settle(&mut desk.harness);
    let before = desk.app().design().clone();
    desk.click("Divide here by a shelf");
    let clear = |desk: &Desk, name: &str| {
        desk.app().good().unwrap().layout.as_ref().unwrap().bay(name).unwrap().clear.size(Axis::Y)
    };
    let (lower, upper) = (clear(&desk, "over the dryer"), clear(&desk, "over the dryer 2"));
    assert!(lower * 2 < upper, "{lower:?} under {upper:?}");
    desk.is_undone_and_redone(&before);
}

#[test]
fn a_divider_stops_softly_says_where_and_names_what_holds_it() {
    let mut desk = Desk::open();
    let handle = desk.place("Divider between dryer bay and over the dryer");
    let from = Pos2::new(handle.left() + 12.0, handle.center().y);
    // Far down: the dryer with its air holds it.
    desk.hold(from, from + vec2(0.0, 60.0));
    let latest = desk.app().latest().unwrap();
    assert_eq!(latest.why.bay, "dryer bay");
    let reasons: Vec<&String> = latest.why.lines.iter().flat_map(|line| &line.reasons).collect();
    assert!(reasons.iter().any(|reason| reason.contains("what bay \"dryer bay\" holds needs a height")), "{reasons:?}");
    desk.harness.drop_at(from + vec2(0.0, 60.0));
    settle(&mut desk.harness);
    let layout = desk.app().good().unwrap().layout.clone().unwrap();
    let dryer = layout.things.iter().find(|thing| thing.name == "dryer").unwrap();
    assert_eq!(layout.bay("dryer bay").unwrap().clear.size(Axis::Y), dryer.with_air.size(Axis::Y));
}

#[test]
fn a_dragged_divider_leaves_an_envelope_of_at_most_as_large_as_it_may_be() {
    let mut desk = Desk::open();
    let wide = desk.outside(Axis::X);
    let handle = desk.place("Divider between wet side and dry side");
    let from = Pos2::new(handle.center().x, handle.top() + 20.0);
    for by in [-30.0, 17.0, 40.0, -7.0] {
        desk.hold(from, from + vec2(by, 0.0));
        assert_eq!(desk.outside(Axis::X), wide, "dragged by {by}");
        desk.harness.drop_at(from + vec2(by, 0.0));
        settle(&mut desk.harness);
        desk.click("Undo");
    }
}

#[test]
fn a_size_on_the_drawing_is_typed_and_freed_again_by_a_click() {
    let mut desk = Desk::open();
    desk.click("Bay over the dryer in the list");
    desk.click("Height of over the dryer on the drawing");
    desk.write("Height of over the dryer on the drawing", "700");
    let want = |desk: &Desk| desk.app().design().carcass.bay.named("over the dryer").unwrap().height.clone();
    assert!(matches!(want(&desk), Want::Fixed(_)));
    let clear = desk.app().good().unwrap().layout.as_ref().unwrap().bay("over the dryer").unwrap().clear;
    assert_eq!(clear.size(Axis::Y), Length::from_mm(700));
    desk.click("Free again: Height of over the dryer on the drawing");
    assert_eq!(want(&desk), Want::Free);
}

#[test]
fn comments_of_a_file_stay_over_an_edit() {
    let mut desk = Desk::open();
    let text = std::fs::read_to_string(&desk.file).unwrap();
    std::fs::write(
        &desk.file,
        format!("// Measured twice.\n{}", text.replace("    things: {", "    // To ask.\n    things: {")),
    )
    .unwrap();
    std::thread::sleep(std::time::Duration::from_millis(900));
    settle(&mut desk.harness);
    desk.write("Width", "1480");
    desk.click("Save");
    let saved = std::fs::read_to_string(&desk.file).unwrap();
    assert!(saved.contains("// Measured twice.\n") && saved.contains("// To ask.\n"), "{saved}");
    assert_eq!(Design::from_ron(&saved).unwrap(), *desk.app().design());
}
