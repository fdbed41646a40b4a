//! The left column: the room, the things to be housed, and the bays.

use casewright_core::design::{Design, Inside};
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::{RichText, ScrollArea, Ui};

use super::{Action, Desk, heading};
use crate::command::tree;
use crate::keys::Deed;
use crate::lengths::Lengths;
use crate::selection::Selection;
use crate::theme::Palette;

/// A row of the list of things.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThingRow {
    /// Its name.
    pub name: String,
    /// Width, height and depth.
    pub size: String,
    /// The bay that holds it.
    pub bay: Option<String>,
}

/// A row of the tree of bays.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BayRow {
    /// Its name.
    pub name: String,
    /// How deep it is nested.
    pub depth: usize,
    /// A sign for how it is divided: `|` across, `=` up, `[]` in its own box, `·` not at all.
    pub sign: &'static str,
}

/// The rows of the list of things; `show` writes a length.
#[must_use]
pub fn thing_rows(design: &Design, lengths: &Lengths, show: impl Fn(Length) -> String) -> Vec<ThingRow> {
    let size = |name: &str| {
        let at = FieldPath::root().field("things").key(name).field("size");
        let one = |index: usize| match lengths.get(&at.index(index)).map(|written| &written.value) {
            Some(Ok(length)) => show(*length),
            _ => "✖".to_owned(),
        };
        [0, 1, 2].map(one).join(" × ")
    };
    let row = |name: &String| ThingRow { name: name.clone(), size: size(name), bay: tree::bay_of_thing(design, name) };
    design.things.keys().map(row).collect()
}

/// The rows of the tree of bays.
#[must_use]
pub fn bay_rows(design: &Design) -> Vec<BayRow> {
    let mut rows = Vec::new();
    tree::walk(design, &mut |bay, depth, _| {
        let sign = match &bay.inside {
            Inside::Across { .. } => "|",
            Inside::Up { .. } => "=",
            Inside::Boxed { .. } => "[]",
            Inside::Open { .. } | Inside::Holds { .. } => "·",
        };
        rows.push(BayRow { name: bay.name.clone(), depth, sign });
    });
    rows
}

/// Shows the column.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        let words = desk.words;
        let row = |ui: &mut Ui, desk: &mut Desk<'_>, text: String, selection: Selection| {
            let selected = *desk.selection == selection;
            let button = super::wide(egui::Button::selectable(selected, &text), ui, 26.0);
            if ui.add(button).accessible_name(&text).clicked() {
                desk.select(selection);
            }
        };
        row(ui, desk, words.say("carcass-title"), Selection::Carcass);
        row(ui, desk, words.say("room-title"), Selection::Site);
        row(ui, desk, words.say("stock-title"), Selection::Stock);

        heading(ui, &words.say("things-title"));
        let rows = thing_rows(desk.design, desk.lengths, |length| desk.show(length));
        if rows.is_empty() {
            ui.label(RichText::new(words.say("things-none")).color(Palette::here(ui).ink_soft));
        }
        for thing in rows {
            thing_row(ui, desk, &thing);
        }
        if ui.button(Deed::AddThing.say(words)).clicked() {
            desk.actions.push(Action::Do(Deed::AddThing));
        }

        heading(ui, &words.say("bays-title"));
        for bay in bay_rows(desk.design) {
            bay_row(ui, desk, &bay);
        }
    });
}

fn thing_row(ui: &mut Ui, desk: &mut Desk<'_>, row: &ThingRow) {
    let selected = *desk.selection == Selection::Thing(row.name.clone());
    let button = egui::Button::selectable(selected, &row.name).truncate();
    let response = ui
        .add(super::wide(button, ui, 24.0).sense(egui::Sense::click_and_drag()))
        .accessible_name(desk.words.say_with("thing-row", &[("name", &row.name)]));
    response.dnd_set_drag_payload(DraggedThing(row.name.clone()));
    if response.clicked() {
        desk.select(Selection::Thing(row.name.clone()));
    }
    let palette = Palette::here(ui);
    ui.horizontal(|ui| {
        ui.add_space(10.0);
        match &row.bay {
            Some(bay) => {
                let text = format!("{}  →  {bay}", row.size);
                ui.add(egui::Label::new(RichText::new(text).small().color(palette.ink_soft)).truncate());
            }
            None => {
                let text = format!("{}  ▲ {}", row.size, desk.words.say("thing-not-housed"));
                ui.add(egui::Label::new(RichText::new(text).small().color(palette.warning)).truncate());
            }
        }
    });
}

/// A thing that is being dragged from the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraggedThing(pub String);

fn bay_row(ui: &mut Ui, desk: &mut Desk<'_>, row: &BayRow) {
    ui.horizontal(|ui| {
        ui.add_space(10.0 * row.depth as f32);
        let selected = desk.selection.has_bay(&row.name);
        let button = egui::Button::selectable(selected, format!("{} {}", row.sign, row.name)).truncate();
        let response = ui
            .add(super::wide(button, ui, 22.0))
            .accessible_name(desk.words.say_with("bay-row", &[("name", &row.name)]));
        if response.clicked() {
            let adds = ui.input(|input| input.modifiers.command || input.modifiers.shift);
            let selection = if adds { desk.selection.with_toggled(&row.name) } else { Selection::bay(&row.name) };
            desk.select(selection);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::Command;
    use crate::sample;

    #[test]
    fn the_lists_say_what_is_there() {
        let mut design = sample::design();
        let lengths = Lengths::of(&design);
        let show = |length| lengths.input(length);
        let rows = thing_rows(&design, &lengths, show);
        assert_eq!(
            rows,
            [ThingRow { name: "crate".into(), size: "400 × 320 × 300".into(), bay: Some("crates".into()) }]
        );
        let rows: Vec<String> =
            bay_rows(&design).iter().map(|row| format!("{}{} {}", " ".repeat(row.depth), row.sign, row.name)).collect();
        assert_eq!(rows.join("\n"), "| whole\n · left\n = right\n  · crates\n  · upper");
        design = Command::RemoveThing("crate".into()).apply(&design).unwrap();
        assert!(thing_rows(&design, &lengths, show).is_empty());
    }
}
