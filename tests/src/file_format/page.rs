//! The page: docs/file-format.md as Markdown.

use std::fmt::Write as _;

use super::examples::{self, Example};
use super::types::{Field, Kind, Shape, Sources, Takes, Variant};

/// The source files of the design, below `crates/core/src`, in the order in which the page goes through them.
pub const FILES: [&str; 15] = [
    "design/mod.rs",
    "unit.rs",
    "design/site.rs",
    "design/things.rs",
    "design/boards.rs",
    "design/stock.rs",
    "design/saw.rs",
    "design/supplies.rs",
    "design/fittings.rs",
    "design/carcass.rs",
    "design/bay.rs",
    "design/joints.rs",
    "design/worktop.rs",
    "design/openings.rs",
    "design/assumed.rs",
];

/// Those that come last: what is asked and what is done.
pub const LAST_FILES: [&str; 2] = ["design/arrange.rs", "design/as_built.rs"];

/// What each chapter is called, in the order of the files.
const CHAPTERS: [&str; 17] = [
    "The whole file",
    "The unit",
    "The site",
    "Things",
    "Materials, banding and parts",
    "Boards in stock",
    "The saw",
    "Supplies",
    "Fittings",
    "The carcass",
    "Bays",
    "Joints",
    "The worktop",
    "Openings and leads",
    "What the checks go by",
    "What is asked of proposals",
    "What was measured and what is done",
];

const HEAD: &str = r#"# The design file

Everything that can be written in a design file, made from the program's own types by
`CASEWRIGHT_BLESS=1 cargo test --workspace --test file_format`: do not edit it by hand.
`casewright new my-cabinet.ron` writes a commented file to start from; the [guide](guide/README.md) shows the same without
any file at all.

## How it is written

A design is one text file in [RON](https://docs.rs/ron), UTF-8, named `something.ron`.

- What belongs together stands in round brackets, each value behind its name and a colon, with commas between:
  `(width: 900, height: 2400)`. The order is free; a comma after the last one does no harm.
- Lists stand in square brackets: `["left", "right"]`. Values that have names of your own stand in braces:
  `{"white 18": (...), "birch 15": (...)}`.
- Words of the file, such as `Fixed` or `Plinth`, are written as here, without quotes. Names and texts of your own have
  quotes.
- What can be left out need not be written; below it says what holds then.
- `//` begins a remark to the end of the line. Saving leaves remarks, and all else that no edit concerns, as you wrote it.
- A mistake is told with line and column, and with the nearest name that there is.

## Lengths

A length is a number in the unit of the design, or a text in quotes that may name a unit and reckon with the
[parameters](#design):

    560    560.5    "56 cm"    "22 1/16 in"    "niche - 2 * fit"    "(alcove - 3 * ply) / 2"

Lengths are kept exactly: tenths of a millimetre and sixty-fourths of an inch are never rounded on the way in.
Axes: X to the right along the wall, Y up from the floor, Z out of the wall towards you. Angles are in degrees, masses in
kilograms.

"#;

/// The page, from the sources.
///
/// # Errors
/// Everything that the page cannot be made of: undocumented fields, types without an example.
pub fn page(sources: &Sources) -> Result<String, Vec<String>> {
    let mut faults = sources.faults.clone();
    let reached = sources.reached("Design");
    for name in &reached {
        match sources.kinds.get(name) {
            None => faults.push(format!("{name} is in none of the files that the page reads")),
            Some(kind) => {
                let has_example = examples::all().iter().any(|example| example.of == name);
                if !has_example && !matches!(kind.shape, Shape::Plain) {
                    faults.push(format!("{name} has no example in tests/src/file_format/examples.rs"));
                }
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut page = HEAD.to_owned();
    let chapters = CHAPTERS.iter().zip(&sources.files).map(|(title, (about, names))| {
        let kinds = names.iter().filter(|name| reached.contains(name)).filter_map(|name| sources.kinds.get(name));
        (title, about, kinds.collect::<Vec<_>>())
    });
    let chapters: Vec<_> = chapters.collect();
    page.push_str("## Contents\n\n");
    for (title, _, kinds) in &chapters {
        let names: Vec<String> = kinds.iter().map(|kind| link(&kind.name)).collect();
        let anchor = title.to_lowercase().replace(' ', "-").replace(',', "");
        let _never_fails = writeln!(page, "- [{title}](#{anchor}): {}", names.join(", "));
    }
    for (title, about, kinds) in chapters {
        let about = first_paragraph(about);
        let _never_fails = write!(page, "\n## {title}\n\n{}\n", prose(&about, sources));
        for kind in kinds {
            section(&mut page, kind, sources);
        }
    }
    Ok(page)
}

/// What a file is about, without its own name before the colon of the first line.
fn first_paragraph(about: &str) -> String {
    let first = about.split("\n\n").next().unwrap_or_default().replace('\n', " ");
    let mut letters = first.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn section(page: &mut String, kind: &Kind, sources: &Sources) {
    let _never_fails = write!(page, "\n### {}\n\n{}\n", kind.name, prose(&kind.doc, sources));
    match &kind.shape {
        Shape::Plain => {}
        Shape::Fields(fields) => {
            page.push_str("\n| field | takes | left out | meaning |\n|---|---|---|---|\n");
            fields.iter().for_each(|field| row(page, "", field, sources));
        }
        Shape::Choice(variants) => {
            page.push_str("\n| written | meaning |\n|---|---|\n");
            for variant in variants {
                let usual = if variant.usual { " The usual one." } else { "" };
                let doc = cell(&prose(&variant.doc, sources));
                let _never_fails = writeln!(page, "| {} | {doc}{usual} |", form(variant));
            }
            if variants.iter().any(|variant| !variant.fields.is_empty()) {
                page.push_str("\n| field | takes | left out | meaning |\n|---|---|---|---|\n");
                for variant in variants {
                    let of = format!("{}: ", variant.name);
                    variant.fields.iter().for_each(|field| row(page, &of, field, sources));
                }
            }
        }
    }
    let found = examples::all();
    let mut texts = found.iter().filter(|example| example.of == kind.name).map(|Example { text, .. }| text).peekable();
    if texts.peek().is_some() {
        page.push_str("\nExample:\n\n");
        for text in texts {
            for line in text.lines() {
                let _never_fails = writeln!(page, "{}", format!("    {line}").trim_end());
            }
        }
    }
}

fn row(page: &mut String, of: &str, field: &Field, sources: &Sources) {
    let Field { name, doc, takes, otherwise } = field;
    let otherwise = match otherwise.as_deref() {
        None => "must be given",
        Some("none") => "—",
        Some(said) => said,
    };
    let (takes, doc) = (shown(takes), cell(&prose(doc, sources)));
    let _never_fails = writeln!(page, "| {of}`{name}` | {takes} | {otherwise} | {doc} |");
}

/// How a word of a choice is written, with what stands behind it.
fn form(variant: &Variant) -> String {
    let Variant { name, values, fields, .. } = variant;
    match (values.as_slice(), fields.as_slice()) {
        ([], []) => format!("`{name}`"),
        ([], fields) => {
            let names: Vec<String> = fields.iter().map(|field| format!("{}: …", field.name)).collect();
            format!("`{name}({})`", names.join(", "))
        }
        (values, _) => {
            let shown: Vec<String> = values.iter().map(shown).collect();
            format!("`{name}(`{}`)`", shown.join(", "))
        }
    }
}

/// What a field takes, in words.
fn shown(takes: &Takes) -> String {
    match takes {
        Takes::Length => "[length](#lengths)".to_owned(),
        Takes::Text => "text".to_owned(),
        Takes::Number => "number".to_owned(),
        Takes::Whole => "whole number".to_owned(),
        Takes::YesNo => "`true` or `false`".to_owned(),
        Takes::Of(name) => link(name),
        Takes::Tuple(parts) => {
            let parts: Vec<String> = parts.iter().map(shown).collect();
            format!("({})", parts.join(", "))
        }
        Takes::List(inner) => format!("list of {}", shown(inner)),
        Takes::Map(key, value) => match key.as_ref() {
            Takes::Text => format!("{} by name", shown(value)),
            key => format!("{} by {}", shown(value), shown(key)),
        },
        Takes::Optional(inner) => shown(inner),
    }
}

fn link(name: &str) -> String {
    format!("[{name}](#{})", name.to_lowercase())
}

/// Documentation of the code as text of the page: references lead to the types of the page.
fn prose(text: &str, sources: &Sources) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("[`") {
        let Some((inner, behind)) = after.split_once("`]") else { break };
        out.push_str(before);
        let name = inner.split("::").next().unwrap_or_default();
        let field = inner.rsplit("::").next().unwrap_or_default();
        if sources.kinds.contains_key(name) {
            let _never_fails = write!(out, "[{field}](#{})", name.to_lowercase());
        } else {
            let _never_fails = write!(out, "`{}`", known(inner));
        }
        rest = behind;
    }
    out.push_str(rest);
    out
}

/// A value that the documentation names by its constant.
fn known(name: &str) -> String {
    match name {
        "SCHEMA" => casewright_core::design::SCHEMA.to_string(),
        other => other.to_owned(),
    }
}

/// A text in one cell of a table.
fn cell(text: &str) -> String {
    text.replace('\n', " ").replace('|', "\\|")
}
