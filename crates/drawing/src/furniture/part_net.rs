//! A part unfolded: the face that is worked, the edges with holes round it, the other face beyond, each with its places
//! counted from the datum corner.

use casewright_core::Length;
use casewright_core::assembly::{Grain, Part, PartEdge, PartFace};
use kurbo::{BezPath, Circle, PathEl, Point, Rect, Shape, Vec2};

use super::part_marks::{Marks, grooves, holes};
use super::part_ordinates::Ordinates;
use super::part_words::face_word;
use super::scene::Scene;
use crate::dimension::Side;
use crate::display::{Arrow, Display, Layer, Mark, Tone};
use crate::font::{HEIGHT_DIMENSION_MM, HEIGHT_LABEL_MM, HEIGHT_NOTE_MM};
use crate::line::LineClass;
use crate::place::Occupied;
use crate::pointer::{Pointer, place_pointers};
use crate::tag::Tag;
use crate::text::{Anchor, Text};

/// Clear space between a face with its values and the next edge, in millimetres.
const BETWEEN_MM: f64 = 6.0;
/// The thickness of the bar that marks a banded edge, and its distance from the outline, in millimetres.
const BAND_MM: (f64, f64) = (0.25, 0.6);

/// A part laid out on paper.
pub(crate) struct Net {
    /// Everything drawn, in paper millimetres.
    pub(crate) display: Display,
    /// Marks of holes and words that found no room.
    pub(crate) omitted: Vec<String>,
}

/// A face or edge on the paper.
#[derive(Clone, Copy)]
struct Panel {
    face: PartFace,
    /// Where its datum corner lies.
    origin: Point,
    /// Where its first coordinate runs.
    first: Vec2,
    /// Where its second coordinate runs.
    second: Vec2,
    /// Its size along both, in paper millimetres.
    size: (f64, f64),
}

impl Panel {
    fn at(&self, first: f64, second: f64) -> Point {
        self.origin + self.first * first + self.second * second
    }

    fn rect(&self) -> Rect {
        Rect::from_points(self.origin, self.at(self.size.0, self.size.1))
    }
}

/// Whether anything is worked in a face or edge.
pub(crate) fn is_worked(part: &Part, face: PartFace) -> bool {
    holes(part).any(|hole| hole.face == face) || grooves(part).any(|groove| groove.face == face)
}

/// The face that is drawn in the middle.
pub(crate) fn main_face(part: &Part) -> PartFace {
    if is_worked(part, PartFace::Under) && !is_worked(part, PartFace::Over) { PartFace::Under } else { PartFace::Over }
}

/// The ordinates of a face along its first or second coordinate.
fn ordinates(scene: &Scene<'_>, part: &Part, face: PartFace, first: bool, side: Side) -> Ordinates {
    let pick = |at: (Length, Length)| if first { at.0 } else { at.1 };
    let on_edge = matches!(face, PartFace::Edge(_));
    let whole = if first { part.finished.length } else { part.finished.width };
    let mut at: Vec<Length> = holes(part).filter(|hole| hole.face == face).map(|hole| pick(hole.at)).collect();
    at.extend(grooves(part).filter(|it| it.face == face).flat_map(|it| [pick(it.from), pick(it.to)]));
    // The whole size is given once, with the face in the middle.
    if !on_edge && face == main_face(part) {
        at.push(whole);
    }
    at.retain(|it| *it > Length::ZERO && (face == main_face(part) || *it < whole || on_edge));
    at.sort();
    at.dedup();
    let positions = at.into_iter().map(|it| (it, scene.dimension(it))).collect();
    Ordinates { side, positions, reversed: false, has_circle: on_edge, tag: Some(Tag::Part(part.number.clone())) }
}

/// A panel with the values along it.
type Measured = (Panel, Vec<Ordinates>);

/// Lays a part out at `scale` paper millimetres for a real one.
pub(crate) fn lay_out(scene: &Scene<'_>, part: &Part, marks: &Marks, scale: f64) -> Net {
    let panels = arrange(scene, part, scale);
    let mut net = Net { display: Display::new(), omitted: Vec::new() };
    let mut pen = Pen { scene, part, marks, scale, net: &mut net, occupied: Occupied::new() };
    for (panel, ordinates) in &panels {
        pen.outline(panel);
        for one in ordinates {
            one.draw(base(panel, one.side), scale, &mut pen.net.display);
        }
    }
    if let Some((main, _)) = panels.first() {
        pen.bands(main);
    }
    pen.occupied.add_display(&pen.net.display);
    for (panel, _) in &panels {
        pen.name_edge(panel);
    }
    for (panel, _) in &panels {
        pen.mark_holes(panel);
    }
    for (panel, _) in panels.iter().filter(|(panel, _)| !matches!(panel.face, PartFace::Edge(_))) {
        pen.name_face(panel);
    }
    if let Some((main, _)) = panels.first()
        && part.grain == Grain::AlongLength
    {
        pen.grain(main);
    }
    net
}

/// The box of a part laid out at a scale without its marks and words.
pub(crate) fn bare_bounds(scene: &Scene<'_>, part: &Part, scale: f64) -> Rect {
    let panels = arrange(scene, part, scale);
    let mut values = Display::new();
    let mut bounds = Rect::ZERO;
    for (panel, ordinates) in &panels {
        bounds = bounds.union(panel.rect());
        for one in ordinates {
            one.draw(base(panel, one.side), scale, &mut values);
        }
    }
    values.bounds().map_or(bounds, |values| bounds.union(values))
}

/// Where the values beside a panel begin: at its own side, whichever way the panel lies.
fn base(panel: &Panel, side: Side) -> Point {
    let (origin, rect) = (panel.origin, panel.rect());
    match side {
        Side::Below => Point::new(origin.x, rect.y0),
        Side::Above => Point::new(origin.x, rect.y1),
        Side::Left => Point::new(rect.x0, origin.y),
        Side::Right => Point::new(rect.x1, origin.y),
    }
}

/// All faces and edges to draw, the face in the middle first, its datum corner at the origin.
fn arrange(scene: &Scene<'_>, part: &Part, scale: f64) -> Vec<Measured> {
    let face = main_face(part);
    let (right, up) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
    // Seen from above the over face, width runs up; seen from below the under face it runs down.
    let width_way = if face == PartFace::Over { up } else { -up };
    let size = [part.finished.length, part.finished.width, part.finished.thickness].map(|it| it.mm() * scale);
    let [length, width, thickness] = size;
    let main = Panel { face, origin: Point::ZERO, first: right, second: width_way, size: (length, width) };
    let near_side = if face == PartFace::Over { Side::Below } else { Side::Above };
    let far_side = if face == PartFace::Over { Side::Above } else { Side::Below };
    let reversed = face == PartFace::Under;
    let along = ordinates(scene, part, face, true, near_side);
    let across = Ordinates { reversed, ..ordinates(scene, part, face, false, Side::Left) };
    let (below, beside) = (along.depth_mm() + BETWEEN_MM, across.depth_mm() + BETWEEN_MM);
    let mut all = vec![(main, vec![along, across])];
    let near = Panel {
        face: PartFace::Edge(PartEdge::Near),
        origin: Point::ZERO - width_way * (below + thickness),
        first: right,
        // The face in the middle joins the edge at its own side of the thickness.
        second: if face == PartFace::Over { width_way } else { -width_way },
        size: (length, thickness),
    };
    let near = on_own_side(near, face, thickness, width_way);
    let mut reach = below;
    if is_worked(part, near.face) {
        let values = ordinates(scene, part, near.face, true, near_side);
        reach += thickness + values.depth_mm() + BETWEEN_MM;
        all.push((near, vec![values]));
    }
    let far = Panel {
        face: PartFace::Edge(PartEdge::Far),
        origin: Point::ZERO + width_way * (width + BETWEEN_MM + thickness),
        first: right,
        second: if face == PartFace::Over { -width_way } else { width_way },
        size: (length, thickness),
    };
    let far = on_own_side(far, face, thickness, -width_way);
    if is_worked(part, far.face) {
        all.push((far, vec![ordinates(scene, part, far.face, true, far_side)]));
    }
    for (edge, at, inwards, side) in [
        (PartEdge::Start, Point::new(-beside - thickness, 0.0), right, Side::Left),
        (PartEdge::End, Point::new(length + BETWEEN_MM + thickness, 0.0), -right, Side::Right),
    ] {
        let panel = Panel {
            face: PartFace::Edge(edge),
            origin: at,
            first: width_way,
            second: if face == PartFace::Over { inwards } else { -inwards },
            size: (width, thickness),
        };
        let panel = on_own_side(panel, face, thickness, inwards);
        if is_worked(part, panel.face) {
            let values = Ordinates { reversed, ..ordinates(scene, part, panel.face, true, side) };
            all.push((panel, vec![values]));
        }
    }
    if face == PartFace::Over && is_worked(part, PartFace::Under) {
        // Turned over its near edge, width runs down.
        let under = Panel {
            face: PartFace::Under,
            origin: Point::new(0.0, -reach),
            first: right,
            second: -up,
            size: (length, width),
        };
        let along = ordinates(scene, part, under.face, true, Side::Above);
        let across = Ordinates { reversed: true, ..ordinates(scene, part, under.face, false, Side::Left) };
        let under = Panel { origin: under.origin - up * along.depth_mm(), ..under };
        all.push((under, vec![along, across]));
    }
    all
}

/// The origin of an edge is where its thickness begins, at the under face: the far side of the edge when the over face is
/// in the middle, the near side otherwise.
fn on_own_side(panel: Panel, main: PartFace, thickness: f64, inwards: Vec2) -> Panel {
    match main {
        PartFace::Under => Panel { origin: panel.origin + inwards * thickness, ..panel },
        _ => panel,
    }
}

/// What draws a part.
struct Pen<'a> {
    scene: &'a Scene<'a>,
    part: &'a Part,
    marks: &'a Marks,
    scale: f64,
    net: &'a mut Net,
    occupied: Occupied,
}

impl Pen<'_> {
    fn tag(&self) -> Option<Tag> {
        Some(Tag::Part(self.part.number.clone()))
    }

    /// The outline of a face with its holes, grooves and datum corner.
    fn outline(&mut self, panel: &Panel) {
        let tag = self.tag();
        let display = &mut self.net.display;
        match &self.part.outline {
            // What is sawn first, and what is left of it.
            Some(shape) if !matches!(panel.face, PartFace::Edge(_)) => {
                display.rectangle(Layer::Outline, LineClass::Dimension, tag.clone(), panel.rect());
                for line in std::iter::once(&shape.edge).chain(&shape.openings) {
                    let mut path = BezPath::new();
                    for (index, [u, v]) in line.iter().enumerate() {
                        let at = panel.at(u * self.scale, v * self.scale);
                        path.push(if index == 0 { PathEl::MoveTo(at) } else { PathEl::LineTo(at) });
                    }
                    path.close_path();
                    display.stroke(Layer::Outline, LineClass::VisibleOutline, tag.clone(), path);
                }
            }
            _ => display.rectangle(Layer::Outline, LineClass::VisibleOutline, tag.clone(), panel.rect()),
        }
        for groove in grooves(self.part).filter(|groove| groove.face == panel.face) {
            let corner = |at: (Length, Length)| panel.at(at.0.mm() * self.scale, at.1.mm() * self.scale);
            let rect = Rect::from_points(corner(groove.from), corner(groove.to));
            display.rectangle(Layer::Outline, LineClass::VisibleOutline, tag.clone(), rect);
        }
        for hole in holes(self.part) {
            let on_face = hole.face == panel.face;
            let from_behind = hole.depth.is_none()
                && !matches!(hole.face, PartFace::Edge(_))
                && !matches!(panel.face, PartFace::Edge(_));
            if !on_face && !from_behind {
                continue;
            }
            let at = panel.at(hole.at.0.mm() * self.scale, hole.at.1.mm() * self.scale);
            let radius = hole.diameter.mm() * self.scale / 2.0;
            let circle = Circle::new(at, radius).to_path(0.01);
            display.stroke(Layer::Outline, LineClass::VisibleOutline, tag.clone(), circle);
            for arm in [Vec2::new(radius + 0.8, 0.0), Vec2::new(0.0, radius + 0.8)] {
                display.segment(Layer::Centre, LineClass::Dimension, tag.clone(), at - arm, at + arm);
            }
        }
        if !matches!(panel.face, PartFace::Edge(_)) {
            // A filled triangle outside the corner, its tip on it.
            let back = (panel.first + panel.second) * -1.0;
            let mut triangle = BezPath::new();
            triangle.move_to(panel.origin + back * 0.5);
            triangle.line_to(panel.origin + back * 3.4 + panel.first * 1.6);
            triangle.line_to(panel.origin + back * 3.4 + panel.second * 1.6);
            triangle.close_path();
            display.fill(Layer::Notes, Tone::Ink, tag, triangle);
        }
    }

    /// A bar along each banded edge of the face in the middle.
    fn bands(&mut self, panel: &Panel) {
        let (from, thick) = BAND_MM;
        let to = from + thick;
        let (length, width) = panel.size;
        for band in &self.part.bands {
            let (a, b) = match band.edge {
                PartEdge::Start => (panel.at(-from, 0.0), panel.at(-to, width)),
                PartEdge::End => (panel.at(length + from, 0.0), panel.at(length + to, width)),
                PartEdge::Near => (panel.at(0.0, -from), panel.at(length, -to)),
                PartEdge::Far => (panel.at(0.0, width + from), panel.at(length, width + to)),
            };
            let path = Rect::from_points(a, b).to_path(0.01);
            self.net.display.fill(Layer::Outline, Tone::Ink, self.tag(), path);
        }
    }

    fn put(&mut self, text: Text) {
        self.occupied.add_box(text.bounds());
        let tag = self.tag();
        self.net.display.text(Layer::Notes, tag, text);
    }

    /// What an edge is, beyond its end.
    fn name_edge(&mut self, panel: &Panel) {
        if !matches!(panel.face, PartFace::Edge(_)) {
            return;
        }
        let words = self.scene.say(&face_word(self.part, panel.face));
        let rect = panel.rect();
        let middle = HEIGHT_NOTE_MM / 2.0;
        let text = |at: Point| Text::new(at, HEIGHT_NOTE_MM, words.clone());
        let lying = [
            text(Point::new(rect.x1 + 2.0, rect.center().y - middle)),
            text(Point::new(rect.x0 - 2.0, rect.center().y - middle)).anchored(Anchor::End),
        ];
        let over = |y: f64| text(Point::new(rect.center().x, y)).anchored(Anchor::Middle);
        let aside = |y: f64| text(Point::new(rect.x0, y));
        let upright = [
            over(rect.y1 + 2.0),
            over(rect.y0 - 4.5),
            aside(rect.y1 + 2.0),
            aside(rect.y0 - 4.5),
            over(rect.y1 + 7.0),
            over(rect.y0 - 9.5),
            aside(rect.y1 + 7.0),
            aside(rect.y0 - 9.5),
            aside(rect.y1 + 12.0),
        ];
        let all: &[Text] = if rect.width() >= rect.height() { &lying } else { &upright };
        match all.iter().find(|text| self.occupied.is_free(text.bounds(), 0.5)) {
            Some(text) => self.put(text.clone()),
            None => self.net.omitted.push(words),
        }
    }

    /// A letter beside each hole that has room for it, and at least one for each kind on each face.
    fn mark_holes(&mut self, panel: &Panel) {
        let mut missing: Vec<(String, Vec<Point>)> = Vec::new();
        let own: Vec<_> = holes(self.part).filter(|hole| hole.face == panel.face).collect();
        let mut lettered: Vec<&str> = Vec::new();
        for hole in &own {
            let at = panel.at(hole.at.0.mm() * self.scale, hole.at.1.mm() * self.scale);
            let radius = hole.diameter.mm() * self.scale / 2.0;
            let mark = self.marks.of_hole(hole);
            let beside = |height: f64| {
                let out = radius + 0.7 + height * 0.6;
                [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)].map(|(x, y)| {
                    let middle = at + Vec2::new(out * x, out * y);
                    Text::new(middle - Vec2::new(0.0, height / 2.0), height, mark).anchored(Anchor::Middle)
                })
            };
            let found = [HEIGHT_NOTE_MM, HEIGHT_LABEL_MM]
                .into_iter()
                .flat_map(beside)
                .find(|text| self.occupied.is_free(text.bounds(), 0.4));
            if let Some(text) = found {
                lettered.push(mark);
                self.put(text);
            } else {
                match missing.iter_mut().find(|(other, _)| other == mark) {
                    Some((_, spots)) => spots.push(at),
                    None => missing.push((mark.to_owned(), vec![at])),
                }
            }
        }
        missing.retain(|(mark, _)| !lettered.contains(&mark.as_str()));
        let tag = self.tag();
        let pointers: Vec<Pointer> =
            missing.into_iter().map(|(text, at)| Pointer { at, text, tag: tag.clone(), stays: true }).collect();
        let room = panel.rect().inflate(25.0, 25.0);
        let omitted = place_pointers(&pointers, 1.0, room, &mut self.occupied, &mut self.net.display);
        let scene = self.scene;
        self.net.omitted.extend(omitted.into_iter().map(|it| scene.say(&format!("mark {}", it.text))));
    }

    /// What a face is, in it or beside it.
    fn name_face(&mut self, panel: &Panel) {
        let words = self.scene.say(&face_word(self.part, panel.face));
        let rect = panel.rect();
        let at =
            |x: f64, y: f64, height: f64| Text::new(Point::new(x, y), height, words.clone()).anchored(Anchor::Middle);
        let centre = rect.center();
        let mut tries: Vec<Text> = Vec::new();
        for height in [HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM] {
            for (x, y) in
                [(0.0, 0.0), (0.0, 0.25), (0.0, -0.25), (0.25, 0.0), (-0.25, 0.0), (0.25, 0.25), (-0.25, -0.25)]
            {
                let (x, y) = (centre.x + rect.width() * x, centre.y + rect.height() * y - height / 2.0);
                tries.push(at(x, y, height));
            }
        }
        let within = |text: &Text| rect.contains_rect(text.bounds().inflate(0.6, 0.6));
        let mut beside: Vec<Text> = Vec::new();
        for down in [0.0, 6.0, -6.0, 12.0] {
            let point = Point::new(rect.x1 + 2.0, centre.y - HEIGHT_NOTE_MM / 2.0 - down);
            beside.push(Text::new(point, HEIGHT_NOTE_MM, words.clone()));
        }
        let found = tries.into_iter().filter(within).chain(beside).find(|it| self.occupied.is_free(it.bounds(), 0.6));
        match found {
            Some(text) => self.put(text),
            None => self.net.omitted.push(words),
        }
    }

    /// A double arrow along the grain, where there is room.
    fn grain(&mut self, panel: &Panel) {
        const LENGTH_MM: f64 = 16.0;
        let rect = panel.rect();
        let (free_x, free_y) = (rect.width() - LENGTH_MM - 3.0, rect.height() - 5.0);
        if free_x < 0.0 || free_y < 0.0 {
            return;
        }
        let word = self.scene.say("grain");
        for share_y in [0.2, -0.2, 0.35, -0.35, 0.1, -0.1, 0.45, -0.45, 0.0] {
            for share_x in [0.0, 0.2, -0.2, 0.35, -0.35, 0.45, -0.45] {
                let centre = rect.center() + Vec2::new(free_x * share_x, free_y * share_y);
                let half = Vec2::new(LENGTH_MM / 2.0, 0.0);
                let text =
                    Text::new(centre + Vec2::new(0.0, 0.9), HEIGHT_LABEL_MM, word.clone()).anchored(Anchor::Middle);
                let room = text.bounds().union(Rect::from_points(centre - half, centre + half).inflate(0.0, 0.8));
                if !self.occupied.is_free(room, 0.5) {
                    continue;
                }
                let tag = self.tag();
                let display = &mut self.net.display;
                display.segment(Layer::Notes, LineClass::Dimension, tag.clone(), centre - half, centre + half);
                for (tip, direction_rad) in [(centre + half, 0.0), (centre - half, std::f64::consts::PI)] {
                    let arrow = Arrow { tip, direction_rad, length_mm: HEIGHT_NOTE_MM };
                    display.push(Layer::Notes, tag.clone(), Mark::Arrow(arrow));
                }
                self.occupied.add_box(room);
                self.put(text);
                return;
            }
        }
    }
}
