//! The play of classes while they are placed one after another: bounds that spread along rows and ties.
//!
//! All sums saturate: a class without bounds may be pushed far out before anybody notices that nothing fits.

use std::collections::VecDeque;

use super::exact::{Edge, Graph, Tie};

/// The play of each root: lowest and highest position.
pub(crate) struct Play {
    pub(crate) lowest: Vec<Option<i64>>,
    pub(crate) highest: Vec<Option<i64>>,
}

/// Classes whose play has changed, each once, first come first served.
pub(crate) struct Queue {
    waiting: VecDeque<usize>,
    inside: Vec<bool>,
}

impl Queue {
    pub(crate) fn new(classes: usize, first: std::ops::Range<usize>) -> Self {
        let inside = (0..classes).map(|class| first.contains(&class)).collect();
        Self { waiting: first.collect(), inside }
    }

    pub(crate) fn push(&mut self, class: usize) {
        if !std::mem::replace(&mut self.inside[class], true) {
            self.waiting.push_back(class);
        }
    }

    pub(crate) fn pop(&mut self) -> Option<usize> {
        let class = self.waiting.pop_front()?;
        self.inside[class] = false;
        Some(class)
    }
}

/// Which rows and ties each class is in.
pub(crate) struct Web<'a> {
    rows: &'a [Edge],
    ties: &'a [Tie],
    forwards: Graph<'a>,
    backwards: Graph<'a>,
    in_ties: Vec<Vec<usize>>,
}

impl<'a> Web<'a> {
    pub(crate) fn new(nodes: usize, rows: &'a [Edge], ties: &'a [Tie]) -> Self {
        let mut in_ties = vec![Vec::new(); nodes];
        for (index, tie) in ties.iter().enumerate() {
            for (class, _) in &tie.terms {
                in_ties[*class].push(index);
            }
        }
        let (forwards, backwards) = (Graph::new(nodes, rows, false), Graph::new(nodes, rows, true));
        Self { rows, ties, forwards, backwards, in_ties }
    }

    /// The classes that share a row or a tie with a class.
    pub(crate) fn neighbours(&self, class: usize, mut meet: impl FnMut(usize)) {
        self.forwards.leaving(class).iter().for_each(|edge| meet(self.rows[*edge].to));
        self.backwards.leaving(class).iter().for_each(|edge| meet(self.rows[*edge].from));
        for tie in &self.in_ties[class] {
            self.ties[*tie].terms.iter().for_each(|(other, _)| meet(*other));
        }
    }

    /// Narrows the play of all that depends on the dirty classes; none if some play becomes empty.
    pub(crate) fn spread(&self, play: &mut Play, dirty: &mut Queue, slack: i64) -> Option<()> {
        let mut budget = 200 * (self.rows.len() + self.ties.len() + 10);
        while let Some(class) = dirty.pop() {
            budget = budget.checked_sub(1)?;
            if let Some(highest) = play.highest[class] {
                for &edge in self.forwards.leaving(class) {
                    let row = self.rows[edge];
                    narrow(play, row.to, None, Some(highest.saturating_add(row.most)), dirty)?;
                }
            }
            if let Some(lowest) = play.lowest[class] {
                for &edge in self.backwards.leaving(class) {
                    let row = self.rows[edge];
                    narrow(play, row.from, Some(lowest.saturating_sub(row.most)), None, dirty)?;
                }
            }
            for &index in &self.in_ties[class] {
                let tie = &self.ties[index];
                for (place, (target, factor)) in tie.terms.iter().enumerate() {
                    let others = || tie.terms.iter().enumerate().filter(|(other, _)| *other != place);
                    let least = others().try_fold(tie.constant, |sum, (_, term)| {
                        Some(sum.saturating_add(extreme(play, *term, false)?))
                    });
                    let most = others()
                        .try_fold(tie.constant, |sum, (_, term)| Some(sum.saturating_add(extreme(play, *term, true)?)));
                    // -slack - most <= factor x root <= slack - least
                    let upper = least.map(|least| slack.saturating_sub(least));
                    let lower = most.map(|most| (-slack).saturating_sub(most));
                    let (lower, upper) = if *factor > 0 {
                        (lower, upper)
                    } else {
                        (upper.map(i64::saturating_neg), lower.map(i64::saturating_neg))
                    };
                    let size = factor.abs();
                    let lower = lower.map(|lower| -lower.saturating_neg().div_euclid(size));
                    narrow(play, *target, lower, upper.map(|upper| upper.div_euclid(size)), dirty)?;
                }
            }
        }
        Some(())
    }
}

fn extreme(play: &Play, (class, factor): (usize, i64), largest: bool) -> Option<i64> {
    let end = if (factor > 0) == largest { play.highest[class] } else { play.lowest[class] };
    end.map(|end| factor.saturating_mul(end))
}

fn narrow(play: &mut Play, class: usize, lowest: Option<i64>, highest: Option<i64>, dirty: &mut Queue) -> Option<()> {
    let mut changed = false;
    if let Some(lowest) = lowest
        && play.lowest[class].is_none_or(|known| lowest > known)
    {
        play.lowest[class] = Some(lowest);
        changed = true;
    }
    if let Some(highest) = highest
        && play.highest[class].is_none_or(|known| highest < known)
    {
        play.highest[class] = Some(highest);
        changed = true;
    }
    if let (Some(lowest), Some(highest)) = (play.lowest[class], play.highest[class])
        && lowest > highest
    {
        return None;
    }
    if changed {
        dirty.push(class);
    }
    Some(())
}
