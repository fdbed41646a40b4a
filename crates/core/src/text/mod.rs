//! The text of design files: places in it, paths to its fields, and the faults that are found there.

mod comments;
pub mod fault;
pub mod field_path;
pub(crate) mod fold;
pub mod nearest;
mod patch;
pub mod position;
mod refused;
mod scan;
pub mod spans;
#[cfg(test)]
mod tests;

pub(crate) use comments::kept;
pub use fault::Fault;
pub use field_path::{FieldPath, Segment};
pub use nearest::nearest;
pub(crate) use patch::patched;
pub use position::{LineIndex, Position};
pub use spans::SpanIndex;
