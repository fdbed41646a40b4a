//! Lines and columns of a text.

use std::fmt;

/// A place in a text: line and column, both counted from 1, the column in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
}

impl fmt::Display for Position {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.line, self.column)
    }
}

/// Where the lines of one text begin.
#[derive(Clone, Debug)]
pub struct LineIndex {
    starts: Vec<usize>,
    /// The bytes that continue a character, so that a column costs a search and not a walk along the line.
    continuations: Vec<usize>,
}

impl LineIndex {
    /// The lines of `text`, which end at each line feed.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let places = |wanted: fn(u8) -> bool| text.bytes().enumerate().filter(move |(_, byte)| wanted(*byte));
        let feeds = places(|byte| byte == b'\n').map(|(at, _)| at + 1);
        Self {
            starts: std::iter::once(0).chain(feeds).collect(),
            continuations: places(|byte| byte & 0b1100_0000 == 0b1000_0000).map(|(at, _)| at).collect(),
        }
    }

    /// The position of a byte of `text`, the same text as in [`Self::new`]; a byte beyond the end counts as the end,
    /// one inside a character as the beginning of the next one.
    #[must_use]
    pub fn position(&self, text: &str, byte: usize) -> Position {
        let byte = byte.min(text.len());
        let line = self.starts.partition_point(|start| *start <= byte).max(1);
        let start = self.starts.get(line - 1).copied().unwrap_or(0);
        let continuing = |end: usize| self.continuations.partition_point(|at| *at < end);
        let column = (byte - start).saturating_sub(continuing(byte) - continuing(start)) + 1;
        Position { line, column }
    }

    /// The byte of `text` at a position; the end of the line or of the text if the position is beyond it.
    #[must_use]
    pub fn byte(&self, text: &str, position: Position) -> usize {
        let Some(&start) = self.starts.get(position.line.saturating_sub(1)) else {
            return text.len();
        };
        let line = text.get(start..).unwrap_or_default();
        let line = line.split_once('\n').map_or(line, |(line, _)| line);
        line.char_indices().nth(position.column.saturating_sub(1)).map_or(start + line.len(), |(at, _)| start + at)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn columns_count_characters() {
        let text = "größe: 1,\n\tb: 2\r\nc";
        let lines = LineIndex::new(text);
        for (needle, expected) in [("größe", "1:1"), ("1,", "1:8"), ("b:", "2:2"), ("c", "3:1")] {
            let byte = text.find(needle).unwrap();
            assert_eq!(lines.position(text, byte).to_string(), expected, "{needle}");
        }
        assert_eq!(lines.position(text, 999).to_string(), "3:2");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(100))]
        #[test]
        fn positions_and_bytes_round_trip(text in "[a-zäß\n\r🪵]{0,60}", pick: prop::sample::Index) {
            let lines = LineIndex::new(&text);
            let starts: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
            let byte = *pick.get(&starts);
            prop_assert_eq!(lines.byte(&text, lines.position(&text, byte)), byte);
        }
    }
}
