//! Everything derived from a design, in the layout that docs/derive.md describes and [`VERSION`] counts.
//!
//! These types stand between the program's own and the file: the program may change inside without changing the file.
//! Lengths are millimetres as exact decimal numbers, angles degrees, masses kilograms.

mod convert;
mod shapes;

use serde::Serialize;

pub(crate) use convert::derived;
use shapes::{Frame, Solid, Way};

/// What the file says that it is.
pub(crate) const FORMAT: &str = "casewright-derived";
/// The version of the layout. It grows when a field changes or goes; a new field may come without.
pub(crate) const VERSION: u32 = 1;

/// The whole file.
#[derive(Debug, Serialize)]
pub(crate) struct Derived {
    format: &'static str,
    version: u32,
    design: About,
    envelope: Solid,
    mass_kg: f64,
    shells: Vec<Shell>,
    bays: Vec<Bay>,
    things: Vec<Thing>,
    choices: Vec<Choice>,
    parts: Vec<Part>,
    joints: Vec<Joint>,
    fittings: Vec<Fitting>,
    movers: Vec<Mover>,
    findings: Vec<Finding>,
}

#[derive(Debug, Serialize)]
struct About {
    title: String,
    number: String,
    revision: String,
    unit: &'static str,
    step: f64,
}

#[derive(Debug, Serialize)]
struct Shell {
    name: String,
    outer: Solid,
    inner: Solid,
}

#[derive(Debug, Serialize)]
struct Bay {
    name: String,
    field: String,
    parent: Option<String>,
    leaf: bool,
    clear: Solid,
}

#[derive(Debug, Serialize)]
struct Thing {
    name: String,
    bay: String,
    turned: bool,
    solid: Solid,
    with_air: Solid,
}

#[derive(Debug, Serialize)]
struct Choice {
    what: String,
    taken: String,
    next: Option<String>,
}

#[derive(Debug, Serialize)]
struct Part {
    number: String,
    name: String,
    role: String,
    bay: String,
    material: String,
    grain: &'static str,
    finished: [f64; 3],
    cut: [f64; 3],
    bands: Vec<Band>,
    solid: Solid,
    frame: Frame,
    machining: Vec<Machining>,
    mass_kg: f64,
}

#[derive(Debug, Serialize)]
struct Band {
    edge: &'static str,
    name: String,
    thickness: f64,
}

#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
enum Machining {
    Hole { face: String, at: [f64; 2], diameter: f64, depth: Option<f64>, purpose: String, joint: Option<usize> },
    Groove { face: String, from: [f64; 2], to: [f64; 2], depth: f64, purpose: String },
}

#[derive(Debug, Serialize)]
struct Joint {
    face_part: String,
    edge_part: String,
    contact: Solid,
    direction: Way,
    joined: Joined,
}

#[derive(Debug, Serialize)]
#[serde(tag = "by", rename_all = "snake_case")]
enum Joined {
    Dowels { diameter: f64, length: f64, with_screws: bool },
    Screws,
    Housing { depth: f64 },
    Rebate { depth: f64, open: Way },
    Angles,
    Loose,
}

#[derive(Debug, Serialize)]
struct Fitting {
    name: String,
    what: String,
    remark: String,
    bay: String,
    count: u32,
    solid: Solid,
}

#[derive(Debug, Serialize)]
struct Mover {
    id: String,
    bay: String,
    parts: Vec<String>,
    things: Vec<String>,
    fittings: Vec<String>,
    motion: Motion,
}

#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
enum Motion {
    Slide { direction: Way, travel: f64 },
    Turn { pivot: [f64; 3], axis: Way, opens_deg: f64 },
}

#[derive(Debug, Serialize)]
struct Finding {
    severity: &'static str,
    check: String,
    what: String,
    measured: Option<String>,
    limit: Option<String>,
    source: Option<String>,
    mend: Option<String>,
    place: Option<Solid>,
    about: Vec<String>,
    field: Option<String>,
}
