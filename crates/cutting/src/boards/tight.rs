//! Strips that are filled to the last unit, pieces with seldom edges first: how cutting begins where there are many pieces.
//!
//! Boards are parted into panels about five pieces across, since short strips are filled more easily than long ones. With
//! many pieces nearly every strip can be filled exactly; what cannot is left to strips with little waste. Own method.

use std::rc::Rc;

use super::problem::{Item, Problem};
use super::small::{Small, Stockpile};
use super::strips::{Free, Panel, Strips, joined, rarity, suits};
use crate::effort::Budget;
use crate::random::Random;
use crate::size::Axis;

/// Longest side of a board in reduced units: sums of lengths are kept as bits.
const LONGEST: i64 = 20_000;

/// Blocks at most that one strip is chosen from.
const MOST_COLUMNS: usize = 100;

/// Blocks at most of each number of pieces: of all pieces, and later.
const EACH: (usize, usize) = (12_000, 8_000);

/// Strips at most that one is chosen from, for each direction.
const MOST_STRIPS: usize = 12;

/// Times the pieces' mean extent that a panel is wide, and by how much more at most.
const ACROSS: (f64, f64) = (5.0, 2.0);

/// Blocks of all pieces; `None` where the method does not suit the question.
pub(crate) fn pile(problem: &Problem, budget: &Budget<'_>) -> Option<Rc<Stockpile>> {
    let longest = problem.kinds.iter().flat_map(|k| &k.zones).map(|z| z.0.max(z.1)).max()?;
    if !suits(problem) || longest > LONGEST {
        return None;
    }
    let all: Vec<usize> = (0..problem.items.len()).collect();
    Some(Rc::new(Stockpile::new(problem, &all, (longest, longest), EACH.0, 4, 0, budget)))
}

/// Boards of these kinds, cut into strips without waste until about so few pieces are left.
pub(crate) fn tight<'a>(
    problem: &'a Problem,
    kinds: &[usize],
    pile: &Rc<Stockpile>,
    last: usize,
    seed: u64,
    budget: &Budget<'_>,
) -> Strips<'a> {
    let mut cutting = Cutting::new(problem, kinds, Rc::clone(pile), seed);
    cutting.run(last, budget);
    let Cutting { panels, rooms, left, .. } = cutting;
    Strips::begun(problem, rooms, panels, left, seed)
}

/// Panels being cut into strips without waste.
struct Cutting<'a> {
    problem: &'a Problem,
    panels: Vec<Panel>,
    /// What is left of each panel.
    rooms: Vec<Free>,
    /// The panel that strips are being cut off.
    current: usize,
    left: Vec<usize>,
    /// Whether an item is used.
    used: Vec<bool>,
    /// Blocks of the pieces that were left when there were so many.
    pile: Rc<Stockpile>,
    piled: usize,
    random: Random,
}

/// One strip, or two, that could be cut off: direction of the division, extents, the blocks in them.
struct Strip {
    axis: Axis,
    parts: Vec<(i64, Vec<u32>)>,
    score: f64,
}

impl<'a> Cutting<'a> {
    fn new(problem: &'a Problem, kinds: &[usize], pile: Rc<Stockpile>, seed: u64) -> Self {
        let mut random = Random::new(seed);
        let count = problem.items.len();
        let mean = |along: fn(&Item) -> i64| problem.items.iter().map(along).sum::<i64>() as f64 / count.max(1) as f64;
        let (wide, high) = (mean(|i| i.width), mean(|i| i.height));
        let mut panels: Vec<(Panel, Free)> = Vec::new();
        for (board, &kind) in kinds.iter().enumerate() {
            let zone = problem.kinds.get(kind).and_then(|k| k.zones.first());
            let Some(&(width, height)) = zone else { continue };
            let axis = if random.unit() * (width + height) as f64 > width as f64 { Axis::Y } else { Axis::X };
            let (full, mean) = if axis == Axis::X { (width, wide) } else { (height, high) };
            let number = (full as f64 / (mean * (ACROSS.0 + ACROSS.1 * random.unit()))).round().max(1.0) as i64;
            let play = (full / number / 10).max(1);
            let mut from = 0;
            for i in 1..=number {
                let moved = random.below(2 * play as usize) as i64 - play;
                let to = if i == number { full } else { full * i / number + moved };
                let extent = to - from;
                let size = if axis == Axis::X { (extent, height) } else { (width, extent) };
                let free = Free { kind, width: size.0, height: size.1, strips: Vec::new() };
                panels.push((Panel { board, kind, axis, extent, size }, free));
                from = to;
            }
        }
        for i in (1..panels.len()).rev() {
            panels.swap(i, random.below(i + 1));
        }
        let (panels, rooms) = panels.into_iter().unzip();
        let (left, used) = ((0..count).collect(), vec![false; count]);
        Self { problem, panels, rooms, current: 0, left, used, pile, piled: count, random }
    }

    /// Cuts strips until so few pieces are left; a panel that no strip is found for is left as it is.
    fn run(&mut self, last: usize, budget: &Budget<'_>) {
        while self.current < self.rooms.len() && self.left.len() > last && !budget.over() {
            if self.left.len() * 10 < self.piled * 7 {
                self.stock_up(budget);
            }
            if !self.cut(budget) {
                self.current += 1;
            }
        }
    }

    /// New blocks of the pieces left.
    fn stock_up(&mut self, budget: &Budget<'_>) {
        let ahead = self.rooms.iter().skip(self.current);
        let longest = ahead.fold((0, 0), |l, b| (l.0.max(b.width), l.1.max(b.height)));
        let most = if self.left.len() > 250 { 4 } else { 5 };
        self.pile =
            Rc::new(Stockpile::new(self.problem, &self.left, longest, EACH.1, most, self.random.next(), budget));
        self.piled = self.left.len();
    }

    /// Cuts a strip off the current panel; false when none was found.
    fn cut(&mut self, budget: &Budget<'_>) -> bool {
        let Some(room) = self.rooms.get(self.current).filter(|r| r.width > 0 && r.height > 0) else { return false };
        let room = (room.width, room.height);
        let rare = rarity(self.problem, &self.left, budget);
        let mut best: Option<Strip> = None;
        for axis in [Axis::X, Axis::Y] {
            self.strips(&rare, axis, room, &mut best, budget);
        }
        let Some(strip) = best else { return false };
        for (extent, numbers) in &strip.parts {
            let mut parts = Vec::new();
            for &n in numbers {
                for &i in self.pile.get(n).items() {
                    if let Some(used) = self.used.get_mut(i as usize) {
                        *used = true;
                    }
                }
                parts.push((self.pile.get(n).along(strip.axis.other()), self.pile.slice(n)));
            }
            let Some(room) = self.rooms.get_mut(self.current) else { return false };
            room.strips.push((strip.axis, *extent, joined(strip.axis.other(), parts)));
            match strip.axis {
                Axis::X => room.width -= extent,
                Axis::Y => room.height -= extent,
            }
        }
        let used = &self.used;
        self.left.retain(|&i| !used.get(i).copied().unwrap_or(true));
        true
    }

    /// The best of some strips that divide the board along `axis`.
    fn strips(&mut self, rare: &[f64], axis: Axis, room: (i64, i64), best: &mut Option<Strip>, budget: &Budget<'_>) {
        // As if the strips lay along x: `long` is what they fill, `extent` what they take.
        let (long, full) = if axis == Axis::Y { room } else { (room.1, room.0) };
        let pile = Rc::clone(&self.pile);
        let by_extent = if axis == Axis::Y { &pile.by_height } else { &pile.by_width };
        let close = 3 * self.mean(axis);
        let worth = |n: u32| {
            let items = pile.get(n).items();
            items.iter().filter_map(|&i| rare.get(i as usize)).sum::<f64>() / items.len() as f64
        };
        let mut order: Vec<i64> = by_extent
            .range(..=full)
            .filter(|&(&extent, list)| {
                let rest = full - extent;
                list.len() > 3 && (rest == 0 || rest >= close || by_extent.contains_key(&rest))
            })
            .map(|(&extent, _)| extent)
            .collect();
        for i in 0..order.len() {
            let other = i + self.random.below(order.len() - i);
            order.swap(i, other);
        }
        let mut hits = 0;
        for extent in order {
            if hits >= MOST_STRIPS {
                break;
            }
            // What is left of the board must not be too little to be filled: it is filled at the same time.
            let rest = full - extent;
            let mut strip = Strip { axis, parts: Vec::new(), score: 0.0 };
            let mut marked: Vec<u32> = Vec::new();
            let mut count = 0;
            for extent in [extent, rest].into_iter().take(if rest > 0 && rest < close { 2 } else { 1 }) {
                let Some(list) = by_extent.get(&extent) else { break };
                let (used, random) = (&self.used, &mut self.random);
                let mut free: Vec<(f64, u32)> = list
                    .iter()
                    .copied()
                    .filter(|&n| {
                        let block = pile.get(n);
                        block.along(axis.other()) <= long
                            && !block.items().iter().any(|&i| used.get(i as usize).copied().unwrap_or(true))
                    })
                    .map(|n| (worth(n) * (0.7 + 0.6 * random.unit()), n))
                    .collect();
                budget.spend(list.len() as u64 + 6 * free.len() as u64);
                free.sort_by(|a, b| b.0.total_cmp(&a.0));
                free.truncate(MOST_COLUMNS);
                if free.iter().map(|f| pile.get(f.1).along(axis.other())).sum::<i64>() < long {
                    break;
                }
                let lengths: Vec<i64> = free.iter().map(|f| pile.get(f.1).along(axis.other())).collect();
                let mut filling = Fill {
                    pile: &pile,
                    free: &free,
                    lengths: &lengths,
                    used: &mut self.used,
                    chosen: Vec::new(),
                    steps: 400,
                };
                if !filling.fill(long, budget) {
                    break;
                }
                let numbers: Vec<u32> = filling.chosen.iter().filter_map(|&i| free.get(i)).map(|f| f.1).collect();
                for &n in &numbers {
                    for &i in pile.get(n).items() {
                        marked.push(i);
                        strip.score += rare.get(i as usize).copied().unwrap_or(0.0)
                            * self.problem.items.get(i as usize).map_or(0.0, |i| i.area as f64);
                    }
                }
                count += extent;
                strip.parts.push((extent, numbers));
            }
            for i in marked {
                if let Some(used) = self.used.get_mut(i as usize) {
                    *used = false;
                }
            }
            if count == 0 || count != full && full - count < close {
                continue;
            }
            hits += 1;
            strip.score *= (0.9 + 0.2 * self.random.unit()) / (count as f64 * long as f64);
            if best.as_ref().is_none_or(|b| strip.score > b.score) {
                *best = Some(strip);
            }
        }
    }

    /// Mean extent of the pieces left.
    fn mean(&self, axis: Axis) -> i64 {
        let items = self.left.iter().filter_map(|&i| self.problem.items.get(i));
        let sum: i64 = items.map(|i| if axis == Axis::Y { i.height } else { i.width }).sum();
        sum / (self.left.len() as i64).max(1)
    }
}

/// A strip being filled with some blocks (rather the first) that share no piece.
struct Fill<'a> {
    pile: &'a Stockpile,
    free: &'a [(f64, u32)],
    lengths: &'a [i64],
    used: &'a mut [bool],
    chosen: Vec<usize>,
    steps: u64,
}

impl Fill<'_> {
    fn fill(&mut self, sum: i64, budget: &Budget<'_>) -> bool {
        let sums = Sums::new(self.lengths.iter().copied(), sum);
        budget.spend(sums.work());
        let before = self.steps;
        let found = self.step(&sums, 0, sum);
        budget.spend(before - self.steps);
        found
    }

    fn step(&mut self, sums: &Sums, from: usize, sum: i64) -> bool {
        if sum == 0 {
            return true;
        }
        for i in from..self.free.len() {
            if self.steps == 0 || !sums.reach(i, sum) {
                return false;
            }
            self.steps -= 1;
            let (Some(&(_, number)), Some(&length)) = (self.free.get(i), self.lengths.get(i)) else { return false };
            let block = self.pile.get(number);
            if sums.reach(i + 1, sum - length) && !self.any(block) {
                self.mark(block, true);
                self.chosen.push(i);
                if self.step(sums, i + 1, sum - length) {
                    return true;
                }
                self.chosen.pop();
                self.mark(block, false);
            }
        }
        false
    }

    fn any(&self, block: &Small) -> bool {
        block.items().iter().any(|&i| self.used.get(i as usize).copied().unwrap_or(true))
    }

    fn mark(&mut self, block: &Small, to: bool) {
        for &i in block.items() {
            if let Some(used) = self.used.get_mut(i as usize) {
                *used = to;
            }
        }
    }
}

/// Sums of lengths that can be reached, as bits.
pub(crate) struct Sums {
    words: usize,
    bits: Vec<u64>,
}

#[allow(clippy::indexing_slicing, reason = "rows and words are counted here")]
impl Sums {
    /// Row `i`: the sums of some of the lengths from number `i` on, up to `most`.
    pub(crate) fn new(lengths: impl ExactSizeIterator<Item = i64> + DoubleEndedIterator, most: i64) -> Self {
        let words = most.max(0) as usize / 64 + 1;
        let mut bits = vec![0u64; words * (lengths.len() + 1)];
        bits[words * lengths.len()] = 1;
        for (i, length) in lengths.enumerate().rev() {
            let (now, after) = bits[words * i..words * (i + 2)].split_at_mut(words);
            now.copy_from_slice(after);
            let (whole, part) = (length as usize / 64, length as usize % 64);
            for word in whole..words {
                let mut moved = after[word - whole] << part;
                if part > 0 && word > whole {
                    moved |= after[word - whole - 1] >> (64 - part);
                }
                now[word] |= moved;
            }
        }
        Self { words, bits }
    }

    /// Whether some of the lengths from number `from` on have this sum.
    pub(crate) fn reach(&self, from: usize, sum: i64) -> bool {
        sum >= 0 && self.bits[self.words * from + sum as usize / 64] >> (sum as usize % 64) & 1 == 1
    }

    /// Work that making it took.
    pub(crate) fn work(&self) -> u64 {
        self.bits.len() as u64 / 16 + 4
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test")]
mod tests {
    use super::*;
    use crate::boards::tree::Slice;
    use crate::{Board, Effort, Goal, Objective, Piece, Saw, Unwatched};

    /// Area of the items in a slice; panics where something is free beside them.
    fn filled(problem: &Problem, slice: &Slice) -> i128 {
        match slice {
            Slice::Item(item) => problem.items[*item].area,
            Slice::Split(_, parts) => parts.iter().map(|(_, part)| filled(problem, part)).sum(),
            Slice::Free => panic!("a gap in a strip"),
        }
    }

    #[test]
    fn blocks_and_strips_have_no_gaps() {
        let mut random = Random::new(5);
        let side = |random: &mut Random| 20 + random.below(60) as i64;
        let pieces: Vec<Piece> = (0..240).map(|_| Piece::new("p", side(&mut random), side(&mut random))).collect();
        let stock = [Board::new("a", 500, 400), Board::new("b", 450, 300)];
        let chosen: Vec<usize> = (0..pieces.len()).collect();
        let goal = Goal { least: Objective::LeastArea, ..Goal::default() };
        let problem = Problem::new(&stock, &[0, 1], &pieces, &chosen, &Saw { kerf: 2, trim: 0 }, &goal);
        let budget = Budget::new(&Effort::work(20_000_000), &Unwatched);
        let pile = pile(&problem, &budget).unwrap();
        for block in pile.by_width.values().flatten() {
            let small = pile.get(*block);
            let area = i128::from(small.width) * i128::from(small.height);
            assert_eq!(filled(&problem, &pile.slice(*block)), area);
        }
        let mut cutting = Cutting::new(&problem, &[0, 0, 0, 1, 1], Rc::clone(&pile), 1);
        cutting.run(80, &budget);
        assert!(cutting.left.len() < 130, "{} left", cutting.left.len());
        let mut area: i128 = cutting.left.iter().map(|&i| problem.items[i].area).sum();
        for (panel, room) in cutting.panels.iter().zip(&cutting.rooms) {
            let strips: i128 = room.strips.iter().map(|s| filled(&problem, &s.2)).sum();
            let free = i128::from(room.width) * i128::from(room.height);
            assert_eq!(strips + free, i128::from(panel.size.0) * i128::from(panel.size.1));
            area += strips;
        }
        assert_eq!(area, problem.items.iter().map(|i| i.area).sum::<i128>());
    }
}
