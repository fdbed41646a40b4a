//! A book of patterns: a text of the program with holes for what changes, and how it is said in another language.

use std::collections::BTreeMap;
use std::sync::OnceLock;

/// The German book; the head of the first part says how it is written.
pub(super) const GERMAN: [&str; 2] = [
    include_str!("../../../../assets/language/sentences.de.txt"),
    include_str!("../../../../assets/language/sheets.de.txt"),
];

/// A piece of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Piece {
    /// Fixed words.
    Words(String),
    /// What changes, by its name in this pattern.
    Hole(String),
}

/// One text: its pattern, and what is said in its place.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) pattern: Vec<Piece>,
    pub(super) said: Vec<Piece>,
    /// How much of the pattern is fixed: of several that fit, the one with the most fits best.
    pub(super) fixed: usize,
}

/// A book of patterns, those with the most fixed words first.
#[derive(Debug)]
pub(super) struct Book {
    pub(super) entries: Vec<Entry>,
    /// Entries that begin with words, by their first byte.
    by_start: BTreeMap<u8, Vec<usize>>,
    /// Entries that begin with a hole.
    open: Vec<usize>,
}

/// The lines of a book that are not empty and no remarks.
pub(super) fn lines(text: &str) -> impl Iterator<Item = &str> {
    text.lines().map(str::trim_end).filter(|line| !line.is_empty() && !line.starts_with('#'))
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
    /// The German book, read once.
    pub(super) fn german() -> &'static Self {
        static BOOK: OnceLock<Book> = OnceLock::new();
        BOOK.get_or_init(|| Self::read(&GERMAN))
    }

    fn read(parts: &[&str]) -> Self {
        let lines: Vec<&str> = parts.iter().flat_map(|part| lines(part)).collect();
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
        let mut by_start: BTreeMap<u8, Vec<usize>> = BTreeMap::new();
        let mut open = Vec::new();
        for (index, entry) in entries.iter().enumerate() {
            match entry.pattern.first() {
                Some(Piece::Words(words)) => by_start.entry(first_byte(words)).or_default().push(index),
                _ => open.push(index),
            }
        }
        Self { entries, by_start, open }
    }

    /// The entries that a text may be one of, the best first.
    pub(super) fn candidates(&self, text: &str) -> impl Iterator<Item = &Entry> {
        let starting = self.by_start.get(&first_byte(text)).map_or(&[][..], Vec::as_slice);
        let mut both: Vec<usize> = starting.iter().chain(&self.open).copied().collect();
        both.sort_unstable();
        both.into_iter().filter_map(|index| self.entries.get(index))
    }
}

fn first_byte(text: &str) -> u8 {
    text.as_bytes().first().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn each_entry_says_every_hole_of_its_pattern() {
        for part in GERMAN {
            for (number, line) in lines(part).enumerate() {
                assert_eq!(line.starts_with("= "), number % 2 == 1, "{line}");
            }
        }
        let mut seen = BTreeSet::new();
        for entry in &Book::german().entries {
            let holes = |pieces: &[Piece]| -> BTreeSet<String> {
                pieces
                    .iter()
                    .filter_map(|it| if let Piece::Hole(name) = it { Some(name.clone()) } else { None })
                    .collect()
            };
            assert_eq!(holes(&entry.pattern), holes(&entry.said), "{:?}", entry.pattern);
            assert!(entry.fixed > 0, "{:?}", entry.pattern);
            let between = entry.pattern.windows(2).all(|it| !matches!(it, [Piece::Hole(_), Piece::Hole(_)]));
            assert!(between, "{:?}: nothing tells where the first hole ends", entry.pattern);
            let shape: Vec<String> = entry
                .pattern
                .iter()
                .map(|it| if let Piece::Words(words) = it { words.clone() } else { "{}".to_owned() })
                .collect();
            assert!(seen.insert(shape.concat()), "{:?} is there twice", entry.pattern);
        }
    }
}
