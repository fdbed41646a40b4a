//! The cutting plan as a list.

use super::{Table, head, number};
use crate::cutting::{Lot, Placed};
use crate::failure::Failure;
use casewright_core::pipeline::Derived;

/// One row for each part: the board that it comes from and its place on it; no board for a part that found none.
///
/// # Errors
/// Internal errors only.
pub(crate) fn cutting(work: &Derived, lots: &[Lot]) -> Result<Vec<u8>, Failure> {
    let unit = work.design.unit;
    let mut table = Table::new(&[
        "material".to_owned(),
        "board".to_owned(),
        "copy".to_owned(),
        "part".to_owned(),
        "part name".to_owned(),
        head("cut length", unit),
        head("cut width", unit),
        head("from start", unit),
        head("from near edge", unit),
        "turned".to_owned(),
    ])?;
    let mut row = |board: &str, copy: String, placed: &Placed, found: bool| {
        let place = |length| if found { number(length, unit) } else { String::new() };
        table.row([
            placed.material.clone(),
            board.to_owned(),
            copy,
            placed.number.clone(),
            placed.name.clone(),
            number(placed.length, unit),
            number(placed.width, unit),
            place(placed.x),
            place(placed.y),
            if placed.turned { "yes" } else { "" }.to_owned(),
        ])
    };
    for lot in lots {
        for board in &lot.boards {
            for placed in &board.parts {
                row(&board.name, board.copy.to_string(), placed, true)?;
            }
        }
        for placed in &lot.missing {
            row("", String::new(), placed, false)?;
        }
    }
    table.bytes()
}
