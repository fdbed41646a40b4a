//! The real window of the real program on a display without a screen: Xvfb, driven by xdotool, seen by ImageMagick.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::program;

/// A process that ends with the test.
#[derive(Debug)]
pub struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _already_over = self.0.kill();
        let _already_over = self.0.wait();
    }
}

/// A display without a screen, with its name.
#[derive(Debug)]
pub struct Display {
    name: String,
    _server: Running,
}

impl Display {
    /// Xvfb chooses a free number; it must not start afresh whenever the last window closes.
    #[must_use]
    pub fn start() -> Self {
        let arguments = ["-displayfd", "1", "-noreset", "-screen", "0", "1440x900x24"];
        let mut server = Command::new("Xvfb")
            .args(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts");
        let mut number = String::new();
        let said = server.stdout.take().expect("a pipe");
        BufReader::new(said).read_line(&mut number).expect("Xvfb says its number");
        Self { name: format!(":{}", number.trim()), _server: Running(server) }
    }

    /// What xdotool says to these arguments.
    pub fn xdotool(&self, arguments: &[&str]) -> String {
        let output = Command::new("xdotool").args(arguments).env("DISPLAY", &self.name).output().expect("xdotool runs");
        String::from_utf8_lossy(&output.stdout).trim().to_owned()
    }

    /// Opens the program with a file, or without one, in a language (as `LC_ALL`); returns when its window, whose title
    /// holds `title`, is there.
    pub fn open(&self, file: Option<&Path>, title: &str, state: &Path, language: &str) -> (Running, String) {
        let errors = state.join("errors.txt");
        let child = Command::new(program::path())
            .args(file)
            .env("DISPLAY", &self.name)
            .env("XDG_STATE_HOME", state)
            .env("LC_ALL", language)
            .env_remove("WAYLAND_DISPLAY")
            .stdout(Stdio::null())
            .stderr(std::fs::File::create(&errors).expect("a file for errors"))
            .spawn()
            .expect("the program starts");
        let mut running = Running(child);
        let window = wait_for("the window", || {
            let ended = running.0.try_wait().expect("a child");
            let said = std::fs::read_to_string(&errors).unwrap_or_default();
            assert!(ended.is_none(), "the window ended with {ended:?}: {said}");
            let found = self.xdotool(&["search", "--onlyvisible", "--name", title]);
            found.lines().next().filter(|id| !id.is_empty()).map(str::to_owned)
        });
        (running, window)
    }

    /// A picture of the whole screen, or of a part of it (`width x height + left + top`).
    pub fn picture(&self, file: &Path, part: Option<&str>) {
        let status = Command::new("import")
            .args(["-window", "root"])
            .args(part.iter().flat_map(|part| ["-crop", part]))
            .arg(file)
            .env("DISPLAY", &self.name)
            .status()
            .expect("import runs");
        assert!(status.success());
    }
}

/// The first of the tools for a window without a screen that is not installed.
#[must_use]
pub fn missing_tool() -> Option<&'static str> {
    ["Xvfb", "xdotool", "import", "compare", "pdftotext"].into_iter().find(|tool| !is_there(tool))
}

fn is_there(tool: &str) -> bool {
    Command::new("which").arg(tool).stdout(Stdio::null()).status().is_ok_and(|status| status.success())
}

/// Looks again and again until there is something.
pub fn wait_for<T>(what: &str, mut look: impl FnMut() -> Option<T>) -> T {
    let began = Instant::now();
    loop {
        if let Some(found) = look() {
            return found;
        }
        assert!(began.elapsed() < Duration::from_secs(180), "{what} did not come");
        std::thread::sleep(Duration::from_millis(100));
    }
}

/// How many pixels differ between two pictures.
///
/// # Panics
/// Where they cannot be compared.
#[must_use]
pub fn differing(a: &Path, b: &Path) -> u64 {
    let output =
        Command::new("compare").args(["-metric", "AE"]).args([a, b]).arg("null:").output().expect("compare runs");
    let said = String::from_utf8_lossy(&output.stderr);
    let count = said.split_whitespace().next().and_then(|text| text.parse::<f64>().ok());
    count.unwrap_or_else(|| panic!("{} and {}: {said:?}", a.display(), b.display())) as u64
}
