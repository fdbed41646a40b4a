//! The right column for a part: its sizes, edges and machining.

use casewright_core::assembly::{Machining, Part};
use egui::{RichText, Ui};

use super::{Desk, heading, joints, measured};
use crate::labels;
use crate::selection::Selection;
use crate::theme::{Palette, figures};

/// Shows a part.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>, number: &str) {
    let Some(part) = desk.good.and_then(|good| good.assembly.as_ref()).and_then(|assembly| assembly.part(number))
    else {
        ui.label(desk.words.say("part-gone"));
        return;
    };
    let words = desk.words;
    ui.label(RichText::new(labels::role(words, part.role)).color(Palette::here(ui).ink_soft));
    ui.label(RichText::new(format!("{} {}", part.number, desk.words.sentence(&part.name))).heading());
    let finished = [part.finished.length, part.finished.width, part.finished.thickness].map(|size| desk.show(size));
    ui.label(RichText::new(finished.join(" × ")).text_style(figures()));
    ui.label(RichText::new(words.say("part-finished")).small().color(Palette::here(ui).ink_soft));
    let cut = [part.cut.length, part.cut.width, part.cut.thickness].map(|size| desk.show(size));
    ui.label(words.say_with("part-cut", &[("size", &cut.join(" × "))]));
    ui.label(words.say_with("part-material", &[("material", &part.material)]));
    ui.label(words.say_with("part-mass", &[("mass", &desk.number(part.mass_kg, 2))]));
    for band in &part.bands {
        ui.label(words.say_with("part-band", &[("band", &band.name), ("thickness", &desk.show(band.thickness))]));
    }
    if desk.design.carcass.bay.named(&part.bay).is_some()
        && ui.link(words.say_with("trouble-show", &[("name", &part.bay)])).clicked()
    {
        desk.select(Selection::bay(&part.bay));
    }
    measured::part(ui, desk, part);
    joints::of_part(ui, desk, part);
    machining(ui, desk, part);
}

fn machining(ui: &mut Ui, desk: &Desk<'_>, part: &Part) {
    if part.machining.is_empty() {
        return;
    }
    heading(ui, &desk.words.say("part-machining"));
    for step in &part.machining {
        let text = match step {
            Machining::Hole(hole) => {
                let depth = hole.depth.map_or_else(|| desk.words.say("part-through"), |depth| desk.show(depth));
                let at = format!("{} / {}", desk.show(hole.at.0), desk.show(hole.at.1));
                format!(
                    "ø {} × {depth}  @ {at}  {}",
                    desk.show(hole.diameter),
                    desk.words.sentence(&hole.purpose.to_string())
                )
            }
            Machining::Groove(groove) => {
                let corner = |at: (casewright_core::length::Length, casewright_core::length::Length)| {
                    format!("{} / {}", desk.show(at.0), desk.show(at.1))
                };
                let (from, to) = (corner(groove.from), corner(groove.to));
                format!(
                    "▭ {from} – {to} × {}  {}",
                    desk.show(groove.depth),
                    desk.words.sentence(&groove.purpose.to_string())
                )
            }
        };
        ui.add(egui::Label::new(text).wrap());
    }
}
