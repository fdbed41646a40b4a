//! What a long search in the background and the window share: how far it has come, and whether it is called off.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::thread;

#[derive(Debug, Default)]
struct Shared {
    /// How far it has come, in thousandths.
    share: AtomicU32,
    stop: AtomicBool,
}

/// The search's own hold on what is shared.
#[derive(Clone, Debug)]
pub(crate) struct Held(Arc<Shared>);

impl Held {
    /// Tells how far it has come, 0 to 1; `wake` is called for each percent: a frame for every step would be too many.
    pub(crate) fn progress(&self, share: f64, wake: &dyn Fn()) {
        let before = self.0.share.swap((share * 1e3) as u32, Ordering::Relaxed);
        if before / 10 != (share * 1e2) as u32 {
            wake();
        }
    }

    /// Whether it is called off.
    pub(crate) fn is_stopped(&self) -> bool {
        self.0.stop.load(Ordering::Relaxed)
    }
}

/// The window's hold on a search; let go of, it calls the search off.
#[derive(Debug)]
pub(crate) struct Reins(Arc<Shared>);

impl Reins {
    /// Begins to work on a thread of this name. Without a thread `work` is dropped, and all that it holds.
    pub(crate) fn begin(name: &str, work: impl FnOnce(Held) + Send + 'static) -> Self {
        let shared = Arc::new(Shared::default());
        let held = Held(shared.clone());
        let _no_thread = thread::Builder::new().name(name.to_owned()).spawn(move || work(held));
        Self(shared)
    }

    /// How far it has come, 0 to 1.
    pub(crate) fn share(&self) -> f32 {
        self.0.share.load(Ordering::Relaxed) as f32 / 1e3
    }

    /// Calls it off.
    pub(crate) fn stop(&self) {
        self.0.stop.store(true, Ordering::Relaxed);
    }
}

impl Drop for Reins {
    fn drop(&mut self) {
        self.stop();
    }
}
