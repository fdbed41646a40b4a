//! What each proposal is best at and what it gives up, in a line.

use casewright_core::unit::Unit;

use crate::criteria::Criterion;
use crate::rank::Ranked;

/// How many things a proposal is said to be best at.
const MOST_NAMED: usize = 3;
/// From this share of the range on, a proposal gives something up.
const GIVEN_UP: f64 = 0.2;

/// A line for each of the proposals that are shown together.
pub(crate) fn lines(shown: &[Ranked], unit: Unit) -> Vec<String> {
    if shown.len() == 1 {
        return vec!["nothing else that fits is better in anything".to_owned()];
    }
    shown.iter().map(|it| line(it, shown, unit)).collect()
}

fn line(one: &Ranked, shown: &[Ranked], unit: Unit) -> String {
    let distance = |it: &Ranked, i: usize| it.distances.get(i).copied().unwrap_or_default();
    let value = |i: usize| one.candidate.values.get(i).copied().unwrap_or_default();
    let mut best: Vec<(usize, usize)> = Vec::new();
    let mut lost: Option<(f64, usize)> = None;
    for (i, _) in Criterion::ALL.iter().enumerate() {
        let least = shown.iter().map(|it| distance(it, i)).fold(f64::INFINITY, f64::min);
        let own = distance(one, i);
        let worse = shown.iter().filter(|it| distance(it, i) > least + 1e-9).count();
        if own <= least + 1e-9 && worse > 0 {
            // What few others reach is worth more.
            best.push((shown.len() - worse, i));
        } else if own - least > GIVEN_UP && lost.is_none_or(|(by, _)| own - least > by) {
            lost = Some((own - least, i));
        }
    }
    best.sort_unstable();
    let said = |i: usize| {
        Criterion::ALL.get(i).map(|it| format!("{} ({})", it.words(), it.say(value(i), unit))).unwrap_or_default()
    };
    let named: Vec<String> = best.iter().take(MOST_NAMED).map(|&(_, i)| said(i)).collect();
    let first = if named.is_empty() { "a middle way".to_owned() } else { named.join(", ") };
    match lost.and_then(|(_, i)| Some((i, Criterion::ALL.get(i)?))) {
        None => first,
        Some((i, it)) => {
            let least = shown.iter().map(|it| it.candidate.values.get(i).copied().unwrap_or_default());
            let best = least.fold(f64::INFINITY, f64::min);
            format!("{first}; but {}, where another has {}", it.say(value(i), unit), it.say(best, unit))
        }
    }
}
