//! A large design for tests.

use casewright_core::design::{Bay, Design, Divider, Extent, Inside};
use casewright_core::expr::Dim;

/// So many columns of ten bays.
pub(crate) fn wall_of_bays(columns: usize) -> Design {
    let mut design = casewright_desktop::start::blank();
    let column = |x: usize| {
        let bays = (0..10).map(|y| Bay::plain(format!("{x} {y}"), Inside::Open { shelves: 0 })).collect();
        Bay::plain(format!("column {x}"), Inside::Up { bays, by: Divider::Panel })
    };
    let bays = (0..columns).map(column).collect();
    design.carcass.bay = Bay::plain("wall".to_owned(), Inside::Across { bays, by: Divider::Panel });
    design.carcass.envelope.width = Extent::Fixed(Dim::new((330 * columns).to_string()));
    design.carcass.envelope.height = Extent::Fixed(Dim::new("3000"));
    design
}
