//! Comments of a design file over an edit: each is put back at the value that it stood before or behind, as far as that
//! value is still there, else at the nearest one round it. The window writes values; what a person wrote beside them stays.

use std::collections::BTreeMap;

use casewright_core::design::Design;
use casewright_core::text::{FieldPath, SpanIndex};

/// One comment, with the value that it belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Comment {
    text: String,
    path: FieldPath,
    /// Whether it stands behind its value, in the same line.
    behind: bool,
}

/// The new text of a design with the comments of the old one. If the texts cannot be brought together, the new one
/// without comments.
#[must_use]
pub fn kept(old: &str, new: &str) -> String {
    let comments = comments(old);
    if comments.is_empty() {
        return new.to_owned();
    }
    let text = woven(&comments, new);
    match (Design::read(&text), Design::read(new)) {
        (Ok((with, _)), Ok((without, _))) if with == without => text,
        _ => new.to_owned(),
    }
}

/// What is written at the place of each line of the new text.
#[derive(Default)]
struct Additions {
    above: Vec<String>,
    behind: Vec<String>,
}

fn woven(comments: &[Comment], new: &str) -> String {
    let index = SpanIndex::scan(new);
    let mut additions: BTreeMap<usize, Additions> = BTreeMap::new();
    for comment in comments {
        let mut path = comment.path.clone();
        let mut is_there = true;
        let place = loop {
            if let Some(place) = index.locate_label(&path) {
                break index.byte(place);
            }
            is_there = false;
            if path.pop().is_none() {
                break 0;
            }
        };
        let line = new.get(..place).unwrap_or_default().matches('\n').count();
        let at = additions.entry(line).or_default();
        if comment.behind && is_there && !comment.text.contains('\n') {
            at.behind.push(comment.text.clone());
        } else {
            at.above.push(comment.text.clone());
        }
    }
    let mut out = String::with_capacity(new.len() * 2);
    for (number, line) in new.lines().enumerate() {
        let indent = line.get(..line.len() - line.trim_start().len()).unwrap_or_default();
        let empty = Additions::default();
        let at = additions.get(&number).unwrap_or(&empty);
        for comment in &at.above {
            out.push_str(indent);
            out.push_str(comment);
            out.push('\n');
        }
        out.push_str(line);
        for (count, comment) in at.behind.iter().enumerate() {
            // A second comment would stand inside the first.
            let end = if comment.starts_with("//") && count + 1 < at.behind.len() {
                format!(" /* {} */", comment.trim_start_matches('/').trim().replace("*/", "* /"))
            } else {
                format!(" {comment}")
            };
            out.push_str(&end);
        }
        out.push('\n');
    }
    out
}

fn comments(text: &str) -> Vec<Comment> {
    let index = SpanIndex::scan(text);
    let mut found = Vec::new();
    let pieces = pieces(text);
    for (number, piece) in pieces.iter().enumerate() {
        if !piece.is_comment {
            continue;
        }
        let body = text.get(piece.start..piece.end).unwrap_or_default().trim_end().to_owned();
        let line = text.get(..piece.start).and_then(|before| before.rsplit('\n').next()).unwrap_or_default();
        let ends_value =
            |piece: &&Piece| !piece.is_comment && !matches!(text.get(piece.start..piece.end), Some("," | ":"));
        let behind = !line.trim().is_empty();
        let before = || pieces.get(..number)?.iter().rev().find(ends_value);
        let after = || {
            let closes = |piece: &&Piece| matches!(text.get(piece.start..piece.end), Some(")" | "]" | "}"));
            pieces.get(number + 1..)?.iter().find(|piece| !piece.is_comment).filter(|piece| !closes(piece))
        };
        let place = if behind { before() } else { after().or_else(before) };
        let path = place.map_or_else(FieldPath::root, |piece| index.path_at(piece.start));
        found.push(Comment { text: body, path, behind });
    }
    found
}

/// A word, mark or comment of a text, by its bytes.
struct Piece {
    start: usize,
    end: usize,
    is_comment: bool,
}

/// The text cut into marks, words, quoted texts and comments; never fails.
fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut at = 0;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        let Some(first) = rest.chars().next() else { break };
        let (length, is_comment) = if rest.starts_with("//") {
            (rest.find('\n').unwrap_or(rest.len()), true)
        } else if rest.starts_with("/*") {
            (block(rest), true)
        } else if first == '"' {
            (quoted(rest), false)
        } else if let Some(length) = raw(rest) {
            (length, false)
        } else if first.is_alphanumeric() || matches!(first, '_' | '.' | '-' | '+') {
            let end = rest.find(|c: char| !(c.is_alphanumeric() || matches!(c, '_' | '.' | '-' | '+')));
            (end.unwrap_or(rest.len()), false)
        } else {
            (first.len_utf8(), false)
        };
        if !first.is_whitespace() {
            pieces.push(Piece { start: at, end: at + length, is_comment });
        }
        at += length;
    }
    pieces
}

/// The length of a block comment, which may hold others.
fn block(text: &str) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with("*/") {
            depth = depth.saturating_sub(1);
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
        }
    }
    text.len()
}

fn quoted(text: &str) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            '"' if !escaped => return at + 1,
            _ => escaped = c == '\\' && !escaped,
        }
    }
    text.len()
}

/// The length of a raw text such as `r#"..."#`, if one begins here.
fn raw(text: &str) -> Option<usize> {
    let after = text.strip_prefix('r')?;
    let marks = after.chars().take_while(|c| *c == '#').count();
    after.get(marks..)?.strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(marks));
    let from = 2 + marks;
    Some(text.get(from..)?.find(&end).map_or(text.len(), |at| from + at + end.len()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    /// The comments of an old text, in the text of the sample design.
    #[track_caller]
    fn check(old: &str, expected: &[&str]) {
        let new = sample::design().to_ron().unwrap();
        let text = kept(old, &new);
        for line in expected {
            assert!(text.contains(line), "{line:?} is not in\n{text}");
        }
        assert_eq!(Design::from_ron(&text).unwrap(), sample::design());
    }

    #[test]
    fn comments_come_back_at_their_values() {
        check(
            "// Measured on Monday.\n(\n  title: \"t\",\n  // Ask again.\n  unit: Millimetre(step: 0.5))",
            &["// Measured on Monday.\n(", "// Ask again.\n"],
        );
        check(
            "(schema: 1, // the first\n title: \"// none\", /* as she\n said */ unit: Millimetre())",
            &["schema: 1, // the first", "/* as she\n said */"],
        );
        // A value that is no longer there: the comment stands at the nearest one round it.
        check("(schema: 1, things: {\"boat\": (\n // long\n size: (1, 2, 3)) } )", &["// long\n"]);
        check("(schema: 1, // one\n", &["// one"]);
    }

    #[test]
    fn saving_twice_changes_nothing_and_loses_nothing() {
        for demo in ["laundry-alcove", "container-trolley", "alcove-bookcase"] {
            let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../demo/{demo}.ron"));
            let old = std::fs::read_to_string(file).unwrap();
            let new = Design::read(&old).unwrap().0.to_ron().unwrap();
            let once = kept(&old, &new);
            let count = |text: &str| pieces(text).iter().filter(|piece| piece.is_comment).count();
            assert_eq!(count(&once), count(&old), "{demo}");
            assert_eq!(kept(&once, &new), once, "{demo}");
        }
    }

    #[test]
    fn no_text_stops_it() {
        for text in ["", "/*", "/* /* */", "\"", "r#\"", "//", "(\u{e4}: // x", ")]}", "r", "((((// x"] {
            check(text, &[]);
        }
    }
}
