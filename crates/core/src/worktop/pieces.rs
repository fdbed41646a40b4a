//! A worktop in pieces that are butted across its length: what each must be cut from, and its area and edges.

use kurbo::{PathEl, Point, Rect};

use super::outline::{Outline, OutlineError, Side};
use crate::design::TopShape;
use crate::length::Length;

/// How near straight lines keep to the curves, millimetres.
const FLAT_MM: f64 = 0.02;

/// One piece of a slab.
#[derive(Clone, Debug, PartialEq)]
pub struct TopPiece {
    /// The box round it in plan, which its blank must have.
    pub blank: Rect,
    /// Its edge in plan, closed, in straight lines of at most 0.02 mm off the curve.
    pub edge: Vec<Point>,
    /// Openings in it, in straight lines.
    pub openings: Vec<Vec<Point>>,
    /// Area without the openings, square millimetres.
    pub area: f64,
    /// Lengths of the front, and of the ends that are ends of the slab.
    pub lengths: Vec<(Side, f64)>,
}

/// The pieces of an outline from left to right: one, or one more than there are joints.
///
/// # Errors
/// Joints that are not in order, or not on the slab.
pub fn pieces(outline: &Outline, shape: Option<&TopShape<Length>>) -> Result<Vec<TopPiece>, OutlineError> {
    let slab = outline.slab;
    let joints: Vec<f64> = shape.iter().flat_map(|it| &it.joints).map(|it| slab.x0 + it.mm()).collect();
    let cuts: Vec<f64> = std::iter::once(slab.x0).chain(joints).chain([slab.x1]).collect();
    if let Some(at) = cuts.windows(2).position(|pair| matches!(pair, [a, b] if b <= a)) {
        return Err(OutlineError::JointNotInOrder((at + 1).min(cuts.len() - 2)));
    }
    let edge = flat(outline.edge.elements());
    let openings: Vec<Vec<Point>> = outline.cut_outs.iter().map(|(_, path, _)| flat(path.elements())).collect();
    let sides: Vec<(Side, Vec<Point>)> =
        outline.sides.iter().map(|(side, path)| (*side, flat(path.elements()))).collect();
    let piece = |pair: &[f64]| {
        let &[from, to] = pair else { return None };
        let edge = between(&edge, from, to);
        let openings: Vec<Vec<Point>> =
            openings.iter().map(|it| between(it, from, to)).filter(|it| area(it) > 0.0).collect();
        let (low, high) =
            edge.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| (low.min(it.y), high.max(it.y)));
        let lengths = sides.iter().map(|(side, line)| (*side, run(line, from, to))).collect();
        let open: f64 = openings.iter().map(|it| area(it)).sum();
        Some(TopPiece { blank: Rect::new(from, low, to, high), area: area(&edge) - open, edge, openings, lengths })
    };
    Ok(cuts.windows(2).filter_map(piece).collect())
}

/// A path in straight lines.
pub(super) fn flat(path: &[PathEl]) -> Vec<Point> {
    let mut points: Vec<Point> = Vec::new();
    kurbo::flatten(path.iter().copied(), FLAT_MM, |element| {
        if let PathEl::MoveTo(point) | PathEl::LineTo(point) = element {
            points.push(point);
        }
    });
    points
}

/// What of a closed line lies between two places along the wall (Sutherland and Hodgman 1974, for the two sides of a strip).
fn between(line: &[Point], from: f64, to: f64) -> Vec<Point> {
    let right = half(line, |it| it.x - from);
    half(&right, |it| to - it.x)
}

fn half(line: &[Point], inside: impl Fn(&Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::new();
    let next = line.iter().skip(1).chain(line.first());
    for (a, b) in line.iter().zip(next) {
        let (one, two) = (inside(a), inside(b));
        if one >= 0.0 {
            kept.push(*a);
        }
        if (one >= 0.0) != (two >= 0.0) {
            kept.push(a.lerp(*b, one / (one - two)));
        }
    }
    kept
}

/// The area within a closed line: half the sum of the crosses of its corners.
fn area(line: &[Point]) -> f64 {
    let next = line.iter().skip(1).chain(line.first());
    line.iter().zip(next).map(|(a, b)| a.x * b.y - a.y * b.x).sum::<f64>().abs() / 2.0
}

/// The length of an open line between two places along the wall; a line across counts where it lies.
fn run(line: &[Point], from: f64, to: f64) -> f64 {
    let share = |a: &Point, b: &Point| {
        let (low, high) = (a.x.min(b.x), a.x.max(b.x));
        if high - low < 1e-9 {
            return f64::from(u8::from(low >= from - 1e-6 && low <= to + 1e-6));
        }
        (high.min(to) - low.max(from)).max(0.0) / (high - low)
    };
    line.windows(2).map(|pair| if let [a, b] = pair { a.distance(*b) * share(a, b) } else { 0.0 }).sum()
}
