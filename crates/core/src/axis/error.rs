//! What can go wrong on one axis, and what to do about it.

use thiserror::Error;

use super::conflict::Conflict;
use super::problem::{AxisProblem, Face, MustId, MustKind, Span, VarId, WishId, WishKind};
use crate::Length;

/// The most unknowns that one axis may have.
pub const MOST_VARS: usize = 100_000;
/// The most musts, and the most wishes, that one axis may have.
pub const MOST_DEMANDS: usize = 1_000_000;

/// The greatest weight or share.
pub const GREATEST_NUMBER: f64 = 1e12;

/// Where in a problem a fault lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// In the problem as a whole.
    Problem,
    /// In a must.
    Must(MustId),
    /// In a wish.
    Wish(WishId),
    /// In what is asked about the solution.
    Question,
}

/// One thing wrong with the data of a problem.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// An unknown that was never added.
    #[error("{place:?} names position {}, but there are only {vars}: add it first", .var.0)]
    UnknownVar {
        /// Where it is named.
        place: Place,
        /// The name.
        var: VarId,
        /// How many there are.
        vars: usize,
    },
    /// A length beyond ± 100 m.
    #[error("{place:?} holds {length:?}, which is beyond 100 m: check its unit")]
    OutOfRange {
        /// Where it stands.
        place: Place,
        /// The length.
        length: Length,
    },
    /// A weight or share that is negative, above 1e12 or not a number.
    #[error("wish {} has {value} as its weight or share: give a number from 0 to 1e12", .wish.0)]
    BadNumber {
        /// The wish.
        wish: WishId,
        /// The number.
        value: f64,
    },
    /// A step that is not above zero.
    #[error("the step is {0:?}: give a length above zero and up to 100 m")]
    BadStep(Length),
    /// More unknowns or demands than the solver takes.
    #[error("{count} unknowns or demands are more than {most}: split the design")]
    TooMany {
        /// How many there are.
        count: usize,
        /// How many there may be.
        most: usize,
    },
    /// A solution that belongs to another problem.
    #[error("the solution has {found} positions, the problem has {expected}: solve this problem first")]
    OtherProblem {
        /// Positions in the solution.
        found: usize,
        /// Positions in the problem.
        expected: usize,
    },
}

/// Why an axis has no solution.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum AxisError {
    /// The data are faulty; every fault is listed.
    #[error("the problem is faulty: {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Invalid(Vec<Fault>),
    /// The musts cannot hold together.
    #[error("{} conflict(s) between musts; see the entries and their mends", .0.len())]
    Infeasible(Vec<Conflict>),
    /// The numeric library gave up.
    #[error("internal error, please report: the numeric solver stopped with {0}")]
    Numeric(String),
    /// Positions in whole nanometres were not found, although real ones were.
    #[error("internal error, please report: no exact positions found; {} must(s) stay broken", .0.len())]
    Rounding(Vec<MustId>),
}

/// Every fault in the data of `problem`.
pub(crate) fn faults(problem: &AxisProblem) -> Vec<Fault> {
    let mut found = Vec::new();
    if problem.step <= Length::ZERO || problem.step > Length::LIMIT {
        found.push(Fault::BadStep(problem.step));
    }
    if problem.vars > MOST_VARS {
        found.push(Fault::TooMany { count: problem.vars, most: MOST_VARS });
    }
    for count in [problem.musts.len(), problem.wishes.len()] {
        if count > MOST_DEMANDS {
            found.push(Fault::TooMany { count, most: MOST_DEMANDS });
        }
    }
    for (index, must) in problem.musts.iter().enumerate() {
        let place = Place::Must(MustId(index));
        match must.kind {
            MustKind::AtLeast(span, length) | MustKind::AtMost(span, length) | MustKind::Exactly(span, length) => {
                span_faults(problem, span, place, &mut found);
                length_faults(length, place, &mut found);
            }
            MustKind::Equal(a, b) => {
                span_faults(problem, a, place, &mut found);
                span_faults(problem, b, place, &mut found);
            }
            MustKind::InLine(a, b) => {
                face_faults(problem, a, place, &mut found);
                face_faults(problem, b, place, &mut found);
            }
        }
    }
    for (index, wish) in problem.wishes.iter().enumerate() {
        let place = Place::Wish(WishId(index));
        let mut numbers = vec![wish.weight];
        match wish.kind {
            WishKind::Size { span, target } => {
                span_faults(problem, span, place, &mut found);
                length_faults(target, place, &mut found);
            }
            WishKind::Proportion { a, share_a, b, share_b } => {
                span_faults(problem, a, place, &mut found);
                span_faults(problem, b, place, &mut found);
                numbers.extend([share_a, share_b]);
            }
            WishKind::Position { face, position } => {
                face_faults(problem, face, place, &mut found);
                length_faults(position, place, &mut found);
            }
        }
        for value in numbers {
            if !(0.0..=GREATEST_NUMBER).contains(&value) {
                found.push(Fault::BadNumber { wish: WishId(index), value });
            }
        }
    }
    found
}

/// The faults of a span.
pub(crate) fn span_faults(problem: &AxisProblem, span: Span, place: Place, found: &mut Vec<Fault>) {
    face_faults(problem, span.lo, place, found);
    face_faults(problem, span.hi, place, found);
    length_faults(span.constant, place, found);
}

fn face_faults(problem: &AxisProblem, face: Face, place: Place, found: &mut Vec<Fault>) {
    if let Some(var) = face.var
        && var.0 >= problem.vars
    {
        found.push(Fault::UnknownVar { place, var, vars: problem.vars });
    }
    length_faults(face.offset, place, found);
}

fn length_faults(length: Length, place: Place, found: &mut Vec<Fault>) {
    if length > Length::LIMIT || length < -Length::LIMIT {
        found.push(Fault::OutOfRange { place, length });
    }
}
