//! The answer for one axis.

use super::polish::Polished;
use super::problem::{AxisProblem, Face, MustId, MustKind, Span, VarId};
use super::quadratic::{Quadratic, mm};
use super::reduce::Reduced;
use super::rigid::inner_duals;
use crate::Length;

/// A real position this many millimetres from a bound is at the bound.
const TOUCHING: f64 = 1e-6;

/// A very weak pull on an unknown of which no wish speaks, so that the answer is unique: towards the middle of its play,
/// or the only end that its play has, or zero. The play is taken without ties.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchor {
    /// The unknown.
    pub var: VarId,
    /// Where it is pulled to.
    pub position: Length,
    /// The weight: a thousandth of the lightest wish, but no more than 1e-6 and no less than 1e-7 of the heaviest.
    pub weight: f64,
}

/// The answer for one axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// The position of each unknown. Exact: every must holds in whole nanometres.
    pub positions: Vec<Length>,
    /// The position of each unknown before rounding, in millimetres.
    pub raw_mm: Vec<f64>,
    /// How hard each must presses, in weight x millimetre: by how much the sum of the wishes would fall if the bound grew by a
    /// millimetre. Not below zero for an upper bound, not above zero for a lower bound; of a tie, for the difference that
    /// it would allow between the first and the second. Where more musts bind than are needed, one of many ways to share.
    pub duals: Vec<f64>,
    /// Whether each must is met without slack before rounding; equalities always are.
    pub active: Vec<bool>,
    /// The pulls that make the answer unique.
    pub anchors: Vec<Anchor>,
    /// The musts behind the active rows, ascending.
    pub(crate) pressing: Vec<usize>,
}

impl Solution {
    pub(crate) fn new(
        problem: &AxisProblem,
        reduced: &Reduced,
        quadratic: Quadratic,
        polished: &Polished,
        raw: &[f64],
        positions: Vec<Length>,
    ) -> Self {
        let raw_mm: Vec<f64> = (0..problem.vars)
            .map(|node| raw.get(reduced.class[node]).copied().unwrap_or(0.0) + mm(reduced.offset[node]))
            .collect();
        let mut duals = vec![0.0; problem.musts.len()];
        let mut pressing = Vec::new();
        let strength = quadratic.weight * quadratic.unit;
        for (row, z) in polished.z.iter().enumerate() {
            if let Some(tie) = reduced.ties.get(row) {
                duals[tie.must] += z * strength;
            } else if let Some(edge) = reduced.rows.get(row - reduced.ties.len())
                && polished.active[row]
            {
                duals[edge.must] += z * strength * f64::from(edge.sign);
                pressing.push(edge.must);
            }
        }
        inner_duals(problem, reduced, &quadratic, polished, &mut duals);
        pressing.sort_unstable();
        pressing.dedup();
        let active = problem.musts.iter().map(|must| touching(must.kind, &raw_mm)).collect();
        Self { positions, raw_mm, duals, active, anchors: quadratic.anchors, pressing }
    }

    /// The rows of `reduced` that the pressing musts stand behind: a guess of the active rows of a similar problem.
    pub(crate) fn pressing(&self, reduced: &Reduced) -> Vec<bool> {
        let ties = reduced.ties.iter().map(|_| true);
        ties.chain(reduced.rows.iter().map(|row| self.pressing.binary_search(&row.must).is_ok())).collect()
    }

    /// The position of a face. An unknown that the problem did not have counts as zero.
    #[must_use]
    pub fn position(&self, face: Face) -> Length {
        position(&self.positions, face)
    }

    /// The position of a face before rounding, in millimetres. An unknown that the problem did not have counts as zero.
    #[must_use]
    pub fn raw_position(&self, face: Face) -> f64 {
        raw_position(&self.raw_mm, face)
    }

    /// A size before rounding, in millimetres.
    #[must_use]
    pub fn raw_size(&self, span: Span) -> f64 {
        raw_size(&self.raw_mm, span)
    }

    /// A size: exact, as the difference of two positions.
    #[must_use]
    pub fn size(&self, span: Span) -> Length {
        size(&self.positions, span)
    }
}

/// The position of a face before rounding, in millimetres.
fn raw_position(raw_mm: &[f64], face: Face) -> f64 {
    face.var.and_then(|var| raw_mm.get(var.0).copied()).unwrap_or(0.0) + face.offset.mm()
}

/// A size before rounding, in millimetres.
fn raw_size(raw_mm: &[f64], span: Span) -> f64 {
    raw_position(raw_mm, span.hi) - raw_position(raw_mm, span.lo) + span.constant.mm()
}

fn position(positions: &[Length], face: Face) -> Length {
    face.var.and_then(|var| positions.get(var.0).copied()).unwrap_or_default() + face.offset
}

fn size(positions: &[Length], span: Span) -> Length {
    position(positions, span.hi) - position(positions, span.lo) + span.constant
}

fn touching(kind: MustKind, raw: &[f64]) -> bool {
    match kind {
        MustKind::AtLeast(span, length) | MustKind::AtMost(span, length) => {
            (raw_size(raw, span) - length.mm()).abs() <= TOUCHING
        }
        MustKind::Exactly(..) | MustKind::Equal(..) | MustKind::InLine(..) => true,
    }
}

/// Positions of the unknowns from positions of the free roots.
pub(crate) fn positions(reduced: &Reduced, roots: &[i64]) -> Vec<Length> {
    let nodes = reduced.class.len().saturating_sub(1);
    (0..nodes)
        .map(|node| {
            Length::from_nm(roots.get(reduced.class[node]).copied().unwrap_or(0).saturating_add(reduced.offset[node]))
        })
        .collect()
}

/// The musts that do not hold at these positions, in exact arithmetic.
#[must_use]
pub fn broken(problem: &AxisProblem, positions: &[Length]) -> Vec<MustId> {
    let holds = |kind: MustKind| match kind {
        MustKind::AtLeast(span, length) => size(positions, span) >= length,
        MustKind::AtMost(span, length) => size(positions, span) <= length,
        MustKind::Exactly(span, length) => size(positions, span) == length,
        MustKind::Equal(a, b) => (size(positions, a) - size(positions, b)).abs() <= problem.step,
        MustKind::InLine(a, b) => position(positions, a) == position(positions, b),
    };
    (0..problem.musts.len()).filter(|must| !holds(problem.musts[*must].kind)).map(MustId).collect()
}
