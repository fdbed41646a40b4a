//! The meaning of a design: values within reason, names that lead somewhere, and a bay tree that can be built.
//!
//! All faults are collected, each with the way to its field and, where the text is known, its place in the file. What
//! only follows from another fault is left out.

mod bays;
mod lengths;
mod names;
mod numbers;
mod outlines;
#[cfg(test)]
mod tests;

use indexmap::IndexSet;

use super::{Design, Resolved};
use crate::{
    expr::{ExprError, Scope},
    text::{Fault, FieldPath, SpanIndex, nearest},
};

pub use bays::MAX_DEPTH;
pub use names::dowel;

impl Design {
    /// The design with every length evaluated.
    ///
    /// # Errors
    /// All faults of its meaning, without places in a file.
    pub fn resolve(&self) -> Result<Resolved, Vec<Fault>> {
        let mut check = Check::new(self, None);
        let resolved = check.run();
        match resolved {
            Some(resolved) if check.faults.is_empty() => Ok(resolved),
            _ => Err(check.faults),
        }
    }

    /// The unit and the evaluated parameters, for evaluating further expressions; parameters at fault have no value.
    #[must_use]
    pub fn scope(&self) -> Scope {
        parameters(self).0
    }
}

/// All faults of the meaning of a design, in the order of its text if that is given.
pub(super) fn faults(design: &Design, index: Option<&SpanIndex<'_>>) -> Vec<Fault> {
    let mut check = Check::new(design, index);
    check.run();
    let mut faults = check.faults;
    faults.sort_by_key(|fault| fault.at);
    faults
}

fn parameters(design: &Design) -> (Scope, Vec<ExprError>) {
    Scope::new(design.parameters.iter().map(|(name, text)| (name.as_str(), text.as_str())), design.unit)
}

/// One validation.
struct Check<'d, 't> {
    design: &'d Design,
    index: Option<&'d SpanIndex<'t>>,
    faults: Vec<Fault>,
}

impl<'d, 't> Check<'d, 't> {
    fn new(design: &'d Design, index: Option<&'d SpanIndex<'t>>) -> Self {
        Self { design, index, faults: Vec::new() }
    }

    fn run(&mut self) -> Option<Resolved> {
        for duplicate in self.index.map(SpanIndex::duplicates).unwrap_or_default() {
            self.faults.push(Fault::duplicate(duplicate));
        }
        self.numbers();
        self.names();
        // Walking the lengths goes down the bay tree, so its depth is checked first.
        if !self.bays() {
            return None;
        }
        Some(self.lengths())
    }

    /// Adds a fault of the value at `path`; gives it back for its mend.
    fn fault(&mut self, path: &FieldPath, cause: impl Into<String>, mend: impl Into<String>) {
        let fault = Fault::at_path(path.clone(), cause).mend(mend);
        self.faults.push(match self.index {
            Some(index) => fault.located(index),
            None => fault,
        });
    }

    /// Adds a fault if `name` is not among `known`.
    fn known<'n>(&mut self, path: &FieldPath, kind: &str, name: &str, known: impl IntoIterator<Item = &'n String>) {
        let known: IndexSet<&String> = known.into_iter().filter(|other| !other.trim().is_empty()).collect();
        if known.iter().any(|other| *other == name) {
            return;
        }
        let mend = match nearest(name, known.iter().copied()) {
            Some(other) => format!("did you mean \"{other}\"?"),
            None if known.is_empty() => format!("add a {kind} of that name: there is none yet"),
            None => {
                let few: Vec<&str> = known.iter().take(8).map(|name| name.as_str()).collect();
                let more = if known.len() > few.len() { " and others" } else { "" };
                format!("known: {}{more}", few.join(", "))
            }
        };
        self.fault(path, format!("there is no {kind} called {name:?}"), mend);
    }
}
