//! What is wrong in a design file, where, and what would mend it, in words for whoever wrote the file.

use std::fmt;

use super::{
    field_path::{FieldPath, Segment},
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
