//! Fittings: hardware that a design names. Figures are the user's, from the maker's sheet.

use serde::{Deserialize, Serialize};

use crate::expr::Dim;

/// A piece of hardware.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Fitting<L = Dim> {
    /// A pair of drawer slides.
    Slide(Slide<L>),
    /// A hinge.
    Hinge(Hinge<L>),
}

/// A pair of drawer slides.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slide<L = Dim> {
    /// Where it is mounted.
    pub mount: SlideMount,
    /// Nominal length.
    pub length: L,
    /// Space that it takes between box and carcass on each side; 12.7 mm for side-mounted ball bearing slides (common
    /// practice). For under-mounted slides the space between the inside of the box and the carcass on each side, 21 mm
    /// (common practice).
    pub side_space: L,
    /// Height of its profile.
    pub height: L,
    /// Load class of the pair, kg, as the maker gives it for a dynamic load.
    pub load_kg: f64,
    /// How far it comes out.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub extension: Extension,
}

/// Where a slide is mounted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum SlideMount {
    /// On the outside of the box.
    Side,
    /// Under the bottom of the box.
    Under,
}

/// How far a slide comes out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Extension {
    /// By its whole length.
    #[default]
    Full,
    /// By about three quarters of its length.
    Partial,
}

/// A hinge for a front.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hinge<L = Dim> {
    /// Diameter of the cup; 35 mm (common practice).
    pub cup: L,
    /// Depth of the cup.
    pub cup_depth: L,
    /// Opening angle, degrees.
    pub opens_deg: f64,
}
