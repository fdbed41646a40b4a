//! What the checks assume where the design is silent.

use serde::Serialize;

use crate::design::{Resolved, SagGrowth, SagLimit, ShelfLoad, WallKind};
use crate::length::Length;
use crate::mechanics::limits::{DeflectionLimit, Growth, ShelfUse};
use crate::mechanics::tipping::Wall;

/// What the checks assume where the design is silent.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CheckOptions {
    /// How far boards may bend.
    pub deflection: DeflectionLimit,
    /// How the first deflection grows over the years.
    pub growth: Growth,
    /// What open shelves are asked to carry.
    pub shelf_use: ShelfUse,
    /// How much of what things hold and open shelves are asked to carry is there; 1 as designed.
    pub load_share: f64,
    /// Whether the piece is fixed to the wall.
    pub fixed_to_wall: bool,
    /// What the wall is made of.
    pub wall: Wall,
    /// Height of the room, if it is known; that of the niche serves otherwise.
    pub ceiling: Option<Length>,
    /// Clear width and height of the narrowest door on the way in.
    pub doorway: Option<(Length, Length)>,
    /// Clear widths of two passages that meet at a right angle on the way in: a corridor, a stair landing.
    pub corner: Option<(Length, Length)>,
    /// Height of the person who works at it.
    pub body_height: Option<Length>,
    /// Whether the general cautions are listed too.
    pub cautions: bool,
}

impl CheckOptions {
    /// What a design says that the checks go by.
    #[must_use]
    pub fn of(design: &Resolved) -> Self {
        let it = &design.assumed;
        Self {
            deflection: match it.sag {
                SagLimit::Woodwork => DeflectionLimit::WOODWORK,
                SagLimit::Cabinet => DeflectionLimit::CABINET,
                SagLimit::Noticeable => DeflectionLimit::BOARD_MAKERS,
                SagLimit::Visible => DeflectionLimit::VISIBLE,
                SagLimit::Fine => DeflectionLimit::FINE,
                SagLimit::Span(share) => DeflectionLimit::own(share),
            },
            growth: match it.growth {
                SagGrowth::FirstDay => Growth::None,
                SagGrowth::ByHalf => Growth::Half,
                SagGrowth::Eurocode => Growth::Eurocode,
                SagGrowth::Times(factor) => Growth::Own(factor),
            },
            shelf_use: match it.shelves_carry {
                ShelfLoad::Storage => ShelfUse::Storage,
                ShelfLoad::General => ShelfUse::General,
                ShelfLoad::Books => ShelfUse::Books,
            },
            load_share: 1.0,
            fixed_to_wall: it.fixed_to_wall,
            wall: match it.wall {
                WallKind::Solid => Wall::Solid,
                WallKind::Hollow => Wall::Hollow,
                WallKind::Studs => Wall::Studs,
                WallKind::Lining => Wall::Lining,
            },
            ceiling: it.ceiling,
            doorway: it.doorway,
            corner: it.corner,
            body_height: it.body_height,
            cautions: true,
        }
    }
}

impl Default for CheckOptions {
    fn default() -> Self {
        Self {
            deflection: DeflectionLimit::WOODWORK,
            growth: Growth::Half,
            shelf_use: ShelfUse::Storage,
            load_share: 1.0,
            fixed_to_wall: false,
            wall: Wall::Solid,
            ceiling: None,
            doorway: None,
            corner: None,
            body_height: None,
            cautions: true,
        }
    }
}
