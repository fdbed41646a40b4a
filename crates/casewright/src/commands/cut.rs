//! `casewright cut`: from the boards in stock to a cutting plan.

use std::fmt::Write as _;

use casewright_core::Length;
use casewright_core::expr::{Dim, Scope};
use casewright_core::pipeline::Derived;
use casewright_core::unit::{DecimalMark, Unit};
use casewright_cutting::Effort;

use crate::args::CutOptions;
use crate::cutting::{Lot, TRIM_NEW_SHEETS, plan};
use crate::failure::{CLEAN, FOUND_ERRORS, Failure};
use crate::source::Source;
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
    let work = Source::read(&options.file)?.derive()?;
    let unit = work.design.unit;
    let kerf = options.kerf.as_deref().map_or(Ok(USUAL_KERF), |text| kerf(text, unit))?;
    let effort = options.seconds.map_or(Effort::NORMAL, Effort::seconds);
    let lots = plan(&work, kerf, &effort)
        .map_err(|cause| Failure::file(&options.file, cause, "change the part or the board"))?;
    print(&text(&work, &lots, kerf))?;
    if let Some(csv) = &options.csv {
        files::write_file(csv, &lists::cutting(&work, &lots)?)?;
    }
    let whole = lots.iter().all(|lot| lot.missing.is_empty());
    Ok(if whole { CLEAN } else { FOUND_ERRORS })
}

fn kerf(text: &str, unit: Unit) -> Result<Length, Failure> {
    let wrong = |cause: String| Failure::usage(format!("`--kerf {text}`: {cause}"), "write for example `--kerf 3.2`");
    let length = Dim::new(text).eval(&Scope::empty(unit)).map_err(|error| wrong(error.cause))?;
    if length < Length::ZERO || length > WIDEST_KERF {
        return Err(wrong("a saw cut is between 0 and 20 mm wide".to_owned()));
    }
    Ok(length)
}

/// The plan as text, one board after the other.
fn text(work: &Derived, lots: &[Lot], kerf: Length) -> String {
    let mut out = String::new();
    // Writing to a string cannot fail, so the results are dropped.
    let named = |length: Length| work.design.unit.format_named(length, DecimalMark::Point);
    let _ = writeln!(
        out,
        "{}: {} parts, saw cut {}, raw edges of new sheets trimmed by {}",
        work.design.title,
        work.assembly.parts.len(),
        named(kerf),
        named(TRIM_NEW_SHEETS)
    );
    let mut number = 0;
    for lot in lots {
        let _ = writeln!(out, "\n{}: {}", lot.what, lot.quality());
        for board in &lot.boards {
            number += 1;
            let _ = writeln!(out, "\nboard {number}: {}", board.what);
            for placed in &board.parts {
                let _ = writeln!(
                    out,
                    "  {:<8} {} x {}{}  {}",
                    placed.number,
                    named(placed.length),
                    named(placed.width),
                    if placed.turned { " turned" } else { "" },
                    placed.name
                );
            }
            for cut in &board.cuts {
                let _ = writeln!(out, "  {cut}");
            }
            for offcut in &board.offcuts {
                let _ = writeln!(out, "  remains {} x {}", named(offcut.0), named(offcut.1));
            }
        }
    }
    let mut left_over = false;
    for missing in lots.iter().flat_map(|lot| &lot.missing) {
        if !left_over {
            let _ = writeln!(out, "\nNo board in stock for:");
            left_over = true;
        }
        let _ = writeln!(
            out,
            "  {:<8} {} x {}  {}  ({})",
            missing.number,
            named(missing.length),
            named(missing.width),
            missing.name,
            missing.material
        );
    }
    out
}
