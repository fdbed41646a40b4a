//! The search for a cutting plan, in the background: it tells how far it has come, and can be called off.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use casewright_core::design::Design;
use casewright_core::stock::CuttingPlan;
use casewright_cutting::{Effort, Progress, Watch};
use casewright_stock::{PlanOptions, plan_watched};

use crate::pipeline::Derived;
use crate::reins::{Held, Reins};

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

impl Planned {
    /// Whether it is the plan of this design, however the design came to be what it is.
    #[must_use]
    pub fn is_of(&self, design: &Arc<Design>) -> bool {
        same(&self.from.design, design)
    }
}

/// Whether two designs are the same. After an undo it is the very same one, which is told at once.
fn same(one: &Arc<Design>, other: &Arc<Design>) -> bool {
    Arc::ptr_eq(one, other) || one == other
}

struct Watcher<'w> {
    held: &'w Held,
    wake: &'w dyn Fn(),
}

impl Watch for Watcher<'_> {
    fn progress(&self, progress: &Progress) {
        self.held.progress(progress.share, self.wake);
    }

    fn cancelled(&self) -> bool {
        self.held.is_stopped()
    }
}

/// A search that goes on.
#[derive(Debug)]
pub struct Cutting {
    of: Arc<Design>,
    reins: Reins,
    outcome: Receiver<Outcome>,
}

impl Cutting {
    /// Begins to plan the cutting of what was derived; `wake` is called whenever there is news.
    #[must_use]
    pub fn begin(from: Arc<Derived>, effort: Effort, wake: impl Fn() + Send + 'static) -> Self {
        let (sender, outcome) = channel();
        let of = from.design.clone();
        let work = move |held: Held| {
            let watcher = Watcher { held: &held, wake: &wake };
            let _unheard = sender.send(found(&from, effort, &watcher));
            wake();
        };
        // Without a thread the sender is dropped, which is told when it is fetched.
        Self { of, reins: Reins::begin("cut", work), outcome }
    }

    /// Whether it plans for this design.
    #[must_use]
    pub fn is_of(&self, design: &Arc<Design>) -> bool {
        same(&self.of, design)
    }

    /// How far the present lot has come, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f32 {
        self.reins.share()
    }

    /// Calls it off.
    pub fn stop(&self) {
        self.reins.stop();
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
    use std::thread;
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
        let request = Request {
            serial: 1,
            revision: 1,
            design,
            focus: None,
            sheets: None,
            steps: false,
            language: Language::default(),
        };
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
