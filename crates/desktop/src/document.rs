//! The document: the Design being edited, its undo and redo, and its file. The one place where commands are applied.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use casewright_core::design::Design;
use casewright_core::text::Fault;

use crate::command::{Command, Name, Refusal};
use crate::files::stamp::{Seen, Stamp};

/// Edits of one gesture count as one for undo when they are no further apart than this.
const GESTURE: Duration = Duration::from_millis(1500);

/// One undone or redoable edit.
#[derive(Clone, Debug)]
struct Step {
    name: Name,
    /// The Design to go back (or forward) to.
    design: Arc<Design>,
    gesture: Option<(String, Instant)>,
}

/// The design file that a document belongs to.
#[derive(Clone, Debug)]
pub struct FileState {
    /// Where it is.
    pub path: PathBuf,
    stamp: Stamp,
    /// The text that its author wrote. Each saving changes this one, so that what is undone reads as it did before.
    author: String,
    /// What was last read or written there.
    written: String,
    /// Its text is no longer there.
    pub gone: bool,
}

/// The Design being edited, its undo and redo, and its file.
#[derive(Clone, Debug)]
pub struct Document {
    design: Arc<Design>,
    saved: Option<Arc<Design>>,
    revision: u64,
    undo: Vec<Step>,
    redo: Vec<Step>,
    file: Option<FileState>,
}

impl Document {
    /// A document that was never saved.
    #[must_use]
    pub fn new(design: Design) -> Self {
        Self { design: Arc::new(design), saved: None, revision: 0, undo: Vec::new(), redo: Vec::new(), file: None }
    }

    /// The document of a file whose text was read as this Design.
    #[must_use]
    pub fn of_file(design: Design, path: PathBuf, text: &str) -> Self {
        let stamp = Stamp::of(&path, text);
        let mut document = Self::new(design);
        document.saved = Some(document.design.clone());
        document.file = Some(FileState { path, stamp, author: text.to_owned(), written: text.to_owned(), gone: false });
        document
    }

    /// The Design as it is now.
    #[must_use]
    pub const fn design(&self) -> &Arc<Design> {
        &self.design
    }

    /// A number that grows with every change of the Design.
    #[must_use]
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// Its file, if it has one.
    #[must_use]
    pub const fn file(&self) -> Option<&FileState> {
        self.file.as_ref()
    }

    /// The path of its file, if it has one.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.file.as_ref().map(|file| file.path.as_path())
    }

    /// Whether there are edits that the file does not have.
    #[must_use]
    pub fn is_dirty(&self) -> bool {
        match &self.saved {
            Some(saved) => !Arc::ptr_eq(saved, &self.design) && **saved != *self.design,
            None => !self.undo.is_empty(),
        }
    }

    /// Makes an edit. An edit that changes nothing leaves no trace.
    ///
    /// # Errors
    /// The edit cannot be made; nothing is changed.
    pub fn apply(&mut self, command: &Command) -> Result<(), Refusal> {
        self.apply_at(command, Instant::now())
    }

    fn apply_at(&mut self, command: &Command, now: Instant) -> Result<(), Refusal> {
        let after = command.apply(&self.design)?;
        if after == *self.design {
            return Ok(());
        }
        let gesture = command.gesture().map(|gesture| (gesture, now));
        let goes_on = match (self.undo.last_mut().and_then(|last| last.gesture.as_mut()), &gesture) {
            (Some((last, at)), Some((this, _))) if last == this && now.duration_since(*at) < GESTURE => {
                *at = now;
                true
            }
            _ => false,
        };
        if !goes_on {
            self.undo.push(Step { name: command.name(), design: self.design.clone(), gesture });
        }
        self.redo.clear();
        self.become_(Arc::new(after));
        Ok(())
    }

    /// Ends a gesture: the next edit of the same kind counts for itself.
    pub fn end_gesture(&mut self) {
        if let Some(last) = self.undo.last_mut() {
            last.gesture = None;
        }
    }

    fn become_(&mut self, design: Arc<Design>) {
        self.design = design;
        self.revision += 1;
    }

    /// Takes the last edit back. Does nothing when there is none.
    pub fn undo(&mut self) {
        if let Some(step) = self.undo.pop() {
            self.redo.push(Step { name: step.name, design: self.design.clone(), gesture: None });
            self.become_(step.design);
        }
    }

    /// Makes the edit that was taken back last again. Does nothing when there is none.
    pub fn redo(&mut self) {
        if let Some(step) = self.redo.pop() {
            self.undo.push(Step { name: step.name, design: self.design.clone(), gesture: None });
            self.become_(step.design);
        }
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_name(&self) -> Option<&Name> {
        self.undo.last().map(|step| &step.name)
    }

    /// What redo would make again.
    #[must_use]
    pub fn redo_name(&self) -> Option<&Name> {
        self.redo.last().map(|step| &step.name)
    }

    /// The text of the author and what is to be written in its place, if the file holds the text `on_disk` now. What
    /// somebody else wrote there meanwhile is an author's text.
    ///
    /// # Errors
    /// As [`Design::to_ron_over`].
    pub fn text_to_save(&self, on_disk: Option<String>) -> Result<(String, String), Fault> {
        let author = match (&self.file, on_disk) {
            (Some(file), Some(on_disk)) if file.written != on_disk && Design::read(&on_disk).is_ok() => Some(on_disk),
            (Some(file), _) => Some(file.author.clone()),
            (None, _) => None,
        };
        match author {
            Some(author) => {
                let written = self.design.to_ron_over(&author)?;
                Ok((author, written))
            }
            None => self.design.to_ron().map(|written| (written.clone(), written)),
        }
    }

    /// Whether this text of its file is neither what was read or written last nor a design at all.
    #[must_use]
    pub fn is_damaged(&self, on_disk: &str) -> bool {
        let is_known = self.file.as_ref().is_some_and(|file| file.written == on_disk || file.author == on_disk);
        !is_known && Design::read(on_disk).is_err()
    }

    /// Notes that the Design was written to a file, as [`Self::text_to_save`] says.
    pub fn was_saved(&mut self, path: PathBuf, author: String, written: String) {
        let stamp = Stamp::of(&path, &written);
        self.file = Some(FileState { path, stamp, author, written, gone: false });
        self.saved = Some(self.design.clone());
        self.end_gesture();
    }

    /// Looks whether the file was changed by someone else.
    pub fn look_at_file(&mut self) -> Option<Seen> {
        let file = self.file.as_mut()?;
        let seen = file.stamp.look(&file.path);
        file.gone = seen == Seen::Gone;
        Some(seen)
    }

    /// Takes over what the file now holds, as an edit that can be undone.
    pub fn take_over(&mut self, design: Design, name: Name) {
        let design = Arc::new(design);
        if *design != *self.design {
            self.undo.push(Step { name, design: self.design.clone(), gesture: None });
            self.redo.clear();
            self.become_(design.clone());
        }
        self.saved = Some(design);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use casewright_core::expr::Dim;

    fn drag(size: &str) -> Command {
        Command::DragDivider { bay: "left".into(), width: true, sizes: vec![("left".into(), Dim::new(size))] }
    }

    #[test]
    fn undo_and_redo_go_the_same_way_back_and_forth() {
        let mut document = Document::new(sample::design());
        let start = document.design().clone();
        assert!(!document.is_dirty() && document.undo_name().is_none());
        document.apply(&Command::Wrap("left".into())).unwrap();
        document.apply(&Command::Duplicate("left".into())).unwrap();
        let end = document.design().clone();
        assert_eq!(document.undo_name(), Some(&Name::about("edit-duplicate", "left")));
        document.undo();
        document.undo();
        document.undo();
        assert_eq!(*document.design(), start);
        assert_eq!(document.redo_name(), Some(&Name::about("edit-wrap", "left")));
        document.redo();
        document.redo();
        document.redo();
        assert_eq!(*document.design(), end);
    }

    #[test]
    fn a_drag_is_one_edit_and_ends_with_its_gesture() {
        let mut document = Document::new(sample::design());
        let start = document.design().clone();
        let now = Instant::now();
        for (ms, size) in [(0, "300"), (500, "310"), (1000, "320")] {
            document.apply_at(&drag(size), now + Duration::from_millis(ms)).unwrap();
        }
        document.end_gesture();
        document.apply_at(&drag("330"), now + Duration::from_millis(1100)).unwrap();
        document.undo();
        document.undo();
        assert_eq!(*document.design(), start);
    }

    #[test]
    fn a_refused_or_empty_edit_leaves_no_trace() {
        let mut document = Document::new(sample::design());
        assert!(document.apply(&Command::Wrap("nowhere".into())).is_err());
        document.apply(&Command::RenameBay { from: "left".into(), to: "left".into() }).unwrap();
        assert!(document.undo_name().is_none() && document.revision() == 0);
    }

    #[test]
    fn saved_is_clean_and_undone_past_saving_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        std::fs::write(&path, "text").unwrap();
        let mut document = Document::new(sample::design());
        document.apply(&Command::Wrap("left".into())).unwrap();
        assert!(document.is_dirty());
        document.was_saved(path, "text".to_owned(), "text".to_owned());
        assert!(!document.is_dirty());
        document.undo();
        assert!(document.is_dirty());
        document.redo();
        assert!(!document.is_dirty());
    }
}
