//! The fittings list.

use super::Table;
use crate::failure::Failure;
use casewright_core::assembly::listed;
use casewright_core::pipeline::Derived;
use casewright_drawing::Speech;

/// One row for each fitting and bay.
///
/// # Errors
/// Internal errors only.
pub(crate) fn fittings(work: &Derived, speech: &Speech) -> Result<Vec<u8>, Failure> {
    let mut table = Table::new(speech, &["fitting", "what", "bay", "count"])?;
    for (fitting, count) in listed(&work.assembly.fittings) {
        table.row([
            speech.say_unless_named(&fitting.name),
            speech.say_unless_named(&fitting.in_words()),
            speech.say_unless_named(&fitting.bay),
            count.to_string(),
        ])?;
    }
    table.bytes()
}
