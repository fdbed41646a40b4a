//! Trouble in plain words, with what it comes from and what would mend it.

use casewright_core::text::FieldPath;
use egui::{Frame, Margin, RichText, Ui};

use super::{Action, Desk};
use crate::command::tree;
use crate::pipeline::Trouble;
use crate::selection::Selection;
use crate::theme::Palette;

/// The troubles that come from fields at or under a place.
#[must_use]
pub fn about<'t>(troubles: &'t [Trouble], place: &FieldPath) -> Vec<&'t Trouble> {
    let comes_from = |trouble: &&Trouble| {
        trouble
            .because
            .iter()
            .any(|(_, field)| field.as_ref().is_some_and(|field| field.segments().starts_with(place.segments())))
    };
    troubles.iter().filter(comes_from).collect()
}

/// What leads to the field that a trouble comes from.
#[must_use]
pub fn owner(desk: &Desk<'_>, field: &FieldPath) -> Option<(String, Selection)> {
    use casewright_core::text::Segment;
    if let Some(bay) = tree::owner(desk.design, field) {
        return Some((bay.clone(), Selection::bay(bay)));
    }
    match field.segments() {
        [Segment::Field(first), Segment::Key(name), ..] if first == "things" => {
            Some((name.clone(), Selection::Thing(name.clone())))
        }
        [Segment::Field(first), ..] if first == "site" => Some((desk.words.say("room-title"), Selection::Site)),
        [Segment::Field(_), ..] => Some((desk.words.say("carcass-title"), Selection::Carcass)),
        _ => None,
    }
}

/// One trouble: what, buttons that mend it, and because of what.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>, trouble: &Trouble, with_causes: bool) {
    let palette = Palette::here(ui);
    Frame::new().fill(palette.error_ground).inner_margin(Margin::same(8)).corner_radius(3).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.add(
            egui::Label::new(
                RichText::new(format!("✖ {}", desk.words.sentence(&trouble.what))).color(palette.ink).strong(),
            )
            .wrap(),
        );
        ui.horizontal_wrapped(|ui| {
            for mend in &trouble.mends {
                match &mend.command {
                    Some(command) => {
                        let label = desk.words.say_with("trouble-mend", &[("mend", &desk.words.sentence(&mend.words))]);
                        if ui.add(egui::Button::new(label).wrap()).clicked() {
                            desk.actions.push(Action::Edit(command.clone()));
                        }
                    }
                    None => {
                        ui.label(format!("→ {}", desk.words.sentence(&mend.words)));
                    }
                }
            }
        });
        if with_causes {
            for (cause, field) in &trouble.because {
                ui.horizontal_wrapped(|ui| {
                    ui.label(format!("· {}", desk.words.sentence(cause)));
                    let Some((name, selection)) = field.as_ref().and_then(|field| owner(desk, field)) else { return };
                    if ui.link(desk.words.say_with("trouble-show", &[("name", &name)])).clicked() {
                        desk.select(selection);
                    }
                });
            }
        }
    });
}
