//! The journal: after each edit the whole design is written aside, so that a crash loses at most the last edit. It goes
//! away when the design is saved or its edits are given up.

use std::fs;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::{FileError, read, write_quickly};

/// What the journal of one design holds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// The design file that was being edited; none for a design that was never saved.
    pub file: Option<PathBuf>,
    /// The design as it was after the last edit, as the text of a design file.
    pub text: String,
}

/// Where journals are kept.
#[derive(Clone, Debug)]
pub struct Journal {
    folder: PathBuf,
}

impl Journal {
    /// The journals in a folder, which need not exist yet.
    #[must_use]
    pub const fn in_folder(folder: PathBuf) -> Self {
        Self { folder }
    }

    /// The place of the journal of a file.
    fn place(&self, file: Option<&Path>) -> PathBuf {
        let Some(file) = file else { return self.folder.join("unsaved.json") };
        let whole = fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
        let stem = whole.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let mut hasher = DefaultHasher::new();
        whole.hash(&mut hasher);
        self.folder.join(format!("{stem}-{:016x}.json", hasher.finish()))
    }

    /// Writes the journal of a file anew.
    ///
    /// # Errors
    /// The folder cannot be made or written to.
    pub fn write(&self, entry: &Entry) -> Result<(), FileError> {
        fs::create_dir_all(&self.folder).map_err(FileError::at(&self.folder))?;
        let place = self.place(entry.file.as_deref());
        let text = serde_json::to_string(entry).map_err(std::io::Error::other).map_err(FileError::at(&place))?;
        write_quickly(&place, &text)
    }

    /// What was left over from an earlier run; nothing if the design was saved or given up, or the journal is damaged.
    #[must_use]
    pub fn left_over(&self, file: Option<&Path>) -> Option<Entry> {
        let text = read(&self.place(file)).ok()?;
        serde_json::from_str(&text).ok()
    }

    /// Takes the journal of a file away.
    pub fn clear(&self, file: Option<&Path>) {
        let _not_there = fs::remove_file(self.place(file));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_left_over_until_cleared() {
        let folder = tempfile::tempdir().unwrap();
        let journal = Journal::in_folder(folder.path().join("journal"));
        let file = folder.path().join("a.ron");
        assert_eq!(journal.left_over(Some(&file)), None);
        for text in ["one", "two"] {
            let entry = Entry { file: Some(file.clone()), text: text.to_owned() };
            journal.write(&entry).unwrap();
            assert_eq!(journal.left_over(Some(&file)), Some(entry));
        }
        assert_eq!(journal.left_over(None), None);
        assert_eq!(journal.left_over(Some(&folder.path().join("b.ron"))), None);
        journal.clear(Some(&file));
        assert_eq!(journal.left_over(Some(&file)), None);
    }
}
