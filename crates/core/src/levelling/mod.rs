//! Levelling and fixing: feet, plinth, and places on the wall that keep away from pipes and leads.

mod fixing;
mod floor;

#[cfg(test)]
mod tests;

pub use fixing::{FixingPoint, Zone, fixing_points, zones};
pub use floor::{Foot, Levelled, floor_height, level};
