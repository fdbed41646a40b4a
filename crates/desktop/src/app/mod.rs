//! The window as a whole: panels round the drawing, and the one place where what the user does takes effect.

mod filing;
mod packing;
mod showing;
mod working;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use casewright_arrange::Effort;
use casewright_core::design::Design;
use egui::Ui;

use crate::background::Latest;
use crate::clipboard;
use crate::command::Command;
use crate::dialogs::chooser::Chooser;
use crate::dialogs::commands::Commands;
use crate::dialogs::guide::Guide;
use crate::dialogs::question::{Next, Question};
use crate::dialogs::stock_in::StockIn;
use crate::document::Document;
use crate::export::Export;
use crate::files::journal::Journal;
use crate::files::settings::Settings;
use crate::keys::{self, Deed};
use crate::lengths::Lengths;
use crate::notice::Notice;
use crate::panels::Action;
use crate::panels::field::Drafts;
use crate::pipeline::{self, Derived, Request, SheetsWanted};
use crate::selection::Selection;
use crate::start;
use crate::theme;
use crate::view::board::Board;
use crate::view::checks::Checks;
use crate::view::cuts::Cuts;
use crate::view::gallery::Gallery;
use crate::view::sheets::Sheets;
use crate::words::{Language, Words, language_of_environment};

/// How often the file is looked at.
const LOOK: Duration = Duration::from_millis(800);
/// How long a notice stays.
const NOTICE: Duration = Duration::from_secs(6);
/// How long it stays said where something was written: whoever was away meanwhile is to see it.
const LONG_NOTICE: Duration = Duration::from_secs(60);

/// What the bottom strip lists.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Strip {
    /// The findings.
    #[default]
    Findings,
    /// The parts.
    Parts,
    /// The steps of the work, to tick.
    Steps,
}

/// What is shown in the middle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Middle {
    /// The drawing, to work on.
    #[default]
    Drawing,
    /// The sheets as they will print.
    Sheets,
    /// Proposals.
    Gallery,
    /// What the piece carries and whether it stands.
    Checks,
    /// How the boards are cut.
    Cuts,
}

/// What was asked of the background work.
#[derive(Clone, Debug, PartialEq)]
struct Asked {
    revision: u64,
    focus: Option<String>,
    sheets: Option<SheetsWanted>,
    steps: bool,
    language: Language,
}

/// The window.
pub struct App {
    pub(crate) document: Document,
    pub(crate) settings: Settings,
    pub(crate) words: Words,
    pub(crate) selection: Selection,
    pub(crate) middle: Middle,
    pub(crate) board: Board,
    pub(crate) sheets: Sheets,
    pub(crate) gallery: Gallery,
    pub(crate) checks: Checks,
    pub(crate) cuts: Cuts,
    pub(crate) strip: Strip,
    pub(crate) question: Option<Question>,
    pub(crate) chooser: Option<(Chooser, Option<Next>)>,
    pub(crate) commands: Option<Commands>,
    pub(crate) guide: Option<Guide>,
    pub(crate) stock_in: Option<StockIn>,
    /// What is said, and until when.
    pub(crate) notice: Option<(Notice, Instant)>,
    pub(crate) drafts: Drafts,
    /// The field that is to have the focus, and for how many frames more it is given to it.
    pub(crate) focus: Option<(egui::Id, u8)>,
    state_folder: Option<PathBuf>,
    journal: Option<Journal>,
    worker: Latest<Request, Arc<Derived>>,
    wake: egui::Context,
    export: Option<Export>,
    /// The pack that is to be written as soon as there is what it is made of.
    to_write: Option<packing::Wanted>,
    latest: Option<Arc<Derived>>,
    good: Option<Arc<Derived>>,
    pub(crate) lengths: Lengths,
    /// The revision that lengths and journal are of, and what was asked of the worker last.
    noted: u64,
    asked: Option<Asked>,
    serial: u64,
    looked: Instant,
    shown_title: String,
    pub(crate) is_closing: bool,
}

impl std::fmt::Debug for App {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("App").field("document", &self.document).finish_non_exhaustive()
    }
}

impl App {
    /// The window with a file, or with a new design. Its own files are kept in `state_folder`, if there is one.
    #[must_use]
    pub fn new(ctx: &egui::Context, path: Option<&Path>, state_folder: Option<PathBuf>) -> Self {
        let settings = state_folder.as_deref().map(Settings::load).unwrap_or_default();
        let words = Words::new(settings.language.unwrap_or_else(language_of_environment));
        theme::set_fonts(ctx);
        theme::apply(ctx, settings.shade);
        if let Some(zoom) = settings.zoom {
            ctx.set_zoom_factor(zoom);
        }
        let wake = ctx.clone();
        let document = Document::new(start::blank());
        let lengths = Lengths::of(document.design());
        let mut app = Self {
            document,
            settings,
            words,
            selection: Selection::Carcass,
            middle: Middle::default(),
            board: Board::default(),
            sheets: Sheets::default(),
            gallery: Gallery::default(),
            checks: Checks::default(),
            cuts: Cuts::default(),
            strip: Strip::Findings,
            question: None,
            chooser: None,
            commands: None,
            guide: None,
            stock_in: None,
            notice: None,
            drafts: Drafts::default(),
            focus: None,
            journal: state_folder.as_ref().map(|folder| Journal::in_folder(folder.join("journal"))),
            state_folder,
            worker: Latest::start("derive", pipeline::run_safely, move || wake.request_repaint()),
            wake: ctx.clone(),
            export: None,
            to_write: None,
            latest: None,
            good: None,
            lengths,
            noted: 0,
            asked: None,
            serial: 0,
            looked: Instant::now(),
            shown_title: String::new(),
            is_closing: false,
        };
        match path {
            Some(path) => app.open(path),
            None => {
                app.guide = Some(Guide::default());
                app.sit();
                app.offer_left_over();
            }
        }
        app
    }

    /// The Design as it is now.
    #[must_use]
    pub fn design(&self) -> &Design {
        self.document.design()
    }

    /// What was derived last without trouble.
    #[must_use]
    pub fn good(&self) -> Option<&Derived> {
        self.good.as_deref()
    }

    /// What was derived last.
    #[must_use]
    pub fn latest(&self) -> Option<&Derived> {
        self.latest.as_deref()
    }

    /// The proposals for the carcass.
    #[must_use]
    pub const fn gallery(&self) -> &Gallery {
        &self.gallery
    }

    /// The cutting plan.
    #[must_use]
    pub const fn cuts(&self) -> &Cuts {
        &self.cuts
    }

    /// Shows something in the middle; if it is shown already, the drawing again.
    pub(crate) fn switch_to(&mut self, middle: Middle) {
        self.middle = if self.middle == middle { Middle::Drawing } else { middle };
        // The sheets have the plan among them.
        if matches!(self.middle, Middle::Cuts | Middle::Sheets) {
            self.cuts.open(self.latest.as_deref());
        }
    }

    /// Searches proposals for the carcass, or for one of its bays, and shows them.
    pub(crate) fn arrange(&mut self, area: Option<String>, effort: Effort) {
        let wake = self.wake.clone();
        self.middle = Middle::Gallery;
        self.gallery.begin(self.document.design().clone(), area, effort, move || wake.request_repaint());
    }

    /// Shows the window and takes what the user does.
    pub fn show(&mut self, ui: &mut Ui) {
        self.fetch();
        self.look_at_file();
        self.focus(ui.ctx());
        let mut actions: Vec<Action> = Vec::new();
        if !self.has_dialog() {
            actions.extend(keys::pressed(ui.ctx()).into_iter().map(Action::Do));
            self.clipboard(ui, &mut actions);
        }
        self.panels(ui, &mut actions);
        self.dialogs(ui, &mut actions);
        for action in actions {
            self.act(ui.ctx(), action);
        }
        self.note();
        self.ask();
        self.window(ui.ctx());
    }

    const fn has_dialog(&self) -> bool {
        self.question.is_some()
            || self.chooser.is_some()
            || self.commands.is_some()
            || self.guide.is_some()
            || self.stock_in.is_some()
    }

    /// Copies or pastes a bay when no text is being written.
    fn clipboard(&self, ui: &Ui, actions: &mut Vec<Action>) {
        if ui.ctx().text_edit_focused() {
            return;
        }
        let events = ui.input(|input| input.events.clone());
        for event in events {
            match event {
                egui::Event::Copy => actions.push(Action::Do(Deed::CopyBay)),
                egui::Event::Paste(text) => {
                    if let (Some(into), Some(bay)) = (self.selection.one_bay(), clipboard::from_text(&text)) {
                        actions.push(Action::Edit(Command::Paste { into: into.to_owned(), bay: Box::new(bay) }));
                    }
                }
                _ => {}
            }
        }
    }

    /// Says something for a short while.
    pub(crate) fn say(&mut self, notice: Notice) {
        self.notice = Some((notice, Instant::now() + NOTICE));
    }

    /// Says something that is not to be missed.
    pub(crate) fn say_long(&mut self, notice: Notice) {
        self.notice = Some((notice, Instant::now() + LONG_NOTICE));
    }

    pub(crate) fn edit(&mut self, command: &Command) {
        match self.document.apply(command) {
            Ok(()) => self.selection = std::mem::take(&mut self.selection).renamed(command),
            Err(refusal) => self.say(Notice::Refused(refusal)),
        }
    }

    /// At the end: keeps the settings, and leaves the seat at the file.
    pub fn end(&mut self) {
        if let Some(folder) = &self.state_folder {
            // At the end there is nobody left to tell.
            let _untold = self.settings.keep(folder);
        }
        if let Some(journal) = &mut self.journal {
            journal.leave();
        }
    }
}
