//! The boards that a material offers while lot after lot takes from them: counted boards, sheets to be bought, and the
//! rests of boards that were cut into before.

use casewright_core::Length;
use casewright_core::assembly::{Grain, Part};
use casewright_core::design::{Board, BoardEdge, BoardSource, Least, Resolved};
use casewright_core::stock::{CutBoard, Lot, Usable, binds, serves, usable};
use casewright_cutting::{self as cutting, Axis, Quantity, RawEdges, Rect, Size};

/// One kind of board that can still be cut into.
#[derive(Clone, Debug)]
pub(crate) struct Source {
    /// Index into the design's boards.
    pub(crate) board: usize,
    /// What it gives.
    pub(crate) usable: Usable,
    /// How many are left.
    pub(crate) quantity: Quantity,
    /// How many were taken.
    pub(crate) used: u32,
    /// For the rest of a board: which of the equal boards, its number, and where it came off (lot, board, offcut).
    pub(crate) rest: Option<Rest>,
}

/// Where the rest of a board came off.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rest {
    pub(crate) copy: u32,
    pub(crate) number: u32,
    pub(crate) lot: usize,
    pub(crate) cut: usize,
    pub(crate) offcut: usize,
}

/// What one material offers.
#[derive(Clone, Debug)]
pub(crate) struct Pool<'d> {
    pub(crate) design: &'d Resolved,
    pub(crate) sources: Vec<Source>,
    rests: u32,
}

impl<'d> Pool<'d> {
    /// All boards of a material.
    pub(crate) fn new(design: &'d Resolved, material: &str) -> Self {
        let sources = (design.boards.iter().enumerate())
            .filter(|(_, board)| board.material == material)
            .map(|(index, board)| Source {
                board: index,
                usable: usable(board, design),
                quantity: board.quantity.map_or(Quantity::Unlimited, Quantity::Limited),
                used: 0,
                rest: None,
            })
            .filter(|it| {
                it.usable.size.0 > Length::ZERO && it.usable.size.1 > Length::ZERO && !it.usable.good.is_empty()
            })
            .collect();
        Self { design, sources, rests: 0 }
    }

    /// The design's board behind a source.
    pub(crate) fn board(&self, source: usize) -> Option<&'d Board<Length>> {
        self.design.boards.get(self.sources.get(source)?.board)
    }

    /// Whether a source may serve a part: role, thickness, finish, and the stock family that the part is bound to.
    pub(crate) fn serves(&self, source: usize, part: &Part) -> bool {
        self.board(source).is_some_and(|board| {
            serves(board, self.design, part.role)
                && binds(self.design, part).is_none_or(|family| board.family == family)
        })
    }

    /// Whether a part alone fits somewhere into a source, saw cuts and trimmed edges left out.
    pub(crate) fn fits(&self, source: usize, part: &Part) -> bool {
        let turns = part.grain != Grain::AlongLength;
        let fits = |(length, width): (Length, Length), room: (Length, Length)| length <= room.0 && width <= room.1;
        self.sources.get(source).is_some_and(|it| {
            it.usable.good.iter().any(|&(_, _, length, width)| {
                let (along, across) = (part.cut.length, part.cut.width);
                fits((along, across), (length, width)) || turns && fits((across, along), (length, width))
            })
        })
    }

    /// Whether any of a source is left.
    pub(crate) fn left(&self, source: usize) -> bool {
        self.sources.get(source).is_some_and(|it| it.quantity != Quantity::Limited(0))
    }

    /// Whether a source is in the workshop and need not be bought.
    pub(crate) fn owned(&self, source: usize) -> bool {
        self.sources.get(source).is_some_and(|it| matches!(it.quantity, Quantity::Limited(_)))
    }

    /// The sources as boards of the cutting crate, and what is kept least.
    pub(crate) fn question(&self, sources: &[usize], grained: bool) -> (Vec<cutting::Board>, cutting::Objective) {
        let chosen = || sources.iter().filter_map(|it| Some((*it, self.sources.get(*it)?)));
        let priced = chosen()
            .filter(|(it, _)| !self.owned(*it))
            .all(|(it, _)| self.board(it).is_some_and(|b| b.price.is_some()));
        let cost = |index: usize, source: &Source| {
            if self.owned(index) {
                return 0;
            }
            let price = self.board(index).and_then(|it| it.price).filter(|_| priced);
            // The smallest unit of money, or mm² where not everything has a price; more than a trillion is no price.
            let area = source.usable.size.0.mm() * source.usable.size.1.mm();
            price.map_or(area.round() as i64, |price| (price.clamp(0.0, 1e12) * 100.0).round() as i64)
        };
        let boards: Vec<cutting::Board> = chosen()
            .map(|(index, source)| {
                let raw = source.rest.is_none() && self.board(index).is_some_and(|it| it.source == BoardSource::New);
                let zone = |(x, y, length, width): &(Length, Length, Length, Length)| {
                    Rect::new(x.nm(), y.nm(), length.nm(), width.nm())
                };
                cutting::Board {
                    name: self.board(index).map(|it| it.name.clone()).unwrap_or_default(),
                    material: String::new(),
                    size: Size::new(source.usable.size.0.nm(), source.usable.size.1.nm()),
                    zones: source.usable.good.iter().map(zone).collect(),
                    raw: if raw { RawEdges::ALL } else { RawEdges::NONE },
                    grain: grained.then_some(Axis::X),
                    quantity: source.quantity,
                    cost: cost(index, source),
                }
            })
            .collect();
        let least = match self.design.saw.least {
            Least::Area => cutting::Objective::LeastArea,
            Least::Buying if boards.iter().any(|it| it.cost > 0) && boards.len() > 1 => cutting::Objective::LeastMoney,
            Least::Buying | Least::Boards => cutting::Objective::FewestBoards,
        };
        (boards, least)
    }

    /// Takes the boards of a finished lot out of the pool and puts their useful offcuts into it.
    pub(crate) fn take(&mut self, lot_index: usize, lot: &Lot, sources: &[(usize, u32)]) {
        for (source, count) in sources {
            if let Some(source) = self.sources.get_mut(*source) {
                source.used += count;
                if let Quantity::Limited(left) = &mut source.quantity {
                    *left = left.saturating_sub(*count);
                }
            }
        }
        for (cut, board) in lot.boards.iter().enumerate() {
            for (offcut, rest) in board.offcuts.iter().enumerate().filter(|(_, it)| it.useful) {
                self.rests += 1;
                self.sources.push(Source {
                    board: board.board,
                    usable: rest_of(board, rest),
                    quantity: Quantity::Limited(1),
                    used: 0,
                    rest: Some(Rest { copy: board.copy, number: self.rests, lot: lot_index, cut, offcut }),
                });
            }
        }
    }
}

/// What the offcut of a board gives, with the kept banding that it still has.
fn rest_of(board: &CutBoard, rest: &casewright_core::stock::Offcut) -> Usable {
    let touches = |edge: BoardEdge| match edge {
        BoardEdge::Start => rest.x == Length::ZERO,
        BoardEdge::End => rest.x + rest.length == board.size.0,
        BoardEdge::Near => rest.y == Length::ZERO,
        BoardEdge::Far => rest.y + rest.width == board.size.1,
    };
    Usable {
        size: (rest.length, rest.width),
        good: vec![(Length::ZERO, Length::ZERO, rest.length, rest.width)],
        kept: board.kept.iter().filter(|it| touches(it.edge)).cloned().collect(),
    }
}
