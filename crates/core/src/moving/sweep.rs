//! The first contact of a moving body with a fixed one, whichever way it moves.

use super::planar::{self, Spot};
use super::solid::{Solid, across};
use super::{TOUCH_MM, slide, turn};
use crate::assembly::Motion;
use crate::geometry::{Axis, Direction};

/// Where a moving body first meets a fixed one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// How far it has moved: mm along a slide, degrees of a turn.
    pub at: f64,
    /// The point in which they meet, mm.
    pub point: [f64; 3],
    /// By how much less the moving body would have to reach for its way to be free, mm.
    pub by: f64,
    /// On which side of the moving body that is; none if it is the end that swings.
    pub side: Option<Direction>,
}

/// The first contact of `moving` on its way with `fixed`; none if it opens fully. What overlaps at rest is met at once.
///
/// Exact for boxes, and for prisms in every position of theirs but one: a moving prism that turns about another axis than
/// its own counts as the box round it, and so is never met too late.
#[must_use]
pub fn first_touch(moving: &Solid, motion: &Motion, fixed: &Solid) -> Option<Touch> {
    match *motion {
        Motion::Slide { direction, travel } => slides(moving, direction, travel.mm(), fixed),
        Motion::Turn { pivot, axis, opens_deg } => {
            let round;
            let moving = match moving {
                Solid::Prism { axis: own, .. } if *own != axis.axis => {
                    round = moving.bounds();
                    &round
                }
                _ => moving,
            };
            let (u, v) = across(axis.axis);
            let window = moving.range(axis.axis);
            let outline = moving.outline(axis.axis)?;
            let other = fixed.cast(axis.axis, window)?;
            let centre = [pivot.along(u).mm(), pivot.along(v).mm()];
            let (angle, spot) = turn::first(&outline, &other, centre, !axis.negative, opens_deg.to_radians())?;
            let reach = outline.iter().map(|&it| planar::apart(it, centre)).fold(0.0, f64::max);
            let near = planar::edges(&other)
                .map(|(a, b)| planar::apart(planar::nearest(centre, a, b), centre))
                .fold(f64::INFINITY, f64::min);
            let swing = (reach - near, None);
            let beside = least_aside(window, fixed.range(axis.axis), axis.axis);
            let (by, side) = if beside.0 < swing.0 { (beside.0, Some(beside.1)) } else { swing };
            let point = point_at(axis.axis, shared(window, fixed.range(axis.axis)), spot);
            Some(Touch { at: angle.to_degrees(), point, by, side })
        }
    }
}

/// The body after it has moved by so much: mm along a slide, degrees of a turn. A turned box becomes a prism.
#[must_use]
pub fn placed(solid: &Solid, motion: &Motion, amount: f64) -> Solid {
    match *motion {
        Motion::Slide { direction, .. } => moved(solid, direction, amount),
        Motion::Turn { pivot, axis, .. } => {
            let (u, v) = across(axis.axis);
            let centre = [pivot.along(u).mm(), pivot.along(v).mm()];
            let angle = amount.to_radians() * axis.sign() as f64;
            let body = if solid.outline(axis.axis).is_some() { solid.clone() } else { solid.bounds() };
            let outline = body.outline(axis.axis).unwrap_or_default();
            let outline = outline.into_iter().map(|it| planar::turned(it, centre, angle)).collect();
            Solid::Prism { axis: axis.axis, range: body.range(axis.axis), outline }
        }
    }
}

/// The free distance between two bodies, mm, zero if they overlap. Exact for two boxes and for prisms along one axis; of
/// prisms along different axes one counts as the box round it, so that the real distance is this or more.
#[must_use]
pub fn gap_mm(a: &Solid, b: &Solid) -> f64 {
    let axis = match (a, b) {
        (Solid::Prism { axis, .. }, _) | (_, Solid::Prism { axis, .. }) => *axis,
        _ => Axis::Y,
    };
    let outline = |it: &Solid| it.outline(axis).or_else(|| it.bounds().outline(axis)).unwrap_or_default();
    let (one, two) = (a.range(axis), b.range(axis));
    let along = (one.0.max(two.0) - one.1.min(two.1)).max(0.0);
    planar::distance(&outline(a), &outline(b)).0.hypot(along)
}

/// Whether two bodies overlap where they are: a slide of no length along an axis that suits both.
pub(super) fn meet_at_rest(a: &Solid, b: &Solid) -> bool {
    let way = Direction::UP;
    slides(a, way, 2.0 * TOUCH_MM, b).is_some_and(|it| it.at <= 0.0)
}

fn moved(solid: &Solid, direction: Direction, by: f64) -> Solid {
    let by = by * direction.sign() as f64;
    let shift = |(low, high): (f64, f64)| (low + by, high + by);
    match solid {
        Solid::Box([x, y, z]) => Solid::Box(match direction.axis {
            Axis::X => [shift(*x), *y, *z],
            Axis::Y => [*x, shift(*y), *z],
            Axis::Z => [*x, *y, shift(*z)],
        }),
        Solid::Prism { axis, range, outline } if *axis == direction.axis => {
            Solid::Prism { axis: *axis, range: shift(*range), outline: outline.clone() }
        }
        Solid::Prism { axis, range, outline } => {
            let first = across(*axis).0 == direction.axis;
            let shifted = |it: &Spot| if first { [it[0] + by, it[1]] } else { [it[0], it[1] + by] };
            Solid::Prism { axis: *axis, range: *range, outline: outline.iter().map(shifted).collect() }
        }
    }
}

fn slides(moving: &Solid, direction: Direction, travel: f64, fixed: &Solid) -> Option<Touch> {
    let touch = match (plane(moving, direction.axis), plane(fixed, direction.axis)) {
        // The outline of what moves, or of any axis that suits what stands.
        (Some(own), other) => {
            let axis = own.or(other.flatten()).unwrap_or(if direction.axis == Axis::Y { Axis::X } else { Axis::Y });
            in_plane(moving, direction, travel, fixed, axis, false)
        }
        // What moves slides along its own axis: let what stands come towards it.
        (None, Some(other)) => {
            let axis = other.unwrap_or(if direction.axis == Axis::Y { Axis::X } else { Axis::Y });
            in_plane(fixed, direction.reversed(), travel, moving, axis, true)
        }
        (None, None) => along(moving, direction, travel, fixed),
    }?;
    let sideways = Axis::ALL.into_iter().filter(|axis| *axis != direction.axis);
    let (by, side) = sideways
        .map(|axis| least_aside(moving.range(axis), fixed.range(axis), axis))
        .reduce(|best, it| if it.0 < best.0 { it } else { best })?;
    Some(Touch { by, side: Some(side), ..touch })
}

/// The axis across whose plane a body must be looked at for it to slide within that plane: `Some(None)` if any will do,
/// none if it is a prism along the way.
fn plane(solid: &Solid, way: Axis) -> Option<Option<Axis>> {
    match solid {
        Solid::Box(_) => Some(None),
        Solid::Prism { axis, .. } => (*axis != way).then_some(Some(*axis)),
    }
}

/// One body slides in the plane across `axis`. The point is in the place of `fixed` as it stands, or, if the two have
/// changed parts, in that of the one that came towards it.
fn in_plane(
    moving: &Solid,
    direction: Direction,
    travel: f64,
    fixed: &Solid,
    axis: Axis,
    exchanged: bool,
) -> Option<Touch> {
    let outline = moving.outline(axis)?;
    let window = moving.range(axis);
    let other = fixed.cast(axis, window)?;
    let first = across(axis).0 == direction.axis;
    let sign = direction.sign() as f64;
    // s along the way, q across it; the mirror image keeps outlines usable, since only their ends are asked for.
    let turned = |it: &[Spot]| -> Vec<Spot> {
        it.iter().map(|p| if first { [p[0] * sign, p[1]] } else { [p[1] * sign, p[0]] }).collect()
    };
    let (at, spot) = slide::first(&turned(&outline), &turned(&other), travel)?;
    let s = (spot[0] + if exchanged { -at } else { 0.0 }) * sign;
    let spot = if first { [s, spot[1]] } else { [spot[1], s] };
    let point = point_at(axis, shared(window, fixed.range(axis)), spot);
    Some(Touch { at, point, by: 0.0, side: None })
}

/// Two prisms along the way: their outlines must overlap, and the gap between their ends is the distance.
fn along(moving: &Solid, direction: Direction, travel: f64, fixed: &Solid) -> Option<Touch> {
    let axis = direction.axis;
    let (one, two) = (moving.outline(axis)?, fixed.outline(axis)?);
    if planar::overlap(&one, &two) <= TOUCH_MM {
        return None;
    }
    let (own, other) = (moving.range(axis), fixed.range(axis));
    let (gap, passed, at) = if direction.negative {
        (own.0 - other.1, own.1 - other.0, other.1)
    } else {
        (other.0 - own.1, other.1 - own.0, other.0)
    };
    if passed <= TOUCH_MM || gap >= travel - TOUCH_MM {
        return None;
    }
    let middle = |i: fn(&Spot) -> f64| {
        let low = |it: &[Spot]| it.iter().map(i).fold(f64::INFINITY, f64::min);
        let high = |it: &[Spot]| it.iter().map(i).fold(f64::NEG_INFINITY, f64::max);
        (low(&one).max(low(&two)) + high(&one).min(high(&two))) / 2.0
    };
    let point = point_at(axis, (at, at), [middle(|it| it[0]), middle(|it| it[1])]);
    Some(Touch { at: gap.max(0.0), point, by: 0.0, side: None })
}

/// The least by which a body must shrink or shift along an axis to pass another, and on which side that one lies.
fn least_aside(own: (f64, f64), other: (f64, f64), axis: Axis) -> (f64, Direction) {
    let (right, left) = (own.1 - other.0, other.1 - own.0);
    if right <= left { (right, Direction::new(axis, false)) } else { (left, Direction::new(axis, true)) }
}

fn shared(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    (a.0.max(b.0), a.1.min(b.1))
}

/// The point of a spot in the plane across an axis, in the middle of a range along it.
fn point_at(axis: Axis, range: (f64, f64), spot: Spot) -> [f64; 3] {
    let along = (range.0 + range.1) / 2.0;
    match axis {
        Axis::X => [along, spot[0], spot[1]],
        Axis::Y => [spot[1], along, spot[0]],
        Axis::Z => [spot[0], spot[1], along],
    }
}
