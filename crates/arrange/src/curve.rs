//! The least sizes of a division: a staircase of width against height.

use casewright_core::Length;

/// Clear width and height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Size {
    /// From left to right.
    pub width: Length,
    /// From below to above.
    pub height: Length,
}

impl Size {
    /// Whether a box of this size has room for `other`.
    #[must_use]
    pub fn holds(self, other: Self) -> bool {
        other.width <= self.width && other.height <= self.height
    }

    /// Area, mm2.
    #[must_use]
    pub fn area_mm2(self) -> f64 {
        self.width.mm() * self.height.mm()
    }
}

/// Least sizes, none of which holds another: widths rise, heights fall.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Curve(Vec<Size>);

impl Curve {
    /// The staircase of some sizes.
    #[must_use]
    pub fn of(sizes: impl IntoIterator<Item = Size>) -> Self {
        let mut sizes: Vec<Size> = sizes.into_iter().collect();
        sizes.sort();
        let mut steps: Vec<Size> = Vec::with_capacity(sizes.len());
        for size in sizes {
            if steps.last().is_none_or(|last| size.height < last.height) {
                steps.push(size);
            }
        }
        Self(steps)
    }

    /// Its steps, by rising width.
    #[must_use]
    pub fn steps(&self) -> &[Size] {
        &self.0
    }

    /// The step of least width that is no higher than `height`.
    #[must_use]
    pub fn narrowest(&self, height: Length) -> Option<Size> {
        let from = self.0.partition_point(|it| it.height > height);
        self.0.get(from).copied()
    }

    /// The step of least height that is no wider than `width`.
    #[must_use]
    pub fn lowest(&self, width: Length) -> Option<Size> {
        let to = self.0.partition_point(|it| it.width <= width);
        self.0.get(to.checked_sub(1)?).copied()
    }

    /// Those of its steps that a box has room for.
    #[must_use]
    pub fn within(&self, room: Size) -> Self {
        Self(self.0.iter().copied().filter(|&it| room.holds(it)).collect())
    }

    /// Side by side with another, with a panel of `between` between them.
    #[must_use]
    pub fn beside(&self, other: &Self, between: Length) -> Self {
        merged(
            &self.0,
            &other.0,
            |height| {
                let (a, b) = (self.narrowest(height)?, other.narrowest(height)?);
                Some(Size { width: a.width + between + b.width, height: a.height.max(b.height) })
            },
            |it| it.height,
        )
    }

    /// Over or under another, with a panel of `between` between them.
    #[must_use]
    pub fn stacked(&self, other: &Self, between: Length) -> Self {
        merged(
            &self.0,
            &other.0,
            |width| {
                let (a, b) = (self.lowest(width)?, other.lowest(width)?);
                Some(Size { width: a.width.max(b.width), height: a.height + between + b.height })
            },
            |it| it.width,
        )
    }
}

/// The staircase of what `joined` makes at each place where one of two staircases has a step.
fn merged(a: &[Size], b: &[Size], joined: impl Fn(Length) -> Option<Size>, place: impl Fn(&Size) -> Length) -> Curve {
    Curve::of(a.iter().chain(b).map(place).filter_map(joined))
}
