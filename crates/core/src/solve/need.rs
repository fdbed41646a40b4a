//! What the contents of a bay need of its clear space, as sums whose terms are named.

use super::reason::Term;
use crate::design::{Bay, Construction, Inside, Resolved, Thing};
use crate::geometry::Axis;
use crate::holding::{self, Allowance, Contents, HoldingError, Where};
use crate::length::Length;

/// The smallest opening that counts as a bay: 10 mm (own choice; less cannot be worked).
pub(super) const LEAST_OPENING: Length = Length::from_mm(10);

/// One thing as it stands: turned or not.
#[derive(Clone, Debug)]
pub(super) struct Standing<'d> {
    pub(super) name: &'d str,
    pub(super) thing: &'d Thing<Length>,
    pub(super) turned: bool,
}

impl Standing<'_> {
    /// Size along an axis as it stands.
    pub(super) const fn size(&self, axis: Axis) -> Length {
        let (width, height, depth) = self.thing.size;
        match (axis, self.turned) {
            (Axis::X, false) | (Axis::Z, true) => width,
            (Axis::Y, _) => height,
            (Axis::Z, false) | (Axis::X, true) => depth,
        }
    }

    pub(super) fn air_left(&self) -> Length {
        self.thing.air.left.or(self.thing.air.sides).unwrap_or_default()
    }

    pub(super) fn air_right(&self) -> Length {
        self.thing.air.right.or(self.thing.air.sides).unwrap_or_default()
    }

    pub(super) fn air_top(&self) -> Length {
        self.thing.air.top.unwrap_or_default()
    }

    pub(super) fn air_rear(&self) -> Length {
        self.thing.air.rear.unwrap_or_default()
    }

    pub(super) fn air_front(&self) -> Length {
        self.thing.air.front.unwrap_or_default()
    }

    fn depth_with_air(&self) -> Length {
        self.size(Axis::Z) + self.air_rear() + self.air_front()
    }
}

/// What a leaf bay needs: the things side by side, their air, and the room that their holding takes.
#[derive(Clone, Debug)]
pub(super) struct Needs<'d> {
    pub(super) things: Vec<Standing<'d>>,
    pub(super) allowance: Allowance,
    /// Depth of what is carried, air included.
    pub(super) contents_depth: Length,
    /// Terms of the sums along X, Y and Z.
    pub(super) terms: [Vec<Term>; 3],
}

impl Needs<'_> {
    /// The sum along an axis.
    pub(super) fn total(&self, axis: Axis) -> Length {
        self.terms[axis.index()].iter().map(|term| term.length).sum()
    }
}

/// What this leaf bay needs; none if it holds nothing. `turned` tells of each thing whether it stands turned.
///
/// # Errors
/// The holding cannot be made like this.
pub(super) fn of_bay<'d>(
    design: &'d Resolved,
    construction: &Construction<Length>,
    bay: &'d Bay<Length>,
    turned: &dyn Fn(&str) -> bool,
) -> Result<Option<Needs<'d>>, HoldingError> {
    let Inside::Holds { things, by } = &bay.inside else { return Ok(None) };
    let things: Vec<Standing<'d>> = things
        .iter()
        .filter_map(|name| design.things.get_key_value(name))
        .map(|(name, thing)| Standing { name, thing, turned: thing.may_turn && turned(name) })
        .collect();
    let of_things = [across(&things), up(&things), deep(&things)];
    let sum = |terms: &[Term]| terms.iter().map(|term| term.length).sum::<Length>();
    let [width, height, depth] = [&of_things[0], &of_things[1], &of_things[2]].map(|terms| sum(terms));
    let contents = (!things.is_empty()).then_some(Contents { width, height, depth });
    let allowance = holding::allowance(design, construction, by, bay.front.as_ref(), contents)?;
    let mut terms = of_things;
    for extra in &allowance.extras {
        let axis = match extra.at {
            Where::Left | Where::Right => Axis::X,
            Where::Below | Where::Above => Axis::Y,
            Where::Front | Where::Rear => Axis::Z,
        };
        let known = &mut terms[axis.index()];
        match known.iter_mut().find(|term| term.what == extra.reason) {
            Some(term) => term.length += extra.size,
            None => push(known, extra.reason.clone(), extra.size),
        }
    }
    if let Some(room) = allowance.empty_room {
        for (axis, size) in [(Axis::X, room.width), (Axis::Y, room.height), (Axis::Z, room.depth)] {
            push(&mut terms[axis.index()], "least clear space inside".to_owned(), size);
        }
    }
    if let Some(least) = &allowance.least_depth {
        let missing = least.size - sum(&terms[2]);
        if missing > Length::ZERO {
            push(&mut terms[2], least.reason.clone(), missing);
        }
    }
    Ok(Some(Needs { things, allowance, contents_depth: depth, terms }))
}

fn push(terms: &mut Vec<Term>, what: String, length: Length) {
    if length != Length::ZERO {
        terms.push(Term { what, length });
    }
}

fn across(things: &[Standing<'_>]) -> Vec<Term> {
    let mut terms = Vec::new();
    let mut before = Length::ZERO;
    for it in things {
        push(&mut terms, format!("air left of {}", it.name), it.air_left().max(before));
        push(&mut terms, it.name.to_owned(), it.size(Axis::X));
        before = it.air_right();
    }
    if let Some(last) = things.last() {
        push(&mut terms, format!("air right of {}", last.name), before);
    }
    terms
}

fn up(things: &[Standing<'_>]) -> Vec<Term> {
    let mut terms = Vec::new();
    if let Some(highest) = things.iter().max_by_key(|it| it.size(Axis::Y) + it.air_top()) {
        push(&mut terms, highest.name.to_owned(), highest.size(Axis::Y));
        push(&mut terms, format!("air above {}", highest.name), highest.air_top());
    }
    terms
}

fn deep(things: &[Standing<'_>]) -> Vec<Term> {
    let mut terms = Vec::new();
    if let Some(deepest) = things.iter().max_by_key(|it| it.depth_with_air()) {
        push(&mut terms, format!("air behind {}", deepest.name), deepest.air_rear());
        push(&mut terms, deepest.name.to_owned(), deepest.size(Axis::Z));
        push(&mut terms, format!("air before {}", deepest.name), deepest.air_front());
    }
    terms
}
