//! The window: panels, commands, undo and background work. All of the user interface, as a library.
