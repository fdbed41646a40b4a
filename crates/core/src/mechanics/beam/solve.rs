//! The beam itself: supports, the solution by the three-moment equations, and what it yields.

use serde::Serialize;
use thiserror::Error;

use super::load::Load;
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

    /// Clamped at the left end, free at the right.
    #[must_use]
    pub fn cantilever(length: f64, section: Section) -> Self {
        Self { length, supports: vec![0.0], clamped_left: true, clamped_right: false, section }
    }

    /// Clamped at the left end, held at the right.
    #[must_use]
    pub fn propped(length: f64, section: Section) -> Self {
        Self { clamped_left: true, ..Self::simple(length, section) }
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
        Ok(Bent { section: self.section, length: self.length, pieces, reactions })
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

/// A stretch of beam between supports or beyond them, in places from its own left end.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
struct Piece {
    start: f64,
    length: f64,
    loads: Vec<Load>,
    moment0: f64,
    shear0: f64,
    slope0: f64,
    sag0: f64,
    over: bool,
}

impl Piece {
    fn end(&self) -> f64 {
        self.start + self.length
    }

    fn loads(&self, x: f64, order: i32) -> f64 {
        self.loads.iter().map(|load| load.integral(x, order)).sum()
    }

    fn shear(&self, x: f64) -> f64 {
        self.shear0 - self.loads(x, 1)
    }

    fn moment(&self, x: f64) -> f64 {
        self.moment0 + self.shear0 * x - self.loads(x, 2)
    }

    /// The turn of the cross-section, positive where it goes down to the right.
    fn slope(&self, x: f64, section: &Section) -> f64 {
        self.slope0 - (self.moment0 * x + self.shear0 * x * x / 2.0 - self.loads(x, 3)) / section.bending
    }

    fn sag(&self, x: f64, section: &Section) -> f64 {
        let bending = (self.moment0 * x * x / 2.0 + self.shear0 * x * x * x / 6.0 - self.loads(x, 4)) / section.bending;
        self.sag0 + self.slope0 * x - bending + (self.moment(x) - self.moment0) / section.shear
    }

    /// The slope of the axis: that of the cross-section and the shear strain.
    fn axis_slope(&self, x: f64, section: &Section) -> f64 {
        self.slope(x, section) + self.shear(x) / section.shear
    }

    /// Turn of an end per unit moment at the same end and at the other.
    fn flexibility(&self, section: &Section) -> (f64, f64) {
        let shear = 1.0 / (section.shear * self.length);
        (self.length / (3.0 * section.bending) + shear, self.length / (6.0 * section.bending) - shear)
    }

    /// Turns of the ends with no moments at them.
    fn free_slopes(&self, section: &Section) -> (f64, f64) {
        let mut free = self.clone();
        free.set_end_moments(0.0, 0.0, section);
        (free.slope0, free.slope(free.length, section))
    }

    fn set_end_moments(&mut self, left: f64, right: f64, section: &Section) {
        let l = self.length;
        self.moment0 = left;
        self.shear0 = (right - left + self.loads(l, 2)) / l;
        self.sag0 = 0.0;
        self.slope0 = 0.0;
        self.slope0 = -self.sag(l, section) / l;
    }

    /// Places between which every formula is one polynomial, ends included.
    fn breaks(&self) -> Vec<f64> {
        let mut places = vec![0.0, self.length];
        places.extend(self.loads.iter().flat_map(Load::breaks));
        places.sort_by(f64::total_cmp);
        places.dedup();
        places
    }
}

/// A largest value and where it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Extreme {
    /// The value, with its sign.
    pub value: f64,
    /// From the left end.
    pub at: f64,
}

impl Extreme {
    fn larger(self, other: Self) -> Self {
        if other.value.abs() > self.value.abs() { other } else { self }
    }
}

/// A beam under load.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Bent {
    section: Section,
    length: f64,
    pieces: Vec<Piece>,
    /// Reactions of the supports from left to right, positive upwards.
    pub reactions: Vec<f64>,
}

impl Bent {
    fn piece(&self, x: f64) -> Option<(&Piece, f64)> {
        let x = x.clamp(0.0, self.length);
        let piece = self.pieces.iter().find(|it| x <= it.end()).or_else(|| self.pieces.last())?;
        Some((piece, (x - piece.start).clamp(0.0, piece.length)))
    }

    /// Deflection at a place, positive downwards.
    #[must_use]
    pub fn deflection(&self, x: f64) -> f64 {
        self.piece(x).map_or(0.0, |(piece, x)| piece.sag(x, &self.section))
    }

    /// Turn of the cross-section at a place, radians, positive where it goes down to the right.
    #[must_use]
    pub fn slope(&self, x: f64) -> f64 {
        self.piece(x).map_or(0.0, |(piece, x)| piece.slope(x, &self.section))
    }

    /// Bending moment at a place, positive where it sags.
    #[must_use]
    pub fn moment(&self, x: f64) -> f64 {
        self.piece(x).map_or(0.0, |(piece, x)| piece.moment(x))
    }

    /// Shear force at a place; just right of a force there.
    #[must_use]
    pub fn shear(&self, x: f64) -> f64 {
        self.piece(x).map_or(0.0, |(piece, x)| piece.shear(x))
    }

    /// The largest deflection between supports and beyond them, one for each stretch from left to right, with the
    /// stretch's length and whether it hangs over.
    #[must_use]
    pub fn stretches(&self) -> Vec<(f64, bool, Extreme)> {
        self.pieces.iter().map(|it| (it.length, it.over, self.deepest(it))).collect()
    }

    fn deepest(&self, piece: &Piece) -> Extreme {
        let mut best = Extreme::default();
        let sag = |x: f64| Extreme { value: piece.sag(x, &self.section), at: piece.start + x };
        let breaks = piece.breaks();
        for pair in breaks.windows(2) {
            let (Some(&from), Some(&to)) = (pair.first(), pair.last()) else { continue };
            best = best.larger(sag(from)).larger(sag(to));
            // The axis slope is a polynomial of degree four at most here: bracket its roots on a fine grid.
            const STEPS: u32 = 8;
            let at = |i: u32| from + (to - from) * f64::from(i) / f64::from(STEPS);
            let slope = |x: f64| piece.axis_slope(x, &self.section);
            let inner = |x: f64| if x >= to { slope(to - (to - from) * 1e-12) } else { slope(x) };
            let mut before = inner(from);
            for i in 1..=STEPS {
                let (a, b) = (at(i - 1), at(i));
                let after = inner(b);
                if before == 0.0 || before.signum() != after.signum() {
                    best = best.larger(sag(root(&inner, a, b)));
                }
                before = after;
            }
        }
        best
    }

    /// The deflection of largest magnitude.
    #[must_use]
    pub fn max_deflection(&self) -> Extreme {
        self.pieces.iter().map(|it| self.deepest(it)).fold(Extreme::default(), Extreme::larger)
    }

    /// The bending moment of largest magnitude.
    #[must_use]
    pub fn max_moment(&self) -> Extreme {
        let mut best = Extreme::default();
        for piece in &self.pieces {
            for pair in piece.breaks().windows(2) {
                let (Some(&from), Some(&to)) = (pair.first(), pair.last()) else { continue };
                let moment = |x: f64| Extreme { value: piece.moment(x), at: piece.start + x };
                best = best.larger(moment(from)).larger(moment(to));
                // Shear is a parabola at most: its vertex parts at most two roots.
                let shear = |x: f64| piece.shear(if x >= to { to - (to - from) * 1e-12 } else { x });
                let (a, m, b) = (shear(from), shear((from + to) / 2.0), shear(to));
                let curve = 2.0 * (a + b - 2.0 * m);
                let vertex = if curve == 0.0 { 0.5 } else { ((3.0 * a + b - 4.0 * m) / (2.0 * curve)).clamp(0.0, 1.0) };
                let middle = from + (to - from) * vertex;
                for (left, right) in [(from, middle), (middle, to)] {
                    if left < right && shear(left).signum() != shear(right).signum() {
                        best = best.larger(moment(root(&shear, left, right)));
                    }
                }
            }
        }
        best
    }

    /// The shear force of largest magnitude.
    #[must_use]
    pub fn max_shear(&self) -> Extreme {
        let mut best = Extreme::default();
        for piece in &self.pieces {
            for pair in piece.breaks().windows(2) {
                let (Some(&from), Some(&to)) = (pair.first(), pair.last()) else { continue };
                let before = to - (to - from) * 1e-12;
                for x in [from, before, (from + to) / 2.0] {
                    best = best.larger(Extreme { value: piece.shear(x), at: piece.start + x });
                }
            }
        }
        best
    }
}

/// A root of `f` between two places where its signs differ, by bisection to the last digits.
fn root(f: &impl Fn(f64) -> f64, mut a: f64, mut b: f64) -> f64 {
    let sign = f(a).signum();
    for _ in 0..60 {
        let middle = (a + b) / 2.0;
        if f(middle).signum() == sign { a = middle } else { b = middle }
    }
    (a + b) / 2.0
}
