//! `casewright arrange` as a user runs it.

use casewright_core::design::Design;
use casewright_tests::program::{root, run};

#[test]
fn proposals_come_as_designs_that_can_be_built_and_on_a_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("proposals");
    let found = run(&["arrange", "demo/laundry-alcove.ron", "--out", out.to_str().unwrap()]);
    assert_eq!((found.code, found.err.as_str()), (0, ""), "{}", found.out);
    let designs: Vec<_> =
        (1..).map(|i| out.join(format!("laundry-alcove-proposal-{i}.ron"))).take_while(|it| it.exists()).collect();
    assert!(designs.len() >= 2, "{}", found.out);
    for file in &designs {
        assert!(found.out.contains(file.to_str().unwrap()));
        let checked = run(&["check", file.to_str().unwrap()]);
        assert_eq!(checked.code, 0, "{}{}", checked.out, checked.err);
        let design = Design::from_ron(&std::fs::read_to_string(file).unwrap()).unwrap();
        assert_eq!(design.things.len(), 4);
    }
    assert!(std::fs::read(out.join("laundry-alcove-proposals.pdf")).unwrap().starts_with(b"%PDF"));
    for words in ["fewest parts (", " l open space, ", "set-ups"] {
        assert!(found.out.contains(words), "{words}: {}", found.out);
    }
    // The same again, byte for byte.
    let again = folder.path().join("again");
    run(&["arrange", "demo/laundry-alcove.ron", "--out", again.to_str().unwrap()]);
    for entry in std::fs::read_dir(&out).unwrap() {
        let name = entry.unwrap().file_name();
        assert_eq!(std::fs::read(out.join(&name)).unwrap(), std::fs::read(again.join(&name)).unwrap(), "{name:?}");
    }
}

/// Thirteen things that fill their room but for the panels between them: a group of the published perfect packing Nice25i2b1
/// (Ortmann, Ntene and van Vuuren, European Journal of Operational Research 203, 2010), which a narrow search misses.
#[test]
fn what_a_narrow_search_misses_a_wider_one_finds() {
    let folder = tempfile::tempdir().unwrap();
    let found = run(&["arrange", "tests/data/thirteen-things.ron", "--out", folder.path().to_str().unwrap()]);
    assert_eq!(found.code, 0, "{}{}", found.out, found.err);
}

#[test]
fn what_cannot_be_arranged_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let check = |from: &str, to: &str, more: &[&str], code: i32, expected: &str| {
        let text = std::fs::read_to_string(root().join("demo/laundry-alcove.ron")).unwrap();
        assert!(text.contains(from), "{from}");
        let file = folder.path().join("changed.ron");
        std::fs::write(&file, text.replace(from, to)).unwrap();
        let out = folder.path().join("out");
        let found = run(&[&["arrange", file.to_str().unwrap(), "--out", out.to_str().unwrap()], more].concat());
        assert_eq!(found.code, code, "{}{}", found.out, found.err);
        assert!(format!("{}{}", found.out, found.err).contains(expected), "{}{}", found.out, found.err);
        assert!(!out.exists(), "nothing is written");
    };
    // Less room than the things take: what to leave out, and what to give.
    check("Fixed(\"alcove - 2 * fit\")", "Fixed(1500)", &[], 1, "No way was found to fit everything in");
    check("Fixed(\"alcove - 2 * fit\")", "Fixed(600)", &[], 2, "dryer bay does not fit even alone");
    check("title", "title", &["--bay", "attic"], 2, "there is no bay called \"attic\"");
}
