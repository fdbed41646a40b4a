//! How long to search: by counted work (the same answer on every machine) or by the clock; progress and cancel.

use std::cell::Cell;
use std::time::{Duration, Instant};

/// How much searching is wanted. With `work` only, the answer depends on nothing but the question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Units of work; one is about 10 ns of a desktop computer of 2024.
    pub work: u64,
    /// Stops at this age as well; the answer then depends on the machine.
    pub time: Option<Duration>,
}

impl Effort {
    /// Deterministic effort of so many units of work.
    #[must_use]
    pub const fn work(units: u64) -> Self {
        Self { work: units, time: None }
    }

    /// Searches until the time is over: the best found so far is the answer.
    #[must_use]
    pub fn seconds(seconds: f64) -> Self {
        Self { work: u64::MAX, time: Some(Duration::try_from_secs_f64(seconds.max(0.0)).unwrap_or(Duration::MAX)) }
    }

    /// One of so many equal parts of it.
    pub(crate) fn part_of(self, parts: usize) -> Self {
        let parts = u32::try_from(parts).unwrap_or(u32::MAX).max(1);
        let work = if self.work == u64::MAX { u64::MAX } else { self.work / u64::from(parts) };
        Self { work, time: self.time.map(|time| time / parts) }
    }

    /// For every keystroke: some tens of milliseconds.
    pub const QUICK: Self = Self::work(5_000_000);
    /// For a plan to look at: about a second.
    pub const NORMAL: Self = Self::work(100_000_000);
    /// For a plan to cut: about twenty seconds at most.
    pub const THOROUGH: Self = Self::work(2_000_000_000);
}

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Share of the effort that is spent, 0 to 1.
    pub share: f64,
    /// Value of the best plan so far in the objective's unit, when there is one.
    pub best: Option<i128>,
    /// Proven bound that no plan can go below.
    pub bound: i128,
}

/// Someone who watches a search: is told of progress, and may call it off.
pub trait Watch {
    /// Told now and then, at irregular moments.
    fn progress(&self, _progress: &Progress) {}
    /// Asked often; true ends the search with the best found so far.
    fn cancelled(&self) -> bool {
        false
    }
}

/// Nobody watches.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unwatched;

impl Watch for Unwatched {}

/// Effort being spent. Cheap to ask; looks at the clock and the watch only now and then.
pub(crate) struct Budget<'a> {
    watch: &'a dyn Watch,
    limit: u64,
    spent: Cell<u64>,
    next_look: Cell<u64>,
    deadline: Option<(Instant, Instant)>,
    over: Cell<bool>,
    best: Cell<Option<i128>>,
    bound: Cell<i128>,
}

/// Work between two looks at the clock.
const LOOK: u64 = 50_000;

impl<'a> Budget<'a> {
    pub(crate) fn new(effort: &Effort, watch: &'a dyn Watch) -> Self {
        let deadline = effort.time.and_then(|time| {
            let now = Instant::now();
            now.checked_add(time).map(|end| (now, end))
        });
        Self {
            watch,
            limit: effort.work,
            spent: Cell::new(0),
            next_look: Cell::new(0),
            deadline,
            over: Cell::new(false),
            best: Cell::new(None),
            bound: Cell::new(0),
        }
    }

    /// Counts work; false when the search must end.
    pub(crate) fn spend(&self, units: u64) -> bool {
        let spent = self.spent.get().saturating_add(units);
        self.spent.set(spent);
        if self.over.get() {
            return false;
        }
        if spent >= self.limit {
            self.over.set(true);
            return false;
        }
        if spent >= self.next_look.get() {
            self.next_look.set(spent + LOOK);
            if self.watch.cancelled() || self.deadline.is_some_and(|(_, end)| Instant::now() >= end) {
                self.over.set(true);
                return false;
            }
            self.watch.progress(&Progress { share: self.share(), best: self.best.get(), bound: self.bound.get() });
        }
        true
    }

    /// Whether the search must end.
    pub(crate) fn over(&self) -> bool {
        self.over.get()
    }

    /// Share of the effort that is spent, 0 to 1.
    pub(crate) fn share(&self) -> f64 {
        let by_time = self.deadline.map_or(0.0, |(from, end)| {
            let whole = end.duration_since(from).as_secs_f64();
            if whole > 0.0 { (from.elapsed().as_secs_f64() / whole).min(1.0) } else { 1.0 }
        });
        let by_work = if self.limit == u64::MAX { 0.0 } else { self.spent.get() as f64 / self.limit as f64 };
        by_work.max(by_time).min(1.0)
    }

    /// Work spent so far.
    pub(crate) fn spent(&self) -> u64 {
        self.spent.get()
    }

    /// Notes values for progress reports.
    pub(crate) fn note(&self, best: Option<i128>, bound: i128) {
        self.best.set(best);
        self.bound.set(bound);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_ends_the_search() {
        let budget = Budget::new(&Effort::work(10), &Unwatched);
        assert!(budget.spend(9));
        assert!(!budget.spend(1));
        assert!(budget.over());
    }

    #[test]
    fn cancel_ends_the_search() {
        struct No;
        impl Watch for No {
            fn cancelled(&self) -> bool {
                true
            }
        }
        assert!(!Budget::new(&Effort::NORMAL, &No).spend(1));
    }
}
