//! Cutting sheets: each board with its parts, its cuts in the order of the saw's settings, and what remains.

use casewright_core::Length;
use casewright_core::stock::{AlikeBoards, CutBoard, CuttingPlan, Lot, PlacedPart, SawCut, alike_boards, matched_rows};
use kurbo::{Affine, Point, Rect, Shape};

use super::scene::Scene;
use crate::display::{Display, Layer, Tone};
use crate::font::{HEIGHT_LABEL_MM, HEIGHT_NOTE_MM, HEIGHT_TITLE_MM, LINE_PITCH, width_mm, wrapped};
use crate::line::LineClass;
use crate::place::Occupied;
use crate::sheet::{Format, Sheet};
use crate::table::{Column, Row, Table};
use crate::tag::Tag;
use crate::text::{Anchor, Text};
use crate::title_block::{HEIGHT_MM, TitleBlock};

/// Clear space to the frame, in millimetres.
const MARGIN_MM: f64 = 5.0;
/// Width of the column of cuts beside the board, in millimetres.
const CUTS_MM: f64 = 128.0;
/// Between the drawing and the column of cuts, in millimetres.
const GAP_MM: f64 = 8.0;
/// The caution that stands on each cutting sheet. It defers to the maker's manual (common practice).
const CAUTION: &str = "Saw: guard and riving knife on, push stick for narrow pieces, never cut free-hand; support long and \
    heavy boards. Old boards: look for nails, screws and staples first. Dust: extraction and a mask. The saw maker's manual \
    goes first.";

/// A board alone, as on its sheet, as large as it goes into so many millimetres from the origin to the right and upwards.
#[must_use]
pub fn board_picture(scene: &Scene<'_>, board: &CutBoard, size_mm: (f64, f64)) -> Display {
    let mut display = Display::new();
    let places: Vec<Vec<&PlacedPart>> = board.parts.iter().map(|it| vec![it]).collect();
    draw_board(scene, board, &places, Rect::new(0.0, 0.0, size_mm.0, size_mm.1), &mut display);
    display
}

/// What is to be known of a board beside its drawing, as its sheet says it: remains, what needs no banding, whose grain runs on.
#[must_use]
pub fn board_notes(scene: &Scene<'_>, lot: &Lot, number: usize, board: &CutBoard) -> Vec<String> {
    let alone = AlikeBoards { lot, boards: vec![(number, board)] };
    note_lines(scene, &alone, board).iter().map(|it| scene.say(it)).collect()
}

/// One sheet for each board, boards that are cut alike sharing one; more where the cuts need it.
pub(crate) fn cut_sheets(
    scene: &Scene<'_>,
    plan: &CuttingPlan,
    title_block: &dyn Fn(&str, &str) -> TitleBlock,
) -> Vec<Sheet> {
    let mut sheets = Vec::new();
    for alike in alike_boards(scene.design, &scene.assembly.parts, plan) {
        let name = match alike.boards.as_slice() {
            [] => continue,
            [(number, board)] => format!("Board {number}: {}", board.title()),
            [(_, board), ..] => {
                format!("Boards {}: {}, × {}, cut alike", numbers_of(&alike), board.name, alike.boards.len())
            }
        };
        let said = scene.say(&name);
        sheets.extend(board_sheets(scene, plan, &alike, &said, &|| title_block(&name, "Cutting plan")));
    }
    sheets
}

/// The numbers of boards in words.
fn numbers_of(alike: &AlikeBoards<'_>) -> String {
    let numbers: Vec<String> = alike.boards.iter().map(|it| it.0.to_string()).collect();
    match numbers.as_slice() {
        [all @ .., last] if !all.is_empty() => format!("{} and {last}", all.join(", ")),
        all => all.concat(),
    }
}

/// What stands for a place or a piece on boards that are cut alike: once where it is the same on all of them.
fn each_once(words: impl Iterator<Item = String>) -> String {
    let words: Vec<String> = words.collect();
    match words.first() {
        Some(first) if words.iter().all(|it| it == first) => first.clone(),
        _ => words.join(", "),
    }
}

fn board_sheets(
    scene: &Scene<'_>,
    plan: &CuttingPlan,
    alike: &AlikeBoards<'_>,
    name: &str,
    title_block: &dyn Fn() -> TitleBlock,
) -> Vec<Sheet> {
    let Some((_, board)) = alike.boards.first().copied() else { return Vec::new() };
    let format = Format::A3;
    let space = format.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let room = Rect::new(space.x0, space.y0 + HEIGHT_MM, space.x1 - CUTS_MM - GAP_MM, space.y1);
    let mut first = Sheet::new(format, title_block());
    let top = heading(scene, plan, alike, board, name, room, &mut first.content);
    let bottom = notes(scene, alike, board, room, &mut first.content);
    draw_board(scene, board, &alike.places(), Rect::new(room.x0, bottom, room.x1, top), &mut first.content);
    let height = space.y1 - space.y0 - HEIGHT_MM;
    let mut sheets = vec![first];
    for (index, piece) in cut_table(scene, plan, alike, board).lay_out(CUTS_MM, &[], height).into_iter().enumerate() {
        // A second column of cuts goes on a sheet of its own kind: three columns a sheet.
        let slot = if index == 0 {
            (0, space.x1 - CUTS_MM)
        } else {
            let column = (index - 1) % 3;
            (1 + (index - 1) / 3, space.x0 + column as f64 * CUTS_MM)
        };
        while sheets.len() <= slot.0 {
            sheets.push(Sheet::new(format, title_block()));
        }
        if let Some(sheet) = sheets.get_mut(slot.0) {
            sheet.content.append_mapped(&piece, Affine::translate((slot.1, space.y1)));
        }
    }
    sheets
}

/// Title, sizes and quality over the board; hands back where the drawing may begin below it.
fn heading(
    scene: &Scene<'_>,
    plan: &CuttingPlan,
    alike: &AlikeBoards<'_>,
    board: &CutBoard,
    name: &str,
    room: Rect,
    display: &mut Display,
) -> f64 {
    let mut y = room.y1 - HEIGHT_TITLE_MM;
    display.text(Layer::Notes, None, Text::new(Point::new(room.x0, y), HEIGHT_TITLE_MM, name));
    let number = |index: usize| scene.assembly.parts.get(index).map(|it| it.number.clone()).unwrap_or_default();
    let lot = alike.lot;
    let which = if lot.which.is_empty() { String::new() } else { format!(" ({})", lot.which) };
    let thick = scene.design.materials.get(&lot.material).map(|it| scene.format(it.thickness)).unwrap_or_default();
    let mut lines = vec![
        format!(
            "{}{which}, {thick} thick; board {} × {}; saw cut {}; parts {}, cuts {}, fence settings {}",
            lot.material,
            scene.format(board.size.0),
            scene.format(board.size.1),
            scene.format(plan.kerf),
            board.parts.len(),
            board.cuts.len(),
            board.cuts.last().map_or(0, |it| it.setting),
        ),
        format!(
            "Plan of this lot, {} board{}: {}",
            lot.boards.len(),
            if lot.boards.len() == 1 { "" } else { "s" },
            lot.quality_in_words(&number)
        ),
    ];
    if alike.boards.len() > 1 {
        lines.push(format!(
            "Cut {} boards like this: where several numbers stand on a part, they are those of boards {}, in this order.",
            alike.boards.len(),
            numbers_of(alike)
        ));
    }
    y -= HEIGHT_NOTE_MM * LINE_PITCH + 1.5;
    for line in lines.iter().flat_map(|line| wrapped(&scene.say(line), HEIGHT_NOTE_MM, room.width())) {
        display.text(Layer::Notes, None, Text::new(Point::new(room.x0, y), HEIGHT_NOTE_MM, line));
        y -= HEIGHT_NOTE_MM * LINE_PITCH;
    }
    y - 1.0
}

/// What is to be known of boards beside their drawing, one line each.
fn note_lines(scene: &Scene<'_>, alike: &AlikeBoards<'_>, board: &CutBoard) -> Vec<String> {
    let mut lines = Vec::new();
    let remains: Vec<String> = (board.offcuts.iter().filter(|it| it.useful).enumerate())
        .map(|(index, it)| {
            let again = if it.taken { " (cut further, see its own sheet)" } else { "" };
            format!("R{} {} × {}{again}", index + 1, scene.format(it.length), scene.format(it.width))
        })
        .collect();
    if !remains.is_empty() {
        lines.push(format!("Remains, back into stock: {}.", remains.join("; ")));
    }
    let number = |index: usize| scene.assembly.parts.get(index).map_or("", |it| it.number.as_str()).to_owned();
    let list = |wanted: &dyn Fn(&PlacedPart) -> bool| {
        let parts = alike.boards.iter().flat_map(|it| &it.1.parts);
        parts.filter(|it| wanted(it)).map(|it| number(it.part)).collect::<Vec<_>>().join(", ")
    };
    for (words, parts) in [
        ("The board is as wide as the part, only cut to length: ", list(&|it| it.only_to_length)),
        ("Keeps the board's banding on an edge, not banded again: ", list(&|it| !it.keeps.is_empty())),
        ("Take old banding off: ", list(&|it| it.old_banding > 0)),
    ] {
        if !parts.is_empty() {
            lines.push(format!("{words}{parts}."));
        }
    }
    for row in matched_rows(scene.design, &scene.assembly.parts) {
        let here = row.parts.iter().filter(|it| board.parts.iter().any(|placed| placed.part == **it));
        let parts: Vec<String> = here.map(|it| number(*it)).collect();
        if parts.len() > 1 {
            lines.push(format!(
                "Grain match, side by side in this order, mark the face before cutting: {}.",
                parts.join(", ")
            ));
        }
    }
    if !board.kept.is_empty() {
        let kept: Vec<String> =
            board.kept.iter().map(|it| format!("{} ({})", it.edge.word(), scene.format(it.thickness))).collect();
        lines.push(format!(
            "Kept banding stays outside the drawn size: {} edge; fences that run on it are set wider by it.",
            kept.join(", ")
        ));
    }
    lines
}

/// Offcuts and cautions under the board; hands back where the drawing must end above them.
fn notes(scene: &Scene<'_>, alike: &AlikeBoards<'_>, board: &CutBoard, room: Rect, display: &mut Display) -> f64 {
    let mut lines = note_lines(scene, alike, board);
    lines.push(CAUTION.to_owned());
    let lines: Vec<String> =
        lines.iter().flat_map(|line| wrapped(&scene.say(line), HEIGHT_NOTE_MM, room.width())).collect();
    let pitch = HEIGHT_NOTE_MM * LINE_PITCH;
    let top = room.y0 + lines.len() as f64 * pitch;
    for (index, line) in lines.into_iter().enumerate() {
        let at = Point::new(room.x0, top - pitch * (index + 1) as f64 + 1.0);
        display.text(Layer::Notes, None, Text::new(at, HEIGHT_NOTE_MM, line));
    }
    top + 3.0
}

/// The board to scale: outline, what is spoilt, parts with number and size, remains, cuts with their numbers. `places` are
/// the parts, those of boards that are cut alike together.
fn draw_board(scene: &Scene<'_>, board: &CutBoard, places: &[Vec<&PlacedPart>], room: Rect, display: &mut Display) {
    // Room for the lettering of the edges.
    let inner = Rect::new(room.x0 + 6.0, room.y0 + 5.0, room.x1 - 1.0, room.y1 - 1.0);
    let scale = (inner.width() / board.size.0.mm()).min(inner.height() / board.size.1.mm());
    let origin = Point::new(inner.x0, inner.y1 - board.size.1.mm() * scale);
    let rect = |x: Length, y: Length, length: Length, width: Length| {
        let corner = Point::new(origin.x + x.mm() * scale, origin.y + y.mm() * scale);
        Rect::from_origin_size(corner, (length.mm() * scale, width.mm() * scale))
    };
    let whole = rect(Length::ZERO, Length::ZERO, board.size.0, board.size.1);
    for spoilt in spoilt_strips(board) {
        display.fill(Layer::Section, Tone::Tint, None, rect(spoilt.0, spoilt.1, spoilt.2, spoilt.3).to_path(0.1));
    }
    display.rectangle(Layer::Outline, LineClass::VisibleOutline, None, whole);
    let mut occupied = Occupied::default();
    add_outline(&mut occupied, whole);
    for alike in places {
        let numbers: Vec<String> =
            alike.iter().filter_map(|it| Some(scene.assembly.parts.get(it.part)?.number.clone())).collect();
        let Some(placed) = alike.first() else { continue };
        let Some(part) = scene.assembly.parts.get(placed.part) else { continue };
        let tag = Some(Tag::Part(part.number.clone()));
        let area = rect(placed.x, placed.y, placed.length, placed.width);
        display.fill(Layer::Areas, Tone::Clear, tag.clone(), area.to_path(0.1));
        display.rectangle(Layer::Outline, LineClass::VisibleOutline, tag.clone(), area);
        add_outline(&mut occupied, area);
        let mark = if placed.only_to_length { " ↔" } else { "" };
        let size = format!("{} × {}", scene.format(part.cut.length), scene.format(part.cut.width));
        // Several numbers in one line with the size below, or one below the other; then without the size.
        let row = format!("{}{mark}", numbers.join(", "));
        let mut column: Vec<String> = numbers.iter().map(|it| format!("{it}{mark}")).collect();
        column.push(size.clone());
        label(&[&[row, size], column.as_slice()], area, tag.as_ref(), &mut occupied, display);
    }
    let useful = board.offcuts.iter().filter(|it| it.useful);
    for (index, offcut) in useful.enumerate() {
        let area = rect(offcut.x, offcut.y, offcut.length, offcut.width);
        display.rectangle(Layer::Hidden, LineClass::Hidden, None, area);
        add_outline(&mut occupied, area);
        let size = format!("{} × {}", scene.format(offcut.length), scene.format(offcut.width));
        label(&[&[format!("R{}", index + 1), size]], area, None, &mut occupied, display);
    }
    for cut in &board.cuts {
        cut_number(cut, rect(cut.slot.0, cut.slot.1, cut.slot.2, cut.slot.3), whole, &mut occupied, display);
    }
    let below = Point::new(whole.center().x, whole.y0 - 4.0);
    let words = Text::new(below, HEIGHT_LABEL_MM, scene.say("near edge")).anchored(Anchor::Middle);
    display.text(Layer::Notes, None, words);
    let beside = Point::new(whole.x0 - 1.5, whole.center().y);
    let words = Text::new(beside, HEIGHT_LABEL_MM, scene.say("start"))
        .anchored(Anchor::Middle)
        .rotated(std::f64::consts::FRAC_PI_2);
    display.text(Layer::Notes, None, words);
}

/// Keeps numbers off the lines of a rectangle.
fn add_outline(occupied: &mut Occupied, rect: Rect) {
    let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)].map(Point::from);
    for (index, from) in corners.iter().enumerate() {
        if let Some(to) = corners.get((index + 1) % corners.len()) {
            occupied.add_line(*from, *to);
        }
    }
}

/// A number beside a cut, where there is room along it; the table of cuts has those that find none.
fn cut_number(cut: &SawCut, slot: Rect, whole: Rect, occupied: &mut Occupied, display: &mut Display) {
    let slot = slot.intersect(whole);
    let text = cut.number.to_string();
    let (half, high) = (width_mm(&text, HEIGHT_LABEL_MM) / 2.0, HEIGHT_LABEL_MM / 2.0);
    for share in [0.5, 0.25, 0.75, 0.12, 0.88, 0.37, 0.63, 0.05, 0.95] {
        for side in [1.0, -1.0] {
            let at = if cut.rip {
                let y = if side > 0.0 { slot.y1 } else { slot.y0 };
                Point::new(slot.x0 + slot.width() * share, y + side * (high + 0.7))
            } else {
                let x = if side > 0.0 { slot.x1 } else { slot.x0 };
                Point::new(x + side * (half + 0.7), slot.y0 + slot.height() * share)
            };
            let area = Rect::new(at.x - half, at.y - high, at.x + half, at.y + high);
            if whole.union(area) == whole && occupied.is_free(area, 0.4) {
                occupied.add_box(area);
                let text = Text::new(Point::new(at.x, at.y - high), HEIGHT_LABEL_MM, text);
                display.text(Layer::Dimensions, None, text.anchored(Anchor::Middle));
                return;
            }
        }
    }
}

/// Number and size in a rectangle: the first of these texts that fits whole; else the first that fits without its last line,
/// the size; upright or turned, as large as fits.
fn label(texts: &[&[String]], area: Rect, tag: Option<&Tag>, occupied: &mut Occupied, display: &mut Display) {
    for left_out in [0, 1] {
        for text in texts {
            let shown = text.get(..text.len().saturating_sub(left_out)).unwrap_or_default();
            if !shown.is_empty() && set_within(shown, area, tag, occupied, display) {
                return;
            }
        }
    }
}

/// Sets lines in the middle of a rectangle if they fit.
fn set_within(lines: &[String], area: Rect, tag: Option<&Tag>, occupied: &mut Occupied, display: &mut Display) -> bool {
    for height in [HEIGHT_NOTE_MM, HEIGHT_LABEL_MM] {
        let long = lines.iter().map(|it| width_mm(it, height)).fold(0.0, f64::max) + 1.0;
        let deep = height * (1.0 + 1.6 * (lines.len() - 1) as f64) + 1.0;
        for turned in [false, true] {
            let (across, up) = if turned { (deep, long) } else { (long, deep) };
            if across > area.width() || up > area.height() {
                continue;
            }
            let centre = area.center();
            for (index, line) in lines.iter().enumerate() {
                let down = (deep - 1.0) / 2.0 - height - 1.6 * height * index as f64;
                let (at, turn) = if turned {
                    (Point::new(centre.x - down, centre.y), std::f64::consts::FRAC_PI_2)
                } else {
                    (Point::new(centre.x, centre.y + down), 0.0)
                };
                let text = Text::new(at, height, line.clone()).anchored(Anchor::Middle).rotated(turn);
                occupied.add_box(text.bounds());
                display.text(Layer::Notes, tag.cloned(), text);
            }
            return true;
        }
    }
    false
}

/// What of a board is not good, where it has one good rectangle: four strips round it. Else nothing is shown.
fn spoilt_strips(board: &CutBoard) -> Vec<(Length, Length, Length, Length)> {
    let [(x, y, length, width)] = board.good.as_slice() else { return Vec::new() };
    let (x, y, length, width) = (*x, *y, *length, *width);
    let (all_length, all_width) = board.size;
    let strips = [
        (Length::ZERO, Length::ZERO, x, all_width),
        (x + length, Length::ZERO, all_length - x - length, all_width),
        (x, Length::ZERO, length, y),
        (x, y + width, length, all_width - y - width),
    ];
    strips.into_iter().filter(|it| it.2 > Length::ZERO && it.3 > Length::ZERO).collect()
}

/// The cuts, one section for each setting of the fence.
fn cut_table(scene: &Scene<'_>, plan: &CuttingPlan, alike: &AlikeBoards<'_>, board: &CutBoard) -> Table {
    let columns = vec![
        Column::figures("Cut"),
        Column::code("Way"),
        Column::words("What"),
        Column::words("Near side"),
        Column::words("Far side"),
    ];
    let mut rows = Vec::new();
    let mut setting = 0;
    for (index, cut) in board.cuts.iter().enumerate() {
        let each = || alike.boards.iter().filter_map(|it| it.1.cuts.get(index));
        if cut.setting != setting {
            setting = cut.setting;
            let heading = scene.say(&format!("Fence {}", scene.format(cut.fence)));
            rows.push(Row { cells: vec![heading], tag: None, is_section: true });
        }
        let cells = vec![
            cut.number.to_string(),
            scene.say(cut.way(plan.trim)),
            scene.say(&cut.what.to_string()),
            scene.say(&each_once(each().map(|it| it.into.0.to_string()))),
            scene.say(&each_once(each().map(|it| it.into.1.to_string()))),
        ];
        rows.push(Row { cells, tag: None, is_section: false });
    }
    scene.table(columns, rows)
}
