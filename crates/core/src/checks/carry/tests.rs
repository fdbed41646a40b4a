//! Panels on feet that push only and uprights that may pull: by the balance of forces, and by which feet touch.

use proptest::prelude::*;

use super::*;

fn beam(supports: Vec<(f64, SupportKind)>, loads: Vec<Load>) -> Lying {
    Lying {
        part: 0,
        with: Vec::new(),
        hung: Vec::new(),
        supports: supports.into_iter().map(|(at, kind)| SupportPoint { at, kind, reaction: 0.0 }).collect(),
        loads,
        assumed: 0.0,
        things: Vec::new(),
        section: Section::stiff(1e9),
        bent: None,
        on_floor: false,
    }
}

const SIDE: SupportKind = SupportKind::Beside(7);
const FOOT: SupportKind = SupportKind::Foot(1);

/// A load between two feet lifts both ends of a panel. The foot at the right end comes off; the side at the left, which
/// would have to pull more, is held by its joint.
#[test]
fn a_side_pulls_where_a_foot_comes_off() {
    let ends = |left, right| {
        let mut it =
            beam(vec![(0.0, left), (300.0, FOOT), (600.0, FOOT), (1200.0, right)], vec![Load::point(450.0, 1000.0)]);
        bend(1200.0, &mut it);
        assert_eq!(it.bent.as_ref().map(|it| it.reactions.len()), Some(it.supports.len()), "the bent beam is this one");
        it.supports.iter().map(|it| (it.at, it.kind, it.reaction)).collect::<Vec<_>>()
    };
    let all = ends(SIDE, SIDE);
    assert!(all[0].2 < all[3].2 && all[3].2 < 0.0, "the left end pulls more than the right: {all:?}");
    // Two spans of L, one loaded by P in its middle: the far support pulls with 3/32 P (published beam tables).
    let [(_, SIDE, pull), (300.0, FOOT, left), (600.0, FOOT, right)] = ends(SIDE, FOOT)[..] else {
        panic!("{:?}", ends(SIDE, FOOT))
    };
    assert!((pull + 1000.0 * 3.0 / 32.0).abs() < 1e-6, "{pull}");
    assert!((left - 1000.0 * 22.0 / 32.0).abs() < 1e-6 && (right - 1000.0 * 13.0 / 32.0).abs() < 1e-6);
    assert_eq!(ends(FOOT, FOOT), [(300.0, FOOT, 500.0), (600.0, FOOT, 500.0)]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1024, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn feet_push_or_are_off(
        gaps in prop::collection::vec((40u32..600, any::<bool>()), 2..7),
        loads in prop::collection::vec((0.0..1.0f64, 1.0..900.0f64), 1..5),
        over in 0u32..400,
    ) {
        let mut at = 0.0;
        let supports: Vec<(f64, SupportKind)> = gaps
            .iter()
            .enumerate()
            .map(|(index, &(gap, side))| {
                at += f64::from(gap);
                (at, if side { SupportKind::Beside(index) } else { FOOT })
            })
            .collect();
        let length = at + f64::from(over);
        let loads: Vec<Load> = loads.into_iter().map(|(share, force)| Load::point(share * length, force)).collect();
        let mut it = beam(supports.clone(), loads.clone());
        bend(length, &mut it);
        let sum = |list: &mut dyn Iterator<Item = (f64, f64)>| list.fold((0.0, 0.0), |a, (at, n)| (a.0 + n, a.1 + n * at));
        let held = sum(&mut it.supports.iter().map(|it| (it.at, it.reaction)));
        let laid = sum(&mut loads.iter().filter_map(|it| match *it {
            Load::Point { at, force } => Some((at, force)),
            Load::Spread { .. } => None,
        }));
        prop_assert!((held.0 - laid.0).abs() < 1e-6 * laid.0 && (held.1 - laid.1).abs() < 1e-6 * laid.0 * length);
        // No side is ever lost, and two supports stay.
        let sides = |list: &mut dyn Iterator<Item = SupportKind>| list.filter(|it| *it != FOOT).count();
        prop_assert_eq!(sides(&mut it.supports.iter().map(|it| it.kind)), sides(&mut supports.iter().map(|it| it.1)));
        prop_assert!(it.supports.len() >= 2);
        // A foot that still pulls cannot help it: the load stands outside all supports.
        let middle = laid.1 / laid.0;
        let within = supports.first().zip(supports.last()).is_some_and(|(a, b)| a.0 <= middle && middle <= b.0);
        let pushes = it.supports.iter().all(|it| it.kind != FOOT || it.reaction >= -1e-9 * laid.0);
        prop_assert!(pushes || !within, "{:?}", it.supports);
        let bent = it.bent.as_ref().expect("it is held");
        prop_assert_eq!(bent.reactions.clone(), it.supports.iter().map(|it| it.reaction).collect::<Vec<_>>());
        for (at, _) in supports.iter().filter(|(at, _)| pushes && it.supports.iter().all(|it| it.at != *at)) {
            prop_assert!(bent.deflection(*at) <= TOUCH_MM, "the panel is off the foot at {at}: {}", bent.deflection(*at));
        }
    }
}
