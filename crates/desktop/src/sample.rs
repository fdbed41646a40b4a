//! A small design for tests: two bays side by side, the right one in two storeys, one thing.

use casewright_core::design::{
    Access, Air, Assumed, Back, Bay, Carcass, Construction, Design, Divider, Envelope, Extent, FrontStyle, Holding,
    Inside, JointKind, Material, MaterialKind, SCHEMA, SheetNotes, Site, Stand, Thing, ThingKind, Tie, Top, Want,
};
use casewright_core::expr::Dim;
use indexmap::IndexMap;

fn bay(name: &str, inside: Inside) -> Bay {
    Bay { name: name.into(), width: Want::Free, height: Want::Free, share: None, inside, front: None }
}

fn construction() -> Construction {
    Construction {
        board: "board".into(),
        boards: Default::default(),
        from_stock: Default::default(),
        sides_run_through: true,
        top: Top::Panel,
        back: Back::None,
        joint: JointKind::Dowelled("8x40".into()),
        shelf_set_back: None,
        fronts: FrontStyle::Overlay,
        reveal: None,
        banding: Vec::new(),
    }
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
    Design {
        schema: SCHEMA,
        title: "Test case".into(),
        sheet: SheetNotes::default(),
        unit: unit(),
        parameters: IndexMap::from([("gap".to_owned(), "3".to_owned())]),
        site: Site::default(),
        things: IndexMap::from([("crate".to_owned(), thing)]),
        materials: IndexMap::from([("board".to_owned(), material)]),
        banding: IndexMap::new(),
        boards: Vec::new(),
        saw: casewright_core::design::Saw::default(),
        supplies: Default::default(),
        fittings: IndexMap::new(),
        assumed: Assumed::default(),
        as_built: casewright_core::design::AsBuilt::default(),
        arrange: casewright_core::design::Arrange::default(),
        progress: casewright_core::design::Progress::default(),
        carcass: Carcass {
            envelope: Envelope {
                width: Extent::Fixed(Dim::new("1000")),
                height: Extent::Fixed(Dim::new("900")),
                depth: Extent::AtMost(Dim::new("450")),
                from_left: None,
                from_wall: None,
            },
            construction: construction(),
            own_shell: true,
            stand: Stand::Floor,
            worktop: None,
            bay: bay("whole", Inside::Across { bays: vec![left, right], by: Divider::Panel }),
            openings: Vec::new(),
            joints: Vec::new(),
            ties: vec![Tie::InLine {
                edge: casewright_core::design::TieEdge::Upper,
                bays: vec!["left".into(), "upper".into()],
            }],
        },
    }
}

fn unit() -> casewright_core::unit::Unit {
    casewright_core::unit::Unit::default()
}
