//! A piece of a design file for each type, read by the program's own types.

use casewright_core::design as d;
use casewright_core::unit::Unit;
use ron::Options;
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

/// An example.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// The type that it is of.
    pub of: &'static str,
    /// What would stand in a file.
    pub text: &'static str,
    /// What is wrong with it, if it cannot be read.
    pub fault: fn(&str) -> Option<String>,
    /// The names that the type's reader knows: its fields, or the words of a choice.
    pub names: fn() -> Vec<String>,
}

fn options() -> Options {
    Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .with_default_extension(Extensions::UNWRAP_VARIANT_NEWTYPES)
}

fn fault<T: DeserializeOwned>(text: &str) -> Option<String> {
    options().from_str::<T>(text).err().map(|error| error.to_string())
}

/// What the reader lists when it meets a name that it does not know.
fn names<T: DeserializeOwned>() -> Vec<String> {
    let unknown = |text: &str| match options().from_str::<T>(text).map_err(|error| error.code) {
        Err(ron::Error::NoSuchStructField { expected, .. } | ron::Error::NoSuchEnumVariant { expected, .. }) => {
            Some(expected.iter().map(|name| (*name).to_owned()).collect())
        }
        _ => None,
    };
    unknown("(no_such_name: 1)").or_else(|| unknown("NoSuchName")).unwrap_or_default()
}

macro_rules! examples {
    ($($kind:ty, $name:literal, $text:literal;)*) => {
        [$(Example { of: $name, text: $text, fault: fault::<$kind>, names: names::<$kind> }),*]
    };
}

/// All of them.
#[must_use]
pub fn all() -> Vec<Example> {
    examples! {
        d::Design, "Design", r#"(
    schema: 1,
    title: "Shelf for the hall",
    unit: Millimetre(step: 0.5),
    parameters: {"niche": "900", "fit": "4"},
    materials: {"birch 18": (thickness: 18, kind: Plywood, grain: true)},
    carcass: (
        envelope: (width: Fixed("niche - 2 * fit"), height: Fixed(1200), depth: Fixed(300)),
        construction: (board: "birch 18", joint: Dowelled("8x40")),
        bay: (name: "all", inside: Open(shelves: 3)),
    ),
)"#;
        d::SheetNotes, "SheetNotes", r#"(owner: "Village hall", number: "7", revision: "B", drawn_by: "M. S.")"#;
        Unit, "Unit", "Millimetre(step: 0.5)";
        Unit, "Unit", "Inch(denominator: 32)";
        d::Site, "Site", r#"(
    niche: (width: "niche", height: 2400),
    obstacles: [(name: "heater", kind: Radiator, corner: (950, 150, 700), size: (100, 600, 800))],
    floor: [(x: 0, z: 0, height: 0), (x: 900, z: 0, height: -4)],
)"#;
        d::Niche, "Niche", "(width: 1660, height: 2400, depth: 700, right_wall: false)";
        d::Niche, "Niche", r#"(width: 1400, height: 1240, above: "window sill")"#;
        d::ObstacleKind, "ObstacleKind", "Skirting";
        d::Obstacle, "Obstacle", r#"(name: "skirting", kind: Skirting, corner: (0, 0, 0), size: (1660, 80, 15))"#;
        d::Obstacle, "Obstacle", r#"(name: "room door", kind: Door, corner: (1700, 0, 800), size: (40, 1980, 860),
 swing: (about: (1700, 800), opens_deg: 90))"#;
        d::ObstacleShape, "ObstacleShape", "Upright([(0, 0), (120, 0), (0, 120)])";
        d::Swing, "Swing", "(about: (1700, 800), opens_deg: -90)";
        d::NeighbourWorktop, "NeighbourWorktop", "(height: 910, thickness: 38, depth: 620, on_left: true)";
        d::FloorPoint, "FloorPoint", "(x: 1200, z: 600, height: -6)";
        d::SiteWall, "SiteWall", "Rear";
        d::WallPoint, "WallPoint", "(wall: Left, at: (3, 1000, 400))";
        d::Thing, "Thing", r#"(
    kind: Appliance,
    size: (595, 850, 600),
    mass_kg: 42,
    air: (sides: 20, top: 10, rear: 50),
    access: FrontDoor(opens: HingedLeft, reach: 520),
    lead: (length: 1500, socket: "socket left"),
)"#;
        d::OwnPullOut, "OwnPullOut", r#"(name: "water tank", corner: (30, 720), size: (360, 90), travel: 300)"#;
        d::ThingSide, "ThingSide", "Top";
        d::ThingKind, "ThingKind", "Crate";
        d::Air, "Air", "(sides: 20, top: 10, rear: 50)";
        d::Access, "Access", "FrontDoor(opens: HingedLeft, reach: 520)";
        d::Access, "Access", "Above(headroom: 350)";
        d::Material, "Material", r#"(thickness: 18.2, kind: Plywood, grain: true, density_kg_m3: 690, finish: "birch, oiled")"#;
        d::MaterialKind, "MaterialKind", "Particleboard";
        d::Banding, "Banding", r#"(thickness: 1, width: 22, finish: "white")"#;
        d::Banding, "Banding", r#"(thickness: 5, width: 22, sold_in: 2500, finish: "oak, solid")"#;
        d::BandRule, "BandRule", r#"(roles: [Side, Shelf, Bottom, Top], edges: [Front], band: "white 1")"#;
        d::Edge, "Edge", "Front";
        d::Role, "Role", "Upright";
        d::Board, "Board", r#"(name: "white sheet", material: "white 18", size: (2800, 2070), price: 68)"#;
        d::Board, "Board", r#"(name: "old wardrobe side", material: "white 18", size: (1980, 560), thickness: 18.4, quantity: 2,
 source: Salvaged, family: "wardrobe", spoilt: (40, 15, 0, 0), banded: [(edge: Near, band: "white 1")])"#;
        d::KeptBand, "KeptBand", r#"(edge: Near, band: "white 1")"#;
        d::BoardEdge, "BoardEdge", "Near";
        d::BoardSource, "BoardSource", "Salvaged";
        d::Saw, "Saw", "(kerf: 2.8, trim: 10, useful: (400, 120), least: Boards)";
        d::Least, "Least", "Boards";
        d::Supply, "Supply", "(pack: 50, price: 6.9, in_hand: 12)";
        d::Fitting, "Fitting", r#"Usual(of: "side-mounted slide", length: 450, load_kg: 35)"#;
        d::Usual, "Usual", r#"(of: "side-mounted slide", length: 450)"#;
        d::Bracket, "Bracket", "(leg: 60, width: 20, holds_n: 250)";
        d::Damper, "Damper", "(stroke: 120, force_n: 150)";
        d::Strut, "Strut", "(length_in: 165, length_out: 245, force_n: 100, force_in_n: 120)";
        d::LidStay, "LidStay", "(length: 250, holds_nm: 6)";
        d::Handle, "Handle", "(holes_apart: 128, stands_out: 32)";
        d::Slide, "Slide", "(mount: Side, length: 450, side_space: 12.7, height: 45, load_kg: 45, extension: Full)";
        d::SlideMount, "SlideMount", "Under";
        d::Extension, "Extension", "Partial";
        d::Hinge, "Hinge", "(cup: 35, cup_depth: 11.5, opens_deg: 107)";
        d::Carcass, "Carcass", r#"(
    envelope: (width: FillNiche, height: Fixed(900), depth: AtMost(560)),
    construction: (board: "white 18", boards: {Back: "thin 6"}, back: Applied, joint: Dowelled("8x40")),
    stand: Plinth(height: 80, set_back: 40),
    bay: (name: "all", inside: Across(bays: [
        (name: "left", inside: Open(shelves: 2)),
        (name: "right", inside: Holds(things: ["crate"], by: Standing)),
    ])),
    ties: [SameWidth(["left", "right"])],
)"#;
        d::Envelope, "Envelope", r#"(width: FillNiche, height: Fixed(900), depth: AtMost(560), from_left: "fit", from_wall: 20)"#;
        d::Extent, "Extent", r#"AtMost("niche - 2 * fit")"#;
        d::Construction, "Construction", r#"(
    board: "white 18",
    boards: {Back: "thin 6", Front: "birch 18"},
    from_stock: {Side: "wardrobe"},
    top: Rails(width: 100),
    back: Grooved(set_back: 12, depth: 8),
    joint: Dowelled("8x40"),
    shelf_set_back: 5,
    reveal: 3,
    banding: [(roles: [Side, Shelf], edges: [Front], band: "white 1")],
)"#;
        d::Top, "Top", "Rails(width: 100)";
        d::Back, "Back", "Grooved(set_back: 12, depth: 8)";
        d::FrontStyle, "FrontStyle", "Inset";
        d::Stand, "Stand", "Plinth(height: 80, set_back: 40)";
        d::Worktop, "Worktop", r#"(board: "beech 38", overhang: (front: 20, left: 10))"#;
        d::Overhang, "Overhang", "(front: 20, left: 10)";
        d::Tie, "Tie", r#"InLine(edge: Lower, bays: ["drawer", "shelves"])"#;
        d::Tie, "Tie", r#"GrainMatch(["left door", "right door"])"#;
        d::TieEdge, "TieEdge", "Lower";
        d::Bay, "Bay", r#"(
    name: "drawer",
    height: Fixed(140),
    inside: Holds(by: Drawer(board: "birch 15", bottom: "thin 6")),
    front: (opens: WithHolding, handle: "bar"),
)"#;
        d::Want, "Want", "Between(300, 450)";
        d::Inside, "Inside", "Open(shelves: 2)";
        d::Inside, "Inside", r#"Holds(things: ["crate"], by: PullOut(strips: 40))"#;
        d::Inside, "Inside", r#"Up(bays: [(name: "low", inside: Open()), (name: "high", inside: Open(shelves: 1))], by: Of("birch 15"))"#;
        d::Inside, "Inside", r#"Boxed(shell: (gap: 2), bay: (name: "loose box", inside: Open()))"#;
        d::Divider, "Divider", r#"Of("birch 15")"#;
        d::Shell, "Shell", "(gap: 2, joint: Screwed)";
        d::Holding, "Holding", r#"PullOut(slide: "slide", board: "birch 15", strips: 40)"#;
        d::Holding, "Holding", "TiltOut(hinge: Below, opens_deg: 35)";
        d::TiltStay, "TiltStay", "(carcass: (60, 420), compartment: (30, 380))";
        d::TiltStop, "TiltStop", "At(30)";
        d::LidString, "LidString", "(hinge: (330, 480), carcass: (340, 560), lid: (120, 490), starts_deg: 10)";
        d::TiltHinge, "TiltHinge", "Below";
        d::Front, "Front", r#"(opens: HingedLeft, style: Inset, board: "birch 18", handle: "bar")"#;
        d::Front, "Front", r#"(opens: HingedAbove, stay: (carcass: (38, 240), flap: (20, 72), with: "strut", both_sides: true))"#;
        d::FlapStay, "FlapStay", "(carcass: (60, 200), flap: (60, 200), stop: At(80))";
        d::Opens, "Opens", "HingedLeft";
        d::JointKind, "JointKind", r#"DowelledAndScrewed("8x40")"#;
        d::JointKind, "JointKind", "Housed(depth: 6)";
        d::JointChoice, "JointChoice", r#"(of: Shelf, bay: "low", to: Side, by: Housed(depth: 6))"#;
        d::TopShape, "TopShape", r#"(
    wall: [(0, 0), (800, 6), (1600, 2)],
    corners: (30, 60),
    cut_outs: [(name: "sink", corner: (420, 80), size: (480, 400), radius: 20)],
)"#;
        d::FrontStep, "FrontStep", "(from: 900, length: 200, out: 80)";
        d::FrontPoint, "FrontPoint", "(at: (900, 80), round: 60)";
        d::CutOut, "CutOut", r#"(name: "sink", corner: (420, 80), size: (480, 400), radius: 20)"#;
        d::Lead, "Lead", r#"(length: 1500, from_left: 80, socket: "socket left")"#;
        d::Opening, "Opening", r#"(panel: Plinth, bay: "dryer", size: (400, 50), free: 0.6)"#;
        d::Assumed, "Assumed", "(sag: Cabinet, shelves_carry: Books, wall: Hollow, fixed_to_wall: true, doorway: (780, 1980))";
        d::SagLimit, "SagLimit", "Span(300)";
        d::SagGrowth, "SagGrowth", "Eurocode";
        d::ShelfLoad, "ShelfLoad", "Books";
        d::WallKind, "WallKind", "Studs";
        d::Arrange, "Arrange", r#"(wished: ["basket"], together: [["washer", "dryer"]], often: ["crate"], weights: {"low": 2})"#;
        d::AsBuilt, "AsBuilt", r#"(thickness: {"white 18": 18.3}, cut: {"3": (1164, 282)}, openings: {"left": (width: 431.5)})"#;
        d::MeasuredOpening, "MeasuredOpening", "(width: 431.5, height: 706)";
        d::Progress, "Progress", r#"(parts: ["1", "2"], steps: ["cut"])"#;
    }
    .to_vec()
}
