//! Background work: the pipeline runs on a thread of its own, and only the latest Design counts. The window never waits
//! for it.

use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;

use crate::pipeline::{self, Derived, Request};

#[derive(Default)]
struct Desk {
    /// What is to be worked on next.
    next: Option<Request>,
    /// What was made last and not fetched yet.
    done: Option<Arc<Derived>>,
    /// Something is being worked on.
    working: bool,
    /// The window is closing.
    stop: bool,
}

struct Shared {
    desk: Mutex<Desk>,
    changed: Condvar,
}

impl Shared {
    /// The desk, even if a thread died at it: its state is whole after every single assignment.
    fn desk(&self) -> MutexGuard<'_, Desk> {
        self.desk.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The thread that derives everything from the latest Design.
pub struct Worker {
    shared: Arc<Shared>,
    thread: Option<thread::JoinHandle<()>>,
}

impl std::fmt::Debug for Worker {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Worker").finish_non_exhaustive()
    }
}

impl Worker {
    /// Starts the thread; `wake` is called whenever something is done. If the system gives no thread, the work is done
    /// when it is asked for.
    #[must_use]
    pub fn start(wake: impl Fn() + Send + 'static) -> Self {
        let shared = Arc::new(Shared { desk: Mutex::default(), changed: Condvar::new() });
        let theirs = shared.clone();
        let thread = thread::Builder::new().name("derive".to_owned()).spawn(move || work(&theirs, &wake)).ok();
        Self { shared, thread }
    }

    /// Asks for everything to be derived from a Design. A request that waits and is not begun is dropped.
    pub fn ask(&self, request: Request) {
        if self.thread.is_none() {
            self.shared.desk().done = Some(Arc::new(pipeline::run(&request)));
            return;
        }
        self.shared.desk().next = Some(request);
        self.shared.changed.notify_all();
    }

    /// What was derived since the last call, if anything.
    #[must_use]
    pub fn fetch(&self) -> Option<Arc<Derived>> {
        self.shared.desk().done.take()
    }

    /// Whether something is asked for and not done.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        let desk = self.shared.desk();
        desk.next.is_some() || desk.working
    }

    /// Waits until everything that was asked for is done; for tests and for closing.
    pub fn wait(&self) {
        if self.thread.is_none() {
            return;
        }
        let mut desk = self.shared.desk();
        while desk.next.is_some() || desk.working {
            desk = self.shared.changed.wait(desk).unwrap_or_else(PoisonError::into_inner);
        }
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.shared.desk().stop = true;
        self.shared.changed.notify_all();
        if let Some(thread) = self.thread.take() {
            let _panicked = thread.join();
        }
    }
}

fn work(shared: &Shared, wake: &dyn Fn()) {
    loop {
        let request = {
            let mut desk = shared.desk();
            loop {
                if desk.stop {
                    return;
                }
                if let Some(next) = desk.next.take() {
                    desk.working = true;
                    break next;
                }
                desk = shared.changed.wait(desk).unwrap_or_else(PoisonError::into_inner);
            }
        };
        // A panic of the pipeline is a defect, but one that must cost neither the window nor the user's edits.
        let derived = std::panic::catch_unwind(|| pipeline::run(&request))
            .unwrap_or_else(|panic| Derived::broken(&request, &pipeline::panic_words(&*panic)));
        let mut desk = shared.desk();
        desk.done = Some(Arc::new(derived));
        desk.working = false;
        drop(desk);
        shared.changed.notify_all();
        wake();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn the_latest_design_wins() {
        let worker = Worker::start(|| {});
        let mut design = sample::design();
        for revision in 1..=50 {
            design.title = format!("number {revision}");
            worker.ask(Request {
                serial: revision,
                revision,
                design: Arc::new(design.clone()),
                focus: None,
                sheets: None,
            });
        }
        worker.wait();
        let derived = worker.fetch().unwrap();
        assert_eq!(derived.revision, 50);
        assert_eq!(derived.design.title, "number 50");
        assert!(worker.fetch().is_none() && !worker.is_busy());
    }
}
