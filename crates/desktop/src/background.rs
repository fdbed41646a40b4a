//! Background work of which only the latest request counts. The window never waits for it.

use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;

struct Desk<Q, A> {
    /// What is to be worked on next.
    next: Option<Q>,
    /// What was made last and not fetched yet.
    done: Option<A>,
    /// Something is being worked on.
    working: bool,
    /// The worker is no longer needed.
    stop: bool,
}

struct Shared<Q, A> {
    desk: Mutex<Desk<Q, A>>,
    changed: Condvar,
}

impl<Q, A> Shared<Q, A> {
    /// The desk, even if a thread died at it: its state is whole after every single assignment.
    fn desk(&self) -> MutexGuard<'_, Desk<Q, A>> {
        self.desk.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A thread that answers the latest request.
pub struct Latest<Q: Send + 'static, A: Send + 'static> {
    shared: Arc<Shared<Q, A>>,
    work: fn(&Q) -> A,
    thread: Option<thread::JoinHandle<()>>,
}

impl<Q: Send + 'static, A: Send + 'static> std::fmt::Debug for Latest<Q, A> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Latest").finish_non_exhaustive()
    }
}

impl<Q: Send + 'static, A: Send + 'static> Latest<Q, A> {
    /// Starts the thread; `wake` is called whenever something is done. If the system gives no thread, the work is done
    /// when it is asked for. `work` must not panic.
    #[must_use]
    pub fn start(name: &str, work: fn(&Q) -> A, wake: impl Fn() + Send + 'static) -> Self {
        let desk = Desk { next: None, done: None, working: false, stop: false };
        let shared = Arc::new(Shared { desk: Mutex::new(desk), changed: Condvar::new() });
        let theirs = shared.clone();
        let thread = thread::Builder::new().name(name.to_owned()).spawn(move || answer(&theirs, work, &wake)).ok();
        Self { shared, work, thread }
    }

    /// Asks. A request that waits and is not begun is dropped.
    pub fn ask(&self, request: Q) {
        if self.thread.is_none() {
            self.shared.desk().done = Some((self.work)(&request));
            return;
        }
        self.shared.desk().next = Some(request);
        self.shared.changed.notify_all();
    }

    /// The answer that came since the last call, if any.
    #[must_use]
    pub fn fetch(&self) -> Option<A> {
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

impl<Q: Send + 'static, A: Send + 'static> Drop for Latest<Q, A> {
    fn drop(&mut self) {
        self.shared.desk().stop = true;
        self.shared.changed.notify_all();
        if let Some(thread) = self.thread.take() {
            let _panicked = thread.join();
        }
    }
}

fn answer<Q, A>(shared: &Shared<Q, A>, work: fn(&Q) -> A, wake: &dyn Fn()) {
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
        let answer = work(&request);
        let mut desk = shared.desk();
        desk.done = Some(answer);
        desk.working = false;
        drop(desk);
        shared.changed.notify_all();
        wake();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_latest_request_wins() {
        let worker = Latest::start("test", |request: &u64| request * 2, || {});
        for request in 1..=5000 {
            worker.ask(request);
        }
        worker.wait();
        assert_eq!(worker.fetch(), Some(10_000));
        assert!(worker.fetch().is_none() && !worker.is_busy());
    }
}
