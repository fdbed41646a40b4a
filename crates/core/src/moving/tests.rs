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

mod room {
    //! Obstacles that are no boxes, and doors of the room.

    use super::super::{How, Moving, clearances, obstacle_solid};
    use crate::assembly::tests::built;
    use crate::design::{Holding, Inside, Obstacle, ObstacleKind, ObstacleShape, Opens, Resolved, Swing};
    use crate::geometry::Axis;
    use crate::length::Length;
    use crate::sample::{bay, design, front, mm};

    fn obstacle(corner: (i64, i64, i64), size: (i64, i64, i64)) -> Obstacle<Length> {
        let lengths = |it: (i64, i64, i64)| (mm(it.0), mm(it.1), mm(it.2));
        Obstacle {
            name: "it".to_owned(),
            kind: ObstacleKind::Door,
            corner: lengths(corner),
            size: lengths(size),
            keep_clear: None,
            shape: ObstacleShape::Box,
            swing: None,
        }
    }

    /// The sample's one bay as a drawer behind its front.
    fn drawer() -> Resolved {
        let mut it = design();
        let by =
            Holding::Drawer { slide: Some("side 450".to_owned()), board: Some("box board".to_owned()), bottom: None };
        it.carcass.bay = bay("all", Inside::Holds { things: Vec::new(), by });
        it.carcass.bay.front = Some(front(Opens::WithHolding));
        it
    }

    #[test]
    fn outlines_stand_where_the_design_says() {
        let mut it = obstacle((100, 0, 200), (50, 800, 40));
        it.shape = ObstacleShape::Upright(vec![(mm(0), mm(0)), (mm(50), mm(0)), (mm(0), mm(40))]);
        let solid = obstacle_solid(&it);
        assert_eq!(Axis::ALL.map(|axis| solid.range(axis)), [(100.0, 150.0), (0.0, 800.0), (200.0, 240.0)]);
        it.shape = ObstacleShape::Lengthwise(vec![(mm(0), mm(800)), (mm(40), mm(800)), (mm(0), mm(300))]);
        let solid = obstacle_solid(&it);
        assert_eq!(Axis::ALL.map(|axis| solid.range(axis)), [(100.0, 150.0), (300.0, 800.0), (200.0, 240.0)]);
    }

    #[test]
    fn a_drawer_passes_a_cut_corner_that_its_box_would_block() {
        let mut it = drawer();
        let (_, assembly) = built(&it);
        let front = assembly.parts.iter().find(|part| part.role == crate::design::Role::Front).unwrap().cuboid;
        let whole = |n: Length| n.nm() / 1_000_000;
        // A post that reaches 30 mm before the front at its right, cut away there from the front's edge on.
        let corner = (whole(front.max.x) - 30, 0, whole(front.max.z) + 100);
        it.site.obstacles = vec![obstacle(corner, (80, 900, 80))];
        let met = |it: &Resolved| clearances(it, &built(it).1).each[0].meets.first().map(|it| it.touch.at);
        assert!((met(&it).unwrap() - 100.0).abs() < 1.5);
        it.site.obstacles[0].shape =
            ObstacleShape::Upright(vec![(mm(40), mm(0)), (mm(80), mm(0)), (mm(80), mm(80)), (mm(40), mm(80))]);
        assert_eq!(met(&it), None);
    }

    #[test]
    fn the_door_of_the_room_and_an_open_drawer_block_one_another() {
        let mut it = drawer();
        let (_, assembly) = built(&it);
        let out = assembly.envelope.max.z.nm() / 1_000_000;
        // A leaf 800 wide in the wall at the left, shut along Z, hinged at its far end, opening over the floor before us.
        let mut leaf = obstacle((-60, 0, out + 100), (40, 2000, 800));
        leaf.swing = Some(Swing { about: (mm(-20), mm(out + 900)), opens_deg: 90.0 });
        it.site.obstacles = vec![leaf];
        let all = clearances(&it, &built(&it).1);
        let index = |test: fn(&Moving) -> bool| all.moving.iter().position(test).unwrap();
        let (door, drawer) = (index(|it| it.obstacle.is_some()), index(|it| it.mover.is_some()));
        let pair = all.blocking.iter().find(|it| it.opens == door && it.blocker == drawer).unwrap();
        assert_eq!(pair.how, How::WhenOpen);
        // The leaf's face, which goes through its hinges, comes onto the rear corner of the open front, the farthest from them.
        let front = assembly.parts.iter().find(|part| part.role == crate::design::Role::Front).unwrap().cuboid;
        let (aside, before) = (front.min.x.mm() + 20.0, (out + 900) as f64 - front.min.z.mm() - 450.0);
        assert!((pair.meeting.touch.at - aside.atan2(before).to_degrees()).abs() < 1e-6, "{pair:?}");
        // The leaf stands clear of the drawer's way when shut, and when fully open before it.
        assert!(all.each[drawer].meets.is_empty(), "{:?}", all.each[drawer].meets);
    }

    #[test]
    fn an_obstacle_that_is_called_like_a_wall_is_beside_what_opens() {
        let mut it = drawer();
        let right = built(&it).1.envelope.max.x.nm() / 1_000_000;
        it.site.obstacles =
            vec![Obstacle { name: "the wall".to_owned(), ..obstacle((right + 5, 0, 0), (100, 900, 2000)) }];
        let (_, assembly) = built(&it);
        let found = crate::moving::surroundings(&it, &assembly, &clearances(&it, &assembly));
        let beside = found[0].beside.as_ref().map(|(gap, name)| (*gap < 40.0, name.as_str()));
        assert_eq!(beside, Some((true, "the wall")));
    }

    #[test]
    fn the_handle_of_a_tilt_out_meets_the_radiator_that_its_front_clears() {
        use crate::design::{Fitting, Front, Handle, TiltHinge};
        let mut it = drawer();
        let by = Holding::TiltOut { hinge: TiltHinge::Below, opens_deg: 30.0, lid: false, board: None, stay: None };
        it.carcass.bay = bay("all", Inside::Holds { things: Vec::new(), by });
        it.carcass.bay.front = Some(front(Opens::WithHolding));
        let (_, assembly) = built(&it);
        let out = assembly.envelope.max.z.mm();
        let leaf = assembly.parts.iter().find(|part| part.role == crate::design::Role::Front).unwrap().cuboid;
        // By hand: the outer upper edge of the front is on the circle of its height; at 30 degrees it is sin 30 of that out.
        let height = leaf.size(Axis::Y).mm();
        let farthest = out + height * 0.5;
        let clear = farthest.ceil() as i64 + 2;
        it.site.obstacles = vec![obstacle((0, 0, clear), (900, 900, 100))];
        let met = |it: &Resolved| clearances(it, &built(it).1).each[0].meets.first().map(|it| it.piece.clone());
        assert_eq!(met(&it), None);
        it.fittings
            .insert("bar".to_owned(), Fitting::Handle(Handle { holes_apart: Some(mm(128)), stands_out: mm(35) }));
        it.carcass.bay.front = Some(Front { handle: Some("bar".to_owned()), ..front(Opens::WithHolding) });
        assert_eq!(met(&it), Some("handle of all".to_owned()));
        // The bar's outer upper edge, 40 mm less 6 below the upper edge and 35 out: r sin(f + a) = the way to the radiator.
        let (up, before) = (height - 34.0, 35.0_f64);
        let (radius, ahead) = (up.hypot(before), before.atan2(up));
        let by_hand = ((clear as f64 - out) / radius).asin() - ahead;
        let at = clearances(&it, &built(&it).1).each[0].meets[0].touch.at;
        assert!((at - by_hand.to_degrees()).abs() < 1e-6, "{at}");
    }

    #[test]
    fn what_comes_out_of_an_appliance_is_swept_too() {
        use crate::design::{OwnPullOut, ThingSide};
        use crate::sample::{design_of, holds, thing};
        let mut it = design_of(holds("all", &["dryer"], Holding::Standing));
        let mut dryer = thing(600, 700, 500);
        let own = |towards| OwnPullOut {
            name: "water tank".to_owned(),
            corner: (mm(20), mm(560)),
            size: (mm(300), mm(120)),
            travel: mm(380),
            depth: Some(mm(400)),
            towards,
        };
        dryer.pull_outs = vec![own(ThingSide::Front)];
        it.things.insert("dryer".to_owned(), dryer);
        let (_, assembly) = built(&it);
        let stands = assembly.things[0].cuboid;
        let all = clearances(&it, &assembly);
        assert_eq!(all.moving[0].id, "water tank of dryer");
        let ranges = Axis::ALL.map(|axis| all.moving[0].pieces[0].solid.range(axis));
        let (x, y, z) = (stands.min.x.mm(), stands.min.y.mm(), stands.max.z.mm());
        assert_eq!(ranges, [(x + 20.0, x + 320.0), (y + 560.0, y + 680.0), (z - 400.0, z)]);
        assert!(all.each[0].meets.is_empty());
        // A post 150 mm before the appliance, at the height of the tank.
        let before = stands.max.z.nm() / 1_000_000 + 150;
        it.site.obstacles = vec![obstacle((0, 0, before), (900, 900, 50))];
        let meets = clearances(&it, &assembly).each[0].meets.clone();
        assert_eq!((meets[0].with.as_str(), meets[0].touch.at), ("it", 150.0));
        // Who looks at the left side has the rear at the left hand: 20 mm from the rear, and the carcass stands in the way.
        it.site.obstacles.clear();
        it.things[0].pull_outs = vec![own(ThingSide::Left)];
        let all = clearances(&it, &assembly);
        assert_eq!(all.moving[0].pieces[0].solid.range(Axis::Z).0, stands.min.z.mm() + 20.0);
        assert_eq!(all.each[0].meets[0].with, "left side");
        // On top from the front; the top of the carcass is 64 mm above the appliance.
        it.things[0].pull_outs = vec![OwnPullOut { corner: (mm(20), mm(60)), ..own(ThingSide::Top) }];
        let meets = clearances(&it, &assembly).each[0].meets.clone();
        assert_eq!((meets[0].with.as_str(), meets[0].touch.at), ("top", 64.0));
        // Against a side it does not come out at all.
        let mut tight = thing(864, 700, 500);
        tight.pull_outs = vec![own(ThingSide::Left)];
        it.things.insert("dryer".to_owned(), tight);
        let meets = clearances(&it, &built(&it).1).each[0].meets.clone();
        assert_eq!((meets[0].with.as_str(), meets[0].touch.at), ("left side", 0.0));
    }
}
