//! The whole way from a request to proposals: search, build, check, judge, choose.

use std::collections::{BTreeMap, BTreeSet};

use casewright_core::design::{Design, Opens};
use casewright_core::finding::Severity;
use casewright_core::pipeline::{Derived, derive};
use casewright_core::text::Segment;
use thiserror::Error;

use crate::criteria::{Criterion, Values, figures, judge};
use crate::division::Division;
use crate::lacking::{self, Lack};
use crate::order::{Order, ordered};
use crate::rank::{Candidate, Ranked, best, weights};
use crate::request::{Request, RequestError};
use crate::search::{Search, search};
use crate::words::Merits;
use crate::{realise, words};

/// Checks whose findings are no errors, and yet rule a proposal out where another does without them (core,
/// `checks::ergonomics`).
const BURDENS: [&str; 2] = ["ergo.lift", "ergo.drawer"];

/// How much searching is wanted. The answer depends on nothing else, unless the search is called off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Divisions kept for each set of units in the last of several rounds, where not all can be looked at.
    pub beam: usize,
    /// Divisions built and checked in the last round; of few units, which are built sooner, up to four times as many, so
    /// that what is built is all there is more often.
    pub tries: usize,
}

impl Effort {
    /// About two seconds for a dozen units.
    pub const NORMAL: Self = Self { beam: 12, tries: 120 };
    /// As long as nobody calls it off, up to some minutes.
    pub const THOROUGH: Self = Self { beam: 192, tries: 8_000 };
}

/// Someone who watches a search: is shown what was found so far, and may call it off.
pub trait Watch {
    /// Told how far the present round has come, 0 to 1.
    fn progress(&self, _share: f64) {}
    /// Shown the best so far whenever a round is done.
    fn found(&self, _proposals: &[Proposal]) {}
    /// Asked often; true ends the search with the best found so far.
    fn cancelled(&self) -> bool {
        false
    }
}

/// Nobody watches.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {}

/// A carcass that was solved, built, checked and judged.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// The whole design.
    pub design: Design,
    /// Everything derived from it.
    pub derived: Derived,
    /// How it is divided.
    pub division: Division,
    /// Its values, in the order of [`Criterion::ALL`].
    pub values: Values,
    /// How far it is from the best in everything, weighted: 0 to 1.
    pub score: f64,
    /// What it is best at, and what it gives up.
    pub merits: Merits,
    /// Findings that are errors: none, unless nothing without errors was found.
    pub errors: usize,
    /// Names of wished units that it has no room for.
    pub left_out: Vec<String>,
}

impl Proposal {
    /// Its values, without those that are nothing.
    pub fn figures(&self) -> impl Iterator<Item = (Criterion, f64)> {
        figures(&self.values)
    }

    /// What it is best at and what it gives up, in a line.
    #[must_use]
    pub fn line(&self) -> String {
        self.merits.line(&self.values, self.design.unit)
    }
}

/// What came of a search.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The proposals, best first.
    pub proposals: Vec<Proposal>,
    /// Whether every division was looked at.
    pub is_complete: bool,
    /// What is lacking, if not all that is required fits.
    pub lack: Option<Lack>,
}

/// Why there are no proposals at all.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ArrangeError {
    /// Nothing sensible was asked for.
    #[error(transparent)]
    Request(#[from] RequestError),
    /// One thing alone is too large.
    #[error("{0}")]
    TooLarge(String),
}

/// Proposals for a request, best first.
///
/// # Errors
/// See [`ArrangeError`]; where things do not fit together, [`Outcome::lack`] says what is lacking.
pub fn propose(request: &Request, effort: Effort, watch: &dyn Watch) -> Result<Outcome, ArrangeError> {
    for unit in &request.units {
        let fits = unit.curve.steps().iter().any(|&it| request.place.room.holds(it));
        if !fits && !unit.is_wished {
            return Err(ArrangeError::TooLarge(lacking::too_large(request, unit)));
        }
    }
    let mut outcome = Outcome { proposals: Vec::new(), is_complete: false, lack: None };
    let mut known: BTreeMap<Division, Option<Candidate>> = BTreeMap::new();
    let more = match request.units.len() {
        0..=7 => 4,
        8 | 9 => 2,
        _ => 1,
    };
    let rounds = rounds(Effort { tries: effort.tries * more, ..effort });
    for (number, round) in rounds.iter().enumerate() {
        let all = (1_usize << request.units.len()) - 1;
        let mut found = search(request, request.place.room, round.beam, Some(all), watch);
        if !found.fits(all) {
            found = search(request, request.place.room, round.beam, None, watch);
        }
        let Some(set) = fullest(request, &found) else {
            // What a narrow search did not find, a wider one may.
            if !found.is_complete && number + 1 < rounds.len() && !watch.cancelled() {
                continue;
            }
            if outcome.proposals.is_empty() && !watch.cancelled() {
                outcome.lack = Some(lacking::lack(request, &found, watch));
            }
            return Ok(outcome);
        };
        let tried = try_all(request, &found, set, round.tries, &mut known, watch);
        if !tried {
            improve(request, set, round.tries / 2, &mut known, watch);
        }
        let candidates = of_set(&known, set);
        outcome.proposals = proposals(request, &candidates, set);
        outcome.is_complete = found.is_complete && tried;
        watch.found(&outcome.proposals);
        if watch.cancelled() || outcome.is_complete {
            break;
        }
    }
    Ok(outcome)
}

/// Each round looks at four times as much as the one before, so that something is there early.
fn rounds(effort: Effort) -> Vec<Effort> {
    let mut rounds = vec![effort];
    while let Some(&Effort { beam, tries }) = rounds.last()
        && beam > 2
        && tries > 60
    {
        rounds.push(Effort { beam: (beam / 4).max(2), tries: (tries / 4).max(60) });
    }
    rounds.reverse();
    rounds
}

/// The set with the most wished units among those that hold all required ones and fit; of equals the first in number.
fn fullest(request: &Request, found: &Search) -> Option<usize> {
    let count = request.units.len();
    let required = bits(request.units.iter().map(|it| !it.is_wished));
    let all = (1_usize << count) - 1;
    let sets = (1..=all).rev().filter(|set| set & required == required && found.fits(*set));
    sets.max_by_key(|set| (set.count_ones(), std::cmp::Reverse(*set)))
}

/// Bits in the order of the flags.
pub(crate) fn bits(flags: impl Iterator<Item = bool>) -> usize {
    flags.enumerate().filter(|(_, flag)| *flag).fold(0, |all, (index, _)| all | 1 << index)
}

/// Builds and checks divisions of a set, one of each shape first; returns whether there were no more.
fn try_all(
    request: &Request,
    found: &Search,
    set: usize,
    tries: usize,
    known: &mut BTreeMap<Division, Option<Candidate>>,
    watch: &dyn Watch,
) -> bool {
    let divisions = by_shape(request, found.divisions(set));
    let mut seen = BTreeSet::new();
    let orders = divisions.iter().flat_map(|division| Order::ALL.map(|order| ordered(division, request, order)));
    let fresh: Vec<Division> = orders.filter(|it| seen.insert(it.clone()) && !known.contains_key(it)).collect();
    for (i, division) in fresh.iter().enumerate() {
        if i >= tries || watch.cancelled() {
            return false;
        }
        watch.progress(i as f64 / fresh.len().min(tries) as f64);
        known.insert(division.clone(), candidate(request, division));
    }
    true
}

/// What was built of exactly these units: an earlier round may have found room for fewer of the wished ones.
fn of_set(known: &BTreeMap<Division, Option<Candidate>>, set: usize) -> Vec<&Candidate> {
    let holds_set = |it: &&Candidate| it.division.units().into_iter().fold(0, |all, unit| all | 1 << unit) == set;
    known.values().flatten().filter(holds_set).collect()
}

/// Changes places in the best that were found as long as that gives new ones, at most `tries` in all.
fn improve(
    request: &Request,
    set: usize,
    mut tries: usize,
    known: &mut BTreeMap<Division, Option<Candidate>>,
    watch: &dyn Watch,
) {
    let weights = weights(&request.design.arrange);
    loop {
        let found = of_set(known, set);
        let best = best(&found, &weights);
        let mut seen = BTreeSet::new();
        let neighbours = best.iter().flat_map(|it| it.candidate.division.neighbours());
        let fresh: Vec<Division> = neighbours
            .filter(|it| !known.contains_key(it) && it.size_in(request, request.place.room).is_some())
            .filter(|it| seen.insert(it.clone()))
            .collect();
        if fresh.is_empty() {
            return;
        }
        for division in fresh {
            if tries == 0 || watch.cancelled() {
                return;
            }
            tries -= 1;
            let candidate = candidate(request, &division);
            known.insert(division, candidate);
        }
    }
}

/// Divisions in the order in which they are tried: the likeliest of each shape, then the second of each, and so on.
fn by_shape(request: &Request, divisions: Vec<Division>) -> Vec<Division> {
    let mut shapes: BTreeMap<String, Vec<(f64, Division)>> = BTreeMap::new();
    for (place, division) in divisions.into_iter().enumerate() {
        // Those that lose little area come first; deep ones and torn groups count against it.
        let cost = place as f64 * 0.05 + division.depth() as f64 * 2.0 + splits(request, &division) as f64 * 3.0;
        shapes.entry(division.shape()).or_default().push((cost, division));
    }
    let mut lists: Vec<Vec<(f64, Division)>> = shapes.into_values().collect();
    for list in &mut lists {
        list.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
    }
    let mut all: Vec<(usize, f64, Division)> = lists
        .into_iter()
        .flat_map(|list| list.into_iter().enumerate().map(|(rank, (cost, division))| (rank, cost, division)))
        .collect();
    all.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then_with(|| a.2.cmp(&b.2)));
    all.into_iter().map(|it| it.2).collect()
}

/// How many groups are torn: their units are not exactly those of some part of the division.
fn splits(request: &Request, division: &Division) -> usize {
    let torn = |group: &&Vec<usize>| group.len() > 1 && !joined(division, group);
    request.together.iter().filter(torn).count()
}

/// Whether units lie next to each other: directly in one row or stack with nothing between, or filling a part of one.
fn joined(division: &Division, group: &[usize]) -> bool {
    let children = division.children();
    let has = |it: &Division| it.units().iter().any(|unit| group.contains(unit));
    let only = |it: &Division| it.units().iter().all(|unit| group.contains(unit));
    let touched: Vec<(usize, &Division)> = children.iter().enumerate().filter(|(_, it)| has(it)).collect();
    match touched.as_slice() {
        [] => true,
        [(_, one)] => joined(one, group),
        [(first, _), .., (last, _)] => last - first + 1 == touched.len() && touched.iter().all(|(_, it)| only(it)),
    }
}

/// The division as a design that went the whole way through; none if it cannot be solved.
pub(crate) fn candidate(request: &Request, division: &Division) -> Option<Candidate> {
    let (design, choices) = realise::design(request, division)?;
    let derived = derive(&design).ok()?;
    let (design, derived) = without_misplaced(design, derived);
    let (design, derived) = other_hands(request, &choices, design, derived);
    let burdens = derived.findings.iter().filter(|it| BURDENS.contains(&it.check)).count();
    let (errors, values) = (errors(&derived), judge(&derived));
    Some(Candidate { division: division.clone(), choices, design, derived, values, errors, burdens })
}

/// Openings that were placed for other sizes, or for a panel that is no more, are left out; what they were for is told by the
/// checks again.
fn without_misplaced(design: Design, derived: Derived) -> (Design, Derived) {
    let misplaced: BTreeSet<usize> = derived
        .findings
        .iter()
        .filter(|it| it.check == "air.opening")
        .filter_map(|it| match it.field.as_ref()?.segments().last()? {
            Segment::Index(index) => Some(*index),
            Segment::Field(_) | Segment::Key(_) => None,
        })
        .collect();
    if misplaced.is_empty() {
        return (design, derived);
    }
    let mut kept = design.clone();
    let openings = std::mem::take(&mut kept.carcass.openings).into_iter().enumerate();
    kept.carcass.openings = openings.filter(|it| !misplaced.contains(&it.0)).map(|it| it.1).collect();
    match derive(&kept) {
        Ok(found) => (kept, found),
        Err(_) => (design, derived),
    }
}

fn errors(derived: &Derived) -> usize {
    derived.findings.iter().filter(|it| it.severity == Severity::Error).count()
}

/// Doors that were chosen here are hung on the other side where that leaves fewer errors: one that meets the wall or the
/// heater on one side may pass it on the other.
fn other_hands(
    request: &Request,
    choices: &[(usize, usize)],
    mut design: Design,
    mut derived: Derived,
) -> (Design, Derived) {
    let chosen = |&(unit, choice): &(usize, usize)| {
        let bay = &request.units.get(unit)?.choices.get(choice)?.bay;
        let is_of_design = request.design.carcass.bay.named(&bay.name).is_some_and(|it| it.inside == bay.inside);
        let is_door = bay.front.as_ref().is_some_and(|it| it.opens == Opens::HingedLeft);
        (is_door && !is_of_design).then_some(&bay.name)
    };
    for name in choices.iter().filter_map(chosen) {
        if errors(&derived) == 0 {
            break;
        }
        let mut other = design.clone();
        let Some(front) = other.carcass.bay.named_mut(name).and_then(|it| it.front.as_mut()) else { continue };
        front.opens = Opens::HingedRight;
        if let Ok(found) = derive(&other)
            && errors(&found) < errors(&derived)
        {
            (design, derived) = (other, found);
        }
    }
    (design, derived)
}

fn proposals(request: &Request, candidates: &[&Candidate], set: usize) -> Vec<Proposal> {
    let out = |index: &usize| set >> index & 1 == 0;
    let left_out: Vec<String> =
        (0..request.units.len()).filter(out).filter_map(|it| Some(request.units.get(it)?.name.clone())).collect();
    // Groups that are torn come only where no other way was found.
    let fewest = candidates.iter().map(|it| splits(request, &it.division)).min().unwrap_or_default();
    let whole: Vec<&Candidate> =
        candidates.iter().copied().filter(|it| splits(request, &it.division) == fewest).collect();
    let shown = best(&whole, &weights(&request.design.arrange));
    let merits = words::merits(&shown);
    let make = |(one, merits): (Ranked<'_>, Merits)| Proposal {
        design: one.candidate.design.clone(),
        derived: one.candidate.derived.clone(),
        division: one.candidate.division.clone(),
        values: one.candidate.values,
        score: one.score,
        merits,
        errors: one.candidate.errors,
        left_out: left_out.clone(),
    };
    shown.into_iter().zip(merits).map(make).collect()
}
