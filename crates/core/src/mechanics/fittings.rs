//! Hinges, slides, fronts, feet and straps: how many, and what each carries.

use serde::Serialize;

use super::GRAVITY;
use super::source::{Source, Sourced};

/// One published rule for the number of cup hinges of a door: up to so many kg, so many hinges.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HingeRule {
    /// Largest mass for each count, kg, in rising order.
    pub up_to_kg: &'static [(f64, u32)],
    /// Where it comes from.
    pub source: Source,
}

/// Hinge maker's table, reference door at most 600 wide, 19 mm, 750 kg/m³.
pub const HINGES_A: HingeRule =
    HingeRule { up_to_kg: &[(6.0, 2), (12.0, 3)], source: Source::published("hinge maker's table, 600 mm door") };

/// Chart in pounds: 15, 30, 45, 60.
pub const HINGES_B: HingeRule = HingeRule {
    up_to_kg: &[(6.803_886, 2), (13.607_771, 3), (20.411_657, 4), (27.215_542, 5)],
    source: Source::published("hinge chart, 15 lb a step"),
};

/// Chart in kg.
pub const HINGES_C: HingeRule = HingeRule {
    up_to_kg: &[(5.0, 2), (9.0, 3), (15.0, 4), (22.0, 5)],
    source: Source::published("hinge guide, 5 to 22 kg"),
};

/// Heights at which a door takes one hinge more, mm (from memory).
pub const HINGE_HEIGHTS: [(f64, u32); 4] = [(900.0, 2), (1600.0, 3), (2000.0, 4), (2400.0, 5)];

impl HingeRule {
    /// The count for this mass; none if heavier than the table reaches.
    #[must_use]
    pub fn count(&self, mass_kg: f64) -> Option<u32> {
        self.up_to_kg.iter().find(|row| mass_kg <= row.0).map(|row| row.1)
    }
}

/// The number of hinges of a door: the most that any published chart asks for its mass, and one more for a door wider
/// than 600 (chart A); the height bands, from memory, do not decide. None if it is heavier than every chart reaches.
#[must_use]
pub fn hinge_count(mass_kg: f64, width: f64) -> Option<u32> {
    let charts = [HINGES_A, HINGES_B, HINGES_C];
    let most = charts.iter().filter_map(|chart| chart.count(mass_kg)).max()?;
    Some(most + u32::from(width > 600.0))
}

/// The number of hinges that the height bands suggest (from memory).
#[must_use]
pub fn hinge_count_by_height(height: f64) -> u32 {
    HINGE_HEIGHTS.iter().find(|row| height <= row.0).map_or(6, |row| row.1)
}

/// Pull on the top hinge of a door, N: its weight at half its width, over the distance of the outer hinges.
#[must_use]
pub fn hinge_pull(mass_kg: f64, width: f64, hinge_distance: f64) -> f64 {
    mass_kg * GRAVITY * width / 2.0 / hinge_distance
}

/// How far the rear far corner of a leaf that turns about its front edge swings out past its own width, mm:
/// sqrt(w² + t²) - w (geometry).
#[must_use]
pub fn leaf_swing(width: f64, thickness: f64) -> f64 {
    width.hypot(thickness) - width
}

/// Moment that a front hanging on brackets before a box makes about its fixing, N·mm: own weight at `out` mm before the
/// fixing, and a force on the handle, N, at `handle_out`.
#[must_use]
pub fn front_moment(mass_kg: f64, out: f64, force: f64, handle_out: f64) -> f64 {
    mass_kg * GRAVITY * out + force * handle_out
}

/// Pull on the upper fixing of such a front, N, with the fixings `apart` mm from each other.
#[must_use]
pub fn front_pull(moment: f64, apart: f64) -> f64 {
    moment / apart
}

/// What one adjustable foot should carry, N.
pub const FOOT_LOAD: Sourced =
    Sourced::new(1000.0, Source::memory("plastic adjustable feet, about 100 kg each; the maker's sheet rules"));

/// A diagonal strap in a rectangular opening.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Strap {
    /// Distance of its screws along it, mm.
    pub screw_distance: f64,
    /// Length to cut, mm: a hand's end past each screw.
    pub cut_length: f64,
    /// Its screws, from the lower corner of the opening that it starts in: across and up, mm.
    pub screws: [(f64, f64); 2],
    /// Pull for each newton of sideways force, without unit.
    pub pull_per_force: f64,
}

/// A strap across an opening of this clear width and height, screwed to the rear edges of the panels round it: its
/// screws sit `inset` mm outside the corners of the opening, in the middle of the edges, and it runs `tail` past them.
/// Statics: the strap's pull is the sideways force over the cosine of its angle.
#[must_use]
pub fn strap(width: f64, height: f64, inset: f64, tail: f64) -> Strap {
    let (across, up) = (width + 2.0 * inset, height + 2.0 * inset);
    let screw_distance = across.hypot(up);
    Strap {
        screw_distance,
        cut_length: screw_distance + 2.0 * tail,
        screws: [(-inset, -inset), (width + inset, height + inset)],
        pull_per_force: screw_distance / across,
    }
}

/// Pull that a strap carries, N: steel of this width and thickness less its screw hole, at 160 MPa (mild steel, yield 235
/// MPa over 1.5; common practice), and its screws.
#[must_use]
pub fn strap_capacity(width: f64, thickness: f64, hole: f64, per_screw: f64, screws: u32) -> f64 {
    ((width - hole).max(0.0) * thickness * 160.0).min(per_screw * f64::from(screws))
}
