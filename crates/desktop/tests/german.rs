//! What the solver and the checks say is said in German too: everything that the demos bring up, and nearly every sentence
//! that stands in the source of the checks.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

use std::path::{Path, PathBuf};
use std::sync::Arc;

use casewright_arrange::criteria::Criterion;
use casewright_arrange::{Effort, Merits, Request, Unwatched, error_words, propose, search_words};
use casewright_core::design::{Design, Extent, Inside};
use casewright_core::expr::Dim;
use casewright_core::stock::{Lot, Quality};
use casewright_core::unit::Unit;
use casewright_desktop::command::Command;
use casewright_desktop::pipeline::{self, Derived, run};
use casewright_drawing::language::names_of;
use casewright_drawing::{Language, Speech};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn demos() -> Vec<Design> {
    let read = |demo: &str| {
        let text = std::fs::read_to_string(root().join(format!("demo/{demo}.ron"))).unwrap();
        Design::read(&text).unwrap().0
    };
    ["laundry-alcove", "container-trolley", "alcove-bookcase"].map(read).into()
}

fn derived(design: Design) -> Derived {
    run(&pipeline::Request {
        serial: 0,
        revision: 0,
        design: Arc::new(design),
        focus: None,
        steps: false,
        sheets: None,
        language: Language::English,
    })
}

/// Of these sentences, those that the book does not know; names are those of the demos, and `Qq`.
fn unsaid(sentences: impl IntoIterator<Item = String>) -> Vec<String> {
    let names = demos().iter().flat_map(names_of).chain(["Qq".to_owned()]).collect::<Vec<_>>();
    let speech = Speech::new(Language::German, names);
    let mut unsaid: Vec<String> = sentences.into_iter().filter(|it| speech.try_say(it).is_none()).collect();
    unsaid.sort();
    unsaid.dedup();
    unsaid
}

#[test]
fn what_the_demos_bring_up_is_said_in_german() {
    let mut sentences = Vec::new();
    for design in demos() {
        let derived = derived(design);
        for finding in &derived.findings {
            sentences.push(finding.what.clone());
            sentences.extend(finding.mend.clone());
        }
    }
    assert!(sentences.len() > 20);
    assert_eq!(unsaid(sentences), Vec::<String>::new());
}

#[test]
fn conflicts_and_their_mends_are_said_in_german() {
    let mut sentences = Vec::new();
    for design in demos() {
        for (name, text) in [("width", "400 mm"), ("height", "300 mm"), ("depth", "200 mm")] {
            let path = casewright_core::text::FieldPath::root().field("carcass").field("envelope").field(name);
            let value = serde_json::json!({ "Fixed": text });
            let name = casewright_desktop::command::Name::new("edit-field");
            let tight = Command::SetField { path, value, name }.apply(&design).unwrap();
            for trouble in derived(tight).troubles {
                sentences.push(trouble.what);
                sentences.extend(trouble.because.into_iter().map(|(cause, _)| cause));
                sentences.extend(trouble.mends.into_iter().map(|mend| mend.words));
            }
        }
    }
    assert!(sentences.len() > 20, "{sentences:?}");
    assert_eq!(unsaid(sentences), Vec::<String>::new());
}

#[test]
fn what_cannot_be_arranged_is_said_in_german() {
    let mut sentences = Vec::new();
    let laundry = demos().swap_remove(0);
    for width in ["1500 mm", "600 mm"] {
        let mut tight = laundry.clone();
        tight.carcass.envelope.width = Extent::Fixed(Dim::new(width));
        let request = Request::of(&tight, None).unwrap();
        match propose(&request, Effort::NORMAL, &Unwatched) {
            Ok(outcome) => sentences.extend(outcome.lack.unwrap().sentences(&request)),
            Err(error) => sentences.push(error.to_string()),
        }
    }
    let mut empty = laundry;
    empty.things.clear();
    empty.carcass.ties.clear();
    empty.carcass.openings.clear();
    empty.carcass.bay.inside = Inside::Open { shelves: 0 };
    sentences.push(Request::of(&empty, None).unwrap_err().to_string());
    assert!(sentences.len() > 3, "{sentences:?}");
    assert_eq!(unsaid(sentences), Vec::<String>::new());
}

#[test]
fn proposals_and_cutting_plans_are_said_in_german() {
    let mut sentences = Vec::new();
    for criterion in Criterion::ALL {
        let value = criterion.say(-1.5, Unit::default());
        sentences.push(criterion.words().to_owned());
        sentences.push(format!("{} ({value}); but {value}, where another has {value}", criterion.words()));
        sentences.push(value);
    }
    sentences.extend([1, 2].into_iter().filter_map(error_words));
    sentences.extend([true, false].map(|it| search_words(it).to_owned()));
    sentences.push(Merits { is_alone: true, ..Merits::default() }.line(&[0.0; 11], Unit::default()));
    let qualities = [
        Quality::Best,
        Quality::Within(3.2),
        Quality::Within(f64::INFINITY),
        Quality::Impossible(0.5),
        Quality::Unplaced(0.5),
        Quality::TakenFirst,
        Quality::NoBoards(0.5),
    ];
    for (quality, after_others) in qualities.into_iter().flat_map(|it| [(it, true), (it, false)]) {
        let lot = Lot {
            material: String::new(),
            which: String::new(),
            boards: Vec::new(),
            missing: vec![0, 1],
            quality,
            after_others,
            spare: Vec::new(),
        };
        sentences.push(lot.quality_in_words(&|part| format!("P{part}")));
    }
    assert_eq!(unsaid(sentences), Vec::<String>::new());
}

/// The texts of the findings in a source file: the literals of three words or more outside of sources and comments, with
/// something in the place of what is put into them.
fn literals(source: &str) -> Vec<String> {
    let code: String = source
        .split("#[cfg(test)]")
        .next()
        .unwrap()
        .lines()
        .filter(|line| {
            let line = line.trim_start();
            !line.starts_with("//") && !line.contains("ource::") && !line.contains("internal error")
        })
        .flat_map(|line| [line, "\n"])
        .collect();
    let mut found = Vec::new();
    for (index, piece) in code.replace("\\\n", "").replace("\\\"", "”").split('"').enumerate() {
        if index % 2 == 0 || piece.split_whitespace().count() < 3 {
            continue;
        }
        let mut filled = String::new();
        let mut depth = 0;
        for c in piece.replace('”', "\"").chars() {
            match c {
                '{' => depth += 1,
                '}' => {
                    depth -= 1;
                    filled.push_str("Qq");
                }
                _ if depth == 0 => filled.push(c),
                _ => {}
            }
        }
        let words: Vec<&str> = filled.split_whitespace().collect();
        found.push(words.join(" "));
    }
    found
}

#[test]
fn nearly_every_sentence_of_the_checks_is_in_the_book() {
    let mut sentences = Vec::new();
    for entry in std::fs::read_dir(root().join("crates/core/src/checks")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ext| ext == "rs") {
            sentences.extend(literals(&std::fs::read_to_string(path).unwrap()));
        }
    }
    let count = sentences.len();
    let unsaid = unsaid(sentences);
    println!("{} of {count} are not in the book:\n{}", unsaid.len(), unsaid.join("\n"));
    assert!(count > 100 && unsaid.len() * 10 <= count * 3, "{} of {count} are missing", unsaid.len());
}
