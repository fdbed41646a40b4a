//! Tipping: masses, a support polygon, parts that open, and the moment that is left before the piece goes over.
//!
//! First principles: the piece turns about an edge of the polygon that its feet span. What lies inside the edge holds it
//! down, what lies outside tips it: margin = sum of m · g · (distance inside the edge) less the moments of the forces applied.
//! A calculation, and no certificate: stability tests are done on the real piece.

mod balance;
mod cases;
mod support;

pub use balance::{Balance, Force, Ground, Mass, Moving, Opening, Piece};
pub use cases::{
    ASTM_CARPET_LIFT, ASTM_FILL_KG_M3, Applies, CaseResult, LoadAt, Loaded, OpenParts, STABILITY_CASES, StabilityCase,
    StabilityTest, Vertical, run,
};
pub use support::{Edge, Fall, support_polygon};

use super::source::{Source, Sourced};

/// A kind of wall to fix to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub enum Wall {
    /// Concrete or solid brick, with plugs.
    Solid,
    /// Hollow brick or aerated concrete, with plugs made for it.
    Hollow,
    /// Timber studs behind lining, screwed into the studs.
    Studs,
    /// Lining only.
    Lining,
}

impl Wall {
    /// What one fixing should carry outwards, N; nothing for lining alone, which is not to be relied on.
    #[must_use]
    pub const fn per_fixing(self) -> Sourced {
        match self {
            Self::Solid => Sourced::new(400.0, Source::memory("8 mm plug in solid masonry; the maker's table rules")),
            Self::Hollow => Sourced::new(150.0, Source::memory("8 mm plug in hollow masonry; the maker's table rules")),
            Self::Studs => Sourced::new(
                350.0,
                Source::published("NDS withdrawal, 2850 G² D lb/in: 5 mm screw, 25 mm in spruce studs (G 0.42)"),
            ),
            Self::Lining => Sourced::new(0.0, Source::practice("lining alone is not relied on")),
        }
    }
}

/// Number of fixings for a pull, N, with a factor of safety of 2 (common practice), two at least; none if the wall
/// carries nothing.
#[must_use]
pub fn fixings(pull: f64, wall: Wall) -> Option<u32> {
    let each = wall.per_fixing().value;
    (each > 0.0).then(|| ((2.0 * pull.max(0.0) / each).ceil() as u32).max(2))
}
