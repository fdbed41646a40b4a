//! Raising a piece that lies on its back: its diagonal must pass under the ceiling of the room. What
//! hangs over its niche only does not count: the piece is raised before it.

use serde::Serialize;

use crate::length::Length;
use crate::mechanics::handling::raising_height;

/// Whether a piece can be raised in the room.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Raising {
    /// The greatest height that it takes on its way up.
    pub needs: Length,
    /// At this angle from upright, degrees.
    pub at_deg: f64,
    /// The height that is there.
    pub has: Length,
    /// Whether it goes.
    pub goes: bool,
}

/// Raising a box of this height and depth under a ceiling: standing on its lower rear edge, turned by `f` from upright, it
/// is `h cos f + d sin f` high, which is greatest, the diagonal, where `tan f = d / h`. Rounded up to a whole millimetre.
#[must_use]
pub fn raising(height: Length, depth: Length, ceiling: Length) -> Raising {
    let needs = Length::from_mm_f64((raising_height(height.mm(), depth.mm()) - 1e-9).ceil());
    Raising { needs, at_deg: depth.mm().atan2(height.mm()).to_degrees(), has: ceiling, goes: needs <= ceiling }
}
