//! How the boards are cut, in the place of the views: each board with its parts, its cuts in the order of the saw, and how
//! good the plan is.

use std::sync::Arc;

use casewright_core::design::Design;
use casewright_core::length::Length;
use casewright_core::stock::{CutBoard, Lot, SawCut};
use casewright_core::unit::DecimalMark;
use casewright_cutting::Effort;
use casewright_drawing::furniture::{board_notes, board_picture};
use casewright_drawing::{Display, Speech};
use egui::{RichText, ScrollArea, Sense, Ui};

use super::paint;
use crate::cutting::{Cutting, Outcome, Planned};
use crate::panels::stock::add_sheet;
use crate::panels::{Action, Desk, heading};
use crate::pipeline::Derived;
use crate::selection::Selection;
use crate::theme::Palette;
use crate::words::{Language, Words};

/// Points of the screen for each millimetre of paper: lettering is then as high as text.
const POINTS_PER_MM: f64 = 3.3;
/// Width of the list of boards, in points.
const LIST: f32 = 210.0;
/// Least height of a board's picture, in points, and the largest share of the room that it takes above its cuts.
const PICTURE: (f32, f32) = (120.0, 0.58);
/// What the lettering below a board takes, in points.
const LETTERING: f32 = 24.0;

/// The cutting plan on the screen.
#[derive(Debug, Default)]
pub struct Cuts {
    /// Whether a plan is wanted as soon as there is something to cut.
    wanted: bool,
    work: Option<Cutting>,
    planned: Option<Arc<Planned>>,
    /// Why there is no plan.
    trouble: Option<String>,
    /// The board that is shown, counted over all lots.
    board: usize,
    /// What the plan says, in the language of the window, with the names of the design that it was made from.
    speech: Speech,
    /// The board's picture, with the board, the size and the language that it was drawn for.
    picture: Option<((usize, egui::Vec2, Language), Display)>,
}

impl Cuts {
    /// When it comes to be shown: what is not planned yet is planned.
    pub fn open(&mut self, latest: Option<&Derived>) {
        self.wanted = self.work.is_none() && !self.is_of(latest);
    }

    /// Whether the plan is of what was derived last.
    fn is_of(&self, latest: Option<&Derived>) -> bool {
        self.planned.as_ref().is_some_and(|it| latest.is_none_or(|latest| it.is_of(&latest.design)))
    }

    /// The plan of this design, if there is one.
    #[must_use]
    pub fn plan_of(&self, design: &Arc<Design>) -> Option<&Arc<Planned>> {
        self.planned.as_ref().filter(|it| it.is_of(design))
    }

    /// Has the cutting of this planned, whatever else is being planned, unless it is planned or being planned already.
    /// Says whether a search was begun.
    pub fn demand(&mut self, from: &Arc<Derived>, wake: impl Fn() + Send + 'static) -> bool {
        let is_coming = self.work.as_ref().is_some_and(|it| it.is_of(&from.design));
        if is_coming || self.plan_of(&from.design).is_some() {
            return false;
        }
        self.search(from, wake);
        true
    }

    fn search(&mut self, from: &Arc<Derived>, wake: impl Fn() + Send + 'static) {
        self.wanted = false;
        self.trouble = None;
        self.work = Some(Cutting::begin(from.clone(), Effort::NORMAL, wake));
    }

    /// How far the search has come, 0 to 1; nothing while there is none.
    #[must_use]
    pub fn share(&self) -> Option<f32> {
        self.work.as_ref().map(Cutting::share)
    }

    /// Calls the search off.
    pub fn stop(&self) {
        if let Some(work) = &self.work {
            work.stop();
        }
    }

    /// Why there is no plan.
    #[must_use]
    pub fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
    }

    /// Begins to plan if that is wanted and there is something to cut.
    pub fn begin(&mut self, good: Option<&Arc<Derived>>, wake: impl Fn() + Send + 'static) {
        let Some(good) = good.filter(|it| self.wanted && it.assembly.is_some()) else { return };
        self.search(good, wake);
    }

    /// Whether it searches.
    #[must_use]
    pub const fn is_busy(&self) -> bool {
        self.work.is_some()
    }

    /// The plan, once there is one.
    #[must_use]
    pub fn planned(&self) -> Option<&Planned> {
        self.planned.as_deref()
    }

    /// Takes in what the search has found.
    pub fn fetch(&mut self) {
        let Some(outcome) = self.work.as_ref().and_then(Cutting::fetch) else { return };
        self.work = None;
        match outcome {
            Outcome::Planned(planned) => {
                self.planned = Some(planned);
                self.board = 0;
                self.picture = None;
                self.speech = Speech::default();
            }
            Outcome::Stopped => {}
            Outcome::Failed(why) => self.trouble = Some(why),
        }
    }

    /// Shows the plan.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        egui::Frame::new().inner_margin(egui::Margin::symmetric(10, 6)).show(ui, |ui| {
            self.head(ui, desk);
            if let Some(why) = &self.trouble {
                let colour = Palette::here(ui).error;
                ui.label(RichText::new(format!("✖ {}", desk.words.sentence(why))).color(colour));
            }
            let Some(planned) = self.planned.clone() else {
                if self.work.is_none() && self.trouble.is_none() && desk.good.is_none_or(|it| it.assembly.is_none()) {
                    ui.label(desk.words.say("drawing-trouble"));
                }
                return;
            };
            if planned.plan.has_no_stock() {
                // Once there are boards, the plan is made: nothing is lost by it.
                let is_newer = desk.good.is_some_and(|it| !planned.is_of(&it.design));
                self.wanted |= is_newer && self.work.is_none() && !desk.design.boards.is_empty();
                ui.label(desk.words.say("cuts-no-stock"));
                ui.label(desk.words.say("cuts-no-stock-mend"));
                ui.horizontal_wrapped(|ui| {
                    for lot in &planned.plan.lots {
                        let text = desk.words.say_with("cuts-add-sheet", &[("material", &lot.material)]);
                        if ui.button(text).clicked() {
                            add_sheet(desk, lot.material.clone());
                        }
                    }
                    if ui.button(desk.words.say("deed-select-stock")).clicked() {
                        desk.actions.push(Action::Select(Selection::Stock));
                    }
                });
                return;
            }
            // Speech is English until it is learnt, and then needs none.
            if self.speech.language() != desk.words.language()
                && let Some(scene) = planned.from.scene()
            {
                self.speech = scene.speech_of(desk.words.language());
            }
            ui.horizontal_top(|ui| {
                ui.vertical(|ui| {
                    ui.set_width(LIST);
                    ScrollArea::vertical().id_salt("boards").auto_shrink([false, false]).show(ui, |ui| {
                        self.lots(ui, &planned);
                    });
                });
                ui.separator();
                ui.vertical(|ui| self.one(ui, desk, &planned));
            });
        });
    }

    fn head(&mut self, ui: &mut Ui, desk: &Desk<'_>) {
        let words = desk.words;
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(words.say("cuts-title")).heading());
            if let Some(planned) = self.planned.as_ref().filter(|it| self.work.is_none() && !it.plan.has_no_stock()) {
                let count = |of: &dyn Fn(&CutBoard) -> usize| planned.plan.boards().map(|it| of(it.1)).sum::<usize>();
                ui.label(words.say_with(
                    "cuts-summary",
                    &[
                        ("boards", &planned.plan.boards().count()),
                        ("cuts", &count(&|it| it.cuts.len())),
                        ("settings", &count(&|it| it.settings)),
                    ],
                ));
                if !self.is_of(desk.latest) {
                    let colour = Palette::here(ui).warning;
                    ui.label(RichText::new(format!("▲ {}", words.say("cuts-old"))).color(colour));
                }
            }
            self.search_controls(ui, desk);
        });
        ui.add_space(4.0);
    }

    /// The key of the words for why the sheets lack those of the cutting plan; nothing where they have them.
    pub(super) fn lacking(&self, desk: &Desk<'_>) -> Option<&'static str> {
        if self.is_busy() {
            return Some("sheets-plan-coming");
        }
        let is_there = self.is_of(desk.latest);
        (!is_there && desk.latest.is_some_and(|it| it.assembly.is_some())).then_some("sheets-no-plan")
    }

    /// How far the search has come, with the means to stop it; or to plan again what is not planned as it is now.
    pub(super) fn search_controls(&mut self, ui: &mut Ui, desk: &Desk<'_>) {
        let words = desk.words;
        if let Some(work) = &self.work {
            let bar = egui::ProgressBar::new(work.share()).desired_width(140.0);
            ui.add(bar).accessible_name(words.say("cuts-searching")).on_hover_text(words.say("cuts-searching"));
            if ui.button(words.say("cuts-stop")).clicked() {
                work.stop();
            }
        } else if !self.wanted && !self.is_of(desk.latest) && ui.button(words.say("cuts-again")).clicked() {
            self.wanted = true;
        }
    }

    /// The boards by lot, with what is missing and how good the plan is.
    fn lots(&mut self, ui: &mut Ui, planned: &Planned) {
        let palette = Palette::here(ui);
        let mut index = 0;
        for lot in &planned.plan.lots {
            heading(ui, &lot.material);
            let is_bad = lot.quality.is_short();
            let colour = if is_bad { palette.error } else { palette.ink_soft };
            let sign = if is_bad { "✖ " } else { "" };
            let text = self.speech.say(&lot.quality_in_words(&|part| number(planned, part)));
            ui.label(RichText::new(format!("{sign}{text}")).color(colour));
            for board in &lot.boards {
                let name = self.title(index, board);
                let share = format!("{:.0}\u{a0}%", used(board) * 100.0);
                let on = self.board == index;
                if ui.selectable_label(on, format!("{name}  {share}")).accessible_name(&name).clicked() {
                    self.board = index;
                }
                index += 1;
            }
        }
        for lot in &planned.plan.bars {
            heading(ui, &lot.banding);
            let named =
                |it: Length| planned.from.resolved.as_ref().map(|of| of.unit.format_named(it, DecimalMark::Point));
            let text = self.speech.say(&lot.in_words(&|it| named(it).unwrap_or_default()));
            ui.label(RichText::new(text).color(palette.ink_soft));
        }
        for note in &planned.plan.notes {
            ui.add_space(4.0);
            ui.label(RichText::new(self.speech.say(note)).color(palette.ink_soft));
        }
    }

    /// One board, and its cuts below.
    fn one(&mut self, ui: &mut Ui, desk: &Desk<'_>, planned: &Planned) {
        let Some((lot, board)) = planned.plan.boards().nth(self.board) else { return };
        let words = desk.words;
        let room = ui.available_size();
        let width = room.x - 4.0;
        // As high as the board needs, with its lettering.
        let shape = (board.size.1.mm() / board.size.0.mm().max(1.0)) as f32;
        let size = egui::vec2(width, (width * shape + LETTERING).clamp(PICTURE.0, (room.y * PICTURE.1).max(PICTURE.0)));
        let name = words.say_with("cuts-picture", &[("board", &self.title(self.board, board))]);
        self.picture(ui, words, planned, board, size, &name);
        ui.add_space(4.0);
        ScrollArea::both().id_salt("cuts").auto_shrink(false).show(ui, |ui| {
            for note in self.notes(planned, (lot, board)) {
                ui.label(note);
            }
            if board.cuts.is_empty() {
                ui.label(words.say("cuts-none"));
                return;
            }
            egui::Grid::new("cuts of a board").num_columns(6).striped(true).spacing([16.0, 3.0]).show(ui, |ui| {
                let of_sheets = |it: &str| self.speech.say(it);
                for head in [
                    of_sheets("Cut"),
                    words.say("cuts-fence"),
                    of_sheets("Way"),
                    of_sheets("What"),
                    of_sheets("Near side"),
                    of_sheets("Far side"),
                ] {
                    ui.label(RichText::new(head).strong());
                }
                ui.end_row();
                let mut last = 0;
                for cut in &board.cuts {
                    self.row(ui, desk, (cut, planned.plan.trim), cut.setting != last);
                    last = cut.setting;
                }
            });
        });
    }

    /// What the sheet of a board says beside its drawing.
    fn notes(&self, planned: &Planned, (lot, board): (&Lot, &CutBoard)) -> Vec<String> {
        let Some(scene) = planned.from.scene() else { return Vec::new() };
        board_notes(&scene.in_language(&self.speech), lot, self.board + 1, board)
    }

    /// A line of the table: a new setting of the fence is said once.
    fn row(&self, ui: &mut Ui, desk: &Desk<'_>, (cut, trim): (&SawCut, Length), is_set: bool) {
        ui.label(cut.number.to_string());
        if is_set {
            ui.label(RichText::new(format!("{}: {}", cut.setting, desk.show(cut.fence))).strong());
        } else {
            ui.label("″");
        }
        ui.label(self.speech.say(cut.way(trim)));
        for piece in [&cut.what, &cut.into.0, &cut.into.1] {
            ui.label(self.speech.say(&piece.to_string()));
        }
        ui.end_row();
    }

    /// What a board is called, as on its sheet.
    fn title(&self, index: usize, board: &CutBoard) -> String {
        self.speech.say(&format!("Board {}: {}", index + 1, board.title()))
    }

    fn picture(
        &mut self,
        ui: &mut Ui,
        words: &Words,
        planned: &Planned,
        board: &CutBoard,
        size: egui::Vec2,
        name: &str,
    ) {
        let (room, response) = ui.allocate_exact_size(size, Sense::hover());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, name));
        let Some(scene) = planned.from.scene() else { return };
        if !ui.is_rect_visible(room) {
            return;
        }
        let of = (self.board, size, words.language());
        if self.picture.as_ref().is_none_or(|it| it.0 != of) {
            let speech = scene.speech_of(words.language());
            let paper = (f64::from(size.x) / POINTS_PER_MM, f64::from(size.y) / POINTS_PER_MM);
            self.picture = Some((of, board_picture(&scene.in_language(&speech), board, paper)));
        }
        let Some((_, display)) = &self.picture else { return };
        paint::picture(ui, room, display, POINTS_PER_MM, &paint::from_lower_left(room, POINTS_PER_MM));
    }
}

fn number(planned: &Planned, part: usize) -> String {
    let part = planned.from.assembly.as_ref().and_then(|it| it.parts.get(part));
    part.map(|it| it.number.clone()).unwrap_or_default()
}

/// The share of a board that becomes parts.
fn used(board: &CutBoard) -> f64 {
    let area: f64 = board.parts.iter().map(|it| it.length.mm() * it.width.mm()).sum();
    area / (board.size.0.mm() * board.size.1.mm()).max(1.0)
}
