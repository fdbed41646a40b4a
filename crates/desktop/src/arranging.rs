//! The search for proposals, in the background: what was found so far comes as it is found, and it can be stopped.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread;

use casewright_arrange::{Effort, Proposal, Request, Watch, propose};
use casewright_core::design::Design;
use casewright_drawing::View;
use casewright_drawing::furniture::{Scene, plain_elevation};

/// A proposal with its picture.
#[derive(Clone, Debug)]
pub struct Card {
    /// The proposal.
    pub proposal: Proposal,
    /// Its elevation.
    pub view: Arc<View>,
}

/// What came of a search, or has come so far.
#[derive(Clone, Debug)]
pub enum Found {
    /// Proposals, best first; more may come.
    SoFar(Vec<Card>),
    /// The last ones; whether every division was looked at.
    Done(Vec<Card>, bool),
    /// Not all fits: what is lacking, in sentences.
    Lacking(Vec<String>),
    /// Nothing can be arranged: why.
    Refused(String),
}

#[derive(Debug, Default)]
struct Shared {
    /// How far the present round has come, in thousandths.
    share: AtomicU32,
    stop: AtomicBool,
}

struct Watcher<'w> {
    shared: &'w Shared,
    sender: &'w Sender<Found>,
    wake: &'w dyn Fn(),
}

impl Watch for Watcher<'_> {
    fn progress(&self, share: f64) {
        let before = self.shared.share.swap((share * 1e3) as u32, Ordering::Relaxed);
        // Not at every step: a frame for each percent is plenty.
        if before / 10 != (share * 1e2) as u32 {
            (self.wake)();
        }
    }

    fn found(&self, proposals: &[Proposal]) {
        let _unheard = self.sender.send(Found::SoFar(cards(proposals)));
        (self.wake)();
    }

    fn cancelled(&self) -> bool {
        self.shared.stop.load(Ordering::Relaxed)
    }
}

fn cards(proposals: &[Proposal]) -> Vec<Card> {
    let view = |it: &Proposal| Arc::new(plain_elevation(&Scene::from(&it.derived)));
    proposals.iter().map(|it| Card { proposal: it.clone(), view: view(it) }).collect()
}

/// A search that goes on.
#[derive(Debug)]
pub struct Arranging {
    shared: Arc<Shared>,
    found: Receiver<Found>,
}

impl Arranging {
    /// Begins to search carcasses for a design, or divisions of one of its bays; `wake` is called whenever there is news.
    #[must_use]
    pub fn begin(design: Arc<Design>, area: Option<String>, effort: Effort, wake: impl Fn() + Send + 'static) -> Self {
        let (sender, found) = channel();
        let shared = Arc::new(Shared::default());
        let theirs = shared.clone();
        let work = move || {
            let outcome =
                Request::of(&design, area.as_deref()).map_err(|error| error.to_string()).and_then(|request| {
                    let watcher = Watcher { shared: &theirs, sender: &sender, wake: &wake };
                    let outcome = propose(&request, effort, &watcher).map_err(|error| error.to_string())?;
                    Ok(match outcome.lack {
                        Some(lack) => Found::Lacking(lack.sentences(&request)),
                        None => Found::Done(cards(&outcome.proposals), outcome.is_complete),
                    })
                });
            let _unheard = sender.send(outcome.unwrap_or_else(Found::Refused));
            wake();
        };
        // Without a thread the sender is dropped, which is told when it is fetched.
        let _no_thread = thread::Builder::new().name("arrange".to_owned()).spawn(work);
        Self { shared, found }
    }

    /// How far the present round has come, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f32 {
        self.shared.share.load(Ordering::Relaxed) as f32 / 1e3
    }

    /// Has it end with what it has.
    pub fn stop(&self) {
        self.shared.stop.store(true, Ordering::Relaxed);
    }

    /// The news since the last call, the oldest first; and whether there will be no more.
    pub fn fetch(&self) -> (Vec<Found>, bool) {
        let mut news = Vec::new();
        loop {
            match self.found.try_recv() {
                Ok(found) => news.push(found),
                Err(TryRecvError::Empty) => return (news, false),
                Err(TryRecvError::Disconnected) => return (news, true),
            }
        }
    }
}

impl Drop for Arranging {
    fn drop(&mut self) {
        self.stop();
    }
}
