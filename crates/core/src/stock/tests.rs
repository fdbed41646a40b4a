//! What an old cabinet gives, what a board gives, and the order of banding: worked by hand.

use super::{KeptEdge, OldBack, OldBox, OldJoint, dismantle, usable};
use crate::design::{Banding, Board, BoardEdge, KeptBand};
use crate::length::Length;
use crate::sample;

const fn mm(value: i64) -> Length {
    Length::from_mm(value)
}

fn old() -> OldBox {
    OldBox {
        name: "office shelf".to_owned(),
        size: (mm(800), mm(2000), mm(400)),
        material: "ply".to_owned(),
        thickness: mm(18),
        sides_run_through: true,
        shelves: 4,
        shelf_set_back: mm(5),
        rows: true,
        joint: OldJoint::Dowelled,
        back: OldBack::Grooved("thin".to_owned(), mm(8)),
    }
}

#[test]
fn panels_of_an_old_cabinet() {
    let check = |old: &OldBox, expected: &[(&str, i64, i64, u32)]| {
        let found: Vec<_> = dismantle(old)
            .into_iter()
            .map(|it| (it.name, it.size.0.mm(), it.size.1.mm(), it.quantity.unwrap_or_default()))
            .collect();
        let expected: Vec<_> = expected.iter().map(|it| (it.0.to_owned(), it.1 as f64, it.2 as f64, it.3)).collect();
        assert_eq!(found, expected);
    };
    // 800 - 2 x 18 = 764 between the sides; shelves stop before the groove: 400 - (8 + 10) - 5 = 377.
    check(
        &old(),
        &[
            ("office shelf side", 2000, 400, 2),
            ("office shelf top or bottom", 764, 400, 2),
            ("office shelf shelf", 764, 377, 4),
            ("office shelf back", 1982, 782, 1),
        ],
    );
    // Bottom and top run over the sides: these are 2000 - 36 long.
    let other = OldBox { sides_run_through: false, back: OldBack::None, shelves: 0, ..old() };
    check(&other, &[("office shelf side", 1964, 400, 2), ("office shelf top or bottom", 800, 400, 2)]);
    // Nothing is left of what is spoilt altogether.
    check(&OldBox { size: (mm(100), mm(2000), mm(60)), shelves: 0, back: OldBack::None, ..old() }, &[]);
}

#[test]
fn spoilt_strips_of_an_old_cabinet() {
    let boards = dismantle(&old());
    // Sides: 18 + 10 at the joints, rows of holes 45 from front and rear. Between: 35 in the ends, groove and 10 beside it.
    assert_eq!(boards[0].spoilt, Some((mm(28), mm(28), mm(45), mm(45))));
    assert_eq!(boards[1].spoilt, Some((mm(35), mm(35), mm(0), mm(18))));
    assert_eq!(boards[2].spoilt, None);
}

#[test]
fn kept_banding_counts_as_outside_size() {
    let mut design = sample::design();
    design
        .banding
        .insert("edge".into(), Banding { thickness: mm(2), width: None, sold_in: None, finish: String::new() });
    let band = |edge| KeptBand { edge, band: "edge".to_owned() };
    let board = Board {
        spoilt: Some((mm(40), mm(0), mm(0), mm(0))),
        banded: vec![band(BoardEdge::Near), band(BoardEdge::Start)],
        ..Board::new("old", "ply", (mm(1000), mm(400)))
    };
    let found = usable(&board, &design);
    // The band at the start goes with the spoilt strip; that at the near edge stays outside the 398 that are sawn.
    assert_eq!(found.size, (mm(1000), mm(398)));
    assert_eq!(found.good, [(mm(40), mm(0), mm(960), mm(398))]);
    assert_eq!(found.kept, [KeptEdge { edge: BoardEdge::Near, band: "edge".to_owned(), thickness: mm(2) }]);
    // A good rectangle that is given is clipped to what is not spoilt.
    let board = Board { good: vec![(mm(0), mm(100), mm(500), mm(200))], ..board };
    assert_eq!(usable(&board, &design).good, [(mm(40), mm(98), mm(460), mm(200))]);
}
