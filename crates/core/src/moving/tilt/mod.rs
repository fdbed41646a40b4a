//! Tilting compartments and flaps in their plane: where corners go, when a string or stay goes taut, how far a lid has turned, and
//! which way the weight turns it.
//!
//! Coordinates are those of the section: `out` from the hinge towards the person and `up`, in mm, with the hinge at the
//! origin, the compartment shut. Turning by an angle a carries (out, up) to (out cos a + up sin a, up cos a - out sin a). For a
//! compartment hung at its upper edge the same holds with `up` counted downwards, so that one set of formulas serves;
//! only gravity changes its sign.

mod balance;
mod clear;
mod given;
mod holder;
mod lid;
mod stay;
#[cfg(test)]
mod tests;
mod way;

pub use balance::{Balance, Leaning, Weight};
pub use clear::first_meeting;
pub use given::{FLAP_OPENS_DEG, Given};
pub use holder::{FRICTION_NMM, Holder, Phase, Push, Resists, phases};
pub use lid::{Lid, LidTurn};
pub use stay::Stay;
pub use way::{CornerWay, TiltOut, tilt_outs};

/// A spot of the section: out from the hinge, up from the hinge, mm.
pub type OutUp = [f64; 2];

/// A spot after the compartment has turned.
#[must_use]
pub fn tilted([out, up]: OutUp, angle_rad: f64) -> OutUp {
    let (sin, cos) = angle_rad.sin_cos();
    [out * cos + up * sin, up * cos - out * sin]
}
