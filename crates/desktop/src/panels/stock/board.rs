//! One entry of the stock, as it was measured.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Board, BoardEdge, BoardSource, KeptBand, Role};
use casewright_core::text::FieldPath;
use egui::{CollapsingHeader, RichText, Ui};
use serde_json::{Value, json};

use super::at_boards;
use crate::command::{Command, Name, tree};
use crate::labels;
use crate::panels::{Desk, carcass, choice, field, rows};

/// Shows a board: a line that opens.
pub(super) fn show(ui: &mut Ui, desk: &mut Desk<'_>, index: usize, board: &Board) {
    let title = format!("{}  {}", board.name, summary(desk, index, board));
    CollapsingHeader::new(title).id_salt(("board in stock", index)).show(ui, |ui| {
        let at = at_boards().index(index);
        what(ui, desk, (index, board), &at);
        sizes(ui, desk, board, &at);
        banded(ui, desk, board, &at);
        uses(ui, desk, board, &at);
        ui.add_space(4.0);
        ui.horizontal(|ui| {
            let all = &desk.design.boards;
            if ui.button(desk.words.say("stock-duplicate")).clicked() {
                let taken: Vec<String> = all.iter().map(|it| it.name.clone()).collect();
                let mut all = all.clone();
                all.insert(index + 1, Board { name: tree::fresh_name(&board.name, &taken), ..board.clone() });
                desk.set(at_boards(), &all, Name::about("edit-duplicate", &board.name));
            } else if ui.button(desk.words.say("stock-remove")).clicked() {
                let mut all = all.clone();
                all.remove(index);
                desk.set(at_boards(), &all, Name::about("edit-delete", &board.name));
            }
        });
        ui.add_space(4.0);
    });
}

/// Size and number in one line.
fn summary(desk: &Desk<'_>, index: usize, board: &Board) -> String {
    let size = at_boards().index(index).field("size");
    let one = |side: usize| match desk.lengths.get(&size.index(side)).map(|it| &it.value) {
        Some(Ok(length)) => desk.show(*length),
        _ => "✖".to_owned(),
    };
    let count = match board.quantity {
        Some(count) => desk.words.say_with("stock-pieces", &[("count", &count)]),
        None => desk.words.say("stock-as-needed"),
    };
    format!("{} × {}, {count}", one(0), one(1))
}

fn what(ui: &mut Ui, desk: &mut Desk<'_>, (index, board): (usize, &Board), at: &FieldPath) {
    let words = desk.words;
    let taken: Vec<String> = desk.design.boards.iter().map(|it| it.name.clone()).collect();
    let path = at.field("name");
    field::text(ui, desk, (&words.say("stock-name"), &format!("board name {index}")), &board.name, |name| {
        let name = field::free_name(words, name, &taken)?;
        Ok(Command::SetField { path, name: Name::about("edit-rename", &name), value: Value::String(name) })
    });
    carcass::material_choice(ui, desk, &words.say("stock-material"), &at.field("material"), &board.material);
    let sources = [
        (BoardSource::New, "stock-source-new"),
        (BoardSource::Offcut, "stock-source-offcut"),
        (BoardSource::Salvaged, "stock-source-salvaged"),
    ];
    let now = sources.iter().position(|(source, _)| *source == board.source).unwrap_or(0);
    let options = sources.map(|(source, key)| (words.say(key), serde_json::to_value(source).unwrap_or_default()));
    choice::field(ui, desk, &words.say("stock-source"), &at.field("source"), now, options.to_vec());
    let (label, path) = (words.say("stock-quantity"), at.field("quantity"));
    let value = board.quantity.map(f64::from);
    field::Number { label: &label, path: &path, value, unit: "", optional: true, whole: true }.show(ui, desk);
    let (label, path) = (words.say("stock-price"), at.field("price"));
    field::Number { label: &label, path: &path, value: board.price, unit: "", optional: true, whole: false }
        .show(ui, desk);
}

fn sizes(ui: &mut Ui, desk: &mut Desk<'_>, board: &Board, at: &FieldPath) {
    let words = desk.words;
    for side in 0..2 {
        let at = at.field("size").index(side);
        field::length(ui, desk, &labels::length(words, &at), &at, Sign::AboveZero);
    }
    let thick = at.field("thickness");
    field::optional_length(ui, desk, &labels::length(words, &thick), &thick, Sign::AboveZero);
    let strips = at.field("spoilt");
    let options = vec![
        (words.say("stock-spoilt-none"), Value::Null),
        (words.say("stock-spoilt-strips"), json!(["0", "0", "0", "0"])),
    ];
    let has = usize::from(board.spoilt.is_some());
    choice::field(ui, desk, &words.say("stock-spoilt"), &strips, has, options);
    if board.spoilt.is_some() {
        carcass::lengths_under(ui, desk, &strips);
    }
    let good = at.field("good");
    for index in 0..board.good.len() {
        let label = words.say_with("stock-good-one", &[("number", &(index + 1))]);
        ui.horizontal(|ui| {
            ui.label(RichText::new(&label).strong());
            if ui
                .button(words.say("stock-good-remove"))
                .accessible_name(format!("{label}: {}", words.say("stock-good-remove")))
                .clicked()
            {
                rows::remove(desk, &good, index, &board.name);
            }
        });
        carcass::lengths_under(ui, desk, &good.index(index));
    }
    if ui.button(words.say("stock-good-add")).clicked() {
        let (length, width) = (board.size.0.text(), board.size.1.text());
        rows::add(desk, &good, json!(["0", "0", length, width]), &board.name);
    }
}

/// Which of its edges have a banding worth keeping.
fn banded(ui: &mut Ui, desk: &mut Desk<'_>, board: &Board, at: &FieldPath) {
    let words = desk.words;
    let bands: Vec<String> = desk.design.banding.keys().cloned().collect();
    if bands.is_empty() {
        return;
    }
    let keys = ["stock-band-start", "stock-band-end", "stock-band-near", "stock-band-far"];
    for (edge, key) in BoardEdge::ALL.into_iter().zip(keys) {
        let kept = board.banded.iter().find(|it| it.edge == edge);
        let label = words.say(key);
        let none = words.say("stock-band-none");
        let Some(chosen) = choice::one_or_none(ui, &label, none, kept.map(|it| &it.band), &bands) else { continue };
        let mut all: Vec<KeptBand> = board.banded.iter().filter(|it| it.edge != edge).cloned().collect();
        all.extend(chosen.map(|band| KeptBand { edge, band }));
        all.sort_by_key(|it| it.edge);
        desk.set(at.field("banded"), &all, Name::about("edit-field", &label));
    }
}

/// Family, finish, and what it may be used for.
fn uses(ui: &mut Ui, desk: &mut Desk<'_>, board: &Board, at: &FieldPath) {
    let words = desk.words;
    for (key, name, now) in [("stock-family", "family", &board.family), ("stock-finish", "finish", &board.finish)] {
        field::plain_text(ui, desk, key, at.field(name), now);
    }
    let title = words.say("stock-only-for");
    CollapsingHeader::new(&title).id_salt("only for").default_open(!board.only_for.is_empty()).show(ui, |ui| {
        if let Some(all) = choice::some_of(ui, &Role::ALL, &board.only_for, |role| labels::role(words, role)) {
            desk.set(at.field("only_for"), &all, Name::about("edit-field", &title));
        }
    });
}
