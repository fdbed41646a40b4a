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
    let symbol = unit.symbol();
    format!(
        "{}: {} x {}, diagonals {}; a gap runs out {:.2} {symbol} for each {symbol} of difference\n",
        frame.name,
        named(frame.width),
        named(frame.height),
        tenth(frame.diagonal.mm(), unit),
        frame.runs_out_per_mm()
    )
}

/// What is measured, to a tenth of a millimetre, in the unit of the design.
fn tenth(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetre { .. } => format!("{mm:.1} mm"),
        Unit::Inch { .. } => {
            unit.format_named(Length::from_mm_f64(mm).rounded_to(Length::from_um(100)), DecimalMark::Point)
        }
    }
}

fn report(frame: &Frame, found: &Racked, unit: Unit) -> String {
    let mut text = line(frame, unit);
    text.push_str(&format!(
        "out of square by {:.3} degrees: the upper edge stands {} to the {}\n",
        found.out_of_square_deg.abs(),
        tenth(found.lean_mm.abs(), unit),
        if found.lean_mm < 0.0 { "left" } else { "right" }
    ));
    text.push_str(&format!(
        "gaps beside a square front run out by {} over the height, {} over the width\n",
        tenth(found.runs_out_upright_mm, unit),
        tenth(found.runs_out_lying_mm, unit)
    ));
    text.push_str(&match found.pull {
        Pull::Nothing => format!("{}\n", found.pull.words()),
        _ => format!("{}, by {}\n", found.pull.words(), tenth(found.shorten_by_mm, unit)),
    });
    if found.sides_off_mm.abs() >= 0.5 {
        text.push_str(&format!(
            "square, both would be {} {} than they ought to be: check the sides\n",
            tenth(found.sides_off_mm.abs(), unit),
            if found.sides_off_mm > 0.0 { "longer" } else { "shorter" }
        ));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1663.1 mm / 25.4 = 65.477 inches, of which 65 15/32 = 65.469 is the nearest 1/32.
    #[test]
    fn diagonals_follow_the_unit() {
        let inch = Unit::inch(32).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(tenth(1663.12, inch), "~65 15/32\" (1663.1 mm)");
        assert_eq!(tenth(1663.12, Unit::default()), "1663.1 mm");
    }
}
