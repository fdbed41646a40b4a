//! Choices: one of a few, shown as a list that drops down, and switches.

use casewright_core::text::FieldPath;
use egui::{ComboBox, Ui};
use serde_json::Value;

use super::Desk;
use super::field::label_before;
use crate::command::{Command, Name};
use crate::help;
use crate::words::Words;

/// Height of a list that drops down before it must be scrolled, points: a dozen and a half of entries.
const MOST_HEIGHT: f32 = 460.0;

/// The sketch that explains a choice, if it has one.
pub type Explained<'w> = Option<(&'w Words, &'static str)>;

/// One of a few, with words before it; gives the index of what was newly chosen.
pub fn choose(ui: &mut Ui, help: Explained<'_>, label: &str, now: usize, options: &[String]) -> Option<usize> {
    ui.horizontal(|ui| {
        label_before(ui, label);
        let width = (ui.available_width() - 8.0).clamp(80.0, 220.0);
        choose_box(ui, help, label, now, options, width)
    })
    .inner
}

/// The same without words before it; `label` is its accessible name.
pub fn choose_box(
    ui: &mut Ui,
    help: Explained<'_>,
    label: &str,
    now: usize,
    options: &[String],
    width: f32,
) -> Option<usize> {
    let mut chosen = None;
    let shown = options.get(now).cloned().unwrap_or_default();
    let response = ComboBox::from_id_salt(label)
        .selected_text(shown)
        .width(width)
        .height(MOST_HEIGHT)
        .truncate()
        .show_ui(ui, |ui| {
            for (index, option) in options.iter().enumerate() {
                if ui.selectable_label(index == now, option).clicked() {
                    chosen = Some(index).filter(|it| *it != now);
                    // By keyboard too: a click alone would close it by itself.
                    ui.close();
                }
            }
        })
        .response
        .accessible_name(label);
    if let Some((words, sketch)) = help {
        help::explain_as(&response, words, sketch);
    }
    chosen
}

/// One of these names or, first, `none` of them, with words before it; gives what was newly chosen.
pub fn one_or_none(
    ui: &mut Ui,
    label: &str,
    none: String,
    now: Option<&String>,
    names: &[String],
) -> Option<Option<String>> {
    let place = |now: &String| names.iter().position(|it| it == now).map_or(usize::MAX, |it| it + 1);
    let options: Vec<String> = std::iter::once(none).chain(names.iter().cloned()).collect();
    let chosen = choose(ui, None, label, now.map_or(0, place), &options)?;
    Some(chosen.checked_sub(1).and_then(|it| names.get(it)).cloned())
}

/// A list that adds one of these; gives its place among them.
pub fn one_more(ui: &mut Ui, words: &Words, label: &str, names: &[String]) -> Option<usize> {
    let options: Vec<String> = std::iter::once(words.say("fitting-add-choose")).chain(names.iter().cloned()).collect();
    choose(ui, None, label, 0, &options)?.checked_sub(1)
}

/// Some of these, side by side; gives the new choice, in their order, once one is changed.
pub fn some_of<T: Copy + PartialEq>(ui: &mut Ui, all: &[T], now: &[T], label: impl Fn(T) -> String) -> Option<Vec<T>> {
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        for one in all {
            let mut on = now.contains(one);
            if ui.checkbox(&mut on, label(*one)).changed() {
                let is_wanted = |it: &T| if it == one { on } else { now.contains(it) };
                chosen = Some(all.iter().copied().filter(is_wanted).collect());
            }
        }
    });
    chosen
}

/// One of a few values of a field; the edit is noted.
pub fn field(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    label: &str,
    path: &FieldPath,
    now: usize,
    options: Vec<(String, Value)>,
) {
    let (names, values): (Vec<String>, Vec<Value>) = options.into_iter().unzip();
    let help = help::sketch_of(path).map(|sketch| (desk.words, sketch));
    if let Some(value) = choose(ui, help, label, now, &names).and_then(|chosen| values.into_iter().nth(chosen)) {
        desk.edit(Command::SetField { path: path.clone(), value, name: Name::about("edit-field", label) });
    }
}

/// A switch for a field that is true or false; the edit is noted.
pub fn switch(ui: &mut Ui, desk: &mut Desk<'_>, label: &str, path: &FieldPath, now: bool) {
    let mut on = now;
    let response = ui.checkbox(&mut on, label);
    help::explain(&response, desk.words, path);
    if response.changed() {
        let name = Name::about("edit-field", label);
        desk.edit(Command::SetField { path: path.clone(), value: Value::Bool(on), name });
    }
}
