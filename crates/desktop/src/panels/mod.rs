//! The panels round the drawing. Each module builds its data as plain structs, tested as text, and draws them; what the
//! user does comes back as [`Action`]s.

pub mod bay;
mod boards;
pub mod carcass;
pub mod choice;
pub mod field;
pub mod findings;
pub mod joints;
mod measured;
pub mod openings;
pub mod part;
pub mod parts;
pub mod room;
pub mod rows;
pub mod site;
pub mod steps;
pub mod stock;
pub mod thing;
pub mod trouble;
pub mod worktop;

use casewright_core::design::Design;
use casewright_core::expr::Dim;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use casewright_core::unit::DecimalMark;
use serde::Serialize;

use crate::command::{Command, Name};
use crate::dialogs::stock_in::Way;
use crate::keys::Deed;
use crate::lengths::Lengths;
use crate::notice::Notice;
use crate::pipeline::Derived;
use crate::selection::Selection;
use crate::words::Words;
use field::Drafts;

/// What the user did in a panel or on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Makes an edit.
    Edit(Command),
    /// Selects.
    Select(Selection),
    /// Does something from the table of deeds.
    Do(Deed),
    /// Searches proposals for the carcass, or for a bay, until it is stopped or nothing is left to look at.
    SearchLonger(Option<String>),
    /// Stops writing the pack.
    StopWriting,
    /// Opens a way of entering boards.
    EnterBoards(Way),
    /// Says something for a short while.
    Say(Notice),
    /// A drag that made edits has ended.
    EndGesture,
}

/// What panels are given to show.
pub struct Desk<'a> {
    /// The words.
    pub words: &'a Words,
    /// The Design as it is now.
    pub design: &'a Design,
    /// Its lengths.
    pub lengths: &'a Lengths,
    /// What was derived last.
    pub latest: Option<&'a Derived>,
    /// What was derived last without trouble; older than `latest` while there is trouble.
    pub good: Option<&'a Derived>,
    /// What is selected.
    pub selection: &'a Selection,
    /// Texts being written.
    pub drafts: &'a mut Drafts,
    /// What the user does.
    pub actions: &'a mut Vec<Action>,
}

impl Desk<'_> {
    /// A length as the user reads it.
    #[must_use]
    pub fn show(&self, length: Length) -> String {
        self.lengths.show(length, self.decimal_mark())
    }

    /// The decimal mark of the language.
    #[must_use]
    pub const fn decimal_mark(&self) -> DecimalMark {
        self.words.decimal_mark()
    }

    /// A plain number with so many decimals, as the user reads it.
    #[must_use]
    pub fn number(&self, value: f64, decimals: usize) -> String {
        self.words.number(value, decimals)
    }

    /// A whole number of millimetres as a new length is written: in the unit of the design, and with nothing said of it.
    #[must_use]
    pub fn mm(&self, mm: i64) -> serde_json::Value {
        self.written(Length::from_mm(mm))
    }

    /// A length as it is written into a new field.
    #[must_use]
    pub fn written(&self, length: Length) -> serde_json::Value {
        Dim::of(length, self.design.unit).text().into()
    }

    /// Notes an edit.
    pub fn edit(&mut self, command: Command) {
        self.actions.push(Action::Edit(command));
    }

    /// Notes an edit that writes a whole field anew.
    pub fn set(&mut self, path: FieldPath, value: &impl Serialize, name: Name) {
        if let Ok(value) = serde_json::to_value(value) {
            self.edit(Command::SetField { path, value, name });
        }
    }

    /// Notes a selection.
    pub fn select(&mut self, selection: Selection) {
        self.actions.push(Action::Select(selection));
    }
}

/// A heading inside a panel.
pub fn heading(ui: &mut egui::Ui, text: &str) {
    ui.add_space(8.0);
    ui.label(egui::RichText::new(text).strong().size(13.0).color(crate::theme::Palette::here(ui).ink_soft));
    ui.separator();
}

/// A button over the whole width, with its words at the left, as the row of a list.
pub fn wide<'a>(button: egui::Button<'a>, ui: &egui::Ui, height: f32) -> egui::Button<'a> {
    button.right_text("").min_size(egui::vec2(ui.available_width(), height))
}

/// A part of a panel that can be shut.
pub fn section(ui: &mut egui::Ui, title: &str, open: bool, contents: impl FnOnce(&mut egui::Ui)) {
    ui.add_space(6.0);
    let header = egui::CollapsingHeader::new(egui::RichText::new(title).strong()).default_open(open);
    header.show_unindented(ui, |ui| {
        ui.add_space(4.0);
        // Fields of two sections may bear the same name.
        ui.push_id(title, contents);
    });
}
