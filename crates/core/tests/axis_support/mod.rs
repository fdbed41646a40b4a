//! Random problems for the tests of the axis solver: rows of panels between two walls, with nasty numbers.
#![allow(dead_code, reason = "each test file uses its own part")]

pub(crate) mod oracle;

use casewright_core::Length;
use casewright_core::axis::{AxisProblem, Face, MustKind, Span, WishKind};

/// Sebastiano Vigna's SplitMix64 (public domain algorithm, from memory): the same numbers on every machine.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// The next 64 bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// A whole number from `low` to `high`.
    pub(crate) fn int(&mut self, low: i64, high: i64) -> i64 {
        low + (self.bits() % ((high - low + 1) as u64)) as i64
    }

    /// A real number from zero to one.
    pub(crate) fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Whether something of this probability happens.
    pub(crate) fn chance(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    /// One of the list.
    pub(crate) fn pick<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.int(0, list.len() as i64 - 1) as usize]
    }
}

/// The number of random cases: `usual`, or what the environment variable `CASEWRIGHT_CASES` says.
pub(crate) fn cases(usual: u64) -> u64 {
    std::env::var("CASEWRIGHT_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// What the problem should be like.
#[derive(Clone, Copy)]
pub(crate) struct Taste {
    /// The probability of a least size for each bay.
    pub(crate) least: f64,
    /// The part of the width that least sizes take up on average: above one, most problems conflict.
    pub(crate) tightness: f64,
    /// The number of ties.
    pub(crate) ties: i64,
    /// Decades of weights to either side of one.
    pub(crate) decades: f64,
    /// The probability that a bay has a wish.
    pub(crate) wishes: f64,
    /// Whether every length is a whole number of steps.
    pub(crate) on_lattice: bool,
    /// The most dividers in a row.
    pub(crate) dividers: i64,
}

impl Default for Taste {
    fn default() -> Self {
        Self { least: 0.5, tightness: 0.6, ties: 1, decades: 1.0, wishes: 1.0, on_lattice: false, dividers: 8 }
    }
}

/// A random problem, with its bays and all spans that together close the width, row by row.
pub(crate) struct Case {
    pub(crate) problem: AxisProblem,
    pub(crate) width: Length,
    /// For each row: bays and panels in order.
    pub(crate) rows: Vec<Vec<Span>>,
    pub(crate) bays: Vec<Span>,
}

/// The random problem of a seed.
pub(crate) fn case(seed: u64, taste: Taste) -> Case {
    let mut dice = Dice(seed);
    let step = dice.pick(&[500_000, 100_000, 1_000_000, 396_875, 1_587_500]);
    let mut problem = AxisProblem::new(Length::from_nm(step));
    let lattice = if taste.on_lattice { step } else { 1 };
    let width_nm = if dice.chance(0.5) || taste.on_lattice {
        dice.int(600, 6000) * step
    } else {
        dice.int(3000, 30_000) * 100_000
    };
    let width = Length::from_nm(width_nm);
    let mut rows = Vec::new();
    let mut bays = Vec::new();
    let mut faces = Vec::new();
    for _ in 0..dice.int(1, 2) {
        let dividers = dice.int(1, taste.dividers);
        let thickness = dice.pick(&[18_000_000, 18_300_000, 19_050_000, 15_875_000, 12_000_000, 6_350_000]);
        let thickness = Length::from_nm(thickness / lattice * lattice);
        let mut low = Face::fixed(Length::ZERO);
        let mut row = Vec::new();
        let fair = (width_nm - dividers * thickness.nm()).max(0) / (dividers + 1);
        for place in 0..=dividers {
            let high = if place < dividers { Face::at(problem.add_var()) } else { Face::fixed(width) };
            let bay = Span::between(low, high);
            problem.must(MustKind::AtLeast(bay, Length::ZERO), 1000, false);
            if dice.chance(taste.least) {
                let size = dice.int(0, (2.0 * taste.tightness * fair as f64) as i64 + 1);
                let size =
                    if taste.on_lattice { Length::from_nm(size / step * step) } else { rough(&mut dice, size, step) };
                let kind = match dice.int(0, 9) {
                    0..=6 => MustKind::AtLeast(bay, size),
                    7 => MustKind::AtMost(bay, size + Length::from_nm(fair / 2 / lattice * lattice)),
                    _ => MustKind::Exactly(bay, size),
                };
                problem.must(kind, bays.len(), true);
            }
            row.push(bay);
            bays.push(bay);
            if place < dividers {
                row.push(Span::between(high, high.plus(thickness)));
                faces.push(high);
                low = high.plus(thickness);
            }
        }
        rows.push(row);
    }
    ties(&mut dice, &mut problem, &bays, &faces, taste);
    wishes(&mut dice, &mut problem, &bays, &faces, width, taste);
    Case { problem, width, rows, bays }
}

/// A size on the lattice, on tenths of a millimetre, or on no lattice at all.
fn rough(dice: &mut Dice, nm: i64, step: i64) -> Length {
    Length::from_nm(match dice.int(0, 3) {
        0 => nm / step * step,
        1 | 2 => nm / 100_000 * 100_000,
        _ => nm,
    })
}

fn ties(dice: &mut Dice, problem: &mut AxisProblem, bays: &[Span], faces: &[Face], taste: Taste) {
    for _ in 0..taste.ties {
        match dice.int(0, 3) {
            0 | 1 => {
                let (a, b) = (dice.pick(bays), dice.pick(bays));
                problem.must(MustKind::Equal(a, b), 2000, true);
            }
            2 => {
                // Over several bays, nested or overlapping.
                let ends = [dice.pick(bays), dice.pick(bays), dice.pick(bays)];
                problem.must(MustKind::Equal(Span::between(ends[0].lo, ends[1].hi), ends[2]), 2001, true);
            }
            _ => {
                if dice.chance(0.3) {
                    problem.must(MustKind::InLine(dice.pick(faces), dice.pick(faces)), 2002, true);
                }
            }
        }
    }
}

fn wishes(dice: &mut Dice, problem: &mut AxisProblem, bays: &[Span], faces: &[Face], width: Length, taste: Taste) {
    let weight = |dice: &mut Dice| 10f64.powf((2.0 * dice.unit() - 1.0) * taste.decades);
    for (place, bay) in bays.iter().enumerate() {
        if !dice.chance(taste.wishes) {
            continue;
        }
        let kind = match dice.int(0, 4) {
            0 | 1 => {
                WishKind::Size { span: *bay, target: Length::from_nm(dice.int(0, width.nm()) / 100_000 * 100_000) }
            }
            2 | 3 => {
                let shares = [0.0, 1.0, 2.0, 0.5, 1.0 / 3.0];
                let (share_a, share_b) = (dice.pick(&shares), dice.pick(&shares));
                WishKind::Proportion { a: *bay, share_a, b: bays[(place + 1) % bays.len()], share_b }
            }
            _ => WishKind::Position { face: dice.pick(faces), position: Length::from_nm(dice.int(0, width.nm())) },
        };
        let weight = if dice.chance(0.05) { 0.0 } else { weight(dice) };
        problem.wish(kind, weight, place);
    }
}
