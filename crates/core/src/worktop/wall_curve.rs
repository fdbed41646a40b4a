//! A crooked wall, measured at stations, as the smoothest curve that stays within a stated distance of the measurements.
//!
//! A natural cubic smoothing spline (Reinsch 1967; notation of Green and Silverman 1994, section 2.1): it minimises the
//! squared distances plus `alpha` times the bending `∫ f''²`. The largest `alpha` is taken whose curve keeps the distance.

use kurbo::{BezPath, CubicBez, Point};
use nalgebra::{DMatrix, DVector};
use thiserror::Error;

/// A curve through a measured wall.
#[derive(Clone, Debug, PartialEq)]
pub struct WallCurve {
    stations: Vec<f64>,
    values: Vec<f64>,
    /// Second derivatives at the stations, zero at both ends.
    bends: Vec<f64>,
    /// The largest distance from a measured station, millimetres.
    pub deviation: f64,
}

/// Why stations make no curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum WallCurveError {
    /// Too few.
    #[error("a wall takes at least two stations: measure at both ends")]
    TooFew,
    /// Two at one place.
    #[error("two stations lie at the same place or are not in order: list them from left to right, each once")]
    NotInOrder,
}

/// The smoothest curve through stations (along the wall, out of it) that is nowhere further from them than `within`.
///
/// # Errors
/// See [`WallCurveError`].
pub fn wall_curve(stations: &[(f64, f64)], within: f64) -> Result<WallCurve, WallCurveError> {
    if stations.len() < 2 {
        return Err(WallCurveError::TooFew);
    }
    if stations.windows(2).any(|pair| matches!(pair, [a, b] if b.0 - a.0 < 1e-6)) {
        return Err(WallCurveError::NotInOrder);
    }
    let exact = fitted(stations, 0.0);
    let stiff = fitted(stations, 1e18);
    if stiff.deviation <= within {
        return Ok(stiff);
    }
    // The deviation grows with alpha; halve on its logarithm.
    let (mut low, mut high) = (-6.0_f64, 18.0_f64);
    let mut best = exact;
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let curve = fitted(stations, 10f64.powf(middle));
        if curve.deviation <= within {
            best = curve;
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(best)
}

/// The smoothing spline for one `alpha`.
fn fitted(stations: &[(f64, f64)], alpha: f64) -> WallCurve {
    let count = stations.len();
    let xs: Vec<f64> = stations.iter().map(|it| it.0).collect();
    let ys = DVector::from_iterator(count, stations.iter().map(|it| it.1));
    let step = |i: usize| xs.get(i + 1).copied().unwrap_or_default() - xs.get(i).copied().unwrap_or_default();
    let inner = count - 2;
    let mut bends = vec![0.0; count];
    let mut values = ys.clone();
    if inner > 0 {
        // Q: second differences; R: the band of the bending.
        let mut q = DMatrix::zeros(count, inner);
        let mut r = DMatrix::zeros(inner, inner);
        for j in 0..inner {
            let (before, after) = (step(j), step(j + 1));
            q[(j, j)] = 1.0 / before;
            q[(j + 1, j)] = -1.0 / before - 1.0 / after;
            q[(j + 2, j)] = 1.0 / after;
            r[(j, j)] = (before + after) / 3.0;
            if j + 1 < inner {
                r[(j, j + 1)] = after / 6.0;
                r[(j + 1, j)] = after / 6.0;
            }
        }
        let system = &r + (q.transpose() * &q) * alpha;
        if let Some(gamma) = system.cholesky().map(|it| it.solve(&(q.transpose() * &ys))) {
            values = &ys - (&q * &gamma) * alpha;
            for (bend, gamma) in bends.iter_mut().skip(1).zip(gamma.iter()) {
                *bend = *gamma;
            }
        }
    }
    let values: Vec<f64> = values.iter().copied().collect();
    let deviation = values.iter().zip(ys.iter()).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    WallCurve { stations: xs, values, bends, deviation }
}

impl WallCurve {
    /// How far out the curve is at a station, straight on beyond its ends; with its slope there.
    #[must_use]
    pub fn at(&self, x: f64) -> (f64, f64) {
        let last = self.stations.len().saturating_sub(2);
        let piece = self.stations.iter().skip(1).position(|to| x <= *to).unwrap_or(last).min(last);
        let (x0, x1) = (self.station(piece), self.station(piece + 1));
        let inside = x.clamp(x0, x1);
        let (value, slope) = self.inside(piece, inside);
        (value + slope * (x - inside), slope)
    }

    fn station(&self, i: usize) -> f64 {
        self.stations.get(i).copied().unwrap_or_default()
    }

    fn inside(&self, piece: usize, x: f64) -> (f64, f64) {
        let get = |list: &[f64], i: usize| list.get(i).copied().unwrap_or_default();
        let (x0, x1) = (self.station(piece), self.station(piece + 1));
        let (y0, y1) = (get(&self.values, piece), get(&self.values, piece + 1));
        let (m0, m1) = (get(&self.bends, piece), get(&self.bends, piece + 1));
        let h = x1 - x0;
        let (a, b) = ((x1 - x) / h, (x - x0) / h);
        let value = a * y0 + b * y1 + ((a.powi(3) - a) * m0 + (b.powi(3) - b) * m1) * h * h / 6.0;
        let slope = (y1 - y0) / h + ((3.0 * b * b - 1.0) * m1 - (3.0 * a * a - 1.0) * m0) * h / 6.0;
        (value, slope)
    }

    /// The curve from one station to another as cubic pieces, exactly: a cubic in x is a Bézier curve with its controls
    /// at the thirds.
    #[must_use]
    pub fn path(&self, from: f64, to: f64) -> BezPath {
        let mut marks = vec![from];
        marks.extend(self.stations.iter().copied().filter(|x| from < *x && *x < to));
        marks.push(to);
        let mut path = BezPath::new();
        path.move_to(Point::new(from, self.at(from).0));
        for pair in marks.windows(2) {
            let [x0, x1] = pair else { continue };
            let piece = self.piece(*x0, *x1);
            path.curve_to(piece.p1, piece.p2, piece.p3);
        }
        path
    }

    fn piece(&self, x0: f64, x1: f64) -> CubicBez {
        // Slopes from within the piece, not from its neighbours.
        let third = (x1 - x0) / 3.0;
        let (y0, s0) = self.at(x0 + 0.0);
        let (y1, s1) = self.at(x1);
        CubicBez::new((x0, y0), (x0 + third, y0 + s0 * third), (x1 - third, y1 - s1 * third), (x1, y1))
    }
}
