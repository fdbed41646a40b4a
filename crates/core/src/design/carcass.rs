//! The carcass: envelope, construction, stand, worktop and ties.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::bay::Bay;
use super::boards::{BandRule, Role};
use super::joints::{JointChoice, JointKind};
use super::openings::Opening;
use super::worktop::TopShape;
use crate::expr::Dim;

/// The carcass.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Carcass<L = Dim> {
    /// The outside box that it may fill.
    pub envelope: Envelope<L>,
    /// How it is built.
    pub construction: Construction<L>,
    /// Whether it has sides, bottom, top and back round the whole; a piece that is made of boxes only has none.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub own_shell: bool,
    /// What it stands on.
    #[serde(default = "on_the_floor", skip_serializing_if = "is_on_the_floor")]
    pub stand: Stand<L>,
    /// The slab on top; counted in the height of the envelope.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub worktop: Option<Worktop<L>>,
    /// The whole inside.
    pub bay: Bay<L>,
    /// Openings in panels, for air.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub openings: Vec<Opening<L>>,
    /// Sizes and lines that belong together.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ties: Vec<Tie>,
    /// Joints that are made otherwise than their construction says.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<JointChoice<L>>,
}

impl<L> Carcass<L> {
    /// A carcass on the floor, without a worktop.
    #[must_use]
    pub const fn plain(envelope: Envelope<L>, construction: Construction<L>, bay: Bay<L>) -> Self {
        Self {
            envelope,
            construction,
            own_shell: true,
            stand: Stand::Floor,
            worktop: None,
            bay,
            openings: Vec::new(),
            ties: Vec::new(),
            joints: Vec::new(),
        }
    }
}

fn on_the_floor<L>() -> Stand<L> {
    Stand::Floor
}

fn is_on_the_floor<L>(stand: &Stand<L>) -> bool {
    matches!(stand, Stand::Floor)
}

/// The outside box that the carcass may fill: over everything but worktop overhangs and handles.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Envelope<L = Dim> {
    /// From left to right.
    pub width: Extent<L>,
    /// From the floor to the top, stand and worktop included.
    pub height: Extent<L>,
    /// From the rear of the carcass to the front, overlay fronts included.
    pub depth: Extent<L>,
    /// Where it begins, from the left end of the site.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub from_left: Option<L>,
    /// Free space between the wall and its rear.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub from_wall: Option<L>,
}

/// What is asked of one size of the envelope.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Extent<L = Dim> {
    /// Exactly this.
    Fixed(L),
    /// As large as this allows, less where something else forbids it.
    AtMost(L),
    /// As large as the niche allows from where the envelope begins.
    FillNiche,
    /// As small as its contents allow.
    Snug,
}

/// How a shell is built.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Construction<L = Dim> {
    /// The material of every part that `boards` does not name.
    pub board: String,
    /// Materials by role.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub boards: BTreeMap<Role, String>,
    /// Roles whose parts come only from boards of one stock family, which then limits their size.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub from_stock: BTreeMap<Role, String>,
    /// Whether the sides run from bottom to top past bottom and top; else these run over the sides.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub sides_run_through: bool,
    /// What closes it above.
    #[serde(default = "top_panel", skip_serializing_if = "is_top_panel")]
    pub top: Top<L>,
    /// What closes it at the rear.
    #[serde(default = "no_back", skip_serializing_if = "is_no_back")]
    pub back: Back<L>,
    /// How panels are joined.
    #[serde(default = "plain_dowels")]
    pub joint: JointKind<L>,
    /// How far shelves stand back behind the front edges of the sides.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub shelf_set_back: Option<L>,
    /// Where fronts sit unless told otherwise.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub fronts: FrontStyle,
    /// Gap round fronts; 3 mm if not given (common practice).
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub reveal: Option<L>,
    /// Which edges are banded.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub banding: Vec<BandRule>,
}

impl<L> Construction<L> {
    /// Built of one material, as a file has it that says no more.
    #[must_use]
    pub fn plain(board: impl Into<String>) -> Self {
        Self {
            board: board.into(),
            boards: BTreeMap::new(),
            from_stock: BTreeMap::new(),
            sides_run_through: yes(),
            top: top_panel(),
            back: no_back(),
            joint: plain_dowels(),
            shelf_set_back: None,
            fronts: FrontStyle::default(),
            reveal: None,
            banding: Vec::new(),
        }
    }
}

const fn yes() -> bool {
    true
}

fn is_yes(value: &bool) -> bool {
    *value
}

fn top_panel<L>() -> Top<L> {
    Top::Panel
}

fn is_top_panel<L>(top: &Top<L>) -> bool {
    matches!(top, Top::Panel)
}

fn no_back<L>() -> Back<L> {
    Back::None
}

fn is_no_back<L>(back: &Back<L>) -> bool {
    matches!(back, Back::None)
}

fn plain_dowels<L>() -> JointKind<L> {
    JointKind::Dowelled("8x40".to_owned())
}

/// What closes a shell above.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Top<L = Dim> {
    /// A panel over the whole depth.
    Panel,
    /// Two lying strips, one at the front and one at the rear.
    Rails {
        /// Width of each strip.
        width: L,
    },
    /// Nothing.
    None,
}

/// What closes a shell at the rear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Back<L = Dim> {
    /// Nothing.
    None,
    /// A panel behind all others, over their rear edges.
    Applied,
    /// A panel between sides, bottom and top.
    Inset {
        /// From the rear edges of the sides to the rear of the panel.
        set_back: L,
    },
    /// A panel in a groove of sides, bottom and top.
    Grooved {
        /// From the rear edges of the sides to the rear of the groove.
        set_back: L,
        /// Depth of the groove.
        depth: L,
    },
    /// A panel glued into a rebate along the rear edges of sides, bottom and top.
    Rebated {
        /// Depth of the rebate, from the inner faces.
        depth: L,
    },
}

/// Where fronts sit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum FrontStyle {
    /// Over the front edges of the carcass.
    #[default]
    Overlay,
    /// Between its panels, flush with the front edges.
    Inset,
}

/// What the carcass stands on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Stand<L = Dim> {
    /// Its own sides or bottom, on the floor.
    Floor,
    /// Adjustable feet behind a plinth strip.
    Plinth {
        /// From the floor to the underside of the bottom.
        height: L,
        /// From the front edge of the carcass to the face of the strip.
        set_back: L,
        /// What one of them carries by its maker's sheet, kg; a usual one if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load_kg: Option<f64>,
    },
    /// Feet that can be seen.
    Feet {
        /// From the floor to the underside of the carcass.
        height: L,
        /// What one of them carries by its maker's sheet, kg; a usual one if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load_kg: Option<f64>,
    },
    /// Castors.
    Castors {
        /// From the floor to the underside of the carcass.
        height: L,
        /// What one of them carries by its maker's sheet, kg; a usual one if not given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load_kg: Option<f64>,
    },
}

impl<L> Stand<L> {
    /// What one foot or castor carries by its maker's sheet, kg, if the design says so.
    #[must_use]
    pub const fn load_kg(&self) -> Option<f64> {
        match self {
            Self::Floor => None,
            Self::Plinth { load_kg, .. } | Self::Feet { load_kg, .. } | Self::Castors { load_kg, .. } => *load_kg,
        }
    }
}

/// A worktop as a slab.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Worktop<L = Dim> {
    /// Its material.
    pub board: String,
    /// How far it projects beyond the envelope.
    #[serde(default = "flush", skip_serializing_if = "is_flush")]
    pub overhang: Overhang<L>,
    /// What its outline follows beyond that.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub shape: Option<TopShape<L>>,
}

fn flush<L>() -> Overhang<L> {
    Overhang { front: None, left: None, right: None, rear: None }
}

fn is_flush<L>(over: &Overhang<L>) -> bool {
    let Overhang { front, left, right, rear } = over;
    [front, left, right, rear].iter().all(|it| it.is_none())
}

/// How far a worktop projects beyond the envelope on each side; flush where not given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Overhang<L = Dim> {
    /// Towards the person.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub front: Option<L>,
    /// At the left.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub left: Option<L>,
    /// At the right.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub right: Option<L>,
    /// Towards the wall.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub rear: Option<L>,
}

/// Sizes or lines that belong together; bays are named.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Tie {
    /// Equal widths.
    SameWidth(Vec<String>),
    /// Equal heights.
    SameHeight(Vec<String>),
    /// One edge of each on one line.
    InLine {
        /// Which edge.
        edge: TieEdge,
        /// The bays.
        bays: Vec<String>,
    },
    /// Fronts that are cut from one board side by side, in the order in which they hang, so that the grain runs on from one
    /// to the next (grain match). Their sizes stay as they are.
    GrainMatch(Vec<String>),
}

impl Tie {
    /// The bays that are tied.
    #[must_use]
    pub const fn bays(&self) -> &Vec<String> {
        let (Self::SameWidth(bays) | Self::SameHeight(bays) | Self::InLine { bays, .. } | Self::GrainMatch(bays)) =
            self;
        bays
    }
}

/// An edge of a bay's opening, as seen from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum TieEdge {
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// The lower one.
    Lower,
    /// The upper one.
    Upper,
}
