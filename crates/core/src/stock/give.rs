//! What a board gives: its size without the banding that is kept, its good rectangles, and the parts that it may serve.

use crate::assembly::Part;
use crate::design::{Board, BoardEdge, Resolved, Role};
use crate::length::Length;

/// How far a board's measured thickness may be from its material's: 0.3 mm (common practice; the tolerance of faced
/// particleboard in EN 14323, from memory).
const THICKNESS_PLAY: Length = Length::from_um(300);

/// A banded edge that is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptEdge {
    /// The edge.
    pub edge: BoardEdge,
    /// The name of the banding.
    pub band: String,
    /// Its thickness.
    pub thickness: Length,
}

/// The part of a board that can be used, in a frame that begins inside kept banding.
#[derive(Clone, Debug, PartialEq)]
pub struct Usable {
    /// Length and width without the banding that is kept.
    pub size: (Length, Length),
    /// Good rectangles: from the start, from the near edge, length, width.
    pub good: Vec<(Length, Length, Length, Length)>,
    /// The banding that is kept.
    pub kept: Vec<KeptEdge>,
}

/// What a board gives. Banding on an edge with a spoilt strip goes with the strip.
#[must_use]
pub fn usable(board: &Board<Length>, design: &Resolved) -> Usable {
    let (start, end, near, far) = board.spoilt.unwrap_or_default();
    let strip = |edge: BoardEdge| match edge {
        BoardEdge::Start => start,
        BoardEdge::End => end,
        BoardEdge::Near => near,
        BoardEdge::Far => far,
    };
    let kept: Vec<KeptEdge> = (board.banded.iter())
        .filter(|it| strip(it.edge) == Length::ZERO)
        .filter_map(|it| {
            let thickness = design.banding.get(&it.band)?.thickness;
            Some(KeptEdge { edge: it.edge, band: it.band.clone(), thickness })
        })
        .collect();
    let off = |edge: BoardEdge| kept.iter().filter(|it| it.edge == edge).map(|it| it.thickness).sum::<Length>();
    let (x, y) = (off(BoardEdge::Start), off(BoardEdge::Near));
    let size = (board.size.0 - x - off(BoardEdge::End), board.size.1 - y - off(BoardEdge::Far));
    // From the start, to the end, from the near, to the far edge, all in the inner frame.
    let whole = (start, size.0 - end, near, size.1 - far);
    let clipped = |(from, low, length, width): (Length, Length, Length, Length)| {
        let (x0, x1) = ((from - x).max(whole.0), (from + length - x).min(whole.1));
        let (y0, y1) = ((low - y).max(whole.2), (low + width - y).min(whole.3));
        (x1 > x0 && y1 > y0).then_some((x0, y0, x1 - x0, y1 - y0))
    };
    let good = if board.good.is_empty() {
        vec![(whole.0, whole.2, whole.1 - whole.0, whole.3 - whole.2)]
    } else {
        board.good.iter().filter_map(|it| clipped(*it)).collect()
    };
    Usable { size, good, kept }
}

/// Whether a board may serve a role of a material: its thickness is near enough, and its finish is the material's unless
/// the board names the role.
#[must_use]
pub fn serves(board: &Board<Length>, design: &Resolved, role: Role) -> bool {
    let Some(material) = design.materials.get(&board.material) else { return false };
    let near = board.thickness.is_none_or(|it| (it - material.thickness).abs() <= THICKNESS_PLAY);
    let named = board.only_for.contains(&role);
    let like = board.finish.is_empty() || board.finish == material.finish;
    near && (named || (board.only_for.is_empty() && like))
}

/// The stock family that a part must come from: what the construction round its bay binds its role to.
#[must_use]
pub fn binds<'d>(design: &'d Resolved, part: &Part) -> Option<&'d str> {
    family_of(design, &part.bay, part.role)
}

/// The stock family that panels of a role in a bay must come from.
#[must_use]
pub fn family_of<'d>(design: &'d Resolved, bay: &str, role: Role) -> Option<&'d str> {
    let whole = &design.carcass.construction;
    let round = innermost(&design.carcass.bay, bay, whole).unwrap_or(whole);
    round.from_stock.get(&role).map(String::as_str)
}

/// The construction that holds for a bay: that of the innermost box round it which has one of its own.
fn innermost<'d>(
    bay: &'d crate::design::Bay<Length>,
    name: &str,
    outer: &'d crate::design::Construction<Length>,
) -> Option<&'d crate::design::Construction<Length>> {
    use crate::design::Inside;
    let own = match &bay.inside {
        Inside::Boxed { shell, .. } => shell.construction.as_ref().unwrap_or(outer),
        _ => outer,
    };
    if bay.name == name {
        return Some(own);
    }
    match &bay.inside {
        Inside::Across { bays, .. } | Inside::Up { bays, .. } => bays.iter().find_map(|it| innermost(it, name, outer)),
        Inside::Boxed { bay, .. } => innermost(bay, name, own),
        _ => None,
    }
}
