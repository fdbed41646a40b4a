//! The formulas against coordinates of racked frames and worked numbers.

use super::*;
use crate::assembly::tests::built;
use crate::sample::{design, mm};

/// A frame racked by an angle in coordinates: its two diagonals, measured between corners.
fn diagonals_of(width: f64, height: f64, lean: f64) -> (f64, f64) {
    let up = (height * lean.sin(), height * lean.cos());
    let corners = [(0.0, 0.0), (width, 0.0), (width + up.0, up.1), up];
    let distance = |a: usize, b: usize| {
        let ((x0, y0), (x1, y1)): ((f64, f64), (f64, f64)) = (corners[a], corners[b]);
        (x1 - x0).hypot(y1 - y0)
    };
    (distance(0, 2), distance(1, 3))
}

#[test]
fn diagonals_give_back_the_angle_of_a_racked_frame() {
    for (width, height) in [(600.0, 720.0), (900.0, 2100.0), (1650.0, 895.0), (300.0, 150.0)] {
        for degrees in [-3.0_f64, -0.5, -0.05, 0.0, 0.02, 0.7, 2.0] {
            let lean = degrees.to_radians();
            let (d1, d2) = diagonals_of(width, height, lean);
            let of = Length::from_mm_f64;
            let found = racked(of(width), of(height), of(d1), of(d2)).unwrap();
            assert!((found.out_of_square_deg - degrees).abs() < 1e-4, "{found:?} for {degrees}");
            assert!((found.lean_mm - height * lean.sin()).abs() < 1e-4);
            // A plumb line from the upper corner of the leaning side: how far it misses the side at the height of the foot.
            let side = (height * lean.sin(), height * lean.cos());
            let gap = side.0 / side.1 * height;
            assert!((found.runs_out_upright_mm - gap.abs()).abs() < 1e-4);
            assert!(found.sides_off_mm.abs() < 1e-4);
            let pull = match degrees {
                it if it > 0.0 => Pull::LowerLeftUpperRight,
                it if it < 0.0 => Pull::LowerRightUpperLeft,
                _ => Pull::Nothing,
            };
            assert_eq!(found.pull, pull);
            // Once the longer one has become so much shorter, the frame is square.
            assert!((d1.max(d2) - found.shorten_by_mm - width.hypot(height)).abs() < 1e-4);
        }
    }
}

#[test]
fn worked_numbers() {
    // By hand: 3-4-5 triangle, 1200 x 900, square 1500. Diagonals 1502 and 1498: sin = (1502² − 1498²) / (4·1200·900) =
    // 12000 / 4320000 = 1/360, so 0.15916 degrees, 2.5 mm aside over the height of 900.
    let found = racked(mm(1200), mm(900), mm(1502), mm(1498)).unwrap();
    assert!((found.lean_mm - 2.5).abs() < 1e-9);
    assert!((found.out_of_square_deg - 0.159_155).abs() < 1e-6);
    assert!((found.runs_out_upright_mm - 2.500_01).abs() < 1e-5);
    assert!((found.shorten_by_mm - 1.998_667).abs() < 1e-5);
    assert_eq!(found.pull.words(), "pull the lower left and the upper right corner together");
    assert_eq!(diagonal(mm(1200), mm(900)), mm(1500));
    // 4 mm of difference at half a millimetre and more for each: d / 2w = 1500 / 2400 = 0.625 a millimetre.
    let frame = Frame { name: String::new(), opening_of: None, width: mm(1200), height: mm(900), diagonal: mm(1500) };
    assert!((frame.runs_out_per_mm() * 4.0 - found.runs_out_upright_mm).abs() < 1e-3);
}

#[test]
fn what_is_no_frame_is_refused() {
    let check = |measured: (i64, i64), expected: &str| {
        let error = racked(mm(1200), mm(900), mm(measured.0), mm(measured.1)).unwrap_err();
        assert!(error.to_string().contains(expected), "{error}");
    };
    check((0, 1500), "not longer than nothing");
    check((1600, 1590), "square it would measure 1500.0 mm");
    check((2115, 165), "differ by more than 1800 mm");
}

#[test]
fn a_cabinet_has_its_outside_and_its_openings() {
    let (layout, assembly) = built(&design());
    let frames = frames(&layout, &assembly);
    let lines: Vec<String> = frames
        .iter()
        .map(|it| format!("{}: {} x {}, {}", it.name, it.width.mm(), it.height.mm(), it.diagonal.mm()))
        .collect();
    // sqrt(900² + 800²) = 1204.16; inside 864 x 764: sqrt(746496 + 583696) = 1153.34.
    assert_eq!(lines, ["whole, outside: 900 x 800, 1204.2", "opening of whole: 864 x 764, 1153.3"]);
}
