//! Pieces that cannot be put together, and an exhaustive search over all ways to part small ones.

use proptest::prelude::*;

use super::simulate::flaws;
use crate::assembly::tests::built;
use crate::assembly::{Assembly, JoinedBy, Joint};
use crate::build_plan::blocking::{Blocking, DIRECTIONS, Ties};
use crate::build_plan::order::Search;
use crate::build_plan::plan;
use crate::geometry::{Cuboid, Direction};
use crate::length::Length;
use crate::sample::{self, mm};

const DOWELS: JoinedBy =
    JoinedBy::Dowels { diameter: Length::from_mm(8), length: Length::from_mm(40), with_screws: false };

/// An assembly of bare boxes with these joints: (face part, edge part, direction).
fn of_boxes(boxes: &[Cuboid], joints: &[(usize, usize, Direction)]) -> Assembly {
    let (_, mut assembly) = built(&sample::design());
    let model = assembly.parts.first().cloned().unwrap_or_else(|| panic!("a part"));
    assembly.parts = (boxes.iter().enumerate())
        .map(|(at, cuboid)| {
            let mut part = model.clone();
            part.number = format!("P{at}");
            part.cuboid = *cuboid;
            part.machining = Vec::new();
            part
        })
        .collect();
    assembly.joints = (joints.iter())
        .map(|&(face_part, edge_part, direction)| Joint {
            face_part,
            edge_part,
            contact: boxes[face_part],
            direction,
            kind: DOWELS,
        })
        .collect();
    assembly.movers = Vec::new();
    assembly.fittings = Vec::new();
    assembly
}

fn cube(at: [i64; 3], size: [i64; 3]) -> Cuboid {
    let range = |i: usize| (mm(at[i]), mm(at[i] + size[i]));
    Cuboid::from_ranges(range(0), range(1), range(2))
}

/// Whether the boxes come apart by parting them in two again and again, all ways tried.
fn comes_apart(assembly: &Assembly, group: &[usize]) -> bool {
    if group.len() < 2 {
        return true;
    }
    let count = group.len();
    (1..(1usize << count) - 1).any(|mask| {
        let side = |want: usize| -> Vec<usize> {
            (0..count).filter(|at| (mask >> at) & 1 == want).map(|at| group[at]).collect()
        };
        let (leaves, stays) = (side(1), side(0));
        let can = DIRECTIONS.into_iter().any(|direction| {
            let tied = assembly.joints.iter().any(|joint| {
                let crosses = leaves.contains(&joint.face_part) != leaves.contains(&joint.edge_part);
                let here = group.contains(&joint.face_part) && group.contains(&joint.edge_part);
                here && crosses && joint.direction.axis != direction.axis
            });
            let hits = leaves.iter().any(|&a| {
                stays.iter().any(|&b| {
                    let (moving, standing) = (assembly.parts[a].cuboid, assembly.parts[b].cuboid);
                    // Boxes that lie on a grid of 10 mm: steps of 5 mm miss nothing.
                    (0..80).any(|step| moving.moved(direction, mm(5 * step)).overlaps(&standing))
                })
            });
            !tied && !hits
        });
        can && comes_apart(assembly, &leaves) && comes_apart(assembly, &stays)
    })
}

#[test]
fn three_boards_dowelled_along_three_axes_cannot_be_closed() {
    let boxes = [cube([0, 0, 0], [10, 100, 100]), cube([10, 0, 0], [90, 10, 100]), cube([10, 10, 0], [90, 90, 10])];
    let joints = [(0, 1, Direction::RIGHT), (1, 2, Direction::UP), (0, 2, Direction::FRONT)];
    let assembly = of_boxes(&boxes, &joints);
    assert!(!comes_apart(&assembly, &[0, 1, 2]));
    let (layout, _) = built(&sample::design());
    let plan = plan(&sample::design(), &layout, &assembly, &[]);
    let [stuck] = plan.stuck.as_slice() else { panic!("{plan:?}") };
    assert_eq!(stuck.joints, [0, 1, 2]);
    assert_eq!(
        stuck.what,
        "P0, P1, P2 come together in no order: P0–P1 closes along X, P1–P2 closes along Y, P0–P2 closes along Z"
    );
    let findings = super::super::findings(&assembly, &plan);
    assert_eq!(findings.len(), 1);
    assert_eq!((findings[0].check, &findings[0].what), ("order.stuck", &stuck.what));
    assert_eq!(findings[0].about, ["P0", "P1", "P2"]);
    assert_eq!(stuck.mend, "screw or bolt one of these joints instead: P0–P1; P1–P2; P0–P2");
    // Any one of them made otherwise does mend it.
    for joint in 0..3 {
        let mut mended = assembly.clone();
        mended.joints[joint].kind = JoinedBy::Screws;
        assert_eq!(super::super::plan(&sample::design(), &layout, &mended, &[]).stuck, Vec::new());
    }
}

#[test]
fn a_core_closed_in_on_all_sides_is_found() {
    // Six boards round a block, each overlapping the next in a ring: only the block's cover can leave.
    let block = cube([10, 10, 10], [20, 20, 20]);
    let shell = [cube([0, 0, 0], [10, 40, 40]), cube([30, 0, 0], [10, 40, 40])];
    let assembly = of_boxes(&[block, shell[0], shell[1]], &[(1, 2, Direction::UP), (1, 2, Direction::RIGHT)]);
    // The two shells are tied along two axes: they never part, and the block leaves freely.
    let (layout, _) = built(&sample::design());
    let plan = plan(&sample::design(), &layout, &assembly, &[]);
    assert_eq!(plan.stuck.len(), 1, "{plan:?}");
    assert_eq!(plan.stuck[0].parts, [1, 2]);
    assert!(flaws(&assembly, &plan).is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_order_is_found_exactly_when_there_is_one(
        boxes in prop::collection::vec(((0i64..5, 0i64..5, 0i64..5), (1i64..4, 1i64..4, 1i64..4)), 2..7),
        joints in prop::collection::vec((0usize..6, 0usize..6, 0usize..6), 0..8),
    ) {
        let mut kept: Vec<Cuboid> = Vec::new();
        for ((x, y, z), (w, h, d)) in boxes {
            let cuboid = cube([x * 10, y * 10, z * 10], [w * 10, h * 10, d * 10]);
            if !kept.iter().any(|other| other.overlaps(&cuboid)) {
                kept.push(cuboid);
            }
        }
        let joints: Vec<_> = joints
            .into_iter()
            .map(|(a, b, direction)| (a % kept.len(), b % kept.len(), DIRECTIONS[direction]))
            .filter(|(a, b, _)| a != b)
            .collect();
        let assembly = of_boxes(&kept, &joints);
        let nodes: Vec<Vec<usize>> = (0..kept.len()).map(|at| vec![at]).collect();
        let all: Vec<usize> = (0..kept.len()).collect();
        let blocking = Blocking::new(&assembly);
        let (_, tree) = Search::new(&blocking, &nodes, Ties::DowelsOnly).best(&all);
        prop_assert_eq!(tree.stuck().is_empty(), comes_apart(&assembly, &all));
    }
}
