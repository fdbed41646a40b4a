//! Painting a display list: line classes, widths and lettering as on paper, in the colours of the theme.

use casewright_drawing::display::segments;
use casewright_drawing::font;
use casewright_drawing::{Display, Item, Layer, LineClass, LineGroup, Mark, Tag, Text, Tone};
use egui::epaint::TextShape;
use egui::{Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Ui, Vec2};
use kurbo::Point;

use super::polygon;
use crate::theme::Palette;

/// How a list is painted.
pub struct Paint<'p> {
    /// Where.
    pub painter: &'p Painter,
    /// The colours.
    pub palette: &'p Palette,
    /// The place in the window of a paper point.
    pub to_window: &'p dyn Fn(Point) -> Pos2,
    /// Whether what belongs to a tag stands out.
    pub stands_out: &'p dyn Fn(&Tag) -> bool,
    /// Points of the window for a paper millimetre.
    pub points_per_mm: f64,
}

/// Paints a picture on paper of its own that fills `room`; `to_window` gives the place of a paper point.
pub(crate) fn picture(ui: &Ui, room: Rect, display: &Display, points_per_mm: f64, to_window: &dyn Fn(Point) -> Pos2) {
    let palette = Palette::here(ui);
    let painter = ui.painter_at(room);
    painter.rect_filled(room, 0.0, palette.paper);
    Paint { painter: &painter, palette, to_window, stands_out: &|_| false, points_per_mm }.list(display);
}

/// The place of a paper point where the lower left corner of the paper is that of `room`.
pub(crate) fn from_lower_left(room: Rect, points_per_mm: f64) -> impl Fn(Point) -> Pos2 {
    move |paper| room.left_bottom() + Vec2::new((paper.x * points_per_mm) as f32, (-paper.y * points_per_mm) as f32)
}

impl Paint<'_> {
    /// Paints everything.
    pub fn list(&self, display: &Display) {
        let mut shapes = Vec::with_capacity(display.items.len() * 2);
        let clip = self.painter.clip_rect().expand(20.0);
        for item in display.painted() {
            self.item(item, clip, &mut shapes);
        }
        self.painter.extend(shapes);
    }

    fn item(&self, item: &Item, clip: egui::Rect, shapes: &mut Vec<Shape>) {
        let bounds = item.bounds();
        let corner = |x, y| (self.to_window)(Point::new(x, y));
        let on_screen = egui::Rect::from_two_pos(corner(bounds.x0, bounds.y0), corner(bounds.x1, bounds.y1));
        if !clip.intersects(on_screen) {
            return;
        }
        let stands_out = item.tag.as_ref().is_some_and(|tag| (self.stands_out)(tag));
        let ink = if stands_out { self.palette.mark } else { self.ink(item.layer) };
        match &item.mark {
            Mark::Stroke { path, class } => self.stroke(path, *class, ink, stands_out, shapes),
            Mark::Fill { path, tone } => {
                let colour = match tone {
                    Tone::Ink => ink,
                    Tone::Tint => self.palette.tint,
                    // Areas to point at.
                    Tone::Clear => return,
                };
                self.fill(path, colour, shapes);
            }
            Mark::Text(text) => self.text(text, ink, shapes),
            Mark::Arrow(arrow) => self.fill(&arrow.path(), ink, shapes),
        }
    }

    fn ink(&self, layer: Layer) -> Color32 {
        match layer {
            Layer::Dimensions => self.palette.dimension,
            Layer::Things => self.palette.thing,
            Layer::Site => self.palette.site,
            Layer::Hidden | Layer::Movement | Layer::Centre | Layer::Section => self.palette.ink_soft,
            Layer::Areas | Layer::Frame | Layer::Outline | Layer::Notes | Layer::Tables => self.palette.ink,
        }
    }

    fn stroke(&self, path: &kurbo::BezPath, class: LineClass, ink: Color32, wide: bool, shapes: &mut Vec<Shape>) {
        let width_mm = LineGroup::HALF.width_mm(class);
        let width = ((width_mm * self.points_per_mm) as f32).max(0.9) + if wide { 1.0 } else { 0.0 };
        let stroke = Stroke::new(width, ink);
        let (marks, gaps) = dashes(class, width_mm, self.points_per_mm);
        for line in lines(path) {
            let line: Vec<Pos2> = line.into_iter().map(self.to_window).collect();
            if marks.is_empty() {
                shapes.push(Shape::line(line, stroke));
                continue;
            }
            Shape::dashed_line_many_with_offset(&line, stroke, &marks, &gaps, 0.0, shapes);
        }
    }

    fn fill(&self, path: &kurbo::BezPath, colour: Color32, shapes: &mut Vec<Shape>) {
        for line in lines(path) {
            let outline: Vec<Pos2> = line.into_iter().map(self.to_window).collect();
            let closed = outline.len() > 1 && outline.first() == outline.last();
            let outline = if closed { outline.split_last().map_or(&[][..], |(_, rest)| rest) } else { &outline };
            if outline.len() >= 3 {
                shapes.push(Shape::mesh(polygon::filled(outline, colour)));
            }
        }
    }

    fn text(&self, text: &Text, ink: Color32, shapes: &mut Vec<Shape>) {
        let size = (font::em_mm(text.height_mm) * self.points_per_mm) as f32;
        if size < 3.0 {
            return;
        }
        let galley = self.painter.layout_no_wrap(text.content.clone(), FontId::proportional(size), ink);
        let Some(baseline) = baseline(&galley) else { return };
        let angle = -text.rotation_rad as f32;
        let start = (self.to_window)(text.start());
        // What hinting makes the line wider or narrower by is shared out at both ends.
        let spare = (text.width_mm() * self.points_per_mm) as f32 - galley.size().x;
        let turned = |offset: Vec2| egui::emath::Rot2::from_angle(angle) * offset;
        let at = start + turned(Vec2::new(spare / 2.0, -baseline));
        let mut shape = TextShape::new(at, galley, ink);
        shape.angle = angle;
        shapes.push(shape.into());
    }
}

/// The dashes of a line class and the gaps between them, in points of the window; none for lines without gaps.
pub(super) fn dashes(class: LineClass, width_mm: f64, points_per_mm: f64) -> (Vec<f32>, Vec<f32>) {
    let dashes: Vec<f32> = class.dashes_mm(width_mm).into_iter().map(|mm| (mm * points_per_mm) as f32).collect();
    let marks = dashes.iter().copied().step_by(2).collect();
    let gaps = dashes.iter().copied().skip(1).step_by(2).collect();
    (marks, gaps)
}

/// How far the base line of the first row lies under the top of a text.
fn baseline(galley: &egui::Galley) -> Option<f32> {
    let row = galley.rows.first()?;
    let glyph = row.row.glyphs.first()?;
    Some(row.pos.y + glyph.pos.y)
}

/// The connected lines of a path, curves flattened.
fn lines(path: &kurbo::BezPath) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = Vec::new();
    for (from, to) in segments(path) {
        match lines.last_mut() {
            Some(line) if line.last().is_some_and(|last| last.distance(from) < 1e-9) => line.push(to),
            _ => lines.push(vec![from, to]),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_closed_path_is_one_line_and_pieces_stay_apart() {
        let rectangle = kurbo::Shape::to_path(&kurbo::Rect::new(0.0, 0.0, 3.0, 2.0), 0.1);
        let pieces = lines(&rectangle);
        assert_eq!(pieces.len(), 1);
        assert_eq!(pieces[0].len(), 5);
        let mut two = kurbo::BezPath::new();
        two.move_to((0.0, 0.0));
        two.line_to((1.0, 0.0));
        two.move_to((5.0, 0.0));
        two.line_to((6.0, 0.0));
        assert_eq!(lines(&two).len(), 2);
    }
}
