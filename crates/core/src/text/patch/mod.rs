//! Changing the text of a design file where the design has changed, and nowhere else.
//!
//! Three texts: that of the author; the old design as the program writes it, which says the same as the author's; and the
//! new design as the program writes it. What differs between the last two is changed in the first. `same` finds what is
//! equal, `pairs` leads from the program's text to the author's, `align` finds what became of the members of one value,
//! `plan` of all values, and what moved elsewhere; `slots` cuts the author's text of one value, `compose` puts it together
//! again, and `fresh` lays out what is new.
//!
//! Whoever calls this reads the outcome to see that it says what it should: an author may write what is not foreseen here.

mod align;
mod compose;
mod fresh;
mod pairs;
mod plan;
mod same;
mod slots;
#[cfg(test)]
mod tests;

use super::{
    fold::UNIT,
    spans::{Child, Node, Shape, SpanIndex},
};
use pairs::{Place, places};
use plan::Plan;
use same::Same;

/// The three texts, and what is equal in them.
struct Texts<'t> {
    mine: SpanIndex<'t>,
    old: SpanIndex<'t>,
    new: SpanIndex<'t>,
    same: Same,
    /// Where the author says each old value.
    places: Vec<Option<Place>>,
}

/// The author's text `mine`, which says what `old` says, changed so that it says what `new` says. `old` and `new` are
/// pretty texts. None where the texts cannot be brought together.
pub(crate) fn patched(mine: &str, old: &str, new: &str) -> Option<String> {
    let [mine, old, new] = [mine, old, new].map(SpanIndex::scan);
    let all = [&mine, &old, &new];
    if all.iter().any(|it| it.problem().is_some() || it.nodes().is_empty() || !it.duplicates().is_empty()) {
        return None;
    }
    let same = Same::of(&old, &new);
    let places = places(&old, &mine);
    let texts = Texts { mine, old, new, same, places };
    let plan = Plan::of(&texts);
    if plan.instead.contains_key(&0) {
        return None;
    }
    Some(compose::Composer::new(&texts, &plan).text())
}

/// The name of the alternative that a value is; the value itself if it has no brackets.
fn name_of<'t>(index: &SpanIndex<'t>, node: &Node) -> &'t str {
    let before = index.text().get(node.span.start..node.open).unwrap_or_default();
    match node.shape {
        Shape::Leaf => before,
        Shape::Within(_) => before.split(|c| super::scan::is_space(c) || c == '/').next().unwrap_or_default(),
    }
}

fn node_of<'i>(index: &'i SpanIndex<'_>, node: usize) -> Option<&'i Node> {
    index.nodes().get(node)
}

fn children_of<'i>(index: &'i SpanIndex<'_>, node: usize) -> &'i [Child] {
    node_of(index, node).map_or(&[], |node| &node.children)
}

fn text_of<'t>(index: &SpanIndex<'t>, node: usize) -> &'t str {
    node_of(index, node).and_then(|node| index.text().get(node.span.clone())).unwrap_or_default()
}

/// What the line of a byte is set in by.
fn indent_at<'t>(index: &SpanIndex<'t>, byte: usize) -> &'t str {
    let text = index.text();
    let start = text.get(..byte).and_then(|before| before.rfind('\n')).map_or(0, |feed| feed + 1);
    blank_start(text.get(start..).unwrap_or_default())
}

/// The spaces and tabs that a text begins with.
fn blank_start(text: &str) -> &str {
    text.get(..text.len() - text.trim_start_matches([' ', '\t']).len()).unwrap_or_default()
}

/// What an author sets in by at each bracket.
fn unit_of<'t>(mine: &SpanIndex<'t>) -> &'t str {
    let first = children_of(mine, 0).first().map_or("", |first| indent_at(mine, first.label.start));
    if first.is_empty() { UNIT } else { first }
}
