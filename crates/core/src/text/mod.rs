//! The text of a design file: places in it.

mod field_path;

pub use field_path::{FieldPath, Segment};
