//! `casewright rescue`: what can be done with a part that was cut wrong.

use std::path::Path;

use casewright_core::as_built::{DifferenceKind, Way, salvage};
use casewright_core::unit::{DecimalMark, Unit};

use super::length_option;
use crate::failure::{CLEAN, FOUND_ERRORS, Failure};
use crate::print;
use crate::source::Source;

/// Prints the ways out, the least costly first. The exit code is that of findings where there is none.
///
/// # Errors
/// The design cannot be read or solved; there is no such part; a length is none.
pub(crate) fn run(file: &Path, number: &str, size: &(Option<String>, Option<String>)) -> Result<u8, Failure> {
    let source = Source::read(file)?;
    let design = source.design()?.resolve().map_err(|faults| {
        Failure::of_lines(faults.iter().map(|it| it.in_file(&file.display().to_string())).collect())
    })?;
    let work = source.derive()?;
    let part = work.assembly.part(number).ok_or_else(|| {
        let numbers: Vec<&str> = work.assembly.parts.iter().map(|it| it.number.as_str()).collect();
        Failure::usage(format!("there is no part {number:?}"), format!("name one of: {}", numbers.join("; ")))
    })?;
    let unit = design.unit;
    let given =
        |option: &str, text: &Option<String>| text.as_ref().map(|it| length_option(option, it, unit)).transpose();
    let length = given("length", &size.0)?.unwrap_or(part.finished.length);
    let width = given("width", &size.1)?.unwrap_or(part.finished.width);
    let say = |length| unit.format(length, DecimalMark::Point);
    let mut text = format!(
        "{} ({}): planned {} x {}, came out {} x {}\n",
        part.name,
        part.number,
        say(part.finished.length),
        say(part.finished.width),
        say(length),
        say(width)
    );
    if (length, width) == (part.finished.length, part.finished.width) {
        text.push_str("nothing is wrong: it is as planned\n");
        print(&text)?;
        return Ok(CLEAN);
    }
    let ways = salvage(&design, number, length, width);
    for (index, way) in ways.iter().enumerate() {
        text.push_str(&format!("{}. {}\n", index + 1, said(way, number, unit)));
    }
    if ways.is_empty() {
        text.push_str("nothing was found: no board of this material is large enough to cut it again\n");
    }
    print(&text)?;
    Ok(if ways.is_empty() { FOUND_ERRORS } else { CLEAN })
}

fn said(way: &Way, number: &str, unit: Unit) -> String {
    let say = |length| unit.format(length, DecimalMark::Point);
    match way {
        Way::Adapt { changes } => {
            let follows = |it: &&casewright_core::as_built::Difference| it.kind == DifferenceKind::Follows;
            let list: Vec<String> = changes
                .iter()
                .filter(follows)
                .map(|it| format!("{} of {} becomes {} instead of {}", it.which, it.of, say(it.now), say(it.planned)))
                .collect();
            let list = if list.is_empty() { "nothing else changes".to_owned() } else { list.join("; ") };
            format!("keep it, and write it into the design (`as_built: (cut: {{\"{number}\": (...)}})`): {list}")
        }
        Way::Strip { along, width } => {
            format!("glue a strip {} wide along its {along}, and trim it to size", say(*width))
        }
        Way::Becomes { part } => format!("cut {part} out of it, which is not cut yet"),
        Way::CutAgain { board, kept } => {
            let which = if *kept { "the kept board" } else { "a new board" };
            format!("cut it again from {which} {board:?}")
        }
    }
}
