//! Full size on several A4 pages: tiles with register marks, numbers and test lengths.
//!
//! ```
//! use casewright_drawing::tiles::tile_full_size;
//! use casewright_drawing::{Display, Layer, LineClass, TitleBlock, kurbo::Rect};
//!
//! let mut template = Display::new();
//! template.rectangle(Layer::Outline, LineClass::VisibleOutline, None, Rect::new(0.0, 0.0, 500.0, 120.0));
//! let tiles = tile_full_size("Sink cut-out", "lay the left edge on the datum", &template, &TitleBlock::default());
//! assert_eq!((tiles.columns, tiles.rows), (3, 1));
//! let sheets = tiles.into_sheets();
//! ```
//!
//! The content counts real millimetres, wherever its origin is; texts and arrows keep their paper size. Every page
//! shows a window of 180 × 254 mm and 3 mm beyond it; a cross in a circle stands at each corner of the window and in the
//! middle of each side that another page joins. Neighbouring windows share those marks: cut one page along them, lay them on
//! those of the other. A page that would show nothing is left out.

use kurbo::{BezPath, Circle, Point, Rect, Shape, Vec2};

use crate::display::{Display, Item, Layer, Mark, Tone, segments};
use crate::font::{self, HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM};
use crate::language::Language;
use crate::line::LineClass;
use crate::sheet::{Format, Sheet};
use crate::text::{Anchor, Text};
use crate::title_block::TitleBlock;

/// The window of a page, in millimetres from its lower left corner.
pub const WINDOW: Rect = Rect::new(20.0, 30.0, 200.0, 284.0);
/// How far the content runs on past the window, in millimetres.
pub const BLEED_MM: f64 = 3.0;
/// Half the width of a register mark, in millimetres.
const ARM_MM: f64 = 4.5;
/// The two lengths to measure on each page after printing, in millimetres.
pub const TEST_LENGTH_MM: f64 = 100.0;
/// Where the level test length begins.
pub const TEST_LEVEL: Point = Point::new(20.0, 10.0);
/// Where the upright test length begins.
pub const TEST_UPRIGHT: Point = Point::new(11.0, 40.0);

/// One page of a full-size print.
#[derive(Clone, Debug, PartialEq)]
pub struct Tile {
    /// Its number, from 1, along the rows from below.
    pub number: usize,
    /// Its row, from 1, from below.
    pub row: usize,
    /// Its column, from 1, from the left.
    pub column: usize,
    /// What to add to a point of the content to find it on the page.
    pub page_from_content: Vec2,
    /// The page.
    pub sheet: Sheet,
}

/// A full-size print on several pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Tiles {
    /// How many pages lie side by side.
    pub columns: usize,
    /// How many pages lie one above another.
    pub rows: usize,
    /// The pages that show something.
    pub tiles: Vec<Tile>,
}

impl Tiles {
    /// The pages as sheets.
    #[must_use]
    pub fn into_sheets(self) -> Vec<Sheet> {
        self.tiles.into_iter().map(|tile| tile.sheet).collect()
    }
}

/// Lays full-size content over as many A4 pages as it needs. `name` is printed on each, `note` under it; the title block
/// gives the sheet its owner, title and number. Empty content gives no page.
#[must_use]
pub fn tile_full_size(name: &str, note: &str, content: &Display, title_block: &TitleBlock) -> Tiles {
    let Some(bounds) = content.bounds() else { return Tiles { columns: 0, rows: 0, tiles: Vec::new() } };
    let count = |size: f64, window: f64| ((size - 1e-6) / window).ceil().max(1.0) as usize;
    let (columns, rows) = (count(bounds.width(), WINDOW.width()), count(bounds.height(), WINDOW.height()));
    let whole = Vec2::new(WINDOW.width() * columns as f64, WINDOW.height() * rows as f64);
    // The content stands in the middle of all windows.
    let corner = bounds.center() - whole / 2.0;
    let mut found: Vec<(usize, usize, Vec2, Display)> = Vec::new();
    for row in 1..=rows {
        for column in 1..=columns {
            let step = Vec2::new(WINDOW.width() * (column - 1) as f64, WINDOW.height() * (row - 1) as f64);
            let page_from_content = WINDOW.origin() - (corner + step);
            let shown = part_of(content, page_from_content);
            if !shown.items.is_empty() {
                found.push((row, column, page_from_content, shown));
            }
        }
    }
    let language = Language::of_code(&title_block.language).unwrap_or_default();
    let cells: Vec<(usize, usize)> = found.iter().map(|(row, column, ..)| (*row, *column)).collect();
    let tiles = found.into_iter().enumerate().map(|(index, (row, column, page_from_content, shown))| {
        let block = TitleBlock {
            supplementary_title: name.to_owned(),
            document_type: language.say("Full-size template"),
            scale: "1:1".to_owned(),
            ..title_block.clone()
        };
        let mut sheet = Sheet::new(Format::A4, block);
        sheet.is_plain = true;
        sheet.content = shown;
        register_marks(&mut sheet.content, &cells, (row, column));
        test_lengths(&mut sheet.content, language);
        let heading = if cells.len() > 1 {
            let page = language.say(&format!("page {} of {}", index + 1, cells.len()));
            format!("{name}: {page}")
        } else {
            name.to_owned()
        };
        strip(&mut sheet.content, heading, note, &cells, index, (columns, rows), language);
        Tile { number: index + 1, row, column, page_from_content, sheet }
    });
    Tiles { columns, rows, tiles: tiles.collect() }
}

/// What a page shows of the content.
fn part_of(content: &Display, page_from_content: Vec2) -> Display {
    let room = WINDOW.inflate(BLEED_MM, BLEED_MM);
    let mut shown = Display::new();
    for item in &content.items {
        let item = item.mapped(kurbo::Affine::translate(page_from_content));
        let mark = match item.mark {
            Mark::Stroke { path, class } => {
                let path = clip_stroke(&path, room);
                (!path.elements().is_empty()).then_some(Mark::Stroke { path, class })
            }
            Mark::Fill { path, tone } => {
                let path = clip_area(&path, room);
                (!path.elements().is_empty()).then_some(Mark::Fill { path, tone })
            }
            // Each text stands whole on the one page that holds its middle.
            Mark::Text(text) => holds(text.bounds().center()).then(|| Mark::Text(moved_in(text))),
            Mark::Arrow(arrow) => holds(arrow.tip).then_some(Mark::Arrow(arrow)),
        };
        if let Some(mark) = mark {
            shown.items.push(Item { layer: item.layer, tag: item.tag, mark });
        }
    }
    shown
}

/// Whether a point is shown on this page and on no other.
fn holds(point: Point) -> bool {
    (WINDOW.x0..WINDOW.x1).contains(&point.x) && (WINDOW.y0..WINDOW.y1).contains(&point.y)
        // The outermost points lie on the far side of the last window.
        || WINDOW.inflate(1e-6, 1e-6).contains(point)
}

/// A text moved so far that it lies in the window and off the places of register marks.
fn moved_in(text: Text) -> Text {
    let mut text = within_window(text);
    for mark in mark_places() {
        const CLEAR_MM: f64 = 0.5;
        let taken = Rect::from_center_size(mark, (2.0 * ARM_MM, 2.0 * ARM_MM)).inflate(CLEAR_MM, CLEAR_MM);
        let bounds = text.bounds();
        let overlap = taken.intersect(bounds);
        if overlap.width() <= 0.0 || overlap.height() <= 0.0 {
            continue;
        }
        // The shortest way out of it that stays in the window.
        let mut ways = [
            Vec2::new(taken.x0 - bounds.x1, 0.0),
            Vec2::new(taken.x1 - bounds.x0, 0.0),
            Vec2::new(0.0, taken.y0 - bounds.y1),
            Vec2::new(0.0, taken.y1 - bounds.y0),
        ];
        ways.sort_by(|a, b| a.hypot().total_cmp(&b.hypot()));
        if let Some(way) = ways.into_iter().find(|way| WINDOW.contains_rect(bounds + *way)) {
            text = Text { at: text.at + way, ..text };
        }
    }
    text
}

/// Where a page may have register marks, whichever pages join it.
fn mark_places() -> [Point; 8] {
    let (w, middle) = (WINDOW, WINDOW.center());
    [
        Point::new(w.x0, w.y0),
        Point::new(w.x1, w.y0),
        Point::new(w.x0, w.y1),
        Point::new(w.x1, w.y1),
        Point::new(w.x0, middle.y),
        Point::new(w.x1, middle.y),
        Point::new(middle.x, w.y0),
        Point::new(middle.x, w.y1),
    ]
}

/// A text moved so far that it lies in the window.
fn within_window(text: Text) -> Text {
    const FROM_SIDE_MM: f64 = 1.0;
    let bounds = text.bounds();
    let by = |low: f64, high: f64, from: f64, to: f64| {
        if low < from + FROM_SIDE_MM {
            from + FROM_SIDE_MM - low
        } else if high > to - FROM_SIDE_MM {
            to - FROM_SIDE_MM - high
        } else {
            0.0
        }
    };
    let shift =
        Vec2::new(by(bounds.x0, bounds.x1, WINDOW.x0, WINDOW.x1), by(bounds.y0, bounds.y1, WINDOW.y0, WINDOW.y1));
    Text { at: text.at + shift, ..text }
}

/// The pieces of a path that lie in a box; curves are flattened to a hundredth of a millimetre.
fn clip_stroke(path: &BezPath, room: Rect) -> BezPath {
    let bounds = path.bounding_box();
    if room.contains_rect(bounds) {
        return path.clone();
    }
    let mut clipped = BezPath::new();
    let mut last: Option<Point> = None;
    for (from, to) in segments(path) {
        let Some((from, to)) = clip_segment(room, from, to) else { continue };
        if last.is_none_or(|point| point.distance(from) > 1e-9) {
            clipped.move_to(from);
        }
        clipped.line_to(to);
        last = Some(to);
    }
    clipped
}

/// The piece of a straight line that lies in a box (Liang and Barsky 1984).
fn clip_segment(room: Rect, from: Point, to: Point) -> Option<(Point, Point)> {
    let along = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (step, before, after) in
        [(along.x, room.x0 - from.x, room.x1 - from.x), (along.y, room.y0 - from.y, room.y1 - from.y)]
    {
        if step == 0.0 {
            if before > 0.0 || after < 0.0 {
                return None;
            }
            continue;
        }
        let (one, two) = (before / step, after / step);
        enter = enter.max(one.min(two));
        leave = leave.min(one.max(two));
    }
    (enter < leave).then(|| (from + along * enter, from + along * leave))
}

/// What of a filled area lies in a box: cut along one side after the other (Sutherland and Hodgman 1974). Each closed
/// outline is cut by itself.
fn clip_area(path: &BezPath, room: Rect) -> BezPath {
    if room.contains_rect(path.bounding_box()) {
        return path.clone();
    }
    let mut clipped = BezPath::new();
    for outline in outlines(path) {
        let mut points = outline;
        for side in 0..4 {
            let inside = |point: Point| match side {
                0 => point.x - room.x0,
                1 => room.x1 - point.x,
                2 => point.y - room.y0,
                _ => room.y1 - point.y,
            };
            let mut kept = Vec::with_capacity(points.len() + 4);
            for (index, &to) in points.iter().enumerate() {
                let before = if index == 0 { points.len() - 1 } else { index - 1 };
                let Some(&from) = points.get(before) else { continue };
                let (a, b) = (inside(from), inside(to));
                if (a < 0.0) != (b < 0.0) {
                    kept.push(from.lerp(to, a / (a - b)));
                }
                if b >= 0.0 {
                    kept.push(to);
                }
            }
            points = kept;
        }
        for (index, point) in points.iter().enumerate() {
            if index == 0 {
                clipped.move_to(*point);
            } else {
                clipped.line_to(*point);
            }
        }
        if !points.is_empty() {
            clipped.close_path();
        }
    }
    clipped
}

/// The outlines of a path as corners.
fn outlines(path: &BezPath) -> Vec<Vec<Point>> {
    let mut all: Vec<Vec<Point>> = Vec::new();
    kurbo::flatten(path.iter(), 0.01, |element| match element {
        kurbo::PathEl::MoveTo(point) => all.push(vec![point]),
        kurbo::PathEl::LineTo(point) => {
            if let Some(last) = all.last_mut() {
                last.push(point);
            }
        }
        _ => {}
    });
    all
}

/// Where register marks of a page stand: at the corners of its window, and in the middle of joined sides.
fn register_points(cells: &[(usize, usize)], (row, column): (usize, usize)) -> Vec<Point> {
    let w = WINDOW;
    let mut points =
        vec![Point::new(w.x0, w.y0), Point::new(w.x1, w.y0), Point::new(w.x0, w.y1), Point::new(w.x1, w.y1)];
    let middle = w.center();
    let joined = [
        (row, column.wrapping_sub(1), Point::new(w.x0, middle.y)),
        (row, column + 1, Point::new(w.x1, middle.y)),
        (row.wrapping_sub(1), column, Point::new(middle.x, w.y0)),
        (row + 1, column, Point::new(middle.x, w.y1)),
    ];
    points.extend(joined.into_iter().filter(|(row, column, _)| cells.contains(&(*row, *column))).map(|it| it.2));
    points
}

fn register_marks(display: &mut Display, cells: &[(usize, usize)], cell: (usize, usize)) {
    const RADIUS_MM: f64 = 2.0;
    for at in register_points(cells, cell) {
        for arm in [Vec2::new(ARM_MM, 0.0), Vec2::new(0.0, ARM_MM)] {
            display.segment(Layer::Frame, LineClass::Dimension, None, at - arm, at + arm);
        }
        let circle = Circle::new(at, RADIUS_MM).to_path(0.005);
        display.stroke(Layer::Frame, LineClass::Dimension, None, circle);
    }
}

/// A level and an upright length to measure: printers stretch the two directions by different amounts.
fn test_lengths(display: &mut Display, language: Language) {
    const TICK_MM: f64 = 2.0;
    for (from, along) in [(TEST_LEVEL, Vec2::new(1.0, 0.0)), (TEST_UPRIGHT, Vec2::new(0.0, 1.0))] {
        let across = along.turn_90();
        let to = from + along * TEST_LENGTH_MM;
        display.segment(Layer::Frame, LineClass::Dimension, None, from, to);
        for tenth in 0..=10 {
            let at = from + along * (TEST_LENGTH_MM / 10.0 * f64::from(tenth));
            let half = if tenth % 10 == 0 { TICK_MM } else { TICK_MM / 2.0 };
            display.segment(Layer::Frame, LineClass::Dimension, None, at - across * half, at + across * half);
        }
    }
    let upright = Text::new(TEST_UPRIGHT + Vec2::new(-3.0, 50.0), HEIGHT_NOTE_MM, "100 mm")
        .anchored(Anchor::Middle)
        .rotated(std::f64::consts::FRAC_PI_2);
    display.text(Layer::Frame, None, upright);
    let words = &language.say("100 mm; print at actual size, then measure both");
    let level = Text::new(TEST_LEVEL + Vec2::new(TEST_LENGTH_MM + 3.0, -1.2), HEIGHT_NOTE_MM, words);
    display.text(Layer::Frame, None, Text { content: font::shortened(words, HEIGHT_NOTE_MM, 77.0), ..level });
}

/// What the page is, which pages join it, and where it lies among all.
fn strip(
    display: &mut Display,
    heading: String,
    note: &str,
    cells: &[(usize, usize)],
    index: usize,
    (columns, rows): (usize, usize),
    language: Language,
) {
    const MAP: Rect = Rect::new(168.0, 13.5, 200.0, 25.0);
    const TEXT_MM: f64 = 144.0;
    let Some(&(row, column)) = cells.get(index) else { return };
    let mut words = vec![note.to_owned()];
    if cells.len() > 1 {
        let joins = [
            ("left", row, column.wrapping_sub(1)),
            ("right", row, column + 1),
            ("below", row.wrapping_sub(1), column),
            ("above", row + 1, column),
        ];
        let joined: Vec<String> = joins
            .into_iter()
            .filter_map(|(side, row, column)| {
                let at = cells.iter().position(|cell| *cell == (row, column))?;
                Some(format!("{side} {}", at + 1))
            })
            .collect();
        if !joined.is_empty() {
            words.insert(0, language.say(&format!("joins page {}", joined.join(", "))));
        }
        let cell = (MAP.width() / columns as f64).min(MAP.height() / rows as f64).min(6.0);
        for (other, &(row, column)) in cells.iter().enumerate() {
            let corner = Point::new(MAP.x0 + cell * (column - 1) as f64, MAP.y0 + cell * (row - 1) as f64);
            let rect = Rect::from_origin_size(corner, (cell, cell));
            if other == index {
                display.fill(Layer::Frame, Tone::Ink, None, rect.inflate(-0.12 * cell, -0.12 * cell).to_path(0.01));
            }
            display.rectangle(Layer::Frame, LineClass::Dimension, None, rect);
        }
    }
    let words = words.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join("; ");
    let rows = [(heading, HEIGHT_DIMENSION_MM, 21.0), (words, HEIGHT_NOTE_MM, 15.5)];
    for (content, height, y) in rows {
        let content = font::shortened(&content, height, TEXT_MM);
        if !content.is_empty() {
            display.text(Layer::Frame, None, Text::new(Point::new(WINDOW.x0 + 3.0, y), height, content));
        }
    }
}

#[cfg(test)]
#[path = "../tests/inside/tiles.rs"]
mod tests;
