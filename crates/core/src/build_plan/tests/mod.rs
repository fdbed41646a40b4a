//! Orders of known pieces, of random ones against a simulation, and pieces that cannot be put together.

mod impossible;
mod known;
mod simulate;
