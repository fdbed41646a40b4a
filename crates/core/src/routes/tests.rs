//! Ways against an independent reference: every stretch of a plain lattice tried by its middle, relaxed until nothing
//! grows shorter.

use super::grid::{Door, Space, TooMuch, shortest, straight};
use crate::geometry::{Axis, Cuboid, Point};
use crate::length::Length;

/// Points of the lattice along each axis.
const SIDE: i64 = 7;

/// A small source of numbers, the same in each run.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from(self.0 >> 33).unwrap_or_default() % limit
    }

    fn range(&mut self) -> (Length, Length) {
        let low = self.below(SIDE - 1);
        let high = low + 1 + self.below(SIDE - 1 - low);
        (at(low), at(high))
    }

    fn cuboid(&mut self) -> Cuboid {
        Cuboid::from_ranges(self.range(), self.range(), self.range())
    }

    fn point(&mut self) -> [i64; 3] {
        [self.below(SIDE), self.below(SIDE), self.below(SIDE)]
    }
}

fn at(place: i64) -> Length {
    Length::from_mm(place * 10)
}

fn point([x, y, z]: [i64; 3]) -> Point {
    Point::new(at(x), at(y), at(z))
}

/// Whether the middle of a stretch along an axis lies inside a box.
fn inside(cuboid: &Cuboid, from: [i64; 3], axis: usize) -> bool {
    Axis::ALL.into_iter().enumerate().all(|(i, it)| {
        let middle = from[i] as f64 * 10.0 + if i == axis { 5.0 } else { 0.0 };
        let (low, high) = cuboid.range(it);
        low.mm() < middle && middle < high.mm()
    })
}

/// The best (holes, length) by relaxing every stretch again and again.
fn reference(space: &Space, from: [i64; 3], to: &Cuboid) -> Option<(u32, i64)> {
    let all: Vec<[i64; 3]> = (0..SIDE.pow(3)).map(|n| [n / (SIDE * SIDE), n / SIDE % SIDE, n % SIDE]).collect();
    let index = |p: [i64; 3]| usize::try_from(p[0] * SIDE * SIDE + p[1] * SIDE + p[2]).unwrap();
    let mut best: Vec<Option<(u32, i64)>> = vec![None; all.len()];
    best[index(from)] = Some((0, 0));
    let mut changed = true;
    while changed {
        changed = false;
        for &p in &all {
            let mut offer = |q: [i64; 3], holes: u32, steps: i64| {
                for (a, b) in [(p, q), (q, p)] {
                    let Some(cost) = best[index(a)].map(|it| (it.0 + holes, it.1 + steps)) else { continue };
                    if best[index(b)].is_none_or(|it| cost < it) {
                        best[index(b)] = Some(cost);
                        changed = true;
                    }
                }
            };
            for axis in 0..3 {
                let mut q = p;
                q[axis] += 1;
                if q[axis] < SIDE && !space.blocked.iter().any(|it| inside(it, p, axis)) {
                    offer(q, 0, 1);
                }
            }
            for door in &space.doors {
                let axis = door.axis.index();
                if at(p[axis]) != door.across.0 {
                    continue;
                }
                let mut q = p;
                q[axis] = (door.across.1.mm() / 10.0) as i64;
                let sideways = |i: usize| i != axis;
                let within = Axis::ALL.into_iter().enumerate().all(|(i, it)| {
                    let (low, high) = door.within.range(it);
                    !sideways(i) || (low <= at(p[i]) && at(p[i]) <= high)
                });
                let never = door.never.iter().any(|never| {
                    Axis::ALL.into_iter().enumerate().all(|(i, it)| {
                        let (low, high) = never.range(it);
                        !sideways(i) || (low < at(p[i]) && at(p[i]) < high)
                    })
                });
                if within && !never {
                    offer(q, door.cost, q[axis] - p[axis]);
                }
            }
        }
    }
    let ends = all.iter().filter(|&&p| straight(point(p), to) == Length::ZERO);
    ends.filter_map(|&p| best[index(p)]).min().map(|(holes, steps)| (holes, at(steps).nm()))
}

#[test]
fn no_way_is_shorter_on_a_plain_lattice() {
    let mut dice = Dice(7);
    let (mut ways, mut without, mut holed) = (0, 0, 0);
    for _ in 0..400 {
        let count = 3 + dice.below(8);
        let mut blocked: Vec<Cuboid> = (0..count).map(|_| dice.cuboid()).collect();
        if dice.below(3) > 0 {
            // A wall from end to end, so that only a hole leads through.
            let axis = Axis::ALL[usize::try_from(dice.below(3)).unwrap()];
            let whole = (at(-1), at(SIDE));
            let wall = Cuboid::from_ranges(whole, whole, whole).with_range(axis, dice.range());
            blocked.insert(0, wall);
        }
        let doors = blocked.iter().take(usize::try_from(dice.below(4)).unwrap()).map(|it| {
            // Through the thinnest way.
            let axis = Axis::ALL.into_iter().min_by_key(|&axis| it.size(axis)).unwrap();
            Door { axis, across: it.range(axis), within: *it, never: vec![dice.cuboid()], cost: 2 }
        });
        let doors: Vec<Door> = doors.collect();
        let domain = Cuboid::from_ranges((at(0), at(SIDE - 1)), (at(0), at(SIDE - 1)), (at(0), at(SIDE - 1)));
        let space = Space { domain, blocked, doors };
        let from = dice.point();
        let end = point(dice.point());
        let to = Cuboid::between(end, end);
        let found = shortest(&space, point(from), &to).unwrap();
        let cost = |holes: &[(usize, Point)]| holes.iter().map(|it| space.doors[it.0].cost).sum::<u32>();
        assert_eq!(
            found.as_ref().map(|it| (cost(&it.doors), it.length.nm())),
            reference(&space, from, &to),
            "from {from:?} to {end:?} in {space:?}"
        );
        let Some(found) = found else {
            without += 1;
            continue;
        };
        ways += 1;
        holed += usize::from(!found.doors.is_empty());
        // The corners make up the length, and each stretch runs along one axis.
        let length: Length = found.points.windows(2).map(|it| straight(it[0], &Cuboid::between(it[1], it[1]))).sum();
        assert_eq!(length, found.length);
        for pair in found.points.windows(2) {
            assert_eq!(Axis::ALL.into_iter().filter(|&it| pair[0].along(it) != pair[1].along(it)).count(), 1);
        }
    }
    assert!(ways > 100 && without > 20 && holed > 10, "{ways} ways, {without} without, {holed} through holes");
}

#[test]
fn by_hand_round_a_board() {
    // A board of 600 x 400 x 20 stands on the ground between two points 10 mm before and behind its middle: over its upper edge it is
    // 200 up, 40 across, 200 down; round an end 300 + 40 + 300.
    let board = Cuboid::from_ranges((at(0), at(60)), (at(0), at(40)), (at(10), at(12)));
    let low = Cuboid::from_ranges((at(-21), at(81)), (at(-10), at(5)), (at(10), at(12)));
    let domain = Cuboid::from_ranges((at(-20), at(80)), (at(0), at(60)), (at(0), at(30)));
    let space = Space { domain, blocked: vec![board, low], doors: Vec::new() };
    let (from, to) = (Point::new(at(30), at(20), at(9)), Point::new(at(30), at(20), at(13)));
    let found = shortest(&space, from, &Cuboid::between(to, to)).unwrap().unwrap();
    assert_eq!(found.length, Length::from_mm(440));
    assert_eq!(found.points.len(), 4, "{:?}", found.points);
    // With a hole allowed 100 from the lower edge: fewer millimetres do not count against a hole; so it is not taken.
    let door = Door { axis: Axis::Z, across: (at(10), at(12)), within: board, never: Vec::new(), cost: 2 };
    let holed = Space { doors: vec![door], ..space.clone() };
    assert_eq!(shortest(&holed, from, &Cuboid::between(to, to)), Ok(Some(found)));
    // Shut in all round, only the hole is left: straight through.
    let ceiling = Cuboid::from_ranges((at(-21), at(81)), (at(39), at(61)), (at(10), at(12)));
    let left = Cuboid::from_ranges((at(-21), at(1)), (at(0), at(61)), (at(10), at(12)));
    let right = Cuboid::from_ranges((at(59), at(81)), (at(0), at(61)), (at(10), at(12)));
    let shut = Space { blocked: vec![board, low, ceiling, left, right], ..holed };
    let through = shortest(&shut, from, &Cuboid::between(to, to)).unwrap().unwrap();
    assert_eq!((through.length, through.doors.len()), (Length::from_mm(40), 1));
    let nothing = Space { doors: Vec::new(), ..shut };
    assert_eq!(shortest(&nothing, from, &Cuboid::between(to, to)), Ok(None));
}

#[test]
fn too_much_to_look_through_is_not_the_same_as_no_way() {
    // 70 boxes with six faces of their own: 142 crossings and more along each axis, over 2.8 million in all.
    let box_at = |n: i64| {
        Cuboid::from_ranges((at(10 * n), at(10 * n + 5)), (at(10 * n), at(10 * n + 5)), (at(10 * n), at(10 * n + 5)))
    };
    let blocked: Vec<Cuboid> = (0..70).map(box_at).collect();
    let domain = Cuboid::from_ranges((at(0), at(800)), (at(0), at(800)), (at(0), at(800)));
    let space = Space { domain, blocked, doors: Vec::new() };
    let to = Point::new(at(7), at(7), at(7));
    assert_eq!(shortest(&space, to, &Cuboid::between(to, to)), Err(TooMuch));
}
