//! Boards in and out of tables: CSV, or what a spreadsheet puts on the clipboard.
//!
//! The first line names the columns, in any order; without one the order is name, material, length, width, quantity. Cells
//! are parted by tabs, semicolons or commas, whichever the first line has. Lengths are written as in a design.

use casewright_core::Length;
use casewright_core::design::{Board, BoardEdge, BoardSource, KeptBand, Role};
use casewright_core::expr::{Dim, Scope};
use casewright_core::unit::{DecimalMark, Unit};

#[cfg(test)]
mod tests;

/// What parts the cells of a table that is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Separator {
    /// For other programs (RFC 4180).
    #[default]
    Comma,
    /// For spreadsheets of countries with decimal commas.
    Semicolon,
    /// For the clipboard: any spreadsheet puts it into columns.
    Tab,
}

impl Separator {
    /// All of them, a tab first: the first that a heading has is what parts its cells.
    pub const ALL: [Self; 3] = [Self::Tab, Self::Semicolon, Self::Comma];

    /// The byte itself.
    #[must_use]
    pub const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
        }
    }
}

/// How a table is written: comma and decimal point, if nothing else is said. [`read_table`] reads every form.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TableForm {
    /// What parts the cells.
    pub separator: Separator,
    /// The mark in lengths and prices.
    pub mark: DecimalMark,
}

impl TableForm {
    /// A file for spreadsheets of a language with this decimal mark.
    #[must_use]
    pub const fn of(mark: DecimalMark) -> Self {
        let separator = match mark {
            DecimalMark::Point => Separator::Comma,
            DecimalMark::Comma => Separator::Semicolon,
        };
        Self { separator, mark }
    }

    /// Text for the clipboard, in a language with this decimal mark.
    #[must_use]
    pub const fn clipboard(mark: DecimalMark) -> Self {
        Self { separator: Separator::Tab, mark }
    }
}

/// One line of a table that is no board.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {cause}; {mend}")]
pub struct TableError {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong.
    pub cause: String,
    /// What to write.
    pub mend: String,
}

/// The columns, in the order in which they are written.
const COLUMNS: [&str; 16] = [
    "name",
    "material",
    "length",
    "width",
    "quantity",
    "thickness",
    "source",
    "family",
    "spoilt start",
    "spoilt end",
    "spoilt near",
    "spoilt far",
    "banded",
    "finish",
    "only for",
    "price",
];

/// The boards of a table.
///
/// # Errors
/// Every line that is no board, with what to write.
pub fn read_table(text: &str, unit: Unit) -> Result<Vec<Board<Length>>, Vec<TableError>> {
    let first = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let separator = Separator::ALL.into_iter().find(|it| first.as_bytes().contains(&it.byte())).unwrap_or_default();
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .delimiter(separator.byte())
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let mut columns: Option<Vec<Option<usize>>> = None;
    let (mut boards, mut errors) = (Vec::new(), Vec::new());
    for (index, record) in reader.records().enumerate() {
        let line =
            record.as_ref().ok().and_then(csv::StringRecord::position).map_or(index + 1, |it| it.line() as usize);
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                errors.push(TableError {
                    line,
                    cause: error.to_string(),
                    mend: "save the table as UTF-8 text".to_owned(),
                });
                continue;
            }
        };
        if record.iter().all(str::is_empty) {
            continue;
        }
        if columns.is_none() {
            match headings(&record, line) {
                Ok(Some(found)) => {
                    columns = Some(found);
                    continue;
                }
                Ok(None) => columns = Some((0..5).map(Some).collect()),
                Err(error) => return Err(vec![error]),
            }
        }
        let row =
            Row { record: &record, columns: columns.as_deref().unwrap_or_default(), line, scope: Scope::empty(unit) };
        match row.board() {
            Ok(board) => boards.push(board),
            Err(error) => errors.push(error),
        }
    }
    if errors.is_empty() { Ok(boards) } else { Err(errors) }
}

/// Which column each cell belongs to, if the line is a heading: it is one when it names a name and a length.
fn headings(record: &csv::StringRecord, line: usize) -> Result<Option<Vec<Option<usize>>>, TableError> {
    let plain = |cell: &str| cell.split('(').next().unwrap_or_default().trim().to_lowercase().replace('_', " ");
    let named = |cell: &str| {
        let cell = plain(cell);
        let same = SAME.iter().find(|(other, _)| *other == cell).map_or(cell.as_str(), |(_, column)| *column);
        COLUMNS.iter().position(|column| *column == same)
    };
    let found: Vec<Option<usize>> = record.iter().map(named).collect();
    let has = |name: &str| found.iter().flatten().any(|it| COLUMNS.get(*it) == Some(&name));
    if !(has("length") || has("name")) {
        return Ok(None);
    }
    if let Some(missing) = ["name", "material", "length", "width"].into_iter().find(|it| !has(it)) {
        let mend = format!("name the columns {}", COLUMNS.join(", "));
        return Err(TableError { line, cause: format!("there is no column {missing:?}"), mend });
    }
    // A column that is not known must not be lost in silence: it may be how many there are.
    if let Some((unknown, _)) = record.iter().zip(&found).find(|(cell, column)| !cell.is_empty() && column.is_none()) {
        let mend = format!("name the columns {}", COLUMNS.join(", "));
        return Err(TableError { line, cause: format!("there is no column {unknown:?} to fill"), mend });
    }
    Ok(Some(found))
}

/// Other words for a column, as tables have them.
const SAME: [(&str, &str); 14] = [
    ("how many", "quantity"),
    ("count", "quantity"),
    ("pieces", "quantity"),
    ("thick", "thickness"),
    ("länge", "length"),
    ("breite", "width"),
    ("anzahl", "quantity"),
    ("stück", "quantity"),
    ("dicke", "thickness"),
    ("stärke", "thickness"),
    ("herkunft", "source"),
    ("sorte", "family"),
    ("oberfläche", "finish"),
    ("preis", "price"),
];

/// One line of a table.
struct Row<'a> {
    record: &'a csv::StringRecord,
    columns: &'a [Option<usize>],
    line: usize,
    scope: Scope,
}

impl Row<'_> {
    fn cell(&self, name: &str) -> &str {
        let column = COLUMNS.iter().position(|it| *it == name);
        let at = self.columns.iter().position(|it| it.is_some() && *it == column);
        at.and_then(|it| self.record.get(it)).unwrap_or_default()
    }

    fn error(&self, name: &str, cause: impl std::fmt::Display, mend: &str) -> TableError {
        TableError { line: self.line, cause: format!("{name}: {cause}"), mend: mend.to_owned() }
    }

    fn length(&self, name: &str) -> Result<Option<Length>, TableError> {
        let text = self.cell(name);
        if text.is_empty() {
            return Ok(None);
        }
        // A spreadsheet of a country with decimal commas writes 560,5.
        let point = text.replace(',', ".");
        let text = if text.matches(',').count() == 1 { point.as_str() } else { text };
        let length = Dim::new(text)
            .eval(&self.scope)
            .map_err(|error| self.error(name, error.cause, "write a length such as 560 or 560.5"))?;
        if length < Length::ZERO {
            return Err(self.error(name, format!("{text} is less than nothing"), "write zero or more"));
        }
        Ok(Some(length))
    }

    fn size(&self, name: &str) -> Result<Length, TableError> {
        match self.length(name)? {
            Some(length) if length > Length::ZERO => Ok(length),
            _ => Err(self.error(name, "there is no size", "write a length above zero")),
        }
    }

    fn board(&self) -> Result<Board<Length>, TableError> {
        for name in ["name", "material"] {
            if self.cell(name).is_empty() {
                return Err(self.error(name, "it is empty", "write it"));
            }
        }
        let mut board =
            Board::new(self.cell("name"), self.cell("material"), (self.size("length")?, self.size("width")?));
        board.thickness = self.length("thickness")?;
        board.family = self.cell("family").to_owned();
        board.finish = self.cell("finish").to_owned();
        board.quantity = match self.cell("quantity") {
            "" => None,
            text => Some(text.parse().map_err(|_| {
                self.error(
                    "quantity",
                    format!("{text} is no count"),
                    "write a whole number, or nothing for as many as needed",
                )
            })?),
        };
        board.source = match self.cell("source").to_lowercase().as_str() {
            "" if board.quantity.is_none() => BoardSource::New,
            "" => BoardSource::Offcut,
            word => (BoardSource::ALL.into_iter().find(|it| it.word() == word))
                .ok_or_else(|| self.error("source", format!("{word:?} is none"), "write new, offcut or salvaged"))?,
        };
        let strips = ["spoilt start", "spoilt end", "spoilt near", "spoilt far"].map(|it| self.length(it));
        let [start, end, near, far] = strips;
        let strips =
            (start?.unwrap_or_default(), end?.unwrap_or_default(), near?.unwrap_or_default(), far?.unwrap_or_default());
        board.spoilt = (strips != Default::default()).then_some(strips);
        if strips.0 + strips.1 >= board.size.0 || strips.2 + strips.3 >= board.size.1 {
            return Err(self.error("spoilt", "nothing is left of the board", "write smaller strips"));
        }
        for item in list(self.cell("banded")) {
            let (edge, band) = item.split_once(':').unwrap_or((item, ""));
            let Some(edge) = BoardEdge::ALL.into_iter().find(|it| it.word() == edge.trim().to_lowercase()) else {
                return Err(self.error(
                    "banded",
                    format!("{edge:?} is no edge"),
                    "write as in `near: white 1 | start: white 1`",
                ));
            };
            board.banded.push(KeptBand { edge, band: band.trim().to_owned() });
        }
        for item in list(self.cell("only for")) {
            let Some(role) = Role::ALL.into_iter().find(|it| format!("{it:?}").eq_ignore_ascii_case(item)) else {
                return Err(self.error(
                    "only for",
                    format!("{item:?} is no role"),
                    "write roles such as `Shelf | Rail`",
                ));
            };
            board.only_for.push(role);
        }
        board.price = match self.cell("price") {
            "" => None,
            text => match text.replace(',', ".").parse::<f64>() {
                Ok(price) if price >= 0.0 && price.is_finite() => Some(price),
                _ => return Err(self.error("price", format!("{text} is no price"), "write a number such as 62.50")),
            },
        };
        Ok(board)
    }
}

fn list(cell: &str) -> impl Iterator<Item = &str> {
    cell.split('|').map(str::trim).filter(|it| !it.is_empty())
}

/// The boards as CSV (RFC 4180, comma and decimal point), as [`read_table`] reads them; good rectangles have no column.
#[must_use]
pub fn write_table(boards: &[Board<Length>], unit: Unit) -> String {
    write_table_as(boards, unit, TableForm::default())
}

/// The same in another form. Heads and words stay as [`read_table`] knows them.
#[must_use]
pub fn write_table_as(boards: &[Board<Length>], unit: Unit, form: TableForm) -> String {
    let number = |length: Length| match unit {
        Unit::Millimetre { .. } => form.mark.put(&length.mm().to_string()),
        Unit::Inch { .. } => {
            // Fine enough that every nanometre reads back.
            let inches = format!("{:.9}", length.mm() / 25.4);
            form.mark.put(inches.trim_end_matches('0').trim_end_matches('.'))
        }
    };
    let strip = |length: Length| if length == Length::ZERO { String::new() } else { number(length) };
    let mut builder = csv::WriterBuilder::new();
    let mut writer = builder.terminator(csv::Terminator::CRLF).delimiter(form.separator.byte()).from_writer(Vec::new());
    // Writing to memory cannot fail, so the results are dropped.
    let _ = writer.write_record(COLUMNS.map(|name| match name {
        "length" | "width" | "thickness" => format!("{name} ({})", unit.symbol()),
        _ => name.to_owned(),
    }));
    for board in boards {
        let (start, end, near, far) = board.spoilt.unwrap_or_default();
        let banded: Vec<String> = (board.banded.iter()).map(|it| format!("{}: {}", it.edge.word(), it.band)).collect();
        let roles: Vec<String> = board.only_for.iter().map(|it| format!("{it:?}")).collect();
        let _ = writer.write_record([
            board.name.clone(),
            board.material.clone(),
            number(board.size.0),
            number(board.size.1),
            board.quantity.map(|it| it.to_string()).unwrap_or_default(),
            board.thickness.map(number).unwrap_or_default(),
            board.source.word().to_owned(),
            board.family.clone(),
            strip(start),
            strip(end),
            strip(near),
            strip(far),
            banded.join(" | "),
            board.finish.clone(),
            roles.join(" | "),
            board.price.map(|it| form.mark.put(&it.to_string())).unwrap_or_default(),
        ]);
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
