//! What keeps a command from being done, each with cause and mend, and the exit code that tells of it.

use std::fmt;
use std::io;
use std::path::Path;

use casewright_desktop::files::folder::{Unwritten, in_words};

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
        Self { lines: vec![format!("{}: {}", file.display(), in_words(doing, error))] }
    }
}

impl From<Unwritten> for Failure {
    fn from(error: Unwritten) -> Self {
        Self { lines: vec![error.to_string()] }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.lines.join("\n"))
    }
}

impl std::error::Error for Failure {}
