//! Openings in panels, for air and for what must be reached: shown with the bay that they serve.

use casewright_core::design::Role;
use casewright_core::design::resolve::Sign;
use casewright_core::text::FieldPath;
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::{Desk, choice, field, heading, rows};
use crate::labels;

/// Shows the openings that serve a bay, and a button for one more.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>, bay: &str) {
    let words = desk.words;
    let at = FieldPath::root().field("carcass").field("openings");
    let title = words.say("openings-title");
    heading(ui, &title);
    let all = &desk.design.carcass.openings;
    for (index, it) in all.iter().enumerate().filter(|(_, it)| it.bay == bay) {
        let at_one = at.index(index);
        let place = words.say_with("opening-in", &[("panel", &labels::role(words, it.panel))]);
        ui.push_id(("opening", index), |ui| {
            ui.label(RichText::new(&place).strong());
            let option = |role: Role| (labels::role(words, role), serde_json::to_value(role).unwrap_or_default());
            let panels = || Role::ALL.into_iter().filter(|role| role.may_have_openings());
            let now = panels().position(|role| role == it.panel).unwrap_or(usize::MAX);
            let options = panels().map(option).collect();
            choice::field(ui, desk, &words.say("opening-panel"), &at_one.field("panel"), now, options);
            let axes = Axes::of(it.panel);
            for (side, key) in axes.sizes().into_iter().enumerate() {
                field::length(ui, desk, &words.say(key), &at_one.field("size").index(side), Sign::AboveZero);
            }
            let options = vec![
                (words.say("opening-middle"), Value::Null),
                (words.say("opening-at"), json!([desk.mm(50), desk.mm(50)])),
            ];
            let at_place = at_one.field("at");
            choice::field(ui, desk, &words.say("opening-place"), &at_place, usize::from(it.at.is_some()), options);
            if it.at.is_some() {
                for (side, key) in axes.places().into_iter().enumerate() {
                    field::length(ui, desk, &words.say(key), &at_place.index(side), Sign::ZeroOrMore);
                }
            }
            let (label, path) = (words.say("opening-free"), at_one.field("free"));
            let value = Some(it.free);
            field::Number { label: &label, path: &path, value, unit: "", optional: false, whole: false }.show(ui, desk);
            if ui.button(words.say("opening-remove")).clicked() {
                rows::remove(desk, &at, index, &title);
            }
        });
    }
    if ui.button(words.say("opening-add")).clicked() {
        let new = json!({ "panel": "Back", "bay": bay, "size": [desk.mm(100), desk.mm(60)] });
        rows::add(desk, &at, new, &title);
    }
}

/// How the panel with an opening lies, which says what its two sizes are.
#[derive(Clone, Copy, Debug)]
enum Axes {
    /// Width and depth.
    Lying,
    /// Depth and height.
    UprightSideways,
    /// Width and height.
    UprightAcross,
}

impl Axes {
    const fn of(panel: Role) -> Self {
        match panel {
            Role::Bottom | Role::Top | Role::Shelf | Role::Worktop => Self::Lying,
            Role::Side | Role::Upright => Self::UprightSideways,
            _ => Self::UprightAcross,
        }
    }

    const fn sizes(self) -> [&'static str; 2] {
        match self {
            Self::Lying => ["opening-width", "opening-depth"],
            Self::UprightSideways => ["opening-depth", "opening-height"],
            Self::UprightAcross => ["opening-width", "opening-height"],
        }
    }

    const fn places(self) -> [&'static str; 2] {
        match self {
            Self::Lying => ["opening-from-left", "opening-from-rear"],
            Self::UprightSideways => ["opening-from-rear", "opening-from-below"],
            Self::UprightAcross => ["opening-from-left", "opening-from-below"],
        }
    }
}
