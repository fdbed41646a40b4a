//! The trace of a cutting plane on another view: wide dash-dot ends, arrows in the direction of view, letters (ISO 128).

use kurbo::{Point, Rect, Vec2};

use crate::display::{Arrow, Display, Layer, Mark};
use crate::font::{HEIGHT_DIMENSION_MM, HEIGHT_TITLE_MM};
use crate::line::LineClass;
use crate::place::Occupied;
use crate::text::{Anchor, Text};

/// Where a section is taken.
#[derive(Clone, Debug, PartialEq)]
pub struct CutMark {
    /// The letter of the section.
    pub letter: String,
    /// Whether the trace is upright in this view.
    pub is_upright: bool,
    /// Where it crosses the horizontal axis of the view (the vertical one if it is not upright), in model millimetres.
    pub at: f64,
    /// Whether one looks towards larger coordinates of that axis.
    pub looks_forward: bool,
}

/// How far the mark usually reaches from the outline, in millimetres.
const REACH_MM: f64 = 9.0;
/// How far the head of an arrow reaches to either side, and a wide line with the space round it, in millimetres.
const ARROW_MM: f64 = 0.9;

impl CutMark {
    /// Draws both ends of the trace round an outline in paper millimetres, and a narrow line between them.
    pub(crate) fn draw(&self, scale: f64, outline: Rect, occupied: &Occupied, display: &mut Display) {
        let at = self.at * scale;
        let along = if self.looks_forward { 1.0 } else { -1.0 };
        let ends = if self.is_upright {
            [(Point::new(at, outline.y1), Vec2::new(0.0, 1.0)), (Point::new(at, outline.y0), Vec2::new(0.0, -1.0))]
        } else {
            [(Point::new(outline.x0, at), Vec2::new(-1.0, 0.0)), (Point::new(outline.x1, at), Vec2::new(1.0, 0.0))]
        };
        let view = if self.is_upright { Vec2::new(along, 0.0) } else { Vec2::new(0.0, along) };
        let layer = Layer::Centre;
        display.segment(layer, LineClass::Centre, None, ends[0].0, ends[1].0);
        let mut lettered = false;
        for (end, (edge, out)) in ends.into_iter().enumerate() {
            let (near, far) = (edge + out, edge + out * (REACH_MM - 2.0));
            display.segment(layer, LineClass::CuttingPlane, None, near, far);
            // The arrow stands on the far end and points the way one looks.
            let tip = far + view * (HEIGHT_DIMENSION_MM + 2.5);
            display.segment(layer, LineClass::Dimension, None, far, tip);
            let arrow = Arrow { tip, direction_rad: view.atan2(), length_mm: HEIGHT_DIMENSION_MM };
            display.push(layer, None, Mark::Arrow(arrow));
            // The letter stands behind the arrow's foot, or wherever near it no line is in its way; read from below.
            let beside = view * (HEIGHT_TITLE_MM * 0.75);
            let shares = [1.0, 1.35, 1.7, 2.2, 2.8, 3.5, 4.5, 5.5, -1.9, -2.4, -3.0, -4.0, -5.0];
            let shifts = [-1.0, 1.0, -2.5, 3.0, 5.0, 7.0];
            let centres: Vec<Point> =
                shifts.into_iter().flat_map(|shift| shares.map(|share| far + out * shift - beside * share)).collect();
            let letter = |centre: Point, height: f64| {
                let base = Point::new(centre.x, centre.y - height / 2.0);
                Text::new(base, height, self.letter.clone()).anchored(Anchor::Middle)
            };
            // The mark's own lines are in the way as others are.
            let own =
                [Rect::from_points(near, far), Rect::from_points(far, tip)].map(|it| it.inflate(ARROW_MM, ARROW_MM));
            let is_free = |text: &Text| {
                let room = text.bounds();
                occupied.is_free(room, 0.4) && own.iter().all(|line| line.intersect(room).is_zero_area())
            };
            let free = [HEIGHT_TITLE_MM, HEIGHT_DIMENSION_MM]
                .into_iter()
                .find_map(|height| centres.iter().map(|c| letter(*c, height)).find(is_free));
            match free {
                Some(text) => {
                    display.text(layer, None, text);
                    lettered = true;
                }
                // One end without its letter can still be read; two could not.
                None if end == 0 || lettered => {}
                None => display.text(layer, None, letter(far - beside, HEIGHT_TITLE_MM)),
            }
        }
    }
}
