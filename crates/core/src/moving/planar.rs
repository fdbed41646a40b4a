//! Convex polygons in a plane: hulls, cuts, shadows on lines, and whether two of them overlap.

use super::TOUCH_MM;

/// A point of a plane, mm.
pub(crate) type Spot = [f64; 2];

/// The convex hull of points, counter-clockwise; none if they enclose no area.
pub(crate) fn hull(points: &[Spot]) -> Option<Vec<Spot>> {
    let mut sorted: Vec<Spot> = points.iter().copied().filter(|p| p.iter().all(|c| c.is_finite())).collect();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    sorted.dedup();
    let chain = |forwards: bool| {
        let mut chain: Vec<Spot> = Vec::new();
        let mut add = |point: Spot| {
            while let [.., a, b] = chain.as_slice() {
                if cross(*a, *b, point) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        };
        if forwards {
            sorted.iter().for_each(|&p| add(p));
        } else {
            sorted.iter().rev().for_each(|&p| add(p));
        }
        chain.pop();
        chain
    };
    let mut all = chain(true);
    all.extend(chain(false));
    (all.len() >= 3).then_some(all)
}

/// Twice the area of the triangle, positive if it runs counter-clockwise.
fn cross(a: Spot, b: Spot, c: Spot) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// A rectangle, counter-clockwise.
pub(crate) fn rectangle(u: (f64, f64), v: (f64, f64)) -> Vec<Spot> {
    vec![[u.0, v.0], [u.1, v.0], [u.1, v.1], [u.0, v.1]]
}

/// The edges of a polygon.
pub(super) fn edges(outline: &[Spot]) -> impl Iterator<Item = (Spot, Spot)> + '_ {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1))
}

/// The shadow of a polygon on a direction.
pub(super) fn shadow(outline: &[Spot], along: Spot) -> (f64, f64) {
    outline
        .iter()
        .map(|p| p[0] * along[0] + p[1] * along[1])
        .fold((f64::INFINITY, f64::NEG_INFINITY), |range, at| (range.0.min(at), range.1.max(at)))
}

/// The range of the other coordinate over the part of a polygon whose coordinate `of` lies in `window`; none if nothing
/// of its inside does.
pub(super) fn range_within(outline: &[Spot], of: usize, window: (f64, f64)) -> Option<(f64, f64)> {
    let other = 1 - of;
    let own = shadow(outline, if of == 0 { [1.0, 0.0] } else { [0.0, 1.0] });
    let (low, high) = (own.0.max(window.0), own.1.min(window.1));
    if high - low <= TOUCH_MM {
        return None;
    }
    let mut range = (f64::INFINITY, f64::NEG_INFINITY);
    let mut add = |at: f64| range = (range.0.min(at), range.1.max(at));
    for (a, b) in edges(outline) {
        let (Some(&at), Some(&bt), Some(&ao), Some(&bo)) = (a.get(of), b.get(of), a.get(other), b.get(other)) else {
            continue;
        };
        if (low..=high).contains(&at) {
            add(ao);
        }
        for cut in [low, high] {
            if (at - cut) * (bt - cut) < 0.0 {
                add(ao + (bo - ao) * (cut - at) / (bt - at));
            }
        }
    }
    (range.1 - range.0 > TOUCH_MM).then_some(range)
}

/// The lower and upper ends of a polygon over the place `q` of its second coordinate.
pub(super) fn ends_at(outline: &[Spot], q: f64) -> Option<(f64, f64)> {
    let mut ends: Option<(f64, f64)> = None;
    let mut add = |at: f64| ends = Some(ends.map_or((at, at), |(low, high)| (low.min(at), high.max(at))));
    for (a, b) in edges(outline) {
        if a[1] == q {
            add(a[0]);
        }
        if (a[1] - q) * (b[1] - q) < 0.0 {
            add(a[0] + (b[0] - a[0]) * (q - a[1]) / (b[1] - a[1]));
        }
    }
    ends
}

/// By how much two convex polygons overlap at least, along the normals of their edges (separating axes); zero or less if
/// they do not.
pub(crate) fn overlap(a: &[Spot], b: &[Spot]) -> f64 {
    let mut least = f64::INFINITY;
    for (from, to) in edges(a).chain(edges(b)) {
        let (x, y) = (to[1] - from[1], from[0] - to[0]);
        let long = x.hypot(y);
        if long == 0.0 {
            continue;
        }
        let normal = [x / long, y / long];
        let (one, two) = (shadow(a, normal), shadow(b, normal));
        least = least.min(one.1.min(two.1) - one.0.max(two.0));
        if least <= 0.0 {
            return least;
        }
    }
    least
}

/// The distance between two convex polygons, zero if they overlap, with the nearest spot of `b`.
pub(super) fn distance(a: &[Spot], b: &[Spot]) -> (f64, Spot) {
    let first = b.first().copied().unwrap_or_default();
    if overlap(a, b) > 0.0 {
        return (0.0, first);
    }
    let mut best = (f64::INFINITY, first);
    for &corner in a {
        for (from, to) in edges(b) {
            let near = nearest(corner, from, to);
            let far = apart(corner, near);
            if far < best.0 {
                best = (far, near);
            }
        }
    }
    for &corner in b {
        for (from, to) in edges(a) {
            let far = apart(corner, nearest(corner, from, to));
            if far < best.0 {
                best = (far, corner);
            }
        }
    }
    best
}

/// The distance of two spots.
pub(super) fn apart(a: Spot, b: Spot) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// The spot of a straight piece that is nearest to a corner.
pub(super) fn nearest(corner: Spot, from: Spot, to: Spot) -> Spot {
    let along = [to[0] - from[0], to[1] - from[1]];
    let square = along[0] * along[0] + along[1] * along[1];
    if square == 0.0 {
        return from;
    }
    let share = ((corner[0] - from[0]) * along[0] + (corner[1] - from[1]) * along[1]) / square;
    let share = share.clamp(0.0, 1.0);
    [from[0] + along[0] * share, from[1] + along[1] * share]
}

/// A spot turned about a centre, counter-clockwise.
pub(super) fn turned(spot: Spot, centre: Spot, angle_rad: f64) -> Spot {
    let (sin, cos) = angle_rad.sin_cos();
    let (u, v) = (spot[0] - centre[0], spot[1] - centre[1]);
    [centre[0] + u * cos - v * sin, centre[1] + u * sin + v * cos]
}
