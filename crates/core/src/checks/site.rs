//! The piece in its place: the niche, and obstacles that it meets.

use super::context::{Context, depth_of};
use super::openings::is_in_opening;
use super::report::{Found, Report};
use crate::design::Obstacle;
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid, Point};
use crate::length::Length;
use crate::levelling::level;
use crate::mechanics::source::Source;
use crate::text::FieldPath;

pub(super) fn obstacle_box(it: &Obstacle<Length>) -> Cuboid {
    let min = Point::new(it.corner.0, it.corner.1, it.corner.2);
    Cuboid::between(min, Point::new(min.x + it.size.0, min.y + it.size.1, min.z + it.size.2))
}

pub(super) fn obstacle_field(index: usize) -> FieldPath {
    FieldPath::root().field("site").field("obstacles").index(index)
}

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    niche(context, report);
    for (index, obstacle) in context.design.site.obstacles.iter().enumerate() {
        let solid = obstacle_box(obstacle);
        standing(context, obstacle, index, &solid, report);
    }
}

fn niche(context: &Context<'_>, report: &mut Report) {
    let Some(niche) = &context.design.site.niche else { return };
    let it = &context.assembly.envelope;
    let left = if niche.left_wall { (-it.min.x).max(Length::ZERO) } else { Length::ZERO };
    let right = if niche.right_wall { (it.max.x - niche.width).max(Length::ZERO) } else { Length::ZERO };
    let width = if right > Length::ZERO { (it.max.x, niche.width) } else { (it.min.x, Length::ZERO) };
    // Its feet may raise it, so that it meets the worktop next door.
    let raised = level(context.design, context.assembly).map_or(Length::ZERO, |it| it.raised.max(Length::ZERO));
    let top = it.max.y + raised;
    let high = niche.height.map_or(Length::ZERO, |height| (top - height).max(Length::ZERO));
    let deep = niche.depth.map_or(Length::ZERO, |depth| (it.max.z - depth).max(Length::ZERO));
    let over = [
        (Severity::Error, "fit.niche-width", "wide", left + right, width.0, Some(width.1)),
        (Severity::Error, "fit.niche-height", "high", high, top, niche.height),
        // A piece may stand out of a niche that is shallower; that is often meant.
        (Severity::Note, "fit.niche-depth", "deep", deep, it.max.z, niche.depth),
    ];
    for (severity, id, word, over, measured, limit) in over {
        let Some(limit) = limit.filter(|_| over > Length::ZERO) else { continue };
        report.add(
            Found::new(severity, id, format!("the piece is {} too {word} for its niche", context.size(over.mm())))
                .measured(format!("reaches to {}", context.size(measured.mm())))
                .limit(context.size(limit.mm()))
                .source(Source::OWN)
                .mend("a smaller envelope, or another place to begin")
                .place(*it)
                .field(Some(FieldPath::root().field("carcass").field("envelope")))
                .usage(1.0 + over.mm() / it.size(Axis::X).mm().max(1.0)),
        );
    }
}

fn standing(context: &Context<'_>, obstacle: &Obstacle<Length>, index: usize, solid: &Cuboid, report: &mut Report) {
    // A socket or pipe behind or inside a bay is met by parts only.
    for (index_of_part, part) in context.still() {
        // What stands in an opening of the part does not meet it.
        if part.cuboid.overlaps(solid) && !is_in_opening(context, index_of_part, solid) {
            report.add(
                Found::new(Severity::Error, "fit.obstacle", format!("{} stands where {} is", part.name, obstacle.name))
                    .measured(context.size(depth_of(&part.cuboid, solid)))
                    .limit(context.size(0.0))
                    .source(Source::OWN)
                    .mend("a shallower or narrower envelope, a notch, or the piece moved")
                    .place(part.cuboid)
                    .about(part.number.clone())
                    .about(obstacle.name.clone())
                    .field(Some(obstacle_field(index)))
                    .usage(2.0),
            );
        }
    }
}
