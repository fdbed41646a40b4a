//! The question about bars in reduced form: one material, kerf grown in, equal lengths together.

use std::collections::BTreeMap;

use crate::goal::{Goal, Objective, Saw};
use crate::piece::BarPiece;
use crate::size::gcd;
use crate::stock::{Bar, Quantity};

/// Equal lengths.
#[derive(Debug, Clone)]
pub(crate) struct Length {
    /// Length with a kerf grown in, in reduced units.
    pub(crate) length: i64,
    /// How many are wanted.
    pub(crate) demand: u32,
    /// Piece indices, one entry a copy.
    pub(crate) pieces: Vec<usize>,
}

/// One kind of bar.
#[derive(Debug, Clone)]
pub(crate) struct Kind {
    /// Index in the question's stock.
    pub(crate) bar: usize,
    /// Usable length with a kerf grown in, in reduced units.
    pub(crate) length: i64,
    /// How many there are; `u32::MAX` when unlimited.
    pub(crate) limit: u32,
    /// What one costs under the objective.
    pub(crate) cost: i64,
}

/// The reduced question: lengths falling.
#[derive(Debug, Clone)]
pub(crate) struct Problem {
    pub(crate) lengths: Vec<Length>,
    pub(crate) kinds: Vec<Kind>,
}

/// How one bar is cut: kind, and (index into lengths, copies) with copies above 0.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Pattern {
    pub(crate) kind: usize,
    pub(crate) counts: Vec<(usize, u32)>,
}

impl Pattern {
    /// Whether demands and stock leave room for one more of it.
    pub(crate) fn fits(&self, demands: &[u32], limits: &[u32]) -> bool {
        self.counts.iter().all(|&(i, n)| demands.get(i).is_some_and(|&d| d >= n))
            && limits.get(self.kind).is_some_and(|&l| l > 0)
    }
}

impl Problem {
    pub(crate) fn new(
        stock: &[Bar],
        material: &str,
        pieces: &[BarPiece],
        chosen: &[usize],
        saw: &Saw,
        goal: &Goal,
    ) -> Self {
        let mut by_length: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
        let mut unit = 0;
        for &index in chosen {
            let Some(piece) = pieces.get(index) else { continue };
            unit = gcd(unit, piece.length + saw.kerf);
            let list = by_length.entry(piece.length + saw.kerf).or_default();
            list.extend(std::iter::repeat_n(index, piece.quantity as usize));
        }
        let unit = unit.max(1);
        let lengths = by_length
            .into_iter()
            .rev()
            .map(|(length, pieces)| Length { length: length / unit, demand: pieces.len() as u32, pieces })
            .collect();
        let kinds = stock
            .iter()
            .enumerate()
            .filter(|(_, b)| b.material == material && b.quantity != Quantity::Limited(0))
            .map(|(bar, b)| {
                let trim = if b.raw_ends { 2 * saw.trim } else { 0 };
                let cost = match goal.least {
                    Objective::FewestBoards => 1,
                    Objective::LeastArea => b.length,
                    Objective::LeastMoney => b.cost,
                };
                let length = (b.length - trim + saw.kerf).max(0) / unit;
                Kind { bar, length, limit: b.quantity.at_most(u32::MAX), cost }
            })
            .collect();
        Self { lengths, kinds }
    }

    pub(crate) fn demands(&self) -> Vec<u32> {
        self.lengths.iter().map(|l| l.demand).collect()
    }

    /// What these bars cost under the objective; the largest number where that is more.
    pub(crate) fn cost(&self, patterns: &[Pattern]) -> i64 {
        patterns.iter().filter_map(|p| self.kinds.get(p.kind)).fold(0, |sum, k| sum.saturating_add(k.cost))
    }
}
