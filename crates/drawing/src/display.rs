//! Display lists: what a drawing consists of, in millimetres.
//!
//! Conventions: x to the right, y up, origin at the lower left corner of the sheet (or at the origin of the view);
//! angles in radians, counter-clockwise. Lengths of texts, arrows and line widths are paper millimetres always; only
//! the points of paths and the anchors of texts scale with a view.

use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape, Vec2};

use crate::line::LineClass;
use crate::tag::Tag;
use crate::text::Text;

/// The layers of a drawing, from back to front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Areas to point at on the screen; nothing of it is painted.
    Areas,
    /// Frame, grid reference and title block.
    Frame,
    /// Walls, obstacles, neighbours: what is there already.
    Site,
    /// Hatching and fill of what is cut.
    Section,
    /// Hidden edges.
    Hidden,
    /// Visible edges.
    Outline,
    /// Things that are housed.
    Things,
    /// Swing of doors and reach of pull-outs.
    Movement,
    /// Centre lines and cutting planes.
    Centre,
    /// Dimension chains.
    Dimensions,
    /// Labels, titles of views, notes.
    Notes,
    /// Lists.
    Tables,
}

impl Layer {
    /// Every layer, from back to front.
    pub const ALL: [Self; 12] = [
        Self::Areas,
        Self::Frame,
        Self::Site,
        Self::Section,
        Self::Hidden,
        Self::Outline,
        Self::Things,
        Self::Movement,
        Self::Centre,
        Self::Dimensions,
        Self::Notes,
        Self::Tables,
    ];

    /// The name that a viewer lists.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Areas => "Areas",
            Self::Frame => "Frame",
            Self::Site => "Site",
            Self::Section => "Section",
            Self::Hidden => "Hidden edges",
            Self::Outline => "Outline",
            Self::Things => "Things",
            Self::Movement => "Movement",
            Self::Centre => "Centre lines",
            Self::Dimensions => "Dimensions",
            Self::Notes => "Notes",
            Self::Tables => "Tables",
        }
    }
}

/// How a filled area looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    /// The colour of the lines: dots and symbols.
    Ink,
    /// A thin tint, for what is cut or stands out in a list.
    Tint,
    /// Not painted at all: an area that can be pointed at.
    Clear,
}

/// A filled arrow head; its length is paper millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrow {
    /// The tip.
    pub tip: Point,
    /// The direction in which it points, in radians.
    pub direction_rad: f64,
    /// From tip to base, in paper millimetres.
    pub length_mm: f64,
}

/// Half the angle of an arrow head: textbooks give 15 degrees for the whole.
pub const ARROW_HALF_ANGLE_RAD: f64 = 7.5 * std::f64::consts::PI / 180.0;

impl Arrow {
    /// The outline of the head.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let back = Vec2::from_angle(self.direction_rad) * -self.length_mm;
        let aside = back.turn_90() * ARROW_HALF_ANGLE_RAD.tan();
        let mut path = BezPath::new();
        path.move_to(self.tip);
        path.line_to(self.tip + back + aside);
        path.line_to(self.tip + back - aside);
        path.close_path();
        path
    }
}

/// One mark on the paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line along a path.
    Stroke {
        /// The path.
        path: BezPath,
        /// What the line means.
        class: LineClass,
    },
    /// A filled area (even-odd).
    Fill {
        /// The outline of the area.
        path: BezPath,
        /// How it looks.
        tone: Tone,
    },
    /// A line of text.
    Text(Text),
    /// A filled arrow head.
    Arrow(Arrow),
}

/// One mark with its layer and owner.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The layer.
    pub layer: Layer,
    /// What the item belongs to, if anything.
    pub tag: Option<Tag>,
    /// The mark itself.
    pub mark: Mark,
}

impl Item {
    /// The box around the mark, in the units of its list; line widths are not counted.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        match &self.mark {
            Mark::Stroke { path, .. } | Mark::Fill { path, .. } => path.bounding_box(),
            Mark::Text(text) => text.bounds(),
            Mark::Arrow(arrow) => arrow.path().bounding_box(),
        }
    }

    /// The item with its points mapped; texts and arrow heads keep their paper size.
    ///
    /// The map must be a uniform scaling and a shift.
    #[must_use]
    pub fn mapped(&self, map: Affine) -> Self {
        let mark = match &self.mark {
            Mark::Stroke { path, class } => Mark::Stroke { path: map * path.clone(), class: *class },
            Mark::Fill { path, tone } => Mark::Fill { path: map * path.clone(), tone: *tone },
            Mark::Text(text) => Mark::Text(Text { at: map * text.at, ..text.clone() }),
            Mark::Arrow(arrow) => Mark::Arrow(Arrow { tip: map * arrow.tip, ..*arrow }),
        };
        Self { layer: self.layer, tag: self.tag.clone(), mark }
    }
}

/// A display list: items in the order in which they are painted within their layer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Display {
    /// The items.
    pub items: Vec<Item>,
}

impl Display {
    /// An empty list.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Appends one mark.
    pub fn push(&mut self, layer: Layer, tag: Option<Tag>, mark: Mark) {
        self.items.push(Item { layer, tag, mark });
    }

    /// Appends a line along a path.
    pub fn stroke(&mut self, layer: Layer, class: LineClass, tag: Option<Tag>, path: BezPath) {
        self.push(layer, tag, Mark::Stroke { path, class });
    }

    /// Appends a straight line.
    pub fn segment(&mut self, layer: Layer, class: LineClass, tag: Option<Tag>, from: Point, to: Point) {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        self.stroke(layer, class, tag, path);
    }

    /// Appends the outline of a rectangle.
    pub fn rectangle(&mut self, layer: Layer, class: LineClass, tag: Option<Tag>, rect: Rect) {
        self.stroke(layer, class, tag, rect.to_path(1e-3));
    }

    /// Appends a filled area.
    pub fn fill(&mut self, layer: Layer, tone: Tone, tag: Option<Tag>, path: BezPath) {
        self.push(layer, tag, Mark::Fill { path, tone });
    }

    /// Appends a text.
    pub fn text(&mut self, layer: Layer, tag: Option<Tag>, text: Text) {
        self.push(layer, tag, Mark::Text(text));
    }

    /// Appends all items of another list, mapped (see [`Item::mapped`]).
    pub fn append_mapped(&mut self, other: &Self, map: Affine) {
        self.items.extend(other.items.iter().map(|item| item.mapped(map)));
    }

    /// The box around everything; nothing when the list is empty.
    #[must_use]
    pub fn bounds(&self) -> Option<Rect> {
        self.items.iter().map(Item::bounds).reduce(|all, one| all.union(one))
    }

    /// The items from back to front, areas to point at included: by layer, and in order within a layer.
    #[must_use]
    pub fn painted(&self) -> Vec<&Item> {
        let mut items: Vec<&Item> = self.items.iter().collect();
        items.sort_by_key(|item| item.layer);
        items
    }

    /// The texts, in order.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.items.iter().filter_map(|item| match &item.mark {
            Mark::Text(text) => Some(text),
            _ => None,
        })
    }

    /// The front-most tagged item within `reach` of a point: lines by distance, areas by what they enclose.
    #[must_use]
    pub fn hit(&self, point: Point, reach: f64) -> Option<&Tag> {
        self.painted().into_iter().rev().find_map(|item| {
            let tag = item.tag.as_ref()?;
            item.touches(point, reach).then_some(tag)
        })
    }
}

impl Item {
    /// Whether a point lies on the mark, or within `reach` of its line.
    #[must_use]
    pub fn touches(&self, point: Point, reach: f64) -> bool {
        if !self.bounds().inflate(reach, reach).contains(point) {
            return false;
        }
        match &self.mark {
            Mark::Stroke { path, .. } => {
                segments(path).iter().any(|(a, b)| distance_to_segment(point, *a, *b) <= reach)
            }
            Mark::Fill { path, .. } => path.winding(point) != 0,
            Mark::Text(text) => text.corners_contain(point),
            Mark::Arrow(arrow) => arrow.path().winding(point) != 0,
        }
    }
}

/// The straight pieces of a path; curves are flattened to a hundredth of a millimetre.
#[must_use]
pub fn segments(path: &BezPath) -> Vec<(Point, Point)> {
    let mut pieces = Vec::new();
    let mut start = Point::ZERO;
    let mut last = Point::ZERO;
    kurbo::flatten(path.iter(), 0.01, |element| match element {
        PathEl::MoveTo(point) => {
            start = point;
            last = point;
        }
        PathEl::LineTo(point) => {
            pieces.push((last, point));
            last = point;
        }
        PathEl::ClosePath => {
            if last.distance(start) > 1e-9 {
                pieces.push((last, start));
            }
            last = start;
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    pieces
}

/// The distance of a point from a straight piece.
#[must_use]
pub fn distance_to_segment(point: Point, from: Point, to: Point) -> f64 {
    let along = to - from;
    let length_squared = along.hypot2();
    if length_squared == 0.0 {
        return point.distance(from);
    }
    let share = ((point - from).dot(along) / length_squared).clamp(0.0, 1.0);
    point.distance(from + along * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arrow_is_as_long_as_asked_and_15_degrees_wide() {
        let arrow = Arrow { tip: Point::new(5.0, 5.0), direction_rad: 0.0, length_mm: 3.5 };
        let bounds = arrow.path().bounding_box();
        assert!((bounds.x1 - 5.0).abs() < 1e-9 && (bounds.width() - 3.5).abs() < 1e-9);
        let angle = 2.0 * (bounds.height() / 2.0 / bounds.width()).atan();
        assert!((angle.to_degrees() - 15.0).abs() < 1e-6);
    }

    #[test]
    fn scaling_moves_points_but_keeps_paper_sizes() {
        let mut display = Display::new();
        display.push(
            Layer::Dimensions,
            None,
            Mark::Arrow(Arrow { tip: Point::new(100.0, 0.0), direction_rad: 0.0, length_mm: 3.5 }),
        );
        display.segment(Layer::Outline, LineClass::VisibleOutline, None, Point::ZERO, Point::new(100.0, 0.0));
        let mut page = Display::new();
        page.append_mapped(&display, Affine::translate((20.0, 10.0)) * Affine::scale(0.1));
        let bounds = page.bounds().unwrap();
        assert!((bounds.x0 - 20.0).abs() < 1e-9 && (bounds.x1 - 30.0).abs() < 1e-9);
        assert!((bounds.height() - 2.0 * 3.5 * ARROW_HALF_ANGLE_RAD.tan()).abs() < 1e-9);
    }

    #[test]
    fn a_click_finds_the_front_most_owner() {
        let mut display = Display::new();
        let bay = Tag::Bay("1".into());
        let part = Tag::Part("P1".into());
        display.fill(Layer::Areas, Tone::Clear, Some(bay.clone()), Rect::new(0.0, 0.0, 50.0, 50.0).to_path(0.1));
        display.rectangle(
            Layer::Outline,
            LineClass::VisibleOutline,
            Some(part.clone()),
            Rect::new(10.0, 10.0, 20.0, 20.0),
        );
        assert_eq!(display.hit(Point::new(10.3, 15.0), 0.5), Some(&part));
        assert_eq!(display.hit(Point::new(15.0, 15.0), 0.5), Some(&bay));
        assert_eq!(display.hit(Point::new(60.0, 15.0), 0.5), None);
    }
}
