//! What is wrong with a question about cutting, with the mend.

/// A question that cannot be answered as it was put. Everything wrong is listed, not only the first.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", list(.0))]
pub struct CuttingError(pub Vec<Fault>);

fn list(faults: &[Fault]) -> String {
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

/// One thing that is wrong with the input.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// A board or bar without extent, or too large to compute with.
    #[error("board \"{name}\" measures {width} x {height}: both must be above 0 and at most {MAX_LENGTH}")]
    BoardSize {
        /// Name of the board.
        name: String,
        /// Its width.
        width: i64,
        /// Its height.
        height: i64,
    },
    /// A good zone that is not inside its board.
    #[error("board \"{name}\": good zone {number} reaches over the board's edge or is empty; draw it inside the board")]
    Zone {
        /// Name of the board.
        name: String,
        /// Number of the zone, from 1.
        number: usize,
    },
    /// A piece without extent, or too large to compute with.
    #[error("piece \"{name}\" measures {width} x {height}: both must be above 0 and at most {MAX_LENGTH}")]
    PieceSize {
        /// Name of the piece.
        name: String,
        /// Its width.
        width: i64,
        /// Its height.
        height: i64,
    },
    /// A bar or a length to be cut from one without extent, or too large to compute with.
    #[error("\"{name}\" is {length} long: it must be above 0 and at most {MAX_LENGTH}")]
    BarLength {
        /// Name of the bar or piece.
        name: String,
        /// Its length.
        length: i64,
    },
    /// A piece whose worth is negative or too large to add up.
    #[error("piece \"{name}\" is worth {value}: it must be 0 or more and at most {MAX_VALUE}")]
    Value {
        /// Name of the piece.
        name: String,
        /// Its worth.
        value: i64,
    },
    /// Pieces of which one board could hold more worth than can be added up exactly.
    #[error("board \"{name}\" could hold pieces worth more than {MAX_BOARD_VALUE}: count them in a larger unit")]
    BoardValue {
        /// Name of the board.
        name: String,
    },
    /// A negative price.
    #[error("\"{name}\" costs {cost}: a price below 0 has no meaning here")]
    Cost {
        /// Name of the board or bar.
        name: String,
        /// Its price.
        cost: i64,
    },
    /// A negative kerf or trim.
    #[error("saw: kerf {kerf} and trim {trim} must be 0 or more and at most {MAX_LENGTH}")]
    Saw {
        /// Width of the cut.
        kerf: i64,
        /// Trim of raw edges.
        trim: i64,
    },
    /// More pieces than the crate will hold in memory.
    #[error("{count} pieces are wanted: at most {MAX_PIECES} can be planned at once; plan in lots")]
    TooMany {
        /// Pieces wanted.
        count: u64,
    },
    /// A group whose pieces are of different materials.
    #[error("group \"{group}\" asks for one board but holds pieces of material \"{one}\" and \"{other}\"")]
    GroupMaterial {
        /// The group.
        group: String,
        /// Material of its first piece.
        one: String,
        /// Another material in it.
        other: String,
    },
    /// A group whose pieces do not all lie in one row, or not with the same grain.
    #[error("group \"{group}\" holds pieces in a row and others, or pieces whose grain runs in different ways")]
    Row {
        /// The group.
        group: String,
    },
}

/// Largest length that is accepted: 1 km in nanometres.
pub const MAX_LENGTH: i64 = 1_000_000_000_000;

/// Largest number of single pieces in one question.
pub const MAX_PIECES: u64 = 200_000;

/// Largest worth that one board may hold, were every piece cut as often as its area allows: sums of whole numbers up to
/// here are exact in floating point.
pub const MAX_BOARD_VALUE: i64 = 1 << 52;

/// Largest worth of one piece: sums over a board stay within 64 bits for up to 200 000 pieces.
pub const MAX_VALUE: i64 = 40_000_000_000_000;
