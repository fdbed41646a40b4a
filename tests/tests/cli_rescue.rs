//! `casewright rescue` as a user runs it.

use casewright_tests::program::run;

const DEMO: &str = "demo/salvaged-office.ron";

#[test]
fn ways_out_of_a_wrong_cut_are_listed() {
    let list = run(&["derive", DEMO]);
    let json: serde_json::Value = serde_json::from_str(&list.out).unwrap();
    let parts = json["parts"].as_array().unwrap();
    let shelf = parts.iter().find(|it| it["role"] == "Shelf").expect("a shelf");
    let number = shelf["number"].as_str().unwrap();
    let short = run(&["rescue", DEMO, "--part", number, "--length", "500"]);
    assert_eq!((short.code, short.err.as_str()), (0, ""), "{}", short.out);
    assert!(short.out.contains("came out 500 x "), "{}", short.out);
    assert!(short.out.lines().skip(1).all(|it| it.starts_with(|c: char| c.is_ascii_digit())), "{}", short.out);
    assert!(short.out.contains("1. ") && short.out.contains("cut it again from"), "{}", short.out);
}

#[test]
fn a_size_as_planned_needs_no_way_out() {
    let width = |text: &str| text.split("planned ").nth(1).unwrap().split([' ', ',']).nth(2).unwrap().to_owned();
    let first = run(&["rescue", DEMO, "--part", "BO", "--length", "1"]);
    let planned = width(&first.out);
    let same = run(&["rescue", DEMO, "--part", "BO", "--width", &planned]);
    assert_eq!(same.code, 0);
    assert!(same.out.contains("nothing is wrong"), "{}", same.out);
}

#[test]
fn what_cannot_be_is_said() {
    let check = |arguments: &[&str], expected: &str| {
        let found = run(&[&["rescue", DEMO], arguments].concat());
        assert_eq!(found.code, 2);
        assert!(found.err.contains(expected), "{}", found.err);
    };
    check(&["--part", "nothing", "--length", "5"], "there is no part \"nothing\"; name one of: ");
    check(&["--part", "BO", "--length", "long"], "`--length long`");
    check(&["--part", "BO"], "does not know how the part came out");
}
