//! Exact geometry: points, axes, directions and axis-aligned boxes in nanometres.

use serde::Serialize;

use crate::length::Length;

/// One of the three axes of everything.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Axis {
    /// Along the wall, to the right.
    X,
    /// Up from the floor.
    Y,
    /// Out of the wall, towards the person.
    Z,
}

impl Axis {
    /// All three, in order.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// 0, 1 or 2.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
            Self::Z => 2,
        }
    }
}

/// An axis with a sense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Direction {
    /// The axis.
    pub axis: Axis,
    /// Whether it points towards smaller coordinates.
    pub negative: bool,
}

impl Direction {
    /// To the right.
    pub const RIGHT: Self = Self::new(Axis::X, false);
    /// To the left.
    pub const LEFT: Self = Self::new(Axis::X, true);
    /// Up.
    pub const UP: Self = Self::new(Axis::Y, false);
    /// Down.
    pub const DOWN: Self = Self::new(Axis::Y, true);
    /// Towards the person.
    pub const FRONT: Self = Self::new(Axis::Z, false);
    /// Towards the wall.
    pub const REAR: Self = Self::new(Axis::Z, true);

    /// The direction along `axis`, reversed if `negative`.
    #[must_use]
    pub const fn new(axis: Axis, negative: bool) -> Self {
        Self { axis, negative }
    }

    /// The opposite direction.
    #[must_use]
    pub const fn reversed(self) -> Self {
        Self { axis: self.axis, negative: !self.negative }
    }

    /// 1 or -1.
    #[must_use]
    pub const fn sign(self) -> i64 {
        if self.negative { -1 } else { 1 }
    }
}

/// The middle of a range; of an odd number of nanometres the lower one.
#[must_use]
pub fn middle((low, high): (Length, Length)) -> Length {
    low + (high - low).half()
}

/// A point, or a displacement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
pub struct Point {
    /// Along the wall.
    pub x: Length,
    /// Up.
    pub y: Length,
    /// Out of the wall.
    pub z: Length,
}

impl Point {
    /// The point with these coordinates.
    #[must_use]
    pub const fn new(x: Length, y: Length, z: Length) -> Self {
        Self { x, y, z }
    }

    /// The coordinate along `axis`.
    #[must_use]
    pub const fn along(self, axis: Axis) -> Length {
        match axis {
            Axis::X => self.x,
            Axis::Y => self.y,
            Axis::Z => self.z,
        }
    }

    /// The same point with another coordinate along `axis`.
    #[must_use]
    pub const fn with(mut self, axis: Axis, value: Length) -> Self {
        match axis {
            Axis::X => self.x = value,
            Axis::Y => self.y = value,
            Axis::Z => self.z = value,
        }
        self
    }

    /// The point moved by `distance` in `direction`.
    #[must_use]
    pub fn moved(self, direction: Direction, distance: Length) -> Self {
        self.with(direction.axis, self.along(direction.axis) + distance * direction.sign())
    }
}

/// An axis-aligned box from `min` to `max`; each coordinate of `min` is at most that of `max`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
pub struct Cuboid {
    /// The left, lower, rear corner.
    pub min: Point,
    /// The right, upper, front corner.
    pub max: Point,
}

impl Cuboid {
    /// The box between two opposite corners, in whatever order.
    #[must_use]
    pub fn between(a: Point, b: Point) -> Self {
        Self {
            min: Point::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z)),
            max: Point::new(a.x.max(b.x), a.y.max(b.y), a.z.max(b.z)),
        }
    }

    /// The box with these ranges.
    #[must_use]
    pub fn from_ranges(x: (Length, Length), y: (Length, Length), z: (Length, Length)) -> Self {
        Self::between(Point::new(x.0, y.0, z.0), Point::new(x.1, y.1, z.1))
    }

    /// The range along `axis`.
    #[must_use]
    pub const fn range(&self, axis: Axis) -> (Length, Length) {
        (self.min.along(axis), self.max.along(axis))
    }

    /// The size along `axis`.
    #[must_use]
    pub fn size(&self, axis: Axis) -> Length {
        self.max.along(axis) - self.min.along(axis)
    }

    /// The middle along `axis`.
    #[must_use]
    pub fn middle(&self, axis: Axis) -> Length {
        middle(self.range(axis))
    }

    /// The same box with another range along `axis`.
    #[must_use]
    pub const fn with_range(mut self, axis: Axis, range: (Length, Length)) -> Self {
        self.min = self.min.with(axis, range.0);
        self.max = self.max.with(axis, range.1);
        self
    }

    /// The box grown by `by` on its side in `direction` (shrunk if negative).
    #[must_use]
    pub fn grown(mut self, direction: Direction, by: Length) -> Self {
        if direction.negative {
            self.min = self.min.moved(direction, by);
        } else {
            self.max = self.max.moved(direction, by);
        }
        self
    }

    /// The box moved by `distance` in `direction`.
    #[must_use]
    pub fn moved(self, direction: Direction, distance: Length) -> Self {
        Self { min: self.min.moved(direction, distance), max: self.max.moved(direction, distance) }
    }

    /// Whether the insides of the two boxes meet; boxes that only touch do not overlap.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        Axis::ALL.iter().all(|&axis| {
            let (a, b) = (self.range(axis), other.range(axis));
            a.0 < b.1 && b.0 < a.1 && a.0 < a.1 && b.0 < b.1
        })
    }

    /// Whether `other` lies wholly inside or on the faces of this box.
    #[must_use]
    pub fn contains(&self, other: &Self) -> bool {
        Axis::ALL
            .iter()
            .all(|&axis| self.range(axis).0 <= other.range(axis).0 && other.range(axis).1 <= self.range(axis).1)
    }

    /// What the insides of the two boxes have in common; none if they only touch.
    #[must_use]
    pub fn intersection(&self, other: &Self) -> Option<Self> {
        let both = |axis: Axis| {
            let (a, b) = (self.range(axis), other.range(axis));
            (a.0.max(b.0), a.1.min(b.1))
        };
        self.overlaps(other).then(|| Self::from_ranges(both(Axis::X), both(Axis::Y), both(Axis::Z)))
    }

    /// The smallest box that holds both.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        let (a, b) = (self, other);
        Self {
            min: Point::new(a.min.x.min(b.min.x), a.min.y.min(b.min.y), a.min.z.min(b.min.z)),
            max: Point::new(a.max.x.max(b.max.x), a.max.y.max(b.max.y), a.max.z.max(b.max.z)),
        }
    }

    /// The volume in cubic metres.
    #[must_use]
    pub fn volume_m3(&self) -> f64 {
        Axis::ALL.iter().map(|&axis| self.size(axis).mm() / 1000.0).product()
    }
}
