//! Scales after ISO 5455.

use std::fmt;

/// A drawing scale: so many paper millimetres for so many real ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale {
    /// Paper millimetres.
    pub paper: u32,
    /// Real millimetres.
    pub real: u32,
}

impl Scale {
    /// Full size.
    pub const FULL: Self = Self { paper: 1, real: 1 };

    /// The recommended scales of ISO 5455, from the largest enlargement to the smallest reduction.
    pub const RECOMMENDED: [Self; 18] = [
        Self::enlarged(50),
        Self::enlarged(20),
        Self::enlarged(10),
        Self::enlarged(5),
        Self::enlarged(2),
        Self::FULL,
        Self::reduced(2),
        Self::reduced(5),
        Self::reduced(10),
        Self::reduced(20),
        Self::reduced(50),
        Self::reduced(100),
        Self::reduced(200),
        Self::reduced(500),
        Self::reduced(1000),
        Self::reduced(2000),
        Self::reduced(5000),
        Self::reduced(10_000),
    ];

    /// The scale n:1.
    #[must_use]
    pub const fn enlarged(n: u32) -> Self {
        Self { paper: n, real: 1 }
    }

    /// The scale 1:n.
    #[must_use]
    pub const fn reduced(n: u32) -> Self {
        Self { paper: 1, real: n }
    }

    /// Paper millimetres for one real millimetre.
    #[must_use]
    pub fn factor(self) -> f64 {
        f64::from(self.paper) / f64::from(self.real)
    }

    /// The recommended scales at or below full size, largest first: what furniture drawings choose from.
    pub fn reductions() -> impl Iterator<Item = Self> {
        Self::RECOMMENDED.into_iter().filter(|scale| scale.paper == 1)
    }

    /// The largest recommended reduction at which `fits` holds.
    pub fn largest(fits: impl Fn(Self) -> bool) -> Option<Self> {
        Self::reductions().find(|scale| fits(*scale))
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.paper, self.real)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_recommended_scales_are_those_of_iso_5455() {
        // ISO 5455:1979, clause 5.1.
        let listed: Vec<String> = Scale::RECOMMENDED.iter().map(ToString::to_string).collect();
        assert_eq!(
            listed.join(" "),
            "50:1 20:1 10:1 5:1 2:1 1:1 1:2 1:5 1:10 1:20 1:50 1:100 1:200 1:500 1:1000 1:2000 1:5000 1:10000"
        );
        for unlisted in [Scale { paper: 2, real: 5 }, Scale::reduced(15), Scale::reduced(25)] {
            assert!(!Scale::RECOMMENDED.contains(&unlisted));
        }
    }

    #[test]
    fn the_largest_fitting_scale_is_chosen() {
        let check = |size: f64, room: f64, expected: Option<Scale>| {
            assert_eq!(Scale::largest(|scale| size * scale.factor() <= room), expected);
        };
        check(2400.0, 260.0, Some(Scale::reduced(10)));
        check(200.0, 260.0, Some(Scale::FULL));
        check(2700.0, 260.0, Some(Scale::reduced(20)));
        check(1e9, 260.0, None);
    }
}
