//! The search for a cutting plan, in the background: it tells how far it has come, and can be called off.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use casewright_core::stock::CuttingPlan;
use casewright_cutting::{Effort, Progress, Watch};
use casewright_stock::{PlanOptions, plan_watched};

use crate::pipeline::Derived;

/// What came of a search.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// A plan, with what it was made from.
    Planned(Arc<Planned>),
    /// It was called off.
    Stopped,
    /// No plan can be made: why.
    Failed(String),
}

/// A cutting plan with what it was made from.
#[derive(Debug)]
pub struct Planned {
    /// What the parts and boards are of.
    pub from: Arc<Derived>,
    /// The plan.
    pub plan: CuttingPlan,
}

#[derive(Debug, Default)]
struct Shared {
    /// How far the present lot has come, in thousandths.
    share: AtomicU32,
    stop: AtomicBool,
}

struct Watcher<'w> {
    shared: &'w Shared,
    wake: &'w dyn Fn(),
}

impl Watch for Watcher<'_> {
    fn progress(&self, progress: &Progress) {
        let before = self.shared.share.swap((progress.share * 1e3) as u32, Ordering::Relaxed);
        // Not at every step: a frame for each percent is plenty.
        if before / 10 != (progress.share * 1e2) as u32 {
            (self.wake)();
        }
    }

    fn cancelled(&self) -> bool {
        self.shared.stop.load(Ordering::Relaxed)
    }
}

/// A search that goes on.
#[derive(Debug)]
pub struct Cutting {
    shared: Arc<Shared>,
    outcome: Receiver<Outcome>,
}

impl Cutting {
    /// Begins to plan the cutting of what was derived; `wake` is called whenever there is news.
    #[must_use]
    pub fn begin(from: Arc<Derived>, effort: Effort, wake: impl Fn() + Send + 'static) -> Self {
        let (sender, outcome) = channel();
        let shared = Arc::new(Shared::default());
        let theirs = shared.clone();
        let work = move || {
            let watcher = Watcher { shared: &theirs, wake: &wake };
            let _unheard = sender.send(found(&from, effort, &watcher));
            wake();
        };
        // Without a thread the sender is dropped, which is told when it is fetched.
        let _no_thread = thread::Builder::new().name("cut".to_owned()).spawn(work);
        Self { shared, outcome }
    }

    /// How far the present lot has come, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f32 {
        self.shared.share.load(Ordering::Relaxed) as f32 / 1e3
    }

    /// Calls it off.
    pub fn stop(&self) {
        self.shared.stop.store(true, Ordering::Relaxed);
    }

    /// What came of it, once it is over.
    #[must_use]
    pub fn fetch(&self) -> Option<Outcome> {
        match self.outcome.try_recv() {
            Ok(outcome) => Some(outcome),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Outcome::Stopped),
        }
    }
}

impl Drop for Cutting {
    fn drop(&mut self) {
        self.stop();
    }
}

fn found(from: &Arc<Derived>, effort: Effort, watcher: &Watcher<'_>) -> Outcome {
    let (Some(design), Some(assembly)) = (&from.resolved, &from.assembly) else { return Outcome::Stopped };
    let options = PlanOptions { effort, ..PlanOptions::default() };
    match plan_watched(design, assembly, &options, watcher) {
        // What a search that was called off has found is no answer to show.
        Ok(_) if watcher.cancelled() => Outcome::Stopped,
        Ok(plan) => Outcome::Planned(Arc::new(Planned { from: from.clone(), plan })),
        Err(error) => Outcome::Failed(error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;
    use casewright_drawing::Language;

    use crate::pipeline::{Request, run};

    fn outcome(cutting: &Cutting) -> Outcome {
        loop {
            if let Some(outcome) = cutting.fetch() {
                return outcome;
            }
            thread::sleep(Duration::from_millis(1));
        }
    }

    #[test]
    fn it_plans_and_can_be_called_off() {
        let design = Arc::new(crate::sample::design());
        let request =
            Request { serial: 1, revision: 1, design, focus: None, sheets: None, language: Language::default() };
        let from = Arc::new(run(&request));
        let Outcome::Planned(planned) = outcome(&Cutting::begin(from.clone(), Effort::QUICK, || {})) else {
            panic!("a plan was expected");
        };
        let placed: usize = planned.plan.boards().map(|it| it.1.parts.len()).sum();
        let parts = from.assembly.as_ref().map_or(0, |it| it.parts.len());
        assert!(parts > 0);
        assert_eq!(placed + planned.plan.missing().len(), parts);

        let long = Cutting::begin(from, Effort::seconds(600.0), || {});
        long.stop();
        assert!(matches!(outcome(&long), Outcome::Stopped));
    }
}
