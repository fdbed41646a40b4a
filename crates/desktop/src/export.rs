//! Writing the pack, in the background: its sheets as one PDF, or all that belongs to it into a folder. Nothing is written
//! before all of it is made, so that it can be stopped without a trace.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use casewright_core::finding::{Finding, Severity};
use casewright_drawing::Language;
use casewright_drawing::furniture::PackOptions;
use casewright_pack::{PackError, Step, everything, sheets_as_pdf};

use crate::cutting::Planned;
use crate::files::folder::{self, Unwritten};

/// Where a pack is written to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// Its sheets as this PDF.
    Pdf(PathBuf),
    /// All that belongs to it into this folder.
    Folder(PathBuf),
}

impl Target {
    /// The file or folder.
    #[must_use]
    pub fn path(&self) -> &Path {
        match self {
            Self::Pdf(path) | Self::Folder(path) => path,
        }
    }
}

/// What is to be written.
#[derive(Clone, Debug)]
pub struct Job {
    /// The plan, with what it was made from.
    pub planned: Arc<Planned>,
    /// What is drawn, and on what; the plan comes to it.
    pub options: PackOptions,
    /// The language of the pack.
    pub language: Language,
    /// The beginning of all file names in a folder.
    pub stem: String,
    /// Where it goes.
    pub target: Target,
}

/// How far the writing has come, shared with the thread that does it.
#[derive(Debug)]
struct Progress {
    step: Mutex<Step>,
    stop: AtomicBool,
}

impl Progress {
    fn goes_on(&self, step: Step) -> bool {
        *self.step.lock().unwrap_or_else(PoisonError::into_inner) = step;
        !self.stop.load(Ordering::Relaxed)
    }
}

/// A pack that is being written.
#[derive(Debug)]
pub struct Export {
    progress: Arc<Progress>,
    result: Receiver<Outcome>,
}

/// How it went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It is there, whole.
    Written {
        /// The PDF or the folder.
        place: PathBuf,
        /// How many files were written.
        files: usize,
        /// Sheets of an older pack that are still in the folder.
        older: usize,
        /// Labels that found no room on the sheets.
        omitted: usize,
        /// Findings that say that it cannot be built so.
        errors: usize,
    },
    /// It was stopped; nothing was written.
    Stopped,
    /// It cannot be written; nothing was.
    Failed(Unwritten),
}

impl Export {
    /// Begins to write; `wake` is called at each step and at the end.
    #[must_use]
    pub fn begin(job: Job, wake: impl Fn() + Send + 'static) -> Self {
        let (sender, result) = channel();
        let progress = Arc::new(Progress { step: Mutex::new(Step::Drawing(0, 1)), stop: AtomicBool::new(false) });
        let watched = progress.clone();
        let work = move || {
            let outcome = written(&job, &mut |step| {
                wake();
                watched.goes_on(step)
            });
            // If nobody waits any longer, nobody need be told.
            let _unheard = sender.send(outcome);
            wake();
        };
        // Without a thread the sender is dropped, which is reported as a failure when the result is fetched.
        let _no_thread = thread::Builder::new().name("export".to_owned()).spawn(work);
        Self { progress, result }
    }

    /// How far it has come.
    #[must_use]
    pub fn step(&self) -> Step {
        *self.progress.step.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Has it stop after the chapter or sheet that it is at.
    pub fn stop(&self) {
        self.progress.stop.store(true, Ordering::Relaxed);
    }

    /// How it went; nothing while it goes on.
    #[must_use]
    pub fn fetch(&self) -> Option<Outcome> {
        match self.result.try_recv() {
            Ok(outcome) => Some(outcome),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                let words = "internal error: the work ended early; please report this".to_owned();
                Some(Outcome::Failed(Unwritten { place: PathBuf::new(), words }))
            }
        }
    }
}

fn written(job: &Job, goes_on: &mut dyn FnMut(Step) -> bool) -> Outcome {
    let place = job.target.path();
    let failed = |error: &PackError| match error {
        PackError::Stopped => Outcome::Stopped,
        error => Outcome::Failed(Unwritten { place: place.to_owned(), words: error.to_string() }),
    };
    let Some(scene) = job.planned.from.scene() else { return Outcome::Stopped };
    let speech = scene.speech_of(job.language);
    let scene = scene.in_language(&speech);
    let plan = &job.planned.plan;
    let done = match &job.target {
        Target::Pdf(path) => {
            let options = PackOptions { cutting: Some(plan.clone()), ..job.options.clone() };
            match sheets_as_pdf(&scene, &options, goes_on) {
                Ok((bytes, pack)) => folder::write_file(path, &bytes).map(|()| (1, 0, pack.omitted.len())),
                Err(error) => return failed(&error),
            }
        }
        Target::Folder(into) => match everything(&scene, plan, job.options.clone(), &job.stem, goes_on) {
            Ok(pack) => {
                let files: Vec<_> = pack.files.into_iter().map(|it| (it.name, it.bytes)).collect();
                let older = || folder::older_sheets(into, &job.stem, pack.sheets).len();
                folder::write_into_folder(into, &files).map(|()| (files.len(), older(), pack.omitted.len()))
            }
            Err(error) => return failed(&error),
        },
    };
    match done {
        Ok((files, older, omitted)) => {
            let is_error = |it: &&Finding| it.severity == Severity::Error;
            let errors = job.planned.from.findings.iter().filter(is_error).count();
            Outcome::Written { place: place.to_owned(), files, older, omitted, errors }
        }
        Err(error) => Outcome::Failed(error),
    }
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use casewright_cutting::Effort;

    use super::*;
    use crate::cutting::{self, Cutting};
    use crate::pipeline::{Request, run};

    fn waited<T>(mut look: impl FnMut() -> Option<T>) -> T {
        let began = Instant::now();
        loop {
            if let Some(found) = look() {
                return found;
            }
            assert!(began.elapsed() < Duration::from_secs(120));
            thread::sleep(Duration::from_millis(2));
        }
    }

    fn job(target: Target) -> Job {
        let path = format!("{}/../../demo/container-trolley.ron", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        let design = Arc::new(casewright_core::design::Design::from_ron(&text).unwrap());
        let language = Language::German;
        let request = Request { serial: 0, revision: 0, design, focus: None, sheets: None, steps: false, language };
        let search = Cutting::begin(Arc::new(run(&request)), Effort::QUICK, || {});
        let cutting::Outcome::Planned(planned) = waited(|| search.fetch()) else { panic!("a plan was expected") };
        Job { planned, options: PackOptions::default(), language, stem: "t".to_owned(), target }
    }

    #[test]
    fn a_pack_is_written_whole_or_stopped_without_a_trace() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("pack.pdf");
        let job = job(Target::Pdf(path.clone()));
        // The first step waits until it is told that the work is to stop.
        let (go, wait) = channel::<()>();
        let wait = Mutex::new(wait);
        let export = Export::begin(job.clone(), move || {
            let _go = wait.lock().unwrap().recv_timeout(Duration::from_secs(20));
        });
        export.stop();
        drop(go);
        assert_eq!(waited(|| export.fetch()), Outcome::Stopped);
        assert!(!path.exists());
        let export = Export::begin(job.clone(), || {});
        let whole = Outcome::Written { place: path.clone(), files: 1, older: 0, omitted: 0, errors: 0 };
        assert_eq!(waited(|| export.fetch()), whole);
        assert!(matches!(export.step(), Step::Writing(done, count) if done == count && count > 20));
        assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF"));
        let nowhere = folder.path().join("no such folder").join("pack.pdf");
        let export = Export::begin(Job { target: Target::Pdf(nowhere.clone()), ..job }, || {});
        let words = "cannot be written: there is no such file or folder; check the name".to_owned();
        assert_eq!(waited(|| export.fetch()), Outcome::Failed(Unwritten { place: nowhere, words }));
    }

    #[test]
    fn a_folder_gets_every_file_of_the_pack() {
        let folder = tempfile::tempdir().unwrap();
        let into = folder.path().join("pack");
        let job = job(Target::Folder(into.clone()));
        let export = Export::begin(job.clone(), || {});
        export.stop();
        assert_eq!(waited(|| export.fetch()), Outcome::Stopped);
        assert!(!into.exists());
        let export = Export::begin(job.clone(), || {});
        let Outcome::Written { files, older: 0, .. } = waited(|| export.fetch()) else { panic!("it is not written") };
        let mut names: Vec<String> =
            std::fs::read_dir(&into).unwrap().map(|it| it.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        assert_eq!(names.len(), files);
        for end in ["-parts.csv", "-banding.csv", "-fittings.csv", "-cutting.csv", "-buying.csv", "-stock-after.csv"] {
            assert!(names.contains(&format!("t{end}")), "{names:?}");
        }
        // A smaller pack leaves sheets of the larger one, and says so.
        let only = vec![casewright_drawing::furniture::Chapter::Lists];
        let export = Export::begin(Job { options: PackOptions { only, ..PackOptions::default() }, ..job }, || {});
        let Outcome::Written { older, .. } = waited(|| export.fetch()) else { panic!("it is not written") };
        assert!(older > 5, "{older}");
    }
}
