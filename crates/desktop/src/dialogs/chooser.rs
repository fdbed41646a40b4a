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
    /// A folder, for all that belongs to the pack.
    Folder,
}

impl Purpose {
    /// The ending of its files; a folder has none.
    const fn ending(self) -> Option<&'static str> {
        match self {
            Self::Open | Self::Save => Some("ron"),
            Self::Pdf => Some("pdf"),
            Self::Folder => None,
        }
    }

    /// The keys of its words.
    const fn keys(self) -> Keys {
        let (title, verb, name, empty) = match self {
            Self::Open => ("chooser-open", "chooser-open-do", "chooser-name", "chooser-empty"),
            Self::Save => ("chooser-save", "chooser-save-do", "chooser-name", "chooser-empty"),
            Self::Pdf => ("chooser-pdf", "chooser-write-do", "chooser-name", "chooser-empty-pdf"),
            Self::Folder => ("chooser-folder", "chooser-write-do", "chooser-folder-name", "chooser-empty-folder"),
        };
        Keys { title, verb, name, empty }
    }

    /// The name that is proposed where the design is called `stem`.
    fn proposed(self, stem: &str) -> String {
        match self {
            Self::Open => String::new(),
            Self::Folder => format!("{stem}-pack"),
            Self::Save | Self::Pdf => format!("{stem}.{}", self.ending().unwrap_or_default()),
        }
    }
}

/// The keys of the words of a choice.
struct Keys {
    title: &'static str,
    verb: &'static str,
    name: &'static str,
    empty: &'static str,
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
    /// A choice that begins in the folder of a file, with a name made from what the design is called.
    #[must_use]
    pub fn new(purpose: Purpose, near: Option<&Path>, stem: &str) -> Self {
        let near = near.map(|near| std::path::absolute(near).unwrap_or_else(|_| near.to_owned()));
        let folder = near.as_deref().and_then(Path::parent).map(Path::to_owned);
        let folder = folder.or_else(|| std::env::current_dir().ok()).unwrap_or_else(|| PathBuf::from("."));
        let name = purpose.proposed(stem);
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
        if let Some(ending) = self.purpose.ending().filter(|_| self.purpose != Purpose::Open)
            && path.extension().is_none()
        {
            path.set_extension(ending);
        }
        path
    }

    /// Shows the choice; gives what came of it once it is over.
    pub fn show(&mut self, ui: &Ui, words: &Words) -> Option<Chosen> {
        let mut chosen = None;
        let modal = Modal::new(egui::Id::unique("chooser")).show(ui.ctx(), |ui| {
            ui.set_width(560.0);
            let keys = self.purpose.keys();
            ui.label(RichText::new(words.say(keys.title)).heading());
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
                ui.label(words.say(keys.name));
                let edit = TextEdit::singleline(&mut self.name).desired_width(ui.available_width() - 8.0);
                let response = ui.add(edit).accessible_name(words.say(keys.name));
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
                if ui.button(words.say(keys.verb)).clicked() {
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
        let folder = self.folder.join(self.name.trim());
        // A folder is meant itself; without a name it is the one that is shown.
        if self.purpose == Purpose::Folder {
            return Some(Chosen::File(if self.name.trim().is_empty() { self.folder.clone() } else { folder }));
        }
        if self.name.trim().is_empty() {
            return None;
        }
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
                ui.label(words.say(self.purpose.keys().empty));
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
fn entries(folder: &Path, ending: Option<&str>) -> std::io::Result<Vec<Entry>> {
    let mut entries = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let Ok(entry) = entry else { continue };
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_file = !entry.path().is_dir();
        let is_fitting = Path::new(&name).extension().is_some_and(|it| ending.is_some_and(|ending| it == ending));
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
        let names: Vec<String> =
            entries(folder.path(), Some("ron")).unwrap().into_iter().map(|entry| entry.name).collect();
        assert_eq!(names, ["z", "a.ron", "b.ron"]);
        let mut chooser = Chooser::new(Purpose::Save, Some(&folder.path().join("a.ron")), "a");
        assert_eq!(chooser.name, "a.ron");
        chooser.name = "new one".into();
        assert_eq!(chooser.take(), Some(Chosen::File(folder.path().join("new one.ron"))));
        chooser.name = "z".into();
        assert_eq!(chooser.take(), None);
        assert_eq!(chooser.folder, folder.path().join("z"));
        let mut chooser = Chooser::new(Purpose::Folder, Some(&folder.path().join("a.ron")), "a");
        let names: Vec<&str> = chooser.entries.iter().map(|entry| entry.name.as_str()).collect();
        assert_eq!((names.as_slice(), chooser.name.as_str()), (["z"].as_slice(), "a-pack"));
        for (name, expected) in [("a-pack", folder.path().join("a-pack")), (" ", folder.path().to_owned())] {
            chooser.name = name.into();
            assert_eq!(chooser.take(), Some(Chosen::File(expected)));
        }
    }
}
