//! A finite-element reference for beams (nalgebra): Timoshenko elements whose shape functions are exact between nodes,
//! loads by Gauss integration. Independent of the closed forms of the library.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

use casewright_core::mechanics::beam::{Beam, Load, Section};
use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;

const GAUSS: [(f64, f64); 4] = [
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
    (-0.339_981_043_584_856_3, 0.652_145_154_862_546_1),
    (0.339_981_043_584_856_3, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
];

/// Nodal deflections and turns, alternating.
fn elements(beam: &Beam, loads: &[Load], nodes: &[f64]) -> DVector<f64> {
    let n = nodes.len();
    let (ei, ga) = (beam.section.bending, beam.section.shear);
    let mut stiffness = DMatrix::<f64>::zeros(2 * n, 2 * n);
    let mut force = DVector::<f64>::zeros(2 * n);
    for e in 0..n - 1 {
        let l = nodes[e + 1] - nodes[e];
        let phi = 12.0 * ei / (ga * l * l);
        let k = ei / (l.powi(3) * (1.0 + phi));
        let (own, cross) = ((4.0 + phi) * l * l, (2.0 - phi) * l * l);
        let local = [
            [12.0, 6.0 * l, -12.0, 6.0 * l],
            [6.0 * l, own, -6.0 * l, cross],
            [-12.0, -6.0 * l, 12.0, -6.0 * l],
            [6.0 * l, cross, -6.0 * l, own],
        ];
        for i in 0..4 {
            for j in 0..4 {
                stiffness[(2 * e + i, 2 * e + j)] += k * local[i][j];
            }
        }
        let shape = |s: f64| {
            let d = 1.0 / (1.0 + phi);
            [
                d * (1.0 - 3.0 * s * s + 2.0 * s.powi(3) + phi * (1.0 - s)),
                d * l * (s - 2.0 * s * s + s.powi(3) + phi / 2.0 * (s - s * s)),
                d * (3.0 * s * s - 2.0 * s.powi(3) + phi * s),
                d * l * (-s * s + s.powi(3) - phi / 2.0 * (s - s * s)),
            ]
        };
        for load in loads {
            let Load::Spread { from, to, first, last } = *load else { continue };
            let (a, b) = (from.max(nodes[e]), to.min(nodes[e + 1]));
            if a >= b {
                continue;
            }
            for (g, weight) in GAUSS {
                let x = (a + b) / 2.0 + g * (b - a) / 2.0;
                let q = first + (last - first) * (x - from) / (to - from);
                for (i, share) in shape((x - nodes[e]) / l).into_iter().enumerate() {
                    force[2 * e + i] += q * weight * (b - a) / 2.0 * share;
                }
            }
        }
    }
    let node_at = |x: f64| nodes.iter().position(|&y| x == y).unwrap();
    for load in loads {
        if let Load::Point { at, force: p } = *load {
            force[2 * node_at(at)] += p;
        }
    }
    for (i, &support) in beam.supports.iter().enumerate() {
        let node = node_at(support);
        let clamped = (i == 0 && beam.clamped_left) || (i + 1 == beam.supports.len() && beam.clamped_right);
        for dof in [Some(2 * node), clamped.then_some(2 * node + 1)].into_iter().flatten() {
            stiffness.row_mut(dof).fill(0.0);
            stiffness.column_mut(dof).fill(0.0);
            stiffness[(dof, dof)] = ei / beam.length.powi(3);
            force[dof] = 0.0;
        }
    }
    stiffness.lu().solve(&force).unwrap()
}

/// Asserts that the library and the reference agree at every node, and that the extremes are extremes.
fn check(beam: &Beam, loads: &[Load]) {
    // All places are multiples of a 120th of the length, so that nodes on that grid hit each.
    let nodes: Vec<f64> = (0..=120).filter(|k| k % 5 == 0 || k % 6 == 0).map(|k| grid(beam.length, k)).collect();
    let reference = elements(beam, loads, &nodes);
    let bent = beam.bend(loads).unwrap();
    let scale = (0..nodes.len()).map(|i| reference[2 * i].abs()).fold(0.0, f64::max);
    // A load on a support bends nothing: what is left then is rounding.
    let size: f64 = loads.iter().map(|it| it.total().abs()).sum();
    let scale = scale.max(1e-9 * size * beam.length.powi(3) / beam.section.bending);
    for (i, &x) in nodes.iter().enumerate() {
        let (a, b) = (bent.deflection(x), reference[2 * i]);
        assert!((a - b).abs() <= 1e-6 * scale, "at {x}: {a} and {b} ({beam:?}, {loads:?})");
        let (a, b) = (bent.slope(x), reference[2 * i + 1]);
        assert!((a - b).abs() <= 1e-5 * scale / beam.length, "turn at {x}: {a} and {b} ({beam:?}, {loads:?})");
    }
    let (held, applied): (f64, f64) = (bent.reactions.iter().sum(), loads.iter().map(Load::total).sum());
    assert!((held - applied).abs() <= 1e-9 * size.max(1.0), "{held} {applied}");
    let most =
        |f: &dyn Fn(f64) -> f64| (0..=500).map(|i| f(beam.length * f64::from(i) / 500.0).abs()).fold(0.0, f64::max);
    let deepest = bent.stretches().into_iter().map(|it| it.2.value.abs()).fold(0.0, f64::max);
    assert!(deepest >= most(&|x| bent.deflection(x)) - 1e-6 * scale);
    assert!(bent.max_moment().value.abs() >= most(&|x| bent.moment(x)) - 1e-9 * size * beam.length);
}

fn grid(length: f64, k: u32) -> f64 {
    if k == 120 { length } else { length * f64::from(k) / 120.0 }
}

fn any_load(length: f64) -> impl Strategy<Value = Load> {
    let place = move |k: u32| grid(length, k * 6);
    prop_oneof![
        (0..=20_u32, -500.0..2000.0).prop_map(move |(k, force)| Load::point(place(k), force)),
        (0..20_u32, 1..=20_u32, -1.0..4.0, -1.0..4.0).prop_map(move |(a, d, first, last)| Load::Spread {
            from: place(a),
            to: place((a + d).min(20)),
            first,
            last
        }),
        Just(Load::uniform(0.0, length, 1.5)),
    ]
}

fn any_beam() -> impl Strategy<Value = Beam> {
    let section = (1e6..1e10, prop_oneof![Just(f64::INFINITY), 1e3..1e7]).prop_map(|(bending, shear)| Section {
        bending,
        shear,
        moment_capacity: f64::INFINITY,
    });
    let places = prop::collection::btree_set(0..=24_u32, 2..7);
    (section, 300.0..4000.0, 0..7_u32, places).prop_map(|(section, length, kind, places)| match kind {
        0 => Beam::simple(length, section),
        1 => Beam::fixed(length, section),
        2 => Beam { supports: vec![0.0], clamped_right: false, ..Beam::fixed(length, section) },
        3 => Beam { clamped_right: false, ..Beam::fixed(length, section) },
        4 => Beam { supports: vec![length], clamped_left: false, ..Beam::fixed(length, section) },
        _ => Beam::continuous(length, places.into_iter().map(|k| grid(length, k * 5)).collect(), section),
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, max_shrink_iters: 60, ..ProptestConfig::default() })]

    #[test]
    fn closed_forms_agree_with_elements(
        (beam, loads) in any_beam().prop_flat_map(|beam| {
            let loads = prop::collection::vec(any_load(beam.length), 1..5);
            (Just(beam), loads)
        })
    ) {
        check(&beam, &loads);
    }
}
