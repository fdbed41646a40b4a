//! The best guillotine pattern with unlimited copies, by dynamic programming over raster points.
//!
//! Source of the recursion: Beasley, J. Oper. Res. Soc. 36 (1985) 297-306; with raster points Cintra, Miyazawa,
//! Wakabayashi & Xavier, EJOR 191 (2008) 61-85.

use crate::boards::tree::Slice;
use crate::effort::Budget;
use crate::size::Axis;

/// A rectangle that may be cut: extents, value, and the item that it stands for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Block {
    pub(crate) width: i64,
    pub(crate) height: i64,
    pub(crate) value: i64,
    pub(crate) item: usize,
}

/// The best value of every smaller board. Values are kept as floating point, which adds whole numbers below 2^53
/// exactly and for which every processor has a fast maximum; see [`crate::MAX_BOARD_VALUE`].
pub(crate) struct Table {
    pub(crate) xs: Vec<i64>,
    pub(crate) ys: Vec<i64>,
    value: Vec<f64>,
    /// Steps from a cell to the next along x and along y: the axis with more points runs over the rows.
    step: (usize, usize),
    blocks: Vec<Block>,
}

/// Index of the last point at or below `x`.
pub(crate) fn floor(points: &[i64], x: i64) -> usize {
    points.partition_point(|&p| p <= x).saturating_sub(1)
}

#[allow(clippy::indexing_slicing, reason = "indices run over the table's own extents")]
impl Table {
    /// Fills the table; `None` when the effort ran out.
    pub(crate) fn new(xs: &[i64], ys: &[i64], blocks: &[Block], budget: &Budget<'_>) -> Option<Self> {
        let swap = ys.len() > xs.len();
        let (rows, columns) = if swap { (ys, xs) } else { (xs, ys) };
        let width = columns.len();
        let mut value = vec![0f64; rows.len() * width];
        for block in blocks {
            let (w, h) = if swap { (block.height, block.width) } else { (block.width, block.height) };
            let i = rows.partition_point(|&x| x < w);
            let j = columns.partition_point(|&y| y < h);
            if i < rows.len() && j < width {
                let cell = &mut value[i * width + j];
                *cell = larger(*cell, block.value as f64);
            }
        }
        let pairs = pairs(columns);
        for i in 0..rows.len() {
            let (done, rest) = value.split_at_mut(i * width);
            let row = &mut rest[..width];
            if i > 0 {
                for (cell, &a) in row.iter_mut().zip(&done[(i - 1) * width..]) {
                    *cell = larger(*cell, a);
                }
            }
            let mut other = i;
            let mut work = 0;
            for k in 1..i {
                if 2 * rows[k] > rows[i] {
                    break;
                }
                while rows[other] > rows[i] - rows[k] {
                    other -= 1;
                }
                let (a, b) = (&done[k * width..(k + 1) * width], &done[other * width..(other + 1) * width]);
                for ((cell, &a), &b) in row.iter_mut().zip(a).zip(b) {
                    *cell = larger(*cell, a + b);
                }
                work += width / 4;
            }
            for j in 1..width {
                let mut best = larger(row[j], row[j - 1]);
                for &(a, b) in &pairs[j] {
                    best = larger(best, row[a as usize] + row[b as usize]);
                }
                row[j] = best;
                work += pairs[j].len();
            }
            if !budget.spend(work as u64 / 8) {
                return None;
            }
        }
        let step = if swap { (1, width) } else { (width, 1) };
        Some(Self { xs: xs.to_vec(), ys: ys.to_vec(), value, step, blocks: blocks.to_vec() })
    }

    /// Best value of a board of these extents.
    pub(crate) fn value(&self, width: i64, height: i64) -> i64 {
        self.at(floor(&self.xs, width), floor(&self.ys, height))
    }

    /// Best value by indices of the points.
    pub(crate) fn at(&self, i: usize, j: usize) -> i64 {
        self.value[i * self.step.0 + j * self.step.1] as i64
    }

    /// The pattern for a board of these extents, found again from the values.
    pub(crate) fn pattern(&self, width: i64, height: i64) -> Slice {
        let value = self.value(width, height);
        if value == 0 {
            return Slice::Free;
        }
        if let Some(b) = self.blocks.iter().find(|b| b.value == value && b.width <= width && b.height <= height) {
            return cornered(Slice::Item(b.item), (b.width, b.height), (width, height));
        }
        for &x in self.xs.iter().skip(1).take_while(|&&x| 2 * x <= width) {
            if self.value(x, height) + self.value(width - x, height) == value {
                return part(Axis::X, x, width, self.pattern(x, height), self.pattern(width - x, height));
            }
        }
        for &y in self.ys.iter().skip(1).take_while(|&&y| 2 * y <= height) {
            if self.value(width, y) + self.value(width, height - y) == value {
                return part(Axis::Y, y, height, self.pattern(width, y), self.pattern(width, height - y));
            }
        }
        // The value came from a smaller board.
        let mut xs = self.xs.iter().copied().take_while(|&x| x <= width);
        let x = xs.find(|&x| self.value(x, height) == value).unwrap_or(width);
        let mut ys = self.ys.iter().copied().take_while(|&y| y <= height);
        let y = ys.find(|&y| self.value(x, y) == value).unwrap_or(height);
        if x == width && y == height {
            return Slice::Free;
        }
        cornered(self.pattern(x, y), (x, y), (width, height))
    }
}

/// `low` of extent `at` and `high` of the rest up to `full`; only `low` when there is no rest.
pub(crate) fn part(axis: Axis, at: i64, full: i64, low: Slice, high: Slice) -> Slice {
    if at == full { low } else { Slice::Split(axis, vec![(at, low), (full - at, high)]) }
}

/// `inner` of extents `size` in the lower left corner of a rectangle of extents `full`.
pub(crate) fn cornered(inner: Slice, size: (i64, i64), full: (i64, i64)) -> Slice {
    part(Axis::X, size.0, full.0, part(Axis::Y, size.1, full.1, inner, Slice::Free), Slice::Free)
}

/// The larger one; for numbers that are never NaN.
fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// For every point the ways to cut it in two: indices of the smaller part and of the room that is left.
#[allow(clippy::indexing_slicing, reason = "indices run over the points")]
fn pairs(points: &[i64]) -> Vec<Vec<(u32, u32)>> {
    (0..points.len())
        .map(|j| {
            let mut other = j;
            (1..j)
                .take_while(|&k| 2 * points[k] <= points[j])
                .map(|k| {
                    while points[other] > points[j] - points[k] {
                        other -= 1;
                    }
                    (k as u32, other as u32)
                })
                .collect()
        })
        .collect()
}
