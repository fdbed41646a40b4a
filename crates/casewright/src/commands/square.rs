//! `casewright square`: nominal diagonals, or what two measured ones say.

use std::path::Path;

use casewright_core::Length;
use casewright_core::squareness::{Frame, Pull, Racked, frames, racked};
use casewright_core::unit::{DecimalMark, Unit};

use super::length_option;
use crate::failure::{CLEAN, FOUND_ERRORS, Failure};
use crate::print;
use crate::source::Source;

/// Prints the diagonals of all boxes and openings, or of two measured ones of the named box or opening what they say.
///
/// The exit code is that of findings where corners are to be pulled.
///
/// # Errors
/// The design cannot be read or solved; there is no such box or opening; a length is none; no frame has such diagonals.
pub(crate) fn run(file: &Path, of: Option<&str>, measured: Option<&(String, String)>) -> Result<u8, Failure> {
    let work = Source::read(file)?.derive()?;
    let unit = work.design.unit;
    let all = frames(&work.layout, &work.assembly);
    let Some((first, second)) = measured else {
        let wanted = all.iter().filter(|frame| of.is_none_or(|name| is_named(frame, name)));
        return print(&wanted.map(|frame| line(frame, unit)).collect::<String>());
    };
    let name = of.ok_or_else(|| {
        Failure::usage(
            "it is not said what the diagonals were measured on",
            "add `--of NAME`, see `casewright square FILE`",
        )
    })?;
    let frame = all.iter().find(|frame| is_named(frame, name)).ok_or_else(|| {
        let names: Vec<&str> = all.iter().map(|frame| frame.name.as_str()).collect();
        Failure::usage(format!("there is no box or opening {name:?}"), format!("name one of: {}", names.join("; ")))
    })?;
    let (first, second) = (length_option("first", first, unit)?, length_option("second", second, unit)?);
    let found = racked(frame.width, frame.height, first, second)
        .map_err(|error| Failure::usage(error.to_string(), "measure once more"))?;
    print(&report(frame, &found, unit))?;
    Ok(if found.pull == Pull::Nothing { CLEAN } else { FOUND_ERRORS })
}

/// Whether a frame is meant: by its whole name, or an opening by that of its bay.
fn is_named(frame: &Frame, name: &str) -> bool {
    frame.name == name || frame.opening_of.as_deref() == Some(name)
}

fn line(frame: &Frame, unit: Unit) -> String {
    let named = |length: Length| unit.format_named(length, DecimalMark::Point);
    format!(
        "{}: {} x {}, diagonals {:.1} mm; a gap runs out {:.2} mm for each mm of difference\n",
        frame.name,
        named(frame.width),
        named(frame.height),
        frame.diagonal.mm(),
        frame.runs_out_per_mm()
    )
}

fn report(frame: &Frame, found: &Racked, unit: Unit) -> String {
    let mut text = line(frame, unit);
    text.push_str(&format!(
        "out of square by {:.3} degrees: the upper edge stands {:.1} mm to the {}\n",
        found.out_of_square_deg.abs(),
        found.lean_mm.abs(),
        if found.lean_mm < 0.0 { "left" } else { "right" }
    ));
    text.push_str(&format!(
        "gaps beside a square front run out by {:.1} mm over the height, {:.1} mm over the width\n",
        found.runs_out_upright_mm, found.runs_out_lying_mm
    ));
    text.push_str(&match found.pull {
        Pull::Nothing => format!("{}\n", found.pull.words()),
        _ => format!("{}, by {:.1} mm\n", found.pull.words(), found.shorten_by_mm),
    });
    if found.sides_off_mm.abs() >= 0.5 {
        text.push_str(&format!(
            "square, both would be {:.1} mm {} than they ought to be: check the sides\n",
            found.sides_off_mm.abs(),
            if found.sides_off_mm > 0.0 { "longer" } else { "shorter" }
        ));
    }
    text
}
