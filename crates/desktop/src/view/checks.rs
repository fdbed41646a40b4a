//! The checks in the place of the views: what was found, worst first, each with its figures and a small diagram, leading to
//! its place; beside it sliders that ask what would be if the piece carried more, stood open, or had another board.

use std::collections::BTreeSet;

use casewright_core::checks::{CheckOptions, OtherBoard, PanelBend, Standing, WhatIf, exchangeable, what_if};
use casewright_core::finding::{Finding, Severity};
use casewright_core::length::Length;
use casewright_drawing::{Display, Mark};
use egui::{RichText, ScrollArea, Sense, Ui};

use super::paint;
use crate::labels;
use crate::panels::{Desk, choice, findings, heading};
use crate::theme::Palette;

/// Points of the screen for each millimetre of a diagram.
const POINTS_PER_MM: f64 = 3.3;
/// Width and height of a diagram, in millimetres.
const DIAGRAM_MM: (f64, f64) = (44.0, 30.0);
/// Width of the column of sliders, in points.
const SLIDERS: f32 = 250.0;
/// The hardest that the hand presses, N: a person of 90 kg.
const HARDEST_N: f64 = 900.0;
/// Forces above this come from no person, N.
const NO_PERSON_N: f64 = 2_000.0;
/// How many panels are listed.
const PANELS: usize = 6;

/// The checks on the screen, with what is asked.
#[derive(Debug)]
pub struct Checks {
    /// Load, as a share of what is designed.
    load: f64,
    /// The movers that stand open.
    open: BTreeSet<String>,
    /// How far, 0 to 1.
    opened: f64,
    /// The force of a hand on the front, N.
    hand: f64,
    on_carpet: bool,
    /// Another board for a panel: its number and the name of the material.
    board: Option<(String, String)>,
}

impl Default for Checks {
    fn default() -> Self {
        Self { load: 1.0, open: BTreeSet::new(), opened: 1.0, hand: 0.0, on_carpet: false, board: None }
    }
}

impl Checks {
    /// Shows sliders and findings.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        let frame = egui::Frame::new().inner_margin(egui::Margin::symmetric(10, 6));
        frame.show(ui, |ui| {
            ui.horizontal_top(|ui| {
                ui.vertical(|ui| {
                    ui.set_width(SLIDERS);
                    ScrollArea::vertical()
                        .id_salt("what if")
                        .auto_shrink([false, false])
                        .show(ui, |ui| self.ask(ui, desk));
                });
                ui.separator();
                ui.vertical(|ui| {
                    ScrollArea::vertical().id_salt("checks").auto_shrink(false).show(ui, |ui| list(ui, desk));
                });
            });
        });
    }

    fn ask(&mut self, ui: &mut Ui, desk: &Desk<'_>) {
        let words = desk.words;
        heading(ui, &words.say("what-if"));
        let Some(good) = desk.good else { return };
        let (Some(design), Some(layout), Some(assembly)) = (&good.resolved, &good.layout, &good.assembly) else {
            ui.label(words.say("drawing-trouble"));
            return;
        };
        ui.spacing_mut().slider_width = SLIDERS - 76.0;
        slider(ui, &words.say("what-if-load"), &mut self.load, 0.0..=3.0, |share| format!("{:.0} %", share * 100.0));
        slider(ui, &words.say("what-if-hand"), &mut self.hand, 0.0..=HARDEST_N, |force| format!("{force:.0} N"));
        ui.checkbox(&mut self.on_carpet, words.say("what-if-carpet"));
        if !assembly.movers.is_empty() {
            slider(ui, &words.say("what-if-opened"), &mut self.opened, 0.0..=1.0, |share| {
                format!("{:.0} %", share * 100.0)
            });
            for mover in &assembly.movers {
                let mut open = self.open.contains(&mover.id);
                if ui
                    .checkbox(&mut open, words.say_with("what-if-open", &[("name", &words.sentence(&mover.id))]))
                    .changed()
                {
                    if open {
                        self.open.insert(mover.id.clone());
                    } else {
                        self.open.remove(&mover.id);
                    }
                }
            }
        }
        let options = CheckOptions::of(design);
        self.choose_board(ui, desk, &exchangeable(design, layout, assembly, &options));
        let board = self.board.as_ref().and_then(|(number, material)| {
            let part = assembly.parts.iter().position(|it| it.number == *number)?;
            Some(OtherBoard { part, material: design.materials.get(material)?.clone() })
        });
        let ask = WhatIf {
            load: self.load,
            open: self.open.iter().cloned().collect(),
            opened: self.opened,
            hand: self.hand,
            on_carpet: self.on_carpet,
            board,
            options,
        };
        let then = what_if(design, layout, assembly, &ask);
        heading(ui, &words.say("what-if-then"));
        if let Some(standing) = &then.stands {
            stands(ui, desk, standing);
        }
        bends(ui, desk, &then.bends);
        ui.add_space(6.0);
        if ui.button(words.say("what-if-reset")).clicked() {
            *self = Self::default();
        }
        ui.label(RichText::new(words.say("what-if-note")).small().color(Palette::here(ui).ink_soft));
    }

    fn choose_board(&mut self, ui: &mut Ui, desk: &Desk<'_>, parts: &[usize]) {
        let Some(good) = desk.good else { return };
        let (Some(design), Some(assembly)) = (&good.resolved, &good.assembly) else { return };
        let parts: Vec<_> = parts.iter().filter_map(|it| assembly.parts.get(*it)).collect();
        if parts.is_empty() || design.materials.len() < 2 {
            return;
        }
        let words = desk.words;
        ui.add_space(4.0);
        let none = words.say("what-if-board-none");
        let names: Vec<String> = std::iter::once(none)
            .chain(parts.iter().map(|it| format!("{}  {}", it.number, words.sentence(&it.name))))
            .collect();
        let chosen = self.board.as_ref().and_then(|(number, _)| parts.iter().position(|it| it.number == *number));
        let now = chosen.map_or(0, |it| it + 1);
        let label = words.say("what-if-panel");
        ui.label(&label);
        if let Some(index) = choice::choose_box(ui, None, &label, now, &names, SLIDERS - 20.0) {
            self.board =
                index.checked_sub(1).and_then(|it| parts.get(it)).map(|it| (it.number.clone(), it.material.clone()));
        }
        if let Some((_, material)) = &mut self.board {
            let materials: Vec<String> = design.materials.keys().cloned().collect();
            let now = materials.iter().position(|it| it == material).unwrap_or_default();
            let label = words.say("what-if-board");
            ui.label(&label);
            let chosen = choice::choose_box(ui, None, &label, now, &materials, SLIDERS - 20.0);
            if let Some(chosen) = chosen.and_then(|index| materials.get(index)) {
                material.clone_from(chosen);
            }
        }
    }
}

/// A slider with its label over it and its value beside it.
fn slider(
    ui: &mut Ui,
    label: &str,
    value: &mut f64,
    range: std::ops::RangeInclusive<f64>,
    show: impl Fn(f64) -> String + 'static,
) {
    let name = ui.label(label);
    ui.add(egui::Slider::new(value, range).custom_formatter(move |value, _| show(value))).labelled_by(name.id);
}

/// How it then stands.
fn stands(ui: &mut Ui, desk: &Desk<'_>, it: &Standing) {
    let words = desk.words;
    let palette = Palette::here(ui);
    let show = |mm: f64| {
        let unit = desk.design.unit;
        unit.format_named(Length::from_mm_f64(mm.abs()).rounded_to(unit.step()), desk.decimal_mark())
    };
    let way = words.sentence(it.balance.edge.name());
    let newton = |force: f64| format!("{force:.0}");
    if it.stands {
        let text = words.say_with("what-if-stands", &[("inside", &show(it.inside)), ("way", &way)]);
        ui.label(RichText::new(format!("✔ {text}")).color(palette.note));
    } else {
        let text = words.say_with("what-if-tips", &[("way", &way)]);
        ui.label(RichText::new(format!("✖ {text}")).color(palette.error).strong());
        ui.label(words.say_with("what-if-pull", &[("force", &newton(it.wall_pull))]));
    }
    if it.tips_at <= NO_PERSON_N {
        ui.label(words.say_with("what-if-force", &[("force", &newton(it.tips_at))]));
    }
}

/// How the panels then bend, the nearest to its limit first.
fn bends(ui: &mut Ui, desk: &Desk<'_>, bends: &[PanelBend]) {
    let Some(assembly) = desk.good.and_then(|good| good.assembly.as_ref()) else { return };
    let palette = Palette::here(ui);
    let mut worst: Vec<&PanelBend> = bends.iter().filter(|it| it.limit > 0.0).collect();
    worst.sort_by(|a, b| (b.deflection / b.limit).total_cmp(&(a.deflection / a.limit)));
    for bend in worst.into_iter().take(PANELS) {
        let Some(part) = assembly.parts.get(bend.part) else { continue };
        let over = bend.deflection > bend.limit;
        let sign = if over { "▲" } else { "✔" };
        let text = desk.words.say_with(
            "what-if-bend",
            &[
                ("name", &desk.words.sentence(&part.name)),
                ("sag", &desk.number(bend.deflection, 1)),
                ("limit", &desk.number(bend.limit, 1)),
            ],
        );
        ui.label(RichText::new(format!("{sign} {text}")).color(if over { palette.warning } else { palette.ink }));
    }
}

/// The findings, worst first, each with its diagram.
fn list(ui: &mut Ui, desk: &mut Desk<'_>) {
    let Some(latest) = desk.latest else {
        ui.label(desk.words.say("findings-working"));
        return;
    };
    if latest.findings.is_empty() {
        ui.label(desk.words.say("findings-none"));
    }
    let none = None;
    let all: Vec<(&Finding, &Option<Display>)> =
        latest.findings.iter().enumerate().map(|(i, it)| (it, latest.diagrams.get(i).unwrap_or(&none))).collect();
    for severity in [Severity::Error, Severity::Warning, Severity::Note] {
        for (finding, diagram) in all.iter().filter(|it| it.0.severity == severity) {
            card(ui, desk, finding, diagram.as_ref());
        }
    }
}

fn card(ui: &mut Ui, desk: &mut Desk<'_>, finding: &Finding, diagram: Option<&Display>) {
    let words = desk.words;
    let palette = Palette::here(ui);
    let (sign, word) = labels::severity(words, finding.severity);
    let frame = egui::Frame::new().stroke(egui::Stroke::new(1.0, palette.edge)).inner_margin(6.0);
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_top(|ui| {
            let picture = (POINTS_PER_MM * DIAGRAM_MM.0) as f32 + 8.0;
            let room = ui.available_width() - if diagram.is_some() { picture } else { 0.0 };
            ui.vertical(|ui| {
                ui.set_width(room);
                ui.horizontal_wrapped(|ui| {
                    ui.label(
                        RichText::new(format!("{sign} {word}")).color(palette.severity(finding.severity)).strong(),
                    );
                    let target = findings::leads_to(desk, finding);
                    let text = findings::line(words, finding);
                    match target {
                        Some(target) => {
                            if ui.link(RichText::new(text).color(palette.ink)).clicked() {
                                desk.select(target);
                            }
                        }
                        None => {
                            ui.label(text);
                        }
                    }
                });
                if let Some(mend) = &finding.mend {
                    ui.label(RichText::new(format!("→ {}", words.sentence(mend))).color(palette.ink_soft));
                }
                if let Some(source) = &finding.source {
                    ui.label(RichText::new(words.sentence(source)).small().color(palette.ink_soft));
                }
            });
            if let Some(diagram) = diagram {
                paint(
                    ui,
                    desk,
                    diagram,
                    &words.say_with("checks-diagram", &[("check", &words.sentence(&finding.what))]),
                );
            }
        });
    });
    ui.add_space(4.0);
}

/// A diagram, its words in the language of the window.
fn paint(ui: &mut Ui, desk: &Desk<'_>, diagram: &Display, name: &str) {
    let size = egui::vec2((DIAGRAM_MM.0 * POINTS_PER_MM) as f32, (DIAGRAM_MM.1 * POINTS_PER_MM) as f32);
    let (room, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, name));
    if !ui.is_rect_visible(room) {
        return;
    }
    let mut said = diagram.clone();
    for item in &mut said.items {
        if let Mark::Text(text) = &mut item.mark {
            text.content = desk.words.sentence(&text.content);
        }
    }
    paint::picture(ui, room, &said, POINTS_PER_MM, &paint::from_lower_left(room, POINTS_PER_MM));
}
