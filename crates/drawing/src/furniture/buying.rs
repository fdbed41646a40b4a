//! The buying list, and how many mistakes the boards forgive.

use casewright_core::stock::{Buying, Counted, CuttingPlan, Goods, buying};

use super::scene::Scene;
use crate::table::{Column, Row, Table};

/// What must be bought beyond the stock.
#[must_use]
pub fn buying_list(scene: &Scene<'_>, plan: &CuttingPlan) -> Table {
    let columns = vec![
        Column::words("Buy"),
        Column::words("What it is"),
        Column::figures("Needed"),
        Column::figures("In hand"),
        Column::figures("Pack"),
        Column::figures("Packs"),
        Column::figures("Each"),
        Column::figures("Price"),
    ];
    let Buying { lines, total, without_price } = buying(scene.design, scene.assembly, plan);
    let mut rows = Vec::new();
    let mut kind = None;
    for line in &lines {
        if kind != Some(line.kind) {
            kind = Some(line.kind);
            rows.push(Row { cells: vec![scene.say(heading(line.kind))], tag: None, is_section: true });
        }
        let amount = |value: f64| match line.unit {
            Counted::Pieces => scene.trimmed(value, 1),
            unit => scene.say(&format!("{} {}", scene.trimmed(value, 1), unit.word())),
        };
        let price = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |it| scene.decimal(it, 2));
        let cells = vec![
            scene.say_unless_named(&line.what),
            scene.say_unless_named(&line.notes),
            amount(line.needed),
            if line.in_hand > 0.0 { amount(line.in_hand) } else { String::new() },
            amount(line.pack),
            line.packs.to_string(),
            price(line.price),
            price(line.cost()),
        ];
        rows.push(Row { cells, tag: None, is_section: false });
    }
    let mut sum = format!("Total {}", scene.decimal(total, 2));
    if without_price > 0 {
        let lines =
            if without_price == 1 { "1 line that has".to_owned() } else { format!("{without_price} lines that have") };
        sum.push_str(&format!(", without {lines} no price"));
    }
    rows.push(Row { cells: vec![scene.say(&sum)], tag: None, is_section: true });
    scene.table(columns, rows)
}

const fn heading(kind: Goods) -> &'static str {
    match kind {
        Goods::Sheet => "Sheets",
        Goods::Board => "Boards that the stock does not give",
        Goods::Banding => "Edge banding (strips 40 mm longer than the edge, and 10 %)",
        Goods::BandingBars => "Edge banding in bars (as the cutting plan counts them, none to spare)",
        Goods::Fitting => "Fittings",
        Goods::Dowels => "Dowels",
        Goods::Screws => "Screws",
        Goods::Glue => "Glue (150 g/m² of glued face; see the maker's sheet)",
    }
}

/// How many further copies of each part the boards give.
#[must_use]
pub fn spare_list(scene: &Scene<'_>, plan: &CuttingPlan) -> Table {
    let columns = vec![
        Column::words("Parts of one size"),
        Column::figures("Cut length"),
        Column::figures("Cut width"),
        Column::figures("More from the offcuts"),
        Column::figures("More if planned anew"),
    ];
    let mut rows = Vec::new();
    for lot in plan.lots.iter().filter(|it| !it.spare.is_empty()) {
        let which = if lot.which.is_empty() { String::new() } else { format!(" {}", lot.which) };
        rows.push(Row {
            cells: vec![scene.say_unless_named(&format!("{}{which}", lot.material))],
            tag: None,
            is_section: true,
        });
        for spare in &lot.spare {
            let parts: Vec<_> = spare.parts.iter().filter_map(|it| scene.assembly.parts.get(*it)).collect();
            let Some(first) = parts.first() else { continue };
            let cells = vec![
                parts.iter().map(|it| it.number.as_str()).collect::<Vec<_>>().join(", "),
                scene.format(first.cut.length),
                scene.format(first.cut.width),
                spare.from_offcuts.to_string(),
                spare.planned_anew.to_string(),
            ];
            rows.push(Row { cells, tag: None, is_section: false });
        }
    }
    scene.table(columns, rows)
}
