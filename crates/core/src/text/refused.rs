//! What RON's reader refuses, in plain words, at the right place, and with the nearest valid name.
//!
//! The reader's own message is often a consequence of the slip and not the slip itself: `50 cm` without quotation marks
//! looks to it like a missing comma. The common ones are recognised from the text round the place.

use ron::error::{Error, SpannedError};

use super::{fault::Fault, field_path::FieldPath, nearest::nearest, position::Position, spans::SpanIndex};

/// How a length is called in the reader's messages.
const DIM_EXPECTED: &str = "a length";
const LENGTH_MEND: &str = "write a number, or a text in quotation marks such as \"56 cm\" or \"2 * ply\"";

/// Cause and mend.
type Words = (String, String);

/// Where the reader stopped.
struct Stop<'i, 't> {
    index: &'i SpanIndex<'t>,
    text: &'t str,
    /// Before and behind what it read last.
    start: usize,
    end: usize,
}

impl Fault {
    /// What RON's reader complains about, in plain words and with the nearest valid name.
    #[must_use]
    pub fn from_ron(error: &SpannedError, index: &SpanIndex<'_>) -> Self {
        let byte = |position: ron::error::Position| index.byte(Position { line: position.line, column: position.col });
        let stop = Stop { index, text: index.text(), start: byte(error.span.start), end: byte(error.span.end) };
        let (at, path, cause, mend) = stop.explain(&error.code);
        Self { path: Some(path), at: Some(index.position(at)), cause, mend }
    }
}

impl Stop<'_, '_> {
    fn explain(&self, code: &Error) -> (usize, FieldPath, String, Option<String>) {
        if let Some((at, path, (cause, mend))) = self.recognised(code) {
            return (at, path, cause, Some(mend));
        }
        let mut at = match code {
            Error::NoSuchStructField { found, .. } | Error::NoSuchEnumVariant { found, .. } => self.name(found),
            Error::ExpectedComma | Error::TrailingCharacters | Error::ExpectedStructLikeEnd => self.end,
            _ => self.first_sign(),
        };
        let mut path = self.index.path_at(at);
        match code {
            // The path names the structure, the cause the field in it.
            Error::NoSuchStructField { .. } | Error::DuplicateStructField { .. } | Error::ExpectedMapColon => {
                path = path.parent().unwrap_or_default();
            }
            // The reader stands at the closing bracket; show where the structure begins.
            Error::MissingStructField { .. } => at = self.index.span(&path).map_or(at, |span| span.start),
            Error::InvalidValueForType { .. } => (at, path) = self.last_value(self.start),
            _ => {}
        }
        let (cause, mend) = plain_words(code);
        (at, path, cause, mend)
    }

    fn before(&self, byte: usize) -> &str {
        self.text.get(..byte).unwrap_or_default()
    }

    fn after(&self, byte: usize) -> &str {
        self.text.get(byte..).unwrap_or_default()
    }

    /// The reader stands behind the name that it complains about; where the name begins.
    fn name(&self, name: &str) -> usize {
        self.before(self.end).rfind(name).filter(|_| !name.is_empty()).unwrap_or(self.start)
    }

    /// The reader's place may still lie before the spaces that it skipped.
    fn first_sign(&self) -> usize {
        let rest = self.after(self.start);
        (self.start + rest.len() - rest.trim_start().len()).min(self.end.max(self.start))
    }

    /// The value that begins or ends at `byte`, or before the spaces there.
    fn last_value(&self, byte: usize) -> (usize, FieldPath) {
        let ends = self.after(byte).starts_with(|c: char| c.is_whitespace() || matches!(c, ',' | ')' | ']' | '}'));
        let inside = if ends { self.last_sign(byte) } else { byte };
        let path = self.index.path_at(inside);
        (self.index.span(&path).map_or(byte, |span| span.start), path)
    }

    /// The last byte before `byte` that is no space.
    fn last_sign(&self, byte: usize) -> usize {
        self.before(byte).trim_end().char_indices().next_back().map_or(0, |(at, _)| at)
    }

    /// Slips that the reader takes for something else.
    fn recognised(&self, code: &Error) -> Option<(usize, FieldPath, Words)> {
        match code {
            Error::ExpectedComma => self.comma(),
            // A value too many: the reader has just passed a comma and wants the end.
            Error::ExpectedStructLikeEnd if self.before(self.end).trim_end().ends_with(',') => {
                let path = self.index.path_at(self.end).parent().unwrap_or_default();
                if let Some(found) = self.decimal_comma(&path) {
                    return Some(found);
                }
                let words =
                    words("there are too many values in these parentheses", "delete from here to the closing `)`");
                Some((self.end, path, words))
            }
            Error::SuggestRawIdentifier(digits) if digits.starts_with(|c: char| c.is_ascii_digit()) => {
                let whole = self.before(self.start).strip_suffix(',')?;
                let digits_before = whole.len() - whole.trim_end_matches(|c: char| c.is_ascii_digit()).len();
                if digits_before == 0 {
                    return None;
                }
                let (at, path) = self.last_value(whole.len());
                let number = whole.get(whole.len() - digits_before..).unwrap_or_default();
                let cause = format!("`{number},{digits}` is read as two values");
                Some((at, path, (cause, format!("write the number with a point: {number}.{digits}"))))
            }
            // The reader takes the line of a fraction for the beginning of a comment.
            Error::UnexpectedChar(c) if c.is_ascii_digit() && self.before(self.end).contains('/') => {
                let line = self.before(self.end).rfind('/')?;
                let (at, path) = self.last_value(line);
                Some((at, path, unquoted()))
            }
            _ => None,
        }
    }

    /// A number with a decimal comma among the values in parentheses: digits on both sides of a comma without a space.
    /// Where all commas are like that it is not known which one is meant.
    fn decimal_comma(&self, path: &FieldPath) -> Option<(usize, FieldPath, Words)> {
        let span = self.index.span(path)?;
        let inside = self.text.get(span.clone())?;
        let is_digit = |c: char| c.is_ascii_digit();
        let joined = |comma: usize| {
            let (before, after) = (inside.get(..comma)?, inside.get(comma + 1..)?);
            let whole = before.len() - before.trim_end_matches(|c: char| is_digit(c) || c == '-').len();
            let parts = after.len() - after.trim_start_matches(is_digit).len();
            let number = before.get(before.len() - whole..)?;
            (before.ends_with(is_digit) && parts > 0)
                .then(|| (comma - whole, number, after.get(..parts).unwrap_or_default()))
        };
        let commas: Vec<usize> = inside.match_indices(',').map(|it| it.0).collect();
        let found: Vec<_> = commas.iter().filter_map(|&it| joined(it)).collect();
        let &(at, number, digits) = found.first()?;
        let words = if found.len() < commas.len() {
            let cause = format!("`{number},{digits}` is read as two values");
            (cause, format!("write the number with a point: {number}.{digits}"))
        } else {
            let cause = "there are too many values in these parentheses";
            words(cause, "write a number with a decimal comma with a point, as in 580.5, or delete what is too many")
        };
        Some((span.start + at, path.clone(), words))
    }

    /// What is wrong where a comma is wanted.
    fn comma(&self) -> Option<(usize, FieldPath, Words)> {
        let rest = self.after(self.end);
        if rest.trim().is_empty() {
            let (cause, mend) = (plain_words(&Error::Eof).0, "complete the last value and its brackets".to_owned());
            return Some((self.end, self.index.path_at(self.end), (cause, mend)));
        }
        let (at, path) = self.last_value(self.last_sign(self.end));
        let value = self.text.get(self.index.span(&path)?)?;
        let ends_whole = self.before(self.end).ends_with(|c: char| c.is_ascii_digit());
        if rest.starts_with('.') && ends_whole {
            let (cause, mend) = wanted("a whole number", "2");
            return Some((at, path, (cause, mend)));
        }
        if value.starts_with('"') && value.contains('\n') {
            let words = words(
                "the text that begins here runs over several lines",
                "add the closing `\"` that is missing in it",
            );
            return Some((at, path, words));
        }
        // `500 side: 3` lacks a comma, `50 cm` quotation marks.
        let name = rest.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_');
        let is_field = name.len() < rest.len() && name.trim_start().starts_with(':');
        let is_number = value.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'));
        let goes_on =
            rest.starts_with(|c: char| c.is_alphanumeric() || matches!(c, '+' | '-' | '*' | '/' | '"' | '\''));
        (is_number && goes_on && !is_field).then(|| (at, path, unquoted()))
    }
}

fn words(cause: &str, mend: &str) -> Words {
    (cause.to_owned(), mend.to_owned())
}

fn unquoted() -> Words {
    words(
        "a length with a unit, a fraction or an expression stands without quotation marks",
        "write it as in \"56 cm\" or \"2 * ply\"",
    )
}

fn choices(found: &str, expected: &[&'static str], kind: &str) -> String {
    match (nearest(found, expected), expected) {
        (Some(name), _) => format!("did you mean `{name}`?"),
        (None, []) => format!("delete it: no {kind} is allowed here"),
        (None, _) => format!("known here: {}", expected.join(", ")),
    }
}

/// Cause and mend of an error of RON's reader.
fn plain_words(code: &Error) -> (String, Option<String>) {
    let (cause, mend) = match code {
        Error::NoSuchStructField { expected, found, .. } => {
            (format!("unknown field `{found}`"), choices(found, expected, "field"))
        }
        Error::NoSuchEnumVariant { expected, found, .. } => {
            (format!("unknown choice `{found}`"), choices(found, expected, "choice"))
        }
        Error::MissingStructField { field, .. } => {
            (format!("the field `{field}` is missing"), format!("add `{field}: ...`"))
        }
        Error::DuplicateStructField { field, .. } => {
            (format!("the field `{field}` is given twice"), "delete one of them".to_owned())
        }
        Error::InvalidValueForType { expected, found } => {
            let mend = if expected == DIM_EXPECTED { LENGTH_MEND.to_owned() } else { format!("write {expected}") };
            (format!("{} stands where {expected} is wanted", plain_found(found)), mend)
        }
        Error::ExpectedDifferentLength { expected, found } => {
            let wanted = expected.strip_prefix("a tuple of size ").unwrap_or(expected);
            let values = if *found == 1 { "value stands" } else { "values stand" };
            (format!("{found} {values} here where {wanted} are wanted"), "add or delete values".to_owned())
        }
        Error::ExpectedBoolean => wanted("true or false", "true"),
        Error::ExpectedFloat => wanted("a number", "34 or 34.5"),
        Error::ExpectedInteger => wanted("a whole number", "2"),
        Error::ExpectedString | Error::ExpectedByteString => wanted("a text in quotation marks", "\"birch ply\""),
        Error::ExpectedChar | Error::ExpectedByteLiteral => wanted("a single character", "'a'"),
        Error::ExpectedOption => wanted("None or Some(...)", "Some(560)"),
        Error::ExpectedArray => wanted("a list in square brackets", "[1, 2]"),
        Error::ExpectedMap => wanted("a list of names in braces", "{ \"dryer\": (...) }"),
        Error::ExpectedStructLike | Error::ExpectedNamedStructLike(_) => {
            ("an opening `(` is wanted here".to_owned(), "write the values or fields in parentheses".to_owned())
        }
        Error::ExpectedUnit => wanted("an empty pair of parentheses", "()"),
        Error::ExpectedIdentifier => wanted("a field's name", "width: 600"),
        Error::ExpectedMapColon => ("a colon is missing".to_owned(), "write `name: value`".to_owned()),
        Error::ExpectedComma => ("a comma is missing before this".to_owned(), "add the `,`".to_owned()),
        Error::ExpectedArrayEnd => closing(']'),
        Error::ExpectedMapEnd => closing('}'),
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => closing(')'),
        Error::ExpectedStringEnd => ("this text is never closed".to_owned(), "add the closing `\"`".to_owned()),
        Error::UnclosedBlockComment => ("this comment is never closed".to_owned(), "add the closing `*/`".to_owned()),
        Error::Eof => ("the file ends too early".to_owned(), "complete the last value and its brackets".to_owned()),
        Error::TrailingCharacters => {
            ("something follows after the end of the design".to_owned(), "delete it, or check the brackets".to_owned())
        }
        Error::IntegerOutOfBounds => (
            "the number is too large, or below zero".to_owned(),
            "write a whole number that is possible here".to_owned(),
        ),
        Error::UnexpectedChar(c) => (format!("the sign `{c}` has no meaning here"), "delete it".to_owned()),
        Error::InvalidEscape(_) => (
            "the sign after a `\\` has no meaning".to_owned(),
            "write `\\\\` for a backslash and `\\\"` for a quote".to_owned(),
        ),
        Error::ExpectedDifferentStructName { expected, found } => (
            format!("`{found}` stands where `{expected}` is wanted"),
            format!("write `{expected}` or leave the name out"),
        ),
        Error::ExceededRecursionLimit => {
            ("brackets are nested too deep".to_owned(), "divide fewer bays inside each other".to_owned())
        }
        Error::InvalidIdentifier(name) | Error::SuggestRawIdentifier(name) => {
            (format!("`{name}` is no valid name here"), "use letters, digits and _".to_owned())
        }
        Error::ExpectedAttribute | Error::ExpectedAttributeEnd | Error::NoSuchExtension(_) => {
            ("the line that begins with # is not understood".to_owned(), "delete it".to_owned())
        }
        Error::Message(text) | Error::Io(text) => return (text.clone(), None),
        other => return (format!("this is not understood ({other})"), None),
    };
    (cause, Some(mend))
}

fn wanted(what: &str, example: &str) -> (String, String) {
    (format!("{what} is wanted here"), format!("write for example {example}"))
}

fn closing(bracket: char) -> (String, String) {
    (format!("a comma or the closing `{bracket}` is missing before this"), format!("add `,` or `{bracket}`"))
}

/// RON's words for what it found, without programmers' terms.
fn plain_found(found: &str) -> String {
    found
        .replace("the floating point number", "the number")
        .replace("the unsigned integer", "the number")
        .replace("the signed integer", "the number")
        .replace("the boolean", "the value")
        .replace("the string", "the text")
        .replace("the UTF-8 character", "the character")
        .replace("a unit value", "nothing")
        .replace("a sequence", "a list")
        .replace("an enum", "a choice")
        .replace("a map", "a group of fields")
}
