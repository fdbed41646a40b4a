//! The order of work with its steps to tick: what each asks for, and what is done, kept in the design.

use casewright_core::text::FieldPath;
use casewright_drawing::furniture::{Scene, StepCard, step_cards};
use egui::{RichText, ScrollArea, Ui};
use serde_json::json;

use super::Desk;
use crate::command::{Command, Name};
use crate::theme::Palette;

/// The steps on the screen, kept as long as the design stays the same.
#[derive(Debug, Default)]
pub struct Steps {
    /// The revision that they are of.
    of: Option<u64>,
    cards: Vec<StepCard>,
}

impl Steps {
    /// Shows the steps.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        let words = desk.words;
        let Some(good) = desk.good else {
            ui.label(words.say("steps-none"));
            return;
        };
        if self.of != Some(good.revision) {
            self.of = Some(good.revision);
            self.cards = match (&good.resolved, &good.layout, &good.assembly) {
                (Some(design), Some(layout), Some(assembly)) => {
                    step_cards(&Scene { design, layout, assembly, findings: &good.findings, speech: None })
                }
                _ => Vec::new(),
            };
        }
        if self.cards.is_empty() {
            ui.label(words.say("steps-none"));
            return;
        }
        let ids = &desk.design.progress.steps;
        let (done, all) = (self.cards.iter().filter(|it| ids.contains(&it.id)).count(), self.cards.len());
        let soft = Palette::here(ui).ink_soft;
        ui.label(RichText::new(words.say_with("steps-done", &[("done", &done), ("all", &all)])).color(soft));
        ScrollArea::vertical().auto_shrink(false).id_salt("steps").show(ui, |ui| {
            for (index, card) in self.cards.iter().enumerate() {
                one(ui, desk, index, card);
            }
        });
    }
}

/// One step: its tick, and under it what it asks for.
fn one(ui: &mut Ui, desk: &mut Desk<'_>, index: usize, card: &StepCard) {
    let words = desk.words;
    let mut done = desk.design.progress.steps.contains(&card.id);
    let number = (index + 1).to_string();
    let (kind, title) = (words.sentence(card.kind), words.sentence(&card.title));
    let label = words.say_with("step", &[("number", &number), ("kind", &kind), ("title", &title)]);
    if ui.checkbox(&mut done, RichText::new(&label).strong()).changed() {
        let mut steps = desk.design.progress.steps.clone();
        steps.retain(|it| *it != card.id);
        if done {
            steps.push(card.id.clone());
        }
        let name = Name::about("edit-field", &words.say_with("step-short", &[("number", &number)]));
        let path = FieldPath::root().field("progress").field("steps");
        desk.edit(Command::SetField { path, value: json!(steps), name });
    }
    let soft = Palette::here(ui).ink_soft;
    ui.indent(("step", index), |ui| {
        for (line, to_do) in &card.lines {
            let text = words.sentence(line);
            let text = if *to_do { format!("–  {text}") } else { text };
            // What is done steps back.
            let text = RichText::new(text);
            ui.add(egui::Label::new(if done { text.color(soft) } else { text }).wrap());
        }
    });
    ui.add_space(4.0);
}
