//! `casewright new`: a commented design to start from.

use std::path::Path;

use crate::failure::{CLEAN, Failure};
use crate::{files, print};

/// The design to start from.
const STARTER: &str = include_str!("starter.ron");

/// Writes the starter design; replaces nothing.
///
/// # Errors
/// The file exists or cannot be written.
pub(crate) fn run(file: &Path) -> Result<u8, Failure> {
    files::write_new_file(file, STARTER.as_bytes())?;
    print(&format!("{} is written; `casewright {}` opens it\n", file.display(), file.display()))?;
    Ok(CLEAN)
}
