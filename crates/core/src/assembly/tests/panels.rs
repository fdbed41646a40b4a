//! Banding, sizes, mass, datum corners, stand and worktop.

use super::*;
use crate::design::{BandRule, Banding, Edge, Overhang, Role, Stand, Worktop};
use crate::geometry::{Axis, Point};
use crate::sample::{cabinet, design_of, open};

#[test]
fn the_cut_size_is_the_finished_size_less_its_banding() {
    let mut design = cabinet();
    let band = Banding { thickness: mm(2), width: None, sold_in: None, finish: String::new() };
    design.banding.insert("thick".to_owned(), band.clone());
    design.banding.insert("thin".to_owned(), Banding { thickness: Length::from_um(400), ..band });
    let rule = |roles: &[Role], edges: &[Edge], band: &str| BandRule {
        roles: roles.to_vec(),
        edges: edges.to_vec(),
        band: band.to_owned(),
    };
    design.carcass.construction.banding = vec![
        rule(&[Role::Front], &[Edge::Left, Edge::Right, Edge::Upper, Edge::Lower], "thick"),
        rule(&[Role::Side, Role::Shelf], &[Edge::Front, Edge::Left], "thin"),
        rule(&[Role::Front], &[Edge::Lower], "thin"),
    ];
    let (_, assembly) = built(&design);
    let door = part(&assembly, "FR-crates");
    // The later rule goes before the earlier one at the lower edge.
    assert_eq!(door.finished.length - door.cut.length, Length::from_um(2_400));
    assert_eq!(door.finished.width - door.cut.width, mm(4));
    // The left of a side is a face: no band there.
    let side = part(&assembly, "SL");
    assert_eq!(side.bands.len(), 1);
    assert_eq!((side.finished.length, side.finished.width - side.cut.width), (side.cut.length, Length::from_um(400)));
    // Without grain the longer side is the length, and the named edges follow the piece, not the frame.
    let shelf = part(&assembly, "SH-books");
    assert_eq!(shelf.world_from_part.length.axis, Axis::Z);
    let edges: Vec<PartEdge> = shelf.bands.iter().map(|band| band.edge).collect();
    assert_eq!(edges, [PartEdge::Start, PartEdge::Near]);
    design.carcass.construction.banding.push(rule(&[Role::Back], &[Edge::Left], "gold"));
    design.carcass.construction.back = crate::design::Back::Applied;
    insta::assert_snapshot!(problems(&design), @r#"there is no edge banding "gold": add it to `banding` or name one that is there"#);
}

#[test]
fn mass_is_volume_times_density() {
    let mut design = design_of(open("a", 0));
    let (_, assembly) = built(&design);
    // 0.8 x 0.56 x 0.018 m³ of particleboard at 660 kg/m³ (data sheets of EN 312 P2 boards) = 5.322 kg.
    assert!((part(&assembly, "SL").mass_kg - 5.32224).abs() < 1e-9);
    design.materials.get_mut("carcass board").unwrap().density_kg_m3 = Some(500.0);
    let (_, assembly) = built(&design);
    assert!((part(&assembly, "SL").mass_kg - 4.032).abs() < 1e-9);
}

#[test]
fn the_datum_is_the_lower_left_front_corner() {
    let (_, assembly) = built(&cabinet());
    for part in &assembly.parts {
        let (frame, cuboid) = (part.world_from_part, part.cuboid);
        let corner = Point::new(cuboid.min.x, cuboid.min.y, cuboid.max.z);
        for direction in [frame.length, frame.width] {
            assert_eq!(frame.origin.along(direction.axis), corner.along(direction.axis), "{}", part.number);
        }
    }
    // Mirrored sides share it.
    let (left, right) = (part(&assembly, "SL").world_from_part, part(&assembly, "SR").world_from_part);
    assert_eq!((left.length, left.width, left.thickness), (right.length, right.width, right.thickness));
}

#[test]
fn a_plinth_a_worktop_and_feet() {
    let mut design = design_of(open("a", 0));
    design.carcass.stand = Stand::Plinth { height: mm(100), set_back: mm(40), load_kg: None };
    design.carcass.worktop = Some(Worktop {
        board: "front board".to_owned(),
        overhang: Overhang { front: Some(mm(20)), left: None, right: Some(mm(10)), rear: Some(mm(30)) },
        shape: None,
    });
    let (_, assembly) = built(&design);
    let plinth = part(&assembly, "PL").cuboid;
    assert_eq!((plinth.range(Axis::Y), plinth.max.z), ((mm(0), mm(100)), mm(520)));
    let slab = part(&assembly, "WT").cuboid;
    assert_eq!(slab.range(Axis::X), (mm(0), mm(910)));
    assert_eq!(slab.range(Axis::Y), (mm(781), mm(800)));
    assert_eq!(slab.range(Axis::Z), (mm(-30), mm(580)));
    // 780 mm between the end feet are more than 600: three in a row, two rows, none in the way of the strip.
    assert_eq!(assembly.fittings.len(), 6);
    assert!(assembly.fittings.iter().all(|it| !it.cuboid.overlaps(&plinth) && it.cuboid.size(Axis::Y) == mm(100)));
    design.carcass.stand = Stand::Castors { height: mm(80), load_kg: None };
    design.carcass.envelope.width = crate::design::Extent::Fixed(mm(600));
    let (_, assembly) = built(&design);
    assert_eq!(assembly.fittings.len(), 4);
    assert!(assembly.fittings.iter().all(|it| it.name == "castor"));
}
