//! Floors that are planes, feet that are level, fixing points out of every zone.

use proptest::prelude::*;

use super::*;
use crate::assembly::tests::built;
use crate::design::{FloorPoint, NeighbourWorktop, Obstacle, ObstacleKind, Stand};
use crate::length::Length;
use crate::sample::{self, across, mm, open};

fn point(x: i64, z: i64, height: Length) -> FloorPoint<Length> {
    FloorPoint { x: mm(x), z: mm(z), height }
}

#[test]
fn feet_take_up_the_floor_and_the_top_meets_the_neighbour() {
    let mut design = sample::design();
    design.carcass.stand = Stand::Plinth { height: mm(100), set_back: mm(40), load_kg: None };
    design.site.neighbour_worktop =
        Some(NeighbourWorktop { height: mm(803), thickness: mm(30), depth: mm(600), on_left: true });
    // Falls 10 mm over 1000 to the right.
    design.site.floor =
        vec![point(0, 0, mm(0)), point(1000, 0, mm(-10)), point(0, 600, mm(0)), point(1000, 600, mm(-10))];
    let (_, assembly) = built(&design);
    let levelled = level(&design, &assembly).unwrap_or_else(|| panic!("it has feet"));
    // The carcass is 800 high, the neighbour 803.
    assert_eq!((levelled.raised, levelled.top), (mm(3), mm(803)));
    assert_eq!(levelled.plinth, Some((mm(103), mm(112))));
    for foot in &levelled.feet {
        let by_hand = 100.0 + 3.0 + foot.at.0.mm() / 100.0;
        assert!((foot.height.mm() - by_hand).abs() <= 0.05 + 1e-9, "{foot:?}");
        // Level: floor and foot together are the same everywhere, to the tenth that one can set.
        assert!((foot.floor + foot.height - mm(103)).abs() <= Length::from_um(50));
    }
    assert!(levelled.feet.len() >= 4);
}

#[test]
fn slides_that_are_called_after_feet_are_no_feet() {
    let mut design = sample::design_of(sample::holds("crates", &[], sample::drawer("footed 450")));
    let slide = design.fittings.get("side 450").cloned().unwrap_or_else(|| panic!("the sample has slides"));
    design.fittings.insert("footed 450".to_owned(), slide);
    design.carcass.stand = Stand::Feet { height: mm(100), load_kg: None };
    let (_, assembly) = built(&design);
    let levelled = level(&design, &assembly).unwrap_or_else(|| panic!("it has feet"));
    let count = |name: &str| assembly.fittings.iter().filter(|it| it.name == name).count();
    assert_eq!((count("footed 450"), levelled.feet.len()), (2, count("foot")));
}

#[test]
fn fixing_points_keep_out_of_the_zones() {
    let mut design = sample::design_of(across("whole", vec![open("a", 0), open("b", 0)]));
    let obstacle = |name: &str, kind, corner: (i64, i64), size: (i64, i64)| Obstacle {
        name: name.to_owned(),
        kind,
        corner: (mm(corner.0), mm(corner.1), mm(0)),
        size: (mm(size.0), mm(size.1), mm(10)),
        keep_clear: None,
        shape: crate::design::ObstacleShape::Box,
        swing: None,
    };
    design.site.obstacles = vec![
        obstacle("socket", ObstacleKind::Socket, (400, 700), (80, 80)),
        obstacle("pipe", ObstacleKind::Pipe, (20, 0), (30, 2400)),
    ];
    let (_, assembly) = built(&design);
    let (points, without) = fixing_points(&design, &assembly);
    assert!(points.len() >= 2, "{points:?} {without:?}");
    for point in &points {
        let (x, y) = (point.x.mm(), point.y.mm());
        assert!((x - 440.0).abs() >= 40.0 + 150.0, "upright band of the socket: {point:?}");
        assert!((y - 740.0).abs() >= 40.0 + 150.0, "level band of the socket: {point:?}");
        assert!((x - 35.0).abs() >= 15.0 + 60.0, "band of the pipe: {point:?}");
    }
    // A heating pipe along the floor forbids its height and what may rise at its ends, not the whole wall.
    design.site.obstacles = vec![obstacle("heating pipe", ObstacleKind::Pipe, (-500, 60), (2400, 30))];
    let (points, without) = fixing_points(&design, &assembly);
    assert!(without.is_empty() && points.len() == 3, "{points:?} {without:?}");
    assert!(points.iter().all(|point| !(0.0..=150.0).contains(&point.y.mm())), "{points:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn planes_stay_planes_and_points_are_met(
        (a, b, c) in (-20.0..20.0f64, -0.02..0.02f64, -0.02..0.02f64),
        places in prop::collection::vec((0i64..3000, 0i64..900), 4..12),
        bumps in prop::collection::vec(-50i64..50, 12),
        (x, z) in (0i64..3000, 0i64..900),
    ) {
        let flat: Vec<_> = places
            .iter()
            .map(|&(x, z)| point(x, z, Length::from_mm_f64(a + b * x as f64 + c * z as f64)))
            .collect();
        // Only where the points span a plane.
        let (x0, _) = places[0];
        let spans = places.iter().any(|&(x, _)| (x - x0).abs() > 200)
            && places.windows(3).any(|it| {
                ((it[1].0 - it[0].0) * (it[2].1 - it[0].1) - (it[2].0 - it[0].0) * (it[1].1 - it[0].1)).abs() > 40_000
            });
        if spans {
            let found = floor_height(&flat, mm(x), mm(z)).mm();
            prop_assert!((found - (a + b * x as f64 + c * z as f64)).abs() < 1e-3, "{found}");
        }
        let rough: Vec<_> = flat
            .iter()
            .zip(&bumps)
            .map(|(it, bump)| FloorPoint { height: it.height + Length::from_um(bump * 100), ..it.clone() })
            .collect();
        for it in &rough {
            let same = rough.iter().find(|other| other.x == it.x && other.z == it.z).map(|other| other.height);
            prop_assert_eq!(Some(floor_height(&rough, it.x, it.z)), same);
        }
    }
}
