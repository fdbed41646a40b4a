//! Full-size templates for what is drilled again and again: rows of shelf pins, and the bores of cup hinges.
//!
//! A template is laid against an edge of the part itself. Rows and bores that look alike share one; its notes name every
//! place where it is laid.

use std::collections::BTreeMap;

use casewright_core::Length;
use casewright_core::assembly::{Hole, Machining, Part, PartFace, Purpose};
use casewright_core::geometry::{Axis, Direction};
use casewright_core::joinery::hole_in_world;
use casewright_core::unit::Unit;
use kurbo::{Circle, Point, Rect, Shape, Vec2};

use super::jigs::on_shared_pages;
use super::part_words::{face_word, outwards, side_word};
use super::scene::Scene;
use crate::display::{Display, Layer};
use crate::font::{HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM, wrapped};
use crate::line::LineClass;
use crate::sheet::Sheet;
use crate::text::Text;
use crate::tiles::tile_full_size;
use crate::title_block::TitleBlock;

/// From the outermost holes to the edge of a template, in millimetres.
const MARGIN_MM: f64 = 20.0;
/// From the outermost holes to the right edge: room for their places.
const RIGHT_MM: f64 = 32.0;
/// Notes run on to this width, in millimetres: never further than one page.
const NOTES_MM: f64 = 150.0;
/// From one line of the notes to the next, in millimetres.
const LINE_MM: f64 = 4.5;
/// Holes of one part that are further apart along an edge are not of one template.
const TOGETHER: Length = Length::from_mm(100);

/// What a template drills.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Pins,
    Cup,
}

/// Holes as they lie to the edge that the template is laid against: along it from the first hole, into the part from the
/// edge, diameter.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Pattern {
    kind: Kind,
    holes: Vec<(Length, Length, Length)>,
}

impl Pattern {
    /// Whether it is the same seen from its other end: then it also lies turned by half.
    fn is_symmetric(&self) -> bool {
        let last = self.holes.iter().map(|it| it.0).max().unwrap_or_default();
        let mut turned: Vec<(Length, Length, Length)> = self.holes.iter().map(|it| (last - it.0, it.1, it.2)).collect();
        turned.sort();
        turned == self.holes
    }
}

/// Whether the printed side lies up: seen from the drill, into the part runs right and away from the datum runs up.
fn lies_face_up(part: &Part, face: PartFace, edge: Direction) -> bool {
    let (right, up) = (edge.reversed(), datum_side(along_of(part, edge)).reversed());
    let is_cyclic = (right.axis.index() + 1) % 3 == up.axis.index();
    let towards_drill = right.sign() * up.sign() * if is_cyclic { 1 } else { -1 };
    outwards(part, face).sign() == towards_drill
}

/// Every template with the places where it is laid, in words.
fn templates(scene: &Scene<'_>) -> Vec<(Pattern, Vec<String>)> {
    let mut all: BTreeMap<Pattern, Vec<String>> = BTreeMap::new();
    for part in &scene.assembly.parts {
        for (kind, face, edge, holes) in lots(part) {
            for lot in split(part, edge, &holes) {
                let Some((along, from)) = lot.first().map(|it| (it.along, it.from_datum)) else { continue };
                let relative = |it: &Place| (it.along - along, it.from_edge, it.diameter);
                let shape = Pattern { kind, holes: lot.iter().map(relative).collect() };
                let along_axis = along_of(part, edge);
                let down =
                    if shape.is_symmetric() || lies_face_up(part, face, edge) { "" } else { ", printed side down" };
                let words = scene.say(&format!(
                    "{}, {}: against the {} edge; first hole {} from the {} edge{down}",
                    part.number,
                    face_word(part, face),
                    side_word(edge),
                    scene.format(from),
                    side_word(datum_side(along_axis))
                ));
                all.entry(shape).or_default().push(words);
            }
        }
    }
    all.into_iter().collect()
}

/// One hole as it lies to an edge.
#[derive(Clone, Copy, Debug)]
struct Place {
    along: Length,
    from_datum: Length,
    from_edge: Length,
    diameter: Length,
}

/// The lots of holes of a part that go by one edge: each row of pins by the nearer of the two upright edges, the bores of
/// hinges by the edge that they lie at.
fn lots(part: &Part) -> Vec<(Kind, PartFace, Direction, Vec<&Hole>)> {
    let mut lots: BTreeMap<(Kind, PartFace, usize, bool, Length), Vec<&Hole>> = BTreeMap::new();
    for machining in &part.machining {
        let Machining::Hole(hole) = machining else { continue };
        let kind = match hole.purpose {
            Purpose::ShelfPin { .. } => Kind::Pins,
            Purpose::Cup | Purpose::CupSocket => Kind::Cup,
            _ => continue,
        };
        let Some((edge, from_edge)) = edge_of(part, hole, kind) else { continue };
        // Pins: one lot for each row. A cup and its sockets lie at different depths but together.
        let row = if kind == Kind::Pins { from_edge } else { Length::ZERO };
        lots.entry((kind, hole.face, edge.axis.index(), edge.negative, row)).or_default().push(hole);
    }
    let way = |axis: usize, negative| Axis::ALL.get(axis).map(|&axis| Direction::new(axis, negative));
    lots.into_iter()
        .filter_map(|((kind, face, axis, negative, _), holes)| Some((kind, face, way(axis, negative)?, holes)))
        .collect()
}

/// The edge of the part that a hole lies at, and how far from it.
fn edge_of(part: &Part, hole: &Hole, kind: Kind) -> Option<(Direction, Length)> {
    let entry = hole_in_world(part, hole).entry;
    let frame = part.world_from_part;
    let edges = [frame.length, frame.width].into_iter().flat_map(|way| [way, way.reversed()]);
    // Rows of pins run upright: they go by the front or rear edge.
    let fits = |way: &Direction| kind == Kind::Cup || way.axis == Axis::Z;
    edges
        .filter(fits)
        .map(|way| {
            let (low, high) = part.cuboid.range(way.axis);
            let at = entry.along(way.axis);
            (way, if way.negative { at - low } else { high - at })
        })
        .min_by_key(|it| it.1)
}

/// The axis along an edge of a part.
fn along_of(part: &Part, edge: Direction) -> Axis {
    let frame = part.world_from_part;
    if frame.length.axis == edge.axis { frame.width.axis } else { frame.length.axis }
}

/// Where places along an axis are counted from: from the left, from below, from the front.
const fn datum_side(axis: Axis) -> Direction {
    match axis {
        Axis::X => Direction::LEFT,
        Axis::Y => Direction::DOWN,
        Axis::Z => Direction::FRONT,
    }
}

/// The holes of a lot in order along the edge, parted where there is a wide gap.
fn split(part: &Part, edge: Direction, holes: &[&Hole]) -> Vec<Vec<Place>> {
    let axis = along_of(part, edge);
    let datum = datum_side(axis);
    let mut places: Vec<Place> = holes
        .iter()
        .map(|hole| {
            let entry = hole_in_world(part, hole).entry;
            let ((low, high), (near, far)) = (part.cuboid.range(edge.axis), part.cuboid.range(axis));
            let (across, along) = (entry.along(edge.axis), entry.along(axis));
            let from_datum = if datum.negative { along - near } else { far - along };
            Place {
                along: from_datum,
                from_datum,
                from_edge: if edge.negative { across - low } else { high - across },
                diameter: hole.diameter,
            }
        })
        .collect();
    places.sort_by_key(|it| (it.along, it.from_edge));
    let mut lots: Vec<Vec<Place>> = Vec::new();
    for place in places {
        match lots.last_mut() {
            Some(lot) if lot.last().is_some_and(|last| place.along - last.along <= TOGETHER) => lot.push(place),
            _ => lots.push(vec![place]),
        }
    }
    lots
}

/// The templates full size, over as many pages as they need; those of one kind share pages.
pub(crate) fn template_sheets(scene: &Scene<'_>, title_block: &TitleBlock) -> Vec<Sheet> {
    let all = templates(scene);
    let note = scene.say("printed side up, left edge on the edge of the part");
    let mut sheets = Vec::new();
    for (kind, one, several) in [
        (Kind::Pins, "Shelf pin template", "Shelf pin templates"),
        (Kind::Cup, "Hinge cup template", "Hinge cup templates"),
    ] {
        let of_kind = all.iter().enumerate().filter(|(_, (shape, _))| shape.kind == kind);
        let (mut numbers, mut drawn, mut sizes) = (Vec::new(), Vec::new(), Vec::new());
        for (index, (shape, places)) in of_kind {
            let display = draw(scene, index, shape, places);
            let bounds = display.bounds().unwrap_or(Rect::ZERO);
            // Room for two lines a place, so that the pages are the same in every language.
            let lowest = -MARGIN_MM - 5.0 - LINE_MM * (2 * places.len()) as f64;
            sizes.push(Rect { y0: bounds.y0.min(lowest), ..bounds });
            numbers.push(index + 1);
            drawn.push(display);
        }
        for (group, content) in on_shared_pages(&drawn, &sizes) {
            let names: Vec<String> =
                group.iter().filter_map(|it| numbers.get(*it)).map(|it| format!("T{it}")).collect();
            let what = if names.len() == 1 { one } else { several };
            let name = format!("{} {}", scene.say(what), names.join(", "));
            sheets.extend(tile_full_size(&name, &note, &content, title_block).into_sheets());
        }
    }
    sheets
}

/// A length in millimetres to a tenth: pins and cups are bored in metric sizes everywhere, and there is little room.
fn mm(scene: &Scene<'_>, length: Length) -> String {
    Unit::default().format(length.rounded_to(Length::from_um(100)), scene.language().decimal_mark())
}

/// A template: the edge of the part at the left, holes from below upwards, and under it where it is laid.
fn draw(scene: &Scene<'_>, index: usize, shape: &Pattern, places: &[String]) -> Display {
    let mut display = Display::new();
    let mut right: f64 = 0.0;
    let last = shape.holes.iter().map(|it| it.0).max().unwrap_or_default().mm();
    let widest = shape.holes.iter().map(|it| (it.1 + it.2.half()).mm()).fold(0.0, f64::max);
    for (along, from_edge, diameter) in &shape.holes {
        let centre = Point::new(from_edge.mm(), along.mm());
        let radius = diameter.mm() / 2.0;
        display.stroke(Layer::Outline, LineClass::VisibleOutline, None, Circle::new(centre, radius).to_path(0.005));
        for arm in [Vec2::new(radius + 2.0, 0.0), Vec2::new(0.0, radius + 2.0)] {
            display.segment(Layer::Centre, LineClass::Dimension, None, centre - arm, centre + arm);
        }
        let words = format!("{} / {} mm", mm(scene, *from_edge), mm(scene, *along));
        let at = Point::new(centre.x + radius + 3.0, centre.y + 1.0);
        let words = Text::new(at, HEIGHT_NOTE_MM, words);
        right = right.max(words.bounds().x1);
        display.text(Layer::Notes, None, words);
    }
    // Wide enough for the words beside the holes.
    let outline = Rect::new(0.0, -MARGIN_MM, (widest + RIGHT_MM).max(right + 3.0), last + MARGIN_MM);
    display.rectangle(Layer::Outline, LineClass::VisibleOutline, None, outline);
    let name = Text::new(
        Point::new(3.0, last + MARGIN_MM - HEIGHT_DIMENSION_MM - 2.0),
        HEIGHT_DIMENSION_MM,
        format!("T{}", index + 1),
    );
    display.text(Layer::Notes, None, name);
    let lines = places.iter().flat_map(|words| wrapped(words, HEIGHT_NOTE_MM, outline.width().max(NOTES_MM)));
    for (line, words) in lines.enumerate() {
        let at = Point::new(0.0, -MARGIN_MM - 5.0 - LINE_MM * line as f64);
        display.text(Layer::Notes, None, Text::new(at, HEIGHT_NOTE_MM, words));
    }
    display
}
