//! The outline of a worktop: straight edges, the curve of a measured wall, a front that changes its depth, rounded
//! corners, cut-outs. In plan, millimetres: x along the wall, y out of it towards the person, as Z of the site.

mod findings;
mod outline;
mod transition;
mod wall_curve;

#[cfg(test)]
mod tests;

pub use findings::{TopFinding, findings};
pub use outline::{Outline, Side, outline};
pub use transition::{reverse_curve, reverse_curve_radius};
pub use wall_curve::{WallCurve, WallCurveError, wall_curve};
