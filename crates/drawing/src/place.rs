//! What is already taken on the paper, and the check that nothing collides.

use kurbo::{Point, Rect};

use crate::display::{Display, Mark, Tone, segments};

/// The boxes of texts and the lines that later texts must keep clear of.
#[derive(Clone, Debug, Default)]
pub struct Occupied {
    boxes: Vec<Rect>,
    lines: Vec<(Point, Point)>,
}

impl Occupied {
    /// Nothing taken yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes a box.
    pub fn add_box(&mut self, rect: Rect) {
        self.boxes.push(rect);
    }

    /// Takes a straight line.
    pub fn add_line(&mut self, from: Point, to: Point) {
        self.lines.push((from, to));
    }

    /// Takes every mark of a list.
    pub fn add_display(&mut self, display: &Display) {
        for item in &display.items {
            match &item.mark {
                Mark::Stroke { path, .. } => self.lines.extend(segments(path)),
                Mark::Text(text) => self.boxes.push(text.bounds()),
                Mark::Arrow(_) | Mark::Fill { tone: Tone::Ink, .. } => self.boxes.push(item.bounds()),
                Mark::Fill { .. } => {}
            }
        }
    }

    /// Whether a box keeps at least `clear` millimetres from every text and line.
    #[must_use]
    pub fn is_free(&self, rect: Rect, clear: f64) -> bool {
        let wide = rect.inflate(clear, clear);
        !self.boxes.iter().any(|taken| overlap(*taken, wide)) && !self.lines.iter().any(|(a, b)| crosses(wide, *a, *b))
    }

    /// Whether a straight line crosses no text.
    #[must_use]
    pub fn line_is_free(&self, from: Point, to: Point) -> bool {
        !self.boxes.iter().any(|taken| crosses(*taken, from, to))
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
                Mark::Stroke { path, class } if segments(path).iter().any(|(a, b)| crosses(*rect, *a, *b)) => {
                    format!("line {class:?} on {:?}", item.layer)
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
