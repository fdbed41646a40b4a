//! `casewright square` as a user runs it.

use casewright_tests::program::run;

const DEMO: &str = "demo/laundry-alcove.ron";

#[test]
fn diagonals_are_listed() {
    let found = run(&["square", DEMO]);
    assert_eq!((found.code, found.err.as_str()), (0, ""));
    // By hand: sqrt(1650² + 895²) = 1877.1.
    assert!(found.out.contains("all, outside: 1650 mm x 895 mm, diagonals 1877.1 mm"), "{}", found.out);
}

#[test]
fn measured_diagonals_say_which_way_to_pull() {
    let found = run(&["square", DEMO, "--of", "all, outside", "--first", "1880", "--second", "1874"]);
    assert_eq!(found.code, 1, "{}", found.err);
    // sin = (1880² - 1874²) / (4 * 1650 * 895) = 22524 / 5907000, so 0.218 degrees and 3.4 mm over 895.
    for words in ["0.218 degrees", "3.4 mm to the right", "pull the lower left and the upper right corner together"] {
        assert!(found.out.contains(words), "{words}: {}", found.out);
    }
    let square = run(&["square", DEMO, "--of", "all, outside", "--first", "1877.1", "--second", "1877.1"]);
    assert_eq!(square.code, 0);
    assert!(square.out.contains("leave it as it is"), "{}", square.out);
}

#[test]
fn what_cannot_be_is_said() {
    let check = |arguments: &[&str], expected: &str| {
        let found = run(&[&["square", DEMO], arguments].concat());
        assert_eq!(found.code, 2);
        assert!(found.err.contains(expected), "{}", found.err);
    };
    check(&["--first", "1", "--second", "2"], "it is not said what");
    check(&["--of", "nowhere", "--first", "1", "--second", "2"], "name one of: all, outside");
    check(&["--of", "linen", "--first", "x", "--second", "2"], "`--first x`");
    check(&["--of", "linen", "--first", "900", "--second", "910"], "belong to no frame");
}
