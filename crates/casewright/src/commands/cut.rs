//! `casewright cut`: from the boards in stock to a cutting plan.

use std::fmt::Write as _;

use casewright_core::Length;
use casewright_core::expr::{Dim, Scope};
use casewright_core::pipeline::Derived;
use casewright_core::stock::{CutBoard, CuttingPlan, Lot};
use casewright_core::unit::{DecimalMark, Unit};
use casewright_cutting::Effort;
use casewright_drawing::furniture::Scene;
use casewright_pack::lists;
use casewright_stock::{PlanOptions, plan};

use crate::args::CutOptions;
use crate::failure::{CLEAN, FOUND_ERRORS, Failure};
use crate::source::Source;
use crate::{files, print};

/// The widest saw cut that is believed: 20 mm.
const WIDEST_KERF: Length = Length::from_mm(20);

/// Prints the plan, and writes it as CSV where asked to.
///
/// # Errors
/// The design cannot be read or cannot be solved; a size that cannot be cut; the file cannot be written.
pub(crate) fn run(options: &CutOptions) -> Result<u8, Failure> {
    let work = Source::read(&options.file)?.derive()?;
    let unit = work.design.unit;
    let kerf = options.kerf.as_deref().map(|text| kerf(text, unit)).transpose()?;
    let effort = options.seconds.map_or(Effort::NORMAL, Effort::seconds);
    let asked = PlanOptions { kerf, effort, ..PlanOptions::default() };
    let plan = plan(&work.design, &work.assembly, &asked)
        .map_err(|error| Failure::file(&options.file, error.to_string(), "change the part or the board"))?;
    print(&text(&work, &plan))?;
    if let Some(csv) = &options.csv {
        let list = lists::cutting(&Scene::from(&work), &plan).map_err(|error| Failure::cause(csv, &error))?;
        files::write_file(csv, &list)?;
    }
    Ok(if plan.missing().is_empty() { CLEAN } else { FOUND_ERRORS })
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
fn text(work: &Derived, plan: &CuttingPlan) -> String {
    let mut out = String::new();
    // Writing to a string cannot fail, so the results are dropped.
    let named = |length: Length| work.design.unit.format_named(length, DecimalMark::Point);
    let number = |index: usize| work.assembly.parts.get(index).map(|it| it.number.clone()).unwrap_or_default();
    let _ = writeln!(
        out,
        "{}: {} parts, saw cut {}, raw edges of new sheets trimmed by {}",
        work.design.title,
        work.assembly.parts.len(),
        named(plan.kerf),
        named(plan.trim)
    );
    for note in &plan.notes {
        let _ = writeln!(out, "note: {note}");
    }
    if plan.has_no_stock() {
        out += &nothing_to_cut_from(plan);
        bars_text(&mut out, work, plan);
        return out;
    }
    let mut count = 0;
    for lot in &plan.lots {
        let which = if lot.which.is_empty() { String::new() } else { format!(" {}", lot.which) };
        let boards = if lot.boards.len() == 1 { "1 board".to_owned() } else { format!("{} boards", lot.boards.len()) };
        let _ = writeln!(out, "\n{}{which}: {boards}, {}", lot.material, lot.quality_in_words(&number));
        for board in &lot.boards {
            count += 1;
            let _ = writeln!(out, "\nboard {count}: {}", about(work, board));
            board_text(&mut out, work, board);
        }
        spare_text(&mut out, lot, &number);
    }
    let missing = plan.missing();
    if !missing.is_empty() {
        let _ = writeln!(out, "\nNo board in stock for:");
    }
    for part in missing.iter().filter_map(|it| work.assembly.parts.get(*it)) {
        let _ = writeln!(
            out,
            "  {:<8} {} x {}  {}  ({})",
            part.number,
            named(part.cut.length),
            named(part.cut.width),
            part.name,
            part.material
        );
    }
    bars_text(&mut out, work, plan);
    out
}

/// Banding that is sold in bars, one bar after the other. What no bar gives stands among the notes.
fn bars_text(out: &mut String, work: &Derived, plan: &CuttingPlan) {
    let named = |length: Length| work.design.unit.format_named(length, DecimalMark::Point);
    for lot in &plan.bars {
        let _ = writeln!(out, "\n{}: {}", lot.banding, lot.in_words(&named));
        for (count, bar) in (1..).zip(&lot.bars) {
            let _ = writeln!(out, "\nbar {count}:");
            for strip in &bar.strips {
                let Some(part) = work.assembly.parts.get(strip.part) else { continue };
                let _ = writeln!(
                    out,
                    "  {:<8} {}  {}, {} edge",
                    part.number,
                    named(strip.strip),
                    part.name,
                    strip.edge.word()
                );
            }
            let _ = writeln!(out, "  remains {}", named(bar.rest));
        }
    }
}

/// What is said where the design lists no boards: not that anything is impossible, but what to do first.
fn nothing_to_cut_from(plan: &CuttingPlan) -> String {
    let mut out = "\nNo boards are entered yet, so there is nothing to cut from. List sheets and offcuts in the design under \
                   `boards`,\nfor example `boards: [(name: \"new sheet\", material: \"...\", size: (2800, 2070))]`, or read \
                   a table of them:\n`casewright stock FILE --add TABLE --out FILE`.\n\n"
        .to_owned();
    for lot in &plan.lots {
        out.push_str(&format!("{}: {}\n", lot.material, lot.quality_in_words(&|_| String::new())));
    }
    out
}

/// What a board is, in words.
fn about(work: &Derived, board: &CutBoard) -> String {
    let named = |length: Length| work.design.unit.format_named(length, DecimalMark::Point);
    format!("{}, {} x {}", board.title(), named(board.size.0), named(board.size.1))
}

fn board_text(out: &mut String, work: &Derived, board: &CutBoard) {
    let named = |length: Length| work.design.unit.format_named(length, DecimalMark::Point);
    for placed in &board.parts {
        let Some(part) = work.assembly.parts.get(placed.part) else { continue };
        let mut marks = String::new();
        for (set, mark) in [
            (placed.turned, ", turned"),
            (placed.only_to_length, ", only to length"),
            (!placed.keeps.is_empty(), ", keeps old banding"),
            (placed.old_banding > 0, ", old banding off"),
        ] {
            if set {
                marks.push_str(mark);
            }
        }
        let (length, width) = (named(part.cut.length), named(part.cut.width));
        let _ = writeln!(out, "  {:<8} {length} x {width}{marks}  {}", part.number, part.name);
    }
    for cut in &board.cuts {
        let way = if cut.rip { "rip" } else { "crosscut" };
        let _ = writeln!(
            out,
            "  cut {}, fence {}: {way} {} into {} and {}",
            cut.number,
            named(cut.fence),
            cut.what,
            cut.into.0,
            cut.into.1
        );
    }
    for offcut in board.offcuts.iter().filter(|it| it.useful) {
        let again = if offcut.taken { ", used below" } else { "" };
        let _ = writeln!(out, "  remains {} x {}{again}", named(offcut.length), named(offcut.width));
    }
}

fn spare_text(out: &mut String, lot: &Lot, number: &dyn Fn(usize) -> String) {
    if lot.spare.is_empty() {
        return;
    }
    let _ = writeln!(out, "\nif a part is spoilt, these boards still give:");
    for spare in &lot.spare {
        let Some(first) = spare.parts.first() else { continue };
        let others =
            if spare.parts.len() > 1 { format!(" and {} of its size", spare.parts.len() - 1) } else { String::new() };
        let anew = if spare.planned_anew > spare.from_offcuts {
            format!(", {} if planned anew before the first cut", spare.planned_anew)
        } else {
            String::new()
        };
        let _ = writeln!(out, "  {}{others}: {} more from the offcuts{anew}", number(*first), spare.from_offcuts);
    }
}
