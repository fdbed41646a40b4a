//! One module for each thing that the program can be asked to do.

pub(crate) mod arrange;
pub(crate) mod check;
pub(crate) mod cut;
pub(crate) mod derive;
pub(crate) mod export;
pub(crate) mod new;
pub(crate) mod square;
pub(crate) mod stock;
pub(crate) mod window;
