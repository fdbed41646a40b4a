//! Opens the window with the file that is named, for looking at it without the whole program.

fn main() -> Result<(), casewright_desktop::WindowError> {
    casewright_desktop::run(std::env::args_os().nth(1).map(Into::into))
}
