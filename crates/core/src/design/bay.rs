//! The bay tree: each bay is divided, wrapped in its own box, holds something, or is open space.

use serde::{Deserialize, Serialize};

use super::carcass::{Construction, FrontStyle};
use super::joints::JointKind;
use crate::expr::Dim;

/// One compartment. Its width and height are those of the clear opening between the panels that close it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bay<L = Dim> {
    /// Its name, unique in the whole tree.
    pub name: String,
    /// What is asked of its width.
    #[serde(default = "free", skip_serializing_if = "is_free")]
    pub width: Want<L>,
    /// What is asked of its height.
    #[serde(default = "free", skip_serializing_if = "is_free")]
    pub height: Want<L>,
    /// Its part of what is left to share among the bays of the same division; 1 if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub share: Option<f64>,
    /// What it is for.
    pub inside: Inside<L>,
    /// What closes it towards the person.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub front: Option<Front<L>>,
}

impl<L> Bay<L> {
    /// A bay of which nothing is asked but what it is for.
    #[must_use]
    pub fn plain(name: impl Into<String>, inside: Inside<L>) -> Self {
        let name = name.into();
        Self { name, width: Want::Free, height: Want::Free, share: None, inside, front: None }
    }

    /// The bays that it is directly divided into, or the one that it wraps.
    #[must_use]
    pub fn children(&self) -> &[Self] {
        match &self.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => bays,
            Inside::Boxed { bay, .. } => std::slice::from_ref(bay),
            Inside::Open { .. } | Inside::Holds { .. } => &[],
        }
    }

    /// As [`Bay::children`], to be changed.
    pub fn children_mut(&mut self) -> &mut [Self] {
        match &mut self.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => bays,
            Inside::Boxed { bay, .. } => std::slice::from_mut(bay),
            Inside::Open { .. } | Inside::Holds { .. } => &mut [],
        }
    }

    /// The bay of this name: itself or one under it.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Self> {
        if self.name == name { Some(self) } else { self.children().iter().find_map(|it| it.named(name)) }
    }

    /// As [`Bay::named`], to be changed.
    pub fn named_mut(&mut self, name: &str) -> Option<&mut Self> {
        if self.name == name { Some(self) } else { self.children_mut().iter_mut().find_map(|it| it.named_mut(name)) }
    }
}

fn free<L>() -> Want<L> {
    Want::Free
}

fn is_free<L>(want: &Want<L>) -> bool {
    matches!(want, Want::Free)
}

/// What is asked of one size.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Want<L = Dim> {
    /// Whatever the rest leaves.
    Free,
    /// Exactly this.
    Fixed(L),
    /// This or more.
    AtLeast(L),
    /// This or less.
    AtMost(L),
    /// From the first to the second.
    Between(L, L),
    /// Near this, if the rest allows it.
    Prefer(L),
}

/// What a bay is for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Inside<L = Dim> {
    /// Open space, with so many shelves that divide it evenly.
    Open {
        /// Number of loose shelves.
        #[serde(default, skip_serializing_if = "super::is_default")]
        shelves: u32,
    },
    /// Holds things, side by side from left to right if several.
    Holds {
        /// Their names.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        things: Vec<String>,
        /// What carries them.
        by: Holding<L>,
    },
    /// Divided by uprights, bays from left to right.
    Across {
        /// The bays.
        bays: Vec<Bay<L>>,
        /// What stands between them.
        #[serde(default, skip_serializing_if = "super::is_default")]
        by: Divider,
    },
    /// Divided by shelves, bays from the floor up.
    Up {
        /// The bays.
        bays: Vec<Bay<L>>,
        /// What lies between them.
        #[serde(default, skip_serializing_if = "super::is_default")]
        by: Divider,
    },
    /// Wrapped in a shell of its own.
    Boxed {
        /// How the shell is built.
        #[serde(default = "plain_shell", skip_serializing_if = "is_plain_shell")]
        shell: Shell<L>,
        /// What is inside it.
        bay: Box<Bay<L>>,
    },
}

fn plain_shell<L>() -> Shell<L> {
    Shell { gap: None, construction: None, joint: None }
}

fn is_plain_shell<L>(shell: &Shell<L>) -> bool {
    shell.gap.is_none() && shell.construction.is_none() && shell.joint.is_none()
}

/// What stands or lies between the bays of a division.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Divider {
    /// A panel over the whole depth, of the construction's own board.
    #[default]
    Panel,
    /// A panel over the whole depth, of this material.
    Of(String),
    /// No panel at all: the bays meet.
    Nothing,
}

/// A shell of its own round a bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shell<L = Dim> {
    /// Air between the shell and what surrounds it; none if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub gap: Option<L>,
    /// How it is built; as the carcass if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub construction: Option<Construction<L>>,
    /// How its panels are joined, where all else is as round it.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub joint: Option<JointKind<L>>,
}

/// What carries the things in a bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Holding<L = Dim> {
    /// They stand on what closes the bay below.
    Standing,
    /// They stand on a shelf of their own inside the bay, above free space.
    Shelf {
        /// Clear height under that shelf.
        under: L,
    },
    /// They stand on a board that comes out on slides.
    PullOut {
        /// The name of the slides; the longest usual side-mounted ones that fit and carry it if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        slide: Option<String>,
        /// The material of the board; the construction's own if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        board: Option<String>,
        /// Height of the strips along the board; none if not given.
        #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
        strips: Option<L>,
    },
    /// They lie in a drawer box, which may also be empty.
    Drawer {
        /// The name of the slides; the longest usual side-mounted ones that fit and carry it if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        slide: Option<String>,
        /// The material of the sides and ends of the box; the construction's own if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        board: Option<String>,
        /// The material of its bottom; that of the sides if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bottom: Option<String>,
    },
    /// They stand in a compartment that tilts out.
    TiltOut {
        /// The edge that it turns about.
        hinge: TiltHinge,
        /// Largest opening angle, degrees.
        opens_deg: f64,
        /// Whether the compartment has a lid.
        #[serde(default, skip_serializing_if = "super::is_default")]
        lid: bool,
        /// The material of the compartment; the construction's own if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        board: Option<String>,
        /// The string or stay that stops it; one that goes taut at the largest angle is proposed if not given.
        #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
        stay: Option<Box<TiltStay<L>>>,
    },
}

/// A string or stay of a tilting compartment. Its ends are given in the side section with all shut: behind the outer face
/// of the front, and away from the edge that it turns about (above a lower edge, below an upper one).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TiltStay<L = Dim> {
    /// Where it is fixed to the carcass: behind, away.
    pub carcass: (L, L),
    /// Where it is fixed to the compartment: behind, away.
    pub compartment: (L, L),
    /// What decides how long it is.
    #[serde(default = "at_largest", skip_serializing_if = "is_at_largest")]
    pub stop: TiltStop<L>,
    /// The name of the stay, damper or strut between the ends; a string if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
    /// Whether there is one at each side; only at the left if not.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub both_sides: bool,
    /// The string of the lid, if there is a lid that opens along.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub lid: Option<LidString<L>>,
}

fn at_largest<L>() -> TiltStop<L> {
    TiltStop::AtLargest
}

fn is_at_largest<L>(stop: &TiltStop<L>) -> bool {
    matches!(stop, TiltStop::AtLargest)
}

/// What decides the length of a string or stay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum TiltStop<L = Dim> {
    /// It goes taut at the largest opening angle; that of a flap is 90°.
    AtLargest,
    /// It goes taut at this angle, degrees.
    At(f64),
    /// It is so long from end to end.
    Long(L),
}

/// A string that opens the lid of a tilting compartment as that tilts; ends as in [`TiltStay`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LidString<L = Dim> {
    /// Where the lid turns on the compartment: behind, away.
    pub hinge: (L, L),
    /// Where it is fixed to the carcass: behind, away.
    pub carcass: (L, L),
    /// Where it is fixed to the lid: behind, away.
    pub lid: (L, L),
    /// The pulley on the compartment that it runs over, if it does: behind, away.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub pulley: Option<(L, L)>,
    /// At which angle of the compartment the lid begins to turn, degrees.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub starts_deg: f64,
}

/// The edge that a tilting compartment turns about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum TiltHinge {
    /// The lower edge of the front.
    Below,
    /// The upper edge of the front.
    Above,
}

/// What closes a bay towards the person.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Front<L = Dim> {
    /// How it opens.
    pub opens: Opens,
    /// Before the carcass or inside it; as the construction says if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub style: Option<FrontStyle>,
    /// Its material; the construction's if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub board: Option<String>,
    /// The name of its handle; none if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handle: Option<String>,
    /// The name of the angle brackets that hold it to the platform behind it, two of them; none if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub brackets: Option<String>,
    /// The string or stay of a flap that hinges below or above; none if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub stay: Option<Box<FlapStay<L>>>,
}

impl<L> Front<L> {
    /// A front that says no more than how it opens.
    #[must_use]
    pub const fn plain(opens: Opens) -> Self {
        Self { opens, style: None, board: None, handle: None, brackets: None, stay: None }
    }
}

/// A string, stay, damper or strut of a flap. Its ends are given in the side section with the flap shut: behind its outer
/// face, and away from the edge that it turns about (above a lower edge, below an upper one). The flap opens until it is
/// taut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FlapStay<L = Dim> {
    /// Where it is fixed to the carcass: behind, away.
    pub carcass: (L, L),
    /// Where it is fixed to the flap: behind, away.
    pub flap: (L, L),
    /// What decides how long it is, unless it has a length of its own.
    #[serde(default = "at_largest", skip_serializing_if = "is_at_largest")]
    pub stop: TiltStop<L>,
    /// The name of the stay, damper or strut between the ends; a string if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
    /// Whether there is one at each side; only at the left if not.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub both_sides: bool,
}

/// How a front opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Opens {
    /// A door hinged at the left.
    HingedLeft,
    /// A door hinged at the right.
    HingedRight,
    /// Two doors that meet in the middle.
    Pair,
    /// A flap hinged below.
    HingedBelow,
    /// A flap hinged above.
    HingedAbove,
    /// Moves with the drawer, pull-out or tilting compartment behind it.
    WithHolding,
    /// Not at all.
    Fixed,
}
