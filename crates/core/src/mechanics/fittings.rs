//! Hinges, slides, fronts, feet and straps: the forces on each. What usual ones carry stands in `assets/fittings`.

use serde::Serialize;

use super::GRAVITY;

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
