//! The buying list.

use casewright_core::pipeline::Derived;
use casewright_core::stock::{CuttingPlan, buying as bought};

use super::{Table, decimal};
use crate::failure::Failure;
use casewright_drawing::Speech;

/// One row for each kind of goods, then the total of what has a price.
///
/// # Errors
/// Internal errors only.
pub(crate) fn buying(work: &Derived, plan: &CuttingPlan, speech: &Speech) -> Result<Vec<u8>, Failure> {
    let mut table = Table::new(
        speech,
        &["kind", "what", "notes", "needed", "unit", "in hand", "pack", "packs", "price of a pack", "price"],
    )?;
    let list = bought(&work.design, &work.assembly, plan);
    let money = |value: Option<f64>| value.map(|it| decimal(&format!("{it:.2}"), speech)).unwrap_or_default();
    for line in &list.lines {
        table.row([
            speech.say(line.kind.word()),
            speech.say_unless_named(&line.what),
            speech.say_unless_named(&line.notes),
            decimal(&line.needed.to_string(), speech),
            speech.say(line.unit.word()),
            decimal(&line.in_hand.to_string(), speech),
            decimal(&line.pack.to_string(), speech),
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
    let sum = decimal(&format!("{:.2}", list.total), speech);
    let total =
        [speech.say("total"), blank(), speech.say(&without), blank(), blank(), blank(), blank(), blank(), blank(), sum];
    table.row(total)?;
    table.bytes()
}
