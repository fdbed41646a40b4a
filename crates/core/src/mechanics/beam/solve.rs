//! The beam itself: its supports, and the solution by the three-moment equations.

use serde::Serialize;
use thiserror::Error;

use super::bent::Bent;
use super::load::Load;
use super::piece::Piece;
use super::section::Section;

/// Why a beam cannot be computed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BeamError {
    /// Nothing or too little holds it.
    #[error("the beam is not held: give it two supports, or clamp the only one")]
    NotHeld,
    /// A number is not usable.
    #[error("{0} must be a finite number above zero")]
    NotPositive(&'static str),
    /// Supports in the wrong order or off the beam.
    #[error("supports must lie on the beam, from left to right, no two in one place")]
    Supports,
    /// A load off the beam, or reversed.
    #[error("loads must lie on the beam, each from left to right")]
    Loads,
}

/// A beam: its length, where it is supported, and whether an end support also holds its direction.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Beam {
    /// Whole length.
    pub length: f64,
    /// Places of the supports, from left to right; what lies outside them hangs over.
    pub supports: Vec<f64>,
    /// Whether the first support is clamped. Only without an overhang beyond it, or if it is the only support.
    pub clamped_left: bool,
    /// Whether the last support is clamped.
    pub clamped_right: bool,
    /// The cross-section, the same all along.
    pub section: Section,
}

impl Beam {
    /// Held at both ends, free to turn.
    #[must_use]
    pub fn simple(length: f64, section: Section) -> Self {
        Self { length, supports: vec![0.0, length], clamped_left: false, clamped_right: false, section }
    }

    /// Clamped at both ends.
    #[must_use]
    pub fn fixed(length: f64, section: Section) -> Self {
        Self { clamped_left: true, clamped_right: true, ..Self::simple(length, section) }
    }

    /// Continuous over these supports.
    #[must_use]
    pub const fn continuous(length: f64, supports: Vec<f64>, section: Section) -> Self {
        Self { length, supports, clamped_left: false, clamped_right: false, section }
    }

    /// The beam under these loads.
    ///
    /// Method: each span is a simple beam with moments at its ends; the moments follow from equal slopes over each
    /// support (Clapeyron's three-moment equations, with terms for shear deformation), a tridiagonal system.
    ///
    /// # Errors
    /// [`BeamError`] when it is not held or a number makes no sense.
    pub fn bend(&self, loads: &[Load]) -> Result<Bent, BeamError> {
        self.validate(loads)?;
        let (supports, n) = (&self.supports, self.supports.len());
        let (Some(&first), Some(&last)) = (supports.first(), supports.last()) else { return Err(BeamError::NotHeld) };
        let clip = |start: f64, end: f64, closed: bool| -> Vec<Load> {
            loads.iter().filter_map(|load| load.clipped(start, end, closed)).collect()
        };
        let over_left = clip(0.0, first, n == 1 && last >= self.length);
        let over_right = if last < self.length { clip(last, self.length, true) } else { Vec::new() };
        let sum = |loads: &[Load], x: f64, order: i32| loads.iter().map(|it| it.integral(x, order)).sum::<f64>();
        let moment_left = -sum(&over_left, first, 2);
        let length_right = self.length - last;
        // Moment of the right overhang about its support: force times length less the moment about the free end.
        let moment_right = -(sum(&over_right, length_right, 1) * length_right - sum(&over_right, length_right, 2));

        let mut pieces: Vec<Piece> = Vec::with_capacity(n + 1);
        for (i, pair) in supports.windows(2).enumerate() {
            let (Some(&start), Some(&end)) = (pair.first(), pair.last()) else { continue };
            // A point force on the last support goes to the last span when no overhang takes it.
            let closed = i + 2 == n && over_right.is_empty() && last >= self.length;
            pieces.push(Piece { start, length: end - start, loads: clip(start, end, closed), ..Piece::default() });
        }
        let moments = self.support_moments(&pieces, moment_left, moment_right);
        for (piece, pair) in pieces.iter_mut().zip(moments.windows(2)) {
            if let (Some(&left), Some(&right)) = (pair.first(), pair.last()) {
                piece.set_end_moments(left, right, &self.section);
            }
        }
        let (turn_left, turn_right) = match (pieces.first(), pieces.last()) {
            (Some(head), Some(tail)) => (head.slope0, tail.slope(tail.length, &self.section)),
            _ => (0.0, 0.0),
        };
        if first > 0.0 {
            let mut over = Piece { start: 0.0, length: first, loads: over_left, over: true, ..Piece::default() };
            // Free end: no moment, no shear; turned and lowered so that it meets the support.
            over.slope0 = turn_left - over.slope(first, &self.section);
            over.sag0 = -over.sag(first, &self.section);
            pieces.insert(0, over);
        }
        if last < self.length {
            let mut over =
                Piece { start: last, length: length_right, loads: over_right, over: true, ..Piece::default() };
            over.moment0 = moment_right;
            over.shear0 = sum(&over.loads, length_right, 1);
            over.slope0 = turn_right;
            pieces.push(over);
        }
        let before = usize::from(first > 0.0);
        let reactions = (0..n)
            .map(|i| {
                let left =
                    (i + before).checked_sub(1).and_then(|k| pieces.get(k)).map_or(0.0, |it| it.shear(it.length));
                let right = pieces.get(i + before).map_or(0.0, |it| it.shear0);
                right - left
            })
            .collect();
        Ok(Bent::new(self.section, self.length, pieces, reactions))
    }

    fn validate(&self, loads: &[Load]) -> Result<(), BeamError> {
        if !(self.length.is_finite() && self.length > 0.0) {
            return Err(BeamError::NotPositive("length"));
        }
        if !(self.section.bending.is_finite() && self.section.bending > 0.0) {
            return Err(BeamError::NotPositive("bending stiffness"));
        }
        if self.section.shear.is_nan() || self.section.shear <= 0.0 {
            return Err(BeamError::NotPositive("shear stiffness"));
        }
        let inside = |x: f64| (0.0..=self.length).contains(&x);
        let ordered = self.supports.windows(2).all(|pair| pair.first() < pair.last());
        if !ordered || !self.supports.iter().all(|&x| inside(x)) {
            return Err(BeamError::Supports);
        }
        let clamped = self.clamped_left || self.clamped_right;
        match self.supports.len() {
            0 => return Err(BeamError::NotHeld),
            1 if !clamped => return Err(BeamError::NotHeld),
            1 => {}
            _ => {
                let hangs = |flag: bool, at: Option<&f64>, end: f64| flag && at.is_some_and(|&x| x != end);
                if hangs(self.clamped_left, self.supports.first(), 0.0)
                    || hangs(self.clamped_right, self.supports.last(), self.length)
                {
                    return Err(BeamError::Supports);
                }
            }
        }
        let sound = loads.iter().all(|load| {
            load.is_finite()
                && match *load {
                    Load::Point { at, .. } => inside(at),
                    Load::Spread { from, to, .. } => inside(from) && inside(to) && from < to,
                }
        });
        if sound { Ok(()) } else { Err(BeamError::Loads) }
    }

    /// The moments over the supports.
    fn support_moments(&self, spans: &[Piece], moment_left: f64, moment_right: f64) -> Vec<f64> {
        let n = self.supports.len();
        if n < 2 {
            return vec![0.0; n];
        }
        // Row i: lower·M[i-1] + diagonal·M[i] + upper·M[i+1] = right side.
        let (mut lower, mut diagonal, mut upper, mut right) = (vec![0.0; n], vec![0.0; n], vec![0.0; n], vec![0.0; n]);
        for (i, span) in spans.iter().enumerate() {
            let (own, cross) = span.flexibility(&self.section);
            let (at_left, at_right) = span.free_slopes(&self.section);
            // Slope at the left end: at_left + own·M[i] + cross·M[i+1]; at the right end:
            // at_right - cross·M[i] - own·M[i+1].
            if let (Some(d), Some(u), Some(r)) = (diagonal.get_mut(i), upper.get_mut(i), right.get_mut(i)) {
                *d += own;
                *u += cross;
                *r -= at_left;
            }
            if let (Some(d), Some(l), Some(r)) = (diagonal.get_mut(i + 1), lower.get_mut(i + 1), right.get_mut(i + 1)) {
                *d += own;
                *l += cross;
                *r += at_right;
            }
        }
        let known = |i: usize, moment: f64, d: &mut [f64], u: &mut [f64], l: &mut [f64], r: &mut [f64]| {
            for (row, value) in [(d, 1.0), (u, 0.0), (l, 0.0), (r, moment)] {
                if let Some(it) = row.get_mut(i) {
                    *it = value;
                }
            }
        };
        if !self.clamped_left {
            known(0, moment_left, &mut diagonal, &mut upper, &mut lower, &mut right);
        }
        if !self.clamped_right {
            known(n - 1, moment_right, &mut diagonal, &mut upper, &mut lower, &mut right);
        }
        tridiagonal(&lower, &diagonal, &upper, &right)
    }
}

/// Solves a tridiagonal system whose diagonal is strong enough to need no pivoting.
fn tridiagonal(lower: &[f64], diagonal: &[f64], upper: &[f64], right: &[f64]) -> Vec<f64> {
    let mut swept: Vec<(f64, f64)> = Vec::with_capacity(right.len());
    for (((&l, &d), &u), &r) in lower.iter().zip(diagonal).zip(upper).zip(right) {
        let (above_u, above_r) = swept.last().copied().unwrap_or((0.0, 0.0));
        let pivot = d - l * above_u;
        swept.push((u / pivot, (r - l * above_r) / pivot));
    }
    let mut solution = Vec::with_capacity(right.len());
    let mut below = 0.0;
    for &(u, r) in swept.iter().rev() {
        below = r - u * below;
        solution.push(below);
    }
    solution.reverse();
    solution
}
