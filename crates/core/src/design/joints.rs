//! How panels are joined: for a whole shell, and for single joints that are named by what meets in them.

use serde::{Deserialize, Serialize};

use super::boards::Role;
use crate::expr::Dim;

/// How panels are joined.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum JointKind<L = Dim> {
    /// Wood dowels, diameter x length in mm, such as `8x40`.
    Dowelled(String),
    /// Wood dowels, and a few screws between them that press the joint while the glue sets; none where their heads would
    /// show.
    DowelledAndScrewed(String),
    /// Screws through the face of one into the edge of the other.
    Screwed,
    /// The edge of one in a groove of the other.
    Housed {
        /// Depth of the groove.
        depth: L,
    },
    /// The edge of one glued into a rebate along the edge of the other; where the joint lies away from that edge, into a
    /// groove of the same depth.
    Rebated {
        /// Depth of the rebate.
        depth: L,
    },
    /// Steel angles.
    Angled,
}

impl<L> JointKind<L> {
    /// The dowel that it is made with, as the design writes it.
    #[must_use]
    pub fn dowel(&self) -> Option<&str> {
        match self {
            Self::Dowelled(size) | Self::DowelledAndScrewed(size) => Some(size),
            Self::Screwed | Self::Housed { .. } | Self::Rebated { .. } | Self::Angled => None,
        }
    }
}

/// What is otherwise with the joints of some parts. Parts are named by what they do and by the bay that they belong to:
/// a shelf lies over its bay, an upright stands right of it, the panels of a box belong to the box, those of the carcass to
/// the whole inside. Of several choices for one joint the last holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JointChoice<L = Dim> {
    /// What one of the two parts does.
    pub of: Role,
    /// The bay that it belongs to; any if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bay: Option<String>,
    /// What the other part does; anything if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Role>,
    /// The bay that the other part belongs to; any if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to_bay: Option<String>,
    /// How they are joined; as the construction says if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub by: Option<JointKind<L>>,
    /// How far all dowels and screws move on from where the pattern has them, away from the datum end.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub shift: Option<L>,
}

impl<L> JointChoice<L> {
    /// Whether it speaks of the joint of these two parts, each given by its role and bay, whichever comes first.
    #[must_use]
    pub fn speaks_of(&self, a: (Role, &str), b: (Role, &str)) -> bool {
        let is = |role: Option<Role>, bay: &Option<String>, part: (Role, &str)| {
            role.is_none_or(|it| it == part.0) && bay.as_ref().is_none_or(|it| it == part.1)
        };
        let both = |one, other| is(Some(self.of), &self.bay, one) && is(self.to, &self.to_bay, other);
        both(a, b) || both(b, a)
    }
}
