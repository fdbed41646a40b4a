//! What holes and grooves of parts are for.

use std::fmt;

use serde::{Serialize, Serializer};

use super::fitting::StandPiece;

/// What a hole or groove is for. It is written as what sheets, findings and the derived file call it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// A dowel of a joint.
    Dowel {
        /// Number of the part that it leads to.
        to: String,
    },
    /// A screw of a joint, through a part or into it.
    Screw {
        /// Number of the part that it leads to.
        to: String,
    },
    /// The cup of a hinge.
    Cup,
    /// A screw beside the cup of a hinge.
    CupSocket,
    /// A screw of the plate of a hinge.
    HingePlate {
        /// Number of the door.
        door: String,
    },
    /// A pin that a loose shelf may lie on.
    ShelfPin {
        /// Number of the shelf.
        shelf: String,
    },
    /// A screw of a slide.
    SlideScrew {
        /// Name of the bay.
        bay: String,
    },
    /// The hook of an under-mounted slide.
    SlideHook,
    /// The clip of an under-mounted slide.
    SlideClip,
    /// The way of an under-mounted slide through the rear of its box.
    SlideNotch,
    /// A screw of what the piece stands on.
    StandScrew(StandPiece),
    /// A screw of a handle.
    HandleScrew,
    /// An end of a stay, damper or strut.
    Stay {
        /// Id of the mover that it holds.
        mover: String,
    },
    /// An end of a string or chain.
    Cord {
        /// Id of the mover that it holds.
        mover: String,
    },
    /// An end of the string that opens a lid.
    LidString {
        /// Id of the mover that the lid is on.
        mover: String,
    },
    /// The pulley that such a string runs over.
    Pulley {
        /// Id of the mover that it is on.
        mover: String,
    },
    /// A screw of an angle bracket.
    BracketScrew {
        /// Name of the bay.
        bay: String,
    },
    /// A groove that the edge of another part stands in.
    Groove {
        /// What stands in it: the name of the part.
        of: String,
    },
    /// A rebate that the edge of another part stands in.
    Rebate {
        /// What stands in it: the name of the part.
        of: String,
    },
    /// An opening right through, for air or leads.
    Opening {
        /// Name of the bay.
        bay: String,
    },
}

impl Purpose {
    /// What it is called, before the name of what it serves, if it has one.
    #[must_use]
    pub const fn words(&self) -> &'static str {
        match self {
            Self::Dowel { .. } => "dowel to",
            Self::Screw { .. } => "screw to",
            Self::Cup => "hinge cup",
            Self::CupSocket => "hinge socket",
            Self::HingePlate { .. } => "hinge plate of",
            Self::ShelfPin { .. } => "shelf pin of",
            Self::SlideScrew { .. } => "slide screw of",
            Self::SlideHook => "hook of the slide",
            Self::SlideClip => "clip of the slide",
            Self::SlideNotch => "notch for the slide",
            Self::StandScrew(StandPiece::PlinthFoot) => "plinth foot screw",
            Self::StandScrew(StandPiece::Foot) => "foot screw",
            Self::StandScrew(StandPiece::Castor) => "castor screw",
            Self::HandleScrew => "handle screw",
            Self::Stay { .. } => "stay of",
            Self::Cord { .. } => "string of",
            Self::LidString { .. } => "lid string of",
            Self::Pulley { .. } => "pulley of",
            Self::BracketScrew { .. } => "bracket screw of",
            Self::Groove { .. } => "groove for the",
            Self::Rebate { .. } => "rebate for the",
            Self::Opening { .. } => "opening of",
        }
    }

    /// The number of the part that it leads to or serves; none if it is no part, or a part that goes by its name.
    #[must_use]
    pub fn part_number(&self) -> Option<&str> {
        match self {
            Self::Dowel { to: number }
            | Self::Screw { to: number }
            | Self::HingePlate { door: number }
            | Self::ShelfPin { shelf: number } => Some(number),
            _ => None,
        }
    }

    /// The name of what it serves, after its words.
    fn name(&self) -> Option<&str> {
        match self {
            Self::SlideScrew { bay: name }
            | Self::Stay { mover: name }
            | Self::Cord { mover: name }
            | Self::LidString { mover: name }
            | Self::Pulley { mover: name }
            | Self::BracketScrew { bay: name }
            | Self::Groove { of: name }
            | Self::Rebate { of: name }
            | Self::Opening { bay: name } => Some(name),
            _ => self.part_number(),
        }
    }
}

impl fmt::Display for Purpose {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.name() {
            Some(name) => write!(f, "{} {name}", self.words()),
            None => f.write_str(self.words()),
        }
    }
}

impl Serialize for Purpose {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
