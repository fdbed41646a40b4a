//! The front edge of a worktop: straight, with a step, or through points with lines, arcs and rounded corners.

use kurbo::{Arc, BezPath, Point, Rect, Vec2};

use super::outline::OutlineError;
use super::transition::{push_arc, reverse_curve, step_length};
use crate::design::TopShape;
use crate::length::Length;
use crate::unit::Unit;

/// What is shorter than this is no distance, millimetres.
const NOTHING_MM: f64 = 1e-6;

/// A corner of the edge: where, rounded how, and how far the way to the next bows out.
struct Corner {
    at: Point,
    round: f64,
    bow: f64,
}

/// The front edge from right to left, with its corners; `rear` is where the rear edge ends at the left and right, mm.
pub(super) fn front(
    slab: Rect,
    shape: &TopShape<Length>,
    rear: (f64, f64),
    unit: Unit,
) -> Result<BezPath, OutlineError> {
    if shape.front.is_empty() { stepped(slab, shape, rear, unit) } else { through_points(slab, shape) }
}

/// Straight but for one transition.
fn stepped(slab: Rect, shape: &TopShape<Length>, rear: (f64, f64), unit: Unit) -> Result<BezPath, OutlineError> {
    let step = match &shape.step {
        None => None,
        Some(it) => {
            let length = match (it.length, it.radius) {
                (Some(length), None) => length.mm(),
                (None, Some(radius)) => {
                    step_length(radius.mm(), it.out.mm()).ok_or(OutlineError::StepOfRadius(unit.written(radius)))?
                }
                _ => return Err(OutlineError::StepUnclear),
            };
            if it.from.mm() + length > slab.width() + NOTHING_MM {
                return Err(OutlineError::StepTooLong(unit.written(Length::from_mm_f64(length))));
            }
            Some((it.from.mm(), length, it.out.mm()))
        }
    };
    let right_depth = slab.y1 + step.map_or(0.0, |it| it.2);
    let radius = |it: Option<Length>| it.map_or(0.0, |it| it.mm().max(0.0));
    let (left, right) = (radius(shape.corners.0), radius(shape.corners.1));
    // Without a step both corners share the front; of two that have no room the larger one is told.
    let beside = |other: f64| (slab.width() - other).max(slab.width() / 2.0);
    let along = step.map_or((beside(right), beside(left)), |it| (it.0, slab.width() - it.0 - it.1));
    let room = (along.0.min(slab.y1 - rear.0), along.1.min(right_depth - rear.1));
    let mut corners = [("left", left, room.0), ("right", right, room.1)];
    corners.sort_by(|a, b| b.1.total_cmp(&a.1));
    if let Some((side, radius, largest)) = corners.into_iter().find(|it| it.1 > it.2 + NOTHING_MM) {
        // Rounded down, so that what is said has room.
        let largest = Length::from_um((largest.max(0.0) * 10.0 + NOTHING_MM).floor() as i64 * 100);
        return Err(OutlineError::CornerTooRound {
            side,
            radius: unit.written(Length::from_mm_f64(radius)),
            largest: unit.written(largest),
        });
    }
    let quarter = std::f64::consts::FRAC_PI_2;
    let mut path = BezPath::new();
    path.move_to((slab.x1, right_depth - right));
    if right > 0.0 {
        let centre = Point::new(slab.x1 - right, right_depth - right);
        push_arc(&mut path, &Arc::new(centre, (right, right), 0.0, quarter, 0.0));
    }
    if let Some((from, length, out)) = step {
        let start = Point::new(slab.x0 + from, slab.y1);
        // Drawn from right to left: the same curve, its ends swapped.
        path.line_to(start + Vec2::new(length, out));
        let back = reverse_curve(start, length, out).reverse_subpaths();
        path.extend(back.elements().iter().skip(1).copied());
    }
    path.line_to((slab.x0 + left, slab.y1));
    if left > 0.0 {
        let centre = Point::new(slab.x0 + left, slab.y1 - left);
        push_arc(&mut path, &Arc::new(centre, (left, left), quarter, quarter, 0.0));
    }
    Ok(path)
}

/// Through the points of the shape; the corners of the shape round its two ends.
fn through_points(slab: Rect, shape: &TopShape<Length>) -> Result<BezPath, OutlineError> {
    if shape.step.is_some() {
        return Err(OutlineError::StepAndFront);
    }
    let corners = corners(slab, shape)?;
    // From the left; turned round at the end.
    let mut path = BezPath::new();
    let mut cursor: Option<Point> = None;
    for (i, corner) in corners.iter().enumerate() {
        let before = match i.checked_sub(1).and_then(|it| corners.get(it)) {
            Some(before) => (before.at, before.bow),
            None => (Point::new(slab.x0, slab.y0), 0.0),
        };
        let after = corners.get(i + 1).map_or(Point::new(slab.x1, slab.y0), |it| it.at);
        let rounded = round(before, corner, after).ok_or(OutlineError::NoRoomToRound(i + 1))?;
        match cursor {
            None => path.move_to(rounded.from),
            Some(from) => {
                if before.1.abs() > NOTHING_MM {
                    bow(&mut path, from, rounded.from, before.1);
                } else if from.distance(rounded.from) > NOTHING_MM {
                    // Two rounded corners must not need the same stretch of the line between them.
                    if (rounded.from - from).dot(corner.at - before.0) < 0.0 {
                        return Err(OutlineError::NoRoomToRound(i + 1));
                    }
                    path.line_to(rounded.from);
                }
            }
        }
        if let Some(arc) = rounded.arc {
            push_arc(&mut path, &arc);
        }
        cursor = Some(rounded.to);
    }
    Ok(path.reverse_subpaths())
}

fn corners(slab: Rect, shape: &TopShape<Length>) -> Result<Vec<Corner>, OutlineError> {
    let mut all: Vec<Corner> = shape
        .front
        .iter()
        .map(|it| Corner {
            at: Point::new(slab.x0 + it.at.0.mm(), slab.y1 + it.at.1.mm()),
            round: it.round.map_or(0.0, |it| it.mm()),
            bow: it.bow.map_or(0.0, |it| it.mm()),
        })
        .collect();
    if let Some(at) = all.windows(2).position(|pair| matches!(pair, [a, b] if b.at.x < a.at.x || b.at == a.at)) {
        return Err(OutlineError::FrontNotInOrder(at + 2));
    }
    let inside = |it: &Corner| it.at.x >= slab.x0 - NOTHING_MM && it.at.x <= slab.x1 + NOTHING_MM;
    if let Some(at) = all.iter().position(|it| !inside(it) || it.at.y <= slab.y0) {
        return Err(OutlineError::FrontOutside(at + 1));
    }
    let end = |x: f64| Corner { at: Point::new(x, slab.y1), round: 0.0, bow: 0.0 };
    if all.first().is_some_and(|it| it.at.x > slab.x0 + NOTHING_MM) {
        all.insert(0, end(slab.x0));
    }
    if all.last().is_some_and(|it| it.at.x < slab.x1 - NOTHING_MM) {
        all.push(end(slab.x1));
    }
    let radius = |it: Option<Length>| it.map_or(0.0, |it| it.mm());
    if let Some(first) = all.first_mut() {
        first.round = first.round.max(radius(shape.corners.0));
    }
    if let Some(last) = all.last_mut() {
        last.round = last.round.max(radius(shape.corners.1));
    }
    Ok(all)
}

/// A corner as it is cut: where the rounding begins and ends, and its arc.
struct Rounded {
    from: Point,
    to: Point,
    arc: Option<Arc>,
}

/// Rounds a corner with an arc that is tangent to both lines: it begins `r tan(turn / 2)` before the corner. None if the
/// lines are too short, or one of them is an arc.
fn round(before: (Point, f64), corner: &Corner, after: Point) -> Option<Rounded> {
    let (enter, leave) = (corner.at - before.0, after - corner.at);
    let turn = enter.cross(leave).atan2(enter.dot(leave));
    if corner.round < NOTHING_MM || turn.abs() < 1e-9 {
        return Some(Rounded { from: corner.at, to: corner.at, arc: None });
    }
    let back = corner.round * (turn.abs() / 2.0).tan();
    let straight = before.1.abs() < NOTHING_MM && corner.bow.abs() < NOTHING_MM;
    if !straight || back > enter.hypot() + NOTHING_MM || back > leave.hypot() + NOTHING_MM {
        return None;
    }
    let (from, to) = (corner.at - enter.normalize() * back, corner.at + leave.normalize() * back);
    // The centre lies to the side that the edge turns to.
    let side = Vec2::new(-enter.y, enter.x).normalize() * turn.signum();
    let centre = from + side * corner.round;
    let start = (from - centre).atan2();
    Some(Rounded { from, to, arc: Some(Arc::new(centre, (corner.round, corner.round), start, turn, 0.0)) })
}

/// Continues a path with an arc whose middle stands `rise` off the chord, to the left of the way if above zero:
/// radius = chord² / (8 rise) + rise / 2.
fn bow(path: &mut BezPath, from: Point, to: Point, rise: f64) {
    let chord = to - from;
    let radius = chord.hypot2() / (8.0 * rise) + rise / 2.0;
    let left = Vec2::new(-chord.y, chord.x).normalize();
    let centre = from.midpoint(to) + left * (rise - radius);
    let (start, end) = ((from - centre).atan2(), (to - centre).atan2());
    let mut sweep = end - start;
    // Bowed out to the left of the way, the arc turns clockwise, and the other way where it is hollow.
    let full = std::f64::consts::TAU;
    while sweep * rise.signum() > 0.0 {
        sweep -= full * rise.signum();
    }
    let radius = radius.abs();
    push_arc(path, &Arc::new(centre, (radius, radius), start, sweep, 0.0));
}
