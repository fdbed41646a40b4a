//! Writing the pack to a file, in the background.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use casewright_drawing::Sheet;
use casewright_drawing::write_pdf::pdf_pack;

use crate::files::write_whole_bytes;

/// A pack that is being written.
#[derive(Debug)]
pub struct Export {
    path: PathBuf,
    result: Receiver<Result<(), String>>,
}

impl Export {
    /// Begins to write sheets as a PDF.
    #[must_use]
    pub fn begin(path: PathBuf, sheets: Vec<Sheet>, title: String, wake: impl FnOnce() + Send + 'static) -> Self {
        let (sender, result) = channel();
        let to = path.clone();
        let work = move || {
            let written = pdf_pack(&sheets, &title).map_err(|error| error.to_string());
            let written = written.and_then(|bytes| write_whole_bytes(&to, &bytes).map_err(|error| error.to_string()));
            // If nobody waits any longer, nobody need be told.
            let _unheard = sender.send(written);
            wake();
        };
        // Without a thread the sender is dropped, which is reported as a failure when the result is fetched.
        let _no_thread = thread::Builder::new().name("export".to_owned()).spawn(work);
        Self { path, result }
    }

    /// Where it is written to, and how it went; nothing while it goes on.
    pub fn fetch(&self) -> Option<(PathBuf, Result<(), String>)> {
        match self.result.try_recv() {
            Ok(result) => Some((self.path.clone(), result)),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some((self.path.clone(), Err("the work ended early".to_owned()))),
        }
    }
}
