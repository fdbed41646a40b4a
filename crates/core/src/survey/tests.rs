//! The largest envelope against a linear programme of another library, and pushing and raising against sampling.

use microlp::{ComparisonOp, OptimizationDirection, Problem};
use proptest::prelude::*;

use super::largest::{MOST_SLOPE, faces, sides};
use super::*;
use crate::design::{Extent, FloorPoint, Niche, Obstacle, ObstacleKind, ObstacleShape, Resolved, SiteWall, WallPoint};
use crate::geometry::Cuboid;
use crate::length::Length;
use crate::sample::{self, mm};

fn tenths(tenths: i64) -> Length {
    Length::from_um(tenths * 100)
}

fn surveyed(points: &[(SiteWall, i64, i64, i64)]) -> Resolved {
    let mut design = sample::design();
    design.site.walls =
        points.iter().map(|&(wall, x, y, z)| WallPoint { wall, at: (tenths(x), tenths(y), tenths(z)) }).collect();
    design
}

/// The same problem as a linear programme: unknown left face, right face and slope.
fn reference(design: &Resolved) -> f64 {
    let (left, right) = sides(design).unwrap_or_default();
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let far = (-1e5, 1e5);
    let (a, b) = (problem.add_var(-1.0, far), problem.add_var(1.0, far));
    let s = problem.add_var(0.0, (-MOST_SLOPE, MOST_SLOPE));
    for (z, x) in left {
        problem.add_constraint([(a, 1.0), (s, z)], ComparisonOp::Ge, x);
    }
    for (z, x) in right {
        problem.add_constraint([(b, 1.0), (s, z)], ComparisonOp::Le, x);
    }
    let outcome = problem.solve().unwrap_or_else(|error| panic!("{error}"));
    outcome.solution().map(|it| it.objective()).unwrap_or_else(|| panic!("interrupted"))
}

#[test]
fn a_niche_out_of_square_is_filled_by_standing_askew() {
    // Both walls run 10 mm to the right over 600 mm of depth: straight, 10 mm are lost; askew, next to nothing.
    let wall = |x: i64| [(SiteWall::Left, x, 0, 0), (SiteWall::Right, x + 10_000, 0, 0)];
    let far = |x: i64| [(SiteWall::Left, x + 100, 0, 6_000), (SiteWall::Right, x + 10_100, 0, 6_000)];
    let design = surveyed(&[wall(0), far(0)].concat());
    let straight = largest(&design, false).unwrap_or_else(|| panic!("both sides are closed"));
    assert_eq!((straight.width, straight.slope, straight.left), (mm(990), 0.0, mm(10)));
    let askew = largest(&design, true).unwrap_or_else(|| panic!("both sides are closed"));
    // 1000 x cos(atan(10 / 600)) = 999.86, down to a tenth.
    assert_eq!(askew.width, tenths(9_998));
    assert!((askew.slope - 10.0 / 600.0).abs() < 1e-12);
}

#[test]
fn height_floor_and_rear_wall() {
    let mut design = surveyed(&[
        (SiteWall::Left, 0, 0, 0),
        (SiteWall::Right, 9_000, 0, 0),
        (SiteWall::Above, 4_000, 24_000, 3_000),
        (SiteWall::Above, 8_000, 23_955, 3_000),
        (SiteWall::Rear, 4_000, 5_000, 35),
        (SiteWall::Rear, 4_000, 9_000, -20),
    ]);
    design.site.floor =
        vec![FloorPoint { x: mm(0), z: mm(0), height: mm(4) }, FloorPoint { x: mm(900), z: mm(0), height: mm(-6) }];
    let found = largest(&design, true).unwrap_or_else(|| panic!("both sides are closed"));
    assert_eq!(found.height, Some(tenths(23_955) - mm(4)));
    assert_eq!(found.from_wall, tenths(35));
}

#[test]
fn what_runs_along_the_walls_takes_room() {
    let mut design = surveyed(&[(SiteWall::Left, 0, 0, 0), (SiteWall::Right, 9_000, 0, 0)]);
    design.carcass.envelope.height = Extent::Fixed(mm(800));
    let along = |kind, corner: [i64; 3], size: [i64; 3]| Obstacle {
        name: "along".to_owned(),
        kind,
        corner: (mm(corner[0]), mm(corner[1]), mm(corner[2])),
        size: (mm(size[0]), mm(size[1]), mm(size[2])),
        keep_clear: None,
        shape: ObstacleShape::Box,
        swing: None,
    };
    let width = |design: &Resolved| largest(design, false).map(|it| (it.width, it.from_wall));
    assert_eq!(width(&design), Some((mm(900), mm(0))));
    design.site.obstacles = vec![
        along(ObstacleKind::Skirting, [0, 0, 0], [900, 70, 15]),
        along(ObstacleKind::Skirting, [0, 0, 15], [12, 70, 600]),
        along(ObstacleKind::Pipe, [870, 0, 0], [30, 2400, 30]),
        // Above the piece, and no part of the walls.
        along(ObstacleKind::Sill, [0, 850, 0], [900, 30, 200]),
        along(ObstacleKind::Radiator, [300, 100, 0], [400, 500, 100]),
    ];
    assert_eq!(width(&design), Some((mm(900 - 12 - 30), mm(15))));
}

#[test]
fn gaps_scribes_and_strips() {
    let design = surveyed(&[
        (SiteWall::Left, 0, 1_000, 0),
        (SiteWall::Left, -60, 8_000, 0),
        (SiteWall::Right, 9_100, 1_000, 0),
        (SiteWall::Right, 8_990, 1_000, 30_000),
    ]);
    let envelope = Cuboid::from_ranges((mm(2), mm(908)), (mm(0), mm(900)), (mm(0), mm(560)));
    let gaps = gaps(&design, &envelope);
    assert_eq!(
        gaps.iter().map(|it| it.gap).collect::<Vec<_>>(),
        [mm(2), mm(8), mm(2)],
        "what lies before it is no gap"
    );
    let [left, right] = scribes(&gaps)[..] else { panic!("two walls") };
    assert_eq!((left.least, left.most, left.allowance, left.strip), (mm(2), mm(8), mm(6), Some(mm(23))));
    assert_eq!((right.allowance, right.strip), (mm(0), None));
}

/// What ends a niche above: its name, how far it reaches out from the wall, and the height to raise a piece in.
#[test]
fn a_sill_is_no_ceiling() {
    let piece = Cuboid::from_ranges((mm(0), mm(900)), (mm(0), mm(960)), (mm(20), mm(580)));
    let check =
        |height: i64, above: Option<&str>, depth: Option<i64>, obstacle: bool, expected: (&str, Option<i64>), room| {
            let mut design = sample::design();
            design.site.niche = Some(Niche {
                width: mm(900),
                height: Some(mm(height)),
                above: above.map(str::to_owned),
                depth: depth.map(mm),
                left_wall: true,
                right_wall: true,
            });
            if obstacle {
                design.site.obstacles = vec![Obstacle {
                    name: "window sill".to_owned(),
                    kind: ObstacleKind::Sill,
                    corner: (mm(0), mm(1240), mm(0)),
                    size: (mm(900), mm(40), mm(180)),
                    keep_clear: None,
                    shape: ObstacleShape::Box,
                    swing: None,
                }];
            }
            let found = overhead(&design, &piece).unwrap_or_else(|| panic!("the niche has a height"));
            assert_eq!(
                (found.name.as_str(), found.reach),
                (expected.0, expected.1.map(mm)),
                "{height} {above:?} {obstacle}"
            );
            let under = obstacle && height == 1244;
            assert_eq!((found.height, found.underside), (mm(height), mm(if under { 1240 } else { height })));
            // A sill across the niche is a body of its own, and leaves nothing of the plane.
            assert_eq!(found.planes.is_empty(), under);
            assert_eq!(room_height(&design, &piece), room, "{height} {above:?} {obstacle}");
            // What is brought in goes under the same.
            let named = blocks(&design, &piece).into_iter().map(|it| it.name).collect::<Vec<_>>();
            assert!(named.contains(&expected.0.to_owned()), "{named:?}");
            design.assumed.ceiling = Some(mm(2500));
            assert_eq!(room_height(&design, &piece), Some(mm(2500)));
        };
    check(2440, None, None, false, ("the ceiling", None), Some(mm(2440)));
    check(2440, None, Some(700), true, ("the ceiling", Some(700)), Some(mm(2440)));
    // As deep as the piece, where nothing says more.
    check(1240, None, None, false, ("the upper end of the niche", Some(580)), None);
    check(2300, Some("beam"), None, false, ("beam", Some(580)), None);
    check(2300, Some("beam"), Some(300), false, ("beam", Some(300)), None);
    check(1244, None, None, true, ("window sill", Some(180)), None);
}

/// A piece of the plane over a niche, mm: ranges of x and z, without end where nothing is given.
type Plane = (Option<(f64, f64)>, f64, Option<f64>);

/// What hangs near the end of a niche ends it only if it runs across and reaches over the piece; beside it the niche ends where
/// it did, and a room ends at its ceiling.
#[test]
fn what_ends_a_niche_runs_across_it() {
    let piece = Cuboid::from_ranges((mm(20), mm(880)), (mm(0), mm(960)), (mm(20), mm(580)));
    let found = |height: i64, depth: Option<i64>, kind, corner: [i64; 3], size: [i64; 3]| {
        let mut design = sample::design();
        design.site.niche = Some(Niche {
            width: mm(900),
            height: Some(mm(height)),
            above: None,
            depth: depth.map(mm),
            left_wall: true,
            right_wall: true,
        });
        design.site.obstacles = vec![Obstacle {
            name: "body".to_owned(),
            kind,
            corner: (mm(corner[0]), mm(corner[1]), mm(corner[2])),
            size: (mm(size[0]), mm(size[1]), mm(size[2])),
            keep_clear: None,
            shape: ObstacleShape::Box,
            swing: None,
        }];
        let it = overhead(&design, &piece).unwrap_or_else(|| panic!("the niche has a height"));
        (it, room_height(&design, &piece), blocks(&design, &piece))
    };
    let planes = |it: &Overhead| -> Vec<Plane> {
        let range = |(from, to): (Length, Length)| (from.mm(), to.mm());
        it.planes.iter().map(|it| (it.x.map(range), it.z.0.mm(), it.z.1.map(Length::mm))).collect()
    };
    let (pipe, sill) = (ObstacleKind::Pipe, ObstacleKind::Sill);
    // Under a ceiling: a pipe, a beam across the whole room. The ceiling has no end before it, and the piece is raised.
    for (corner, size) in [([100, 2385, 0], [700, 15, 15]), ([0, 2390, 100], [900, 10, 300])] {
        let (it, room, blocks) = found(2400, None, pipe, corner, size);
        assert_eq!((it.name.as_str(), it.reach, room), ("the ceiling", None, Some(mm(2400))));
        assert_eq!(planes(&it), [(None, 0.0, None)]);
        assert!(blocks.iter().any(|it| it.name == "the ceiling" && it.z.1 >= 10_000.0), "{blocks:?}");
    }
    // In a low niche: a pipe across it at the wall, a shelf beside, a beam before the piece.
    for (kind, corner, size) in [
        (pipe, [0, 1235, 0], [900, 15, 40]),
        (sill, [0, 1240, 0], [500, 30, 300]),
        (sill, [0, 1240, 560], [900, 30, 300]),
    ] {
        let (it, room, _) = found(1240, None, kind, corner, size);
        assert_eq!(
            (it.name.as_str(), it.reach, room),
            ("the upper end of the niche", Some(mm(580)), None),
            "{corner:?}"
        );
        assert_eq!((planes(&it), it.underside), (vec![(None, 0.0, Some(580.0))], mm(1240)));
    }
    // A sill across the piece, not the niche: beside it, and before it in a niche that is deeper, the niche ends as it did.
    let (it, _, _) = found(1240, None, sill, [20, 1235, 0], [860, 30, 200]);
    assert_eq!((it.name.as_str(), it.reach, it.underside), ("body", Some(mm(200)), mm(1235)));
    assert_eq!(planes(&it), [(Some((0.0, 20.0)), 0.0, Some(200.0)), (Some((880.0, 900.0)), 0.0, Some(200.0))]);
    let (it, _, _) = found(1240, Some(600), sill, [-50, 1240, 50], [1000, 30, 200]);
    assert_eq!((it.name.as_str(), it.reach), ("body", Some(mm(600))));
    assert_eq!(planes(&it), [(Some((0.0, 900.0)), 0.0, Some(50.0)), (Some((0.0, 900.0)), 250.0, Some(600.0))],);
    assert!(it.planes.iter().all(|it| it.name == "the upper end of the niche"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_widest_box_is_that_of_a_linear_programme(
        left in prop::collection::vec((-300i64..300, 0i64..24_000, 0i64..8_000), 1..12),
        right in prop::collection::vec((-300i64..300, 0i64..24_000, 0i64..8_000), 1..12),
    ) {
        let left = left.iter().map(|&(x, y, z)| (SiteWall::Left, x, y, z));
        let right = right.iter().map(|&(x, y, z)| (SiteWall::Right, x + 12_000, y, z));
        let design = surveyed(&left.chain(right).collect::<Vec<_>>());
        let found = largest(&design, true).unwrap_or_else(|| panic!("both sides are closed"));
        let (a, b) = sides(&design).unwrap_or_default();
        let (from, to) = faces(&a, &b, found.slope);
        prop_assert!((to - from - reference(&design)).abs() < 1e-6, "{found:?}");
        // Pushed in along its own depth from far before the wall, each of its corners stays clear of both walls.
        for step in 0..=200 {
            let front = 4_000.0 - f64::from(step) * 20.0;
            for (wall, face, side) in [(&a, from, 1.0), (&b, to, -1.0)] {
                for (z, x) in wall.iter().filter(|(z, _)| *z >= front) {
                    prop_assert!((face + found.slope * z - x) * side >= -1e-9);
                }
            }
        }
        // A little more would not go in: some point of each wall touches.
        for (wall, face) in [(&a, from), (&b, to)] {
            let nearest = wall.iter().map(|(z, x)| (face + found.slope * z - x).abs()).fold(f64::MAX, f64::min);
            prop_assert!(nearest < 1e-9);
        }
    }

    #[test]
    fn raising_needs_what_sampling_finds(height in 300i64..2600, depth in 200i64..900, ceiling in 1500i64..3000) {
        let found = raising(mm(height), mm(depth), mm(ceiling));
        let mut most: f64 = 0.0;
        for step in 0..=9_000 {
            let turn = (f64::from(step) / 100.0).to_radians();
            // The four corners, turned about the lower rear one, over the lowest of them.
            let corners = [(0.0, 0.0), (depth as f64, 0.0), (0.0, height as f64), (depth as f64, height as f64)];
            let heights = corners.map(|(z, y)| y * turn.cos() + z * turn.sin());
            let (low, high) = heights.iter().fold((f64::MAX, f64::MIN), |(a, b), y| (a.min(*y), b.max(*y)));
            most = most.max(high - low);
        }
        prop_assert!(found.needs.mm() >= most - 1e-6 && found.needs.mm() < most + 1.01, "{found:?} {most}");
        prop_assert_eq!(found.goes, found.needs <= found.has);
    }
}
