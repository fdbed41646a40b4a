//! Which proposals are shown: none that another beats in everything, few of one kind, each best at something.

use std::collections::BTreeSet;

use casewright_core::design::{Arrange, Design};
use casewright_core::pipeline::Derived;

use crate::criteria::{Criterion, Values};
use crate::division::Division;

/// How many proposals are shown at the most.
pub(crate) const SHOWN: usize = 8;
/// What is best in one thing only is shown if its score is no more than this above the best.
const ODD: f64 = 0.3;
/// Differences below this share of the range do not count.
const SAME: f64 = 1e-9;

/// A division that was built and judged.
#[derive(Debug)]
pub(crate) struct Candidate {
    pub(crate) division: Division,
    /// The choice that each unit took.
    pub(crate) choices: Vec<(usize, usize)>,
    pub(crate) design: Design,
    pub(crate) derived: Derived,
    pub(crate) values: Values,
    /// Findings that are errors.
    pub(crate) errors: usize,
    /// Things that are lifted above the shoulder, and drawers that one cannot look into.
    pub(crate) burdens: usize,
}

impl Candidate {
    /// What it has in common with others of its kind: who stands how, but not where.
    fn kind(&self) -> String {
        let mut choices = self.choices.clone();
        choices.sort_unstable();
        format!("{} {choices:?}", self.division.shape())
    }
}

/// A candidate that is shown, with how far each value is from the best: 0 the best of all candidates, 1 the worst.
#[derive(Clone, Debug)]
pub(crate) struct Ranked<'c> {
    pub(crate) candidate: &'c Candidate,
    /// Weighted mean of the distances, 0 to 1.
    pub(crate) score: f64,
    pub(crate) distances: Values,
}

/// The weight of each criterion in a design.
pub(crate) fn weights(arrange: &Arrange) -> Values {
    Criterion::ALL.map(|it| arrange.weights.get(it.key()).copied().unwrap_or(it.usual_weight()))
}

/// The best candidates, best first: those with the fewest errors, and of them with the fewest burdens, not dominated, of
/// each kind the best; then the best of all, the best in each criterion, and more by score.
pub(crate) fn best<'c>(candidates: &[&'c Candidate], weights: &Values) -> Vec<Ranked<'c>> {
    let against = |it: &Candidate| (it.errors, it.burdens);
    let fewest = candidates.iter().map(|it| against(it)).min().unwrap_or_default();
    let sound: Vec<&Candidate> = candidates.iter().copied().filter(|it| against(it) == fewest).collect();
    let ranges = ranges(&sound);
    let mut ranked: Vec<Ranked<'_>> = sound.into_iter().map(|it| rank(it, &ranges, weights)).collect();
    ranked.sort_by(|a, b| a.score.total_cmp(&b.score));
    let beaten = |one: &Ranked<'_>| ranked.iter().any(|it| dominates(&it.distances, &one.distances, weights));
    let mut kinds: BTreeSet<String> = BTreeSet::new();
    let kept = ranked.iter().filter(|it| !beaten(it) && kinds.insert(it.candidate.kind())).cloned().collect();
    shown(kept, weights)
}

/// The lowest and highest value of each criterion.
fn ranges(candidates: &[&Candidate]) -> [(f64, f64); 11] {
    std::array::from_fn(|i| {
        let values = candidates.iter().filter_map(|it| it.values.get(i));
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| (low.min(*it), high.max(*it)))
    })
}

fn rank<'c>(candidate: &'c Candidate, ranges: &[(f64, f64); 11], weights: &Values) -> Ranked<'c> {
    let distances: Values = std::array::from_fn(|i| {
        let (Some((low, high)), Some(value)) = (ranges.get(i), candidate.values.get(i)) else { return 0.0 };
        if high - low > SAME * high.abs().max(1.0) { (value - low) / (high - low) } else { 0.0 }
    });
    let total: f64 = weights.iter().sum();
    let sum: f64 = distances.iter().zip(weights).map(|(distance, weight)| distance * weight).sum();
    Ranked { candidate, score: if total > 0.0 { sum / total } else { 0.0 }, distances }
}

/// Whether one is nowhere worse than another, and better somewhere, in what counts at all.
fn dominates(one: &Values, other: &Values, weights: &Values) -> bool {
    let counted = || one.iter().zip(other).zip(weights).filter(|(_, weight)| **weight > 0.0).map(|(pair, _)| pair);
    counted().all(|(a, b)| *a <= b + SAME) && counted().any(|(a, b)| *a < b - SAME)
}

/// The few that are shown.
fn shown<'c>(mut kept: Vec<Ranked<'c>>, weights: &Values) -> Vec<Ranked<'c>> {
    let best = kept.first().map(|it| it.score).unwrap_or_default();
    kept.retain(|it| it.score <= best + ODD);
    let mut chosen: Vec<usize> = Vec::new();
    let mut choose = |index: Option<usize>| {
        if let Some(index) = index
            && !chosen.contains(&index)
            && chosen.len() < SHOWN
        {
            chosen.push(index);
        }
    };
    choose((!kept.is_empty()).then_some(0));
    for (i, _) in Criterion::ALL.iter().enumerate().filter(|(i, _)| weights.get(*i).is_some_and(|it| *it > 0.0)) {
        let distance = |it: &Ranked<'_>| it.distances.get(i).copied().unwrap_or(1.0);
        let spread = kept.iter().any(|it| distance(it) > 0.0);
        // The first of equals has the better score.
        let best = (0..kept.len()).min_by(|&a, &b| {
            let of = |index: usize| kept.get(index).map_or(1.0, distance);
            of(a).total_cmp(&of(b))
        });
        choose(best.filter(|_| spread));
    }
    (0..kept.len()).for_each(|index| choose(Some(index)));
    chosen.sort_unstable();
    kept.into_iter().enumerate().filter(|(index, _)| chosen.contains(index)).map(|(_, it)| it).collect()
}
