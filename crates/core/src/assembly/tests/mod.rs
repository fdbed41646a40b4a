//! Checks of what is built.
