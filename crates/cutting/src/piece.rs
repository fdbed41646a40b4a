//! What is to be cut: rectangles, and lengths from bars.

use crate::size::{Axis, Size};

/// One kind of rectangle to be cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Name for messages and sheets; need not be unique.
    pub name: String,
    /// Material key: cut only from boards with the same key.
    pub material: String,
    /// Size to be cut.
    pub size: Size,
    /// How many are needed.
    pub quantity: u32,
    /// Direction in the piece's own frame that must lie along the board's grain. `None`: may be turned. A piece with
    /// grain may also be turned on a board that has none.
    pub grain: Option<Axis>,
    /// Pieces with the same group all come from one and the same board (grain match).
    pub group: Option<String>,
    /// Set for all pieces of a group: they lie in one row along this axis of their own frames, in the order of the
    /// question, the same way round and with nothing but the saw cut between them, so that the grain runs on.
    pub row: Option<Axis>,
}

impl Piece {
    /// One piece that may be turned, of material "".
    #[must_use]
    pub fn new(name: impl Into<String>, width: i64, height: i64) -> Self {
        Self {
            name: name.into(),
            material: String::new(),
            size: Size::new(width, height),
            quantity: 1,
            grain: None,
            group: None,
            row: None,
        }
    }

    /// Whether the piece may lie (as given, turned by a quarter) on a board with grain `board`.
    #[must_use]
    pub const fn lay(&self, board: Option<Axis>) -> (bool, bool) {
        match (self.grain, board) {
            (Some(Axis::X), Some(Axis::X)) | (Some(Axis::Y), Some(Axis::Y)) => (true, false),
            (Some(_), Some(_)) => (false, true),
            _ => (true, true),
        }
    }
}

/// One kind of length to be cut from bars.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BarPiece {
    /// Name for messages and sheets; need not be unique.
    pub name: String,
    /// Material key: cut only from bars with the same key.
    pub material: String,
    /// Length to be cut.
    pub length: i64,
    /// How many are needed.
    pub quantity: u32,
}

impl BarPiece {
    /// `quantity` lengths of material "".
    #[must_use]
    pub fn new(name: impl Into<String>, length: i64, quantity: u32) -> Self {
        Self { name: name.into(), material: String::new(), length, quantity }
    }
}
