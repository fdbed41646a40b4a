//! Exact lengths: a count of nanometres, so that 0.1 mm and 1/64 in are both whole numbers and sums close to the last digit.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A signed length, counted in nanometres.
///
/// 0.1 mm is 100 000 nm and 1/64 in is 396 875 nm, so both systems of units are exact. Equality means equality.
/// The range is about ± 9.2 million kilometres; design input is limited to ± [`Length::LIMIT`], so that sums of
/// millions of lengths cannot overflow.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// Nothing at all.
    pub const ZERO: Self = Self(0);
    /// The largest magnitude that a design may name: 100 m.
    pub const LIMIT: Self = Self(100_000_000_000);

    /// The length of so many nanometres.
    #[must_use]
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// The length of so many micrometres.
    #[must_use]
    pub const fn from_um(um: i64) -> Self {
        Self(um * 1_000)
    }

    /// The length of so many whole millimetres.
    #[must_use]
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm * 1_000_000)
    }

    /// The length nearest to `mm` millimetres; the one place where floating point turns into a length.
    /// Not a number becomes zero, and what is out of range becomes the nearest end of the range.
    #[must_use]
    pub fn from_mm_f64(mm: f64) -> Self {
        Self((mm * 1e6).round() as i64)
    }

    /// The count of nanometres.
    #[must_use]
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// The length in millimetres, for numerics and drawing.
    #[must_use]
    pub fn mm(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// The magnitude.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The half, rounded towards zero to a whole nanometre.
    #[must_use]
    pub const fn half(self) -> Self {
        Self(self.0 / 2)
    }

    /// The nearest whole multiple of `step`, halves away from zero; unchanged if the step is not above zero.
    #[must_use]
    pub const fn rounded_to(self, step: Self) -> Self {
        if step.0 <= 0 {
            return self;
        }
        let (sign, magnitude) = if self.0 < 0 { (-1, -self.0) } else { (1, self.0) };
        Self(sign * ((magnitude + step.0 / 2) / step.0) * step.0)
    }
}

impl serde::Serialize for Length {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.mm())
    }
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.mm())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, factor: i64) -> Self {
        Self(self.0.saturating_mul(factor))
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}
