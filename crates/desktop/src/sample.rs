//! A small design for tests: two bays side by side, the right one in two storeys, one thing.

use casewright_core::design::{
    Access, Air, Bay, Carcass, Construction, Design, Divider, Envelope, Extent, Holding, Inside, Material,
    MaterialKind, Thing, ThingKind, Tie, TieEdge, Want,
};
use casewright_core::expr::Dim;
use indexmap::IndexMap;

fn bay(name: &str, inside: Inside) -> Bay {
    Bay::plain(name, inside)
}

fn construction() -> Construction {
    Construction::plain("board")
}

/// The design.
pub(crate) fn design() -> Design {
    let mut left = bay("left", Inside::Open { shelves: 2 });
    left.width = Want::Fixed(Dim::new("400"));
    let crate_bay = bay("crates", Inside::Holds { things: vec!["crate".into()], by: Holding::Standing });
    let right = bay(
        "right",
        Inside::Up { bays: vec![crate_bay, bay("upper", Inside::Open { shelves: 0 })], by: Divider::Panel },
    );
    let thing = Thing {
        kind: ThingKind::Crate,
        size: (Dim::new("400"), Dim::new("320"), Dim::new("300")),
        mass_kg: 1.5,
        load_kg: 15.0,
        air: Air { top: Some(Dim::new("20")), ..Air::default() },
        may_turn: true,
        access: Access::Open,
        pull_outs: Vec::new(),
        lead: None,
    };
    let material = Material {
        thickness: Dim::new("18"),
        kind: MaterialKind::Particleboard,
        grain: false,
        density_kg_m3: None,
        modulus_mpa: None,
        finish: String::new(),
    };
    let envelope = Envelope {
        width: Extent::Fixed(Dim::new("1000")),
        height: Extent::Fixed(Dim::new("900")),
        depth: Extent::AtMost(Dim::new("450")),
        from_left: None,
        from_wall: None,
    };
    let root = bay("whole", Inside::Across { bays: vec![left, right], by: Divider::Panel });
    let carcass = Carcass {
        ties: vec![Tie::InLine { edge: TieEdge::Upper, bays: vec!["left".into(), "upper".into()] }],
        ..Carcass::plain(envelope, construction(), root)
    };
    Design {
        title: "Test case".into(),
        parameters: IndexMap::from([("gap".to_owned(), "3".to_owned())]),
        things: IndexMap::from([("crate".to_owned(), thing)]),
        materials: IndexMap::from([("board".to_owned(), material)]),
        ..Design::plain(unit(), carcass)
    }
}

fn unit() -> casewright_core::unit::Unit {
    casewright_core::unit::Unit::default()
}
