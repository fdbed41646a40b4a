//! A beam under load: deflection, slope, moment and shear anywhere, and their extremes.

use serde::Serialize;

use super::piece::Piece;
use super::section::Section;

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
    pub(super) const fn new(section: Section, length: f64, pieces: Vec<Piece>, reactions: Vec<f64>) -> Self {
        Self { section, length, pieces, reactions }
    }

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
