//! Fittings: hardware that a design names. Figures are the user's, from the maker's sheet.

use serde::{Deserialize, Serialize};

use crate::expr::Dim;
use crate::fittings::{CUP_HINGE, library, usual_mount, usual_names};

/// A piece of hardware.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Fitting<L = Dim> {
    /// A pair of drawer slides.
    Slide(Slide<L>),
    /// A hinge.
    Hinge(Hinge<L>),
    /// A handle or knob.
    Handle(Handle<L>),
    /// A stay that holds a flap or a tilting compartment by its friction.
    Stay(LidStay<L>),
    /// A damper that resists along its line.
    Damper(Damper<L>),
    /// A strut that pushes its ends apart.
    Strut(Strut<L>),
    /// An angle bracket.
    Bracket(Bracket<L>),
    /// Usual hardware of the library that comes with the program.
    Usual(Usual<L>),
}

impl<L> Fitting<L> {
    /// Whether it is a pair of slides.
    #[must_use]
    pub fn is_slide(&self) -> bool {
        match self {
            Self::Slide(_) => true,
            Self::Usual(usual) => usual_mount(&usual.of).is_some(),
            _ => false,
        }
    }

    /// Whether it is a hinge.
    #[must_use]
    pub fn is_hinge(&self) -> bool {
        match self {
            Self::Hinge(_) => true,
            Self::Usual(usual) => usual.of == CUP_HINGE,
            _ => false,
        }
    }

    /// Whether it is a handle.
    #[must_use]
    pub fn is_handle(&self) -> bool {
        match self {
            Self::Handle(_) => true,
            Self::Usual(usual) => library().is_ok_and(|it| it.sundries.handles.iter().any(|it| it.name == usual.of)),
            _ => false,
        }
    }

    /// Whether it is a stay, a damper or a strut.
    #[must_use]
    pub fn is_holder(&self) -> bool {
        match self {
            Self::Stay(_) | Self::Damper(_) | Self::Strut(_) => true,
            Self::Usual(usual) => library().is_ok_and(|it| it.hinges.holders().any(|it| it == usual.of)),
            _ => false,
        }
    }

    /// Whether it is a stay or strut that has a length of its own, so that nothing else decides how long it is.
    #[must_use]
    pub fn has_own_length(&self) -> bool {
        match self {
            Self::Stay(stay) => stay.length.is_some(),
            Self::Strut(_) => true,
            Self::Usual(usual) => library().is_ok_and(|it| {
                let stay = it.hinges.stays.iter().find(|it| it.name == usual.of);
                stay.is_some_and(|it| it.length.0 > 0.0) || it.hinges.struts.iter().any(|it| it.name == usual.of)
            }),
            _ => false,
        }
    }

    /// Whether it is an angle bracket.
    #[must_use]
    pub fn is_bracket(&self) -> bool {
        match self {
            Self::Bracket(_) => true,
            Self::Usual(usual) => library().is_ok_and(|it| it.sundries.brackets.iter().any(|it| it.name == usual.of)),
            _ => false,
        }
    }

    /// Whether it refers to something that the library does not have.
    pub(super) fn is_unknown(&self) -> bool {
        let Self::Usual(usual) = self else { return false };
        library().is_ok_and(|library| !usual_names(library).contains(&usual.of))
    }
}

/// Usual hardware by its name in the library, `assets/fittings`. What is given here goes before the library's figures;
/// a field that the kind does not have is a fault. Slides without a length or load class are chosen by the program, bay
/// by bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Usual<L = Dim> {
    /// Its name in the library.
    pub of: String,
    /// Slides: nominal length; the longest that fits if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub length: Option<L>,
    /// Slides: load class of the pair, kg; the least that carries what is on them if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load_kg: Option<f64>,
    /// Slides: how far they come out; fully if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extension: Option<Extension>,
    /// Slides: space on each side, as in [`Slide::side_space`].
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub side_space: Option<L>,
    /// Slides: height of the profile.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub height: Option<L>,
    /// Hinges: diameter of the cup.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub cup: Option<L>,
    /// Hinges: depth of the cup.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub cup_depth: Option<L>,
    /// Hinges: opening angle, degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opens_deg: Option<f64>,
    /// Handles: between their holes.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub holes_apart: Option<L>,
    /// Handles: how far they stand out from the front.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub stands_out: Option<L>,
}

impl<L> Usual<L> {
    /// The entry that says no more than the name.
    #[must_use]
    pub fn plain(of: impl Into<String>) -> Self {
        Self {
            of: of.into(),
            length: None,
            load_kg: None,
            extension: None,
            side_space: None,
            height: None,
            cup: None,
            cup_depth: None,
            opens_deg: None,
            holes_apart: None,
            stands_out: None,
        }
    }
}

/// A handle or knob of a front.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Handle<L = Dim> {
    /// Between its two holes, middle to middle; a knob with a single hole has none.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub holes_apart: Option<L>,
    /// How far it stands out from the front.
    pub stands_out: L,
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

/// A stay between carcass and compartment or flap: a rod or a folding arm that friction holds at every angle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LidStay<L = Dim> {
    /// From end to end when fully out; as the design stops it if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub length: Option<L>,
    /// The moment that one of them holds about the hinge, N m, by the maker's sheet.
    pub holds_nm: f64,
}

/// A damper. It is taken to resist with the same force over its whole stroke, against either way of moving.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Damper<L = Dim> {
    /// From fully in to fully out.
    pub stroke: L,
    /// Its force, N, by the maker's sheet.
    pub force_n: f64,
}

/// A strut that pushes its ends apart, such as a gas strut. Its force is taken to change evenly with its length, and not
/// to depend on how fast it moves.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strut<L = Dim> {
    /// From end to end when fully in.
    pub length_in: L,
    /// From end to end when fully out.
    pub length_out: L,
    /// The force with which it pushes when nearly out, N, by the maker's sheet.
    pub force_n: f64,
    /// The force when fully in, N; the same if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub force_in_n: Option<f64>,
}

/// An angle bracket with equal legs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bracket<L = Dim> {
    /// Length of a leg.
    pub leg: L,
    /// Its width.
    pub width: L,
    /// The pull at the end of a leg that one of them holds, N, by the maker's sheet.
    pub holds_n: f64,
}
