//! The words of a length expression: numbers, names, units and signs, each with its place in the text.

use std::ops::Range;

use super::{ExprError, rational::Rational};

/// The most digits before the decimal mark.
const WHOLE_DIGITS: usize = 15;
/// The most digits after the decimal mark.
const DECIMAL_DIGITS: usize = 12;

/// A unit that may follow a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Suffix {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
}

impl Suffix {
    /// The names that are units and therefore no parameters.
    pub(super) const NAMES: [&'static str; 5] = ["mm", "cm", "m", "in", "ft"];

    /// The unit that a word for it means, such as `inch`: what is read is the unit, not the word.
    pub(super) fn meant(word: &str) -> Option<&'static str> {
        Some(match word.to_lowercase().as_str() {
            "inch" | "inches" | "zoll" => "in",
            "foot" | "feet" | "fuß" | "fuss" => "ft",
            "millimetre" | "millimetres" | "millimeter" | "millimeters" => "mm",
            "centimetre" | "centimetres" | "centimeter" | "centimeters" => "cm",
            "metre" | "metres" | "meter" | "meters" => "m",
            _ => return None,
        })
    }

    pub(super) fn named(name: &str) -> Option<Self> {
        Some(match name {
            "mm" => Self::Millimetre,
            "cm" => Self::Centimetre,
            "m" => Self::Metre,
            "in" => Self::Inch,
            "ft" => Self::Foot,
            _ => return None,
        })
    }

    /// The nanometres in one of this unit; an inch is 25.4 mm exactly (international yard, 1959).
    pub(super) const fn nm(self) -> i64 {
        match self {
            Self::Millimetre => 1_000_000,
            Self::Centimetre => 10_000_000,
            Self::Metre => 1_000_000_000,
            Self::Inch => 25_400_000,
            Self::Foot => 304_800_000,
        }
    }
}

/// One word of an expression.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Word {
    Integer(i64),
    Decimal(Rational),
    Name(String),
    Unit(Suffix),
    Plus,
    Minus,
    Times,
    Over,
    Open,
    Close,
}

/// A word and the bytes that it was read from.
#[derive(Clone, Debug)]
pub(super) struct Token {
    pub(super) word: Word,
    pub(super) span: Range<usize>,
}

/// Whether `c` may begin a parameter's name.
pub(super) fn begins_name(c: char) -> bool {
    c.is_alphabetic() || c == '_'
}

/// Whether `c` may stand inside a parameter's name.
pub(super) fn continues_name(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// The words of `text`, in order.
pub(super) fn tokens(text: &str) -> Result<Vec<Token>, ExprError> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(c) = text.get(at..).and_then(|rest| rest.chars().next()) {
        let rest = text.get(at..).unwrap_or_default();
        let (word, length) = match c {
            _ if c.is_whitespace() => {
                at += c.len_utf8();
                continue;
            }
            '0'..='9' | '.' | ',' => number(rest, at)?,
            _ if begins_name(c) => {
                let length = rest.find(|c| !continues_name(c)).unwrap_or(rest.len());
                let name = rest.get(..length).unwrap_or_default();
                (Suffix::named(name).map_or_else(|| Word::Name(name.to_owned()), Word::Unit), length)
            }
            '+' => (Word::Plus, 1),
            '-' | '\u{2212}' => (Word::Minus, c.len_utf8()),
            '*' | '×' | '·' => (Word::Times, c.len_utf8()),
            '/' | '÷' => (Word::Over, c.len_utf8()),
            '(' => (Word::Open, 1),
            ')' => (Word::Close, 1),
            '\'' if rest.starts_with("''") => (Word::Unit(Suffix::Inch), 2),
            '"' | '″' | '”' => (Word::Unit(Suffix::Inch), c.len_utf8()),
            '\'' | '′' | '’' => (Word::Unit(Suffix::Foot), c.len_utf8()),
            _ => {
                return Err(ExprError::new(
                    at..at + c.len_utf8(),
                    format!("the sign `{c}` has no meaning in a length"),
                )
                .mend("use numbers, units (mm, cm, m, in, ft), parameter names, + - * / and parentheses"));
            }
        };
        found.push(Token { word, span: at..at + length });
        at += length;
    }
    Ok(found)
}

/// The number at the start of `rest`, which begins at byte `at` of the expression, and its length in bytes.
fn number(rest: &str, at: usize) -> Result<(Word, usize), ExprError> {
    let digits = |from: usize| {
        let tail = rest.get(from..).unwrap_or_default();
        tail.find(|c: char| !c.is_ascii_digit()).unwrap_or(tail.len())
    };
    let mark = |from: usize| rest.get(from..).and_then(|tail| tail.chars().next()).filter(|c| matches!(c, '.' | ','));
    let whole = digits(0);
    let Some(decimal_mark) = mark(whole) else {
        let value = rest.get(..whole).filter(|_| whole <= WHOLE_DIGITS).and_then(|text| text.parse().ok());
        return value.map(|value| (Word::Integer(value), whole)).ok_or_else(|| too_long(at..at + whole));
    };
    let decimals = digits(whole + 1);
    let length = whole + 1 + decimals;
    let span = at..at + length;
    let text = |range: Range<usize>| rest.get(range).unwrap_or_default();
    if decimals == 0 {
        return Err(ExprError::new(span, format!("digits are missing after the `{decimal_mark}`"))
            .mend("write the decimals, or leave the mark out"));
    }
    if mark(length).is_some() {
        return Err(ExprError::new(span, "the number has more than one decimal mark")
            .mend("write thousands without a mark, as in 1250.5"));
    }
    let leading = text(0..whole);
    if decimal_mark == ',' && decimals == 3 && (1..=3).contains(&whole) && !leading.starts_with('0') {
        let group = text(whole + 1..length);
        return Err(ExprError::new(span, format!("`{leading},{group}` can be read in two ways"))
            .mend(format!("write `{leading}{group}` or `{leading}.{group}`")));
    }
    if whole > WHOLE_DIGITS || decimals > DECIMAL_DIGITS {
        return Err(too_long(span));
    }
    let digits_only = format!("{leading}{}", text(whole + 1..length));
    let scale = u32::try_from(decimals).ok().and_then(|power| 10_i128.checked_pow(power));
    digits_only
        .parse()
        .ok()
        .zip(scale)
        .and_then(|(upper, lower)| Rational::new(upper, lower))
        .map(|value| (Word::Decimal(value), length))
        .ok_or_else(|| too_long(span))
}

fn too_long(span: Range<usize>) -> ExprError {
    ExprError::new(span, "the number has too many digits")
        .mend(format!("at most {WHOLE_DIGITS} digits before and {DECIMAL_DIGITS} after the decimal mark"))
}
