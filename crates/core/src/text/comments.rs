//! Comments of a design file over a rewriting: each is put back at the value that it stood before or behind, as far as
//! that value is still there, else at the nearest one round it.

use std::{collections::BTreeMap, ops::Range};

use super::{
    field_path::FieldPath,
    scan::{Kind, Word, Words},
    spans::SpanIndex,
};

/// One comment, with the value that it belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Comment {
    /// Its bytes in its text.
    pub(super) span: Range<usize>,
    pub(super) text: String,
    path: FieldPath,
    /// Whether it stands behind its value, in the same line.
    behind: bool,
}

/// The new text of a design with the comments of the old one.
pub(crate) fn kept(old: &str, new: &str) -> String {
    let (whole, text) = woven(&comments(old), new);
    whole.iter().map(|comment| format!("{comment}\n")).chain([text]).collect()
}

/// What is written at the place of each line of the new text.
#[derive(Default)]
struct Additions {
    above: Vec<String>,
    behind: Vec<String>,
}

/// The new text, a pretty or folded one, with the comments in it; and those that belong to nothing inside it.
pub(super) fn woven(comments: &[Comment], new: &str) -> (Vec<String>, String) {
    let index = SpanIndex::scan(new);
    let mut whole = Vec::new();
    let mut additions: BTreeMap<usize, Additions> = BTreeMap::new();
    for comment in comments {
        let mut path = comment.path.clone();
        let mut is_there = true;
        let place = loop {
            if path.is_root() {
                break None;
            }
            if let Some(place) = index.locate_label(&path) {
                break Some(place);
            }
            is_there = false;
            path.pop();
        };
        let Some(place) = place else {
            whole.push(comment.text.clone());
            continue;
        };
        let at = additions.entry(place.line).or_default();
        if comment.behind && is_there && !comment.text.contains('\n') {
            at.behind.push(comment.text.clone());
        } else {
            at.above.push(comment.text.clone());
        }
    }
    let mut out = String::with_capacity(new.len() * 2);
    for (number, line) in (1..).zip(new.split_inclusive('\n')) {
        let Some(at) = additions.get(&number) else {
            out.push_str(line);
            continue;
        };
        let indent = line.get(..line.len() - line.trim_start().len()).unwrap_or_default();
        for comment in &at.above {
            out.push_str(&format!("{indent}{comment}\n"));
        }
        out.push_str(line.trim_end_matches('\n'));
        for (count, comment) in at.behind.iter().enumerate() {
            // A second comment would stand inside the first.
            let end = if count + 1 < at.behind.len() { in_brackets(comment) } else { comment.clone() };
            out.push_str(&format!(" {end}"));
        }
        if line.ends_with('\n') || at.behind.last().is_some_and(|last| last.starts_with("//")) {
            out.push('\n');
        }
    }
    (whole, out)
}

/// The comment as one that something may follow in its line.
pub(super) fn in_brackets(comment: &str) -> String {
    match comment.strip_prefix("//") {
        Some(said) => {
            format!("/* {} */", said.trim_start_matches('/').trim().replace("*/", "* /").replace("/*", "/ *"))
        }
        None => comment.to_owned(),
    }
}

/// The comments of a text, in its order.
pub(super) fn comments(text: &str) -> Vec<Comment> {
    let index = SpanIndex::scan(text);
    let (words, comments) = Words::all(text);
    comments.into_iter().map(|span| comment(&index, &words, span)).collect()
}

fn comment(index: &SpanIndex<'_>, words: &[Word<'_>], span: Range<usize>) -> Comment {
    let text = index.text();
    let body = text.get(span.clone()).unwrap_or_default().trim_end().to_owned();
    let line = text.get(..span.start).and_then(|before| before.rsplit('\n').next()).unwrap_or_default();
    let behind = !line.trim().is_empty();
    let next = words.partition_point(|word| word.span.start < span.start);
    let ends_value = |word: &&Word<'_>| !matches!(word.kind, Kind::Comma | Kind::Colon);
    let before = || words.get(..next)?.iter().rev().find(ends_value);
    let after = || words.get(next).filter(|word| !matches!(word.kind, Kind::Close(_)));
    let place = if behind { before() } else { after().or_else(before) };
    let path = place.map_or_else(FieldPath::root, |word| index.path_at(word.span.start));
    Comment { span, text: body, path, behind }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(old: &str, new: &str, expected: &str) {
        assert_eq!(kept(old, new), expected);
    }

    #[test]
    fn comments_come_back_at_their_values() {
        let new = "(\n    title: \"t\",\n    unit: Millimetre(step: 0.5),\n)\n";
        check(
            "// Measured on Monday.\n(\n  title: \"t\",\n  // Ask again.\n  unit: Millimetre(step: 0.5))",
            new,
            "// Measured on Monday.\n(\n    title: \"t\",\n    // Ask again.\n    unit: Millimetre(step: 0.5),\n)\n",
        );
        check(
            "(title: \"// none\", /* as she\n said */ unit: Millimetre(), // mm // no\n)",
            new,
            "(\n    /* as she\n said */\n    title: \"t\",\n    unit: Millimetre(step: 0.5), // mm // no\n)\n",
        );
        // A value that is no longer there: the comment stands at the nearest one round it.
        check("(things: {\"boat\": (\n // long\n size: (1, 2, 3)) } )", "(a: 1)\n", "// long\n(a: 1)\n");
        check("(a: 1, // one\n", "(a: 1)\n", "(a: 1) // one\n");
        check("(a: 1, /* one */ // two\n)", "(a: 1)\n", "(a: 1) /* one */ // two\n");
    }

    #[test]
    fn no_text_stops_it() {
        for text in ["", "/*", "/* /* */", "\"", "r#\"", "//", "(\u{e4}: // x", ")]}", "r", "((((// x"] {
            assert!(kept(text, "(a: 1)\n").contains("(a: 1)"), "{text}");
        }
    }
}
