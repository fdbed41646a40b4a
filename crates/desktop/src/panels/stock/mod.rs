//! The right column for what the piece is cut from: boards in stock and to be bought, materials, edge banding, the saw.

mod board;
mod materials;

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Board, Least, MaterialKind};
use casewright_core::expr::Dim;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use casewright_stock::{TableForm, write_table_as};
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::{Action, Desk, choice, field, section};
use crate::command::{Name, tree};
use crate::dialogs::stock_in::Way;
use crate::labels;
use crate::notice::Notice;
use crate::theme::Palette;

/// Shows it.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    let words = desk.words;
    ui.label(RichText::new(words.say("stock-intro")).color(Palette::here(ui).ink_soft));
    section(ui, &words.say("carcass-stock"), true, |ui| boards(ui, desk));
    section(ui, &words.say("stock-saw"), false, |ui| saw(ui, desk));
    section(ui, &words.say("carcass-boards"), false, |ui| materials::materials(ui, desk));
    section(ui, &words.say("stock-by-role"), false, |ui| materials::by_role(ui, desk));
    section(ui, &words.say("carcass-banding"), false, |ui| materials::bandings(ui, desk));
    section(ui, &words.say("stock-banded-edges"), false, |ui| materials::banded_edges(ui, desk));
}

/// Where the boards stand.
fn at_boards() -> FieldPath {
    FieldPath::root().field("boards")
}

/// The boards, and the ways to enter more.
fn boards(ui: &mut Ui, desk: &mut Desk<'_>) {
    let design = desk.design;
    let words = desk.words;
    if design.boards.is_empty() {
        ui.label(RichText::new(words.say("stock-none")).color(Palette::here(ui).ink_soft));
    }
    for (index, it) in design.boards.iter().enumerate() {
        board::show(ui, desk, index, it);
    }
    ui.add_space(6.0);
    let names: Vec<String> = design.materials.keys().cloned().collect();
    let chosen = choice::one_more(ui, words, &words.say("stock-add"), &names);
    if let Some(material) = chosen.and_then(|it| names.into_iter().nth(it)) {
        add_sheet(desk, material);
    }
    ui.horizontal_wrapped(|ui| {
        for (key, way) in [("stock-table", Way::Table), ("stock-old-box", Way::OldBox)] {
            if ui.button(words.say(key)).clicked() {
                desk.actions.push(Action::EnterBoards(way));
            }
        }
        let resolved = desk.latest.and_then(|it| it.resolved.as_ref()).filter(|it| !it.boards.is_empty());
        let copy = ui.add_enabled(resolved.is_some(), egui::Button::new(words.say("stock-copy")));
        if let Some(resolved) = resolved.filter(|_| copy.clicked()) {
            let form = TableForm::clipboard(desk.decimal_mark());
            ui.ctx().copy_text(write_table_as(&resolved.boards, resolved.unit, form));
            desk.actions.push(Action::Say(Notice::of("notice-table-copied")));
        }
    });
}

/// Adds a sheet of a material to the boards in stock.
pub(crate) fn add_sheet(desk: &mut Desk<'_>, material: String) {
    let mut all = desk.design.boards.clone();
    all.push(usual_sheet(desk, material));
    desk.set(at_boards(), &all, Name::new("edit-boards"));
}

/// A whole sheet of a material to begin with, of a usual size (common practice: plywood 2500 x 1250 mm, others 2800 x 2070 mm).
fn usual_sheet(desk: &Desk<'_>, material: String) -> Board {
    let kind = desk.design.materials.get(&material).map(|it| it.kind);
    let (length, width) = if kind == Some(MaterialKind::Plywood) { (2500, 1250) } else { (2800, 2070) };
    let taken: Vec<String> = desk.design.boards.iter().map(|it| it.name.clone()).collect();
    let name = tree::fresh_name(&desk.words.say("stock-new"), &taken);
    let of = |mm| Dim::of(Length::from_mm(mm), desk.design.unit);
    Board::new(name, material, (of(length), of(width)))
}

/// The saw, and what a cutting plan keeps least.
fn saw(ui: &mut Ui, desk: &mut Desk<'_>) {
    let words = desk.words;
    let at = FieldPath::root().field("saw");
    let kinds = [(Least::Buying, "least-buying"), (Least::Boards, "least-boards"), (Least::Area, "least-area")];
    let now = kinds.iter().position(|(kind, _)| *kind == desk.design.saw.least).unwrap_or(0);
    let options = kinds.map(|(kind, key)| (words.say(key), serde_json::to_value(kind).unwrap_or_default()));
    choice::field(ui, desk, &words.say("saw-least"), &at.field("least"), now, options.to_vec());
    for name in ["kerf", "trim"] {
        let at = at.field(name);
        field::optional_length(ui, desk, &labels::length(words, &at), &at, Sign::ZeroOrMore);
    }
    let at = at.field("useful");
    let own = desk.design.saw.useful.is_some();
    let options = vec![
        (words.say("saw-useful-usual"), Value::Null),
        (words.say("saw-useful-own"), json!([desk.mm(300), desk.mm(100)])),
    ];
    choice::field(ui, desk, &words.say("saw-useful"), &at, usize::from(own), options);
    if own {
        super::carcass::lengths_under(ui, desk, &at);
    }
}
