//! What each proposal is best at and what it gives up: as data, and in a line.

use casewright_core::unit::Unit;

use crate::criteria::{Criterion, Values};
use crate::rank::Ranked;

/// How many things a proposal is said to be best at.
const MOST_NAMED: usize = 3;
/// From this share of the range on, a proposal gives something up.
const GIVEN_UP: f64 = 0.2;
/// Distances that differ by less are the same.
const SAME: f64 = 1e-9;

/// What sets a proposal apart from those that it is shown with.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Merits {
    /// What it is best at, what few others reach first; empty for a middle way.
    pub best: Vec<Criterion>,
    /// What it gives up most, and the value that another has there.
    pub gives_up: Option<(Criterion, f64)>,
    /// Whether it is shown alone: nothing else is better in anything.
    pub is_alone: bool,
}

/// How far the search went, in words.
#[must_use]
pub const fn search_words(is_complete: bool) -> &'static str {
    if is_complete { "every division was looked at" } else { "the best of the divisions that were looked at" }
}

/// What is said of a proposal with errors, of which there are some only where nothing without was found.
#[must_use]
pub fn error_words(errors: usize) -> Option<String> {
    match errors {
        0 => None,
        1 => Some("1 finding is an error: nothing better was found".to_owned()),
        _ => Some(format!("{errors} findings are errors: nothing better was found")),
    }
}

impl Merits {
    /// A line, for a proposal with these values.
    #[must_use]
    pub fn line(&self, values: &Values, unit: Unit) -> String {
        if self.is_alone {
            return "no other division that fits is better in any respect".to_owned();
        }
        let say = |it: &Criterion| it.say(it.of(values), unit);
        let named: Vec<String> = self.best.iter().map(|it| format!("{} ({})", it.words(), say(it))).collect();
        let first = if named.is_empty() { "a middle way".to_owned() } else { named.join(", ") };
        match &self.gives_up {
            None => first,
            Some((it, best)) => format!("{first}; but {}, where another has {}", say(it), it.say(*best, unit)),
        }
    }
}

/// The merits of each of the proposals that are shown together.
pub(crate) fn merits(shown: &[Ranked<'_>]) -> Vec<Merits> {
    shown.iter().map(|it| of(it, shown)).collect()
}

fn of(one: &Ranked<'_>, shown: &[Ranked<'_>]) -> Merits {
    if shown.len() == 1 {
        return Merits { is_alone: true, ..Merits::default() };
    }
    let mut best: Vec<(usize, Criterion)> = Vec::new();
    let mut lost: Option<(f64, Criterion)> = None;
    for criterion in Criterion::ALL {
        let distance = |it: &Ranked<'_>| criterion.of(&it.distances);
        let least = shown.iter().map(distance).fold(f64::INFINITY, f64::min);
        let own = distance(one) - least;
        let worse = shown.iter().filter(|it| distance(it) > least + SAME).count();
        if own <= SAME && worse > 0 {
            // What few others reach is worth more.
            best.push((shown.len() - worse, criterion));
        } else if own > GIVEN_UP && lost.is_none_or(|(by, _)| own > by) {
            lost = Some((own, criterion));
        }
    }
    best.sort_unstable();
    let value = |criterion: Criterion| shown.iter().map(move |it| criterion.of(&it.candidate.values));
    Merits {
        best: best.into_iter().take(MOST_NAMED).map(|(_, it)| it).collect(),
        gives_up: lost.map(|(_, it)| (it, value(it).fold(f64::INFINITY, f64::min))),
        is_alone: false,
    }
}
