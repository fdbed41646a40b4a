//! Curves against closed forms, kurbo's own measures and each other.

use kurbo::{ParamCurve, ParamCurveArclen, ParamCurveDeriv, PathSeg, Point, Rect, Shape};
use proptest::prelude::*;

use super::outline::shaped;
use super::*;
use crate::design::{CutOut, FrontPoint, FrontStep, TopShape};
use crate::length::Length;
use crate::sample::mm;
use crate::unit::Unit;

fn plain() -> TopShape<Length> {
    TopShape::default()
}

/// The largest turn, in radians, at the joints of segments that lie away from the given corners.
fn kinks(path: &kurbo::BezPath, corners: &[Point]) -> f64 {
    let tangent = |segment: &PathSeg, t: f64| match segment {
        PathSeg::Line(line) => line.p1 - line.p0,
        PathSeg::Quad(quad) => quad.deriv().eval(t).to_vec2(),
        PathSeg::Cubic(cubic) => cubic.deriv().eval(t).to_vec2(),
    };
    let segments: Vec<PathSeg> = path.segments().filter(|it| it.arclen(1e-6) > 1e-6).collect();
    let next = segments.iter().skip(1).chain(segments.first());
    segments
        .iter()
        .zip(next)
        .filter(|(a, _)| !corners.iter().any(|corner| corner.distance(a.eval(1.0)) < 1e-6))
        .map(|(a, b)| {
            let (one, two) = (tangent(a, 1.0), tangent(b, 0.0));
            one.cross(two).atan2(one.dot(two)).abs()
        })
        .fold(0.0, f64::max)
}

#[test]
fn a_reverse_curve_is_tangent_and_has_the_length_of_its_arcs() {
    // 200 along, 50 out: r = (40 000 + 2 500) / 200 = 212.5; each arc turns by 2 atan(1/4).
    assert_eq!(reverse_curve_radius(200.0, 50.0), 212.5);
    for out in [50.0, -50.0, 200.0] {
        let path = reverse_curve(Point::new(10.0, 20.0), 200.0, out);
        let turn = 2.0 * (f64::abs(out) / 200.0).atan();
        let length = 2.0 * reverse_curve_radius(200.0, out) * turn;
        assert!((path.perimeter(1e-9) - length).abs() < 1e-3, "{out}: {} {length}", path.perimeter(1e-9));
        let first = path.segments().next().map(|it| it.eval(0.0));
        let last = path.segments().last().map(|it| it.eval(1.0));
        assert!(first.is_some_and(|it| it.distance(Point::new(10.0, 20.0)) < 1e-9));
        assert!(last.is_some_and(|it| it.distance(Point::new(210.0, 20.0 + out)) < 1e-6), "{last:?}");
        // Closed with its own chord, only the two ends of the chord are corners; and both edges are level there.
        assert!(kinks(&path, &[Point::new(210.0, 20.0 + out)]) < 1e-6);
        for segment in path.segments() {
            for t in [0.0, 0.3, 0.7, 1.0] {
                let at = segment.eval(t);
                let off = [
                    Point::new(10.0, 20.0 + out.signum() * reverse_curve_radius(200.0, out)),
                    Point::new(210.0, 20.0 + out - out.signum() * reverse_curve_radius(200.0, out)),
                ]
                .map(|centre| (centre.distance(at) - reverse_curve_radius(200.0, out)).abs());
                assert!(off[0].min(off[1]) < 1e-3, "on one of the two arcs: {at:?} {off:?}");
            }
        }
    }
}

#[test]
fn area_and_length_of_rounded_tops_are_those_of_the_closed_forms() {
    let slab = Rect::new(0.0, 0.0, 1000.0, 600.0);
    let mut shape = plain();
    shape.corners = (Some(mm(100)), Some(mm(40)));
    shape.cut_outs =
        vec![CutOut { name: "basin".to_owned(), corner: (mm(300), mm(100)), size: (mm(400), mm(300)), radius: mm(20) }];
    let outline = shaped(slab, &shape, Unit::default()).unwrap_or_else(|error| panic!("{error}"));
    let lost = 1.0 - std::f64::consts::FRAC_PI_4;
    let area = 600_000.0 - lost * (100.0f64.powi(2) + 40.0f64.powi(2)) - (120_000.0 - 4.0 * lost * 400.0);
    assert!((outline.area() - area).abs() < 0.5, "{} {area}", outline.area());
    let front = 1000.0 - 140.0 + std::f64::consts::FRAC_PI_2 * 140.0;
    assert!((outline.length(Side::Front) - front).abs() < 1e-3);
    let corners = [Point::new(0.0, 0.0), Point::new(1000.0, 0.0)];
    assert!(kinks(&outline.edge, &corners) < 1e-6);
    assert_eq!(outline.least_inner_radius(), None, "rounded outwards only");
    assert_eq!(findings(&shape, &outline, &|mm| format!("{mm:.1} mm")), []);
    shape.cut_outs[0].radius = mm(2);
    shape.cut_outs[0].corner = (mm(300), mm(20));
    let outline = shaped(slab, &shape, Unit::default()).unwrap_or_else(|error| panic!("{error}"));
    let found: Vec<String> =
        findings(&shape, &outline, &|mm| format!("{mm:.1} mm")).into_iter().map(|it| it.what).collect();
    assert_eq!(
        found,
        [
            "the corners of the opening for basin are tighter than a bit leaves them",
            "little is left of the worktop beside the opening for basin"
        ]
    );
}

/// The area that a quarter round takes off is r²(1 - π/4), up to a corner as round as the slab is deep.
#[test]
fn a_corner_is_as_round_as_is_said() {
    let slab = Rect::new(0.0, 0.0, 1420.0, 515.0);
    for (left, right) in [(None, Some(300)), (Some(515), None), (Some(515), Some(515)), (Some(257), Some(258))] {
        let mut shape = plain();
        shape.corners = (left.map(mm), right.map(mm));
        let outline = shaped(slab, &shape, Unit::default()).unwrap_or_else(|error| panic!("{error}"));
        let squares: f64 = [left, right].into_iter().flatten().map(|it| (it as f64).powi(2)).sum();
        let area = 1420.0 * 515.0 - (1.0 - std::f64::consts::FRAC_PI_4) * squares;
        assert!((outline.area() - area).abs() < 0.5, "{left:?} {right:?}: {} {area}", outline.area());
    }
}

#[test]
fn a_tight_hollow_is_held_against_the_router_bit() {
    let mut shape = plain();
    // r = (20² + 16²) / 64 = 10.25, hollow on one of the arcs.
    shape.step = Some(FrontStep { from: mm(300), length: Some(mm(20)), radius: None, out: mm(16) });
    shape.router_bit = Some(mm(25));
    let slab = Rect::new(0.0, 0.0, 1000.0, 600.0);
    let outline = shaped(slab, &shape, Unit::default()).unwrap_or_else(|error| panic!("{error}"));
    let radius = outline.least_inner_radius().unwrap_or_default();
    assert!((radius - 10.25).abs() < 0.02, "{radius}");
    assert_eq!(findings(&shape, &outline, &|mm| format!("{mm:.1} mm")).len(), 1);
    // Area: the strip that is 16 deeper, over the straight part and half of the transition (it is symmetric).
    assert!((outline.area() - 600_000.0 - 16.0 * (680.0 + 10.0)).abs() < 0.05, "{}", outline.area());
}

#[test]
fn bad_stations_are_told() {
    let check = |stations: &[(f64, f64)], expected: WallCurveError| {
        assert_eq!(wall_curve(stations, 0.5), Err(expected));
    };
    check(&[(0.0, 1.0)], WallCurveError::TooFew);
    check(&[(0.0, 1.0), (0.0, 2.0)], WallCurveError::NotInOrder);
    check(&[(5.0, 1.0), (0.0, 2.0)], WallCurveError::NotInOrder);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn walls_are_followed_smoothly_within_what_is_asked(
        steps in prop::collection::vec((30.0..400.0f64, -12.0..12.0f64), 2..14),
        within in 0.05..3.0f64,
    ) {
        let mut at = 0.0;
        let stations: Vec<(f64, f64)> = steps.iter().map(|(step, off)| { at += step; (at, *off) }).collect();
        let curve = wall_curve(&stations, within).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert!(curve.deviation <= within + 1e-9);
        let (from, to) = (stations[0].0, at);
        let path = curve.path(from, to);
        for (x, off) in &stations {
            prop_assert!((curve.at(*x).0 - off).abs() <= within + 1e-6);
        }
        // The drawn pieces are the curve itself, and they meet without a kink.
        for segment in path.segments() {
            for t in [0.0, 0.21, 0.5, 0.83, 1.0] {
                let point = segment.eval(t);
                prop_assert!((curve.at(point.x).0 - point.y).abs() < 1e-6, "{point:?}");
            }
        }
        let open = path.segments().last().map(|it| it.eval(1.0)).unwrap_or_default();
        prop_assert!(kinks(&path, &[open]) < 1e-5);
        // Its bending is least: no line through the same band that is drawn through the stations bends less.
        let bending = |curve: &WallCurve| -> f64 {
            (0..2000).map(|i| {
                let x = from + (to - from) * (f64::from(i) + 0.5) / 2000.0;
                let h = 0.5;
                ((curve.at(x + h).1 - curve.at(x - h).1) / (2.0 * h)).powi(2)
            }).sum()
        };
        let exact = wall_curve(&stations, 0.0).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert!(exact.deviation < 1e-6);
        prop_assert!(bending(&curve) <= bending(&exact) * 1.02 + 1e-12);
        // Arc length against a fine polygon.
        let polygon: f64 = (0..4000).map(|i| {
            let x = |i: i32| from + (to - from) * f64::from(i) / 4000.0;
            (x(i + 1) - x(i)).hypot(curve.at(x(i + 1)).0 - curve.at(x(i)).0)
        }).sum();
        prop_assert!((path.perimeter(1e-6) - polygon).abs() < 1e-2, "{} {polygon}", path.perimeter(1e-6));
    }
}

fn front(points: &[(i64, i64, Option<i64>, Option<i64>)]) -> TopShape<Length> {
    let front = points.iter().map(|&(x, out, round, bow)| FrontPoint {
        at: (mm(x), mm(out)),
        round: round.map(mm),
        bow: bow.map(mm),
    });
    TopShape { front: front.collect(), ..TopShape::default() }
}

const SLAB: Rect = Rect::new(100.0, 0.0, 1100.0, 600.0);

#[test]
fn a_front_through_points_has_the_area_and_length_of_the_closed_forms() {
    let of = |shape: &TopShape<Length>| shaped(SLAB, shape, Unit::default()).unwrap_or_else(|error| panic!("{error}"));
    // A bow of 80 over the whole front: segment of a circle with r = c² / 8h + h / 2, half angle asin(c / 2r).
    let (chord, rise) = (1000.0_f64, 80.0_f64);
    let radius = chord * chord / (8.0 * rise) + rise / 2.0;
    let angle = 2.0 * (chord / 2.0 / radius).asin();
    let segment = radius * radius / 2.0 * (angle - angle.sin());
    for (sign, area) in [(1, 600_000.0 + segment), (-1, 600_000.0 - segment)] {
        let outline = of(&front(&[(0, 0, None, Some(80 * sign)), (1000, 0, None, None)]));
        assert!((outline.area() - area).abs() < 0.5, "{} {area}", outline.area());
        assert!((outline.length(Side::Front) - radius * angle).abs() < 1e-3, "{}", outline.length(Side::Front));
        let hollow = outline.least_inner_radius();
        assert!(if sign > 0 { hollow.is_none() } else { (hollow.unwrap_or_default() - radius).abs() < 0.1 });
    }
    // A peninsula: a trapezium with two rounded outer corners and two hollow ones. Each rounding takes, or gives,
    // r² (tan(t / 2) - t / 2) for a turn by t (tangent lengths less the sector), and its length for two tangents.
    let shape = front(&[
        (300, 0, Some(60), None),
        (400, 200, Some(90), None),
        (800, 200, Some(90), None),
        (900, 0, Some(60), None),
    ]);
    let outline = of(&shape);
    let turn = (200.0_f64).atan2(100.0);
    let corner = |radius: f64| radius * radius * ((turn / 2.0).tan() - turn / 2.0);
    let area = 600_000.0 + 200.0 * 500.0 - 2.0 * corner(90.0) + 2.0 * corner(60.0);
    assert!((outline.area() - area).abs() < 0.5, "{} {area}", outline.area());
    let saved = |radius: f64| radius * (2.0 * (turn / 2.0).tan() - turn);
    let length = 300.0 + 100.0 + 400.0 + 2.0 * 100.0_f64.hypot(200.0) - 2.0 * saved(90.0) - 2.0 * saved(60.0);
    assert!((outline.length(Side::Front) - length).abs() < 1e-3, "{} {length}", outline.length(Side::Front));
    let square = [(100.0, 0.0), (1100.0, 0.0), (1100.0, 600.0), (100.0, 600.0)].map(Point::from);
    assert!(kinks(&outline.edge, &square) < 1e-6, "tangent everywhere else");
    assert!((outline.least_inner_radius().unwrap_or_default() - 60.0).abs() < 0.05);
    // A step by its radius is that by the length that belongs to it.
    let step = |length, radius| TopShape {
        step: Some(FrontStep { from: mm(300), length, radius, out: mm(50) }),
        ..TopShape::default()
    };
    let (one, other) = (of(&step(Some(mm(150)), None)), of(&step(None, Some(mm(125)))));
    assert_eq!(reverse_curve_radius(150.0, 50.0), 125.0);
    assert!((one.area() - other.area()).abs() < 1e-6);
}

#[test]
fn shapes_that_cannot_be_cut_are_told() {
    let check = |shape: &TopShape<Length>, expected: OutlineError| {
        assert_eq!(shaped(SLAB, shape, Unit::default()).and_then(|it| pieces(&it, Some(shape))).unwrap_err(), expected);
    };
    check(&front(&[(500, 0, None, None), (400, 50, None, None)]), OutlineError::FrontNotInOrder(2));
    check(&front(&[(500, 0, None, None), (1400, 50, None, None)]), OutlineError::FrontOutside(2));
    check(&front(&[(500, -600, None, None)]), OutlineError::FrontOutside(1));
    check(&front(&[(500, 0, None, None), (520, 300, Some(400), None)]), OutlineError::NoRoomToRound(3));
    check(&front(&[(300, 0, Some(50), Some(40)), (700, 100, None, None)]), OutlineError::NoRoomToRound(2));
    let with = |step: FrontStep<Length>| TopShape { step: Some(step), ..TopShape::default() };
    let step = |length, radius| FrontStep { from: mm(300), length, radius, out: mm(50) };
    check(&with(step(None, None)), OutlineError::StepUnclear);
    check(&with(step(Some(mm(10)), Some(mm(10)))), OutlineError::StepUnclear);
    check(&with(step(None, Some(mm(20)))), OutlineError::StepOfRadius(Unit::default().written(mm(20))));
    check(&with(step(Some(mm(900)), None)), OutlineError::StepTooLong(Unit::default().written(mm(900))));
    let round = |left, right| TopShape { corners: (left, right), ..TopShape::default() };
    let too_round = |side, radius, largest| {
        let written = |it| Unit::default().written(mm(it));
        OutlineError::CornerTooRound { side, radius: written(radius), largest: written(largest) }
    };
    check(&round(None, Some(mm(900))), too_round("right", 900, 600));
    check(&round(Some(mm(601)), None), too_round("left", 601, 600));
    let opening = |size: (i64, i64), radius| TopShape {
        cut_outs: vec![CutOut {
            name: "basin".to_owned(),
            corner: (mm(200), mm(100)),
            size: (mm(size.0), mm(size.1)),
            radius,
        }],
        ..TopShape::default()
    };
    let no_room = |radius: Length, largest: Length| OutlineError::CutOutTooRound {
        name: "basin".to_owned(),
        radius: Unit::default().written(radius),
        largest: Unit::default().written(largest),
    };
    check(&opening((400, 151), mm(76)), no_room(mm(76), Length::from_um(75_500)));
    check(&opening((300, 301), mm(200)), no_room(mm(200), mm(150)));
    assert_eq!(
        no_room(mm(76), Length::from_um(75_500)).to_string(),
        "the opening for basin in the worktop has no room for corners of R76: their radius may be 75.5 mm at most"
    );
    // Half the smaller side makes round ends, all of both a circle.
    let round_ends =
        shaped(SLAB, &opening((400, 150), mm(75)), Unit::default()).unwrap_or_else(|error| panic!("{error}"));
    let open = std::f64::consts::PI * 75.0 * 75.0 + 250.0 * 150.0;
    assert!((SLAB.area() - round_ends.area() - open).abs() < 0.5, "{}", SLAB.area() - round_ends.area());
    let both = TopShape { step: Some(step(Some(mm(150)), None)), ..round(Some(mm(400)), None) };
    check(&both, too_round("left", 400, 300));
    assert_eq!(
        too_round("right", 900, 515).to_string(),
        "the front corner of the worktop at the right has no room for R900: its radius may be 515 mm at most"
    );
    let mut both = front(&[(500, 20, None, None)]);
    both.step = Some(step(Some(mm(10)), None));
    check(&both, OutlineError::StepAndFront);
    for (joints, at) in [(vec![500, 500], 2), (vec![1000], 1), (vec![400, 1200], 2)] {
        let joints = joints.into_iter().map(mm).collect();
        check(&TopShape { joints, ..TopShape::default() }, OutlineError::JointNotInOrder(at));
    }
}

proptest! {
    /// Pieces add up to the whole, and each lies in its blank.
    #[test]
    fn pieces_add_up(
        xs in proptest::collection::btree_set(1i64..999, 0..4),
        points in proptest::collection::btree_map(1i64..999, -200i64..200, 0..5),
        wall in proptest::collection::btree_map(0i64..12, -30i64..30, 2..6),
        hole in (50i64..500, 50i64..200, 50i64..300, 50i64..150),
    ) {
        let mut shape = front(&points.into_iter().map(|(x, out)| (x, out, None, None)).collect::<Vec<_>>());
        shape.joints = xs.into_iter().map(mm).collect();
        shape.wall = wall.into_iter().map(|(x, off)| (mm(x * 100), mm(off))).collect();
        shape.cut_outs = vec![CutOut {
            name: "basin".to_owned(), corner: (mm(hole.0), mm(hole.1)), size: (mm(hole.2), mm(hole.3)), radius: mm(10),
        }];
        let found = shaped(SLAB, &shape, Unit::default());
        // Stations near each other on one side say where the wall would be at the other.
        prop_assume!(found != Err(OutlineError::NoDepth));
        let outline = found.unwrap_or_else(|error| panic!("{error}"));
        let all = pieces(&outline, Some(&shape)).unwrap_or_else(|error| panic!("{error}"));
        prop_assert_eq!(all.len(), shape.joints.len() + 1);
        let area: f64 = all.iter().map(|it| it.area).sum();
        // Straight lines of 0.02 mm off the curves, along some 3 m of them.
        prop_assert!((area - outline.area()).abs() < 60.0, "{} {}", area, outline.area());
        for side in [Side::Front, Side::Rear, Side::Left, Side::Right] {
            let length = |it: &TopPiece| it.lengths.iter().filter(|it| it.0 == side).map(|it| it.1).sum::<f64>();
            let sum: f64 = all.iter().map(length).sum();
            prop_assert!((sum - outline.length(side)).abs() < 0.5, "{side:?} {sum} {}", outline.length(side));
        }
        for piece in &all {
            let blank = piece.blank.inflate(1e-6, 1e-6);
            prop_assert!(piece.edge.iter().all(|it| blank.contains(*it)));
            prop_assert!(piece.area <= piece.blank.area() + 1e-6);
        }
    }
}
