//! The program itself, run as a user runs it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

/// The root of the repository.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().map(Path::to_owned).unwrap_or_default()
}

/// The program: what `CASEWRIGHT_BIN` names, else built now if need be.
///
/// # Panics
/// If it cannot be built.
pub fn path() -> &'static Path {
    static PATH: OnceLock<PathBuf> = OnceLock::new();
    PATH.get_or_init(|| {
        if let Some(named) = std::env::var_os("CASEWRIGHT_BIN") {
            return named.into();
        }
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        let built = Command::new(cargo)
            .args(["build", "--quiet", "--locked", "-p", "casewright", "--bin", "casewright"])
            .current_dir(root())
            .status();
        assert!(built.is_ok_and(|status| status.success()), "the program cannot be built");
        // target/debug/deps/this-test -> target/debug/casewright
        let test = std::env::current_exe().unwrap_or_default();
        let folder = test.ancestors().nth(2).map(Path::to_owned).unwrap_or_default();
        folder.join("casewright").with_extension(std::env::consts::EXE_EXTENSION)
    })
}

/// What a run of the program gave.
#[derive(Debug)]
pub struct Run {
    /// The exit code.
    pub code: i32,
    /// What it printed.
    pub out: String,
    /// What it complained of.
    pub err: String,
}

/// Runs the program in the root of the repository, without a display.
///
/// # Panics
/// If it does not start, prints no UTF-8, or is ended by a signal.
pub fn run<S: AsRef<std::ffi::OsStr>>(args: &[S]) -> Run {
    let output = Command::new(path())
        .args(args)
        .current_dir(root())
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .output();
    let Ok(Output { status, stdout, stderr }) = output else { panic!("{} does not start", path().display()) };
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap_or_else(|_| panic!("not UTF-8"));
    let code = status.code().unwrap_or_else(|| panic!("ended by a signal: {status}"));
    Run { code, out: text(stdout), err: text(stderr) }
}

/// The examples, by stem.
pub const DEMOS: [&str; 4] = ["laundry-alcove", "container-trolley", "alcove-bookcase", "salvaged-office"];
