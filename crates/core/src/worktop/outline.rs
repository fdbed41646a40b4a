//! The outline: rear along the wall, right end, front with its step and corners, left end; and the cut-outs.

use kurbo::{Arc, BezPath, ParamCurve, ParamCurveDeriv, PathSeg, Point, Rect, Shape, Vec2};

use super::transition::{push_arc, reverse_curve};
use super::wall_curve::{WallCurve, WallCurveError, wall_curve};
use crate::assembly::Assembly;
use crate::design::{Resolved, Role, TopShape};
use crate::geometry::Axis;

/// How near the curve of a wall keeps to its stations where the design does not say, millimetres.
const WITHIN_MM: f64 = 0.5;

/// An outline in plan, millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The outer edge, counter-clockwise as seen with y up (which is from below), closed.
    pub edge: BezPath,
    /// The edge in its sides: rear, right, front, left.
    pub sides: Vec<(Side, BezPath)>,
    /// The openings, by what goes in.
    pub cut_outs: Vec<(String, BezPath, f64)>,
    /// How far the rear edge is from the measured stations at most.
    pub deviation: f64,
    /// The straight box that the slab has without its shape.
    pub slab: Rect,
}

/// A side of a worktop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// At the wall behind.
    Rear,
    /// The right end.
    Right,
    /// Towards the person, with its corners.
    Front,
    /// The left end.
    Left,
}

impl Outline {
    /// Area without the cut-outs, square millimetres.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.edge.area().abs() - self.cut_outs.iter().map(|(_, path, _)| path.area().abs()).sum::<f64>()
    }

    /// Length of one side, millimetres.
    #[must_use]
    pub fn length(&self, side: Side) -> f64 {
        self.sides.iter().filter(|(it, _)| *it == side).map(|(_, path)| path.perimeter(1e-4)).sum()
    }

    /// The tightest inner radius of the outer edge, which a router bit must get into; none if it bends outwards only.
    #[must_use]
    pub fn least_inner_radius(&self) -> Option<f64> {
        let turning = self.edge.area().signum();
        let mut least: Option<f64> = None;
        for segment in self.edge.segments() {
            let PathSeg::Cubic(cubic) = segment else { continue };
            for step in 0..=32 {
                let t = f64::from(step) / 32.0;
                let (first, second) = (cubic.deriv().eval(t).to_vec2(), cubic.deriv().deriv().eval(t).to_vec2());
                let bend = first.cross(second) / first.hypot().powi(3) * turning;
                // Bent against the sense of the outline: hollow.
                if bend < -1e-6 {
                    least = Some(least.map_or(-1.0 / bend, |it| it.min(-1.0 / bend)));
                }
            }
        }
        least
    }
}

/// The outline of the worktop of a piece; none if it has none.
///
/// # Errors
/// Stations of the wall that make no curve.
pub fn outline(design: &Resolved, assembly: &Assembly) -> Result<Option<Outline>, WallCurveError> {
    let Some(slab) = assembly.parts.iter().find(|part| part.role == Role::Worktop) else { return Ok(None) };
    let Some(worktop) = &design.carcass.worktop else { return Ok(None) };
    let range = |axis: Axis| {
        let (from, to) = slab.cuboid.range(axis);
        (from.mm(), to.mm())
    };
    let ((x0, x1), (y0, y1)) = (range(Axis::X), range(Axis::Z));
    let slab = Rect::new(x0, y0, x1, y1);
    let plain = TopShape {
        wall: Vec::new(),
        within: None,
        corners: (None, None),
        step: None,
        cut_outs: Vec::new(),
        router_bit: None,
    };
    shaped(slab, worktop.shape.as_ref().unwrap_or(&plain)).map(Some)
}

/// The outline of a slab with a shape.
///
/// # Errors
/// Stations of the wall that make no curve.
pub(super) fn shaped(slab: Rect, shape: &TopShape<crate::length::Length>) -> Result<Outline, WallCurveError> {
    let (rear, deviation) = rear(slab, shape)?;
    let ends = |path: &BezPath| {
        let point = |at: Option<PathSeg>, t: f64| at.map(|it| it.eval(t)).unwrap_or_default();
        (point(path.segments().next(), 0.0), point(path.segments().last(), 1.0))
    };
    let (rear_left, rear_right) = ends(&rear);
    let front = front(slab, shape);
    let (front_right, front_left) = ends(&front);
    let line = |from: Point, to: Point| {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        path
    };
    let sides = vec![
        (Side::Rear, rear),
        (Side::Right, line(rear_right, front_right)),
        (Side::Front, front),
        (Side::Left, line(front_left, rear_left)),
    ];
    let mut edge = BezPath::new();
    for (_, side) in &sides {
        for (at, element) in side.elements().iter().enumerate() {
            if at > 0 || edge.elements().is_empty() {
                edge.push(*element);
            }
        }
    }
    edge.close_path();
    let cut_outs = shape
        .cut_outs
        .iter()
        .map(|it| {
            let corner = Point::new(slab.x0 + it.corner.0.mm(), slab.y0 + it.corner.1.mm());
            let rect = Rect::from_origin_size(corner, (it.size.0.mm(), it.size.1.mm()));
            let radius = it.radius.mm().min(rect.width() / 2.0).min(rect.height() / 2.0);
            (it.name.clone(), rect.to_rounded_rect(radius).to_path(super::transition::ARC_ACCURACY), radius)
        })
        .collect();
    Ok(Outline { edge, sides, cut_outs, deviation, slab })
}

/// The rear edge from left to right: along the wall, or straight.
fn rear(slab: Rect, shape: &TopShape<crate::length::Length>) -> Result<(BezPath, f64), WallCurveError> {
    if shape.wall.is_empty() {
        let mut path = BezPath::new();
        path.move_to((slab.x0, slab.y0));
        path.line_to((slab.x1, slab.y0));
        return Ok((path, 0.0));
    }
    let stations: Vec<(f64, f64)> = shape.wall.iter().map(|(at, off)| (at.mm(), off.mm())).collect();
    let curve: WallCurve = wall_curve(&stations, shape.within.map_or(WITHIN_MM, |it| it.mm()))?;
    // The stations tell how far the wall stands out of the site's line, which is where the slab ends without it.
    Ok((curve.path(slab.x0, slab.x1), curve.deviation))
}

/// The front edge from right to left, with its corners.
fn front(slab: Rect, shape: &TopShape<crate::length::Length>) -> BezPath {
    let step = shape.step.as_ref().map(|it| (it.from.mm(), it.length.mm(), it.out.mm()));
    let right_depth = slab.y1 + step.map_or(0.0, |it| it.2);
    let most = slab.width().min(slab.height()) / 2.0;
    let radius = |it: Option<crate::length::Length>| it.map_or(0.0, |it| it.mm()).clamp(0.0, most);
    let (left, right) = (radius(shape.corners.0), radius(shape.corners.1));
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
    path
}
