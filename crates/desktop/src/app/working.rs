//! The background work: what is asked of it, and what comes back.

use std::path::Path;
use std::time::Instant;

use casewright_drawing::language::names_of;

use super::{App, Asked, Middle, Strip};
use crate::command::tree;
use crate::files::journal::Entry;
use crate::lengths::Lengths;
use crate::notice::Notice;
use crate::pipeline::{Request, SheetsWanted};
use crate::selection::Selection;

impl App {
    pub(super) fn fetch(&mut self) {
        if let Some(derived) = self.worker.fetch() {
            if derived.layout.is_some() {
                self.good = Some(derived.clone());
            }
            self.latest = Some(derived);
        }
        self.gallery.fetch();
        self.cuts.fetch();
        let wake = self.wake.clone();
        self.cuts.begin(self.good.as_ref(), move || wake.request_repaint());
        self.go_on_writing();
        if self.notice.as_ref().is_some_and(|(_, until)| Instant::now() > *until) {
            self.notice = None;
        }
    }

    /// After a change: the lengths are read again and the journal is written.
    pub(super) fn note(&mut self) {
        if self.noted == self.document.revision() {
            return;
        }
        self.noted = self.document.revision();
        self.lengths = Lengths::of(self.document.design());
        self.words.leave(names_of(self.document.design()));
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
            self.say(Notice::with("notice-no-journal", "error", error));
        }
    }

    pub(super) fn ask(&mut self) {
        let selected = self.selected_bay();
        let sheets = (self.middle == Middle::Sheets).then(|| SheetsWanted {
            options: self.sheets.wanted(selected.as_deref()),
            plan: self.cuts.plan_of(self.document.design()).cloned(),
        });
        let steps = self.strip == Strip::Steps;
        let focus = self.board.dragging().map(str::to_owned).or(selected);
        let language = self.words.language();
        let wanted = Asked { revision: self.document.revision(), focus, sheets, steps, language };
        if self.asked.as_ref() != Some(&wanted) {
            self.serial += 1;
            let request = Request {
                serial: self.serial,
                revision: wanted.revision,
                design: self.document.design().clone(),
                focus: wanted.focus.clone(),
                sheets: wanted.sheets.clone(),
                steps: wanted.steps,
                language: wanted.language,
            };
            self.worker.ask(request);
            self.asked = Some(wanted);
        }
    }

    /// The bay that is selected, or that of the selected thing.
    pub(super) fn selected_bay(&self) -> Option<String> {
        match &self.selection {
            Selection::Thing(name) => tree::bay_of_thing(self.document.design(), name),
            selection => selection.one_bay().map(str::to_owned),
        }
    }

    /// Waits for the background work; for tests.
    pub fn settle(&mut self) {
        self.ask();
        self.worker.wait();
        self.board.wait();
        while self.gallery.is_busy() {
            std::thread::sleep(std::time::Duration::from_millis(2));
            self.gallery.fetch();
        }
        self.fetch();
        while self.cuts.is_busy() {
            std::thread::sleep(std::time::Duration::from_millis(2));
            self.cuts.fetch();
        }
        while self.is_writing() {
            std::thread::sleep(std::time::Duration::from_millis(2));
            self.worker.wait();
            self.fetch();
        }
    }
}
