//! How far a board may bend, and what a shelf is asked to carry where nobody says.

use serde::Serialize;

use super::materials::final_deflection;
use super::source::{Source, Sourced};
use super::{INCH, PSF};

/// A limit of deflection as a share of the span: L over this.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DeflectionLimit {
    /// The denominator: 144 for L/144.
    pub denominator: f64,
    /// Largest deflection whatever the span, mm, if the source names one.
    pub most: Option<f64>,
    /// Where it comes from.
    pub source: Source,
}

impl DeflectionLimit {
    /// Architectural woodwork: L/144.
    pub const WOODWORK: Self = Self {
        denominator: 144.0,
        most: None,
        source: Source::published("Architectural Woodwork Standards 2009, L/144"),
    };
    /// Kitchen cabinets: 1/16 in a foot (L/192), at most 1/4 in.
    pub const CABINET: Self = Self {
        denominator: 192.0,
        most: Some(INCH / 4.0),
        source: Source::published("ANSI/KCMA A161.1, 1/16 in a foot and 1/4 in"),
    };
    /// Visibly noticeable beyond.
    pub const BOARD_MAKERS: Self =
        Self { denominator: 240.0, most: None, source: Source::published("particleboard and MDF association, L/240") };
    /// 1/32 in a foot: a sag that the eye sees.
    pub const VISIBLE: Self =
        Self { denominator: 384.0, most: None, source: Source::published("Fine Woodworking 2007, 1/32 in a foot") };
    /// 0.02 in a foot.
    pub const FINE: Self =
        Self { denominator: 600.0, most: None, source: Source::published("Fine Woodworking 2007, 0.02 in a foot") };

    /// A limit of the user's own.
    #[must_use]
    pub const fn own(denominator: f64) -> Self {
        Self { denominator, most: None, source: Source::OWN }
    }

    /// The largest deflection over this span, mm. What hangs over counts with twice its length (common practice).
    #[must_use]
    pub fn allows(&self, length: f64, hangs_over: bool) -> f64 {
        let counted = if hangs_over { 2.0 * length } else { length };
        let share = counted / self.denominator;
        self.most.map_or(share, |most| share.min(most))
    }
}

/// The load that a shelf is asked to carry where its contents are not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum ShelfUse {
    /// Household storage: 15 psf.
    Storage,
    /// General: 40 psf.
    General,
    /// Books, schools, hospitals: 50 psf.
    Books,
}

impl ShelfUse {
    /// Load per area, Pa.
    #[must_use]
    pub const fn load(self) -> Sourced {
        const AWS: Source = Source::published("Architectural Woodwork Standards 2009");
        match self {
            Self::Storage => Sourced::new(15.0 * PSF, Source::published("ANSI/KCMA A161.1, 15 psf")),
            Self::General => Sourced::new(40.0 * PSF, AWS),
            Self::Books => Sourced::new(50.0 * PSF, AWS),
        }
    }
}

/// The largest whole load of one shelf, kg: 200 lb, Architectural Woodwork Standards 2009.
pub const MOST_ON_A_SHELF: Sourced =
    Sourced::new(90.718_474, Source::published("Architectural Woodwork Standards 2009, 200 lb a shelf"));

/// What the first deflection grows to under a lasting load.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Growth {
    /// Not at all: the first day only.
    None,
    /// By half: fibreboard industry ("up to +50 %"); US lumber practice has 1.5 for seasoned wood.
    Half,
    /// By the deformation factor of Eurocode 5, for furniture board by analogy.
    Eurocode,
    /// By a factor of the user's own.
    Own(f64),
}

impl Growth {
    /// The factor on the first deflection, given the material's k_def.
    #[must_use]
    pub fn factor(self, kdef: f64) -> f64 {
        match self {
            Self::None => 1.0,
            Self::Half => 1.5,
            Self::Eurocode => final_deflection(1.0, 1.0, kdef),
            Self::Own(factor) => factor.max(1.0),
        }
    }

    /// Where it comes from.
    #[must_use]
    pub const fn source(self) -> Source {
        match self {
            Self::None => Source::derived("first day, no creep"),
            Self::Half => Source::practice("board makers' advice, long-term deflection up to +50 %"),
            Self::Eurocode => Source::second_hand("EN 1995-1-1 Table 3.2, by analogy"),
            Self::Own(_) => Source::OWN,
        }
    }
}
