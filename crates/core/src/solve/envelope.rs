//! What is asked of the envelope: its extents, the niche, and the plane of the carcass behind overlay fronts.

use super::model::{Model, weight};
use super::reason::{Reason, ReasonKind};
use crate::axis::{MustKind, WishKind};
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
