//! Sums of products in twice the working precision, for residuals that are small differences of large numbers.
//!
//! Error-free transformations after D. Knuth (sum) and T. Dekker, G. Veltkamp (product): "A floating-point technique for
//! extending the available precision", Numerische Mathematik 18 (1971); from memory. Factors must stay below 1e290.

/// A number as the sum of two.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Twice {
    high: f64,
    low: f64,
}

/// The halves of a factor, each short enough for exact products.
fn halves(number: f64) -> (f64, f64) {
    let shifted = 134_217_729.0 * number;
    let high = shifted - (shifted - number);
    (high, number - high)
}

impl Twice {
    /// Adds a number.
    pub(crate) fn add(&mut self, number: f64) {
        let sum = self.high + number;
        let part = sum - self.high;
        self.low += (self.high - (sum - part)) + (number - part);
        self.high = sum;
    }

    /// Adds a product.
    pub(crate) fn add_product(&mut self, left: f64, right: f64) {
        let product = left * right;
        let ((left_high, left_low), (right_high, right_low)) = (halves(left), halves(right));
        let missing = left_high * right_high - product + left_high * right_low + left_low * right_high;
        self.add(product);
        self.low += missing + left_low * right_low;
    }

    /// Adds a product with such a number.
    pub(crate) fn add_scaled(&mut self, factor: f64, number: Self) {
        self.add_product(factor, number.high);
        self.low += factor * number.low;
    }

    /// The nearest ordinary number.
    pub(crate) fn rounded(self) -> f64 {
        self.high + self.low
    }
}

#[cfg(test)]
mod tests {
    use super::Twice;

    fn check(terms: &[(f64, f64)], expected: f64) {
        let mut sum = Twice::default();
        terms.iter().for_each(|(left, right)| sum.add_product(*left, *right));
        assert_eq!(sum.rounded(), expected);
    }

    #[test]
    fn small_differences_of_large_numbers() {
        check(&[(1e16, 1.0), (1.0, 1.0), (-1e16, 1.0)], 1.0);
        check(&[(1e8 + 1.0, 1e8 + 1.0), (-1e16, 1.0), (-2e8, 1.0)], 1.0);
        // A third as a double, times three, lacks 2^-54 of one.
        check(&[(1.0 / 3.0, 3.0), (-1.0, 1.0)], -1.0 / (1u64 << 54) as f64);
    }

    #[test]
    fn a_sum_times_a_factor() {
        let mut inner = Twice::default();
        inner.add(1e10);
        inner.add(1e-10);
        let mut outer = Twice::default();
        outer.add_scaled(3.0, inner);
        outer.add(-3e10);
        assert!((outer.rounded() - 3e-10).abs() < 1e-25);
    }
}
