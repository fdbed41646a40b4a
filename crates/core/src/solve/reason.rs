//! Why a must or a wish is there, in words and with the field of the design that it comes from.

use crate::geometry::Axis;
use crate::length::Length;
use crate::text::FieldPath;

/// The source of one must or wish.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Reason {
    /// What kind of demand it is.
    pub(super) kind: ReasonKind,
    /// The field that it comes from.
    pub(super) field: FieldPath,
    /// Names of the bays and things concerned.
    pub(super) about: Vec<String>,
}

/// What kind of demand it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum ReasonKind {
    /// The envelope is fixed.
    EnvelopeFixed,
    /// The envelope has a largest size.
    EnvelopeLimit,
    /// The niche gives so much.
    Niche,
    /// The boards in stock are no wider, or no longer, than that.
    Boards {
        /// The material.
        material: String,
        /// The panel that is limited.
        panel: String,
        /// The stock family that it is bound to.
        family: Option<String>,
        /// Whether it is the length of the boards that limits, not their width.
        along: bool,
    },
    /// A bay's size is fixed.
    BayFixed,
    /// A bay has a smallest size.
    BayLeast,
    /// A bay has a largest size.
    BayMost,
    /// What a bay holds needs so much.
    Holds {
        /// The parts of the sum, in words, such as `dryer 595` or `2 slides 25.4`.
        sum: Vec<Term>,
    },
    /// What runs on slides, or is otherwise carried, can be no deeper.
    Carried {
        /// What limits it.
        what: String,
    },
    /// Two rails, one before the other, need room.
    Rails,
    /// A bay needs an opening at all.
    Opening,
    /// Bays are tied.
    Tied,
    /// The share among siblings, the preferred size, or another wish.
    Wish(&'static str),
}

/// One part of a sum of lengths.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Term {
    /// What it is.
    pub(super) what: String,
    /// How much.
    pub(super) length: Length,
}

/// The word for the size along an axis.
#[must_use]
pub const fn size_word(axis: Axis) -> &'static str {
    match axis {
        Axis::X => "width",
        Axis::Y => "height",
        Axis::Z => "depth",
    }
}
