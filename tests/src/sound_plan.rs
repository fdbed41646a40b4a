//! What must hold of any cutting plan, by rules that share nothing with the planning.

use casewright_core::Length;
use casewright_core::assembly::{Grain, PartEdge};
use casewright_core::pipeline::Derived;
use casewright_core::stock::CuttingPlan;

/// Each part once or missing; inside a good rectangle; a saw cut apart; the grain kept; no more boards than there are; no
/// part crossed by any cut that is made on its board; and what `sound_bars` says of bars.
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
    sound_bars(work, plan);
}

/// Each edge whose banding is sold in bars has one strip, 40 mm longer than the edge: on one bar, or longer than any. No bar is
/// overfull with a saw cut between its strips, and its rest is what is left behind the last cut.
fn sound_bars(work: &Derived, plan: &CuttingPlan) {
    let mut wanted: Vec<(&str, usize, PartEdge)> = Vec::new();
    for (index, part) in work.assembly.parts.iter().enumerate() {
        let kept = |edge: PartEdge| {
            let mut places = plan.boards().flat_map(|(_, board)| &board.parts);
            places.any(|it| it.part == index && it.keeps.contains(&edge))
        };
        let from_bars = part.bands.iter().filter(|it| work.design.banding[&it.name].sold_in.is_some());
        wanted.extend(from_bars.filter(|it| !kept(it.edge)).map(|it| (it.name.as_str(), index, it.edge)));
    }
    let mut found: Vec<(&str, usize, PartEdge)> = Vec::new();
    for lot in &plan.bars {
        assert_eq!(work.design.banding[&lot.banding].sold_in, Some(lot.sold_in));
        for strip in lot.bars.iter().flat_map(|it| &it.strips).chain(&lot.too_long) {
            found.push((&lot.banding, strip.part, strip.edge));
            let edge = work.assembly.parts[strip.part].edge_length(strip.edge);
            assert_eq!((strip.length, strip.strip), (edge, edge + Length::from_mm(40)));
        }
        assert!(lot.too_long.iter().all(|it| it.strip > lot.sold_in));
        for bar in &lot.bars {
            assert!(!bar.strips.is_empty(), "a bar of {} is bought for nothing", lot.banding);
            let cuts = |count: usize| Length::from_nm(plan.kerf.nm() * i64::try_from(count).unwrap_or(i64::MAX));
            let strips: Length = bar.strips.iter().map(|it| it.strip).sum();
            let used = strips + cuts(bar.strips.len() - 1);
            assert!(used <= lot.sold_in, "a bar of {} is overfull: {used:?}", lot.banding);
            assert_eq!(bar.rest, (lot.sold_in - strips - cuts(bar.strips.len())).max(Length::ZERO));
        }
    }
    wanted.sort_unstable();
    found.sort_unstable();
    assert_eq!(found, wanted);
}
