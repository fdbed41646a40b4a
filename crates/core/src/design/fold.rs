//! Short groups of a pretty-printed RON text on one line each, so that a written design stays easy to read.

/// The longest line, in characters.
const WIDTH: usize = 110;

/// A line of the pretty text, with the lines inside its bracket.
struct Line<'t> {
    text: &'t str,
    inside: Vec<Line<'t>>,
    close: &'t str,
}

/// The text with every bracketed group that fits a line put on one.
///
/// `pretty` is what RON's pretty writer gives: one value a line, texts escaped; an opening bracket ends its line and its
/// closing one begins another.
pub(super) fn folded(pretty: &str) -> String {
    let mut open: Vec<Line<'_>> = vec![Line { text: "", inside: Vec::new(), close: "" }];
    for text in pretty.lines().map(str::trim) {
        if text.starts_with([')', ']', '}']) {
            let Some(mut done) = open.pop() else { return pretty.to_owned() };
            done.close = text;
            match open.last_mut() {
                Some(outer) => outer.inside.push(done),
                None => return pretty.to_owned(),
            }
        } else if text.ends_with(['(', '[', '{']) {
            open.push(Line { text, inside: Vec::new(), close: "" });
        } else if let Some(outer) = open.last_mut() {
            outer.inside.push(Line { text, inside: Vec::new(), close: "" });
        }
    }
    let (Some(root), true) = (open.pop(), open.is_empty()) else { return pretty.to_owned() };
    let mut out = String::with_capacity(pretty.len());
    for line in &root.inside {
        write(line, 0, &mut out);
    }
    out
}

fn write(line: &Line<'_>, depth: usize, out: &mut String) {
    let indent = "    ".repeat(depth);
    if let Some(flat) = flat(line, WIDTH.saturating_sub(indent.len())) {
        out.push_str(&format!("{indent}{flat}\n"));
        return;
    }
    out.push_str(&format!("{indent}{}\n", line.text));
    for inner in &line.inside {
        write(inner, depth + 1, out);
    }
    if !line.close.is_empty() {
        out.push_str(&format!("{indent}{}\n", line.close));
    }
}

/// The line with all inside it, if it is no longer than `room`.
fn flat(line: &Line<'_>, room: usize) -> Option<String> {
    let mut text = line.text.to_owned();
    let spaced = text.ends_with('{');
    for (i, inner) in line.inside.iter().enumerate() {
        if i > 0 || spaced {
            text.push(' ');
        }
        text += &flat(inner, room)?;
        if text.len() > room * 4 {
            return None;
        }
    }
    if !line.inside.is_empty() {
        text.truncate(text.trim_end_matches(',').len());
        if spaced {
            text.push(' ');
        }
    }
    text += line.close;
    (text.chars().count() <= room).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(pretty: &str, expected: &str) {
        assert_eq!(folded(pretty), expected);
    }

    #[test]
    fn short_groups_take_one_line() {
        check("(\n    a: 1,\n    b: [\n        2,\n        \"x, (\",\n    ],\n)\n", "(a: 1, b: [2, \"x, (\"])\n");
        check("{\n    \"k\": (\n        v: 1,\n    ),\n}\n", "{ \"k\": (v: 1) }\n");
        let long = "x".repeat(WIDTH);
        let pretty = format!("(\n    a: [\n        1,\n    ],\n    b: \"{long}\",\n)\n");
        check(&pretty, &format!("(\n    a: [1],\n    b: \"{long}\",\n)\n"));
    }

    #[test]
    fn what_is_not_pretty_stays() {
        check("1\n", "1\n");
        check("(\n", "(\n");
        check(")\n", ")\n");
    }
}
