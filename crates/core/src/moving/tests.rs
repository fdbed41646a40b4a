//! Contacts that can be worked by hand.

use super::{Solid, Touch, first_touch, gap_mm, placed};
use crate::assembly::Motion;
use crate::geometry::{Axis, Direction, Point};
use crate::length::Length;

fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

fn slide(direction: Direction, travel: i64) -> Motion {
    Motion::Slide { direction, travel: mm(travel) }
}

/// About an upright axis through the origin, from X towards Z: the way of a door hinged at its left.
fn door(opens_deg: f64) -> Motion {
    Motion::Turn { pivot: Point::default(), axis: Direction::DOWN, opens_deg }
}

fn solid(x: (i64, i64), y: (i64, i64), z: (i64, i64)) -> Solid {
    Solid::Box([x, y, z].map(|(a, b)| (a as f64, b as f64)))
}

#[track_caller]
fn check(moving: &Solid, motion: Motion, fixed: &Solid, at: Option<f64>) -> Option<Touch> {
    let touch = first_touch(moving, &motion, fixed);
    match (touch, at) {
        (None, None) => {}
        (Some(it), Some(at)) => assert!((it.at - at).abs() < 1e-6, "{it:?}, not at {at}"),
        other => panic!("{other:?}"),
    }
    touch
}

#[test]
fn a_drawer_meets_what_stands_in_its_way_by_what_it_overlaps() {
    let drawer = solid((0, 400), (100, 300), (0, 500));
    let valve = solid((396, 450), (150, 200), (620, 700));
    let touch = check(&drawer, slide(Direction::FRONT, 450), &valve, Some(120.0)).unwrap();
    assert!((touch.by - 4.0).abs() < 1e-9 && touch.side == Some(Direction::RIGHT), "{touch:?}");
    assert!((touch.point[2] - 620.0).abs() < 1e-9 && (touch.point[1] - 175.0).abs() < 1e-9, "{touch:?}");
    // Beside it, behind it, beyond its travel, and touching only.
    check(&drawer, slide(Direction::FRONT, 450), &solid((400, 450), (150, 200), (620, 700)), None);
    check(&drawer, slide(Direction::FRONT, 450), &solid((0, 400), (100, 300), (-50, 0)), None);
    check(&drawer, slide(Direction::FRONT, 120), &valve, None);
    // What overlaps at rest is met at once.
    check(&drawer, slide(Direction::FRONT, 450), &solid((100, 200), (150, 200), (400, 600)), Some(0.0));
}

#[test]
fn a_drawer_meets_a_slanted_wall_with_its_corner() {
    let drawer = solid((0, 400), (0, 100), (0, 500));
    // In plan from (400, 500) to (600, 700) and beyond on the right: 45 degrees, away from the drawer.
    let away = Solid::prism(Axis::Y, (0.0, 100.0), &[[500.0, 400.0], [700.0, 600.0], [500.0, 600.0]]).unwrap();
    check(&drawer, slide(Direction::FRONT, 450), &away, None);
    // Leaning in: at x = 400 it is reached after 200 mm.
    let inwards = Solid::prism(Axis::Y, (0.0, 100.0), &[[600.0, 500.0], [900.0, 200.0], [900.0, 500.0]]).unwrap();
    let touch = check(&drawer, slide(Direction::FRONT, 450), &inwards, Some(200.0)).unwrap();
    assert!((touch.point[0] - 400.0).abs() < 1e-9 && (touch.point[2] - 700.0).abs() < 1e-9, "{touch:?}");
}

#[test]
fn a_door_meets_a_post_where_its_circle_does() {
    let leaf = solid((0, 500), (0, 700), (-20, 0));
    // The outer edge, 500 from the axis, reaches z = 300 at asin(0.6); the post begins at x = 400 = 500 cos.
    let post = solid((400, 600), (0, 700), (300, 400));
    check(&leaf, door(110.0), &post, Some(36.869_897_645_844_02));
    // A post nearer to the axis is met by the outer face: its corner (200, 300) lies at atan(300 / 200).
    let near = solid((-50, 200), (0, 700), (300, 340));
    check(&leaf, door(110.0), &near, Some(56.309_932_474_020_21));
    check(&leaf, door(50.0), &near, None);
    // Over the leaf, or out of its reach.
    check(&leaf, door(110.0), &solid((-50, 200), (700, 900), (300, 340)), None);
    check(&leaf, door(110.0), &solid((-50, 200), (0, 700), (501, 540)), None);
}

#[test]
fn a_door_leaves_its_own_carcass_and_neighbour_alone() {
    let leaf = solid((0, 500), (0, 700), (-20, 0));
    check(&leaf, door(110.0), &solid((-10, 8), (0, 700), (-560, -20)), None);
    check(&leaf, door(110.0), &solid((503, 900), (0, 700), (-20, 0)), None);
    // The neighbour on the hinged side is met where the leaf comes back over it: sin(theta) 500 > ... never below 180.
    check(&leaf, door(110.0), &solid((-400, -3), (0, 700), (-20, 0)), None);
    // A wall at the left, 3 mm away: x = -3 is reached by the far corner at acos(-3 / 500).
    let wall = solid((-100, -3), (0, 700), (0, 900));
    check(&leaf, door(110.0), &wall, Some((-3.0_f64 / 500.0).acos().to_degrees()));
}

#[test]
fn open_bodies_stand_where_they_were_turned_to() {
    let leaf = solid((0, 500), (0, 700), (-20, 0));
    let open = placed(&leaf, &door(90.0), 90.0);
    let (x, z) = (open.range(Axis::X), open.range(Axis::Z));
    for (have, want) in [(x.0, 0.0), (x.1, 20.0), (z.0, 0.0), (z.1, 500.0)] {
        assert!((have - want).abs() < 1e-9, "{open:?}");
    }
    // A drawer beside the open door, 30 mm from it.
    let drawer = solid((50, 400), (100, 200), (-500, -20));
    let out = placed(&drawer, &slide(Direction::FRONT, 400), 400.0);
    assert!((gap_mm(&open, &out) - 30.0).abs() < 1e-9);
    check(&drawer, slide(Direction::FRONT, 400), &open, None);
    check(&solid((10, 400), (100, 200), (-500, -20)), slide(Direction::FRONT, 400), &open, Some(20.0));
    // A flap that turns about X meets the open door's outline, drawn out along Y, exactly: the window of X casts it.
    let flap = solid((10, 400), (0, 300), (-20, 0));
    let turn = Motion::Turn { pivot: Point::default(), axis: Direction::RIGHT, opens_deg: 90.0 };
    check(&flap, turn, &open, Some(0.0));
    check(&solid((21, 400), (0, 300), (-20, 0)), turn, &open, None);
}

#[test]
fn prisms_slide_along_and_across_their_axes() {
    let triangle = |axis, range| Solid::prism(axis, range, &[[0.0, 0.0], [100.0, 0.0], [0.0, 100.0]]).unwrap();
    // Along its own axis towards a prism along the same one.
    let (low, high) = (triangle(Axis::Z, (0.0, 50.0)), triangle(Axis::Z, (80.0, 90.0)));
    check(&low, slide(Direction::FRONT, 100), &high, Some(30.0));
    // Towards a box that only the corner of the triangle's square would meet.
    check(&low, slide(Direction::FRONT, 100), &solid((60, 90), (60, 90), (80, 90)), None);
    let touch = check(&low, slide(Direction::FRONT, 100), &solid((10, 90), (10, 90), (80, 90)), Some(30.0)).unwrap();
    assert!((touch.point[2] - 80.0).abs() < 1e-9, "{touch:?}");
    // Across: its slanted face meets the corner (x = 150, y = 40..) after 150 - (100 - 40).
    check(&low, slide(Direction::RIGHT, 200), &solid((150, 200), (40, 80), (10, 20)), Some(90.0));
}
