//! Hatching of cut faces: thin lines at 45 degrees, a constant distance apart on paper whatever the scale (ISO 128).

use kurbo::{Point, Rect};

use crate::display::{Display, Layer};
use crate::line::LineClass;
use crate::region::Region;
use crate::tag::Tag;

/// The distance between hatching lines, in paper millimetres.
pub const HATCH_PITCH_MM: f64 = 1.8;

/// A cut face.
#[derive(Clone, Debug, PartialEq)]
pub struct Hatch {
    /// The face, in model millimetres.
    pub area: Rect,
    /// Whether the lines rise to the right; neighbours are hatched the other way.
    pub rising: bool,
    /// What of the rectangle is cut, if not all of it.
    pub(crate) region: Option<Region>,
    /// What is cut.
    pub tag: Option<Tag>,
}

impl Hatch {
    /// The lines at `scale` paper millimetres for a model millimetre.
    pub(crate) fn draw(&self, scale: f64, display: &mut Display) {
        let area = Rect::new(self.area.x0 * scale, self.area.y0 * scale, self.area.x1 * scale, self.area.y1 * scale);
        // Lines x - y = c (rising) or x + y = c (falling), for c in whole pitches: faces of one part stay in step.
        let step = HATCH_PITCH_MM * 2.0_f64.sqrt();
        let (low, high) =
            if self.rising { (area.x0 - area.y1, area.x1 - area.y0) } else { (area.x0 + area.y0, area.x1 + area.y1) };
        let at_full_size = |point: Point| (point.to_vec2() / scale).to_point();
        let mut count = (low / step).floor() + 1.0;
        while count * step < high {
            let c = count * step;
            let (from, to) = if self.rising {
                let x = (area.x0.max(area.y0 + c), area.x1.min(area.y1 + c));
                (Point::new(x.0, x.0 - c), Point::new(x.1, x.1 - c))
            } else {
                let x = (area.x0.max(c - area.y1), area.x1.min(c - area.y0));
                (Point::new(x.0, c - x.0), Point::new(x.1, c - x.1))
            };
            let shares = self
                .region
                .as_ref()
                .map_or_else(|| vec![(0.0, 1.0)], |region| region.run(at_full_size(from), at_full_size(to)));
            for (start, end) in shares {
                let (from, to) = (from.lerp(to, start), from.lerp(to, end));
                if to.x - from.x > 0.05 {
                    display.segment(Layer::Section, LineClass::Hatching, self.tag.clone(), from, to);
                }
            }
            count += 1.0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stay_inside_at_45_degrees_and_in_pitch() {
        for rising in [true, false] {
            for scale in [0.1, 0.2] {
                let hatch = Hatch { area: Rect::new(100.0, 50.0, 118.0, 750.0), rising, region: None, tag: None };
                let mut display = Display::new();
                hatch.draw(scale, &mut display);
                let paper = Rect::new(10.0 * scale * 10.0, 50.0 * scale, 118.0 * scale, 750.0 * scale);
                assert!(display.items.len() > 10);
                for item in &display.items {
                    let bounds = item.bounds();
                    assert!(paper.inflate(1e-9, 1e-9).contains_rect(bounds), "{bounds:?}");
                    assert!((bounds.width() - bounds.height()).abs() < 1e-9);
                }
            }
        }
    }
}
