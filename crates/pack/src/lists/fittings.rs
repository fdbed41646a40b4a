//! The fittings list.

use super::{ListError, Table};
use casewright_core::assembly::listed;
use casewright_drawing::furniture::Scene;

/// One row for each fitting and bay.
///
/// # Errors
/// Internal errors only.
pub fn fittings(scene: &Scene<'_>) -> Result<Vec<u8>, ListError> {
    let mut table = Table::new(scene, &["fitting", "what", "bay", "count"])?;
    for (fitting, count) in listed(&scene.assembly.fittings) {
        table.row([
            scene.say_unless_named(&fitting.name),
            scene.say_unless_named(&fitting.in_words()),
            scene.say_unless_named(&fitting.bay),
            count.to_string(),
        ])?;
    }
    table.bytes()
}
