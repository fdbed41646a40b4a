//! Straight beams on supports: deflection, slope, moment and shear, exactly, for any set of supports and loads.
//!
//! Any consistent set of units serves: N, mm, MPa as everywhere, or lb, in, psi. Places are measured from the left end;
//! deflections, loads and reactions are positive downwards (reactions: upwards); a moment is positive where it sags.
//!
//! Shear deformation is exact for a section with a finite shear stiffness G·A' (Timoshenko's beam); the constants k_s of
//! the Wood Handbook follow from it.

mod bent;
pub mod cases;
mod load;
mod piece;
mod section;
mod solve;
mod spans;

pub use bent::{Bent, Extreme};
pub use load::Load;
pub use section::{Part as SectionPart, Section, rectangle_inertia};
pub use solve::{Beam, BeamError};
pub use spans::{SpanRule, longest_span, thinnest_board};
