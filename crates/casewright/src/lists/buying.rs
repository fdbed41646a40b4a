//! The buying list.

use casewright_core::pipeline::Derived;
use casewright_core::stock::{CuttingPlan, buying as bought};

use super::Table;
use crate::failure::Failure;

/// One row for each kind of goods, then the total of what has a price.
///
/// # Errors
/// Internal errors only.
pub(crate) fn buying(work: &Derived, plan: &CuttingPlan) -> Result<Vec<u8>, Failure> {
    let mut table = Table::new(&[
        "kind",
        "what",
        "notes",
        "needed",
        "unit",
        "in hand",
        "pack",
        "packs",
        "price of a pack",
        "price",
    ])?;
    let list = bought(&work.design, &work.assembly, plan);
    let money = |value: Option<f64>| value.map(|it| format!("{it:.2}")).unwrap_or_default();
    for line in &list.lines {
        table.row([
            line.kind.to_owned(),
            line.what.clone(),
            line.notes.clone(),
            line.needed.to_string(),
            line.unit.to_owned(),
            line.in_hand.to_string(),
            line.pack.to_string(),
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
    let sum = format!("{:.2}", list.total);
    let total = ["total".to_owned(), blank(), without, blank(), blank(), blank(), blank(), blank(), blank(), sum];
    table.row(total)?;
    table.bytes()
}
