//! What tells whether a file is still the one that was read.

use std::fs;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::Path;
use std::time::SystemTime;

/// Time, length and a hash of the text of a file. Only ever compared within one run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    modified: Option<SystemTime>,
    length: u64,
    text: u64,
}

/// What a look at the file shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Seen {
    /// As it was.
    Same,
    /// Other text, which is this.
    Changed(String),
    /// No longer there, or unreadable.
    Gone,
}

impl Stamp {
    /// The stamp of a file whose text is at hand.
    #[must_use]
    pub fn of(path: &Path, text: &str) -> Self {
        let modified = fs::metadata(path).and_then(|metadata| metadata.modified()).ok();
        Self { modified, length: text.len() as u64, text: hash(text) }
    }

    /// Looks at the file again. The text is read only when time or length differ; a file that was written anew with the
    /// same text counts as the same.
    pub fn look(&mut self, path: &Path) -> Seen {
        let Ok(metadata) = fs::metadata(path) else { return Seen::Gone };
        if metadata.modified().ok() == self.modified && metadata.len() == self.length {
            return Seen::Same;
        }
        let Ok(text) = fs::read_to_string(path) else { return Seen::Gone };
        let now = Self { modified: metadata.modified().ok(), length: text.len() as u64, text: hash(&text) };
        let same = now.text == self.text && now.length == self.length;
        *self = now;
        if same { Seen::Same } else { Seen::Changed(text) }
    }
}

fn hash(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_other_text_counts_as_a_change() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        fs::write(&path, "one").unwrap();
        let mut stamp = Stamp::of(&path, "one");
        assert_eq!(stamp.look(&path), Seen::Same);
        fs::write(&path, "three").unwrap();
        assert_eq!(stamp.look(&path), Seen::Changed("three".to_owned()));
        assert_eq!(stamp.look(&path), Seen::Same);
        fs::remove_file(&path).unwrap();
        assert_eq!(stamp.look(&path), Seen::Gone);
    }
}
