//! One stretch of a bent beam: its formulas between two supports, or beyond the last one.

use serde::Serialize;

use super::load::Load;
use super::section::Section;

/// A stretch of beam between supports or beyond them, in places from its own left end.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub(super) struct Piece {
    pub(super) start: f64,
    pub(super) length: f64,
    pub(super) loads: Vec<Load>,
    pub(super) moment0: f64,
    pub(super) shear0: f64,
    pub(super) slope0: f64,
    pub(super) sag0: f64,
    pub(super) over: bool,
}

impl Piece {
    pub(super) fn end(&self) -> f64 {
        self.start + self.length
    }

    pub(super) fn loads(&self, x: f64, order: i32) -> f64 {
        self.loads.iter().map(|load| load.integral(x, order)).sum()
    }

    pub(super) fn shear(&self, x: f64) -> f64 {
        self.shear0 - self.loads(x, 1)
    }

    pub(super) fn moment(&self, x: f64) -> f64 {
        self.moment0 + self.shear0 * x - self.loads(x, 2)
    }

    /// The turn of the cross-section, positive where it goes down to the right.
    pub(super) fn slope(&self, x: f64, section: &Section) -> f64 {
        self.slope0 - (self.moment0 * x + self.shear0 * x * x / 2.0 - self.loads(x, 3)) / section.bending
    }

    pub(super) fn sag(&self, x: f64, section: &Section) -> f64 {
        let bending = (self.moment0 * x * x / 2.0 + self.shear0 * x * x * x / 6.0 - self.loads(x, 4)) / section.bending;
        self.sag0 + self.slope0 * x - bending + (self.moment(x) - self.moment0) / section.shear
    }

    /// The slope of the axis: that of the cross-section and the shear strain.
    pub(super) fn axis_slope(&self, x: f64, section: &Section) -> f64 {
        self.slope(x, section) + self.shear(x) / section.shear
    }

    /// Turn of an end per unit moment at the same end and at the other.
    pub(super) fn flexibility(&self, section: &Section) -> (f64, f64) {
        let shear = 1.0 / (section.shear * self.length);
        (self.length / (3.0 * section.bending) + shear, self.length / (6.0 * section.bending) - shear)
    }

    /// Turns of the ends with no moments at them.
    pub(super) fn free_slopes(&self, section: &Section) -> (f64, f64) {
        let mut free = self.clone();
        free.set_end_moments(0.0, 0.0, section);
        (free.slope0, free.slope(free.length, section))
    }

    pub(super) fn set_end_moments(&mut self, left: f64, right: f64, section: &Section) {
        let l = self.length;
        self.moment0 = left;
        self.shear0 = (right - left + self.loads(l, 2)) / l;
        self.sag0 = 0.0;
        self.slope0 = 0.0;
        self.slope0 = -self.sag(l, section) / l;
    }

    /// Places between which every formula is one polynomial, ends included.
    pub(super) fn breaks(&self) -> Vec<f64> {
        let mut places = vec![0.0, self.length];
        places.extend(self.loads.iter().flat_map(Load::breaks));
        places.sort_by(f64::total_cmp);
        places.dedup();
        places
    }
}
