//! A view: geometry and dimensions in model millimetres, laid out for paper or screen at any scale.

use casewright_core::geometry::{Axis, Direction};
use kurbo::{Affine, Point, Rect, Vec2};

use crate::cut_mark::CutMark;
use crate::dimension::{Chain, DimensionStyle, Side};
use crate::dimension_layout::lay_out;
use crate::display::{Display, Item, Layer, Mark, segments};
use crate::font;
use crate::hatch::Hatch;
use crate::label::{Label, Unplaced, place_labels};
use crate::language::Language;
use crate::led_out::lead_out;
use crate::place::Occupied;
use crate::pointer::{Pointer, place_pointers};
use crate::tag::Tag;
use crate::text::{Anchor, Text};

/// The component of a point in millimetres along a direction of the model.
fn component(direction: Direction, point: [f64; 3]) -> f64 {
    let [x, y, z] = point;
    let along = match direction.axis {
        Axis::X => x,
        Axis::Y => y,
        Axis::Z => z,
    };
    if direction.negative { -along } else { along }
}

fn unit(direction: Direction) -> [f64; 3] {
    let mut vector = [0.0; 3];
    if let Some(slot) = vector.get_mut(direction.axis.index()) {
        *slot = if direction.negative { -1.0 } else { 1.0 };
    }
    vector
}

/// The letter of an axis.
#[must_use]
pub fn axis_letter(axis: Axis) -> char {
    match axis {
        Axis::X => 'X',
        Axis::Y => 'Y',
        Axis::Z => 'Z',
    }
}

/// What the axes of a view are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axes {
    /// A straight view or section: the model direction that runs to the right, and the one that runs up.
    Straight(Direction, Direction),
    /// An isometric projection after ISO 5456-3, each axis at true length.
    Isometric,
}

impl Axes {
    /// From the front: X to the right, Y up.
    pub const FRONT: Self = Self::Straight(Direction::RIGHT, Direction::UP);
    /// From the left: Z to the right, Y up.
    pub const FROM_LEFT: Self = Self::Straight(Direction::FRONT, Direction::UP);
    /// From the right: Z to the left, Y up.
    pub const FROM_RIGHT: Self = Self::Straight(Direction::REAR, Direction::UP);
    /// From above: X to the right, Z downwards.
    pub const FROM_ABOVE: Self = Self::Straight(Direction::RIGHT, Direction::REAR);

    /// The names of the axes, as printed under the title of a view.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Straight(right, up) => format!("{}–{}", axis_letter(right.axis), axis_letter(up.axis)),
            Self::Isometric => "isometric".to_owned(),
        }
    }

    /// The direction from the model to the viewer; not of unit length.
    #[must_use]
    pub fn to_viewer(self) -> [f64; 3] {
        match self {
            Self::Straight(right, up) => {
                let (r, u) = (unit(right), unit(up));
                [r[1] * u[2] - r[2] * u[1], r[2] * u[0] - r[0] * u[2], r[0] * u[1] - r[1] * u[0]]
            }
            Self::Isometric => [1.0, 1.0, 1.0],
        }
    }

    /// The point of the view for a model point in millimetres.
    #[must_use]
    pub fn project(self, point: [f64; 3]) -> Point {
        match self {
            Self::Straight(right, up) => Point::new(component(right, point), component(up, point)),
            Self::Isometric => isometric(point),
        }
    }
}

/// The isometric projection: X falls to the right and Z to the left by 30 degrees, Y goes up, each at true length
/// (ISO 5456-3, ratio 1:1:1). Seen from the front, the right and above.
#[must_use]
pub fn isometric([x, y, z]: [f64; 3]) -> Point {
    let cos = 3.0_f64.sqrt() / 2.0;
    Point::new((x - z) * cos, y - (x + z) / 2.0)
}

/// One view in model millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    /// A short stable name, such as `front` or `section-A`.
    pub id: String,
    /// The title printed over the view.
    pub title: String,
    /// What the axes are.
    pub axes: Axes,
    /// Lines and areas; points in model millimetres, texts and arrows in paper size.
    pub geometry: Display,
    /// Dimension chains, in the order in which they win when two give the same size.
    pub chains: Vec<Chain>,
    /// Texts to be put where there is room.
    pub labels: Vec<Label>,
    /// Texts that point at something, put after the labels.
    pub pointers: Vec<Pointer>,
    /// Cut faces.
    pub hatches: Vec<Hatch>,
    /// Where sections are taken.
    pub cut_marks: Vec<CutMark>,
    /// The language of what is printed with the title.
    pub language: Language,
}

impl View {
    /// An empty view.
    #[must_use]
    pub fn new(id: impl Into<String>, title: impl Into<String>, axes: Axes) -> Self {
        Self {
            id: id.into(),
            title: title.into(),
            axes,
            geometry: Display::new(),
            chains: Vec::new(),
            labels: Vec::new(),
            pointers: Vec::new(),
            hatches: Vec::new(),
            cut_marks: Vec::new(),
            language: Language::default(),
        }
    }

    /// The box that dimensions stand round, in model millimetres: all lines and areas but those of the site and of
    /// movement.
    #[must_use]
    pub fn outline(&self) -> Rect {
        let boxes =
            self.geometry.items.iter().filter(|item| {
                !matches!(item.mark, Mark::Text(_)) && !matches!(item.layer, Layer::Site | Layer::Movement)
            });
        boxes.map(Item::bounds).reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO)
    }

    /// The view at `scale` paper millimetres for a model millimetre, with dimensions and labels laid out.
    ///
    /// The origin of the result is the origin of the model. For the screen, any scale will do; lay out again when the
    /// zoom changes, and texts stay readable.
    #[must_use]
    pub fn lay_out(&self, scale: f64, style: &DimensionStyle) -> PlacedView {
        let (mut placed, mut occupied) = self.lay_out_dimensions(scale, style);
        let display = &mut placed.display;
        let unplaced = place_labels(&self.labels, scale, &mut occupied, display);
        let room = scaled(self.outline(), scale);
        let (mut omitted, mut left) = (Vec::new(), unplaced);
        for pointer in place_pointers(&self.pointers, scale, room, &mut occupied, display) {
            if pointer.stays {
                omitted.push(pointer.text.clone());
            } else {
                left.push(Unplaced::from(pointer));
            }
        }
        let led = lead_out(left, scale, (room, placed.bounds), &mut occupied, display);
        placed.led_out = led.count;
        placed.omitted = [led.omitted, omitted].concat();
        // Hatching comes last: it gives way to texts, so that none is crossed.
        let mut hatching = Display::new();
        for hatch in &self.hatches {
            hatch.draw(scale, &mut hatching);
        }
        hatching.items.retain(|item| match &item.mark {
            Mark::Stroke { path, .. } => segments(path).iter().all(|(a, b)| occupied.line_is_free(*a, *b)),
            _ => true,
        });
        display.items.extend(hatching.items);
        placed
    }

    /// The view with its dimensions but without labels, numbers and hatching, which never change its bounds: for trying
    /// scales.
    #[must_use]
    pub fn lay_out_bounds(&self, scale: f64, style: &DimensionStyle) -> PlacedView {
        self.lay_out_dimensions(scale, style).0
    }

    /// Takes the room where extension lines will start.
    fn add_extension_lines(&self, scale: f64, outline: Rect, occupied: &mut Occupied) {
        const START_MM: f64 = 20.0;
        for chain in &self.chains {
            for position in chain.positions() {
                let u = position.mm() * scale;
                let (from, to) = match chain.side {
                    Side::Below => ((u, outline.y0), (u, outline.y0 - START_MM)),
                    Side::Above => ((u, outline.y1), (u, outline.y1 + START_MM)),
                    Side::Left => ((outline.x0, u), (outline.x0 - START_MM, u)),
                    Side::Right => ((outline.x1, u), (outline.x1 + START_MM, u)),
                };
                occupied.add_line(from.into(), to.into());
            }
        }
    }

    fn lay_out_dimensions(&self, scale: f64, style: &DimensionStyle) -> (PlacedView, Occupied) {
        let mut display = Display::new();
        display.append_mapped(&self.geometry, Affine::scale(scale));
        let mut occupied = Occupied::new();
        occupied.add_display(&display);
        let on_paper = scaled(self.outline(), scale);
        let mut keep_clear = on_paper;
        let mut marks = Display::new();
        let mut expected = Occupied::new();
        if !self.cut_marks.is_empty() {
            expected = occupied.clone();
            self.add_extension_lines(scale, on_paper, &mut expected);
        }
        for mark in &self.cut_marks {
            let mut one = Display::new();
            mark.draw(scale, on_paper, &expected, &mut one);
            expected.add_display(&one);
            marks.items.extend(one.items);
        }
        if let Some(bounds) = marks.bounds() {
            keep_clear = keep_clear.union(bounds);
        }
        // Chains may reach beyond the outline, down to the floor under feet: the other sides keep clear of that too.
        for chain in &self.chains {
            let Some((from, to)) = chain.reach() else { continue };
            let (from, to) = (from.mm() * scale, to.mm() * scale);
            let (x, y) = if chain.side.is_horizontal() {
                ((from, to), (on_paper.y0, on_paper.y1))
            } else {
                ((on_paper.x0, on_paper.x1), (from, to))
            };
            keep_clear = keep_clear.union(Rect::new(x.0, y.0, x.1, y.1));
        }
        occupied.add_display(&marks);
        display.items.extend(marks.items);
        let dimensions = lay_out(&self.chains, on_paper, keep_clear, scale, style, &mut occupied);
        display.items.extend(dimensions.items);
        let bounds = display.bounds().unwrap_or(Rect::ZERO);
        let placed = PlacedView {
            language: self.language,
            title: self.title.clone(),
            axes: self.axes,
            scale,
            origin: Vec2::ZERO,
            display,
            bounds,
            led_out: 0,
            omitted: Vec::new(),
        };
        (placed, occupied)
    }
}

fn scaled(rect: Rect, scale: f64) -> Rect {
    Rect::new(rect.x0 * scale, rect.y0 * scale, rect.x1 * scale, rect.y1 * scale)
}

/// A view laid out on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedView {
    /// The language of what is printed with the title.
    pub language: Language,
    /// The title printed over the view.
    pub title: String,
    /// What the axes are.
    pub axes: Axes,
    /// Paper millimetres for a model millimetre.
    pub scale: f64,
    /// Where the origin of the model lies on the paper.
    pub origin: Vec2,
    /// Everything drawn, in paper millimetres.
    pub display: Display,
    /// The box around everything drawn.
    pub bounds: Rect,
    /// How many labels stand not where they belong, but at the end of a leader or in a key.
    pub led_out: usize,
    /// Labels that found no room; nothing vanishes silently.
    pub omitted: Vec<String>,
}

impl PlacedView {
    /// The view moved on the paper.
    #[must_use]
    pub fn shifted(&self, by: Vec2) -> Self {
        let mut display = Display::new();
        display.append_mapped(&self.display, Affine::translate(by));
        Self { origin: self.origin + by, bounds: self.bounds + by, display, ..self.clone() }
    }

    /// The view with its title over it, and the axes and, where it differs from the sheet's, the scale under the title.
    #[must_use]
    pub fn titled(mut self, note: Option<&str>) -> Self {
        let middle = self.bounds.center().x;
        let mut subtitle = self.axes.name();
        if self.axes == Axes::Isometric {
            subtitle = self.language.say(&subtitle);
        }
        if let Some(note) = note {
            subtitle = format!("{subtitle}   {}", self.language.say(note));
        }
        let base = self.bounds.y1 + 4.0;
        let small = Text::new(Point::new(middle, base), font::HEIGHT_NOTE_MM, subtitle).anchored(Anchor::Middle);
        let title = Text::new(Point::new(middle, base + 5.5), font::HEIGHT_TITLE_MM, self.title.clone())
            .anchored(Anchor::Middle);
        for text in [title, small] {
            self.bounds = self.bounds.union(text.bounds());
            self.display.text(Layer::Notes, None, text);
        }
        self
    }

    /// The point of the view, in model millimetres, under a point of the paper.
    #[must_use]
    pub fn model_from_page(&self, point: Point) -> Point {
        ((point - self.origin).to_vec2() / self.scale).to_point()
    }

    /// What is drawn at a point of the paper (see [`Display::hit`]).
    #[must_use]
    pub fn hit(&self, point: Point, reach_mm: f64) -> Option<&Tag> {
        self.display.hit(point, reach_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn isometric_axes_stand_at_30_degrees_and_keep_their_length() {
        // ISO 5456-3: axis angles 30 / 30, ratio 1:1:1.
        let x = isometric([1.0, 0.0, 0.0]).to_vec2();
        let y = isometric([0.0, 1.0, 0.0]).to_vec2();
        let z = isometric([0.0, 0.0, 1.0]).to_vec2();
        for axis in [x, y, z] {
            assert!((axis.hypot() - 1.0).abs() < 1e-12);
        }
        assert!((x.atan2().to_degrees() + 30.0).abs() < 1e-9);
        assert!((z.atan2().to_degrees() + 150.0).abs() < 1e-9);
        assert!((y.atan2().to_degrees() - 90.0).abs() < 1e-9);
    }

    #[test]
    fn straight_views_are_right_handed_towards_the_viewer() {
        let check = |axes: Axes, expected: (f64, f64), name: &str| {
            assert_eq!(axes.project([1.0, 2.0, 3.0]), Point::from(expected));
            assert_eq!(axes.name(), name);
        };
        check(Axes::FRONT, (1.0, 2.0), "X–Y");
        check(Axes::FROM_LEFT, (3.0, 2.0), "Z–Y");
        check(Axes::FROM_RIGHT, (-3.0, 2.0), "Z–Y");
        check(Axes::FROM_ABOVE, (1.0, -3.0), "X–Z");
        assert_eq!(Axes::FRONT.to_viewer(), [0.0, 0.0, 1.0]);
        assert_eq!(Axes::FROM_LEFT.to_viewer(), [-1.0, 0.0, 0.0]);
        assert_eq!(Axes::FROM_RIGHT.to_viewer(), [1.0, 0.0, 0.0]);
        assert_eq!(Axes::FROM_ABOVE.to_viewer(), [0.0, 1.0, 0.0]);
    }
}
