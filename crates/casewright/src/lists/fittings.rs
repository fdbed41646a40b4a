//! The fittings list.

use super::Table;
use crate::failure::Failure;
use casewright_core::pipeline::Derived;

/// One row for each fitting and bay.
///
/// # Errors
/// Internal errors only.
pub(crate) fn fittings(work: &Derived) -> Result<Vec<u8>, Failure> {
    let mut table = Table::new(&["fitting", "what", "bay", "count"])?;
    for fitting in &work.assembly.fittings {
        table.row([fitting.name.clone(), fitting.in_words(), fitting.bay.clone(), fitting.count.to_string()])?;
    }
    table.bytes()
}
