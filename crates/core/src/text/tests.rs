//! Places and faults in RON text, tested on small structures and on broken and random text.

use proptest::prelude::*;
use serde::Deserialize;

use super::{
    fault::Fault,
    field_path::{FieldPath, Segment},
    spans::{ScanProblem, SpanIndex},
};

const SAMPLE: &str = r##"#![enable(implicit_some)]
// A comment with ( and "
(
    title: "größe \"x\"", /* block ( /* nested */ */
    things: {
        "dryer": (size: (595, 850, 540), mass_kg: 34),
        r#"raw "key""#: Some((size: (1, 2, 3))),
    },
    carcass: (bay: Across([Up([Open, Holds("dryer")]), Boxed(inner: Open, note: ')')])),
    unit: Millimetre(step: 0.5),
    list: [Fixed(10), Between(least: 1, most: 2), -3.5],
    r#type: r"C:\",
)
"##;

fn path(text: &str) -> FieldPath {
    // Steps parted by spaces: a number is a place, a quoted word a key.
    text.split_whitespace()
        .map(|step| match (step.parse(), step.strip_prefix('\'')) {
            (Ok(index), _) => Segment::Index(index),
            (_, Some(key)) => Segment::Key(key.replace('~', " ")),
            _ => Segment::Field(step.to_owned()),
        })
        .collect()
}

/// Checks the text of the value at a path, and that the path of its first byte leads there again.
fn check(steps: &str, expected: Option<&str>) {
    let index = SpanIndex::scan(SAMPLE);
    assert_eq!((index.problem(), index.duplicates()), (None, [].as_slice()));
    assert_eq!(index.span(&path(steps)).and_then(|span| SAMPLE.get(span)), expected, "{steps}");
}

#[test]
fn values_are_found_by_path() {
    check("title", Some(r#""größe \"x\"""#));
    check("things 'dryer size", Some("(595, 850, 540)"));
    check("things 'dryer size 1", Some("850"));
    check("things 'dryer mass_kg", Some("34"));
    check("things 'raw~\"key\" size 2", Some("3"));
    check("carcass bay", Some(r#"Across([Up([Open, Holds("dryer")]), Boxed(inner: Open, note: ')')])"#));
    check("carcass bay 0", Some(r#"Up([Open, Holds("dryer")])"#));
    check("carcass bay 0 1", Some(r#"Holds("dryer")"#));
    check("carcass bay 0 1 0", Some(r#""dryer""#));
    check("carcass bay 1 note", Some("')'"));
    check("unit step", Some("0.5"));
    check("list 0 0", Some("10"));
    check("list 1 most", Some("2"));
    check("list 2", Some("-3.5"));
    check("type", Some(r#"r"C:\""#));
    check("carcass bay 2", None);
    check("nothing", None);
}

#[test]
fn positions_are_for_people() {
    let index = SpanIndex::scan(SAMPLE);
    let at = |steps: &str| index.locate(&path(steps)).map(|position| position.to_string());
    assert_eq!(at("title"), Some("4:12".to_owned()));
    assert_eq!(at("things 'dryer mass_kg"), Some("6:51".to_owned()));
    let label = |steps: &str| index.locate_label(&path(steps)).map(|position| position.to_string());
    assert_eq!(label("things 'dryer"), Some("6:9".to_owned()));
    assert_eq!(label("unit step"), Some("10:22".to_owned()));
    let near = index.locate_near(&path("things 'dryer air sides")).map(|position| position.to_string());
    assert_eq!(near, Some("6:18".to_owned()));
    assert_eq!(index.locate_within(&path("carcass bay 0 1 0"), 2).map(|p| p.column), Some(47));
}

#[test]
fn paths_lead_back_from_places() {
    let index = SpanIndex::scan(SAMPLE);
    for (needle, expected) in [
        ("850", "things[\"dryer\"].size[1]"),
        ("step", "unit.step"),
        ("0.5", "unit.step"),
        ("Holds", "carcass.bay[0][1]"),
        ("most", "list[1].most"),
    ] {
        assert_eq!(index.path_at(SAMPLE.find(needle).unwrap()).to_string(), expected, "{needle}");
    }
}

/// Checks the duplicates of a text.
fn check_duplicates(text: &str, expected: &[&str]) {
    let found: Vec<String> =
        SpanIndex::scan(text).duplicates().iter().map(|d| format!("{} {} {}", d.path, d.first, d.second)).collect();
    assert_eq!(found, expected, "{text}");
}

#[test]
fn duplicates_are_reported_with_both_places() {
    check_duplicates("(a: 1, b: 2, a: 3)", &["a 1:2 1:14"]);
    check_duplicates(
        "(things: {\"x\": 1,\n\"x\": 2, \"\\x78\": 3})",
        &["things[\"x\"] 1:11 2:1", "things[\"x\"] 1:11 2:9"],
    );
    check_duplicates("(bay: Across([(name: 1), (w: Some((a: 1, a: 2)))]))", &["bay[1].w.a 1:36 1:42"]);
    check_duplicates("[1, 1, 1]", &[]);
}

/// Checks where the scan of a broken text ends.
fn check_problem(text: &str, expected: Option<&str>) {
    let problem = SpanIndex::scan(text).problem();
    let said = problem.map(|problem| Fault::shape(problem).to_string());
    assert_eq!(said.as_deref(), expected, "{text}");
}

#[test]
fn broken_shapes_are_named() {
    check_problem("(a: 1)", None);
    check_problem("", None);
    check_problem(
        "(a: [1, 2)",
        Some(
            "1:10: the bracket opened at 1:5 is not closed by a fitting one here; close it, or check the brackets between 1:5 and here",
        ),
    );
    check_problem(
        "(a: 1",
        Some(
            "1:6: the bracket opened at 1:1 is not closed by a fitting one here; close it, or check the brackets between 1:1 and here",
        ),
    );
    check_problem(")", Some("1:1: a bracket closes here that was never opened; delete it"));
    check_problem("(a: \"x)", Some("1:5: this text or comment is never closed; add the closing `\"` or `*/`"));
    check_problem("(a: 1) /* x", None);
    check_problem("( /* x", Some("1:3: this text or comment is never closed; add the closing `\"` or `*/`"));
    let deep = "[".repeat(100_000);
    assert!(matches!(SpanIndex::scan(&deep).problem(), Some(ScanProblem::TooDeep(at)) if at.column == 81));
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(dead_code, reason = "only read from text")]
struct Piece {
    title: String,
    count: u8,
    #[serde(default)]
    bay: Option<Bay>,
    #[serde(default)]
    on: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(dead_code, reason = "only read from text")]
enum Bay {
    Open,
    Holds(String),
    Boxed { inner: Box<Bay>, gap: f64 },
    Across(Vec<Bay>),
}

/// Checks the message for a text that RON's reader refuses.
fn check_ron(text: &str, expected: &str) {
    let error = ron::Options::default()
        .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
        .from_str::<Piece>(text)
        .expect_err(text);
    assert_eq!(Fault::from_ron(&error, &SpanIndex::scan(text)).in_file("a.ron"), expected, "{text}\n{error:?}");
}

#[test]
fn readers_errors_in_plain_words() {
    check_ron("(\n  titel: \"x\")", "a.ron:2:3: unknown field `titel`; did you mean `title`?");
    check_ron("(title: \"x\", bay: Hold(\"x\"))", "a.ron:1:19: bay: unknown choice `Hold`; did you mean `Holds`?");
    check_ron(
        "(title: \"x\", count: 1, bay: Boxed(inner: Open, gapp: 3))",
        "a.ron:1:48: bay: unknown field `gapp`; did you mean `gap`?",
    );
    check_ron(
        "(title: \"x\", count: 1, bay: Boxed(inner: Open))",
        "a.ron:1:29: bay: the field `gap` is missing; add `gap: ...`",
    );
    check_ron("(title: \"x\",\n count: \"1\")", "a.ron:2:9: count: a whole number is wanted here; write for example 2");
    check_ron(
        "(title: x)",
        "a.ron:1:9: title: a text in quotation marks is wanted here; write for example \"birch ply\"",
    );
    check_ron("(title: \"x\", count: 1.5)", "a.ron:1:21: count: a whole number is wanted here; write for example 2");
    check_ron(
        "(title: \"x\", count: 300)",
        "a.ron:1:21: count: the number is too large, or below zero; write a whole number that is possible here",
    );
    check_ron("(title: \"x\" count: 1)", "a.ron:1:13: count: a comma is missing before this; add the `,`");
    check_ron(
        "(title: \"x\", count: 1, on: yes)",
        "a.ron:1:28: on: true or false is wanted here; write for example true",
    );
    check_ron(
        "(title: \"x\", count: 1, bay: Across(Open))",
        "a.ron:1:36: bay: a list in square brackets is wanted here; write for example [1, 2]",
    );
    check_ron(
        "(title: \"x\", count: 1, bay: Boxed)",
        "a.ron:1:34: an opening `(` is wanted here; write the values or fields in parentheses",
    );
    check_ron("(title \"x\")", "a.ron:1:8: a colon is missing; write `name: value`");
    check_ron("(title: \"x\", title: \"y\")", "a.ron:1:14: the field `title` is given twice; delete one of them");
    check_ron("[1]", "a.ron:1:1: an opening `(` is wanted here; write the values or fields in parentheses");
    check_ron("(title: \"x\"", "a.ron:1:12: the file ends too early; complete the last value and its brackets");
    check_ron(
        "(title: \"x\", count: 1) 5",
        "a.ron:1:24: something follows after the end of the design; delete it, or check the brackets",
    );
    check_ron("", "a.ron:1:1: an opening `(` is wanted here; write the values or fields in parentheses");
    check_ron(
        "(title: \"x\", count: 1, bay: Across([Open, Boxed(inner: Opem, gap: 1)]))",
        "a.ron:1:56: bay[1].inner: unknown choice `Opem`; did you mean `Open`?",
    );
    check_ron(
        "(title: \"x\\q\", count: 1)",
        "a.ron:1:10: title: the sign after a `\\` has no meaning; write `\\\\` for a backslash and `\\\"` for a quote",
    );
}

/// Whatever is scanned: every value lies in the text, and the place of each value's first byte leads to it.
fn survives(text: &str) {
    let index = SpanIndex::scan(text);
    for (byte, _) in text.char_indices() {
        let path = index.path_at(byte);
        if let Some(span) = index.span(&path) {
            assert!(text.get(span.clone()).is_some(), "{span:?} in {text}");
            assert_eq!(index.byte(index.position(byte)), byte, "{text}");
        }
        let _ = (index.locate_label(&path), index.locate_near(&path), index.locate_within(&path, byte));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn any_damage_is_survived(at: prop::sample::Index, length in 0usize..9, put in r#"[(){},:\[\]"'r#b/*\\ \nä0-9a-z]{0,4}"#) {
        let starts: Vec<usize> = SAMPLE.char_indices().map(|(at, _)| at).collect();
        let from = *at.get(&starts);
        let to = SAMPLE[from..].char_indices().nth(length).map_or(SAMPLE.len(), |(more, _)| from + more);
        survives(&format!("{}{put}{}", &SAMPLE[..from], &SAMPLE[to..]));
        survives(&SAMPLE[..from]);
    }

    #[test]
    fn any_text_is_survived(text in r#"([(){},:\[\]]|"|'|r#|\\|/\*|\*/|//|\n|a|1|Some|\PC){0,60}"#) {
        survives(&text);
    }

    /// What RON's own reader accepts as a value has no problem of shape, and faults from what it refuses have places.
    #[test]
    fn agrees_with_the_reader(text in r#"\((a|b): (1|"x"|\[1, 2\]|Some\(3\)|\(c: 1,?\)|\{"k": 2\}|'\)')?,? ?(d: (4|r"\("))?\)?"#) {
        let index = SpanIndex::scan(&text);
        match ron::from_str::<ron::Value>(&text) {
            Ok(_) => prop_assert_eq!((index.problem(), index.span(&FieldPath::root())), (None, Some(0..text.len()))),
            Err(error) => {
                let fault = Fault::from_ron(&error, &index);
                prop_assert!(fault.at.is_some_and(|at| at.line == 1 && at.column <= text.chars().count() + 1));
            }
        }
    }
}
