//! Reading and writing single fields of a Design by their place in the file.

use casewright_core::design::Design;
use casewright_core::design::resolve::map_lengths;
use casewright_core::expr::Dim;
use casewright_core::text::{FieldPath, Segment};
use casewright_core::unit::Unit;
use serde_json::Value;

use super::Refusal;

/// The Design with another value for one field.
///
/// # Errors
/// There is no such field, or the value does not fit it.
pub fn with_value(design: &Design, path: &FieldPath, value: Value) -> Result<Design, Refusal> {
    let misfit = |cause: serde_json::Error| Refusal::Misfit { path: path.clone(), cause: cause.to_string() };
    let mut whole = serde_json::to_value(design).map_err(misfit)?;
    let place = find(&mut whole, path).ok_or_else(|| Refusal::NoField(path.clone()))?;
    *place = value;
    serde_json::from_value(whole).map_err(misfit)
}

/// The value of a field as a file has it; null where the design does not say it.
#[must_use]
pub fn value_of(design: &Design, path: &FieldPath) -> Value {
    let mut whole = serde_json::to_value(design).unwrap_or_default();
    find(&mut whole, path).cloned().unwrap_or_default()
}

/// The value at a place; the names of enum variants, which do not count as steps, are stepped over. A field that a
/// design need not say is made room for: whether there is such a field at all is the reader's to tell.
fn find<'v>(whole: &'v mut Value, path: &FieldPath) -> Option<&'v mut Value> {
    let mut here = whole;
    for segment in path.segments() {
        if needs_unwrapping(here, segment) {
            here = here.as_object_mut()?.values_mut().next()?;
        }
        if here.is_null() && matches!(segment, Segment::Field(_)) {
            *here = Value::Object(serde_json::Map::new());
        }
        here = match segment {
            Segment::Field(name) => here.as_object_mut()?.entry(name.as_str()).or_insert(Value::Null),
            Segment::Key(name) => here.as_object_mut()?.get_mut(name)?,
            Segment::Index(index) => here.as_array_mut()?.get_mut(*index)?,
        };
    }
    Some(here)
}

/// Whether the value is an enum variant with content, and the step is meant for the content.
fn needs_unwrapping(value: &Value, segment: &Segment) -> bool {
    let Some(object) = value.as_object() else { return false };
    let is_variant = object.len() == 1 && object.keys().all(|key| key.starts_with(|c: char| c.is_ascii_uppercase()));
    match segment {
        Segment::Field(name) => is_variant && !object.contains_key(name),
        Segment::Index(_) => is_variant,
        Segment::Key(_) => false,
    }
}

/// The Design in another unit. Bare numbers mean the unit, so values and lengths that are bare numbers are written with
/// the unit that they had. A length whose text would still come to something else, such as `560 + gap`, is written as
/// what it comes to.
#[must_use]
pub fn in_unit(design: &Design, unit: Unit) -> Design {
    let mut after = design.clone();
    after.unit = unit;
    if design.unit.whole() == unit.whole() {
        return after;
    }
    for text in after.parameters.values_mut() {
        *text = with_symbol(text, design.unit);
    }
    let (before, now) = (design.scope(), after.scope());
    let mut after_lengths = map_lengths(&after, &mut |dim: &Dim, _, _| {
        let Ok(length) = before.length(dim.text()) else { return dim.clone() };
        let named = with_symbol(dim.text(), design.unit);
        let is_same = now.length(&named) == Ok(length);
        Dim::new(if is_same { named } else { unit.input(length) })
    });
    after_lengths.unit = unit;
    after_lengths
}

/// A bare number with the unit that it counts; any other text as it is.
fn with_symbol(text: &str, unit: Unit) -> String {
    let text = text.trim();
    let is_number = text.starts_with(|c: char| c.is_ascii_digit())
        && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ' ' | '/'));
    match unit {
        _ if !is_number => text.to_owned(),
        Unit::Millimetre { .. } => format!("{text} mm"),
        Unit::Inch { .. } => format!("{text}\""),
    }
}
