//! The order of work with its steps to tick: what each asks for, and what is done, kept in the design.

use casewright_core::text::FieldPath;
use casewright_drawing::furniture::StepCard;
use egui::{RichText, ScrollArea, Ui};
use serde_json::json;

use super::Desk;
use crate::command::{Command, Name};
use crate::theme::Palette;

/// Shows the steps.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    let words = desk.words;
    let Some(good) = desk.good.filter(|it| it.assembly.is_some()) else {
        ui.label(words.say("steps-none"));
        return;
    };
    // They come with what is derived next; what is said in another language by then is not shown.
    let Some((_, cards)) = good.steps.as_ref().filter(|it| it.0 == words.language()) else {
        ui.label(words.say("findings-working"));
        return;
    };
    if cards.is_empty() {
        ui.label(words.say("steps-none"));
        return;
    }
    let done = cards.iter().filter(|it| is_done(desk, it)).count();
    let soft = Palette::here(ui).ink_soft;
    ui.label(RichText::new(words.say_with("steps-done", &[("done", &done), ("all", &cards.len())])).color(soft));
    ScrollArea::vertical().auto_shrink(false).id_salt("steps").show(ui, |ui| {
        for (index, card) in cards.iter().enumerate() {
            one(ui, desk, index, card);
        }
    });
}

fn is_done(desk: &Desk<'_>, card: &StepCard) -> bool {
    card.ticks.iter().all(|it| desk.design.progress.steps.contains(it))
}

/// One step: its tick, and under it what it asks for.
fn one(ui: &mut Ui, desk: &mut Desk<'_>, index: usize, card: &StepCard) {
    let words = desk.words;
    let mut done = is_done(desk, card);
    let number = (index + 1).to_string();
    let label = words.say_with("step", &[("number", &number), ("kind", &card.kind), ("title", &card.title)]);
    if ui.checkbox(&mut done, RichText::new(&label).strong()).changed() {
        let mut steps = desk.design.progress.steps.clone();
        steps.retain(|it| !card.ticks.contains(it));
        if done {
            steps.extend(card.ticks.iter().cloned());
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
