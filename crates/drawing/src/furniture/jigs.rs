//! Drilling blocks full size, and the tables of blocks, set-ups and diagonals.

use std::collections::BTreeMap;

use casewright_core::Length;
use casewright_core::assembly::{Part, PartFace};
use casewright_core::jigs::{Beware, Block, JigPlan, Reference, SetUp};
use casewright_core::squareness::frames;
use casewright_core::unit::Unit;
use kurbo::{Affine, Circle, Point, Rect, Shape, Vec2};

use super::joint_labels::joint_labels;
use super::part_words::face_word;
use super::scene::Scene;
use crate::display::{Display, Layer};
use crate::font::{HEIGHT_DIMENSION_MM, HEIGHT_LABEL_MM, HEIGHT_NOTE_MM, LINE_PITCH};
use crate::line::LineClass;
use crate::place::Occupied;
use crate::sheet::Sheet;
use crate::table::{Column, Row, Table};
use crate::text::{Anchor, Text};
use crate::tiles::{WINDOW, tile_full_size};
use crate::title_block::TitleBlock;

/// How thick a block should be: it guides the drill by about twice its diameter (common practice, from memory).
const BLOCK_THICKNESS: &str = "at least 20 mm thick";
/// From the row of holes to the far side of a block, in millimetres.
const BEYOND_ROW_MM: f64 = 20.0;

/// The drilling blocks: what each is like, and how many set-ups it serves.
pub(crate) fn block_table(scene: &Scene<'_>, plan: &JigPlan) -> Table {
    let columns = vec![
        Column::code("Block"),
        Column::figures("Hole"),
        Column::figures("Fence to row"),
        Column::words("From the stop to each hole"),
        Column::figures("Length"),
        Column::figures("Set-ups"),
    ];
    let rows = plan.blocks.iter().enumerate().map(|(index, block)| {
        let count = plan.set_ups.iter().filter(|set_up| set_up.block == index).count();
        let holes: Vec<String> = block.holes.iter().map(|at| scene.format(*at)).collect();
        let cells = vec![
            format!("B{}", index + 1),
            scene.format(block.diameter),
            scene.format(block.from_fence),
            holes.join("; "),
            scene.format(block.length()),
            count.to_string(),
        ];
        Row { cells, tag: None, is_section: false }
    });
    scene.table(columns, rows.collect())
}

/// Every set-up of every block, joint by joint.
pub(crate) fn set_up_table(scene: &Scene<'_>, plan: &JigPlan) -> Table {
    let columns = vec![
        Column::code("Joint"),
        Column::code("Part"),
        Column::words("Drill in"),
        Column::code("Block"),
        Column::code("Side up"),
        Column::words("Holes"),
        Column::words("Fence stands"),
        Column::words("Stop end stands"),
        Column::words("Beware"),
    ];
    let labels = joint_labels(scene.assembly);
    let rows = plan.set_ups.iter().filter_map(|set_up| {
        let part = scene.assembly.parts.get(set_up.part)?;
        let block = plan.blocks.get(set_up.block)?;
        let label = labels.get(set_up.joint).cloned().flatten().unwrap_or_default();
        Some(set_up_row(scene, part, block, set_up, label))
    });
    let mut rows: Vec<Row> = rows.collect();
    let without: Vec<String> = plan.without.iter().filter_map(|joint| labels.get(*joint).cloned().flatten()).collect();
    if !without.is_empty() {
        let words = format!(
            "Without a block (faces on each other, backs, joints over 700 mm), from the part drawings: {}",
            without.join(", ")
        );
        rows.push(Row { cells: vec![scene.say(&words)], tag: None, is_section: true });
    }
    scene.table(columns, rows)
}

fn set_up_row(scene: &Scene<'_>, part: &Part, block: &Block, set_up: &SetUp, label: String) -> Row {
    let holes = if set_up.how.holes.len() == block.holes.len() {
        scene.say("all")
    } else {
        set_up.how.holes.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
    };
    let side = if set_up.second_side { "second" } else { "first" };
    let mut end = stands(scene, part, &set_up.end);
    if set_up.how.reversed {
        end = format!("the far end: {end}");
    }
    let cells = vec![
        label,
        part.number.clone(),
        scene.say(&face_word(part, set_up.face)),
        format!("B{}", set_up.block + 1),
        scene.say(side),
        holes,
        scene.say(&stands(scene, part, &set_up.fence)),
        scene.say(&end),
        scene.say(&set_up.fence.beware.iter().map(|it| beware(scene, it)).collect::<Vec<_>>().join("; ")),
    ];
    Row { cells, tag: Some(crate::tag::Tag::Part(part.number.clone())), is_section: false }
}

/// From where the distance of a fence is another one.
fn beware(scene: &Scene<'_>, it: &Beware) -> String {
    let by = scene.format(it.by);
    if it.inner {
        format!("from the inner face of {} it is {by} less", it.board)
    } else {
        format!("from the outer face of {} it is {by} more", it.board)
    }
}

/// Where a fence or stop stands, and whether a part of the piece is a spacer of that length.
fn stands(scene: &Scene<'_>, part: &Part, reference: &Reference) -> String {
    const NAMED: usize = 3;
    let from = face_word(part, reference.from);
    if reference.spacer == Length::ZERO {
        let hooks = if matches!(reference.from, PartFace::Edge(_)) { "flush with the" } else { "over the" };
        return format!("{hooks} {from}");
    }
    let mut words = format!("{} from the {from}", scene.format(reference.spacer));
    let same: Vec<&str> = reference.same_length.iter().take(NAMED).map(String::as_str).collect();
    if !same.is_empty() {
        words = format!("{words}; as long as {}", same.join(", "));
    }
    words
}

/// Clear space between blocks that share pages, in millimetres.
const BETWEEN_MM: f64 = 10.0;

/// The blocks full size, over as many pages as they need; those of about the same length stand one above another on the same
/// pages.
pub(crate) fn block_sheets(scene: &Scene<'_>, plan: &JigPlan, title_block: &TitleBlock) -> Vec<Sheet> {
    let blocks = plan.blocks.iter().enumerate();
    let drawn: Vec<Display> = blocks.map(|(index, block)| draw_block(scene, index, block)).collect();
    let mut sheets = Vec::new();
    let sizes: Vec<Rect> = drawn.iter().map(|it| it.bounds().unwrap_or(Rect::ZERO)).collect();
    for (group, content) in on_shared_pages(&drawn, &sizes) {
        let names: Vec<String> = group.iter().map(|index| format!("B{}", index + 1)).collect();
        let name = match names.len() {
            1 => scene.say(&format!("Drilling block {}", names.join(", "))),
            _ => scene.say(&format!("Blocks {}", names.join(", "))),
        };
        sheets.extend(tile_full_size(&name, &scene.say(BLOCK_THICKNESS), &content, title_block).into_sheets());
    }
    sheets
}

/// What is drawn full size, those that share pages one above another: their indices, and the drawing. Each takes the room that is
/// given for it.
pub(super) fn on_shared_pages(drawn: &[Display], sizes: &[Rect]) -> Vec<(Vec<usize>, Display)> {
    let shared = groups(sizes).into_iter().map(|group| {
        let mut content = Display::new();
        let mut top = 0.0;
        for index in &group {
            let (Some(display), Some(bounds)) = (drawn.get(*index), sizes.get(*index)) else { continue };
            content.append_mapped(display, Affine::translate((-bounds.x0, top - bounds.y1)));
            top -= bounds.height() + BETWEEN_MM;
        }
        (group, content)
    });
    shared.collect()
}

/// Which drawings share pages: by how many pages they reach across, as many one above another as a page is high.
fn groups(bounds: &[Rect]) -> Vec<Vec<usize>> {
    let across = |it: &Rect| ((it.width() - 1e-6) / WINDOW.width()).ceil().max(1.0) as usize;
    let mut by_pages: BTreeMap<usize, Vec<(f64, Vec<usize>)>> = BTreeMap::new();
    for (index, it) in bounds.iter().enumerate() {
        let stacks = by_pages.entry(across(it)).or_default();
        match stacks.iter_mut().find(|(depth, _)| depth + BETWEEN_MM + it.height() <= WINDOW.height()) {
            Some((depth, stack)) => {
                *depth += BETWEEN_MM + it.height();
                stack.push(index);
            }
            None => stacks.push((it.height(), vec![index])),
        }
    }
    by_pages.into_values().flatten().map(|(_, stack)| stack).collect()
}

/// A block from its first side: stop at the left, fence below, holes numbered, with their distance from the stop.
fn draw_block(scene: &Scene<'_>, index: usize, block: &Block) -> Display {
    let mut display = Display::new();
    let (length, row) = (block.length().mm(), block.from_fence.mm());
    let outline = Rect::new(0.0, 0.0, length, row + BEYOND_ROW_MM);
    display.rectangle(Layer::Outline, LineClass::VisibleOutline, None, outline);
    // Fence and stop reach down past the block on its under side: drawn as bars outside.
    let bars = [Rect::new(0.0, -4.0, length, 0.0), Rect::new(-4.0, 0.0, 0.0, outline.y1)];
    for bar in bars {
        display.rectangle(Layer::Outline, LineClass::VisibleOutline, None, bar);
    }
    let radius = block.diameter.mm() / 2.0;
    for at in &block.holes {
        let centre = Point::new(at.mm(), row);
        let circle = Circle::new(centre, radius).to_path(0.005);
        display.stroke(Layer::Outline, LineClass::VisibleOutline, None, circle);
        for arm in [Vec2::new(radius + 2.0, 0.0), Vec2::new(0.0, radius + 2.0)] {
            display.segment(Layer::Centre, LineClass::Dimension, None, centre - arm, centre + arm);
        }
    }
    // The name stands over the row, as far up as the numbers leave room; above a block that is too short for it.
    let name = scene.say(&format!("B{}, first side up", index + 1));
    let fits = |height: &f64| crate::font::width_mm(&name, *height) <= length - 6.0;
    let height = [HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM, HEIGHT_LABEL_MM].into_iter().find(fits);
    let (height, at) = match height {
        Some(height) => (height, Point::new(3.0, row + BEYOND_ROW_MM - height - 2.0)),
        None => (HEIGHT_NOTE_MM, Point::new(0.0, outline.y1 + 1.5)),
    };
    display.text(Layer::Notes, None, Text::new(at, height, name));
    let fence =
        Text::new(Point::new(3.0, -8.0), HEIGHT_NOTE_MM, scene.say("fence below this line; stop at the left end"));
    display.text(Layer::Notes, None, fence);
    let [long, row, hole] = [block.length(), block.from_fence, block.diameter].map(|it| scene.format(it));
    let size = format!("{long} long, row {row} from the fence, holes {hole}");
    let size = Text::new(Point::new(3.0, -13.0), HEIGHT_NOTE_MM, scene.say(&size)).anchored(Anchor::Start);
    display.text(Layer::Notes, None, size);
    number_holes(scene, block, outline, &mut display);
    display
}

/// The number of each hole and its distance from the stop: beside it where that meets nothing, else above the block.
fn number_holes(scene: &Scene<'_>, block: &Block, outline: Rect, display: &mut Display) {
    const LINES_ABOVE: usize = 12;
    let mut occupied = Occupied::new();
    occupied.add_display(display);
    let beside = block.from_fence.mm() + block.diameter.mm() / 2.0 + 3.0;
    for (number, at) in block.holes.iter().enumerate() {
        let x = at.mm();
        let words = format!("{}: {}", number + 1, scene.format(*at));
        let text = |x: f64, y: f64, anchor| Text::new(Point::new(x, y), HEIGHT_NOTE_MM, words.clone()).anchored(anchor);
        let above = (0..LINES_ABOVE).map(|line| outline.y1 + 1.5 + line as f64 * HEIGHT_NOTE_MM * LINE_PITCH);
        let places = [text(x + 1.0, beside, Anchor::Start), text(x - 1.0, beside, Anchor::End)]
            .into_iter()
            .chain(above.map(|y| text(x, y, Anchor::Start)));
        let last = text(x + 1.0, beside, Anchor::Start);
        let text = places.into_iter().find(|text| occupied.is_free(text.bounds(), 0.4)).unwrap_or(last);
        occupied.add_box(text.bounds());
        display.text(Layer::Notes, None, text);
    }
}

/// The nominal diagonals of all boxes and openings.
pub(crate) fn diagonal_table(scene: &Scene<'_>) -> Table {
    let (in_mm, symbol) = (matches!(scene.design.unit, Unit::Millimetre { .. }), scene.design.unit.symbol());
    let columns = vec![
        Column::words("Measure corner to corner"),
        Column::figures("Width"),
        Column::figures("Height or depth"),
        Column::figures("Both diagonals"),
        Column::figures(if in_mm {
            "Gap runs out for each mm of difference"
        } else {
            "Gap runs out for each inch of difference"
        }),
    ];
    let rows = frames(scene.layout, scene.assembly).into_iter().map(|frame| {
        let cells = vec![
            scene.say(&frame.name),
            scene.format(frame.width),
            scene.format(frame.height),
            match scene.design.unit {
                Unit::Millimetre { .. } => scene.decimal(frame.diagonal.mm(), 1),
                Unit::Inch { .. } => scene.format(frame.diagonal.rounded_to(Length::from_um(100))),
            },
            format!("{} {symbol}", scene.decimal(frame.runs_out_per_mm(), 2)),
        ];
        Row { cells, tag: None, is_section: false }
    });
    let mut rows: Vec<Row> = rows.collect();
    let heading = if in_mm {
        "Diagonals in mm. Of two that differ, pull the corners of the longer one together until both are the same."
    } else {
        "Diagonals in inches. Of two that differ, pull the corners of the longer one together until both are the same."
    };
    rows.insert(0, Row { cells: vec![scene.say(heading)], tag: None, is_section: true });
    scene.table(columns, rows)
}
