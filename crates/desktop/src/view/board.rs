//! The drawing board: one view alone, or front, section, plan and space side by side, linked in selection.

use std::collections::BTreeMap;

use egui::{Rect, Ui, UiBuilder};
use kurbo::Point;

use super::canvas::Canvas;
use crate::labels;
use crate::panels::Desk;
use crate::pipeline::ViewKind;
use crate::theme::Palette;

/// The drawing board.
#[derive(Debug, Default)]
pub struct Board {
    /// The view that is shown, or that was worked on last.
    pub kind: ViewKind,
    /// Whether four views are shown at once.
    pub four: bool,
    /// How far everything that moves is shown opened, from 0 to 1.
    pub opened: f32,
    /// Whether part numbers are shown on the drawing.
    pub numbers: bool,
    canvases: BTreeMap<ViewKind, Canvas>,
}

impl Board {
    /// The views that are shown, in reading order.
    #[must_use]
    pub fn shown(&self) -> Vec<ViewKind> {
        if !self.four {
            return vec![self.kind];
        }
        let front = if self.kind == ViewKind::Fronts { ViewKind::Fronts } else { ViewKind::Front };
        vec![front, ViewKind::Section, ViewKind::Plan, ViewKind::Isometric]
    }

    /// Brings each drawing as a whole into view.
    pub fn fit(&mut self) {
        for kind in self.shown() {
            self.canvases.entry(kind).or_default().fit();
        }
    }

    /// Enlarges by a factor.
    pub fn zoom(&mut self, factor: f64) {
        self.canvases.entry(self.kind).or_default().zoom(factor);
    }

    /// Waits for the background work; for tests.
    pub fn wait(&self) {
        self.canvases.values().for_each(Canvas::wait);
    }

    /// The bay whose sizes are being changed on a drawing, if any.
    #[must_use]
    pub fn dragging(&self) -> Option<&str> {
        self.canvases.values().find_map(Canvas::dragging)
    }

    /// The undivided bay under the pointer in a front view, with the place.
    #[must_use]
    pub fn under_pointer(&self) -> Option<(&str, Point)> {
        self.shown().into_iter().find_map(|kind| self.canvases.get(&kind)?.under_pointer())
    }

    /// Shows the views in all the room there is.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        let whole = ui.available_rect_before_wrap().intersect(ui.clip_rect());
        let shown = self.shown();
        for (index, kind) in shown.iter().enumerate() {
            let rect = if shown.len() == 1 { whole } else { quarter(whole, index) };
            let builder = UiBuilder::new().id_salt(("view", *kind)).max_rect(rect);
            let canvas = self.canvases.entry(*kind).or_default();
            let is_pointed_at = ui.scope_builder(builder, |ui| {
                canvas.show(ui, desk, *kind, (self.opened, self.numbers));
                ui.rect_contains_pointer(rect) && ui.input(|input| input.pointer.any_pressed())
            });
            if self.four {
                if is_pointed_at.inner && *kind != self.kind {
                    self.kind = *kind;
                }
                let palette = Palette::here(ui);
                let painter = ui.painter_at(rect);
                painter.rect_stroke(rect, 0.0, egui::Stroke::new(1.0, palette.rule), egui::StrokeKind::Inside);
                let font = egui::TextStyle::Small.resolve(ui.style());
                let at = rect.left_top() + egui::vec2(8.0, 6.0);
                painter.text(at, egui::Align2::LEFT_TOP, labels::view(desk.words, *kind), font, palette.ink_soft);
            }
        }
    }
}

/// One of four parts of the room; the upper row, where the elevations stand, is the higher one.
fn quarter(whole: Rect, index: usize) -> Rect {
    let split = egui::pos2(whole.left() + whole.width() * 0.58, whole.top() + whole.height() * 0.58);
    let (left, right) = whole.split_left_right_at_x(split.x);
    let column = if index.is_multiple_of(2) { left } else { right };
    let (upper, lower) = column.split_top_bottom_at_y(split.y);
    if index < 2 { upper } else { lower }
}
