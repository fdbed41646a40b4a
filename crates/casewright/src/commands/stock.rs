//! `casewright stock`: the boards in stock as text and CSV; more of them from a table or an old cabinet.

use std::fmt::Write as _;
use std::path::Path;

use casewright_core::Length;
use casewright_core::design::{Board, Design};
use casewright_core::stock::{dismantle, written};
use casewright_core::text::Fault;
use casewright_core::unit::{DecimalMark, Unit};
use casewright_stock::{admitted, read_box, read_table, write_table};

use crate::args::StockOptions;
use crate::failure::{CLEAN, Failure};
use crate::source::Source;
use crate::{files, print};

/// Prints the stock with what is added; writes it as CSV, and the design with what is added, where asked to.
///
/// # Errors
/// The design cannot be read; the table or the line says something that is no board; a file cannot be written.
pub(crate) fn run(options: &StockOptions) -> Result<u8, Failure> {
    let source = Source::read(&options.file)?;
    let design = source.resolve()?;
    let mut added: Vec<Board<Length>> = Vec::new();
    if let Some(table) = &options.add {
        let text = files::read_design(table)?;
        added = read_table(&text, design.unit).map_err(|errors| {
            Failure::of_lines(errors.iter().map(|error| format!("{}: {error}", table.display())).collect())
        })?;
    }
    if let Some(line) = &options.old_box {
        let old = read_box(line, design.unit)
            .map_err(|cause| Failure::usage(format!("`--box`: {cause}"), "see `casewright --help`"))?;
        added.extend(dismantle(&old));
    }
    let known = |name: &str| design.materials.contains_key(name);
    let added = admitted(added, &design.boards, known).map_err(|strange| {
        let known: Vec<&str> = design.materials.keys().map(String::as_str).collect();
        Failure::file(&options.file, strange.to_string(), format!("name one of {}", known.join(", ")))
    })?;
    let mut all = design.boards.clone();
    all.extend(added.iter().cloned());
    print(&text(&all, design.unit))?;
    if let Some(csv) = &options.csv {
        files::write_file(csv, write_table(&all, design.unit).as_bytes())?;
    }
    match (&options.out, added.is_empty()) {
        (Some(out), _) => {
            let text = with_boards(options, &source, &added, design.unit)?;
            files::write_file(out, text.as_bytes())?;
        }
        (None, false) => {
            print("\nTo paste into the boards of the design:\n")?;
            for board in &added {
                print(&format!("        {},\n", entry(&options.file, board, design.unit)?))?;
            }
        }
        (None, true) => {}
    }
    Ok(CLEAN)
}

fn entry(file: &Path, board: &Board<Length>, unit: Unit) -> Result<String, Failure> {
    written(board, unit).to_ron().map_err(|fault| Failure::file(file, fault.to_string(), "please report this"))
}

/// The text of the design with the boards added behind those that it has; all else, comments too, as it was.
fn with_boards(
    options: &StockOptions,
    source: &Source<'_>,
    added: &[Board<Length>],
    unit: Unit,
) -> Result<String, Failure> {
    let file = &options.file;
    let mut design = source.design()?;
    design.boards.extend(added.iter().map(|board| written(board, unit)));
    let internal = |fault: Fault| Failure::file(file, fault.to_string(), "please report this");
    let new = design.to_ron_over(source.text()).map_err(internal)?;
    // What is written must be a design.
    Design::from_ron(&new).map_err(|faults| {
        let cause = faults.first().map_or_else(String::new, ToString::to_string);
        Failure::file(file, format!("with these boards the design is not valid: {cause}"), "change the table")
    })?;
    Ok(new)
}

/// The stock in words, one board a line.
fn text(boards: &[Board<Length>], unit: Unit) -> String {
    let mut out = String::new();
    let named = |length: Length| unit.format_named(length, DecimalMark::Point);
    for board in boards {
        let count = board.quantity.map_or_else(|| "as needed".to_owned(), |it| format!("{it} pieces"));
        let source = board.source.word();
        let (length, width) = (named(board.size.0), named(board.size.1));
        let _ = write!(out, "{}: {length} x {width}, {}, {count}, {source}", board.name, board.material);
        if let Some((start, end, near, far)) = board.spoilt {
            let good = (board.size.0 - start - end, board.size.1 - near - far);
            let _ = write!(out, ", good {} x {}", named(good.0), named(good.1));
        }
        if !board.family.is_empty() {
            let _ = write!(out, ", family {}", board.family);
        }
        let _ = writeln!(out);
    }
    out
}
