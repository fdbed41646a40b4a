//! The first cuts of a board: those that trim raw edges and part the good zones from the bad.
//!
//! All rectangles here are *grown*: a kerf is added to both extents of board, zone and piece. A guillotine pattern with
//! kerf on the real sizes is then a pattern without kerf on the grown ones, and the other way round.

use crate::goal::Saw;
use crate::size::{Axis, Rect, Size};
use crate::stock::Board;

/// How a grown region of the board falls apart into zones.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Frame {
    /// A cut that parts the region at grown coordinate `at`.
    Split { axis: Axis, at: i64, low: Box<Frame>, high: Box<Frame> },
    /// The region is the zone of this index.
    Zone(usize),
    /// Nothing may be cut from the region.
    Waste,
}

/// A board's grown usable zones (only those that through cuts can part) and the cuts that part them.
pub(crate) fn frame(board: &Board, saw: &Saw) -> (Frame, Vec<Rect>) {
    let trim = |raw: bool| if raw { saw.trim } else { 0 };
    let left = trim(board.raw.left);
    let bottom = trim(board.raw.bottom);
    let inner = Rect::new(
        left,
        bottom,
        board.size.width - left - trim(board.raw.right),
        board.size.height - bottom - trim(board.raw.top),
    );
    let whole = [inner];
    let zones = if board.zones.is_empty() { &whole[..] } else { &board.zones };
    let mut grown: Vec<Rect> =
        zones.iter().filter_map(|zone| meet(zone, &inner)).map(|zone| grow(&zone, saw.kerf)).collect();
    grown.sort_by_key(|zone| (-zone.area(), zone.x, zone.y));
    let region = grow(&Rect { x: 0, y: 0, size: board.size }, saw.kerf);
    loop {
        let numbered: Vec<(usize, Rect)> = grown.iter().copied().enumerate().collect();
        if let Some(frame) = part(&region, &numbered) {
            return (frame, grown);
        }
        grown.pop();
    }
}

fn grow(rect: &Rect, kerf: i64) -> Rect {
    Rect { x: rect.x, y: rect.y, size: Size::new(rect.size.width + kerf, rect.size.height + kerf) }
}

fn meet(a: &Rect, b: &Rect) -> Option<Rect> {
    let (x, y) = (a.x.max(b.x), a.y.max(b.y));
    let (width, height) = (a.right().min(b.right()) - x, a.top().min(b.top()) - y);
    (width > 0 && height > 0).then(|| Rect::new(x, y, width, height))
}

fn part(region: &Rect, zones: &[(usize, Rect)]) -> Option<Frame> {
    let [first, ..] = zones else {
        return Some(Frame::Waste);
    };
    if zones.len() == 1 && first.1 == *region {
        return Some(Frame::Zone(first.0));
    }
    for axis in [Axis::X, Axis::Y] {
        let start = region.low(axis);
        let end = start + region.size.along(axis);
        let mut lines: Vec<i64> = zones
            .iter()
            .flat_map(|(_, z)| [z.low(axis), z.low(axis) + z.size.along(axis)])
            .filter(|&l| l > start && l < end)
            .collect();
        lines.sort_unstable();
        lines.dedup();
        for at in lines {
            let high_of = |z: &Rect| z.low(axis) + z.size.along(axis);
            if zones.iter().any(|(_, z)| z.low(axis) < at && high_of(z) > at) {
                continue;
            }
            let (low, high): (Vec<_>, Vec<_>) = zones.iter().copied().partition(|(_, z)| high_of(z) <= at);
            let (Some(low), Some(high)) =
                (part(&region.slice(axis, start, at), &low), part(&region.slice(axis, at, end), &high))
            else {
                return None;
            };
            return Some(Frame::Split { axis, at, low: Box::new(low), high: Box::new(high) });
        }
    }
    None
}
