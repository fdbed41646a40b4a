//! The outline of a worktop: straight edges, the curve of a measured wall, a front that changes its depth, rounded
//! corners, cut-outs. In plan, millimetres: x along the wall, y out of it towards the person, as Z of the site.

mod findings;
mod front;
mod outline;
mod pieces;
mod transition;
mod wall_curve;

#[cfg(test)]
mod tests;

pub use findings::{TopFinding, findings};
pub use outline::{Outline, OutlineError, Side, outline, slab};
pub use pieces::{TopPiece, pieces};
pub use transition::{reverse_curve, reverse_curve_radius, step_length};
pub use wall_curve::{WallCurve, WallCurveError, wall_curve};
