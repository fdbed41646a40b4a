//! Links and pictures of the documentation lead somewhere, anchors included, every picture of the guide is shown in it, and the
//! words are spelt as a British dictionary spells them.

use std::collections::BTreeSet;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use casewright_tests::program::root;

fn pages(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            pages(&path, into);
        } else if path.extension().is_some_and(|ending| ending == "md") {
            into.push(path);
        }
    }
}

/// All pages of the documentation.
fn all_pages() -> Vec<PathBuf> {
    let mut all = ["README.md", "DEVELOPERS.md", "CHANGELOG.md"].map(|name| root().join(name)).to_vec();
    pages(&root().join("docs"), &mut all);
    all.sort();
    all
}

fn read(page: &Path) -> String {
    std::fs::read_to_string(page).expect("a page")
}

/// The text without blocks and pieces of code, which look like links and words but are none.
fn without_code(text: &str) -> String {
    let mut out = String::new();
    let mut is_fenced = false;
    for line in text.lines() {
        let fence = line.trim_start().starts_with("```");
        is_fenced ^= fence;
        if !is_fenced && !fence && !line.starts_with("    ") {
            out.push_str(line);
        }
        out.push('\n');
    }
    // Pieces of code may run over the end of a line.
    out.split('`').step_by(2).collect::<Vec<_>>().join(" ")
}

/// Where a page's links and pictures lead, without those to other sites.
fn links(text: &str) -> Vec<String> {
    let text = without_code(text);
    let targets = text.split("](").skip(1).filter_map(|after| after.split(')').next());
    let inner = targets.map(|target| target.split(' ').next().unwrap_or_default().to_owned());
    inner.filter(|target| !target.is_empty() && !target.contains("://") && !target.starts_with("mailto:")).collect()
}

/// The anchors of a page: its headings in small letters, without marks, with hyphens for spaces.
fn anchors(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut is_fenced = false;
    for line in text.lines() {
        is_fenced ^= line.trim_start().starts_with("```");
        let Some(heading) = line.strip_prefix('#').filter(|_| !is_fenced) else { continue };
        let heading = heading.trim_start_matches('#').trim().to_lowercase();
        let kept = heading.chars().filter(|letter| letter.is_alphanumeric() || matches!(letter, ' ' | '-' | '_'));
        let anchor: String = kept.map(|letter| if letter == ' ' { '-' } else { letter }).collect();
        let again = (1..).map(|number| format!("{anchor}-{number}"));
        let free = std::iter::once(anchor.clone()).chain(again).find(|name| !found.contains(name));
        found.extend(free);
    }
    found
}

#[test]
fn links_and_anchors_are_understood() {
    assert_eq!(links("[a](b.md#c) `[no](code.md)` [d](https://e.org) ![f](g.png \"h\")"), ["b.md#c", "g.png"]);
    let found = anchors("# One two\n## 1. Three, `four` & five\n```\n# none\n```\n## One two\n");
    let expected = ["1-three-four--five", "one-two", "one-two-1"].map(str::to_owned);
    assert_eq!(found, BTreeSet::from(expected));
}

#[test]
fn every_link_leads_somewhere() {
    let mut broken = Vec::new();
    let mut looked_at = 0;
    for page in &all_pages() {
        let folder = page.parent().expect("a folder");
        for link in links(&read(page)) {
            looked_at += 1;
            let (file, anchor) = link.split_once('#').unwrap_or((&link, ""));
            let target = if file.is_empty() { page.clone() } else { folder.join(file) };
            let is_there = target.exists() && (anchor.is_empty() || anchors(&read(&target)).contains(anchor));
            if !is_there {
                broken.push(format!("{}: {link}", page.display()));
            }
        }
    }
    assert_eq!(broken, Vec::<String>::new());
    assert!(looked_at > 100, "{looked_at}");
}

#[test]
fn every_picture_of_the_guide_is_shown() {
    let guide = root().join("docs/guide");
    let text = read(&guide.join("README.md"));
    let shown = links(&text);
    for entry in std::fs::read_dir(guide.join("images")).expect("pictures") {
        let name = format!("images/{}", entry.expect("an entry").file_name().to_string_lossy());
        assert!(shown.contains(&name), "{name} is shown nowhere");
    }
    assert!(shown.len() >= 8);
}

/// The words of a page, without code and without what links lead to.
fn words(text: &str) -> String {
    let mut out = String::new();
    for (number, piece) in without_code(text).split("](").enumerate() {
        let rest = if number == 0 { piece } else { piece.split_once(')').map_or("", |(_, rest)| rest) };
        out.push_str(rest);
    }
    // No words: addresses, names of types and fields, figures with letters such as 8x40.
    let is_word = |word: &&str| {
        let letters: Vec<char> = word.chars().collect();
        let has_hump = letters.windows(2).any(|pair| matches!(pair, [a, b] if a.is_lowercase() && b.is_uppercase()));
        !(has_hump || word.contains("://") || word.contains(['/', '_']) || word.contains(|c: char| c.is_ascii_digit()))
    };
    out.split_whitespace().filter(is_word).collect::<Vec<_>>().join("\n")
}

#[test]
fn words_are_spelt_as_in_the_dictionary() {
    let own = root().join("tests/data/words.txt");
    let mut unknown = BTreeSet::new();
    for page in all_pages() {
        let hunspell = Command::new("hunspell")
            .args(["-d", "en_GB", "-i", "utf-8", "-l", "-p"])
            .arg(&own)
            // It reads the list of words by the locale, whatever `-i` says.
            .env("LC_ALL", "C.UTF-8")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn();
        let Ok(mut hunspell) = hunspell else {
            println!("not checked: hunspell is not installed");
            return;
        };
        let mut input = hunspell.stdin.take().expect("its input");
        let text = words(&read(&page));
        let writer = std::thread::spawn(move || input.write_all(text.as_bytes()));
        let output = hunspell.wait_with_output().expect("its answer");
        writer.join().expect("the writer").expect("all is written");
        assert!(output.status.success(), "hunspell has no British dictionary: run .ci/setup");
        unknown.extend(String::from_utf8_lossy(&output.stdout).lines().map(str::to_owned));
    }
    let unknown: Vec<String> = unknown.into_iter().collect();
    assert!(
        unknown.is_empty(),
        "not in the dictionary; mend them, or add words of the trade to tests/data/words.txt: {}",
        unknown.join(" ")
    );
}
