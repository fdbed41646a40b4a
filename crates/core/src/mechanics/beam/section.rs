//! Cross-sections: plain boards, and boards stiffened by a rail (parallel axes).

use serde::Serialize;

/// A cross-section with its stiffness and strength.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Section {
    /// Bending stiffness E·I.
    pub bending: f64,
    /// Shear stiffness G·A', infinite to leave shear deformation out.
    pub shear: f64,
    /// Largest sagging moment over stress in the weakest fibre, as a share of that fibre's strength: the moment that the
    /// section bears when the strengths are those given, or infinite if none were.
    pub moment_capacity: f64,
}

/// One rectangle of a composite section.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Part {
    /// Width across the beam.
    pub width: f64,
    /// Height along the load.
    pub height: f64,
    /// Height of its lower edge over a common line.
    pub bottom: f64,
    /// Modulus of elasticity.
    pub modulus: f64,
    /// Bending strength; infinite to leave strength out.
    pub strength: f64,
    /// Modulus of elasticity over shear modulus; zero to leave shear deformation out.
    pub shear_ratio: f64,
}

impl Section {
    /// A section of this bending stiffness E·I only.
    #[must_use]
    pub const fn stiff(bending: f64) -> Self {
        Self { bending, shear: f64::INFINITY, moment_capacity: f64::INFINITY }
    }

    /// A rectangle of this width, height and modulus, without shear deformation.
    #[must_use]
    pub fn rectangle(width: f64, height: f64, modulus: f64) -> Self {
        Self::stiff(modulus * rectangle_inertia(width, height))
    }

    /// The same with the bending strength known.
    #[must_use]
    pub fn of_part(part: &Part) -> Self {
        Self::composite(std::slice::from_ref(part))
    }

    /// Rectangles glued or screwed together so that they bend as one: the parallel-axis theorem about the common neutral
    /// axis, each part weighted by its modulus. Shear stiffness is the sum of G · 5/6 · area of the parts: exact for one
    /// part, on the stiff side for several, where shear is a small share.
    #[must_use]
    pub fn composite(parts: &[Part]) -> Self {
        let ea = |part: &Part| part.modulus * part.width * part.height;
        let total: f64 = parts.iter().map(ea).sum();
        if total <= 0.0 {
            return Self { bending: 0.0, shear: f64::INFINITY, moment_capacity: 0.0 };
        }
        let axis = parts.iter().map(|part| ea(part) * (part.bottom + part.height / 2.0)).sum::<f64>() / total;
        let bending: f64 = parts
            .iter()
            .map(|part| {
                let away = part.bottom + part.height / 2.0 - axis;
                part.modulus * rectangle_inertia(part.width, part.height) + ea(part) * away * away
            })
            .sum();
        // Stress in a fibre is E_part · M · distance / EI.
        let moment_capacity = parts
            .iter()
            .map(|part| {
                let far = (part.bottom - axis).abs().max((part.bottom + part.height - axis).abs());
                part.strength * bending / (part.modulus * far)
            })
            .fold(f64::INFINITY, f64::min);
        let shear = if parts.iter().all(|part| part.shear_ratio > 0.0) {
            parts.iter().map(|part| part.modulus / part.shear_ratio * part.width * part.height * 5.0 / 6.0).sum()
        } else {
            f64::INFINITY
        };
        Self { bending, shear, moment_capacity }
    }

    /// Sections that lie on each other without acting as one: stiffnesses add; each takes its share of the moment.
    #[must_use]
    pub fn stacked(sections: &[Self]) -> Self {
        let bending: f64 = sections.iter().map(|it| it.bending).sum();
        Self {
            bending,
            shear: sections.iter().map(|it| it.shear).sum(),
            moment_capacity: sections
                .iter()
                .map(|it| it.moment_capacity * bending / it.bending)
                .fold(f64::INFINITY, f64::min),
        }
    }
}

/// Second moment of area of a rectangle: b·h³/12.
#[must_use]
pub fn rectangle_inertia(width: f64, height: f64) -> f64 {
    width * height * height * height / 12.0
}
