//! The Design: everything that a person decides, as it stands in the design file.
//!
//! The types are generic over their lengths: `Design<Dim>`, the default, keeps each length as the text that was written
//! (a number or an expression over parameters), and `Design<Length>` is the same tree with every length evaluated.
//! [`resolve`](mod@resolve) turns the first into the second; all later stages read only the second.

mod arrange;
mod as_built;
mod assumed;
mod bay;
mod boards;
mod carcass;
mod fittings;
mod joints;
mod openings;
pub mod read;
pub mod resolve;
mod rewrite;
mod saw;
mod site;
mod stock;
mod supplies;
#[cfg(test)]
pub(crate) mod tests;
mod things;
pub mod validate;
mod worktop;

pub use arrange::Arrange;
pub use as_built::{AsBuilt, MeasuredOpening, Progress};
pub use assumed::{Assumed, SagGrowth, SagLimit, ShelfLoad, WallKind};
pub use bay::{
    Bay, Divider, FlapStay, Front, Holding, Inside, LidString, Opens, Shell, TiltHinge, TiltStay, TiltStop, Want,
};
pub use boards::{BandRule, Banding, Edge, Material, MaterialKind, Role};
pub use carcass::{
    Back, Carcass, Construction, Envelope, Extent, FrontStyle, Overhang, Stand, Tie, TieEdge, Top, Worktop,
};
pub use fittings::{Bracket, Damper, Extension, Fitting, Handle, Hinge, LidStay, Slide, SlideMount, Strut, Usual};
pub use joints::{JointChoice, JointKind};
pub use openings::{Lead, Opening};
pub use saw::{Least, Saw};
pub use site::{
    FloorPoint, NeighbourWorktop, Niche, Obstacle, ObstacleKind, ObstacleShape, Site, SiteWall, Swing, WallPoint,
};
pub use stock::{Board, BoardEdge, BoardSource, KeptBand};
pub use supplies::Supply;
pub use things::{Access, Air, OwnPullOut, Thing, ThingKind, ThingSide};
pub use worktop::{CutOut, FrontPoint, FrontStep, TopShape};

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

use crate::expr::Dim;
use crate::length::Length;
use crate::unit::Unit;

/// The version of the file layout that this program writes.
pub const SCHEMA: u32 = 1;

/// A whole design. Names (keys of the maps and names of bays) are stable ids.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Design<L = Dim> {
    /// The version of the file layout, [`SCHEMA`] for new files.
    pub schema: u32,
    /// What the piece is called; printed in the title block.
    pub title: String,
    /// What else the title block says.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sheet: SheetNotes,
    /// The unit that bare numbers mean and that sizes are shown and rounded in.
    pub unit: Unit,
    /// Named values for use in length expressions.
    #[serde(default, skip_serializing_if = "IndexMap::is_empty")]
    pub parameters: IndexMap<String, String>,
    /// The measured place.
    #[serde(default = "Site::default", skip_serializing_if = "site::is_bare")]
    pub site: Site<L>,
    /// What must be housed, by name.
    #[serde(default = "IndexMap::new", skip_serializing_if = "IndexMap::is_empty")]
    pub things: IndexMap<String, Thing<L>>,
    /// Board materials, by name.
    pub materials: IndexMap<String, Material<L>>,
    /// Edge bandings, by name.
    #[serde(default = "IndexMap::new", skip_serializing_if = "IndexMap::is_empty")]
    pub banding: IndexMap<String, Banding<L>>,
    /// Stock: new sheets, offcuts, salvaged panels.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub boards: Vec<Board<L>>,
    /// The saw, and what a cutting plan keeps least.
    #[serde(default = "Saw::default", skip_serializing_if = "saw::is_plain")]
    pub saw: Saw<L>,
    /// How small supplies are sold, by name.
    #[serde(default, skip_serializing_if = "IndexMap::is_empty")]
    pub supplies: IndexMap<String, Supply>,
    /// Hardware, by name.
    #[serde(default = "IndexMap::new", skip_serializing_if = "IndexMap::is_empty")]
    pub fittings: IndexMap<String, Fitting<L>>,
    /// What the checks go by where nothing else says it.
    #[serde(default = "Assumed::default", skip_serializing_if = "assumed::is_silent")]
    pub assumed: Assumed<L>,
    /// The carcass itself.
    pub carcass: Carcass<L>,
    /// What is asked of proposals for the carcass.
    #[serde(default, skip_serializing_if = "is_default")]
    pub arrange: Arrange,
    /// What was measured on the real piece.
    #[serde(default = "AsBuilt::default", skip_serializing_if = "AsBuilt::is_empty")]
    pub as_built: AsBuilt<L>,
    /// What is done.
    #[serde(default, skip_serializing_if = "is_default")]
    pub progress: Progress,
}

impl<L> Design<L> {
    /// A design of a carcass alone, of the newest schema, without a title or anything else.
    #[must_use]
    pub fn plain(unit: Unit, carcass: Carcass<L>) -> Self {
        Self {
            schema: SCHEMA,
            title: String::new(),
            sheet: SheetNotes::default(),
            unit,
            parameters: IndexMap::new(),
            site: Site::default(),
            things: IndexMap::new(),
            materials: IndexMap::new(),
            banding: IndexMap::new(),
            boards: Vec::new(),
            saw: Saw::default(),
            supplies: IndexMap::new(),
            fittings: IndexMap::new(),
            assumed: Assumed::default(),
            carcass,
            arrange: Arrange::default(),
            as_built: AsBuilt::default(),
            progress: Progress::default(),
        }
    }
}

/// A design whose lengths are all evaluated.
pub type Resolved = Design<Length>;

/// What the title block says beside the title (ISO 7200 fields); all of it is given by the user, none by a clock.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SheetNotes {
    /// Legal owner of the drawing.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub owner: String,
    /// Identification number of the drawing.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub number: String,
    /// Revision index.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub revision: String,
    /// Date of issue, as the user writes it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub date: String,
    /// Who drew it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub drawn_by: String,
    /// Who approved it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub approved_by: String,
}

/// Whether a value is the one that a file need not give.
fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}
