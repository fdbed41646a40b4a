//! A board of an answer in the words of the core.

use casewright_core::Length;
use casewright_core::assembly::PartEdge;
use casewright_core::design::BoardEdge;
use casewright_core::stock::{CutBoard, Offcut, PlacedPart, SawCut, Workpiece};
use casewright_cutting::{self as cutting, Axis, Rect};

use crate::lot::Asked;
use crate::pool::Source;
use crate::words::{Names, workpieces};

const fn nm(value: i64) -> Length {
    Length::from_nm(value)
}

/// The board as cut; `part_of` tells which part a copy of a piece is.
pub(crate) fn cut_board(
    asked: &Asked<'_>,
    source: &Source,
    name: &str,
    found: &cutting::CutBoard,
    part_of: &dyn Fn(usize, u32) -> Option<usize>,
) -> CutBoard {
    let (copy, rest) = match source.rest {
        Some(rest) => (rest.copy, Some(rest.number)),
        None => (source.used + found.copy + 1, None),
    };
    let parts = found
        .placements
        .iter()
        .filter_map(|it| part_of(it.piece, it.copy).map(|part| placed(asked, source, it, part)))
        .collect();
    let offcuts = (found.offcuts.iter())
        .map(|it| Offcut {
            x: nm(it.rect.x),
            y: nm(it.rect.y),
            length: nm(it.rect.size.width),
            width: nm(it.rect.size.height),
            useful: it.useful,
            taken: false,
        })
        .collect();
    CutBoard {
        name: name.to_owned(),
        copy,
        board: source.board,
        rest,
        size: source.usable.size,
        good: source.usable.good.clone(),
        kept: source.usable.kept.clone(),
        parts,
        cuts: cuts(asked, source, found, part_of),
        settings: found.settings,
        offcuts,
    }
}

/// Which edges of the board a rectangle lies at.
fn at_edges(source: &Source, rect: &Rect) -> [(BoardEdge, bool); 4] {
    let (length, width) = (source.usable.size.0.nm(), source.usable.size.1.nm());
    [
        (BoardEdge::Start, rect.x == 0),
        (BoardEdge::End, rect.right() == length),
        (BoardEdge::Near, rect.y == 0),
        (BoardEdge::Far, rect.top() == width),
    ]
}

fn placed(asked: &Asked<'_>, source: &Source, it: &cutting::Placement, index: usize) -> PlacedPart {
    let mut keeps: Vec<PartEdge> = Vec::new();
    let mut old_banding = 0;
    let bands = asked.part(index).map_or(&[][..], |part| part.bands.as_slice());
    for kept in &source.usable.kept {
        if !at_edges(source, &it.rect).contains(&(kept.edge, true)) {
            continue;
        }
        // A part can be turned end for end and face about, so that either of two opposite edges lies at the board's.
        let along = matches!(kept.edge, BoardEdge::Near | BoardEdge::Far) != it.turned;
        let wanted = if along { [PartEdge::Near, PartEdge::Far] } else { [PartEdge::Start, PartEdge::End] };
        let edge = bands
            .iter()
            .find(|band| wanted.contains(&band.edge) && band.name == kept.band && !keeps.contains(&band.edge));
        match edge {
            Some(band) => keeps.push(band.edge),
            None => old_banding += 1,
        }
    }
    PlacedPart {
        part: index,
        x: nm(it.rect.x),
        y: nm(it.rect.y),
        length: nm(it.rect.size.width),
        width: nm(it.rect.size.height),
        turned: it.turned,
        only_to_length: it.rect.y == 0 && it.rect.size.height == source.usable.size.1.nm(),
        keeps,
        old_banding,
    }
}

fn cuts(
    asked: &Asked<'_>,
    source: &Source,
    found: &cutting::CutBoard,
    part_of: &dyn Fn(usize, u32) -> Option<usize>,
) -> Vec<SawCut> {
    let kerf = asked.saw.kerf;
    let rects = workpieces(found, kerf);
    let names = Names::new(asked, found, &rects, part_of);
    let kept =
        |edge: BoardEdge| source.usable.kept.iter().filter(|it| it.edge == edge).map(|it| it.thickness).sum::<Length>();
    let mut cuts = Vec::new();
    for cut in &found.cuts {
        let Some(rect) = rects.get(&cut.workpiece) else { continue };
        // The fence is at the low edge, unless what is kept lies above the cut.
        let (low, high) = match cut.across {
            Axis::X => (BoardEdge::Start, BoardEdge::End),
            Axis::Y => (BoardEdge::Near, BoardEdge::Far),
        };
        let edge = if cut.fence == cut.at { low } else { high };
        let banding = if at_edges(source, rect).contains(&(edge, true)) { kept(edge) } else { Length::ZERO };
        let begin = rect.low(cut.across) + cut.at;
        let slot = rect.slice(cut.across, begin, begin + kerf);
        cuts.push(SawCut {
            number: cut.number,
            setting: cut.setting,
            fence: nm(cut.fence) + banding,
            rip: cut.across == Axis::Y,
            what: if cut.workpiece == 0 { Workpiece::Board } else { Workpiece::Piece(cut.workpiece) },
            into: (names.of(cut.low), names.of(cut.high)),
            slot: (nm(slot.x), nm(slot.y), nm(slot.size.width), nm(slot.size.height)),
        });
    }
    // Banding at the fence parts cuts that would share a setting.
    let mut setting = 0;
    let mut last: Option<(usize, Length)> = None;
    for cut in &mut cuts {
        if last != Some((cut.setting, cut.fence)) {
            setting += 1;
        }
        last = Some((cut.setting, cut.fence));
        cut.setting = setting;
    }
    cuts
}
