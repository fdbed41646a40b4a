//! The thin binary: opens the window, or runs a subcommand.

fn main() {}
