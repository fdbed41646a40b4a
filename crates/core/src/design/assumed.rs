//! What the checks go by where neither things nor parts say it: limits of sag, what shelves are asked to carry, the wall,
//! the person who works there, and the way in.

use serde::{Deserialize, Serialize};

use crate::expr::Dim;

/// What the checks go by. Every field may be left out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Assumed<L = Dim> {
    /// How far boards may sag.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub sag: SagLimit,
    /// How the sag of the first day grows over the years.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub growth: SagGrowth,
    /// What open shelves are asked to carry.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub shelves_carry: ShelfLoad,
    /// What the wall behind it is made of.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub wall: WallKind,
    /// Whether it is fixed to that wall.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub fixed_to_wall: bool,
    /// How tall the person is who works at it.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub body_height: Option<L>,
    /// Height of the room, where it is not that of the niche.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub ceiling: Option<L>,
    /// Clear width and height of the narrowest door or stair opening on the way in.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub doorway: Option<(L, L)>,
    /// Clear widths of two passages that meet at a right angle on the way in: a corridor, a stair landing.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub corner: Option<(L, L)>,
}

impl<L> Default for Assumed<L> {
    fn default() -> Self {
        Self {
            sag: SagLimit::default(),
            growth: SagGrowth::default(),
            shelves_carry: ShelfLoad::default(),
            wall: WallKind::default(),
            fixed_to_wall: false,
            body_height: None,
            ceiling: None,
            doorway: None,
            corner: None,
        }
    }
}

/// Whether all is left as it is.
pub(super) fn is_silent<L>(it: &Assumed<L>) -> bool {
    let Assumed { sag, growth, shelves_carry, wall, fixed_to_wall, body_height, ceiling, doorway, corner } = it;
    super::is_default(sag)
        && super::is_default(growth)
        && super::is_default(shelves_carry)
        && super::is_default(wall)
        && !fixed_to_wall
        && body_height.is_none()
        && ceiling.is_none()
        && doorway.is_none()
        && corner.is_none()
}

/// How far boards may sag.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum SagLimit {
    /// L/144: architectural woodwork.
    #[default]
    Woodwork,
    /// L/192 and 6.4 mm in all: kitchen cabinets.
    Cabinet,
    /// L/240: what board makers call noticeable.
    Noticeable,
    /// L/384: what the eye sees.
    Visible,
    /// L/600: finer than that.
    Fine,
    /// The span over a number of one's own.
    Span(f64),
}

/// How the sag of the first day grows over the years.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum SagGrowth {
    /// The first day only.
    FirstDay,
    /// By half.
    #[default]
    ByHalf,
    /// By the factors of Eurocode 5 for each material.
    Eurocode,
    /// To so many times the first sag.
    Times(f64),
}

/// What open shelves are asked to carry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ShelfLoad {
    /// Household storage: 73 kg on a square metre.
    #[default]
    Storage,
    /// General use: 195 kg on a square metre.
    General,
    /// Books: 244 kg on a square metre.
    Books,
}

/// What a wall is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum WallKind {
    /// Concrete or solid brick.
    #[default]
    Solid,
    /// Hollow brick or aerated concrete.
    Hollow,
    /// Timber studs behind lining.
    Studs,
    /// Lining only.
    Lining,
}
