//! `casewright derive`: everything derived, as JSON.

use std::path::Path;

use crate::failure::{CLEAN, Failure};
use crate::source::Source;
use crate::{derived, files, print};

/// Prints the JSON, or writes it to `out`.
///
/// # Errors
/// The design cannot be read or cannot be solved; the file cannot be written.
pub(crate) fn run(file: &Path, out: Option<&Path>) -> Result<u8, Failure> {
    let work = Source::read(file)?.derive()?;
    let mut text = serde_json::to_string_pretty(&derived::derived(&work))
        .map_err(|error| Failure::file(file, format!("internal error: {error}"), "please report this"))?;
    text.push('\n');
    match out {
        Some(out) => files::write_file(out, text.as_bytes())?,
        None => {
            print(&text)?;
        }
    }
    Ok(CLEAN)
}
