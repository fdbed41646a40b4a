//! What was done and measured on the real piece: parts that are cut, the sizes that came out, openings, diagonals, boards.

use casewright_core::assembly::Part;
use casewright_core::design::resolve::Sign;
use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::Ui;
use serde_json::{Map, Value, json};

use super::{Desk, field, heading};
use crate::command::{Command, Name};

/// For a part: whether it is cut, its size as it came out, and the thickness of its board.
pub(super) fn part(ui: &mut Ui, desk: &mut Desk<'_>, part: &Part) {
    let words = desk.words;
    heading(ui, &words.say("measured-heading"));
    let done = desk.design.progress.parts.contains(&part.number);
    if let Some(done) = ticked(ui, &words.say("measured-part-done"), done) {
        let mut parts = desk.design.progress.parts.clone();
        parts.retain(|it| *it != part.number);
        if done {
            parts.push(part.number.clone());
        }
        set(desk, FieldPath::root().field("progress").field("parts"), json!(parts), &words.say("measured-part-done"));
    }
    let [length, width] = [part.finished.length, part.finished.width].map(|it| desk.design.unit.input(it));
    let label = words.say("measured-part");
    if entry(ui, desk, "cut", &part.number, &label, &json!([length, width])) {
        let at = place("cut", &part.number);
        field::length(ui, desk, &words.say("measured-length"), &at.index(0), Sign::AboveZero);
        field::length(ui, desk, &words.say("measured-width"), &at.index(1), Sign::AboveZero);
    }
    let label = words.say_with("measured-board", &[("material", &part.material)]);
    let thickness = desk.design.unit.input(part.finished.thickness);
    if entry(ui, desk, "thickness", &part.material, &label, &json!(thickness)) {
        let at = place("thickness", &part.material);
        field::length(ui, desk, &words.say("measured-thickness"), &at, Sign::AboveZero);
    }
}

/// For a bay: its opening and its diagonals as measured; `clear` is its size as solved.
pub(super) fn bay(ui: &mut Ui, desk: &mut Desk<'_>, name: &str, clear: [Length; 3]) {
    let words = desk.words;
    heading(ui, &words.say("measured-heading"));
    if entry(ui, desk, "openings", name, &words.say("measured-opening"), &json!({})) {
        let at = place("openings", name);
        for (key, field_name) in [("measured-opening-width", "width"), ("measured-opening-height", "height")] {
            field::optional_length(ui, desk, &words.say(key), &at.field(field_name), Sign::AboveZero);
        }
    }
    let [width, height] = [Axis::X, Axis::Y].map(|axis| clear.get(axis.index()).copied().unwrap_or_default());
    let diagonal = Length::from_mm_f64(width.mm().hypot(height.mm())).rounded_to(desk.design.unit.step());
    let text = desk.design.unit.input(diagonal);
    if entry(ui, desk, "diagonals", name, &words.say("measured-diagonals"), &json!([text, text])) {
        let at = place("diagonals", name);
        field::length(ui, desk, &words.say("measured-rising"), &at.index(0), Sign::AboveZero);
        field::length(ui, desk, &words.say("measured-falling"), &at.index(1), Sign::AboveZero);
    }
}

fn as_built(list: &str) -> FieldPath {
    FieldPath::root().field("as_built").field(list)
}

fn place(list: &str, name: &str) -> FieldPath {
    as_built(list).key(name)
}

/// A switch for an entry of one of the lists of what was measured; it begins with a value as planned. Tells whether the
/// entry is there.
fn entry(ui: &mut Ui, desk: &mut Desk<'_>, list: &str, name: &str, label: &str, as_planned: &Value) -> bool {
    let of = &desk.design.as_built;
    let there = match list {
        "cut" => of.cut.contains_key(name),
        "thickness" => of.thickness.contains_key(name),
        "openings" => of.openings.contains_key(name),
        _ => of.diagonals.contains_key(name),
    };
    if let Some(on) = ticked(ui, label, there) {
        let whole = serde_json::to_value(of).unwrap_or_default();
        let mut entries: Map<String, Value> = whole.get(list).and_then(Value::as_object).cloned().unwrap_or_default();
        if on {
            entries.insert(name.to_owned(), as_planned.clone());
        } else {
            entries.remove(name);
        }
        set(desk, as_built(list), Value::Object(entries), label);
    }
    there
}

fn ticked(ui: &mut Ui, label: &str, now: bool) -> Option<bool> {
    let mut on = now;
    ui.checkbox(&mut on, label).changed().then_some(on)
}

fn set(desk: &mut Desk<'_>, path: FieldPath, value: Value, label: &str) {
    desk.edit(Command::SetField { path, value, name: Name::about("edit-field", label) });
}
