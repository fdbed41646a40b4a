//! The lists as CSV: RFC 4180, UTF-8, one head line, lengths as decimal numbers in the design's unit. In English the
//! separator is a comma and the decimal mark a point, for other programs; in German they are semicolon and comma, as
//! spreadsheets of that language expect them.

mod banding;
mod buying;
mod cutting;
mod fittings;
mod parts;

use casewright_core::Length;
use casewright_core::unit::Unit;

pub use banding::banding;
pub use buying::buying;
pub use cutting::cutting;
pub use fittings::fittings;
pub use parts::parts;

use casewright_core::unit::DecimalMark;
use casewright_drawing::Speech;
use casewright_drawing::furniture::Scene;
use casewright_stock::TableForm;

/// A broken invariant of a list.
#[derive(Debug, thiserror::Error)]
#[error("internal error in a list: {0}; please report this")]
pub struct ListError(String);

/// A table with its head line.
pub(crate) struct Table {
    writer: csv::Writer<Vec<u8>>,
}

impl Table {
    /// A table with these columns, their heads said in a language.
    ///
    /// # Errors
    /// None that can happen in memory; an internal error if it does.
    pub(crate) fn new<S: AsRef<str>>(scene: &Scene<'_>, columns: &[S]) -> Result<Self, ListError> {
        Self::with_heads(mark(scene), columns.iter().map(|column| scene.say(column.as_ref())))
    }

    fn with_heads(mark: DecimalMark, heads: impl IntoIterator<Item = String>) -> Result<Self, ListError> {
        let separator = TableForm::of(mark).separator.byte();
        let mut builder = csv::WriterBuilder::new();
        let writer = builder.terminator(csv::Terminator::CRLF).delimiter(separator).from_writer(Vec::new());
        let mut table = Self { writer };
        table.row(heads)?;
        Ok(table)
    }

    /// Adds a row.
    ///
    /// # Errors
    /// A row of another length than the head line: an internal error.
    pub(crate) fn row(&mut self, cells: impl IntoIterator<Item = String>) -> Result<(), ListError> {
        self.writer.write_record(cells.into_iter().map(|cell| harmless(&cell))).map_err(internal)
    }

    /// The bytes of the file.
    ///
    /// # Errors
    /// None that can happen in memory; an internal error if it does.
    pub(crate) fn bytes(self) -> Result<Vec<u8>, ListError> {
        self.writer.into_inner().map_err(|error| internal(error.into_error()))
    }
}

fn internal(error: impl std::fmt::Display) -> ListError {
    ListError(error.to_string())
}

/// The decimal mark of the language of a scene.
pub(crate) fn mark(scene: &Scene<'_>) -> DecimalMark {
    scene.speech.map_or(DecimalMark::Point, Speech::decimal_mark)
}

/// The cell so that no spreadsheet takes a name for a formula.
fn harmless(cell: &str) -> String {
    let number = cell.replacen(',', ".", 1).parse::<f64>().is_ok();
    if !number && cell.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{cell}") } else { cell.to_owned() }
}

/// The head of a column of lengths.
pub(crate) fn head(what: &str, unit: Unit) -> String {
    format!("{what} ({})", unit.symbol())
}

/// A length as a decimal number in the unit: exact in millimetres, to 0.00001 in inches.
pub(crate) fn number(length: Length, unit: Unit, mark: DecimalMark) -> String {
    let text = match unit {
        Unit::Millimetre { .. } => length.mm().to_string(),
        Unit::Inch { .. } => {
            let inches = format!("{:.5}", length.mm() / 25.4);
            inches.trim_end_matches('0').trim_end_matches('.').to_owned()
        }
    };
    decimal(&text, mark)
}

/// A number that was written with a point, with this decimal mark.
pub(crate) fn decimal(number: &str, mark: DecimalMark) -> String {
    mark.put(number)
}

#[cfg(test)]
mod tests;
