//! What keeps a command from being done, each with cause and mend, and the exit code that tells of it.

use std::fmt;
use std::io;
use std::path::Path;

/// Exit code: done, and nothing found that is an error.
pub(crate) const CLEAN: u8 = 0;
/// Exit code: done, but something found is an error.
pub(crate) const FOUND_ERRORS: u8 = 1;
/// Exit code: could not be done at all.
pub(crate) const NOT_DONE: u8 = 2;

/// Why a command could not be done: one or more independent problems, one a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Failure {
    lines: Vec<String>,
}

impl Failure {
    /// Several problems, already in words.
    pub(crate) fn of_lines(lines: Vec<String>) -> Self {
        Self { lines }
    }

    /// A mistake on the command line.
    pub(crate) fn usage(cause: impl fmt::Display, mend: impl fmt::Display) -> Self {
        Self { lines: vec![format!("casewright: {cause}; {mend}")] }
    }

    /// A problem with a file as a whole.
    pub(crate) fn file(file: &Path, cause: impl fmt::Display, mend: impl fmt::Display) -> Self {
        Self { lines: vec![format!("{}: {cause}; {mend}", file.display())] }
    }

    /// An error of a library that names its own mend.
    pub(crate) fn cause(file: &Path, error: &dyn std::error::Error) -> Self {
        Self { lines: vec![format!("{}: {error}", file.display())] }
    }

    /// What the system says when a file cannot be used; `doing` such as `cannot be read`.
    pub(crate) fn io(file: &Path, doing: &str, error: &io::Error) -> Self {
        let (cause, mend) = match error.kind() {
            io::ErrorKind::NotFound => ("there is no such file or folder", "check the name"),
            io::ErrorKind::PermissionDenied => ("permission is denied", "change its rights or choose another place"),
            io::ErrorKind::AlreadyExists => ("it exists already", "choose another name, or remove it first"),
            io::ErrorKind::IsADirectory => ("it is a folder", "name a file"),
            io::ErrorKind::NotADirectory => ("a part of its path is no folder", "choose another place"),
            io::ErrorKind::StorageFull => ("the disk is full", "make room, then try again"),
            io::ErrorKind::ReadOnlyFilesystem => ("the disk is read-only", "choose another place"),
            _ => return Self::file(file, format!("{doing}: {error}"), "mend that, then try again"),
        };
        Self::file(file, format!("{doing}: {cause}"), mend)
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.lines.join("\n"))
    }
}

impl std::error::Error for Failure {}
