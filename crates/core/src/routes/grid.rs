//! The shortest way along the axes past boxes, exact.
//!
//! Every shortest way along the axes can be pushed, without growing longer, until each of its stretches lies in the plane
//! of some face or of one of its ends. So the lines through all faces and ends hold a shortest way, and Dijkstra's search
//! over their crossings finds it: first the fewest new holes, then the least length, then the fewest bends.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::geometry::{Axis, Cuboid, Point};
use crate::length::Length;

/// Crossings beyond which no way is looked for.
const MOST: usize = 300_000;

/// A panel that may be passed where a hole can be made in it.
#[derive(Clone, Debug)]
pub(super) struct Door {
    /// Along which axis.
    pub(super) axis: Axis,
    /// From where to where along it.
    pub(super) across: (Length, Length),
    /// Where the middle of the hole may lie; its range along `axis` means nothing.
    pub(super) within: Cuboid,
    /// Where it may not, borders allowed.
    pub(super) never: Vec<Cuboid>,
    /// What a hole counts.
    pub(super) cost: u32,
}

impl Door {
    fn opens_at(&self, at: Point) -> bool {
        let sideways = || Axis::ALL.into_iter().filter(|axis| *axis != self.axis);
        let beside = |cuboid: &Cuboid, strictly: bool| {
            sideways().all(|axis| {
                let ((low, high), it) = (cuboid.range(axis), at.along(axis));
                if strictly { low < it && it < high } else { low <= it && it <= high }
            })
        };
        beside(&self.within, false) && !self.never.iter().any(|it| beside(it, true))
    }
}

/// Where a lead may run.
#[derive(Clone, Debug)]
pub(super) struct Space {
    /// It stays in here, borders included.
    pub(super) domain: Cuboid,
    /// It stays out of the insides of these.
    pub(super) blocked: Vec<Cuboid>,
    /// What may be passed at a new hole.
    pub(super) doors: Vec<Door>,
}

/// A way that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Found {
    /// Its corners.
    pub(super) points: Vec<Point>,
    /// How long it is.
    pub(super) length: Length,
    /// The doors that it goes through, with the middle of each hole where it enters.
    pub(super) doors: Vec<(usize, Point)>,
}

/// How good a way is: what its holes count, its length (nm), its bends.
type Cost = (u32, i64, u32);

/// There is too much to look through: nothing is known of a way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct TooMuch;

/// The best way from a point to a box; none if there is none.
///
/// # Errors
/// Too much to look through.
pub(super) fn shortest(space: &Space, from: Point, to: &Cuboid) -> Result<Option<Found>, TooMuch> {
    Ok(Grid::new(space, from, to)?.search(space, from, to))
}

struct Grid {
    /// The places of crossings along each axis, ascending.
    at: [Vec<Length>; 3],
    /// For each axis and crossing, whether the stretch to the next crossing along it is barred.
    barred: [Vec<bool>; 3],
}

impl Grid {
    fn new(space: &Space, from: Point, to: &Cuboid) -> Result<Self, TooMuch> {
        let at = Axis::ALL.map(|axis| {
            let (low, high) = space.domain.range(axis);
            let mut all = vec![low, high, from.along(axis), to.range(axis).0, to.range(axis).1];
            let mut add = |range: (Length, Length)| all.extend([range.0, range.1]);
            space.blocked.iter().filter(|it| it.overlaps(&space.domain)).for_each(|it| add(it.range(axis)));
            for door in &space.doors {
                if door.axis == axis {
                    add(door.across);
                } else {
                    let (from, to) = door.within.range(axis);
                    add((from, to));
                    // Beyond the door's own room nothing of them matters.
                    let inside = |it: &Cuboid| (it.range(axis).0.max(from), it.range(axis).1.min(to));
                    door.never.iter().for_each(|it| add(inside(it)));
                }
            }
            all.retain(|it| low <= *it && *it <= high);
            all.sort_unstable();
            all.dedup();
            all
        });
        let count = at.iter().map(Vec::len).product::<usize>();
        if count == 0 || count > MOST {
            return Err(TooMuch);
        }
        let mut grid = Self { at, barred: Axis::ALL.map(|_| vec![false; count]) };
        space.blocked.iter().for_each(|it| grid.bar(it));
        Ok(grid)
    }

    /// Bars every stretch that runs inside a box.
    fn bar(&mut self, cuboid: &Cuboid) {
        let inside: [(usize, usize); 3] = Axis::ALL.map(|axis| {
            let (low, high) = cuboid.range(axis);
            let line = self.line(axis);
            (line.partition_point(|it| *it < low), line.partition_point(|it| *it < high))
        });
        // What begins before the first crossing is cut off by the domain; then its face is not a crossing.
        let open: [(usize, usize); 3] = Axis::ALL.map(|axis| {
            let (low, _) = cuboid.range(axis);
            let line = self.line(axis);
            (line.partition_point(|it| *it <= low), get(&inside, axis).1)
        });
        for along in Axis::ALL {
            let range = |axis: Axis| if axis == along { get(&inside, axis) } else { get(&open, axis) };
            let [x, y, z] = Axis::ALL.map(range);
            for i in x.0..x.1 {
                for j in y.0..y.1 {
                    for k in z.0..z.1 {
                        let node = self.node([i, j, k]);
                        if let Some(it) = self.barred.get_mut(along.index()).and_then(|it| it.get_mut(node)) {
                            *it = true;
                        }
                    }
                }
            }
        }
    }

    fn line(&self, axis: Axis) -> &[Length] {
        self.at.get(axis.index()).map_or(&[], Vec::as_slice)
    }

    fn node(&self, [i, j, k]: [usize; 3]) -> usize {
        (i * self.line(Axis::Y).len() + j) * self.line(Axis::Z).len() + k
    }

    fn places(&self, node: usize) -> [usize; 3] {
        let (y, z) = (self.line(Axis::Y).len().max(1), self.line(Axis::Z).len().max(1));
        [node / (y * z), node / z % y, node % z]
    }

    fn point(&self, places: [usize; 3]) -> Point {
        let along = |axis: Axis| self.line(axis).get(get(&places, axis)).copied().unwrap_or_default();
        Point::new(along(Axis::X), along(Axis::Y), along(Axis::Z))
    }

    fn place(&self, axis: Axis, at: Length) -> Option<usize> {
        self.line(axis).binary_search(&at).ok()
    }

    fn search(&self, space: &Space, from: Point, to: &Cuboid) -> Option<Found> {
        let start = [self.place(Axis::X, from.x)?, self.place(Axis::Y, from.y)?, self.place(Axis::Z, from.z)?];
        let states = self.barred.first().map_or(0, Vec::len) * 3;
        let mut best: Vec<Option<Cost>> = vec![None; states];
        // From which state each was reached, and through which door.
        let mut before: Vec<(u32, Option<u32>)> = vec![(u32::MAX, None); states];
        let mut queue = BinaryHeap::new();
        // The guess is the straight way along the axes: never too long, so that the first arrival is the best.
        let guess = |places: [usize; 3]| straight(self.point(places), to).nm();
        for axis in Axis::ALL {
            let state = self.node(start) * 3 + axis.index();
            set(&mut best, state, Some((0, 0, 0)));
            queue.push(Reverse(((0_u32, guess(start), 0_u32), (0_u32, 0_i64, 0_u32), state)));
        }
        while let Some(Reverse((_, cost, state))) = queue.pop() {
            if best.get(state).copied().flatten() != Some(cost) {
                continue;
            }
            let (places, came) = (self.places(state / 3), state % 3);
            let here = self.point(places);
            if straight(here, to) == Length::ZERO {
                return Some(self.trace(&before, state, cost));
            }
            let mut step = |next: [usize; 3], axis: Axis, door: Option<(u32, u32)>| {
                let length = (self.point(next).along(axis) - here.along(axis)).abs();
                let bend = u32::from(axis.index() != came);
                let total = (cost.0 + door.map_or(0, |it| it.1), cost.1 + length.nm(), cost.2 + bend);
                let state_next = self.node(next) * 3 + axis.index();
                if best.get(state_next).is_some_and(|it| it.is_none_or(|old| total < old)) {
                    set(&mut best, state_next, Some(total));
                    set(&mut before, state_next, (u32::try_from(state).unwrap_or(u32::MAX), door.map(|it| it.0)));
                    queue.push(Reverse(((total.0, total.1 + guess(next), total.2), total, state_next)));
                }
            };
            for axis in Axis::ALL {
                let own = get(&places, axis);
                let is_barred =
                    |node: usize| self.barred.get(axis.index()).and_then(|it| it.get(node)).is_none_or(|it| *it);
                if own + 1 < self.line(axis).len() && !is_barred(self.node(places)) {
                    step(with(places, axis, own + 1), axis, None);
                }
                if let Some(back) = own.checked_sub(1).map(|it| with(places, axis, it))
                    && !is_barred(self.node(back))
                {
                    step(back, axis, None);
                }
            }
            for (index, door) in (0_u32..).zip(&space.doors) {
                let at = here.along(door.axis);
                let beyond = if at == door.across.0 {
                    door.across.1
                } else if at == door.across.1 {
                    door.across.0
                } else {
                    continue;
                };
                if door.opens_at(here)
                    && let Some(place) = self.place(door.axis, beyond)
                {
                    step(with(places, door.axis, place), door.axis, Some((index, door.cost)));
                }
            }
        }
        None
    }

    /// The corners back to the start.
    fn trace(&self, before: &[(u32, Option<u32>)], last: usize, cost: Cost) -> Found {
        let mut nodes = vec![self.point(self.places(last / 3))];
        let mut doors = Vec::new();
        let mut state = last;
        while let Some((next, door)) = before.get(state).copied().filter(|it| it.0 != u32::MAX) {
            state = next as usize;
            let here = self.point(self.places(state / 3));
            nodes.push(here);
            doors.extend(door.map(|it| (it as usize, here)));
        }
        nodes.reverse();
        doors.reverse();
        Found { points: corners(&nodes), length: Length::from_nm(cost.1), doors }
    }
}

/// Points without those that lie on a straight line between their neighbours.
fn corners(nodes: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for &node in nodes {
        if kept.last() == Some(&node) {
            continue;
        }
        if let [.., a, b] = kept.as_slice() {
            let off = |p: Point, q: Point| Axis::ALL.into_iter().filter(move |&axis| p.along(axis) != q.along(axis));
            if off(*a, *b).chain(off(*b, node)).all(|axis| off(*a, *b).all(|it| it == axis)) {
                kept.pop();
            }
        }
        kept.push(node);
    }
    kept
}

/// The way along the axes to the nearest point of a box.
pub(super) fn straight(from: Point, to: &Cuboid) -> Length {
    let apart = |axis: Axis| {
        let ((low, high), at) = (to.range(axis), from.along(axis));
        (low - at).max(at - high).max(Length::ZERO)
    };
    Axis::ALL.into_iter().map(apart).sum()
}

fn get<T: Copy + Default>(all: &[T; 3], axis: Axis) -> T {
    all.get(axis.index()).copied().unwrap_or_default()
}

fn with(mut places: [usize; 3], axis: Axis, place: usize) -> [usize; 3] {
    if let Some(it) = places.get_mut(axis.index()) {
        *it = place;
    }
    places
}

fn set<T>(all: &mut [T], at: usize, value: T) {
    if let Some(it) = all.get_mut(at) {
        *it = value;
    }
}
