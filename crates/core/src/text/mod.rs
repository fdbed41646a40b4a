//! The text of design files: places in it, paths to its fields, and the faults that are found there.

pub mod fault;
pub mod field_path;
pub mod nearest;
pub mod position;
mod refused;
mod scan;
pub mod spans;
#[cfg(test)]
mod tests;

pub use fault::Fault;
pub use field_path::{FieldPath, Segment};
pub use nearest::nearest;
pub use position::{LineIndex, Position};
pub use spans::SpanIndex;
