//! What there is to cut from: boards and bars, with quantity, good zones, grain and cost.

use crate::size::{Axis, Rect, Size};

/// How many equal boards or bars there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// As many as are wanted can be bought.
    Unlimited,
    /// So many and no more.
    Limited(u32),
}

impl Quantity {
    /// The number that may be used when `wanted` would be enough.
    #[must_use]
    pub fn at_most(self, wanted: u32) -> u32 {
        match self {
            Self::Unlimited => wanted,
            Self::Limited(n) => n.min(wanted),
        }
    }
}

/// Which edges of a board are raw and lose the saw's trim before anything is cut from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RawEdges {
    /// Edge at x = 0.
    pub left: bool,
    /// Edge at x = width.
    pub right: bool,
    /// Edge at y = 0.
    pub bottom: bool,
    /// Edge at y = height.
    pub top: bool,
}

impl RawEdges {
    /// All four edges raw: a sheet as it comes from the mill.
    pub const ALL: Self = Self { left: true, right: true, bottom: true, top: true };
    /// No raw edge: an offcut or a salvaged panel.
    pub const NONE: Self = Self { left: false, right: false, bottom: false, top: false };
}

/// One kind of board in stock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Board {
    /// Name for messages; need not be unique.
    pub name: String,
    /// Material key: pieces are only cut from boards with the same key (thickness belongs in the key).
    pub material: String,
    /// Full outside size.
    pub size: Size,
    /// Usable rectangles in the board's frame; none means the whole board. They should not overlap; where they do,
    /// or where no sequence of through cuts separates them, they are trimmed so that most of their area remains of use.
    pub zones: Vec<Rect>,
    /// Edges that lose [`crate::Saw::trim`].
    pub raw: RawEdges,
    /// Direction of the grain, or none for a material without grain.
    pub grain: Option<Axis>,
    /// How many there are.
    pub quantity: Quantity,
    /// Price of one, in the caller's smallest unit of money.
    pub cost: i64,
}

impl Board {
    /// An unlimited board without grain, cost, raw edges or bad zones, of material "".
    #[must_use]
    pub fn new(name: impl Into<String>, width: i64, height: i64) -> Self {
        Self {
            name: name.into(),
            material: String::new(),
            size: Size::new(width, height),
            zones: Vec::new(),
            raw: RawEdges::NONE,
            grain: None,
            quantity: Quantity::Unlimited,
            cost: 0,
        }
    }
}

/// One kind of bar in stock: an edge strip, a trim, a tube.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar {
    /// Name for messages; need not be unique.
    pub name: String,
    /// Material key, as for [`Board::material`].
    pub material: String,
    /// Full length.
    pub length: i64,
    /// Whether both ends are raw and lose [`crate::Saw::trim`] each.
    pub raw_ends: bool,
    /// How many there are.
    pub quantity: Quantity,
    /// Price of one, in the caller's smallest unit of money.
    pub cost: i64,
}

impl Bar {
    /// An unlimited bar without cost or raw ends, of material "".
    #[must_use]
    pub fn new(name: impl Into<String>, length: i64) -> Self {
        Self {
            name: name.into(),
            material: String::new(),
            length,
            raw_ends: false,
            quantity: Quantity::Unlimited,
            cost: 0,
        }
    }
}
