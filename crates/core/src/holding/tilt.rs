//! The way of a compartment that tilts about the lower (or, upside down, the upper) outer edge of its front.

use crate::length::Length;

/// The greatest height above the hinge that a corner reaches while it turns from `depth` behind the hinge and `height`
/// above it forwards by up to `opens_deg` degrees, in millimetres: √(d² + h²) when the turn takes it past the vertical
/// over the hinge, else d·sin α + h·cos α at the end of the turn.
#[must_use]
pub fn highest_turn(depth: Length, height: Length, opens_deg: f64) -> f64 {
    let (depth, height) = (depth.mm(), height.mm());
    let turn = opens_deg.to_radians();
    if depth.atan2(height) <= turn { depth.hypot(height) } else { depth * turn.sin() + height * turn.cos() }
}

/// The free space that the corner needs above its place at rest, rounded up to whole millimetres.
#[must_use]
pub fn tilt_clearance(depth: Length, height: Length, opens_deg: f64) -> Length {
    let rise = highest_turn(depth, height, opens_deg) - height.mm();
    // A rise that floating point puts a hair above a whole millimetre is that millimetre.
    Length::from_mm((rise - 1e-6).ceil().max(0.0) as i64)
}

/// The greatest height of a compartment `depth` deep whose corner stays within `space` above the hinge, in whole
/// millimetres; zero if there is none.
#[must_use]
pub fn tilt_height(depth: Length, space: Length, opens_deg: f64) -> Length {
    let fits = |height: i64| {
        let height = Length::from_mm(height);
        height + tilt_clearance(depth, height, opens_deg) <= space
    };
    // Height plus rise never falls as the height grows, so halving finds the last that fits.
    let (mut low, mut high) = (0, space.nm() / 1_000_000 + 1);
    if !fits(0) {
        return Length::ZERO;
    }
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if fits(middle) { low = middle } else { high = middle }
    }
    Length::from_mm(low)
}
