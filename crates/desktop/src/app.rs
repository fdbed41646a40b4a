//! The window as a whole: panels round the drawing, and the one place where what the user does takes effect.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use casewright_core::design::Design;
use casewright_drawing::furniture::PackOptions;
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

use crate::background::Latest;
use crate::bar::{self, Bar};
use crate::clipboard;
use crate::command::{Command, Name, tree};
use crate::dialogs::chooser::{self, Chooser, Purpose};
use crate::dialogs::commands::{self, Commands};
use crate::dialogs::guide::{self, Guide};
use crate::dialogs::question::{self, Answer, Next, Question};
use crate::document::Document;
use crate::export::Export;
use crate::files::journal::{Entry, Journal};
use crate::files::settings::Settings;
use crate::files::stamp::Seen;
use crate::files::{self};
use crate::keys::{self, Deed};
use crate::lengths::Lengths;
use crate::panels::field::Drafts;
use crate::panels::findings::Counts;
use crate::panels::{self, Action, Desk};
use crate::pipeline::{self, Derived, Request};
use crate::selection::Selection;
use crate::start;
use crate::theme;
use crate::view::board::Board;
use crate::view::sheets::Sheets;
use crate::words::{Language, Words};

/// How often the file is looked at.
const LOOK: Duration = Duration::from_millis(800);
/// How long a notice stays.
const NOTICE: Duration = Duration::from_secs(6);

/// What the bottom strip lists.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Strip {
    /// The findings.
    #[default]
    Findings,
    /// The parts.
    Parts,
}

/// What was asked of the background work.
#[derive(Clone, Debug, PartialEq)]
struct Asked {
    revision: u64,
    focus: Option<String>,
    sheets: Option<PackOptions>,
}

/// The window.
pub struct App {
    pub(crate) document: Document,
    pub(crate) settings: Settings,
    pub(crate) words: Words,
    pub(crate) selection: Selection,
    pub(crate) board: Board,
    pub(crate) sheets: Sheets,
    pub(crate) strip: Strip,
    pub(crate) question: Option<Question>,
    pub(crate) chooser: Option<(Chooser, Option<Next>)>,
    pub(crate) commands: Option<Commands>,
    pub(crate) guide: Option<Guide>,
    pub(crate) notice: Option<(String, Instant)>,
    pub(crate) drafts: Drafts,
    /// The field that is to have the focus, and for how many frames more it is given to it.
    pub(crate) focus: Option<(egui::Id, u8)>,
    state_folder: Option<PathBuf>,
    journal: Option<Journal>,
    worker: Latest<Request, Arc<Derived>>,
    wake: egui::Context,
    export: Option<Export>,
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
        let words = Words::new(settings.language.unwrap_or_else(Language::of_environment));
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
            board: Board::default(),
            sheets: Sheets::default(),
            strip: Strip::Findings,
            question: None,
            chooser: None,
            commands: None,
            guide: None,
            notice: None,
            drafts: Drafts::default(),
            focus: None,
            journal: state_folder.as_ref().map(|folder| Journal::in_folder(folder.join("journal"))),
            state_folder,
            worker: Latest::start("derive", pipeline::run_safely, move || wake.request_repaint()),
            wake: ctx.clone(),
            export: None,
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

    /// Waits for the background work; for tests.
    pub fn settle(&mut self) {
        self.ask();
        self.worker.wait();
        self.board.wait();
        self.fetch();
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

    /// Gives the focus to the field that is to have it, once no dialog stands before it: a dialog that has just closed
    /// still keeps the focus for the rest of its frame.
    fn focus(&mut self, ctx: &egui::Context) {
        let Some((id, frames)) = self.focus.filter(|_| !self.has_dialog()) else { return };
        ctx.memory_mut(|memory| memory.request_focus(id));
        self.focus = (frames > 1).then_some((id, frames - 1));
        ctx.request_repaint();
    }

    const fn has_dialog(&self) -> bool {
        self.question.is_some() || self.chooser.is_some() || self.commands.is_some() || self.guide.is_some()
    }

    fn panels(&mut self, ui: &mut Ui, actions: &mut Vec<Action>) {
        let notice = self.notice.as_ref().map(|(text, _)| text.as_str());
        let bar = Bar {
            document: &self.document,
            settings: &self.settings,
            words: &self.words,
            is_busy: self.worker.is_busy(),
            notice,
        };
        let chosen = Panel::top("bar").show(ui, |ui| bar.show(ui, actions)).inner;
        let design = self.document.design().clone();
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
        let column = |id: &'static str| if id == "left" { Panel::left(id) } else { Panel::right(id) };
        Panel::bottom("strip")
            .resizable(true)
            .default_size(150.0)
            .min_size(70.0)
            .show(ui, |ui| strip(ui, &mut desk, &mut self.strip));
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
                let opened = (moves && !self.sheets.shown).then_some(&mut self.board.opened);
                let shown = bar::Shown { kind: self.board.kind, four: self.board.four, sheets: self.sheets.shown };
                bar::views(ui, desk.words, shown, opened, desk.actions);
            });
            if self.sheets.shown {
                self.sheets.show(ui, &mut desk);
            } else {
                conflicts(ui, &mut desk);
                self.board.show(ui, &mut desk);
            }
        });
        if let Some(bar::Chosen::Recent(path)) = chosen {
            self.after_edits(Next::Open(path));
        }
    }

    fn dialogs(&mut self, ui: &Ui, actions: &mut Vec<Action>) {
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

    fn fetch(&mut self) {
        if let Some(derived) = self.worker.fetch() {
            if derived.layout.is_some() {
                self.good = Some(derived.clone());
            }
            self.latest = Some(derived);
        }
        if let Some((path, result)) = self.export.as_ref().and_then(Export::fetch) {
            self.export = None;
            let text = match result {
                Ok(()) => self.words.say_with("notice-written", &[("file", &path.display().to_string())]),
                Err(error) => self.words.say_with("notice-not-written", &[("error", &error)]),
            };
            self.say(text);
        }
        if self.notice.as_ref().is_some_and(|(_, since)| since.elapsed() > NOTICE) {
            self.notice = None;
        }
    }

    /// After a change: the lengths are read again and the journal is written.
    fn note(&mut self) {
        if self.noted == self.document.revision() {
            return;
        }
        self.noted = self.document.revision();
        self.lengths = Lengths::of(self.document.design());
        self.selection = std::mem::take(&mut self.selection).still_there(self.document.design());
        let Some(journal) = &self.journal else { return };
        if !self.document.is_dirty() {
            journal.clear(self.document.path());
            return;
        }
        let file = self.document.path().map(Path::to_owned);
        let written = match self.document.design().to_ron() {
            Ok(text) => journal.write(&Entry { file, text }).map_err(|error| error.to_string()),
            Err(fault) => Err(fault.to_string()),
        };
        if let Err(error) = written {
            self.say(self.words.say_with("notice-no-journal", &[("error", &error)]));
        }
    }

    fn ask(&mut self) {
        let selected = match &self.selection {
            Selection::Thing(name) => tree::bay_of_thing(self.document.design(), name),
            selection => selection.one_bay().map(str::to_owned),
        };
        let sheets = self.sheets.wanted(selected.as_deref());
        let focus = self.board.dragging().map(str::to_owned).or(selected);
        let wanted = Asked { revision: self.document.revision(), focus, sheets };
        if self.asked.as_ref() != Some(&wanted) {
            self.serial += 1;
            let request = Request {
                serial: self.serial,
                revision: wanted.revision,
                design: self.document.design().clone(),
                focus: wanted.focus.clone(),
                sheets: wanted.sheets.clone(),
            };
            self.worker.ask(request);
            self.asked = Some(wanted);
        }
    }

    /// Says something for a short while.
    pub(crate) fn say(&mut self, text: String) {
        self.notice = Some((text, Instant::now()));
    }

    pub(crate) fn edit(&mut self, command: &Command) {
        if let Err(refusal) = self.document.apply(command) {
            self.say(refusal.say(&self.words));
        }
    }

    fn look_at_file(&mut self) {
        if self.has_dialog() || self.looked.elapsed() < LOOK {
            return;
        }
        self.looked = Instant::now();
        if let Some(Seen::Changed(text)) = self.document.look_at_file() {
            self.file_changed(&text);
        }
    }

    fn file_changed(&mut self, text: &str) {
        match Design::read(text).map(|(design, _)| design) {
            Ok(design) if self.document.is_dirty() => {
                if design != **self.document.design() {
                    self.question = Some(Question::Changed(Box::new(design)));
                }
            }
            Ok(design) => {
                self.take_over(design);
                self.say(self.words.say("notice-reloaded"));
            }
            Err(faults) => {
                let fault = faults.first().map(ToString::to_string).unwrap_or_default();
                self.say(self.words.say_with("notice-file-damaged", &[("fault", &fault)]));
            }
        }
    }

    fn take_over(&mut self, design: Design) {
        self.document.take_over(design, Name::new("edit-reload"));
        self.drafts.clear();
        self.noted = u64::MAX;
    }

    /// Reads the file again, whatever the edits.
    pub(crate) fn reload(&mut self) {
        let Some(path) = self.document.path().map(Path::to_owned) else { return };
        match files::read(&path) {
            Ok(text) => self.file_changed(&text),
            Err(error) => self.say(error.to_string()),
        }
    }

    /// Opens a file. If it cannot be read, what is there stays and the faults are shown.
    pub fn open(&mut self, path: &Path) {
        let file = path.display().to_string();
        let text = match files::read(path) {
            Ok(text) => text,
            Err(error) => {
                self.question = Some(Question::Unreadable { file, faults: vec![error.to_string()] });
                return;
            }
        };
        // What is wrong with the meaning can be mended in the window; what is wrong with the shape cannot be shown.
        match Design::read(&text) {
            Ok((design, _shown_as_trouble)) => {
                self.begin(Document::of_file(design, path.to_owned(), &text));
                self.settings.remember(path);
                self.offer_left_over();
            }
            Err(faults) => {
                let faults = faults.iter().map(ToString::to_string).collect();
                self.question = Some(Question::Unreadable { file, faults });
            }
        }
    }

    /// Goes on with another document.
    pub(crate) fn begin(&mut self, document: Document) {
        self.document = document;
        self.selection = Selection::Carcass;
        self.drafts.clear();
        self.lengths = Lengths::of(self.document.design());
        self.noted = self.document.revision();
        self.asked = None;
        self.latest = None;
        self.good = None;
        self.board.fit();
    }

    /// Asks about edits that were left over from an earlier run.
    fn offer_left_over(&mut self) {
        let path = self.document.path().map(Path::to_owned);
        let Some(journal) = &self.journal else { return };
        let Some(entry) = journal.left_over(path.as_deref()) else { return };
        match Design::read(&entry.text).map(|(design, _)| design) {
            Ok(design) if design != **self.document.design() => {
                self.question = Some(Question::LeftOver(Box::new(design)));
            }
            _ => journal.clear(path.as_deref()),
        }
    }

    /// Does what is next, after asking about unsaved edits.
    pub(crate) fn after_edits(&mut self, next: Next) {
        if self.document.is_dirty() {
            self.question = Some(Question::Unsaved(next));
        } else {
            self.go_on(next);
        }
    }

    fn go_on(&mut self, next: Next) {
        match next {
            Next::New => {
                self.begin(Document::new(start::blank()));
                self.guide = Some(Guide::default());
            }
            Next::Choose => self.chooser = Some((Chooser::new(Purpose::Open, self.near().as_deref()), None)),
            Next::Open(path) => self.open(&path),
            Next::Quit => self.is_closing = true,
        }
    }

    /// Where the choice of a file begins.
    pub(crate) fn near(&self) -> Option<PathBuf> {
        self.document.path().map(Path::to_owned).or_else(|| self.settings.recent.first().cloned())
    }

    fn answered(&mut self, question: Question, answer: Answer) {
        match (question, answer) {
            (Question::Unsaved(next), Answer::Yes) => self.save_then(Some(next)),
            (Question::Unsaved(next), Answer::No) => {
                if let Some(journal) = &self.journal {
                    journal.clear(self.document.path());
                }
                self.go_on(next);
            }
            (Question::Changed(design), Answer::Yes) => self.take_over(*design),
            (Question::LeftOver(design), Answer::Yes) => {
                let name = Name::new("edit-restore");
                self.guide = None;
                self.edit(&Command::Replace { design, name });
            }
            (Question::LeftOver(_), _) => {
                if let Some(journal) = &self.journal {
                    journal.clear(self.document.path());
                }
            }
            (Question::Replace(path, Purpose::Pdf), Answer::Yes) => self.write_pdf(path),
            (Question::Replace(path, _), Answer::Yes) => self.save_to(&path),
            _ => {}
        }
    }

    fn file_chosen(&mut self, purpose: Purpose, path: PathBuf, next: Option<Next>) {
        match purpose {
            Purpose::Open => self.open(&path),
            Purpose::Save if path.exists() && self.document.path() != Some(&*path) => {
                self.question = Some(Question::Replace(path, purpose));
            }
            Purpose::Pdf if path.exists() => self.question = Some(Question::Replace(path, purpose)),
            Purpose::Pdf => self.write_pdf(path),
            Purpose::Save => {
                self.save_to(&path);
                if let Some(next) = next.filter(|_| !self.document.is_dirty()) {
                    self.go_on(next);
                }
            }
        }
    }

    /// Saves, asking for a name if there is none yet; then goes on.
    pub(crate) fn save_then(&mut self, next: Option<Next>) {
        match self.document.path().map(Path::to_owned) {
            Some(path) => {
                self.save_to(&path);
                if let Some(next) = next.filter(|_| !self.document.is_dirty()) {
                    self.go_on(next);
                }
            }
            None => self.chooser = Some((Chooser::new(Purpose::Save, self.near().as_deref()), next)),
        }
    }

    fn save_to(&mut self, path: &Path) {
        let text = match self.document.design().to_ron() {
            Ok(text) => text,
            Err(fault) => {
                self.say(self.words.say_with("notice-not-saved", &[("error", &fault.to_string())]));
                return;
            }
        };
        match files::write_whole(path, &text) {
            Ok(()) => {
                if let Some(journal) = &self.journal {
                    journal.clear(self.document.path());
                    journal.clear(Some(path));
                }
                self.document.was_saved(path.to_owned(), &text);
                self.settings.remember(path);
                self.say(self.words.say_with("notice-saved", &[("file", &path.display().to_string())]));
            }
            Err(error) => self.say(self.words.say_with("notice-not-saved", &[("error", &error.to_string())])),
        }
    }

    /// Begins to write the pack of sheets that is shown.
    fn write_pdf(&mut self, path: PathBuf) {
        let Some(Ok(sheets)) = self.good.as_ref().and_then(|good| good.sheets.as_ref()) else { return };
        let title = self.document.design().title.clone();
        let wake = self.wake.clone();
        self.export = Some(Export::begin(path, sheets.clone(), title, move || wake.request_repaint()));
    }

    /// Title, closing and size of the window in the system.
    fn window(&mut self, ctx: &egui::Context) {
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

    /// Keeps the settings; at the end.
    pub fn keep_settings(&self) {
        if let Some(folder) = &self.state_folder {
            // At the end there is nobody left to tell.
            let _untold = self.settings.keep(folder);
        }
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
        Selection::Site => panels::room::show_site(ui, desk),
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

fn strip(ui: &mut Ui, desk: &mut Desk<'_>, strip: &mut Strip) {
    ui.add_space(3.0);
    ui.horizontal_wrapped(|ui| {
        let counts = desk.latest.map(|latest| Counts::of(&latest.findings, &latest.troubles)).unwrap_or_default();
        if ui.selectable_label(*strip == Strip::Findings, desk.words.say("strip-findings")).clicked() {
            *strip = Strip::Findings;
        }
        if ui.selectable_label(*strip == Strip::Parts, desk.words.say("strip-parts")).clicked() {
            *strip = Strip::Parts;
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
                ui.label(egui::RichText::new(format!("{sign} {text}")).color(colour));
            }
        }
    });
    ui.separator();
    match strip {
        Strip::Findings => panels::findings::show(ui, desk),
        Strip::Parts => panels::parts::show(ui, desk),
    }
}
