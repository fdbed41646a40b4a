//! What becomes of every value, and what moved elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use super::{Shape, Texts, align::Pairs, children_of, node_of};

/// How the text of a new value comes about.
#[derive(Debug)]
pub(super) enum How {
    /// As the author wrote this old value.
    Same(usize),
    /// From the author's text of an old value, with other members.
    Members(usize, Pairs),
    /// Written anew, but for what moved into it.
    Fresh,
}

/// How the text of each new value comes about.
#[derive(Debug, Default)]
pub(super) struct Plan {
    /// By new node; what is inside a value that stays the same, or is fresh and small, has no entry.
    how: BTreeMap<usize, How>,
    /// The old values in whose place a fresh one stands, by new node.
    pub(super) instead: BTreeMap<usize, usize>,
    /// The new values that stood elsewhere before, with the old one.
    pub(super) moved: BTreeMap<usize, usize>,
    /// The new values that something moved into.
    pub(super) filled: BTreeSet<usize>,
}

/// The old values that are left over, by what they are.
struct Loose {
    /// By old node.
    is_loose: Vec<bool>,
    by_id: BTreeMap<usize, Vec<usize>>,
}

impl Plan {
    pub(super) fn of(texts: &Texts<'_>) -> Self {
        let mut plan = Self::default();
        let mut loose = Loose { is_loose: vec![false; texts.old.nodes().len()], by_id: BTreeMap::new() };
        let mut fresh = BTreeSet::new();
        plan.turn(texts, 0, 0, &mut loose, &mut fresh);
        while let Some(new) = fresh.pop_first() {
            match loose.take(texts, new) {
                Some(old) => {
                    plan.moved.insert(new, old);
                    plan.turn(texts, old, new, &mut loose, &mut fresh);
                }
                None => {
                    plan.how.entry(new).or_insert(How::Fresh);
                    fresh.extend(children_of(&texts.new, new).iter().map(|child| child.node));
                }
            }
        }
        plan.note_filled(texts);
        plan
    }

    /// How the text of a new value comes about.
    pub(super) fn how(&self, new: usize) -> &How {
        self.how.get(&new).unwrap_or(&How::Fresh)
    }

    pub(super) fn all(&self) -> impl Iterator<Item = (usize, &How)> {
        self.how.iter().map(|(new, how)| (*new, how))
    }

    /// Turns an old value into a new one. What is left over of the old and what is still to be found of the new are noted.
    fn turn(&mut self, texts: &Texts<'_>, old: usize, new: usize, loose: &mut Loose, fresh: &mut BTreeSet<usize>) {
        let mut todo = vec![(old, new)];
        while let Some((old, new)) = todo.pop() {
            if texts.same.is_equal(old, new) && texts.places.get(old).is_some_and(Option::is_some) {
                self.how.insert(new, How::Same(old));
                continue;
            }
            let Some(pairs) = texts.align(old, new) else {
                self.instead.insert(new, old);
                loose.let_go(texts, old);
                fresh.insert(new);
                continue;
            };
            let (before, after) = (children_of(&texts.old, old), children_of(&texts.new, new));
            let mut is_kept = vec![false; before.len()];
            for (child, pair) in after.iter().zip(&pairs) {
                match pair.and_then(|pair| Some((before.get(pair)?, is_kept.get_mut(pair)?))) {
                    Some((was, is_kept)) => {
                        *is_kept = true;
                        todo.push((was.node, child.node));
                    }
                    None => {
                        fresh.insert(child.node);
                    }
                }
            }
            for (was, _) in before.iter().zip(&is_kept).filter(|(_, is_kept)| !**is_kept) {
                loose.let_go(texts, was.node);
            }
            self.how.insert(new, How::Members(old, pairs));
        }
    }

    fn note_filled(&mut self, texts: &Texts<'_>) {
        let mut parents = vec![None; texts.new.nodes().len()];
        for (parent, node) in texts.new.nodes().iter().enumerate() {
            for child in &node.children {
                if let Some(place) = parents.get_mut(child.node) {
                    *place = Some(parent);
                }
            }
        }
        for new in self.moved.keys() {
            let mut at = *new;
            while let Some(Some(parent)) = parents.get(at) {
                if !self.filled.insert(*parent) {
                    break;
                }
                at = *parent;
            }
        }
    }
}

impl Loose {
    /// Notes an old value as left over, with all that is inside it.
    fn let_go(&mut self, texts: &Texts<'_>, old: usize) {
        let mut todo = vec![old];
        while let Some(old) = todo.pop() {
            let Some(place) = self.is_loose.get_mut(old) else { continue };
            *place = true;
            let children = children_of(&texts.old, old);
            if let Some(id) = texts.same.old.ids.get(old).filter(|_| !children.is_empty()) {
                self.by_id.entry(*id).or_default().push(old);
            }
            todo.extend(children.iter().rev().map(|child| child.node));
        }
    }

    /// The left over value that a new one was before, which is then no longer left over.
    fn take(&mut self, texts: &Texts<'_>, new: usize) -> Option<usize> {
        if node_of(&texts.new, new)?.shape == Shape::Leaf {
            return None;
        }
        let is_loose = |old: &usize| self.is_loose.get(*old) == Some(&true);
        let has_place = |old: &usize| texts.places.get(*old).is_some_and(Option::is_some);
        let by_name = || {
            let old = texts.same.old.find(texts.same.new.key(new)?)?;
            let can_be = texts.same.is_equal(old, new) || texts.align(old, new).is_some();
            Some(old).filter(|old| can_be && is_loose(old))
        };
        let by_id = || {
            let id = texts.same.new.ids.get(new)?;
            self.by_id.get(id)?.iter().copied().find(is_loose)
        };
        let old = by_name().or_else(by_id).filter(has_place)?;
        let mut todo = vec![old];
        while let Some(old) = todo.pop() {
            if let Some(place) = self.is_loose.get_mut(old) {
                *place = false;
            }
            todo.extend(children_of(&texts.old, old).iter().map(|child| child.node));
        }
        Some(old)
    }
}
