//! From a filled tree in reduced units to the cut board in the caller's units.

use super::frame::Frame;
use super::problem::{Item, Kind, Problem};
use super::tree::Slice;
use crate::goal::Goal;
use crate::piece::Piece;
use crate::plan::{CutBoard, CutNode, Offcut, Placement, What};
use crate::sequence::sequence;
use crate::size::{Axis, Rect, Size};
use crate::stock::Board;

/// A board being put together.
struct Builder<'a> {
    problem: &'a Problem,
    pieces: &'a [Piece],
    board: &'a Board,
    goal: &'a Goal,
    placements: Vec<Placement>,
    offcuts: Vec<Offcut>,
}

/// The board with its cuts. `number` gives the copy number of an item among the copies of its piece.
#[allow(clippy::too_many_arguments, reason = "the question and the filled tree, once")]
pub(crate) fn assemble(
    problem: &Problem,
    kind: &Kind,
    slices: &[Slice],
    pieces: &[Piece],
    stock: &[Board],
    goal: &Goal,
    copy: u32,
    mut number: impl FnMut(usize) -> u32,
) -> Option<CutBoard> {
    let board = stock.get(kind.board)?;
    let mut builder = Builder { problem, pieces, board, goal, placements: Vec::new(), offcuts: Vec::new() };
    let region = Rect::new(0, 0, board.size.width + problem.kerf, board.size.height + problem.kerf);
    let mut tree = builder.frame(&kind.frame, &region, slices)?;
    let Builder { mut placements, offcuts, .. } = builder;
    for placement in &mut placements {
        placement.copy = number(placement.piece);
    }
    let mut order: Vec<usize> = (0..offcuts.len()).collect();
    order.sort_by_key(|&i| offcuts.get(i).map(|o| (!o.useful, -o.rect.area(), o.rect)));
    let mut rank = vec![0; order.len()];
    for (new, &old) in order.iter().enumerate() {
        if let Some(slot) = rank.get_mut(old) {
            *slot = new;
        }
    }
    renumber(&mut tree, &rank);
    let offcuts = order.iter().filter_map(|&i| offcuts.get(i).copied()).collect();
    let (cuts, settings) = sequence(&tree, problem.kerf);
    Some(CutBoard { board: kind.board, copy, placements, offcuts, tree, cuts, settings })
}

fn renumber(node: &mut CutNode, rank: &[usize]) {
    match &mut node.what {
        What::Split { parts, .. } => parts.iter_mut().for_each(|part| renumber(part, rank)),
        What::Offcut(index) => *index = rank.get(*index).copied().unwrap_or(*index),
        What::Piece(_) => {}
    }
}

impl Builder<'_> {
    /// The real rectangle of a grown region, unless the saw eats it all.
    fn real(&self, region: &Rect) -> Option<Rect> {
        let size = Size::new(region.size.width - self.problem.kerf, region.size.height - self.problem.kerf);
        (size.width > 0 && size.height > 0).then_some(Rect { x: region.x, y: region.y, size })
    }

    fn offcut(&mut self, region: &Rect, good: bool) -> Option<CutNode> {
        let rect = self.real(region)?;
        let fits = |s: Size| s.width >= self.goal.useful.width && s.height >= self.goal.useful.height;
        let useful = good && (fits(rect.size) || fits(rect.size.turned()));
        self.offcuts.push(Offcut { rect, good, useful });
        Some(CutNode { rect, what: What::Offcut(self.offcuts.len() - 1) })
    }

    fn frame(&mut self, frame: &Frame, region: &Rect, slices: &[Slice]) -> Option<CutNode> {
        match frame {
            Frame::Waste => self.offcut(region, false),
            Frame::Zone(zone) => self.slice(slices.get(*zone).unwrap_or(&Slice::Free), region),
            Frame::Split { axis, at, low, high } => {
                let start = region.low(*axis);
                let end = start + region.size.along(*axis);
                let low = self.frame(low, &region.slice(*axis, start, *at), slices);
                let high = self.frame(high, &region.slice(*axis, *at, end), slices);
                self.split(region, *axis, low.into_iter().chain(high).collect())
            }
        }
    }

    fn split(&self, region: &Rect, across: Axis, parts: Vec<CutNode>) -> Option<CutNode> {
        let rect = self.real(region)?;
        Some(CutNode { rect, what: What::Split { across, parts } })
    }

    fn slice(&mut self, slice: &Slice, region: &Rect) -> Option<CutNode> {
        match slice {
            Slice::Free => self.offcut(region, true),
            Slice::Item(item) => self.item(*item, region),
            Slice::Split(axis, parts) => {
                let start = region.low(*axis);
                let end = start + region.size.along(*axis);
                let mut order: Vec<&(i64, Slice)> = parts.iter().filter(|(_, s)| !matches!(s, Slice::Free)).collect();
                order.sort_by_key(|(extent, _)| -extent);
                let mut at = start;
                let mut nodes = Vec::new();
                for (extent, part) in order {
                    let to = at + extent * self.problem.unit;
                    nodes.extend(self.slice(part, &region.slice(*axis, at, to)));
                    at = to;
                }
                if at < end {
                    nodes.extend(self.offcut(&region.slice(*axis, at, end), true));
                }
                self.split(region, *axis, nodes)
            }
        }
    }

    /// A piece, or a row of pieces, in the corner of a region that is at least as large as itself.
    fn item(&mut self, index: usize, region: &Rect) -> Option<CutNode> {
        let problem = self.problem;
        let item = problem.items.get(index)?;
        let grown = Size::new(item.width * problem.unit, item.height * problem.unit);
        let (given, turned) = self.pieces.get(item.piece)?.lay(self.board.grain);
        let fits = |s: Size| s.width <= region.size.width && s.height <= region.size.height;
        // The region was made for the piece: the way round that leaves less is the way it was meant.
        let lying = |s: Size| region.size.area() - s.area();
        let is_turned = match (given && fits(grown), turned && fits(grown.turned())) {
            (true, true) => {
                let slack = |s: Size| (region.size.width - s.width).min(region.size.height - s.height);
                (slack(grown.turned()), lying(grown.turned())) < (slack(grown), lying(grown))
            }
            (fits_given, _) => !fits_given,
        };
        self.laid(item, grown, is_turned, region)
    }

    /// Cuts what is too much off a region, and then the pieces.
    fn laid(&mut self, item: &Item, grown: Size, is_turned: bool, region: &Rect) -> Option<CutNode> {
        let size = if is_turned { grown.turned() } else { grown };
        for axis in [Axis::X, Axis::Y] {
            let start = region.low(axis);
            let (to, end) = (start + size.along(axis), start + region.size.along(axis));
            if to < end {
                let node = self.laid(item, grown, is_turned, &region.slice(axis, start, to));
                let rest = self.offcut(&region.slice(axis, to, end), true);
                return self.split(region, axis, node.into_iter().chain(rest).collect());
            }
        }
        if !item.others.is_empty() {
            return self.row(item, is_turned, region);
        }
        let rect = self.real(region)?;
        let spans = [Axis::X, Axis::Y]
            .into_iter()
            .find(|&a| rect.low(a) == 0 && rect.size.along(a) == self.board.size.along(a));
        self.placements.push(Placement { piece: item.piece, copy: 0, rect, turned: is_turned, spans });
        Some(CutNode { rect, what: What::Piece(self.placements.len() - 1) })
    }

    /// The pieces of a row, one after the other.
    fn row(&mut self, item: &Item, is_turned: bool, region: &Rect) -> Option<CutNode> {
        let axis = if is_turned { item.row.other() } else { item.row };
        let mut at = region.low(axis);
        let mut nodes = Vec::new();
        for index in item.pieces() {
            let piece = self.pieces.get(index)?;
            let grown = Size::new(piece.size.width + self.problem.kerf, piece.size.height + self.problem.kerf);
            let to = at + if is_turned { grown.turned() } else { grown }.along(axis);
            let alone = Item { piece: index, others: Vec::new(), ..item.clone() };
            nodes.extend(self.laid(&alone, grown, is_turned, &region.slice(axis, at, to)));
            at = to;
        }
        self.split(region, axis, nodes)
    }
}
