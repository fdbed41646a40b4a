//! Reading a design and writing results so that nothing half-written is ever left: each file is written under another
//! name in its own folder, brought to the disk, and only then renamed.

use std::fs;
use std::io::{self, Read as _};
use std::path::{Component, Path};

use casewright_core::design::read::MAX_BYTES;
use casewright_desktop::files::beside::Beside;

use crate::failure::Failure;

/// The longest stem of a file name that is made of a design's name, in bytes.
const LONGEST_STEM: usize = 80;

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

/// Writes a file beside its place, through to the disk.
fn beside(target: &Path, bytes: &[u8]) -> Result<Beside, Failure> {
    match fs::symlink_metadata(target) {
        Ok(found) if found.is_dir() => return Err(unwritten(target, &io::ErrorKind::IsADirectory.into())),
        Ok(found) if !found.is_file() && !found.is_symlink() => {
            return Err(Failure::file(target, "cannot be replaced: it is a device", "name a file"));
        }
        _ => {}
    }
    Beside::write(target, bytes, true).map_err(|error| unwritten(target, &error))
}

fn unwritten(target: &Path, error: &io::Error) -> Failure {
    Failure::io(target, "cannot be written", error)
}

/// Writes or replaces one file as a whole; a link is followed.
///
/// # Errors
/// The file cannot be written; what was there before is then still there.
pub(crate) fn write_file(target: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let target = fs::canonicalize(target).unwrap_or_else(|_| target.to_owned());
    beside(&target, bytes)?.move_over().map_err(|error| unwritten(&target, &error))
}

/// Writes one file that must not exist yet.
///
/// # Errors
/// The file exists or cannot be written.
pub(crate) fn write_new_file(target: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if target.symlink_metadata().is_ok() {
        return Err(unwritten(target, &io::ErrorKind::AlreadyExists.into()));
    }
    beside(target, bytes)?.move_if_free().map_err(|error| unwritten(target, &error))
}

/// Writes several files into a folder, which is made if need be. No file is replaced before all are complete on the
/// disk.
///
/// # Errors
/// A name that would leave the folder, or a file that cannot be written.
pub(crate) fn write_into_folder(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Failure> {
    for (name, _) in files {
        let mut parts = Path::new(name).components();
        if !matches!((parts.next(), parts.next()), (Some(Component::Normal(_)), None)) {
            let cause = format!("internal error: {name:?} is no plain file name");
            return Err(Failure::file(folder, cause, "please report this"));
        }
    }
    fs::create_dir_all(folder).map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => Failure::file(folder, "cannot be written into: it is a file", "name a folder"),
        _ => Failure::io(folder, "cannot be made", &error),
    })?;
    let ready: Result<Vec<Beside>, Failure> =
        files.iter().map(|(name, bytes)| beside(&folder.join(name), bytes)).collect();
    Beside::move_all(ready?).map_err(|(target, error)| unwritten(&target, &error))
}

/// A stem for the names of written files, made of the name of the design file: letters, digits, `-` and `_`; all else
/// becomes `-`. So it can neither leave a folder nor be a name that some system keeps for itself.
pub(crate) fn safe_stem(file: &Path) -> String {
    let name = file.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let mut stem = String::new();
    for letter in name.chars() {
        let kept = if letter.is_alphanumeric() || letter == '_' { letter } else { '-' };
        if stem.len() + kept.len_utf8() > LONGEST_STEM {
            break;
        }
        if !(kept == '-' && (stem.is_empty() || stem.ends_with('-'))) {
            stem.push(kept);
        }
    }
    let stem = stem.trim_end_matches('-').to_owned();
    let kept_by_windows = matches!(
        stem.to_ascii_lowercase().as_str(),
        "con"
            | "prn"
            | "aux"
            | "nul"
            | "com1"
            | "com2"
            | "com3"
            | "com4"
            | "com5"
            | "com6"
            | "com7"
            | "com8"
            | "com9"
            | "lpt1"
            | "lpt2"
            | "lpt3"
            | "lpt4"
            | "lpt5"
            | "lpt6"
            | "lpt7"
            | "lpt8"
            | "lpt9"
    );
    match stem.as_str() {
        "" => "design".to_owned(),
        _ if kept_by_windows => format!("{stem}-design"),
        _ => stem,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stems() {
        let check = |name: &str, expected: &str| assert_eq!(safe_stem(Path::new(name)), expected, "{name}");
        check("demo/laundry-alcove.ron", "laundry-alcove");
        check("Küche 2.ron", "Küche-2");
        check("..", "design");
        check("../.ron", "ron");
        check("a/b:c\\d*.ron", "b-c-d");
        check("con.ron", "con-design");
        check("---.ron", "design");
        check(&"x".repeat(300), &"x".repeat(80));
        check(&"ß".repeat(300), &"ß".repeat(40));
    }

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
