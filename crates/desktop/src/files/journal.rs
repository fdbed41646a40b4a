//! The journal: after each edit the whole design is written aside, so that a crash loses at most the last edit. It goes
//! away when the design is saved or its edits are given up.
//!
//! Windows on the same file have a seat each, held by a lock that the system lets go when the program ends, however it
//! ends. So none of them writes over what another one keeps, and each knows whether there are others.

use std::fs::{self, File, TryLockError};
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

/// The most windows on one file that are told apart.
const SEATS: usize = 8;

/// Where journals are kept.
#[derive(Debug)]
pub struct Journal {
    folder: PathBuf,
    seat: Option<Seat>,
}

/// The place of one window among those on the same file.
#[derive(Debug)]
struct Seat {
    file: Option<PathBuf>,
    number: usize,
    /// Open, and so locked, as long as this window is there.
    _held: File,
    /// The file that is locked.
    hold: PathBuf,
}

impl Drop for Seat {
    fn drop(&mut self) {
        // While it is still locked: nobody can have taken the seat yet. What a crash leaves is free, and taken again.
        let _left_behind = fs::remove_file(&self.hold);
    }
}

impl Journal {
    /// The journals in a folder, which need not exist yet.
    #[must_use]
    pub const fn in_folder(folder: PathBuf) -> Self {
        Self { folder, seat: None }
    }

    /// Takes a seat at a file and leaves the one before: the first that is free and has something left over, else the
    /// first that is free. Says whether other windows sit there. Where the system has no locks, nobody is seen.
    pub fn sit(&mut self, file: Option<&Path>) -> bool {
        self.seat = None;
        let _told_when_written_to = fs::create_dir_all(&self.folder);
        let (mut free, mut others): (Option<Seat>, bool) = (None, false);
        let mut has_left_over = false;
        for number in 0..SEATS {
            let place = self.place_of(file, number);
            let hold = place.with_extension("hold");
            if free.is_some() && !hold.exists() && !place.exists() {
                continue;
            }
            let Ok(held) = File::options().create(true).append(true).open(&hold) else { continue };
            let locked = held.try_lock();
            // Somebody who left meanwhile has taken this file away, and the next one would lock another.
            if locked.is_ok() && !is_at(&held, &hold) {
                continue;
            }
            match locked {
                Ok(()) if free.is_none() || (place.exists() && !has_left_over) => {
                    has_left_over = place.exists();
                    free = Some(Seat { file: file.map(Path::to_owned), number, _held: held, hold });
                }
                // What a crash left, and nobody needs.
                Ok(()) if !place.exists() => {
                    let _left_behind = fs::remove_file(&hold);
                }
                Err(TryLockError::WouldBlock) => others = true,
                Ok(()) | Err(TryLockError::Error(_)) => {}
            }
        }
        self.seat = free;
        others
    }

    /// Leaves the seat, when the window is closed.
    pub fn leave(&mut self) {
        self.seat = None;
    }

    /// The place of the journal of a file, for this window.
    fn place(&self, file: Option<&Path>) -> PathBuf {
        let seat = self.seat.as_ref().filter(|seat| seat.file.as_deref() == file);
        self.place_of(file, seat.map_or(0, |seat| seat.number))
    }

    /// The place of the journal of a file, for the window on a seat.
    fn place_of(&self, file: Option<&Path>, seat: usize) -> PathBuf {
        let seat = if seat == 0 { String::new() } else { format!("-{seat}") };
        let Some(file) = file else { return self.folder.join(format!("unsaved{seat}.json")) };
        let whole = fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
        let stem = whole.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let mut hasher = DefaultHasher::new();
        whole.hash(&mut hasher);
        self.folder.join(format!("{stem}-{:016x}{seat}.json", hasher.finish()))
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

/// Whether an open file is the one that is at a place.
#[cfg(unix)]
fn is_at(held: &File, place: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let both = held.metadata().and_then(|held| Ok((held, fs::metadata(place)?)));
    both.is_ok_and(|(held, there)| (held.dev(), held.ino()) == (there.dev(), there.ino()))
}

/// Whether an open file is the one that is at a place. Here the system keeps the name of a file that is open.
#[cfg(not(unix))]
fn is_at(_held: &File, place: &Path) -> bool {
    place.exists()
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

    #[test]
    fn windows_on_one_file_write_over_nothing_of_each_other() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.ron");
        let window = || Journal::in_folder(folder.path().join("journal"));
        let entry = |text: &str| Entry { file: Some(file.clone()), text: text.to_owned() };
        let (mut first, mut second) = (window(), window());
        assert!(!first.sit(Some(&file)));
        assert!(second.sit(Some(&file)));
        assert!(!second.sit(None), "a design that was never saved is another one");
        assert!(second.sit(Some(&file)));
        first.write(&entry("one")).unwrap();
        second.write(&entry("two")).unwrap();
        assert_eq!(first.left_over(Some(&file)), Some(entry("one")));
        first.clear(Some(&file));
        // Both end, the second in a crash: whoever comes next finds what it left.
        drop((first, second));
        let mut next = window();
        assert!(!next.sit(Some(&file)));
        assert_eq!(next.left_over(Some(&file)), Some(entry("two")));
        next.clear(Some(&file));
        assert!(!next.sit(Some(&file)));
        assert_eq!(next.left_over(Some(&file)), None);
    }
    #[test]
    fn whoever_leaves_leaves_nothing_and_what_a_crash_left_is_in_nobodys_way() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.ron");
        let place = folder.path().join("journal");
        let holds = || {
            let names = fs::read_dir(&place).unwrap().map(|it| it.unwrap().file_name().into_string().unwrap());
            names.filter(|it| it.ends_with(".hold")).count()
        };
        let (mut first, mut second) = (Journal::in_folder(place.clone()), Journal::in_folder(place.clone()));
        assert!(!first.sit(Some(&file)) && second.sit(Some(&file)));
        assert_eq!(holds(), 2);
        first.leave();
        assert_eq!(holds(), 1);
        // The free seat is taken again, beside the one that is still held.
        assert!(first.sit(Some(&file)));
        drop((first, second));
        assert_eq!(holds(), 0);
        // A crash: the file is there, locked by nobody.
        let mut lost = Journal::in_folder(place.clone());
        lost.sit(Some(&file));
        let hold = lost.seat.as_ref().unwrap().hold.clone();
        drop(lost);
        fs::write(&hold, "").unwrap();
        let mut next = Journal::in_folder(place.clone());
        assert!(!next.sit(Some(&file)));
        drop(next);
        assert_eq!(holds(), 0);
    }
}
