//! `casewright cut`: from the boards in stock to a cutting plan.

use std::fmt::Write as _;

use casewright_core::Length;
use casewright_core::expr::{Dim, Scope};
use casewright_core::unit::{DecimalMark, Unit};
use casewright_cutting::Effort;

use crate::args::CutOptions;
use crate::cutting::{Lot, Saw, TRIM_NEW_SHEETS, plan};
use crate::failure::{CLEAN, FOUND_ERRORS, Failure};
use crate::pipeline::{Source, Work};
use crate::{files, lists, print};

/// Width of the saw cut unless told otherwise: 3.2 mm, a common circular saw blade (common practice).
const USUAL_KERF: Length = Length::from_um(3_200);
/// The widest saw cut that is believed: 20 mm.
const WIDEST_KERF: Length = Length::from_mm(20);

/// Prints the plan, and writes it as CSV where asked to.
///
/// # Errors
/// The design cannot be read or cannot be solved; a size that cannot be cut; the file cannot be written.
pub(crate) fn run(options: &CutOptions) -> Result<u8, Failure> {
    let work = Source::read(&options.file)?.work()?;
    let unit = work.design.unit;
    let kerf = options.kerf.as_deref().map_or(Ok(USUAL_KERF), |text| kerf(text, unit))?;
    let effort = options.seconds.map_or(Effort::NORMAL, Effort::seconds);
    let lots = plan(&work, kerf, &effort).map_err(|cause| {
        Failure::file(&options.file, cause, "change the part or the board")
    })?;
    print(&text(&work, &lots, kerf))?;
    if let Some(csv) = &options.csv {
        files::write_file(csv, &lists::cutting(&work, &lots)?)?;
    }
    let whole = lots.iter().all(|lot| lot.missing.is_empty());
    Ok(if whole { CLEAN } else { FOUND_ERRORS })
}

fn kerf(text: &str, unit: Unit) -> Result<Length, Failure> {
    let wrong = |cause: String| Failure::usage(format!("`--kerf {text}`: {cause}"), "write for example `--kerf 3.2`");
    let length = Dim::new(text).eval(&Scope::new(unit)).map_err(|error| wrong(error.cause))?;
    if length < Length::ZERO || length > WIDEST_KERF {
        return Err(wrong("a saw cut is between 0 and 20 mm wide".to_owned()));
    }
    Ok(length)
}
