//! A large made-up design for timings.

use std::fmt::Write;

/// Columns of so many bays each: drawers, a crate on a shelf, open space.
pub(crate) fn wall_of_bays(columns: usize, rows: usize) -> String {
    let mut bays = String::new();
    for c in 0..columns {
        let _ = write!(bays, "(name: \"column {c}\", inside: Up(bays: [");
        for b in 0..rows {
            let name = format!("bay {c} {b}");
            let inside = match b % 3 {
                0 => "inside: Open(shelves: 1)",
                1 => "inside: Holds(things: [\"crate\"], by: Standing)",
                _ => "inside: Holds(by: Drawer(slide: \"slide\")), front: (opens: WithHolding)",
            };
            let inside = inside.replace("crate", &format!("crate {c} {b}"));
            let _ = write!(bays, "(name: \"{name}\", {inside}),");
        }
        bays.push_str("])),");
    }
    let mut things = String::new();
    for c in 0..columns {
        for b in (0..rows).filter(|b| b % 3 == 1) {
            let _ = write!(things, "\"crate {c} {b}\": (kind: Crate, size: (280, 150, 300), mass_kg: 1, load_kg: 5),");
        }
    }
    format!(
        r#"(
            schema: 1, title: "wall of bays", unit: Millimetre(step: 0.5),
            things: {{ {things} }},
            materials: {{ "board": (thickness: 18, kind: Particleboard) }},
            fittings: {{ "slide": Slide(mount: Side, length: 450, side_space: 12.7, height: 45, load_kg: 30) }},
            carcass: (
                envelope: (width: Fixed({}), height: Fixed({}), depth: Fixed(560)),
                construction: (board: "board"),
                stand: Feet(height: 100),
                bay: (name: "all", inside: Across(bays: [{bays}])),
            ),
        )"#,
        columns * 330 + 18,
        rows * 270
    )
}
