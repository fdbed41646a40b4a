//! Reading a design and writing results, by the window's own means, so that nothing half-written is ever left: each file is
//! written under another name in its own folder, brought to the disk, and only then renamed.

use std::fs;
use std::io::{self, Read as _};
use std::path::Path;

use casewright_core::design::read::MAX_BYTES;
use casewright_desktop::files::folder;

use crate::failure::Failure;

/// The text of a design file, without a byte order mark.
///
/// # Errors
/// The file cannot be read, is too large, or is no UTF-8 text.
pub(crate) fn read_design(file: &Path) -> Result<String, Failure> {
    let failed = |error: io::Error| Failure::io(file, "cannot be read", &error);
    let opened = fs::File::open(file).map_err(failed)?;
    if opened.metadata().map_err(failed)?.is_dir() {
        return Err(failed(io::ErrorKind::IsADirectory.into()));
    }
    let mut bytes = Vec::new();
    opened.take(MAX_BYTES as u64 + 1).read_to_end(&mut bytes).map_err(failed)?;
    if bytes.len() > MAX_BYTES {
        let what = format!("is larger than {} MB, which no design is", MAX_BYTES / 1_000_000);
        return Err(Failure::file(file, what, "name a design file"));
    }
    let text = String::from_utf8(bytes).map_err(|error| not_text(file, &error))?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

fn not_text(file: &Path, error: &std::string::FromUtf8Error) -> Failure {
    let valid = error.as_bytes().get(..error.utf8_error().valid_up_to()).unwrap_or_default();
    let before = String::from_utf8_lossy(valid);
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
    Failure::of_lines(vec![format!(
        "{}:{line}:{column}: this is no UTF-8 text; save the design as UTF-8 in an editor",
        file.display()
    )])
}

/// Writes or replaces one file as a whole; a link is followed.
///
/// # Errors
/// The file cannot be written; what was there before is then still there.
pub(crate) fn write_file(target: &Path, bytes: &[u8]) -> Result<(), Failure> {
    Ok(folder::write_file(target, bytes)?)
}

/// Writes one file that must not exist yet.
///
/// # Errors
/// The file exists or cannot be written.
pub(crate) fn write_new_file(target: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let refused = |error: io::Error| folder::unwritten(target, &error);
    if target.symlink_metadata().is_ok() {
        return Err(refused(io::ErrorKind::AlreadyExists.into()).into());
    }
    Ok(folder::beside(target, bytes)?.move_if_free().map_err(refused)?)
}

/// Writes several files into a folder, which is made if need be. No file is replaced before all are complete on the
/// disk.
///
/// # Errors
/// A name that would leave the folder, or a file that cannot be written.
pub(crate) fn write_into_folder(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Failure> {
    Ok(folder::write_into_folder(folder, files)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn new_files_replace_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.ron");
        write_new_file(&file, b"one").unwrap();
        let message = write_new_file(&file, b"two").unwrap_err().to_string();
        assert!(message.contains("it exists already"), "{message}");
        assert_eq!(fs::read(&file).unwrap(), b"one");
        write_file(&file, b"three").unwrap();
        assert_eq!(fs::read(&file).unwrap(), b"three");
    }

    #[test]
    fn what_is_no_design_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.ron");
        let check = |bytes: &[u8], expected: &str| {
            fs::write(&file, bytes).unwrap();
            let found = read_design(&file).unwrap_or_else(|failure| failure.to_string());
            assert_eq!(found.replace(&file.display().to_string(), "FILE"), expected);
        };
        check(b"\xef\xbb\xbf(a)", "(a)");
        check(b"(\n \xff)", "FILE:2:2: this is no UTF-8 text; save the design as UTF-8 in an editor");
        check(&vec![b' '; MAX_BYTES + 1], "FILE: is larger than 4 MB, which no design is; name a design file");
        let found = read_design(folder.path()).unwrap_err().to_string();
        assert!(found.ends_with("cannot be read: it is a folder; name a file"), "{found}");
        let found = read_design(&folder.path().join("none.ron")).unwrap_err().to_string();
        assert!(found.ends_with("cannot be read: there is no such file or folder; check the name"), "{found}");
    }
}
