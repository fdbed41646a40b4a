//! The thin binary: opens the window, or runs a subcommand. Subcommands read and write their files here; the window does
//! so by itself.
//!
//! Subcommands print results on the standard output and whatever goes wrong on the standard error, as
//! `file:line:column: cause; mend`. They need no display.

mod args;
mod commands;
mod derived;
mod failure;
mod files;
mod source;

use std::io::Write as _;
use std::process::ExitCode;

use args::Command;
use failure::{CLEAN, Failure, NOT_DONE};

fn main() -> ExitCode {
    let outcome = args::parse(std::env::args_os().skip(1)).and_then(run);
    match outcome {
        Ok(code) => ExitCode::from(code),
        Err(failure) => {
            warn(&failure.to_string());
            ExitCode::from(NOT_DONE)
        }
    }
}

/// Does what was asked for; the exit code if it could be done.
fn run(command: Command) -> Result<u8, Failure> {
    match command {
        Command::Window(file) => commands::window::run(file),
        Command::Check { file, language } => commands::check::run(&file, language),
        Command::Derive { file, out } => commands::derive::run(&file, out.as_deref()),
        Command::Export { file, out, only, language } => commands::export::run(&file, &out, only, language),
        Command::Arrange(options) => commands::arrange::run(&options),
        Command::Cut(options) => commands::cut::run(&options),
        Command::Stock(options) => commands::stock::run(&options),
        Command::Rescue { file, part, size } => commands::rescue::run(&file, &part, &size),
        Command::Square { file, of, measured } => commands::square::run(&file, of.as_deref(), measured.as_ref()),
        Command::New(file) => commands::new::run(&file),
        Command::Help => print(args::USAGE),
        Command::Version => print(concat!("casewright ", env!("CARGO_PKG_VERSION"), "\n")),
    }
}

/// Prints on the standard output. A reader that went away, such as `head`, is no failure.
fn print(text: &str) -> Result<u8, Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Failure::io("standard output".as_ref(), "cannot be written", &error))
        }
        _ => Ok(CLEAN),
    }
}

/// Tells on the standard error; if even that is closed, nothing more can be done.
fn warn(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{text}");
}
