//! The transition between two parallel edges: a reverse curve of two equal arcs, tangent to both edges and to each other.

use kurbo::{Arc, BezPath, PathEl, Point, Shape, Vec2};

/// How closely arcs are drawn, millimetres.
pub(super) const ARC_ACCURACY: f64 = 1e-4;

/// The radius of both arcs of a reverse curve that takes `length` along the edge and moves by `out`: by Pythagoras over
/// one arc, `(r - out/2)² + (length/2)² = r²`, so `r = (length² + out²) / (4 out)`.
#[must_use]
pub fn reverse_curve_radius(length: f64, out: f64) -> f64 {
    (length * length + out * out) / (4.0 * out.abs())
}

/// How far a reverse curve of two arcs of this radius takes along the edge to move by `out`: the same solved for the length,
/// `√(4 r out - out²)`; none where the arcs would have to turn by more than a right angle each.
#[must_use]
pub fn step_length(radius: f64, out: f64) -> Option<f64> {
    let out = out.abs();
    (radius > 0.0 && out <= 2.0 * radius).then(|| (4.0 * radius * out - out * out).sqrt())
}

/// A reverse curve from `start` along +x over `length`, moved by `out` along y. Without `out` it is a straight line.
#[must_use]
pub fn reverse_curve(start: Point, length: f64, out: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(start);
    let end = start + Vec2::new(length, out);
    if out.abs() < 1e-9 {
        path.line_to(end);
        return path;
    }
    let radius = reverse_curve_radius(length, out);
    let sign = out.signum();
    // Each arc turns by this angle.
    let turn = 2.0 * (out.abs() / length).atan();
    let first = Point::new(start.x, start.y + sign * radius);
    let second = Point::new(end.x, end.y - sign * radius);
    let arcs = [
        Arc::new(first, (radius, radius), -sign * std::f64::consts::FRAC_PI_2, sign * turn, 0.0),
        Arc::new(second, (radius, radius), sign * std::f64::consts::FRAC_PI_2 + sign * turn, -sign * turn, 0.0),
    ];
    for arc in arcs {
        push_arc(&mut path, &arc);
    }
    path
}

/// Continues a path with an arc that begins where the path ends.
pub(super) fn push_arc(path: &mut BezPath, arc: &Arc) {
    for element in arc.path_elements(ARC_ACCURACY) {
        if !matches!(element, PathEl::MoveTo(_)) {
            path.push(element);
        }
    }
}
