//! The whole journey in the real window: from an empty page to the written pack, by mouse and keys as a person would go,
//! with a picture at each stage. `CASEWRIGHT_PICTURES` names a folder to keep them in; that is how the pictures of the
//! guide are made (tests/scripts/guide_pictures). Needs Xvfb, xdotool, ImageMagick and poppler; on a machine without them
//! the test says so and checks nothing.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

use casewright_core::design::{Design, Extent, Inside};
use casewright_core::expr::Dim;
use casewright_tests::display::{Display, Running, differing, missing_tool, wait_for};

/// The hand at mouse and keys.
struct Hand {
    display: Display,
    pictures: PathBuf,
    /// For looks that are not kept.
    folder: PathBuf,
}

fn pause(ms: u64) {
    std::thread::sleep(Duration::from_millis(ms));
}

impl Hand {
    fn point(&self, (x, y): (i32, i32)) {
        self.display.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
        pause(250);
    }

    fn click(&self, at: (i32, i32)) {
        self.point(at);
        self.display.xdotool(&["click", "1"]);
        pause(500);
    }

    /// Presses at one place, goes to another in steps, and holds there.
    fn hold(&self, from: (i32, i32), to: (i32, i32)) {
        self.point(from);
        // On a busy machine a frame takes long, and what is pressed must be seen before the pointer goes on.
        pause(700);
        self.display.xdotool(&["mousedown", "1"]);
        pause(700);
        for step in 1..=10 {
            let between = |a: i32, b: i32| a + (b - a) * step / 10;
            self.point((between(from.0, to.0), between(from.1, to.1)));
        }
        self.rest();
    }

    fn let_go(&self) {
        self.display.xdotool(&["mouseup", "1"]);
        pause(600);
    }

    fn key(&self, key: &str) {
        self.display.xdotool(&["key", "--clearmodifiers", key]);
        pause(400);
    }

    fn write(&self, text: &str) {
        self.display.xdotool(&["type", "--delay", "30", text]);
        pause(300);
    }

    /// Does something by the command list, which leads everywhere.
    fn command(&self, name: &str) {
        self.key("ctrl+space");
        pause(300);
        self.write(name);
        self.key("Return");
        pause(500);
    }

    fn picture(&self, name: &str) -> PathBuf {
        let path = self.pictures.join(format!("{name}.png"));
        self.rest();
        self.display.picture(&path, None);
        path
    }

    /// Waits until the window has come to rest, however busy the machine is: two looks, a while apart, see the same but
    /// for a blinking cursor.
    fn rest(&self) {
        let [before, after] = ["before", "after"].map(|name| self.folder.join(format!("{name}.png")));
        for _ in 0..40 {
            self.display.picture(&before, None);
            pause(900);
            self.display.picture(&after, None);
            if differing(&before, &after) < 100 {
                return;
            }
        }
    }
}

fn text_of(pdf: &Path) -> String {
    let output = Command::new("pdftotext").arg("-layout").arg(pdf).arg("-").output().expect("pdftotext runs");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn holder<'d>(design: &'d Design, thing: &str) -> Option<&'d str> {
    fn find<'d>(bay: &'d casewright_core::design::Bay, thing: &str) -> Option<&'d str> {
        match &bay.inside {
            Inside::Holds { things, .. } => things.iter().any(|name| name == thing).then_some(bay.name.as_str()),
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => bays.iter().find_map(|bay| find(bay, thing)),
            Inside::Boxed { bay, .. } => find(bay, thing),
            Inside::Open { .. } => None,
        }
    }
    find(&design.carcass.bay, thing)
}

#[test]
fn from_an_empty_page_to_the_written_pack_in_the_real_window() {
    if let Some(missing) = missing_tool() {
        println!("not checked: {missing} is not installed");
        return;
    }
    let folder = tempfile::tempdir().expect("a folder");
    let pictures = std::env::var_os("CASEWRIGHT_PICTURES").map_or_else(|| folder.path().to_owned(), PathBuf::from);
    std::fs::create_dir_all(&pictures).expect("a folder for pictures");
    let display = Display::start();
    let (_program, window): (Running, String) = display.open(None, "Casewright", folder.path(), "C");
    display.xdotool(&["windowsize", "--sync", &window, "1440", "900"]);
    display.xdotool(&["windowmove", "--sync", &window, "0", "0"]);
    display.xdotool(&["windowfocus", "--sync", &window]);
    let hand = Hand { display, pictures, folder: folder.path().to_owned() };
    pause(3000);
    hand.rest();

    // The guided start: two containers and a machine in a niche of the usual size.
    for place in [places::MORE_CONTAINERS, places::MORE_CONTAINERS, places::MORE_MACHINES] {
        hand.click(place);
        hand.rest();
    }
    hand.picture("start");
    hand.click(places::DRAW);
    pause(1500);
    hand.point(places::NOWHERE);
    let first = hand.picture("first-carcass");

    // A thing is taken from the list into the open bay.
    hand.hold(places::CONTAINER_2, places::OPEN_BAY);
    hand.picture("thing-dragged");
    hand.let_go();
    hand.rest();

    // A divider is pushed against the machine: what holds it is named.
    hand.hold(places::DIVIDER, places::DIVIDER_LEFT);
    hand.picture("divider-held");
    hand.let_go();

    // A bay is divided where the pointer is.
    hand.point(places::DIVIDE_AT);
    hand.key("u");
    pause(800);
    hand.picture("divided");

    // A size is typed over on the drawing; its field explains itself.
    hand.command("select the whole carcass");
    hand.command("enter the height");
    hand.picture("field-explained");
    hand.key("ctrl+a");
    hand.write("1850");
    hand.key("Return");
    pause(1200);
    let after = hand.picture("typed");
    assert!(differing(&first, &after) > 2000, "the drawing follows");

    // Too little room is said in words, with what would mend it; undo goes back.
    hand.command("enter the height");
    hand.key("ctrl+a");
    hand.write("900");
    hand.key("Return");
    pause(1500);
    hand.picture("conflict");
    hand.key("Escape");
    hand.key("ctrl+z");
    pause(1000);

    hand.key("6");
    pause(1500);
    hand.picture("all-four");

    // The checks with their sliders, and proposals for the carcass.
    hand.key("9");
    pause(1500);
    hand.picture("checks");
    hand.key("8");
    pause(3000);
    hand.picture("proposals");

    // The steps of the work below the drawing.
    hand.key("1");
    hand.key("F4");
    pause(1500);
    hand.picture("steps");
    hand.key("F2");

    // Saved under a name, and the sheets written.
    let file = folder.path().join("journey.ron");
    hand.key("ctrl+s");
    hand.key("ctrl+a");
    hand.write(&file.display().to_string());
    hand.key("Return");
    let design = wait_for("the saved design", || {
        let text = std::fs::read_to_string(&file).ok()?;
        Design::from_ron(&text).ok()
    });
    assert_eq!(design.things.len(), 3);
    assert_eq!(design.carcass.envelope.height, Extent::Fixed(Dim::new("1850")));
    assert_eq!(holder(&design, "container 2"), Some("open 2"));

    hand.key("7");
    pause(2000);
    hand.rest();
    hand.picture("sheets");
    let pack = folder.path().join("journey.pdf");
    hand.key("ctrl+p");
    hand.key("ctrl+a");
    hand.write(&pack.display().to_string());
    hand.key("Return");
    wait_for("the pack", || pack.exists().then_some(()));
    let text = text_of(&pack);
    for size in ["1850", "1500", "650"] {
        assert!(text.contains(size), "{size} is not in the pack");
    }

    // The same in German, from the menu of the whole.
    hand.key("1");
    hand.command("deutsch");
    pause(1500);
    hand.picture("german");
}

/// Where things are in a window of 1440 x 900.
mod places {
    pub(super) const MORE_CONTAINERS: (i32, i32) = (793, 299);
    pub(super) const MORE_MACHINES: (i32, i32) = (793, 363);
    pub(super) const DRAW: (i32, i32) = (480, 753);
    pub(super) const NOWHERE: (i32, i32) = (1000, 60);
    pub(super) const CONTAINER_2: (i32, i32) = (70, 311);
    pub(super) const OPEN_BAY: (i32, i32) = (788, 238);
    pub(super) const DIVIDER: (i32, i32) = (661, 259);
    pub(super) const DIVIDER_LEFT: (i32, i32) = (580, 259);
    pub(super) const DIVIDE_AT: (i32, i32) = (560, 238);
}
