//! The answer: which boards are cut, how, in which order, what is left, and how good that is.

use crate::size::{Axis, Rect};

/// How good a plan is, as far as is proven.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Status {
    /// No plan has a better value of the objective.
    ProvenBest,
    /// The objective is at most so many per cent above the best possible.
    WithinPercent(f64),
    /// Not everything can be cut from this stock, and that is proven. `area_short` (length for bars) is the area of
    /// the missing pieces.
    Impossible {
        /// Area (length for bars) of the missing pieces.
        area_short: i128,
    },
    /// Not everything was placed; that it cannot be done is not proven.
    Unplaced {
        /// Area (length for bars) of the missing pieces.
        area_short: i128,
    },
}

/// Copies of a piece that no board had room for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Missing {
    /// Index of the piece in the question.
    pub piece: usize,
    /// Copies missing.
    pub count: u32,
}

/// A cutting plan for boards.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The boards that are cut into, in the order of the stock.
    pub boards: Vec<CutBoard>,
    /// What could not be placed.
    pub missing: Vec<Missing>,
    /// How good the plan is.
    pub status: Status,
    /// Value of the objective: boards, area or money.
    pub value: i128,
    /// Proven bound: no plan that places everything has a lower value.
    pub bound: i128,
    /// Units of work spent.
    pub work: u64,
}

/// One board and how it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutBoard {
    /// Index of the board kind in the question's stock.
    pub board: usize,
    /// Which of the equal boards, from 0.
    pub copy: u32,
    /// Where the pieces lie.
    pub placements: Vec<Placement>,
    /// What remains, largest first.
    pub offcuts: Vec<Offcut>,
    /// The nested cuts; its rectangle is the full board.
    pub tree: CutNode,
    /// The same cuts in the order in which they are made, fence settings grouped.
    pub cuts: Vec<Cut>,
    /// How often the fence is set.
    pub settings: usize,
}

/// One piece on a board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Placement {
    /// Index of the piece in the question.
    pub piece: usize,
    /// Which of its copies, from 0.
    pub copy: u32,
    /// Where it lies on the board.
    pub rect: Rect,
    /// Whether it is turned by a quarter.
    pub turned: bool,
    /// Set when the piece is as wide as the board along this axis, so that it needs only cutting to length along the other.
    pub spans: Option<Axis>,
}

/// A rectangle that remains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Offcut {
    /// Where it lies on the board.
    pub rect: Rect,
    /// Whether it is inside the good zones.
    pub good: bool,
    /// Whether it is good and as large as [`crate::Goal::useful`].
    pub useful: bool,
}

/// A rectangle and what becomes of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutNode {
    /// The rectangle on the board.
    pub rect: Rect,
    /// What becomes of it.
    pub what: What,
}

/// What becomes of a rectangle of the cut tree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// Parallel through cuts divide it along `across`; parts from low to high, a kerf apart.
    Split {
        /// The coordinate that is divided: cuts run at right angles to it.
        across: Axis,
        /// The parts with positive extents.
        parts: Vec<CutNode>,
    },
    /// It is the piece of this index in the board's placements.
    Piece(usize),
    /// It remains: index in the board's offcuts.
    Offcut(usize),
}

/// One cut of the saw. Workpiece 0 is the whole board; every cut makes up to two new workpieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cut {
    /// Number in the sequence, from 1.
    pub number: usize,
    /// The workpiece that is cut through.
    pub workpiece: usize,
    /// The coordinate that is divided.
    pub across: Axis,
    /// Where the kerf begins, from the workpiece's low edge; below 0 when the blade overhangs the edge.
    pub at: i64,
    /// Width kept between fence and blade.
    pub fence: i64,
    /// Number of the fence setting, from 1; cuts with the same setting follow each other.
    pub setting: usize,
    /// The new workpiece below the kerf, unless nothing is left there.
    pub low: Option<usize>,
    /// The new workpiece above the kerf, unless nothing is left there.
    pub high: Option<usize>,
}

/// A cutting plan for bars.
#[derive(Debug, Clone, PartialEq)]
pub struct BarPlan {
    /// The bars that are cut into, in the order of the stock.
    pub bars: Vec<CutBar>,
    /// What could not be placed.
    pub missing: Vec<Missing>,
    /// How good the plan is.
    pub status: Status,
    /// Value of the objective: bars, length or money.
    pub value: i128,
    /// Proven bound: no plan that places everything has a lower value.
    pub bound: i128,
    /// Units of work spent.
    pub work: u64,
}

/// One bar and how it is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutBar {
    /// Index of the bar kind in the question's stock.
    pub bar: usize,
    /// Which of the equal bars, from 0.
    pub copy: u32,
    /// Pieces from the bar's start: index in the question, and where it begins.
    pub pieces: Vec<(usize, i64)>,
    /// What remains: where it begins and its length, if anything does.
    pub offcut: Option<(i64, i64)>,
}

/// The status that value, bound and missing pieces amount to.
pub(crate) fn judge(value: i128, bound: i128) -> Status {
    if value <= bound {
        Status::ProvenBest
    } else if bound <= 0 {
        Status::WithinPercent(f64::INFINITY)
    } else {
        Status::WithinPercent((value - bound) as f64 * 100.0 / bound as f64)
    }
}
