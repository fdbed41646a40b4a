//! A cutting plan as data: boards with their parts, cuts in order, what remains, what is missing, and how good it is.
//!
//! Places are in the board's own frame: x along its length from the start, y along its width from the near edge, both from
//! the inside of banding that is kept.

use crate::assembly::PartEdge;
use crate::length::Length;

use super::{BarLot, KeptEdge};

/// The cutting plan of a whole piece.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CuttingPlan {
    /// Width of the saw cut.
    pub kerf: Length,
    /// What raw edges of new sheets lose.
    pub trim: Length,
    /// One after the other; boards bound to a family or kept for some roles before the rest of their material.
    pub lots: Vec<Lot>,
    /// One for each banding that is sold in bars and that some edge takes, in the order of [`super::banding_work`].
    pub bars: Vec<BarLot>,
    /// Boards that were left out, and why; strips that no bar gives: in words.
    pub notes: Vec<String>,
}

/// The plan for some parts of one material from some boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Lot {
    /// The name of the material.
    pub material: String,
    /// Which boards, where not all of the material: such as `only old sides`.
    pub which: String,
    /// The boards that are cut into.
    pub boards: Vec<CutBoard>,
    /// Indices of the parts that find no board in the end.
    pub missing: Vec<usize>,
    /// How good the plan is.
    pub quality: Quality,
    /// Whether earlier lots took boards or parts of the material first; what is proven then holds for the rest only.
    pub after_others: bool,
    /// What the boards of the lot forgive.
    pub spare: Vec<Spare>,
}

/// How good the plan of a lot is, as far as is proven.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quality {
    /// No plan is better.
    Best,
    /// At most so many per cent above the best possible; infinite where nothing is known.
    Within(f64),
    /// Not everything can be cut from this stock, and that is proven; area of the missing parts, m².
    Impossible(f64),
    /// Not everything was placed; that it cannot be done is not proven; area of the missing parts, m².
    Unplaced(f64),
    /// Taken first from boards that serve nothing else, or that give parts by crosscuts alone.
    TakenFirst,
    /// The design lists no boards of the material at all, so that there is nothing to plan; area of its parts, m².
    NoBoards(f64),
}

impl Quality {
    /// Whether parts are left without a board.
    #[must_use]
    pub const fn is_short(self) -> bool {
        matches!(self, Self::Impossible(_) | Self::Unplaced(_) | Self::NoBoards(_))
    }

    /// How near a plan that leaves nothing out is to the best one, in words.
    pub(super) fn nearness(self) -> String {
        match self {
            Self::Best => "proven best".to_owned(),
            Self::Within(percent) if percent.is_finite() => format!("at most {:.0} % off the best", percent.ceil()),
            _ => "the best found".to_owned(),
        }
    }
}

/// How many further copies of a part the boards that are cut into give.
#[derive(Clone, Debug, PartialEq)]
pub struct Spare {
    /// Indices of parts of one size.
    pub parts: Vec<usize>,
    /// From the offcuts, the plan left as it is.
    pub from_offcuts: u32,
    /// Where the boards are planned anew before the first cut; never fewer.
    pub planned_anew: u32,
}

/// One board that is cut into.
#[derive(Clone, Debug, PartialEq)]
pub struct CutBoard {
    /// Its name in the design; for the rest of a board that an earlier lot cut into, that board's name.
    pub name: String,
    /// Which of the equal boards, from 1.
    pub copy: u32,
    /// Index into the design's boards.
    pub board: usize,
    /// Set for the rest of a board that an earlier lot cut into: its number, from 1.
    pub rest: Option<u32>,
    /// Length and width, without banding that is kept.
    pub size: (Length, Length),
    /// Good rectangles: from the start, from the near edge, length, width.
    pub good: Vec<(Length, Length, Length, Length)>,
    /// Banding that is kept.
    pub kept: Vec<KeptEdge>,
    /// Where the parts lie.
    pub parts: Vec<PlacedPart>,
    /// The cuts in order, fence settings grouped.
    pub cuts: Vec<SawCut>,
    /// How often the fence is set.
    pub settings: usize,
    /// What remains, largest first.
    pub offcuts: Vec<Offcut>,
}

/// One part on a board.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPart {
    /// Index into the assembly's parts.
    pub part: usize,
    /// From the start of the board.
    pub x: Length,
    /// From its near edge.
    pub y: Length,
    /// Extent along the board's length.
    pub length: Length,
    /// Extent along the board's width.
    pub width: Length,
    /// Whether the part's length lies across the board's.
    pub turned: bool,
    /// Whether the board is as wide as the part, so that it needs only cutting to length.
    pub only_to_length: bool,
    /// Edges of the part that keep the board's banding and need none of their own.
    pub keeps: Vec<PartEdge>,
    /// How many edges carry old banding that must come off.
    pub old_banding: usize,
}

/// One cut of the saw.
#[derive(Clone, Debug, PartialEq)]
pub struct SawCut {
    /// Number in the order, from 1.
    pub number: usize,
    /// Number of the fence setting, from 1.
    pub setting: usize,
    /// Between fence and blade, kept banding at the fence included.
    pub fence: Length,
    /// Whether the cut runs along the board's length (a rip); else across it (a crosscut).
    pub rip: bool,
    /// What is cut.
    pub what: Workpiece,
    /// What comes off on both sides.
    pub into: (Workpiece, Workpiece),
    /// The saw cut on the board: from the start, from the near edge, extent along the length and along the width.
    pub slot: (Length, Length, Length, Length),
}

/// What is cut, or comes off the saw. It is written as sheets and lists call it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Workpiece {
    /// The whole board.
    Board,
    /// A part, by its number.
    Part(String),
    /// What is cut further, counted on each board.
    Piece(usize),
    /// What remains and is worth keeping.
    Offcut,
    /// What remains and is not.
    Waste,
    /// Nothing: the saw cut takes it all.
    Dust,
}

impl std::fmt::Display for Workpiece {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Board => f.write_str("the board"),
            Self::Part(number) => f.write_str(number),
            Self::Piece(count) => write!(f, "piece {count}"),
            Self::Offcut => f.write_str("offcut"),
            Self::Waste => f.write_str("waste"),
            Self::Dust => f.write_str("dust"),
        }
    }
}

/// A rectangle that remains.
#[derive(Clone, Debug, PartialEq)]
pub struct Offcut {
    /// From the start of the board.
    pub x: Length,
    /// From its near edge.
    pub y: Length,
    /// Along the board's length.
    pub length: Length,
    /// Along the board's width.
    pub width: Length,
    /// Whether it is good and large enough to keep.
    pub useful: bool,
    /// Whether a later lot cuts into it; it is then a board of its own there.
    pub taken: bool,
}

impl CuttingPlan {
    /// Whether the design lists no boards of any material that is cut: nothing could be planned yet.
    #[must_use]
    pub fn has_no_stock(&self) -> bool {
        !self.lots.is_empty() && self.lots.iter().all(|it| matches!(it.quality, Quality::NoBoards(_)))
    }

    /// The boards of all lots, in order.
    pub fn boards(&self) -> impl Iterator<Item = (&Lot, &CutBoard)> {
        self.lots.iter().flat_map(|lot| lot.boards.iter().map(move |board| (lot, board)))
    }

    /// Where a part lies, if it found a place.
    #[must_use]
    pub fn place_of(&self, part: usize) -> Option<(&CutBoard, &PlacedPart)> {
        self.boards().find_map(|(_, board)| Some((board, board.parts.iter().find(|it| it.part == part)?)))
    }

    /// How a banding is cut from bars, if it is sold so.
    #[must_use]
    pub fn bars_of(&self, banding: &str) -> Option<&BarLot> {
        self.bars.iter().find(|it| it.banding == banding)
    }

    /// Indices of the parts that find no board.
    #[must_use]
    pub fn missing(&self) -> Vec<usize> {
        self.lots.iter().flat_map(|lot| lot.missing.iter().copied()).collect()
    }
}

impl SawCut {
    /// What kind of cut it is: `trim` where no more than the raw edge of a new sheet comes off as waste, else `rip` along
    /// the board or `cross`.
    #[must_use]
    pub fn way(&self, trim: Length) -> &'static str {
        let is_waste = |it: &Workpiece| matches!(it, Workpiece::Waste | Workpiece::Dust);
        match self.rip {
            _ if (is_waste(&self.into.0) || is_waste(&self.into.1)) && self.fence <= trim => "trim",
            true => "rip",
            false => "cross",
        }
    }
}

impl CutBoard {
    /// What it is called on sheets: name, which of several, and whether it is a rest.
    #[must_use]
    pub fn title(&self) -> String {
        match self.rest {
            Some(rest) => format!("{} {}, rest {rest}", self.name, self.copy),
            None => format!("{} {}", self.name, self.copy),
        }
    }
}

impl Lot {
    /// How good the plan is, in words; `number` names the missing parts.
    #[must_use]
    pub fn quality_in_words(&self, number: &dyn Fn(usize) -> String) -> String {
        let missing = || self.missing.iter().map(|it| number(*it)).collect::<Vec<_>>().join(", ");
        match self.quality {
            Quality::Best if self.after_others => "proven best for what was left".to_owned(),
            Quality::Best | Quality::Within(_) => self.quality.nearness(),
            Quality::Impossible(short) => format!("impossible: {short:.2} m² short, missing: {}", missing()),
            Quality::Unplaced(short) => format!("no plan found: {short:.2} m² without a place, missing: {}", missing()),
            Quality::TakenFirst => "taken first".to_owned(),
            Quality::NoBoards(area) => format!("no boards entered yet for {area:.2} m² of parts"),
        }
    }
}
