//! The reference of the design file, made from the types that read it: docs/file-format.md.
//!
//! `types` reads the sources of `core::design`, `page` writes the page, `examples` has a piece of a file for each type.

pub mod examples;
pub mod page;
pub mod types;
