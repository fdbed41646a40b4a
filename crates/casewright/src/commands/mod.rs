//! One module for each thing that the program can be asked to do.

pub(crate) mod check;
pub(crate) mod new;
pub(crate) mod window;
