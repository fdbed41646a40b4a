//! Figures within texts: sizes, weights, counts. They are no words, so every language has them, with its own decimal mark.

/// Letters that stand beside figures and mean the same in every language of the program.
const UNITS: [&str; 25] = [
    "mm", "cm", "m", "in", "kg", "g", "N", "Nm", "kN", "J", "MPa", "GPa", "l", "W", "A", "V", "K", "h", "min", "s",
    "x", "X", "Y", "Z", "R",
];

/// Whether a text is a figure: digits, signs and units only.
pub(super) fn is_figure(text: &str) -> bool {
    text.contains(|c: char| c.is_ascii_digit())
        && text.split(|c: char| !c.is_alphabetic()).all(|run| run.is_empty() || UNITS.contains(&run))
}

/// Whether a text is a mark, such as the number of a joint, a block or a cut: capitals, then digits; perhaps in brackets.
pub(super) fn is_mark(text: &str) -> bool {
    let text = text.strip_prefix('(').and_then(|it| it.strip_suffix(')')).unwrap_or(text);
    let digits = text.trim_start_matches(|c: char| c.is_ascii_uppercase());
    let letters = text.len() - digits.len();
    (1..=3).contains(&letters) && digits.chars().all(|c| c.is_ascii_digit())
}

/// A figure with decimal commas: points between digits are the decimal marks of the English figures.
pub(crate) fn with_commas(figure: &str) -> String {
    let chars: Vec<char> = figure.chars().collect();
    let is_digit = |at: Option<usize>| at.and_then(|at| chars.get(at)).is_some_and(char::is_ascii_digit);
    let comma = |(at, c): (usize, &char)| {
        if *c == '.' && is_digit(at.checked_sub(1)) && is_digit(Some(at + 1)) { ',' } else { *c }
    };
    chars.iter().enumerate().map(comma).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_no_words() {
        for figure in
            ["12", "12.5 mm", "600 x 400 x 18", "~22 1/16\" (560.4 mm)", "0.7 N/mm²", "height/500".get(7..).unwrap()]
        {
            assert!(is_figure(figure), "{figure}");
        }
        for word in ["mm", "bay 1", "12 dowels", "", "–"] {
            assert!(!is_figure(word), "{word}");
        }
        assert!(
            is_mark("J12")
                && is_mark("(J2)")
                && is_mark("A")
                && is_mark("TO")
                && !is_mark("Top")
                && !is_mark("12")
                && !is_mark("")
        );
        assert_eq!(with_commas("5.8 mm over 566.5, 3. and"), "5,8 mm over 566,5, 3. and");
    }
}
