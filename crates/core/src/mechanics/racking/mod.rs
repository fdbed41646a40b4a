//! Racking: how far a carcass leans when it is pushed sideways, and what a back or straps do about it.
//!
//! The model is a plane frame of the panels seen from the front, with springs where panels meet, a shear panel for a back
//! and single diagonals for crossed straps (of a pair only the one in tension works). Joint stiffness is an estimate, so
//! the result compares constructions; it is no proof of strength.

mod frame;

pub use frame::{Brace, Frame, FrameError, Held, Member};

use super::GRAVITY;
use super::source::{Source, Sourced};

/// Sideways push at the top that a free-standing piece should bear, N.
pub const PUSH: Sourced = Sourced::new(300.0, Source::practice("a person leans on it"));

/// Largest lean as a share of the height: height over this.
pub const LEAN_LIMIT: Sourced = Sourced::new(200.0, Source::practice("height/200, doors still shut"));

/// Turning stiffness of a dowelled or screwed corner, N·mm per radian: each fastener gives way by `slip` N/mm in
/// withdrawal, at a lever of half the thickness of the edge part. An estimate from first principles.
#[must_use]
pub fn corner_stiffness(fasteners: usize, slip: f64, thickness: f64) -> f64 {
    fasteners as f64 * slip * (thickness / 2.0).powi(2)
}

/// Give of one glued dowel or screw in withdrawal, N/mm.
pub const CORNER_SLIP: Sourced = Sourced::new(4000.0, Source::memory("glued dowel in particleboard, a few kN/mm"));

/// Slip stiffness of a screw across its axis, N/mm: K_ser = density^1.5 · d / 23. EN 1995-1-1 Table 7.1, from memory.
#[must_use]
pub fn screw_slip(density: f64, diameter: f64) -> f64 {
    density.powf(1.5) * diameter / 23.0
}

/// Sideways stiffness of a back panel, N/mm: the panel in shear, G t b / h, in series with its fasteners at a pitch,
/// K b / (2 s (1 + h/b)). Statics of a sheathed wall with all four edges fixed; an even shear flow q = F/b.
#[must_use]
pub fn back_stiffness(width: f64, height: f64, thickness: f64, shear_modulus: f64, slip: f64, pitch: f64) -> f64 {
    let panel = shear_modulus * thickness * width / height;
    let edges = slip * width / (2.0 * pitch * (1.0 + height / width));
    1.0 / (1.0 / panel + 1.0 / edges)
}

/// Stiffness of a strap along itself, N/mm: the steel, E A / L with E = 210 000 MPa, in series with the slip of its
/// screws at both ends.
#[must_use]
pub fn strap_stiffness(width: f64, thickness: f64, length: f64, slip: f64, screws: u32) -> f64 {
    let steel = 210_000.0 * width * thickness / length;
    1.0 / (1.0 / steel + 2.0 / (slip * f64::from(screws.max(1))))
}

/// Sideways push on the open front that lifting the piece at one corner amounts to, N: m g w / (8 h).
///
/// Statics: the other three corners carry it, so that a couple of a quarter of the weight at each corner twists the box;
/// shear flow T / (2 A) round the ring of bottom, back, top and open front, with T = m g d / 4 and A = h d, pushes the front
/// frame with flow times width.
#[must_use]
pub fn corner_lift_push(mass_kg: f64, width: f64, height: f64) -> f64 {
    mass_kg * GRAVITY * width / (8.0 * height)
}

/// One opening between two uprights of a carcass, from left to right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RackBay {
    /// Distance of the middles of its uprights, mm.
    pub width: f64,
    /// Stiffness of what braces it, N/mm of sideways movement: a back ([`back_stiffness`]) or straps; zero if nothing.
    pub braced: f64,
}

/// A carcass as seen from the front: uprights between a bottom and a top.
#[derive(Clone, Debug, PartialEq)]
pub struct RackModel {
    /// Distance of the middles of bottom and top, mm.
    pub height: f64,
    /// Its openings.
    pub bays: Vec<RackBay>,
    /// Bending stiffness E·I of one upright, N·mm².
    pub upright: f64,
    /// The same of the bottom.
    pub bottom: f64,
    /// The same of the top.
    pub top: f64,
    /// Turning stiffness of each corner, N·mm per radian.
    pub corner: f64,
}

impl RackModel {
    /// Sideways movement of the top under a force at its left end, mm per N. The uprights stand on the floor without
    /// being held from turning.
    ///
    /// # Errors
    /// [`FrameError`] if nothing at all resists.
    pub fn lean_per_newton(&self) -> Result<f64, FrameError> {
        // Panels hardly give along themselves: left out.
        const AXIAL: f64 = 1e9;
        let mut frame = Frame::default();
        let mut x = 0.0;
        let mut places = vec![x];
        for bay in &self.bays {
            x += bay.width;
            places.push(x);
        }
        for (i, &x) in places.iter().enumerate() {
            frame.nodes.push((x, 0.0));
            frame.nodes.push((x, self.height));
            let (low, high) = (2 * i, 2 * i + 1);
            // The foot stands still; its turning is resisted by the bottom only.
            frame.held.push(Held { node: low, x: true, y: true, turn: false });
            frame.members.push(Member {
                from: low,
                to: high,
                axial: AXIAL,
                bending: self.upright,
                spring_from: self.corner,
                spring_to: self.corner,
            });
        }
        for (i, bay) in self.bays.iter().enumerate() {
            for (level, bending) in [(0, self.bottom), (1, self.top)] {
                if bending > 0.0 {
                    let rigid = f64::INFINITY;
                    let (from, to) = (2 * i + level, 2 * i + 2 + level);
                    frame.members.push(Member {
                        from,
                        to,
                        axial: AXIAL,
                        bending,
                        spring_from: rigid,
                        spring_to: rigid,
                    });
                }
            }
            if bay.braced > 0.0 {
                let cos = bay.width / bay.width.hypot(self.height);
                frame.braces.push(Brace { from: 2 * i, to: 2 * i + 3, stiffness: bay.braced / (cos * cos) });
            }
        }
        let moved = frame.solve(&[(1, 1.0, 0.0)])?;
        Ok(moved.get(1).map_or(0.0, |it| it[0]))
    }
}
