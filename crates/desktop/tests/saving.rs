//! Saving keeps a file as its author wrote it: what no edit touched stays to the letter, and so do the comments.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first thing that is not as it should be"
)]

#[path = "support/edits.rs"]
mod edits;
#[path = "support/walls.rs"]
mod walls;

use std::path::{Path, PathBuf};
use std::time::Instant;

use casewright_core::design::{Bay, Design};
use casewright_core::text::SpanIndex;
use casewright_desktop::command::Command;
use casewright_desktop::document::Document;
use edits::{Edits, keeps_all};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// So many times random edits are made on each file.
const EACH: usize = 25;

const FILES: [&str; 7] = [
    "demo/laundry-alcove.ron",
    "demo/container-trolley.ron",
    "demo/alcove-bookcase.ron",
    "demo/salvaged-office.ron",
    "tests/data/good.ron",
    "tests/data/joined-every-way.ron",
    "tests/data/thirteen-things.ron",
];

fn path(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(file)
}

fn read(file: &str) -> (String, Design) {
    let text = std::fs::read_to_string(path(file)).unwrap();
    let (design, _) = Design::read(&text).unwrap();
    (text, design)
}

/// How many lines are in one text and not in the other, in their order.
fn changed_lines(old: &str, new: &str) -> (Vec<String>, Vec<String>) {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let start = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let end = old[start..].iter().rev().zip(new[start..].iter().rev()).take_while(|(a, b)| a == b).count();
    let (old, new) = (&old[start..old.len() - end], &new[start..new.len() - end]);
    let mut common = vec![vec![0_usize; new.len() + 1]; old.len() + 1];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            common[i][j] =
                if old[i] == new[j] { common[i + 1][j + 1] + 1 } else { common[i + 1][j].max(common[i][j + 1]) };
        }
    }
    let (mut i, mut j, mut gone, mut come) = (0, 0, Vec::new(), Vec::new());
    while i < old.len() || j < new.len() {
        if i < old.len() && j < new.len() && old[i] == new[j] {
            (i, j) = (i + 1, j + 1);
        } else if j == new.len() || (i < old.len() && common[i + 1][j] >= common[i][j + 1]) {
            gone.push(old[i].to_owned());
            i += 1;
        } else {
            come.push(new[j].to_owned());
            j += 1;
        }
    }
    (gone, come)
}

/// The comments of a text, as the words in them.
fn comments(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let length = if rest.starts_with("//") {
            let end = rest.find('\n').unwrap_or(rest.len());
            found.push(rest[2..end].trim_matches(|c: char| c == '/' || c.is_whitespace()));
            end
        } else if rest.starts_with("/*") {
            let (mut depth, mut at) = (1, 2);
            while depth > 0 {
                let next = rest[at..].find(['*', '/']).map(|next| at + next).unwrap();
                let mark = &rest[next..next + 2];
                depth = if mark == "/*" {
                    depth + 1
                } else if mark == "*/" {
                    depth - 1
                } else {
                    depth
                };
                at = next + if matches!(mark, "/*" | "*/") { 2 } else { 1 };
            }
            found.push(rest[2..at - 2].trim());
            at
        } else if rest.starts_with("r#") && rest.trim_start_matches(['r', '#']).starts_with('"') {
            let hashes = &rest[1..rest.find('"').unwrap()];
            let end = format!("\"{hashes}");
            let from = hashes.len() + 2;
            from + rest[from..].find(&end).unwrap() + end.len()
        } else if c == '"' {
            let mut escaped = false;
            let end = rest[1..].find(|c| {
                let ends = c == '"' && !escaped;
                escaped = c == '\\' && !escaped;
                ends
            });
            end.unwrap() + 2
        } else {
            c.len_utf8()
        };
        rest = &rest[length..];
    }
    // Lines of a comment may be set in anew, and marks inside one set apart.
    let words = |text: &str| {
        text.split(|c: char| c.is_whitespace() || matches!(c, '/' | '*'))
            .filter(|it| !it.is_empty())
            .collect::<Vec<_>>()
            .join(" ")
    };
    let mut found: Vec<String> = found.into_iter().map(words).collect();
    found.sort();
    found
}

#[test]
fn saving_without_an_edit_changes_no_byte() {
    for file in FILES {
        let (text, design) = read(file);
        assert_eq!(design.to_ron_over(&text).unwrap(), text, "{file}");
    }
}

#[test]
fn what_is_undone_reads_as_its_author_wrote_it() {
    let folder = tempfile::tempdir().unwrap();
    let (text, design) = read(FILES[0]);
    let file = folder.path().join("design.ron");
    std::fs::write(&file, &text).unwrap();
    let mut document = Document::of_file(design, file.clone(), &text);
    let save = |document: &mut Document| {
        let (author, written) = document.text_to_save(std::fs::read_to_string(&file).ok()).unwrap();
        std::fs::write(&file, &written).unwrap();
        document.was_saved(file.clone(), author, written.clone());
        written
    };
    // A bay goes with the remarks in it, and comes back with them, even where something else was done meanwhile.
    document.apply(&Command::Delete("drawer".to_owned())).unwrap();
    assert!(!save(&mut document).contains("Pegs, soap"));
    document.undo();
    assert!(save(&mut document) == text);
    document.redo();
    save(&mut document);
    document.undo();
    document.apply(&Command::SetParameter { name: "fit".to_owned(), text: Some("6".to_owned()) }).unwrap();
    assert!(save(&mut document) == text.replace("\"fit\": \"5\"", "\"fit\": \"6\""));
    // What somebody else writes there is kept too.
    let other = text.replace("// Pegs, soap, a stain stick.", "// Pegs only.");
    std::fs::write(&file, &other).unwrap();
    document.apply(&Command::SetParameter { name: "fit".to_owned(), text: Some("7".to_owned()) }).unwrap();
    assert!(save(&mut document) == other.replace("\"fit\": \"5\"", "\"fit\": \"7\""));
}

#[test]
fn one_length_is_one_line() {
    for file in FILES {
        let (text, design) = read(file);
        let mut count = 0;
        let index = SpanIndex::scan(&text);
        for (path, was) in edits::lengths(&design).into_iter().filter(|(path, _)| index.span(path).is_some()) {
            let to = if was.text() == "12.5" { "13.5" } else { "12.5" };
            let command = Command::SetLength { path: path.clone(), text: to.to_owned() };
            let after = command.apply(&design).unwrap();
            let new = after.changed_in(&text).unwrap().unwrap_or_else(|| panic!("{file}: {path} written anew"));
            let (gone, come) = changed_lines(&text, &new);
            assert_eq!((gone.len(), come.len()), (1, 1), "{file}: {path}\n{gone:#?}\n{come:#?}");
            assert_eq!(design.changed_in(&new).unwrap().map(|back| back == text), Some(true), "{file}: {path}: {was}");
            count += 1;
        }
        assert!(count > 15, "{file}: {count}");
    }
}

/// The edits that are made one after the other on one text before the next begins.
const IN_A_ROW: usize = 6;

/// Makes random edits on the design of a text. Each time it must be changed in its place into a text that reads as the
/// new design and has all comments, unless an edit takes something away; `each` looks at what became of it.
fn edit(file: &str, text: &str, edits: &mut Edits, each: &mut dyn FnMut(&Design, &Design, &str)) {
    let design = Design::read(text).unwrap().0;
    let mut document = Document::of_file(design.clone(), path(file), text);
    let (mut done, mut keeps, mut wrapped) = (0, true, false);
    while done < IN_A_ROW {
        let command = edits.next(document.design());
        let before = document.design().clone();
        if document.apply(&command).is_err() || before == *document.design() {
            continue;
        }
        done += 1;
        // What moved and changed too before it was saved is not found again, if it has no name of its own.
        let changes = matches!(command, Command::SetLength { .. } | Command::SetUnit(_));
        wrapped |= matches!(command, Command::Wrap(_));
        keeps &= keeps_all(&command) && !(wrapped && changes);
        let after = document.design();
        let new = after.changed_in(text).unwrap();
        let new = new.unwrap_or_else(|| panic!("{file}: written anew after {command:?}\n{text}"));
        let read = Design::read(&new).unwrap().0;
        assert_eq!(read.to_ron().unwrap(), after.to_ron().unwrap(), "{file}: {command:?}");
        if keeps {
            assert_eq!(comments(text), comments(&new), "{file}: {command:?}\n{text}\n{new}");
        }
        each(&design, after, &new);
    }
}

#[test]
fn random_edits_change_little_and_lose_nothing() {
    for (seed, file) in (1..).zip(FILES) {
        let (text, _) = read(file);
        let mut edits = Edits::new(seed);
        let (mut changed, mut differ) = (0, 0);
        for _ in 0..EACH {
            edit(file, &text, &mut edits, &mut |old, new, saved| {
                let (gone, come) = changed_lines(&text, saved);
                // One value a line, so that each that changes is one line less and one more.
                let values = |design: &Design| serde_json::to_string_pretty(design).unwrap();
                let (values_gone, values_come) = changed_lines(&values(old), &values(new));
                let (lines, values) = (gone.len() + come.len(), values_gone.len() + values_come.len());
                // Two lines for a line with one value more in it, and a few where it gets too long and is laid out.
                let lost = comments(&text).len().saturating_sub(comments(saved).len());
                assert!(lost <= values_gone.len(), "{file}: {lost} comments lost\n-{gone:#?}\n+{come:#?}");
                assert!(lines <= 2 * values + 6, "{file}: {lines} lines for {values} values\n-{gone:#?}\n+{come:#?}");
                changed += lines;
                differ += values;
            });
        }
        println!("{file}: {changed} lines changed for {differ} values");
        assert!(changed < differ, "{file}: {changed} lines for {differ} values");
    }
}

#[test]
fn saving_over_what_was_saved_goes_on_so() {
    for (seed, file) in (100..).zip(FILES) {
        let (mut text, _) = read(file);
        let mut edits = Edits::new(seed);
        for _ in 0..EACH / 3 {
            let mut saved = String::new();
            edit(file, &text, &mut edits, &mut |_, _, new| new.clone_into(&mut saved));
            if bays(&Design::read(&saved).unwrap().0.carcass.bay) > 60 {
                break;
            }
            text = saved;
        }
    }
}

fn bays(bay: &Bay) -> usize {
    1 + bay.children().iter().map(bays).sum::<usize>()
}

/// A text of the same values in a layout that nobody would write: `pick` chooses what stands between them.
fn unsettled(text: &str, pick: &mut dyn FnMut() -> usize) -> String {
    const BETWEEN: [&str; 12] = [
        "",
        "",
        " ",
        "\n",
        "\t",
        "\r\n",
        " // a remark ( \" \n",
        "/* one */",
        "\n\n  /* of\n\n two /* lines */ */\n",
        "  ",
        "//\n",
        " /**/ ",
    ];
    let mut out = String::new();
    let (mut in_text, mut escaped, mut rest) = (false, false, text);
    while let Some(c) = rest.chars().next() {
        if !in_text && rest.starts_with("//") {
            let end = rest.find('\n').unwrap_or(rest.len());
            out.push_str(&rest[..end]);
            rest = &rest[end..];
            continue;
        }
        rest = &rest[c.len_utf8()..];
        let ends = in_text && c == '"' && !escaped;
        if !in_text && c == '"' && pick().is_multiple_of(4) {
            let end = rest.find('"').unwrap();
            if !rest[..end].contains('\\') {
                out.push_str(&format!("r##\"{}\"##", &rest[..end]));
                rest = &rest[end + 1..];
                continue;
            }
        }
        if !in_text && matches!(c, ')' | ']' | '}' | ',' | ':') {
            out.push_str(BETWEEN[pick() % BETWEEN.len()]);
        }
        out.push(c);
        if !in_text && matches!(c, '(' | '[' | '{' | ',' | ':') {
            out.push_str(BETWEEN[pick() % BETWEEN.len()]);
        }
        escaped = in_text && c == '\\' && !escaped;
        in_text = (in_text && !ends) || (!in_text && c == '"');
    }
    out
}

/// The text without ends of lines: one line, or as few as its quoted texts allow.
fn on_one_line(text: &str) -> String {
    let lines = text.lines().map(|line| match line.split_once("//") {
        Some((values, said)) => format!("{} /* {said} */", values.trim()),
        None => line.trim().to_owned(),
    });
    lines.collect::<Vec<_>>().join(" ")
}

/// Makes edits on a file in a layout that nobody would write, and fewer liberties the larger the `share`.
fn layout(file: usize, seed: u64, share: usize, one_line: bool) {
    let (text, design) = read(FILES[file]);
    let mut edits = Edits::new(seed);
    let text = if one_line { on_one_line(&text) } else { text };
    let text = unsettled(&text, &mut || if edits.one_in(share) { edits.below(1 << 16) } else { 1 });
    assert_eq!(Design::read(&text).unwrap().0, design);
    assert!(design.to_ron_over(&text).unwrap() == text);
    edit(FILES[file], &text, &mut edits, &mut |_, _, _| {});
}

#[test]
fn layouts_that_once_were_not_changed_in_their_place_or_lost_a_remark() {
    layout(0, 9_423_639_105_266_394_202, 16, true);
    layout(1, 1_965_688_341_513_002_094, 36, true);
    layout(2, 4_100_132_468_005_153_078, 12, false);
    layout(4, 14_268_889_335_877_853_054, 11, false);
}

/// How many layouts are tried; `CASEWRIGHT_CASES` asks for more.
fn cases() -> u32 {
    std::env::var("CASEWRIGHT_CASES").ok().and_then(|it| it.parse().ok()).unwrap_or(24)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, rng_seed: RngSeed::Fixed(1), ..ProptestConfig::default() })]

    #[test]
    fn any_layout_is_changed_in_its_place(file in 0..FILES.len(), seed in 1..u64::MAX, share in 1..40_usize, one_line: bool) {
        layout(file, seed, share, one_line);
    }
}

#[test]
fn a_large_design_is_saved_fast() {
    let design = walls::wall_of_bays(60);
    let text = design.to_ron().unwrap();
    let bay = design.carcass.bay.children()[30].name.clone();
    for command in [
        Command::Divide { bay: bay.clone(), across: true, at: None },
        Command::Delete(bay.clone()),
        Command::Wrap(bay.clone()),
        Command::RenameBay { from: bay, to: "other".to_owned() },
    ] {
        let after = command.apply(&design).unwrap();
        let begin = Instant::now();
        let new = after.changed_in(&text).unwrap().unwrap();
        let took = begin.elapsed();
        let (gone, come) = changed_lines(&text, &new);
        println!("{command:?}: {took:?} for {} bytes; lines {} {}", text.len(), gone.len(), come.len());
        let limit = if cfg!(debug_assertions) { 2000 } else { 100 };
        assert!(took.as_millis() < limit, "{command:?}: {took:?}");
        // A column has ten bays, which are set in anew where it is wrapped.
        assert!(gone.len() + come.len() < 40, "{command:?}: {gone:#?} {come:#?}");
    }
}
