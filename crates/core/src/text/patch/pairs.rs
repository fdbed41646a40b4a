//! Where the author says each value of the program's text of the same design.

use super::{Child, Node, Shape, SpanIndex, children_of, name_of, node_of};
use crate::text::{field_path::Segment, scan::Bracket};

/// Where the author says a value.
#[derive(Clone, Debug)]
pub(super) struct Place {
    /// The value as it is written.
    pub(super) outer: usize,
    /// Without the `Some(...)` that need not be written.
    pub(super) inner: usize,
    /// The value that the members stand in, and the member there for each of the program's; none where they differ.
    pub(super) members: Option<(usize, Vec<usize>)>,
}

/// The place of each value of `old`, by node.
pub(super) fn places(old: &SpanIndex<'_>, mine: &SpanIndex<'_>) -> Vec<Option<Place>> {
    let mut places: Vec<Option<Place>> = vec![None; old.nodes().len()];
    let mut todo = vec![(0, 0)];
    while let Some((node, outer)) = todo.pop() {
        let (Some(it), inner) = (node_of(old, node), unwrapped(mine, outer)) else { continue };
        let members = members(old, it, mine, inner);
        if let Some((container, members)) = &members {
            let theirs = children_of(mine, *container);
            let pairs = it.children.iter().zip(members);
            todo.extend(pairs.filter_map(|(child, member)| Some((child.node, theirs.get(*member)?.node))));
        }
        if let Some(place) = places.get_mut(node) {
            *place = Some(Place { outer, inner, members });
        }
    }
    places
}

/// The one value that stands without a name inside round brackets.
fn only(node: &Node) -> Option<&Child> {
    match node.children.as_slice() {
        [only] if node.shape == Shape::Within(Bracket::Round) && only.segment == Segment::Index(0) => Some(only),
        _ => None,
    }
}

fn unwrapped(mine: &SpanIndex<'_>, outer: usize) -> usize {
    let mut inner = outer;
    while let Some(node) = node_of(mine, inner).filter(|node| name_of(mine, node) == "Some")
        && let Some(only) = only(node)
    {
        inner = only.node;
    }
    inner
}

/// Whether all that is inside has field names.
pub(super) fn has_fields(node: &Node) -> bool {
    node.children.iter().all(|child| matches!(child.segment, Segment::Field(_)))
}

fn members(old: &SpanIndex<'_>, it: &Node, mine: &SpanIndex<'_>, inner: usize) -> Option<(usize, Vec<usize>)> {
    let theirs = node_of(mine, inner).filter(|theirs| theirs.shape == it.shape)?;
    let named = |container: usize| {
        let theirs = children_of(mine, container);
        let place = |child: &Child| theirs.iter().position(|their| their.segment == child.segment);
        Some((container, it.children.iter().map(place).collect::<Option<Vec<usize>>>()?))
    };
    match it.shape {
        Shape::Leaf => None,
        Shape::Within(Bracket::Round) if has_fields(it) => {
            // `Slide((...))` says what `Slide(...)` says.
            let within = only(theirs).map_or(inner, |only| only.node);
            let container = node_of(mine, within).filter(|container| container.shape == it.shape)?;
            let is_named = name_of(old, it).is_empty() || name_of(mine, theirs) == name_of(old, it);
            if has_fields(container) && is_named { named(within) } else { None }
        }
        Shape::Within(Bracket::Curly) => named(inner),
        Shape::Within(_) => {
            let in_row = !theirs.children.iter().any(|child| !matches!(child.segment, Segment::Index(_)));
            let fits = theirs.children.len() == it.children.len() && in_row;
            fits.then(|| (inner, (0..it.children.len()).collect()))
        }
    }
}
