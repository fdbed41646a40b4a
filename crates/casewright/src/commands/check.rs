//! `casewright check`: the findings as text.

use std::path::Path;

use casewright_core::finding::{Finding, Severity};
use casewright_core::pipeline::Derived;
use casewright_drawing::furniture::Scene;
use casewright_drawing::{Language, Speech};

use crate::failure::{CLEAN, FOUND_ERRORS, Failure};
use crate::print;
use crate::source::Source;

/// Prints the findings, worst first, and a line that sums them up.
///
/// # Errors
/// The design cannot be read or cannot be solved.
pub(crate) fn run(file: &Path, language: Language) -> Result<u8, Failure> {
    let source = Source::read(file)?.said_in(language);
    let work = source.derive()?;
    let index = source.index();
    let speech = Scene::from(&work).speech_of(language);
    let mut text = String::new();
    for finding in &work.findings {
        text.push_str(&line(finding, &source.place(finding.field.as_ref(), &index), &speech));
        text.push('\n');
    }
    text.push_str(&format!("{}: {}\n", file.display(), summary(&work, &speech)));
    print(&text)?;
    Ok(if work.findings.iter().any(|finding| finding.severity == Severity::Error) { FOUND_ERRORS } else { CLEAN })
}

/// One finding as a line: `place: severity: what (measured; limit; source) [check]; mend`.
fn line(finding: &Finding, place: &str, speech: &Speech) -> String {
    let heads = match speech.language() {
        Language::German => ["", "Grenze ", "Quelle: "],
        Language::English => ["", "limit ", "source: "],
    };
    let known = heads.into_iter().zip([&finding.measured, &finding.limit, &finding.source]);
    let known: Vec<String> =
        known.filter_map(|(head, value)| value.as_ref().map(|value| format!("{head}{}", speech.say(value)))).collect();
    let mut line = format!("{place}: {}: {}", severity(finding.severity, speech), speech.say(&finding.what));
    if !known.is_empty() {
        line.push_str(&format!(" ({})", known.join("; ")));
    }
    line.push_str(&format!(" [{}]", finding.check));
    if let Some(mend) = &finding.mend {
        line.push_str(&format!("; {}", speech.say(mend)));
    }
    line
}

fn severity(severity: Severity, speech: &Speech) -> String {
    match speech.language() {
        Language::English => severity.word().to_owned(),
        Language::German => speech.say(severity.heading()),
    }
}

fn summary(work: &Derived, speech: &Speech) -> String {
    let count = |severity: Severity| {
        let number = work.findings.iter().filter(|finding| finding.severity == severity).count();
        let more = if number == 1 { "" } else { "s" };
        speech.say(&format!("{number} {}{more}", severity.word()))
    };
    [Severity::Error, Severity::Warning, Severity::Note].map(count).join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines() {
        let english = Speech::new(Language::English, Vec::new());
        let mut finding = Finding {
            severity: Severity::Warning,
            check: "shelf.sag",
            what: "the shelf sags".to_owned(),
            measured: Some("4 mm".to_owned()),
            limit: Some("3 mm".to_owned()),
            source: Some("common practice".to_owned()),
            mend: Some("take a thicker board".to_owned()),
            place: None,
            about: Vec::new(),
            field: None,
        };
        assert_eq!(
            line(&finding, "a.ron:3:4", &english),
            "a.ron:3:4: warning: the shelf sags (4 mm; limit 3 mm; source: common practice) [shelf.sag]; \
             take a thicker board"
        );
        finding.measured = None;
        finding.limit = None;
        finding.source = None;
        finding.mend = None;
        assert_eq!(line(&finding, "a.ron", &english), "a.ron: warning: the shelf sags [shelf.sag]");
    }
}
