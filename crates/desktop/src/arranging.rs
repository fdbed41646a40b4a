//! The search for proposals, in the background: what was found so far comes as it is found, and it can be stopped.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};

use casewright_arrange::{Effort, Proposal, Request, Watch, propose};
use casewright_core::design::Design;
use casewright_drawing::View;
use casewright_drawing::furniture::{Scene, plain_elevation};

use crate::reins::{Held, Reins};

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

struct Watcher<'w> {
    held: &'w Held,
    sender: &'w Sender<Found>,
    wake: &'w dyn Fn(),
}

impl Watch for Watcher<'_> {
    fn progress(&self, share: f64) {
        self.held.progress(share, self.wake);
    }

    fn found(&self, proposals: &[Proposal]) {
        let _unheard = self.sender.send(Found::SoFar(cards(proposals)));
        (self.wake)();
    }

    fn cancelled(&self) -> bool {
        self.held.is_stopped()
    }
}

fn cards(proposals: &[Proposal]) -> Vec<Card> {
    let view = |it: &Proposal| Arc::new(plain_elevation(&Scene::from(&it.derived)));
    proposals.iter().map(|it| Card { proposal: it.clone(), view: view(it) }).collect()
}

/// A search that goes on.
#[derive(Debug)]
pub struct Arranging {
    reins: Reins,
    found: Receiver<Found>,
}

impl Arranging {
    /// Begins to search carcasses for a design, or divisions of one of its bays; `wake` is called whenever there is news.
    #[must_use]
    pub fn begin(design: Arc<Design>, area: Option<String>, effort: Effort, wake: impl Fn() + Send + 'static) -> Self {
        let (sender, found) = channel();
        let work = move |held: Held| {
            let outcome =
                Request::of(&design, area.as_deref()).map_err(|error| error.to_string()).and_then(|request| {
                    let watcher = Watcher { held: &held, sender: &sender, wake: &wake };
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
        Self { reins: Reins::begin("arrange", work), found }
    }

    /// How far the present round has come, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f32 {
        self.reins.share()
    }

    /// Has it end with what it has.
    pub fn stop(&self) {
        self.reins.stop();
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
