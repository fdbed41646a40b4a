//! The sentences of the solver and the checks in the language of the window. Core says them in English, once, for files
//! and the command line; here each is recognised by its pattern, its sizes and names are taken out, and it is said again
//! from a book of sentences. What the book does not know stays English.

use std::cell::RefCell;
use std::collections::BTreeMap;

/// The German book; its own head says how it is written.
const GERMAN: &str = include_str!("../../../assets/desktop/sentences.de.txt");

/// How deep sentences may stand inside sentences.
const DEEPEST: usize = 5;

/// A piece of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Piece {
    Words(String),
    Hole(String),
}

/// One sentence: its pattern, and what is said in its place.
#[derive(Clone, Debug)]
struct Entry {
    pattern: Vec<Piece>,
    said: Vec<Piece>,
    /// How much of the pattern is fixed: of several that fit, the one with the most fits best.
    fixed: usize,
}

/// A book of sentences.
#[derive(Debug)]
pub struct Book {
    entries: Vec<Entry>,
    /// What was said already: the same few sentences are shown in every frame.
    known: RefCell<BTreeMap<String, Option<String>>>,
}

fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some((words, after)) = rest.split_once('{') {
        if !words.is_empty() {
            pieces.push(Piece::Words(words.to_owned()));
        }
        let (hole, after) = after.split_once('}').unwrap_or((after, ""));
        pieces.push(Piece::Hole(hole.to_owned()));
        rest = after;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Words(rest.to_owned()));
    }
    pieces
}

impl Book {
    /// The German book.
    #[must_use]
    pub fn german() -> Self {
        let lines: Vec<&str> =
            GERMAN.lines().map(str::trim_end).filter(|line| !line.is_empty() && !line.starts_with('#')).collect();
        let mut entries: Vec<Entry> = lines
            .chunks(2)
            .filter_map(|pair| {
                let [pattern, said] = pair else { return None };
                let pattern = pieces(pattern);
                let fixed = pattern.iter().map(|it| if let Piece::Words(words) = it { words.len() } else { 0 }).sum();
                Some(Entry { pattern, said: pieces(said.strip_prefix("= ")?), fixed })
            })
            .collect();
        entries.sort_by_key(|entry| std::cmp::Reverse(entry.fixed));
        Self { entries, known: RefCell::default() }
    }

    /// The sentence in the book's language; nothing if the book does not know it.
    #[must_use]
    pub fn say(&self, sentence: &str) -> Option<String> {
        if let Some(said) = self.known.borrow().get(sentence) {
            return said.clone();
        }
        let said = self.find(sentence, DEEPEST);
        let mut known = self.known.borrow_mut();
        if known.len() > 4000 {
            known.clear();
        }
        known.insert(sentence.to_owned(), said.clone());
        said
    }

    fn find(&self, sentence: &str, depth: usize) -> Option<String> {
        let depth = depth.checked_sub(1)?;
        let (entry, holes) = self.entries.iter().find_map(|entry| Some((entry, matched(&entry.pattern, sentence)?)))?;
        let mut out = String::new();
        for piece in &entry.said {
            match piece {
                Piece::Words(words) => out.push_str(words),
                Piece::Hole(name) => {
                    let (_, what) = holes.iter().find(|(hole, _)| hole == name)?;
                    out.push_str(&self.find(what, depth).unwrap_or_else(|| with_commas(what)));
                }
            }
        }
        Some(out)
    }
}

/// What stands in the holes of a pattern, if a text is one of its kind. A hole takes as little as it can.
fn matched<'p, 't>(pattern: &'p [Piece], text: &'t str) -> Option<Vec<(&'p str, &'t str)>> {
    match pattern {
        [] => text.is_empty().then(Vec::new),
        [Piece::Words(words), rest @ ..] => matched(rest, text.strip_prefix(words.as_str())?),
        [Piece::Hole(name)] => (!text.is_empty()).then(|| vec![(name.as_str(), text)]),
        [Piece::Hole(name), rest @ ..] => {
            let [Piece::Words(next), ..] = rest else { return None };
            // What ends a hole may also stand in a name.
            text.match_indices(next.as_str()).filter(|(at, _)| *at > 0).find_map(|(at, _)| {
                let mut holes = matched(rest, text.get(at..)?)?;
                holes.insert(0, (name.as_str(), text.get(..at)?));
                Some(holes)
            })
        }
    }
}

/// Decimal points between digits become commas.
#[must_use]
pub fn with_commas(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let is_digit = |at: Option<usize>| at.and_then(|at| chars.get(at)).is_some_and(char::is_ascii_digit);
    let comma = |(at, c): (usize, &char)| {
        if *c == '.' && is_digit(at.checked_sub(1)) && is_digit(Some(at + 1)) { ',' } else { *c }
    };
    chars.iter().enumerate().map(comma).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(sentence: &str, expected: Option<&str>) {
        assert_eq!(Book::german().say(sentence).as_deref(), expected);
    }

    #[test]
    fn a_sentence_is_said_with_its_sizes_and_names() {
        check("13 mm too much over the height", Some("13 mm zu viel in der Höhe"));
        check(
            "make the width of the envelope 1012.5 mm instead of 900 mm",
            Some("die Breite außen 1012,5 mm machen statt 900 mm"),
        );
        check(
            "what bay \"machine bay\" holds needs a width of 620 mm (air left of machine 10 mm + machine 600 mm)",
            Some(
                "was in Fach \"machine bay\" steht, braucht eine Breite von 620 mm (Luft links von machine 10 mm + machine 600 mm)",
            ),
        );
        check("upright right of bay 1.5", Some("Mittelseite rechts von bay 1,5"));
        check("width of \"a\": preferred size (87.5 mm)", Some("Breite von \"a\": gewünschtes Maß (87,5 mm)"));
        check("nothing that any book knows of", None);
        check("", None);
    }

    #[test]
    fn each_entry_says_every_hole_of_its_pattern() {
        let lines = GERMAN.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
        for (number, line) in lines.enumerate() {
            assert_eq!(line.starts_with("= "), number % 2 == 1, "{line}");
        }
        for entry in Book::german().entries {
            let holes = |pieces: &[Piece]| {
                let mut names: Vec<String> = pieces
                    .iter()
                    .filter_map(|it| if let Piece::Hole(name) = it { Some(name.clone()) } else { None })
                    .collect();
                names.sort();
                names
            };
            assert_eq!(holes(&entry.pattern), holes(&entry.said), "{:?}", entry.pattern);
            assert!(entry.fixed > 0);
        }
    }
}
