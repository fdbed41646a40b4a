//! The window. The only command that needs a display.

use std::path::PathBuf;

use crate::failure::Failure;

/// Opens the window, with this design if one is named.
///
/// # Errors
/// There is no display, or the window cannot be made.
pub(crate) fn run(_file: Option<PathBuf>) -> Result<u8, Failure> {
    Err(Failure::usage("the window is not built yet", "use `casewright check FILE`"))
}
