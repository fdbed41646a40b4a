//! What a stay or strut runs into between its ends while a flap opens, in closed form.
//!
//! The line between the ends is fixed at one and carried round by the other. It comes onto a rectangle only where its moving
//! end crosses a side of that, or where a corner lies on the line; all these angles are put in order, and one look between
//! each two neighbours says whether the line runs through the rectangle there.

use std::f64::consts::TAU;

use super::{OutUp, Stay, tilted};
use crate::moving::TOUCH_MM;

/// The angle at which the line between the ends first runs into a rectangle, radians; none if it keeps clear of it from shut
/// to `open`. The rectangle is given by its least and most corner.
#[must_use]
pub fn first_meeting(stay: &Stay, open: f64, (least, most): (OutUp, OutUp)) -> Option<f64> {
    let inner = ([least[0] + TOUCH_MM, least[1] + TOUCH_MM], [most[0] - TOUCH_MM, most[1] - TOUCH_MM]);
    let mut angles = vec![0.0, open];
    let radius = stay.front[0].hypot(stay.front[1]);
    let start = stay.front[1].atan2(stay.front[0]);
    let mut add = |spot: OutUp| {
        // A turn by an angle lessens the direction of the front's anchor by it.
        let angle = (start - spot[1].atan2(spot[0])).rem_euclid(TAU);
        angles.extend([angle, angle - TAU].into_iter().filter(|it| (0.0..=open).contains(it)));
    };
    for axis in 0..2 {
        for side in [least, most] {
            let at = side.get(axis).copied().unwrap_or_default();
            if at.abs() <= radius {
                let other = (radius * radius - at * at).max(0.0).sqrt();
                for other in [other, -other] {
                    add(if axis == 0 { [at, other] } else { [other, at] });
                }
            }
        }
    }
    for corner in [least, most, [least[0], most[1]], [most[0], least[1]]] {
        for spot in on_circle(stay.carcass, corner, radius) {
            add(spot);
        }
    }
    angles.sort_by(f64::total_cmp);
    let runs_through = |angle: f64| crosses(stay.carcass, tilted(stay.front, angle), inner);
    if runs_through(0.0) {
        return Some(0.0);
    }
    angles.windows(2).find_map(|pair| match pair {
        [a, b] if runs_through(f64::midpoint(*a, *b)) => Some(*a),
        _ => None,
    })
}

/// Where the line from one spot through another meets the circle about the hinge.
fn on_circle(from: OutUp, through: OutUp, radius: f64) -> Vec<OutUp> {
    let along = [through[0] - from[0], through[1] - from[1]];
    let square = along[0] * along[0] + along[1] * along[1];
    if square == 0.0 {
        return Vec::new();
    }
    // |from + t along| = radius.
    let half = from[0] * along[0] + from[1] * along[1];
    let rest = from[0] * from[0] + from[1] * from[1] - radius * radius;
    let under = half * half - square * rest;
    if under < 0.0 {
        return Vec::new();
    }
    let root = under.sqrt();
    let at = |t: f64| [from[0] + t * along[0], from[1] + t * along[1]];
    vec![at((-half - root) / square), at((-half + root) / square)]
}

/// Whether a straight piece has a spot in a rectangle, its sides included.
fn crosses(a: OutUp, b: OutUp, (least, most): (OutUp, OutUp)) -> bool {
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let get = |it: OutUp| it.get(axis).copied().unwrap_or_default();
        let (from, way) = (get(a), get(b) - get(a));
        if way == 0.0 {
            if from < get(least) || from > get(most) {
                return false;
            }
            continue;
        }
        let (one, two) = ((get(least) - from) / way, (get(most) - from) / way);
        low = low.max(one.min(two));
        high = high.min(one.max(two));
    }
    low <= high
}
