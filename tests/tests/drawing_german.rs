//! The pack of shop drawings in German: whole, and the same as the English one but for its words.
//!
//! A text that has no German fails here and is printed as it stands in the source: put it into assets/language, with its
//! German below it. docs/languages.md says how.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, reason = "a failed test may panic")]

use std::collections::BTreeSet;

use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use casewright_drawing::Language;
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
