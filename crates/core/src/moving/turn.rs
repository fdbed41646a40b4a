//! Turning: the angle until one convex outline meets another while it turns about a point of their plane.
//!
//! Two convex outlines can begin to overlap only where a corner of one comes onto an edge of the other. Corners of the
//! moving one run on circles, and so, seen from it, do those of the fixed one. A circle meets a straight line at
//! `r cos(a - n) = d`, so that each pair gives at most two angles in closed form. Between two neighbouring angles of all
//! these nothing begins or ends: one look in the middle says whether the outlines overlap there.

use std::f64::consts::TAU;

use super::TOUCH_MM;
use super::planar::{self, Spot};

/// An angle at which a corner lies on an edge, and that spot in the world.
#[derive(Clone, Copy)]
struct Event {
    angle: f64,
    at: Spot,
}

/// By what angle an outline turns counter-clockwise (or clockwise if not `ahead`) before it meets another, and where.
/// None if it never does within `opens_rad`.
pub(super) fn first(moving: &[Spot], fixed: &[Spot], centre: Spot, ahead: bool, opens_rad: f64) -> Option<(f64, Spot)> {
    // Out of reach of every corner, or wholly nearer to the axis than what turns.
    let reach = moving.iter().map(|&spot| planar::apart(spot, centre)).fold(0.0, f64::max);
    let near = planar::edges(fixed)
        .map(|(a, b)| planar::apart(planar::nearest(centre, a, b), centre))
        .fold(f64::INFINITY, f64::min);
    let holds_centre = planar::edges(fixed)
        .all(|(a, b)| (b[0] - a[0]) * (centre[1] - a[1]) - (b[1] - a[1]) * (centre[0] - a[0]) >= 0.0);
    if !holds_centre && near >= reach {
        return None;
    }
    let sign = if ahead { 1.0 } else { -1.0 };
    let mut events: Vec<Event> = Vec::with_capacity(24);
    for &corner in moving {
        for edge in planar::edges(fixed) {
            meet(corner, edge, centre, sign, opens_rad, |angle, at| events.push(Event { angle, at }));
        }
    }
    for &corner in fixed {
        for edge in planar::edges(moving) {
            // Seen from what turns, the fixed corner turns the other way.
            meet(corner, edge, centre, -sign, opens_rad, |angle, _| events.push(Event { angle, at: corner }));
        }
    }
    events.sort_by(|a, b| a.angle.total_cmp(&b.angle));
    let start = Event { angle: 0.0, at: fixed.first().copied().unwrap_or_default() };
    let end = Event { angle: opens_rad, at: start.at };
    let mut turned: Vec<Spot> = Vec::with_capacity(moving.len());
    let mut from = start;
    for to in events.into_iter().chain([end]) {
        if to.angle - from.angle > 1e-12 {
            let middle = (from.angle + to.angle) / 2.0;
            turned.clear();
            turned.extend(moving.iter().map(|&spot| planar::turned(spot, centre, sign * middle)));
            if planar::overlap(&turned, fixed) > TOUCH_MM {
                return Some((from.angle, from.at));
            }
        }
        from = to;
    }
    None
}

/// The angles within the turn at which a corner that turns lies on a straight piece.
fn meet(corner: Spot, (a, b): (Spot, Spot), centre: Spot, sign: f64, opens_rad: f64, mut found: impl FnMut(f64, Spot)) {
    let (u, v) = (corner[0] - centre[0], corner[1] - centre[1]);
    let radius = u.hypot(v);
    let along = [b[0] - a[0], b[1] - a[1]];
    let long = along[0].hypot(along[1]);
    if radius == 0.0 || long == 0.0 {
        return;
    }
    let normal = [along[1] / long, -along[0] / long];
    let far = normal[0] * (a[0] - centre[0]) + normal[1] * (a[1] - centre[1]);
    if far.abs() > radius + TOUCH_MM {
        return;
    }
    let begins = v.atan2(u);
    let towards = normal[1].atan2(normal[0]);
    let half = (far / radius).clamp(-1.0, 1.0).acos();
    for on_circle in [towards + half, towards - half] {
        let spot = [centre[0] + radius * on_circle.cos(), centre[1] + radius * on_circle.sin()];
        let share = ((spot[0] - a[0]) * along[0] + (spot[1] - a[1]) * along[1]) / (long * long);
        let slack = TOUCH_MM / long;
        if (-slack..=1.0 + slack).contains(&share) {
            let mut angle = (sign * (on_circle - begins)).rem_euclid(TAU);
            // A hair before the start is the start.
            if TAU - angle < 1e-9 {
                angle = 0.0;
            }
            if angle <= opens_rad {
                found(angle, spot);
            }
        }
    }
}
