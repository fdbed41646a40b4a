//! Lengths, areas, sizes and rectangles, as whole numbers.
//!
//! Every length is an `i64` count of nanometres, or of any other unit that the caller keeps to: the crate only
//! adds and compares, so the academic sets run with their own unit. Areas are `i128` of that unit squared.

/// One of the two directions of a board's face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// Along the board's width (x, to the right).
    X,
    /// Along the board's height (y, up).
    Y,
}

impl Axis {
    /// The other direction.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }
}

/// Width along x and height along y, in the caller's length unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Size {
    /// Extent along x.
    pub width: i64,
    /// Extent along y.
    pub height: i64,
}

impl Size {
    /// A size from its two extents.
    #[must_use]
    pub const fn new(width: i64, height: i64) -> Self {
        Self { width, height }
    }

    /// Area in the length unit squared.
    #[must_use]
    pub const fn area(self) -> i128 {
        self.width as i128 * self.height as i128
    }

    /// The same size turned by a quarter.
    #[must_use]
    pub const fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }

    /// Extent along `axis`.
    #[must_use]
    pub const fn along(self, axis: Axis) -> i64 {
        match axis {
            Axis::X => self.width,
            Axis::Y => self.height,
        }
    }
}

/// A rectangle by its lower left corner and size, in the board's own frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Rect {
    /// Left edge.
    pub x: i64,
    /// Lower edge.
    pub y: i64,
    /// Extents.
    pub size: Size,
}

impl Rect {
    /// A rectangle from corner and extents.
    #[must_use]
    pub const fn new(x: i64, y: i64, width: i64, height: i64) -> Self {
        Self { x, y, size: Size { width, height } }
    }

    /// Right edge.
    #[must_use]
    pub const fn right(&self) -> i64 {
        self.x + self.size.width
    }

    /// Upper edge.
    #[must_use]
    pub const fn top(&self) -> i64 {
        self.y + self.size.height
    }

    /// Area in the length unit squared.
    #[must_use]
    pub const fn area(&self) -> i128 {
        self.size.area()
    }

    /// Whether `inner` lies inside this rectangle, touching edges allowed.
    #[must_use]
    pub const fn holds(&self, inner: &Self) -> bool {
        inner.x >= self.x && inner.y >= self.y && inner.right() <= self.right() && inner.top() <= self.top()
    }

    /// Low edge along `axis`.
    #[must_use]
    pub const fn low(&self, axis: Axis) -> i64 {
        match axis {
            Axis::X => self.x,
            Axis::Y => self.y,
        }
    }

    /// The part between `from` and `to` along `axis`, over the whole other extent.
    #[must_use]
    pub const fn slice(&self, axis: Axis, from: i64, to: i64) -> Self {
        match axis {
            Axis::X => Self::new(from, self.y, to - from, self.size.height),
            Axis::Y => Self::new(self.x, from, self.size.width, to - from),
        }
    }
}

/// Greatest common divisor of two lengths, 0 or more; of 0 and a length, the length.
pub(crate) const fn gcd(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
