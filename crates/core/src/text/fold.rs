//! Short groups of a pretty-printed RON text on one line each, so that a written design stays easy to read.
//!
//! A pretty text here is what RON's pretty writer gives, or a part of it: one value a line, texts escaped; an opening
//! bracket ends its line and its closing one begins another.

/// The longest line, in characters.
pub(super) const WIDTH: usize = 110;

/// How far a text that is written without anything round it is set in at each bracket.
pub(super) const UNIT: &str = "    ";

/// A line of the pretty text, with the lines inside its bracket.
struct Line<'t> {
    text: &'t str,
    inside: Vec<Line<'t>>,
    close: &'t str,
}

/// Where a text is to stand.
#[derive(Clone, Copy, Debug)]
pub(super) struct Margin<'t> {
    /// What its lines begin with.
    pub(super) indent: &'t str,
    /// What they begin with more for each bracket.
    pub(super) unit: &'t str,
    /// The characters in its first line before it.
    pub(super) column: usize,
}

impl Margin<'_> {
    fn indent_at(&self, depth: usize) -> String {
        format!("{}{}", self.indent, self.unit.repeat(depth))
    }
}

/// The pretty text of a design with every bracketed group that fits a line put on one.
pub(crate) fn folded(pretty: &str) -> String {
    let mut text = laid(pretty, &Margin { indent: "", unit: UNIT, column: 0 });
    if !text.ends_with('\n') {
        text.push('\n');
    }
    text
}

/// A pretty text with every bracketed group that fits a line put on one; its first line is not set in, its last has no
/// end.
pub(super) fn laid(pretty: &str, margin: &Margin<'_>) -> String {
    let Some(lines) = lines(pretty) else { return pretty.to_owned() };
    let mut out = String::with_capacity(pretty.len());
    for line in &lines {
        write(line, 0, margin, &mut out);
    }
    out
}

/// A pretty text on one line, however long.
pub(super) fn on_one_line(pretty: &str) -> String {
    let Some(lines) = lines(pretty) else { return pretty.to_owned() };
    lines.iter().filter_map(|line| flat(line, usize::MAX)).collect::<Vec<_>>().join(" ")
}

/// The outermost lines; none where the brackets are not those of a pretty text.
fn lines(pretty: &str) -> Option<Vec<Line<'_>>> {
    let mut open: Vec<Line<'_>> = vec![Line { text: "", inside: Vec::new(), close: "" }];
    for text in pretty.lines().map(str::trim) {
        if text.starts_with([')', ']', '}']) {
            let mut done = open.pop()?;
            done.close = text;
            open.last_mut()?.inside.push(done);
        } else if text.ends_with(['(', '[', '{']) {
            open.push(Line { text, inside: Vec::new(), close: "" });
        } else {
            open.last_mut()?.inside.push(Line { text, inside: Vec::new(), close: "" });
        }
    }
    open.pop().filter(|_| open.is_empty()).map(|root| root.inside)
}

fn write(line: &Line<'_>, depth: usize, margin: &Margin<'_>, out: &mut String) {
    let indent = margin.indent_at(depth);
    let before = if out.is_empty() { margin.column } else { indent.chars().count() };
    if !out.is_empty() {
        out.push('\n');
        out.push_str(&indent);
    }
    if let Some(flat) = flat(line, WIDTH.saturating_sub(before)) {
        out.push_str(&flat);
        return;
    }
    out.push_str(line.text);
    for inner in &line.inside {
        write(inner, depth + 1, margin, out);
    }
    if !line.close.is_empty() {
        out.push('\n');
        out.push_str(&indent);
        out.push_str(line.close);
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
        if text.len() > room.saturating_mul(4) {
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
    fn a_part_is_laid_where_it_is_to_stand() {
        let pretty = "Up(\n        bays: [\n            (\n                a: 1,\n            ),\n        ],\n    )";
        assert_eq!(on_one_line(pretty), "Up(bays: [(a: 1)])");
        let margin = |column| Margin { indent: "\t", unit: "\t", column };
        assert_eq!(laid(pretty, &margin(20)), "Up(bays: [(a: 1)])");
        assert_eq!(laid(pretty, &margin(WIDTH - 10)), "Up(\n\t\tbays: [(a: 1)],\n\t)");
        assert_eq!(laid("34,", &margin(0)), "34,");
    }

    #[test]
    fn what_is_not_pretty_stays() {
        check("1\n", "1\n");
        check("(\n", "(\n");
        check(")\n", ")\n");
    }
}
