//! The marking sheet: all parts as they lie on the floor, worked face up, each joint labelled on both its partners.

use casewright_core::assembly::{JoinedBy, Joint, Part, PartEdge, PartFace};
use casewright_core::geometry::{Axis, Cuboid};
use kurbo::{Affine, BezPath, Point, Rect, Vec2};

use super::joint_labels::joint_labels;
use super::part_net::main_face;
use super::part_words::outwards;
use super::scene::Scene;
use crate::display::{Display, Layer, Tone};
use crate::font::{HEIGHT_DIMENSION_MM, HEIGHT_LABEL_MM, HEIGHT_NOTE_MM, wrapped};
use crate::line::LineClass;
use crate::place::Occupied;
use crate::scale::Scale;
use crate::sheet::{Format, Sheet};
use crate::tag::Tag;
use crate::text::{Anchor, Text};
use crate::title_block::{HEIGHT_MM, TitleBlock};

/// Clear space to the frame, in millimetres.
const MARGIN_MM: f64 = 5.0;
/// Clear space between two parts, in millimetres.
const BETWEEN_MM: f64 = 9.0;
/// The smallest scale; more sheets are taken before anything smaller.
const AT_LEAST: Scale = Scale::reduced(20);

/// A part laid down, in paper millimetres, its lower left corner at the origin.
struct Laid {
    display: Display,
    omitted: Vec<String>,
}

/// The marking sheets, with labels that found no room.
pub(crate) fn marking_sheets(scene: &Scene<'_>, format: Format, title_block: &TitleBlock) -> (Vec<Sheet>, Vec<String>) {
    let labels = joint_labels(scene.assembly);
    if labels.iter().all(Option::is_none) {
        return (Vec::new(), Vec::new());
    }
    let space = format.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let words = "All parts with the worked face up; datum corner with a triangle. A joint bears the same number on both \
                 partners; in brackets where it is on the face below.";
    let caption = wrapped(&scene.say(words), HEIGHT_NOTE_MM, space.width());
    let top = space.y1 - HEIGHT_NOTE_MM * 1.7 * caption.len() as f64 - MARGIN_MM;
    let room = Rect::new(space.x0, space.y0 + HEIGHT_MM, space.x1, top);
    let fits = |scale: Scale| {
        let sizes = sizes(scene, scale.factor());
        sizes.iter().all(|size| size.0 <= room.width() && size.1 <= room.height())
            && (scale.factor() <= AT_LEAST.factor() || arrange(&sizes, room).1 == 1)
    };
    let Some(scale) = Scale::largest(fits) else {
        return (Vec::new(), vec![scene.say("marking sheet: the parts fit on no sheet")]);
    };
    let laid: Vec<Laid> = scene
        .assembly
        .parts
        .iter()
        .enumerate()
        .map(|(index, part)| lay_down(scene, index, part, &labels, scale.factor()))
        .collect();
    let (places, count) = arrange(&sizes(scene, scale.factor()), room);
    let mut sheets: Vec<Sheet> = (0..count)
        .map(|_| {
            let mut sheet = Sheet::new(format, TitleBlock { scale: scale.to_string(), ..title_block.clone() });
            for (line, words) in caption.iter().enumerate() {
                let y = space.y1 - HEIGHT_NOTE_MM - HEIGHT_NOTE_MM * 1.7 * line as f64;
                let text = Text::new(Point::new(space.x0, y), HEIGHT_NOTE_MM, words.clone());
                sheet.content.text(Layer::Notes, None, text);
            }
            sheet
        })
        .collect();
    let mut omitted = Vec::new();
    for ((sheet, at), laid) in places.into_iter().zip(laid) {
        if let Some(sheet) = sheets.get_mut(sheet) {
            sheet.content.append_mapped(&laid.display, Affine::translate(at.to_vec2()));
        }
        omitted.extend(laid.omitted);
    }
    (sheets, omitted)
}

/// What each part takes up on the paper, its number underneath included.
fn sizes(scene: &Scene<'_>, scale: f64) -> Vec<(f64, f64)> {
    scene.assembly.parts.iter().map(|part| size_of(part, scale)).collect()
}

fn size_of(part: &Part, scale: f64) -> (f64, f64) {
    let number = crate::font::width_mm(&part.number, HEIGHT_NOTE_MM) + 1.0;
    ((part.finished.length.mm() * scale).max(number), part.finished.width.mm() * scale + HEIGHT_NOTE_MM + 2.0)
}

/// The sheet and the lower left corner of each part: in rows from above, the order of the parts list kept.
fn arrange(sizes: &[(f64, f64)], room: Rect) -> (Vec<(usize, Point)>, usize) {
    let mut places: Vec<(usize, Point)> = Vec::with_capacity(sizes.len());
    let (mut sheet, mut x, mut top) = (0, room.x0, room.y1);
    let mut row: Vec<usize> = Vec::new();
    let mut deepest = 0.0_f64;
    for (index, (width, height)) in sizes.iter().enumerate() {
        if x + width > room.x1 + 1e-9 && !row.is_empty() {
            top -= deepest + BETWEEN_MM;
            (x, deepest) = (room.x0, 0.0);
            row.clear();
        }
        if top - height < room.y0 - 1e-9 && !(row.is_empty() && top >= room.y1 - 1e-9) {
            sheet += 1;
            (x, top, deepest) = (room.x0, room.y1, 0.0);
            row.clear();
        }
        row.push(index);
        places.push((sheet, Point::new(x, top - height)));
        x += width + BETWEEN_MM;
        deepest = deepest.max(*height);
    }
    (places, if sizes.is_empty() { 0 } else { sheet + 1 })
}

/// Where a contact lies on the main face of a part, as ranges along its length and width, millimetres.
fn on_face(part: &Part, contact: &Cuboid) -> ((f64, f64), (f64, f64)) {
    let frame = part.world_from_part;
    let (a, b) = (frame.from_world(contact.min), frame.from_world(contact.max));
    let range = |one: f64, two: f64| (one.min(two), one.max(two));
    (range(a.0.mm(), b.0.mm()), range(a.1.mm(), b.1.mm()))
}

/// Which face or edge of a part a joint lies on.
fn face_of(part: &Part, joint: &Joint, is_face_part: bool) -> Option<PartFace> {
    let towards = if is_face_part { joint.direction } else { joint.direction.reversed() };
    let edges = [PartEdge::Start, PartEdge::End, PartEdge::Near, PartEdge::Far].map(PartFace::Edge);
    [PartFace::Under, PartFace::Over].into_iter().chain(edges).find(|face| outwards(part, *face) == towards)
}

fn lay_down(scene: &Scene<'_>, index: usize, part: &Part, labels: &[Option<String>], scale: f64) -> Laid {
    let tag = Some(Tag::Part(part.number.clone()));
    let (length, width) = (part.finished.length.mm() * scale, part.finished.width.mm() * scale);
    let main = main_face(part);
    let base = HEIGHT_NOTE_MM + 2.0;
    // The over face shows width running up, the under face running down.
    let up = |v: f64| if main == PartFace::Over { base + v * scale } else { base + width - v * scale };
    let rect = Rect::new(0.0, base, length, base + width);
    let mut display = Display::new();
    display.rectangle(Layer::Outline, LineClass::VisibleOutline, tag.clone(), rect);
    let corner = Point::new(0.0, up(0.0));
    let inwards = if main == PartFace::Over { 1.0 } else { -1.0 };
    let mut triangle = BezPath::new();
    triangle.move_to(corner);
    let [along, across] = [part.finished.length, part.finished.width].map(|it| (it.mm() * scale).min(2.2));
    triangle.line_to(corner + Vec2::new(along, 0.0));
    triangle.line_to(corner + Vec2::new(0.0, across * inwards));
    triangle.close_path();
    display.fill(Layer::Notes, Tone::Ink, tag.clone(), triangle);
    let mut occupied = Occupied::new();
    occupied.add_display(&display);
    let mut wanted: Vec<(String, Rect)> = Vec::new();
    for (joint, label) in scene.assembly.joints.iter().zip(labels) {
        let Some(label) = label else { continue };
        let is_face_part = joint.face_part == index;
        if !is_face_part && joint.edge_part != index {
            continue;
        }
        let Some(face) = face_of(part, joint, is_face_part) else { continue };
        let (u, v) = on_face(part, &thickened(scene, joint));
        let spot = Rect::from_points(Point::new(u.0 * scale, up(v.0)), Point::new(u.1 * scale, up(v.1)));
        let spot = spot.intersect(rect);
        let behind = !matches!(face, PartFace::Edge(_)) && face != main;
        if is_face_part && joint.kind != JoinedBy::Loose {
            // Where the partner stands; dashed when on the face below.
            let class = if behind { LineClass::Hidden } else { LineClass::Dimension };
            if spot.width() > 0.4 && spot.height() > 0.4 {
                display.rectangle(Layer::Hidden, class, tag.clone(), spot);
            }
        }
        wanted.push((if behind { format!("({label})") } else { label.clone() }, spot));
    }
    // Lines of partners may cross a label's room but not its text.
    occupied.add_display(&display);
    let mut omitted = Vec::new();
    for (label, spot) in wanted {
        match place(&label, spot, rect, &occupied) {
            Some(text) => {
                occupied.add_box(text.bounds());
                display.text(Layer::Notes, tag.clone(), text);
            }
            None => omitted.push(scene.say(&format!("marking sheet: {label} on {}", part.number))),
        }
    }
    let number = Text::new(Point::new(0.0, 0.6), HEIGHT_NOTE_MM, part.number.clone());
    display.text(Layer::Notes, tag, number);
    Laid { display, omitted }
}

/// The contact of a joint widened by what the edge part takes on the face.
fn thickened(scene: &Scene<'_>, joint: &Joint) -> Cuboid {
    let Some(edge) = scene.assembly.parts.get(joint.edge_part) else { return joint.contact };
    let mut contact = joint.contact;
    for axis in Axis::ALL.into_iter().filter(|axis| *axis != joint.direction.axis) {
        if contact.size(axis) == casewright_core::Length::ZERO {
            contact = contact.with_range(axis, edge.cuboid.range(axis));
        }
    }
    contact
}

/// A label as near to its spot as lines and other labels allow, inside the part.
fn place(label: &str, spot: Rect, part: Rect, occupied: &Occupied) -> Option<Text> {
    let centre = spot.center();
    for height in [HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM, HEIGHT_LABEL_MM] {
        let mut best: Option<(f64, Text)> = None;
        let (across, deep) = (crate::font::width_mm(label, height), height);
        let steps = |low: f64, high: f64, size: f64| {
            let (low, high) = (low + size / 2.0 + 0.7, high - size / 2.0 - 0.7);
            let count = if high < low { 0 } else { ((high - low) / 1.5).floor() as usize + 1 };
            (0..count).map(move |step| low + 1.5 * step as f64)
        };
        for y in steps(part.y0, part.y1, deep) {
            for x in steps(part.x0, part.x1, across) {
                let distance = Point::new(x, y).distance(centre);
                // Further away nobody would know what it belongs to.
                let beside = spot.inflate(across / 2.0 + 3.0, deep / 2.0 + 3.0).contains(Point::new(x, y));
                if !beside || best.as_ref().is_some_and(|(nearest, _)| *nearest <= distance) {
                    continue;
                }
                let text = Text::new(Point::new(x, y - deep / 2.0), height, label).anchored(Anchor::Middle);
                if occupied.is_free(text.bounds(), 0.35) {
                    best = Some((distance, text));
                }
            }
        }
        if let Some((_, text)) = best {
            return Some(text);
        }
    }
    // A strip too narrow for any lettering is labelled over its edge, as near to the spot as may be.
    let across = crate::font::width_mm(label, HEIGHT_LABEL_MM);
    let last = (part.width() / 1.5).floor() as i64;
    let over = (0..=last).map(|step| Point::new(part.x0 + across / 2.0 + 1.5 * step as f64, part.y1 + 0.9));
    let mut over: Vec<Point> = over.filter(|at| at.x + across / 2.0 <= part.x1).collect();
    over.sort_by(|a, b| (a.x - centre.x).abs().total_cmp(&(b.x - centre.x).abs()));
    let texts = over.into_iter().map(|at| Text::new(at, HEIGHT_LABEL_MM, label).anchored(Anchor::Middle));
    texts.into_iter().find(|text| occupied.is_free(text.bounds(), 0.35))
}
