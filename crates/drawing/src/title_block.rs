//! The title block after ISO 7200, and the projection symbol after ISO 5456-2.

use kurbo::{BezPath, Circle, Point, Rect, Shape};

use crate::display::{Display, Layer};
use crate::font::{self, HEIGHT_DIMENSION_MM, HEIGHT_LABEL_MM, HEIGHT_NOTE_MM, HEIGHT_TITLE_MM};
use crate::language::Language;
use crate::line::LineClass;
use crate::sheet::Format;
use crate::text::Text;

/// The width of the title block, in millimetres (ISO 7200).
pub const WIDTH_MM: f64 = 180.0;
/// The height of the title block, in millimetres.
pub const HEIGHT_MM: f64 = 40.0;

/// The fields of the title block. Empty ones are left blank on the paper.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TitleBlock {
    /// Who owns the drawing.
    pub legal_owner: String,
    /// What the drawing shows; ISO 7200 recommends up to 25 characters.
    pub title: String,
    /// More about it: here the name of the sheet.
    pub supplementary_title: String,
    /// The number of the drawing; ISO 7200 recommends up to 16 characters.
    pub identification_number: String,
    /// The revision.
    pub revision: String,
    /// The date of issue, as it is to be printed; never taken from a clock.
    pub date_of_issue: String,
    /// Who made it.
    pub creator: String,
    /// Who approved it.
    pub approval: String,
    /// What kind of document it is, such as `Assembly drawing`.
    pub document_type: String,
    /// How far it has come, such as `Draft`.
    pub document_status: String,
    /// The language, such as `en`.
    pub language: String,
    /// The main scale, such as `1:10`; empty on lists.
    pub scale: String,
    /// The unit of all lengths without one, such as `mm`.
    pub unit: String,
    /// The material, finish or reference note; one line.
    pub note: String,
    /// The number of this sheet, from 1.
    pub sheet_number: usize,
    /// The number of sheets.
    pub sheet_count: usize,
}

/// Where the title block lies: in the lower right corner of the drawing space.
#[must_use]
pub fn block_rect(format: Format) -> Rect {
    let space = format.drawing_space();
    Rect::new(space.x1 - WIDTH_MM, space.y0, space.x1, space.y0 + HEIGHT_MM)
}

/// One field: its place in the block, and lettering.
struct Field<'a> {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
    label: &'static str,
    value: &'a str,
    lettering: f64,
    /// What stands under the value; the value may then take two rows.
    under: Option<&'a str>,
}

impl TitleBlock {
    /// The block in the corner of a sheet.
    #[must_use]
    pub fn draw(&self, format: Format) -> Display {
        let rect = block_rect(format);
        let mut display = Display::new();
        let sheet = format!("{} / {}", self.sheet_number, self.sheet_count);
        let field = |x, y, width, height, label, value, lettering| Field {
            x,
            y,
            width,
            height,
            label,
            value,
            lettering,
            under: None,
        };
        let title = Field {
            under: Some(&self.supplementary_title),
            ..field(60.0, 9.0, 66.0, 22.0, "Title", &self.title, HEIGHT_TITLE_MM)
        };
        // Measured from the lower left corner of the block, row by row from the bottom.
        let fields = [
            field(0.0, 0.0, 20.0, 9.0, "Scale", &self.scale, HEIGHT_DIMENSION_MM),
            field(20.0, 0.0, 16.0, 9.0, "Unit", &self.unit, HEIGHT_DIMENSION_MM),
            field(36.0, 0.0, 24.0, 9.0, "Projection", "", HEIGHT_DIMENSION_MM),
            field(60.0, 0.0, 14.0, 9.0, "Language", &self.language, HEIGHT_DIMENSION_MM),
            field(74.0, 0.0, 36.0, 9.0, "Document status", &self.document_status, HEIGHT_DIMENSION_MM),
            field(110.0, 0.0, 16.0, 9.0, "Revision", &self.revision, HEIGHT_DIMENSION_MM),
            field(126.0, 0.0, 30.0, 9.0, "Date of issue", &self.date_of_issue, HEIGHT_DIMENSION_MM),
            field(156.0, 0.0, 24.0, 9.0, "Sheet", &sheet, HEIGHT_DIMENSION_MM),
            field(0.0, 9.0, 60.0, 11.0, "Document type", &self.document_type, HEIGHT_DIMENSION_MM),
            field(0.0, 20.0, 60.0, 11.0, "Legal owner", &self.legal_owner, HEIGHT_DIMENSION_MM),
            title,
            field(126.0, 9.0, 54.0, 22.0, "Identification number", &self.identification_number, HEIGHT_TITLE_MM),
            field(0.0, 31.0, 60.0, 9.0, "Creator", &self.creator, HEIGHT_DIMENSION_MM),
            field(60.0, 31.0, 66.0, 9.0, "Approved by", &self.approval, HEIGHT_DIMENSION_MM),
            field(126.0, 31.0, 54.0, 9.0, "Note", &self.note, HEIGHT_NOTE_MM),
        ];
        let language = Language::of_code(&self.language).unwrap_or_default();
        for field in &fields {
            let cell = Rect::new(
                rect.x0 + field.x,
                rect.y0 + field.y,
                rect.x0 + field.x + field.width,
                rect.y0 + field.y + field.height,
            );
            draw_field(&mut display, cell, field, language);
        }
        display.rectangle(Layer::Frame, LineClass::FrameWide, None, rect);
        let symbol_centre = Point::new(rect.x0 + 36.0 + 12.0, rect.y0 + 3.4);
        first_angle_symbol(&mut display, symbol_centre, 4.6);
        display
    }
}

fn draw_field(display: &mut Display, cell: Rect, field: &Field<'_>, language: Language) {
    const INDENT_MM: f64 = 1.2;
    display.rectangle(Layer::Frame, LineClass::FrameNarrow, None, cell);
    let label_at = Point::new(cell.x0 + INDENT_MM, cell.y1 - HEIGHT_LABEL_MM - 0.9);
    display.text(Layer::Frame, None, Text::new(label_at, HEIGHT_LABEL_MM, language.say(field.label)));
    let room = cell.width() - 2.0 * INDENT_MM;
    if let Some(under) = field.under {
        let rows = fit(field.value, field.lettering, room, 2);
        let mut base = cell.y1 - 3.4;
        for (row, height) in &rows {
            base -= height * 1.35;
            display.text(Layer::Frame, None, Text::new(Point::new(cell.x0 + INDENT_MM, base), *height, row.clone()));
        }
        let under = fit(under, HEIGHT_DIMENSION_MM, room, 2);
        let mut base = cell.y0 + 1.4;
        for (row, height) in under.into_iter().rev() {
            display.text(Layer::Frame, None, Text::new(Point::new(cell.x0 + INDENT_MM, base), height, row));
            base += height * 1.4;
        }
        return;
    }
    for (row, height) in fit(field.value, field.lettering, room, 1) {
        let base = cell.y0 + ((cell.height() - HEIGHT_LABEL_MM - 1.8) - height).max(0.0) / 2.0 + 0.3;
        display.text(Layer::Frame, None, Text::new(Point::new(cell.x0 + INDENT_MM, base), height, row));
    }
}

/// A text in at most `rows` lines no wider than `room`: the largest ISO 3098 height up to `height` that fits, else the
/// smallest with an ellipsis. With two rows, the second is for what one line cannot hold.
fn fit(content: &str, height: f64, room: f64, rows: usize) -> Vec<(String, f64)> {
    if content.is_empty() {
        return Vec::new();
    }
    let heights = [HEIGHT_TITLE_MM, HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM];
    for step in heights.into_iter().filter(|step| *step <= height) {
        // Two rows of a larger lettering would not leave room for what stands below or above.
        let allowed = if step > HEIGHT_NOTE_MM { 1 } else { rows };
        let lines = font::wrapped(content, step, room);
        let whole_words = lines.iter().any(|line| line.contains(' ')) || lines.len() == 1;
        if lines.len() <= allowed && whole_words {
            return lines.into_iter().map(|line| (line, step)).collect();
        }
    }
    vec![(font::shortened(content, HEIGHT_NOTE_MM, room), HEIGHT_NOTE_MM)]
}

/// The symbol of first-angle projection: a frustum seen from the side, and to its right two circles, with the larger
/// end of the frustum next to them. `size` is the diameter of the larger circle.
///
/// Derived from the rule of ISO 5456-2: in first angle the view from the left is placed on the right. Both circles are
/// seen whole only when the smaller end faces the viewer, so it lies at the left, away from the circles.
pub fn first_angle_symbol(display: &mut Display, centre: Point, size: f64) {
    let large = size / 2.0;
    let small = size / 4.0;
    let length = size;
    let gap = size * 0.45;
    let left = centre.x - (length + gap + size) / 2.0;
    let circle_centre = Point::new(left + length + gap + large, centre.y);
    let mut frustum = BezPath::new();
    frustum.move_to((left, centre.y - small));
    frustum.line_to((left, centre.y + small));
    frustum.line_to((left + length, centre.y + large));
    frustum.line_to((left + length, centre.y - large));
    frustum.close_path();
    display.stroke(Layer::Frame, LineClass::Symbol, None, frustum);
    for radius in [small, large] {
        display.stroke(Layer::Frame, LineClass::Symbol, None, Circle::new(circle_centre, radius).to_path(0.005));
    }
    let over = size * 0.14;
    let across =
        [(left - over, left + length + over), (circle_centre.x - large - over, circle_centre.x + large + over)];
    for (from, to) in across {
        let (from, to) = (Point::new(from, centre.y), Point::new(to, centre.y));
        display.segment(Layer::Frame, LineClass::Centre, None, from, to);
    }
    let reach = large + over;
    display.segment(
        Layer::Frame,
        LineClass::Centre,
        None,
        Point::new(circle_centre.x, centre.y - reach),
        Point::new(circle_centre.x, centre.y + reach),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::display::Mark;
    use crate::place::collisions;

    fn full() -> TitleBlock {
        TitleBlock {
            legal_owner: "Workshop of the example".into(),
            title: "Wandschrank für Überkopf".into(),
            supplementary_title: "Front elevation, section A–A".into(),
            identification_number: "CW-2024-000123".into(),
            revision: "AB".into(),
            date_of_issue: "2024-03-01".into(),
            creator: "Example, Person A.".into(),
            approval: "Example, Person B.".into(),
            document_type: "Assembly drawing with parts".into(),
            document_status: "Released".into(),
            language: "en".into(),
            scale: "1:10".into(),
            unit: "mm".into(),
            note: "Sizes without tolerance: ISO 2768-c".into(),
            sheet_number: 12,
            sheet_count: 30,
        }
    }

    #[test]
    fn the_block_is_180_wide_at_the_lower_right_and_nothing_in_it_collides() {
        for format in Format::ALL {
            let rect = block_rect(format);
            let space = format.drawing_space();
            assert_eq!((rect.width(), rect.x1, rect.y0), (180.0, space.x1, space.y0));
            let display = full().draw(format);
            assert_eq!(collisions(&display), []);
            assert!(display.texts().all(|text| rect.contains_rect(text.bounds())), "{}", format.name());
        }
    }

    #[test]
    fn long_values_shrink_or_are_cut_inside_their_fields() {
        let long =
            "Very long title of a piece of furniture that goes on and on, beyond every measure of reason".repeat(2);
        let block = TitleBlock {
            title: long.clone(),
            supplementary_title: long.clone(),
            legal_owner: long.clone(),
            identification_number: "Unbrechbareswortohneleerzeichen".repeat(4),
            ..full()
        };
        let display = block.draw(Format::A4);
        assert_eq!(collisions(&display), []);
        assert!(display.texts().any(|text| text.content.ends_with('…')));
    }

    #[test]
    fn the_symbol_has_its_large_end_next_to_the_circles() {
        let mut display = Display::new();
        first_angle_symbol(&mut display, Point::ZERO, 5.0);
        let strokes: Vec<_> = display
            .items
            .iter()
            .filter_map(|item| match &item.mark {
                Mark::Stroke { path, class: LineClass::Symbol } => Some(path),
                _ => None,
            })
            .collect();
        let frustum = strokes[0].bounding_box();
        let circles = [strokes[1].bounding_box(), strokes[2].bounding_box()];
        assert!(circles[0].x0 > frustum.x1, "first angle: the view from the left stands on the right");
        // From the left both circles are whole only if the smaller end faces left.
        let end_height = |x: f64| {
            let ends: Vec<_> = crate::display::segments(strokes[0])
                .into_iter()
                .filter(|(a, b)| (a.x - x).abs() < 1e-9 && (b.x - x).abs() < 1e-9)
                .collect();
            (ends[0].0.y - ends[0].1.y).abs()
        };
        assert!((end_height(frustum.x0) - circles[0].height()).abs() < 0.01, "small circle, small end, left");
        assert!((end_height(frustum.x1) - circles[1].height()).abs() < 0.01, "large circle, large end, right");
    }
}
