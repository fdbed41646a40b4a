//! What an item on a drawing belongs to, so that the window can link a drawing with its lists.

/// The owner of a drawn item. Ids are the stable ids of the design.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tag {
    /// A panel or other piece, by part number.
    Part(String),
    /// A bay, by its path in the bay tree.
    Bay(String),
    /// A thing that is housed, by name.
    Thing(String),
    /// A fitting, by its id.
    Fitting(String),
    /// A wall, obstacle or other feature of the site, by name.
    Site(String),
    /// The outside size along one axis: `X`, `Y` or `Z`.
    Envelope(char),
}
