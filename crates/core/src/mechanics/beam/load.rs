//! Loads on a beam, and their integrals from the left.

use serde::Serialize;

/// A load, positive downwards; places from the left end of the beam.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Load {
    /// A force at a point.
    Point {
        /// Where.
        at: f64,
        /// How much.
        force: f64,
    },
    /// A load spread from one place to another, growing or shrinking evenly between.
    Spread {
        /// Where it begins.
        from: f64,
        /// Where it ends.
        to: f64,
        /// Force per length where it begins.
        first: f64,
        /// Force per length where it ends.
        last: f64,
    },
}

impl Load {
    /// A force at a point.
    #[must_use]
    pub const fn point(at: f64, force: f64) -> Self {
        Self::Point { at, force }
    }

    /// The same force per length from one place to another.
    #[must_use]
    pub const fn uniform(from: f64, to: f64, per_length: f64) -> Self {
        Self::Spread { from, to, first: per_length, last: per_length }
    }

    /// The whole force.
    #[must_use]
    pub fn total(&self) -> f64 {
        match *self {
            Self::Point { force, .. } => force,
            Self::Spread { from, to, first, last } => (to - from) * (first + last) / 2.0,
        }
    }

    /// The load times a factor.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        match *self {
            Self::Point { at, force } => Self::Point { at, force: force * factor },
            Self::Spread { from, to, first, last } => {
                Self::Spread { from, to, first: first * factor, last: last * factor }
            }
        }
    }

    /// Whether every number in it is finite.
    pub(super) fn is_finite(&self) -> bool {
        match *self {
            Self::Point { at, force } => at.is_finite() && force.is_finite(),
            Self::Spread { from, to, first, last } => {
                from.is_finite() && to.is_finite() && first.is_finite() && last.is_finite()
            }
        }
    }

    /// The part of the load in `[start, end]`, with places from `start`. A point force on `end` belongs to what follows
    /// unless `closed`.
    pub(super) fn clipped(&self, start: f64, end: f64, closed: bool) -> Option<Self> {
        match *self {
            Self::Point { at, force } => {
                (at >= start && (at < end || (closed && at <= end))).then_some(Self::Point { at: at - start, force })
            }
            Self::Spread { from, to, first, last } => {
                let (a, b) = (from.max(start), to.min(end));
                if a >= b {
                    return None;
                }
                let slope = (last - first) / (to - from);
                let at = |x: f64| first + slope * (x - from);
                Some(Self::Spread { from: a - start, to: b - start, first: at(a), last: at(b) })
            }
        }
    }

    /// The load left of `x`, integrated `order` times from 0 to `x`: 1 gives the force, 2 its moment about `x`, 3 and 4 the
    /// integrals of that moment.
    pub(super) fn integral(&self, x: f64, order: i32) -> f64 {
        // Singularity functions: the n-fold integral of <x - a>^k is k! <x - a>^(k + n) / (k + n)!.
        let power = |a: f64, k: i32| {
            let d = x - a;
            if d <= 0.0 { 0.0 } else { d.powi(k) / factorial(k) }
        };
        match *self {
            Self::Point { at, force } => {
                // At its very place the force counts as already passed.
                if order == 1 { if x >= at { force } else { 0.0 } } else { force * power(at, order - 1) }
            }
            Self::Spread { from, to, first, last } => {
                let slope = (last - first) / (to - from);
                first * power(from, order) + slope * power(from, order + 1)
                    - last * power(to, order)
                    - slope * power(to, order + 1)
            }
        }
    }

    /// Places where its formula changes.
    pub(super) fn breaks(&self) -> [f64; 2] {
        match *self {
            Self::Point { at, .. } => [at, at],
            Self::Spread { from, to, .. } => [from, to],
        }
    }
}

fn factorial(n: i32) -> f64 {
    (2..=n).map(f64::from).product()
}
