//! Dimensions from one datum on a common side: a value at the end of each extension line, all counted from the datum (ISO
//! 129-1, running dimensions), spread apart where they would stand too close.

use casewright_core::Length;
use kurbo::{Circle, Point, Shape, Vec2};

use crate::dimension::Side;
use crate::display::{Display, Layer};
use crate::font::{HEIGHT_NOTE_MM, width_mm};
use crate::line::LineClass;
use crate::tag::Tag;
use crate::text::{Anchor, Text};

/// Lettering height of the values, in millimetres.
const HEIGHT_MM: f64 = HEIGHT_NOTE_MM;
/// The least distance of neighbouring values, in millimetres.
pub(crate) const PITCH_MM: f64 = 3.6;
/// From the outline to the start of the extension lines, in millimetres.
const START_MM: f64 = 1.0;
/// From there to where lines may turn aside.
const STRAIGHT_MM: f64 = 2.0;
/// The length in which they turn aside.
const ASIDE_MM: f64 = 4.0;
/// From the end of a line to its value.
const GAP_MM: f64 = 0.8;
/// How far the datum's own value may be pushed beyond it: not to where the values of the other direction stand.
const BEFORE_DATUM_MM: f64 = 5.0;

/// Positions along one side of a face, counted from a datum at zero.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Ordinates {
    /// Which side of the face.
    pub(crate) side: Side,
    /// Each position with its value as printed; the datum itself is added.
    pub(crate) positions: Vec<(Length, String)>,
    /// Whether positions run against the axis of the paper.
    pub(crate) reversed: bool,
    /// Whether a circle marks the origin; a face has a triangle for both directions.
    pub(crate) has_circle: bool,
    /// What is dimensioned.
    pub(crate) tag: Option<Tag>,
}

impl Ordinates {
    /// How far the values reach out from the outline, in millimetres.
    pub(crate) fn depth_mm(&self) -> f64 {
        if self.positions.is_empty() {
            return 0.0;
        }
        let longest = self.positions.iter().map(|(_, text)| width_mm(text, HEIGHT_MM)).fold(0.0, f64::max);
        START_MM + STRAIGHT_MM + ASIDE_MM + GAP_MM + longest
    }

    /// Draws the values. `origin` is the datum on the outline, in paper millimetres; `scale` is paper millimetres for a
    /// real one.
    pub(crate) fn draw(&self, origin: Point, scale: f64, display: &mut Display) {
        if self.positions.is_empty() {
            return;
        }
        let (along, out) = match self.side {
            Side::Below => (Vec2::new(1.0, 0.0), Vec2::new(0.0, -1.0)),
            Side::Above => (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)),
            Side::Left => (Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0)),
            Side::Right => (Vec2::new(0.0, 1.0), Vec2::new(1.0, 0.0)),
        };
        let along = if self.reversed { along * -1.0 } else { along };
        let mut marks: Vec<(f64, &str)> = vec![(0.0, "0")];
        marks.extend(self.positions.iter().map(|(at, text)| (at.mm() * scale, text.as_str())));
        let wanted: Vec<f64> = marks.iter().map(|(at, _)| *at).collect();
        let spread = spread_apart(&wanted, PITCH_MM, -BEFORE_DATUM_MM);
        for ((at, text), aside) in marks.into_iter().zip(spread) {
            let place = |u: f64, v: f64| origin + along * u + out * v;
            let turns = [
                place(at, START_MM),
                place(at, START_MM + STRAIGHT_MM),
                place(aside, START_MM + STRAIGHT_MM + ASIDE_MM),
            ];
            for pair in turns.windows(2) {
                if let [from, to] = pair {
                    display.segment(Layer::Dimensions, LineClass::Dimension, self.tag.clone(), *from, *to);
                }
            }
            let end = place(aside, START_MM + STRAIGHT_MM + ASIDE_MM + GAP_MM);
            self.value(end, text, display);
        }
        if self.has_circle {
            // The origin of running dimensions is a small circle (ISO 129-1).
            let circle = Circle::new(origin + out * (START_MM + STRAIGHT_MM / 2.0), 0.8).to_path(0.005);
            display.stroke(Layer::Dimensions, LineClass::Dimension, self.tag.clone(), circle);
        }
    }

    /// A value along its extension line, to be read from below or from the right.
    fn value(&self, end: Point, text: &str, display: &mut Display) {
        // The middle of figures stands on the line.
        let half = HEIGHT_MM / 2.0;
        let text = match self.side {
            Side::Below | Side::Above => {
                let anchor = if self.side == Side::Above { Anchor::Start } else { Anchor::End };
                Text::new(end + Vec2::new(half, 0.0), HEIGHT_MM, text)
                    .anchored(anchor)
                    .rotated(std::f64::consts::FRAC_PI_2)
            }
            Side::Left | Side::Right => {
                let anchor = if self.side == Side::Left { Anchor::End } else { Anchor::Start };
                Text::new(end - Vec2::new(0.0, half), HEIGHT_MM, text).anchored(anchor)
            }
        };
        display.text(Layer::Dimensions, self.tag.clone(), text);
    }
}

/// The places nearest to those given (least squares) that keep `pitch` between neighbours and none below `least`; `wanted`
/// ascends.
///
/// With the pitch taken off step by step, this is the ascending sequence nearest to a given one: neighbours that would
/// come out in the wrong order are pooled at their mean (Ayer and others 1955). With a bound, pools below it lie on it.
pub(crate) fn spread_apart(wanted: &[f64], pitch: f64, least: f64) -> Vec<f64> {
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (index, at) in wanted.iter().enumerate() {
        let mut pool = (at - pitch * index as f64, 1);
        while let Some(&(mean, count)) = pools.last() {
            if mean <= pool.0 {
                break;
            }
            pools.pop();
            let total = count + pool.1;
            pool = ((mean * count as f64 + pool.0 * pool.1 as f64) / total as f64, total);
        }
        pools.push(pool);
    }
    let placed = pools.into_iter().flat_map(|(mean, count)| std::iter::repeat_n(mean, count));
    placed.enumerate().map(|(index, mean)| mean.max(least) + pitch * index as f64).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::collisions;

    #[test]
    fn values_keep_their_order_and_distance_and_stay_near() {
        let check = |wanted: &[f64], expected: &[f64]| {
            let found = spread_apart(wanted, 4.0, -3.5);
            assert!(found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{found:?}");
        };
        check(&[0.0, 10.0, 20.0], &[0.0, 10.0, 20.0]);
        check(&[0.0, 10.0, 11.0], &[0.0, 8.5, 12.5]);
        check(&[0.0, 1.0, 2.0], &[-3.0, 1.0, 5.0]);
        check(&[0.0, 1.0, 2.0, 3.0], &[-3.5, 0.5, 4.5, 8.5]);
        check(&[], &[]);
    }

    #[test]
    fn values_never_meet() {
        for side in Side::ALL {
            let positions = [37, 69, 70, 71, 90, 91, 320, 560];
            let positions = positions.map(|at| (Length::from_mm(at), format!("{at},5"))).to_vec();
            let ordinates = Ordinates { side, positions, reversed: side == Side::Left, has_circle: true, tag: None };
            let mut display = Display::new();
            ordinates.draw(Point::new(100.0, 100.0), 0.1, &mut display);
            assert_eq!(collisions(&display), []);
            assert_eq!(display.texts().count(), 9);
            let bounds = display.bounds().unwrap();
            let depth = if side.is_horizontal() { bounds.height() } else { bounds.width() };
            assert!(depth <= ordinates.depth_mm() + 0.5, "{depth}");
        }
    }
}
