//! Tests of the search and of what is proposed.

mod exhaustive;
mod lacking;
mod packing;
mod proposals;

use casewright_core::Length;
use casewright_core::design::{Bay, Design, Inside};

use crate::request::{Choice, Place, Request, Unit};
use crate::{Curve, Size};

fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

fn size(width: i64, height: i64) -> Size {
    Size { width: mm(width), height: mm(height) }
}

/// A design from the middle of its text.
fn design(envelope: &str, things: &str, bay: &str, more: &str) -> Design {
    let text = format!(
        "(schema: 1, title: \"t\", unit: Millimetre(step: 0.5), things: {{{things}}},
          materials: {{\"ply\": (thickness: 18, kind: Plywood)}},
          fittings: {{\"slide 450\": Slide(mount: Side, length: 450, side_space: 12.7, height: 45, load_kg: 35)}},
          carcass: (envelope: ({envelope}), construction: (board: \"ply\"), bay: (name: \"all\", inside: {bay})){more})"
    );
    Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"))
}

/// A request for boxes of these sizes (each in several ways) in a room, with panels of a thickness between them.
fn boxes(units: &[Vec<(i64, i64)>], room: (i64, i64), panel: i64, carried: &[bool]) -> Request {
    let bay = |i: usize| Bay::plain(format!("unit {i}"), Inside::Open { shelves: 0 });
    let unit = |(i, sizes): (usize, &Vec<(i64, i64)>)| {
        let is_carried = carried.get(i).copied().unwrap_or_default();
        let sizes: Vec<[Length; 3]> = sizes.iter().map(|it| [mm(it.0), mm(it.1), mm(1)]).collect();
        Unit {
            name: format!("unit {i}"),
            things: Vec::new(),
            curve: Curve::of(sizes.iter().map(|it| Size { width: it[0], height: it[1] })),
            choices: vec![Choice { bay: bay(i), sizes, is_carried }],
            is_wished: false,
            is_carried,
            is_open: false,
            mass_kg: 0.0,
            is_often: false,
            is_appliance: false,
        }
    };
    Request {
        design: design("width: Fixed(900), height: Fixed(900), depth: Fixed(400)", "", "Open()", ""),
        area: "all".to_owned(),
        units: units.iter().enumerate().map(unit).collect(),
        place: Place {
            room: size(room.0, room.1),
            depth: mm(400),
            may_shrink: [false; 2],
            upright: mm(panel),
            shelf: mm(panel),
        },
        together: Vec::new(),
    }
}
