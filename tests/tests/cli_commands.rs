//! The commands at their edges: exit codes, what goes where, and what is left alone.

use std::fs;

use casewright_tests::program::run;

#[test]
fn a_new_design_is_clean_and_never_replaces_one() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("my cabinet.ron");
    let name = file.to_str().unwrap();
    let found = run(&["new", name]);
    assert_eq!((found.code, found.err.as_str()), (0, ""));
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.starts_with("//"), "{text}");
    let checked = run(&["check", name]);
    assert_eq!((checked.code, checked.err.as_str()), (0, ""), "{}", checked.out);
    let out = folder.path().join("out");
    assert_eq!(run(&["export", name, "--out", out.to_str().unwrap()]).code, 0);
    assert_eq!(run(&["cut", name]).code, 0);
    let again = run(&["new", name]);
    assert_eq!(again.code, 2);
    assert_eq!(
        again.err,
        format!("{name}: cannot be written: it exists already; choose another name, or remove it first\n")
    );
    assert_eq!(fs::read_to_string(&file).unwrap(), text);
}

#[test]
fn mistakes_on_the_command_line() {
    let check = |args: &[&str], expected: &str| {
        let found = run(args);
        assert_eq!((found.code, found.out.as_str()), (2, ""), "{args:?}");
        assert_eq!(found.err, format!("{expected}\n"), "{args:?}");
    };
    check(&["check"], "casewright: the design file is missing; write `casewright check FILE`");
    check(&["check", ""], "casewright: the design file is missing; write `casewright check FILE`");
    check(&["export", "demo/laundry-alcove.ron"], "casewright: `export` does not know where to write; add `--out DIR`");
    check(&["--sideways"], "casewright: invalid option '--sideways'; see `casewright --help`");
    check(&["check", "none.ron"], "none.ron: cannot be read: there is no such file or folder; check the name");
    check(&["check", "demo"], "demo: cannot be read: it is a folder; name a file");
    // Without a display the window says so, and does not hang.
    let mend = "sit down at a desktop, or use a command that needs none, such as `casewright check FILE`";
    check(
        &["demo/laundry-alcove.ron"],
        &format!("casewright: the window cannot be opened: there is no display here; {mend}"),
    );
    check(
        &["cut", "demo/laundry-alcove.ron", "--kerf", "30"],
        "casewright: `--kerf 30`: a saw cut is between 0 and 20 mm wide; write for example `--kerf 3.2`",
    );
    check(
        &["cut", "demo/laundry-alcove.ron", "--seconds", "soon"],
        "casewright: `--seconds soon` is no time between 0 and 86400 s; write for example `--seconds 10`",
    );
}

/// A design without boards is no impossible one: what is said is how to enter them. Parts are left over, so the exit code is 1.
#[test]
fn without_boards_cut_says_how_to_enter_them() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("bare.ron");
    let design = fs::read_to_string(casewright_tests::program::root().join("tests/data/cooler.ron")).unwrap();
    fs::write(&file, &design).unwrap();
    assert!(!design.contains("boards: ["), "it has no stock");
    let found = run(&["cut", file.to_str().unwrap()]);
    assert_eq!((found.code, found.err.as_str()), (1, ""));
    for said in ["No boards are entered yet", "`boards: [(name: ", "--add TABLE", "no boards entered yet for "] {
        assert!(found.out.contains(said), "{said}: {}", found.out);
    }
    for unsaid in ["impossible", "short", "No board in stock"] {
        assert!(!found.out.contains(unsaid), "{unsaid}: {}", found.out);
    }
}

/// The lipping of the trolley in straight lengths: bars in the plan, in the banding list and in the buying list, sheets and CSV.
#[test]
fn lipping_that_is_sold_in_bars_is_planned_and_counted() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("trolley.ron");
    let design = fs::read_to_string(casewright_tests::program::root().join("demo/container-trolley.ron")).unwrap();
    let from_roll = "(thickness: 2, width: 18, finish: \"birch\")";
    assert!(design.contains(from_roll));
    fs::write(&file, design.replace(from_roll, "(thickness: 2, width: 18, sold_in: 700, finish: \"birch\")")).unwrap();
    let found = run(&["cut", file.to_str().unwrap()]);
    assert_eq!((found.code, found.err.as_str()), (0, ""));
    let (_, bars) = found.out.split_once("\nbirch lipping 2: ").expect("a plan of the lipping");
    let (count, rest) = bars.split_once(" bars of 700 mm: proven best\n").expect("how many, and how good");
    let count: usize = count.parse().unwrap();
    assert_eq!(rest.matches("\nbar ").count(), count);
    assert_eq!(rest.matches("\n  remains ").count(), count);
    // Strips longer than a bar are told, and are no failure.
    assert!(found.out.contains("note: birch lipping 2: the strips for "), "{}", found.out);
    let out = folder.path().join("out");
    assert_eq!(run(&["export", file.to_str().unwrap(), "--out", out.to_str().unwrap()]).code, 0);
    let list = |name: &str| fs::read_to_string(out.join(format!("trolley-{name}.csv"))).unwrap();
    let banding = list("banding");
    let rows: Vec<Vec<&str>> = banding.lines().map(|it| it.split(',').collect()).collect();
    assert_eq!(rows[0][10..], ["bar", "rest of the bar (mm)"]);
    let named: std::collections::BTreeSet<&str> =
        rows[1..].iter().map(|it| it[10]).filter(|it| !it.is_empty()).collect();
    assert_eq!(named.len(), count);
    let strips = rest.lines().filter(|it| it.ends_with(" edge")).count();
    assert_eq!(rows[1..].iter().filter(|it| !it[10].is_empty()).count(), strips);
    let bought = format!("banding in bars,birch lipping 2,\"birch, in bars of 700 mm\",{count},pieces,0,1,{count},,");
    assert!(list("buying").contains(&bought), "{}", list("buying"));
}

#[test]
fn help_and_version_go_to_the_standard_output() {
    let help = run(&["--help"]);
    assert_eq!((help.code, help.err.as_str()), (0, ""));
    for command in ["check", "derive", "export", "cut", "stock", "new"] {
        assert!(help.out.contains(&format!("casewright {command} ")), "{command}");
    }
    let version = run(&["--version"]);
    assert_eq!((version.code, version.err.as_str()), (0, ""));
    assert!(version.out.starts_with("casewright "));
}

#[test]
fn stock_from_a_table_and_an_old_cabinet() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    fs::write(path("pasted.txt"), "cellar door\twhite 18\t1980\t720\t1\n").unwrap();
    let demo = "demo/salvaged-office.ron";
    let old = "name=kitchen box, size=600x720x560, material=white 18, thickness=18";
    let args =
        ["stock", demo, "--add", &path("pasted.txt"), "--box", old, "--out", &path("new.ron"), "--csv", &path("s.csv")];
    let found = run(&args);
    assert_eq!((found.code, found.err.as_str()), (0, ""));
    // 720 high with the sides running through: two of 720 x 560, two of 600 - 36 = 564 between them.
    assert!(found.out.contains("kitchen box side: 720 mm x 560 mm, white 18, 2 pieces, salvaged"), "{}", found.out);
    assert!(found.out.contains("kitchen box top or bottom: 564 mm x 560 mm"), "{}", found.out);
    assert!(found.out.contains("cellar door: 1980 mm x 720 mm"), "{}", found.out);
    // The new design keeps its comments, can be checked, and has the boards; what was written as CSV comes in again.
    let text = fs::read_to_string(path("new.ron")).unwrap();
    assert!(text.contains("// The wardrobe.") && text.contains("kitchen box side"), "{text}");
    assert_eq!(run(&["check", &path("new.ron")]).code, 0);
    assert_eq!(run(&["stock", demo, "--add", &path("s.csv")]).code, 0);
    // A board of a material that is not there is told with what there is.
    fs::write(path("bad.csv"), "x,oak,100,100,1\n").unwrap();
    let found = run(&["stock", demo, "--add", &path("bad.csv")]);
    assert_eq!(found.code, 2);
    assert!(found.err.contains("no material; name one of white 18, white 16"), "{}", found.err);
}

#[test]
fn a_folder_that_cannot_be_made_is_told_and_nothing_is_left() {
    let folder = tempfile::tempdir().unwrap();
    let taken = folder.path().join("taken");
    fs::write(&taken, "a file").unwrap();
    let found = run(&["export", "demo/container-trolley.ron", "--out", taken.to_str().unwrap()]);
    assert_eq!(found.code, 2);
    assert_eq!(found.err, format!("{}: cannot be written into: it is a file; name a folder\n", taken.display()));
    assert_eq!(fs::read_to_string(&taken).unwrap(), "a file");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_design_that_cannot_be_solved_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(casewright_tests::program::root().join("demo/laundry-alcove.ron")).unwrap();
    let narrow = text.replace("\"alcove\": \"1660\"", "\"alcove\": \"1160\"");
    assert_ne!(narrow, text);
    let file = folder.path().join("narrow.ron");
    fs::write(&file, narrow).unwrap();
    let out = folder.path().join("out");
    for args in [
        vec!["check", file.to_str().unwrap()],
        vec!["derive", file.to_str().unwrap()],
        vec!["export", file.to_str().unwrap(), "--out", out.to_str().unwrap()],
        vec!["cut", file.to_str().unwrap()],
    ] {
        let found = run(&args);
        assert_eq!((found.code, found.out.as_str()), (2, ""), "{args:?}");
        assert!(found.err.contains("too much over the width"), "{}", found.err);
        // Each demand has its place in the file.
        let place = format!("{}:", file.display());
        assert!(found.err.lines().count() >= 3, "{}", found.err);
        for line in found.err.lines() {
            let rest = line.strip_prefix(&place).unwrap_or_else(|| panic!("no place: {line}"));
            let (row, _) = rest.split_once(':').unwrap();
            assert!(row.parse::<usize>().is_ok(), "{line}");
        }
    }
    assert!(!out.exists());
}

#[test]
fn chapters_of_a_pack_are_chosen_by_name() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let export =
        |only: &str| run(&["export", "demo/container-trolley.ron", "--out", out.to_str().unwrap(), "--only", only]);
    let found = export("views,order");
    assert_eq!(found.code, 0, "{}", found.err);
    let sheets = found.out.lines().filter(|line| line.ends_with(".svg") && !line.contains("worktop")).count();
    assert!((3..20).contains(&sheets), "{}", found.out);
    assert!(!found.err.contains("older export"));
    // Fewer sheets than before: the rest is told of.
    assert!(export("views").err.contains("comes from an older export"));
    let wrong = export("views,drawings");
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("there is no chapter called \"drawings\"; name some of: views, lists"), "{}", wrong.err);
}
