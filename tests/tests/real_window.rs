//! The real window of the real program on a display without a screen: the demo opened, a width typed, the new size seen
//! on the drawing, saved, opened again. Needs Xvfb, xdotool and ImageMagick; on a machine without them the test says so and
//! checks nothing.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use casewright_core::design::{Design, Extent};
use casewright_tests::program;

/// A process that ends with the test.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _already_over = self.0.kill();
        let _already_over = self.0.wait();
    }
}

/// A display without a screen, with its name.
struct Display {
    name: String,
    _server: Running,
}

impl Display {
    /// Xvfb chooses a free number; it must not start afresh whenever the last window closes.
    fn new() -> Self {
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

    fn xdotool(&self, arguments: &[&str]) -> String {
        let output = Command::new("xdotool").args(arguments).env("DISPLAY", &self.name).output().expect("xdotool runs");
        String::from_utf8_lossy(&output.stdout).trim().to_owned()
    }

    /// Opens the program with a file; returns when its window is there.
    fn open(&self, file: &Path, state: &Path) -> (Running, String) {
        let errors = state.join("errors.txt");
        let child = Command::new(program::path())
            .arg(file)
            .env("DISPLAY", &self.name)
            .env("XDG_STATE_HOME", state)
            .env("LC_ALL", "C")
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
            let found = self.xdotool(&["search", "--onlyvisible", "--name", "alcove.ron"]);
            found.lines().next().filter(|id| !id.is_empty()).map(str::to_owned)
        });
        (running, window)
    }

    /// A picture of the middle of the window, where the drawing is.
    fn picture(&self, file: &Path) {
        let status = Command::new("import")
            .args(["-window", "root", "-crop", "760x560+260+130"])
            .arg(file)
            .env("DISPLAY", &self.name)
            .status()
            .expect("import runs");
        assert!(status.success());
    }
}

fn is_there(tool: &str) -> bool {
    Command::new("which").arg(tool).stdout(Stdio::null()).status().is_ok_and(|status| status.success())
}

fn wait_for<T>(what: &str, mut look: impl FnMut() -> Option<T>) -> T {
    let began = Instant::now();
    loop {
        if let Some(found) = look() {
            return found;
        }
        assert!(began.elapsed() < Duration::from_secs(60), "{what} did not come");
        std::thread::sleep(Duration::from_millis(100));
    }
}

/// How many pixels differ between two pictures.
fn differing(a: &Path, b: &Path) -> u64 {
    let output =
        Command::new("compare").args(["-metric", "AE"]).args([a, b]).arg("null:").output().expect("compare runs");
    let said = String::from_utf8_lossy(&output.stderr);
    said.split_whitespace().next().and_then(|text| text.parse::<f64>().ok()).map_or(0, |count| count as u64)
}

fn width(file: &Path) -> Extent {
    let text = std::fs::read_to_string(file).expect("the design");
    Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}")).carcass.envelope.width
}

#[test]
fn a_width_typed_into_the_real_window_is_drawn_and_saved() {
    if let Some(missing) = ["Xvfb", "xdotool", "import", "compare"].into_iter().find(|tool| !is_there(tool)) {
        println!("not checked: {missing} is not installed");
        return;
    }
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("laundry-alcove.ron");
    std::fs::copy(program::root().join("demo/laundry-alcove.ron"), &file).expect("the demo");
    let display = Display::new();
    let (first, window) = display.open(&file, folder.path());
    let pause = |ms| std::thread::sleep(Duration::from_millis(ms));
    display.xdotool(&["windowfocus", "--sync", &window]);
    pause(2500);
    let (before, after) = (folder.path().join("before.png"), folder.path().join("after.png"));
    display.picture(&before);
    // The command list leads everywhere by keyboard alone: it puts the focus into the field of the width.
    display.xdotool(&["key", "--clearmodifiers", "ctrl+space"]);
    pause(600);
    display.xdotool(&["type", "--delay", "40", "type the width"]);
    pause(300);
    display.xdotool(&["key", "Return"]);
    pause(600);
    display.xdotool(&["key", "ctrl+a"]);
    display.xdotool(&["type", "--delay", "40", "1652.5"]);
    display.xdotool(&["key", "Return"]);
    wait_for("the new size on the drawing", || {
        pause(400);
        display.picture(&after);
        (differing(&before, &after) > 50).then_some(())
    });
    display.xdotool(&["key", "--clearmodifiers", "ctrl+s"]);
    let wanted = Extent::Fixed(casewright_core::expr::Dim::new("1652.5"));
    wait_for("the saved width", || (width(&file) == wanted).then_some(()));
    drop(first);
    let (_second, _) = display.open(&file, folder.path());
    assert_eq!(width(&file), wanted);
}
