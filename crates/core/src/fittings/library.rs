//! The data files as types.

use std::sync::OnceLock;

use serde::Deserialize;
use thiserror::Error;

use crate::mechanics::Source;

/// A value with its source.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct Figure<T>(
    /// The value; lengths in millimetres.
    pub T,
    /// Where it is from.
    pub String,
);

impl<T> Figure<T> {
    /// Where it is from, trusted by the words that this begins with; a fact of the trade if it says nothing else.
    #[must_use]
    pub fn source(&'static self) -> Source {
        let text = self.1.as_str();
        if let Some(rest) = text.strip_prefix("from memory: ") {
            Source::memory(rest)
        } else if text.starts_with("published") {
            Source::published(text)
        } else {
            Source::practice(text.strip_prefix("common practice: ").unwrap_or(text))
        }
    }
}

/// All slides.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SlideData {
    /// On the outside of the box.
    pub side_mounted: SideSlides,
    /// Under its bottom.
    pub under_mounted: UnderSlides,
}

/// Slides on the outside of a box.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SideSlides {
    /// Between box and carcass on each side.
    pub side_space: Figure<f64>,
    /// Height of the profile.
    pub height: Figure<f64>,
    /// Nominal lengths.
    pub lengths: Figure<Vec<f64>>,
    /// Load classes of a pair.
    pub load_classes_kg: Figure<Vec<f64>>,
    /// What share of its length a partial extension comes out.
    pub partial_share: Figure<f64>,
    /// Behind the front edge of the carcass.
    pub set_back: Figure<f64>,
    /// By how much a box is lower than its opening.
    pub less_high: Figure<f64>,
}

/// Slides under the bottom of a box.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnderSlides {
    /// Opening less the inside width of the box.
    pub inside_less: Figure<f64>,
    /// Nominal length less the length of the box.
    pub shorter: Figure<f64>,
    /// Depth inside the carcass less the nominal length, at least.
    pub behind: Figure<f64>,
    /// By how much a box is lower than its opening.
    pub less_high: Figure<f64>,
    /// Under the bottom.
    pub bottom_recess: Figure<f64>,
    /// The thickest sides.
    pub side_at_most: Figure<f64>,
    /// Height of the profile.
    pub height: Figure<f64>,
    /// Nominal lengths.
    pub lengths: Figure<Vec<f64>>,
    /// Load classes of a pair.
    pub load_classes_kg: Figure<Vec<f64>>,
    /// Width and height of the notch in the rear at each side.
    pub notch: Figure<(f64, f64)>,
    /// Diameter, depth, from the inside of the side, above the underside of the bottom.
    pub hook_hole: Figure<(f64, f64, f64, f64)>,
    /// Length of the front clip and where it sits.
    pub front_clips: Figure<(f64, String)>,
    /// The screw of that clip: diameter and depth of its pilot hole, from the inside of the side, under the underside of
    /// the bottom.
    pub clip_screw: Figure<(f64, f64, f64, f64)>,
}

/// Hinges, stays, dampers and struts.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HingeData {
    /// The cup hinge.
    pub cup_hinge: CupHinge,
    /// Stays and cords.
    pub stays: Vec<Stay>,
    /// Dampers.
    pub dampers: Vec<Damper>,
    /// Struts that push.
    pub struts: Vec<Strut>,
}

impl HingeData {
    /// The names of all that may be put between the ends of a string: stays, dampers, struts.
    pub fn holders(&self) -> impl Iterator<Item = &str> {
        let stays = self.stays.iter().map(|it| it.name.as_str());
        let dampers = self.dampers.iter().map(|it| it.name.as_str());
        stays.chain(dampers).chain(self.struts.iter().map(|it| it.name.as_str()))
    }
}

/// A hinge with a cup in the door.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CupHinge {
    /// Diameter of the cup.
    pub cup: Figure<f64>,
    /// Depth of the cup.
    pub cup_depth: Figure<f64>,
    /// Between its two screws.
    pub screws_apart: Figure<f64>,
    /// Screws behind the middle of the cup.
    pub screws_behind: Figure<f64>,
    /// Diameter and depth of the holes for these.
    pub screw_hole: Figure<(f64, f64)>,
    /// From the edge of the door to the edge of the cup.
    pub cup_to_edge: Figure<f64>,
    /// The two holes of its plate: apart, and their diameter.
    pub plate_holes: Figure<(f64, f64)>,
    /// Opening angle, degrees.
    pub opens_deg: Figure<f64>,
    /// How far a door lies over the side, by the way that it is hung.
    pub overlays: Figure<Vec<(String, f64)>>,
    /// Charts of the number of hinges up to a mass, kg.
    pub by_mass: Vec<Figure<Vec<(u32, f64)>>>,
    /// Number of hinges up to a height.
    pub by_height: Figure<Vec<(u32, f64)>>,
    /// The width above which a door gets one hinge more.
    pub wide_door: Figure<f64>,
    /// Outer hinges from the ends.
    pub from_end: Figure<f64>,
}

/// A stay.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stay {
    /// Its name.
    pub name: String,
    /// Its length.
    pub length: Figure<f64>,
    /// The moment that it holds, N m.
    pub holds_nm: Figure<f64>,
}

/// A damper.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Damper {
    /// Its name.
    pub name: String,
    /// Its stroke.
    pub stroke: Figure<f64>,
    /// Its force, N.
    pub force_n: Figure<f64>,
}

/// A strut that pushes.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strut {
    /// Its name.
    pub name: String,
    /// From end to end, fully in and fully out.
    pub length: Figure<(f64, f64)>,
    /// Its force when nearly out, N.
    pub force_n: Figure<f64>,
    /// Its force when fully in, N.
    pub force_in_n: Figure<f64>,
}

/// Feet, handles, brackets and straps.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sundries {
    /// Feet and castors.
    pub feet: Vec<Foot>,
    /// Handles.
    pub handles: Vec<Handle>,
    /// Angle brackets.
    pub brackets: Vec<Bracket>,
    /// Straps against tipping.
    pub straps: Vec<Strap>,
}

/// A foot or castor.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Foot {
    /// Its name.
    pub name: String,
    /// Its least and most height.
    pub height: Figure<(f64, f64)>,
    /// What one of them carries, N.
    pub load_n: Figure<f64>,
}

/// A handle.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Handle {
    /// Its name.
    pub name: String,
    /// Between its holes; empty for a single one.
    pub holes_apart: Figure<Vec<f64>>,
    /// How far it stands out before the front.
    pub stands_out: Figure<f64>,
}

/// An angle bracket.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bracket {
    /// Its name.
    pub name: String,
    /// Length of a leg.
    pub leg: Figure<f64>,
    /// Its width.
    pub width: Figure<f64>,
    /// How many screws.
    pub screws: Figure<u32>,
    /// The pull that it holds, N.
    pub holds_n: Figure<f64>,
}

/// A strap to the wall.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strap {
    /// Its name.
    pub name: String,
    /// Its length.
    pub length: Figure<f64>,
    /// The pull that it holds, N.
    pub holds_n: Figure<f64>,
}

/// All hardware that the program knows.
#[derive(Clone, Debug, PartialEq)]
pub struct Library {
    /// Slides.
    pub slides: SlideData,
    /// Hinges, stays and dampers.
    pub hinges: HingeData,
    /// Feet, handles, brackets and straps.
    pub sundries: Sundries,
}

/// A data file that cannot be read.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("internal error, please report: the data file {file} cannot be read: {cause}")]
pub struct LibraryError {
    /// The file.
    pub file: &'static str,
    /// Why.
    pub cause: String,
}

/// The hardware of the data files, read once.
///
/// # Errors
/// If a file does not say what it should; a test reads them all, so that this is a fault of the program.
pub fn library() -> Result<&'static Library, LibraryError> {
    static READ: OnceLock<Result<Library, LibraryError>> = OnceLock::new();
    READ.get_or_init(read_all).as_ref().map_err(Clone::clone)
}

fn read_all() -> Result<Library, LibraryError> {
    fn read<T: for<'de> Deserialize<'de>>(file: &'static str, text: &str) -> Result<T, LibraryError> {
        ron::from_str(text).map_err(|error| LibraryError { file, cause: error.to_string() })
    }
    Ok(Library {
        slides: read("slides.ron", include_str!("../../../../assets/fittings/slides.ron"))?,
        hinges: read("hinges.ron", include_str!("../../../../assets/fittings/hinges.ron"))?,
        sundries: read("sundries.ron", include_str!("../../../../assets/fittings/sundries.ron"))?,
    })
}
