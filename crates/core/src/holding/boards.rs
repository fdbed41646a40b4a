//! Which board a part is made of.

use crate::design::{Construction, Resolved, Role};
use crate::holding::HoldingError;
use crate::length::Length;

/// The name of the material of a part: its own if it names one, else the construction's for the role, else the
/// construction's board.
#[must_use]
pub fn material_for<'a>(construction: &'a Construction<Length>, role: Role, own: Option<&'a str>) -> &'a str {
    own.or(construction.boards.get(&role).map(String::as_str)).unwrap_or(&construction.board)
}

/// The thickness of a material.
///
/// # Errors
/// If the design has no material of this name.
pub fn thickness_of(design: &Resolved, material: &str) -> Result<Length, HoldingError> {
    (design.materials.get(material).map(|material| material.thickness))
        .ok_or_else(|| HoldingError::UnknownMaterial { name: material.to_owned() })
}
