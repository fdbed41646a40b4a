//! What is already taken on the paper, and the check that nothing collides.

use std::collections::BTreeMap;

use kurbo::{Point, Rect};

use crate::display::{Display, Mark, Tone, segments};

/// The side of a cell of the index, in millimetres.
const CELL_MM: f64 = 8.0;

/// The boxes of texts and the lines that later texts must keep clear of, indexed by cells of the paper.
#[derive(Clone, Debug, Default)]
pub struct Occupied {
    boxes: Vec<Rect>,
    lines: Vec<(Point, Point)>,
    cells: BTreeMap<(i32, i32), Cell>,
}

/// How much was taken at some time.
#[derive(Clone, Copy, Debug)]
pub struct Amount {
    boxes: usize,
    lines: usize,
}

/// What lies in one cell: indices of boxes and of lines.
#[derive(Clone, Debug, Default)]
struct Cell {
    boxes: Vec<usize>,
    lines: Vec<usize>,
}

/// The cells that a box touches.
fn cells(rect: Rect) -> impl Iterator<Item = (i32, i32)> {
    let cell = |value: f64| (value / CELL_MM).floor() as i32;
    let (columns, rows) = (cell(rect.x0)..=cell(rect.x1), cell(rect.y0)..=cell(rect.y1));
    columns.flat_map(move |column| rows.clone().map(move |row| (column, row)))
}

impl Occupied {
    /// Nothing taken yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes a box.
    pub fn add_box(&mut self, rect: Rect) {
        let index = self.boxes.len();
        self.boxes.push(rect);
        for cell in cells(rect) {
            self.cells.entry(cell).or_default().boxes.push(index);
        }
    }

    /// Takes a straight line.
    pub fn add_line(&mut self, from: Point, to: Point) {
        let index = self.lines.len();
        self.lines.push((from, to));
        let level = from.x == to.x || from.y == to.y;
        for (column, row) in cells(Rect::from_points(from, to)) {
            let corner = Point::new(f64::from(column) * CELL_MM, f64::from(row) * CELL_MM);
            let area = Rect::from_origin_size(corner, (CELL_MM, CELL_MM)).inflate(0.01, 0.01);
            if level || crosses(area, from, to) {
                self.cells.entry((column, row)).or_default().lines.push(index);
            }
        }
    }

    /// Takes every mark of a list.
    pub fn add_display(&mut self, display: &Display) {
        for item in &display.items {
            match &item.mark {
                Mark::Stroke { path, .. } => {
                    for (from, to) in segments(path) {
                        self.add_line(from, to);
                    }
                }
                Mark::Text(text) => self.add_box(text.bounds()),
                Mark::Arrow(_) | Mark::Fill { tone: Tone::Ink, .. } => self.add_box(item.bounds()),
                Mark::Fill { .. } => {}
            }
        }
    }

    /// How much is taken, for [`Occupied::back_to`].
    #[must_use]
    pub fn amount(&self) -> Amount {
        Amount { boxes: self.boxes.len(), lines: self.lines.len() }
    }

    /// Gives up all that was taken since there was so much.
    pub fn back_to(&mut self, amount: Amount) {
        let boxes = self.boxes.drain(amount.boxes.min(self.boxes.len())..);
        let lines = self.lines.drain(amount.lines.min(self.lines.len())..);
        for cell in boxes.chain(lines.map(|(from, to)| Rect::from_points(from, to))).flat_map(cells) {
            if let Some(cell) = self.cells.get_mut(&cell) {
                cell.boxes.retain(|index| *index < amount.boxes);
                cell.lines.retain(|index| *index < amount.lines);
            }
        }
    }

    fn near(&self, rect: Rect) -> impl Iterator<Item = &Cell> {
        cells(rect).filter_map(|cell| self.cells.get(&cell))
    }

    /// Whether a box keeps at least `clear` millimetres from every text and line.
    #[must_use]
    pub fn is_free(&self, rect: Rect, clear: f64) -> bool {
        let wide = rect.inflate(clear, clear);
        self.near(wide).all(|cell| {
            let boxes = cell.boxes.iter().filter_map(|index| self.boxes.get(*index));
            let lines = cell.lines.iter().filter_map(|index| self.lines.get(*index));
            boxes.into_iter().all(|taken| !overlap(*taken, wide))
                && lines.into_iter().all(|(a, b)| !crosses(wide, *a, *b))
        })
    }

    /// Whether a box overlaps no text; lines may cross it.
    #[must_use]
    pub fn box_is_free(&self, rect: Rect) -> bool {
        self.near(rect).all(|cell| {
            cell.boxes.iter().filter_map(|index| self.boxes.get(*index)).all(|taken| !overlap(*taken, rect))
        })
    }

    /// Whether a straight line crosses no text.
    #[must_use]
    pub fn line_is_free(&self, from: Point, to: Point) -> bool {
        self.near(Rect::from_points(from, to)).all(|cell| {
            cell.boxes.iter().filter_map(|index| self.boxes.get(*index)).all(|taken| !crosses(*taken, from, to))
        })
    }
}

/// Whether two boxes share area.
#[must_use]
pub fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// Whether a straight line passes through the inside of a box.
#[must_use]
pub fn crosses(rect: Rect, from: Point, to: Point) -> bool {
    // Clips the line against each pair of sides in turn (Liang and Barsky).
    let direction = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (position, step, low, high) in
        [(from.x, direction.x, rect.x0, rect.x1), (from.y, direction.y, rect.y0, rect.y1)]
    {
        if step == 0.0 {
            if position <= low || position >= high {
                return false;
            }
            continue;
        }
        let (first, second) = ((low - position) / step, (high - position) / step);
        enter = enter.max(first.min(second));
        leave = leave.min(first.max(second));
    }
    enter < leave
}

/// Two marks that are in each other's way.
#[derive(Clone, Debug, PartialEq)]
pub struct Collision {
    /// The text that is hit.
    pub text: String,
    /// Where its box lies.
    pub at: Rect,
    /// What hits it, in words.
    pub by: String,
}

/// Every text of a list that another text overlaps or a line crosses.
///
/// The boxes are those of the ink, less a hundredth of a millimetre all round.
#[must_use]
pub fn collisions(display: &Display) -> Vec<Collision> {
    let texts: Vec<_> = display
        .texts()
        .filter(|text| !text.content.trim().is_empty())
        .map(|text| (text.bounds().inflate(-0.01, -0.01), text.content.as_str()))
        .collect();
    let mut found = Vec::new();
    for (index, (rect, content)) in texts.iter().enumerate() {
        for (other, by) in texts.iter().skip(index + 1) {
            if overlap(*rect, *other) {
                found.push(Collision { text: (*content).to_owned(), at: *rect, by: format!("text {by:?}") });
            }
        }
        for item in &display.items {
            let by = match &item.mark {
                Mark::Stroke { path, class } => {
                    let Some((a, b)) = segments(path).into_iter().find(|(a, b)| crosses(*rect, *a, *b)) else {
                        continue;
                    };
                    format!("line {class:?} on {:?} from {a:.2?} to {b:.2?}", item.layer)
                }
                Mark::Arrow(_) | Mark::Fill { tone: Tone::Ink, .. } if overlap(*rect, item.bounds()) => {
                    format!("arrow or dot on {:?}", item.layer)
                }
                _ => continue,
            };
            found.push(Collision { text: (*content).to_owned(), at: *rect, by });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_crosses_only_the_inside() {
        let rect = Rect::new(0.0, 0.0, 10.0, 5.0);
        let check = |a: (f64, f64), b: (f64, f64), expected: bool| {
            assert_eq!(crosses(rect, a.into(), b.into()), expected, "{a:?} {b:?}");
        };
        check((-5.0, 2.0), (15.0, 2.0), true);
        check((-5.0, 5.0), (15.0, 5.0), false);
        check((-5.0, 2.0), (-1.0, 2.0), false);
        check((2.0, 2.0), (3.0, 3.0), true);
        check((-2.0, 0.0), (5.0, 7.0), true);
        check((-4.0, 2.0), (2.0, 8.0), false);
    }
}
