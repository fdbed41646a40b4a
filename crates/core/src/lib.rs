//! The furniture core: lengths, Design, solver, Layout, Assembly, fittings, site, checks and build plan.
//!
//! Conventions, everywhere: [`Length`] counts nanometres; axes are right-handed, X to the right along the wall, Y up
//! from the floor, Z out of the wall towards the person, with the origin at the left, floor and wall corner of the
//! site. Angles are degrees in files and on screen, radians inside, and the name says which.

pub mod as_built;
pub mod assembly;
pub mod axis;
pub mod build_plan;
pub mod checks;
pub mod design;
pub mod expr;
pub mod finding;
pub mod fittings;
pub mod geometry;
pub mod holding;
pub mod jigs;
pub mod joinery;
pub mod layout;
pub mod length;
pub mod levelling;
pub mod mechanics;
pub mod moving;
pub mod pipeline;
pub mod routes;
pub mod slides;
pub mod solve;
pub mod squareness;
pub mod stock;
pub mod survey;
pub mod text;
pub mod unit;
pub mod worktop;

#[cfg(test)]
mod sample;

pub use length::Length;
