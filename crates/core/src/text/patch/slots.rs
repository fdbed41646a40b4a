//! The author's text of one value, cut at its members; and what goes with a member that is taken out.

use super::{Child, SpanIndex, children_of, node_of};
use crate::text::scan::{Words, block_comment};

/// One member with what stands round it.
#[derive(Clone, Debug)]
pub(super) struct Slot<'t> {
    /// From the end of the one before to its label: spaces, ends of lines, comments.
    pub(super) lead: &'t str,
    /// Label and colon; nothing in a list.
    pub(super) head: &'t str,
    pub(super) value: &'t str,
    /// Between the value and its comma.
    pub(super) after: &'t str,
    pub(super) comma: bool,
    /// The rest of the line, where that is only a comment.
    pub(super) trail: &'t str,
}

/// What stands in the brackets of one value.
#[derive(Clone, Debug)]
pub(super) struct Cut<'t> {
    /// A comment in the line of the opening bracket.
    pub(super) header: &'t str,
    pub(super) slots: Vec<Slot<'t>>,
    /// What stands before the closing bracket.
    pub(super) tail: &'t str,
}

impl<'t> Cut<'t> {
    pub(super) fn of(mine: &SpanIndex<'t>, container: usize) -> Self {
        let text = mine.text();
        let (open, close) = node_of(mine, container).map_or((0, 0), |node| (node.open + 1, node.span.end - 1));
        let piece = |from: usize, to: usize| text.get(from..to).unwrap_or_default();
        let children = children_of(mine, container);
        let begins = |at: usize| children.get(at).map_or(close, |child| child.label.start);
        let mut at = open + rest_of_line(piece(open, begins(0)));
        let header = piece(open, at);
        let mut slots = Vec::with_capacity(children.len());
        for (place, Child { label, node, comma, .. }) in children.iter().enumerate() {
            let span = node_of(mine, *node).map_or(label.clone(), |node| node.span.clone());
            let end = comma.map_or(span.end, |comma| comma + 1);
            let next = end + rest_of_line(piece(end, begins(place + 1)));
            slots.push(Slot {
                lead: piece(at, label.start),
                head: piece(label.start, span.start),
                value: piece(span.start, span.end),
                after: comma.map_or("", |comma| piece(span.end, comma)),
                comma: comma.is_some(),
                trail: piece(end, next),
            });
            at = next;
        }
        Self { header, slots, tail: piece(at, close) }
    }

    /// Whether members stand on lines of their own.
    pub(super) fn has_lines(&self) -> bool {
        self.slots.iter().map(|slot| slot.lead).chain([self.header, self.tail]).any(|text| text.contains('\n'))
    }

    /// What goes with a member that is taken out. `stays`: whether another one stays.
    pub(super) fn leaving(&self, at: usize, stays: impl Fn(usize) -> bool) -> Leaving<'t> {
        let Some(slot) = self.slots.get(at) else { return Leaving::default() };
        let lead = slot.lead;
        let comments = Words::all(lead).1;
        let (mut begins, mut above) = (lead.len(), Vec::new());
        for comment in comments.into_iter().rev() {
            let between = lead.get(comment.end..begins).unwrap_or_default();
            if between.matches('\n').count() > 1 {
                break;
            }
            begins = comment.start;
            above.insert(0, lead.get(comment).unwrap_or_default());
        }
        let next = self.slots.get(at + 1..).and_then(|rest| (at + 1..).zip(rest).find(|(place, _)| stays(*place)));
        let is_apart = next.is_none_or(|(_, next)| is_set_apart(next.lead));
        let is_beside = above.last().is_some_and(|_| !lead.rsplit("*/").next().unwrap_or_default().contains('\n'));
        if !is_apart && !is_beside && !slot.value.contains('\n') {
            // The comment may be the heading of all that follow.
            (begins, above) = (lead.len(), Vec::new());
        }
        let line = lead.get(..begins).and_then(last_feed).unwrap_or(0);
        let is_blank = lead.get(line..begins).is_some_and(|before| before.trim().is_empty());
        let own = if is_blank { line } else { begins };
        for inside in [slot.head, slot.after] {
            above.extend(Words::all(inside).1.into_iter().filter_map(|comment| inside.get(comment)));
        }
        Leaving { own, above, behind: Some(slot.trail.trim()).filter(|trail| !trail.is_empty()) }
    }
}

/// The last end of a line among spaces and comments, outside the comments.
pub(super) fn last_feed(gap: &str) -> Option<usize> {
    let mut end = gap.len();
    for comment in Words::all(gap).1.into_iter().rev() {
        if let Some(feed) = gap.get(comment.end..end).and_then(|between| between.rfind('\n')) {
            return Some(comment.end + feed);
        }
        end = comment.start;
    }
    gap.get(..end).and_then(|before| before.rfind('\n'))
}

/// Whether a comment or an empty line stands before a member.
fn is_set_apart(lead: &str) -> bool {
    lead.matches('\n').count() > 1 || !lead.trim().is_empty()
}

/// What goes with a member that is taken out.
#[derive(Clone, Debug, Default)]
pub(super) struct Leaving<'t> {
    /// From where its lead goes with it; what is before stays.
    pub(super) own: usize,
    /// The comments directly above it, if they belong to it, and those between its label, value and comma.
    pub(super) above: Vec<&'t str>,
    /// The comment behind it.
    pub(super) behind: Option<&'t str>,
}

/// The length of the rest of the line, if there are only comments in it; nothing otherwise.
fn rest_of_line(text: &str) -> usize {
    let mut at = 0;
    loop {
        let rest = text.get(at..).unwrap_or_default();
        let blank = rest.len() - rest.trim_start_matches([' ', '\t', '\r']).len();
        let here = rest.get(blank..).unwrap_or_default();
        if here.starts_with('\n') {
            return if at == 0 { 0 } else { at };
        }
        let length = if here.starts_with("//") {
            here.find('\n')
        } else if here.starts_with("/*") {
            block_comment(here)
        } else {
            None
        };
        match length {
            Some(length) => at += blank + length,
            None => return 0,
        }
    }
}
