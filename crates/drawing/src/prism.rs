//! Bodies that are no boxes: a flat region drawn along an axis, as a board with curves and openings is.

use kurbo::{Point, Vec2};

use crate::region::Region;

/// How far from a curve its straight lines may be, mm: corners that lie so near to one are no edges of the body.
const CURVE_MM: f64 = 0.04;

/// A region drawn along an axis. Its two coordinates are the axes that follow, in turn: Y and Z along X, Z and X along Y,
/// X and Y along Z.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Prism {
    /// 0, 1 or 2 for X, Y and Z.
    pub(crate) axis: usize,
    /// From where to where along it, mm.
    pub(crate) range: (f64, f64),
    /// The region across it, mm.
    pub(crate) region: Region,
}

/// A convex body by its faces: outward normal of unit length, and how far out it reaches along that.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Convex {
    pub(crate) faces: Vec<([f64; 3], f64)>,
    pub(crate) corners: Vec<[f64; 3]>,
}

/// The two axes across an axis, in turn.
pub(crate) const fn across(axis: usize) -> (usize, usize) {
    ((axis + 1) % 3, (axis + 2) % 3)
}

impl Prism {
    /// The point over a point of the region.
    pub(crate) fn over(&self, point: Point, along: f64) -> [f64; 3] {
        placed(self.axis, point.to_vec2(), along)
    }

    /// A point as seen along the axis.
    pub(crate) fn seen(&self, point: [f64; 3]) -> Point {
        let (first, second) = across(self.axis);
        Point::new(part(point, first), part(point, second))
    }

    /// The body moved along an axis of the model.
    pub(crate) fn moved(mut self, along: usize, by: f64) -> Self {
        let (first, second) = across(self.axis);
        if along == self.axis {
            self.range = (self.range.0 + by, self.range.1 + by);
        } else {
            let by = if along == first {
                Vec2::new(by, 0.0)
            } else {
                Vec2::new(0.0, if along == second { by } else { 0.0 })
            };
            self.region = self.region.moved(by);
        }
        self
    }

    /// What lies on one side of a plane across an axis of the model.
    pub(crate) fn kept(&self, plane: usize, at: f64, keeps_smaller: bool) -> Self {
        let mut kept = self.clone();
        if plane == self.axis {
            let (low, high) = &mut kept.range;
            if keeps_smaller { *high = high.min(at) } else { *low = low.max(at) }
        } else {
            kept.region = self.region.kept(plane == across(self.axis).1, at, keeps_smaller);
        }
        kept
    }

    /// The rectangles in which a plane across another axis than its own cuts it: smallest and largest corners.
    pub(crate) fn cut(&self, plane: usize, at: f64) -> Vec<([f64; 3], [f64; 3])> {
        let lying = plane == across(self.axis).1;
        let point = |along: f64| if lying { Point::new(along, at) } else { Point::new(at, along) };
        let met = self.region.met(lying, at).into_iter();
        met.map(|(low, high)| (self.over(point(low), self.range.0), self.over(point(high), self.range.1))).collect()
    }

    /// Its edges: both outlines, what joins them at corners, and where a curve turns away from the viewer.
    pub(crate) fn edges(&self, to_viewer: [f64; 3]) -> Vec<([f64; 3], [f64; 3])> {
        let sight = self.seen(to_viewer).to_vec2();
        let (low, high) = self.range;
        let mut edges = Vec::new();
        for (index, (from, to)) in self.region.borders().iter().enumerate() {
            edges.extend([low, high].map(|at| (self.over(*from, at), self.over(*to, at))));
            let next = self.region.after(index).and_then(|next| self.region.borders().get(next));
            if next.is_none_or(|next| is_edge(*to - *from, next.1 - next.0, sight)) {
                edges.push((self.over(*to, low), self.over(*to, high)));
            }
        }
        edges
    }

    /// Convex bodies that together fill it.
    pub(crate) fn convex(&self) -> Vec<Convex> {
        let (low, high) = self.range;
        let ends = [(placed(self.axis, Vec2::ZERO, -1.0), -low), (placed(self.axis, Vec2::ZERO, 1.0), high)];
        let pieces = self.region.pieces().into_iter();
        pieces
            .map(|piece| Convex {
                faces: piece
                    .sides
                    .iter()
                    .map(|(normal, reach)| (placed(self.axis, *normal, 0.0), *reach))
                    .chain(ends)
                    .collect(),
                corners: piece.corners.iter().flat_map(|it| [self.over(*it, low), self.over(*it, high)]).collect(),
            })
            .collect()
    }
}

/// A point or direction by what it is across an axis and along it.
fn placed(axis: usize, across_it: Vec2, along: f64) -> [f64; 3] {
    let (first, second) = across(axis);
    std::array::from_fn(|it| match it {
        _ if it == first => across_it.x,
        _ if it == second => across_it.y,
        _ => along,
    })
}

fn part(point: [f64; 3], axis: usize) -> f64 {
    point.get(axis).copied().unwrap_or_default()
}

/// Whether two borders that follow one another meet in an edge of the body: in a corner, or on a curve where it turns away
/// from the viewer.
fn is_edge(one: Vec2, next: Vec2, sight: Vec2) -> bool {
    let turn = one.cross(next).atan2(one.dot(next)).abs();
    // What a chord would be off an arc that turns so much over its length.
    if turn * one.hypot().min(next.hypot()) / 8.0 > CURVE_MM {
        return true;
    }
    // With the body on the left, outwards is to the right.
    let faces = |border: Vec2| border.normalize().cross(sight) < -1e-9;
    faces(one) != faces(next)
}
