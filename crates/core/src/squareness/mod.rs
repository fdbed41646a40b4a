//! Squareness: nominal diagonals of boxes and openings, and what two measured diagonals say.
//!
//! A frame whose sides keep their lengths and whose corners give becomes a parallelogram. With sides w and h and the
//! upright sides leaning by φ, the law of cosines gives for the diagonal that grows d₁² = w² + h² + 2wh sin φ and for
//! the other d₂² = w² + h² − 2wh sin φ. So sin φ = (d₁² − d₂²) / 4wh, and d₁² + d₂² = 2(w² + h²) whatever the angle: that
//! sum tells whether the sides are what they ought to be.

mod frames;

#[cfg(test)]
mod tests;

pub use frames::{Frame, frames};

use thiserror::Error;

use crate::length::Length;

/// What two measured diagonals say of a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Racked {
    /// How far the corners are from square, degrees; above zero where the first diagonal is the longer.
    pub out_of_square_deg: f64,
    /// How far the upper edge stands aside of the lower one, mm, to the right if above zero.
    pub lean_mm: f64,
    /// How far the gap beside a square front of the frame's height runs out from its lower to its upper end, mm.
    pub runs_out_upright_mm: f64,
    /// How far the gap above a square front of the frame's width runs out from end to end if it hangs true to a side, mm.
    pub runs_out_lying_mm: f64,
    /// Which way to pull.
    pub pull: Pull,
    /// By how much the longer diagonal has to become shorter, mm.
    pub shorten_by_mm: f64,
    /// How much longer than nominal the diagonals of the frame will be once it is square, mm; far from zero, a side is
    /// not what it ought to be.
    pub sides_off_mm: f64,
}

/// Which corners to pull together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pull {
    /// The frame is square.
    Nothing,
    /// Lower left and upper right.
    LowerLeftUpperRight,
    /// Lower right and upper left.
    LowerRightUpperLeft,
}

impl Pull {
    /// What to do, in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Nothing => "leave it as it is",
            Self::LowerLeftUpperRight => "pull the lower left and the upper right corner together",
            Self::LowerRightUpperLeft => "pull the lower right and the upper left corner together",
        }
    }
}

/// Why measured diagonals say nothing.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum NoFrame {
    /// A length that is not above zero.
    #[error("a side or diagonal is not longer than nothing; measure it again")]
    NotALength,
    /// No parallelogram with these sides has such diagonals.
    #[error(
        "diagonals of {first_mm} and {second_mm} mm differ by more than {most_mm:.0} mm, which no frame of this size can; \
         measure again, from the same corners on both"
    )]
    TooFarApart {
        /// The first diagonal, mm.
        first_mm: f64,
        /// The second, mm.
        second_mm: f64,
        /// How far apart they may be at most, mm.
        most_mm: f64,
    },
    /// The sum of squares is far from that of the sides.
    #[error(
        "diagonals of {first_mm} and {second_mm} mm belong to no frame of {width_mm} x {height_mm} mm: square it would \
         measure {square_mm:.1} mm; measure the sides again, or inside instead of outside"
    )]
    OtherSize {
        /// The first diagonal, mm.
        first_mm: f64,
        /// The second, mm.
        second_mm: f64,
        /// Nominal width, mm.
        width_mm: f64,
        /// Nominal height, mm.
        height_mm: f64,
        /// The nominal diagonal, mm.
        square_mm: f64,
    },
}

/// Both sides off by so much at once is another frame, not a racked one, mm (own choice: more than any saw is out).
const OTHER_FRAME_MM: f64 = 10.0;
/// Diagonals that differ by less are the same, mm (own choice: a tape cannot be read closer).
const SAME_MM: f64 = 0.05;

/// The nominal diagonal of a rectangle, rounded to a tenth of a millimetre, as a tape can be read.
#[must_use]
pub fn diagonal(width: Length, height: Length) -> Length {
    Length::from_mm_f64(width.mm().hypot(height.mm())).rounded_to(Length::from_um(100))
}

/// What the diagonals of a frame say: `first` from lower left to upper right, `second` from lower right to upper left.
///
/// # Errors
/// See [`NoFrame`].
pub fn racked(width: Length, height: Length, first: Length, second: Length) -> Result<Racked, NoFrame> {
    if [width, height, first, second].iter().any(|it| *it <= Length::ZERO) {
        return Err(NoFrame::NotALength);
    }
    let (w, h, d1, d2) = (width.mm(), height.mm(), first.mm(), second.mm());
    let square = w.hypot(h);
    // What both would be once the frame is square.
    let mean = ((d1 * d1 + d2 * d2) / 2.0).sqrt();
    if (mean - square).abs() > OTHER_FRAME_MM {
        let (first_mm, second_mm, width_mm, height_mm) = (d1, d2, w, h);
        return Err(NoFrame::OtherSize { first_mm, second_mm, width_mm, height_mm, square_mm: square });
    }
    let sine = (d1 * d1 - d2 * d2) / (4.0 * w * h);
    if sine.abs() >= 1.0 {
        let most_mm = w + h - (w - h).abs();
        return Err(NoFrame::TooFarApart { first_mm: d1, second_mm: d2, most_mm });
    }
    let angle = sine.asin();
    let pull = match d1 - d2 {
        more if more > SAME_MM => Pull::LowerLeftUpperRight,
        less if less < -SAME_MM => Pull::LowerRightUpperLeft,
        _ => Pull::Nothing,
    };
    Ok(Racked {
        out_of_square_deg: angle.to_degrees(),
        lean_mm: h * sine,
        runs_out_upright_mm: h * angle.tan().abs(),
        runs_out_lying_mm: w * angle.tan().abs(),
        pull,
        shorten_by_mm: d1.max(d2) - mean,
        sides_off_mm: mean - square,
    })
}
