//! Labels to print, cut out and stick on the parts as they come off the saw: in the order of the boards.

use casewright_core::assembly::{Grain, Part, PartEdge};
use casewright_core::stock::CuttingPlan;
use kurbo::{Point, Rect};

use super::scene::Scene;
use crate::display::Layer;
use crate::font::{HEIGHT_LABEL_MM, HEIGHT_NOTE_MM, HEIGHT_TITLE_MM, wrapped};
use crate::line::LineClass;
use crate::sheet::{Format, Sheet};
use crate::tag::Tag;
use crate::text::{Anchor, Text};
use crate::title_block::{HEIGHT_MM, TitleBlock};

/// Clear space to the frame, in millimetres.
const MARGIN_MM: f64 = 4.0;
/// Labels across and down a sheet of A4.
const GRID: (usize, usize) = (3, 7);

/// Sheets of labels, three across.
pub(crate) fn label_sheets(
    scene: &Scene<'_>,
    plan: &CuttingPlan,
    title_block: &dyn Fn(&str, &str) -> TitleBlock,
) -> Vec<Sheet> {
    let space = Format::A4.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let (width, height) = (space.width() / GRID.0 as f64, (space.height() - HEIGHT_MM) / GRID.1 as f64);
    let boards = plan.boards().enumerate();
    let labels: Vec<(usize, usize)> =
        boards.flat_map(|(number, (_, board))| board.parts.iter().map(move |it| (number + 1, it.part))).collect();
    let mut sheets = Vec::new();
    for page in labels.chunks(GRID.0 * GRID.1) {
        let mut sheet = Sheet::new(Format::A4, title_block("Labels", "Labels"));
        for (index, (board, part_at)) in page.iter().enumerate() {
            let (column, row) = (index % GRID.0, index / GRID.0);
            let corner = Point::new(space.x0 + column as f64 * width, space.y1 - (row + 1) as f64 * height);
            if let Some(part) = scene.assembly.parts.get(*part_at) {
                draw(
                    scene,
                    plan,
                    (*part_at, part),
                    *board,
                    Rect::from_origin_size(corner, (width, height)),
                    &mut sheet,
                );
            }
        }
        sheets.push(sheet);
    }
    sheets
}

/// One label: number, name, finished size, and the outline of the part with its banded edges drawn wide.
fn draw(
    scene: &Scene<'_>,
    plan: &CuttingPlan,
    (index, part): (usize, &Part),
    board: usize,
    area: Rect,
    sheet: &mut Sheet,
) {
    let tag = Some(Tag::Part(part.number.clone()));
    let display = &mut sheet.content;
    display.rectangle(Layer::Tables, LineClass::FrameNarrow, tag.clone(), area);
    let inner = area.inflate(-2.0, -2.0);
    let mut y = inner.y1 - HEIGHT_TITLE_MM;
    let mut line = |y: f64, height: f64, text: &str| {
        display.text(Layer::Tables, tag.clone(), Text::new(Point::new(inner.x0, y), height, text));
    };
    // A long number is set smaller rather than cut.
    let height = [HEIGHT_TITLE_MM, 3.5, HEIGHT_NOTE_MM, HEIGHT_LABEL_MM]
        .into_iter()
        .find(|it| crate::font::width_mm(&part.number, *it) <= inner.width())
        .unwrap_or(HEIGHT_LABEL_MM);
    line(y, height, &part.number);
    y -= 4.2;
    for text in wrapped(&scene.say(&part.name), HEIGHT_LABEL_MM, inner.width()).into_iter().take(2) {
        line(y, HEIGHT_LABEL_MM, &text);
        y -= 3.2;
    }
    let size = format!(
        "{} × {} × {}",
        scene.format(part.finished.length),
        scene.format(part.finished.width),
        scene.format(part.finished.thickness)
    );
    // Inches between sixty-fourths are long: smaller, then in two lines.
    let height =
        if crate::font::width_mm(&size, HEIGHT_NOTE_MM) <= inner.width() { HEIGHT_NOTE_MM } else { HEIGHT_LABEL_MM };
    for text in wrapped(&size, height, inner.width()).into_iter().take(2) {
        line(y - 0.6, height, &text);
        y -= 3.2;
    }
    y -= 1.4;
    let grain = if part.grain == Grain::AlongLength { ", grain along" } else { "" };
    let from = scene.say(&format!("board {board}, {}{grain}", part.material));
    for text in wrapped(&from, HEIGHT_LABEL_MM, inner.width()).into_iter().take(1) {
        line(y, HEIGHT_LABEL_MM, &text);
    }
    // The part small, lying: length to the right, near edge below.
    let room = Rect::new(inner.x0 + 5.0, inner.y0 + 3.0, inner.x1 - 5.0, y - 4.0);
    if room.height() < 4.0 {
        return;
    }
    let shape = shape(part, room);
    display.rectangle(Layer::Tables, LineClass::FrameNarrow, tag.clone(), shape);
    let keeps: &[PartEdge] = plan.place_of(index).map_or(&[], |it| it.1.keeps.as_slice());
    for band in &part.bands {
        let (from, to, at) = match band.edge {
            PartEdge::Start => (
                Point::new(shape.x0, shape.y0),
                Point::new(shape.x0, shape.y1),
                Point::new(shape.x0 - 2.5, shape.center().y - 0.9),
            ),
            PartEdge::End => (
                Point::new(shape.x1, shape.y0),
                Point::new(shape.x1, shape.y1),
                Point::new(shape.x1 + 2.5, shape.center().y - 0.9),
            ),
            PartEdge::Near => (
                Point::new(shape.x0, shape.y0),
                Point::new(shape.x1, shape.y0),
                Point::new(shape.center().x, shape.y0 - 2.6),
            ),
            PartEdge::Far => (
                Point::new(shape.x0, shape.y1),
                Point::new(shape.x1, shape.y1),
                Point::new(shape.center().x, shape.y1 + 0.7),
            ),
        };
        display.segment(Layer::Tables, LineClass::FrameWide, tag.clone(), from, to);
        // b: to be banded; k: keeps what it has.
        let letter = if keeps.contains(&band.edge) { "k" } else { "b" };
        display.text(Layer::Tables, tag.clone(), Text::new(at, HEIGHT_LABEL_MM, letter).anchored(Anchor::Middle));
    }
}

/// The outline of a part in a room, its proportions kept as far as the longer side shows.
fn shape(part: &Part, room: Rect) -> Rect {
    let (length, width) = (part.finished.length.mm(), part.finished.width.mm());
    let scale = (room.width() / length).min(room.height() / width);
    let size = ((length * scale).max(2.5).min(room.width()), (width * scale).max(2.5).min(room.height()));
    Rect::from_center_size(room.center(), size)
}
