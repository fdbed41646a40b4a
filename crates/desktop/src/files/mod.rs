//! Files: whole or not at all. A design file is written beside its place and moved over it, so that whatever happens, the
//! old or the new text is there.

pub mod beside;
pub mod folder;
pub mod journal;
pub mod settings;
pub mod stamp;

use std::fs;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

use beside::Beside;
use casewright_core::design::read::MAX_BYTES;

/// Why a file could not be read or written.
#[derive(Debug, thiserror::Error)]
#[error("{path}: {cause}")]
pub struct FileError {
    /// The file.
    pub path: String,
    /// What the system says.
    #[source]
    pub cause: io::Error,
}

impl FileError {
    fn at(path: &Path) -> impl Fn(io::Error) -> Self + '_ {
        move |cause| Self { path: path.display().to_string(), cause }
    }
}

/// The whole text of a file.
///
/// # Errors
/// It cannot be read, is larger than any design, or is not UTF-8.
pub fn read(path: &Path) -> Result<String, FileError> {
    let bounded = || {
        let mut bytes = Vec::new();
        fs::File::open(path)?.take(MAX_BYTES as u64 + 1).read_to_end(&mut bytes)?;
        if bytes.len() > MAX_BYTES {
            let what = format!("it is larger than {} MB, which no design is", MAX_BYTES / 1_000_000);
            return Err(io::Error::new(io::ErrorKind::FileTooLarge, what));
        }
        String::from_utf8(bytes).map_err(|error| io::Error::new(io::ErrorKind::InvalidData, error.utf8_error()))
    };
    bounded().map_err(FileError::at(path))
}

/// Writes the whole text of a file: to a new file beside it, through to the disk, then moved over it. A link is
/// followed, so that it stays a link; the permissions of an existing file stay.
///
/// # Errors
/// The folder cannot be written to, or the disk is full; the old text is then still there.
pub fn write_whole(path: &Path, text: &str) -> Result<(), FileError> {
    write_whole_bytes(path, text.as_bytes())
}

/// As [`write_whole`], for files that are not text.
///
/// # Errors
/// As [`write_whole`].
pub fn write_whole_bytes(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    Beside::write(&target, bytes, true).and_then(Beside::move_over).map_err(FileError::at(path))
}

/// As [`write_whole`], but without waiting for the disk: safe from a crash of the program, not of the machine.
///
/// # Errors
/// As [`write_whole`].
pub fn write_quickly(path: &Path, text: &str) -> Result<(), FileError> {
    Beside::write(path, text.as_bytes(), false).and_then(Beside::move_over).map_err(FileError::at(path))
}

/// Where the program keeps its own files between runs; none if the system names no such place.
#[must_use]
pub fn state_folder() -> Option<PathBuf> {
    dirs::state_dir().or_else(dirs::data_local_dir).map(|base| base.join("casewright"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_larger_than_any_design_is_not_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("large.ron");
        std::fs::write(&path, vec![b' '; MAX_BYTES + 1]).unwrap();
        let error = read(&path).unwrap_err().to_string();
        assert!(error.ends_with("it is larger than 4 MB, which no design is"), "{error}");
        std::fs::write(&path, vec![b' '; MAX_BYTES]).unwrap();
        assert_eq!(read(&path).unwrap().len(), MAX_BYTES);
        std::fs::write(&path, b"\xff").unwrap();
        assert!(read(&path).is_err());
    }

    #[test]
    fn writing_replaces_the_whole_and_leaves_nothing_beside() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        write_whole(&path, "first, and rather long").unwrap();
        write_whole(&path, "second").unwrap();
        write_quickly(&path, "third").unwrap();
        assert_eq!(read(&path).unwrap(), "third");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_failed_write_names_the_file_and_keeps_the_old_text() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("no such folder").join("a.ron");
        let error = write_whole(&path, "text").unwrap_err();
        assert!(error.to_string().contains("no such folder"), "{error}");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link_and_permissions_stay() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().unwrap();
        let (real, link) = (folder.path().join("real.ron"), folder.path().join("link.ron"));
        fs::write(&real, "old").unwrap();
        fs::set_permissions(&real, fs::Permissions::from_mode(0o600)).unwrap();
        std::os::unix::fs::symlink(&real, &link).unwrap();
        write_whole(&link, "new").unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&real).unwrap(), "new");
        assert_eq!(fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o600);
    }
}
