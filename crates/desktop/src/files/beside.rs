//! A file that is complete under another name beside its place, ready to be moved there. Whatever happens in between, the
//! old or the new bytes are at the place; what a killed program left beside it is swept up by a later write.

use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::NamedTempFile;

/// How the names of unfinished files begin and end.
const PREFIX: &str = ".casewright-";
const SUFFIX: &str = ".part";
/// No write takes so long: an unfinished file older than this is nobody's.
const NOBODYS: Duration = Duration::from_secs(60 * 60);

/// A complete file beside its place.
#[derive(Debug)]
pub struct Beside {
    file: NamedTempFile,
    place: PathBuf,
    through: bool,
}

impl Beside {
    /// Writes all bytes beside `place`, `through` to the disk or only as far as the system's memory, which is safe from a
    /// crash of the program, not of the machine. The file gets the permissions of the one at the place, else those of any
    /// new file.
    ///
    /// # Errors
    /// The folder cannot be written to, or the disk is full.
    pub fn write(place: &Path, bytes: &[u8], through: bool) -> io::Result<Self> {
        let folder = folder_of(place);
        let mut file = builder().tempfile_in(folder)?;
        file.write_all(bytes)?;
        if let Some(existing) = fs::symlink_metadata(place).ok().filter(fs::Metadata::is_file) {
            file.as_file().set_permissions(existing.permissions())?;
        }
        if through {
            file.as_file().sync_all()?;
            sweep(folder, file.as_file());
        }
        Ok(Self { file, place: place.to_owned(), through })
    }

    /// Moves the file to its place, over what is there.
    ///
    /// # Errors
    /// The system refuses; what was there still is.
    pub fn move_over(self) -> io::Result<()> {
        self.file.persist(&self.place).map_err(|error| error.error)?;
        if self.through {
            sync_folder(folder_of(&self.place));
        }
        Ok(())
    }

    /// Moves several files of one folder to their places.
    ///
    /// # Errors
    /// The place that the system refused, and why; the files before it are at their places, those after it are not.
    pub fn move_all(files: Vec<Self>) -> Result<(), (PathBuf, io::Error)> {
        let mut last = None;
        for mut file in files {
            let place = file.place.clone();
            let through = std::mem::take(&mut file.through);
            file.move_over().map_err(|error| (place.clone(), error))?;
            last = through.then_some(place).or(last);
        }
        if let Some(place) = last {
            sync_folder(folder_of(&place));
        }
        Ok(())
    }

    /// Moves the file to its place if nothing is there.
    ///
    /// # Errors
    /// Something is there, or the system refuses.
    pub fn move_if_free(self) -> io::Result<()> {
        self.file.persist_noclobber(&self.place).map_err(|error| error.error)?;
        if self.through {
            sync_folder(folder_of(&self.place));
        }
        Ok(())
    }
}

/// The folder that a file stands in; `.` for a bare name.
fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// How the unfinished files are made: with the rights of any new file, not with those of a secret one.
fn builder() -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PREFIX).suffix(SUFFIX);
    #[cfg(unix)]
    // Narrowed by the user's mask when the file is made.
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder
}

/// Brings the entries of a folder to the disk, where the system can: a move is safe only then. Some file systems cannot,
/// and Windows opens no folders; that is no reason to report a failed save.
fn sync_folder(folder: &Path) {
    if let Ok(opened) = fs::File::open(folder) {
        let _unsupported = opened.sync_all();
    }
}

/// Removes what killed programs left in a folder. Ages are told by a file just written there, so that the clock of a
/// network drive and ours need not agree. What cannot be read or removed stays.
fn sweep(folder: &Path, just_written: &fs::File) {
    let Ok(now) = just_written.metadata().and_then(|it| it.modified()) else { return };
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let Some(name) = name.to_str().filter(|it| it.starts_with(PREFIX) && it.ends_with(SUFFIX)) else { continue };
        let old = entry.metadata().is_ok_and(|it| {
            it.is_file() && it.modified().is_ok_and(|then| now.duration_since(then).is_ok_and(|age| age > NOBODYS))
        });
        if old {
            let _kept = fs::remove_file(folder.join(name));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_killed_program_left_is_swept_up_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let old = std::time::SystemTime::now() - 2 * NOBODYS;
        for (name, aged) in [
            (".casewright-left.part", true),
            (".casewright-fresh.part", false),
            (".casewright-notes.txt", true),
            ("mine.part", true),
        ] {
            let file = fs::File::create(at(name)).unwrap();
            if aged {
                file.set_modified(old).unwrap();
            }
        }
        Beside::write(&at("a.ron"), b"text", true).unwrap().move_over().unwrap();
        let mut left: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|it| it.unwrap().file_name()).collect();
        left.sort();
        assert_eq!(left, [".casewright-fresh.part", ".casewright-notes.txt", "a.ron", "mine.part"]);
    }

    #[test]
    fn nothing_is_moved_over_what_is_there() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("a.ron");
        fs::write(&place, "old").unwrap();
        let error = Beside::write(&place, b"new", true).unwrap().move_if_free().unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read(&place).unwrap(), b"old");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing stays beside it");
    }
}
