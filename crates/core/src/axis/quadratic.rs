//! The wishes over the classes as a convex quadratic program.
//!
//! Unknowns are class roots in units of `Quadratic::unit` millimetres, so that numbers are near one; the objective is
//! divided by the heaviest weight. Minimise `x'Px/2 + q'x` where the first `ties` rows of `Ax + s = b` have `s = 0` and
//! the others `s >= 0`.

use clarabel::algebra::CscMatrix;
use clarabel::qdldl::{QDLDLFactorisation, QDLDLSettings};

use super::exact::{combined, flatten};
use super::problem::{AxisProblem, Span, WishKind};
use super::program::Program;
use super::reduce::Reduced;
use super::{Anchor, AxisError, VarId};
use crate::Length;

/// A weight below this part of the heaviest counts as this part.
pub(crate) const LEAST_WEIGHT: f64 = 1e-6;
/// A weight below this wishes for nothing.
const NO_WEIGHT: f64 = 1e-12;
/// The pivot, after scaling the diagonal to one, below which the wishes say nothing about an unknown.
const SILENT_PIVOT: f64 = 1e-12;
/// What a silent pivot is replaced with while looking for them; no true pivot is larger than one.
const SILENT_MARK: f64 = 2.0;

/// A wish in terms of classes: the residual is `sum of factor x root + constant`, in millimetres.
#[derive(Clone, Debug)]
pub(crate) struct Residual {
    pub(crate) terms: Vec<(usize, f64)>,
    pub(crate) constant: f64,
    pub(crate) weight: f64,
    /// The wish, or none for an anchor.
    pub(crate) wish: Option<usize>,
}

/// The quadratic program of one axis: ties first, then the edges between classes.
#[derive(Clone, Debug)]
pub(crate) struct Quadratic {
    pub(crate) program: Program,
    /// Millimetres in one unit of the unknowns.
    pub(crate) unit: f64,
    /// What the objective was divided by, in weight.
    pub(crate) weight: f64,
    pub(crate) residuals: Vec<Residual>,
    pub(crate) anchors: Vec<Anchor>,
}

/// The length in millimetres of a whole number of nanometres.
pub(crate) fn mm(nm: i64) -> f64 {
    Length::from_nm(nm).mm()
}

fn span_terms(span: Span, factor: f64, reduced: &Reduced, terms: &mut Vec<(usize, f64)>) -> f64 {
    let flat = flatten(reduced.class.len() - 1, span);
    let mut nm = flat.constant;
    for (node, sign) in [(flat.hi, 1), (flat.lo, -1)] {
        nm += sign * reduced.offset[node];
        if reduced.class[node] != reduced.free {
            terms.push((reduced.class[node], factor * sign as f64));
        }
    }
    factor * mm(nm)
}

/// The factors of the two sizes in the residual of a proportion; none if both shares are zero.
pub(crate) fn proportion(share_a: f64, share_b: f64) -> Option<(f64, f64)> {
    let larger = share_a.max(share_b);
    let (share_a, share_b) = (share_a / larger, share_b / larger);
    let sum = share_a + share_b;
    (larger > 0.0).then_some((share_b / sum, -share_a / sum))
}

/// Like terms added; zeros stay, so that the pattern does not depend on the numbers.
fn gathered(mut terms: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
    terms.sort_by_key(|(class, _)| *class);
    terms.dedup_by(|next, first| {
        let same = next.0 == first.0;
        if same {
            first.1 += next.1;
        }
        same
    });
    terms
}

/// The wishes as residuals over classes.
fn residuals(problem: &AxisProblem, reduced: &Reduced) -> Vec<Residual> {
    let heaviest = problem.wishes.iter().map(|wish| wish.weight).fold(0.0, f64::max);
    let mut out = Vec::with_capacity(problem.wishes.len());
    for (index, wish) in problem.wishes.iter().enumerate().filter(|(_, wish)| wish.weight >= NO_WEIGHT) {
        let mut terms = Vec::with_capacity(4);
        let constant = match wish.kind {
            WishKind::Size { span, target } => span_terms(span, 1.0, reduced, &mut terms) - target.mm(),
            WishKind::Position { face, position } => {
                let span = Span::between(super::Face::fixed(Length::ZERO), face);
                span_terms(span, 1.0, reduced, &mut terms) - position.mm()
            }
            WishKind::Proportion { a, share_a, b, share_b } => {
                let Some((of_a, of_b)) = proportion(share_a, share_b) else { continue };
                span_terms(a, of_a, reduced, &mut terms) + span_terms(b, of_b, reduced, &mut terms)
            }
        };
        let weight = wish.weight.max(LEAST_WEIGHT * heaviest);
        out.push(Residual { terms: gathered(terms), constant, weight, wish: Some(index) });
    }
    out
}

fn upper_triangle(free: usize, residuals: &[Residual], weight: f64) -> CscMatrix<f64> {
    let (mut rows, mut columns, mut values) =
        ((0..free).collect::<Vec<_>>(), (0..free).collect::<Vec<_>>(), vec![0.0; free]);
    for residual in residuals {
        for (place, (i, left)) in residual.terms.iter().enumerate() {
            for (j, right) in &residual.terms[place..] {
                rows.push(*i);
                columns.push(*j);
                values.push(residual.weight / weight * left * right);
            }
        }
    }
    CscMatrix::new_from_triplets(free, free, rows, columns, values)
}

/// The classes about which the wishes say nothing, given the classes before them in elimination order: as many as
/// the matrix lacks in rank.
fn silent(p: &CscMatrix<f64>) -> Result<Vec<usize>, AxisError> {
    let mut scaled = p.clone();
    let diagonal: Vec<f64> = (0..p.n).map(|column| p.nzval[p.colptr[column + 1] - 1]).collect();
    for column in 0..p.n {
        for place in p.colptr[column]..p.colptr[column + 1] {
            let row = p.rowval[place];
            let scale = (diagonal[row] * diagonal[column]).sqrt();
            scaled.nzval[place] = if scale > 0.0 { p.nzval[place] / scale } else { 0.0 };
        }
    }
    let settings = QDLDLSettings {
        Dsigns: Some(vec![1; p.n]),
        regularize_enable: true,
        regularize_eps: SILENT_PIVOT,
        regularize_delta: SILENT_MARK,
        ..QDLDLSettings::default()
    };
    let factors =
        QDLDLFactorisation::new(&scaled, Some(settings)).map_err(|error| AxisError::Numeric(error.to_string()))?;
    let mut out: Vec<usize> =
        (0..p.n).filter(|place| factors.D[*place] == SILENT_MARK).map(|place| factors.perm[place]).collect();
    out.sort_unstable();
    Ok(out)
}

impl Quadratic {
    /// The program of `problem` over the classes of `reduced`.
    pub(crate) fn new(problem: &AxisProblem, reduced: &Reduced) -> Result<Self, AxisError> {
        let free = reduced.free;
        let mut residuals = residuals(problem, reduced);
        let heaviest = residuals.iter().map(|residual| residual.weight).fold(0.0, f64::max);
        let lightest = residuals.iter().map(|residual| residual.weight).fold(f64::INFINITY, f64::min);
        let weight = if heaviest > 0.0 { heaviest } else { 1.0 };
        let mut p = upper_triangle(free, &residuals, weight);
        let mut anchors = Vec::new();
        if free > 0 {
            let pull = (1e-3 * lightest.min(heaviest)).clamp(1e-7 * weight, 1e-6 * weight);
            for class in silent(&p)? {
                let position = rest_position(reduced, class);
                residuals.push(Residual {
                    terms: vec![(class, 1.0)],
                    constant: -mm(position),
                    weight: pull,
                    wish: None,
                });
                let var = reduced.root[class];
                anchors.push(Anchor { var: VarId(var), position: Length::from_nm(position), weight: pull });
            }
            if !anchors.is_empty() {
                p = upper_triangle(free, &residuals, weight);
            }
        }
        let mut rows: Vec<Vec<(usize, f64)>> = Vec::with_capacity(reduced.ties.len() + reduced.rows.len());
        let mut limits = Vec::with_capacity(rows.capacity());
        for tie in &reduced.ties {
            rows.push(tie.terms.iter().map(|(class, factor)| (*class, *factor as f64)).collect());
            limits.push(-mm(tie.constant));
        }
        for row in &reduced.rows {
            let terms = combined(&[(row.to, 1), (row.from, -1)], free);
            rows.push(terms.iter().map(|(class, factor)| (*class, *factor as f64)).collect());
            limits.push(mm(row.most));
        }
        let unit = limits
            .iter()
            .chain(residuals.iter().map(|residual| &residual.constant))
            .fold(1.0, |unit: f64, number| unit.max(number.abs()));
        let mut q = vec![0.0; free];
        for residual in &residuals {
            for (class, factor) in &residual.terms {
                q[*class] += residual.weight / weight * factor * residual.constant / unit;
            }
        }
        let b = limits.iter().map(|limit| limit / unit).collect();
        let scaled = |residual: &Residual| Residual {
            constant: residual.constant / unit,
            weight: residual.weight / weight,
            ..residual.clone()
        };
        let squares = residuals.iter().map(scaled).collect();
        let program = Program { free, ties: reduced.ties.len(), p, q, rows, b, squares };
        Ok(Self { program, unit, weight, residuals, anchors })
    }
}

/// Where an unknown rests that no wish speaks of: in the middle of its play, or at the end that it has, or at zero.
fn rest_position(reduced: &Reduced, class: usize) -> i64 {
    match (reduced.lowest[class], reduced.highest[class]) {
        (Some(lowest), Some(highest)) => lowest + (highest - lowest) / 2,
        (Some(end), None) | (None, Some(end)) => end,
        (None, None) => 0,
    }
}
