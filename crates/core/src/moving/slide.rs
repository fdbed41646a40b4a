//! Sliding: the distance until one convex outline meets another along a straight way.

use super::TOUCH_MM;
use super::planar::{self, Spot};

/// How far an outline slides before it meets another, and where; `s` is the way, `q` across it. None if it never does
/// within `travel`.
///
/// Over each `q` that both have, the gap is the near end of the fixed outline less the far end of the moving one. It is a
/// convex function, straight between corners, so that its least value lies at a corner or at an end of the shared range.
pub(super) fn first(moving: &[Spot], fixed: &[Spot], travel: f64) -> Option<(f64, Spot)> {
    let (own, other) = (planar::shadow(moving, [0.0, 1.0]), planar::shadow(fixed, [0.0, 1.0]));
    let shared = (own.0.max(other.0), own.1.min(other.1));
    if shared.1 - shared.0 <= TOUCH_MM {
        return None;
    }
    let corners = moving.iter().chain(fixed).map(|spot| spot[1]).filter(|q| (shared.0..=shared.1).contains(q));
    let mut least = (f64::INFINITY, [0.0, 0.0]);
    let mut passed = f64::NEG_INFINITY;
    for q in corners.chain([shared.0, shared.1]) {
        let (Some(m), Some(f)) = (planar::ends_at(moving, q), planar::ends_at(fixed, q)) else { continue };
        let gap = f.0 - m.1;
        if gap < least.0 {
            least = (gap, [f.0, q]);
        }
        passed = passed.max(f.1 - m.0);
    }
    // It lies behind, or is reached too late.
    if passed <= TOUCH_MM || least.0 >= travel - TOUCH_MM {
        return None;
    }
    Some((least.0.max(0.0), least.1))
}
