//! The measured room: the largest envelope that goes into a crooked niche, straight or turned a little, and what is left
//! between the piece and the walls.
//!
//! Walls are surveyed at points (height and depth) and taken as straight between them. A piece stands plumb; it may stand
//! turned by a small angle about the upright, in which case its sides follow `x = a + s z`. It is pushed in along its own
//! depth, so that the points before it count as well as those beside it.

mod bring_in;
mod gaps;
mod largest;
mod overhead;
mod tilt;

#[cfg(test)]
mod tests;

pub use bring_in::{Block, BringIn, Pose, blocks, bring_in};
pub use gaps::{Gap, Scribe, gaps, scribes};
pub use largest::{Largest, largest};
pub use overhead::{Overhead, OverheadPlane, overhead, room_height};
pub use tilt::{Raising, raising};
