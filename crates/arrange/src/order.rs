//! In which order the bays of a row and a stack come: sizes do not tell, but masses and hands do.

use crate::division::Division;
use crate::request::Request;

/// A rule of order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Order {
    /// Rows as the design lists its bays; in stacks what is heavy low, what is open on top.
    HeavyLow,
    /// The same, rows from the other end.
    Mirrored,
    /// Rows and stacks as the design lists its bays.
    AsListed,
    /// In stacks what is used often uppermost under what is open.
    OftenHigh,
}

impl Order {
    pub(crate) const ALL: [Self; 4] = [Self::HeavyLow, Self::Mirrored, Self::AsListed, Self::OftenHigh];
}

/// The division in an order. What hangs on slides stays next to its like, so that they need no shelf between them.
pub(crate) fn ordered(division: &Division, request: &Request, order: Order) -> Division {
    let inside =
        |children: &[Division]| -> Vec<Division> { children.iter().map(|it| ordered(it, request, order)).collect() };
    match division {
        Division::Unit(_) => division.clone(),
        Division::Row(children) => {
            let mut children = inside(children);
            children.sort_by_key(|it| it.units().into_iter().min());
            if order == Order::Mirrored {
                children.reverse();
            }
            Division::Row(with_groups(children, request))
        }
        Division::Stack(children) => {
            let mut children = inside(children);
            if order == Order::AsListed {
                children.sort_by_key(|it| it.units().into_iter().min());
            } else {
                let key = |it: &Division| height_key(it, request, order);
                children.sort_by(|a, b| key(a).total_cmp(&key(b)));
            }
            Division::Stack(together(with_groups(children, request), |it| request.is_carried(it)))
        }
    }
}

/// The higher, the further up.
fn height_key(division: &Division, request: &Request, order: Order) -> f64 {
    let units = division.units();
    let of = || units.iter().filter_map(|&it| request.units.get(it));
    let heaviest = of().map(|it| it.mass_kg).fold(0.0, f64::max);
    let open = of().all(|it| it.is_open);
    let often = order == Order::OftenHigh && of().any(|it| it.is_often);
    let lifted = if open {
        1e6
    } else if often {
        1e3
    } else {
        0.0
    };
    lifted - heaviest
}

/// Brings what belongs together next to each other.
fn with_groups(children: Vec<Division>, request: &Request) -> Vec<Division> {
    request
        .together
        .iter()
        .fold(children, |children, group| together(children, |it| it.units().iter().all(|unit| group.contains(unit))))
}

/// Brings those of which something holds next to each other, at the place of the first of them.
fn together(children: Vec<Division>, holds: impl Fn(&Division) -> bool) -> Vec<Division> {
    let Some(first) = children.iter().position(&holds) else { return children };
    let (those, others): (Vec<_>, Vec<_>) = children.into_iter().enumerate().partition(|(_, it)| holds(it));
    let (below, above): (Vec<_>, Vec<_>) = others.into_iter().partition(|(i, _)| *i < first);
    below.into_iter().chain(those).chain(above).map(|(_, it)| it).collect()
}
