//! Several files in one folder: all of them complete on the disk before any takes its place.

use std::fs;
use std::io;
use std::path::{Component, Path, PathBuf};

use super::beside::Beside;

/// A file or a folder that cannot be written, and why.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}: {words}", .place.display())]
pub struct Unwritten {
    /// Where it was to be.
    pub place: PathBuf,
    /// What keeps it from being written and what would mend that, such as `cannot be written: the disk is full; make
    /// room, then try again`.
    pub words: String,
}

impl Unwritten {
    fn new(place: &Path, words: impl Into<String>) -> Self {
        Self { place: place.to_owned(), words: words.into() }
    }

    fn because(place: &Path, doing: &str, error: &io::Error) -> Self {
        Self::new(place, in_words(doing, error))
    }
}

/// What the system says when a file cannot be used, with what would mend it; `doing` such as `cannot be read`.
#[must_use]
pub fn in_words(doing: &str, error: &io::Error) -> String {
    let (cause, mend) = match error.kind() {
        io::ErrorKind::NotFound => ("there is no such file or folder", "check the name"),
        io::ErrorKind::PermissionDenied => ("permission is denied", "change its rights or choose another place"),
        io::ErrorKind::AlreadyExists => ("it exists already", "choose another name, or remove it first"),
        io::ErrorKind::IsADirectory => ("it is a folder", "name a file"),
        io::ErrorKind::NotADirectory => ("a part of its path is no folder", "choose another place"),
        io::ErrorKind::StorageFull => ("the disk is full", "make room, then try again"),
        io::ErrorKind::ReadOnlyFilesystem => ("the disk is read-only", "choose another place"),
        _ => return format!("{doing}: {error}; mend that, then try again"),
    };
    format!("{doing}: {cause}; {mend}")
}

/// Writes a file beside its place, through to the disk.
///
/// # Errors
/// A folder or a device is at the place, or the system refuses.
pub fn beside(target: &Path, bytes: &[u8]) -> Result<Beside, Unwritten> {
    match fs::symlink_metadata(target) {
        Ok(found) if found.is_dir() => return Err(unwritten(target, &io::ErrorKind::IsADirectory.into())),
        Ok(found) if !found.is_file() && !found.is_symlink() => {
            return Err(Unwritten::new(target, "cannot be replaced: it is a device; name a file"));
        }
        _ => {}
    }
    Beside::write(target, bytes, true).map_err(|error| unwritten(target, &error))
}

/// What is said where a file cannot be written.
#[must_use]
pub fn unwritten(target: &Path, error: &io::Error) -> Unwritten {
    Unwritten::because(target, "cannot be written", error)
}

/// Writes or replaces one file as a whole; a link is followed.
///
/// # Errors
/// The file cannot be written; what was there before is then still there.
pub fn write_file(target: &Path, bytes: &[u8]) -> Result<(), Unwritten> {
    let target = fs::canonicalize(target).unwrap_or_else(|_| target.to_owned());
    beside(&target, bytes)?.move_over().map_err(|error| unwritten(&target, &error))
}

/// Writes several files, each with its name, into a folder, which is made if need be. No file is replaced before all are
/// complete on the disk.
///
/// # Errors
/// A name that would leave the folder, or a file that cannot be written. A folder that was made for nothing goes again.
pub fn write_into_folder(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Unwritten> {
    for (name, _) in files {
        let mut parts = Path::new(name).components();
        if !matches!((parts.next(), parts.next()), (Some(Component::Normal(_)), None)) {
            let words = format!("internal error: {name:?} is no plain file name; please report this");
            return Err(Unwritten::new(folder, words));
        }
    }
    let is_new = !folder.exists();
    fs::create_dir_all(folder).map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => Unwritten::new(folder, "cannot be written into: it is a file; name a folder"),
        _ => Unwritten::because(folder, "cannot be made", &error),
    })?;
    let ready: Result<Vec<Beside>, Unwritten> =
        files.iter().map(|(name, bytes)| beside(&folder.join(name), bytes)).collect();
    let moved = ready.and_then(|ready| Beside::move_all(ready).map_err(|(target, error)| unwritten(&target, &error)));
    if moved.is_err() && is_new {
        // The system keeps a folder that has something in it.
        let _kept = fs::remove_dir(folder);
    }
    moved
}

/// Sheets of an older pack of this stem that had more of them than `sheets`: nobody should build from these by mistake.
#[must_use]
pub fn older_sheets(folder: &Path, stem: &str, sheets: usize) -> Vec<PathBuf> {
    let number = |path: &Path| casewright_pack::sheet_number(path.file_name()?.to_str()?, stem);
    let mut found: Vec<(usize, PathBuf)> = fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter_map(|path| Some((number(&path).filter(|number| *number > sheets)?, path)))
        .collect();
    found.sort();
    found.into_iter().map(|(_, path)| path).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_leaves_the_folder() {
        let folder = tempfile::tempdir().unwrap();
        let inner = folder.path().join("inner");
        for name in ["../out.txt", "/out.txt", "a/b.txt", "..", ""] {
            let files = [("good.txt".to_owned(), vec![1]), (name.to_owned(), vec![2])];
            let message = write_into_folder(&inner, &files).unwrap_err().to_string();
            assert!(message.contains("is no plain file name"), "{message}");
        }
        assert!(!inner.exists(), "nothing was begun");
    }

    #[test]
    fn nothing_half_written_stays() {
        let folder = tempfile::tempdir().unwrap();
        let blocked = folder.path().join("b.txt");
        fs::create_dir(&blocked).unwrap();
        fs::write(folder.path().join("a.txt"), "old").unwrap();
        let files = [("a.txt".to_owned(), b"new".to_vec()), ("b.txt".to_owned(), b"new".to_vec())];
        let message = write_into_folder(folder.path(), &files).unwrap_err().to_string();
        assert!(message.contains("b.txt: cannot be written: it is a folder; name a file"), "{message}");
        assert_eq!(fs::read_to_string(folder.path().join("a.txt")).unwrap(), "old");
        let left: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
        assert_eq!(left.len(), 2, "{left:?}");
    }

    #[test]
    fn a_folder_that_was_made_for_nothing_goes_again() {
        let folder = tempfile::tempdir().unwrap();
        let made = folder.path().join("pack");
        // Longer than any file system takes.
        let files = [("b".repeat(400), b"new".to_vec())];
        assert!(write_into_folder(&made, &files).is_err());
        assert!(!made.exists());
    }

    #[test]
    fn sheets_of_an_older_pack_are_found_by_their_numbers() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["a-02.svg", "a-12.svg", "a-03.svg", "b-09.svg", "a-worktop.svg", "a-parts.csv"] {
            fs::write(folder.path().join(name), "").unwrap();
        }
        let found = older_sheets(folder.path(), "a", 2);
        assert_eq!(found, ["a-03.svg", "a-12.svg"].map(|name| folder.path().join(name)));
    }
}
