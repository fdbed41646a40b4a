//! Joinery: every hole where it belongs, made on both partners of a joint from one source, and the check that no two
//! holes meet.
//!
//! [`drill()`] adds the holes to an assembly; [`check()`] judges whatever holes an assembly has, without knowing how they
//! came about. Figures are trade rules, named in `docs/joinery.md`; the maker's sheet of a fitting goes before them.

mod anchors;
mod bore;
mod check;
mod choices;
mod cups;
mod dowels;
mod drill;
mod handles;
mod mend;
mod mounts;
mod pattern;
mod rows;
mod screws;
mod show;
mod solid;
mod taken;
mod under_mounted;
mod walls;

#[cfg(test)]
pub(crate) mod tests;

pub(crate) use bore::holes;
pub use bore::{HoleInWorld, groove_in_world, hole_in_world};
pub use check::check;
pub use choices::check_choices;
pub use dowels::{DIN_68150_1, dowel_depths, is_usual_dowel};
pub use drill::drill;
pub use mend::{HoleEdit, HoleMend, check_and_mend};
pub use mounts::cut_openings;
pub use pattern::{LONGEST_PITCH, SHORTEST_PITCH, at_least, places, pressed_gaps, shifted_places};
pub use rows::{ROW_FROM_FRONT, ROW_PITCH};
pub use screws::{Screw, screw_for_edge, screw_for_face};
pub use show::shows;
pub use solid::{Solid, wall_between};

use crate::length::Length;

/// The least wall between two holes, between a hole and a groove, and beside or under a hole (common practice, from
/// memory: 3 to 4 mm under a blind hole in a 16 mm board).
pub const LEAST_WALL: Length = Length::from_mm(3);
/// The wall that is left under a blind hole where the rule may choose.
pub const WALL_UNDER: Length = Length::from_mm(4);
