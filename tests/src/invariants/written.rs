//! Designs of the generator as a person would have them: the text of a file.

use casewright_core::design::{Design, Resolved};
use casewright_core::unit::Unit;
use ron::extensions::Extensions;

/// The text of a design file that says the same lengths, in millimetres.
///
/// # Errors
/// The writer's own words; none is known.
pub fn text(design: &Resolved) -> Result<String, String> {
    // Bare numbers are taken in the unit of the file, and the generator's are millimetres.
    let unit = Unit::millimetre(design.unit.step()).unwrap_or_default();
    let design = Resolved { unit, ..design.clone() };
    let extensions = Extensions::IMPLICIT_SOME | Extensions::UNWRAP_VARIANT_NEWTYPES;
    let options = ron::Options::default().with_default_extension(extensions);
    let pretty = ron::ser::PrettyConfig::new().struct_names(false);
    options.to_string_pretty(&design, pretty).map_err(|error| error.to_string())
}

/// The design as read from its own text; none if its meaning is refused.
///
/// # Errors
/// The text cannot be read, or reading and writing it changes it.
pub fn design(design: &Resolved) -> Result<Option<Design>, Vec<String>> {
    let text = text(design).map_err(|error| vec![error])?;
    let (read, faults) =
        Design::read(&text).map_err(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>())?;
    let written = read.to_ron().map_err(|fault| vec![fault.to_string()])?;
    let again = Design::read(&written).map(|(again, _)| again);
    if again.as_ref() != Ok(&read) {
        return Err(vec![format!("written and read again it is another design:\n{written}")]);
    }
    Ok(faults.is_empty().then_some(read))
}
