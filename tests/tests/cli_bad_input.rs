//! Bad designs, each with what the program says to it.
//!
//! `tests/data/bad/NAME.ron` is checked; the standard error must be `NAME.expected`, with `FILE` for the file's name.
//! `CASEWRIGHT_BLESS=1` writes what is said now; look at it before it is committed.

use std::fs;
use std::path::PathBuf;

use casewright_tests::program::{root, run};

fn bad_designs() -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = fs::read_dir(root().join("tests/data/bad"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "ron"))
        .collect();
    found.sort();
    found
}

#[test]
fn each_bad_design_is_answered_as_expected() {
    let designs = bad_designs();
    assert!(designs.len() >= 30, "{}", designs.len());
    let bless = std::env::var_os("CASEWRIGHT_BLESS").is_some();
    let mut wrong = Vec::new();
    for design in &designs {
        let name = design.to_str().unwrap();
        let found = run(&["check", name]);
        let said = found.err.replace(name, "FILE");
        let file = design.with_extension("expected");
        if bless {
            fs::write(&file, &said).unwrap();
        }
        let expected = fs::read_to_string(&file).unwrap_or_default();
        if (found.code, found.out.as_str(), said.as_str()) != (2, "", expected.as_str()) {
            wrong.push(format!("{name}: exit {}\n{}{said}instead of\n{expected}", found.code, found.out));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Every line names the file, and every one that is no overall statement has a line, a column, a cause and a mend.
#[test]
fn each_answer_has_place_cause_and_mend() {
    for design in bad_designs() {
        let text = fs::read_to_string(design.with_extension("expected")).unwrap();
        assert!(!text.is_empty(), "{}", design.display());
        for line in text.lines() {
            let rest = line.strip_prefix("FILE:").unwrap_or_else(|| panic!("{}: no file: {line}", design.display()));
            // The demands of a conflict are listed below it, indented, without a mend of their own.
            let listed = rest.splitn(3, ':').nth(2).is_some_and(|words| words.starts_with("   "));
            assert!(listed || rest.contains("; "), "{}: no mend: {line}", design.display());
            assert!(!rest.contains("internal error"), "{}: {line}", design.display());
        }
    }
}

/// The design that the bad ones are made of is good, so that each is bad for one reason.
#[test]
fn what_the_bad_ones_are_made_of_is_good() {
    let found = run(&["check", "tests/data/good.ron"]);
    assert_eq!((found.code, found.err.as_str()), (0, ""), "{}", found.out);
}
