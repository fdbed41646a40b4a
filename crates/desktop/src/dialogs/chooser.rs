//! The choice of a file, in the window itself, so that it works the same everywhere and from the keyboard.

use std::path::{Path, PathBuf};

use egui::{Modal, RichText, ScrollArea, TextEdit, Ui};

use crate::words::Words;

/// What the file is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// To be opened.
    Open,
    /// To be written.
    Save,
    /// To be written as the pack of sheets.
    Pdf,
}

impl Purpose {
    /// The ending of its files.
    const fn ending(self) -> &'static str {
        match self {
            Self::Open | Self::Save => "ron",
            Self::Pdf => "pdf",
        }
    }
}

/// An entry of the folder that is shown.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// Files come after folders.
    pub is_file: bool,
    /// Its name.
    pub name: String,
}

/// A choice in progress.
#[derive(Clone, Debug)]
pub struct Chooser {
    /// What the file is for.
    pub purpose: Purpose,
    folder: PathBuf,
    entries: Vec<Entry>,
    name: String,
    trouble: Option<String>,
    is_new: bool,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// This file.
    File(PathBuf),
    /// None.
    Nothing,
}

impl Chooser {
    /// A choice that begins in the folder of a file, with its name.
    #[must_use]
    pub fn new(purpose: Purpose, near: Option<&Path>) -> Self {
        let near = near.map(|near| std::path::absolute(near).unwrap_or_else(|_| near.to_owned()));
        let folder = near.as_deref().and_then(Path::parent).map(Path::to_owned);
        let folder = folder.or_else(|| std::env::current_dir().ok()).unwrap_or_else(|| PathBuf::from("."));
        let name = near.as_deref().and_then(Path::file_name).map(|name| name.to_string_lossy().into_owned());
        let name = name.filter(|_| purpose != Purpose::Open).unwrap_or_default();
        let name = match Path::new(&name).file_stem() {
            Some(stem) if purpose == Purpose::Pdf => format!("{}.pdf", stem.to_string_lossy()),
            _ => name,
        };
        let mut chooser =
            Self { purpose, folder: PathBuf::new(), entries: Vec::new(), name, trouble: None, is_new: true };
        chooser.go_to(folder);
        chooser
    }

    fn go_to(&mut self, folder: PathBuf) {
        match entries(&folder, self.purpose.ending()) {
            Ok(entries) => {
                self.entries = entries;
                self.folder = folder;
                self.trouble = None;
            }
            Err(error) => self.trouble = Some(format!("{}: {error}", folder.display())),
        }
    }

    /// The file that a written name means: relative to the folder shown; a name without an ending gets the usual
    /// one when writing.
    fn meant(&self, name: &str) -> PathBuf {
        let mut path = self.folder.join(name.trim());
        if self.purpose != Purpose::Open && path.extension().is_none() {
            path.set_extension(self.purpose.ending());
        }
        path
    }

    /// Shows the choice; gives what came of it once it is over.
    pub fn show(&mut self, ui: &Ui, words: &Words) -> Option<Chosen> {
        let mut chosen = None;
        let modal = Modal::new(egui::Id::unique("chooser")).show(ui.ctx(), |ui| {
            ui.set_width(560.0);
            let (title, verb) = match self.purpose {
                Purpose::Open => ("chooser-open", "chooser-open-do"),
                Purpose::Save => ("chooser-save", "chooser-save-do"),
                Purpose::Pdf => ("chooser-pdf", "chooser-save-do"),
            };
            ui.label(RichText::new(words.say(title)).heading());
            ui.horizontal(|ui| {
                if ui.button(words.say("chooser-up")).clicked()
                    && let Some(parent) = self.folder.parent()
                {
                    self.go_to(parent.to_owned());
                }
                ui.add(egui::Label::new(self.folder.display().to_string()).truncate());
            });
            chosen = self.list(ui, words);
            ui.horizontal(|ui| {
                ui.label(words.say("chooser-name"));
                let edit = TextEdit::singleline(&mut self.name).desired_width(ui.available_width() - 8.0);
                let response = ui.add(edit).accessible_name(words.say("chooser-name"));
                if std::mem::take(&mut self.is_new) {
                    response.request_focus();
                }
                if response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter)) {
                    chosen = self.take();
                }
            });
            if let Some(trouble) = &self.trouble {
                ui.label(format!("✖ {trouble}"));
            }
            ui.horizontal(|ui| {
                if ui.button(words.say(verb)).clicked() {
                    chosen = self.take();
                }
                if ui.button(words.say("ask-cancel")).clicked() {
                    chosen = Some(Chosen::Nothing);
                }
            });
        });
        if chosen.is_none() && modal.should_close() {
            chosen = Some(Chosen::Nothing);
        }
        chosen
    }

    fn take(&mut self) -> Option<Chosen> {
        if self.name.trim().is_empty() {
            return None;
        }
        let folder = self.folder.join(self.name.trim());
        if folder.is_dir() {
            self.name.clear();
            self.go_to(folder);
            return None;
        }
        Some(Chosen::File(self.meant(&self.name)))
    }

    fn list(&mut self, ui: &mut Ui, words: &Words) -> Option<Chosen> {
        let mut chosen = None;
        let mut go_to = None;
        ScrollArea::vertical().max_height(320.0).min_scrolled_height(220.0).auto_shrink([false, true]).show(ui, |ui| {
            if self.entries.is_empty() {
                ui.label(words.say("chooser-empty"));
            }
            for entry in &self.entries {
                let label = if entry.is_file { entry.name.clone() } else { format!("{}/", entry.name) };
                let response = ui.selectable_label(entry.is_file && entry.name == self.name, label);
                if response.double_clicked() && entry.is_file {
                    chosen = Some(Chosen::File(self.folder.join(&entry.name)));
                } else if response.clicked() && entry.is_file {
                    self.name.clone_from(&entry.name);
                } else if response.clicked() {
                    go_to = Some(self.folder.join(&entry.name));
                }
            }
        });
        if let Some(folder) = go_to {
            self.go_to(folder);
        }
        chosen
    }
}

/// The folders in a folder, and the files with an ending, by name; what begins with a dot is left out.
fn entries(folder: &Path, ending: &str) -> std::io::Result<Vec<Entry>> {
    let mut entries = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let Ok(entry) = entry else { continue };
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_file = !entry.path().is_dir();
        let is_fitting = Path::new(&name).extension().is_some_and(|extension| extension == ending);
        if !name.starts_with('.') && (!is_file || is_fitting) {
            entries.push(Entry { is_file, name });
        }
    }
    entries.sort();
    Ok(entries)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folders_come_first_and_only_designs_are_shown() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["b.ron", "a.ron", "c.txt", ".hidden.ron"] {
            std::fs::write(folder.path().join(name), "").unwrap();
        }
        std::fs::create_dir(folder.path().join("z")).unwrap();
        let names: Vec<String> = entries(folder.path(), "ron").unwrap().into_iter().map(|entry| entry.name).collect();
        assert_eq!(names, ["z", "a.ron", "b.ron"]);
        let mut chooser = Chooser::new(Purpose::Save, Some(&folder.path().join("a.ron")));
        assert_eq!(chooser.name, "a.ron");
        chooser.name = "new one".into();
        assert_eq!(chooser.take(), Some(Chosen::File(folder.path().join("new one.ron"))));
        chooser.name = "z".into();
        assert_eq!(chooser.take(), None);
        assert_eq!(chooser.folder, folder.path().join("z"));
    }
}
