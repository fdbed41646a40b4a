//! Writing the pack to a file, in the background, page by page; it can be stopped, and then nothing is written.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use casewright_drawing::Sheet;
use casewright_drawing::write_pdf::{PdfError, pdf_pack_watched};

use crate::files::write_whole_bytes;

/// How far long work has come, shared with the thread that does it.
#[derive(Debug, Default)]
pub struct Progress {
    done: AtomicUsize,
    stop: AtomicBool,
}

impl Progress {
    /// Notes how much is done; false if the work is to stop.
    pub fn goes_on(&self, done: usize) -> bool {
        self.done.store(done, Ordering::Relaxed);
        !self.stop.load(Ordering::Relaxed)
    }
}

/// A pack that is being written.
#[derive(Debug)]
pub struct Export {
    path: PathBuf,
    pages: usize,
    progress: Arc<Progress>,
    result: Receiver<Outcome>,
}

/// How it went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The file is there, whole.
    Written,
    /// It was stopped; nothing was written.
    Stopped,
    /// It cannot be written; nothing was.
    Failed(String),
}

impl Export {
    /// Begins to write sheets as a PDF; `wake` is called after each page and at the end.
    #[must_use]
    pub fn begin(path: PathBuf, sheets: Vec<Sheet>, title: String, wake: impl Fn() + Send + 'static) -> Self {
        let (sender, result) = channel();
        let progress = Arc::new(Progress::default());
        let (to, pages, watched) = (path.clone(), sheets.len(), progress.clone());
        let work = move || {
            let mut watch = |done| {
                wake();
                watched.goes_on(done)
            };
            let outcome = match pdf_pack_watched(&sheets, &title, &mut watch) {
                Ok(bytes) if watched.goes_on(pages) => match write_whole_bytes(&to, &bytes) {
                    Ok(()) => Outcome::Written,
                    Err(error) => Outcome::Failed(error.to_string()),
                },
                Ok(_) | Err(PdfError::Stopped) => Outcome::Stopped,
                Err(error) => Outcome::Failed(error.to_string()),
            };
            // If nobody waits any longer, nobody need be told.
            let _unheard = sender.send(outcome);
            wake();
        };
        // Without a thread the sender is dropped, which is reported as a failure when the result is fetched.
        let _no_thread = thread::Builder::new().name("export".to_owned()).spawn(work);
        Self { path, pages, progress, result }
    }

    /// Pages done, and pages in all.
    #[must_use]
    pub fn progress(&self) -> (usize, usize) {
        (self.progress.done.load(Ordering::Relaxed), self.pages)
    }

    /// Has it stop after the page that it is at.
    pub fn stop(&self) {
        self.progress.stop.store(true, Ordering::Relaxed);
    }

    /// Where it is written to, and how it went; nothing while it goes on.
    pub fn fetch(&self) -> Option<(PathBuf, Outcome)> {
        match self.result.try_recv() {
            Ok(outcome) => Some((self.path.clone(), outcome)),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                Some((self.path.clone(), Outcome::Failed("the work ended early".to_owned())))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use super::*;
    use crate::pipeline::{Request, run};
    use crate::sample;

    fn sheets() -> Vec<Sheet> {
        let design = Arc::new(sample::design());
        let (sheets, language) = (Some(Default::default()), casewright_drawing::Language::German);
        let request = Request { serial: 0, revision: 0, design, focus: None, sheets, steps: false, language };
        run(&request).sheets.unwrap().unwrap()
    }

    fn outcome(export: &Export) -> Outcome {
        let began = Instant::now();
        loop {
            if let Some((_, outcome)) = export.fetch() {
                return outcome;
            }
            assert!(began.elapsed() < Duration::from_secs(60));
            thread::sleep(Duration::from_millis(2));
        }
    }

    #[test]
    fn a_pack_is_written_whole_or_stopped_without_a_trace() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("pack.pdf");
        let sheets = sheets();
        // The first page waits until it is told that the work is to stop.
        let (go, wait) = channel::<()>();
        let wait = std::sync::Mutex::new(wait);
        let export = Export::begin(path.clone(), sheets.clone(), "t".into(), move || {
            let _go = wait.lock().unwrap().recv_timeout(Duration::from_secs(20));
        });
        export.stop();
        drop(go);
        assert_eq!(outcome(&export), Outcome::Stopped);
        assert!(!path.exists());
        let export = Export::begin(path.clone(), sheets.clone(), "t".into(), || {});
        assert_eq!(outcome(&export), Outcome::Written);
        assert_eq!(export.progress(), (sheets.len(), sheets.len()));
        assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF"));
        let nowhere = folder.path().join("no such folder").join("pack.pdf");
        let export = Export::begin(nowhere, sheets, "t".into(), || {});
        assert!(matches!(outcome(&export), Outcome::Failed(_)));
    }
}
