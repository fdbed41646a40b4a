//! Hidden lines of boxes and of boards with curves and openings, exact for any parallel projection.
//!
//! A point of an edge is hidden when the ray from it to the viewer passes through the inside of a body. Along an edge,
//! with s from start to end and t along the ray, the inside of a box is a set of linear inequalities in s and t; a box
//! is convex, so it hides one interval of s, found by eliminating t. No sampling and no crossing search is needed. A
//! board that is no box is taken as convex pieces, each the same with other inequalities.

use std::collections::BTreeMap;

use kurbo::{Point, Rect, Vec2};

use crate::areas::Areas;
use crate::prism::{Convex, Prism};
use crate::view::Axes;

/// An axis-aligned box in model millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Solid {
    /// The corner with the smallest coordinates.
    pub(crate) min: [f64; 3],
    /// The corner with the largest coordinates.
    pub(crate) max: [f64; 3],
}

/// What is drawn, or hides what lies behind it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Body {
    /// A box.
    Box(Solid),
    /// A board with a shape, and the convex pieces that hide.
    Prism(Prism, Vec<Convex>),
}

impl From<Prism> for Body {
    fn from(prism: Prism) -> Self {
        let convex = prism.convex();
        Self::Prism(prism, convex)
    }
}

impl Body {
    fn edges(&self, to_viewer: [f64; 3]) -> Vec<([f64; 3], [f64; 3])> {
        match self {
            Self::Box(solid) => box_edges(solid).to_vec(),
            Self::Prism(prism, _) => prism.edges(to_viewer),
        }
    }

    /// Whether it lies between a point and the viewer.
    pub(crate) fn hides(&self, point: [f64; 3], to_viewer: [f64; 3]) -> bool {
        match self {
            Self::Box(solid) => hidden_by_box(point, [0.0; 3], to_viewer, solid).is_some(),
            Self::Prism(_, convex) => {
                convex.iter().any(|it| hidden_by_convex(point, [0.0; 3], to_viewer, it).is_some())
            }
        }
    }

    /// Whether a point on one of its faces, across an axis of the model, is not in an opening or beside a curve.
    pub(crate) fn has(&self, face: usize, point: [f64; 3]) -> bool {
        match self {
            Self::Box(_) => true,
            Self::Prism(prism, _) => face == prism.axis && prism.region.contains(prism.seen(point)),
        }
    }

    /// The body moved along an axis of the model.
    pub(crate) fn moved(self, along: usize, by: f64) -> Self {
        match self {
            Self::Box(mut solid) => {
                for corner in [&mut solid.min, &mut solid.max] {
                    if let Some(at) = corner.get_mut(along) {
                        *at += by;
                    }
                }
                Self::Box(solid)
            }
            Self::Prism(prism, _) => prism.moved(along, by).into(),
        }
    }
}

/// A convex body that hides.
enum Hider<'a> {
    Box(Solid),
    Convex(&'a Convex),
}

impl Hider<'_> {
    fn bounds(&self, screen: &Screen) -> Rect {
        match self {
            Self::Box(solid) => screen.bounds(&corners(solid)),
            Self::Convex(convex) => screen.bounds(&convex.corners),
        }
    }
}

fn hiders(bodies: &[Body]) -> Vec<Hider<'_>> {
    let mut all = Vec::new();
    for body in bodies {
        match body {
            Body::Box(solid) => all.push(Hider::Box(*solid)),
            Body::Prism(_, convex) => all.extend(convex.iter().map(Hider::Convex)),
        }
    }
    all
}

/// A piece of an edge that is hidden or visible throughout.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct EdgePiece {
    /// Where it begins, in model millimetres.
    pub(crate) from: [f64; 3],
    /// Where it ends.
    pub(crate) to: [f64; 3],
    /// Index of its body.
    pub(crate) owner: usize,
    /// Whether nothing lies between it and the viewer.
    pub(crate) visible: bool,
}

/// A straight line of a view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ViewLine {
    /// Where it begins, in the view's millimetres.
    pub(crate) from: Point,
    /// Where it ends.
    pub(crate) to: Point,
    /// Index of the body that it is an edge of.
    pub(crate) owner: usize,
    /// Whether nothing lies between it and the viewer.
    pub(crate) visible: bool,
}

/// Bodies hide only what lies at least so far inside their outline, in millimetres: what is flush is not hidden.
const SKIN_MM: f64 = 1e-4;
/// Pieces shorter than this are dropped, in millimetres.
const LEAST_MM: f64 = 1e-3;

/// All edges of all bodies, cut into visible and hidden pieces. `to_viewer` points from the model to the viewer.
/// Edges that run along the line of sight are left out.
#[must_use]
#[cfg(test)]
fn edge_pieces(bodies: &[Body], to_viewer: [f64; 3]) -> Vec<EdgePiece> {
    edge_pieces_behind(bodies, bodies, to_viewer)
}

/// All edges of some bodies, cut where others hide them.
#[must_use]
pub(crate) fn edge_pieces_behind(subjects: &[Body], bodies: &[Body], to_viewer: [f64; 3]) -> Vec<EdgePiece> {
    let screen = Screen::across(to_viewer);
    let hiders = hiders(bodies);
    // Most pairs of an edge and a body lie apart on the screen already.
    let mut areas = Areas::of(hiders.iter().map(|hider| hider.bounds(&screen)).collect());
    let mut pieces = Vec::new();
    for (owner, body) in subjects.iter().enumerate() {
        for (from, to) in body.edges(to_viewer) {
            let run = minus(to, from);
            if is_parallel(run, to_viewer) || length(run) < LEAST_MM {
                continue;
            }
            let own = screen.bounds(&[from, to]).inflate(SKIN_MM, SKIN_MM);
            let mut hidden: Vec<(f64, f64)> = areas
                .meeting(own)
                .filter_map(|other| hidden_interval(from, run, to_viewer, hiders.get(other)?))
                .collect();
            hidden.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
            let least = LEAST_MM / length(run);
            let mut add = |start: f64, end: f64, visible: bool| {
                if end - start > least {
                    pieces.push(EdgePiece { from: at(from, run, start), to: at(from, run, end), owner, visible });
                }
            };
            let mut seen_to = 0.0_f64;
            let mut merged: Vec<(f64, f64)> = Vec::new();
            for (start, end) in hidden {
                match merged.last_mut() {
                    Some(last) if start <= last.1 + least => last.1 = last.1.max(end),
                    _ => merged.push((start, end)),
                }
            }
            for (start, end) in merged {
                add(seen_to, start, true);
                add(start, end, false);
                seen_to = end;
            }
            add(seen_to, 1.0, true);
        }
    }
    pieces
}

/// The lines of a view of the bodies: where pieces lie on one another, the line is drawn once, visible before hidden
/// and the body nearer the viewer before the one behind.
#[must_use]
pub(crate) fn view_lines(bodies: &[Body], axes: Axes) -> Vec<ViewLine> {
    view_lines_behind(bodies, bodies, axes)
}

/// The lines of a view of some bodies, where others may hide them.
#[must_use]
pub(crate) fn view_lines_behind(subjects: &[Body], bodies: &[Body], axes: Axes) -> Vec<ViewLine> {
    let sight = axes.to_viewer();
    let mut pieces: Vec<(f64, EdgePiece)> =
        edge_pieces_behind(subjects, bodies, sight).into_iter().map(|piece| (nearness(&piece, sight), piece)).collect();
    pieces.sort_by(|(near_a, a), (near_b, b)| {
        b.visible.cmp(&a.visible).then(near_b.total_cmp(near_a)).then(a.owner.cmp(&b.owner))
    });
    let mut drawn = Drawn::default();
    for (_, piece) in pieces {
        drawn.add(ViewLine {
            from: axes.project(piece.from),
            to: axes.project(piece.to),
            owner: piece.owner,
            visible: piece.visible,
        });
    }
    drawn.lines
}

/// How near the viewer the middle of a piece is.
fn nearness(piece: &EdgePiece, sight: [f64; 3]) -> f64 {
    dot(piece.from, sight) + dot(piece.to, sight)
}

/// The lines of a view so far, found again by the endless straight line that they lie on.
#[derive(Default)]
struct Drawn {
    lines: Vec<ViewLine>,
    by_carrier: BTreeMap<(i64, i64), Vec<ViewLine>>,
}

/// Steps in which the direction (radians) and the distance from the origin (millimetres) of a carrier are counted: far
/// coarser than rounding errors. What lies near the border of two steps is looked for in both.
const CARRIER_STEPS: (f64, f64) = (1e-5, 0.1);
/// How near a border counts as near, in steps.
const BORDER: f64 = 0.05;

impl Drawn {
    /// Adds the parts of a line that no line before covers.
    fn add(&mut self, line: ViewLine) {
        let run = line.to - line.from;
        let whole = run.hypot();
        if whole < LEAST_MM {
            return;
        }
        let unit = run / whole;
        let carrier = Carrier::through(line.from, unit);
        let near: Vec<&ViewLine> = carrier.keys().filter_map(|key| self.by_carrier.get(&key)).flatten().collect();
        let fresh = uncovered(&line, unit, whole, &near);
        self.by_carrier.entry(carrier.key()).or_default().extend(fresh.iter().copied());
        self.lines.extend(fresh);
    }
}

/// An endless straight line: its direction within a half turn, and its signed distance from the origin, in steps.
struct Carrier {
    direction: f64,
    distance: f64,
}

impl Carrier {
    fn through(from: Point, unit: Vec2) -> Self {
        let half_turn = (std::f64::consts::PI / CARRIER_STEPS.0).round();
        let direction = unit.atan2() / CARRIER_STEPS.0;
        let distance = unit.cross(from.to_vec2()) / CARRIER_STEPS.1;
        // From 0 to a half turn; turned round, the distance changes its sign.
        if direction < -0.5 {
            Self { direction: direction + half_turn, distance: -distance }
        } else if direction >= half_turn - 0.5 {
            Self { direction: direction - half_turn, distance: -distance }
        } else {
            Self { direction, distance }
        }
    }

    fn key(&self) -> (i64, i64) {
        (self.direction.round() as i64, self.distance.round() as i64)
    }

    /// Where lines on the same carrier may be kept.
    fn keys(&self) -> impl Iterator<Item = (i64, i64)> {
        let both = |value: f64| [(value - BORDER).round() as i64, (value + BORDER).round() as i64];
        let (directions, distances) = (both(self.direction), both(self.distance));
        let distinct = |[a, b]: [i64; 2]| std::iter::once(a).chain((b != a).then_some(b));
        distinct(directions).flat_map(move |direction| distinct(distances).map(move |distance| (direction, distance)))
    }
}

/// The parts of a line that no other covers. `unit` is its direction and `whole` its length.
fn uncovered(line: &ViewLine, unit: Vec2, whole: f64, others: &[&ViewLine]) -> Vec<ViewLine> {
    let mut covered: Vec<(f64, f64)> = others
        .iter()
        .filter_map(|other| {
            let (a, b) = (other.from - line.from, other.to - line.from);
            if unit.cross(a).abs().max(unit.cross(b).abs()) > LEAST_MM {
                return None;
            }
            let (a, b) = (unit.dot(a), unit.dot(b));
            let (start, end) = (a.min(b).max(0.0), a.max(b).min(whole));
            (end > start).then_some((start, end))
        })
        .collect();
    covered.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut fresh = Vec::new();
    let mut reached = 0.0_f64;
    for (start, end) in covered.into_iter().chain([(whole, whole)]) {
        if start - reached > LEAST_MM {
            fresh.push(ViewLine { from: line.from + unit * reached, to: line.from + unit * start, ..*line });
        }
        reached = reached.max(end);
    }
    fresh
}

/// The interval of s in which the points from + s run are hidden by a convex body, within 0 to 1.
fn hidden_interval(from: [f64; 3], run: [f64; 3], to_viewer: [f64; 3], hider: &Hider<'_>) -> Option<(f64, f64)> {
    match hider {
        Hider::Box(solid) => hidden_by_box(from, run, to_viewer, solid),
        Hider::Convex(convex) => hidden_by_convex(from, run, to_viewer, convex),
    }
}

/// The same for a convex body by its faces.
fn hidden_by_convex(from: [f64; 3], run: [f64; 3], to_viewer: [f64; 3], convex: &Convex) -> Option<(f64, f64)> {
    let mut interval = Interval { low: 0.0, high: 1.0 };
    // As for a box: t over each of `above` and under each of `below`.
    let mut above = vec![(0.0, 0.0)];
    let mut below: Vec<(f64, f64)> = Vec::new();
    for (normal, reach) in &convex.faces {
        let inside = reach - SKIN_MM - dot(*normal, from);
        let (slope, sight) = (dot(*normal, run), dot(*normal, to_viewer));
        if sight.abs() < 1e-12 {
            interval.keep_positive(inside, -slope);
        } else if sight > 0.0 {
            below.push((inside / sight, -slope / sight));
        } else {
            above.push((inside / sight, -slope / sight));
        }
    }
    for leave in &below {
        for enter in &above {
            interval.keep_positive(leave.0 - enter.0, leave.1 - enter.1);
        }
    }
    (interval.high > interval.low).then_some((interval.low, interval.high))
}

/// The same for a box.
fn hidden_by_box(from: [f64; 3], run: [f64; 3], to_viewer: [f64; 3], solid: &Solid) -> Option<(f64, f64)> {
    let mut interval = Interval { low: 0.0, high: 1.0 };
    // t must lie over each of `above` and under each of `below`, all linear in s: (value at 0, slope).
    let mut above = [(0.0, 0.0); 4];
    let mut below = [(0.0, 0.0); 3];
    let mut sloping = 0;
    for axis in 0..3 {
        let (low, high) = (solid.min[axis] + SKIN_MM, solid.max[axis] - SKIN_MM);
        let (start, slope, sight) = (from[axis], run[axis], to_viewer[axis]);
        if sight == 0.0 {
            interval.keep_positive(start - low, slope);
            interval.keep_positive(high - start, -slope);
            continue;
        }
        let bound = |limit: f64| ((limit - start) / sight, -slope / sight);
        let (enter, leave) = if sight > 0.0 { (bound(low), bound(high)) } else { (bound(high), bound(low)) };
        above[sloping + 1] = enter;
        below[sloping] = leave;
        sloping += 1;
    }
    for leave in &below[..sloping] {
        for enter in &above[..=sloping] {
            interval.keep_positive(leave.0 - enter.0, leave.1 - enter.1);
        }
    }
    (interval.high > interval.low).then_some((interval.low, interval.high))
}

struct Interval {
    low: f64,
    high: f64,
}

impl Interval {
    /// Keeps only the s at which value + slope s is above zero.
    fn keep_positive(&mut self, value: f64, slope: f64) {
        if slope == 0.0 {
            if value <= 0.0 {
                self.high = self.low;
            }
        } else if slope > 0.0 {
            self.low = self.low.max(-value / slope);
        } else {
            self.high = self.high.min(-value / slope);
        }
    }
}

/// The eight corners; the bits of the index say where the larger coordinate is taken.
fn corners(solid: &Solid) -> [[f64; 3]; 8] {
    std::array::from_fn(|bits| {
        std::array::from_fn(|axis| if bits >> axis & 1 == 1 { solid.max[axis] } else { solid.min[axis] })
    })
}

/// The twelve edges, along X, Y and Z in turn.
fn box_edges(solid: &Solid) -> [([f64; 3], [f64; 3]); 12] {
    const ENDS: [(usize, usize); 12] =
        [(0, 1), (2, 3), (4, 5), (6, 7), (0, 2), (1, 3), (4, 6), (5, 7), (0, 4), (1, 5), (2, 6), (3, 7)];
    let corners = corners(solid);
    ENDS.map(|(from, to)| (corners[from], corners[to]))
}

/// A plane across the line of sight, for telling quickly what lies apart.
struct Screen {
    right: [f64; 3],
    up: [f64; 3],
}

impl Screen {
    fn across(sight: [f64; 3]) -> Self {
        // Any direction that is not the line of sight serves as up.
        let helper = if sight[0] == 0.0 && sight[2] == 0.0 { [0.0, 0.0, 1.0] } else { [0.0, 1.0, 0.0] };
        let right = cross(helper, sight);
        Self { right, up: cross(sight, right) }
    }

    fn bounds(&self, points: &[[f64; 3]]) -> Rect {
        let mut all = Rect::new(f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        for point in points {
            let (x, y) = (dot(*point, self.right), dot(*point, self.up));
            all = Rect::new(all.x0.min(x), all.y0.min(y), all.x1.max(x), all.y1.max(y));
        }
        all
    }
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn minus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn at(from: [f64; 3], run: [f64; 3], share: f64) -> [f64; 3] {
    [from[0] + run[0] * share, from[1] + run[1] * share, from[2] + run[2] * share]
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn length(a: [f64; 3]) -> f64 {
    dot(a, a).sqrt()
}

fn is_parallel(a: [f64; 3], b: [f64; 3]) -> bool {
    length(cross(a, b)) <= 1e-9 * length(a) * length(b)
}

#[cfg(test)]
#[path = "../tests/inside/hidden.rs"]
mod tests;
