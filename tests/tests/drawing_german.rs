//! The pack of shop drawings in German: whole, and the same as the English one but for its words.
//!
//! A text that has no German fails here and is printed as it stands in the source: put it into assets/language, with its
//! German below it. docs/languages.md says how.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, reason = "a failed test may panic")]

use std::collections::BTreeSet;

use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use casewright_drawing::language::names_of;
use casewright_drawing::{Language, Speech};
use casewright_drawing::furniture::{Pack, PackOptions, Scene, pack};
use casewright_stock::PlanOptions;
use casewright_tests::program::root;

/// Every demo, and the designs among the test data that can be built.
fn designs() -> Vec<(String, Derived)> {
    let mut files: Vec<_> = ["demo", "tests/data"]
        .iter()
        .flat_map(|folder| std::fs::read_dir(root().join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|it| it == "ron"))
        .collect();
    files.sort();
    let read = |path: &std::path::PathBuf| {
        let design = Design::from_ron(&std::fs::read_to_string(path).unwrap()).ok()?;
        Some((path.file_stem()?.to_str()?.to_owned(), derive(&design).ok()?))
    };
    files.iter().filter_map(read).collect()
}

fn whole(scene: &Scene<'_>) -> Pack {
    let plan = casewright_stock::plan(scene.design, scene.assembly, &PlanOptions::default()).unwrap();
    pack(scene, &PackOptions { cutting: Some(plan), ..PackOptions::default() }).unwrap()
}

#[test]
fn every_text_of_the_program_has_its_german() {
    let mut missing = BTreeSet::new();
    for (_, derived) in designs() {
        let scene = Scene::from(&derived);
        let speech = scene.speech_of(Language::German);
        whole(&scene.in_language(&speech));
        missing.extend(speech.unsaid());
    }
    let list: Vec<String> = missing.iter().map(|it| format!("{it}\n")).collect();
    assert!(missing.is_empty(), "{} texts have no German:\n{}", missing.len(), list.concat());
}

/// The words of findings in `tests/data/checks`, as `checks_on_purpose` writes them.
fn spoilt_on_purpose() -> BTreeSet<String> {
    let mut texts = BTreeSet::new();
    for entry in std::fs::read_dir(root().join("tests/data/checks")).unwrap() {
        for line in std::fs::read_to_string(entry.unwrap().path()).unwrap().lines() {
            match line.trim_start().split_once(' ') {
                Some(("measured", rest)) => texts.extend(rest.split("; limit ").map(str::to_owned)),
                Some(("limit" | "mend:" | "source:", rest)) => drop(texts.insert(rest.to_owned())),
                _ => texts.extend(line.split_once("): ").map(|(_, what)| what.to_owned())),
            }
        }
    }
    texts
}

#[test]
fn every_finding_that_is_made_on_purpose_has_its_german() {
    let mut names: BTreeSet<String> = designs().iter().flat_map(|(_, it)| names_of(&it.design)).collect();
    names.extend(designs().iter().flat_map(|(_, it)| it.assembly.parts.iter().map(|part| part.number.clone())));
    // What `checks_on_purpose` puts in the way.
    names.extend(["something in the way", "paint"].map(str::to_owned));
    let speech = Speech::new(Language::German, names);
    let texts = spoilt_on_purpose();
    assert!(texts.len() > 150, "{}", texts.len());
    for text in &texts {
        let _said = speech.say(text);
    }
    let missing = speech.unsaid();
    assert!(missing.is_empty(), "{} texts have no German:\n{}", missing.len(), missing.join("\n"));
}
