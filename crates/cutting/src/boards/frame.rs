//! The first cuts of a board: those that trim raw edges and part the good zones from the bad.
//!
//! All rectangles here are *grown*: a kerf is added to both extents of board, zone and piece. A guillotine pattern with
//! kerf on the real sizes is then a pattern without kerf on the grown ones, and the other way round.

use std::collections::BTreeMap;

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

/// Zones up to which all ways to split are looked at where through cuts cannot part them as they are.
const MOST_TRIMMED: usize = 8;

/// A board's grown usable zones and the cuts that part them. Where no through cuts part them as they are, because they overlap,
/// lie nearer than a kerf or lock each other in a ring, they are trimmed so that the largest area remains of use; of equal ways
/// the one with the fewest zones. Beyond eight zones the smallest are given up first.
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
        if grown.len() <= MOST_TRIMMED {
            return trimmed(&region, &grown, saw.kerf);
        }
        grown.pop();
    }
}

/// What comes of a region: area of use, zones as a negative number, area of the largest; the larger the better.
type Use = (i128, i64, i128);

/// How a region is used best: the value, and the cut that it begins with, if with one.
type Best = (Use, Option<(Axis, i64)>);

/// All ways to split a region along the edges of its grown zones, so that each part lies in one zone or is waste. Moving a cut
/// to one of the nearest such edges loses no area, so that no other cuts are needed; but for strips that this makes no wider than
/// a kerf.
struct Splits<'a> {
    zones: &'a [Rect],
    kerf: i64,
    known: BTreeMap<Rect, Best>,
}

impl Splits<'_> {
    fn is_of_use(&self, region: &Rect) -> bool {
        region.size.width > self.kerf && region.size.height > self.kerf && self.zones.iter().any(|it| it.holds(region))
    }

    fn best(&mut self, region: &Rect) -> Use {
        if self.is_of_use(region) {
            return (region.area(), -1, region.area());
        }
        if self.zones.iter().all(|it| meet(it, region).is_none()) {
            return (0, 0, 0);
        }
        if let Some((value, _)) = self.known.get(region) {
            return *value;
        }
        let mut best: Best = ((0, 0, 0), None);
        for axis in [Axis::X, Axis::Y] {
            for at in lines(region, self.zones, axis) {
                let (low, high) = halves(region, axis, at);
                let (one, two) = (self.best(&low), self.best(&high));
                let both = (one.0 + two.0, one.1 + two.1, one.2.max(two.2));
                if both > best.0 {
                    best = (both, Some((axis, at)));
                }
            }
        }
        self.known.insert(*region, best);
        best.0
    }

    /// The cuts that come to the best value; the zones that they leave go on to the list.
    fn frame(&self, region: &Rect, found: &mut Vec<Rect>) -> Frame {
        if self.is_of_use(region) {
            found.push(*region);
            return Frame::Zone(found.len() - 1);
        }
        let Some((axis, at)) = self.known.get(region).and_then(|it| it.1) else { return Frame::Waste };
        let (low, high) = halves(region, axis, at);
        let (low, high) = (self.frame(&low, found), self.frame(&high, found));
        Frame::Split { axis, at, low: Box::new(low), high: Box::new(high) }
    }
}

/// The zones trimmed so that through cuts part them.
fn trimmed(region: &Rect, zones: &[Rect], kerf: i64) -> (Frame, Vec<Rect>) {
    let mut splits = Splits { zones, kerf, known: BTreeMap::new() };
    splits.best(region);
    let mut found = Vec::new();
    let frame = splits.frame(region, &mut found);
    (frame, found)
}

/// Coordinates of edges of zones within a region, in rising order.
fn lines<'a>(region: &Rect, zones: impl IntoIterator<Item = &'a Rect>, axis: Axis) -> Vec<i64> {
    let start = region.low(axis);
    let end = start + region.size.along(axis);
    let mut lines: Vec<i64> = zones
        .into_iter()
        .flat_map(|z| [z.low(axis), z.low(axis) + z.size.along(axis)])
        .filter(|&l| l > start && l < end)
        .collect();
    lines.sort_unstable();
    lines.dedup();
    lines
}

/// The two parts of a region that a cut at a coordinate leaves.
fn halves(region: &Rect, axis: Axis, at: i64) -> (Rect, Rect) {
    let start = region.low(axis);
    (region.slice(axis, start, at), region.slice(axis, at, start + region.size.along(axis)))
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
        for at in lines(region, zones.iter().map(|(_, zone)| zone), axis) {
            let high_of = |z: &Rect| z.low(axis) + z.size.along(axis);
            if zones.iter().any(|(_, z)| z.low(axis) < at && high_of(z) > at) {
                continue;
            }
            let (low, high): (Vec<_>, Vec<_>) = zones.iter().copied().partition(|(_, z)| high_of(z) <= at);
            let (below, above) = halves(region, axis, at);
            let (Some(low), Some(high)) = (part(&below, &low), part(&above, &high)) else {
                return None;
            };
            return Some(Frame::Split { axis, at, low: Box::new(low), high: Box::new(high) });
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The most area of use that cuts at any whole coordinates leave: each part in one grown zone, or waste.
    fn most(region: &Rect, zones: &[Rect], kerf: i64, known: &mut BTreeMap<Rect, i128>) -> i128 {
        if let Some(&known) = known.get(region) {
            return known;
        }
        let wide = region.size.width > kerf && region.size.height > kerf;
        let mut best = if wide && zones.iter().any(|it| it.holds(region)) { region.area() } else { 0 };
        for axis in [Axis::X, Axis::Y] {
            for at in region.low(axis) + 1..region.low(axis) + region.size.along(axis) {
                let (low, high) = halves(region, axis, at);
                best = best.max(most(&low, zones, kerf, known) + most(&high, zones, kerf, known));
            }
        }
        known.insert(*region, best);
        best
    }

    #[test]
    fn zones_that_no_through_cut_parts_are_trimmed_as_little_as_can_be() {
        let mut state = 7_u64;
        let mut number = |low: i64, high: i64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            low + ((state >> 33) as i64) % (high - low + 1)
        };
        let (mut trimmed, mut exact) = (0, 0);
        for case in 0..300 {
            let (width, height, kerf) = (number(4, 9), number(4, 9), number(0, 2));
            let zones: Vec<Rect> = (0..number(2, 4))
                .map(|_| {
                    let (x, y) = (number(0, width - 2), number(0, height - 2));
                    Rect::new(x, y, number(1, width - x), number(1, height - y))
                })
                .collect();
            let board = Board { zones: zones.clone(), ..Board::new("board", width, height) };
            let saw = Saw { kerf, trim: 0 };
            let (frame, found) = frame(&board, &saw);
            let grown: Vec<Rect> = zones.iter().map(|it| grow(it, kerf)).collect();
            let region = grow(&Rect::new(0, 0, width, height), kerf);
            let area: i128 = found.iter().map(Rect::area).sum();
            let place = format!("case {case}: {board:?}, kerf {kerf}, {frame:?}");
            let best = most(&region, &grown, kerf, &mut BTreeMap::new());
            let mut largest_first = grown.clone();
            largest_first.sort_by_key(|it| (-it.area(), it.x, it.y));
            let kept = (1..=grown.len()).rev().find(|&count| {
                let numbered: Vec<_> = largest_first.iter().copied().take(count).enumerate().collect();
                part(&region, &numbered).is_some()
            });
            let given_up: i128 = largest_first.iter().take(kept.unwrap_or(0)).map(Rect::area).sum();
            assert!(if kerf == 0 { area == best } else { area <= best && area >= given_up }, "{best}, {place}");
            exact += usize::from(area == best);
            // The cuts leave just these zones.
            let mut left = Vec::new();
            leaves(&frame, &region, &mut left);
            left.sort_unstable();
            assert!(left.iter().map(|it| it.0).eq(0..found.len()), "{place}");
            assert!(left.iter().all(|(zone, rect)| found.get(*zone) == Some(rect)), "{place}");
            trimmed += usize::from(found.iter().any(|it| !grown.contains(it)));
        }
        assert!(trimmed > 100 && exact > 250, "{trimmed} trimmed, {exact} of 300 exact");
    }

    fn leaves(frame: &Frame, region: &Rect, into: &mut Vec<(usize, Rect)>) {
        match frame {
            Frame::Split { axis, at, low, high } => {
                let (below, above) = halves(region, *axis, *at);
                leaves(low, &below, into);
                leaves(high, &above, into);
            }
            Frame::Zone(zone) => into.push((*zone, *region)),
            Frame::Waste => {}
        }
    }
}
