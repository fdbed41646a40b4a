//! Tilting against closed forms and numeric integration.

use super::{
    Balance, FRICTION_NMM, Holder, Leaning, Lid, LidTurn, Push, Resists, Stay, Weight, first_meeting, phases, tilted,
};
use crate::mechanics::GRAVITY;

#[track_caller]
fn check(have: f64, want: f64, slack: f64) {
    assert!((have - want).abs() <= slack, "{have}, not {want}");
}

#[test]
fn a_string_with_both_ends_in_one_place_is_a_chord() {
    // Chord of a circle: 2 r sin(a / 2); r = 500 from (-300, 400).
    let stay = Stay { carcass: [-300.0, 400.0], front: [-300.0, 400.0] };
    for deg in [1.0, 10.0, 35.0, 60.0, 90.0_f64] {
        let angle = deg.to_radians();
        check(stay.span(angle), 1000.0 * (angle / 2.0).sin(), 1e-9);
        check(stay.taut_at(1000.0 * (angle / 2.0).sin()).unwrap(), angle, 1e-9);
        // The arm of a chord is r cos(a / 2).
        check(stay.arm(angle), 500.0 * (angle / 2.0).cos(), 1e-9);
    }
    check(stay.span(60_f64.to_radians()), 500.0, 1e-9);
    assert_eq!(stay.taut_at(1001.0), None);
}

#[test]
fn a_stay_between_two_radii_obeys_the_law_of_cosines() {
    // Anchors at 300 straight up on the carcass and 400 straight up on the front: after 90 degrees a 3-4-5 triangle.
    let stay = Stay { carcass: [0.0, 300.0], front: [0.0, 400.0] };
    check(stay.span(90_f64.to_radians()), 500.0, 1e-9);
    check(stay.taut_at(500.0).unwrap().to_degrees(), 90.0, 1e-9);
    check(stay.arm(90_f64.to_radians()), 300.0 * 400.0 / 500.0, 1e-9);
    // 60 degrees: sqrt(9 + 16 - 12) hundreds.
    check(stay.span(60_f64.to_radians()), 13_f64.sqrt() * 100.0, 1e-9);
    assert_eq!(stay.taut_at(99.0), None, "shorter than when shut");
    // Anchors in different directions: whatever it spans at an angle is taut there.
    for front in [[-100.0, 350.0], [-20.0, 500.0], [-120.0, 400.0]] {
        let stay = Stay { carcass: [-80.0, 420.0], front };
        let start = stay.taut_at(stay.span(0.5)).unwrap();
        check(stay.span(start), stay.span(0.5), 1e-9);
    }
}

#[test]
fn a_lid_turns_as_its_triangle_says() {
    // The lid lies level on a compartment 400 high, hinged at its front (0, 400), tied at its rear (-300, 400); the string
    // runs over a pulley straight above the lid's hinge, as far from it as the lid is long: an isosceles triangle, whose
    // third side shrinks from 2 r sin(45) to 2 r sin(45 - b / 2).
    let lid = Lid { hinge: [0.0, 400.0], tied: [-300.0, 400.0], carcass: [-100.0, 700.0], pulley: Some([0.0, 700.0]) };
    let start = 10_f64.to_radians();
    let length = lid.length_for(start);
    assert!(
        matches!(lid.at(0.0, length), LidTurn::Slack(slack) if (slack - (length - lid.length_for(0.0))).abs() < 1e-9)
    );
    for deg in [12.0, 15.0, 18.0_f64] {
        let angle = deg.to_radians();
        let LidTurn::Turned(turned) = lid.at(angle, length) else { panic!("{:?}", lid.at(angle, length)) };
        // By hand: what the piece to the carcass takes up, the piece to the lid gives.
        let carcass = tilted(lid.carcass, -angle);
        let left = length - (carcass[0].hypot(carcass[1] - 700.0));
        check(600.0 * (45_f64.to_radians() - turned / 2.0).sin(), left, 1e-9);
    }
    // A string straight to the carcass: at each angle the tied point is just as far as the string is long.
    let direct = Lid { hinge: [-300.0, 400.0], tied: [0.0, 400.0], carcass: [-20.0, 650.0], pulley: None };
    let length = direct.length_for(start);
    let LidTurn::Turned(turned) = direct.at(0.5, length) else { panic!("{:?}", direct.at(0.5, length)) };
    let tied = [-300.0 + 300.0 * turned.cos(), 400.0 + 300.0 * turned.sin()];
    let end = tilted(direct.carcass, -0.5);
    check((tied[0] - end[0]).hypot(tied[1] - end[1]), length, 1e-6);
    // A string that is shorter than the lid can give stops the front.
    assert_eq!(direct.at(0.0, 10.0), LidTurn::Stops);
}

#[test]
fn moments_are_those_worked_by_hand_in_the_docs() {
    // docs/moving.md: front 4 kg at (-9, 250), bin 6 kg at (-159, 230), empty; 9 kg more at (-159, 200) full.
    let empty = [Weight { mass_kg: 4.0, at: [-9.0, 250.0] }, Weight { mass_kg: 6.0, at: [-159.0, 230.0] }];
    let balance = Balance::of(&empty, false).unwrap();
    check(balance.centre[0], -99.0, 1e-9);
    check(balance.centre[1], 238.0, 1e-9);
    check(balance.moment_nmm(0.0), -9_708.6, 0.1);
    check(balance.moment_nmm(35_f64.to_radians()), 5_434.37, 0.01);
    check(balance.balances_at().unwrap().to_degrees(), 22.586, 1e-3);
    let full: Vec<Weight> = empty.into_iter().chain([Weight { mass_kg: 9.0, at: [-159.0, 200.0] }]).collect();
    let full = Balance::of(&full, false).unwrap();
    check(full.moment_nmm(0.0), -23_741.9, 0.1);
    check(full.moment_nmm(35_f64.to_radians()), 4_063.70, 0.01);
    check(full.balances_at().unwrap().to_degrees(), 30.079, 1e-3);
    assert_eq!(full.leaning(0.1, 500.0), Leaning::Shuts);
    assert_eq!(full.leaning(30_f64.to_radians(), 500.0), Leaning::Rests);
    assert_eq!(full.leaning(35_f64.to_radians(), 500.0), Leaning::Opens);
    // Hung from its upper edge it always falls shut until it has passed the vertical.
    let hung = Balance::of(&[Weight { mass_kg: 5.0, at: [-50.0, 200.0] }], true).unwrap();
    assert!(hung.moment_nmm(0.0) > 0.0 && hung.moment_nmm(0.5) < 0.0);
}

#[test]
fn the_work_of_the_moment_is_the_loss_of_height() {
    // Numeric integration (Simpson, 200 pieces) of the moment over the angle against m g times the fall.
    for (centre, hangs) in [([-99.0, 238.0], false), ([-150.0, 90.0], false), ([-60.0, 300.0], true)] {
        let balance = Balance { mass_kg: 12.5, centre, hangs };
        let end = 70_f64.to_radians();
        let step = end / 200.0;
        let simpson: f64 = (0..=200)
            .map(|i| {
                let weight = if i == 0 || i == 200 {
                    1.0
                } else if i % 2 == 1 {
                    4.0
                } else {
                    2.0
                };
                weight * balance.moment_nmm(f64::from(i) * step)
            })
            .sum::<f64>()
            * step
            / 3.0;
        let fall = balance.height_mm(0.0) - balance.height_mm(end);
        check(simpson, 12.5 * GRAVITY * fall, 1e-3);
    }
}

#[test]
fn the_pull_of_the_string_is_the_slope_of_energy_against_its_length() {
    // Virtual work: pull times d(span)/d(angle) is the moment; the slope by central differences.
    let stay = Stay { carcass: [-60.0, 420.0], front: [-90.0, 380.0] };
    let angle = 0.6;
    let slope = (stay.span(angle + 1e-5) - stay.span(angle - 1e-5)) / 2e-5;
    check(stay.pull(angle, 20_000.0).unwrap() * slope, 20_000.0, 1e-2);
}

fn holder(count: u32, resists: Resists) -> Holder {
    Holder { name: "it".to_owned(), count, resists, length: None }
}

#[test]
fn a_stay_holds_as_far_as_the_moment_worked_by_hand() {
    // docs/moving.md: full 19 kg at (-127.421, 220), at 35 degrees 4.0637 N m.
    let full = Balance { mass_kg: 19.0, centre: [-127.421_052_631_578_95, 220.0], hangs: false };
    let stay = Stay { carcass: [-60.0, 300.0], front: [-60.0, 300.0] };
    let open = 35_f64.to_radians();
    assert_eq!(holder(1, Resists::Moment(3_600.0)).leaning(&full, &stay, open), Leaning::Rests, "3.6 + 0.5 > 4.064");
    assert_eq!(holder(1, Resists::Moment(3_500.0)).leaning(&full, &stay, open), Leaning::Opens, "3.5 + 0.5 < 4.064");
    assert_eq!(holder(1, Resists::Moment(3_600.0)).falls_from(&full, &stay, open), None);
    // m g R sin(a - a0) = M: R = 254.24 mm, a0 = 30.079 degrees, M = 2.5 N m, so a = a0 + asin(2.5 / 47.370).
    let from = holder(1, Resists::Moment(2_000.0)).falls_from(&full, &stay, open).unwrap();
    let radius = 127.421_052_631_578_95_f64.hypot(220.0);
    let want = full.balances_at().unwrap() + (2_500.0 / (19.0 * GRAVITY * radius)).asin();
    check(from, want, 1e-9);
    check(from.to_degrees(), 33.104, 2e-3);
}

#[test]
fn what_a_damper_leaves_is_the_integral_of_the_moments() {
    // Simpson over the net moment, which knows nothing of heights and ways, against the closed form.
    let full = Balance { mass_kg: 19.0, centre: [-100.0, 240.0], hangs: false };
    let stay = Stay { carcass: [-60.0, 100.0], front: [-40.0, 110.0] };
    let open = 50_f64.to_radians();
    for it in [holder(2, Resists::Force(40.0, 100.0)), holder(1, Resists::Moment(4_000.0))] {
        let from = it.falls_from(&full, &stay, open).unwrap();
        check(full.moment_nmm(from), FRICTION_NMM + it.moment_nmm(&stay, from), 1e-3);
        let step = (open - from) / 400.0;
        let net = |i: u32| {
            let at = from + f64::from(i) * step;
            full.moment_nmm(at) - FRICTION_NMM - it.moment_nmm(&stay, at)
        };
        let weight = |i: u32| {
            if i == 0 || i == 400 {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            }
        };
        let simpson: f64 = (0..=400).map(|i| weight(i) * net(i)).sum::<f64>() * step / 3.0;
        check(it.arrives_j(&full, &stay, open), simpson / 1000.0, 1e-6);
        assert!(simpson > 100.0, "{simpson}");
    }
    // Both ends in one place: the stroke is the chord 2 r sin(a / 2), r = 500.
    let chord = Stay { carcass: [-300.0, 400.0], front: [-300.0, 400.0] };
    check(Holder::stroke_needed(&chord, 60_f64.to_radians()), 500.0, 1e-9);
}

/// The flap of docs/moving.md: 4 kg, hung, 400 high and 18 thick, with two struts.
fn strutted() -> (Balance, Stay, Holder) {
    let flap = Balance { mass_kg: 4.0, centre: [-9.0, 200.0], hangs: true };
    let stay = Stay { carcass: [-38.0, 240.0], front: [-20.0, 72.0] };
    (flap, stay, holder(2, Resists::Push(Push { lengths: (165.0, 245.0), forces: (120.0, 100.0) })))
}

#[test]
fn a_strut_pushes_with_the_moments_worked_by_hand() {
    let (flap, stay, struts) = strutted();
    let right = 90_f64.to_radians();
    // docs/moving.md: shut, the line of the strut runs behind the hinge and holds it shut.
    check(stay.span(0.0), 168.962, 1e-3);
    check(stay.opening_arm(0.0), -12.216, 1e-3);
    check(struts.push_nmm(&stay, 0.0), -2_907.6, 0.5);
    check(flap.moment_nmm(0.0), 353.04, 0.01);
    assert_eq!(struts.leaning(&flap, &stay, 0.0), Leaning::Shuts);
    // Level: out (72, 20), hypot(110, 220) long, arm (240 * 72 + 38 * 20) / 245.967.
    check(stay.span(right), 245.967, 1e-3);
    check(stay.opening_arm(right), 73.343, 1e-3);
    check(struts.push_nmm(&stay, right), 14_633.0, 1.0);
    check(flap.moment_nmm(right), -7_845.32, 0.01);
    check(struts.net_nmm(&flap, &stay, right), 6_787.7, 1.0);
    assert_eq!(struts.leaning(&flap, &stay, right), Leaning::Opens);
    assert_eq!(struts.moment_nmm(&stay, right), 0.0, "it holds nothing against a motion");
    // One of half the force does not hold it.
    let weak = holder(1, Resists::Push(Push { lengths: (165.0, 245.0), forces: (60.0, 50.0) }));
    assert_eq!(weak.leaning(&flap, &stay, right), Leaning::Shuts);
    assert_eq!(weak.falls_from(&flap, &stay, right), None);
}

#[test]
fn the_arm_is_how_fast_the_ends_come_apart() {
    let (_, stay, _) = strutted();
    for deg in [0.0, 10.0, 45.0, 90.0_f64] {
        let angle = deg.to_radians();
        // Central differences.
        check(stay.opening_arm(angle), (stay.span(angle + 1e-6) - stay.span(angle - 1e-6)) / 2e-6, 1e-4);
    }
}

#[test]
fn the_way_of_a_strutted_flap_shuts_then_rests_then_opens() {
    let (flap, stay, struts) = strutted();
    let open = 85_f64.to_radians();
    let all = phases(open, |angle| struts.leaning(&flap, &stay, angle));
    let kinds: Vec<Leaning> = all.iter().map(|it| it.leaning).collect();
    assert_eq!(kinds, [Leaning::Shuts, Leaning::Rests, Leaning::Opens]);
    // Where one ends and the next begins, the moment is just what friction holds.
    check(struts.net_nmm(&flap, &stay, all[0].to), -FRICTION_NMM, 1e-3);
    check(struts.net_nmm(&flap, &stay, all[1].to), FRICTION_NMM, 1e-3);
    assert_eq!((all[0].from, all[2].to), (0.0, open));
    check(struts.falls_from(&flap, &stay, open).unwrap(), all[2].from, 1e-12);
    // The energy with which it arrives, by Simpson over the net moment, which knows nothing of lengths and heights.
    let step = (open - all[2].from) / 400.0;
    let net = |i: u32| struts.net_nmm(&flap, &stay, all[2].from + f64::from(i) * step) - FRICTION_NMM;
    let inner: f64 = (1..400).map(|i| if i % 2 == 1 { 4.0 * net(i) } else { 2.0 * net(i) }).sum();
    let simpson = (net(0) + inner + net(400)) * step / 3.0;
    check(struts.arrives_j(&flap, &stay, open), simpson / 1000.0, 1e-6);
    assert!(simpson > 1_000.0, "{simpson}");
}

#[test]
fn what_a_stay_runs_into_is_what_sampling_finds() {
    // The stay by 400 points, the angle in steps of 0.05 degrees: it sees no less than what the closed form does.
    let mut seed = 20_261_126_u64;
    let mut random = |low: f64, high: f64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((seed >> 11) as f64 / (1_u64 << 53) as f64)
    };
    let (mut met, mut clear) = (0, 0);
    for _ in 0..300 {
        let stay = Stay {
            carcass: [random(-300.0, -10.0), random(-20.0, 300.0)],
            front: [random(-60.0, 0.0), random(20.0, 300.0)],
        };
        let open = random(0.3, 1.7);
        let least = [random(-350.0, 100.0), random(-100.0, 300.0)];
        let most = [least[0] + random(5.0, 150.0), least[1] + random(5.0, 150.0)];
        let points = |angle: f64| {
            let end = tilted(stay.front, angle);
            (0..=400).map(move |i| {
                let t = f64::from(i) / 400.0;
                [stay.carcass[0] + (end[0] - stay.carcass[0]) * t, stay.carcass[1] + (end[1] - stay.carcass[1]) * t]
            })
        };
        let away = |angle: f64| {
            let off = |p: [f64; 2]| {
                let axis = |i: usize| (least[i] - p[i]).max(p[i] - most[i]).max(0.0);
                axis(0).hypot(axis(1))
            };
            points(angle).map(off).fold(f64::INFINITY, f64::min)
        };
        let steps = (open / 0.05_f64.to_radians()) as u32;
        let sampled = (0..=steps).map(|i| f64::from(i) * 0.05_f64.to_radians()).find(|&it| away(it) <= 0.0);
        match (first_meeting(&stay, open, (least, most)), sampled) {
            (None, None) => clear += 1,
            (Some(exact), sampled) => {
                met += 1;
                assert!(away(exact) < 1.0, "{stay:?} {least:?} {most:?} at {exact}: {} away", away(exact));
                if let Some(sampled) = sampled {
                    assert!(exact <= sampled + 1e-6, "{stay:?} {least:?} {most:?}: {exact} after {sampled}");
                }
            }
            (None, Some(sampled)) => panic!("{stay:?} {least:?} {most:?}: missed at {sampled}"),
        }
    }
    assert!(met > 60 && clear > 60, "{met} {clear}");
}
