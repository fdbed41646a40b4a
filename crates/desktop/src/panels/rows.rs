//! Lists of entries that have a few lengths each: one row for each, a button to take it away, and one to add another.

use casewright_core::design::resolve::Sign;
use casewright_core::text::FieldPath;
use egui::{Grid, RichText, Ui};
use serde_json::Value;

use super::field::Empty;
use super::{Desk, field};
use crate::command::field::value_of;
use crate::command::{Command, Name};
use crate::theme::Palette;

/// A column of the list.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// The key of the words over it.
    pub key: &'static str,
    /// The place of the length within an entry: a field, and a place in that; the entry itself is the length if neither.
    pub field: Option<&'static str>,
    /// The place within a pair or triple.
    pub index: Option<usize>,
    /// What it may be.
    pub sign: Sign,
    /// Whether it may be left out.
    pub optional: bool,
}

impl Column {
    /// A length that is the entry itself.
    #[must_use]
    pub const fn alone(key: &'static str, sign: Sign) -> Self {
        Self { key, field: None, index: None, sign, optional: false }
    }

    /// A length at a place within an entry that is a pair or triple.
    #[must_use]
    pub const fn place(key: &'static str, index: usize, sign: Sign) -> Self {
        Self { key, field: None, index: Some(index), sign, optional: false }
    }

    /// A length that is a field of an entry.
    #[must_use]
    pub const fn named(key: &'static str, field: &'static str, sign: Sign) -> Self {
        Self { key, field: Some(field), index: None, sign, optional: false }
    }

    /// A length at a place within a field of an entry.
    #[must_use]
    pub const fn within(key: &'static str, field: &'static str, index: usize, sign: Sign) -> Self {
        Self { key, field: Some(field), index: Some(index), sign, optional: false }
    }

    /// The same, but it may be left out.
    #[must_use]
    pub const fn or_nothing(self) -> Self {
        Self { optional: true, ..self }
    }

    fn at(&self, entry: &FieldPath) -> FieldPath {
        let at = self.field.map_or_else(|| entry.clone(), |name| entry.field(name));
        self.index.map_or(at.clone(), |index| at.index(index))
    }
}

/// The list at `at`, which has `count` entries and is called `title` (a key); `new` is what an added entry is at first.
pub fn show(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    of: (&'static str, &FieldPath),
    count: usize,
    columns: &[Column],
    new: Value,
) {
    let all: Vec<usize> = (0..count).collect();
    show_some(ui, desk, of, &all, columns, new);
}

/// The same for some entries of the list, by their places in it.
pub fn show_some(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    (title, at): (&'static str, &FieldPath),
    places: &[usize],
    columns: &[Column],
    new: Value,
) {
    let words = desk.words;
    let title = words.say(title);
    ui.label(RichText::new(&title).strong());
    if !places.is_empty() {
        Grid::new(("rows", at.to_string(), &title)).num_columns(columns.len() + 1).spacing([6.0, 4.0]).show(ui, |ui| {
            for column in columns {
                ui.label(RichText::new(words.say(column.key)).small().color(Palette::here(ui).ink_soft));
            }
            ui.end_row();
            for (number, index) in (1..).zip(places) {
                entry(ui, desk, (&title, number), &at.index(*index), columns);
                let label = words.say_with("rows-remove", &[("list", &title), ("number", &number)]);
                if ui.small_button("✖").accessible_name(&label).on_hover_text(&label).clicked() {
                    remove(desk, at, *index, &title);
                }
                ui.end_row();
            }
        });
        for index in places {
            for column in columns {
                field::mistake_under(ui, desk.drafts, &column.at(&at.index(*index)).to_string());
            }
        }
    }
    if ui.button(words.say("rows-add")).accessible_name(words.say_with("rows-add-to", &[("list", &title)])).clicked() {
        add(desk, at, new, &title);
    }
    ui.add_space(4.0);
}

fn entry(ui: &mut Ui, desk: &mut Desk<'_>, (title, number): (&str, usize), at: &FieldPath, columns: &[Column]) {
    let words = desk.words;
    for column in columns {
        let empty = if column.optional { Empty::None } else { Empty::Refused };
        let path = column.at(at);
        let values: [(&str, &dyn crate::words::Value); 3] =
            [("list", &title), ("number", &number), ("what", &words.say(column.key))];
        let label = words.say_with("rows-field", &values);
        ui.horizontal(|ui| {
            ui.set_max_width(78.0);
            field::length_box(ui, desk, &label, &path, column.sign, empty);
        });
    }
}

/// Adds an entry to the list at a place; `title` says in words which.
pub fn add(desk: &mut Desk<'_>, at: &FieldPath, new: Value, title: &str) {
    let mut all = entries(desk, at);
    all.push(new);
    write(desk, at, all, title);
}

/// Takes an entry out of the list at a place; `title` says in words which.
pub fn remove(desk: &mut Desk<'_>, at: &FieldPath, index: usize, title: &str) {
    let mut all = entries(desk, at);
    if index < all.len() {
        all.remove(index);
        write(desk, at, all, title);
    }
}

fn entries(desk: &Desk<'_>, at: &FieldPath) -> Vec<Value> {
    match value_of(desk.design, at) {
        Value::Array(entries) => entries,
        _ => Vec::new(),
    }
}

fn write(desk: &mut Desk<'_>, at: &FieldPath, entries: Vec<Value>, title: &str) {
    let name = Name::about("edit-field", title);
    desk.edit(Command::SetField { path: at.clone(), value: Value::Array(entries), name });
}
