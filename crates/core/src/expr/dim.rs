//! A length as a design file says it: a number or an expression, kept as written until it is evaluated.

use std::fmt;

use serde::{
    Deserialize, Deserializer, Serialize, Serializer,
    de::{self, Visitor},
};

use super::{ExprError, Scope};
use crate::{Length, unit::Unit};

/// The source text of one length in a design.
///
/// In a file it is a bare number (`560`, `560.5`) or a text (`"56 cm"`, `"22 1/16\""`, `"width - 2 * ply"`). Two are
/// equal if their texts are equal. A bare number is kept in its shortest form, so `560.50` becomes `560.5`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dim(String);

impl Dim {
    /// The length that `text` says.
    pub fn new(text: impl Into<String>) -> Self {
        Self(text.into())
    }

    /// The text for an exact length, as [`Unit::input`] writes it.
    #[must_use]
    pub fn of(length: Length, unit: Unit) -> Self {
        Self(unit.input(length))
    }

    /// The text as written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }

    /// The length that the text means in `scope`, rounded to a whole nanometre.
    ///
    /// # Errors
    /// The first mistake in the expression, or a length beyond [`Length::LIMIT`].
    pub fn eval(&self, scope: &Scope) -> Result<Length, ExprError> {
        scope.length(&self.0)
    }
}

impl Default for Dim {
    fn default() -> Self {
        Self("0".to_owned())
    }
}

impl fmt::Display for Dim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<i64> for Dim {
    fn from(number: i64) -> Self {
        Self(number.to_string())
    }
}

impl From<&str> for Dim {
    fn from(text: &str) -> Self {
        Self(text.to_owned())
    }
}

impl From<String> for Dim {
    fn from(text: String) -> Self {
        Self(text)
    }
}

impl Serialize for Dim {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // Only what reads back as the very same text becomes a bare number.
        if let Some(number) = self.0.parse::<i64>().ok().filter(|number| number.to_string() == self.0) {
            return serializer.serialize_i64(number);
        }
        let plain = self.0.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'.' | b'-'));
        let number = self.0.parse::<f64>().ok().filter(|number| plain && number.to_string() == self.0);
        match number {
            Some(number) => serializer.serialize_f64(number),
            None => serializer.serialize_str(&self.0),
        }
    }
}

impl<'de> Deserialize<'de> for Dim {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(DimVisitor)
    }
}

struct DimVisitor;

impl Visitor<'_> for DimVisitor {
    type Value = Dim;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a length")
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Dim, E> {
        Ok(Dim(number.to_string()))
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Dim, E> {
        Ok(Dim(number.to_string()))
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Dim, E> {
        if number.is_finite() {
            Ok(Dim(number.to_string()))
        } else {
            Err(E::invalid_value(de::Unexpected::Float(number), &self))
        }
    }

    fn visit_unit<E: de::Error>(self) -> Result<Dim, E> {
        Err(E::invalid_value(de::Unexpected::Other("a name without quotation marks"), &self))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Dim, E> {
        Ok(Dim(text.to_owned()))
    }
}
