//! The right column for a thing: its size, mass, air and access, and where it stands.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Access, ObstacleKind, Opens, Thing, ThingKind, ThingSide};
use casewright_core::text::FieldPath;
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::{Action, Desk, choice, field, heading, trouble};
use crate::command::{Command, Name, tree};
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
        let to = field::free_name(words, to, &taken)?;
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
    pull_outs(ui, desk, thing, &path);
    lead(ui, desk, thing, &path);
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

/// What comes out of it by itself: one block for each, and a button for one more.
fn pull_outs(ui: &mut Ui, desk: &mut Desk<'_>, thing: &Thing, path: &FieldPath) {
    let words = desk.words;
    let at = path.field("pull_outs");
    heading(ui, &words.say("thing-pull-outs"));
    let set = |desk: &mut Desk<'_>, value: Value, key: &str| {
        let name = Name::about("edit-field", words.say(key));
        desk.edit(Command::SetField { path: at.clone(), value, name });
    };
    for (index, it) in thing.pull_outs.iter().enumerate() {
        ui.label(RichText::new(&it.name).strong());
        let here = at.index(index);
        let label = |key: &str| format!("{}: {}", it.name, words.say(key));
        for (key, name, place) in [
            ("field-corner-left", "corner", 0),
            ("field-corner-lower", "corner", 1),
            ("field-width", "size", 0),
            ("field-height", "size", 1),
        ] {
            let sign = if name == "size" { Sign::AboveZero } else { Sign::ZeroOrMore };
            field::length(ui, desk, &label(key), &here.field(name).index(place), sign);
        }
        field::length(ui, desk, &label("pull-out-travel"), &here.field("travel"), Sign::AboveZero);
        field::optional_length(ui, desk, &label("pull-out-deep"), &here.field("depth"), Sign::AboveZero);
        let sides = [ThingSide::Front, ThingSide::Left, ThingSide::Right, ThingSide::Top];
        let keys = ["field-front", "field-left", "field-right", "field-top"];
        let now = sides.iter().position(|side| *side == it.towards).unwrap_or(0);
        let options = keys.iter().zip(sides);
        let options = options.map(|(key, side)| (words.say(key), serde_json::to_value(side).unwrap_or_default()));
        choice::field(ui, desk, &label("pull-out-towards"), &here.field("towards"), now, options.collect());
        if ui.button(words.say_with("pull-out-remove", &[("name", &it.name)])).clicked() {
            let mut rest = thing.pull_outs.clone();
            rest.remove(index);
            set(desk, serde_json::to_value(rest).unwrap_or_default(), "thing-pull-outs");
        }
    }
    if ui.button(words.say("pull-out-add")).clicked() {
        let taken: Vec<String> = thing.pull_outs.iter().map(|it| it.name.clone()).collect();
        let name = tree::fresh_name(&words.say("pull-out-new"), &taken);
        let mut all = serde_json::to_value(&thing.pull_outs).unwrap_or_default();
        if let Some(all) = all.as_array_mut() {
            all.push(json!({ "name": name, "corner": ["20", "20"], "size": ["100", "60"], "travel": "100" }));
        }
        set(desk, all, "thing-pull-outs");
    }
}

/// Its lead, and the socket that it is plugged into.
fn lead(ui: &mut Ui, desk: &mut Desk<'_>, thing: &Thing, path: &FieldPath) {
    let words = desk.words;
    let at = path.field("lead");
    let options = vec![(words.say("lead-none"), Value::Null), (words.say("lead-has"), json!({ "length": "1500" }))];
    choice::field(ui, desk, &words.say("thing-lead"), &at, usize::from(thing.lead.is_some()), options);
    let Some(lead) = &thing.lead else { return };
    field::length(ui, desk, &words.say("lead-length"), &at.field("length"), Sign::AboveZero);
    for (key, name) in [("lead-from-left", "from_left"), ("lead-from-below", "from_below")] {
        field::optional_length(ui, desk, &words.say(key), &at.field(name), Sign::ZeroOrMore);
    }
    let obstacles = desk.design.site.obstacles.iter().filter(|it| it.kind == ObstacleKind::Socket);
    let sockets: Vec<String> = obstacles.map(|it| it.name.clone()).collect();
    let now = match &lead.socket {
        None => 0,
        Some(name) => sockets.iter().position(|it| it == name).map_or(usize::MAX, |index| index + 1),
    };
    let mut options = vec![(words.say("lead-nearest"), Value::Null)];
    options.extend(sockets.into_iter().map(|name| (name.clone(), Value::String(name))));
    choice::field(ui, desk, &words.say("lead-socket"), &at.field("socket"), now, options);
}
