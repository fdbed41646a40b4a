//! Banding that is sold in bars: one question to the cutting crate for each such banding.

use casewright_core::Length;
use casewright_core::stock::{BandingLot, BandingStep, BarLot, CutBar};
use casewright_cutting::{self as cutting, CuttingError, Goal, Objective};

use crate::lot::{Asked, quality};

/// The strips of a banding from bars of this length, as few bars as can be. Ends of bars lose no trim: each strip is longer than
/// its edge at both ends. Strips that no bar can give are told apart.
pub(crate) fn bar_lot(asked: &Asked<'_>, work: &BandingLot, sold_in: Length) -> Result<BarLot, CuttingError> {
    let (strips, too_long): (Vec<BandingStep>, Vec<BandingStep>) =
        work.steps.iter().cloned().partition(|it| it.strip <= sold_in);
    let stock = [cutting::Bar::new(&work.name, sold_in.nm())];
    let pieces: Vec<cutting::BarPiece> = strips
        .iter()
        .map(|it| {
            let name = asked.part(it.part).map(|part| part.number.clone()).unwrap_or_default();
            cutting::BarPiece::new(name, it.strip.nm(), 1)
        })
        .collect();
    let goal = Goal { least: Objective::FewestBoards, ..Goal::default() };
    let plan = cutting::cut_bars(&stock, &pieces, &asked.saw, &goal, &asked.options.effort, asked.watch)?;
    debug_assert_eq!(cutting::check_bars(&stock, &pieces, &asked.saw, &goal, &plan), Ok(()));
    debug_assert!(plan.missing.is_empty(), "there are bars without number, and each strip fits into one");
    let bars = plan
        .bars
        .iter()
        .map(|bar| CutBar {
            strips: bar.pieces.iter().filter_map(|(piece, _)| strips.get(*piece).cloned()).collect(),
            rest: Length::from_nm(bar.offcut.map_or(0, |(_, rest)| rest)),
        })
        .collect();
    Ok(BarLot { banding: work.name.clone(), sold_in, bars, too_long, quality: quality(plan.status) })
}
