//! The list of parts: number, name, material, sizes, banded edges.

use casewright_core::assembly::{Assembly, Part, PartEdge};
use egui::{Grid, RichText, ScrollArea, Ui};

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
    /// The banded edges: `S` start, `E` end, `N` near, `F` far.
    pub banded: String,
    /// Mass, kg.
    pub mass: String,
}

/// The rows of the list; `show` writes a length.
#[must_use]
pub fn rows(assembly: &Assembly, show: impl Fn(casewright_core::length::Length) -> String) -> Vec<Row> {
    let row = |part: &Part| Row {
        number: part.number.clone(),
        name: part.name.clone(),
        material: part.material.clone(),
        finished: [part.finished.length, part.finished.width, part.finished.thickness].map(&show),
        cut: format!("{} × {}", show(part.cut.length), show(part.cut.width)),
        banded: banded(part),
        mass: format!("{:.2}", part.mass_kg),
    };
    assembly.parts.iter().map(row).collect()
}

fn banded(part: &Part) -> String {
    let has = |edge| part.bands.iter().any(|band| band.edge == edge);
    let letters = [(PartEdge::Start, 'S'), (PartEdge::End, 'E'), (PartEdge::Near, 'N'), (PartEdge::Far, 'F')];
    letters.into_iter().filter(|(edge, _)| has(*edge)).map(|(_, letter)| letter).collect()
}

/// Shows the list.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    let Some(assembly) = desk.good.and_then(|good| good.assembly.as_ref()) else {
        ui.label(desk.words.say("parts-none"));
        return;
    };
    let rows = rows(assembly, |length| desk.show(length));
    ScrollArea::both().auto_shrink(false).id_salt("parts").show(ui, |ui| {
        Grid::new("parts").num_columns(9).spacing([18.0, 3.0]).striped(true).show(ui, |ui| {
            let soft = Palette::here(ui).ink_soft;
            for key in [
                "parts-number",
                "parts-name",
                "parts-material",
                "parts-length",
                "parts-width",
                "parts-thickness",
                "parts-cut",
                "parts-banded",
                "parts-mass",
            ] {
                ui.label(RichText::new(desk.words.say(key)).small().color(soft));
            }
            ui.end_row();
            for row in rows {
                let selected = *desk.selection == Selection::Part(row.number.clone());
                if ui.selectable_label(selected, &row.number).clicked() {
                    desk.select(Selection::Part(row.number.clone()));
                }
                ui.label(&row.name);
                ui.label(&row.material);
                for size in &row.finished {
                    right(ui, size);
                }
                right(ui, &row.cut);
                ui.label(&row.banded);
                right(ui, &row.mass);
                ui.end_row();
            }
        });
    });
}

fn right(ui: &mut Ui, text: &str) {
    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| ui.label(text));
}
