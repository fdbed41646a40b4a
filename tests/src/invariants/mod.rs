//! What must hold of any design whatever, from its text to its pages. Told from what the stages give out, without asking
//! how they came about.

mod holes;
mod parts;
pub mod written;

use casewright_core::design::{Design, Resolved};
use casewright_core::finding::Severity;
use casewright_core::pipeline::{DeriveError, Derived, derive};
use casewright_drawing::furniture::{PackOptions, Scene, pack};
use casewright_drawing::{ComposeError, pdf_pack};

use crate::chains;

/// How much of the way through is looked at: drawing costs a hundred times as much as deriving.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Text, sizes, parts, holes.
    Derived,
    /// The sheets and the PDF file as well.
    Drawn,
}

/// What became of a design.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It was built.
    Built,
    /// It was refused in words.
    Refused,
}

/// Everything that does not hold of a design, in words; what became of it if all holds.
///
/// # Errors
/// What does not hold.
pub fn hold(design: &Resolved, reach: Reach) -> Result<Outcome, Vec<String>> {
    let Some(design) = written::design(design)? else { return Ok(Outcome::Refused) };
    let derived = match derive(&design) {
        Ok(derived) => derived,
        Err(error) => return refused(&error).map(|()| Outcome::Refused),
    };
    let mut flaws = chains::flaws(&derived.design, &derived.layout);
    flaws.extend(parts::flaws(&derived));
    flaws.extend(holes::flaws(&derived));
    flaws.extend(findings(&derived));
    match derive(&design) {
        Ok(again) if format!("{again:?}") == format!("{derived:?}") => {}
        _ => flaws.push("derived again it is something else".to_owned()),
    }
    if reach == Reach::Drawn {
        flaws.extend(drawn(&design, &derived));
    }
    if flaws.is_empty() { Ok(Outcome::Built) } else { Err(flaws) }
}

/// A refusal says why, in words, and never that the program is at fault.
fn refused(error: &DeriveError) -> Result<(), Vec<String>> {
    match error {
        DeriveError::Internal(what) => Err(vec![format!("internal error: {what}")]),
        DeriveError::Faults(faults) if faults.is_empty() => Err(vec!["refused without a fault".to_owned()]),
        DeriveError::Faults(_) => Ok(()),
        DeriveError::Conflicts(conflicts) => {
            let bare = conflicts.iter().any(|it| it.what.is_empty() || it.entries.is_empty());
            if bare || conflicts.is_empty() { Err(vec!["a conflict without words".to_owned()]) } else { Ok(()) }
        }
    }
}

/// Findings come worst first, in words.
fn findings(derived: &Derived) -> Vec<String> {
    let mut flaws = Vec::new();
    let severities: Vec<Severity> = derived.findings.iter().map(|it| it.severity).collect();
    if !severities.is_sorted_by(|a, b| a >= b) {
        flaws.push("the findings do not come worst first".to_owned());
    }
    for finding in &derived.findings {
        let texts = [Some(&finding.what), finding.measured.as_ref(), finding.limit.as_ref(), finding.mend.as_ref()];
        if finding.what.is_empty() || texts.into_iter().flatten().any(|it| it.contains("NaN") || it.contains("inf ")) {
            flaws.push(format!("a finding without sense: {finding:?}"));
        }
    }
    flaws
}

/// The sheets can be laid out, or it is said which view is too large; twice the same bytes.
fn drawn(design: &Design, derived: &Derived) -> Vec<String> {
    let bytes = |derived: &Derived| -> Result<Option<Vec<u8>>, String> {
        match pack(&Scene::from(derived), &PackOptions::default()) {
            Ok(pack) => pdf_pack(&pack.sheets, "random").map(Some).map_err(|error| error.to_string()),
            Err(ComposeError::TooLarge { .. }) => Ok(None),
            Err(error) => Err(error.to_string()),
        }
    };
    let again = derive(design).map_err(|error| error.to_string()).and_then(|again| bytes(&again));
    match (bytes(derived), again) {
        (Ok(one), Ok(other)) if one == other => Vec::new(),
        (Ok(_), Ok(_)) => vec!["drawn again the pages have other bytes".to_owned()],
        (Err(error), _) | (_, Err(error)) => vec![format!("the sheets: {error}")],
    }
}
