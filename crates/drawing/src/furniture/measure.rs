//! A sheet to take measurements on, with a pencil: where to measure, and room for what is found.

use casewright_core::Length;
use casewright_core::geometry::Axis;
use casewright_core::unit::Unit;
use kurbo::{Affine, Rect};

use super::cautions::Concern;
use super::checklist::Column;
use super::pack::title_block;
use super::scene::Scene;
use crate::sheet::{Format, Sheet};
use crate::table::{Column as TableColumn, Row, Table};
use crate::title_block::HEIGHT_MM;

/// The name of this sheet.
const NAME: &str = "Taking measure";
/// Clear space within the frame, in millimetres.
const MARGIN_MM: f64 = 6.0;

/// The sheet to take measurements on.
pub(crate) fn measure_sheet(scene: &Scene<'_>) -> Sheet {
    let format = Format::A4;
    let space = format.drawing_space();
    let area = Rect::new(space.x0, space.y0 + HEIGHT_MM, space.x1, space.y1).inset(-MARGIN_MM);
    let mut sheet = Sheet::new(format, title_block(scene, NAME, "Form", Concern::Nothing));
    let mut column = Column::new(scene, area);
    column.heading("Taking measure");
    let what = match scene.design.unit {
        Unit::Millimetre { .. } => "millimetres",
        Unit::Inch { .. } => "inches and their fractions",
    };
    column.line(&format!(
        "Hang a plumb line (or set a laser) at a known distance from the left end of the wall. Measure from it to both \
         walls, at each height, at the wall and at the front. Measure twice, write down {what}.",
    ));
    let top = area.y0 + column.room();
    let table = walls(scene);
    let pieces = table.lay_out(area.width(), &[], area.height());
    let mut used = 0.0;
    if let Some(piece) = pieces.first() {
        sheet.content.append_mapped(piece, Affine::translate((area.x0, top)));
        used = piece.bounds().map_or(0.0, |bounds| bounds.height());
    }
    column.skip(used + 4.0);
    let floor = floor(scene);
    let top = area.y0 + column.room();
    if let Some(piece) = floor.lay_out(area.width(), &[], area.height()).first() {
        sheet.content.append_mapped(piece, Affine::translate((area.x0, top)));
        used = piece.bounds().map_or(0.0, |bounds| bounds.height());
    }
    column.skip(used + 4.0);
    const BLANK: &str = "..........";
    for line in [
        format!("skirting: height {BLANK} thickness {BLANK}"),
        format!("sill: underside above the floor {BLANK} depth {BLANK} from the left {BLANK} to {BLANK}"),
        format!("neighbouring worktop: top above the floor {BLANK} thickness {BLANK} front edge from the wall {BLANK}"),
        format!("diagonals on the floor, corner to corner: {BLANK} and {BLANK}; on the wall: {BLANK} and {BLANK}"),
        format!("height under the ceiling, three places: {BLANK} {BLANK} {BLANK}"),
        format!("sockets, switches (from the left, above the floor): {BLANK} {BLANK}   {BLANK} {BLANK}"),
        format!("pipes, valves, radiator (from the left, above the floor, out): {BLANK} {BLANK} {BLANK}"),
        format!("narrowest door and stair on the way in: width {BLANK} height {BLANK}"),
    ] {
        column.tick(&line, false);
    }
    sheet.content.items.extend(column.display.items);
    sheet
}

/// Rows at five heights, at the wall and at the front.
fn walls(scene: &Scene<'_>) -> Table {
    let envelope = &scene.assembly.envelope;
    let headings = ["Height", "Out from the wall", "Line to left wall", "Line to right wall", "Together"];
    let columns = headings.iter().map(|it| TableColumn::words(it)).collect();
    let mut rows = Vec::new();
    let (top, depth) = (envelope.size(Axis::Y), envelope.size(Axis::Z));
    for share in [0, 1, 2, 3, 4] {
        for out in [Length::ZERO, depth] {
            // Above the skirting at the foot.
            let height = if share == 0 { Length::from_mm(100) } else { Length::from_nm(top.nm() * share / 4) };
            let text = |length: Length| scene.format(length.rounded_to(Length::from_mm(1)));
            rows.push(Row { cells: vec![text(height), text(out)], ..Row::default() });
        }
    }
    scene.table(columns, rows)
}

/// The floor at the four corners and in the middle of the front.
fn floor(scene: &Scene<'_>) -> Table {
    let envelope = &scene.assembly.envelope;
    let headings = ["Floor: from the left", "Out from the wall", "Above (+) or below the line"];
    let columns = headings.iter().map(|it| TableColumn::words(it)).collect();
    let (x, z) = (envelope.range(Axis::X), envelope.range(Axis::Z));
    let middle = envelope.middle(Axis::X);
    let places = [(x.0, z.0), (x.1, z.0), (x.0, z.1), (middle, z.1), (x.1, z.1)];
    let text = |length: Length| scene.format(length.rounded_to(Length::from_mm(1)));
    let rows = places.into_iter().map(|(x, z)| Row { cells: vec![text(x), text(z)], ..Row::default() }).collect();
    scene.table(columns, rows)
}
