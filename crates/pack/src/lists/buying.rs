//! The buying list.

use casewright_core::stock::{CuttingPlan, buying as bought};

use super::{ListError, Table, decimal, mark};
use casewright_drawing::furniture::Scene;

/// One row for each kind of goods, then the total of what has a price.
///
/// # Errors
/// Internal errors only.
pub fn buying(scene: &Scene<'_>, plan: &CuttingPlan) -> Result<Vec<u8>, ListError> {
    let mut table = Table::new(
        scene,
        &["kind", "what", "notes", "needed", "unit", "in hand", "pack", "packs", "price of a pack", "price"],
    )?;
    let list = bought(scene.design, scene.assembly, plan);
    let money = |value: Option<f64>| value.map(|it| decimal(&format!("{it:.2}"), mark(scene))).unwrap_or_default();
    for line in &list.lines {
        table.row([
            scene.say(line.kind.word()),
            scene.say_unless_named(&line.what),
            scene.say_unless_named(&line.notes),
            decimal(&line.needed.to_string(), mark(scene)),
            scene.say(line.unit.word()),
            decimal(&line.in_hand.to_string(), mark(scene)),
            decimal(&line.pack.to_string(), mark(scene)),
            line.packs.to_string(),
            money(line.price),
            money(line.cost()),
        ])?;
    }
    let without = match list.without_price {
        0 => String::new(),
        1 => "1 line without a price".to_owned(),
        count => format!("{count} lines without a price"),
    };
    let blank = String::new;
    let sum = decimal(&format!("{:.2}", list.total), mark(scene));
    let total =
        [scene.say("total"), blank(), scene.say(&without), blank(), blank(), blank(), blank(), blank(), blank(), sum];
    table.row(total)?;
    table.bytes()
}
