//! Exact fractions for expression arithmetic: checked, never rounded until a length is asked for.

/// A reduced fraction of two 128-bit whole numbers, the lower one above zero.
///
/// Every operation answers `None` instead of overflowing, and for a division by zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rational {
    numerator: i128,
    denominator: i128,
}

impl Rational {
    /// Nothing at all.
    pub const ZERO: Self = Self { numerator: 0, denominator: 1 };

    /// The whole number `value`.
    #[must_use]
    pub const fn whole(value: i64) -> Self {
        Self { numerator: value as i128, denominator: 1 }
    }

    /// The fraction in its lowest terms; `None` if `denominator` is zero or the reduced form does not fit.
    #[must_use]
    pub fn new(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator == 0 {
            return None;
        }
        let divisor = gcd(numerator.unsigned_abs(), denominator.unsigned_abs());
        let upper = i128::try_from(numerator.unsigned_abs() / divisor).ok()?;
        let lower = i128::try_from(denominator.unsigned_abs() / divisor).ok()?;
        let upper = if (numerator < 0) == (denominator < 0) { upper } else { -upper };
        Some(Self { numerator: upper, denominator: lower })
    }

    /// The upper number.
    #[must_use]
    pub const fn numerator(self) -> i128 {
        self.numerator
    }

    /// The lower number, above zero.
    #[must_use]
    pub const fn denominator(self) -> i128 {
        self.denominator
    }

    /// Whether this is nothing.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.numerator == 0
    }

    /// The sum.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        // Over the least common denominator, so that long sums of like fractions stay small.
        let divisor = common(self.denominator, other.denominator);
        let left = self.numerator.checked_mul(other.denominator / divisor)?;
        let right = other.numerator.checked_mul(self.denominator / divisor)?;
        let lower = self.denominator.checked_mul(other.denominator / divisor)?;
        Self::new(left.checked_add(right)?, lower)
    }

    /// The difference.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        self.plus(other.negated()?)
    }

    /// The product.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        // Cancelled crosswise first, so that only a result that is really too large fails.
        let one = common(self.numerator, other.denominator);
        let two = common(other.numerator, self.denominator);
        let upper = (self.numerator / one).checked_mul(other.numerator / two)?;
        let lower = (self.denominator / two).checked_mul(other.denominator / one)?;
        Self::new(upper, lower)
    }

    /// The quotient; `None` also if `other` is zero.
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        self.times(Self::new(other.denominator, other.numerator)?)
    }

    /// The opposite.
    #[must_use]
    pub fn negated(self) -> Option<Self> {
        Some(Self { numerator: self.numerator.checked_neg()?, denominator: self.denominator })
    }

    /// The nearest whole number, halves away from zero.
    #[must_use]
    pub fn rounded(self) -> i128 {
        let (whole, rest) = (self.numerator / self.denominator, (self.numerator % self.denominator).abs());
        if rest >= self.denominator - rest { whole.saturating_add(self.numerator.signum()) } else { whole }
    }

    /// The nearest floating point number, for display and for values that are not lengths.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

/// The greatest common divisor, at least 1.
fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

/// The greatest common divisor of the magnitudes, at least 1; 1 where it would not fit, which only costs range.
fn common(a: i128, b: i128) -> i128 {
    i128::try_from(gcd(a.unsigned_abs(), b.unsigned_abs())).unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use num_rational::Ratio;
    use proptest::prelude::*;

    use super::*;

    /// Checks one operation against num-rational, an independent implementation of exact fractions.
    fn check(ours: Option<Rational>, reference: Ratio<i128>) {
        let ours = ours.expect("fits");
        assert_eq!((ours.numerator(), ours.denominator()), (*reference.numer(), *reference.denom()));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]
        #[test]
        fn agrees_with_num_rational(a in -1_000_000_000i128..1_000_000_000, b in 1i128..1_000_000,
                                    c in -1_000_000_000i128..1_000_000_000, d in 1i128..1_000_000) {
            let (x, y) = (Rational::new(a, b).unwrap(), Rational::new(c, d).unwrap());
            let (p, q) = (Ratio::new(a, b), Ratio::new(c, d));
            check(x.plus(y), p + q);
            check(x.minus(y), p - q);
            check(x.times(y), p * q);
            if c != 0 {
                check(x.over(y), p / q);
            }
            prop_assert_eq!(x.rounded(), p.round().to_integer());
        }

        #[test]
        fn never_panics(a: i128, b: i128, c: i128, d: i128) {
            for (x, y) in [(a, b), (i128::MIN, b), (i128::MIN, i128::MIN), (a, i128::MIN)] {
                if let (Some(p), Some(q)) = (Rational::new(x, y), Rational::new(c, d)) {
                    let _ = (p.plus(q), p.minus(q), p.times(q), p.over(q), p.negated(), p.rounded());
                }
            }
        }
    }

    #[test]
    fn halves_round_away_from_zero() {
        for (upper, lower, expected) in [(1, 2, 1), (-1, 2, -1), (3, 2, 2), (1, 3, 0), (-2, 3, -1), (5, 1, 5)] {
            assert_eq!(Rational::new(upper, lower).unwrap().rounded(), expected, "{upper}/{lower}");
        }
    }

    #[test]
    fn zero_below_is_refused() {
        assert_eq!(Rational::new(1, 0), None);
        assert_eq!(Rational::whole(1).over(Rational::ZERO), None);
    }
}
