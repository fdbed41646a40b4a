//! Which values of two texts are equal, and by which name a value is known wherever it stands.

use std::collections::BTreeMap;

use super::{Node, Shape, SpanIndex, name_of, node_of, text_of};
use crate::text::field_path::Segment;

/// What makes two values equal: name, brackets, and what is inside them.
type Sort<'t> = (&'t str, Shape, Vec<(&'t Segment, usize)>);

/// The name that a value is known by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Key {
    name: usize,
    /// Whether no other value of the design has this name, so that it is known by it anywhere: so it is with bays, which
    /// are told by what is inside them.
    pub(super) anywhere: bool,
}

/// What is known of the values of one text, by node.
#[derive(Debug)]
pub(super) struct Side {
    /// Equal numbers for equal values, in both texts.
    pub(super) ids: Vec<usize>,
    pub(super) keys: Vec<Option<Key>>,
    /// The value of each key that is known anywhere.
    at: BTreeMap<Key, usize>,
}

/// What is known of the old and the new text.
#[derive(Debug)]
pub(super) struct Same {
    pub(super) old: Side,
    pub(super) new: Side,
}

impl Same {
    pub(super) fn of(old: &SpanIndex<'_>, new: &SpanIndex<'_>) -> Self {
        let mut sorts = BTreeMap::new();
        let (old_ids, new_ids) = (ids(old, &mut sorts), ids(new, &mut sorts));
        Self { old: Side::of(old, old_ids), new: Side::of(new, new_ids) }
    }

    /// Whether the old value and the new one are equal.
    pub(super) fn is_equal(&self, old: usize, new: usize) -> bool {
        self.old.ids.get(old).is_some_and(|id| self.new.ids.get(new) == Some(id))
    }

    /// Whether the new value is known not to be the old one under another name: one of them stands elsewhere.
    pub(super) fn is_another(&self, old: usize, new: usize) -> bool {
        let (Some(before), Some(after)) = (self.old.key(old), self.new.key(new)) else { return false };
        before != after && (self.new.find(before).is_some() || self.old.find(after).is_some())
    }
}

impl Side {
    fn of(index: &SpanIndex<'_>, ids: Vec<usize>) -> Self {
        let keys: Vec<Option<Key>> = index.nodes().iter().map(|node| key(index, node, &ids)).collect();
        let mut places: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
        for (node, key) in keys.iter().enumerate() {
            if let Some(key) = key.filter(|key| key.anywhere) {
                places.entry(key).or_default().push(node);
            }
        }
        let at = places.into_iter().filter_map(|(key, nodes)| match nodes.as_slice() {
            [only] => Some((key, *only)),
            _ => None,
        });
        Self { ids, at: at.collect(), keys }
    }

    pub(super) fn key(&self, node: usize) -> Option<Key> {
        self.keys.get(node).copied().flatten()
    }

    /// The one value that is known by this name anywhere.
    pub(super) fn find(&self, key: Key) -> Option<usize> {
        self.at.get(&key).copied()
    }
}

fn ids<'t>(index: &'t SpanIndex<'_>, sorts: &mut BTreeMap<Sort<'t>, usize>) -> Vec<usize> {
    let mut ids = vec![0; index.nodes().len()];
    // What is inside a value stands behind it.
    for (at, node) in index.nodes().iter().enumerate().rev() {
        let inside = node.children.iter().map(|it| (&it.segment, ids.get(it.node).copied().unwrap_or(0))).collect();
        let next = sorts.len();
        let id = *sorts.entry((name_of(index, node), node.shape, inside)).or_insert(next);
        if let Some(place) = ids.get_mut(at) {
            *place = id;
        }
    }
    ids
}

fn key(index: &SpanIndex<'_>, node: &Node, ids: &[usize]) -> Option<Key> {
    let field = |name: &str| node.children.iter().find(|it| matches!(&it.segment, Segment::Field(it) if it == name));
    let name = field("name")?.node;
    let is_text = node_of(index, name)?.shape == Shape::Leaf && text_of(index, name).starts_with('"');
    let name = ids.get(name).copied().filter(|_| is_text)?;
    Some(Key { name, anywhere: field("inside").is_some() })
}
