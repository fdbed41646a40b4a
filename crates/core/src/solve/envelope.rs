//! What is asked of the envelope: its extents, the niche, and the plane of the carcass behind overlay fronts.

use super::Known;
use super::model::{Model, weight};
use super::reason::{Reason, ReasonKind};
use crate::axis::{self, MustKind, Solution, WishKind};
use crate::design::{Bay, Construction, Extent, FrontStyle, Inside, Resolved, Role};
use crate::geometry::Axis;
use crate::length::Length;
use crate::text::FieldPath;

/// Adds the demands on the three extents.
pub(super) fn ask(model: &mut Model<'_>) {
    let design = model.design;
    let envelope = &design.carcass.envelope;
    let at = FieldPath::root().field("carcass").field("envelope");
    let asked = [
        (Axis::X, &envelope.width, "width"),
        (Axis::Y, &envelope.height, "height"),
        (Axis::Z, &envelope.depth, "depth"),
    ];
    for (axis, extent, name) in asked {
        let span = Model::span(model.envelope[axis.index()]);
        let reason = |kind| Reason { kind, field: at.field(name), about: vec!["envelope".to_owned()] };
        let niche = niche_limit(design, axis);
        match extent {
            Extent::Fixed(size) => model.must(axis, MustKind::Exactly(span, *size), reason(ReasonKind::EnvelopeFixed)),
            Extent::AtMost(size) => {
                model.must(axis, MustKind::AtMost(span, *size), reason(ReasonKind::EnvelopeLimit));
                let wish = WishKind::Size { span, target: *size };
                model.wish(axis, wish, weight::ENVELOPE, reason(ReasonKind::Wish("as large as it may be")));
            }
            Extent::FillNiche => {
                let wish = WishKind::Size { span, target: niche.unwrap_or_default() };
                model.wish(axis, wish, weight::ENVELOPE, reason(ReasonKind::Wish("fill the niche")));
            }
            Extent::Snug => {
                let wish = WishKind::Size { span, target: Length::ZERO };
                model.wish(axis, wish, weight::ENVELOPE, reason(ReasonKind::Wish("as small as it may be")));
            }
        }
        if let Some(limit) = niche {
            let field = FieldPath::root().field("site").field("niche").field(name);
            let reason = Reason { kind: ReasonKind::Niche, field, about: vec!["niche".to_owned()] };
            model.must(axis, MustKind::AtMost(span, limit), reason);
        }
    }
}

/// An envelope that is to be as large (or as small) as may be is so before anything else is wished: weights alone would
/// let a preferred size that does not fit pull it off by a step. Where it was pulled off, the axis is solved again with
/// the extreme as a demand; where that cannot be met after rounding, what there was stays.
pub(super) fn settle(model: &mut Model<'_>, axis: Axis, solution: Solution, known: &mut Known) -> Solution {
    let design = model.design;
    let envelope = &design.carcass.envelope;
    let (extent, name) = match axis {
        Axis::X => (&envelope.width, "width"),
        Axis::Y => (&envelope.height, "height"),
        Axis::Z => (&envelope.depth, "depth"),
    };
    let span = Model::span(model.envelope[axis.index()]);
    let (size, niche) = (solution.size(span), niche_limit(design, axis));
    let (words, most) = match extent {
        Extent::Fixed(_) => return solution,
        Extent::AtMost(most) => ("as large as it may be", Some(niche.map_or(*most, |niche| niche.min(*most)))),
        Extent::FillNiche => ("fill the niche", niche),
        Extent::Snug => ("as small as it may be", None),
    };
    if most.is_some_and(|most| size >= most) || most.is_none() && *extent != Extent::Snug {
        return solution;
    }
    let problem = &model.problems[axis.index()];
    let Ok(play) = axis::play_of(problem, span) else { return solution };
    let reach = if most.is_some() { play.most } else { play.least };
    let Some(extreme) = reach.map(|reach| reach.size).filter(|extreme| *extreme != size) else { return solution };
    let kind = if most.is_some() { MustKind::AtLeast(span, extreme) } else { MustKind::AtMost(span, extreme) };
    let mut firm = problem.clone();
    let label = model.reasons[axis.index()].len();
    firm.must(kind, label, false);
    let Ok(settled) = known.solve(axis, &firm) else { return solution };
    let field = FieldPath::root().field("carcass").field("envelope").field(name);
    let about = vec!["envelope".to_owned()];
    model.reasons[axis.index()].push(Reason { kind: ReasonKind::Wish(words), field, about });
    model.problems[axis.index()] = firm;
    settled
}

/// What the niche leaves from where the envelope begins.
fn niche_limit(design: &Resolved, axis: Axis) -> Option<Length> {
    let niche = design.site.niche.as_ref()?;
    let envelope = &design.carcass.envelope;
    match axis {
        Axis::X => Some(niche.width - envelope.from_left.unwrap_or_default()),
        Axis::Y => niche.height,
        Axis::Z => niche.depth.map(|depth| depth - envelope.from_wall.unwrap_or_default()),
    }
}

/// How far the front edges of the carcass lie behind the front of the envelope: the thickest overlay front, or nothing.
pub(super) fn overlay_thickness(model: &Model<'_>) -> Length {
    let carcass = &model.design.carcass;
    thickest(model, &carcass.bay, &carcass.construction)
}

fn thickest(model: &Model<'_>, bay: &Bay<Length>, construction: &Construction<Length>) -> Length {
    let own = match &bay.front {
        Some(front) if front.style.unwrap_or(construction.fronts) == FrontStyle::Overlay => {
            model.thickness(front.board.as_deref().unwrap_or_else(|| Model::board(construction, Role::Front)))
        }
        _ => Length::ZERO,
    };
    let inner = match &bay.inside {
        Inside::Across { bays, .. } | Inside::Up { bays, .. } => {
            bays.iter().map(|bay| thickest(model, bay, construction)).max().unwrap_or_default()
        }
        Inside::Boxed { shell, bay } => thickest(model, bay, shell.construction.as_ref().unwrap_or(construction)),
        Inside::Open { .. } | Inside::Holds { .. } => Length::ZERO,
    };
    own.max(inner)
}
