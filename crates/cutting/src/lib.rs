//! Cutting rectangles from boards and bars to length. Knows rectangles, bars, boards, kerf and grain; knows no furniture.
//!
//! Lengths are `i64` nanometres, or any other unit that the caller keeps to; a board's frame has x along its width and
//! y along its height, the origin in the lower left corner.
//!
//! - [`cut`] plans boards: guillotine cuts, kerf, trim, good zones, grain, groups, limited stock, a proven bound.
//! - [`fill`] finds the most valuable pattern of one board; [`cut_bars`] plans bars; [`spare()`] says what the same boards
//!   would still give.
//! - [`check_plan`] replays a plan's numbered cuts, sharing nothing with the search.
//!
//! Invariant: a plan covers every piece once or lists it as missing; whatever the input, nothing panics.

mod bars;
mod boards;
mod check;
mod effort;
mod error;
mod goal;
mod pattern;
mod piece;
mod plan;
mod random;
mod sequence;
mod size;
mod spare;
mod stock;

pub use bars::cut_bars;
pub use boards::plan::cut;
pub use check::{Flaw, check_bars, check_plan};
pub use effort::{Effort, Progress, Unwatched, Watch};
pub use error::{CuttingError, Fault, MAX_BOARD_VALUE, MAX_LENGTH, MAX_PIECES, MAX_VALUE};
pub use goal::{Goal, Objective, Saw};
pub use pattern::{Fill, Wanted, fill};
pub use piece::{BarPiece, Piece};
pub use plan::{BarPlan, Cut, CutBar, CutBoard, CutNode, Missing, Offcut, Placement, Plan, Status, What};
pub use size::{Axis, Rect, Size};
pub use spare::{Spare, spare};
pub use stock::{Bar, Board, Quantity, RawEdges};
