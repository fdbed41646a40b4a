//! What fields, choices and kinds are called on screen.

use casewright_core::design::{Edge, Holding, Inside, MaterialKind, ObstacleKind, Opens, Role, ThingKind};
use casewright_core::finding::Severity;
use casewright_core::text::{FieldPath, Segment};

use crate::pipeline::ViewKind;
use crate::words::Words;

/// What the length at a place is called: by the last named field, with the axis where it is one of three.
#[must_use]
pub fn length(words: &Words, path: &FieldPath) -> String {
    let segments = path.segments();
    let index = match segments.last() {
        Some(Segment::Index(index)) => Some(*index),
        _ => None,
    };
    let name = segments.iter().rev().find_map(|segment| match segment {
        Segment::Field(name) => Some(name.as_str()),
        _ => None,
    });
    let name = name.unwrap_or_default();
    let in_boards = matches!(segments.first(), Some(Segment::Field(first)) if first == "boards");
    let in_lid = segments.iter().any(|it| matches!(it, Segment::Field(field) if field == "lid"));
    let say = |key: &str| words.say(key);
    match (name, index) {
        ("size", Some(0)) if in_boards => say("field-board-length"),
        ("size", Some(1)) if in_boards => say("field-board-width"),
        ("size", Some(0)) | ("width", None) => say("field-width"),
        ("size", Some(1)) | ("height", None) => say("field-height"),
        ("size", Some(2)) | ("depth", None) => say("field-depth"),
        ("width" | "height", Some(0)) => say("field-from"),
        ("width" | "height", Some(1)) => say("field-to"),
        ("corner", Some(0)) => say("field-corner-left"),
        ("corner", Some(1)) => say("field-corner-lower"),
        ("corner", Some(2)) => say("field-corner-rear"),
        ("good", Some(0)) => say("field-good-start"),
        ("good", Some(1)) => say("field-good-near"),
        ("good", Some(2)) => say("field-good-length"),
        ("good", Some(3)) => say("field-good-width"),
        ("kerf", _) => say("field-kerf"),
        ("trim", _) => say("field-trim"),
        ("useful", Some(0)) => say("field-useful-length"),
        ("useful", Some(1)) => say("field-useful-width"),
        ("spoilt", Some(0)) => say("field-spoilt-start"),
        ("spoilt", Some(1)) => say("field-spoilt-end"),
        ("spoilt", Some(2)) => say("field-spoilt-near"),
        ("spoilt", Some(3)) => say("field-spoilt-far"),
        ("from_left", _) => say("field-from-left"),
        ("from_wall", _) => say("field-from-wall"),
        ("sides", _) => say("field-sides"),
        ("left", _) => say("field-left"),
        ("right", _) => say("field-right"),
        ("top", _) => say("field-top"),
        ("rear", _) => say("field-rear"),
        ("front", _) => say("field-front"),
        ("reach", _) => say("field-reach"),
        ("headroom", _) => say("field-headroom"),
        ("thickness", _) => say("field-thickness"),
        ("length", _) => say("field-length"),
        ("side_space", _) => say("field-side-space"),
        ("cup", _) => say("field-cup"),
        ("cup_depth", _) => say("field-cup-depth"),
        ("holes_apart", _) => say("field-holes-apart"),
        ("stands_out", _) => say("field-stands-out"),
        ("carcass", Some(index @ (0 | 1))) if in_lid => {
            say(if index == 0 { "field-lid-carcass-behind" } else { "field-lid-carcass-away" })
        }
        ("carcass", Some(0)) => say("field-stay-carcass-behind"),
        ("carcass", Some(1)) => say("field-stay-carcass-away"),
        ("flap", Some(0)) => say("field-stay-flap-behind"),
        ("flap", Some(1)) => say("field-stay-flap-away"),
        ("compartment", Some(0)) => say("field-stay-compartment-behind"),
        ("compartment", Some(1)) => say("field-stay-compartment-away"),
        ("hinge", Some(0)) => say("field-lid-hinge-behind"),
        ("hinge", Some(1)) => say("field-lid-hinge-away"),
        ("lid", Some(0)) => say("field-lid-end-behind"),
        ("lid", Some(1)) => say("field-lid-end-away"),
        ("pulley", Some(0)) => say("field-pulley-behind"),
        ("pulley", Some(1)) => say("field-pulley-away"),
        ("set_back", _) => say("field-set-back"),
        ("shelf_set_back", _) => say("field-shelf-set-back"),
        ("reveal", _) => say("field-reveal"),
        ("keep_clear", _) => say("field-keep-clear"),
        ("under", _) => say("field-under"),
        ("sold_in", _) => say("field-sold-in"),
        ("strips", _) => say("field-strips"),
        ("gap", _) => say("field-gap"),
        ("x", _) => say("field-x"),
        ("z", _) => say("field-z"),
        (other, _) => other.replace('_', " "),
    }
}

/// What a bay is for.
#[must_use]
pub fn inside<L>(words: &Words, inside: &Inside<L>) -> String {
    match inside {
        Inside::Open { shelves: 0 } => words.say("inside-open"),
        Inside::Open { shelves } => words.say_with("inside-shelves", &[("count", shelves)]),
        Inside::Holds { things, by } if things.is_empty() => holding(words, by),
        Inside::Holds { things, by } => {
            words.say_with("inside-holds", &[("things", &things.join(", ")), ("by", &holding(words, by))])
        }
        Inside::Across { bays, .. } => words.say_with("inside-across", &[("count", &bays.len())]),
        Inside::Up { bays, .. } => words.say_with("inside-up", &[("count", &bays.len())]),
        Inside::Boxed { .. } => words.say("inside-boxed"),
    }
}

/// What carries things.
#[must_use]
pub fn holding<L>(words: &Words, by: &Holding<L>) -> String {
    words.say(match by {
        Holding::Standing => "holding-standing",
        Holding::Shelf { .. } => "holding-shelf",
        Holding::PullOut { .. } => "holding-pull-out",
        Holding::Drawer { .. } => "holding-drawer",
        Holding::TiltOut { .. } => "holding-tilt-out",
    })
}

/// How a front opens.
#[must_use]
pub fn opens(words: &Words, opens: Opens) -> String {
    words.say(match opens {
        Opens::HingedLeft => "opens-left",
        Opens::HingedRight => "opens-right",
        Opens::Pair => "opens-pair",
        Opens::HingedBelow => "opens-flap-below",
        Opens::HingedAbove => "opens-flap-above",
        Opens::WithHolding => "opens-with-holding",
        Opens::Fixed => "opens-fixed",
    })
}

/// What kind of thing it is.
#[must_use]
pub fn thing_kind(words: &Words, kind: ThingKind) -> String {
    words.say(match kind {
        ThingKind::Appliance => "thing-appliance",
        ThingKind::Crate => "thing-crate",
        ThingKind::Container => "thing-container",
        ThingKind::Bin => "thing-bin",
        ThingKind::Other => "thing-other",
    })
}

/// What kind of obstacle it is.
#[must_use]
pub fn obstacle_kind(words: &Words, kind: ObstacleKind) -> String {
    words.say(match kind {
        ObstacleKind::Radiator => "obstacle-radiator",
        ObstacleKind::Valve => "obstacle-valve",
        ObstacleKind::Pipe => "obstacle-pipe",
        ObstacleKind::Socket => "obstacle-socket",
        ObstacleKind::Sill => "obstacle-sill",
        ObstacleKind::Skirting => "obstacle-skirting",
        ObstacleKind::Door => "obstacle-door",
        ObstacleKind::Other => "obstacle-other",
    })
}

/// What a part does.
#[must_use]
pub fn role(words: &Words, role: Role) -> String {
    words.say(match role {
        Role::Side => "role-side",
        Role::Upright => "role-upright",
        Role::Bottom => "role-bottom",
        Role::Top => "role-top",
        Role::Shelf => "role-shelf",
        Role::Rail => "role-rail",
        Role::Back => "role-back",
        Role::Front => "role-front",
        Role::Plinth => "role-plinth",
        Role::Worktop => "role-worktop",
        Role::DrawerSide => "role-drawer-side",
        Role::DrawerEnd => "role-drawer-end",
        Role::DrawerBottom => "role-drawer-bottom",
        Role::Platform => "role-platform",
        Role::SideStrip => "role-side-strip",
        Role::BinSide => "role-bin-side",
        Role::BinPanel => "role-bin-panel",
    })
}

/// What a board is made of.
#[must_use]
pub fn material_kind(words: &Words, kind: MaterialKind) -> String {
    words.say(match kind {
        MaterialKind::Particleboard => "material-particleboard",
        MaterialKind::Mdf => "material-mdf",
        MaterialKind::Hardboard => "material-hardboard",
        MaterialKind::Plywood => "material-plywood",
        MaterialKind::Osb => "material-osb",
        MaterialKind::Softwood => "material-softwood",
        MaterialKind::Hardwood => "material-hardwood",
    })
}

/// An edge of a part as it lies in the finished piece.
#[must_use]
pub fn edge(words: &Words, edge: Edge) -> String {
    words.say(match edge {
        Edge::Front => "edge-front",
        Edge::Rear => "edge-rear",
        Edge::Left => "edge-left",
        Edge::Right => "edge-right",
        Edge::Lower => "edge-lower",
        Edge::Upper => "edge-upper",
    })
}

/// The mark and the word of a severity: never the colour alone.
#[must_use]
pub fn severity(words: &Words, severity: Severity) -> (&'static str, String) {
    match severity {
        Severity::Error => ("✖", words.say("severity-error")),
        Severity::Warning => ("▲", words.say("severity-warning")),
        Severity::Note => ("●", words.say("severity-note")),
    }
}

/// What a view is called on its switch.
#[must_use]
pub fn view(words: &Words, kind: ViewKind) -> String {
    words.say(match kind {
        ViewKind::Front => "view-front",
        ViewKind::Fronts => "view-fronts",
        ViewKind::Section => "view-section",
        ViewKind::Plan => "view-plan",
        ViewKind::Isometric => "view-isometric",
    })
}
