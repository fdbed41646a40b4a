//! One line of text on a drawing, and the box that it covers.

use kurbo::{Point, Rect, Vec2};

use crate::font;

/// Which point of the line of text stands at its anchor, along the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Anchor {
    /// The start of the base line.
    Start,
    /// The middle of the base line.
    Middle,
    /// The end of the base line.
    End,
}

/// One line of text; sizes are paper millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// The anchor, on the base line.
    pub at: Point,
    /// Lettering height, in millimetres (ISO 3098).
    pub height_mm: f64,
    /// Which point of the base line stands at the anchor.
    pub anchor: Anchor,
    /// The direction of the base line, in radians counter-clockwise.
    pub rotation_rad: f64,
    /// What it says.
    pub content: String,
}

impl Text {
    /// An upright line that starts at a point.
    #[must_use]
    pub fn new(at: Point, height_mm: f64, content: impl Into<String>) -> Self {
        Self { at, height_mm, anchor: Anchor::Start, rotation_rad: 0.0, content: content.into() }
    }

    /// The same line, anchored otherwise.
    #[must_use]
    pub fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    /// The same line, turned.
    #[must_use]
    pub fn rotated(self, rotation_rad: f64) -> Self {
        Self { rotation_rad, ..self }
    }

    /// The width of the line, in millimetres.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        font::width_mm(&self.content, self.height_mm)
    }

    /// The start of the base line.
    #[must_use]
    pub fn start(&self) -> Point {
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5,
            Anchor::End => 1.0,
        };
        self.at - self.along() * (back * self.width_mm())
    }

    /// The unit vector along the base line; exact for upright and quarter-turned lines.
    #[must_use]
    pub fn along(&self) -> Vec2 {
        let quarter = self.rotation_rad / std::f64::consts::FRAC_PI_2;
        let turns = quarter.round();
        if (quarter - turns).abs() > 1e-9 {
            return Vec2::from_angle(self.rotation_rad);
        }
        match (turns as i64).rem_euclid(4) {
            0 => Vec2::new(1.0, 0.0),
            1 => Vec2::new(0.0, 1.0),
            2 => Vec2::new(-1.0, 0.0),
            _ => Vec2::new(0.0, -1.0),
        }
    }

    /// The four corners of the ink, counter-clockwise from the lower left of the line.
    #[must_use]
    pub fn corners(&self) -> [Point; 4] {
        let ink = font::ink_mm(&self.content, self.height_mm);
        let along = self.along();
        let up = along.turn_90();
        let start = self.start();
        let corner = |x: f64, y: f64| start + along * x + up * y;
        [corner(ink.x0, ink.y0), corner(ink.x1, ink.y0), corner(ink.x1, ink.y1), corner(ink.x0, ink.y1)]
    }

    /// The upright box around the ink.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let [a, b, c, d] = self.corners();
        Rect::from_points(a, b).union_pt(c).union_pt(d)
    }

    /// Whether a point lies in the (turned) box of the ink.
    #[must_use]
    pub fn corners_contain(&self, point: Point) -> bool {
        let ink = font::ink_mm(&self.content, self.height_mm);
        let along = self.along();
        let offset = point - self.start();
        ink.contains(Point::new(offset.dot(along), offset.dot(along.turn_90())))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_box_follows_anchor_and_turn() {
        let width = font::width_mm("1200", 3.5);
        let upright = Text::new(Point::new(10.0, 10.0), 3.5, "1200").anchored(Anchor::Middle).bounds();
        assert!((upright.x0 - (10.0 - width / 2.0)).abs() < 1e-9 && (upright.width() - width).abs() < 1e-9);
        assert!((upright.height() - 3.5).abs() < 0.2, "{upright:?}");
        // Read from the right: a quarter turn counter-clockwise, so the text lies to the left of its base line.
        let turned = Text::new(Point::new(10.0, 10.0), 3.5, "1200").rotated(std::f64::consts::FRAC_PI_2).bounds();
        assert!((turned.y0 - 10.0).abs() < 1e-9 && (turned.y1 - 10.0 - width).abs() < 1e-9);
        assert!(turned.x1 < 10.1 && turned.x0 < 6.7);
    }
}
