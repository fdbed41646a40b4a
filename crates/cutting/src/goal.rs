//! The saw, and what makes one plan better than another.

use crate::size::Size;

/// The saw: what a cut and a raw edge cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Saw {
    /// Width of the cut.
    pub kerf: i64,
    /// What is taken off each raw edge, kerf included.
    pub trim: i64,
}

/// What is kept least, first of all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Objective {
    /// Number of boards or bars.
    #[default]
    FewestBoards,
    /// Full area of the boards (length of the bars) that are cut into.
    LeastArea,
    /// Price of the boards or bars that are cut into.
    LeastMoney,
}

/// The order of wishes: the objective, then the largest useful offcut, then few fence settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Goal {
    /// What is kept least, first of all.
    pub least: Objective,
    /// An offcut is useful when it is at least so large, one way round or the other. The default, 0 x 0,
    /// says that offcuts do not matter. Bars do not look at it.
    pub useful: Size,
}
