//! The worktop: its board, how far it projects, and the outline that it follows.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{CutOut, TopShape};
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::rows::{self, Column};
use super::{Desk, carcass, choice, field};
use crate::command::{Command, Name, tree};
use crate::labels;
use crate::theme::Palette;

/// Shows it; `at` is its place.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let words = desk.words;
    let board = desk.design.materials.keys().next().cloned().unwrap_or_default();
    let options =
        vec![(words.say("worktop-none"), Value::Null), (words.say("worktop-slab"), json!({ "board": board }))];
    let it = desk.design.carcass.worktop.as_ref();
    choice::field(ui, desk, &words.say("carcass-worktop"), at, usize::from(it.is_some()), options);
    let Some(it) = it else { return };
    carcass::material_choice(ui, desk, &words.say("construction-board"), &at.field("board"), &it.board);
    ui.label(RichText::new(words.say("worktop-overhang")).color(Palette::here(ui).ink_soft));
    for side in ["front", "left", "right", "rear"] {
        let at = at.field("overhang").field(side);
        field::optional_length(ui, desk, &labels::length(words, &at), &at, Sign::Any);
    }
    let at = at.field("shape");
    let options = vec![(words.say("worktop-rectangle"), Value::Null), (words.say("worktop-shaped"), json!({}))];
    choice::field(ui, desk, &words.say("worktop-outline"), &at, usize::from(it.shape.is_some()), options);
    if let Some(shape) = &it.shape {
        front(ui, desk, shape, &at);
        rear(ui, desk, shape, &at);
        cut_outs(ui, desk, &shape.cut_outs, &at.field("cut_outs"));
        let columns = [Column::alone("top-joint-at", Sign::AboveZero)];
        let at_joints = at.field("joints");
        let last = shape.joints.len().checked_sub(1).map(|last| at_joints.index(last));
        let new = behind(desk, last.as_ref());
        rows::show(ui, desk, ("top-joints", &at_joints), shape.joints.len(), &columns, new);
        let bit = at.field("router_bit");
        field::optional_length(ui, desk, &words.say("field-router-bit"), &bit, Sign::AboveZero);
        ui.label(RichText::new(words.say("worktop-template")).small().color(Palette::here(ui).ink_soft));
    }
}

/// Where the next place along the worktop may be: a little behind the one at `last`, by its length where that is known.
fn behind(desk: &Desk<'_>, last: Option<&FieldPath>) -> Value {
    let last = last.and_then(|last| desk.lengths.get(last)?.value.clone().ok()).unwrap_or_default();
    desk.written(last + STEP)
}

/// From one place along the worktop to the next that is added.
const STEP: Length = Length::from_mm(300);

/// The front edge: its corners, a step, or points.
fn front(ui: &mut Ui, desk: &mut Desk<'_>, shape: &TopShape, at: &FieldPath) {
    let words = desk.words;
    let corners = at.field("corners");
    let is_round = shape.corners.0.is_some() || shape.corners.1.is_some();
    let options = vec![
        (words.say("top-corners-square"), json!([null, null])),
        (words.say("top-corners-round"), json!([desk.mm(40), desk.mm(40)])),
    ];
    choice::field(ui, desk, &words.say("top-corners"), &corners, usize::from(is_round), options);
    if is_round {
        for (index, key) in ["top-corner-left", "top-corner-right"].into_iter().enumerate() {
            field::optional_length(ui, desk, &words.say(key), &corners.index(index), Sign::AboveZero);
        }
    }
    let edge = match (&shape.step, shape.front.is_empty()) {
        (Some(_), _) => 1,
        (None, false) => 2,
        (None, true) => 0,
    };
    let options = ["top-front-straight", "top-front-step", "top-front-points"].map(|key| words.say(key));
    let chosen = choice::choose(ui, None, &words.say("top-front"), edge, &options);
    if let Some(chosen) = chosen {
        // Step and points exclude each other, so that both change in one edit.
        let mut now = serde_json::to_value(shape).unwrap_or_default();
        if let Some(fields) = now.as_object_mut() {
            fields.remove("step");
            fields.remove("front");
            match chosen {
                1 => fields.insert(
                    "step".to_owned(),
                    json!({ "from": desk.mm(600), "length": desk.mm(200), "out": desk.mm(-100) }),
                ),
                2 => fields
                    .insert("front".to_owned(), json!([{ "at": ["0", "0"] }, { "at": [desk.mm(600), desk.mm(-50)] }])),
                _ => None,
            };
        }
        let name = Name::about("edit-field", words.say("top-front"));
        desk.edit(Command::SetField { path: at.clone(), value: now, name });
    }
    if shape.step.is_some() {
        let at = at.field("step");
        field::length(ui, desk, &words.say("top-step-from"), &at.field("from"), Sign::ZeroOrMore);
        field::length(ui, desk, &words.say("top-step-out"), &at.field("out"), Sign::Any);
        for (key, name) in [("top-step-length", "length"), ("top-step-radius", "radius")] {
            field::optional_length(ui, desk, &words.say(key), &at.field(name), Sign::AboveZero);
        }
        ui.label(RichText::new(words.say("top-step-either")).small().color(Palette::here(ui).ink_soft));
    }
    if !shape.front.is_empty() {
        let columns = [
            Column::within("top-along", "at", 0, Sign::ZeroOrMore),
            Column::within("top-out", "at", 1, Sign::Any),
            Column::named("top-round", "round", Sign::AboveZero).or_nothing(),
            Column::named("top-bow", "bow", Sign::Any).or_nothing(),
        ];
        let at = at.field("front");
        let last = shape.front.len().checked_sub(1).map(|last| at.index(last).field("at").index(0));
        let new = json!({ "at": [behind(desk, last.as_ref()), "0"] });
        rows::show(ui, desk, ("top-front-edge", &at), shape.front.len(), &columns, new);
    }
}

/// The rear edge, which follows a measured wall.
fn rear(ui: &mut Ui, desk: &mut Desk<'_>, shape: &TopShape, at: &FieldPath) {
    let columns = [Column::place("top-along", 0, Sign::ZeroOrMore), Column::place("top-out", 1, Sign::Any)];
    let at_wall = at.field("wall");
    let last = shape.wall.len().checked_sub(1).map(|last| at_wall.index(last).index(0));
    let new = json!([last.map_or_else(|| json!("0"), |last| behind(desk, Some(&last))), "0"]);
    rows::show(ui, desk, ("top-wall", &at_wall), shape.wall.len(), &columns, new);
    if !shape.wall.is_empty() {
        let within = at.field("within");
        field::optional_length(ui, desk, &desk.words.say("field-within"), &within, Sign::AboveZero);
    }
}

fn cut_outs(ui: &mut Ui, desk: &mut Desk<'_>, all: &[CutOut], at: &FieldPath) {
    let words = desk.words;
    let title = words.say("top-cut-outs");
    ui.label(RichText::new(&title).strong());
    let taken: Vec<String> = all.iter().map(|it| it.name.clone()).collect();
    for (index, it) in all.iter().enumerate() {
        let at_one = at.index(index);
        ui.push_id(("cut-out", index), |ui| {
            let path = at_one.field("name");
            let memory = path.to_string();
            field::text(ui, desk, (&words.say("cut-out-name"), &memory), &it.name, |name| {
                let name = field::free_name(words, name, &taken)?;
                Ok(Command::SetField { path, name: Name::about("edit-rename", &name), value: Value::String(name) })
            });
            for (key, path, sign) in [
                ("cut-out-left", at_one.field("corner").index(0), Sign::ZeroOrMore),
                ("cut-out-rear", at_one.field("corner").index(1), Sign::ZeroOrMore),
                ("field-width", at_one.field("size").index(0), Sign::AboveZero),
                ("field-depth", at_one.field("size").index(1), Sign::AboveZero),
                ("cut-out-radius", at_one.field("radius"), Sign::ZeroOrMore),
            ] {
                field::length(ui, desk, &format!("{}: {}", it.name, words.say(key)), &path, sign);
            }
            if ui.button(words.say_with("stock-remove-named", &[("name", &it.name)])).clicked() {
                rows::remove(desk, at, index, &title);
            }
        });
    }
    if ui.button(words.say("cut-out-add")).clicked() {
        let name = tree::fresh_name(&words.say("cut-out-new"), &taken);
        let new = json!({
            "name": name,
            "corner": [desk.mm(300), desk.mm(80)],
            "size": [desk.mm(480), desk.mm(400)],
            "radius": desk.mm(10),
        });
        rows::add(desk, at, new, &title);
    }
}
