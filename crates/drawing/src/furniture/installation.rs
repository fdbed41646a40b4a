//! The site and the installation: what goes in, what is left to the walls, feet, fixing points; and what was measured on
//! the real piece.

use casewright_core::Length;
use casewright_core::as_built::apply;
use casewright_core::assembly::Worktop;
use casewright_core::design::{SiteWall, Stand};
use casewright_core::geometry::Axis;
use casewright_core::levelling::{fixing_points, level, zones};
use casewright_core::survey::{gaps, largest, overhead, raising, room_height, scribes};
use casewright_core::worktop::{Outline, Side, findings};
use kurbo::Rect;

use super::cautions::Concern;
use super::checklist::Column;
use super::pack::title_block;
use super::scene::Scene;
use crate::sheet::{Format, Sheet};
use crate::title_block::HEIGHT_MM;

/// The name of these sheets.
const NAME: &str = "Site and installation";
/// Clear space within the frame, in millimetres.
const MARGIN_MM: f64 = 6.0;

/// The sheets on the site and the installation.
pub(crate) fn installation_sheets(scene: &Scene<'_>) -> Vec<Sheet> {
    let format = Format::A4;
    let space = format.drawing_space();
    let area = Rect::new(space.x0, space.y0 + HEIGHT_MM, space.x1, space.y1).inset(-MARGIN_MM);
    let mut sheets = Vec::new();
    let mut column = Column::new(scene, area);
    let mut finish = |done: Column<'_>| {
        let mut sheet = Sheet::new(format, title_block(scene, NAME, "Installation", Concern::Site));
        sheet.content = done.display;
        sheets.push(sheet);
    };
    for (heading, lines) in blocks(scene) {
        if lines.is_empty() {
            continue;
        }
        let needed: f64 = lines.iter().map(|(line, _)| column.height_of(line)).sum();
        // A block that has no room begins a new sheet, unless it is longer than a whole one.
        if needed + 14.0 > column.room() && column.room() < area.height() - 1.0 {
            finish(std::mem::replace(&mut column, Column::new(scene, area)));
        }
        column.heading(&heading);
        for (line, to_tick) in lines {
            if column.room() < column.height_of(&line) {
                finish(std::mem::replace(&mut column, Column::new(scene, area)));
            }
            if to_tick { column.tick(&line, false) } else { column.line(&line) }
        }
        column.skip(4.0);
    }
    if column.room() < area.height() - 1.0 {
        finish(column);
    }
    sheets
}

/// Whether the piece stands on castors: it has no place of its own to be measured, and is fixed to no wall.
pub(super) fn rolls(scene: &Scene<'_>) -> bool {
    matches!(scene.design.carcass.stand, Stand::Castors { .. })
}

type Lines = Vec<(String, bool)>;

fn blocks(scene: &Scene<'_>) -> Vec<(String, Lines)> {
    vec![
        ("What goes in".to_owned(), room(scene)),
        ("Gaps, scribes, cover strips".to_owned(), sides(scene)),
        ("Levelling".to_owned(), levelling(scene)),
        ("Fixing to the wall".to_owned(), fixing(scene)),
        ("Leads".to_owned(), super::lead_sheet::lead_lines(scene)),
        ("Worktop".to_owned(), worktop(scene)),
        ("As built".to_owned(), as_built(scene)),
    ]
}

fn room(scene: &Scene<'_>) -> Lines {
    let mut lines = Vec::new();
    let f = |length: Length| scene.format(length);
    let envelope = &scene.assembly.envelope;
    if let Some(straight) = largest(scene.design, false) {
        let own = envelope.size(Axis::X);
        lines.push((
            format!(
                "{} is the widest box that can be pushed in straight; the piece is {}: {}",
                f(straight.width),
                f(own),
                if own <= straight.width { "it goes in" } else { "it does NOT go in" }
            ),
            false,
        ));
        if let Some(turned) = largest(scene.design, true).filter(|it| it.width > straight.width) {
            lines.push((
                format!(
                    "{} if it stands askew by {} degrees, following the walls",
                    f(turned.width),
                    scene.decimal(turned.slope.atan().to_degrees(), 2)
                ),
                false,
            ));
        }
        if straight.from_wall > Length::ZERO {
            lines.push((
                format!("the rear wall and what runs along it stand out by up to {}", f(straight.from_wall)),
                false,
            ));
        }
    }
    lines.extend(raised(scene));
    lines
}

/// Whether the piece can be raised in the room, and what it is pushed in under then.
fn raised(scene: &Scene<'_>) -> Lines {
    let f = |length: Length| scene.format(length);
    let envelope = &scene.assembly.envelope;
    let mut lines = Vec::new();
    if let Some(ceiling) = room_height(scene.design, envelope) {
        let (height, depth) = (envelope.size(Axis::Y), envelope.size(Axis::Z));
        let whole = raising(height, depth, ceiling);
        let text = if whole.goes {
            format!("raised from its back it needs {} of the {} that are there", f(whole.needs), f(whole.has))
        } else {
            let stand = match scene.design.carcass.stand {
                Stand::Plinth { height, .. } | Stand::Feet { height, .. } | Stand::Castors { height, .. } => height,
                Stand::Floor => Length::ZERO,
            };
            let bare = raising(height - stand, depth, ceiling);
            if bare.goes {
                format!("raise it from its back without its feet: it needs {} of {}", f(bare.needs), f(bare.has))
            } else {
                format!(
                    "it cannot be raised: {} would be needed, {} are there. Put it together where it stands",
                    f(bare.needs),
                    f(bare.has)
                )
            }
        };
        lines.push((text, true));
    }
    if let Some(above) = overhead(scene.design, envelope).filter(|it| !it.is_ceiling) {
        let free = above.underside - envelope.max.y;
        let text =
            format!("raise it in the room, not under {}; pushed in under that it has {} free", above.name, f(free));
        lines.push((text, true));
    }
    lines
}

const fn wall_words(wall: SiteWall) -> &'static str {
    match wall {
        SiteWall::Left => "left wall",
        SiteWall::Right => "right wall",
        SiteWall::Rear => "rear wall",
        SiteWall::Above => "above",
    }
}

fn sides(scene: &Scene<'_>) -> Lines {
    let f = |length: Length| scene.format(length);
    let found = gaps(scene.design, &scene.assembly.envelope);
    scribes(&found)
        .iter()
        .map(|it| {
            let strip = match it.strip {
                Some(strip) => {
                    format!("; cover strip {} wide, or a filler with {} to scribe away", f(strip), f(it.allowance))
                }
                None => "; nothing to cover".to_owned(),
            };
            (format!("{}: gap {} to {}{strip}", wall_words(it.wall), f(it.least), f(it.most)), true)
        })
        .collect()
}

fn levelling(scene: &Scene<'_>) -> Lines {
    let f = |length: Length| scene.format(length.rounded_to(Length::from_um(100)));
    let Some(levelled) = level(scene.design, scene.assembly) else { return Vec::new() };
    let mut lines = Vec::new();
    if levelled.raised != Length::ZERO {
        lines.push((
            format!(
                "{} by {} so that the top meets the neighbouring worktop",
                if levelled.raised > Length::ZERO { "raise all" } else { "lower all" },
                f(levelled.raised.abs())
            ),
            false,
        ));
    }
    lines.push((format!("top at {}, level both ways", f(levelled.top)), true));
    for foot in &levelled.feet {
        lines.push((
            format!(
                "foot at {} from the left, {} from the wall: set to {}",
                f(foot.at.0),
                f(foot.at.1),
                f(foot.height)
            ),
            true,
        ));
    }
    if let Some((left, right)) = levelled.plinth {
        lines.push((
            format!(
                "scribe the plinth to the floor: room of {} at its left end, {} at its right; seal its lower edge",
                f(left),
                f(right)
            ),
            true,
        ));
        lines.push((
            "make one stretch of the plinth removable: feet, leads and valves stay within reach".to_owned(),
            true,
        ));
    }
    lines
}

fn fixing(scene: &Scene<'_>) -> Lines {
    let f = |length: Length| scene.format(length);
    if rolls(scene) {
        return Vec::new();
    }
    let (points, without) = fixing_points(scene.design, scene.assembly);
    let mut lines: Lines = points
        .iter()
        .map(|it| (format!("{} from the left, {} above the floor, beside {}", f(it.x), f(it.y), it.beside), true))
        .collect();
    for number in without {
        lines
            .push((format!("no place beside {number} keeps clear of leads and pipes: fix it to its neighbour"), false));
    }
    for zone in zones(scene.design) {
        let band = match (zone.across, zone.up) {
            (Some((from, to)), _) => format!("from {} to {} along the wall", f(from), f(to)),
            (None, Some((from, to))) => format!("from {} to {} above the floor", f(from), f(to)),
            (None, None) => continue,
        };
        lines.push((format!("drill nothing {band}: {}", zone.of), false));
    }
    lines.push((
        "Search the wall with a detector before drilling. Leads and pipes are where the house has them, not where the \
         plan says; work on them is for licensed people."
            .to_owned(),
        false,
    ));
    lines
}

fn worktop(scene: &Scene<'_>) -> Lines {
    let Some(Worktop { outline, pieces }) = &scene.assembly.worktop else { return Vec::new() };
    let mut lines = vec![(worktop_figures(scene, outline), false)];
    let shape = scene.design.carcass.worktop.as_ref().and_then(|it| it.shape.as_ref());
    for (index, piece) in pieces.iter().enumerate() {
        let boards = piece.boards(scene.design);
        let text = if boards.is_empty() {
            "no board in stock is large enough in one piece: join it from several, or buy one".to_owned()
        } else {
            format!("cut it from {}", boards.join(" or "))
        };
        let text = if pieces.len() > 1 { format!("piece {}: {text}", index + 1) } else { text };
        lines.push((text, true));
    }
    if pieces.len() > 1 {
        let text = "join the pieces on a flat bench with sealer in the joint, tighten the connectors in turn, and carry \
                    them together or join them on the carcass";
        lines.push((text.to_owned(), true));
    }
    if let Some(shape) = shape {
        let say = |mm: f64| scene.format(Length::from_mm_f64(mm).rounded_to(Length::from_um(100)));
        for finding in findings(shape, outline, &say) {
            lines.push((format!("{} ({}): {}", finding.what, finding.measured, finding.mend), false));
        }
    }
    lines
}

/// What one line says of a worktop.
pub(crate) fn worktop_figures(scene: &Scene<'_>, outline: &Outline) -> String {
    let rounded = |mm: f64| scene.format(Length::from_mm_f64(mm).rounded_to(Length::from_um(100)));
    format!(
        "{} m², front edge {}, banding {}; rear edge within {} of the measured stations",
        scene.decimal(outline.area() / 1e6, 3),
        rounded(outline.length(Side::Front)),
        rounded(outline.banding(scene.design)),
        rounded(outline.deviation)
    )
}

fn as_built(scene: &Scene<'_>) -> Lines {
    let mut lines: Lines = apply(scene.design)
        .differences
        .iter()
        .map(|it| {
            let finding = it.finding(scene.design.unit);
            (finding.what, false)
        })
        .collect();
    for (number, (length, width)) in &scene.design.as_built.cut {
        lines.push((format!("{number} is cut: {} × {}", scene.format(*length), scene.format(*width)), false));
    }
    for (bay, (rising, falling)) in &scene.design.as_built.diagonals {
        let off = (*rising - *falling).abs();
        lines.push((format!("diagonals of {bay} differ by {}", scene.format(off)), false));
    }
    lines
}
