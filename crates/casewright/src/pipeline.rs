//! From a design file to everything derived, one stage after the other, with the faults of each in words.

use std::path::Path;

use casewright_core::assembly::{self, Assembly, BuildError};
use casewright_core::design::{Design, Resolved};
use casewright_core::finding::{Finding, Severity};
use casewright_core::layout::Layout;
use casewright_core::solve::{Conflict, SolveError, Solved};
use casewright_core::text::{Fault, FieldPath, SpanIndex};

use crate::failure::Failure;
use crate::files;

/// A design with everything that is derived from it.
pub(crate) struct Work {
    /// The design with all lengths evaluated.
    pub(crate) design: Resolved,
    /// Where everything lies.
    pub(crate) layout: Layout,
    /// What is built.
    pub(crate) assembly: Assembly,
    /// What the checks found, worst first.
    pub(crate) findings: Vec<Finding>,
}

impl Work {
    /// Whether something found is an error.
    pub(crate) fn has_errors(&self) -> bool {
        self.findings.iter().any(|finding| finding.severity == Severity::Error)
    }
}

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

    /// Runs all stages.
    ///
    /// # Errors
    /// The text is no design, the design contradicts itself, or cannot be built; all that is known of it.
    pub(crate) fn work(&self) -> Result<Work, Failure> {
        let index = SpanIndex::scan(&self.text);
        let design = Design::from_ron(&self.text).map_err(|faults| self.faults(faults, &index))?;
        let design = design.resolve().map_err(|faults| self.faults(faults, &index))?;
        let Solved { layout, .. } =
            casewright_core::solve::solve(&design).map_err(|error| self.unsolved(error, &index))?;
        let assembly = assembly::build(&design, &layout).map_err(|error| self.unbuilt(&error, &index))?;
        let mut findings = Vec::<Finding>::new();
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
        Ok(Work { design, layout, assembly, findings })
    }

    /// Where the value at `path` stands: `file:line:column`, or the file alone.
    pub(crate) fn place(&self, path: Option<&FieldPath>, index: &SpanIndex<'_>) -> String {
        match path.and_then(|path| index.locate_near(path)) {
            Some(at) => format!("{}:{at}", self.file.display()),
            None => self.file.display().to_string(),
        }
    }

    /// The text of the design.
    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    fn faults(&self, faults: Vec<Fault>, index: &SpanIndex<'_>) -> Failure {
        let name = self.file.display().to_string();
        Failure::of_lines(faults.into_iter().map(|fault| fault.located(index).in_file(&name)).collect())
    }

    fn unsolved(&self, error: SolveError, index: &SpanIndex<'_>) -> Failure {
        match error {
            SolveError::Faults(faults) => self.faults(faults, index),
            SolveError::Conflicts(conflicts) => {
                Failure::of_lines(conflicts.iter().flat_map(|conflict| self.conflict(conflict, index)).collect())
            }
            SolveError::Internal(cause) => {
                Failure::file(self.file, format!("internal error: {cause}"), "please report this with the file")
            }
        }
    }

    fn unbuilt(&self, error: &BuildError, index: &SpanIndex<'_>) -> Failure {
        let line =
            |problem: &assembly::Problem| format!("{}: {}", self.place(problem.field.as_ref(), index), problem.cause);
        Failure::of_lines(error.problems.iter().map(line).collect())
    }

    /// A conflict as lines: the whole with its mends, then each demand with its place.
    fn conflict(&self, conflict: &Conflict, index: &SpanIndex<'_>) -> Vec<String> {
        let first = conflict.entries.first().map(|entry| &entry.field);
        let mends: Vec<&str> = conflict.mends.iter().map(|mend| mend.words.as_str()).collect();
        let mend = match mends.as_slice() {
            [] => "change one of these".to_owned(),
            some => some.join(", or "),
        };
        let mut lines = vec![format!("{}: {}; {mend}", self.place(first, index), conflict.what)];
        for entry in &conflict.entries {
            lines.push(format!("{}:   {}", self.place(Some(&entry.field), index), entry.words));
        }
        lines
    }
}
