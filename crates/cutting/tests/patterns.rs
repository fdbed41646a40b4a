//! The most valuable pattern of one board: its limits and its largest numbers. See `exhaustive.rs` for random questions.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "a test")]

use casewright_cutting::{
    Board, CuttingError, Effort, Fault, Fill, Goal, Piece, Quantity, Saw, Status, Unwatched, Wanted, fill,
};

fn wanted(width: i64, height: i64, copies: u32, value: i64) -> Wanted {
    Wanted { piece: Piece::new("piece", width, height), copies: Quantity::Limited(copies), value }
}

fn filled(width: i64, height: i64, wanted: &[Wanted]) -> Result<Fill, CuttingError> {
    let board = Board::new("board", width, height);
    fill(&board, wanted, &Saw::default(), &Goal::default(), &Effort::NORMAL, &Unwatched)
}

/// Either way round alone, two of the pieces fit; both ways together, three. The two allowed were taken for no limit at all.
#[test]
fn a_limit_holds_where_pieces_lie_both_ways() {
    let found = filled(5, 5, &[wanted(3, 2, 2, 1)]).expect("sound");
    assert_eq!((found.value, found.status), (2, Status::ProvenBest));
    assert_eq!(found.board.expect("a pattern").placements.len(), 2);
    assert_eq!(filled(5, 5, &[wanted(3, 2, 3, 1)]).expect("sound").value, 3);
}

/// Copies were counted in 16 bits.
#[test]
fn very_many_copies_are_counted() {
    let found = filled(300, 300, &[wanted(1, 1, 80_000, 1)]).expect("sound");
    assert!(found.value <= 80_000 && found.bound >= 80_000, "{} {}", found.value, found.bound);
    let placed = found.board.expect("a pattern").placements.len();
    assert_eq!(placed as i128, found.value);
}

/// One copy alone is no danger, but the tables fill the whole board with the piece.
#[test]
fn worth_that_floating_point_cannot_add_is_refused() {
    let faults = filled(1000, 1000, &[wanted(1, 1, 1, 30_000_000_000_000)]).expect_err("too large").0;
    assert_eq!(faults, [Fault::BoardValue { name: "board".into() }]);
    let sound = filled(100, 100, &[wanted(1, 1, 1, 30_000_000_000)]).expect("sound");
    assert_eq!((sound.value, sound.status), (30_000_000_000, Status::ProvenBest));
}

#[test]
fn a_kilometre_of_nanometres_is_no_overflow() {
    let long = 1_000_000_000_000;
    let found = filled(long, long, &[wanted(1, long, 3, 1)]).expect("sound");
    assert!((1..=3).contains(&found.value) && found.bound >= 3, "{} {}", found.value, found.bound);
    assert!(filled(long, long, &[wanted(1, 1, 3, 1)]).is_err());
}

/// Where the effort ends before the first pattern, one piece is better than none.
#[test]
fn one_piece_is_found_without_effort() {
    for copies in [Quantity::Limited(2), Quantity::Unlimited] {
        let wanted = [wanted(30, 20, 2, 5), Wanted { copies, ..wanted(20, 70, 2, 7) }, wanted(1, 101, 2, 9)];
        let (board, saw) = (Board::new("board", 100, 60), Saw::default());
        let found = fill(&board, &wanted, &saw, &Goal::default(), &Effort::work(1), &Unwatched).expect("sound");
        assert_eq!(found.value, 7);
        assert_eq!(found.board.expect("a pattern").placements.len(), 1);
    }
}
