//! The window. The only command that needs a display.

use std::path::PathBuf;

use crate::failure::{CLEAN, Failure};

/// Opens the window, with this design if one is named.
///
/// # Errors
/// There is no display, or the window cannot be made.
pub(crate) fn run(file: Option<PathBuf>) -> Result<u8, Failure> {
    let named = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let display = ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"].into_iter().any(named);
    if cfg!(all(unix, not(target_os = "macos"))) && !display {
        let mend = "sit down at a desktop, or use a command that needs none, such as `casewright check FILE`";
        return Err(Failure::usage("the window cannot be opened: there is no display here", mend));
    }
    match casewright_desktop::run(file) {
        Ok(()) => Ok(CLEAN),
        Err(error) => Err(Failure::of_lines(vec![format!("casewright: {error}")])),
    }
}
