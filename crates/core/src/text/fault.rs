//! What is wrong in a design file, where, and what would mend it, in words for whoever wrote the file.

use std::fmt;

use ron::error::{Error, SpannedError};

use super::{
    field_path::{FieldPath, Segment},
    nearest::nearest,
    position::Position,
    spans::{Duplicate, ScanProblem, SpanIndex},
};
use crate::expr::ExprError;

/// One problem in a design file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The value that is at fault, if it is one.
    pub path: Option<FieldPath>,
    /// Where in the text it stands, if there is a text.
    pub at: Option<Position>,
    /// What is wrong.
    pub cause: String,
    /// What would mend it.
    pub mend: Option<String>,
}

impl Fault {
    /// A problem that is not tied to a place.
    pub fn new(cause: impl Into<String>) -> Self {
        Self { path: None, at: None, cause: cause.into(), mend: None }
    }

    /// A problem with the value at `path`.
    pub fn at_path(path: FieldPath, cause: impl Into<String>) -> Self {
        Self { path: Some(path), ..Self::new(cause) }
    }

    /// The same problem with what would mend it.
    #[must_use]
    pub fn mend(mut self, mend: impl Into<String>) -> Self {
        self.mend = Some(mend.into());
        self
    }

    /// The same problem with its place in the text, as near as the text has it, unless it has a place already.
    #[must_use]
    pub fn located(mut self, index: &SpanIndex<'_>) -> Self {
        if let (None, Some(path)) = (self.at, &self.path) {
            self.at = index.locate_near(path);
        }
        self
    }

    /// A mistake in the expression at `path`, placed at the sign that is at fault if `index` is of the design's text.
    #[must_use]
    pub fn expression(path: FieldPath, error: ExprError, index: Option<&SpanIndex<'_>>) -> Self {
        let at =
            index.and_then(|index| index.locate_within(&path, error.span.start).or_else(|| index.locate_near(&path)));
        Self { path: Some(path), at, cause: error.cause, mend: error.mend }
    }

    /// A field or key that is given twice.
    #[must_use]
    pub fn duplicate(duplicate: &Duplicate) -> Self {
        let name = match duplicate.path.segments().last() {
            Some(Segment::Field(name)) => format!("the field `{name}`"),
            Some(Segment::Key(key)) => format!("the name {key:?}"),
            _ => "this value".to_owned(),
        };
        let cause = format!("{name} is given twice, first in line {}", duplicate.first.line);
        Self { path: duplicate.path.parent(), at: Some(duplicate.second), ..Self::new(cause) }
            .mend("rename or delete one of them")
    }

    /// Brackets, quotes or comments that do not close.
    #[must_use]
    pub fn shape(problem: ScanProblem) -> Self {
        let (at, cause, mend) = match problem {
            ScanProblem::TooDeep(at) => (
                at,
                format!("brackets are nested deeper than {}", super::spans::MAX_NESTING),
                "divide fewer bays inside each other".to_owned(),
            ),
            ScanProblem::Unclosed(at) => {
                (at, "this text or comment is never closed".to_owned(), "add the closing `\"` or `*/`".to_owned())
            }
            ScanProblem::Unbalanced { opened: Some(opened), closed } => (
                closed,
                format!("the bracket opened at {opened} is not closed by a fitting one here"),
                format!("close it, or check the brackets between {opened} and here"),
            ),
            ScanProblem::Unbalanced { opened: None, closed } => {
                (closed, "a bracket closes here that was never opened".to_owned(), "delete it".to_owned())
            }
        };
        Self { at: Some(at), ..Self::new(cause) }.mend(mend)
    }

    /// What RON's reader complains about, in plain words and with the nearest valid name.
    #[must_use]
    pub fn from_ron(error: &SpannedError, index: &SpanIndex<'_>) -> Self {
        let start = index.byte(Position { line: error.span.start.line, column: error.span.start.col });
        let end = index.byte(Position { line: error.span.end.line, column: error.span.end.col });
        let text = index.text();
        let (mut cause, mut mend) = plain_words(&error.code);
        let byte = match &error.code {
            // The reader stands behind the name that it complains about; go back to where the name begins.
            Error::NoSuchStructField { found, .. } | Error::NoSuchEnumVariant { found, .. } if !found.is_empty() => {
                text.get(..end).and_then(|before| before.rfind(found.as_str())).unwrap_or(start)
            }
            Error::ExpectedComma if is_decimals(text, end) => {
                (cause, mend) = plain_words(&Error::ExpectedInteger);
                text.get(..end).map_or(end, |before| before.trim_end_matches(|c: char| c.is_ascii_digit()).len())
            }
            Error::ExpectedComma if text.get(end..).is_none_or(|rest| rest.trim().is_empty()) => {
                (cause, mend) = plain_words(&Error::Eof);
                end
            }
            Error::ExpectedComma | Error::TrailingCharacters | Error::ExpectedStructLikeEnd => end,
            _ => start,
        };
        let mut path = index.path_at(byte);
        let mut at = index.position(byte);
        match &error.code {
            // The path names the structure, the cause the field in it.
            Error::NoSuchStructField { .. } | Error::DuplicateStructField { .. } | Error::ExpectedMapColon => {
                path = path.parent().unwrap_or_default();
            }
            // The reader stands at the closing bracket; show where the structure begins.
            Error::MissingStructField { .. } => at = index.locate(&path).unwrap_or(at),
            _ => {}
        }
        Self { path: Some(path), at: Some(at), cause, mend }
    }

    /// The fault as one line of a program's output: `file:line:column: cause; mend`.
    #[must_use]
    pub fn in_file(&self, file: &str) -> String {
        if self.at.is_some() { format!("{file}:{self}") } else { format!("{file}: {self}") }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(at) = self.at {
            write!(f, "{at}: ")?;
        }
        if let Some(path) = self.path.as_ref().filter(|path| !path.is_root()) {
            write!(f, "{path}: ")?;
        }
        f.write_str(&self.cause)?;
        match &self.mend {
            Some(mend) => write!(f, "; {mend}"),
            None => Ok(()),
        }
    }
}

impl std::error::Error for Fault {}

/// Whether the text goes on with the decimals of a number whose whole part ends at `byte`.
fn is_decimals(text: &str, byte: usize) -> bool {
    text.get(..byte).is_some_and(|before| before.ends_with(|c: char| c.is_ascii_digit()))
        && text.get(byte..).is_some_and(|after| after.starts_with('.'))
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
            (format!("{} stands where {expected} is wanted", plain_found(found)), format!("write {expected}"))
        }
        Error::ExpectedDifferentLength { expected, found } => {
            (format!("{found} values stand where {expected} is wanted"), "add or delete values".to_owned())
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
            wanted("a group of fields in parentheses", "(width: 600)")
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
        Error::IntegerOutOfBounds => ("the number is out of range".to_owned(), "write a smaller number".to_owned()),
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
