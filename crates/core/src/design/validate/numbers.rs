//! Numbers of a design that are no lengths: masses, densities, shares, prices, angles and counts.

use super::{Check, bays::each_bay};
use crate::{
    design::{Fitting, Holding, Inside, SagGrowth, SagLimit, TiltStop},
    text::FieldPath,
};

/// The most loose shelves in one bay.
const MOST_SHELVES: u32 = 100;

/// A range of numbers, with or without its lower end.
struct Possible {
    what: &'static str,
    unit: &'static str,
    least: f64,
    least_counts: bool,
    most: f64,
}

const MASS: Possible = Possible { what: "a mass", unit: " kg", least: 0.0, least_counts: true, most: 2_000.0 };
const MOMENT: Possible = Possible { what: "a moment", unit: " N m", least: 0.0, least_counts: true, most: 500.0 };
const FORCE: Possible = Possible { what: "a force", unit: " N", least: 0.0, least_counts: false, most: 10_000.0 };
const LOAD: Possible = Possible { what: "a load class", unit: " kg", least: 0.0, least_counts: false, most: 2_000.0 };
const DENSITY: Possible =
    Possible { what: "a density", unit: " kg/m³", least: 50.0, least_counts: true, most: 3_000.0 };
const MODULUS: Possible =
    Possible { what: "a modulus of elasticity", unit: " MPa", least: 100.0, least_counts: true, most: 100_000.0 };
const PRICE: Possible = Possible { what: "a price", unit: "", least: 0.0, least_counts: true, most: 1e9 };
const PACK: Possible = Possible { what: "a pack", unit: "", least: 0.0, least_counts: false, most: 1e6 };
const IN_HAND: Possible = Possible { what: "what is in hand", unit: "", least: 0.0, least_counts: true, most: 1e6 };
const SHARE: Possible = Possible { what: "a share", unit: "", least: 0.0, least_counts: false, most: 1_000.0 };
const FREE: Possible = Possible { what: "a free share", unit: "", least: 0.0, least_counts: false, most: 1.0 };
const SAG: Possible =
    Possible { what: "a divisor of the span", unit: "", least: 20.0, least_counts: true, most: 5_000.0 };
const GROWTH: Possible = Possible { what: "a growth of sag", unit: "", least: 1.0, least_counts: true, most: 10.0 };
const TILT: Possible = Possible { what: "a tilting angle", unit: "°", least: 0.0, least_counts: false, most: 90.0 };
const FLAP: Possible =
    Possible { what: "the opening angle of a flap", unit: "°", least: 0.0, least_counts: false, most: 180.0 };
/// A leaf folds back against the wall at most; which way it opens is the sign.
const SWING: Possible =
    Possible { what: "the swing of a door", unit: "°", least: -270.0, least_counts: true, most: 270.0 };
const LID: Possible = Possible { what: "the start of a lid", unit: "°", least: 0.0, least_counts: true, most: 90.0 };
const HINGE: Possible = Possible { what: "an opening angle", unit: "°", least: 0.0, least_counts: false, most: 270.0 };

impl Check<'_, '_> {
    fn number(&mut self, path: &FieldPath, value: f64, possible: &Possible) {
        let Possible { what, unit, least, least_counts, most } = *possible;
        let above = if least_counts { value >= least } else { value > least };
        // Not a number fails both comparisons.
        if !(above && value <= most) {
            let from = if least_counts { format!("from {least}") } else { format!("above {least}") };
            self.fault(
                path,
                format!("{value}{unit} is not possible for {what}"),
                format!("write a number {from} up to {most}"),
            );
        }
    }

    pub(super) fn numbers(&mut self) {
        let root = FieldPath::root();
        let design = self.design;
        for (name, thing) in &design.things {
            let path = root.field("things").key(name);
            self.number(&path.field("mass_kg"), thing.mass_kg, &MASS);
            self.number(&path.field("load_kg"), thing.load_kg, &MASS);
        }
        for (name, material) in &design.materials {
            let path = root.field("materials").key(name);
            let values =
                [("density_kg_m3", material.density_kg_m3, &DENSITY), ("modulus_mpa", material.modulus_mpa, &MODULUS)];
            for (field, value, possible) in values {
                if let Some(value) = value {
                    self.number(&path.field(field), value, possible);
                }
            }
        }
        for (i, obstacle) in design.site.obstacles.iter().enumerate() {
            let Some(swing) = &obstacle.swing else { continue };
            let path = root.field("site").field("obstacles").index(i).field("swing").field("opens_deg");
            self.number(&path, swing.opens_deg, &SWING);
            if swing.opens_deg == 0.0 {
                let mend = "write how far it opens, or leave out `swing` for a door that stays shut";
                self.fault(&path, "a door that swings by 0° does not open", mend);
            }
        }
        if let Some(load) = design.carcass.stand.load_kg() {
            self.number(&root.field("carcass").field("stand").field("load_kg"), load, &LOAD);
        }
        for (i, opening) in design.carcass.openings.iter().enumerate() {
            self.number(&root.field("carcass").field("openings").index(i).field("free"), opening.free, &FREE);
        }
        if let SagLimit::Span(share) = design.assumed.sag {
            self.number(&root.field("assumed").field("sag"), share, &SAG);
        }
        if let SagGrowth::Times(factor) = design.assumed.growth {
            self.number(&root.field("assumed").field("growth"), factor, &GROWTH);
        }
        for (i, board) in design.boards.iter().enumerate() {
            if let Some(price) = board.price {
                self.number(&root.field("boards").index(i).field("price"), price, &PRICE);
            }
        }
        for (name, supply) in &design.supplies {
            let path = root.field("supplies").key(name);
            self.number(&path.field("pack"), supply.pack, &PACK);
            self.number(&path.field("in_hand"), supply.in_hand, &IN_HAND);
            if let Some(price) = supply.price {
                self.number(&path.field("price"), price, &PRICE);
            }
        }
        for (name, fitting) in &design.fittings {
            let path = root.field("fittings").key(name);
            match fitting {
                Fitting::Slide(slide) => self.number(&path.field("load_kg"), slide.load_kg, &LOAD),
                Fitting::Hinge(hinge) => self.number(&path.field("opens_deg"), hinge.opens_deg, &HINGE),
                Fitting::Handle(_) => {}
                Fitting::Stay(stay) => self.number(&path.field("holds_nm"), stay.holds_nm, &MOMENT),
                Fitting::Damper(damper) => self.number(&path.field("force_n"), damper.force_n, &FORCE),
                Fitting::Strut(strut) => {
                    self.number(&path.field("force_n"), strut.force_n, &FORCE);
                    if let Some(force) = strut.force_in_n {
                        self.number(&path.field("force_in_n"), force, &FORCE);
                    }
                }
                Fitting::Bracket(bracket) => self.number(&path.field("holds_n"), bracket.holds_n, &FORCE),
                // Load classes are held against the library's.
                Fitting::Usual(usual) => {
                    if let Some(angle) = usual.opens_deg {
                        self.number(&path.field("opens_deg"), angle, &HINGE);
                    }
                }
            }
        }
        each_bay(&design.carcass.bay, &mut |bay, path| {
            if let Some(share) = bay.share {
                self.number(&path.field("share"), share, &SHARE);
            }
            if let Some(TiltStop::At(angle)) = bay.front.as_ref().and_then(|it| it.stay.as_ref()).map(|it| &it.stop) {
                self.number(&path.field("front").field("stay").field("stop"), *angle, &FLAP);
            }
            let inside = path.field("inside");
            match &bay.inside {
                Inside::Holds { by: Holding::TiltOut { opens_deg, stay, .. }, .. } => {
                    let by = inside.field("by");
                    self.number(&by.field("opens_deg"), *opens_deg, &TILT);
                    let Some(stay) = stay else { return };
                    let stay_at = by.field("stay");
                    if let TiltStop::At(angle) = stay.stop {
                        self.number(&stay_at.field("stop"), angle, &TILT);
                    }
                    if let Some(lid) = &stay.lid {
                        self.number(&stay_at.field("lid").field("starts_deg"), lid.starts_deg, &LID);
                    }
                }
                Inside::Open { shelves } if *shelves > MOST_SHELVES => {
                    let cause = format!("{shelves} shelves are too many for one bay");
                    self.fault(&inside.field("shelves"), cause, format!("write at most {MOST_SHELVES}"));
                }
                _ => {}
            }
        });
    }
}
