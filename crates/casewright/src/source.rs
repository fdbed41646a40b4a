//! A design file as it was read, and what is wrong with it, in words with places in the file.

use std::path::Path;

use casewright_core::design::{Design, Resolved};
use casewright_core::pipeline::{self, DeriveError, Derived};
use casewright_core::solve::{Conflict, Mend};
use casewright_core::text::{Fault, FieldPath, SpanIndex};

use crate::failure::Failure;
use crate::files;

/// A design file as it was read: its name and text, to point into.
pub(crate) struct Source<'a> {
    file: &'a Path,
    text: String,
}

impl<'a> Source<'a> {
    /// Reads the file.
    ///
    /// # Errors
    /// It cannot be read.
    pub(crate) fn read(file: &'a Path) -> Result<Self, Failure> {
        Ok(Self { file, text: files::read_design(file)? })
    }

    /// The design with all lengths evaluated; it need not be possible to build.
    ///
    /// # Errors
    /// The text is no design.
    pub(crate) fn resolve(&self) -> Result<Resolved, Failure> {
        let index = self.index();
        let design = Design::from_ron(&self.text).map_err(|faults| self.faults(faults, &index))?;
        design.resolve().map_err(|faults| self.faults(faults, &index))
    }

    /// The design as written; it need not be possible to build.
    ///
    /// # Errors
    /// The text is no design.
    pub(crate) fn design(&self) -> Result<Design, Failure> {
        Design::from_ron(&self.text).map_err(|faults| self.faults(faults, &self.index()))
    }

    /// The text as it was read.
    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Everything derived from the design.
    ///
    /// # Errors
    /// The text is no design, the design contradicts itself, or cannot be built; all that is known of it.
    pub(crate) fn derive(&self) -> Result<Derived, Failure> {
        let index = self.index();
        let design = Design::from_ron(&self.text).map_err(|faults| self.faults(faults, &index))?;
        pipeline::derive(&design).map_err(|error| match error {
            DeriveError::Faults(faults) => self.faults(faults, &index),
            DeriveError::Conflicts(conflicts) => {
                Failure::of_lines(conflicts.iter().flat_map(|conflict| self.conflict(conflict, &index)).collect())
            }
            DeriveError::Internal(cause) => {
                Failure::file(self.file, format!("internal error: {cause}"), "please report this with the file")
            }
        })
    }

    /// The places of all values in the text.
    pub(crate) fn index(&self) -> SpanIndex<'_> {
        SpanIndex::scan(&self.text)
    }

    /// Where the value at `path` stands: `file:line:column`, or the file alone.
    pub(crate) fn place(&self, path: Option<&FieldPath>, index: &SpanIndex<'_>) -> String {
        match path.and_then(|path| index.locate_near(path)) {
            Some(at) => format!("{}:{at}", self.file.display()),
            None => self.file.display().to_string(),
        }
    }

    fn faults(&self, faults: Vec<Fault>, index: &SpanIndex<'_>) -> Failure {
        let name = self.file.display().to_string();
        Failure::of_lines(faults.into_iter().map(|fault| fault.located(index).in_file(&name)).collect())
    }

    /// A conflict as lines: the whole with its mends, then each demand with its place.
    fn conflict(&self, conflict: &Conflict, index: &SpanIndex<'_>) -> Vec<String> {
        let first = conflict.entries.first().map(|entry| &entry.field);
        let words = |mends: &[Mend]| mends.iter().map(|it| it.words.as_str()).collect::<Vec<_>>().join(", or ");
        let mend = match (words(&conflict.mends), words(&conflict.first_steps)) {
            (mends, _) if !mends.is_empty() => mends,
            (_, steps) if !steps.is_empty() => format!("more than one change is needed; to begin with, {steps}"),
            _ => "change one of these".to_owned(),
        };
        // The demands stand in lines of their own; the sentence need not list them again.
        let mut lines = vec![format!("{}: {}; {mend}", self.place(first, index), conflict.short)];
        for entry in &conflict.entries {
            lines.push(format!("{}:   {}", self.place(Some(&entry.field), index), entry.words));
        }
        lines
    }
}
