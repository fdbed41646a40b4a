//! Hardware in its place, and what kind of hardware it is.

use serde::Serialize;

use crate::geometry::Cuboid;

/// Hardware in its place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MountedFitting {
    /// What kind of hardware it is.
    #[serde(skip)]
    pub kind: FittingKind,
    /// Its name in the design; what the program adds by itself, such as feet, goes by the word for it.
    pub name: String,
    /// What it is, in words.
    pub what: String,
    /// What else is worth knowing of it in this place; empty if nothing is.
    pub remark: String,
    /// The bay that it serves.
    pub bay: String,
    /// The space that it takes when shut.
    pub cuboid: Cuboid,
    /// How many pieces this entry stands for.
    pub count: u32,
}

impl MountedFitting {
    /// What it is, and what else is worth knowing of it here.
    #[must_use]
    pub fn in_words(&self) -> String {
        if self.remark.is_empty() { self.what.clone() } else { format!("{}; {}", self.what, self.remark) }
    }
}

/// The kinds of hardware that are mounted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FittingKind {
    /// A hinge with a cup, which the design names.
    CupHinge,
    /// A hinge of which nothing is known.
    Hinge,
    /// One of a pair of slides.
    Slide,
    /// A handle or knob.
    Handle,
    /// A stay, damper or strut.
    Stay,
    /// An angle bracket of a front.
    Bracket,
    /// What the piece stands on.
    Stand(StandPiece),
    /// What draws pieces of a worktop together.
    WorktopConnector,
}

/// What a piece stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StandPiece {
    /// A foot behind a plinth.
    PlinthFoot,
    /// A foot.
    Foot,
    /// A castor.
    Castor,
}

impl StandPiece {
    /// What it is called.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::PlinthFoot => "plinth foot",
            Self::Foot => "foot",
            Self::Castor => "castor",
        }
    }

    /// Whether it can be set to a height.
    #[must_use]
    pub const fn is_foot(self) -> bool {
        matches!(self, Self::PlinthFoot | Self::Foot)
    }
}

/// Fittings as a list gives them: those that are alike and belong to one bay are one entry with their number, in the order in
/// which they are mounted.
#[must_use]
pub fn listed(fittings: &[MountedFitting]) -> Vec<(&MountedFitting, u32)> {
    let mut listed: Vec<(&MountedFitting, u32)> = Vec::new();
    for fitting in fittings {
        let alike = |other: &MountedFitting| {
            other.name == fitting.name
                && other.what == fitting.what
                && other.remark == fitting.remark
                && other.bay == fitting.bay
        };
        match listed.iter_mut().find(|(other, _)| alike(other)) {
            Some((_, count)) => *count += fitting.count,
            None => listed.push((fitting, fitting.count)),
        }
    }
    listed
}
