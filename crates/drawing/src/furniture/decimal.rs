//! Plain numbers on sheets: with a decimal comma, as lengths have it (ISO 129-1).

/// A number with so many decimals; what rounds to nothing has no sign.
pub(super) fn decimal(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}").replace('.', ",");
    let is_nothing = text.chars().all(|it| matches!(it, '-' | '0' | ','));
    if is_nothing { text.trim_start_matches('-').to_owned() } else { text }
}

/// The same without zeros at the end.
pub(super) fn trimmed(value: f64, places: usize) -> String {
    let text = decimal(value, places);
    if text.contains(',') { text.trim_end_matches('0').trim_end_matches(',').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_a_comma_and_no_needless_sign() {
        let decimals =
            [(1.25, 2), (-0.004, 2), (-0.0, 1), (10.0, 0), (-12.5, 1)].map(|(it, places)| decimal(it, places));
        assert_eq!(decimals, ["1,25", "0,00", "0,0", "10", "-12,5"]);
        let trims = [(1.50, 2), (10.0, 2), (100.0, 0), (-0.001, 2), (90.04, 1)].map(|(it, places)| trimmed(it, places));
        assert_eq!(trims, ["1,5", "10", "100", "0", "90"]);
    }
}
