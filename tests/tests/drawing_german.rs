//! The pack of shop drawings in German: whole, and the same as the English one but for its words.
//!
//! A text that has no German fails here and is printed as it stands in the source: put it into assets/language, with its
//! German below it. docs/languages.md says how.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, reason = "a failed test may panic")]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use casewright_core::Length;
use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use casewright_drawing::furniture::{Chapter, Pack, PackOptions, Scene, banding_list, buying_list, pack};
use casewright_drawing::kurbo::Rect;
use casewright_drawing::language::names_of;
use casewright_drawing::place::collisions;
use casewright_drawing::{Language, Sheet, Speech, pdf_pack};
use casewright_stock::PlanOptions;
use casewright_tests::invariants::written;
use casewright_tests::program::{DEMOS, root};
use casewright_tests::random_design;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

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
    let found: Vec<(String, Derived)> = files.iter().filter_map(read).collect();
    let missing: Vec<&str> = DEMOS.into_iter().filter(|demo| found.iter().all(|(name, _)| name != demo)).collect();
    assert_eq!(missing, [""; 0], "a demo that cannot be built");
    found
}

/// A design with its packs.
struct Both {
    name: String,
    derived: Derived,
    english: Pack,
    german: Pack,
    /// What has no German.
    unsaid: Vec<String>,
}

/// The designs with their whole packs, made once.
fn both() -> &'static [Both] {
    static BOTH: OnceLock<Vec<Both>> = OnceLock::new();
    BOTH.get_or_init(|| {
        let each = designs().into_iter().map(|(name, derived)| {
            let scene = Scene::from(&derived);
            let english = whole(&scene);
            let speech = scene.speech_of(Language::German);
            let german = whole(&scene.in_language(&speech));
            let unsaid = speech.unsaid();
            Both { name, derived, english, german, unsaid }
        });
        each.collect()
    })
}

fn whole(scene: &Scene<'_>) -> Pack {
    let plan = casewright_stock::plan(scene.design, scene.assembly, &PlanOptions::default()).unwrap();
    pack(scene, &PackOptions { cutting: Some(plan), ..PackOptions::default() }).unwrap()
}

/// All texts of the sheets, with frames and title blocks.
fn texts(pack: &Pack) -> Vec<String> {
    let displays: Vec<_> = pack.sheets.iter().map(Sheet::display).collect();
    displays.iter().flat_map(|it| it.texts().map(|text| text.content.clone())).collect()
}

/// Words that are the same in both languages: what titles of published sources say, and units.
const SAME: [&str; 20] = [
    "Architectural",
    "Woodwork",
    "Standards",
    "Wood",
    "Handbook",
    "mdf",
    "info",
    "eu",
    "ASTM",
    "EN",
    "lb",
    "mm",
    "kg",
    "cm",
    "min",
    "in",
    "Form",
    "Index",
    "de",
    "en",
];

/// The words of a text.
fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphabetic()).filter(|it| it.chars().count() > 1)
}

#[test]
fn nothing_on_a_german_sheet_stands_there_as_on_the_english_one() {
    for Both { name, derived, english, german, .. } in both() {
        let english: BTreeSet<String> = texts(english).into_iter().collect();
        let mut own: BTreeSet<String> = names_of(&derived.design);
        own.extend(derived.assembly.parts.iter().map(|it| it.number.clone()));
        // A name may be broken into lines.
        let own: BTreeSet<&str> = own.iter().flat_map(|it| words(it)).chain(SAME).collect();
        let german: BTreeSet<String> = texts(german).into_iter().collect();
        let forgotten: Vec<&String> =
            german.intersection(&english).filter(|text| words(text).any(|it| !own.contains(it))).collect();
        assert!(forgotten.is_empty(), "{name}: said on no way to the sheet: {forgotten:#?}");
    }
}

/// The figures of texts, with their count; the decimal mark is the same for all.
fn figures(texts: &[String]) -> BTreeMap<String, usize> {
    let mut all = BTreeMap::new();
    for text in texts {
        for figure in text.split(|c: char| !c.is_ascii_digit() && c != ',' && c != '.') {
            let figure = figure.trim_matches([',', '.']).replace('.', ",");
            if !figure.is_empty() {
                *all.entry(figure).or_default() += 1;
            }
        }
    }
    all
}

#[test]
fn german_packs_have_the_figures_of_the_english_ones_and_fit_their_sheets() {
    for Both { name, english, german, .. } in both() {
        let names: Vec<String> = german.sheets.iter().map(Sheet::bookmark).collect();
        for sheet in &german.sheets {
            let display = sheet.display();
            let (width, height) = sheet.format.size_mm();
            let page = Rect::new(0.0, 0.0, width, height);
            let outside: Vec<_> = display.texts().filter(|it| !page.contains_rect(it.bounds())).collect();
            assert!(outside.is_empty(), "{name}: {}: {outside:?}", sheet.bookmark());
        }
        let clashes = |pack: &Pack| -> Vec<String> {
            let each = pack.sheets.iter().map(|it| (it.bookmark(), collisions(&it.display())));
            each.filter(|it| !it.1.is_empty()).map(|it| format!("{}: {:?}", it.0, it.1)).collect()
        };
        let (of_english, of_german) = (clashes(english), clashes(german));
        assert!(of_german.len() <= of_english.len(), "{name}: {of_german:#?}");
        // In the demos nothing may lie over anything else.
        assert!(of_german.is_empty() || !DEMOS.contains(&name.as_str()), "{name}: {of_german:#?}");
        let cut: Vec<String> = texts(german).into_iter().filter(|it| it.ends_with('…')).collect();
        let also: BTreeSet<String> = texts(english).into_iter().filter(|it| it.ends_with('…')).collect();
        assert!(cut.len() <= also.len(), "{name}: cut off: {cut:#?}");
        let inside = |pack: &Pack| -> Vec<String> {
            pack.sheets
                .iter()
                .skip(1)
                .flat_map(|it| it.content.texts().map(|it| it.content.clone()).collect::<Vec<_>>())
                .collect()
        };
        let omitted = german.omitted.len().saturating_sub(english.omitted.len());
        let (of_english, of_german) = (figures(&inside(english)), figures(&inside(german)));
        let other: Vec<_> = of_english
            .keys()
            .chain(of_german.keys())
            .map(|it| (it, of_english.get(it).copied(), of_german.get(it).copied()))
            // A longer word may leave no room for a label, which is then told as omitted; its figures stand in the lists.
            .filter(|(_, one, other)| {
                let (one, other) = (one.unwrap_or_default(), other.unwrap_or_default());
                one != other && !(0 < other && other < one && one - other <= omitted)
            })
            .collect();
        assert!(other.is_empty(), "{name}: (figure, English, German): {other:?}");
        assert!(names.iter().any(|it| it.ends_with("Stückliste")), "{names:?}");
    }
}

#[test]
fn every_text_of_the_program_has_its_german() {
    let missing: BTreeSet<&String> = both().iter().flat_map(|it| &it.unsaid).collect();
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
    let designs = designs();
    let mut names: BTreeSet<String> = designs.iter().flat_map(|(_, it)| names_of(&it.design)).collect();
    names.extend(designs.iter().flat_map(|(_, it)| it.assembly.parts.iter().map(|part| part.number.clone())));
    // What `checks_on_purpose` puts in the way.
    names.extend(["something in the way", "paint", "tap"].map(str::to_owned));
    let speech = Speech::new(Language::German, names);
    let texts = spoilt_on_purpose();
    assert!(texts.len() > 150, "{}", texts.len());
    for text in &texts {
        let _said = speech.say(text);
    }
    let missing = speech.unsaid();
    assert!(missing.is_empty(), "{} texts have no German:\n{}", missing.len(), missing.join("\n"));
}

#[test]
fn banding_from_bars_is_listed_by_bar_and_in_german() {
    let trolley = &both().iter().find(|it| it.name == "container-trolley").unwrap().derived;
    // Bars for all strips, for some, for none.
    for (millimetres, joined) in [(2500, false), (700, true), (100, true)] {
        let mut design = trolley.design.clone();
        design.banding.values_mut().for_each(|it| it.sold_in = Some(Length::from_mm(millimetres)));
        let scene = Scene { design: &design, ..Scene::from(trolley) };
        let plan = casewright_stock::plan(&design, &trolley.assembly, &PlanOptions::default()).unwrap();
        let list = banding_list(&scene, Some(&plan));
        let sections: Vec<&str> = list.rows.iter().filter(|it| it.is_section).map(|it| it.cells[0].as_str()).collect();
        let bars = &plan.bars[0].bars;
        assert_eq!(sections.iter().filter(|it| it.starts_with("Bar ")).count(), bars.len());
        assert_eq!(sections.iter().any(|it| it.starts_with("Longer than a bar")), joined, "{sections:?}");
        // Behind its heading each bar has its strips, and all strips stand there once.
        let strips = list.rows.iter().filter(|it| !it.is_section).count();
        assert_eq!(strips, bars.iter().map(|it| it.strips.len()).sum::<usize>() + plan.bars[0].too_long.len());
        let speech = scene.speech_of(Language::German);
        let german = scene.in_language(&speech);
        let said = banding_list(&german, Some(&plan));
        assert!(said.rows.iter().any(|it| it.cells[0].contains(" zu ") && it.cells[0].contains("Stange")));
        let _bought = buying_list(&german, &plan);
        for note in &plan.notes {
            let _said = speech.say(note);
        }
        assert_eq!(speech.unsaid(), Vec::<String>::new());
    }
}

#[test]
fn random_designs_say_nothing_that_has_no_german() {
    let missing = random_design::with_room(|| {
        let mut runner = TestRunner::new_with_rng(Config::default(), TestRng::deterministic_rng(RngAlgorithm::ChaCha));
        let (mut missing, mut built) = (BTreeSet::new(), 0);
        for _ in 0..random_design::cases(60) {
            let design = random_design::design().new_tree(&mut runner).unwrap().current();
            let Ok(design) = Design::from_ron(&written::text(&design).unwrap()) else { continue };
            let Ok(derived) = derive(&design) else { continue };
            built += 1;
            let scene = Scene::from(&derived);
            let speech = scene.speech_of(Language::German);
            // Whole packs take long: the checks and the order of work say most, some packs the rest.
            let only = if built % 10 == 1 { Vec::new() } else { vec![Chapter::Checks, Chapter::Lists, Chapter::Order] };
            let options = PackOptions { only, ..PackOptions::default() };
            // A piece may be too large for any sheet.
            let _pack = pack(&scene.in_language(&speech), &options);
            missing.extend(speech.unsaid());
        }
        assert!(built > 10, "{built}");
        missing
    });
    let list: Vec<String> = missing.iter().map(|it| format!("{it}\n")).collect();
    assert!(missing.is_empty(), "{} texts have no German:\n{}", missing.len(), list.concat());
}

#[test]
fn german_packs_are_the_same_bytes_twice_and_read_back_in_german() {
    let folder = tempfile::tempdir().unwrap();
    let Both { derived, german, .. } = both().iter().find(|it| it.name == "laundry-alcove").unwrap();
    let bytes = pdf_pack(&german.sheets, &derived.design.title).unwrap();
    let speech = Scene::from(derived).speech_of(Language::German);
    let again = whole(&Scene::from(derived).in_language(&speech));
    assert!(bytes == pdf_pack(&again.sheets, &derived.design.title).unwrap(), "the same design gives other bytes");
    let file = folder.path().join("sheets.pdf");
    std::fs::write(&file, &bytes).unwrap();
    // By poppler, which had no part in writing it.
    let read = std::process::Command::new("pdftotext").args(["-raw".as_ref(), file.as_os_str(), "-".as_ref()]).output();
    let text = String::from_utf8(read.unwrap().stdout).unwrap();
    for words in ["Stückliste", "Schnitt A–A", "Bezugsecke, mit Dreieck", "Zwingen, Spannweite", &derived.design.title]
    {
        assert!(text.contains(words), "{words}");
    }
}
