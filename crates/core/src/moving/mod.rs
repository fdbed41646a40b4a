//! What moves, and what it meets: swept contact in closed form, clearances, combinations that block one another, and the
//! statics of tilting compartments.
//!
//! Nothing here samples. A slide is interval arithmetic; a turn about an axis is circles against straight lines in the
//! plane across it. Lengths are millimetres as floating point, angles radians inside and degrees where the name says so.
//! Bodies that only touch do not count as meeting: a way must go deeper than [`TOUCH_MM`].

mod clearance;
mod mend;
pub(crate) mod planar;
mod room;
mod slide;
mod solid;
mod surroundings;
mod sweep;
pub mod tilt;
mod turn;

#[cfg(test)]
mod tests;

pub use clearance::{
    Blocking, Clearance, Clearances, How, Meeting, Moving, Piece, PieceKind, clearances, full_way, moving,
};
pub use mend::{WayEdit, WayMend, mends};
pub use room::{Fixed, FixedKind, RoomSide, fixed_bodies, obstacle_solid, site_bodies};
pub use solid::Solid;
pub use surroundings::{Lift, Surroundings, surroundings};
pub use sweep::{Touch, first_touch, gap_mm, placed};

/// What counts as touching only, mm.
pub const TOUCH_MM: f64 = 1e-6;
