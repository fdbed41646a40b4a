//! The examples as a user runs them.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use casewright_tests::program::{DEMOS, root, run};

fn design(stem: &str) -> String {
    format!("demo/{stem}.ron")
}

/// The names and bytes of all files in a folder.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap())
        .map(|entry| (entry.file_name().into_string().unwrap(), fs::read(entry.path()).unwrap()))
        .collect()
}

#[test]
fn every_demo_checks_clean() {
    for stem in DEMOS {
        let found = run(&["check", &design(stem)]);
        assert_eq!(found.err, "", "{stem}");
        assert_eq!(found.code, 0, "{stem}: {}", found.out);
        let summary = found.out.lines().last().unwrap_or_default();
        assert!(summary.starts_with(&format!("demo/{stem}.ron: 0 errors, ")), "{summary}");
    }
}

#[test]
fn every_demo_is_in_the_list() {
    let mut found: Vec<String> = fs::read_dir(root().join("demo"))
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    found.sort();
    let mut expected = DEMOS.map(str::to_owned).to_vec();
    expected.sort();
    assert_eq!(found, expected);
}

#[test]
fn exporting_twice_gives_the_same_bytes() {
    for stem in DEMOS {
        let folder = tempfile::tempdir().unwrap();
        let once = folder.path().join("once");
        let twice = folder.path().join("deep/er/twice");
        for out in [&once, &twice] {
            let found = run(&["export", &design(stem), "--out", out.to_str().unwrap()]);
            assert_eq!(found.code, 0, "{stem}: {}", found.err);
            let known = "the sheets have no room for these labels";
            assert!(found.err.lines().all(|line| line.contains(known)), "{stem}: {}", found.err);
            let pdf = fs::read(out.join(format!("{stem}.pdf"))).unwrap();
            assert!(pdf.starts_with(b"%PDF-"), "{stem}");
            assert!(out.join(format!("{stem}-01.svg")).exists(), "{stem}");
        }
        let (once, twice) = (files(&once), files(&twice));
        assert!(once.len() >= 3, "{:?}", once.keys());
        assert!(once == twice, "{stem}: the bytes differ");
        for (name, bytes) in &once {
            assert!(name.starts_with(stem), "{name}");
            assert!(!bytes.is_empty(), "{name}");
        }
    }
}

#[test]
fn exporting_over_an_older_export_replaces_it() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let old = folder.path().join("laundry-alcove-parts.csv");
    fs::write(&old, "old").unwrap();
    fs::write(folder.path().join("notes.txt"), "mine").unwrap();
    assert_eq!(run(&["export", "demo/laundry-alcove.ron", "--out", out]).code, 0);
    assert_ne!(fs::read_to_string(&old).unwrap(), "old");
    assert_eq!(fs::read_to_string(folder.path().join("notes.txt")).unwrap(), "mine");
    let left = files(folder.path());
    assert!(left.keys().all(|name| !name.starts_with('.')), "{:?}", left.keys());
}

#[test]
fn deriving_is_documented_and_repeatable() {
    let documented = fs::read_to_string(root().join("docs/derive.md")).unwrap();
    for stem in DEMOS {
        let found = run(&["derive", &design(stem)]);
        assert_eq!((found.code, found.err.as_str()), (0, ""), "{stem}");
        assert_eq!(found.out, run(&["derive", &design(stem)]).out, "{stem}");
        let value: serde_json::Value = serde_json::from_str(&found.out).unwrap();
        assert_eq!(value["format"], "casewright-derived");
        assert_eq!(value["version"], 1);
        let mut names = Vec::new();
        field_names(&value, &mut names);
        for name in names {
            assert!(documented.contains(&format!("`{name}`")), "docs/derive.md does not tell of `{name}`");
        }
    }
}

fn field_names(value: &serde_json::Value, names: &mut Vec<String>) {
    match value {
        serde_json::Value::Object(fields) => {
            for (name, value) in fields {
                names.push(name.clone());
                field_names(value, names);
            }
        }
        serde_json::Value::Array(items) => items.iter().for_each(|item| field_names(item, names)),
        _ => {}
    }
}

#[test]
fn deriving_to_a_file_writes_what_is_printed() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("a.json");
    let found = run(&["derive", "demo/container-trolley.ron", "--out", out.to_str().unwrap()]);
    assert_eq!((found.code, found.out.as_str(), found.err.as_str()), (0, "", ""));
    assert_eq!(fs::read_to_string(&out).unwrap(), run(&["derive", "demo/container-trolley.ron"]).out);
}

#[test]
fn cutting_covers_every_part_once() {
    for stem in DEMOS {
        let folder = tempfile::tempdir().unwrap();
        let csv = folder.path().join("cut.csv");
        let found = run(&["cut", &design(stem), "--csv", csv.to_str().unwrap()]);
        // The salvaged boards are one part short, and say so.
        let short = i32::from(stem == "salvaged-office");
        assert_eq!((found.code, found.err.as_str()), (short, ""), "{stem}: {}", found.out);
        assert!(found.out.contains("saw cut"), "{}", found.out);
        let derived: serde_json::Value = serde_json::from_str(&run(&["derive", &design(stem)]).out).unwrap();
        let mut parts: Vec<String> =
            derived["parts"].as_array().unwrap().iter().map(|it| it["number"].as_str().unwrap().to_owned()).collect();
        let mut placed: Vec<String> = (fs::read_to_string(&csv).unwrap().lines().skip(1))
            .map(|line| line.split(',').nth(3).unwrap_or_default().to_owned())
            .collect();
        parts.sort();
        placed.sort();
        assert_eq!(placed, parts, "{stem}");
    }
}
