//! Part drawings: one for each different piece, with its hole table, on the sheet that shows it largest.

use std::collections::BTreeMap;

use casewright_core::assembly::{Grain, Part, PartFace};
use kurbo::{Affine, Point, Rect};

use super::part_group::{PartGroup, part_groups};
use super::part_marks::{Marks, hole_table};
use super::part_net::{Net, bare_bounds, is_worked, lay_out, main_face};
use super::part_words::{face_word, side_word};
use super::scene::Scene;
use crate::display::{Display, Layer};
use crate::font::{HEIGHT_NOTE_MM, HEIGHT_TITLE_MM, LINE_PITCH, wrapped};
use crate::scale::Scale;
use crate::sheet::{Format, Sheet};
use crate::table::Table;
use crate::tag::Tag;
use crate::text::Text;
use crate::title_block::{HEIGHT_MM, TitleBlock};

/// Clear space to the frame and between the blocks of a sheet, in millimetres.
const MARGIN_MM: f64 = 5.0;
/// The largest scale that a part is drawn at.
const AT_MOST: Scale = Scale::reduced(2);
/// The smallest scale that a part is drawn at only to have its table on the same sheet.
const WITH_TABLE: Scale = Scale::reduced(10);
/// The width of a hole table beside a part, in millimetres.
const TABLE_MM: f64 = 170.0;
/// The least height of a table that is worth beginning, in millimetres.
const LEAST_TABLE_MM: f64 = 28.0;

/// The sheets of all part drawings, with the words that found no room on them.
pub(crate) fn part_sheets(
    scene: &Scene<'_>,
    title_block: &dyn Fn(&str, &str) -> TitleBlock,
) -> (Vec<Sheet>, Vec<String>) {
    let (mut sheets, mut omitted) = (Vec::new(), Vec::new());
    for group in part_groups(&scene.assembly.parts) {
        let title = format!("Part {}", group.drawn.number);
        let (drawn, left) = draw(scene, &group, &|name| title_block(name, "Part drawing"));
        sheets.extend(drawn);
        omitted.extend(left.into_iter().map(|text| format!("{}: {text}", scene.say(&title))));
    }
    (sheets, omitted)
}

/// Where the parts of a sheet stand.
#[derive(Clone, Copy)]
struct Arrangement {
    format: Format,
    /// Room for the part.
    part: Rect,
    /// Room for the table; its lower edge is fixed, its upper edge no higher than this unless it stands under the part.
    table: Rect,
    /// Whether the table stands under the part and takes what that leaves.
    is_under: bool,
}

/// The arrangements to choose from, the best first among equal scales.
fn arrangements(header_mm: f64) -> [Arrangement; 3] {
    let inside = |format: Format| format.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let (small, large) = (inside(Format::A4), inside(Format::A3));
    let above_block = |space: Rect| space.y0 + HEIGHT_MM;
    let below_header = |space: Rect| space.y1 - header_mm - MARGIN_MM;
    let column = large.x1 - TABLE_MM;
    [
        Arrangement {
            format: Format::A4,
            part: Rect::new(small.x0, above_block(small) + LEAST_TABLE_MM, small.x1, below_header(small)),
            table: Rect::new(small.x0, above_block(small), small.x1, below_header(small)),
            is_under: true,
        },
        Arrangement {
            format: Format::A3,
            part: Rect::new(large.x0, large.y0, column - MARGIN_MM * 2.0, below_header(large)),
            table: Rect::new(column, above_block(large), large.x1, below_header(large)),
            is_under: false,
        },
        Arrangement {
            format: Format::A3,
            part: Rect::new(large.x0, above_block(large), large.x1, below_header(large)),
            table: Rect::new(large.x0, large.y0, large.x0 + TABLE_MM, below_header(large)),
            is_under: true,
        },
    ]
}

/// A part drawn on a sheet at a scale.
#[derive(Clone, Copy)]
struct Found {
    arrangement: Arrangement,
    scale: Scale,
    /// Whether the whole hole table goes on the same sheet.
    whole: bool,
}

/// The largest scale, then the smaller sheet; but for the whole table on the same sheet the part may be drawn half as large.
fn choose(found: &[Found]) -> Option<&Found> {
    let largest = |whole: bool| {
        let these = found.iter().filter(|it| it.whole || !whole);
        these.map(|it| it.scale.factor()).fold(0.0, f64::max)
    };
    let (most, with_table) = (largest(false), largest(true));
    let is_worth = with_table >= most / 2.0 - 1e-12;
    let wanted = if is_worth { with_table } else { most };
    found.iter().filter(|it| it.whole || !is_worth).find(|it| it.scale.factor() >= wanted - 1e-12)
}

fn draw(
    scene: &Scene<'_>,
    group: &PartGroup<'_>,
    title_block: &dyn Fn(&str) -> TitleBlock,
) -> (Vec<Sheet>, Vec<String>) {
    let part = group.drawn;
    let marks = Marks::of(part);
    // The header is as high on every format as it is on the narrowest.
    let width = Format::A4.drawing_space().width() - 2.0 * MARGIN_MM;
    let header = header(scene, group, width);
    let header_mm = header.bounds().map_or(0.0, |bounds| bounds.height());
    let table = hole_table(scene, part, &marks);
    let mut laid: BTreeMap<Scale, Net> = BTreeMap::new();
    let mut found: Vec<Found> = Vec::new();
    for arrangement in arrangements(header_mm) {
        let fits =
            |bounds: Rect| bounds.width() <= arrangement.part.width() && bounds.height() <= arrangement.part.height();
        let scales = Scale::reductions().filter(|scale| scale.factor() <= AT_MOST.factor());
        for scale in scales {
            // Marks and words cost most; they are laid out only where the rest fits.
            if !fits(bare_bounds(scene, part, scale.factor())) {
                continue;
            }
            let net = laid.entry(scale).or_insert_with(|| lay_out(scene, part, &marks, scale.factor()));
            let bounds = net.display.bounds().unwrap_or(Rect::ZERO);
            if !fits(bounds) {
                continue;
            }
            let whole = table.rows.is_empty() || holds_table(&table, &arrangement, bounds.height());
            found.push(Found { arrangement, scale, whole });
            // Once the whole table goes beside it, a smaller one is of no use; nor is one too small to be read.
            if whole || scale.factor() <= WITH_TABLE.factor() + 1e-12 {
                break;
            }
        }
    }
    let chosen = choose(&found).and_then(|it| Some((it.arrangement, it.scale, laid.remove(&it.scale)?)));
    let Some((arrangement, scale, Net { display, omitted })) = chosen else {
        return (Vec::new(), vec![scene.say("the drawing fits on no sheet")]);
    };
    let name = format!("Part {}", part.number);
    let block = TitleBlock { scale: scale.to_string(), ..title_block(&name) };
    let mut sheet = Sheet::new(arrangement.format, block);
    let space = arrangement.format.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let top_left = Affine::translate((space.x0, space.y1));
    sheet.content.append_mapped(&header, top_left);
    let bounds = display.bounds().unwrap_or(Rect::ZERO);
    // In the middle across, at the upper end of its room.
    let at = Point::new(arrangement.part.center().x - bounds.center().x, arrangement.part.y1 - bounds.y1);
    sheet.content.append_mapped(&display, Affine::translate(at.to_vec2()));
    let mut sheets = vec![sheet];
    add_table(&table, &mut sheets, &arrangement, bounds.height(), &title_block(&format!("{name}, holes")));
    (sheets, omitted)
}

/// Where the table goes on the sheet of a part that is so high: its own room, then what is left above the title block.
fn table_rooms(arrangement: &Arrangement, part_mm: f64) -> Vec<Rect> {
    let table = arrangement.table;
    let top = if arrangement.is_under { arrangement.part.y1 - part_mm - MARGIN_MM } else { table.y1 };
    let column = Rect::new(arrangement.part.x1 - TABLE_MM, arrangement.part.y0, arrangement.part.x1, top);
    let beside = (arrangement.is_under && column.x0 >= table.x1 + MARGIN_MM).then_some(column);
    let own = Rect::new(table.x0, table.y0, table.x1, top);
    [Some(own), beside].into_iter().flatten().filter(|room| room.height() >= LEAST_TABLE_MM).collect()
}

/// Whether the sheet of the part holds the whole table.
fn holds_table(table: &Table, arrangement: &Arrangement, part_mm: f64) -> bool {
    let heights: Vec<f64> = table_rooms(arrangement, part_mm).iter().map(Rect::height).collect();
    table.lay_out(arrangement.table.width(), &heights, f64::INFINITY).len() <= heights.len()
}

/// The hole table on the sheet of the part, the rest of it on sheets of its own.
fn add_table(
    table: &Table,
    sheets: &mut Vec<Sheet>,
    arrangement: &Arrangement,
    part_mm: f64,
    title_block: &TitleBlock,
) {
    if table.rows.is_empty() {
        return;
    }
    let space = Format::A4.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let rest = space.height() - HEIGHT_MM;
    let width = arrangement.table.width().min(space.width());
    let rooms = table_rooms(arrangement, part_mm);
    let heights: Vec<f64> = rooms.iter().map(Rect::height).collect();
    let mut pieces = table.lay_out(width, &heights, rest).into_iter();
    if let Some(sheet) = sheets.first_mut() {
        for room in rooms {
            let Some(piece) = pieces.next() else { break };
            sheet.content.append_mapped(&piece, Affine::translate((room.x0, room.y1)));
        }
    }
    for piece in pieces {
        let mut sheet = Sheet::new(Format::A4, title_block.clone());
        sheet.content.append_mapped(&piece, Affine::translate((space.x0, space.y1)));
        sheets.push(sheet);
    }
}

/// What the part is, above its drawing; its upper left corner at the origin.
fn header(scene: &Scene<'_>, group: &PartGroup<'_>, width_mm: f64) -> Display {
    let part = group.drawn;
    let tag = Some(Tag::Part(part.number.clone()));
    let mut display = Display::new();
    let mut y = -HEIGHT_TITLE_MM;
    for line in wrapped(&format!("{}   {}", part.number, scene.say(&part.name)), HEIGHT_TITLE_MM, width_mm) {
        display.text(Layer::Notes, tag.clone(), Text::new(Point::new(0.0, y), HEIGHT_TITLE_MM, line));
        y -= HEIGHT_TITLE_MM * LINE_PITCH * 0.8;
    }
    for words in [pieces(group), sizes(scene, part), bench(part)] {
        for line in wrapped(&scene.say(&words), HEIGHT_NOTE_MM, width_mm) {
            display.text(Layer::Notes, tag.clone(), Text::new(Point::new(0.0, y), HEIGHT_NOTE_MM, line));
            y -= HEIGHT_NOTE_MM * 1.7;
        }
    }
    display
}

/// How many pieces, and how they differ.
fn pieces(group: &PartGroup<'_>) -> String {
    let numbers = |parts: &[&Part]| parts.iter().map(|part| part.number.as_str()).collect::<Vec<_>>().join(", ");
    let mut words = vec![match group.count() {
        1 => "1 piece".to_owned(),
        count => format!("{count} pieces"),
    }];
    if !group.same.is_empty() {
        words.push(format!("also {}, the same", numbers(&group.same)));
    }
    if !group.mirrored.is_empty() {
        words.push(format!(
            "mirrored: {}, the same measures from the same datum, but all faces changed for the opposite ones",
            numbers(&group.mirrored)
        ));
    }
    if !group.counterparts.is_empty() {
        words.push(format!("{} is its counterpart, the other way round", numbers(&group.counterparts)));
    }
    words.join("; ")
}

fn sizes(scene: &Scene<'_>, part: &Part) -> String {
    let size = |size: casewright_core::assembly::PartSize| {
        format!(
            "{} × {} × {}",
            scene.dimension(size.length),
            scene.dimension(size.width),
            scene.dimension(size.thickness)
        )
    };
    let mut words = vec![part.material.clone(), format!("finished {}", size(part.finished))];
    if part.cut != part.finished {
        words.push(format!("cut {}", size(part.cut)));
    }
    words.push(match part.grain {
        Grain::AlongLength => "grain along the length".to_owned(),
        Grain::None => "no grain".to_owned(),
    });
    words.join("; ")
}

/// Bands, the datum and which way places are counted.
fn bench(part: &Part) -> String {
    let mut words = Vec::new();
    let bands: Vec<String> = part
        .bands
        .iter()
        .map(|band| format!("{} ({})", face_word(part, PartFace::Edge(band.edge)), band.name))
        .collect();
    if part.outline.is_some() {
        words.push("saw the rectangle, then cut to the shape by the full-size template".to_owned());
    }
    if !bands.is_empty() {
        words.push(format!("banded, with a bar: {}", bands.join(", ")));
    }
    let frame = part.world_from_part;
    let corner = [frame.length.reversed(), frame.width.reversed()].map(side_word).join(" ");
    let (along, across) = (side_word(frame.length.reversed()), side_word(frame.width.reversed()));
    words.push(format!(
        "datum, with a triangle: {corner} corner; along is from the {along} edge, across from the {across} edge"
    ));
    let (main, under) = (main_face(part), PartFace::Under);
    words.push(format!("seen on the {}", face_word(part, main)));
    if main == PartFace::Over && is_worked(part, under) {
        words.push(format!("then turned over its {across} edge to the {}", face_word(part, under)));
    }
    words.join("; ")
}
