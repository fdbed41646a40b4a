//! Lists as tables: parts, edge banding, fittings.

use std::collections::{BTreeMap, BTreeSet};

use casewright_core::Length;
use casewright_core::assembly::{Grain, Part, PartEdge, PartFace, listed};
use casewright_core::stock::{BandingStep, CuttingPlan, banding_work};

use super::part_words::{outwards, side_word};
use super::scene::Scene;
use crate::table::{Column, Row, Table};
use crate::tag::Tag;

/// The parts list: number, name, finished and cut size, grain, banding, mass; grouped by material.
#[must_use]
pub fn parts_list(scene: &Scene<'_>) -> Table {
    let columns = vec![
        Column::code("No."),
        Column::words("Name"),
        Column::figures("Finished length"),
        Column::figures("Finished width"),
        Column::figures("Thick- ness"),
        Column::figures("Cut length"),
        Column::figures("Cut width"),
        Column::code("Grain"),
        Column::words("Banded edges"),
        Column::figures("Mass kg"),
    ];
    let mut by_material: BTreeMap<&str, Vec<&Part>> = BTreeMap::new();
    for part in &scene.assembly.parts {
        by_material.entry(part.material.as_str()).or_default().push(part);
    }
    let mut rows = Vec::new();
    for (material, parts) in by_material {
        let mass: f64 = parts.iter().map(|part| part.mass_kg).sum();
        let count = counted(parts.len(), "part", "parts");
        let heading = scene.say(&format!("{material}: {count}, {} kg", scene.decimal(mass, 1)));
        rows.push(section(heading));
        rows.extend(parts.into_iter().map(|part| part_row(scene, part)));
    }
    scene.table(columns, rows)
}

fn part_row(scene: &Scene<'_>, part: &Part) -> Row {
    let grain = match part.grain {
        Grain::AlongLength => "along",
        Grain::None => "–",
    };
    let cells = vec![
        part.number.clone(),
        scene.say(&part.name),
        scene.format(part.finished.length),
        scene.format(part.finished.width),
        scene.format(part.finished.thickness),
        scene.format(part.cut.length),
        scene.format(part.cut.width),
        scene.say(grain),
        scene.say(&banded_edges(part)),
        scene.decimal(part.mass_kg, 2),
    ];
    Row { cells, tag: Some(Tag::Part(part.number.clone())), is_section: false }
}

/// The banded edges in words, as they lie in the piece.
fn banded_edges(part: &Part) -> String {
    let edges: BTreeSet<PartEdge> = part.bands.iter().map(|band| band.edge).collect();
    if edges.len() == 4 {
        return "all four".to_owned();
    }
    let names: Vec<&str> = edges.into_iter().map(|edge| edge_name(part, edge)).collect();
    names.join(", ")
}

/// How an edge of a part is called: after where it looks in the finished piece, shut.
fn edge_name(part: &Part, edge: PartEdge) -> &'static str {
    side_word(outwards(part, PartFace::Edge(edge)))
}

/// The banding list in the order of gluing: every edge that is banded, its length and that of the strip, and the sums of
/// each banding. Edges that keep a board's banding are left out where a cutting plan is given, and strips of a banding that is
/// sold in bars then stand by the bar that they are cut from, with what is left of it.
#[must_use]
pub fn banding_list(scene: &Scene<'_>, plan: Option<&CuttingPlan>) -> Table {
    let columns = vec![
        Column::words("Banding"),
        Column::code("Turn"),
        Column::code("Part"),
        Column::words("Name of the part"),
        Column::code("Edge"),
        Column::figures("Edge length"),
        Column::figures("Strip"),
        Column::figures("Width"),
    ];
    let mut rows = Vec::new();
    for lot in banding_work(scene.assembly, plan) {
        let count = counted(lot.steps.len(), "edge", "edges");
        let metres = |length: Length| scene.decimal(length.mm() / 1000.0, 2);
        let heading = scene.say(&format!(
            "{}: {count}, {} m of edges, {} m of strips (40 mm longer each)",
            lot.name,
            metres(lot.length),
            metres(lot.strips)
        ));
        rows.push(section(heading));
        let step_row = |step: &BandingStep| banding_row(scene, &lot.name, step);
        let Some(cut) = plan.and_then(|it| it.bars_of(&lot.name)) else {
            rows.extend(lot.steps.iter().filter_map(step_row));
            continue;
        };
        rows.push(section(scene.say(&cut.in_words(&|it| scene.format(it)))));
        rows.push(section(scene.say(BAR_CAUTION)));
        for (number, bar) in (1..).zip(&cut.bars) {
            rows.push(section(scene.say(&format!("Bar {number}: rest {}", scene.format(bar.rest)))));
            rows.extend(bar.strips.iter().filter_map(step_row));
        }
        if !cut.too_long.is_empty() {
            rows.push(section(scene.say("Longer than a bar: join these strips, or buy longer bars")));
            rows.extend(cut.too_long.iter().filter_map(step_row));
        }
    }
    scene.table(columns, rows)
}

/// Strips are thin and short under the saw (common practice).
const BAR_CAUTION: &str = "Cutting strips to length: clamp them and keep the hands away from the blade, or use a fine hand saw; \
                           short ends are not held by hand. The saw maker's manual goes first.";

fn section(text: String) -> Row {
    Row { cells: vec![text], tag: None, is_section: true }
}

fn banding_row(scene: &Scene<'_>, banding: &str, step: &BandingStep) -> Option<Row> {
    let part = scene.assembly.parts.get(step.part)?;
    let cells = vec![
        banding.to_owned(),
        step.turn.to_string(),
        part.number.clone(),
        scene.say(&part.name),
        scene.say(edge_name(part, step.edge)),
        scene.format(step.length),
        scene.format(step.strip),
        scene.format(part.finished.thickness),
    ];
    Some(Row { cells, tag: Some(Tag::Part(part.number.clone())), is_section: false })
}

/// The fittings list: what, where, how many.
#[must_use]
pub fn fittings_list(scene: &Scene<'_>) -> Table {
    let columns =
        vec![Column::words("Fitting"), Column::words("What it is"), Column::words("Bay"), Column::figures("Pieces")];
    let rows = listed(&scene.assembly.fittings)
        .into_iter()
        .map(|(fitting, count)| Row {
            cells: vec![
                scene.say_unless_named(&fitting.name),
                scene.say_unless_named(&fitting.in_words()),
                scene.say_unless_named(&fitting.bay),
                count.to_string(),
            ],
            tag: Some(Tag::Fitting(fitting.name.clone())),
            is_section: false,
        })
        .collect();
    scene.table(columns, rows)
}

pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
