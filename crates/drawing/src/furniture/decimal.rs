//! How numbers are written on sheets: the one place for it. Dimensions of a drawing, and what stands on its sheet in
//! figures, have a decimal comma in every language (ISO 129-1); sentences and lists have the mark of their language.

use casewright_core::Length;
use casewright_core::unit::DecimalMark;

use super::scene::Scene;

impl Scene<'_> {
    /// A length as printed in a drawing: in the unit of the design, with a decimal comma (ISO 129-1).
    #[must_use]
    pub fn dimension(&self, length: Length) -> String {
        self.design.unit.format(length, DecimalMark::Comma)
    }

    /// A length in a list or a sentence: in the unit of the design, with the decimal mark of the language.
    #[must_use]
    pub fn format(&self, length: Length) -> String {
        self.design.unit.format(length, self.language().decimal_mark())
    }

    /// A number with so many decimals and the decimal mark of the language; what rounds to nothing has no sign.
    pub(super) fn decimal(&self, value: f64, places: usize) -> String {
        decimal(value, places, self.language().decimal_mark())
    }

    /// The same without zeros at the end.
    pub(super) fn trimmed(&self, value: f64, places: usize) -> String {
        trimmed(value, places, self.language().decimal_mark())
    }
}

/// A number with so many decimals; what rounds to nothing has no sign.
fn decimal(value: f64, places: usize, mark: DecimalMark) -> String {
    let text = format!("{value:.places$}");
    let is_nothing = text.chars().all(|it| matches!(it, '-' | '0' | '.'));
    let text = if is_nothing { text.trim_start_matches('-').to_owned() } else { text };
    mark.put(&text)
}

/// The same without zeros at the end.
pub(super) fn trimmed(value: f64, places: usize, mark: DecimalMark) -> String {
    let text = decimal(value, places, DecimalMark::Point);
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    mark.put(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_the_mark_of_their_language_and_no_needless_sign() {
        for mark in [DecimalMark::Point, DecimalMark::Comma] {
            let decimals = [(1.25, 2), (-0.004, 2), (-0.0, 1), (10.0, 0), (-12.5, 1)]
                .map(|(it, places)| decimal(it, places, mark));
            assert_eq!(decimals, ["1.25", "0.00", "0.0", "10", "-12.5"].map(|it| mark.put(it)));
            let trims = [(1.50, 2), (10.0, 2), (100.0, 0), (-0.001, 2), (90.04, 1)]
                .map(|(it, places)| trimmed(it, places, mark));
            assert_eq!(trims, ["1.5", "10", "100", "0", "90"].map(|it| mark.put(it)));
        }
        assert_eq!(trimmed(12.5, 1, DecimalMark::Comma), "12,5");
    }
}
