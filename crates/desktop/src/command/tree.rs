//! The bay tree by name: parents, walking, naming.

use casewright_core::design::{Bay, Design, Inside};
use casewright_core::text::FieldPath;

/// The bay that the named one is a direct part of, with its place there.
#[must_use]
pub fn parent<'b, L>(bay: &'b Bay<L>, name: &str) -> Option<(&'b Bay<L>, usize)> {
    if let Some(index) = bay.children().iter().position(|child| child.name == name) {
        return Some((bay, index));
    }
    bay.children().iter().find_map(|child| parent(child, name))
}

/// As [`parent`], to be changed.
pub fn parent_mut<'b, L>(bay: &'b mut Bay<L>, name: &str) -> Option<(&'b mut Bay<L>, usize)> {
    if let Some(index) = bay.children().iter().position(|child| child.name == name) {
        return Some((bay, index));
    }
    bay.children_mut().iter_mut().find_map(|child| parent_mut(child, name))
}

/// Calls `each` for every bay with its nesting depth and its place in the file, each before what it is divided into.
pub fn walk<'b, L>(design: &'b Design<L>, each: &mut dyn FnMut(&'b Bay<L>, usize, &FieldPath)) {
    let root = FieldPath::root().field("carcass").field("bay");
    walk_from(&design.carcass.bay, 0, &root, each);
}

fn walk_from<'b, L>(
    bay: &'b Bay<L>,
    depth: usize,
    at: &FieldPath,
    each: &mut dyn FnMut(&'b Bay<L>, usize, &FieldPath),
) {
    each(bay, depth, at);
    let inside = at.field("inside");
    for (index, child) in bay.children().iter().enumerate() {
        let at = match &bay.inside {
            Inside::Boxed { .. } => inside.field("bay"),
            _ => inside.field("bays").index(index),
        };
        walk_from(child, depth + 1, &at, each);
    }
}

/// The names of all bays, in the order of the tree.
#[must_use]
pub fn names<L>(design: &Design<L>) -> Vec<String> {
    let mut names = Vec::new();
    walk(design, &mut |bay, _, _| names.push(bay.name.clone()));
    names
}

/// The place of a bay in the file.
#[must_use]
pub fn path_of<L>(design: &Design<L>, name: &str) -> Option<FieldPath> {
    let mut found = None;
    walk(design, &mut |bay, _, at| {
        if found.is_none() && bay.name == name {
            found = Some(at.clone());
        }
    });
    found
}

/// The name of the bay that a field belongs to: the innermost bay whose place the field's begins with.
#[must_use]
pub fn owner<L>(design: &Design<L>, field: &FieldPath) -> Option<String> {
    let mut found = None;
    walk(design, &mut |bay, _, at| {
        if field.segments().starts_with(at.segments()) {
            found = Some(bay.name.clone());
        }
    });
    found
}

/// The bay that holds a thing.
#[must_use]
pub fn bay_of_thing<L>(design: &Design<L>, thing: &str) -> Option<String> {
    let mut found = None;
    walk(design, &mut |bay, _, _| {
        if let Inside::Holds { things, .. } = &bay.inside
            && things.iter().any(|name| name == thing)
        {
            found.get_or_insert_with(|| bay.name.clone());
        }
    });
    found
}

/// A name that none of `taken` has: `stem`, else `stem 2`, `stem 3`. A number at the end of `stem` is counted on.
#[must_use]
pub fn fresh_name(stem: &str, taken: &[String]) -> String {
    if !taken.iter().any(|name| name == stem) {
        return stem.to_owned();
    }
    let base = match stem.rsplit_once(' ') {
        Some((base, number)) if number.parse::<u32>().is_ok() => base,
        _ => stem,
    };
    (2..).map(|n: u64| format!("{base} {n}")).find(|name| !taken.contains(name)).unwrap_or_default()
}
