//! Fields: lengths as numbers or expressions, plain numbers, and texts. What is written is tried when the field is left;
//! if it makes no sense it stays there with the reason under it, and the Design keeps what it had.

use std::collections::BTreeMap;

use casewright_core::design::resolve::Sign;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::{Key, Modifiers, Response, RichText, TextEdit, Ui};
use serde_json::Value;

use super::Desk;
use crate::command::{Command, Name, Refusal};
use crate::help;
use crate::lengths::Mistake;
use crate::theme::Palette;
use crate::words::Words;

/// The width of the words before a field, in points.
const LABEL_WIDTH: f32 = 118.0;
/// The width of the word for a side before what is asked of it, in points.
const SIDE_WIDTH: f32 = 54.0;

/// Texts being written, by field.
#[derive(Debug, Default)]
pub struct Drafts {
    texts: BTreeMap<String, Draft>,
}

#[derive(Clone, Debug)]
struct Draft {
    text: String,
    mistake: Option<String>,
}

impl Drafts {
    /// Forgets everything that was written and not taken.
    pub fn clear(&mut self) {
        self.texts.clear();
    }
}

/// What became of a text field in this frame.
enum Outcome {
    Nothing,
    /// The field was left with this text.
    Left(String),
}

/// The id of the field with a key, which for lengths is the place in the file.
#[must_use]
pub fn id(key: &str) -> egui::Id {
    egui::Id::unique(("field", key))
}

/// One line of text with the memory of a draft.
fn line(ui: &mut Ui, drafts: &mut Drafts, key: &str, label: &str, current: &str, width: f32) -> (Response, Outcome) {
    let id = id(key);
    let mut text = drafts.texts.get(key).map_or_else(|| current.to_owned(), |draft| draft.text.clone());
    let response = ui
        .add(
            TextEdit::singleline(&mut text)
                .id(id)
                .desired_width(width)
                .font(egui::FontId::proportional(15.0))
                .align(egui::Align2::LEFT_CENTER)
                .min_size(egui::vec2(0.0, 26.0)),
        )
        .accessible_name(label);
    if response.gained_focus() {
        select_all(ui, id, &text);
    }
    if response.changed() {
        drafts.texts.insert(key.to_owned(), Draft { text: text.clone(), mistake: None });
    }
    if !response.lost_focus() {
        return (response, Outcome::Nothing);
    }
    if ui.input(|input| input.key_pressed(Key::Escape)) || text == current {
        drafts.texts.remove(key);
        return (response, Outcome::Nothing);
    }
    (response, Outcome::Left(text))
}

/// Selects the whole text of a field, so that what is typed takes its place.
pub fn select_all(ui: &Ui, id: egui::Id, text: &str) {
    if let Some(mut state) = TextEdit::load_state(ui.ctx(), id) {
        let all =
            egui::text::CCursorRange::two(egui::text::CCursor::new(0), egui::text::CCursor::new(text.chars().count()));
        state.cursor.set_char_range(Some(all));
        TextEdit::store_state(ui.ctx(), id, state);
    }
}

/// Words before a field.
pub(super) fn label_before(ui: &mut Ui, label: &str) {
    let size = egui::vec2(LABEL_WIDTH, ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Center), |ui| {
        ui.set_min_width(LABEL_WIDTH);
        ui.add(egui::Label::new(label).wrap());
    });
}

/// What is wrong with what was written in the field with a key.
pub(super) fn mistake_under(ui: &mut Ui, drafts: &Drafts, key: &str) {
    if let Some(mistake) = drafts.texts.get(key).and_then(|draft| draft.mistake.as_ref()) {
        let palette = Palette::here(ui);
        ui.label(RichText::new(format!("✖ {mistake}")).color(palette.error));
    }
}

/// A length, with words before it.
pub fn length(ui: &mut Ui, desk: &mut Desk<'_>, label: &str, path: &FieldPath, sign: Sign) -> Response {
    labelled_length(ui, desk, label, path, sign, Empty::Refused)
}

/// A length that may be left out, with words before it.
pub fn optional_length(ui: &mut Ui, desk: &mut Desk<'_>, label: &str, path: &FieldPath, sign: Sign) -> Response {
    labelled_length(ui, desk, label, path, sign, Empty::None)
}

fn labelled_length(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    label: &str,
    path: &FieldPath,
    sign: Sign,
    empty: Empty,
) -> Response {
    let response = ui
        .horizontal(|ui| {
            label_before(ui, label);
            length_box(ui, desk, label, path, sign, empty)
        })
        .inner;
    mistake_under(ui, desk.drafts, &path.to_string());
    response
}

/// What is asked of the size at `path`, in one row: how (one of `options`, now the one at `now`), and how much, if a number belongs
/// to it. Gives what was newly chosen.
pub fn asked(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    label: &str,
    (now, options): (usize, &[String]),
    (path, amount): (&FieldPath, Option<&FieldPath>),
) -> Option<usize> {
    // An expression gets a row of its own, a number stands behind the choice.
    let is_expression = |path: &FieldPath| desk.lengths.get(path).is_some_and(|written| !is_plain(&written.text));
    let own_row = amount.filter(|path| is_expression(path));
    let chosen = ui
        .horizontal(|ui| {
            let size = egui::vec2(SIDE_WIDTH, ui.spacing().interact_size.y);
            ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.set_min_width(SIDE_WIDTH);
                ui.label(label);
            });
            let how = desk.words.say_with("field-how", &[("label", &label)]);
            let width = if amount.is_some() { 96.0 } else { 204.0 };
            let chosen = super::choice::choose_box(
                ui,
                help::sketch_of(path).map(|name| (desk.words, name)),
                &how,
                now,
                options,
                width,
            );
            match (amount, own_row) {
                (Some(path), None) => {
                    length_box(ui, desk, label, path, Sign::AboveZero, Empty::Refused);
                }
                (Some(path), Some(_)) => {
                    let value = desk.lengths.get(path).and_then(|written| written.value.clone().ok());
                    ui.label(value.map(|value| desk.show(value)).unwrap_or_default());
                }
                (None, _) => {}
            }
            chosen
        })
        .inner;
    if let Some(path) = own_row {
        ui.horizontal(|ui| {
            ui.add_space(SIDE_WIDTH + ui.spacing().item_spacing.x);
            length_box(ui, desk, label, path, Sign::AboveZero, Empty::Refused);
        });
    }
    if let Some(path) = amount {
        mistake_under(ui, desk.drafts, &path.to_string());
    }
    chosen
}

/// Whether a text is a number as it stands, so that nothing need be said of what it comes to.
fn is_plain(text: &str) -> bool {
    text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/' | ' ' | '"'))
}

/// What an empty text means.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Empty {
    /// Nothing: it is a mistake.
    Refused,
    /// That the field is not given.
    None,
}

/// The box of a length without words before it and without the mistake under it.
pub fn length_box(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    label: &str,
    path: &FieldPath,
    sign: Sign,
    empty: Empty,
) -> Response {
    let key = path.to_string();
    let written = desk.lengths.get(path);
    let current = written.map(|written| written.text.clone()).unwrap_or_default();
    let value = written.and_then(|written| written.value.clone().ok());
    let sign = written.map_or(sign, |written| written.sign);
    step_with_arrows(ui, desk, path, &key, value);
    // A number needs little room, an expression all there is; what it comes to stands behind it.
    let comes_to = value.filter(|_| !is_plain(&current)).map(|value| format!("= {}", desk.show(value)));
    let room = ui.available_width() - if comes_to.is_some() { 78.0 } else { 14.0 };
    let width = if comes_to.is_some() { room.clamp(76.0, 200.0) } else { room.clamp(76.0, 88.0) };
    let (response, outcome) = line(ui, desk.drafts, &key, label, &current, width);
    if let Outcome::Left(text) = outcome {
        let text = text.trim().to_owned();
        let command = if text.is_empty() && empty == Empty::None {
            Ok(Command::SetField { path: path.clone(), value: Value::Null, name: Name::about("edit-field", label) })
        } else {
            match (desk.lengths.check(&text, sign), written) {
                (Ok(_), Some(_)) => Ok(Command::SetLength { path: path.clone(), text: text.clone() }),
                (Ok(_), None) => Ok(Command::SetField {
                    path: path.clone(),
                    value: Value::String(text.clone()),
                    name: Name::about("edit-field", label),
                }),
                (Err(mistake), _) => Err(mistake),
            }
        };
        match command {
            Ok(command) => {
                desk.drafts.texts.remove(&key);
                desk.edit(command);
            }
            Err(mistake) => {
                let mistake = Some(say_mistake(desk.words, &mistake));
                desk.drafts.texts.insert(key.clone(), Draft { text, mistake });
            }
        }
    }
    help::explain(&response, desk.words, path);
    if let Some(text) = comes_to {
        ui.label(RichText::new(text).weak());
    }
    response
}

/// Up and down change a length by one unit, with Shift by ten.
fn step_with_arrows(ui: &Ui, desk: &mut Desk<'_>, path: &FieldPath, key: &str, value: Option<Length>) {
    let id = id(key);
    let Some(value) = value.filter(|_| ui.memory(|memory| memory.has_focus(id))) else { return };
    let whole = desk.lengths.unit().whole();
    let mut by = Length::ZERO;
    ui.input_mut(|input| {
        for (arrow, sign) in [(Key::ArrowUp, 1), (Key::ArrowDown, -1)] {
            for (modifiers, factor) in [(Modifiers::SHIFT, 10), (Modifiers::NONE, 1)] {
                if input.consume_key(modifiers, arrow) {
                    by += whole * (sign * factor);
                }
            }
        }
    });
    if by == Length::ZERO || value + by < Length::ZERO {
        return;
    }
    desk.drafts.texts.remove(key);
    let text = desk.lengths.input(value + by);
    desk.edit(Command::SetLength { path: path.clone(), text });
}

/// A mistake in words.
#[must_use]
pub fn say_mistake(words: &Words, mistake: &Mistake) -> String {
    match mistake {
        Mistake::Text { cause, mend: Some(mend) } => format!("{cause}; {mend}"),
        Mistake::Text { cause, mend: None } => cause.clone(),
        Mistake::NotAboveZero => words.say("mistake-not-above-zero"),
        Mistake::BelowZero => words.say("mistake-below-zero"),
        Mistake::TooLarge => words.say("mistake-too-large"),
    }
}

/// A plain number (a mass, a share, an angle), with words before it and its unit after it. `None` shows as empty.
pub struct Number<'n> {
    /// The words before it.
    pub label: &'n str,
    /// Where it stands.
    pub path: &'n FieldPath,
    /// What it is now.
    pub value: Option<f64>,
    /// The unit after it.
    pub unit: &'n str,
    /// Whether it may be left out.
    pub optional: bool,
    /// Whether it must be whole.
    pub whole: bool,
}

impl Number<'_> {
    /// Shows it.
    pub fn show(&self, ui: &mut Ui, desk: &mut Desk<'_>) {
        let key = self.path.to_string();
        let current = self.value.map(|value| value.to_string()).unwrap_or_default();
        ui.horizontal(|ui| {
            label_before(ui, self.label);
            let (response, outcome) = line(ui, desk.drafts, &key, self.label, &current, 88.0);
            help::explain(&response, desk.words, self.path);
            if !self.unit.is_empty() {
                ui.label(RichText::new(self.unit).weak());
            }
            let Outcome::Left(text) = outcome else { return };
            match self.read(&text) {
                Some(value) => {
                    desk.drafts.texts.remove(&key);
                    let name = Name::about("edit-field", self.label);
                    desk.edit(Command::SetField { path: self.path.clone(), value, name });
                }
                None => {
                    let mistake = Some(desk.words.say("mistake-no-number"));
                    desk.drafts.texts.insert(key.clone(), Draft { text, mistake });
                }
            }
        });
        mistake_under(ui, desk.drafts, &key);
    }

    fn read(&self, text: &str) -> Option<Value> {
        let text = text.trim().replace(',', ".");
        if text.is_empty() {
            return self.optional.then_some(Value::Null);
        }
        if self.whole {
            return text.parse::<u32>().ok().filter(|number| *number <= 1000).map(Value::from);
        }
        let number = text.parse::<f64>().ok().filter(|number| number.is_finite() && (0.0..=1e6).contains(number))?;
        Some(Value::from(number))
    }
}

/// A text, with words before it; `make` turns what was written into an edit.
pub fn text(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    (label, key): (&str, &str),
    current: &str,
    make: impl FnOnce(String) -> Result<Command, String>,
) {
    ui.horizontal(|ui| {
        label_before(ui, label);
        let width = (ui.available_width() - 12.0).max(60.0);
        let (response, outcome) = line(ui, desk.drafts, key, label, current, width);
        if let Some(sketch) = help_of_text(key) {
            help::explain_as(&response, desk.words, sketch);
        }
        if let Outcome::Left(text) = outcome {
            match make(text.trim().to_owned()) {
                Ok(command) => {
                    desk.drafts.texts.remove(key);
                    desk.edit(command);
                }
                Err(mistake) => {
                    desk.drafts.texts.insert(key.to_owned(), Draft { text, mistake: Some(mistake) });
                }
            }
        }
    });
    mistake_under(ui, desk.drafts, key);
}

/// A text that stands in the file as it is written, with the words under `key` before it.
pub fn plain_text(ui: &mut Ui, desk: &mut Desk<'_>, key: &str, path: FieldPath, current: &str) {
    let (label, memory) = (desk.words.say(key), path.to_string());
    text(ui, desk, (&label, &memory), current, |text| {
        Ok(Command::SetField { path, value: Value::String(text), name: Name::about("edit-field", &label) })
    });
}

/// A written name, if it can be given: there is one, and nothing else has it.
///
/// # Errors
/// Why not, in words.
pub fn free_name(words: &Words, name: String, taken: &[String]) -> Result<String, String> {
    if name.is_empty() {
        return Err(Refusal::NameEmpty.say(words));
    }
    if taken.contains(&name) {
        return Err(Refusal::NameTaken(name).say(words));
    }
    Ok(name)
}

/// The sketch for a text field, by the beginning of its key.
fn help_of_text(key: &str) -> Option<&'static str> {
    [
        ("title", "title"),
        ("parameter ", "value"),
        ("new parameter", "value"),
        ("thing name", "thing-kind"),
        ("bay name", "divider"),
        ("niche above", "niche-height"),
    ]
    .into_iter()
    .find_map(|(begins, sketch)| key.starts_with(begins).then_some(sketch))
}
