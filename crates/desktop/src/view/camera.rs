//! Where one looks and how near: from model millimetres of a view to points of the window.

use egui::{Pos2, Rect, Vec2};
use kurbo::Point;

/// Points of the window for a millimetre of paper, least and most: lettering of 3.5 mm is then as high as that of a large
/// label, or on a small screen as that of running text.
const PAPER: (f64, f64) = (2.2, 3.4);
/// The room, in points, for which lettering is made a point a millimetre smaller or larger.
const ROOM_PER_PAPER: f64 = 170.0;
/// The least and the most that the drawing is enlarged to, points for a model millimetre.
const ZOOM: (f64, f64) = (0.02, 20.0);

/// Where one looks and how near.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// What is in the middle of the window, model millimetres of the view.
    pub centre: Point,
    /// Points of the window for a model millimetre.
    pub zoom: f64,
    /// Points of the window for a millimetre of paper.
    pub paper: f64,
    /// Whether the whole drawing is to be kept in view; ends with the first pan or zoom.
    pub fits: bool,
}

impl Default for Camera {
    fn default() -> Self {
        Self { centre: Point::ZERO, zoom: 0.5, paper: PAPER.1, fits: true }
    }
}

impl Camera {
    /// Paper millimetres for a model millimetre, at which a view is to be laid out.
    #[must_use]
    pub fn scale(&self) -> f64 {
        self.zoom / self.paper
    }

    /// Chooses how large lettering is for the room that there is.
    pub fn suit(&mut self, window: Rect) {
        let room = f64::from(window.width().min(window.height()));
        // In steps, so that dragging the edge of a panel does not lay everything out anew at each point.
        self.paper = ((room / ROOM_PER_PAPER).clamp(PAPER.0, PAPER.1) * 10.0).round() / 10.0;
    }

    /// The place in the window of a model point.
    #[must_use]
    pub fn to_window(&self, window: Rect, model: Point) -> Pos2 {
        let offset = (model - self.centre) * self.zoom;
        window.center() + Vec2::new(offset.x as f32, -offset.y as f32)
    }

    /// The model point under a place in the window.
    #[must_use]
    pub fn to_model(&self, window: Rect, at: Pos2) -> Point {
        let offset = at - window.center();
        self.centre + kurbo::Vec2::new(f64::from(offset.x), -f64::from(offset.y)) / self.zoom
    }

    /// Moves the drawing with the pointer.
    pub fn pan(&mut self, by: Vec2) {
        if by != Vec2::ZERO {
            self.centre -= kurbo::Vec2::new(f64::from(by.x), -f64::from(by.y)) / self.zoom;
            self.fits = false;
        }
    }

    /// Enlarges by a factor, keeping what is at a place of the window there.
    pub fn zoom_at(&mut self, window: Rect, at: Pos2, factor: f64) {
        if !factor.is_finite() || factor <= 0.0 || (factor - 1.0).abs() < 1e-9 {
            return;
        }
        let fixed = self.to_model(window, at);
        self.zoom = (self.zoom * factor).clamp(ZOOM.0, ZOOM.1);
        self.fits = false;
        let moved = self.to_model(window, at);
        self.centre += fixed - moved;
    }

    /// Looks at a drawing as a whole. `outline` is its geometry in model millimetres; `placed` gives, for a scale, the
    /// box of everything drawn in paper millimetres, which holds lettering whose size does not change with the scale.
    pub fn fit(&mut self, window: Rect, outline: kurbo::Rect, placed: &mut dyn FnMut(f64) -> kurbo::Rect) {
        let room = (f64::from(window.width()) - 24.0, f64::from(window.height()) - 24.0);
        if outline.width() <= 0.0 || outline.height() <= 0.0 || room.0 <= 20.0 || room.1 <= 20.0 {
            return;
        }
        let mut zoom = (room.0 / outline.width()).min(room.1 / outline.height()) * 0.8;
        // Lettering takes the same room at every scale, so two rounds come near enough.
        for _ in 0..3 {
            zoom = zoom.clamp(ZOOM.0, ZOOM.1);
            let scale = zoom / self.paper;
            let bounds = placed(scale);
            let fixed = (bounds.width() - outline.width() * scale, bounds.height() - outline.height() * scale);
            let left = (room.0 - fixed.0 * self.paper, room.1 - fixed.1 * self.paper);
            zoom = (left.0.max(40.0) / outline.width()).min(left.1.max(40.0) / outline.height());
        }
        self.zoom = zoom.clamp(ZOOM.0, ZOOM.1);
        let bounds = placed(self.scale());
        self.centre = (bounds.center().to_vec2() / self.scale()).to_point();
        self.fits = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn window() -> Rect {
        Rect::from_min_size(Pos2::new(200.0, 50.0), Vec2::new(800.0, 600.0))
    }

    #[test]
    fn there_and_back_is_the_same_place() {
        let camera = Camera { centre: Point::new(300.0, 450.0), zoom: 0.7, paper: PAPER.1, fits: false };
        let at = Pos2::new(412.0, 99.0);
        let back = camera.to_window(window(), camera.to_model(window(), at));
        assert!((back - at).length() < 1e-2);
        assert_eq!(camera.to_window(window(), camera.centre), window().center());
        assert!(camera.to_window(window(), Point::new(300.0, 500.0)).y < window().center().y, "up is up");
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        let mut camera = Camera { centre: Point::new(300.0, 450.0), zoom: 0.7, paper: PAPER.1, fits: true };
        let at = Pos2::new(900.0, 600.0);
        let before = camera.to_model(window(), at);
        for factor in [1.3, 2.0, 0.1, 1e9, f64::NAN, -1.0] {
            camera.zoom_at(window(), at, factor);
            assert!(camera.to_model(window(), at).distance(before) < 1e-6);
        }
        assert_eq!(camera.zoom, ZOOM.1);
        assert!(!camera.fits);
    }

    #[test]
    fn fitting_leaves_room_for_lettering_that_does_not_shrink() {
        let outline = kurbo::Rect::new(0.0, 0.0, 1000.0, 2000.0);
        let mut placed = |scale: f64| kurbo::Rect::new(-30.0, -20.0, outline.width() * scale, outline.height() * scale);
        let mut camera = Camera::default();
        camera.fit(window(), outline, &mut placed);
        let bounds = placed(camera.scale());
        let size = (bounds.width() * camera.paper, bounds.height() * camera.paper);
        assert!(size.0 <= 800.0 && size.1 <= 600.0 && size.1 > 540.0, "{size:?}");
    }
}
