//! Text of what is new, in the author's layout, and of what moved to another place.

use std::borrow::Cow;

use super::{Node, Shape, SpanIndex, name_of, text_of};
use crate::text::{
    fold::{Margin, laid, on_one_line},
    scan::{Bracket, Kind, Words},
};

/// A value of the pretty text, laid out: on one line if it stands within one.
pub(super) fn laid_out(new: &SpanIndex<'_>, node: usize, margin: &Margin<'_>, within_line: bool) -> String {
    let lines: Vec<Cow<'_, str>> = text_of(new, node).lines().map(plain_number).collect();
    let pretty = lines.join("\n");
    if within_line { on_one_line(&pretty) } else { laid(&pretty, margin) }
}

/// A line of pretty text with a whole number as a person writes it: `34`, not `34.0`.
fn plain_number(line: &str) -> Cow<'_, str> {
    let (said, comma) = line.strip_suffix(',').map_or((line, ""), |said| (said, ","));
    let Some(whole) = said.strip_suffix(".0") else { return Cow::Borrowed(line) };
    let number = whole.rsplit([' ', '(']).next().unwrap_or_default();
    let is_number = !number.is_empty() && number.chars().all(|c| c.is_ascii_digit() || c == '-');
    if is_number { Cow::Owned(format!("{whole}{comma}")) } else { Cow::Borrowed(line) }
}

/// A new value without brackets in the notation of the one that it takes the place of.
pub(super) fn in_notation_of(mine: &str, was: &str, is: &str) -> String {
    let is_number = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '.'));
    if is_number(was) && is_number(is) && mine.starts_with(['"', 'r']) {
        return format!("\"{is}\"");
    }
    if mine.ends_with(".0") { is.to_owned() } else { plain_number(is).into_owned() }
}

/// The opening and closing of a value with brackets, and whether spaces stand within them on one line.
pub(super) fn brackets(new: &SpanIndex<'_>, node: &Node) -> (String, char, bool) {
    let name = name_of(new, node);
    match node.shape {
        Shape::Within(Bracket::Curly) => (format!("{name}{{"), '}', true),
        Shape::Within(Bracket::Square) => (format!("{name}["), ']', false),
        _ => (format!("{name}("), ')', false),
    }
}

/// The text of a value set in by `to` instead of `from`. Quoted texts over more than one line cannot be moved.
pub(super) fn set_in(text: &str, from: &str, to: &str) -> String {
    let is_long = |kind: &Kind<'_>, span: &std::ops::Range<usize>| {
        matches!(kind, Kind::Text(_)) && text.get(span.clone()).is_some_and(|text| text.contains('\n'))
    };
    if from == to || Words::new(text).any(|word| is_long(&word.kind, &word.span)) {
        return text.to_owned();
    }
    let mut lines = text.split('\n');
    let first = lines.next().unwrap_or_default().to_owned();
    lines.fold(first, |mut out, line| {
        out.push('\n');
        match line.strip_prefix(from) {
            Some(rest) if !rest.trim().is_empty() => out.extend([to, rest]),
            _ => out.push_str(line),
        }
        out
    })
}
