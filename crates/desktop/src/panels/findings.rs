//! The bottom strip: what the checks found, worst first, each leading to its place.

use casewright_core::finding::{Finding, Severity};
use egui::{RichText, ScrollArea, Ui};

use super::{Desk, trouble};
use crate::labels;
use crate::pipeline::Trouble;
use crate::selection::Selection;
use crate::theme::Palette;

/// How many there are of each severity.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// What cannot be built.
    pub errors: usize,
    /// What ought to be looked at.
    pub warnings: usize,
    /// What is good to know.
    pub notes: usize,
}

impl Counts {
    /// The counts of all findings and troubles.
    #[must_use]
    pub fn of(findings: &[Finding], troubles: &[Trouble]) -> Self {
        let count = |severity| findings.iter().filter(|finding| finding.severity == severity).count();
        Self {
            errors: count(Severity::Error) + troubles.len(),
            warnings: count(Severity::Warning),
            notes: count(Severity::Note),
        }
    }
}

/// The findings in the order of the list: worst first, and as the checks gave them within a severity.
#[must_use]
pub fn in_order(findings: &[Finding]) -> Vec<&Finding> {
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    sorted
}

/// What a finding leads to: the first bay, thing or part that it is about.
#[must_use]
pub fn leads_to(desk: &Desk<'_>, finding: &Finding) -> Option<Selection> {
    let parts = desk.good.and_then(|good| good.assembly.as_ref());
    finding.about.iter().find_map(|name| {
        if desk.design.carcass.bay.named(name).is_some() {
            Some(Selection::bay(name))
        } else if desk.design.things.contains_key(name) {
            Some(Selection::Thing(name.clone()))
        } else {
            let part = parts?.parts.iter().find(|part| part.number == *name || part.name == *name)?;
            Some(Selection::Part(part.number.clone()))
        }
    })
}

/// The one-line account of a finding: what was found, the value, the limit.
#[must_use]
pub fn line(words: &crate::words::Words, finding: &Finding) -> String {
    let mut line = words.sentence(&finding.what);
    if let Some(measured) = &finding.measured {
        line = format!("{line}  ·  {}", words.say_with("finding-measured", &[("value", &words.sentence(measured))]));
    }
    if let Some(limit) = &finding.limit {
        line = format!("{line}  ·  {}", words.say_with("finding-limit", &[("value", &words.sentence(limit))]));
    }
    line
}

/// Shows the list.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    ScrollArea::vertical().auto_shrink(false).id_salt("findings").show(ui, |ui| {
        let Some(latest) = desk.latest else {
            ui.label(desk.words.say("findings-working"));
            return;
        };
        for trouble in &latest.troubles {
            trouble_row(ui, desk, trouble);
        }
        let findings = in_order(&latest.findings);
        if findings.is_empty() && latest.troubles.is_empty() {
            ui.label(desk.words.say("findings-none"));
        }
        for finding in findings {
            row(ui, desk, finding);
        }
    });
}

/// A trouble in one line, leading to what it comes from; what would mend it stands over the drawing.
fn trouble_row(ui: &mut Ui, desk: &mut Desk<'_>, trouble: &Trouble) {
    let palette = Palette::here(ui);
    let (sign, word) = labels::severity(desk.words, Severity::Error);
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(format!("{sign} {word}")).color(palette.error).strong());
        let field = trouble.because.iter().find_map(|(_, field)| field.as_ref());
        match field.and_then(|field| trouble::owner(desk, field)) {
            Some((_, selection)) => {
                if ui.link(RichText::new(desk.words.sentence(&trouble.what)).color(palette.ink)).clicked() {
                    desk.select(selection);
                }
            }
            None => {
                ui.label(desk.words.sentence(&trouble.what));
            }
        }
    });
}

fn row(ui: &mut Ui, desk: &mut Desk<'_>, finding: &Finding) {
    let palette = Palette::here(ui);
    let (sign, word) = labels::severity(desk.words, finding.severity);
    let colour = palette.severity(finding.severity);
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(format!("{sign} {word}")).color(colour).strong());
        let text = line(desk.words, finding);
        let target = leads_to(desk, finding);
        let response = match &target {
            Some(_) => ui.link(RichText::new(text).color(palette.ink)),
            None => ui.label(text),
        };
        if let Some(source) = &finding.source {
            response.clone().on_hover_text(desk.words.sentence(source));
        }
        if let Some(target) = target.filter(|_| response.clicked()) {
            desk.select(target);
        }
        if let Some(mend) = &finding.mend {
            ui.label(RichText::new(format!("→ {}", desk.words.sentence(mend))).color(palette.ink_soft));
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::{Language, Words};

    fn finding(severity: Severity, what: &str) -> Finding {
        Finding {
            severity,
            check: "fit.width",
            what: what.into(),
            measured: Some("612 mm".into()),
            limit: None,
            source: None,
            mend: None,
            place: None,
            about: Vec::new(),
            field: None,
        }
    }

    #[test]
    fn the_worst_comes_first_and_is_counted() {
        let findings = [
            finding(Severity::Note, "a"),
            finding(Severity::Error, "b"),
            finding(Severity::Warning, "c"),
            finding(Severity::Error, "d"),
        ];
        let order: String = in_order(&findings).iter().map(|finding| finding.what.as_str()).collect();
        assert_eq!(order, "bdca");
        let trouble = Trouble { what: "t".into(), because: Vec::new(), mends: Vec::new() };
        assert_eq!(Counts::of(&findings, &[trouble]), Counts { errors: 3, warnings: 1, notes: 1 });
        assert_eq!(line(&Words::new(Language::English), &findings[0]), "a  ·  measured 612 mm");
    }
}
