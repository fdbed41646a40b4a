//! Lists as tables: columns as wide as their text needs, rows broken over sheets, the heading repeated.

use std::collections::BTreeMap;

use kurbo::{Point, Rect};

use crate::breaks::Run;
use crate::display::{Display, Layer, Tone};
use crate::font::{self, HEIGHT_NOTE_MM};
use crate::line::LineClass;
use crate::tag::Tag;
use crate::text::{Anchor, Text};
use kurbo::Shape;

/// How a column is set.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The heading.
    pub heading: String,
    /// Start for words, End for figures.
    pub align: Anchor,
    /// Whether the column gives way first when the table is too wide: its text is broken into lines.
    pub breaks: bool,
}

impl Column {
    /// A column of words that may be broken into lines.
    #[must_use]
    pub fn words(heading: &str) -> Self {
        Self { heading: heading.to_owned(), align: Anchor::Start, breaks: true }
    }

    /// A column of short codes, never broken unless nothing else helps.
    #[must_use]
    pub fn code(heading: &str) -> Self {
        Self { heading: heading.to_owned(), align: Anchor::Start, breaks: false }
    }

    /// A column of figures, set to the right.
    #[must_use]
    pub fn figures(heading: &str) -> Self {
        Self { heading: heading.to_owned(), align: Anchor::End, breaks: false }
    }
}

/// One row; cells beyond the columns are ignored, missing ones stay blank.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// The cells, one a column.
    pub cells: Vec<String>,
    /// What the row is about.
    pub tag: Option<Tag>,
    /// A heading within the table: only its first cell is set, across the whole width, on a tint.
    pub is_section: bool,
}

/// A list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Row>,
}

/// Clear space between a cell's text and its lines, in millimetres.
const PAD_MM: f64 = 1.5;
/// Pitch of the lines in a cell, in millimetres.
const PITCH_MM: f64 = HEIGHT_NOTE_MM * font::LINE_PITCH;
/// Space above and below the text of a row, in millimetres.
const ROW_PAD_MM: f64 = 1.4;
/// The same where a table would otherwise need a sheet more for its last few rows, the widest that saves it.
const CLOSER_PADS_MM: [f64; 3] = [1.2, 1.0, 0.8];
/// The narrowest that a column may be squeezed to, in millimetres.
const LEAST_MM: f64 = 8.0;

impl Table {
    /// The table broken into pieces, each to be put with its upper left corner at the origin: as many rows as fit into each
    /// of `first_heights_mm` in turn, then `height_mm` each. An empty table is one piece with its heading only. Few rows do
    /// not stand alone: rows are set a little closer if that saves their piece, else the last pieces share alike.
    #[must_use]
    pub fn lay_out(&self, width_mm: f64, first_heights_mm: &[f64], height_mm: f64) -> Vec<Display> {
        let widths = self.widths(width_mm);
        let heading = self.cell_lines(&self.heading(), &widths);
        let rows: Vec<Vec<Vec<String>>> = self.rows.iter().map(|row| self.cell_lines(row, &widths)).collect();
        // A heading within the table must not be the last line of a sheet.
        let stays_with_next = |index: usize| self.rows.get(index).is_some_and(|it| it.is_section);
        let counts = |pad: f64| {
            let heights: Vec<f64> = rows.iter().map(|lines| row_height(lines, pad)).collect();
            let run =
                Run { heights: &heights, head: row_height(&heading, pad), gap: 0.0, stays_with_next: &stays_with_next };
            let filled = run.filled(first_heights_mm, height_mm);
            (run.shared(first_heights_mm, height_mm), run.ends_with_few(&filled, height_mm))
        };
        let (broken, ends_with_few) = counts(ROW_PAD_MM);
        let mut closer = CLOSER_PADS_MM.into_iter().filter(|_| ends_with_few).map(|pad| (pad, counts(pad).0));
        let closer = closer.find(|it| it.1.len() < broken.len());
        let (pad, broken) = closer.unwrap_or((ROW_PAD_MM, broken));
        let mut left = self.rows.iter().zip(&rows);
        let pieces = broken.into_iter().map(|count| {
            let mut piece = Piece::new(&widths, pad);
            piece.heading(self, &heading);
            for (row, lines) in left.by_ref().take(count) {
                piece.row(self, row, lines);
            }
            piece.finish()
        });
        pieces.collect()
    }

    /// The least width at which no word has to be broken, in millimetres.
    #[must_use]
    pub fn least_width_mm(&self) -> f64 {
        self.needs(|column| column.breaks).iter().sum()
    }

    /// What each column needs: for the longest text, or only for the longest word where it `breaks`.
    fn needs(&self, breaks: impl Fn(&Column) -> bool) -> Vec<f64> {
        let columns = self.columns.iter().enumerate();
        columns
            .map(|(index, column)| {
                let cells = self.rows.iter().filter(|row| !row.is_section).filter_map(|row| row.cells.get(index));
                let need = |cell: &String| {
                    if breaks(column) { longest_word(cell) } else { font::width_mm(cell, HEIGHT_NOTE_MM) }
                };
                cells.map(need).fold(longest_word(&column.heading), f64::max) + 2.0 * PAD_MM
            })
            .collect()
    }

    /// The widths of the columns: what the longest text needs, squeezed or spread to the width of the table.
    #[must_use]
    pub fn widths(&self, width_mm: f64) -> Vec<f64> {
        let natural = self.needs(|_| false);
        let total: f64 = natural.iter().sum();
        if total <= width_mm {
            // Words take the rest, or the last column if there are none.
            let takers = self.columns.iter().filter(|column| column.breaks).count();
            let each = (width_mm - total) / takers.max(1) as f64;
            let spread = |index: usize, width: f64| {
                let takes = takers > 0 && self.columns.get(index).is_some_and(|column| column.breaks);
                let last = takers == 0 && index + 1 == natural.len();
                if takes || last { width + each } else { width }
            };
            return natural.iter().enumerate().map(|(index, width)| spread(index, *width)).collect();
        }
        let floors = self.needs(|column| column.breaks);
        let squeezed = squeeze(&natural, &[floors.clone(), self.needs(|_| true)], width_mm);
        self.balanced(squeezed, &floors, &natural)
    }

    /// Widths by which the table is lower: width is taken from columns that do not need it for those whose text breaks most, as
    /// long as that helps. No column becomes narrower than its floor; where nothing is won, the widths stay.
    fn balanced(&self, widths: Vec<f64>, floors: &[f64], natural: &[f64]) -> Vec<f64> {
        /// How much is moved at a time, in millimetres: a word more or less.
        const STEPS_MM: [f64; 3] = [3.0, 9.0, 27.0];
        /// No table of a piece needs as many.
        const MOST_MOVES: usize = 60;
        let mut measure = Measure::of(self);
        let before = measure.height(&widths);
        let mut best = (before, widths.clone());
        for _ in 0..MOST_MOVES {
            let mut next: Option<(Height, Vec<f64>)> = None;
            let columns = || best.1.iter().enumerate();
            let is_over = |than: &[f64], index: usize, width: f64| than.get(index).is_some_and(|it| width > it + 1e-6);
            // Only what could be narrower gives, and only what breaks takes.
            let givers = columns().filter(|it| is_over(floors, it.0, *it.1));
            let takers: Vec<usize> =
                columns().filter(|it| it.1 < natural.get(it.0).unwrap_or(it.1)).map(|it| it.0).collect();
            let pairs = givers.flat_map(|(from, _)| takers.iter().map(move |to| (from, *to)));
            for (from, to) in pairs {
                for step in STEPS_MM {
                    let mut trial = best.1.clone();
                    let (Some(floor), Some(giver)) = (floors.get(from), trial.get_mut(from)) else { continue };
                    *giver -= step;
                    if from == to || *giver < *floor {
                        continue;
                    }
                    if let Some(taker) = trial.get_mut(to) {
                        *taker += step;
                    }
                    let height = measure.height(&trial);
                    if height.is_less(next.as_ref().map_or(best.0, |it| it.0)) {
                        next = Some((height, trial));
                    }
                }
            }
            let Some(found) = next else { break };
            best = found;
        }
        if best.0.lines < before.lines { best.1 } else { widths }
    }

    fn heading(&self) -> Row {
        let cells = self.columns.iter().map(|column| column.heading.clone()).collect();
        Row { cells, tag: None, is_section: false }
    }

    fn cell_lines(&self, row: &Row, widths: &[f64]) -> Vec<Vec<String>> {
        if row.is_section {
            let width: f64 = widths.iter().sum();
            let text = row.cells.first().map_or("", String::as_str);
            return vec![font::wrapped(text, HEIGHT_NOTE_MM, width - 2.0 * PAD_MM)];
        }
        widths
            .iter()
            .enumerate()
            .map(|(index, width)| {
                let text = row.cells.get(index).map_or("", String::as_str);
                // A rounding error in the width that was made for this very text must not break it.
                font::wrapped(text, HEIGHT_NOTE_MM, width - 2.0 * PAD_MM + 1e-6)
            })
            .collect()
    }
}

/// How high a table is.
#[derive(Clone, Copy, Debug)]
struct Height {
    /// The lines of all rows together, each as many as its highest cell, and of the heading.
    lines: usize,
    /// What the lines would be if texts broke anywhere: it falls before a line is won.
    smooth: f64,
}

impl Height {
    fn is_less(self, than: Self) -> bool {
        self.lines < than.lines || (self.lines == than.lines && self.smooth < than.smooth - 1e-6)
    }
}

/// So many rows of a table are looked at when its columns are balanced: those of a long list are like each other.
const ROWS_LOOKED_AT: usize = 200;

/// How high a table is with widths, what was counted once remembered.
struct Measure<'t> {
    /// The texts of the columns, headings first; none in headings within the table.
    texts: Vec<Vec<Option<&'t String>>>,
    /// For each column and width, in micrometres: lines and share of a line of each text.
    known: BTreeMap<(usize, i64), Vec<(usize, f64)>>,
}

impl<'t> Measure<'t> {
    fn of(table: &'t Table) -> Self {
        let columns = table.columns.iter().enumerate();
        let texts = columns.map(|(index, column)| {
            let rows = table.rows.iter().take(ROWS_LOOKED_AT);
            let cells = rows.map(|row| row.cells.get(index).filter(|_| !row.is_section));
            std::iter::once(Some(&column.heading)).chain(cells).collect()
        });
        Self { texts: texts.collect(), known: BTreeMap::new() }
    }

    fn height(&mut self, widths: &[f64]) -> Height {
        let mut rows: Vec<(usize, f64)> = vec![(1, 0.0); self.texts.first().map_or(0, Vec::len)];
        for (index, (width, texts)) in widths.iter().zip(&self.texts).enumerate() {
            let room = width - 2.0 * PAD_MM;
            let count = |text: &String| {
                let lines = font::wrapped(text, HEIGHT_NOTE_MM, room + 1e-6).len();
                (lines, font::width_mm(text, HEIGHT_NOTE_MM) / room.max(1.0))
            };
            let known = self.known.entry((index, (width * 1e3).round() as i64));
            let known = known.or_insert_with(|| texts.iter().map(|it| it.map_or((1, 0.0), count)).collect());
            for (row, (lines, share)) in rows.iter_mut().zip(known) {
                *row = (row.0.max(*lines), row.1.max(*share));
            }
        }
        Height { lines: rows.iter().map(|it| it.0).sum(), smooth: rows.iter().map(|it| it.1).sum() }
    }
}

fn longest_word(text: &str) -> f64 {
    font::words(text).map(|word| font::width_mm(word, HEIGHT_NOTE_MM)).fold(0.0, f64::max)
}

/// Takes what is too much from the columns, by what they can give: down to each of the rows of `floors_mm` in turn; only
/// then within words.
fn squeeze(natural: &[f64], floors_mm: &[Vec<f64>], width_mm: f64) -> Vec<f64> {
    let mut widths = natural.to_vec();
    for floors in floors_mm.iter().chain([&vec![LEAST_MM; natural.len()]]) {
        let total: f64 = widths.iter().sum();
        let excess = total - width_mm;
        if excess <= 0.0 {
            break;
        }
        let give: Vec<f64> = widths.iter().zip(floors).map(|(width, floor)| (width - floor).max(0.0)).collect();
        let can_give: f64 = give.iter().sum();
        if can_give > 0.0 {
            let share = (excess / can_give).min(1.0);
            for (width, give) in widths.iter_mut().zip(&give) {
                *width -= give * share;
            }
        }
    }
    let total: f64 = widths.iter().sum();
    if total > width_mm {
        for width in &mut widths {
            *width *= width_mm / total;
        }
    }
    widths
}

fn row_height(lines: &[Vec<String>], pad_mm: f64) -> f64 {
    let most = lines.iter().map(Vec::len).max().unwrap_or(1).max(1);
    HEIGHT_NOTE_MM + PITCH_MM * (most - 1) as f64 + 2.0 * pad_mm
}

/// The part of a table that goes on one sheet.
struct Piece<'a> {
    display: Display,
    widths: &'a [f64],
    /// Space above and below the text of a row.
    pad: f64,
    depth: f64,
    /// Where the vertical lines between columns run: not through headings within the table.
    ruled: Vec<(f64, f64)>,
}

impl<'a> Piece<'a> {
    fn new(widths: &'a [f64], pad: f64) -> Self {
        Self { display: Display::new(), widths, pad, depth: 0.0, ruled: Vec::new() }
    }

    fn width(&self) -> f64 {
        self.widths.iter().sum()
    }

    fn heading(&mut self, table: &Table, lines: &[Vec<String>]) {
        self.set(table, lines, row_height(lines, self.pad), None, false);
        self.rule(LineClass::FrameWide);
    }

    fn row(&mut self, table: &Table, row: &Row, lines: &[Vec<String>]) {
        let height = row_height(lines, self.pad);
        if row.is_section {
            let tint = Rect::new(0.0, -self.depth - height, self.width(), -self.depth);
            self.display.fill(Layer::Tables, Tone::Tint, row.tag.clone(), tint.to_path(0.1));
        } else if let Some(tag) = &row.tag {
            let area = Rect::new(0.0, -self.depth - height, self.width(), -self.depth);
            self.display.fill(Layer::Areas, Tone::Clear, Some(tag.clone()), area.to_path(0.1));
        }
        self.set(table, lines, height, row.tag.as_ref(), row.is_section);
        self.rule(LineClass::FrameNarrow);
    }

    fn set(&mut self, table: &Table, lines: &[Vec<String>], height: f64, tag: Option<&Tag>, is_section: bool) {
        let mut left = 0.0;
        for (index, cell) in lines.iter().enumerate() {
            let width = if is_section { self.width() } else { self.widths.get(index).copied().unwrap_or_default() };
            let align =
                if is_section { Anchor::Start } else { table.columns.get(index).map_or(Anchor::Start, |c| c.align) };
            let x = match align {
                Anchor::Start => left + PAD_MM,
                Anchor::Middle => left + width / 2.0,
                Anchor::End => left + width - PAD_MM,
            };
            for (line, text) in cell.iter().enumerate() {
                let y = -self.depth - self.pad - HEIGHT_NOTE_MM - PITCH_MM * line as f64;
                if !text.is_empty() {
                    let text = Text::new(Point::new(x, y), HEIGHT_NOTE_MM, text.clone()).anchored(align);
                    self.display.text(Layer::Tables, tag.cloned(), text);
                }
            }
            left += width;
        }
        if !is_section {
            self.ruled.push((self.depth, self.depth + height));
        }
        self.depth += height;
    }

    fn rule(&mut self, class: LineClass) {
        let (from, to) = (Point::new(0.0, -self.depth), Point::new(self.width(), -self.depth));
        self.display.segment(Layer::Tables, class, None, from, to);
    }

    fn finish(mut self) -> Display {
        // Runs of ruled rows, so that a line is drawn once and not row by row.
        let mut runs: Vec<(f64, f64)> = Vec::new();
        for (from, to) in std::mem::take(&mut self.ruled) {
            match runs.last_mut() {
                Some(last) if (last.1 - from).abs() < 1e-9 => last.1 = to,
                _ => runs.push((from, to)),
            }
        }
        let mut left = 0.0;
        for width in self.widths.iter().take(self.widths.len().saturating_sub(1)) {
            left += width;
            for (from, to) in &runs {
                let (from, to) = (Point::new(left, -from), Point::new(left, -to));
                self.display.segment(Layer::Tables, LineClass::FrameNarrow, None, from, to);
            }
        }
        let outline = Rect::new(0.0, -self.depth, self.width(), 0.0);
        self.display.rectangle(Layer::Tables, LineClass::FrameWide, None, outline);
        self.display
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::collisions;

    fn table(rows: usize) -> Table {
        Table {
            columns: vec![
                Column::code("No."),
                Column::words("Name"),
                Column::figures("Length"),
                Column::words("Material and finish"),
            ],
            rows: (0..rows)
                .map(|index| Row {
                    cells: vec![
                        format!("P{index}"),
                        "shelf over the large drawer at the left".into(),
                        format!("{},5", index * 17),
                        "Plywood, beech, oiled on all sides; edges rounded by hand".into(),
                    ],
                    tag: Some(Tag::Part(format!("P{index}"))),
                    is_section: index % 10 == 4,
                })
                .collect(),
        }
    }

    #[test]
    fn every_row_appears_once_and_nothing_collides() {
        for (rows, width) in [(0, 180.0), (3, 180.0), (75, 180.0), (75, 100.0), (20, 390.0)] {
            let table = table(rows);
            let pieces = table.lay_out(width, &[120.0], 220.0);
            for row in table.rows.iter().filter(|row| !row.is_section) {
                let number = &row.cells[0];
                let count: usize =
                    pieces.iter().map(|piece| piece.texts().filter(|text| text.content == *number).count()).sum();
                assert_eq!(count, 1, "{number} of {rows}");
            }
            for (index, piece) in pieces.iter().enumerate() {
                assert_eq!(collisions(piece), []);
                let bounds = piece.bounds().unwrap();
                let room = if index == 0 { 120.0 } else { 220.0 };
                assert!(bounds.height() <= room + 1e-6 && bounds.width() <= width + 1e-6, "{bounds:?}");
                assert!(piece.texts().any(|text| text.content == "Length"), "the heading is on every sheet");
            }
        }
    }

    /// One row too many for a sheet: set closer, they stand on one.
    #[test]
    fn few_rows_do_not_stand_alone() {
        let on_each = |rows: usize| -> Vec<usize> {
            let row = |index: usize| Row { cells: vec![format!("P{index}")], ..Row::default() };
            let table = Table { columns: vec![Column::code("No.")], rows: (0..rows).map(row).collect() };
            let pieces = table.lay_out(100.0, &[], 220.0);
            let count = |piece: &Display| piece.texts().filter(|it| it.content.starts_with('P')).count();
            pieces.iter().map(count).collect()
        };
        // A row is 2.5 mm of text and 2.8 mm of space: 40 rows below the heading; set closest, 52.
        assert_eq!(on_each(40), [40]);
        assert_eq!(on_each(44), [44]);
        assert_eq!(on_each(52), [52]);
        assert_eq!(on_each(70), [40, 30]);
        assert_eq!(on_each(92), [47, 45]);
    }

    /// A code too long for a column is broken between its words before any column is narrower than a word.
    #[test]
    fn a_long_code_is_broken_before_a_word_is() {
        let mut table = table(3);
        let long = "~9/64\" (3.5 mm) × ~1 45/64\" (43.09 mm), from the under face, and again from the over face";
        for row in &mut table.rows {
            row.cells[0] = long.to_owned();
        }
        let pieces = table.lay_out(110.0, &[], 220.0);
        let texts: Vec<&str> =
            pieces.iter().flat_map(|piece| piece.texts()).map(|text| text.content.as_str()).collect();
        for word in ["No.", "Length", "17,5"] {
            assert!(texts.contains(&word), "{word} in {texts:?}");
        }
        let words: Vec<&str> = texts.iter().flat_map(|text| text.split(' ')).collect();
        for word in long.split(' ') {
            assert!(words.contains(&word), "{word} in {words:?}");
        }
    }

    /// Three columns of words, of which one has far more of them: squeezed alike it takes a line more beside cells that are
    /// wide enough with less.
    #[test]
    fn a_column_with_many_words_gets_the_width_of_those_with_few() {
        let long = "27 1/16 in from the lower edge, 31 1/4 in from it, and once more 45 5/8 in from the upper one";
        let row =
            || Row { cells: vec!["shelves uprights".into(), long.into(), "uprights shelves".into()], ..Row::default() };
        let columns = vec![Column::words("Name"), Column::words("Places"), Column::words("Partner")];
        let table = Table { columns, rows: vec![row(), row(), row()] };
        let (natural, floors) = (table.needs(|_| false), table.needs(|column| column.breaks));
        let lines = |widths: &[f64]| Measure::of(&table).height(widths).lines;
        // Wide enough for two lines in the middle with the others at their floors.
        let width = floors[0] + floors[2] + natural[1] * 0.55;
        let alike = squeeze(&natural, std::slice::from_ref(&floors), width);
        let widths = table.widths(width);
        assert_eq!((lines(&alike), lines(&widths)), (1 + 3 * 3, 1 + 3 * 2), "{widths:?} in place of {alike:?}");
        assert!(widths.iter().zip(&floors).all(|(width, floor)| width + 1e-9 >= *floor), "{widths:?}");
        assert!((widths.iter().sum::<f64>() - width).abs() < 1e-6);
    }

    #[test]
    fn columns_fill_the_width() {
        for width in [80.0, 100.0, 180.0, 390.0] {
            let total: f64 = table(5).widths(width).iter().sum();
            assert!((total - width).abs() < 1e-6, "{total} of {width}");
        }
    }
}
