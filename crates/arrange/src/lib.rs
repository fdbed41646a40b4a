//! Proposals for the carcass: from what must go in and where it stands to several good divisions of the envelope.
//!
//! What goes in is a list of *units*: bays that are not divided, each with the ways in which its things may be held. The
//! search lays units side by side (a row) or over one another (a stack), rows in stacks and stacks in rows; such divisions
//! are slicing trees, and the least sizes of one are a falling staircase of width and height (L. Stockmeyer, "Optimal
//! orientations of cells in slicing floorplan designs", Information and Control 57, 1983). Up to [`COMPLETE`] units every
//! division is looked at; beyond that the best few for each set of units.
//!
//! A division becomes bays of a Design, and that Design goes the whole way through the pipeline: nothing is proposed that
//! the solver did not solve. What is proposed is judged by named criteria ([`criteria`]), what another one beats in all of
//! them is dropped, and those that are shown differ in kind.
//!
//! Conventions: sizes are clear openings in exact lengths; X to the right, Y up; a stack lists its bays from the floor up, a
//! row from the left. No files, no clock: who watches ([`Watch`]) may call the search off.

pub mod criteria;
mod curve;
mod division;
mod lacking;
mod order;
mod propose;
mod rank;
mod realise;
mod request;
mod search;
#[cfg(test)]
mod tests;
mod words;

pub use curve::{Curve, Size};
pub use division::Division;
pub use lacking::{Lack, Shortage};
pub use propose::{ArrangeError, Effort, Outcome, Proposal, Unwatched, Watch, propose};
pub use request::{Choice, Place, Request, RequestError, Unit};
pub use search::{COMPLETE, Search, search};
pub use words::{Merits, error_words, search_words};
