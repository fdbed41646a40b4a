//! The order of work with its steps to tick: what each asks for, and what is done, kept in the design.

use casewright_core::text::FieldPath;
use casewright_drawing::furniture::{Scene, StepCard, step_cards};
use egui::{RichText, ScrollArea, Ui};
use serde_json::json;

use super::Desk;
use crate::command::{Command, Name};
use crate::theme::Palette;
use crate::words::Language;

/// A step in the language of the window.
#[derive(Debug)]
struct Said {
    id: String,
    kind: String,
    title: String,
    /// What it asks for, each line with whether it is to be done.
    lines: Vec<(String, bool)>,
}

/// The steps on the screen, kept as long as the design stays the same.
#[derive(Debug, Default)]
pub struct Steps {
    /// The revision that they are of, and the language that they are said in.
    of: Option<(u64, Language)>,
    /// The steps, said.
    cards: Vec<Said>,
}

impl Steps {
    /// Shows the steps.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        let words = desk.words;
        let Some(good) = desk.good else {
            ui.label(words.say("steps-none"));
            return;
        };
        let of = Some((good.revision, words.language()));
        if self.of != of {
            self.of = of;
            self.cards = match (&good.resolved, &good.layout, &good.assembly) {
                (Some(design), Some(layout), Some(assembly)) => {
                    let scene = Scene { design, layout, assembly, findings: &good.findings, speech: None };
                    // Said as on the sheets, which leave the numbers of parts as they are.
                    let speech = scene.speech_of(words.language().of_sheets());
                    let say = |text: &str| speech.say(text);
                    let said = |it: StepCard| Said {
                        kind: say(it.kind),
                        title: say(&it.title),
                        lines: it.lines.iter().map(|(line, to_do)| (say(line), *to_do)).collect(),
                        id: it.id,
                    };
                    step_cards(&scene).into_iter().map(said).collect()
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
fn one(ui: &mut Ui, desk: &mut Desk<'_>, index: usize, card: &Said) {
    let words = desk.words;
    let mut done = desk.design.progress.steps.contains(&card.id);
    let number = (index + 1).to_string();
    let label = words.say_with("step", &[("number", &number), ("kind", &card.kind), ("title", &card.title)]);
    if ui.checkbox(&mut done, RichText::new(&label).strong()).changed() {
        let mut steps = desk.design.progress.steps.clone();
        steps.retain(|it| *it != card.id);
        if done {
            steps.push(card.id.clone());
        }
        let name = Name::about("edit-field", words.say_with("step-short", &[("number", &number)]));
        let path = FieldPath::root().field("progress").field("steps");
        desk.edit(Command::SetField { path, value: json!(steps), name });
    }
    let soft = Palette::here(ui).ink_soft;
    ui.indent(("step", index), |ui| {
        for (line, to_do) in &card.lines {
            let text = if *to_do { format!("–  {line}") } else { line.clone() };
            // What is done steps back.
            let text = RichText::new(text);
            ui.add(egui::Label::new(if done { text.color(soft) } else { text }).wrap());
        }
    });
    ui.add_space(4.0);
}
