//! The new text, put together from pieces of the author's and what is fresh.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::{
    Child, Shape, SpanIndex, Texts, blank_start, children_of,
    fresh::{brackets, in_notation_of, laid_out, set_in},
    indent_at, name_of, node_of,
    plan::{How, Plan},
    slots::{Cut, Leaving, last_feed},
    text_of, unit_of,
};
use crate::text::{
    comments::{Comment, comments, in_brackets, woven},
    field_path::Segment,
    fold::{Margin, WIDTH},
    scan::Words,
};

/// Where a value is to stand.
#[derive(Clone, Copy)]
struct At<'a> {
    /// What its line is set in by.
    indent: &'a str,
    /// The characters before it in its line.
    column: usize,
    /// Whether what is round it stands on one line.
    within_line: bool,
}

/// The text of a value, with the comments that belong above and behind it.
#[derive(Default)]
struct Piece {
    above: Vec<String>,
    body: String,
    behind: Option<String>,
}

/// A member on its way into the new text.
struct Entry<'t> {
    lead: String,
    head: String,
    value: Value<'t>,
    after: &'t str,
    trail: String,
}

/// Where the value of a member comes from.
enum Value<'t> {
    /// The author's text, which the program would not write.
    Mine(&'t str),
    /// A member of the new value, by place.
    New(usize),
}

pub(super) struct Composer<'p, 't> {
    texts: &'p Texts<'t>,
    plan: &'p Plan,
    unit: &'t str,
    /// What goes with the members that are taken out, by old value.
    leaving: BTreeMap<usize, Leaving<'t>>,
    /// The bytes of the author's text that stand elsewhere in the new one.
    taken: Vec<Range<usize>>,
}

impl<'p, 't> Composer<'p, 't> {
    pub(super) fn new(texts: &'p Texts<'t>, plan: &'p Plan) -> Self {
        let mut leaving = BTreeMap::new();
        for (_, how) in plan.all() {
            let How::Members(old, pairs) = how else { continue };
            let Some((container, members)) = texts.members(*old) else { continue };
            let stay: BTreeSet<usize> = pairs.iter().flatten().copied().collect();
            let old_members = children_of(&texts.old, *old).iter().zip(members).enumerate();
            let gone: Vec<_> =
                old_members.filter(|(place, _)| !stay.contains(place)).map(|(_, member)| member).collect();
            if gone.is_empty() {
                continue;
            }
            let cut = Cut::of(&texts.mine, container);
            let slots: BTreeSet<usize> = gone.iter().map(|(_, slot)| **slot).collect();
            for (child, slot) in gone {
                leaving.insert(child.node, cut.leaving(*slot, |slot| !slots.contains(&slot)));
            }
        }
        let span = |old: &usize| {
            let outer = texts.places.get(*old)?.as_ref()?.outer;
            node_of(&texts.mine, outer).map(|node| node.span.clone())
        };
        let taken = plan.moved.values().filter_map(span).collect();
        Self { texts, plan, unit: unit_of(&texts.mine), leaving, taken }
    }

    /// The whole new text.
    pub(super) fn text(&self) -> String {
        let mine = self.texts.mine.text();
        let span = node_of(&self.texts.mine, 0).map_or(0..0, |node| node.span.clone());
        let piece =
            self.value(0, &At { indent: indent_at(&self.texts.mine, span.start), column: 0, within_line: false });
        let (before, behind) = (mine.get(..span.start), mine.get(span.end..));
        [before.unwrap_or_default(), &piece.body, behind.unwrap_or_default()].concat()
    }

    fn value(&self, new: usize, at: &At<'_>) -> Piece {
        let mut piece = Piece::default();
        let was = self.plan.moved.get(&new).copied();
        let place =
            was.and_then(|was| Some((was, node_of(&self.texts.mine, self.texts.places.get(was)?.as_ref()?.outer)?)));
        let there = place.map(|(_, node)| indent_at(&self.texts.mine, node.span.start));
        let home = At { indent: there.unwrap_or(at.indent), ..*at };
        piece.body = match self.plan.how(new) {
            How::Same(old) => self.written(*old).to_owned(),
            How::Members(old, pairs) => self.members(new, *old, pairs, &home),
            How::Fresh => self.fresh(new, at),
        };
        if let (Some(was), Some(there)) = (was, there) {
            piece.body = set_in(&piece.body, there, at.indent);
            if let Some(leaving) = self.leaving.get(&was) {
                piece.above = leaving.above.iter().map(|it| set_in(it, there, at.indent)).collect();
                piece.behind = leaving.behind.map(str::to_owned);
            }
        }
        if let Some(old) = self.plan.instead.get(&new) {
            self.take_place(&mut piece, new, *old, was.is_some());
        }
        piece
    }

    /// The author's text of an old value.
    fn written(&self, old: usize) -> &'t str {
        let place = self.texts.places.get(old).and_then(Option::as_ref);
        place.map_or("", |place| text_of(&self.texts.mine, place.outer))
    }

    /// A fresh value where an old one was: with its comments, and in its `Some(...)`.
    fn take_place(&self, piece: &mut Piece, new: usize, old: usize, is_moved: bool) {
        let Some(place) = self.texts.places.get(old).and_then(Option::as_ref) else { return };
        let Some(outer) = node_of(&self.texts.mine, place.outer) else { return };
        // What is round this value may have moved too, with this value in it.
        let inside = |taken: &&Range<usize>| outer.span.start <= taken.start && taken.end <= outer.span.end;
        let taken: Vec<&Range<usize>> = self.taken.iter().filter(inside).collect();
        let is_taken = |comment: &Comment| {
            let (start, end) = (outer.span.start + comment.span.start, outer.span.start + comment.span.end);
            taken.iter().any(|taken| taken.start <= start && end <= taken.end)
        };
        let mut left = comments(text_of(&self.texts.mine, place.outer));
        left.retain(|comment| !is_taken(comment));
        if piece.body.contains('\n') && !is_moved && !self.plan.filled.contains(&new) {
            let (whole, body) = woven(&left, &piece.body);
            piece.body = body.trim_end_matches('\n').to_owned();
            piece.above.extend(whole);
        } else {
            piece.above.extend(left.into_iter().map(|comment| comment.text));
        }
        if place.inner != place.outer
            && piece.body != "None"
            && let Some(inner) = node_of(&self.texts.mine, place.inner)
        {
            let mine = self.texts.mine.text();
            let before = mine.get(outer.span.start..inner.span.start).unwrap_or_default();
            let behind = mine.get(inner.span.end..outer.span.end).unwrap_or_default();
            piece.body = [before, &piece.body, behind].concat();
        }
    }

    fn fresh(&self, new: usize, at: &At<'_>) -> String {
        let index = &self.texts.new;
        let Some(node) = node_of(index, new) else { return String::new() };
        let old = self.plan.instead.get(&new).copied();
        if node.shape == Shape::Leaf
            && let Some(place) = old.and_then(|old| self.texts.places.get(old)?.as_ref())
            && let Some(old) = old
        {
            return in_notation_of(
                text_of(&self.texts.mine, place.inner),
                text_of(&self.texts.old, old),
                text_of(index, new),
            );
        }
        if !self.plan.filled.contains(&new) {
            let margin = Margin { indent: at.indent, unit: self.unit, column: at.column };
            return laid_out(index, new, &margin, at.within_line);
        }
        let (open, close, is_spaced) = brackets(index, node);
        let deeper = format!("{}{}", at.indent, self.unit);
        let mut out = open;
        for (place, child) in node.children.iter().enumerate() {
            let head = label_of(index, child);
            let column = deeper.chars().count() + head.chars().count();
            let piece = self.value(child.node, &At { indent: &deeper, column, within_line: at.within_line });
            if at.within_line {
                out.push_str(if place > 0 {
                    ", "
                } else if is_spaced {
                    " "
                } else {
                    ""
                });
                let comments = piece.above.iter().chain(&piece.behind).map(|it| format!("{} ", in_brackets(it)));
                out.extend(comments);
                out.extend([head, piece.body]);
                continue;
            }
            out.extend(piece.above.iter().map(|comment| format!("\n{deeper}{comment}")));
            out.push_str(&format!("\n{deeper}{head}{},", piece.body));
            out.extend(piece.behind.map(|comment| format!(" {comment}")));
        }
        if !at.within_line {
            out.push_str(&format!("\n{}", at.indent));
        } else if is_spaced {
            out.push(' ');
        }
        out.push(close);
        out
    }

    /// An old value with other members.
    fn members(&self, new: usize, old: usize, pairs: &[Option<usize>], at: &At<'_>) -> String {
        let mine = &self.texts.mine;
        let place = self.texts.places.get(old).and_then(Option::as_ref);
        let Some(((container, _), place)) = self.texts.members(old).zip(place) else { return String::new() };
        let (Some(outer), Some(inside)) = (node_of(mine, place.outer), node_of(mine, container)) else {
            return String::new();
        };
        let text = mine.text();
        let names = [(&self.texts.old, old), (&self.texts.new, new)];
        let [was, is] = names.map(|(index, node)| node_of(index, node).map_or("", |node| name_of(index, node)));
        let mut before = text.get(outer.span.start..=inside.open).unwrap_or_default().to_owned();
        if was != is {
            let from = inside.span.start - outer.span.start;
            before.replace_range(from..from + was.len(), is);
        }
        let behind = text.get(inside.span.end - 1..outer.span.end).unwrap_or_default();
        let whole = |within: String| [&before, &within, behind].concat();
        let span = text.get(outer.span.clone()).unwrap_or_default();
        let is_line = !span.contains('\n');
        let composed =
            whole(self.inside(new, old, pairs, &At { within_line: at.within_line || is_line, ..*at }, false));
        let length = at.column + composed.chars().count();
        // A line that has grown by longer values alone stays one, and who wrote a long one did not care.
        let has_more = || Words::new(&composed).count() > Words::new(span).count();
        let was_long = at.column + span.chars().count() > WIDTH;
        let is_longer = length >= WIDTH && !was_long && has_more();
        if !is_line || at.within_line || !(is_longer || composed.contains('\n')) {
            return composed;
        }
        whole(self.inside(new, old, pairs, at, true))
    }

    /// What stands between the brackets of an old value with other members; `spread`: each on a line of its own.
    fn inside(&self, new: usize, old: usize, pairs: &[Option<usize>], at: &At<'_>, spread: bool) -> String {
        let Some((container, members)) = self.texts.members(old) else { return String::new() };
        let cut = Cut::of(&self.texts.mine, container);
        let deeper = cut.slots.iter().find_map(|slot| line_of(slot.lead));
        let deeper = deeper.filter(|_| !spread).unwrap_or_else(|| format!("{}{}", at.indent, self.unit));
        let has_lines = cut.has_lines() || spread;
        let ends_in_comma = cut.slots.last().map_or(has_lines, |last| last.comma) || spread;
        let mut tail = cut.tail.to_owned();
        let mut entries = self.staying(new, old, pairs, members, &cut, &mut tail);
        if spread {
            for entry in &mut entries {
                let comment = entry.lead.trim();
                entry.lead = format!("\n{deeper}{comment}{}", if comment.is_empty() { "" } else { " " });
            }
            tail = format!("{}\n{}", if tail.trim().is_empty() { "" } else { &tail }, at.indent);
        }
        self.insert(new, &mut entries, &mut tail, [at.indent, &deeper], has_lines);
        if entries.is_empty() && cut.header.is_empty() && tail.trim().is_empty() {
            return String::new();
        }
        let mut out = cut.header.to_owned();
        let count = entries.len();
        // Whether a comment is open at the end, what was put last tells alone: nothing is put behind one that is.
        let mut last = 0;
        for (place, entry) in entries.into_iter().enumerate() {
            let comma = place + 1 < count || ends_in_comma;
            let begin = out.len();
            let at = At { within_line: at.within_line && !spread, ..*at };
            self.put((&mut out, last), new, entry, comma, &deeper, &at);
            last = begin;
        }
        if !begins_line(&tail) && ends_in_line_comment(&out) {
            out.push_str(&format!("\n{}", at.indent));
        }
        out + &tail
    }

    /// The members that stay, in the author's order. What stays of those that go is put before the next, or into `tail`.
    fn staying(
        &self,
        new: usize,
        old: usize,
        pairs: &[Option<usize>],
        members: &[usize],
        cut: &Cut<'t>,
        tail: &mut String,
    ) -> Vec<Entry<'t>> {
        let (before, after) = (children_of(&self.texts.old, old), children_of(&self.texts.new, new));
        let mut entries: Vec<Entry<'t>> = Vec::with_capacity(cut.slots.len());
        // What is left of the leads of those that went, and the beginning of a line for the next one.
        let (mut left, mut begins): (String, Option<&str>) = (String::new(), None);
        for (at, slot) in cut.slots.iter().enumerate() {
            let place = members.iter().position(|member| *member == at);
            let becomes = match place {
                Some(place) => pairs.iter().position(|pair| *pair == Some(place)),
                None => after.iter().position(|it| self.is_label(at, old, &it.segment)),
            };
            let value = match (becomes, place) {
                (Some(new), _) => Value::New(new),
                (None, None) if !self.is_renamed(old, new) => Value::Mine(slot.value),
                _ => {
                    let gone = place.and_then(|place| self.leaving.get(&before.get(place)?.node));
                    let own = gone.map_or(last_feed(slot.lead).unwrap_or(0), |gone| gone.own);
                    left.push_str(slot.lead.get(..own).unwrap_or_default());
                    if place.is_none() {
                        // Nobody else keeps the comments of a field that the program would not have written.
                        for comment in comments(slot.value).into_iter().chain(comments(slot.trail)) {
                            left = left + " " + &in_brackets(&comment.text) + " ";
                        }
                    }
                    begins = begins.or_else(|| slot.lead.get(own..));
                    continue;
                }
            };
            let mut lead = slot.lead.to_owned();
            if let Some(begins) = begins.take().filter(|_| last_feed(&lead).is_none()) {
                let line = line_of(begins).map(|indent| format!("\n{indent}"));
                lead = line.unwrap_or_else(|| blank_start(begins).to_owned()) + lead.trim_start();
            }
            let both_open = left.trim().is_empty() && lead.matches('\n').count() > 1;
            lead = if both_open { lead } else { std::mem::take(&mut left) + &lead };
            left.clear();
            let head = match (place.and_then(|place| before.get(place)), becomes.and_then(|new| after.get(new))) {
                (Some(was), Some(is)) if !slot.head.is_empty() && was.segment != is.segment => {
                    relabelled(slot.head, &self.texts.new, is)
                }
                _ => slot.head.to_owned(),
            };
            if let (Value::New(_), None) = (&value, place) {
                // A value that the program would not have written has no other way to keep its comments.
                let end = line_of(&lead).map(|indent| format!("\n{indent}"));
                for comment in comments(slot.value) {
                    lead += &match &end {
                        Some(end) => comment.text + end,
                        None => in_brackets(&comment.text) + " ",
                    };
                }
            }
            entries.push(Entry { lead, head, value, after: slot.after, trail: slot.trail.to_owned() });
        }
        if !left.trim().is_empty() {
            tail.insert_str(0, left.trim_end());
        }
        entries
    }

    /// Whether the alternative is another one, so that fields that the program would not write may no longer be there.
    fn is_renamed(&self, old: usize, new: usize) -> bool {
        let (Some(was), Some(is)) = (node_of(&self.texts.old, old), node_of(&self.texts.new, new)) else {
            return false;
        };
        name_of(&self.texts.old, was) != name_of(&self.texts.new, is)
    }

    /// Whether the member of the author's text has this field name.
    fn is_label(&self, slot: usize, old: usize, label: &Segment) -> bool {
        let container = self.texts.members(old).map(|(container, _)| container);
        let theirs = container.and_then(|container| children_of(&self.texts.mine, container).get(slot));
        theirs.is_some_and(|theirs| theirs.segment == *label)
    }

    /// Puts the members among the entries that are not there yet, each behind the one before it.
    fn insert(
        &self,
        new: usize,
        entries: &mut Vec<Entry<'t>>,
        tail: &mut String,
        [indent, deeper]: [&str; 2],
        has_lines: bool,
    ) {
        let index = &self.texts.new;
        let is_spaced = node_of(index, new).is_some_and(|node| brackets(index, node).2);
        for (place, child) in children_of(index, new).iter().enumerate() {
            let find = |entries: &[Entry<'t>], place: usize| {
                entries.iter().position(|entry| matches!(entry.value, Value::New(new) if new == place))
            };
            if find(entries, place).is_some() {
                continue;
            }
            let first = entries.iter().position(|entry| matches!(entry.value, Value::New(_))).unwrap_or(entries.len());
            let at = place.checked_sub(1).and_then(|before| find(entries, before)).map_or(first, |before| before + 1);
            let line = format!("\n{deeper}");
            let (before, next) = (at.checked_sub(1).and_then(|it| entries.get(it)), entries.get(at));
            let in_row = |entry: &Entry<'_>| last_feed(&entry.lead).is_none();
            let lead = match (before, next) {
                (None, None) if has_lines => {
                    // A comment that stands alone in the brackets stays above.
                    let end = tail.split_off(last_feed(tail).unwrap_or(tail.len()));
                    let comments = std::mem::replace(tail, if end.is_empty() { format!("\n{indent}") } else { end });
                    format!("{}{line}", comments.trim_end())
                }
                (None, None) => {
                    if is_spaced && tail.is_empty() {
                        *tail = " ".to_owned();
                    }
                    if is_spaced { " ".to_owned() } else { String::new() }
                }
                (None, Some(next)) if in_row(next) => next.lead.clone(),
                (Some(_), Some(next)) if in_row(next) => " ".to_owned(),
                (Some(_), None) if !has_lines => " ".to_owned(),
                (Some(before), None) if at > 1 && in_row(before) && before.trail.is_empty() => " ".to_owned(),
                _ => line,
            };
            if at == 0
                && let Some(next) = entries.first_mut().filter(|next| in_row(next))
            {
                " ".clone_into(&mut next.lead);
            }
            let entry =
                Entry { lead, head: label_of(index, child), value: Value::New(place), after: "", trail: String::new() };
            entries.insert(at, entry);
        }
    }

    /// Writes one member behind the one that begins at `last`.
    fn put(
        &self,
        (out, last): (&mut String, usize),
        new: usize,
        entry: Entry<'t>,
        comma: bool,
        deeper: &str,
        at: &At<'_>,
    ) {
        let mut lead = entry.lead;
        if !begins_line(&lead) && ends_in_line_comment(out.get(last..).unwrap_or_default()) {
            lead = format!("\n{deeper}{}", lead.trim_start());
        }
        let own = line_of(&lead);
        let (mut column, mut is_whole) = (0, false);
        for text in [&entry.head, &lead, out] {
            if !is_whole {
                column += text.rsplit('\n').next().map_or(0, |line| line.chars().count());
                is_whole = text.contains('\n');
            }
        }
        column += if is_whole { 0 } else { at.column };
        let indent = own.clone().unwrap_or_else(|| at.indent.to_owned());
        let piece = match entry.value {
            Value::Mine(text) => Piece { body: text.to_owned(), ..Piece::default() },
            Value::New(place) => {
                let node = children_of(&self.texts.new, new).get(place).map_or(0, |child| child.node);
                self.value(node, &At { indent: &indent, column, within_line: at.within_line })
            }
        };
        out.push_str(&lead);
        for comment in &piece.above {
            match &own {
                Some(indent) => out.push_str(&format!("{comment}\n{indent}")),
                None => out.push_str(&format!("{} ", in_brackets(comment))),
            }
        }
        let is_behind = own.is_some() && entry.trail.is_empty();
        let behind = piece.behind.map(|it| if is_behind { it } else { in_brackets(&it) });
        let comma = if comma { "," } else { "" };
        out.extend([entry.head.as_str(), piece.body.as_str(), entry.after, comma]);
        out.extend(behind.map(|comment| format!(" {comment}")));
        out.push_str(&entry.trail);
    }
}

impl<'t> Texts<'t> {
    fn members(&self, old: usize) -> Option<(usize, &[usize])> {
        let (container, members) = self.places.get(old)?.as_ref()?.members.as_ref()?;
        Some((*container, members))
    }
}

/// A label with its colon, with the label of a new member in the place of the author's.
fn relabelled(head: &str, index: &SpanIndex<'_>, is: &Child) -> String {
    let label = Words::new(head).next().map_or(0..0, |word| word.span);
    let mut head = head.to_owned();
    head.replace_range(label, index.text().get(is.label.clone()).unwrap_or_default());
    head
}

/// Label and colon of a new member; nothing in a list.
fn label_of(index: &SpanIndex<'_>, child: &Child) -> String {
    match child.segment {
        Segment::Index(_) => String::new(),
        _ => format!("{}: ", index.text().get(child.label.clone()).unwrap_or_default()),
    }
}

/// What the line is set in by that ends a text of spaces and comments; none if it ends in the line that it begins in.
fn line_of(gap: &str) -> Option<String> {
    gap.get(last_feed(gap)? + 1..).map(|line| blank_start(line).to_owned())
}

/// Whether nothing comes before the end of the line.
fn begins_line(gap: &str) -> bool {
    gap.trim_start_matches([' ', '\t', '\r']).starts_with('\n')
}

/// Whether a comment goes on to the end of the line that a text ends in.
fn ends_in_line_comment(text: &str) -> bool {
    let comments = Words::all(text).1;
    comments.last().is_some_and(|last| {
        last.end == text.len() && text.get(last.clone()).is_some_and(|comment| comment.starts_with("//"))
    })
}
