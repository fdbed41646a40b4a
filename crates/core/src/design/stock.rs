//! Boards in stock as they really are: size and thickness as measured, good zone, banding worth keeping, family, price.

use serde::{Deserialize, Serialize};

use super::boards::Role;
use crate::expr::Dim;

/// A board in stock, or a kind of sheet that can be bought.
///
/// Its frame: the length runs along the grain from the start to the end, the width from the near to the far edge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Board<L = Dim> {
    /// Its name, unique among boards.
    pub name: String,
    /// The name of its material.
    pub material: String,
    /// Length along the grain, and width; outside, as measured.
    pub size: (L, L),
    /// Thickness as measured; the material's if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub thickness: Option<L>,
    /// How many there are; as many as needed if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<u32>,
    /// Where it comes from.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub source: BoardSource,
    /// The stock family that it belongs to; a construction may bind a role to a family.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub family: String,
    /// What cannot be used along the four edges: start and end of the length, near and far edge of the width.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub spoilt: Option<(L, L, L, L)>,
    /// Where not all inside `spoilt` is good: the good rectangles, each from the start, from the near edge, length and
    /// width; all if empty.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub good: Vec<(L, L, L, L)>,
    /// Edges whose banding is worth keeping.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub banded: Vec<KeptBand>,
    /// Colour or finish in words, where it is another than the material's; such a board serves only roles that `only_for` names.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub finish: String,
    /// Roles that it may be used for; all if empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub only_for: Vec<Role>,
    /// Price of one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
}

impl<L> Board<L> {
    /// A sheet that can be bought, about which nothing else is known.
    pub fn new(name: impl Into<String>, material: impl Into<String>, size: (L, L)) -> Self {
        Self {
            name: name.into(),
            material: material.into(),
            size,
            thickness: None,
            quantity: None,
            source: BoardSource::New,
            family: String::new(),
            spoilt: None,
            good: Vec::new(),
            banded: Vec::new(),
            finish: String::new(),
            only_for: Vec::new(),
            price: None,
        }
    }
}

/// A banded edge of a board that is worth keeping. The board's size is measured over it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptBand {
    /// The edge.
    pub edge: BoardEdge,
    /// The name of the banding that it is as good as.
    pub band: String,
}

/// An edge of a board in its own frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum BoardEdge {
    /// Where the length begins.
    Start,
    /// Where the length ends.
    End,
    /// Where the width begins.
    Near,
    /// Where the width ends.
    Far,
}

impl BoardEdge {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Start, Self::End, Self::Near, Self::Far];

    /// Its name, in one word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::End => "end",
            Self::Near => "near",
            Self::Far => "far",
        }
    }
}

/// Where a board comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum BoardSource {
    /// Bought as a whole sheet.
    #[default]
    New,
    /// Left over from earlier work.
    Offcut,
    /// Taken from an old piece.
    Salvaged,
}

impl BoardSource {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::New, Self::Offcut, Self::Salvaged];

    /// Its name, in one word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Offcut => "offcut",
            Self::Salvaged => "salvaged",
        }
    }
}
