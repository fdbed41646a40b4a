//! The question in reduced form: one material, kerf grown into all sizes, and everything divided by the common measure.

use std::collections::BTreeMap;

use super::frame::{Frame, frame};
use crate::goal::{Goal, Objective, Saw};
use crate::piece::Piece;
use crate::size::{Axis, gcd};
use crate::stock::{Board, Quantity};

/// One kind of board.
#[derive(Debug, Clone)]
pub(crate) struct Kind {
    /// Index in the question's stock.
    pub(crate) board: usize,
    /// The cuts that part the zones.
    pub(crate) frame: Frame,
    /// Grown zones in reduced units.
    pub(crate) zones: Vec<(i64, i64)>,
    /// Sum of the zones' reduced areas.
    pub(crate) area: i128,
    /// How many there are; `u32::MAX` when unlimited.
    pub(crate) limit: u32,
    /// What one costs: the objective, and the full area to choose between equals.
    pub(crate) cost: (i128, i128),
    /// Index into [`Item::lays`].
    pub(crate) grain: usize,
}

/// One single piece, or a row of pieces that is cut in one.
#[derive(Debug, Clone)]
pub(crate) struct Item {
    /// Index in the question's pieces; of a row, that of its first.
    pub(crate) piece: usize,
    /// The others of a row, in their order.
    pub(crate) others: Vec<usize>,
    /// Along which axis of the pieces' own frames a row lies.
    pub(crate) row: Axis,
    /// Grown width in reduced units.
    pub(crate) width: i64,
    /// Grown height in reduced units.
    pub(crate) height: i64,
    /// Grown area in reduced units.
    pub(crate) area: i128,
    /// Whether it may lie as given and turned, on boards without grain, with grain along x, along y.
    pub(crate) lays: [(bool, bool); 3],
    /// Group that must come from one board.
    pub(crate) group: Option<usize>,
}

impl Item {
    /// Indices in the question's pieces.
    pub(crate) fn pieces(&self) -> impl Iterator<Item = usize> {
        std::iter::once(self.piece).chain(self.others.iter().copied())
    }

    /// Puts another piece of these grown extents at the end of the row.
    fn append(&mut self, piece: usize, width: i64, height: i64) {
        self.others.push(piece);
        match self.row {
            Axis::X => (self.width, self.height) = (self.width + width, self.height.max(height)),
            Axis::Y => (self.width, self.height) = (self.width.max(width), self.height + height),
        }
        self.area = i128::from(self.width) * i128::from(self.height);
    }
}

/// The reduced question.
#[derive(Debug, Clone)]
pub(crate) struct Problem {
    pub(crate) kinds: Vec<Kind>,
    pub(crate) items: Vec<Item>,
    /// Caller's units in one reduced unit.
    pub(crate) unit: i64,
    pub(crate) kerf: i64,
    /// Items of each group.
    pub(crate) groups: Vec<Vec<usize>>,
}

const fn grain_index(grain: Option<Axis>) -> usize {
    match grain {
        None => 0,
        Some(Axis::X) => 1,
        Some(Axis::Y) => 2,
    }
}

/// What one board of this kind costs under the objective, and its full area.
pub(crate) const fn cost(board: &Board, goal: &Goal) -> (i128, i128) {
    let area = board.size.area();
    match goal.least {
        Objective::FewestBoards => (1, area),
        Objective::LeastArea => (area, area),
        Objective::LeastMoney => (board.cost as i128, area),
    }
}

impl Problem {
    /// The reduced question for the boards and pieces of one material, given by their indices.
    pub(crate) fn new(
        stock: &[Board],
        boards: &[usize],
        pieces: &[Piece],
        chosen: &[usize],
        saw: &Saw,
        goal: &Goal,
    ) -> Self {
        let wanted: Vec<(usize, &Piece)> = chosen.iter().filter_map(|&i| Some((i, pieces.get(i)?))).collect();
        let unit =
            wanted.iter().fold(0, |g, (_, p)| gcd(gcd(g, p.size.width + saw.kerf), p.size.height + saw.kerf)).max(1);
        let mut kinds = Vec::new();
        for &index in boards {
            let Some(board) = stock.get(index) else {
                continue;
            };
            let limit = match board.quantity {
                Quantity::Unlimited => u32::MAX,
                Quantity::Limited(n) => n,
            };
            let (frame, grown) = frame(board, saw);
            let zones: Vec<(i64, i64)> = grown.iter().map(|z| (z.size.width / unit, z.size.height / unit)).collect();
            if limit == 0 || zones.is_empty() {
                continue;
            }
            let area = zones.iter().map(|&(w, h)| i128::from(w) * i128::from(h)).sum();
            kinds.push(Kind {
                board: index,
                frame,
                zones,
                area,
                limit,
                cost: cost(board, goal),
                grain: grain_index(board.grain),
            });
        }
        let mut items: Vec<Item> = Vec::new();
        let mut names: BTreeMap<&str, usize> = BTreeMap::new();
        let mut groups: Vec<Vec<usize>> = Vec::new();
        let mut rows: BTreeMap<usize, usize> = BTreeMap::new();
        for (index, piece) in wanted {
            let (width, height) = ((piece.size.width + saw.kerf) / unit, (piece.size.height + saw.kerf) / unit);
            let mut lays = [None, Some(Axis::X), Some(Axis::Y)].map(|grain| piece.lay(grain));
            if width == height && piece.row.is_none() {
                lays = lays.map(|_| (true, false));
            }
            let group = piece.group.as_deref().map(|name| {
                let next = names.len();
                *names.entry(name).or_insert(next)
            });
            for _ in 0..piece.quantity {
                if let (Some(row), Some(group)) = (piece.row, group) {
                    let area = i128::from(width) * i128::from(height);
                    match rows.get(&group).and_then(|&at: &usize| items.get_mut(at)) {
                        Some(first) => Item::append(first, index, width, height),
                        None => {
                            rows.insert(group, items.len());
                            let others = Vec::new();
                            items.push(Item { piece: index, others, row, width, height, area, lays, group: None });
                        }
                    }
                    continue;
                }
                if let Some(group) = group {
                    groups.resize(groups.len().max(group + 1), Vec::new());
                    if let Some(members) = groups.get_mut(group) {
                        members.push(items.len());
                    }
                }
                items.push(Item {
                    piece: index,
                    others: Vec::new(),
                    row: Axis::X,
                    width,
                    height,
                    area: i128::from(width) * i128::from(height),
                    lays,
                    group,
                });
            }
        }
        for item in &mut items {
            if item.group.is_some_and(|g| groups.get(g).is_none_or(|members| members.len() < 2)) {
                item.group = None;
            }
        }
        Self { kinds, items, unit, kerf: saw.kerf, groups }
    }

    /// The same question without the items of these numbers (in rising order).
    pub(crate) fn leave_out(&mut self, numbers: &[usize]) {
        let mut number = 0;
        self.items.retain(|_| {
            number += 1;
            numbers.binary_search(&(number - 1)).is_err()
        });
        for members in &mut self.groups {
            members.clear();
        }
        for (index, item) in self.items.iter().enumerate() {
            if let Some(members) = item.group.and_then(|g| self.groups.get_mut(g)) {
                members.push(index);
            }
        }
    }

    /// Whether the item alone fits some zone of the kind.
    pub(crate) fn fits(&self, item: &Item, kind: &Kind) -> bool {
        let (given, turned) = item.lays.get(kind.grain).copied().unwrap_or((false, false));
        kind.zones.iter().any(|&(w, h)| {
            (given && item.width <= w && item.height <= h) || (turned && item.height <= w && item.width <= h)
        })
    }
}
