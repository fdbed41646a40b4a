//! The chapters of a pack: what belongs together on the way from the desk to the wall.

/// A chapter of a pack. The cover comes with any of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Chapter {
    /// Elevations, sections, the piece in space.
    Views,
    /// Parts, banding and fittings.
    Lists,
    /// A drawing of each part.
    Parts,
    /// Marking, diagonals, drilling blocks with their set-ups, full size.
    Joinery,
    /// How boards are cut, labels, what to buy.
    Cutting,
    /// What the checks found.
    Checks,
    /// The order of work.
    Order,
    /// Taking measure, installation, the worktop.
    Site,
    /// Everything open, clearances, balance of tilting compartments.
    Moving,
}

impl Chapter {
    /// All of them, in the order of the pack.
    pub const ALL: [Self; 9] = [
        Self::Views,
        Self::Lists,
        Self::Parts,
        Self::Joinery,
        Self::Cutting,
        Self::Checks,
        Self::Order,
        Self::Site,
        Self::Moving,
    ];

    /// Its name, in one word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Views => "views",
            Self::Lists => "lists",
            Self::Parts => "parts",
            Self::Joinery => "joinery",
            Self::Cutting => "cutting",
            Self::Checks => "checks",
            Self::Order => "order",
            Self::Site => "site",
            Self::Moving => "moving",
        }
    }

    /// The chapter of this name.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == word)
    }
}
