//! `casewright arrange`: several carcasses for the things of a design, each as a design file, and all on an overview sheet.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use casewright_arrange::criteria::{Values, figures, judge};
use casewright_arrange::{
    ArrangeError, Effort, Outcome, Proposal, Request, RequestError, Watch, error_words, propose, search_words,
};
use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use casewright_core::unit::Unit;
use casewright_drawing::furniture::{ProposalCard, Scene, proposal_sheets};
use casewright_drawing::language::names_of;
use casewright_drawing::{Format, Speech, pdf_pack};
use casewright_pack::safe_stem;

use crate::args::ArrangeOptions;
use crate::failure::{CLEAN, FOUND_ERRORS, Failure};
use crate::source::Source;
use crate::{files, print};

/// Ends the search when its time is over.
struct Clock(Option<Instant>);

impl Watch for Clock {
    fn cancelled(&self) -> bool {
        self.0.is_some_and(|end| Instant::now() >= end)
    }
}

/// Writes the proposals and prints what each of them is best at.
///
/// # Errors
/// The design cannot be read; there is nothing to arrange; something cannot be written.
pub(crate) fn run(options: &ArrangeOptions) -> Result<u8, Failure> {
    let source = Source::read(&options.file)?.said_in(options.language);
    let design = source.design()?;
    let request = Request::of(&design, options.bay.as_deref()).map_err(|error| refused(options, &error))?;
    let end = options.seconds.and_then(|it| Instant::now().checked_add(Duration::try_from_secs_f64(it).ok()?));
    let effort = if options.seconds.is_some() { Effort::THOROUGH } else { Effort::NORMAL };
    let outcome = propose(&request, effort, &Clock(end)).map_err(|error| match error {
        ArrangeError::Request(error) => refused(options, &error),
        ArrangeError::TooLarge(what) => Failure::of_lines(vec![format!("{}: {what}", options.file.display())]),
    })?;
    if let Some(lack) = &outcome.lack {
        let speech = Speech::new(options.language, names_of(&design));
        let sentences: Vec<String> = lack.sentences(&request).iter().map(|it| speech.say(it)).collect();
        print(&format!("{}: {}\n", options.file.display(), sentences.join("\n  ")))?;
        return Ok(FOUND_ERRORS);
    }
    if outcome.proposals.is_empty() {
        let cause = "no carcass was found that can be built";
        return Err(Failure::file(&options.file, cause, "give it more time with `--seconds`, or free more things"));
    }
    write(options, &source, &design, &outcome)
}

/// The text of a proposal: that of the design with another carcass, under a line that says what it is best at.
fn over(proposal: &Design, source: &Source<'_>, line: &str) -> Result<String, Failure> {
    let text = source.text().trim_start_matches('\u{feff}');
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let text = format!("// {line}{end}{text}");
    proposal.to_ron_over(&text).map_err(|fault| Failure::of_lines(vec![fault.to_string()]))
}

fn refused(options: &ArrangeOptions, error: &RequestError) -> Failure {
    Failure::of_lines(error.to_string().lines().map(|line| format!("{}: {line}", options.file.display())).collect())
}

/// The design as it was given, to compare with; none if it does not hold all its things yet.
fn as_it_stands(design: &Design) -> Option<Derived> {
    let derived = derive(design).ok()?;
    let holds = |name: &String| derived.layout.things.iter().any(|it| it.name == *name);
    (design.things.keys().all(holds) && !design.carcass.bay.children().is_empty()).then_some(derived)
}

fn said(values: &Values, unit: Unit) -> String {
    figures(values).map(|(it, value)| it.say(value, unit)).collect::<Vec<_>>().join(", ")
}

fn write(options: &ArrangeOptions, source: &Source<'_>, design: &Design, outcome: &Outcome) -> Result<u8, Failure> {
    let stem = safe_stem(&options.file);
    let out = match &options.out {
        Some(out) => out.clone(),
        None => options.file.parent().map(PathBuf::from).unwrap_or_default().join(format!("{stem}-proposals")),
    };
    let speak = |it: &Derived| Scene::from(it).speech_of(options.language);
    let speeches: Vec<Speech> = outcome.proposals.iter().map(|it| speak(&it.derived)).collect();
    let mut written = Vec::new();
    let mut text = String::new();
    for (index, (proposal, speech)) in outcome.proposals.iter().zip(&speeches).enumerate() {
        let line = speech.say(&proposal.line());
        let name = format!("{stem}-proposal-{}.ron", index + 1);
        let ron = over(&proposal.design, source, &line)?;
        written.push((name.clone(), ron.into_bytes()));
        text.push_str(&format!("{}: {line}\n", out.join(&name).display()));
        for line in about(proposal) {
            text.push_str(&format!("    {}\n", speech.say(&line)));
        }
    }
    let own = as_it_stands(design);
    let own_speech = own.as_ref().map(speak);
    let own = own.iter().zip(&own_speech).map(|(it, speech)| ProposalCard {
        scene: Scene::from(it).in_language(speech),
        heading: "As it stands".to_owned(),
        lines: vec![said(&judge(it), design.unit)],
    });
    let proposed = outcome.proposals.iter().zip(&speeches).enumerate().map(|(index, (it, speech))| ProposalCard {
        scene: Scene::from(&it.derived).in_language(speech),
        heading: format!("Proposal {}", index + 1),
        lines: std::iter::once(it.line()).chain(about(it)).collect(),
    });
    let cards: Vec<ProposalCard<'_>> = own.chain(proposed).collect();
    let sheets = proposal_sheets(&cards, Format::A3);
    let pdf = pdf_pack(&sheets, "Proposals").map_err(|error| Failure::cause(&options.file, &error))?;
    let overview = format!("{stem}-proposals.pdf");
    text.push_str(&format!("{}\n", out.join(&overview).display()));
    written.push((overview, pdf));
    files::write_into_folder(&out, &written)?;
    let end = search_words(outcome.is_complete);
    let more = if outcome.is_complete { "" } else { "; more with `--seconds`" };
    text.push_str(&format!("{}\n", options.language.say(&format!("{end}{more}"))));
    print(&text)?;
    Ok(if outcome.proposals.iter().any(|it| it.errors > 0) { FOUND_ERRORS } else { CLEAN })
}

/// The figures of a proposal, and what it leaves out.
fn about(proposal: &Proposal) -> Vec<String> {
    let mut lines = vec![said(&proposal.values, proposal.design.unit)];
    if !proposal.left_out.is_empty() {
        lines.push(format!("without {}", proposal.left_out.join(", ")));
    }
    lines.extend(error_words(proposal.errors));
    lines
}
