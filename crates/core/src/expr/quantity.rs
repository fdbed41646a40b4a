//! What an expression comes to: a pure number or a length, and the arithmetic between the two.

use super::rational::Rational;
use crate::{Length, unit::Unit};

/// An exact value of an expression.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// A number without a unit; where a length is asked for it counts the design's unit.
    Number(Rational),
    /// A length in nanometres, not yet rounded to a whole one.
    Length(Rational),
}

/// Why two quantities cannot be reckoned together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mismatch {
    /// The result does not fit.
    TooLarge,
    /// The divisor is zero.
    ByZero,
    /// A length times a length would be an area.
    Area,
    /// A number divided by a length is no length.
    PerLength,
}

impl Quantity {
    /// This value as a length in nanometres, exact; a number counts the unit's millimetres or inches.
    fn exact_nm(self, unit: Unit) -> Option<Rational> {
        match self {
            Self::Number(number) => number.times(Rational::whole(unit.whole().nm())),
            Self::Length(nm) => Some(nm),
        }
    }

    /// This value as a length, rounded to the nearest whole nanometre; `None` if it is beyond [`Length::LIMIT`].
    #[must_use]
    pub fn length(self, unit: Unit) -> Option<Length> {
        let nm = i64::try_from(self.exact_nm(unit)?.rounded()).ok()?;
        let length = Length::from_nm(nm);
        (nm != i64::MIN && length.abs() <= Length::LIMIT).then_some(length)
    }

    pub(super) fn neg(self) -> Result<Self, Mismatch> {
        match self {
            Self::Number(a) => a.negated().map(Self::Number),
            Self::Length(a) => a.negated().map(Self::Length),
        }
        .ok_or(Mismatch::TooLarge)
    }

    pub(super) fn add(self, other: Self, unit: Unit) -> Result<Self, Mismatch> {
        match (self, other) {
            (Self::Number(a), Self::Number(b)) => a.plus(b).map(Self::Number),
            // A bare number beside a length means the design's unit: `ply + 3` works whether ply has a unit or not.
            _ => self.exact_nm(unit).zip(other.exact_nm(unit)).and_then(|(a, b)| a.plus(b)).map(Self::Length),
        }
        .ok_or(Mismatch::TooLarge)
    }

    pub(super) fn sub(self, other: Self, unit: Unit) -> Result<Self, Mismatch> {
        self.add(other.neg()?, unit)
    }

    pub(super) fn mul(self, other: Self) -> Result<Self, Mismatch> {
        match (self, other) {
            (Self::Number(a), Self::Number(b)) => a.times(b).map(Self::Number),
            (Self::Number(a), Self::Length(b)) | (Self::Length(a), Self::Number(b)) => a.times(b).map(Self::Length),
            (Self::Length(_), Self::Length(_)) => return Err(Mismatch::Area),
        }
        .ok_or(Mismatch::TooLarge)
    }

    pub(super) fn div(self, other: Self) -> Result<Self, Mismatch> {
        let (Self::Number(divisor) | Self::Length(divisor)) = other;
        match (self, other) {
            (Self::Number(_), Self::Length(_)) => Err(Mismatch::PerLength),
            _ if divisor.is_zero() => Err(Mismatch::ByZero),
            (Self::Length(a), Self::Number(b)) => a.over(b).map(Self::Length).ok_or(Mismatch::TooLarge),
            (Self::Number(a), Self::Number(b)) | (Self::Length(a), Self::Length(b)) => {
                a.over(b).map(Self::Number).ok_or(Mismatch::TooLarge)
            }
        }
    }
}
