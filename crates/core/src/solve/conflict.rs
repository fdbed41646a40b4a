//! Conflicts in words and lengths, each entry pointing at its field, with mends that were solved again.

use super::model::Model;
use super::reason::{Reason, ReasonKind, Term, size_word};
use crate::axis::{self, MustKind};
use crate::design::Resolved;
use crate::expr::Dim;
use crate::geometry::Axis;
use crate::length::Length;
use crate::text::FieldPath;
use crate::unit::DecimalMark;

/// A minimal set of demands that cannot hold together: without any one of them the others can.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// The axis along which it is too much.
    pub axis: Axis,
    /// What is wrong, one sentence with the amount.
    pub what: String,
    /// The same without the demands.
    pub short: String,
    /// By how much it is too much.
    pub excess: Length,
    /// The demands.
    pub entries: Vec<Entry>,
    /// Single changes that would mend it.
    pub mends: Vec<Mend>,
    /// Where more than one change is needed: changes to begin with, after each of which something else is left to mend.
    pub first_steps: Vec<Mend>,
}

/// One demand of a conflict.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The demand in words, with its amount.
    pub words: String,
    /// The field that it comes from.
    pub field: FieldPath,
    /// Names of the bays and things concerned.
    pub about: Vec<String>,
}

/// A single change that solves the problem, checked by solving again.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// The change in words.
    pub words: String,
    /// The change as an edit of the design; none where only the person can make it.
    pub change: Option<Change>,
    /// Whether it alone mends the whole design; if not, it mends this conflict.
    pub solves_all: bool,
}

/// An edit that a mend asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// The length at a field becomes this.
    Length {
        /// The field.
        field: FieldPath,
        /// What is written there.
        to: Dim,
    },
    /// The tie at a field is given up.
    DropTie {
        /// The field.
        field: FieldPath,
    },
}

/// Writes lengths as the design does.
pub(super) fn written(design: &Resolved, length: Length) -> String {
    design.unit.format_named(length, DecimalMark::Point)
}

fn sum_in_words(design: &Resolved, terms: &[Term]) -> String {
    terms.iter().map(|term| format!("{} {}", term.what, written(design, term.length))).collect::<Vec<_>>().join(" + ")
}

/// A demand in words: what it is, without its amount.
pub(super) fn subject(axis: Axis, reason: &Reason) -> String {
    let size = size_word(axis);
    let first = reason.about.first().map_or("", String::as_str);
    match &reason.kind {
        ReasonKind::EnvelopeFixed => format!("the {size} of the envelope is fixed at"),
        ReasonKind::EnvelopeLimit => format!("the {size} of the envelope is at most"),
        ReasonKind::Niche => format!("the niche leaves a {size} of"),
        ReasonKind::Boards { panel, family: Some(family), .. } => {
            format!("the {family} limit {panel:?} to a {size} of")
        }
        ReasonKind::Boards { material, panel, .. } => {
            format!("the boards of {material} limit {panel:?} to a {size} of")
        }
        ReasonKind::BayFixed => format!("the {size} of bay {first:?} is fixed at"),
        ReasonKind::BayLeast => format!("the {size} of bay {first:?} is at least"),
        ReasonKind::BayMost => format!("the {size} of bay {first:?} is at most"),
        ReasonKind::Holds { .. } => format!("what bay {first:?} holds needs a {size} of"),
        ReasonKind::Carried { what } => format!("in bay {first:?}, the {what} is"),
        ReasonKind::Rails => format!("the two rails over bay {first:?} need a {size} of"),
        ReasonKind::Opening => format!("bay {first:?} needs an opening of at least"),
        ReasonKind::Tied => match reason.about.as_slice() {
            [a, b] => format!("bays {a:?} and {b:?} are tied"),
            _ => "bays are tied".to_owned(),
        },
        ReasonKind::Wish(what) => (*what).to_owned(),
    }
}

/// The bound of a must.
const fn bound(kind: &MustKind) -> Option<Length> {
    match kind {
        MustKind::AtLeast(_, length) | MustKind::AtMost(_, length) | MustKind::Exactly(_, length) => Some(*length),
        MustKind::Equal(..) | MustKind::InLine(..) => None,
    }
}

/// A must in words, with its amount.
pub(super) fn demand(design: &Resolved, axis: Axis, reason: &Reason, kind: &MustKind) -> String {
    let subject = subject(axis, reason);
    let Some(length) = bound(kind) else { return subject };
    let amount = written(design, length);
    match &reason.kind {
        ReasonKind::Holds { sum } if sum.len() > 1 => format!("{subject} {amount} ({})", sum_in_words(design, sum)),
        _ => format!("{subject} {amount}"),
    }
}

/// The conflict in words.
pub(super) fn in_words(model: &Model<'_>, axis: Axis, found: &axis::Conflict) -> Conflict {
    let design = model.design;
    let problem = &model.problems[axis.index()];
    let mut entries = Vec::new();
    let mut kinds = Vec::new();
    for id in &found.musts {
        let Some(must) = problem.musts.get(id.0) else { continue };
        let Some(reason) = model.reason(axis, must.label) else { continue };
        kinds.push((must.kind, reason));
        entries.push(Entry {
            words: demand(design, axis, reason, &must.kind),
            field: reason.field.clone(),
            about: reason.about.clone(),
        });
    }
    let excess = shown_excess(model, axis, found);
    let short = too_small(model, axis, found)
        .unwrap_or_else(|| format!("{} too much over the {}", written(design, excess), size_word(axis)));
    let demands: Vec<&str> = entries.iter().map(|entry| entry.words.as_str()).collect();
    let mut what = format!("{short}: {}", demands.join("; "));
    if let Some(between) = between(&kinds, found.excess) {
        what.push_str(&format!("; boards, stand and gaps between them take {}", written(design, between)));
    }
    let mends = found.mends.iter().filter_map(|mend| mend_in_words(model, axis, mend)).collect();
    let first_steps = found.first_steps.iter().filter_map(|mend| mend_in_words(model, axis, mend)).collect();
    Conflict { axis, what, short, excess, entries, mends, first_steps }
}

/// For a panel that is bound to a stock family: by how much the family's boards are too small for it, in words.
fn too_small(model: &Model<'_>, axis: Axis, found: &axis::Conflict) -> Option<String> {
    let problem = &model.problems[axis.index()];
    found.musts.iter().find_map(|id| {
        let must = problem.musts.get(id.0)?;
        let ReasonKind::Boards { panel, family: Some(family), along, .. } = &model.reason(axis, must.label)?.kind
        else {
            return None;
        };
        let of_mend = found.mends.iter().filter(|mend| mend.must == *id).find_map(|mend| match mend.change {
            axis::Change::Bound(to) => Some((to - bound(&must.kind)?).abs()),
            _ => None,
        });
        let lacking = written(model.design, of_mend.unwrap_or(found.excess));
        let small = if *along { "short" } else { "narrow" };
        Some(format!("the {family} are {lacking} too {small} for {panel:?}"))
    })
}

/// The amount that a person would name: by how much the envelope or the niche is too small if one of them is concerned.
/// Where ties are in play that is more than any single demand would have to give.
fn shown_excess(model: &Model<'_>, axis: Axis, found: &axis::Conflict) -> Length {
    let problem = &model.problems[axis.index()];
    let outer = |reason: &Reason| {
        matches!(reason.kind, ReasonKind::EnvelopeFixed | ReasonKind::EnvelopeLimit | ReasonKind::Niche)
    };
    let of_mend = |mend: &axis::Mend| {
        let must = problem.musts.get(mend.must.0)?;
        let axis::Change::Bound(to) = mend.change else { return None };
        let from = bound(&must.kind).filter(|_| model.reason(axis, must.label).is_some_and(outer))?;
        Some((to - from).abs())
    };
    found.mends.iter().find_map(of_mend).unwrap_or(found.excess)
}

/// What boards and fixed gaps take between the demands of a plain chain: that of which one upper limit is too small for
/// the sum of the others. None where the conflict is of another shape.
fn between(kinds: &[(MustKind, &Reason)], excess: Length) -> Option<Length> {
    let has_limit = kinds.iter().any(|(kind, _)| matches!(kind, MustKind::AtMost(..)));
    let (mut asked, mut given) = (Length::ZERO, None);
    for (kind, reason) in kinds {
        match (kind, &reason.kind) {
            (_, ReasonKind::Carried { .. }) | (MustKind::Equal(..) | MustKind::InLine(..), _) => return None,
            (MustKind::AtLeast(_, length), _) => asked += *length,
            (MustKind::Exactly(_, length), ReasonKind::EnvelopeFixed) if !has_limit => given = Some(*length),
            (MustKind::Exactly(_, length), _) => asked += *length,
            (MustKind::AtMost(_, length), _) => given = given.map_or(Some(*length), |_| None),
        }
    }
    let between = given? + excess - asked;
    (between > Length::ZERO && between < given?).then_some(between)
}

fn mend_in_words(model: &Model<'_>, axis: Axis, mend: &axis::Mend) -> Option<Mend> {
    let design = model.design;
    let must = model.problems[axis.index()].musts.get(mend.must.0)?;
    let reason = model.reason(axis, must.label)?;
    let size = size_word(axis);
    let first = reason.about.first().map_or("", String::as_str);
    let solves_all = mend.solves_all;
    let axis::Change::Bound(to) = mend.change else {
        let words = match reason.about.as_slice() {
            [a, b] => format!("do not tie bays {a:?} and {b:?}"),
            _ => "give up the tie".to_owned(),
        };
        return Some(Mend { words, change: Some(Change::DropTie { field: reason.field.clone() }), solves_all });
    };
    let from = bound(&must.kind)?;
    let (now, then) = (written(design, from), written(design, to));
    let change = Some(Change::Length { field: reason.field.clone(), to: Dim::of(to, design.unit) });
    let difference = written(design, (to - from).abs());
    let (words, change) = match &reason.kind {
        // A size of nothing or less is no mend.
        _ if to <= Length::ZERO => return None,
        ReasonKind::EnvelopeFixed | ReasonKind::EnvelopeLimit => {
            (format!("make the {size} of the envelope {then} instead of {now}"), change)
        }
        ReasonKind::Niche => (format!("a niche with {difference} more {size} would do: {then} instead of {now}"), None),
        ReasonKind::Boards { family: Some(family), along, .. } => {
            let more = if *along { "longer" } else { "wider" };
            (format!("{family} that are {difference} {more} would do: {then} instead of {now}"), None)
        }
        ReasonKind::Boards { material, .. } => {
            (format!("boards of {material} with {then} instead of {now} over the {size} would do"), None)
        }
        ReasonKind::BayFixed | ReasonKind::BayLeast | ReasonKind::BayMost => {
            (format!("make the {size} of bay {first:?} {then} instead of {now}"), change)
        }
        ReasonKind::Holds { .. } => {
            let what = reason.about.get(1).map_or("the drawer", String::as_str);
            (
                format!("{what} with {difference} less {size}, air and fittings included, would fit in bay {first:?}"),
                None,
            )
        }
        ReasonKind::Carried { .. } => {
            (format!("in bay {first:?}, slides or a carrier with {difference} more depth would do"), None)
        }
        ReasonKind::Rails => {
            let width = Length::from_nm(to.nm().div_euclid(2));
            let words = format!("make the rails over bay {first:?} {} wide", written(design, width));
            (words, Some(Change::Length { field: reason.field.clone(), to: Dim::of(width, design.unit) }))
        }
        ReasonKind::Opening | ReasonKind::Tied | ReasonKind::Wish(_) => return None,
    };
    Some(Mend { words, change, solves_all })
}
