//! From measured sizes to everything else: what is cut stays, what is not yet cut is derived anew.
//!
//! Thicknesses and openings go into the design as they were measured. A part that is cut pulls on what decides its size: the
//! bay that it spans, or the envelope. Solving again then closes every chain around it. Where a cut part cannot be met, it
//! keeps its size all the same, and what is missing is told.

mod apply;
mod salvage;

#[cfg(test)]
mod tests;

pub use apply::{Applied, apply, freeze};
pub use salvage::{Way, salvage};

use serde::Serialize;

use crate::finding::{Finding, Severity};
use crate::length::Length;
use crate::unit::{DecimalMark, Unit};

/// One size that is not what it was.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Difference {
    /// Of what: a part's number, a material, an opening.
    pub of: String,
    /// Which size.
    pub which: &'static str,
    /// What was computed from the design alone.
    pub planned: Length,
    /// What holds now.
    pub now: Length,
    /// What kind of difference it is.
    pub kind: DifferenceKind,
}

/// Why a size differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum DifferenceKind {
    /// It was measured.
    Measured,
    /// It follows from what was measured, and is still to be cut like that.
    Follows,
    /// The part is cut, and no longer fits: `now` is what it has, `planned` what its place asks for.
    DoesNotFit,
}

impl Difference {
    /// The difference as a finding: what does not fit is an error, the rest is good to know.
    #[must_use]
    pub fn finding(&self, unit: Unit) -> Finding {
        let text = |length: Length| unit.format(length, DecimalMark::Point);
        let (of, which, planned, now) = (&self.of, self.which, text(self.planned), text(self.now));
        let (severity, what, mend) = match self.kind {
            DifferenceKind::Measured => {
                (Severity::Note, format!("{which} of {of} was measured: {now} instead of {planned}"), None)
            }
            DifferenceKind::Follows => {
                (Severity::Note, format!("{which} of {of} is now {now}, for it was {planned} before measuring"), None)
            }
            DifferenceKind::DoesNotFit => (
                Severity::Error,
                format!("{of} is cut with a {which} of {now}, but its place asks for {planned}"),
                Some("cut it again, make it up with a strip, or free what holds its place to its size".to_owned()),
            ),
        };
        Finding {
            severity,
            check: "as_built.difference",
            what,
            measured: Some(now),
            limit: Some(planned),
            source: None,
            mend,
            place: None,
            about: vec![of.clone()],
            field: None,
        }
    }
}
