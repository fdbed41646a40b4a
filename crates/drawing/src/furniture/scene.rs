//! What is drawn: the parts as solids, cut or whole, with their lines, areas to point at and hatching.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use casewright_core::Length;
use casewright_core::assembly::{Assembly, Part};
use casewright_core::build_plan::{self, BuildPlan};
use casewright_core::design::{Resolved, Role};
use casewright_core::finding::Finding;
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::jigs::JigPlan;
use casewright_core::layout::{LaidBay, Layout};
use casewright_core::pipeline::Derived;
use casewright_core::routes::LeadRoute;
use kurbo::{BezPath, Point, Rect, Shape};

use super::curves::strokes;
use super::shape::shape_of;
use crate::display::{Layer, Tone};
use crate::hatch::Hatch;
use crate::hidden::{Body, Solid, view_lines};
use crate::language::{Language, Speech, names_of};
use crate::line::LineClass;
use crate::place::overlap;
use crate::pointer::Pointer;
use crate::prism::Prism;
use crate::table::{Column, Row, Table};
use crate::tag::Tag;
use crate::view::{Axes, View};

/// A design with what was computed from it.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    /// The design, every length evaluated.
    pub design: &'a Resolved,
    /// Where everything lies.
    pub layout: &'a Layout,
    /// What is built.
    pub assembly: &'a Assembly,
    /// The ways of its leads.
    pub leads: &'a [LeadRoute],
    /// The order of work; looked for when it is first asked for, unless it is known already.
    pub order: &'a OnceLock<BuildPlan>,
    /// The drilling blocks that serve it.
    pub jigs: &'a JigPlan,
    /// What the checks found, worst first.
    pub findings: &'a [Finding],
    /// The language that texts are said in; that of the source if none is given.
    pub speech: Option<&'a Speech>,
}

impl<'a> From<&'a Derived> for Scene<'a> {
    fn from(derived: &'a Derived) -> Self {
        Self {
            design: &derived.design,
            layout: &derived.layout,
            assembly: &derived.assembly,
            leads: &derived.leads,
            order: &derived.order,
            jigs: &derived.jigs,
            findings: &derived.findings,
            speech: None,
        }
    }
}

impl<'a> Scene<'a> {
    /// The scene with its texts in a language.
    #[must_use]
    pub const fn in_language(self, speech: &'a Speech) -> Self {
        Self { speech: Some(speech), ..self }
    }
}

impl<'a> Scene<'a> {
    /// The order of work.
    pub(crate) fn order_of_work(&self) -> &'a BuildPlan {
        self.order.get_or_init(|| build_plan::plan(self.design, self.layout, self.assembly, self.leads))
    }
}

impl Scene<'_> {
    /// A language that leaves the names of this design and the numbers of its parts as they are.
    #[must_use]
    pub fn speech_of(&self, language: Language) -> Speech {
        let numbers = self.assembly.parts.iter().map(|part| part.number.clone());
        Speech::new(language, names_of(self.design).into_iter().chain(numbers))
    }

    /// The language that texts are said in.
    #[must_use]
    pub fn language(&self) -> Language {
        self.speech.map_or_else(Language::default, Speech::language)
    }

    /// A text of the program in the language of the scene. Every text of a sheet goes through here, before it is laid out,
    /// but for names that the user gave.
    #[must_use]
    pub fn say(&self, text: &str) -> String {
        self.speech.map_or_else(|| text.to_owned(), |speech| speech.say(text))
    }

    /// A text that may be the program's or a name that the user gave; names stay as they are.
    #[must_use]
    pub fn say_unless_named(&self, text: &str) -> String {
        self.speech.map_or_else(|| text.to_owned(), |speech| speech.say_unless_named(text))
    }

    /// A table with its headings said.
    pub(crate) fn table(&self, columns: Vec<Column>, rows: Vec<Row>) -> Table {
        let columns = columns.into_iter().map(|it| Column { heading: self.say(&it.heading), ..it }).collect();
        Table { columns, rows }
    }

    /// An empty view with its title said.
    pub(crate) fn view(&self, id: impl Into<String>, title: &str, axes: Axes) -> View {
        View { language: self.language(), ..View::new(id, self.say(title), axes) }
    }

    /// The bays that are not divided further.
    pub(crate) fn leaf_bays(&self) -> impl Iterator<Item = &LaidBay> {
        self.layout.bays.iter().filter(|bay| bay.is_leaf)
    }
}

/// A cutting plane; what lies on the viewer's side of it is taken away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Plane {
    /// The axis that it stands across.
    pub(crate) axis: Axis,
    /// Where it stands.
    pub(crate) at: Length,
    /// Whether the smaller coordinates are kept.
    pub(crate) keeps_smaller: bool,
}

impl Plane {
    /// What is left of a box, and whether the plane cuts it.
    fn kept(self, cuboid: &Cuboid) -> Option<(Cuboid, bool)> {
        let (low, high) = cuboid.range(self.axis);
        let cut = low < self.at && self.at < high;
        if cut {
            let range = if self.keeps_smaller { (low, self.at) } else { (self.at, high) };
            return Some((cuboid.with_range(self.axis, range), true));
        }
        let kept = if self.keeps_smaller { high <= self.at } else { low >= self.at };
        kept.then_some((*cuboid, false))
    }

    /// Whether the plane goes through the box.
    pub(crate) fn cuts(self, cuboid: &Cuboid) -> bool {
        self.kept(cuboid).is_some_and(|(_, cut)| cut)
    }
}

/// A point of the model in millimetres.
pub(crate) fn mm(point: casewright_core::geometry::Point) -> [f64; 3] {
    [point.x.mm(), point.y.mm(), point.z.mm()]
}

/// The box of a cuboid in a straight view, in model millimetres.
pub(crate) fn view_rect(axes: Axes, cuboid: &Cuboid) -> Rect {
    Rect::from_points(axes.project(mm(cuboid.min)), axes.project(mm(cuboid.max)))
}

/// A view with the parts that it shows.
pub(crate) struct Drawn<'a> {
    pub(crate) view: View,
    pub(crate) parts: Vec<DrawnPart<'a>>,
}

impl Drawn<'_> {
    /// The view with the number of every part that can be seen in it.
    pub(crate) fn numbered(mut self) -> View {
        point_at_parts(&mut self.view, &self.parts, &BTreeSet::new());
        self.view
    }
}

/// A part as it is drawn in one view.
pub(crate) struct DrawnPart<'a> {
    pub(crate) part: &'a Part,
    /// What is left of it.
    pub(crate) cuboid: Cuboid,
    /// What is left of its shape, if it is no box.
    pub(crate) shape: Option<Prism>,
    /// Where a plane cuts it.
    pub(crate) cut: Option<Cut>,
}

/// Where a plane cuts a part.
pub(crate) enum Cut {
    /// All through.
    Whole,
    /// In these boxes, flat along the axis of the plane: what is between them is an opening.
    Across(Vec<([f64; 3], [f64; 3])>),
    /// Along the board, so that its outline and openings are seen.
    Along,
}

impl Cut {
    fn of(plane: Plane, shape: Option<&Prism>) -> Self {
        match shape {
            None => Self::Whole,
            Some(shape) if shape.axis == plane.axis.index() => Self::Along,
            Some(shape) => Self::Across(shape.cut(plane.axis.index(), plane.at.mm())),
        }
    }
}

impl DrawnPart<'_> {
    fn tag(&self) -> Tag {
        Tag::Part(self.part.number.clone())
    }

    pub(crate) fn body(&self) -> Body {
        let solid = || Solid { min: mm(self.cuboid.min), max: mm(self.cuboid.max) };
        self.shape.as_ref().map_or_else(|| Body::Box(solid()), |shape| shape.clone().into())
    }

    /// Whether a view shows the part at a spot: not beside it where it is rounded, and not in an opening.
    fn covers(&self, axes: Axes, rect: Rect, spot: Point) -> bool {
        let Some(shape) = self.shape.as_ref().filter(|shape| is_seen_through(axes, shape)) else {
            return rect.contains(spot);
        };
        rect.contains(spot) && shape.region.path(|point| axes.project(shape.over(point, shape.range.0))).contains(spot)
    }
}

/// Whether a view looks along the axis of a shape.
fn is_seen_through(axes: Axes, shape: &Prism) -> bool {
    matches!(axes, Axes::Straight(..)) && axes.to_viewer().get(shape.axis).is_some_and(|it| *it != 0.0)
}

/// The parts that a view shows.
pub(crate) fn drawn_parts<'a>(
    scene: &Scene<'a>,
    plane: Option<Plane>,
    shown: impl Fn(&Part) -> bool,
) -> Vec<DrawnPart<'a>> {
    let parts = scene.assembly.parts.iter().filter(|part| shown(part));
    parts
        .filter_map(|part| {
            let (cuboid, is_cut) = match plane {
                Some(plane) => plane.kept(&part.cuboid)?,
                None => (part.cuboid, false),
            };
            let mut shape = shape_of(part);
            let cut = plane.filter(|_| is_cut).map(|plane| {
                let cut = Cut::of(plane, shape.as_ref());
                shape = shape.take().map(|it| it.kept(plane.axis.index(), plane.at.mm(), plane.keeps_smaller));
                cut
            });
            Some(DrawnPart { part, cuboid, shape, cut })
        })
        .collect()
}

/// Draws parts: visible edges, hidden ones if asked for, hatching of what is cut, areas to point at.
pub(crate) fn draw_parts(view: &mut View, parts: &[DrawnPart<'_>], with_hidden: bool) {
    let is_shaped = |owner: usize| parts.get(owner).is_some_and(|part| part.shape.is_some());
    for (line, path) in strokes(view_lines(&bodies(parts), view.axes), is_shaped) {
        if !line.visible && !with_hidden {
            continue;
        }
        let (layer, class) =
            if line.visible { (Layer::Outline, LineClass::VisibleOutline) } else { (Layer::Hidden, LineClass::Hidden) };
        let tag = parts.get(line.owner).map(DrawnPart::tag);
        view.geometry.stroke(layer, class, tag, path);
    }
    hatch_cut_parts(view, parts);
}

/// Parts as what hides and is hidden.
pub(crate) fn bodies(parts: &[DrawnPart<'_>]) -> Vec<Body> {
    parts.iter().map(DrawnPart::body).collect()
}

fn hatch_cut_parts(view: &mut View, parts: &[DrawnPart<'_>]) {
    let axes = view.axes;
    let mut areas: Vec<(Rect, bool)> = Vec::new();
    for part in parts {
        let Some(cut) = &part.cut else { continue };
        let area = view_rect(axes, &part.cuboid);
        let touching = area.inflate(0.05, 0.05);
        let rising_neighbours = areas.iter().filter(|(other, rising)| *rising && overlap(*other, touching)).count();
        let falling_neighbours = areas.iter().filter(|(other, rising)| !*rising && overlap(*other, touching)).count();
        let rising = rising_neighbours <= falling_neighbours;
        areas.push((area, rising));
        let hatch = |area: Rect| Hatch { area, rising, region: None, tag: Some(part.tag()) };
        match cut {
            Cut::Whole => view.hatches.push(hatch(area)),
            Cut::Across(boxes) => {
                let rect =
                    |(low, high): &([f64; 3], [f64; 3])| Rect::from_points(axes.project(*low), axes.project(*high));
                view.hatches.extend(boxes.iter().map(|it| hatch(rect(it))));
            }
            Cut::Along => {
                let seen = |shape: &Prism| shape.region.seen(|point| axes.project(shape.over(point, shape.range.0)));
                view.hatches.push(Hatch { region: part.shape.as_ref().map(seen), ..hatch(area) });
            }
        }
    }
}

/// Areas to point at, from back to front: backs, bays, things, then all other parts from the farthest to the nearest.
pub(crate) fn draw_areas(view: &mut View, scene: &Scene<'_>, parts: &[DrawnPart<'_>]) {
    let axes = view.axes;
    let mut sorted: Vec<&DrawnPart<'_>> = parts.iter().collect();
    sorted.sort_by(|a, b| depth(axes, &a.cuboid).total_cmp(&depth(axes, &b.cuboid)));
    let (backs, others): (Vec<_>, Vec<_>) = sorted.into_iter().partition(|part| part.part.role == Role::Back);
    for part in backs {
        area(view, part.tag(), &part.cuboid, part.shape.as_ref());
    }
    if let Axes::Straight(..) = axes {
        for bay in &scene.layout.bays {
            area(view, Tag::Bay(bay.name.clone()), &bay.clear, None);
        }
        for thing in &scene.assembly.things {
            area(view, Tag::Thing(thing.name.clone()), &thing.cuboid, None);
        }
    }
    for part in others {
        area(view, part.tag(), &part.cuboid, part.shape.as_ref());
    }
}

fn depth(axes: Axes, cuboid: &Cuboid) -> f64 {
    let sight = axes.to_viewer();
    let (min, max) = (mm(cuboid.min), mm(cuboid.max));
    sight.iter().zip(min.iter().zip(max)).map(|(s, (a, b))| (s * a).max(s * b)).sum()
}

fn area(view: &mut View, tag: Tag, cuboid: &Cuboid, shape: Option<&Prism>) {
    let axes = view.axes;
    let path = match (axes, shape.filter(|shape| is_seen_through(axes, shape))) {
        (_, Some(shape)) => shape.region.path(|point| axes.project(shape.over(point, shape.range.0))),
        (Axes::Straight(..), None) => view_rect(axes, cuboid).to_path(0.1),
        (Axes::Isometric, None) => isometric_outline(cuboid),
    };
    view.geometry.fill(Layer::Areas, Tone::Clear, Some(tag), path);
}

/// The hexagon that a box covers in isometric.
fn isometric_outline(cuboid: &Cuboid) -> BezPath {
    let (a, b) = (mm(cuboid.min), mm(cuboid.max));
    // Round the outline, starting at the lower corner nearest the viewer.
    let corners = [
        [b[0], a[1], b[2]],
        [b[0], a[1], a[2]],
        [b[0], b[1], a[2]],
        [a[0], b[1], a[2]],
        [a[0], b[1], b[2]],
        [a[0], a[1], b[2]],
    ];
    let mut path = BezPath::new();
    for (index, corner) in corners.into_iter().enumerate() {
        let point = Axes::Isometric.project(corner);
        if index == 0 {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    path.close_path();
    path
}

/// Part numbers with leaders for the parts that can be seen and are not in `done`.
pub(crate) fn point_at_parts(view: &mut View, parts: &[DrawnPart<'_>], done: &BTreeSet<String>) {
    let axes = view.axes;
    let rects: Vec<(Rect, f64)> =
        parts.iter().map(|part| (view_rect(axes, &part.cuboid), depth(axes, &part.cuboid))).collect();
    for (part, (rect, own_depth)) in parts.iter().zip(&rects) {
        if done.contains(&part.part.number) {
            continue;
        }
        let hides = |other: &DrawnPart<'_>, (rect, depth): &(Rect, f64), spot: Point| {
            *depth > own_depth + 1e-6 && other.covers(axes, *rect, spot)
        };
        let spots: Vec<Point> = spots(*rect)
            .into_iter()
            .filter(|spot| part.covers(axes, *rect, *spot))
            .filter(|spot| !parts.iter().zip(&rects).any(|(other, at)| hides(other, at, *spot)))
            .collect();
        if spots.is_empty() {
            continue;
        }
        view.pointers.push(Pointer { at: spots, text: part.part.number.clone(), tag: Some(part.tag()), stays: true });
    }
}

/// Spots inside a rectangle to point at: along its middle line, the middle last, where labels stand.
pub(crate) fn spots(rect: Rect) -> Vec<Point> {
    const SHARES: [f64; 9] = [0.25, 0.75, 0.15, 0.85, 0.35, 0.65, 0.08, 0.92, 0.5];
    let tall = rect.height() > rect.width();
    SHARES
        .into_iter()
        .map(|share| {
            let (x, y) = if tall { (0.5, share) } else { (share, 0.5) };
            Point::new(rect.x0 + rect.width() * x, rect.y0 + rect.height() * y)
        })
        .collect()
}
