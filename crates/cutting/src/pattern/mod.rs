//! The most valuable guillotine pattern of one board: exact methods.

mod fill;
mod free;
mod limited;
mod points;

pub use fill::{Fill, Wanted, fill};
