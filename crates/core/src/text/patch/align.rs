//! What became of the members of one value.

use std::collections::BTreeSet;

use super::{Shape, Texts, children_of, name_of, node_of, pairs::has_fields, same::Key};
use crate::text::{field_path::Segment, scan::Bracket};

/// Tables of more cells are not filled: members in such a long changed stretch of a list are compared one by one.
const MOST_CELLS: usize = 4_000_000;

/// For each new member the old one that becomes it, by place.
pub(super) type Pairs = Vec<Option<usize>>;

/// What a member of a list or map is known by.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Known<'t> {
    Not,
    ByLabel(&'t Segment),
    ByKey(Key),
}

struct Member<'t> {
    /// Label and value.
    id: (Option<&'t Segment>, usize),
    known: Known<'t>,
    node: usize,
}

impl Texts<'_> {
    /// What becomes of the members of an old value that turns into a new one; none if it must be replaced whole.
    pub(super) fn align(&self, old: usize, new: usize) -> Option<Pairs> {
        let (before, after) = (node_of(&self.old, old)?, node_of(&self.new, new)?);
        let place = self.places.get(old)?.as_ref()?;
        let (container, _) = place.members.as_ref()?;
        if before.shape != after.shape || self.same.is_another(old, new) {
            return None;
        }
        if before.shape != Shape::Within(Bracket::Round) {
            return Some(self.in_sequence(old, new));
        }
        let (was, is) = (name_of(&self.old, before), name_of(&self.new, after));
        let is_written = || node_of(&self.mine, *container).is_some_and(|it| name_of(&self.mine, it) == was);
        let can_be_renamed = || *container == place.inner && !was.is_empty() && !is.is_empty() && is_written();
        if was != is && !can_be_renamed() {
            return None;
        }
        if has_fields(before) && has_fields(after) {
            let named = |segment: &Segment| before.children.iter().position(|it| it.segment == *segment);
            let pairs: Pairs = after.children.iter().map(|it| named(&it.segment)).collect();
            return Some(pairs).filter(|pairs| was == is || pairs.iter().any(Option::is_some));
        }
        let in_row = before.children.len() == after.children.len() && !has_fields(before) && !has_fields(after);
        in_row.then(|| (0..after.children.len()).map(Some).collect())
    }

    fn in_sequence(&self, old: usize, new: usize) -> Pairs {
        let before = members(&self.old, old, &self.same.old);
        let after = members(&self.new, new, &self.same.new);
        let mut pairs: Pairs = vec![None; after.len()];
        fill(&mut pairs, before.len(), |old, new| {
            let (old, new) = (before.get(old)?, after.get(new)?);
            Some(old.id == new.id)
        });
        fill(&mut pairs, before.len(), |old, new| {
            let (old, new) = (before.get(old)?, after.get(new)?);
            Some(old.known != Known::Not && old.known == new.known)
        });
        for (olds, news) in gaps(&pairs, before.len()) {
            if olds.len().saturating_mul(news.len()) > MOST_PAIRS {
                continue;
            }
            let even = (olds.len() == news.len()).then_some(olds.len());
            let mut from = olds.start;
            for new in news {
                let Some(it) = after.get(new) else { continue };
                let became =
                    |old: &usize| before.get(*old).is_some_and(|was| self.became(was, it, &before, &after, even));
                if let Some(old) = (from..olds.end).find(became) {
                    from = old + 1;
                    if let Some(pair) = pairs.get_mut(new) {
                        *pair = Some(old);
                    }
                }
            }
        }
        pairs
    }

    /// Whether the one member may be taken for what became of the other, where nothing else did. `even`: how many are gone
    /// there, if as many have come.
    fn became(
        &self,
        was: &Member<'_>,
        is: &Member<'_>,
        before: &[Member<'_>],
        after: &[Member<'_>],
        even: Option<usize>,
    ) -> bool {
        let stays = after.iter().any(|it| it.known == was.known) || before.iter().any(|it| it.known == is.known);
        match (was.known, is.known) {
            (Known::Not, Known::Not) => even.is_some() || self.is_akin(was.node, is.node),
            (Known::ByKey(key), Known::ByKey(new_key)) if self.same.is_another(was.node, is.node) => {
                // Wrapped or unwrapped, it keeps its place; anything else moved elsewhere.
                self.same.new.find(key).is_some_and(|it| within(&self.new, it, is.node))
                    || self.same.old.find(new_key).is_some_and(|it| within(&self.old, it, was.node))
            }
            // One for one, it may be another, but its remarks stay.
            _ if even == Some(1) => !stays,
            _ => !stays && (self.is_akin(was.node, is.node) || self.share_a_part(was.node, is.node)),
        }
    }

    /// Whether something that is known by its name anywhere is in both, or something equal of more than one value.
    fn share_a_part(&self, old: usize, new: usize) -> bool {
        let mut parts: BTreeSet<usize> = BTreeSet::new();
        let mut todo = vec![new];
        while let Some(new) = todo.pop() {
            let children = children_of(&self.new, new);
            parts.extend(self.same.new.ids.get(new).filter(|_| children.len() > 1));
            todo.extend(children.iter().map(|child| child.node));
        }
        let mut todo = vec![old];
        while let Some(old) = todo.pop() {
            let stays = self.same.old.key(old).and_then(|key| self.same.new.find(key));
            let is_in_both = self.same.old.ids.get(old).is_some_and(|id| parts.contains(id));
            if is_in_both || stays.is_some_and(|it| within(&self.new, it, new)) {
                return true;
            }
            todo.extend(children_of(&self.old, old).iter().map(|child| child.node));
        }
        false
    }

    /// Whether at least half of what is in them is equal.
    fn is_akin(&self, old: usize, new: usize) -> bool {
        if self.same.is_equal(old, new) {
            return true;
        }
        let Some(pairs) = self.align(old, new) else { return false };
        let (before, after) = (children_of(&self.old, old), children_of(&self.new, new));
        let is_equal = |(new, pair): (usize, &Option<usize>)| {
            let (old, new) = (before.get((*pair)?)?, after.get(new)?);
            self.same.is_equal(old.node, new.node).then_some(())
        };
        let equal = pairs.iter().enumerate().filter_map(is_equal).count();
        equal * 2 >= before.len().max(after.len())
    }
}

/// So many members that are gone and that have come are tried against each other at most: of more, none is taken for what
/// became of another.
const MOST_PAIRS: usize = 4_096;

fn within(index: &super::SpanIndex<'_>, inner: usize, outer: usize) -> bool {
    let (Some(inner), Some(outer)) = (node_of(index, inner), node_of(index, outer)) else { return false };
    outer.span.start <= inner.span.start && inner.span.end <= outer.span.end
}

fn members<'t>(index: &'t super::SpanIndex<'_>, node: usize, side: &super::same::Side) -> Vec<Member<'t>> {
    let member = |child: &'t super::Child| {
        let label = Some(&child.segment).filter(|segment| !matches!(segment, Segment::Index(_)));
        let known = label.map(Known::ByLabel).or_else(|| side.key(child.node).map(Known::ByKey));
        let id = (label, side.ids.get(child.node).copied().unwrap_or_default());
        Member { id, known: known.unwrap_or(Known::Not), node: child.node }
    };
    children_of(index, node).iter().map(member).collect()
}

/// The stretches in which nothing is paired yet, with something on both sides.
fn gaps(pairs: &Pairs, olds: usize) -> Vec<(std::ops::Range<usize>, std::ops::Range<usize>)> {
    let mut gaps = Vec::new();
    let (mut old, mut new) = (0, 0);
    for (at, pair) in pairs.iter().copied().chain([Some(olds)]).enumerate() {
        let Some(pair) = pair else { continue };
        if old < pair && new < at {
            gaps.push((old..pair, new..at));
        }
        (old, new) = (pair + 1, at + 1);
    }
    gaps
}

/// Pairs what is the same by `equal` in each gap, as much as can be in the same order.
fn fill(pairs: &mut Pairs, olds: usize, equal: impl Fn(usize, usize) -> Option<bool>) {
    let equal = |old, new| equal(old, new).unwrap_or(false);
    for (mut old, mut new) in gaps(pairs, olds) {
        let mut found = Vec::new();
        while !old.is_empty() && !new.is_empty() && equal(old.start, new.start) {
            found.push((old.start, new.start));
            (old.start, new.start) = (old.start + 1, new.start + 1);
        }
        while !old.is_empty() && !new.is_empty() && equal(old.end - 1, new.end - 1) {
            (old.end, new.end) = (old.end - 1, new.end - 1);
            found.push((old.end, new.end));
        }
        found.extend(in_common(old, new, &equal));
        for (old, new) in found {
            if let Some(pair) = pairs.get_mut(new) {
                *pair = Some(old);
            }
        }
    }
}

/// A longest common subsequence.
fn in_common(
    old: std::ops::Range<usize>,
    new: std::ops::Range<usize>,
    equal: &impl Fn(usize, usize) -> bool,
) -> Vec<(usize, usize)> {
    let width = new.len() + 1;
    if old.is_empty() || new.is_empty() || (old.len() + 1).saturating_mul(width) > MOST_CELLS {
        return Vec::new();
    }
    // For each pair of places how much is in common from there on.
    let mut lengths = vec![0_u32; (old.len() + 1) * width];
    let at = |i: usize, j: usize| i * width + j;
    let get = |lengths: &[u32], i: usize, j: usize| lengths.get(at(i, j)).copied().unwrap_or(0);
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            let length = if equal(old.start + i, new.start + j) {
                get(&lengths, i + 1, j + 1) + 1
            } else {
                get(&lengths, i + 1, j).max(get(&lengths, i, j + 1))
            };
            if let Some(cell) = lengths.get_mut(at(i, j)) {
                *cell = length;
            }
        }
    }
    let (mut i, mut j, mut found) = (0, 0, Vec::new());
    while i < old.len() && j < new.len() {
        if equal(old.start + i, new.start + j) && get(&lengths, i, j) == get(&lengths, i + 1, j + 1) + 1 {
            found.push((old.start + i, new.start + j));
            (i, j) = (i + 1, j + 1);
        } else if get(&lengths, i + 1, j) >= get(&lengths, i, j + 1) {
            i += 1;
        } else {
            j += 1;
        }
    }
    found
}
