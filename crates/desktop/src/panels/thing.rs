//! The right column for a thing: its size, mass, air and access, and where it stands.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Access, Opens, Thing, ThingKind};
use casewright_core::text::FieldPath;
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::{Action, Desk, choice, field, heading, trouble};
use crate::command::{Command, Refusal, tree};
use crate::keys::Deed;
use crate::labels;
use crate::selection::Selection;
use crate::theme::Palette;

/// Shows a thing.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>, name: &str) {
    let design = desk.design;
    let Some(thing) = design.things.get(name) else { return };
    let path = FieldPath::root().field("things").key(name);
    let words = desk.words;
    ui.label(RichText::new(labels::thing_kind(words, thing.kind)).color(Palette::here(ui).ink_soft));
    let taken: Vec<String> = design.things.keys().cloned().collect();
    field::text(ui, desk, (&words.say("thing-name"), &format!("thing name {name}")), name, |to| {
        if to.is_empty() {
            return Err(Refusal::NameEmpty.say(words));
        }
        if taken.contains(&to) {
            return Err(Refusal::NameTaken(to).say(words));
        }
        Ok(Command::RenameThing { from: name.to_owned(), to })
    });
    if let Some(latest) = desk.latest {
        for trouble in trouble::about(&latest.troubles, &path) {
            trouble::show(ui, desk, trouble, false);
        }
    }
    place(ui, desk, name);
    heading(ui, &words.say("thing-size"));
    for index in 0..3 {
        let at = path.field("size").index(index);
        field::length(ui, desk, &labels::length(words, &at), &at, Sign::AboveZero);
    }
    choice::switch(ui, desk, &words.say("thing-may-turn"), &path.field("may_turn"), thing.may_turn);
    heading(ui, &words.say("thing-mass"));
    for (key, name, value) in [("thing-mass-empty", "mass_kg", thing.mass_kg), ("thing-load", "load_kg", thing.load_kg)]
    {
        let (label, path) = (words.say(key), path.field(name));
        field::Number { label: &label, path: &path, value: Some(value), unit: "kg", optional: false, whole: false }
            .show(ui, desk);
    }
    heading(ui, &words.say("thing-air"));
    for side in ["sides", "left", "right", "top", "rear", "front"] {
        let at = path.field("air").field(side);
        field::optional_length(ui, desk, &labels::length(words, &at), &at, Sign::ZeroOrMore);
    }
    heading(ui, &words.say("thing-access"));
    access(ui, desk, thing, &path);
    kind(ui, desk, thing, &path);
    ui.add_space(8.0);
    if ui.button(words.say("thing-remove")).clicked() {
        desk.actions.push(Action::Do(Deed::Delete));
    }
}

/// Where it stands, and where else it could.
fn place(ui: &mut Ui, desk: &mut Desk<'_>, name: &str) {
    let here = tree::bay_of_thing(desk.design, name);
    let mut bays = Vec::new();
    tree::walk(desk.design, &mut |bay, _, _| {
        if bay.children().is_empty() {
            bays.push(bay.name.clone());
        }
    });
    let mut options = bays.clone();
    let now = here.as_ref().and_then(|here| bays.iter().position(|bay| bay == here)).unwrap_or_else(|| {
        options.push(desk.words.say("thing-not-housed"));
        bays.len()
    });
    if let Some(chosen) =
        choice::choose(ui, Some((desk.words, "thing-place")), &desk.words.say("thing-stands-in"), now, &options)
        && let Some(bay) = bays.into_iter().nth(chosen)
    {
        desk.edit(Command::PutThing { thing: name.to_owned(), bay });
    }
    if let Some(here) = here {
        let label = desk.words.say_with("trouble-show", &[("name", &here)]);
        if ui.link(label).clicked() {
            desk.select(Selection::bay(here));
        }
    }
}

fn access(ui: &mut Ui, desk: &mut Desk<'_>, thing: &Thing, path: &FieldPath) {
    let at = path.field("access");
    let words = desk.words;
    let options = vec![
        (words.say("access-open"), json!("Open")),
        (words.say("access-front-door"), json!({ "FrontDoor": { "opens": "HingedRight", "reach": "500" } })),
        (words.say("access-above"), json!({ "Above": { "headroom": "300" } })),
    ];
    let now = match thing.access {
        Access::Open => 0,
        Access::FrontDoor { .. } => 1,
        Access::Above { .. } => 2,
    };
    choice::field(ui, desk, &words.say("thing-reached"), &at, now, options);
    match &thing.access {
        Access::Open => {}
        Access::FrontDoor { opens, .. } => {
            let kinds = [Opens::HingedLeft, Opens::HingedRight, Opens::HingedBelow, Opens::HingedAbove, Opens::Pair];
            let now = kinds.iter().position(|kind| kind == opens).unwrap_or(usize::MAX);
            let option = |kind: Opens| (labels::opens(words, kind), serde_json::to_value(kind).unwrap_or_default());
            let options: Vec<(String, Value)> = kinds.into_iter().map(option).collect();
            choice::field(ui, desk, &words.say("thing-door"), &at.field("opens"), now, options);
            field::length(ui, desk, &words.say("field-reach"), &at.field("reach"), Sign::ZeroOrMore);
        }
        Access::Above { .. } => {
            field::length(ui, desk, &words.say("field-headroom"), &at.field("headroom"), Sign::ZeroOrMore);
        }
    }
}

fn kind(ui: &mut Ui, desk: &mut Desk<'_>, thing: &Thing, path: &FieldPath) {
    let words = desk.words;
    let kinds = [ThingKind::Appliance, ThingKind::Crate, ThingKind::Container, ThingKind::Bin, ThingKind::Other];
    let now = kinds.iter().position(|kind| *kind == thing.kind).unwrap_or(0);
    let option = |kind: ThingKind| (labels::thing_kind(words, kind), serde_json::to_value(kind).unwrap_or_default());
    let options: Vec<(String, Value)> = kinds.into_iter().map(option).collect();
    choice::field(ui, desk, &words.say("thing-kind"), &path.field("kind"), now, options);
}
