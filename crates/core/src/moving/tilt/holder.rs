//! A stay or damper of the design: what it holds of the moment of the weight over the angle.

use super::{Balance, Leaning, Stay};
use crate::design::Fitting;
use crate::length::Length;

/// What friction of hinges and strings is taken to hold, N mm (own choice).
pub const FRICTION_NMM: f64 = 500.0;
/// The step in which the way is walked for its turning points, degrees; what is found is then halved down to the angle.
const STEP_DEG: f64 = 0.1;

/// How one of them resists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Resists {
    /// With a moment about the hinge, N mm.
    Moment(f64),
    /// With a force along its line, N, the same over its stroke, mm.
    Force(f64, f64),
}

/// Stays or dampers between the ends of [`Stay`].
#[derive(Clone, Debug, PartialEq)]
pub struct Holder {
    /// The name in the design.
    pub name: String,
    /// How many.
    pub count: u32,
    /// How each resists.
    pub resists: Resists,
    /// From end to end when fully out, mm, if that is given.
    pub length: Option<f64>,
}

impl Holder {
    /// The holder of a fitting; none if it is no stay and no damper.
    #[must_use]
    pub fn of(name: &str, fitting: &Fitting<Length>, count: u32) -> Option<Self> {
        let (resists, length) = match fitting {
            Fitting::Stay(it) => (Resists::Moment(it.holds_nm * 1000.0), it.length.map(Length::mm)),
            Fitting::Damper(it) => (Resists::Force(it.force_n, it.stroke.mm()), None),
            _ => return None,
        };
        Some(Self { name: name.to_owned(), count, resists, length })
    }

    /// The moment that all of them set against a motion at an angle, N mm: for a force its arm about the hinge times it.
    #[must_use]
    pub fn moment_nmm(&self, stay: &Stay, angle_rad: f64) -> f64 {
        f64::from(self.count)
            * match self.resists {
                Resists::Moment(moment) => moment,
                Resists::Force(force, _) => force * stay.arm(angle_rad),
            }
    }

    /// What the compartment does when it is let go at an angle, friction included.
    #[must_use]
    pub fn leaning(&self, balance: &Balance, stay: &Stay, angle_rad: f64) -> Leaning {
        balance.leaning(angle_rad, FRICTION_NMM + self.moment_nmm(stay, angle_rad))
    }

    /// The angle beyond which it falls open by itself as far as `open`, radians; none if it is held there.
    #[must_use]
    pub fn falls_from(&self, balance: &Balance, stay: &Stay, open: f64) -> Option<f64> {
        let falls = |angle: f64| self.leaning(balance, stay, angle) == Leaning::Opens;
        if !falls(open) {
            return None;
        }
        let step = STEP_DEG.to_radians();
        let mut high = open;
        while high > 0.0 {
            let low = (high - step).max(0.0);
            if !falls(low) {
                let (mut held, mut free) = (low, high);
                for _ in 0..40 {
                    let middle = f64::midpoint(held, free);
                    if falls(middle) { free = middle } else { held = middle }
                }
                return Some(free);
            }
            high = low;
        }
        Some(0.0)
    }

    /// The energy with which it comes to `open` from where it begins to fall, J: what the weight loses of its height less
    /// the work of holder and friction. Nothing if it is held.
    #[must_use]
    pub fn arrives_j(&self, balance: &Balance, stay: &Stay, open: f64) -> f64 {
        let Some(from) = self.falls_from(balance, stay, open) else { return 0.0 };
        let weight = balance.mass_kg * crate::mechanics::GRAVITY * (balance.height_mm(from) - balance.height_mm(open));
        let held = match self.resists {
            Resists::Moment(moment) => moment * (open - from),
            Resists::Force(force, _) => force * way(stay, from, open),
        };
        ((weight - f64::from(self.count) * held - FRICTION_NMM * (open - from)) / 1000.0).max(0.0)
    }

    /// The stroke that a damper needs from shut to `open`, mm: the longest less the shortest span.
    #[must_use]
    pub fn stroke_needed(stay: &Stay, open: f64) -> f64 {
        let spans = angles(0.0, open).map(|it| stay.span(it));
        let (low, high) = spans.fold((f64::INFINITY, 0.0_f64), |(low, high), it| (low.min(it), high.max(it)));
        (high - low).max(0.0)
    }
}

/// How far the ends move towards and away from each other, mm.
fn way(stay: &Stay, from: f64, to: f64) -> f64 {
    let spans: Vec<f64> = angles(from, to).map(|it| stay.span(it)).collect();
    spans.windows(2).map(|it| if let [a, b] = it { (b - a).abs() } else { 0.0 }).sum()
}

fn angles(from: f64, to: f64) -> impl Iterator<Item = f64> {
    let steps = ((to - from) / STEP_DEG.to_radians()).ceil().max(1.0) as u32;
    (0..=steps).map(move |i| from + (to - from) * f64::from(i) / f64::from(steps))
}
