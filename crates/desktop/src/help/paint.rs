//! Painting a sketch.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2};

use crate::theme::Palette;

/// The ground that sketches are drawn on.
const GROUND: Vec2 = Vec2::new(100.0, 72.0);

/// One stroke: what kind, and its numbers.
pub(super) type Drawn = (char, Vec<f32>);

/// The strokes of a sketch; nothing if it is not one.
pub(super) fn read(strokes: &str) -> Option<Vec<Drawn>> {
    let one = |text: &str| {
        let (kind, numbers) = text.trim().split_once(' ')?;
        let numbers: Option<Vec<f32>> = numbers.split(' ').map(|number| number.parse().ok()).collect();
        let numbers = numbers?;
        let fits = match kind {
            "B" | "O" | "G" | "X" | "D" => numbers.len() == 4,
            "A" => numbers.len() == 5,
            "L" | "S" => numbers.len() >= 4 && numbers.len() % 2 == 0,
            _ => false,
        };
        Some((kind.chars().next()?, numbers)).filter(|_| fits)
    };
    strokes.split(';').map(one).collect()
}

/// Paints a sketch.
pub(super) fn strokes(painter: &Painter, palette: &Palette, rect: Rect, strokes: &str) {
    let factor = (rect.width() / GROUND.x).min(rect.height() / GROUND.y);
    let at = |x: f32, y: f32| rect.min + Vec2::new(x, y) * factor;
    painter.rect_filled(rect, 2.0, palette.paper);
    let (thin, thick) = (Stroke::new(1.0, palette.ink), Stroke::new(1.6, palette.ink));
    for (kind, numbers) in read(strokes).unwrap_or_default() {
        let points: Vec<Pos2> = numbers.chunks_exact(2).filter_map(|xy| Some(at(*xy.first()?, *xy.get(1)?))).collect();
        let frame = || Some(Rect::from_two_pos(*points.first()?, *points.get(1)?));
        match kind {
            'B' => boxed(painter, frame(), palette.button, thin),
            'X' => boxed(painter, frame(), palette.mark_ground, Stroke::new(1.4, palette.mark)),
            'O' => boxed(painter, frame(), Color32::TRANSPARENT, thick),
            'G' => {
                if let Some(frame) = frame() {
                    let line = [
                        frame.left_top(),
                        frame.right_top(),
                        frame.right_bottom(),
                        frame.left_bottom(),
                        frame.left_top(),
                    ];
                    painter.extend(Shape::dashed_line(&line, thin, 5.0, 3.0));
                }
            }
            'L' => {
                painter.line(points, thick);
            }
            'S' => painter.extend(Shape::dashed_line(&points, thin, 4.0, 3.0)),
            'A' => {
                if let [x, y, radius, from, to] = numbers.as_slice() {
                    let arc = (0..=24_u8).map(|step| {
                        let angle = (from + (to - from) * f32::from(step) / 24.0).to_radians();
                        at(x + radius * angle.cos(), y + radius * angle.sin())
                    });
                    painter.extend(Shape::dashed_line(&arc.collect::<Vec<_>>(), thin, 4.0, 3.0));
                }
            }
            'D' => {
                if let (Some(a), Some(b)) = (points.first(), points.get(1)) {
                    size(painter, palette, *a, *b);
                }
            }
            _ => {}
        }
    }
}

fn boxed(painter: &Painter, frame: Option<Rect>, fill: Color32, stroke: Stroke) {
    if let Some(frame) = frame {
        painter.rect(frame, 0.0, fill, stroke, StrokeKind::Middle);
    }
}

/// The size that a sketch is about: a strong line with an arrow at each end.
fn size(painter: &Painter, palette: &Palette, a: Pos2, b: Pos2) {
    let stroke = Stroke::new(2.2, palette.mark);
    painter.line_segment([a, b], stroke);
    let along = (b - a).normalized();
    let across = along.rot90();
    let head = (b - a).length().min(14.0) * 0.5;
    for (tip, back) in [(a, along), (b, -along)] {
        let base = tip + back * head;
        let corners = vec![tip, base + across * head * 0.5, base - across * head * 0.5];
        painter.add(Shape::convex_polygon(corners, palette.mark, Stroke::NONE));
        painter.line_segment([tip + across * 5.0, tip - across * 5.0], Stroke::new(1.2, palette.mark));
    }
    // A very short size is still seen.
    if (b - a).length() < 6.0 {
        painter.circle_stroke(pos2(f32::midpoint(a.x, b.x), f32::midpoint(a.y, b.y)), 9.0, stroke);
    }
}
