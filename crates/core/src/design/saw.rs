//! The saw, and what makes one cutting plan better than another.

use serde::{Deserialize, Serialize};

use crate::expr::Dim;

/// The saw and the wishes for the cutting plan; what is not given is common practice or the program's own choice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Saw<L = Dim> {
    /// Width of the cut; 3.2 mm if not given (common practice: a usual circular saw blade).
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub kerf: Option<L>,
    /// What is taken off each raw edge of a new sheet, the cut included; 5 mm if not given (common practice: edges come
    /// bruised and out of square).
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub trim: Option<L>,
    /// Length and width of the smallest offcut worth keeping; 300 x 100 mm if not given (own choice).
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub useful: Option<(L, L)>,
    /// What is kept least.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub least: Least,
}

impl<L> Default for Saw<L> {
    fn default() -> Self {
        Self { kerf: None, trim: None, useful: None, least: Least::Buying }
    }
}

/// Whether nothing is said about the saw.
pub(super) fn is_plain<L>(saw: &Saw<L>) -> bool {
    matches!(saw, Saw { kerf: None, trim: None, useful: None, least: Least::Buying })
}

/// What a cutting plan keeps least, first of all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Least {
    /// What must be bought: the stock that is there costs nothing, new sheets their price (their area where any lacks one).
    #[default]
    Buying,
    /// The number of boards cut into.
    Boards,
    /// The area of the boards cut into.
    Area,
}
