//! Dowels and screws: what one holds.

use std::f64::consts::PI;

use serde::Serialize;

use super::source::{Source, Sourced};

/// Where a screw enters a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Entry {
    /// Through a face.
    Face,
    /// Through an edge.
    Edge,
}

/// Ultimate withdrawal of a screw from particleboard, N: P = K D^0.5 (L - D/3)^1.25 G², K = 41.1 for the face and 31.8
/// for the edge, mm. Wood Handbook, fastenings in wood-base panels, from memory. `thread` is the length in the board.
#[must_use]
pub fn screw_withdrawal_particleboard(entry: Entry, gravity: f64, diameter: f64, thread: f64) -> f64 {
    let factor = match entry {
        Entry::Face => 41.1,
        Entry::Edge => 31.8,
    };
    factor * diameter.sqrt() * (thread - diameter / 3.0).max(0.0).powf(1.25) * gravity * gravity
}

/// The share of the ultimate load that a screw in furniture board should carry for years: a quarter. Published
/// allowable values lie between 10 and 50 % of failure (engineeringtoolbox.com d_1815).
pub const SCREW_SHARE: Sourced = Sourced::new(0.25, Source::practice("a quarter of the ultimate load"));

/// Load that one glued dowel should carry across its axis, N, at the edge of a panel.
///
/// The panel's edge splits before the dowel shears: tension across the faces over the embedded length and twice the
/// dowel's diameter to either side (4 d), with a factor of safety of 1.5 on the standard's strength; and never more than
/// the dowel's own shear, pi d²/4 at 5 MPa (hardwood cut across the grain). `embedded` is the length in the edge, mm;
/// `internal_bond` MPa.
/// An estimate from first principles: no published figure was seen.
#[must_use]
pub fn dowel_load(diameter: f64, embedded: f64, internal_bond: f64) -> Sourced {
    let splitting = internal_bond * embedded * 4.0 * diameter / 1.5;
    let shearing = PI * diameter * diameter / 4.0 * 5.0;
    Sourced::new(splitting.min(shearing), Source::derived("splitting of the panel edge, 4 d wide, safety 1.5"))
}

/// The load on each dowel of a joint, N: the shear shared evenly, and what the end moment adds at the outermost pair.
/// `moment` in N·mm turns the joint about its middle; `places` are the dowels' places along it, mm.
#[must_use]
pub fn load_per_dowel(shear: f64, moment: f64, places: &[f64]) -> f64 {
    let count = places.len();
    if count == 0 {
        return f64::INFINITY;
    }
    let middle = places.iter().sum::<f64>() / count as f64;
    let polar: f64 = places.iter().map(|x| (x - middle).powi(2)).sum();
    let far = places.iter().map(|x| (x - middle).abs()).fold(0.0, f64::max);
    let from_moment = if moment == 0.0 {
        0.0
    } else if polar > 0.0 {
        moment.abs() * far / polar
    } else {
        f64::INFINITY
    };
    shear.abs() / count as f64 + from_moment
}
