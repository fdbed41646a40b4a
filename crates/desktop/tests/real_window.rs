//! The real window on a display without a screen: opened, typed into, saved, opened again. Needs Xvfb and xdotool; on a
//! machine without them the test says so and checks nothing.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use casewright_core::design::{Design, Extent};

const DISPLAY: &str = ":58";

/// A process that ends with the test.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _already_over = self.0.kill();
        let _already_over = self.0.wait();
    }
}

fn is_there(tool: &str) -> bool {
    Command::new("which").arg(tool).stdout(Stdio::null()).status().is_ok_and(|status| status.success())
}

fn xdotool(arguments: &[&str]) -> String {
    let output = Command::new("xdotool").args(arguments).env("DISPLAY", DISPLAY).output().unwrap();
    String::from_utf8_lossy(&output.stdout).trim().to_owned()
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

/// The program that opens the window: the example beside this test.
fn program() -> PathBuf {
    let deps = std::env::current_exe().unwrap();
    let path = deps.parent().and_then(Path::parent).unwrap().join("examples/window");
    assert!(path.exists(), "build it first: cargo build -p casewright-desktop --example window");
    path
}

fn open(file: &Path, state: &Path) -> (Running, String) {
    let child = Command::new(program())
        .arg(file)
        .env("DISPLAY", DISPLAY)
        .env("XDG_STATE_HOME", state)
        .env("LC_ALL", "C")
        .env_remove("WAYLAND_DISPLAY")
        .stdout(Stdio::null())
        .stderr(std::fs::File::create(state.join("errors.txt")).unwrap())
        .spawn()
        .unwrap();
    let mut running = Running(child);
    let window = wait_for("the window", || {
        let ended = running.0.try_wait().unwrap();
        let errors = std::fs::read_to_string(state.join("errors.txt")).unwrap_or_default();
        assert!(ended.is_none(), "the window ended with {ended:?}: {errors}");
        let found = xdotool(&["search", "--onlyvisible", "--name", "alcove.ron"]);
        found.lines().next().filter(|id| !id.is_empty()).map(str::to_owned)
    });
    (running, window)
}

fn width(file: &Path) -> Extent {
    Design::from_ron(&std::fs::read_to_string(file).unwrap()).unwrap().carcass.envelope.width
}

#[test]
fn a_width_typed_into_the_real_window_is_saved() {
    if let Some(missing) = ["Xvfb", "xdotool"].into_iter().find(|tool| !is_there(tool)) {
        println!("not checked: {missing} is not installed");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("alcove.ron");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/alcove.ron"), &file).unwrap();
    let server = Command::new("Xvfb")
        .args([DISPLAY, "-screen", "0", "1440x900x24"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let _server = Running(server);
    wait_for("the display", || {
        let answer = Command::new("xdotool").arg("getdisplaygeometry").env("DISPLAY", DISPLAY).output().unwrap();
        answer.status.success().then_some(())
    });
    let (first, window) = open(&file, folder.path());
    xdotool(&["windowfocus", "--sync", &window]);
    // The command list leads everywhere by keyboard alone: it puts the focus into the field of the width.
    xdotool(&["key", "--clearmodifiers", "ctrl+space"]);
    std::thread::sleep(Duration::from_millis(600));
    xdotool(&["type", "--delay", "40", "type the width"]);
    std::thread::sleep(Duration::from_millis(300));
    xdotool(&["key", "Return"]);
    std::thread::sleep(Duration::from_millis(600));
    xdotool(&["key", "ctrl+a"]);
    xdotool(&["type", "--delay", "40", "1407.5"]);
    xdotool(&["key", "Return"]);
    std::thread::sleep(Duration::from_millis(600));
    xdotool(&["key", "--clearmodifiers", "ctrl+s"]);
    let wanted = Extent::AtMost(casewright_core::expr::Dim::new("1407.5"));
    wait_for("the saved width", || (width(&file) == wanted).then_some(()));
    drop(first);
    let (_second, _) = open(&file, folder.path());
    assert_eq!(width(&file), wanted);
}
