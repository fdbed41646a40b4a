//! Parts that are no boxes, as they are drawn: worktops with their outline, panels with openings and notches.

use casewright_core::assembly::{Part, PartFace};
use casewright_core::geometry::Direction;
use casewright_core::joinery::groove_in_world;
use kurbo::{Point, Rect};

use super::part_marks::grooves;
use super::scene::mm;
use crate::hidden::{Body, Solid};
use crate::prism::{Prism, across};
use crate::region::Region;

/// A part as a body in its place.
pub(super) fn body_of(part: &Part) -> Body {
    let solid = Solid { min: mm(part.cuboid.min), max: mm(part.cuboid.max) };
    shape_of(part).map_or(Body::Box(solid), Body::from)
}

/// A part that is cut to an outline or right through; none if it is a box.
pub(super) fn shape_of(part: &Part) -> Option<Prism> {
    let through: Vec<_> = grooves(part)
        .filter(|groove| !matches!(groove.face, PartFace::Edge(_)) && groove.depth >= part.finished.thickness)
        .filter_map(|groove| groove_in_world(part, groove))
        .collect();
    if part.outline.is_none() && through.is_empty() {
        return None;
    }
    let axis = part.world_from_part.thickness_axis();
    let seen = |point: [f64; 3]| {
        let (first, second) = across(axis.index());
        Point::new(point.get(first).copied().unwrap_or_default(), point.get(second).copied().unwrap_or_default())
    };
    let rect =
        |cuboid: &casewright_core::geometry::Cuboid| Rect::from_points(seen(mm(cuboid.min)), seen(mm(cuboid.max)));
    let whole = match &part.outline {
        None => Region::rectangle(rect(&part.cuboid)),
        Some(outline) => {
            let line = |line: &[[f64; 2]]| -> Vec<Point> { line.iter().map(|it| seen(in_world(part, *it))).collect() };
            let openings: Vec<Vec<Point>> = outline.openings.iter().map(|it| line(it)).collect();
            Region::of(&line(&outline.edge), &openings)
        }
    };
    let region = through.iter().fold(whole, |left, cut| left.without(rect(cut)));
    let (from, to) = part.cuboid.range(axis);
    Some(Prism { axis: axis.index(), range: (from.mm(), to.mm()), region })
}

/// A point of a part's own frame (along U and V, mm) in the world.
fn in_world(part: &Part, [u, v]: [f64; 2]) -> [f64; 3] {
    let frame = &part.world_from_part;
    let mut point = mm(frame.origin);
    for (direction, by) in [(frame.length, u), (frame.width, v)] {
        let Direction { axis, negative } = direction;
        if let Some(at) = point.get_mut(axis.index()) {
            *at += if negative { -by } else { by };
        }
    }
    point
}
