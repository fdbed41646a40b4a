//! Drilling blocks: the fewest that serve every joint of a piece, and how each is set up on both partners.
//!
//! A block is a strip with one row of holes: from its stop, and from its fence. The fence lies where the face of the edge
//! part will come to lie, so that one block drills both partners: its row stands half the thickness of the edge part
//! off the fence. On the edge part the fence hooks over that face; on the face part it is set off from a named edge by a
//! spacer whose length includes every thickness in between.
//!
//! [`plan()`] makes blocks and set-ups from the holes of an assembly; [`check()`] goes the other way: it stands at the named
//! edge, adds spacer, fence and hole, and compares with the assembly.

mod block;
mod check;
mod cover;
mod set_up;

#[cfg(test)]
mod tests;

pub use block::{Block, Use};
pub use check::check;
pub use cover::{EXACT_UP_TO, fewest};
pub use set_up::{Beware, JigPlan, Reference, SetUp, plan};
