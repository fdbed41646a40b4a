//! A stay, damper or strut of the design: what it holds of the moment of the weight over the angle, or adds to it.

use super::{Balance, Leaning, Stay};
use crate::design::Fitting;
use crate::length::Length;

/// What friction of hinges and strings is taken to hold, N mm (own choice).
pub const FRICTION_NMM: f64 = 500.0;
/// The step in which the way is walked for its turning points, degrees; what is found is then halved down to the angle.
const STEP_DEG: f64 = 0.1;

/// What one of them does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Resists {
    /// It holds with a moment about the hinge, N mm.
    Moment(f64),
    /// It holds with a force along its line, N, the same over its stroke, mm.
    Force(f64, f64),
    /// It pushes its ends apart.
    Push(Push),
}

/// A force that pushes two ends apart and changes evenly with their distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// From end to end when fully in and fully out, mm.
    pub lengths: (f64, f64),
    /// The force there, N.
    pub forces: (f64, f64),
}

impl Push {
    /// The force at a distance of the ends, N.
    #[must_use]
    pub fn force(&self, span: f64) -> f64 {
        let ((short, long), (inner, outer)) = (self.lengths, self.forces);
        if long > short { inner + (outer - inner) * (span - short) / (long - short) } else { outer }
    }

    /// The work from one distance of the ends to another, N mm; of a force that changes evenly, its mean times the way.
    #[must_use]
    pub fn work(&self, from: f64, to: f64) -> f64 {
        f64::midpoint(self.force(from), self.force(to)) * (to - from)
    }
}

/// Stays, dampers or struts between the ends of [`Stay`].
#[derive(Clone, Debug, PartialEq)]
pub struct Holder {
    /// The name in the design.
    pub name: String,
    /// How many.
    pub count: u32,
    /// What each does.
    pub resists: Resists,
    /// From end to end when fully out, mm, if that is given.
    pub length: Option<f64>,
}

impl Holder {
    /// The holder of a fitting; none if it is no stay, damper or strut.
    #[must_use]
    pub fn of(name: &str, fitting: &Fitting<Length>, count: u32) -> Option<Self> {
        let (resists, length) = match fitting {
            Fitting::Stay(it) => (Resists::Moment(it.holds_nm * 1000.0), it.length.map(Length::mm)),
            Fitting::Damper(it) => (Resists::Force(it.force_n, it.stroke.mm()), None),
            Fitting::Strut(it) => {
                let lengths = (it.length_in.mm(), it.length_out.mm());
                let forces = (it.force_in_n.unwrap_or(it.force_n), it.force_n);
                (Resists::Push(Push { lengths, forces }), Some(lengths.1))
            }
            _ => return None,
        };
        Some(Self { name: name.to_owned(), count, resists, length })
    }

    /// Whether it pushes.
    #[must_use]
    pub const fn pushes(&self) -> bool {
        matches!(self.resists, Resists::Push(_))
    }

    /// The moment that all of them set against a motion at an angle, N mm: for a force its arm about the hinge times it. What
    /// pushes sets nothing against it.
    #[must_use]
    pub fn moment_nmm(&self, stay: &Stay, angle_rad: f64) -> f64 {
        f64::from(self.count)
            * match self.resists {
                Resists::Moment(moment) => moment,
                Resists::Force(force, _) => force * stay.arm(angle_rad),
                Resists::Push(_) => 0.0,
            }
    }

    /// The moment with which all of them push at an angle, N mm; positive opens.
    #[must_use]
    pub fn push_nmm(&self, stay: &Stay, angle_rad: f64) -> f64 {
        match self.resists {
            Resists::Push(it) => f64::from(self.count) * it.force(stay.span(angle_rad)) * stay.opening_arm(angle_rad),
            Resists::Moment(_) | Resists::Force(..) => 0.0,
        }
    }

    /// The moment of weight and push together, N mm; positive opens.
    #[must_use]
    pub fn net_nmm(&self, balance: &Balance, stay: &Stay, angle_rad: f64) -> f64 {
        balance.moment_nmm(angle_rad) + self.push_nmm(stay, angle_rad)
    }

    /// What the compartment or flap does when it is let go at an angle, friction included.
    #[must_use]
    pub fn leaning(&self, balance: &Balance, stay: &Stay, angle_rad: f64) -> Leaning {
        Leaning::of(self.net_nmm(balance, stay, angle_rad), FRICTION_NMM + self.moment_nmm(stay, angle_rad))
    }

    /// The angle beyond which it goes open by itself as far as `open`, radians; none if it does not there.
    #[must_use]
    pub fn falls_from(&self, balance: &Balance, stay: &Stay, open: f64) -> Option<f64> {
        let all = phases(open, |angle| self.leaning(balance, stay, angle));
        all.last().filter(|it| it.leaning == Leaning::Opens).map(|it| it.from)
    }

    /// The energy with which it comes to `open` from where it begins to go there by itself, J: what the weight loses of its
    /// height and what pushes has given, less the work of holder and friction. Nothing if it does not.
    #[must_use]
    pub fn arrives_j(&self, balance: &Balance, stay: &Stay, open: f64) -> f64 {
        let Some(from) = self.falls_from(balance, stay, open) else { return 0.0 };
        let weight = balance.mass_kg * crate::mechanics::GRAVITY * (balance.height_mm(from) - balance.height_mm(open));
        let given = match self.resists {
            Resists::Moment(moment) => -moment * (open - from),
            Resists::Force(force, _) => -force * way(stay, from, open),
            Resists::Push(it) => it.work(stay.span(from), stay.span(open)),
        };
        ((weight + f64::from(self.count) * given - FRICTION_NMM * (open - from)) / 1000.0).max(0.0)
    }

    /// The stroke that a damper needs from shut to `open`, mm: the longest less the shortest span.
    #[must_use]
    pub fn stroke_needed(stay: &Stay, open: f64) -> f64 {
        let (low, high) = Self::spans(stay, open);
        (high - low).max(0.0)
    }

    /// The shortest and the longest distance of the ends from shut to `open`, mm.
    #[must_use]
    pub fn spans(stay: &Stay, open: f64) -> (f64, f64) {
        let spans = angles(0.0, open).map(|it| stay.span(it));
        spans.fold((f64::INFINITY, 0.0_f64), |(low, high), it| (low.min(it), high.max(it)))
    }
}

/// A stretch of the angle over which one and the same happens when it is let go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    /// Where it begins, radians.
    pub from: f64,
    /// Where it ends, radians.
    pub to: f64,
    /// What happens.
    pub leaning: Leaning,
}

/// What happens over the angle from shut to `open`, stretch by stretch.
#[must_use]
pub fn phases(open: f64, leaning: impl Fn(f64) -> Leaning) -> Vec<Phase> {
    let mut all: Vec<Phase> = Vec::new();
    let mut before = 0.0;
    for angle in angles(0.0, open) {
        let now = leaning(angle);
        match all.last_mut() {
            Some(last) if last.leaning == now => last.to = angle,
            Some(last) => {
                let (mut held, mut other) = (before, angle);
                for _ in 0..40 {
                    let middle = f64::midpoint(held, other);
                    if leaning(middle) == last.leaning { held = middle } else { other = middle }
                }
                last.to = held;
                all.push(Phase { from: other, to: angle, leaning: now });
            }
            None => all.push(Phase { from: angle, to: angle, leaning: now }),
        }
        before = angle;
    }
    all
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
