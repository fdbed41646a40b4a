//! Opening, saving, and what must be asked before edits are lost.

use std::path::{Path, PathBuf};
use std::time::Instant;

use casewright_core::design::Design;
use casewright_drawing::language::names_of;

use super::{App, LOOK};
use crate::command::{Command, Name};
use crate::dialogs::chooser::{Chooser, Purpose};
use crate::dialogs::guide::Guide;
use crate::dialogs::question::{Answer, Next, Question};
use crate::document::Document;
use crate::export::Target;
use crate::files;
use crate::files::stamp::Seen;
use crate::lengths::Lengths;
use crate::notice::Notice;
use crate::selection::Selection;
use crate::start;

impl App {
    pub(super) fn look_at_file(&mut self) {
        if self.has_dialog() || self.looked.elapsed() < LOOK {
            return;
        }
        self.looked = Instant::now();
        if let Some(Seen::Changed(text)) = self.document.look_at_file() {
            self.file_changed(&text);
        }
    }

    pub(super) fn file_changed(&mut self, text: &str) {
        match Design::read(text).map(|(design, _)| design) {
            Ok(design) if self.document.is_dirty() => {
                if design != **self.document.design() {
                    self.question = Some(Question::Changed(Box::new(design)));
                }
            }
            Ok(design) => {
                self.take_over(design);
                self.say(Notice::of("notice-reloaded"));
            }
            Err(faults) => {
                let fault = faults.first().map(ToString::to_string).unwrap_or_default();
                self.say(Notice::with("notice-file-damaged", "fault", fault));
            }
        }
    }

    pub(super) fn take_over(&mut self, design: Design) {
        self.document.take_over(design, Name::new("edit-reload"));
        self.drafts.clear();
        self.noted = u64::MAX;
    }

    /// Reads the file again, whatever the edits.
    pub(crate) fn reload(&mut self) {
        let Some(path) = self.document.path().map(Path::to_owned) else { return };
        match files::read(&path) {
            Ok(text) => self.file_changed(&text),
            Err(error) => self.say(Notice::Plain(error.to_string())),
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
                self.sit();
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
        self.words.leave(names_of(self.document.design()));
        self.noted = self.document.revision();
        self.asked = None;
        self.latest = None;
        self.good = None;
        self.board.fit();
    }

    /// Takes a seat at the file of the document, and says so where others sit there.
    pub(super) fn sit(&mut self) {
        let path = self.document.path().map(Path::to_owned);
        let others = self.journal.as_mut().is_some_and(|journal| journal.sit(path.as_deref()));
        if others && path.is_some() {
            self.say(Notice::of("notice-open-elsewhere"));
        }
    }

    /// Asks about edits that were left over from an earlier run.
    pub(super) fn offer_left_over(&mut self) {
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

    pub(super) fn go_on(&mut self, next: Next) {
        match next {
            Next::New => {
                self.begin(Document::new(start::blank()));
                self.sit();
                self.guide = Some(Guide::default());
            }
            Next::Choose => self.choose(Purpose::Open, None),
            Next::Open(path) => self.open(&path),
            Next::Quit => self.is_closing = true,
        }
    }

    /// Asks for a file or a folder.
    pub(crate) fn choose(&mut self, purpose: Purpose, next: Option<Next>) {
        // A file that is saved under another name begins with the one that it has, to the letter.
        let own = self.document.path().and_then(Path::file_stem).filter(|_| purpose == Purpose::Save);
        let stem = own.map_or_else(|| self.stem(), |own| own.to_string_lossy().into_owned());
        self.chooser = Some((Chooser::new(purpose, self.near().as_deref(), &stem), next));
    }

    /// Where the choice of a file begins.
    fn near(&self) -> Option<PathBuf> {
        self.document.path().map(Path::to_owned).or_else(|| self.settings.recent.first().cloned())
    }

    pub(super) fn answered(&mut self, question: Question, answer: Answer) {
        match (question, answer) {
            (Question::Unsaved(next), Answer::Yes) => self.save_then(Some(next)),
            (Question::Unsaved(next), Answer::No) => {
                if let Some(journal) = &self.journal {
                    journal.clear(self.document.path());
                }
                self.go_on(next);
            }
            (Question::Damaged(path), Answer::Yes) => self.write_to(&path, None),
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
            (Question::Replace(path, Purpose::Pdf), Answer::Yes) => self.write(Target::Pdf(path)),
            (Question::Replace(path, Purpose::Folder), Answer::Yes) => self.write(Target::Folder(path)),
            (Question::Replace(path, _), Answer::Yes) => self.save_to(&path),
            _ => {}
        }
    }

    pub(super) fn file_chosen(&mut self, purpose: Purpose, path: PathBuf, next: Option<Next>) {
        match purpose {
            Purpose::Open => self.open(&path),
            Purpose::Save if path.exists() && self.document.path() != Some(&*path) => {
                self.question = Some(Question::Replace(path, purpose));
            }
            Purpose::Pdf if path.exists() => self.question = Some(Question::Replace(path, purpose)),
            Purpose::Pdf => self.write(Target::Pdf(path)),
            Purpose::Folder if self.has_pack(&path) => self.question = Some(Question::Replace(path, purpose)),
            Purpose::Folder => self.write(Target::Folder(path)),
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
            None => self.choose(Purpose::Save, next),
        }
    }

    pub(super) fn save_to(&mut self, path: &Path) {
        // What someone else saved meanwhile is not written over unasked.
        if self.document.path() == Some(path)
            && let Some(Seen::Changed(text)) = self.document.look_at_file()
            && Design::read(&text).is_ok_and(|(design, _)| design != **self.document.design())
        {
            self.file_changed(&text);
            return;
        }
        let on_disk = self.document.path().and_then(|before| files::read(before).ok());
        // Nor is what someone is in the middle of writing.
        if self.document.path() == Some(path) && on_disk.as_deref().is_some_and(|text| self.document.is_damaged(text)) {
            self.question = Some(Question::Damaged(path.to_owned()));
            return;
        }
        self.write_to(path, on_disk);
    }

    /// Writes the design to a file, whatever is there.
    pub(super) fn write_to(&mut self, path: &Path, on_disk: Option<String>) {
        let (author, written) = match self.document.text_to_save(on_disk) {
            Ok(texts) => texts,
            Err(fault) => {
                self.say(Notice::with("notice-not-saved", "error", fault.to_string()));
                return;
            }
        };
        match files::write_whole(path, &written) {
            Ok(()) => {
                if let Some(journal) = &self.journal {
                    journal.clear(self.document.path());
                }
                let is_elsewhere = self.document.path() != Some(path);
                self.document.was_saved(path.to_owned(), author, written);
                self.settings.remember(path);
                self.say(Notice::with("notice-saved", "file", path.display().to_string()));
                if is_elsewhere {
                    self.sit();
                    if let Some(journal) = &self.journal {
                        journal.clear(Some(path));
                    }
                }
            }
            Err(error) => self.say(Notice::with("notice-not-saved", "error", error.to_string())),
        }
    }
}
