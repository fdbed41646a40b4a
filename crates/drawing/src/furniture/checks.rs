//! The checks sheets: what was found, worst first, each with its number, limit, mend and source, and a small diagram
//! where one helps; then the cautions. A calculation, and no certificate.

use casewright_core::checks::CheckOptions;
use casewright_core::finding::{Finding, Severity};
use kurbo::{Affine, Point, Rect, Shape};

use super::checks_diagram::{Diagrams, SIZE};
use super::scene::Scene;
use crate::breaks::Run;
use crate::display::{Display, Layer, Tone};
use crate::font::{self, HEIGHT_NOTE_MM, LINE_PITCH};
use crate::language::with_commas;
use crate::line::LineClass;
use crate::tag::Tag;
use crate::text::{Anchor, Text};

/// Pitch of lines of text.
const PITCH_MM: f64 = HEIGHT_NOTE_MM * LINE_PITCH;
/// Space inside a card.
const PAD_MM: f64 = 2.0;
/// Between two cards.
const GAP_MM: f64 = 1.5;
/// Width of the words before a line: Measured, Limit, ...
const LABEL_MM: f64 = 17.0;
/// What stands over all.
const PREAMBLE: &str = "Calculations from the design, worst first; no test and no certificate. The maker's manual, local codes and \
                        licensed practice go before these figures. Values from memory or estimated are marked and never decide \
                        alone.";

/// One finding laid out.
struct Card {
    display: Display,
    height: f64,
}

/// The content of the checks sheets: each with its upper left corner at the origin, no wider than `width` and no higher than
/// `height`, in millimetres.
#[must_use]
pub fn check_pages(scene: &Scene<'_>, width: f64, height: f64) -> Vec<Display> {
    let (cautions, found): (Vec<&Finding>, Vec<&Finding>) = scene.findings.iter().partition(|it| it.is_caution());
    let diagrams = Diagrams::new(scene, &CheckOptions::of(scene.design));
    let mut cards =
        vec![words_card(&format!("{} {}", sentence(&scene.say(&summary(&found))), scene.say(PREAMBLE)), width)];
    cards.extend(found.iter().enumerate().map(|(i, it)| finding_card(scene, &diagrams, i + 1, it, width)));
    cards.extend(
        cautions.iter().map(|it| words_card(&format!("{} {}", scene.say("Caution."), scene.say(&it.what)), width)),
    );
    onto_pages(&cards, height)
}

/// The small diagram of each finding of a scene, in millimetres in a box of 44 x 30 with its lower left corner at the origin;
/// none for what a picture says no better than words.
#[must_use]
pub fn finding_diagrams(scene: &Scene<'_>) -> Vec<Option<Display>> {
    let diagrams = Diagrams::new(scene, &CheckOptions::of(scene.design));
    scene.findings.iter().map(|finding| diagrams.beside(finding)).collect()
}

fn summary(found: &[&Finding]) -> String {
    let count = |severity| found.iter().filter(|it| it.severity == severity).count();
    let counted = |count: usize, one: &str| match count {
        0 => format!("no {one}s"),
        1 => format!("1 {one}"),
        _ => format!("{count} {one}s"),
    };
    let (errors, warnings, notes) = (count(Severity::Error), count(Severity::Warning), count(Severity::Note));
    format!("{}, {}, {}.", counted(errors, "error"), counted(warnings, "warning"), counted(notes, "note"))
}

fn onto_pages(cards: &[Card], height: f64) -> Vec<Display> {
    let heights: Vec<f64> = cards.iter().map(|it| it.height).collect();
    let run = Run { heights: &heights, head: 0.0, gap: GAP_MM, stays_with_next: &|_| false };
    let mut left = cards.iter();
    let pages = run.shared(&[], height).into_iter().map(|count| {
        let (mut page, mut used) = (Display::new(), 0.0);
        for card in left.by_ref().take(count) {
            page.append_mapped(&card.display, Affine::translate((0.0, -used)));
            used += card.height + GAP_MM;
        }
        page
    });
    pages.collect()
}

/// A box of plain words.
fn words_card(words: &str, width: f64) -> Card {
    let lines = font::wrapped(words, HEIGHT_NOTE_MM, width - 2.0 * PAD_MM);
    let height = lines.len() as f64 * PITCH_MM + 2.0 * PAD_MM;
    let mut display = Display::new();
    display.rectangle(Layer::Notes, LineClass::Dimension, None, Rect::new(0.0, -height, width, 0.0));
    write_lines(&mut display, &lines, PAD_MM, -PAD_MM, None);
    Card { display, height }
}

fn write_lines(display: &mut Display, lines: &[String], x: f64, top: f64, tag: Option<&Tag>) {
    for (i, line) in lines.iter().enumerate() {
        let base = top - i as f64 * PITCH_MM - HEIGHT_NOTE_MM - 0.6;
        display.text(Layer::Notes, tag.cloned(), Text::new(Point::new(x, base), HEIGHT_NOTE_MM, line.clone()));
    }
}

fn finding_card(scene: &Scene<'_>, diagrams: &Diagrams<'_>, number: usize, finding: &Finding, width: f64) -> Card {
    let diagram = diagrams.beside(finding);
    let words_width = width - 2.0 * PAD_MM - diagram.as_ref().map_or(0.0, |_| SIZE.width + PAD_MM);
    let tag = tag_of(scene, finding);
    // With decimal commas, as everywhere on the sheets (ISO 129-1).
    let said = |text: &str| if scene.speech.is_some() { scene.say(text) } else { with_commas(text) };
    let mut display = Display::new();
    let mut used = PAD_MM;
    let about: Vec<String> = finding.about.iter().take(2).map(|it| scene.say_unless_named(it)).collect();
    let heading = format!("{number}   {}: {}", scene.say(finding.severity.heading()), scene.say(&topic(finding.check)));
    write_lines(&mut display, std::slice::from_ref(&heading), PAD_MM, -used, tag.as_ref());
    let room = width - 3.0 * PAD_MM - font::width_mm(&heading, HEIGHT_NOTE_MM);
    let about = font::shortened(&about.join(", "), HEIGHT_NOTE_MM, room);
    let about_at = Point::new(width - PAD_MM, -used - HEIGHT_NOTE_MM - 0.6);
    display.text(Layer::Notes, tag.clone(), Text::new(about_at, HEIGHT_NOTE_MM, about).anchored(Anchor::End));
    used += PITCH_MM;
    let mut paragraph = |label: &str, words: &str| {
        let indent = if label.is_empty() { 0.0 } else { LABEL_MM };
        let lines = font::wrapped(words, HEIGHT_NOTE_MM, words_width - indent);
        if !label.is_empty() {
            write_lines(&mut display, &[scene.say(label)], PAD_MM, -used, None);
        }
        write_lines(&mut display, &lines, PAD_MM + indent, -used, None);
        used += lines.len() as f64 * PITCH_MM;
    };
    paragraph("", &sentence(&said(&finding.what)));
    let measured = finding.measured.as_deref().map(&said);
    let limit = finding.limit.as_deref().map(&said);
    match (measured, limit) {
        (Some(measured), Some(limit)) => paragraph("Measured", &format!("{measured}; {} {limit}", scene.say("limit"))),
        (Some(measured), None) => paragraph("Measured", &measured),
        (None, Some(limit)) => paragraph("Limit", &limit),
        (None, None) => {}
    }
    if let Some(mend) = &finding.mend {
        paragraph("Mend", &said(mend));
    }
    if let Some(source) = &finding.source {
        paragraph("Source", &scene.say(source));
    }
    let mut height = used + PAD_MM;
    if let Some(diagram) = diagram {
        // In the middle of what is under the heading, which may reach over to the right.
        let heading = PAD_MM + PITCH_MM;
        height = height.max(heading + SIZE.height + PAD_MM);
        let corner = (width - SIZE.width - PAD_MM, -(heading + height + SIZE.height) / 2.0);
        display.append_mapped(&diagram, Affine::translate(corner));
    }
    let frame = Rect::new(0.0, -height, width, 0.0);
    let class = if finding.severity == Severity::Note { LineClass::Dimension } else { LineClass::FrameNarrow };
    display.rectangle(Layer::Notes, class, None, frame);
    if finding.severity != Severity::Note {
        let band = Rect::new(0.0, -PITCH_MM - PAD_MM, width, 0.0);
        display.fill(Layer::Section, Tone::Tint, tag, band.to_path(0.01));
    }
    Card { display, height }
}

/// What a check is about, from its id.
fn topic(id: &str) -> String {
    let (family, rest) = id.split_once('.').unwrap_or((id, ""));
    let family = match family {
        "tip" => "tipping",
        "rack" => "racking",
        "ergo" => "use",
        "handle" => "handling",
        other => other,
    };
    format!("{family}, {}", rest.replace('-', " "))
}

/// What the card belongs to, so that the window leads there.
fn tag_of(scene: &Scene<'_>, finding: &Finding) -> Option<Tag> {
    let name = finding.about.first()?;
    if scene.assembly.parts.iter().any(|part| part.number == *name) {
        return Some(Tag::Part(name.clone()));
    }
    if scene.design.things.contains_key(name) {
        return Some(Tag::Thing(name.clone()));
    }
    scene.layout.bay(name).map(|_| Tag::Bay(name.clone()))
}

/// With a capital first.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPOILT: &str = r#"(
        schema: 1, title: "spoilt", unit: Millimetre(step: 0.5),
        things: { "anvil": (size: (300, 200, 300), mass_kg: 90) },
        materials: {
            "board": (thickness: 18, kind: Particleboard), "thin": (thickness: 10, kind: Particleboard),
            "slab": (thickness: 40, kind: Hardwood, grain: true),
        },
        fittings: { "slide": Slide(mount: Side, length: 300, side_space: 12.7, height: 45, load_kg: 10) },
        carcass: (
            envelope: (width: Fixed(1400), height: Fixed(1500), depth: Fixed(360), from_wall: 100),
            construction: (board: "board", boards: { Shelf: "thin", Front: "slab" }, fronts: Inset, reveal: 2),
            bay: (name: "all", inside: Up(bays: [
                (name: "low", inside: Holds(things: ["anvil"], by: Standing)),
                (name: "papers", height: Fixed(64), inside: Open(), front: (opens: HingedBelow)),
                (name: "drawer", height: Fixed(200), inside: Holds(by: Drawer(slide: "slide")), front: (opens: WithHolding)),
                (name: "high", inside: Open(shelves: 2)),
            ])),
        ),
    )"#;

    #[test]
    fn pages_show_all_findings_worst_first_within_their_frames() {
        let design = casewright_core::design::Design::from_ron(SPOILT).unwrap();
        let derived = casewright_core::pipeline::derive(&design).unwrap();
        let scene = Scene::from(&derived);
        let (width, height) = (172.0, 220.0);
        let pages = check_pages(&scene, width, height);
        assert!(pages.len() > 1);
        let mut headings: Vec<String> = Vec::new();
        for page in &pages {
            let bounds = page.bounds().unwrap();
            assert!(bounds.x0 >= 0.0 && bounds.x1 <= width + 1e-9, "{bounds:?}");
            assert!(bounds.y1 <= 1e-9 && bounds.y0 >= -height, "{bounds:?}");
            assert_eq!(crate::place::collisions(page), [], "texts and lines keep apart");
            let severity =
                |text: &Text| ["   Error: ", "   Warning: ", "   Note: "].iter().any(|it| text.content.contains(it));
            let is_heading = |text: &&Text| severity(text);
            headings.extend(page.texts().filter(is_heading).map(|text| text.content.clone()));
        }
        let rank = |text: &String| ["Error", "Warning", "Note"].iter().position(|it| text.contains(it)).unwrap();
        assert!(headings.windows(2).all(|pair| rank(&pair[0]) <= rank(&pair[1])), "{headings:?}");
        for topic in
            ["sag, shelf", "racking, sideways", "tipping, child", "tipping, wall", "front, turn", "slide, load"]
        {
            assert!(headings.iter().any(|it| it.ends_with(topic)), "{topic}: {headings:?}");
        }
        let counted = derived.findings.iter().filter(|it| !it.is_caution()).count();
        assert_eq!(headings.len(), counted);
        let words: Vec<String> = pages.iter().flat_map(|page| page.texts().map(|it| it.content.clone())).collect();
        assert!(words.join(" ").contains("no test and no certificate"));
        assert!(
            words.iter().any(|it| it.starts_with("sag drawn")) && words.iter().any(|it| it.starts_with("lean drawn"))
        );
        // The same design gives the same sheets.
        assert_eq!(check_pages(&scene, width, height), pages);
    }

    #[test]
    fn decimals_are_commas_and_names_stay() {
        assert_eq!(with_commas("5.8 mm over 566.5, see 3. and b.c"), "5,8 mm over 566,5, see 3. and b.c");
        assert_eq!(sentence("all is well"), "All is well");
    }
}
