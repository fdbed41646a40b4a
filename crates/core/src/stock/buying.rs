//! What must be bought beyond the stock.

use std::collections::BTreeMap;

use super::{CuttingPlan, banding_work};
use crate::assembly::{Assembly, FittingKind, Hole, JoinedBy, PartFace};
use crate::design::Resolved;
use crate::joinery::holes;
use crate::length::Length;

/// The buying list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Buying {
    /// Sheets, then banding, fittings, dowels, screws, glue.
    pub lines: Vec<BuyingLine>,
    /// Sum of what has a price.
    pub total: f64,
    /// How many lines have no price and are not in the sum.
    pub without_price: usize,
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct BuyingLine {
    /// The kind of goods.
    pub kind: Goods,
    /// The name in the design.
    pub what: String,
    /// Size, finish or what it is.
    pub notes: String,
    /// How much the piece needs.
    pub needed: f64,
    /// The unit of `needed` and of the pack.
    pub unit: Counted,
    /// What is in hand.
    pub in_hand: f64,
    /// What one pack holds.
    pub pack: f64,
    /// How many packs to buy.
    pub packs: u32,
    /// Price of one pack.
    pub price: Option<f64>,
}

/// Kinds of goods.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goods {
    /// Sheets that are bought as needed.
    Sheet,
    /// Boards for parts that the stock does not give.
    Board,
    /// Edge banding from the roll.
    Banding,
    /// Edge banding that is sold in bars.
    BandingBars,
    /// Hardware.
    Fitting,
    /// Dowels.
    Dowels,
    /// Screws.
    Screws,
    /// Glue.
    Glue,
}

impl Goods {
    /// The word for it in lists.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Board => "board",
            Self::Banding => "banding",
            Self::BandingBars => "banding in bars",
            Self::Fitting => "fitting",
            Self::Dowels => "dowels",
            Self::Screws => "screws",
            Self::Glue => "glue",
        }
    }
}

/// What goods are counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// One by one.
    Pieces,
    /// Metres.
    Metres,
    /// Grams.
    Grams,
}

impl Counted {
    /// The word or symbol for it in lists.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pieces => "pieces",
            Self::Metres => "m",
            Self::Grams => "g",
        }
    }
}

impl BuyingLine {
    /// What the line costs.
    #[must_use]
    pub fn cost(&self) -> Option<f64> {
        self.price.map(|price| price * f64::from(self.packs))
    }
}

/// Glue on a joint face or under a band, g/m²: 150 on one face (common practice, as PVAc glues are spread; see the maker's sheet).
const GLUE_G_PER_M2: f64 = 150.0;
/// Strips are bought with so much more: 10 % (common practice).
const BANDING_ALLOWANCE: f64 = 1.10;

/// What must be bought: sheets of kinds that are bought as needed, boards for parts that no stock gives, banding with an
/// allowance or in bars as planned, fittings, dowels, screws and glue, in packs as the design's supplies say.
#[must_use]
pub fn buying(design: &Resolved, assembly: &Assembly, plan: &CuttingPlan) -> Buying {
    let mut lines = Vec::new();
    for (index, board) in design.boards.iter().enumerate().filter(|(_, it)| it.quantity.is_none()) {
        let count = plan.boards().filter(|(_, it)| it.board == index && it.rest.is_none()).count();
        if count > 0 {
            let size = |length: Length| design.unit.format_named(length, crate::unit::DecimalMark::Point);
            lines.push(BuyingLine {
                kind: Goods::Sheet,
                what: board.name.clone(),
                notes: format!("{}, {} x {}", board.material, size(board.size.0), size(board.size.1)),
                needed: count as f64,
                unit: Counted::Pieces,
                in_hand: 0.0,
                pack: 1.0,
                packs: u32::try_from(count).unwrap_or(u32::MAX),
                price: board.price,
            });
        }
    }
    let mut missing: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for index in plan.missing() {
        if let Some(part) = assembly.parts.get(index) {
            missing.entry(&part.material).or_default().push(index);
        }
    }
    for (material, parts) in missing {
        let parts: Vec<_> = parts.iter().filter_map(|it| assembly.parts.get(*it)).collect();
        let area: f64 = parts.iter().map(|it| it.cut.length.mm() * it.cut.width.mm() / 1e6).sum();
        let numbers = parts.iter().map(|it| it.number.as_str()).collect::<Vec<_>>().join(", ");
        lines.push(BuyingLine {
            kind: Goods::Board,
            what: material.to_owned(),
            notes: format!("for {numbers}: {area:.2} m² that the stock does not give"),
            needed: parts.len() as f64,
            unit: Counted::Pieces,
            in_hand: 0.0,
            pack: 1.0,
            packs: u32::try_from(parts.len()).unwrap_or(u32::MAX),
            price: None,
        });
    }
    let line = |kind: Goods, what: &str, notes: String, needed: f64, unit: Counted| {
        let supply = design.supplies.get(what);
        let (pack, in_hand) = supply.map_or((1.0, 0.0), |it| (it.pack, it.in_hand));
        // A hair under a whole pack is a whole pack, not one more.
        let packs = ((needed - in_hand).max(0.0) / pack - 1e-9).ceil().max(0.0) as u32;
        let price = supply.and_then(|it| it.price);
        BuyingLine { kind, what: what.to_owned(), notes, needed, unit, in_hand, pack, packs, price }
    };
    let banding = banding_work(assembly, Some(plan));
    let finish = |name: &str| design.banding.get(name).map(|it| it.finish.clone()).unwrap_or_default();
    for lot in banding.iter().filter(|it| plan.bars_of(&it.name).is_none()) {
        let metres = (lot.strips.mm() / 1000.0 * BANDING_ALLOWANCE * 10.0).ceil() / 10.0;
        lines.push(line(Goods::Banding, &lot.name, finish(&lot.name), metres, Counted::Metres));
    }
    for lot in &plan.bars {
        let named = |length: Length| design.unit.format_named(length, crate::unit::DecimalMark::Point);
        let notes = match finish(&lot.banding) {
            finish if finish.is_empty() => format!("in bars of {}", named(lot.sold_in)),
            finish => format!("{finish}, in bars of {}", named(lot.sold_in)),
        };
        lines.push(line(Goods::BandingBars, &lot.banding, notes, lot.bars.len() as f64, Counted::Pieces));
        // The usual bars, their price and those in hand are of no use for longer strips.
        if let Some(longest) = lot.too_long.iter().map(|it| it.strip).max() {
            let notes = match lot.too_long.len() {
                1 => format!("1 strip of {}: buy a longer bar, or join it", named(longest)),
                count => format!("{count} strips up to {}: buy longer bars, or join them", named(longest)),
            };
            lines.push(BuyingLine {
                kind: Goods::BandingBars,
                what: lot.banding.clone(),
                notes,
                needed: lot.too_long.len() as f64,
                unit: Counted::Pieces,
                in_hand: 0.0,
                pack: 1.0,
                packs: u32::try_from(lot.too_long.len()).unwrap_or(u32::MAX),
                price: None,
            });
        }
    }
    let mut glued = 0.0;
    for lot in &banding {
        for step in &lot.steps {
            let thickness = assembly.parts.get(step.part).map_or(0.0, |it| it.finished.thickness.mm());
            glued += step.strip.mm() * thickness / 1e6;
        }
    }
    // A fitting of the design may be called like what the program adds by itself.
    let mut fittings: BTreeMap<(&str, FittingKind), (String, u32)> = BTreeMap::new();
    for fitting in &assembly.fittings {
        let entry = fittings.entry((&fitting.name, fitting.kind)).or_insert_with(|| (fitting.what.clone(), 0));
        entry.1 += fitting.count;
    }
    for ((name, _), (what, count)) in fittings {
        lines.push(line(Goods::Fitting, name, what, f64::from(count), Counted::Pieces));
    }
    let mut fixings: BTreeMap<String, (Goods, usize)> = BTreeMap::new();
    for (index, joint) in assembly.joints.iter().enumerate() {
        let Some(part) = assembly.parts.get(joint.edge_part) else { continue };
        let in_edge = |it: &&Hole| it.joint == Some(index) && matches!(it.face, PartFace::Edge(_));
        let (screws, others): (Vec<&Hole>, Vec<&Hole>) = holes(part).filter(in_edge).partition(|it| it.is_for_screw());
        let contact = crate::geometry::Axis::ALL.map(|axis| joint.contact.size(axis).mm());
        let mut sides: Vec<f64> = contact.into_iter().filter(|it| *it > 0.0).collect();
        sides.truncate(2);
        let area = sides.iter().product::<f64>() / 1e6;
        match &joint.kind {
            JoinedBy::Dowels { diameter, length, .. } => {
                let name = format!("dowel {:.0}x{:.0}", diameter.mm(), length.mm());
                fixings.entry(name).or_insert((Goods::Dowels, 0)).1 += others.len();
                glued += area;
            }
            JoinedBy::Rebate { depth, .. } => {
                glued += area + sides.iter().copied().fold(0.0, f64::max) * depth.mm() / 1e6;
            }
            _ => {}
        }
        fixings.entry("screw".to_owned()).or_insert((Goods::Screws, 0)).1 += screws.len();
    }
    for (name, (kind, count)) in fixings.iter().filter(|(_, it)| it.1 > 0) {
        lines.push(line(*kind, name, String::new(), *count as f64, Counted::Pieces));
    }
    if glued > 0.0 {
        let notes = "wood glue for dowelled joints and banding".to_owned();
        lines.push(line(
            Goods::Glue,
            Goods::Glue.word(),
            notes,
            (glued * GLUE_G_PER_M2 / 10.0).ceil() * 10.0,
            Counted::Grams,
        ));
    }
    lines.retain(|it| it.needed > 0.0);
    let total = lines.iter().filter_map(BuyingLine::cost).sum();
    let without_price = lines.iter().filter(|it| it.packs > 0 && it.price.is_none()).count();
    Buying { lines, total, without_price }
}
