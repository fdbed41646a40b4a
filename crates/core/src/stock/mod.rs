//! Stock as it really is: what a board gives, which panels an old piece gives, cutting plans of boards and bars as data, what
//! remains, what must be bought, and how banding is worked.
//!
//! How a plan is found is none of this crate's business; `casewright-stock` asks and answers.

mod alike;
mod banding;
mod bars;
mod buying;
mod dismantle;
mod give;
mod matched;
mod plan;
mod remain;

pub use alike::{AlikeBoards, alike_boards};
pub use banding::{BandingLot, BandingStep, banding_work};
pub use bars::{BarLot, CutBar};
pub use buying::{Buying, BuyingLine, Counted, Goods, buying};
pub use dismantle::{OldBack, OldBox, OldJoint, dismantle};
pub use give::{KeptEdge, Usable, binds, family_of, serves, usable};
pub use matched::{MatchedRow, matched_rows};
pub use plan::{CutBoard, CuttingPlan, Lot, Offcut, PlacedPart, Quality, SawCut, Spare, Workpiece};
pub use remain::{bare_name, remains, written};

#[cfg(test)]
mod tests;
