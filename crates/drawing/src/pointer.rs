//! Part numbers beside what they belong to, each with a leader that ends in a dot inside its part (ISO 128 leaders).

use kurbo::{Circle, Point, Rect, Shape, Vec2};

use crate::display::{Display, Layer, Tone};
use crate::font::{self, HEIGHT_LABEL_MM, HEIGHT_NOTE_MM};
use crate::line::LineClass;
use crate::place::Occupied;
use crate::tag::Tag;
use crate::text::{Anchor, Text};

/// A text that points at something.
#[derive(Clone, Debug, PartialEq)]
pub struct Pointer {
    /// Where to point, in model millimetres; the first spot that can be reached is taken.
    pub at: Vec<Point>,
    /// What it says.
    pub text: String,
    /// What it belongs to.
    pub tag: Option<Tag>,
    /// Whether it is left out of a view that has no room for it within its outline: another view may have.
    pub stays: bool,
}

/// Radius of the dot at the end of a leader, in millimetres.
const DOT_MM: f64 = 0.5;
/// Clear space round the text, in millimetres.
const CLEAR_MM: f64 = 0.8;

/// Places each text within `room` as near to its spot as texts and lines allow. Hands back those that found no place.
pub(crate) fn place_pointers<'a>(
    pointers: &'a [Pointer],
    scale: f64,
    room: Rect,
    occupied: &mut Occupied,
    display: &mut Display,
) -> Vec<&'a Pointer> {
    pointers.iter().filter(|pointer| !place_pointer(pointer, scale, room, occupied, display)).collect()
}

/// Places one text, if it finds a place.
pub(crate) fn place_pointer(
    pointer: &Pointer,
    scale: f64,
    room: Rect,
    occupied: &mut Occupied,
    display: &mut Display,
) -> bool {
    let spots: Vec<Point> = pointer.at.iter().map(|at| Point::new(at.x * scale, at.y * scale)).collect();
    let found =
        [HEIGHT_NOTE_MM, HEIGHT_LABEL_MM].into_iter().find_map(|height| reach(pointer, height, &spots, room, occupied));
    let Some((spot, text, elbow)) = found else { return false };
    let bounds = text.bounds();
    let line_y = elbow.y;
    let far = Point::new(if elbow.x < bounds.center().x { bounds.x1 } else { bounds.x0 }, line_y);
    for (from, to) in [(spot, elbow), (elbow, far)] {
        occupied.add_line(from, to);
        display.segment(Layer::Notes, LineClass::Dimension, pointer.tag.clone(), from, to);
    }
    let dot = Circle::new(spot, DOT_MM);
    occupied.add_box(dot.bounding_box());
    display.fill(Layer::Notes, Tone::Ink, pointer.tag.clone(), dot.to_path(0.01));
    occupied.add_box(bounds);
    display.text(Layer::Notes, pointer.tag.clone(), text);
    true
}

/// The nearest free place of the text: the spot, the text, and where the leader meets the line under the text.
fn reach(
    pointer: &Pointer,
    height: f64,
    spots: &[Point],
    room: Rect,
    occupied: &Occupied,
) -> Option<(Point, Text, Point)> {
    const DISTANCES: [f64; 7] = [4.0, 6.0, 8.0, 11.0, 15.0, 20.0, 28.0];
    const ANGLES_DEG: [f64; 12] = [45.0, 135.0, -45.0, -135.0, 30.0, 150.0, -30.0, -150.0, 60.0, 120.0, -60.0, -120.0];
    // The line runs under the lowest ink: descenders must not touch it.
    let (ink, width) = (font::ink_mm(&pointer.text, height), font::width_mm(&pointer.text, height));
    let rise = 0.5 - ink.y0.min(0.0);
    let tries = ANGLES_DEG.map(|angle| (Vec2::from_angle(angle.to_radians()), angle.abs() < 90.0));
    for distance in DISTANCES {
        for spot in spots {
            let dot = Rect::from_center_size(*spot, (2.0 * DOT_MM, 2.0 * DOT_MM));
            if !room.contains(*spot) || !occupied.box_is_free(dot) {
                continue;
            }
            for (towards, to_the_right) in tries {
                let elbow = *spot + towards * distance;
                let base = elbow + Vec2::new(0.0, rise);
                let start = if to_the_right { base } else { base - Vec2::new(width, 0.0) };
                let bounds = ink + start.to_vec2();
                let with_line = Rect::new(bounds.x0, elbow.y, bounds.x1, bounds.y1);
                let inside = room.contains_rect(with_line);
                if inside && occupied.is_free(with_line, CLEAR_MM) && occupied.line_is_free(*spot, elbow) {
                    let anchor = if to_the_right { Anchor::Start } else { Anchor::End };
                    let text = Text::new(base, height, pointer.text.clone()).anchored(anchor);
                    return Some((*spot, text, elbow));
                }
            }
        }
    }
    None
}
