//! The panels round the drawing, and the dialogs before them.

use std::path::Path;

use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

use super::{App, LOOK, Middle, Strip};
use crate::bar::{self, Bar};
use crate::command::{Command, Name};
use crate::dialogs::question::{self, Next, Question};
use crate::dialogs::{chooser, commands, guide, stock_in};
use crate::keys::Deed;
use crate::panels::findings::Counts;
use crate::panels::{self, Action, Desk};
use crate::selection::Selection;
use crate::status::Status;
use crate::theme;

impl App {
    pub(super) fn panels(&mut self, ui: &mut Ui, actions: &mut Vec<Action>) {
        let bar = Bar { document: &self.document, settings: &self.settings, words: &self.words };
        let chosen = Panel::top("bar").show(ui, |ui| bar.show(ui, actions)).inner;
        let design = self.document.design().clone();
        let writing = self.writing();
        let (latest, good) = (self.latest.clone(), self.good.clone());
        let mut desk = Desk {
            words: &self.words,
            design: &design,
            lengths: &self.lengths,
            latest: latest.as_deref(),
            good: good.as_deref(),
            selection: &self.selection,
            drafts: &mut self.drafts,
            actions,
        };
        let status = Status {
            words: &self.words,
            is_busy: self.worker.is_busy(),
            writing,
            notice: self.notice.as_ref().map(|(notice, _)| notice),
        };
        let column = |id: &'static str| if id == "left" { Panel::left(id) } else { Panel::right(id) };
        Panel::bottom("strip")
            .resizable(true)
            .default_size(150.0)
            .min_size(70.0)
            .show(ui, |ui| strip(ui, &mut desk, &mut self.strip, &status));
        let is_small = ui.ctx().content_rect().width() < 1200.0;
        let (left, right) = if is_small { (184.0, 316.0) } else { (230.0, 372.0) };
        column("left").resizable(true).default_size(left).size_range(170.0..=420.0).show(ui, |ui| {
            panels::room::show(ui, &mut desk);
        });
        column("right").resizable(true).default_size(right).size_range(310.0..=600.0).show(ui, |ui| {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| explain(ui, &mut desk));
        });
        let frame = Frame::new().fill(theme::Palette::here(ui).panel);
        CentralPanel::no_frame().frame(frame).show(ui, |ui| {
            Frame::new().inner_margin(Margin::symmetric(8, 5)).show(ui, |ui| {
                let moves = desk.good.and_then(|good| good.assembly.as_ref()).is_some_and(|it| !it.movers.is_empty());
                let opened = (moves && self.middle == Middle::Drawing).then_some(&mut self.board.opened);
                let shown = bar::Shown { middle: self.middle, kind: self.board.kind, four: self.board.four };
                bar::views(ui, desk.words, shown, opened, desk.actions);
            });
            match self.middle {
                Middle::Gallery => return self.gallery.show(ui, &mut desk),
                Middle::Checks => return self.checks.show(ui, &mut desk),
                Middle::Cuts => return self.cuts.show(ui, &mut desk),
                Middle::Sheets => self.sheets.show(ui, &mut desk, &mut self.cuts),
                Middle::Drawing => {
                    conflicts(ui, &mut desk);
                    self.board.show(ui, &mut desk);
                }
            }
            bar::zoom(ui, desk.words, ui.max_rect().intersect(ui.clip_rect()), desk.actions);
        });
        if let Some(bar::Chosen::Recent(path)) = chosen {
            self.after_edits(Next::Open(path));
        }
    }

    pub(super) fn dialogs(&mut self, ui: &Ui, actions: &mut Vec<Action>) {
        if let Some(commands) = &mut self.commands {
            match commands.show(ui, &self.words) {
                Some(commands::Chosen::Deed(deed)) => {
                    self.commands = None;
                    actions.push(Action::Do(deed));
                }
                Some(commands::Chosen::Nothing) => self.commands = None,
                None => {}
            }
        }
        // What must be asked comes before the guide.
        if let Some(guide) = self.guide.as_mut().filter(|_| self.question.is_none() && self.chooser.is_none()) {
            match guide.show(ui, &self.words) {
                Some(guide::Chosen::Design(design)) => {
                    self.guide = None;
                    let name = Name::new("edit-start");
                    self.edit(&Command::Replace { design, name });
                    self.board.fit();
                }
                Some(guide::Chosen::Empty) => self.guide = None,
                Some(guide::Chosen::Open) => {
                    self.guide = None;
                    actions.push(Action::Do(Deed::Open));
                }
                None => {}
            }
        }
        if let Some(stock_in) = &mut self.stock_in {
            let desk = (&self.words, &**self.document.design(), &self.lengths);
            match stock_in.show(ui, desk) {
                Some(stock_in::Chosen::Boards(boards)) => {
                    self.stock_in = None;
                    self.add_boards(boards);
                }
                Some(stock_in::Chosen::Nothing) => self.stock_in = None,
                None => {}
            }
        }
        if let Some((mut chooser, next)) = self.chooser.take() {
            match chooser.show(ui, &self.words) {
                Some(chooser::Chosen::File(path)) => self.file_chosen(chooser.purpose, path, next),
                Some(chooser::Chosen::Nothing) => {}
                None => self.chooser = Some((chooser, next)),
            }
        }
        if let Some(question) = self.question.take() {
            match question::show(ui, &self.words, &question) {
                Some(answer) => self.answered(question, answer),
                None => self.question = Some(question),
            }
        }
    }

    /// Title, closing and size of the window in the system.
    pub(super) fn window(&mut self, ctx: &egui::Context) {
        let dirty = if self.document.is_dirty() { "• " } else { "" };
        let name = self.document.path().and_then(Path::file_name).map(|name| name.to_string_lossy().into_owned());
        let title = format!("{dirty}{} – Casewright", name.unwrap_or_else(|| self.words.say("bar-untitled")));
        if title != self.shown_title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.shown_title = title;
        }
        if ctx.input(|input| input.viewport().close_requested()) && !self.is_closing && self.document.is_dirty() {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.question = Some(Question::Unsaved(Next::Quit));
        }
        if self.is_closing {
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
        }
        ctx.input(|input| {
            let viewport = input.viewport();
            if let Some(inner) = viewport.inner_rect {
                self.settings.window = Some((inner.width(), inner.height()));
            }
            if let Some(outer) = viewport.outer_rect {
                self.settings.corner = Some((outer.left(), outer.top()));
            }
        });
        self.settings.zoom = Some(ctx.zoom_factor());
        ctx.request_repaint_after(LOOK);
    }

    /// Gives the focus to the field that is to have it, once no dialog stands before it: a dialog that has just closed
    /// still keeps the focus for the rest of its frame.
    pub(super) fn focus(&mut self, ctx: &egui::Context) {
        let Some((id, frames)) = self.focus.filter(|_| !self.has_dialog()) else { return };
        ctx.memory_mut(|memory| memory.request_focus(id));
        self.focus = (frames > 1).then_some((id, frames - 1));
        ctx.request_repaint();
    }
}

/// What is selected, explained.
fn explain(ui: &mut Ui, desk: &mut Desk<'_>) {
    match desk.selection.clone() {
        Selection::Carcass => panels::carcass::show(ui, desk),
        Selection::Bays(bays) => match bays.as_slice() {
            [bay] => panels::bay::show(ui, desk, bay),
            _ => panels::bay::show_several(ui, desk, &bays),
        },
        Selection::Thing(name) => panels::thing::show(ui, desk, &name),
        Selection::Part(number) => panels::part::show(ui, desk, &number),
        Selection::Site => panels::site::show(ui, desk),
        Selection::Stock => panels::stock::show(ui, desk),
    }
}

/// The conflicts, where the work is: between the switches and the drawing.
fn conflicts(ui: &mut Ui, desk: &mut Desk<'_>) {
    let Some(latest) = desk.latest.filter(|latest| !latest.troubles.is_empty()) else { return };
    Frame::new().inner_margin(Margin::symmetric(8, 4)).show(ui, |ui| {
        ScrollArea::vertical().id_salt("conflicts").max_height(200.0).show(ui, |ui| {
            for trouble in &latest.troubles {
                panels::trouble::show(ui, desk, trouble, true);
            }
            if desk.good.is_some_and(|good| good.revision != latest.revision) {
                ui.label(desk.words.say("drawing-before"));
            }
        });
    });
}

/// Narrower than this, only the signs and figures of what was found are shown, in points.
const ROOM_FOR_COUNTS: f32 = 900.0;

fn strip(ui: &mut Ui, desk: &mut Desk<'_>, strip: &mut Strip, status: &Status<'_>) {
    ui.add_space(3.0);
    // One line, whatever is said in it: what stands below must not move.
    ui.horizontal(|ui| {
        let counts = desk.latest.map(|latest| Counts::of(&latest.findings, &latest.troubles)).unwrap_or_default();
        let is_wide = ui.available_width() >= ROOM_FOR_COUNTS;
        for (listed, key) in
            [(Strip::Findings, "strip-findings"), (Strip::Parts, "strip-parts"), (Strip::Steps, "strip-steps")]
        {
            if ui.selectable_label(*strip == listed, desk.words.say(key)).clicked() {
                *strip = listed;
            }
        }
        ui.separator();
        let palette = theme::Palette::here(ui);
        for (count, key, sign, colour) in [
            (counts.errors, "findings-errors", "✖", palette.error),
            (counts.warnings, "findings-warnings", "▲", palette.warning),
            (counts.notes, "findings-notes", "●", palette.note),
        ] {
            if count > 0 {
                let text = desk.words.say_with(key, &[("count", &count)]);
                let shown = if is_wide { format!("{sign} {text}") } else { format!("{sign} {count}") };
                ui.label(egui::RichText::new(shown).color(colour)).on_hover_text(text);
            }
        }
        ui.separator();
        status.show(ui, desk.actions);
    });
    ui.separator();
    match strip {
        Strip::Findings => panels::findings::show(ui, desk),
        Strip::Parts => panels::parts::show(ui, desk),
        Strip::Steps => panels::steps::show(ui, desk),
    }
}
