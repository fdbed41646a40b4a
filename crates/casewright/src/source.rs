//! A design file as it was read, and what is wrong with it, in words with places in the file.

use std::path::Path;

use casewright_core::design::{Design, Resolved};
use casewright_core::pipeline::{self, DeriveError, Derived};
use casewright_core::solve::{Conflict, Mend};
use casewright_core::text::{Fault, FieldPath, SpanIndex};
use casewright_drawing::language::names_of;
use casewright_drawing::{Language, Speech};

use crate::failure::Failure;
use crate::files;

/// A design file as it was read: its name and text, to point into.
pub(crate) struct Source<'a> {
    file: &'a Path,
    text: String,
    /// What faults and conflicts are said in.
    language: Language,
}

impl<'a> Source<'a> {
    /// Reads the file.
    ///
    /// # Errors
    /// It cannot be read.
    pub(crate) fn read(file: &'a Path) -> Result<Self, Failure> {
        Ok(Self { file, text: files::read_design(file)?, language: Language::English })
    }

    /// The same, with what is wrong with it said in this language.
    #[must_use]
    pub(crate) fn said_in(self, language: Language) -> Self {
        Self { language, ..self }
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
                let about = conflicts.iter().flat_map(|it| &it.entries).flat_map(|it| it.about.iter().cloned());
                let speech = Speech::new(self.language, names_of(&design).into_iter().chain(about));
                let lines = conflicts.iter().flat_map(|conflict| self.conflict(conflict, &index, &speech));
                Failure::of_lines(lines.collect())
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
        let texts = faults.iter().flat_map(|it| std::iter::once(&it.cause).chain(&it.mend));
        let speech = Speech::new(self.language, texts.flat_map(|it| quoted(it)));
        let say = |fault: Fault| Fault {
            cause: speech.say(&fault.cause),
            mend: fault.mend.as_ref().map(|it| speech.say(it)),
            ..fault
        };
        Failure::of_lines(faults.into_iter().map(|fault| say(fault.located(index)).in_file(&name)).collect())
    }

    /// A conflict as lines: the whole with its mends, then each demand with its place.
    fn conflict(&self, conflict: &Conflict, index: &SpanIndex<'_>, speech: &Speech) -> Vec<String> {
        let first = conflict.entries.first().map(|entry| &entry.field);
        let or = if self.language == Language::German { ", oder " } else { ", or " };
        let words = |mends: &[Mend]| mends.iter().map(|it| speech.say(&it.words)).collect::<Vec<_>>().join(or);
        let mend = match (words(&conflict.mends), words(&conflict.first_steps)) {
            (mends, _) if !mends.is_empty() => mends,
            (_, steps) if !steps.is_empty() => {
                format!("{} {steps}", speech.say("more than one change is needed; to begin with:"))
            }
            _ => speech.say("change one of these"),
        };
        // The demands stand in lines of their own; the sentence need not list them again.
        let mut lines = vec![format!("{}: {}; {mend}", self.place(first, index), speech.say(&conflict.short))];
        for entry in &conflict.entries {
            lines.push(format!("{}:   {}", self.place(Some(&entry.field), index), speech.say(&entry.words)));
        }
        lines
    }
}

/// What a fault quotes from the file, which no language changes: between quotation marks, and between backticks with these.
fn quoted(text: &str) -> Vec<String> {
    let between = |mark: char| text.split(mark).skip(1).step_by(2);
    between('"').map(str::to_owned).chain(between('`').map(|it| format!("`{it}`"))).collect()
}
