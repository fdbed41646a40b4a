//! Blocks of a few pieces each, put together edge to edge without waste, from as many pieces as there are: what strips are
//! filled with. They stay good until one of their pieces is used.

use std::collections::BTreeMap;

use super::blocks::Seen;
use super::problem::Problem;
use super::tree::Slice;
use crate::effort::Budget;
use crate::random::Random;
use crate::size::Axis;

/// Pieces at most in a block.
const MOST: usize = 5;

/// A few pieces put together.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Small {
    pub(crate) width: i64,
    pub(crate) height: i64,
    ids: [u32; MOST],
    count: u8,
    made: Option<(Axis, u32, u32)>,
}

impl Small {
    /// The items in it.
    pub(crate) fn items(&self) -> &[u32] {
        self.ids.get(..usize::from(self.count)).unwrap_or_default()
    }

    /// Length along the axis.
    pub(crate) const fn along(&self, axis: Axis) -> i64 {
        match axis {
            Axis::X => self.width,
            Axis::Y => self.height,
        }
    }

    /// A number for its pieces and its extents.
    fn key(&self) -> u64 {
        let mix = |key: u64, next: u64| (key ^ next).wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(29);
        self.items().iter().fold(mix(1, self.width as u64), |key, &i| mix(key, u64::from(i) + 1))
    }

    fn with(&self, other: &Self, axis: Axis, made: (u32, u32)) -> Option<Self> {
        let count = usize::from(self.count + other.count);
        if count > MOST || self.items().iter().any(|i| other.items().contains(i)) {
            return None;
        }
        let mut ids = self.ids;
        ids.get_mut(usize::from(self.count)..count)?.copy_from_slice(other.items());
        ids.get_mut(..count)?.sort_unstable();
        let (width, height) = match axis {
            Axis::X => (self.width + other.width, self.height),
            Axis::Y => (self.width, self.height + other.height),
        };
        Some(Self { width, height, ids, count: count as u8, made: Some((axis, made.0, made.1)) })
    }
}

/// The blocks, and those of each length along x and along y.
#[derive(Debug, Default)]
pub(crate) struct Stockpile {
    list: Vec<Small>,
    pub(crate) by_width: BTreeMap<i64, Vec<u32>>,
    pub(crate) by_height: BTreeMap<i64, Vec<u32>>,
}

#[allow(clippy::indexing_slicing, reason = "block numbers are made here")]
impl Stockpile {
    #[allow(clippy::too_many_arguments, reason = "what is made and how much of it")]
    /// Blocks of the items, no larger than `longest`; of each number of pieces about `each` at most, chosen at random.
    pub(crate) fn new(
        problem: &Problem,
        left: &[usize],
        longest: (i64, i64),
        each: usize,
        most: usize,
        seed: u64,
        budget: &Budget<'_>,
    ) -> Self {
        let mut pile = Self::default();
        let mut random = Random::new(seed);
        let grain = problem.kinds.first().map_or(0, |k| k.grain);
        for &index in left {
            let Some(item) = problem.items.get(index) else { continue };
            let (given, turned) = item.lays.get(grain).copied().unwrap_or((false, false));
            for (_, width, height) in
                [(given, item.width, item.height), (turned, item.height, item.width)].into_iter().filter(|lay| lay.0)
            {
                pile.list.push(Small { width, height, ids: [index as u32; MOST], count: 1, made: None });
            }
        }
        pile.index(0);
        // Where the blocks of each number of pieces begin and end.
        let mut levels = vec![(0, pile.list.len())];
        for count in 2..=most {
            let from = pile.list.len();
            let mut seen = Seen::new(each);
            let mut offers: Vec<Small> = Vec::new();
            let mut passed = 0;
            for small in 1..=count / 2 {
                let (a, b) = (levels[small - 1], levels[count - small - 1]);
                // Not more than are wanted: a random share of the partners where they are too many.
                let pairs = ((a.1 - a.0) * (b.1 - b.0)) as f64 / 25.0;
                let share = (each as f64 * 6.0 / pairs.max(1.0)).min(1.0);
                for n in b.0..b.1 {
                    let block = pile.list[n];
                    for axis in [Axis::Y, Axis::X] {
                        let (index, edge) = match axis {
                            Axis::Y => (&pile.by_width, block.width),
                            Axis::X => (&pile.by_height, block.height),
                        };
                        let Some(partners) = index.get(&edge) else { continue };
                        let end = partners.partition_point(|&p| (p as usize) < a.1);
                        let begin = partners.partition_point(|&p| (p as usize) < a.0);
                        for &p in &partners[begin..end] {
                            if share < 1.0 && random.unit() > share {
                                continue;
                            }
                            budget.spend(3);
                            let other = pile.list[p as usize];
                            let Some(new) = block.with(&other, axis, (n as u32, p)) else { continue };
                            if new.width > longest.0 || new.height > longest.1 {
                                continue;
                            }
                            budget.spend(8);
                            if !seen.insert(new.key()) {
                                continue;
                            }
                            passed += 1;
                            if offers.len() < each {
                                offers.push(new);
                            } else if let Some(slot) = offers.get_mut(random.below(passed)) {
                                *slot = new;
                            }
                        }
                    }
                }
            }
            budget.spend(20 * offers.len() as u64);
            pile.list.extend(offers);
            pile.index(from);
            levels.push((from, pile.list.len()));
        }
        pile
    }

    fn index(&mut self, from: usize) {
        for (n, block) in self.list.iter().enumerate().skip(from) {
            self.by_width.entry(block.width).or_default().push(n as u32);
            self.by_height.entry(block.height).or_default().push(n as u32);
        }
    }

    /// A block by its number.
    pub(crate) fn get(&self, number: u32) -> &Small {
        &self.list[number as usize]
    }

    /// How the block is cut.
    pub(crate) fn slice(&self, number: u32) -> Slice {
        let block = &self.list[number as usize];
        match block.made {
            None => Slice::Item(block.ids[0] as usize),
            Some((axis, a, b)) => {
                let part = |n: u32| (self.list[n as usize].along(axis), self.slice(n));
                Slice::Split(axis, vec![part(a), part(b)])
            }
        }
    }
}
