//! The cutting plan of a whole piece, material by material.
//!
//! A board that only serves some parts cannot be told to the cutting crate, which knows no furniture. So parts that are
//! bound to a stock family are planned first, from that family; then boards that only serve some roles take what they can;
//! then counted boards that are as wide as some part, which then needs cutting to length alone; and last all that is left,
//! from all boards that serve it and from the rests of the boards before. Where boards that serve only some roles have parts in
//! common, another order of their turns is tried as well. Where something is missing in the end, the plan is made again without the
//! step that prefers cutting to length, and the best of all these is the answer.

use std::collections::BTreeSet;

use casewright_core::Length;
use casewright_core::assembly::{Assembly, Part};
use casewright_core::design::{Board, Least, Resolved};
use casewright_core::stock::{CuttingPlan, Lot, MatchedRow, Quality, banding_work, binds, matched_rows, serves};
use casewright_core::unit::DecimalMark;
use casewright_cutting::{CuttingError, Effort, Goal, Saw, Size, Unwatched, Watch};

use crate::bars::bar_lot;
use crate::lot::{Asked, lot};
use crate::pool::Pool;

/// Width of the saw cut unless the design or the caller tells otherwise: a common circular saw blade (common practice).
const USUAL_KERF: Length = Length::from_um(3_200);
/// What is taken off each raw edge of a new sheet (common practice: edges come bruised and out of square).
const USUAL_TRIM: Length = Length::from_mm(5);
/// The smallest offcut worth keeping (own choice).
const USUAL_USEFUL: (Length, Length) = (Length::from_mm(300), Length::from_mm(100));

/// What the proof that stock is short may cost: the counting of parts and areas needs no search.
const PROOF: Effort = Effort::work(200_000);

/// How to plan.
#[derive(Clone, Copy, Debug)]
pub struct PlanOptions {
    /// Width of the saw cut; the design's if none.
    pub kerf: Option<Length>,
    /// How hard to search for each lot.
    pub effort: Effort,
    /// How hard to search for spare copies of each lot; none are told if none.
    pub spare: Option<Effort>,
}

impl Default for PlanOptions {
    fn default() -> Self {
        Self { kerf: None, effort: Effort::NORMAL, spare: Some(Effort::work(5_000_000)) }
    }
}

/// Why no plan can be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{material}: {cause}")]
pub struct PlanError {
    /// The material or banding at which it failed.
    pub material: String,
    /// What the cutting crate says.
    #[source]
    pub cause: CuttingError,
}

/// The cutting plan of all parts, materials in the order of the design, then of the banding that is sold in bars. The same design and effort give the same plan.
///
/// # Errors
/// A size that cannot be cut at all.
pub fn plan(design: &Resolved, assembly: &Assembly, options: &PlanOptions) -> Result<CuttingPlan, PlanError> {
    plan_watched(design, assembly, options, &Unwatched)
}

/// As [`plan()`], told of progress and with a way to call it off.
///
/// # Errors
/// As [`plan()`].
pub fn plan_watched(
    design: &Resolved,
    assembly: &Assembly,
    options: &PlanOptions,
    watch: &dyn Watch,
) -> Result<CuttingPlan, PlanError> {
    let kerf = options.kerf.or(design.saw.kerf).unwrap_or(USUAL_KERF);
    let trim = design.saw.trim.unwrap_or(USUAL_TRIM);
    let useful = design.saw.useful.unwrap_or(USUAL_USEFUL);
    let rows = rows(design, &assembly.parts);
    let asked = Asked {
        design,
        parts: &assembly.parts,
        rows: &rows,
        saw: Saw { kerf: kerf.nm(), trim: trim.nm() },
        useful: Goal { useful: Size::new(useful.0.nm(), useful.1.nm()), ..Goal::default() },
        options,
        watch,
    };
    let mut plan =
        CuttingPlan { kerf, trim, lots: Vec::new(), bars: Vec::new(), notes: notes(design, &assembly.parts) };
    for material in design.materials.keys() {
        let parts: Vec<usize> =
            (0..assembly.parts.len()).filter(|&i| asked.part(i).is_some_and(|it| it.material == *material)).collect();
        if parts.is_empty() {
            continue;
        }
        if !design.boards.iter().any(|it| it.material == *material) {
            plan.lots.push(without_boards(&asked, material, parts));
            continue;
        }
        let failed = |cause| PlanError { material: material.clone(), cause };
        let mut lots = best_of(&asked, material, &parts, true).map_err(failed)?;
        if lots.iter().any(|it| !it.missing.is_empty()) && lots.len() > 1 {
            let other = best_of(&asked, material, &parts, false).map_err(failed)?;
            if missing_area(&asked, &other) < missing_area(&asked, &lots) {
                lots = other;
            }
            let missing: BTreeSet<usize> = lots.iter().flat_map(|it| &it.missing).copied().collect();
            if is_short(&asked, material, &parts, &missing).map_err(failed)? {
                for lot in &mut lots {
                    if let Quality::Unplaced(short) = lot.quality {
                        lot.quality = Quality::Impossible(short);
                    }
                }
            }
        }
        plan.lots.append(&mut lots);
    }
    for row in &rows {
        let boards: Vec<_> = row.parts.iter().filter_map(|it| plan.place_of(*it)).map(|it| it.0.title()).collect();
        if boards.iter().any(|it| Some(it) != boards.first()) {
            let names: Vec<&str> =
                row.parts.iter().filter_map(|it| asked.part(*it)).map(|it| it.number.as_str()).collect();
            plan.notes.push(format!("no grain match of {}: they must come from different stock", names.join(", ")));
        }
        if !row.trouble.is_empty() {
            plan.notes.push(row.trouble.clone());
        }
    }
    for work in banding_work(assembly, Some(&plan)) {
        let Some(sold_in) = design.banding.get(&work.name).and_then(|it| it.sold_in) else { continue };
        let failed = |cause| PlanError { material: work.name.clone(), cause };
        plan.bars.push(bar_lot(&asked, &work, sold_in).map_err(failed)?);
    }
    let number = |part: usize| asked.part(part).map(|it| it.number.clone()).unwrap_or_default();
    let named = |length: Length| design.unit.format_named(length, DecimalMark::Point);
    plan.notes.extend(plan.bars.iter().filter_map(|it| it.too_long_in_words(&number, &named)));
    Ok(plan)
}

/// What stands for a material of which the design lists no boards.
fn without_boards(asked: &Asked<'_>, material: &str, parts: Vec<usize>) -> Lot {
    let area = |part: &Part| part.cut.length.mm() * part.cut.width.mm() / 1e6;
    Lot {
        material: material.to_owned(),
        which: String::new(),
        boards: Vec::new(),
        quality: Quality::NoBoards(parts.iter().filter_map(|it| asked.part(*it)).map(area).sum()),
        missing: parts,
        after_others: false,
        spare: Vec::new(),
    }
}

/// The matched rows; a part that two of them ask for is in the first.
fn rows(design: &Resolved, parts: &[Part]) -> Vec<MatchedRow> {
    let mut taken = BTreeSet::new();
    let mut rows = matched_rows(design, parts);
    for row in &mut rows {
        row.parts.retain(|it| taken.insert(*it));
    }
    rows
}

fn missing_area(asked: &Asked<'_>, lots: &[Lot]) -> i128 {
    let area = |part: &Part| i128::from(part.cut.length.nm()) * i128::from(part.cut.width.nm());
    lots.iter().flat_map(|it| &it.missing).filter_map(|it| asked.part(*it)).map(area).sum()
}

/// Whether it is proven of the whole stock that not all parts of a material can be cut: that parts which no other boards serve
/// cannot come out of the boards that serve a missing one, even if these served every one of them.
fn is_short(
    asked: &Asked<'_>,
    material: &str,
    parts: &[usize],
    missing: &BTreeSet<usize>,
) -> Result<bool, CuttingError> {
    let whole = Pool::new(asked.design, material);
    let serving = |part: usize| -> BTreeSet<usize> {
        let sources = 0..whole.sources.len();
        sources.filter(|&it| asked.part(part).is_some_and(|part| whole.serves(it, part))).collect()
    };
    let options = PlanOptions { effort: PROOF, spare: None, ..*asked.options };
    let asked = Asked { options: &options, ..*asked };
    let sets: BTreeSet<BTreeSet<usize>> = missing.iter().map(|&it| serving(it)).collect();
    for sources in sets {
        let only: Vec<usize> = parts.iter().copied().filter(|&it| serving(it).is_subset(&sources)).collect();
        let sources: Vec<usize> = sources.into_iter().collect();
        let found = lot(&asked, &mut whole.clone(), material, &sources, &only, &mut [])?;
        if matches!(found.quality, Quality::Impossible(_)) {
            return Ok(true);
        }
    }
    Ok(false)
}

/// In which order boards that serve only some of the parts take theirs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Turns {
    /// As the design lists them.
    Listed,
    /// Twice over, whatever serves the fewest open parts next; at first only with parts that nothing else in the workshop serves.
    NeededFirst,
}

/// The lots of one material in the better order of turns: least missing, then least of what the design keeps least.
fn best_of(asked: &Asked<'_>, material: &str, parts: &[usize], prefer: bool) -> Result<Vec<Lot>, CuttingError> {
    let mut best = of_material(asked, material, parts, prefer, Turns::Listed)?;
    let choosy = asked.design.boards.iter().filter(|it| it.material == material && !it.only_for.is_empty());
    if choosy.count() < 2 {
        return Ok(best);
    }
    let worth = |lots: &[Lot]| (missing_area(asked, lots), spent(asked, material, lots));
    if worth(&best) > (0, 0) {
        let other = of_material(asked, material, parts, prefer, Turns::NeededFirst)?;
        if worth(&other) < worth(&best) {
            best = other;
        }
    }
    Ok(best)
}

/// What the lots of a material take of that which the design keeps least: money for boards that are bought (their mm² where any
/// that could be bought has no price), number of all boards, or their mm².
fn spent(asked: &Asked<'_>, material: &str, lots: &[Lot]) -> i128 {
    let design = asked.design;
    let whole = lots.iter().flat_map(|it| &it.boards).filter(|it| it.rest.is_none());
    let boards = whole.filter_map(|it| design.boards.get(it.board));
    let bought = |it: &&Board<Length>| it.quantity.is_none();
    let area = |it: &Board<Length>| (it.size.0.mm() * it.size.1.mm()).round() as i128;
    match design.saw.least {
        Least::Boards => boards.count() as i128,
        Least::Area => boards.map(area).sum(),
        Least::Buying => {
            let offered = design.boards.iter().filter(|it| it.material == material).filter(bought);
            let priced = offered.clone().all(|it| it.price.is_some());
            let price = |it: &Board<Length>| (it.price.unwrap_or(0.0).clamp(0.0, 1e12) * 100.0).round() as i128;
            boards.filter(bought).map(|it| if priced { price(it) } else { area(it) }).sum()
        }
    }
}

/// The stock families that parts are bound to.
fn families<'a>(asked: &Asked<'a>, parts: &[usize]) -> BTreeSet<&'a str> {
    parts.iter().filter_map(|it| binds(asked.design, asked.part(*it)?)).collect()
}

/// The lots of one material.
fn of_material(
    asked: &Asked<'_>,
    material: &str,
    parts: &[usize],
    prefer: bool,
    turns: Turns,
) -> Result<Vec<Lot>, CuttingError> {
    let mut pool = Pool::new(asked.design, material);
    let mut lots = Vec::new();
    let family = |index: usize| asked.part(index).and_then(|part| binds(asked.design, part));
    for name in families(asked, parts) {
        let bound: Vec<usize> = parts.iter().copied().filter(|it| family(*it) == Some(name)).collect();
        stage(asked, &mut pool, material, &format!("only {name}"), &bound, (prefer, turns), &mut lots)?;
    }
    let free: Vec<usize> = parts.iter().copied().filter(|it| family(*it).is_none()).collect();
    if !free.is_empty() {
        stage(asked, &mut pool, material, "", &free, (prefer, turns), &mut lots)?;
    }
    Ok(lots)
}

/// The lots for parts that may use the same family: first from boards that serve only some of them, then from boards as
/// wide as a part (if that is preferred), then from all.
fn stage(
    asked: &Asked<'_>,
    pool: &mut Pool<'_>,
    material: &str,
    which: &str,
    parts: &[usize],
    (prefer, turns): (bool, Turns),
    lots: &mut Vec<Lot>,
) -> Result<(), CuttingError> {
    let mut open = parts.to_vec();
    let before = lots.len();
    let serves = |pool: &Pool<'_>, source: usize, part: usize| {
        pool.left(source) && asked.part(part).is_some_and(|it| pool.serves(source, it))
    };
    let mut first =
        |pool: &mut Pool<'_>, source: usize, open: &mut Vec<usize>, fits: &dyn Fn(&Pool<'_>, usize) -> bool| {
            let mut may: Vec<usize> =
                open.iter().copied().filter(|&it| serves(pool, source, it) && fits(pool, it)).collect();
            // A matched row goes as a whole.
            let all = may.clone();
            may.retain(|&it| asked.row(it).is_none_or(|row| row.parts.iter().all(|other| all.contains(other))));
            if may.is_empty() {
                return Ok(());
            }
            let mut found = lot(asked, pool, material, &[source], &may, lots)?;
            let left: BTreeSet<usize> = std::mem::take(&mut found.missing).into_iter().collect();
            open.retain(|it| !may.contains(it) || left.contains(it));
            if !found.boards.is_empty() {
                found.quality = Quality::TakenFirst;
                let name = pool.board(source).map(|it| it.name.clone()).unwrap_or_default();
                found.which = if which.is_empty() { format!("from {name}") } else { format!("{which}, from {name}") };
                lots.push(found);
            }
            Ok(())
        };
    let serves_all = |pool: &Pool<'_>, source: usize| {
        parts.iter().all(|&it| asked.part(it).is_some_and(|it| pool.serves(source, it)))
    };
    let takes = |pool: &Pool<'_>, source: usize, part: usize| {
        serves(pool, source, part) && asked.part(part).is_some_and(|it| pool.fits(source, it))
    };
    for only_needed in [true, false].into_iter().filter(|it| !it || turns == Turns::NeededFirst) {
        // The rests of such boards come behind them and are tried in their turn.
        let mut tried = BTreeSet::new();
        loop {
            let waiting =
                (0..pool.sources.len()).filter(|it| !tried.contains(it) && pool.left(*it) && !serves_all(pool, *it));
            let next = match turns {
                Turns::Listed => waiting.min(),
                Turns::NeededFirst => {
                    waiting.min_by_key(|&it| open.iter().filter(|&&part| takes(pool, it, part)).count())
                }
            };
            let Some(source) = next else { break };
            tried.insert(source);
            first(pool, source, &mut open, &|pool, part| {
                let mut others = (0..pool.sources.len()).filter(|&it| it != source && pool.owned(it));
                !only_needed || !others.any(|it| takes(pool, it, part))
            })?;
        }
    }
    if prefer {
        for source in (0..pool.sources.len()).filter(|&it| pool.owned(it)).collect::<Vec<_>>() {
            let lengthwise = |pool: &Pool<'_>, part: usize| {
                // What is matched is cut as one strip.
                if asked.row(part).is_some() {
                    return false;
                }
                let (Some(part), Some(source)) = (asked.part(part), pool.sources.get(source)) else { return false };
                matches!(source.usable.good.as_slice(), [(x, y, _, width)]
                    if *x == Length::ZERO && *y == Length::ZERO && *width == source.usable.size.1 && part.cut.width == *width)
            };
            first(pool, source, &mut open, &lengthwise)?;
        }
    }
    if !open.is_empty() {
        let all: Vec<usize> =
            (0..pool.sources.len()).filter(|&it| parts.iter().all(|&part| serves(pool, it, part))).collect();
        let mut found = lot(asked, pool, material, &all, &open, lots)?;
        which.clone_into(&mut found.which);
        // What the boards before might have given to others is not part of the proof.
        let alone = if which.is_empty() { lots.is_empty() } else { lots.len() == before };
        found.after_others = !alone;
        if let Quality::Impossible(short) = found.quality
            && !alone
        {
            found.quality = Quality::Unplaced(short);
        }
        lots.push(found);
    }
    Ok(())
}

/// Which boards are left out, and why.
fn notes(design: &Resolved, parts: &[Part]) -> Vec<String> {
    let mut notes = Vec::new();
    for board in &design.boards {
        let Some(material) = design.materials.get(&board.material) else { continue };
        let wanted = parts.iter().any(|part| part.material == board.material);
        let serves_some = parts.iter().any(|part| part.material == board.material && serves(board, design, part.role));
        if !wanted || serves_some {
            continue;
        }
        let named = |length: Length| design.unit.format_named(length, DecimalMark::Point);
        if let Some(thickness) = board.thickness.filter(|it| (*it - material.thickness).abs() > Length::from_um(300)) {
            notes.push(format!(
                "{} is left out: it measures {}, {} is {} thick; list its own thickness as a material to use it",
                board.name,
                named(thickness),
                board.material,
                named(material.thickness)
            ));
        } else if !board.finish.is_empty() && board.finish != material.finish && board.only_for.is_empty() {
            notes.push(format!(
                "{} is left out: its finish is {}; name the roles that it may serve to use it",
                board.name, board.finish
            ));
        }
    }
    notes
}
