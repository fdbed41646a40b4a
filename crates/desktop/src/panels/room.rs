//! The left column: the room, the things to be housed, and the bays.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Design, Inside};
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::{RichText, ScrollArea, Ui};
use serde_json::json;

use super::carcass::lengths_under;
use super::{Action, Desk, choice, field, heading};
use crate::command::{Command, Name, tree};
use crate::keys::Deed;
use crate::labels;
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

/// Shows the right column for the room.
pub fn show_site(ui: &mut Ui, desk: &mut Desk<'_>) {
    let words = desk.words;
    let at = FieldPath::root().field("site");
    let site = &desk.design.site;
    heading(ui, &words.say("site-niche"));
    let options = vec![
        (words.say("site-no-niche"), json!(null)),
        (words.say("site-in-niche"), json!({ "width": "1000", "left_wall": true, "right_wall": true })),
    ];
    choice::field(ui, desk, &words.say("site-stands"), &at.field("niche"), usize::from(site.niche.is_some()), options);
    if let Some(niche) = &site.niche {
        let at = at.field("niche");
        field::length(ui, desk, &words.say("field-width"), &at.field("width"), Sign::AboveZero);
        field::optional_length(ui, desk, &words.say("field-height"), &at.field("height"), Sign::AboveZero);
        field::optional_length(ui, desk, &words.say("field-depth"), &at.field("depth"), Sign::AboveZero);
        choice::switch(ui, desk, &words.say("site-left-wall"), &at.field("left_wall"), niche.left_wall);
        choice::switch(ui, desk, &words.say("site-right-wall"), &at.field("right_wall"), niche.right_wall);
    }
    heading(ui, &words.say("site-obstacles"));
    let obstacles = at.field("obstacles");
    for (index, obstacle) in site.obstacles.iter().enumerate() {
        let at = obstacles.index(index);
        let kind = labels::obstacle_kind(words, obstacle.kind);
        ui.label(RichText::new(format!("{} · {kind}", obstacle.name)).strong());
        for (name, count) in [("corner", 3), ("size", 3)] {
            for index in 0..count {
                let at = at.field(name).index(index);
                field::length(ui, desk, &labels::length(words, &at), &at, Sign::Any);
            }
        }
        let at_clear = at.field("keep_clear");
        field::optional_length(ui, desk, &labels::length(words, &at_clear), &at_clear, Sign::ZeroOrMore);
        if ui.button(words.say_with("site-remove", &[("name", &obstacle.name)])).clicked() {
            let mut left = site.obstacles.clone();
            left.remove(index);
            set_obstacles(desk, &obstacles, &left);
        }
    }
    if ui.button(words.say("site-add-obstacle")).clicked() {
        let mut all = serde_json::to_value(&site.obstacles).unwrap_or_default();
        let taken: Vec<String> = site.obstacles.iter().map(|obstacle| obstacle.name.clone()).collect();
        let name = tree::fresh_name(&words.say("obstacle-other"), &taken);
        if let Some(list) = all.as_array_mut() {
            list.push(json!({ "name": name, "corner": ["0", "0", "0"], "size": ["100", "100", "100"] }));
        }
        let name = Name::new("edit-obstacles");
        desk.edit(Command::SetField { path: obstacles, value: all, name });
    }
    heading(ui, &words.say("site-neighbour"));
    let options = vec![
        (words.say("site-no-neighbour"), json!(null)),
        (words.say("site-has-neighbour"), json!({ "height": "900", "thickness": "38", "depth": "600" })),
    ];
    let at_neighbour = at.field("neighbour_worktop");
    let now = usize::from(site.neighbour_worktop.is_some());
    choice::field(ui, desk, &words.say("site-next-door"), &at_neighbour, now, options);
    if let Some(neighbour) = &site.neighbour_worktop {
        choice::switch(ui, desk, &words.say("site-on-left"), &at_neighbour.field("on_left"), neighbour.on_left);
        lengths_under(ui, desk, &at_neighbour);
    }
    if !site.floor.is_empty() {
        heading(ui, &words.say("site-floor"));
        lengths_under(ui, desk, &at.field("floor"));
    }
}

fn set_obstacles(desk: &mut Desk<'_>, path: &FieldPath, obstacles: &[casewright_core::design::Obstacle]) {
    let value = serde_json::to_value(obstacles).unwrap_or_default();
    desk.edit(Command::SetField { path: path.clone(), value, name: Name::new("edit-obstacles") });
}

#[cfg(test)]
mod tests {
    use super::*;
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
