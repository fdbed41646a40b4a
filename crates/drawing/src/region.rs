//! Flat regions with openings, in straight lines: what is left when something is cut out or away, and their convex pieces.
//!
//! A region is kept as the lines of its border, each with the region on its left; a point is inside when a ray from it
//! crosses the border an odd number of times. So no line has to know which outline it is of.

use kurbo::{BezPath, PathEl, Point, Rect, Vec2};

/// What is nearer than this lies at one place, mm.
const SAME_MM: f64 = 1e-6;
/// How far apart the ends of two lines may be that meet, mm.
const MEET_MM: f64 = 1e-4;
/// The direction in which regions are divided, radians: one that no edge of furniture and no line of sight has, so that
/// nothing is seen through between two pieces.
const DIVIDED_RAD: f64 = 0.4;

/// A line of a border, the region on its left.
pub(crate) type Border = (Point, Point);

/// A flat region.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Region {
    borders: Vec<Border>,
}

/// A convex piece of a region.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Piece {
    /// Its sides: outward normal of unit length, and how far out it reaches along that.
    pub(crate) sides: Vec<(Vec2, f64)>,
    /// Its corners.
    pub(crate) corners: Vec<Point>,
}

impl Region {
    /// What an outline holds, less its openings; each runs either way round.
    pub(crate) fn of(outline: &[Point], openings: &[Vec<Point>]) -> Self {
        let mut borders = Vec::new();
        for (index, line) in std::iter::once(outline).chain(openings.iter().map(Vec::as_slice)).enumerate() {
            let mut corners: Vec<Point> = Vec::new();
            for point in line {
                if corners.last().is_none_or(|last| last.distance(*point) > SAME_MM) {
                    corners.push(*point);
                }
            }
            while corners.len() > 1
                && corners.first().zip(corners.last()).is_some_and(|(a, b)| a.distance(*b) <= SAME_MM)
            {
                corners.pop();
            }
            let turning: f64 = sides(&corners).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum();
            if corners.len() < 3 || turning == 0.0 {
                continue;
            }
            if (turning > 0.0) != (index == 0) {
                corners.reverse();
            }
            borders.extend(sides(&corners));
        }
        Self { borders }
    }

    /// A rectangle.
    pub(crate) fn rectangle(rect: Rect) -> Self {
        let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        Self::of(&corners.map(Point::from), &[])
    }

    /// The lines of its border.
    pub(crate) fn borders(&self) -> &[Border] {
        &self.borders
    }

    /// The box round it.
    pub(crate) fn bounds(&self) -> Rect {
        let boxes = self.borders.iter().map(|(a, b)| Rect::from_points(*a, *b));
        boxes.reduce(|all, one| all.union(one)).unwrap_or_default()
    }

    /// The region moved.
    pub(crate) fn moved(&self, by: Vec2) -> Self {
        Self { borders: self.borders.iter().map(|(a, b)| (*a + by, *b + by)).collect() }
    }

    /// The region as a view shows it, which may turn it over.
    pub(crate) fn seen(&self, map: impl Fn(Point) -> Point) -> Self {
        let mut borders: Vec<Border> = self.borders.iter().map(|(a, b)| (map(*a), map(*b))).collect();
        if borders.iter().map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>() < 0.0 {
            borders = borders.into_iter().rev().map(|(a, b)| (b, a)).collect();
        }
        Self { borders }
    }

    /// Whether a point lies in it.
    pub(crate) fn contains(&self, point: Point) -> bool {
        let across = |(a, b): &&Border| {
            (a.y > point.y) != (b.y > point.y) && a.x + (b.x - a.x) * (point.y - a.y) / (b.y - a.y) > point.x
        };
        self.borders.iter().filter(across).count() % 2 == 1
    }

    /// What is left when a rectangle is cut out; one that reaches an end of the region goes right through it.
    pub(crate) fn without(&self, cut: Rect) -> Self {
        let whole = self.bounds();
        let low = |at: f64, end: f64| if at <= end + SAME_MM { end - 1.0 } else { at };
        let high = |at: f64, end: f64| if at >= end - SAME_MM { end + 1.0 } else { at };
        let cut =
            Rect::new(low(cut.x0, whole.x0), low(cut.y0, whole.y0), high(cut.x1, whole.x1), high(cut.y1, whole.y1));
        let mut borders = Vec::new();
        for &(a, b) in &self.borders {
            let (enter, leave) = inside(cut, a, b).unwrap_or((1.0, 1.0));
            borders.extend([(a, a.lerp(b, enter)), (a.lerp(b, leave), b)].into_iter().filter(is_long));
        }
        // Clockwise, what is left on the left.
        let corners = [(cut.x0, cut.y0), (cut.x0, cut.y1), (cut.x1, cut.y1), (cut.x1, cut.y0), (cut.x0, cut.y0)];
        for pair in corners.map(Point::from).windows(2) {
            let &[from, to] = pair else { continue };
            let outside = (to - from).normalize().turn_90() * (2.0 * SAME_MM);
            let mut marks = vec![0.0, 1.0];
            marks.extend(self.borders.iter().filter_map(|border| meeting((from + outside, to + outside), *border)));
            marks.sort_by(f64::total_cmp);
            for pair in marks.windows(2) {
                let &[start, end] = pair else { continue };
                let side = (from.lerp(to, start), from.lerp(to, end));
                if is_long(&side) && self.contains(side.0.midpoint(side.1) + outside) {
                    borders.push(side);
                }
            }
        }
        Self { borders }
    }

    /// What lies on one side of a line along the second coordinate, or along the first if `lying`.
    pub(crate) fn kept(&self, lying: bool, at: f64, keeps_smaller: bool) -> Self {
        let within =
            |point: Point| (if lying { point.y } else { point.x } - at) * if keeps_smaller { -1.0 } else { 1.0 };
        let mut borders = Vec::new();
        let mut crossings: Vec<f64> = Vec::new();
        for &(a, b) in &self.borders {
            let (one, two) = (within(a), within(b));
            let cut = a.lerp(b, one / (one - two));
            match (one > 0.0, two > 0.0) {
                (true, true) => borders.push((a, b)),
                (true, false) => borders.push((a, cut)),
                (false, true) => borders.push((cut, b)),
                (false, false) => continue,
            }
            if (one > 0.0) != (two > 0.0) {
                crossings.push(if lying { cut.x } else { cut.y });
            }
        }
        crossings.sort_by(f64::total_cmp);
        // Up the line with what is smaller on its left; along it the other way.
        let forwards = keeps_smaller != lying;
        for pair in crossings.chunks_exact(2) {
            let &[low, high] = pair else { continue };
            let point = |along: f64| if lying { Point::new(along, at) } else { Point::new(at, along) };
            borders.push(if forwards { (point(low), point(high)) } else { (point(high), point(low)) });
        }
        borders.retain(is_long);
        Self { borders }
    }

    /// Where a line along the second coordinate, or along the first if `lying`, runs through it.
    pub(crate) fn met(&self, lying: bool, at: f64) -> Vec<(f64, f64)> {
        let turned = |point: Point| if lying { Point::new(point.y, point.x) } else { point };
        let mut marks: Vec<f64> = (self.borders.iter())
            .map(|(a, b)| (turned(*a), turned(*b)))
            .filter(|(a, b)| (a.x > at) != (b.x > at))
            .map(|(a, b)| a.y + (b.y - a.y) * (at - a.x) / (b.x - a.x))
            .collect();
        marks.sort_by(f64::total_cmp);
        let pairs =
            marks.chunks_exact(2).filter_map(|pair| if let &[low, high] = pair { Some((low, high)) } else { None });
        pairs.filter(|(low, high)| high - low > SAME_MM).collect()
    }

    /// From which to which share of it a straight line runs through it.
    pub(crate) fn run(&self, from: Point, to: Point) -> Vec<(f64, f64)> {
        let mut marks = vec![0.0, 1.0];
        marks.extend(self.borders.iter().filter_map(|border| meeting((from, to), *border)));
        marks.sort_by(f64::total_cmp);
        let pairs =
            marks.windows(2).filter_map(|pair| if let &[start, end] = pair { Some((start, end)) } else { None });
        pairs.filter(|(start, end)| self.contains(from.lerp(to, f64::midpoint(*start, *end)))).collect()
    }

    /// The line of the border that goes on where another ends.
    pub(crate) fn after(&self, index: usize) -> Option<usize> {
        let (_, end) = self.borders.get(index)?;
        let begins = |at: &usize| self.borders.get(*at).is_some_and(|it| it.0.distance(*end) < MEET_MM);
        // Most often the next one.
        std::iter::once(index + 1).chain(0..self.borders.len()).find(begins)
    }

    /// Its outlines as one path, mapped point by point; outer ones and openings run against one another.
    pub(crate) fn path(&self, map: impl Fn(Point) -> Point) -> BezPath {
        let mut path = BezPath::new();
        let mut done = vec![false; self.borders.len()];
        for first in 0..self.borders.len() {
            let mut at = Some(first);
            let mut is_begun = false;
            while let Some(index) = at.take_if(|it| done.get(*it) == Some(&false)) {
                let (Some(done), Some((from, _))) = (done.get_mut(index), self.borders.get(index)) else { break };
                *done = true;
                path.push(if is_begun { PathEl::LineTo(map(*from)) } else { PathEl::MoveTo(map(*from)) });
                is_begun = true;
                at = self.after(index);
            }
            if is_begun {
                path.close_path();
            }
        }
        path
    }

    /// Its convex pieces: strips across [`DIVIDED_RAD`] between the corners, each between two borders, as long as these
    /// run beside one another.
    pub(crate) fn pieces(&self) -> Vec<Piece> {
        let along = Vec2::from_angle(DIVIDED_RAD);
        let ends = |border: &Border| {
            let (a, b) = (along.dot(border.0.to_vec2()), along.dot(border.1.to_vec2()));
            (a.min(b), a.max(b))
        };
        let mut places: Vec<f64> = self.borders.iter().flat_map(|it| [ends(it).0, ends(it).1]).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| *a - *b < SAME_MM);
        let mut pieces = Vec::new();
        // Lower border, upper border, and since where.
        let mut open: Vec<(usize, usize, f64)> = Vec::new();
        for pair in places.windows(2) {
            let &[from, to] = pair else { continue };
            let middle = f64::midpoint(from, to);
            let mut met: Vec<(f64, usize)> = (self.borders.iter().enumerate())
                .filter(|(_, border)| ends(border).0 < middle && middle < ends(border).1)
                .map(|(index, border)| (along.cross(at_place(border, along, middle).to_vec2()), index))
                .collect();
            met.sort_by(|a, b| a.0.total_cmp(&b.0));
            let now: Vec<(usize, usize)> =
                met.chunks_exact(2).filter_map(|it| Some((it.first()?.1, it.get(1)?.1))).collect();
            open.retain(|&(lower, upper, since)| {
                let goes_on = now.contains(&(lower, upper));
                if !goes_on {
                    pieces.extend(self.strip((lower, upper), along, (since, from)));
                }
                goes_on
            });
            for (lower, upper) in now {
                if !open.iter().any(|it| (it.0, it.1) == (lower, upper)) {
                    open.push((lower, upper, from));
                }
            }
        }
        let last = places.last().copied().unwrap_or_default();
        pieces.extend(
            open.into_iter().filter_map(|(lower, upper, since)| self.strip((lower, upper), along, (since, last))),
        );
        pieces
    }

    fn strip(&self, (lower, upper): (usize, usize), along: Vec2, (from, to): (f64, f64)) -> Option<Piece> {
        let borders = [self.borders.get(lower)?, self.borders.get(upper)?];
        let corners: Vec<Point> =
            borders.iter().flat_map(|border| [from, to].map(|place| at_place(border, along, place))).collect();
        let mut sides = vec![(along * -1.0, -from), (along, to)];
        // The region lies on the left of both.
        sides.extend(borders.map(|(a, b)| {
            let out = (*b - *a).normalize().turn_90() * -1.0;
            (out, out.dot(a.to_vec2()))
        }));
        Some(Piece { sides, corners })
    }
}

/// The lines from corner to corner of a closed outline.
fn sides(corners: &[Point]) -> impl Iterator<Item = Border> {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

/// The point of a border at a place along a direction.
fn at_place((a, b): &Border, along: Vec2, place: f64) -> Point {
    let (from, to) = (along.dot(a.to_vec2()), along.dot(b.to_vec2()));
    a.lerp(*b, (place - from) / (to - from))
}

fn is_long((a, b): &Border) -> bool {
    a.distance(*b) > SAME_MM
}

/// From which to which share a line runs in a rectangle or on its edge; none if it only touches it.
fn inside(rect: Rect, from: Point, to: Point) -> Option<(f64, f64)> {
    let run = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in [(from.x, run.x, rect.x0, rect.x1), (from.y, run.y, rect.y0, rect.y1)] {
        if step.abs() < SAME_MM {
            if start < low - SAME_MM || start > high + SAME_MM {
                return None;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (high - start) / step);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    ((leave - enter) * run.hypot() > SAME_MM).then_some((enter, leave))
}

/// At which share of a line it crosses another.
fn meeting((from, to): Border, (a, b): Border) -> Option<f64> {
    let (run, other) = (to - from, b - a);
    let across = run.cross(other);
    if across.abs() < SAME_MM * SAME_MM {
        return None;
    }
    let (share, on_other) = ((a - from).cross(other) / across, (a - from).cross(run) / across);
    ((0.0..=1.0).contains(&share) && (0.0..=1.0).contains(&on_other)).then_some(share)
}
