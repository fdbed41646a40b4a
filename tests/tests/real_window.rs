//! The real window of the real program on a display without a screen: the demo opened, a width typed, the new size seen
//! on the drawing, saved, opened again. Needs Xvfb, xdotool and ImageMagick; on a machine without them the test says so and
//! checks nothing.

use std::path::Path;
use std::time::Duration;

use casewright_core::design::{Design, Extent};
use casewright_tests::display::{Display, differing, missing_tool, wait_for};
use casewright_tests::program;

/// The middle of the window, where the drawing is.
const MIDDLE: Option<&str> = Some("760x560+260+130");

fn width(file: &Path) -> Extent {
    let text = std::fs::read_to_string(file).expect("the design");
    Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}")).carcass.envelope.width
}

#[test]
fn a_width_typed_into_the_real_window_is_drawn_and_saved() {
    if let Some(missing) = missing_tool() {
        println!("not checked: {missing} is not installed");
        return;
    }
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("laundry-alcove.ron");
    std::fs::copy(program::root().join("demo/laundry-alcove.ron"), &file).expect("the demo");
    let display = Display::start();
    let (first, window) = display.open(Some(&file), "alcove.ron", folder.path(), "C");
    // The class of the window is the name of the desktop entry, so that the desktop brings the two together.
    let by_class = display.xdotool(&["search", "--onlyvisible", "--class", "^casewright$"]);
    assert!(by_class.lines().any(|id| id == window), "{by_class:?} is not {window}");
    let pause = |ms| std::thread::sleep(Duration::from_millis(ms));
    display.xdotool(&["windowfocus", "--sync", &window]);
    pause(2500);
    let (before, after) = (folder.path().join("before.png"), folder.path().join("after.png"));
    display.picture(&before, MIDDLE);
    // The command list leads everywhere by keyboard alone: it puts the focus into the field of the width.
    display.xdotool(&["key", "--clearmodifiers", "ctrl+space"]);
    pause(600);
    display.xdotool(&["type", "--delay", "40", "enter the width"]);
    pause(300);
    display.xdotool(&["key", "Return"]);
    pause(600);
    display.xdotool(&["key", "ctrl+a"]);
    display.xdotool(&["type", "--delay", "40", "1652.5"]);
    display.xdotool(&["key", "Return"]);
    wait_for("the new size on the drawing", || {
        pause(400);
        display.picture(&after, MIDDLE);
        (differing(&before, &after) > 50).then_some(())
    });
    display.xdotool(&["key", "--clearmodifiers", "ctrl+s"]);
    let wanted = Extent::Fixed(casewright_core::expr::Dim::new("1652.5"));
    wait_for("the saved width", || (width(&file) == wanted).then_some(()));
    drop(first);
    let (_second, _) = display.open(Some(&file), "alcove.ron", folder.path(), "C");
    assert_eq!(width(&file), wanted);
}
