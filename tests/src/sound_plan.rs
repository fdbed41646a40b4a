//! What must hold of any cutting plan, by rules that share nothing with the planning.

use casewright_core::assembly::Grain;
use casewright_core::pipeline::Derived;
use casewright_core::stock::CuttingPlan;

/// Each part once or missing; inside a good rectangle; a saw cut apart; the grain kept; no more boards than there are; and
/// no part crossed by any cut that is made on its board.
///
/// # Panics
/// Where one of these does not hold.
pub fn sound(work: &Derived, plan: &CuttingPlan) {
    let mut seen: Vec<usize> = plan.missing();
    for (_, board) in plan.boards() {
        let from = &work.design.boards[board.board];
        assert!(from.quantity.is_none_or(|it| board.copy <= it), "{} of {:?}", board.title(), from.quantity);
        for placed in &board.parts {
            seen.push(placed.part);
            let part = &work.assembly.parts[placed.part];
            let size =
                if placed.turned { (part.cut.width, part.cut.length) } else { (part.cut.length, part.cut.width) };
            assert_eq!((placed.length, placed.width), size, "{}", part.number);
            assert!(!(placed.turned && part.grain == Grain::AlongLength), "{} lies across the grain", part.number);
            assert_eq!(part.material, from.material);
            let inside = board.good.iter().any(|(x, y, length, width)| {
                placed.x >= *x
                    && placed.y >= *y
                    && placed.x + placed.length <= *x + *length
                    && placed.y + placed.width <= *y + *width
            });
            assert!(inside, "{} lies on what is spoilt of {}", part.number, board.title());
            for cut in &board.cuts {
                let apart = cut.slot.0 >= placed.x + placed.length
                    || cut.slot.0 + cut.slot.2 <= placed.x
                    || cut.slot.1 >= placed.y + placed.width
                    || cut.slot.1 + cut.slot.3 <= placed.y;
                assert!(apart, "cut {} goes through {}", cut.number, part.number);
            }
        }
        for (i, a) in board.parts.iter().enumerate() {
            for b in board.parts.iter().skip(i + 1) {
                let kerf = plan.kerf;
                let apart = a.x + a.length + kerf <= b.x
                    || b.x + b.length + kerf <= a.x
                    || a.y + a.width + kerf <= b.y
                    || b.y + b.width + kerf <= a.y;
                assert!(apart, "{} and {} overlap", a.part, b.part);
            }
        }
    }
    seen.sort_unstable();
    assert_eq!(seen, (0..work.assembly.parts.len()).collect::<Vec<_>>());
}
