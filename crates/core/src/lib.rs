//! The furniture core: lengths, Design, solver, Layout, Assembly, fittings, site, checks and build plan.
//!
//! Conventions, everywhere: [`Length`] counts nanometres; axes are right-handed, X to the right along the wall, Y up
//! from the floor, Z out of the wall towards the person, with the origin at the left, floor and wall corner of the
//! envelope. Angles are degrees in files and on screen, radians inside, and the name says which.

pub mod length;

pub use length::Length;
