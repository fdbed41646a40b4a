//! The list of parts: number, name, material, sizes, banded edges.

use casewright_core::assembly::{Assembly, Part, PartEdge};
use egui::{Align, Grid, RichText, ScrollArea, Ui};

use super::Desk;
use crate::selection::Selection;
use crate::theme::Palette;

/// A row of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Part number.
    pub number: String,
    /// What it is called.
    pub name: String,
    /// Its material.
    pub material: String,
    /// Length, width and thickness, finished.
    pub finished: [String; 3],
    /// Length and width as sawn.
    pub cut: String,
    /// The banded edges, each by the first letter of its word.
    pub banded: String,
    /// Mass, kg.
    pub mass: String,
}

/// The rows of the list; `show` writes a length, `mass` a mass, `say` a word of the program.
#[must_use]
pub fn rows(
    assembly: &Assembly,
    show: impl Fn(casewright_core::length::Length) -> String,
    mass: impl Fn(f64) -> String,
    say: impl Fn(&str) -> String,
) -> Vec<Row> {
    let row = |part: &Part| Row {
        number: part.number.clone(),
        name: part.name.clone(),
        material: part.material.clone(),
        finished: [part.finished.length, part.finished.width, part.finished.thickness].map(&show),
        cut: format!("{} × {}", show(part.cut.length), show(part.cut.width)),
        banded: banded(part, &say),
        mass: mass(part.mass_kg),
    };
    assembly.parts.iter().map(row).collect()
}

/// The edges, in the order of the letters.
const EDGES: [PartEdge; 4] = [PartEdge::Start, PartEdge::End, PartEdge::Near, PartEdge::Far];

fn banded(part: &Part, say: &impl Fn(&str) -> String) -> String {
    let edges = EDGES.into_iter().filter(|edge| part.bands.iter().any(|band| band.edge == *edge));
    edges.filter_map(|edge| say(edge.word()).chars().next()).flat_map(char::to_uppercase).collect()
}

/// Shows the list.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    let Some(assembly) = desk.good.and_then(|good| good.assembly.as_ref()) else {
        ui.label(desk.words.say("parts-none"));
        return;
    };
    let rows =
        rows(assembly, |length| desk.show(length), |mass| desk.number(mass, 2), |word| desk.words.sentence(word));
    ScrollArea::both().auto_shrink(false).id_salt("parts").show(ui, |ui| {
        Grid::new("parts").num_columns(COLUMNS.len()).spacing([14.0, 3.0]).striped(true).show(ui, |ui| {
            let soft = Palette::here(ui).ink_soft;
            for (key, width, align) in COLUMNS {
                let response = cell(ui, width, align, RichText::new(desk.words.say(key)).small().color(soft));
                if key == "parts-banded" {
                    response.on_hover_text(EDGES.map(|edge| desk.words.sentence(edge.word())).join(", "));
                }
            }
            ui.end_row();
            for row in rows {
                let [length, width, thickness] = row.finished;
                let selected = *desk.selection == Selection::Part(row.number.clone());
                if ui.selectable_label(selected, &row.number).clicked() {
                    desk.select(Selection::Part(row.number.clone()));
                }
                let texts = [
                    desk.words.sentence(&row.name),
                    row.material,
                    length,
                    width,
                    thickness,
                    row.cut,
                    row.banded,
                    row.mass,
                ];
                for ((_, width, align), text) in COLUMNS.into_iter().skip(1).zip(texts) {
                    cell(ui, width, align, RichText::new(text));
                }
                ui.end_row();
            }
        });
    });
}

/// The columns: the key of the heading, the width, and the side that the text stands at.
const COLUMNS: [(&str, f32, Align); 9] = [
    ("parts-number", 110.0, Align::LEFT),
    ("parts-name", 220.0, Align::LEFT),
    ("parts-material", 110.0, Align::LEFT),
    ("parts-length", 70.0, Align::RIGHT),
    ("parts-width", 70.0, Align::RIGHT),
    ("parts-thickness", 60.0, Align::RIGHT),
    ("parts-cut", 150.0, Align::RIGHT),
    ("parts-banded", 60.0, Align::LEFT),
    ("parts-mass", 50.0, Align::RIGHT),
];

fn cell(ui: &mut Ui, width: f32, align: Align, text: RichText) -> egui::Response {
    let layout = if align == Align::RIGHT {
        egui::Layout::right_to_left(Align::Center)
    } else {
        egui::Layout::left_to_right(Align::Center)
    };
    ui.allocate_ui_with_layout(egui::vec2(width, 22.0), layout, |ui| {
        ui.set_min_width(width);
        ui.add(egui::Label::new(text).truncate())
    })
    .inner
}
