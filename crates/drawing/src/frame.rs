//! The frame, centring marks and grid reference of a sheet after ISO 5457.

use kurbo::{Point, Rect};

use crate::display::{Display, Layer};
use crate::font::HEIGHT_DIMENSION_MM;
use crate::line::LineClass;
use crate::place::overlap;
use crate::sheet::Format;
use crate::text::{Anchor, Text};
use crate::title_block::block_rect;

/// The width of the strip that carries the grid reference, in millimetres.
pub const GRID_STRIP_MM: f64 = 5.0;
/// The length of a grid field, in millimetres, counted from the centring marks; corner fields take the remainder.
pub const GRID_FIELD_MM: f64 = 50.0;
/// How far a centring mark passes the frame, in millimetres.
pub const CENTRING_MARK_MM: f64 = 10.0;

/// The letters of the grid from top to bottom: I and O are not used.
const GRID_LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";

/// Frame, grid reference border and centring marks. The marks stop at the frame where they would run into the title
/// block or the content of the sheet.
#[must_use]
pub fn draw_frame(format: Format, content: &Display) -> Display {
    let mut display = Display::new();
    let space = format.drawing_space();
    let strip = space.inflate(GRID_STRIP_MM, GRID_STRIP_MM);
    display.rectangle(Layer::Frame, LineClass::FrameWide, None, space);
    display.rectangle(Layer::Frame, LineClass::FrameNarrow, None, strip);
    grid(&mut display, format, space);
    centring_marks(&mut display, format, space, strip, content);
    display
}

/// The limits of the grid fields along an axis of the sheet: the ends of the frame, and every 50 mm from the middle of
/// the sheet between them.
#[must_use]
pub fn grid_limits(sheet_mm: f64, from: f64, to: f64, fields: usize) -> Vec<f64> {
    let middle = sheet_mm / 2.0;
    let half = fields / 2;
    let mut limits = vec![from];
    for step in 1..fields {
        limits.push(middle + (step as f64 - half as f64) * GRID_FIELD_MM);
    }
    limits.push(to);
    limits
}

fn grid(display: &mut Display, format: Format, space: Rect) {
    let (width, height) = format.size_mm();
    let (across, down) = format.grid_fields();
    let strip = GRID_STRIP_MM;
    let columns = grid_limits(width, space.x0, space.x1, across);
    let rows = grid_limits(height, space.y0, space.y1, down);
    // A4 carries the reference at the top and at the right only.
    let all_sides = format != Format::A4;
    let base_drop = HEIGHT_DIMENSION_MM / 2.0;
    for (index, pair) in columns.windows(2).enumerate() {
        let [from, to] = pair else { continue };
        let name = (index + 1).to_string();
        for (bottom, shown) in [(space.y1, true), (space.y0 - strip, all_sides)] {
            if !shown {
                continue;
            }
            let is_centre = (*from - width / 2.0).abs() < 1e-9;
            if index > 0 && !is_centre {
                let (low, high) = (Point::new(*from, bottom), Point::new(*from, bottom + strip));
                display.segment(Layer::Frame, LineClass::FrameNarrow, None, low, high);
            }
            let at = Point::new((from + to) / 2.0, bottom + strip / 2.0 - base_drop);
            let text = Text::new(at, HEIGHT_DIMENSION_MM, name.clone()).anchored(Anchor::Middle);
            display.text(Layer::Frame, None, text);
        }
    }
    for (index, pair) in rows.windows(2).enumerate() {
        let [from, to] = pair else { continue };
        // Rows run upwards here, letters downwards.
        let letter = GRID_LETTERS.get(down - 1 - index).copied().map_or('?', char::from);
        for (left, shown) in [(space.x1, true), (space.x0 - strip, all_sides)] {
            if !shown {
                continue;
            }
            let is_centre = (*from - height / 2.0).abs() < 1e-9;
            if index > 0 && !is_centre {
                let (low, high) = (Point::new(left, *from), Point::new(left + strip, *from));
                display.segment(Layer::Frame, LineClass::FrameNarrow, None, low, high);
            }
            let at = Point::new(left + strip / 2.0, (from + to) / 2.0 - base_drop);
            let text = Text::new(at, HEIGHT_DIMENSION_MM, letter.to_string()).anchored(Anchor::Middle);
            display.text(Layer::Frame, None, text);
        }
    }
}

/// Four marks at the axes of symmetry of the sheet, from the outer edge of the grid strip to 10 mm past the frame.
fn centring_marks(display: &mut Display, format: Format, space: Rect, strip: Rect, content: &Display) {
    let (width, height) = format.size_mm();
    let (x, y) = (width / 2.0, height / 2.0);
    let block = block_rect(format);
    let reach = CENTRING_MARK_MM;
    // Outer end, at the frame, inner end.
    let marks = [
        (Point::new(x, strip.y1), Point::new(x, space.y1), Point::new(x, space.y1 - reach)),
        (Point::new(x, strip.y0), Point::new(x, space.y0), Point::new(x, space.y0 + reach)),
        (Point::new(strip.x0, y), Point::new(space.x0, y), Point::new(space.x0 + reach, y)),
        (Point::new(strip.x1, y), Point::new(space.x1, y), Point::new(space.x1 - reach, y)),
    ];
    for (outer, frame, inner) in marks {
        let inside = Rect::from_points(frame, inner).inflate(1.0, 1.0);
        let taken = overlap(block, inside) || content.items.iter().any(|item| overlap(item.bounds(), inside));
        display.segment(Layer::Frame, LineClass::FrameWide, None, outer, if taken { frame } else { inner });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::collisions;

    #[test]
    fn grid_fields_are_50_from_the_centring_marks() {
        // ISO 5457 (BS EN ISO 5457:1999 as quoted on a drawing-practice page): field counts and lengths.
        for format in Format::ALL {
            let (width, height) = format.size_mm();
            let space = format.drawing_space();
            let (across, down) = format.grid_fields();
            for (size, from, to, fields) in [(width, space.x0, space.x1, across), (height, space.y0, space.y1, down)] {
                let limits = grid_limits(size, from, to, fields);
                assert_eq!(limits.len(), fields + 1);
                assert!(limits.contains(&(size / 2.0)), "a limit stands at the centring mark");
                for pair in limits[1..fields].windows(2) {
                    assert_eq!(pair[1] - pair[0], 50.0);
                }
                for corner in [limits[1] - limits[0], limits[fields] - limits[fields - 1]] {
                    assert!(corner > 5.0 && corner < 100.0, "{}: {corner}", format.name());
                }
            }
        }
    }

    #[test]
    fn the_grid_runs_from_a_at_the_top_left() {
        let display = draw_frame(Format::A3, &Display::new());
        let at = |content: &str| display.texts().find(|text| text.content == content).unwrap().at;
        assert!(at("A").y > at("F").y && at("1").x < at("8").x);
        assert!(display.texts().all(|text| text.content != "I" && text.content != "O"));
        for format in Format::ALL {
            assert_eq!(collisions(&draw_frame(format, &Display::new())), [], "{}", format.name());
        }
    }
}
