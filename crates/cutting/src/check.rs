//! An independent check of a plan: it shares no code with the search and trusts none of its bookkeeping. It replays
//! the numbered cuts on the bare board and compares what falls off the saw with what the plan claims.

use std::collections::BTreeMap;

use crate::goal::{Goal, Objective, Saw};
use crate::piece::{BarPiece, Piece};
use crate::plan::{BarPlan, Cut, CutBoard, Missing, Placement, Plan, Status, What};
use crate::size::{Axis, Rect};
use crate::stock::{Bar, Board, Quantity};

/// Something that is wrong with a plan: always an error of this crate.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {what}")]
pub struct Flaw {
    /// Board and piece or cut.
    pub place: String,
    /// What is wrong there.
    pub what: String,
}

/// Checks a board plan: every piece once (or listed as missing), on a board of its material, inside a good zone, no overlap
/// after kerf, made by the numbered through cuts in their order, grain and groups kept, stock not exceeded. The value is that of
/// the boards, the bound not above it, and the status what these two and the missing pieces amount to. That the bound is proven
/// is not looked at: that needs a search.
///
/// # Errors
/// All flaws found.
pub fn check_plan(stock: &[Board], pieces: &[Piece], saw: &Saw, goal: &Goal, plan: &Plan) -> Result<(), Vec<Flaw>> {
    let mut flaws = Vec::new();
    let area = |board: &Board| i128::from(board.size.width) * i128::from(board.size.height);
    let worth = |board: &Board| worth(goal, area(board), board.cost.into());
    let claim = Claim {
        status: plan.status,
        value: plan.value,
        bound: plan.bound,
        is: plan.boards.iter().filter_map(|it| stock.get(it.board)).map(worth).sum(),
        missing: !plan.missing.is_empty(),
        short: area_short(&plan.missing, |piece| {
            pieces.get(piece).map(|it| i128::from(it.size.width) * i128::from(it.size.height))
        }),
    };
    claim.check(&mut flaws);
    let mut made: BTreeMap<(usize, u32), u32> = BTreeMap::new();
    let mut groups: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let mut used: BTreeMap<usize, Vec<u32>> = BTreeMap::new();
    for (index, cut_board) in plan.boards.iter().enumerate() {
        let place = format!("board {}", index + 1);
        let Some(board) = stock.get(cut_board.board) else {
            flaws.push(flaw(&place, "no such board in the stock"));
            continue;
        };
        used.entry(cut_board.board).or_default().push(cut_board.copy);
        if cut_board.placements.is_empty() {
            flaws.push(flaw(&place, "a board is used without a piece on it"));
        }
        for placement in &cut_board.placements {
            let Some(piece) = pieces.get(placement.piece) else {
                flaws.push(flaw(&place, "a placement of a piece that nobody wants"));
                continue;
            };
            *made.entry((placement.piece, placement.copy)).or_default() += 1;
            if let Some(group) = &piece.group {
                groups.entry(group).or_default().push(index);
            }
            check_placement(board, piece, saw, placement, &format!("{place}, piece \"{}\"", piece.name), &mut flaws);
        }
        check_apart(cut_board, saw.kerf, &place, &mut flaws);
        check_offcuts(board, cut_board, saw, &place, &mut flaws);
        check_tree(board, cut_board, saw.kerf, &place, &mut flaws);
        replay(board, cut_board, saw.kerf, &place, &mut flaws);
    }
    check_stock(used, |kind| stock.get(kind).map(|b| b.quantity), &mut flaws);
    for (group, boards) in groups {
        if boards.iter().any(|b| Some(b) != boards.first()) {
            flaws.push(flaw("group", &format!("\"{group}\" comes from more than one board")));
        }
    }
    for cut_board in &plan.boards {
        check_rows(pieces, saw, cut_board, &mut flaws);
    }
    check_counts(pieces.iter().map(|p| p.quantity), &made, plan.missing.iter().map(|m| (m.piece, m.count)), &mut flaws);
    if flaws.is_empty() { Ok(()) } else { Err(flaws) }
}

/// Sum over all missing copies.
fn area_short(missing: &[Missing], of_one: impl Fn(usize) -> Option<i128>) -> i128 {
    missing.iter().filter_map(|it| Some(of_one(it.piece)? * i128::from(it.count))).sum()
}

/// What a plan says of itself, and what is so.
struct Claim {
    status: Status,
    value: i128,
    bound: i128,
    /// What its boards or bars come to.
    is: i128,
    /// Whether it lists anything as missing.
    missing: bool,
    /// What the missing ones come to.
    short: i128,
}

impl Claim {
    fn check(&self, flaws: &mut Vec<Flaw>) {
        let mut found = |what: String| flaws.push(flaw("plan", &what));
        if self.value != self.is {
            found(format!("its value is {} and not {}", self.is, self.value));
        }
        if !self.missing && self.bound > self.value {
            found(format!("its bound of {} is above its value of {}", self.bound, self.value));
        }
        let sound = match self.status {
            Status::ProvenBest => !self.missing && self.value == self.bound,
            Status::WithinPercent(percent) => {
                let above = (self.value - self.bound) as f64 * 100.0;
                let told = if self.bound > 0 { above / self.bound as f64 } else { f64::INFINITY };
                let near = percent == told || (percent - told).abs() <= 1e-9 * told;
                !self.missing && self.value > self.bound && near
            }
            Status::Impossible { area_short } | Status::Unplaced { area_short } => {
                self.missing && area_short == self.short
            }
        };
        if !sound {
            found(format!("{:?} is not what value {} and bound {} amount to", self.status, self.value, self.bound));
        }
    }
}

/// Pieces in a row follow each other in their order, the same way round, a saw cut apart.
fn check_rows(pieces: &[Piece], saw: &Saw, board: &CutBoard, flaws: &mut Vec<Flaw>) {
    let mut rows: BTreeMap<&str, Vec<&Placement>> = BTreeMap::new();
    for placement in &board.placements {
        if let Some(group) = pieces.get(placement.piece).filter(|p| p.row.is_some()).and_then(|p| p.group.as_deref()) {
            rows.entry(group).or_default().push(placement);
        }
    }
    for (group, mut row) in rows {
        row.sort_by_key(|p| (p.piece, p.copy));
        for pair in row.windows(2) {
            let &[a, b] = pair else { continue };
            let Some(along) = pieces.get(a.piece).and_then(|p| p.row) else { continue };
            let axis = if a.turned { along.other() } else { along };
            let follows = b.rect.low(axis) == a.rect.low(axis) + a.rect.size.along(axis) + saw.kerf
                && b.rect.low(axis.other()) == a.rect.low(axis.other())
                && a.turned == b.turned;
            if !follows {
                flaws.push(flaw("row", &format!("the pieces of \"{group}\" do not follow each other")));
            }
        }
    }
}

fn flaw(place: &str, what: &str) -> Flaw {
    Flaw { place: place.to_owned(), what: what.to_owned() }
}

/// No board or bar twice, and no more of a kind than there are: its copies are numbered from 0.
fn check_stock(used: BTreeMap<usize, Vec<u32>>, quantity: impl Fn(usize) -> Option<Quantity>, flaws: &mut Vec<Flaw>) {
    for (kind, mut copies) in used {
        let limit = match quantity(kind) {
            Some(Quantity::Limited(n)) => n,
            _ => u32::MAX,
        };
        let count = copies.len();
        copies.sort_unstable();
        copies.dedup();
        if copies.len() != count || copies.last().is_some_and(|&c| c >= limit) {
            flaws.push(flaw("stock", &format!("kind {kind} is used more often than there are boards or bars of it")));
        }
    }
}

fn check_counts(
    wanted: impl Iterator<Item = u32>,
    made: &BTreeMap<(usize, u32), u32>,
    missing: impl Iterator<Item = (usize, u32)>,
    flaws: &mut Vec<Flaw>,
) {
    let mut lost: BTreeMap<usize, u64> = BTreeMap::new();
    for (piece, count) in missing {
        *lost.entry(piece).or_default() += u64::from(count);
    }
    for (piece, quantity) in wanted.enumerate() {
        let copies: Vec<_> = made.range((piece, 0)..=(piece, u32::MAX)).collect();
        if copies.iter().any(|(key, times)| **times != 1 || key.1 >= quantity) {
            flaws.push(flaw(&format!("piece {piece}"), "a copy is cut twice, or is one too many"));
        }
        let have = copies.len() as u64 + lost.remove(&piece).unwrap_or(0);
        if have != u64::from(quantity) {
            flaws.push(flaw(&format!("piece {piece}"), &format!("{quantity} wanted, but cut and missing make {have}")));
        }
    }
    if !lost.is_empty() {
        flaws.push(flaw("missing", "a piece that nobody wants"));
    }
}

fn check_placement(board: &Board, piece: &Piece, saw: &Saw, placement: &Placement, place: &str, flaws: &mut Vec<Flaw>) {
    let size = if placement.turned { piece.size.turned() } else { piece.size };
    if placement.rect.size != size {
        flaws.push(flaw(place, "the rectangle is not the piece's size"));
    }
    if board.material != piece.material {
        flaws.push(flaw(place, "the board is of another material"));
    }
    if let (Some(of_piece), Some(of_board)) = (piece.grain, board.grain) {
        let lies = if placement.turned { of_piece.other() } else { of_piece };
        if lies != of_board {
            flaws.push(flaw(place, "the grain runs the wrong way"));
        }
    }
    if !is_good(board, saw, &placement.rect) {
        flaws.push(flaw(place, "it is not inside one good zone"));
    }
    let full = |axis: Axis| placement.rect.low(axis) == 0 && size.along(axis) == board.size.along(axis);
    match placement.spans {
        Some(axis) if !full(axis) => {
            flaws.push(flaw(place, "marked as wide as the board, but it is not"));
        }
        None if full(Axis::X) || full(Axis::Y) => {
            flaws.push(flaw(place, "as wide as the board, but not marked"));
        }
        _ => {}
    }
}

/// Whether a rectangle lies inside the trimmed board and inside one good zone.
fn is_good(board: &Board, saw: &Saw, rect: &Rect) -> bool {
    let trim = |raw: bool| if raw { saw.trim } else { 0 };
    let inner = Rect::new(
        trim(board.raw.left),
        trim(board.raw.bottom),
        board.size.width - trim(board.raw.left) - trim(board.raw.right),
        board.size.height - trim(board.raw.bottom) - trim(board.raw.top),
    );
    inner.holds(rect) && (board.zones.is_empty() || board.zones.iter().any(|zone| zone.holds(rect)))
}

/// What is called good of the offcuts is; nothing else is called useful.
fn check_offcuts(board: &Board, cut_board: &CutBoard, saw: &Saw, place: &str, flaws: &mut Vec<Flaw>) {
    for offcut in &cut_board.offcuts {
        if (offcut.good || offcut.useful) && !is_good(board, saw, &offcut.rect) {
            flaws.push(flaw(place, &format!("{:?} is called good and is not inside one good zone", offcut.rect)));
        }
    }
}

/// The nested cuts end in the plan's placements and offcuts, each once, and their parts lie in order, a kerf apart.
fn check_tree(board: &Board, cut_board: &CutBoard, kerf: i64, place: &str, flaws: &mut Vec<Flaw>) {
    let mut pieces = vec![false; cut_board.placements.len()];
    let mut offcuts = vec![false; cut_board.offcuts.len()];
    let mut sound = cut_board.tree.rect == Rect { x: 0, y: 0, size: board.size };
    let mut nodes = vec![&cut_board.tree];
    while let Some(node) = nodes.pop() {
        let rect = node.rect;
        match &node.what {
            What::Piece(index) => {
                sound &= cut_board.placements.get(*index).is_some_and(|p| p.rect == rect)
                    && pieces.get_mut(*index).is_some_and(|seen| !std::mem::replace(seen, true));
            }
            What::Offcut(index) => {
                sound &= cut_board.offcuts.get(*index).is_some_and(|o| o.rect == rect)
                    && offcuts.get_mut(*index).is_some_and(|seen| !std::mem::replace(seen, true));
            }
            What::Split { across, parts } => {
                let mut from = rect.low(*across);
                for part in parts {
                    let low = part.rect.low(*across);
                    sound &= rect.holds(&part.rect) && low >= from;
                    from = low + part.rect.size.along(*across) + kerf;
                    nodes.push(part);
                }
            }
        }
    }
    if !sound || pieces.contains(&false) || offcuts.contains(&false) {
        flaws.push(flaw(place, "the nested cuts do not end in the pieces and offcuts of the plan"));
    }
}

/// Pieces lie at least a kerf apart in one direction or the other.
fn check_apart(board: &CutBoard, kerf: i64, place: &str, flaws: &mut Vec<Flaw>) {
    let mut rects: Vec<Rect> = board.placements.iter().map(|p| p.rect).collect();
    rects.sort_by_key(|r| r.x);
    for (i, a) in rects.iter().enumerate() {
        for b in rects.iter().skip(i + 1) {
            if b.x >= a.right() + kerf {
                break;
            }
            if b.y < a.top() + kerf && a.y < b.top() + kerf {
                flaws.push(flaw(place, &format!("{a:?} and {b:?} overlap or leave no room for the saw")));
            }
        }
    }
}

/// Makes the numbered cuts one after the other on the bare board.
fn replay(board: &Board, cut_board: &CutBoard, kerf: i64, place: &str, flaws: &mut Vec<Flaw>) {
    let mut there: BTreeMap<usize, Rect> = BTreeMap::new();
    there.insert(0, Rect::new(0, 0, board.size.width, board.size.height));
    let mut setting: Option<(usize, i64)> = None;
    for (index, cut) in cut_board.cuts.iter().enumerate() {
        let at = format!("{place}, cut {}", cut.number);
        if cut.number != index + 1 {
            flaws.push(flaw(&at, "cuts are not numbered 1, 2, 3, ..."));
        }
        let Some(rect) = there.remove(&cut.workpiece) else {
            flaws.push(flaw(&at, "cuts a workpiece that is not there yet or no longer"));
            return;
        };
        if cut.at >= rect.size.along(cut.across) || cut.at + kerf <= 0 {
            flaws.push(flaw(&at, "goes past the workpiece"));
        }
        let ends = [(cut.low, low_side(&rect, cut)), (cut.high, high_side(&rect, cut, kerf))];
        let mut fence_fits = false;
        for (name, side) in ends {
            match (name, side) {
                (Some(name), Some(side)) => {
                    fence_fits |= side.size.along(cut.across) == cut.fence;
                    if there.insert(name, side).is_some() {
                        flaws.push(flaw(&at, "two workpieces have the same number"));
                    }
                }
                (None, None) => {}
                _ => flaws.push(flaw(&at, "says that something falls off where nothing does, or the other way round")),
            }
        }
        if !fence_fits {
            flaws.push(flaw(&at, "no workpiece has the width that the fence is set to"));
        }
        match setting {
            Some((number, fence)) if number == cut.setting && fence != cut.fence => {
                flaws.push(flaw(&at, "the fence moved within one setting"));
            }
            Some((number, _)) if cut.setting != number && cut.setting != number + 1 => {
                flaws.push(flaw(&at, "fence settings are not numbered in order"));
            }
            None if cut.setting != 1 => flaws.push(flaw(&at, "fence settings do not begin with 1")),
            _ => {}
        }
        setting = Some((cut.setting, cut.fence));
    }
    if cut_board.settings != setting.map_or(0, |(number, _)| number) {
        flaws.push(flaw(place, "the fence is not set so often"));
    }
    let mut left: Vec<Rect> = there.into_values().collect();
    let mut claimed: Vec<Rect> =
        cut_board.placements.iter().map(|p| p.rect).chain(cut_board.offcuts.iter().map(|o| o.rect)).collect();
    left.sort_unstable();
    claimed.sort_unstable();
    if left != claimed {
        flaws.push(flaw(place, "what falls off the saw is not what the plan promises"));
    }
}

fn low_side(rect: &Rect, cut: &Cut) -> Option<Rect> {
    let low = rect.low(cut.across);
    (cut.at > 0).then(|| rect.slice(cut.across, low, low + cut.at))
}

fn high_side(rect: &Rect, cut: &Cut, kerf: i64) -> Option<Rect> {
    let low = rect.low(cut.across);
    let end = low + rect.size.along(cut.across);
    let from = low + cut.at + kerf;
    (from < end && from >= low).then(|| rect.slice(cut.across, from, end))
}

/// What one board or bar counts for: itself, its area (of a bar the length), or its cost.
const fn worth(goal: &Goal, area: i128, cost: i128) -> i128 {
    match goal.least {
        Objective::FewestBoards => 1,
        Objective::LeastArea => area,
        Objective::LeastMoney => cost,
    }
}

/// Checks a bar plan: every length once (or listed as missing), on a bar of its material, inside the trimmed bar, a kerf apart;
/// value, bound and status as [`check_plan`] does.
///
/// # Errors
/// All flaws found.
pub fn check_bars(stock: &[Bar], pieces: &[BarPiece], saw: &Saw, goal: &Goal, plan: &BarPlan) -> Result<(), Vec<Flaw>> {
    let mut flaws = Vec::new();
    let worth = |bar: &Bar| worth(goal, bar.length.into(), bar.cost.into());
    let claim = Claim {
        status: plan.status,
        value: plan.value,
        bound: plan.bound,
        is: plan.bars.iter().filter_map(|it| stock.get(it.bar)).map(worth).sum(),
        missing: !plan.missing.is_empty(),
        short: area_short(&plan.missing, |piece| pieces.get(piece).map(|it| i128::from(it.length))),
    };
    claim.check(&mut flaws);
    let mut made: BTreeMap<(usize, u32), u32> = BTreeMap::new();
    let mut next: BTreeMap<usize, u32> = BTreeMap::new();
    let mut used: BTreeMap<usize, Vec<u32>> = BTreeMap::new();
    for (index, cut_bar) in plan.bars.iter().enumerate() {
        let place = format!("bar {}", index + 1);
        let Some(bar) = stock.get(cut_bar.bar) else {
            flaws.push(flaw(&place, "no such bar in the stock"));
            continue;
        };
        used.entry(cut_bar.bar).or_default().push(cut_bar.copy);
        let trim = if bar.raw_ends { saw.trim } else { 0 };
        let mut free = trim;
        if cut_bar.pieces.is_empty() {
            flaws.push(flaw(&place, "a bar is used without a piece on it"));
        }
        for &(piece, start) in &cut_bar.pieces {
            let Some(wanted) = pieces.get(piece) else {
                flaws.push(flaw(&place, "a length that nobody wants"));
                continue;
            };
            if start < free || start + wanted.length > bar.length - trim {
                flaws.push(flaw(&place, &format!("\"{}\" overlaps or reaches over the end", wanted.name)));
            }
            if wanted.material != bar.material {
                flaws.push(flaw(&place, &format!("\"{}\" is of another material", wanted.name)));
            }
            free = start + wanted.length + saw.kerf;
            let copy = next.entry(piece).or_default();
            *made.entry((piece, *copy)).or_default() += 1;
            *copy += 1;
        }
        let rest = bar.length - trim - free;
        if cut_bar.offcut != (rest > 0).then_some((free, rest)) {
            flaws.push(flaw(&place, "the offcut is not what remains"));
        }
    }
    check_stock(used, |kind| stock.get(kind).map(|b| b.quantity), &mut flaws);
    check_counts(pieces.iter().map(|p| p.quantity), &made, plan.missing.iter().map(|m| (m.piece, m.count)), &mut flaws);
    if flaws.is_empty() { Ok(()) } else { Err(flaws) }
}
