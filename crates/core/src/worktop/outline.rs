//! The outline: rear along the wall, right end, front, left end; and the cut-outs.

use kurbo::{BezPath, ParamCurve, ParamCurveDeriv, PathSeg, Point, Rect, Shape};
use thiserror::Error;

use super::front::front;
use super::pieces::flat;
use super::wall_curve::{WallCurve, WallCurveError, wall_curve};
use crate::design::{CutOut, Resolved, TopShape};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;
use crate::unit::{DecimalMark, Unit, Written};

/// What is nearer to an end of the slab lies at it, millimetres.
const END_MM: f64 = 1e-6;

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

/// Why a shape makes no outline. Points and joints are counted from 1.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum OutlineError {
    /// Stations of the wall that make no curve.
    #[error(transparent)]
    Wall(#[from] WallCurveError),
    /// A transition with both a length and a radius, or with neither.
    #[error("the transition of the front takes either a length or a radius")]
    StepUnclear,
    /// Arcs of this radius cannot move by so much.
    #[error("two arcs of radius {0} cannot move the front by so much: take a radius of half the step or more")]
    StepOfRadius(Written),
    /// A transition that ends beyond the slab.
    #[error("the transition of the front is {0} long and ends beyond the right end")]
    StepTooLong(Written),
    /// Both ways of shaping the front.
    #[error("the front has points and a step: write the step as points, or leave the points out")]
    StepAndFront,
    /// A point that lies left of the one before it, or on it.
    #[error("point {0} of the front lies left of the one before it, or on it: list them from left to right")]
    FrontNotInOrder(usize),
    /// A point beyond the slab's ends, or behind its rear edge.
    #[error("point {0} of the front lies beyond an end of the worktop, or behind it")]
    FrontOutside(usize),
    /// The wall as measured, or an edge drawn in too far, leaves nothing of the worktop somewhere.
    #[error(
        "the front of the worktop comes behind its rear edge: measure the wall over the whole length of the worktop"
    )]
    NoDepth,
    /// A corner that cannot be rounded like that.
    #[error(
        "there is no room to round corner {0} of the front: take a smaller radius, or straight lines on both sides of it"
    )]
    NoRoomToRound(usize),
    /// A front corner that has no room for its radius, with the largest that has.
    #[error(
        "the front corner of the worktop at the {side} has no room for R{}: its radius may be {largest} at most",
        .radius.unit.format(.radius.length, DecimalMark::Point)
    )]
    CornerTooRound {
        /// Left or right.
        side: &'static str,
        /// What the design asks for.
        radius: Written,
        /// What there is room for.
        largest: Written,
    },
    /// An opening that has no room for the radius of its corners, with the largest that has.
    #[error(
        "the opening for {name} in the worktop has no room for corners of R{}: their radius may be {largest} at most",
        .radius.unit.format(.radius.length, DecimalMark::Point)
    )]
    CutOutTooRound {
        /// What goes in.
        name: String,
        /// What the design asks for.
        radius: Written,
        /// What there is room for: half the smaller side.
        largest: Written,
    },
    /// A joint that is not on the slab or not in order.
    #[error("joint {0} of the worktop does not lie on it, or not right of the one before it")]
    JointNotInOrder(usize),
}

/// The straight box of the worktop over an envelope with its overhangs; none if there is no worktop.
#[must_use]
pub fn slab(design: &Resolved, envelope: &Cuboid) -> Option<Cuboid> {
    let worktop = design.carcass.worktop.as_ref()?;
    let thickness = design.materials.get(&worktop.board)?.thickness;
    let over = &worktop.overhang;
    let by = |overhang: Option<Length>| overhang.unwrap_or_default();
    Some(Cuboid::from_ranges(
        (envelope.min.x - by(over.left), envelope.max.x + by(over.right)),
        (envelope.max.y - thickness, envelope.max.y),
        (envelope.min.z - by(over.rear), envelope.max.z + by(over.front)),
    ))
}

/// The outline of the worktop of a piece with this envelope; none if it has none.
///
/// # Errors
/// See [`OutlineError`].
pub fn outline(design: &Resolved, envelope: &Cuboid) -> Result<Option<Outline>, OutlineError> {
    let (Some(slab), Some(worktop)) = (slab(design, envelope), &design.carcass.worktop) else { return Ok(None) };
    let range = |axis: Axis| {
        let (from, to) = slab.range(axis);
        (from.mm(), to.mm())
    };
    let ((x0, x1), (y0, y1)) = (range(Axis::X), range(Axis::Z));
    let shape = worktop.shape.clone().unwrap_or_default();
    shaped(Rect::new(x0, y0, x1, y1), &shape, design.unit).map(Some)
}

/// The outline of a slab with a shape.
///
/// # Errors
/// See [`OutlineError`]; lengths are said in `unit`.
pub(super) fn shaped(slab: Rect, shape: &TopShape<Length>, unit: Unit) -> Result<Outline, OutlineError> {
    let (rear, deviation) = rear(slab, shape)?;
    let ends = |path: &BezPath| {
        let point = |at: Option<PathSeg>, t: f64| at.map(|it| it.eval(t)).unwrap_or_default();
        (point(path.segments().next(), 0.0), point(path.segments().last(), 1.0))
    };
    let (rear_left, rear_right) = ends(&rear);
    let front = front(slab, shape, (rear_left.y, rear_right.y), unit)?;
    if !keeps_apart(&rear, &front) {
        return Err(OutlineError::NoDepth);
    }
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
    let cut_outs = shape.cut_outs.iter().map(|it| cut_out(slab, it, unit)).collect::<Result<_, _>>()?;
    Ok(Outline { edge, sides, cut_outs, deviation, slab })
}

/// An opening with its name, its outline and the radius of its corners.
fn cut_out(slab: Rect, it: &CutOut<Length>, unit: Unit) -> Result<(String, BezPath, f64), OutlineError> {
    let largest = it.size.0.min(it.size.1).half();
    if it.radius > largest {
        let (radius, largest) = (unit.written(it.radius), unit.written(largest));
        return Err(OutlineError::CutOutTooRound { name: it.name.clone(), radius, largest });
    }
    let corner = Point::new(slab.x0 + it.corner.0.mm(), slab.y0 + it.corner.1.mm());
    let rect = Rect::from_origin_size(corner, (it.size.0.mm(), it.size.1.mm()));
    let radius = it.radius.mm();
    Ok((it.name.clone(), rect.to_rounded_rect(radius).to_path(super::transition::ARC_ACCURACY), radius))
}

/// Whether the front stays before the rear edge all along.
fn keeps_apart(rear: &BezPath, front: &BezPath) -> bool {
    let (rear, front) = (flat(rear.elements()), flat(front.elements()));
    let ends = rear.iter().chain(&front).map(|it| it.x);
    let (x0, x1) = ends.fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)));
    // Both edges are straight between these places.
    let places = rear.iter().chain(&front).map(|it| it.x);
    let at = |line: &[Point], x: f64| -> Vec<f64> {
        let across = |pair: &[Point]| {
            let &[a, b] = pair else { return None };
            let inside = x >= a.x.min(b.x) && x <= a.x.max(b.x);
            let share = if (b.x - a.x).abs() > 1e-9 { (x - a.x) / (b.x - a.x) } else { 0.0 };
            inside.then(|| a.lerp(b, share).y)
        };
        line.windows(2).filter_map(across).collect()
    };
    places.into_iter().all(|x| {
        let (behind, before) = (at(&rear, x), at(&front, x));
        // A corner as round as the slab is deep ends at the rear edge.
        let is_end = (x - x0).abs() < END_MM || (x - x1).abs() < END_MM;
        let least = if is_end { -END_MM } else { 0.0 };
        behind.iter().all(|rear| before.iter().all(|front| front - rear > least))
    })
}

/// The rear edge from left to right: along the wall, or straight.
fn rear(slab: Rect, shape: &TopShape<Length>) -> Result<(BezPath, f64), OutlineError> {
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
