//! The way of a pack from being asked for to being written: first what is derived from the design, then the cutting plan,
//! then the writing itself, each in the background.

use std::path::Path;
use std::sync::Arc;

use casewright_pack::{is_of_pack, safe_stem};

use super::App;
use crate::export::{Export, Job, Outcome, Target};
use crate::notice::{Filling, Notice};
use crate::pipeline::Derived;
use crate::status::Writing;

/// A pack that is to be written as soon as there is what it is made of.
#[derive(Debug)]
pub(super) struct Wanted {
    target: Target,
    /// What it is of, once that is derived. Later edits do not change it.
    from: Option<Arc<Derived>>,
    /// Whether its cutting is being planned, and whether that was begun for it.
    planning: Option<bool>,
}

impl App {
    /// Begins to write a pack of the design as it is now.
    pub(super) fn write(&mut self, target: Target) {
        if self.is_writing() {
            self.say(Notice::of("notice-still-writing"));
            return;
        }
        self.notice = None;
        self.to_write = Some(Wanted { target, from: None, planning: None });
    }

    /// Whether a pack is to be written or being written.
    pub(super) const fn is_writing(&self) -> bool {
        self.to_write.is_some() || self.export.is_some()
    }

    /// How far the pack has come.
    pub(super) fn writing(&self) -> Option<Writing> {
        if let Some(export) = &self.export {
            return Some(Writing::Making(export.step()));
        }
        let wanted = self.to_write.as_ref()?;
        let is_planning = wanted.planning.is_some();
        Some(self.cuts.share().filter(|_| is_planning).map_or(Writing::Waiting, Writing::Planning))
    }

    /// What the files of a pack are called after: the file of the design, or its title.
    pub(super) fn stem(&self) -> String {
        match self.document.path() {
            Some(path) => safe_stem(path),
            // A point in a title begins no ending.
            None => safe_stem(Path::new(&self.document.design().title.replace('.', "-"))),
        }
    }

    /// Whether there is a pack of this design in a folder.
    pub(super) fn has_pack(&self, folder: &Path) -> bool {
        let stem = self.stem();
        let mut entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
        entries.any(|entry| entry.file_name().to_str().is_some_and(|name| is_of_pack(name, &stem)))
    }

    /// Goes on with the pack that is wanted, as far as there is what it needs, and tells how it went.
    pub(super) fn go_on_writing(&mut self) {
        if let Some(wanted) = self.to_write.take() {
            self.to_write = self.prepared(wanted);
        }
        let Some(outcome) = self.export.as_ref().and_then(Export::fetch) else { return };
        self.export = None;
        self.say_long(match outcome {
            Outcome::Written { place, files, older, omitted, errors } => {
                let key = match (files, older) {
                    (1, _) => "notice-written",
                    (_, 0) => "notice-written-files",
                    _ => "notice-written-older",
                };
                Notice::with(key, "file", place.display().to_string())
                    .and("count", Filling::Count(files))
                    .and("older", Filling::Count(older))
                    .and("omitted", Filling::Count(omitted))
                    .and("errors", Filling::Count(errors))
            }
            Outcome::Stopped => Notice::of("notice-stopped"),
            Outcome::Failed(error) => Notice::with("notice-not-written", "file", error.place.display().to_string())
                .and("error", Filling::Text(error.words)),
        });
    }

    /// Brings what is wanted a step on; nothing once it is being written, or cannot be.
    fn prepared(&mut self, mut wanted: Wanted) -> Option<Wanted> {
        let from = match wanted.from.take() {
            Some(from) => from,
            None => {
                let revision = self.document.revision();
                let Some(latest) = self.latest.as_ref().filter(|it| it.revision == revision) else {
                    return Some(wanted);
                };
                if latest.assembly.is_none() {
                    self.say_long(Notice::of("notice-no-sheets"));
                    return None;
                }
                latest.clone()
            }
        };
        if let Some(planned) = self.cuts.plan_of(&from.design).cloned() {
            let options = self.sheets.wanted(self.selected_bay().as_deref());
            let (language, stem) = (self.words.language(), self.stem());
            let wake = self.wake.clone();
            let job = Job { planned, options, language, stem, target: wanted.target };
            self.export = Some(Export::begin(job, move || wake.request_repaint()));
            return None;
        }
        if wanted.planning.is_some() && !self.cuts.is_busy() {
            let place = wanted.target.path().display().to_string();
            self.say_long(match self.cuts.trouble() {
                Some(why) => {
                    Notice::with("notice-not-written", "file", place).and("error", Filling::Text(why.to_owned()))
                }
                None => Notice::of("notice-stopped"),
            });
            return None;
        }
        let wake = self.wake.clone();
        let begun = self.cuts.demand(&from, move || wake.request_repaint());
        wanted.planning = Some(begun || wanted.planning == Some(true));
        wanted.from = Some(from);
        Some(wanted)
    }

    /// Has the writing of the pack stopped: nothing is written.
    pub(crate) fn stop_writing(&mut self) {
        if let Some(export) = &self.export {
            export.stop();
        }
        if let Some(wanted) = self.to_write.take() {
            if wanted.planning == Some(true) {
                self.cuts.stop();
            }
            self.say(Notice::of("notice-stopped"));
        }
    }
}
