//! Hidden lines against dense sampling.
use super::*;
use crate::region::Region;
use proptest::prelude::*;

fn solid(min: [f64; 3], max: [f64; 3]) -> Solid {
    Solid { min, max }
}

fn boxes(solids: &[Solid]) -> Vec<Body> {
    solids.iter().copied().map(Body::Box).collect()
}

#[test]
fn a_single_box_shows_nine_edges_in_isometric_and_hides_three() {
    let one = [solid([0.0; 3], [400.0, 700.0, 300.0])];
    let pieces = edge_pieces(&boxes(&one), Axes::Isometric.to_viewer());
    assert_eq!(pieces.iter().filter(|piece| piece.visible).count(), 9);
    let hidden: Vec<_> = pieces.iter().filter(|piece| !piece.visible).collect();
    assert_eq!(hidden.len(), 3);
    // The three hidden edges meet in the corner farthest from the viewer.
    assert!(hidden.iter().all(|piece| piece.from == [0.0; 3]));
}

#[test]
fn a_board_before_another_hides_just_its_own_width() {
    let solids = [solid([0.0, 0.0, 0.0], [100.0, 10.0, 10.0]), solid([40.0, -50.0, 20.0], [60.0, 50.0, 30.0])];
    let lines = view_lines(&boxes(&solids), Axes::FRONT);
    let upper: Vec<_> = lines
        .iter()
        .filter(|line| line.owner == 0 && line.from.y == 10.0 && line.to.y == 10.0)
        .map(|line| ((line.from.x * 100.0).round() / 100.0, (line.to.x * 100.0).round() / 100.0, line.visible))
        .collect();
    assert_eq!(upper, [(0.0, 40.0, true), (60.0, 100.0, true), (40.0, 60.0, false)]);
}

#[test]
fn flush_edges_are_drawn_once() {
    let solids = [solid([0.0; 3], [18.0, 700.0, 300.0]), solid([18.0, 0.0, 0.0], [500.0, 18.0, 300.0])];
    let lines = view_lines(&boxes(&solids), Axes::FRONT);
    let shared: Vec<_> = lines.iter().filter(|line| line.from.x == 18.0 && line.to.x == 18.0).collect();
    let total: f64 = shared.iter().map(|line| line.from.distance(line.to)).sum();
    assert!((total - 700.0).abs() < 1e-6, "{shared:?}");
    assert!(shared.iter().all(|line| line.visible));
}

/// Whether the ray from a point to the viewer passes through a box: found for this one point by clipping the ray.
fn is_hidden(point: [f64; 3], sight: [f64; 3], solids: &[Solid], skin: f64) -> bool {
    solids.iter().any(|solid| {
        let (mut enter, mut leave) = (0.0_f64, f64::INFINITY);
        for axis in 0..3 {
            let (low, high) = (solid.min[axis] + skin, solid.max[axis] - skin);
            if sight[axis] == 0.0 {
                if point[axis] <= low || point[axis] >= high {
                    return false;
                }
            } else {
                let (a, b) = ((low - point[axis]) / sight[axis], (high - point[axis]) / sight[axis]);
                enter = enter.max(a.min(b));
                leave = leave.min(a.max(b));
            }
        }
        enter < leave
    })
}

fn solids() -> impl Strategy<Value = Vec<Solid>> {
    // A coarse grid, so that faces are often flush and edges often coincide.
    let side = (0..12_i32, 1..7_i32).prop_map(|(low, size)| (f64::from(low) * 25.0, f64::from(low + size) * 25.0));
    let one = (side.clone(), side.clone(), side).prop_map(|(x, y, z)| solid([x.0, y.0, z.0], [x.1, y.1, z.1]));
    prop::collection::vec(one, 1..9)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn pieces_agree_with_dense_sampling(solids in solids(), view in 0..4_usize) {
        let axes = [Axes::FRONT, Axes::FROM_LEFT, Axes::FROM_ABOVE, Axes::Isometric][view];
        let sight = axes.to_viewer();
        let pieces = edge_pieces(&boxes(&solids), sight);
        for piece in &pieces {
            // Steps that miss the grid: a ray exactly in the joint between two flush boxes meets neither.
            for step in 1..=40 {
                let point = at(piece.from, minus(piece.to, piece.from), (f64::from(step) - 0.4142) / 40.0);
                // A box shrunk by more or less than the program's skin: where both agree, the answer is certain.
                let certain = [0.0, 0.01].map(|skin| is_hidden(point, sight, &solids, skin));
                if certain[0] == certain[1] {
                    prop_assert_eq!(!piece.visible, certain[0], "{:?} at {:?}", piece, point);
                }
            }
        }
        // Nothing is lost: the pieces of a box are as long as its edges that are not along the line of sight.
        for (owner, solid) in solids.iter().enumerate() {
            let whole: f64 = box_edges(solid)
                .iter()
                .map(|(from, to)| minus(*to, *from))
                .filter(|run| !is_parallel(*run, sight))
                .map(length)
                .sum();
            let found: f64 = pieces
                .iter()
                .filter(|piece| piece.owner == owner)
                .map(|piece| length(minus(piece.to, piece.from)))
                .sum();
            prop_assert!((whole - found).abs() < 0.1, "{whole} {found}");
        }
    }

    #[test]
    fn no_two_lines_of_a_view_lie_on_one_another(solids in solids(), view in 0..4_usize) {
        let axes = [Axes::FRONT, Axes::FROM_LEFT, Axes::FROM_ABOVE, Axes::Isometric][view];
        let lines = view_lines(&boxes(&solids), axes);
        for (index, line) in lines.iter().enumerate() {
            let others: Vec<&ViewLine> = lines[..index].iter().collect();
            let run = line.to - line.from;
            let rest = uncovered(line, run / run.hypot(), run.hypot(), &others);
            let length: f64 = rest.iter().map(|piece| piece.from.distance(piece.to)).sum();
            prop_assert!((length - line.from.distance(line.to)).abs() < 0.01);
        }
    }
}

/// Where a ray runs through a box.
fn run_through(point: [f64; 3], sight: [f64; 3], solid: &Solid, skin: f64) -> (f64, f64) {
    let (mut enter, mut leave) = (0.0_f64, f64::INFINITY);
    for axis in 0..3 {
        let (low, high) = (solid.min[axis] + skin, solid.max[axis] - skin);
        if sight[axis] == 0.0 {
            if point[axis] <= low || point[axis] >= high {
                return (0.0, 0.0);
            }
        } else {
            let (a, b) = ((low - point[axis]) / sight[axis], (high - point[axis]) / sight[axis]);
            enter = enter.max(a.min(b));
            leave = leave.min(a.max(b));
        }
    }
    if enter < leave { (enter, leave) } else { (0.0, 0.0) }
}

/// A board with an opening right through along an axis, both as boxes.
#[derive(Clone, Debug)]
struct Holed {
    board: Solid,
    hole: Solid,
    axis: usize,
}

impl Holed {
    fn body(&self) -> Body {
        let seen = |it: &Solid| {
            let (u, v) = crate::prism::across(self.axis);
            kurbo::Rect::new(it.min[u], it.min[v], it.max[u], it.max[v])
        };
        let region = Region::rectangle(seen(&self.board)).without(seen(&self.hole));
        Prism { axis: self.axis, range: (self.board.min[self.axis], self.board.max[self.axis]), region }.into()
    }

    /// Whether it hides a point: a ray goes through the board for longer than through the opening in it.
    fn hides(&self, point: [f64; 3], sight: [f64; 3], skin: f64) -> bool {
        let (enter, leave) = run_through(point, sight, &self.board, skin);
        // With a skin the board is smaller, and so the opening larger.
        let (in_hole, out_hole) = run_through(point, sight, &self.hole, -skin);
        let open = (out_hole.min(leave) - in_hole.max(enter)).max(0.0);
        leave - enter - open > 1e-9
    }
}

fn holed() -> impl Strategy<Value = Holed> {
    let side = (0..8_i32, 3..7_i32, 0..3_i32, 1..4_i32);
    (side.clone(), side.clone(), side, 0..3_usize).prop_map(|(x, y, z, axis)| {
        let of = |it: (i32, i32, i32, i32)| {
            let (low, size, from, open) = it;
            let at = |value: i32| f64::from(value) * 25.0;
            (at(low), at(low + size), at(low + from), at((low + from + open).min(low + size)))
        };
        let ranges = [x, y, z].map(of);
        let board = solid(ranges.map(|it| it.0), ranges.map(|it| it.1));
        let through = |end: f64, own: f64, at: usize, out: f64| if at == axis { end + out } else { own };
        let hole = solid(
            std::array::from_fn(|at| through(ranges[at].0, ranges[at].2, at, -1.0)),
            std::array::from_fn(|at| through(ranges[at].1, ranges[at].3, at, 1.0)),
        );
        Holed { board, hole, axis }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    /// Boards with an opening, which may reach an edge: what lies behind the opening is seen, what lies behind the rest is
    /// not.
    #[test]
    fn openings_are_seen_through(boards in prop::collection::vec(holed(), 1..5), boxes in solids(), view in 0..4_usize) {
        let axes = [Axes::FRONT, Axes::FROM_LEFT, Axes::FROM_ABOVE, Axes::Isometric][view];
        let sight = axes.to_viewer();
        let bodies: Vec<Body> =
            boards.iter().map(Holed::body).chain(boxes.iter().copied().map(Body::Box)).collect();
        for piece in edge_pieces(&bodies, sight) {
            for step in 1..=24 {
                let point = at(piece.from, minus(piece.to, piece.from), (f64::from(step) - 0.4142) / 24.0);
                let certain = [0.0, 0.01].map(|skin| {
                    boards.iter().any(|it| it.hides(point, sight, skin)) || is_hidden(point, sight, &boxes, skin)
                });
                if certain[0] == certain[1] {
                    prop_assert_eq!(!piece.visible, certain[0], "{:?} at {:?}", piece, point);
                }
            }
        }
    }

    /// What is cut out and away leaves the area that it must, and pieces that add up to it.
    #[test]
    fn regions_keep_their_area(cuts in prop::collection::vec((0..9_i32, 0..9_i32, 1..5_i32, 1..5_i32), 0..5), at in 1..20_i32) {
        let grid = |it: i32| f64::from(it) * 10.0;
        let rects: Vec<kurbo::Rect> = (cuts.iter())
            .map(|&(x, y, w, h)| kurbo::Rect::new(grid(x), grid(y), grid(x + w), grid(y + h)))
            .collect();
        let whole = Region::rectangle(kurbo::Rect::new(0.0, 0.0, 100.0, 100.0));
        let region = rects.iter().fold(whole, |left, cut| left.without(*cut));
        // Cell by cell.
        let is_open = |x: f64, y: f64| rects.iter().any(|it| it.contains(Point::new(x, y)));
        let cells = |from: f64, to: f64| -> f64 {
            let mut area = 0.0;
            for x in 0..100 {
                for y in 0..10 {
                    let middle = (f64::from(x) + 0.5, f64::from(y) * 10.0 + 5.0);
                    if middle.0 > from && middle.0 < to && !is_open(middle.0, middle.1) {
                        area += 10.0;
                    }
                }
            }
            area
        };
        let area = |it: &Region| it.pieces().iter().map(|piece| {
            let [a, b, c, d] = piece.corners[..] else { panic!() };
            // Lower from and to, upper from and to.
            ((b - a).cross(d - a) + (d - a).cross(c - a)).abs() / 2.0
        }).sum::<f64>();
        prop_assert!((area(&region) - cells(0.0, 100.0)).abs() < 1e-3, "{} {}", area(&region), cells(0.0, 100.0));
        let place = f64::from(at * 5);
        for keeps_smaller in [true, false] {
            let kept = region.kept(false, place, keeps_smaller);
            let (from, to) = if keeps_smaller { (0.0, place) } else { (place, 100.0) };
            prop_assert!((area(&kept) - cells(from, to)).abs() < 1e-3);
            // Each border has one that goes on.
            prop_assert!((0..kept.borders().len()).all(|it| kept.after(it).is_some()));
        }
        let open: f64 = region.met(false, place + 2.5).iter().map(|(low, high)| high - low).sum();
        prop_assert!((open - cells(place + 2.0, place + 3.0)).abs() < 1e-6);
    }
}

/// A disc lying flat, radius 50, 20 thick: from the front a rectangle with no line inside; from above a circle.
#[test]
fn a_curve_shows_its_ends_only() {
    let circle: Vec<Point> = (0..100)
        .map(|it| Point::new(0.0, 0.0) + Vec2::from_angle(f64::from(it) / 100.0 * std::f64::consts::TAU) * 50.0)
        .collect();
    let disc = Prism { axis: 1, range: (100.0, 120.0), region: Region::of(&circle, &[]) };
    let front = view_lines(&[disc.clone().into()], Axes::FRONT);
    let upright: Vec<f64> = (front.iter())
        .filter(|it| it.visible && (it.from.x - it.to.x).abs() < 1e-6)
        .map(|it| it.from.x.round())
        .collect();
    assert_eq!(upright.len(), 2, "{upright:?}");
    assert!(upright.contains(&-50.0) && upright.contains(&50.0));
    let level: f64 =
        front.iter().filter(|it| it.visible && it.from.y == it.to.y).map(|it| it.from.distance(it.to)).sum();
    assert!((level - 200.0).abs() < 0.5, "{level}");
    let above = view_lines(&[disc.into()], Axes::FROM_ABOVE);
    let seen: f64 = above.iter().filter(|it| it.visible).map(|it| it.from.distance(it.to)).sum();
    assert!((seen - std::f64::consts::TAU * 50.0).abs() < 0.3, "{seen}");
}
