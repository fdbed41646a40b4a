//! What stands before the desk for a moment: questions, the choice of a file, the list of commands, ways of entering boards.

pub mod chooser;
pub mod commands;
pub mod guide;
pub mod question;
pub mod stock_in;
