//! Text set on a sheet: headings, lines that wrap, and lines with a box to tick.

use kurbo::{Point, Rect};

use super::scene::Scene;
use crate::display::{Display, Layer};
use crate::font::{self, HEIGHT_NOTE_MM, HEIGHT_TITLE_MM};
use crate::line::LineClass;
use crate::text::Text;

/// Side of a box to tick, in millimetres.
const BOX_MM: f64 = 3.2;
/// From the left end of the box to the text beside it.
const INDENT_MM: f64 = 5.4;
/// Clear space after each line.
const AFTER_MM: f64 = 1.3;

/// Text that runs down a column, said in the language of a scene.
pub(crate) struct Column<'a> {
    pub(crate) display: Display,
    scene: Scene<'a>,
    area: Rect,
    /// The next free height, from above.
    top: f64,
}

impl<'a> Column<'a> {
    pub(crate) fn new(scene: &Scene<'a>, area: Rect) -> Self {
        Self { display: Display::new(), scene: *scene, area, top: area.y1 }
    }

    /// How much height is left.
    pub(crate) fn room(&self) -> f64 {
        self.top - self.area.y0
    }

    pub(crate) fn heading(&mut self, text: &str) {
        self.title(&self.scene.say(text));
    }

    /// A heading in the user's own words.
    pub(crate) fn title(&mut self, own: &str) {
        self.set(own, HEIGHT_TITLE_MM, 0.0);
        self.top -= AFTER_MM;
    }

    pub(crate) fn line(&mut self, text: &str) {
        self.set(&self.scene.say(text), HEIGHT_NOTE_MM, 0.0);
    }

    /// A line with a box to tick before it; a cross in the box if it is done.
    pub(crate) fn tick(&mut self, text: &str, done: bool) {
        let (x, y) = (self.area.x0, self.top - HEIGHT_NOTE_MM * 0.5 - BOX_MM / 2.0);
        let square = Rect::new(x, y, x + BOX_MM, y + BOX_MM);
        self.display.rectangle(Layer::Notes, LineClass::Dimension, None, square);
        if done {
            for (from, to) in [((x, y), (square.x1, square.y1)), ((x, square.y1), (square.x1, y))] {
                self.display.segment(Layer::Notes, LineClass::Dimension, None, Point::from(from), Point::from(to));
            }
        }
        self.set(&self.scene.say(text), HEIGHT_NOTE_MM, INDENT_MM);
    }

    pub(crate) fn skip(&mut self, by: f64) {
        self.top -= by;
    }

    /// How high a line with a box would be.
    pub(crate) fn height_of(&self, text: &str) -> f64 {
        let lines = font::wrapped(&self.scene.say(text), HEIGHT_NOTE_MM, self.area.width() - INDENT_MM).len();
        lines as f64 * HEIGHT_NOTE_MM * font::LINE_PITCH + AFTER_MM
    }

    fn set(&mut self, text: &str, height: f64, indent: f64) {
        for line in font::wrapped(text, height, self.area.width() - indent) {
            let at = Point::new(self.area.x0 + indent, self.top - height);
            self.display.text(Layer::Notes, None, Text::new(at, height, line));
            self.top -= height * font::LINE_PITCH;
        }
        self.top -= AFTER_MM;
    }
}
