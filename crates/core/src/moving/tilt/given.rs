//! What a design says of a string, stay, damper or strut: of a tilting compartment, or of a flap.

use super::{Holder, OutUp, Stay};
use crate::design::{Bay, FlapStay, Holding, Inside, Opens, Resolved, TiltStay, TiltStop};
use crate::length::Length;

/// How far a flap opens when nothing says otherwise, degrees (common practice).
pub const FLAP_OPENS_DEG: f64 = 90.0;

/// The same of a compartment and of a flap.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// Where it is fixed to the carcass: behind, away.
    pub carcass: &'a (Length, Length),
    /// Where it is fixed to what turns: behind, away.
    pub moved: &'a (Length, Length),
    /// What decides its length.
    pub stop: &'a TiltStop<Length>,
    /// What is between the ends; a string if none.
    pub with: Option<&'a str>,
    /// Whether there is one at each side.
    pub both_sides: bool,
}

impl<'a> From<&'a TiltStay<Length>> for Given<'a> {
    fn from(it: &'a TiltStay<Length>) -> Self {
        let (with, both_sides) = (it.with.as_deref(), it.both_sides);
        Self { carcass: &it.carcass, moved: &it.compartment, stop: &it.stop, with, both_sides }
    }
}

impl<'a> From<&'a FlapStay<Length>> for Given<'a> {
    fn from(it: &'a FlapStay<Length>) -> Self {
        let (with, both_sides) = (it.with.as_deref(), it.both_sides);
        Self { carcass: &it.carcass, moved: &it.flap, stop: &it.stop, with, both_sides }
    }
}

impl<'a> Given<'a> {
    /// That of the tilting compartment of a bay, if it says anything.
    #[must_use]
    pub fn of_compartment(bay: &'a Bay<Length>) -> Option<Self> {
        match &bay.inside {
            Inside::Holds { by: Holding::TiltOut { stay, .. }, .. } => stay.as_deref().map(Self::from),
            _ => None,
        }
    }

    /// That of the flap of a bay, if there is one that says anything.
    #[must_use]
    pub fn of_flap(bay: &'a Bay<Length>) -> Option<Self> {
        let front = bay.front.as_ref()?;
        let flaps = matches!(front.opens, Opens::HingedBelow | Opens::HingedAbove);
        front.stay.as_deref().filter(|_| flaps).map(Self::from)
    }

    /// Its ends in the section.
    #[must_use]
    pub fn stay(&self) -> Stay {
        Stay { carcass: out_up(self.carcass), front: out_up(self.moved) }
    }

    /// How many there are.
    #[must_use]
    pub const fn count(&self) -> u32 {
        if self.both_sides { 2 } else { 1 }
    }

    /// What is between the ends, if it is no string.
    #[must_use]
    pub fn holder(&self, design: &Resolved) -> Option<Holder> {
        let name = self.with?;
        Holder::of(name, design.fittings.get(name)?, self.count())
    }

    /// How long it is from end to end, mm, where what turns opens by `opens` radians.
    #[must_use]
    pub fn length(&self, design: &Resolved, opens: f64) -> f64 {
        let stay = self.stay();
        self.holder(design).and_then(|it| it.length).unwrap_or_else(|| match self.stop {
            TiltStop::Long(length) => length.mm(),
            TiltStop::At(deg) => stay.span(deg.to_radians()),
            TiltStop::AtLargest => stay.span(opens),
        })
    }

    /// How far a flap with it opens, degrees: until it is taut, as far as the hinges go; 90° if it never is.
    #[must_use]
    pub fn flap_opens_deg(&self, design: &Resolved, hinges_deg: f64) -> f64 {
        let length = self.length(design, FLAP_OPENS_DEG.to_radians());
        let taut = self.stay().taut_at(length).map(f64::to_degrees).filter(|it| *it >= 1.0);
        taut.unwrap_or(FLAP_OPENS_DEG).min(hinges_deg.max(FLAP_OPENS_DEG))
    }
}

/// A spot of the design, behind and away from the hinge.
pub(super) fn out_up(it: &(Length, Length)) -> OutUp {
    [-it.0.mm(), it.1.mm()]
}
