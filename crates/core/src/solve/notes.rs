//! What is worth saying about a solution that holds: ties that rounding left a step apart.

use super::Solved;
use super::conflict::written;
use super::model::Model;
use super::reason::{ReasonKind, size_word};
use crate::axis::MustKind;
use crate::finding::{Finding, Severity};
use crate::geometry::Axis;
use crate::length::Length;

impl Solved<'_> {
    /// Notes on the solution, in the order of the design.
    #[must_use]
    pub fn notes(&self) -> Vec<Finding> {
        let mut notes = Vec::new();
        for axis in Axis::ALL {
            let solution = &self.solutions[axis.index()];
            for must in &self.model.problems[axis.index()].musts {
                let MustKind::Equal(a, b) = must.kind else { continue };
                let (a, b) = (solution.size(a), solution.size(b));
                if a != b {
                    notes.extend(uneven(&self.model, axis, must.label, a, b));
                }
            }
        }
        notes
    }
}

fn uneven(model: &Model<'_>, axis: Axis, label: usize, a: Length, b: Length) -> Option<Finding> {
    let reason = model.reason(axis, label)?;
    let (ReasonKind::Tied, [first, second]) = (&reason.kind, reason.about.as_slice()) else { return None };
    let (size, design) = (size_word(axis), model.design);
    Some(Finding {
        severity: Severity::Note,
        check: "fit.tie",
        what: format!(
            "bays {first:?} and {second:?} are tied to one {size}, but what there is does not divide by the step of the unit: \
             {} and {}",
            written(design, a),
            written(design, b)
        ),
        measured: Some(written(design, (a - b).abs())),
        limit: Some(written(design, design.unit.step())),
        source: Some("rounding of positions to the step of the unit".to_owned()),
        mend: Some(format!("change the {size} of the whole by one step, or take a finer step")),
        place: None,
        about: reason.about.clone(),
        field: Some(reason.field.clone()),
    })
}
