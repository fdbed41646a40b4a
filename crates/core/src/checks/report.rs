//! Collects findings, with how bad each is, and puts the worst first.

use crate::finding::{Finding, Severity};
use crate::geometry::Cuboid;
use crate::mechanics::source::Source;
use crate::text::FieldPath;

/// A finding being put together.
pub(super) struct Found {
    finding: Finding,
    /// How far past its limit: 1 is at the limit.
    usage: f64,
}

impl Found {
    pub(super) fn new(severity: Severity, check: &'static str, what: impl Into<String>) -> Self {
        let finding = Finding {
            severity,
            check,
            what: what.into(),
            measured: None,
            limit: None,
            source: None,
            mend: None,
            place: None,
            about: Vec::new(),
            field: None,
        };
        Self { finding, usage: 0.0 }
    }

    pub(super) fn measured(mut self, text: impl Into<String>) -> Self {
        self.finding.measured = Some(text.into());
        self
    }

    pub(super) fn limit(mut self, text: impl Into<String>) -> Self {
        self.finding.limit = Some(text.into());
        self
    }

    /// Where limit or formula come from. One that may not decide alone makes an error a warning.
    pub(super) fn source(mut self, source: Source) -> Self {
        if !source.may_decide() && self.finding.severity == Severity::Error {
            self.finding.severity = Severity::Warning;
        }
        let text = source.to_string();
        self.finding.source = Some(match self.finding.source.take() {
            Some(before) if before != text => format!("{before}; {text}"),
            _ => text,
        });
        self
    }

    pub(super) fn mend(mut self, text: impl Into<String>) -> Self {
        self.finding.mend = Some(text.into());
        self
    }

    pub(super) const fn place(mut self, place: Cuboid) -> Self {
        self.finding.place = Some(place);
        self
    }

    pub(super) fn about(mut self, name: impl Into<String>) -> Self {
        self.finding.about.push(name.into());
        self
    }

    pub(super) fn field(mut self, field: Option<FieldPath>) -> Self {
        self.finding.field = field;
        self
    }

    pub(super) const fn usage(mut self, usage: f64) -> Self {
        self.usage = usage;
        self
    }
}

/// The findings so far.
#[derive(Default)]
pub(super) struct Report {
    found: Vec<Found>,
}

impl Report {
    pub(super) fn add(&mut self, found: Found) {
        self.found.push(found);
    }

    pub(super) fn sorted(mut self) -> Vec<Finding> {
        // A stable sort: equal ones stay in the order of the checks.
        self.found.sort_by(|a, b| b.finding.severity.cmp(&a.finding.severity).then(b.usage.total_cmp(&a.usage)));
        self.found.into_iter().map(|it| it.finding).collect()
    }
}
