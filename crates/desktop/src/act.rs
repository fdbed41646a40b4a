//! What each deed does.

use casewright_arrange::Effort;
use casewright_core::design::{Access, Air, Board, Thing, ThingKind};
use casewright_core::expr::Dim;
use casewright_core::geometry::Axis;
use casewright_core::text::FieldPath;
use casewright_core::unit::Unit;
use casewright_drawing::language::names_of;

use crate::app::{App, Middle, Strip};
use crate::clipboard;
use crate::command::{Command, Name, tree};
use crate::dialogs::chooser::Purpose;
use crate::dialogs::commands::Commands;
use crate::dialogs::question::Next;
use crate::dialogs::stock_in::{StockIn, pieces};
use crate::help;
use crate::keys::Deed;
use crate::notice::Notice;
use crate::panels::Action;
use crate::pipeline::ViewKind;
use crate::selection::Selection;
use crate::theme::{self, Shade};
use crate::words::{Language, Words};

impl App {
    /// Lets an action take effect.
    pub(crate) fn act(&mut self, ctx: &egui::Context, action: Action) {
        match action {
            Action::Edit(command) => self.edit(&command),
            Action::SearchLonger(area) => self.arrange(area, Effort::THOROUGH),
            Action::Select(selection) => self.selection = selection.still_there(self.document.design()),
            Action::StopWriting => self.stop_writing(),
            Action::EnterBoards(way) => self.stock_in = Some(StockIn::new(way)),
            Action::Say(text) => self.say(text),
            Action::EndGesture => self.document.end_gesture(),
            Action::Do(deed) => self.do_(ctx, deed),
        }
    }

    fn do_(&mut self, ctx: &egui::Context, deed: Deed) {
        match deed {
            Deed::New => self.after_edits(Next::New),
            Deed::Open => self.after_edits(Next::Choose),
            Deed::Save => self.save_then(None),
            Deed::SaveAs => self.choose(Purpose::Save, None),
            Deed::Reload => self.reload(),
            Deed::Undo => self.document.undo(),
            Deed::Redo => self.document.redo(),
            Deed::Commands => self.commands = Some(Commands::default()),
            Deed::ShowFront => self.show_view(ViewKind::Front),
            Deed::ShowFronts => self.show_view(ViewKind::Fronts),
            Deed::ShowSection => self.show_view(ViewKind::Section),
            Deed::ShowPlan => self.show_view(ViewKind::Plan),
            Deed::ShowIsometric => self.show_view(ViewKind::Isometric),
            Deed::ShowFour => {
                self.board.four = !self.board.four || self.middle != Middle::Drawing;
                self.middle = Middle::Drawing;
                self.board.fit();
            }
            Deed::ShowSheets => self.switch_to(Middle::Sheets),
            Deed::ShowChecks => self.switch_to(Middle::Checks),
            Deed::ShowCuts => self.switch_to(Middle::Cuts),
            Deed::Arrange if self.middle == Middle::Gallery => self.middle = Middle::Drawing,
            Deed::Arrange => self.arrange(None, Effort::NORMAL),
            Deed::ArrangeBay => match self.selection.one_bay().map(str::to_owned) {
                Some(bay) => self.arrange(Some(bay), Effort::NORMAL),
                None => self.say(Notice::of("notice-select-bay")),
            },
            Deed::WritePdf => self.choose(Purpose::Pdf, None),
            Deed::WriteFolder => self.choose(Purpose::Folder, None),
            Deed::Fit if self.middle == Middle::Sheets => self.sheets.fit(),
            Deed::Fit => self.board.fit(),
            Deed::ZoomIn => self.zoom(1.25),
            Deed::ZoomOut => self.zoom(0.8),
            Deed::NextBay => self.selection = self.selection.stepped(self.document.design(), 1),
            Deed::PreviousBay => self.selection = self.selection.stepped(self.document.design(), -1),
            Deed::OuterBay => self.selection = self.selection.outer(self.document.design()),
            Deed::InnerBay => self.selection = self.selection.inner(self.document.design()),
            Deed::SelectCarcass => self.selection = Selection::Carcass,
            Deed::SelectStock => self.selection = Selection::Stock,
            Deed::ShowFindings => self.strip = Strip::Findings,
            Deed::ShowParts => self.strip = Strip::Parts,
            Deed::ShowSteps => self.strip = Strip::Steps,
            Deed::Numbers => self.board.numbers = !self.board.numbers,
            Deed::Shade => self.change_shade(ctx),
            Deed::Language => self.change_language(),
            Deed::Unit => self.change_unit(),
            Deed::Larger => ctx.set_zoom_factor((ctx.zoom_factor() + 0.1).min(3.0)),
            Deed::Smaller => ctx.set_zoom_factor((ctx.zoom_factor() - 0.1).max(0.6)),
            Deed::Explain => {
                let key = if help::switch(ctx) { "notice-explains" } else { "notice-explains-no-longer" };
                self.say(Notice::of(key));
            }
            Deed::Quit => self.after_edits(Next::Quit),
            Deed::CopyBay => self.copy(ctx),
            Deed::PasteBay => ctx.send_viewport_cmd(egui::ViewportCommand::RequestPaste),
            Deed::AddThing => self.add_thing(),
            Deed::Delete => self.delete(),
            Deed::Swap => self.with_two(Command::Swap),
            Deed::EqualWidths => self.make_equal(true),
            Deed::EqualHeights => self.make_equal(false),
            Deed::TypeWidth => self.type_into("width"),
            Deed::TypeHeight => self.type_into("height"),
            Deed::DivideAcross => self.divide(true),
            Deed::DivideUp => self.divide(false),
            Deed::Merge => self.with_bay(Command::Merge),
            Deed::Wrap => self.with_bay(Command::Wrap),
            Deed::Unwrap => self.with_bay(Command::Unwrap),
            Deed::Duplicate => self.with_bay(Command::Duplicate),
        }
    }

    /// Puts the focus into the field of a size of what is selected, asking for an exact size where none is asked yet.
    fn type_into(&mut self, size: &str) {
        let design = self.document.design();
        let root = FieldPath::root();
        let path = match &self.selection {
            Selection::Carcass => Some(root.field("carcass").field("envelope").field(size)),
            Selection::Thing(name) => {
                let index = usize::from(size == "height");
                Some(root.field("things").key(name).field("size").index(index))
            }
            _ => self.selection.one_bay().and_then(|bay| tree::path_of(design, bay)).map(|at| at.field(size)),
        };
        let Some(path) = path else { return };
        if self.lengths.get(&path).is_none() {
            let axis = if size == "width" { Axis::X } else { Axis::Y };
            let layout = self.good().and_then(|good| good.layout.as_ref());
            let now = match self.selection.one_bay() {
                Some(bay) => layout.and_then(|layout| layout.bay(bay)).map(|bay| bay.clear.size(axis)),
                None => layout.map(|layout| layout.envelope.size(axis)),
            };
            let Some(now) = now else { return };
            let value = serde_json::json!({ "Fixed": self.lengths.input(now) });
            let name = Name::about("edit-field", size);
            self.edit(&Command::SetField { path: path.clone(), value, name });
        }
        self.focus = Some((crate::panels::field::id(&path.to_string()), 2));
    }

    fn show_view(&mut self, kind: ViewKind) {
        self.board.kind = kind;
        self.board.four = false;
        self.middle = Middle::Drawing;
    }

    /// Adds boards behind those in stock.
    pub(crate) fn add_boards(&mut self, boards: Vec<Board>) {
        let count = pieces(&boards);
        let mut all = self.document.design().boards.clone();
        all.extend(boards);
        let Ok(value) = serde_json::to_value(all) else { return };
        let path = FieldPath::root().field("boards");
        self.edit(&Command::SetField { path, value, name: Name::new("edit-boards") });
        self.say(Notice::with("notice-boards-added", "count", count.to_string()));
    }

    fn zoom(&mut self, factor: f64) {
        if self.middle == Middle::Sheets {
            self.sheets.zoom(factor);
        } else {
            self.board.zoom(factor);
        }
    }

    /// Divides the bay under the pointer at that place; without one, the selected bay in halves.
    fn divide(&mut self, across: bool) {
        let under = self.board.under_pointer().map(|(bay, at)| (bay.to_owned(), at));
        let Some((bay, at)) = under else {
            self.with_bay(|bay| Command::Divide { bay, across, at: None });
            return;
        };
        let clear = self.good().and_then(|good| good.layout.as_ref()?.bay(&bay)).map(|bay| bay.clear);
        let unit = self.document.design().unit;
        let at = clear.and_then(|clear| crate::view::handling::division(&clear, unit, across, at));
        self.edit(&Command::Divide { bay: bay.clone(), across, at });
        self.selection = Selection::bay(bay).still_there(self.document.design());
    }

    fn with_bay(&mut self, make: impl FnOnce(String) -> Command) {
        match self.selection.one_bay() {
            Some(bay) => {
                let command = make(bay.to_owned());
                self.edit(&command);
            }
            None => self.say(Notice::of("notice-select-bay")),
        }
    }

    fn with_two(&mut self, make: impl FnOnce(String, String) -> Command) {
        match self.selection.bays() {
            [a, b] => {
                let command = make(a.clone(), b.clone());
                self.edit(&command);
            }
            _ => self.say(Notice::of("notice-select-two")),
        }
    }

    fn make_equal(&mut self, width: bool) {
        let bays = self.selection.bays().to_vec();
        if bays.len() < 2 {
            self.say(Notice::of("notice-select-two"));
            return;
        }
        self.edit(&Command::MakeEqual { bays, width });
    }

    fn delete(&mut self) {
        match self.selection.clone() {
            Selection::Thing(name) => self.edit(&Command::RemoveThing(name)),
            Selection::Bays(_) => {
                let after = self.selection.outer(self.document.design());
                self.with_bay(Command::Delete);
                self.selection = std::mem::take(&mut self.selection).still_there(self.document.design());
                if self.selection == Selection::Carcass {
                    self.selection = after;
                }
            }
            _ => self.say(Notice::of("notice-select-bay")),
        }
    }

    fn copy(&mut self, ctx: &egui::Context) {
        let bay = self.selection.one_bay().and_then(|name| self.document.design().carcass.bay.named(name));
        match bay.and_then(clipboard::to_text) {
            Some(text) => {
                ctx.copy_text(text);
                self.say(Notice::of("notice-copied"));
            }
            None => self.say(Notice::of("notice-select-bay")),
        }
    }

    /// Adds a thing of middling size, to be measured, and selects it.
    fn add_thing(&mut self) {
        let taken: Vec<String> = self.document.design().things.keys().cloned().collect();
        let name = tree::fresh_name(&self.words.say("thing-new"), &taken);
        let unit = self.document.design().unit;
        let mm = |mm| Dim::of(casewright_core::length::Length::from_mm(mm), unit);
        let thing = Box::new(Thing {
            kind: ThingKind::Other,
            size: (mm(300), mm(300), mm(300)),
            mass_kg: 1.0,
            load_kg: 0.0,
            air: Air::default(),
            may_turn: false,
            access: Access::Open,
            pull_outs: Vec::new(),
            lead: None,
        });
        self.edit(&Command::AddThing { name: name.clone(), thing });
        self.selection = Selection::Thing(name);
    }

    fn change_shade(&mut self, ctx: &egui::Context) {
        self.settings.shade = match self.settings.shade {
            Shade::Light => Shade::Dark,
            Shade::Dark => Shade::Light,
        };
        theme::apply(ctx, self.settings.shade);
    }

    fn change_language(&mut self) {
        let language = match self.words.language() {
            Language::English => Language::German,
            Language::German => Language::English,
        };
        self.settings.language = Some(language);
        self.words = Words::new(language);
        self.words.leave(names_of(self.document.design()));
    }

    fn change_unit(&mut self) {
        let unit = match self.document.design().unit {
            Unit::Millimetre { .. } => Unit::inch(32).unwrap_or_default(),
            Unit::Inch { .. } => Unit::default(),
        };
        self.edit(&Command::SetUnit(unit));
    }
}
