//! The cover: the piece as it will stand, its key figures, and the contents with links to the sheets.

use casewright_core::design::{Role, Stand};
use casewright_core::geometry::Axis;
use kurbo::{Point, Rect};

use super::cautions::Concern;
use super::checklist::Column;
use super::isometric::isometric_view;
use super::order::place;
use super::pack::title_block;
use super::scene::Scene;
use crate::display::{Display, Layer};
use crate::font::{self, HEIGHT_NOTE_MM};
use crate::sheet::{Format, Sheet};
use crate::text::{Anchor, Text};

/// The name of the cover.
pub(crate) const COVER: &str = "Cover and contents";
/// Clear space within the frame, in millimetres.
const MARGIN_MM: f64 = 6.0;

/// The cover of a pack; the names are those of the other sheets in their order, which follow it from sheet 2.
pub(crate) fn cover_sheet(scene: &Scene<'_>, names: &[String], format: Format) -> Sheet {
    let space = format.drawing_space();
    let mut sheet = Sheet::new(format, title_block(scene, COVER, COVER, Concern::Nothing));
    let middle = space.x0 + space.width() * 0.58;
    let figures = key_figures(scene);
    let mut probe = Column::new(scene, Rect::new(space.x0, space.y0, middle, space.y1).inset(-MARGIN_MM));
    let needed: f64 = figures.iter().map(|line| probe.height_of(line)).sum();
    probe.title(&scene.design.title);
    let picture =
        Rect::new(space.x0, space.y0 + needed + 2.0 * MARGIN_MM, middle, space.y0 + probe.room()).inset(-MARGIN_MM);
    if let Some(display) = place(&isometric_view(scene, true), picture) {
        sheet.content.items.extend(display.items);
    }
    let below = Rect::new(space.x0, space.y0, middle, space.y0 + needed + MARGIN_MM);
    let mut text =
        Column::new(scene, below.inset(-MARGIN_MM).with_origin((space.x0 + MARGIN_MM, space.y0 + MARGIN_MM)));
    for line in &figures {
        text.line(line);
    }
    for column in [probe.display, text.display] {
        sheet.content.items.extend(column.items);
    }
    let right = Rect::new(middle, space.y0 + crate::title_block::HEIGHT_MM, space.x1, space.y1).inset(-MARGIN_MM);
    contents(scene, &mut sheet, names, right);
    sheet
}

/// One line for each run of sheets of one name or one that goes on from it, with a link to its first sheet.
fn contents(scene: &Scene<'_>, sheet: &mut Sheet, names: &[String], area: Rect) {
    let mut runs: Vec<(&str, usize, usize)> = Vec::new();
    for (at, name) in names.iter().enumerate() {
        match runs.last_mut() {
            // What goes on under a longer name, as the holes of a part, is found under the first.
            Some((same, _, last))
                if name.strip_prefix(*same).is_some_and(|it| it.is_empty() || it.starts_with(',')) =>
            {
                *last = at;
            }
            _ => runs.push((name, at, at)),
        }
    }
    let mut column = Column::new(scene, area);
    column.heading("Contents");
    let mut display: Display = column.display.clone();
    let top = area.y0 + column.room();
    let pitch = (column.room() / runs.len().max(1) as f64).min(HEIGHT_NOTE_MM * font::LINE_PITCH);
    // From the dots over a capital to the lowest descender it is nearly 1.6 times the height.
    let height = HEIGHT_NOTE_MM.min(pitch / 1.6);
    for (row, (name, first, last)) in runs.iter().enumerate() {
        let base = top - pitch * (row + 1) as f64;
        // The cover is sheet 1.
        let (first, last) = (first + 2, last + 2);
        let pages = if first == last { first.to_string() } else { format!("{first}–{last}") };
        let room = area.width() - font::width_mm(&pages, height) - 4.0;
        let name = font::shortened(name, height, room);
        display.text(Layer::Notes, None, Text::new(Point::new(area.x0, base), height, name));
        let at = Point::new(area.x1, base);
        display.text(Layer::Notes, None, Text::new(at, height, pages).anchored(Anchor::End));
        sheet.links.push((Rect::new(area.x0, base - 0.8, area.x1, base + pitch - 0.8), first));
    }
    sheet.content.items.extend(display.items);
}

/// What one wants to know before anything else.
fn key_figures(scene: &Scene<'_>) -> Vec<String> {
    let (assembly, design) = (scene.assembly, scene.design);
    let size = |axis: Axis| scene.format(assembly.envelope.size(axis));
    let mut lines = vec![format!(
        "{} wide, {} high, {} deep overall, without overhangs",
        size(Axis::X),
        size(Axis::Y),
        size(Axis::Z)
    )];
    let count = |role: Role| assembly.parts.iter().filter(|part| part.role == role).count();
    lines.push(format!(
        "{} parts, {} kg without what it holds; {} fronts, {} that move",
        assembly.parts.len(),
        scene.decimal(assembly.mass_kg(), 1),
        count(Role::Front),
        assembly.movers.len()
    ));
    let stand = match &design.carcass.stand {
        Stand::Floor => "stands on the floor".to_owned(),
        Stand::Plinth { height, .. } => format!("stands on feet behind a plinth {} high", scene.format(*height)),
        Stand::Feet { height, .. } => format!("stands on feet {} high", scene.format(*height)),
        Stand::Castors { height, .. } => format!("stands on castors {} high", scene.format(*height)),
    };
    lines.push(stand);
    let things: Vec<&str> = assembly.things.iter().map(|thing| thing.name.as_str()).collect();
    if !things.is_empty() {
        lines.push(format!("holds {}", things.join(", ")));
    }
    let materials: Vec<String> = design
        .materials
        .iter()
        .filter(|(name, _)| assembly.parts.iter().any(|part| part.material == **name))
        .map(|(name, material)| format!("{name} ({})", scene.format(material.thickness)))
        .collect();
    lines.push(format!("of {}", materials.join(", ")));
    let notes = &design.sheet;
    for (what, value) in [("revision", &notes.revision), ("date", &notes.date)] {
        if !value.is_empty() {
            lines.push(format!("{what} {value}"));
        }
    }
    let (cut, done) = (design.progress.parts.len(), design.progress.steps.len());
    if cut + done > 0 {
        lines.push(format!("so far {cut} parts cut, {done} steps done"));
    }
    lines
}
