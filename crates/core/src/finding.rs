//! Findings: the result of one check, as data.

use serde::Serialize;

use crate::geometry::Cuboid;
use crate::text::FieldPath;

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Severity {
    /// Good to know.
    Note,
    /// Works, but ought to be looked at.
    Warning,
    /// Cannot be built or used like this.
    Error,
}

impl Severity {
    /// The word for it, in lower case.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }

    /// The word for it at the head of a line.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Note => "Note",
            Self::Warning => "Warning",
            Self::Error => "Error",
        }
    }
}

impl Finding {
    /// Whether it is a usual caution, which says nothing of the piece itself.
    #[must_use]
    pub fn is_caution(&self) -> bool {
        self.check.starts_with("caution.")
    }
}

/// One result of a check: severity, what, measured, limit, source, and what would mend it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// How bad it is.
    pub severity: Severity,
    /// A stable id of the check, such as `fit.width`.
    pub check: &'static str,
    /// What was found, one sentence.
    pub what: String,
    /// The value found, with its unit.
    pub measured: Option<String>,
    /// The value allowed, with its unit.
    pub limit: Option<String>,
    /// Where the limit or formula comes from.
    pub source: Option<String>,
    /// What would mend it.
    pub mend: Option<String>,
    /// Where in the piece it is.
    pub place: Option<Cuboid>,
    /// Names of the bays, parts and things concerned.
    pub about: Vec<String>,
    /// The field of the design that it comes from.
    pub field: Option<FieldPath>,
}
