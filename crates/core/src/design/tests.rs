//! Designs to text and back.

use proptest::prelude::*;

use super::{Bay, Design, Divider, Fitting, Holding, Inside, Want};
use crate::{Length, expr::Dim};

/// A small design of everything, without a fault.
pub(crate) const SOUND: &str = r#"(
    schema: 1,
    title: "Laundry corner",
    unit: Millimetre(step: 0.5),
    parameters: { "ply": "18", "inner": "width - 2 * ply", "width": "120 cm" },
    site: (
        niche: (width: 1210, height: 2400, depth: 700),
        obstacles: [
            (name: "tap", kind: Valve, corner: (100, 900, 0), size: (60, 120, 80), keep_clear: 20),
            (name: "pipe", kind: Pipe, corner: (-50, 0, 0), size: (50, 2400, 50)),
        ],
    ),
    things: {
        "dryer": (kind: Appliance, size: (595, 850, 540), mass_kg: 42, air: (sides: 20, top: 10, rear: 50),
            access: FrontDoor(opens: HingedRight, reach: 480)),
        "crate": (kind: Crate, size: (600, 220, 400), load_kg: 15.5),
    },
    materials: {
        "birch": (thickness: "ply", kind: Plywood, grain: true, density_kg_m3: 680),
        "thin": (thickness: 3, kind: Hardboard),
    },
    banding: { "edge": (thickness: 1) },
    boards: [
        (name: "sheet", material: "birch", size: (2440, 1220), price: 71.5),
        (name: "old side", material: "birch", size: (1900, 580), quantity: 2, source: Salvaged, spoilt: (20, 20, 5, 5)),
    ],
    fittings: {
        "runner": Slide(mount: Side, length: 500, side_space: 12.7, height: 45, load_kg: 45),
        "cup": Hinge(cup: 35, cup_depth: 13, opens_deg: 110),
    },
    carcass: (
        envelope: (width: Fixed("width"), height: AtMost(2000), depth: FillNiche),
        construction: (
            board: "birch",
            boards: { Back: "thin" },
            back: Grooved(set_back: 12, depth: 6),
            joint: Dowelled("8x40"),
            reveal: 3,
            banding: [(roles: [Shelf, Front], edges: [Front], band: "edge")],
        ),
        stand: Plinth(height: 100, set_back: 50),
        worktop: (board: "birch", overhang: (front: 20)),
        bay: (
            name: "all",
            inside: Across(bays: [
                (name: "wet", width: AtLeast(600), inside: Holds(things: ["dryer"], by: Standing)),
                (name: "dry", share: 2, inside: Up(by: Of("birch"), bays: [
                    (name: "low", height: Between(200, 300), front: (opens: WithHolding),
                        inside: Holds(things: ["crate"], by: Drawer(slide: "runner", bottom: "thin"))),
                    (name: "mid", inside: Boxed(bay: (name: "box", inside: Open()))),
                    (name: "high", inside: Open(shelves: 2), front: (opens: Pair, board: "birch")),
                ])),
            ]),
        ),
        ties: [SameHeight(["low", "mid"]), InLine(edge: Upper, bays: ["wet", "high"])],
    ),
)
"#;

/// What the program writes for it.
const WRITTEN: &str = r#"(
    schema: 1,
    title: "Laundry corner",
    unit: Millimetre(step: 0.5),
    parameters: { "ply": "18", "inner": "width - 2 * ply", "width": "120 cm" },
    site: (
        niche: (width: 1210, height: 2400, depth: 700),
        obstacles: [
            (name: "tap", kind: Valve, corner: (100, 900, 0), size: (60, 120, 80), keep_clear: 20),
            (name: "pipe", kind: Pipe, corner: (-50, 0, 0), size: (50, 2400, 50)),
        ],
    ),
    things: {
        "dryer": (
            kind: Appliance,
            size: (595, 850, 540),
            mass_kg: 42.0,
            air: (sides: 20, top: 10, rear: 50),
            access: FrontDoor(opens: HingedRight, reach: 480),
        ),
        "crate": (kind: Crate, size: (600, 220, 400), load_kg: 15.5),
    },
    materials: {
        "birch": (thickness: "ply", kind: Plywood, grain: true, density_kg_m3: 680.0),
        "thin": (thickness: 3, kind: Hardboard),
    },
    banding: { "edge": (thickness: 1) },
    boards: [
        (name: "sheet", material: "birch", size: (2440, 1220), price: 71.5),
        (
            name: "old side",
            material: "birch",
            size: (1900, 580),
            quantity: 2,
            source: Salvaged,
            spoilt: (20, 20, 5, 5),
        ),
    ],
    fittings: {
        "runner": Slide(mount: Side, length: 500, side_space: 12.7, height: 45, load_kg: 45.0),
        "cup": Hinge(cup: 35, cup_depth: 13, opens_deg: 110.0),
    },
    carcass: (
        envelope: (width: Fixed("width"), height: AtMost(2000), depth: FillNiche),
        construction: (
            board: "birch",
            boards: { Back: "thin" },
            back: Grooved(set_back: 12, depth: 6),
            joint: Dowelled("8x40"),
            reveal: 3,
            banding: [(roles: [Shelf, Front], edges: [Front], band: "edge")],
        ),
        stand: Plinth(height: 100, set_back: 50),
        worktop: (board: "birch", overhang: (front: 20)),
        bay: (
            name: "all",
            inside: Across(
                bays: [
                    (name: "wet", width: AtLeast(600), inside: Holds(things: ["dryer"], by: Standing)),
                    (
                        name: "dry",
                        share: 2.0,
                        inside: Up(
                            bays: [
                                (
                                    name: "low",
                                    height: Between(200, 300),
                                    inside: Holds(
                                        things: ["crate"],
                                        by: Drawer(slide: "runner", bottom: "thin"),
                                    ),
                                    front: (opens: WithHolding),
                                ),
                                (name: "mid", inside: Boxed(bay: (name: "box", inside: Open()))),
                                (
                                    name: "high",
                                    inside: Open(shelves: 2),
                                    front: (opens: Pair, board: "birch"),
                                ),
                            ],
                            by: Of("birch"),
                        ),
                    ),
                ],
            ),
        ),
        ties: [SameHeight(["low", "mid"]), InLine(edge: Upper, bays: ["wet", "high"])],
    ),
)
"#;

/// The sound design with its innermost box replaced by so many bays inside each other.
pub(crate) fn nested(levels: usize) -> String {
    let open: String = (0..levels).map(|i| format!("(name: \"n{i}\", inside: Up(bays: [")).collect();
    let inside = format!("{open}(name: \"last\", inside: Open()){}", "]))".repeat(levels));
    SOUND.replace("(name: \"box\", inside: Open())", &inside)
}

#[test]
fn the_sound_design_is_sound() {
    let design = Design::from_ron(SOUND).unwrap();
    let resolved = design.resolve().unwrap();
    assert_eq!(resolved.materials["birch"].thickness, Length::from_mm(18));
    assert_eq!(design.scope().length("inner"), Ok(Length::from_mm(1164)));
    assert_eq!(design.to_ron().unwrap(), WRITTEN);
    assert_eq!(Design::from_ron(WRITTEN).unwrap(), design);
}

#[test]
fn usual_hardware_is_written_as_it_was_read_and_resolved_in_full() {
    let runner = "\"runner\": Slide(mount: Side, length: 500, side_space: 12.7, height: 45, load_kg: 45),";
    let usual = "\"runner\": Usual(of: \"side-mounted slide\", length: 500, load_kg: 45.0, side_space: 13),
        \"bar\": Usual(of: \"bar handle\"),";
    let text = SOUND
        .replace(runner, usual)
        .replace("front: (opens: WithHolding)", "front: (opens: WithHolding, handle: \"bar\")")
        .replace("by: Drawer(slide: \"runner\", bottom: \"thin\")", "by: Drawer(bottom: \"thin\")");
    assert_eq!(SOUND.matches(runner).count(), 1);
    let design = Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}"));
    let written = design.to_ron().unwrap();
    assert!(
        written.contains("\"runner\": Usual(of: \"side-mounted slide\", length: 500, load_kg: 45.0, side_space: 13)")
    );
    assert!(written.contains("by: Drawer(bottom: \"thin\")"), "{written}");
    assert_eq!(Design::from_ron(&written).unwrap(), design);
    let resolved = design.resolve().unwrap();
    let Some(Fitting::Slide(slide)) = resolved.fittings.get("runner") else { panic!("{:?}", resolved.fittings) };
    assert_eq!([slide.length, slide.side_space, slide.height], [500, 13, 45].map(Length::from_mm));
    assert!(matches!(resolved.fittings.get("bar"), Some(Fitting::Handle(_))));
}

fn wants() -> impl Strategy<Value = Want> {
    let dim = || "[0-9]{1,3}(\\.[0-9])?|ply \\* [0-9]|[0-9]{1,2} cm|\\PC{0,6}".prop_map(Dim::new);
    prop_oneof![
        Just(Want::Free),
        dim().prop_map(Want::Fixed),
        dim().prop_map(Want::AtLeast),
        dim().prop_map(Want::Prefer),
        (dim(), dim()).prop_map(|(a, b)| Want::Between(a, b)),
    ]
}

fn bays() -> impl Strategy<Value = Bay> {
    let leaf = prop_oneof![
        (0u32..4).prop_map(|shelves| Inside::Open { shelves }),
        proptest::collection::vec("\\PC{0,5}", 0..3)
            .prop_map(|things| Inside::Holds { things, by: Holding::Shelf { under: Dim::from(90) } }),
    ];
    let bay = |inside, (name, width, height, share): (String, Want, Want, Option<f64>)| Bay {
        name,
        width,
        height,
        share,
        inside,
        front: None,
    };
    let rest = || ("\\PC{0,6}", wants(), wants(), proptest::option::of(0.0..9.0f64));
    (leaf, rest()).prop_map(move |(inside, rest)| bay(inside, rest)).prop_recursive(4, 24, 4, move |inner| {
        let some = proptest::collection::vec(inner, 0..4);
        (some, any::<bool>(), rest()).prop_map(move |(bays, across, rest)| {
            let by = if across { Divider::Panel } else { Divider::Of("x\"y".to_owned()) };
            bay(if across { Inside::Across { bays, by } } else { Inside::Up { bays, by } }, rest)
        })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Sound or not, what is written reads back equal, and is written the same again.
    #[test]
    fn any_design_survives_a_file(bay in bays(), title in "\\PC{0,20}", unit: bool) {
        let mut design = Design::from_ron(SOUND).unwrap();
        (design.carcass.bay, design.title) = (bay, title);
        if unit {
            design.unit = crate::unit::Unit::inch(32).unwrap();
        }
        let written = design.to_ron().unwrap();
        let (read, faults) = Design::read(&written).unwrap();
        prop_assert_eq!(&read, &design, "{}", written);
        prop_assert_eq!(read.to_ron().unwrap(), written);
        prop_assert_eq!(design.resolve().is_ok(), faults.is_empty(), "{:?}", faults);
        prop_assert!(faults.iter().all(|fault| fault.at.is_some() && fault.path.is_some()), "{:?}", faults);
    }

    #[test]
    fn any_damage_is_survived(at: prop::sample::Index, length in 0usize..12, put in r#"[(){},:\[\]"'r#b/*\\ \nä0-9a-z.-]{0,4}"#) {
        let from = at.index(SOUND.len());
        let to = (from + length).min(SOUND.len());
        let text = format!("{}{put}{}", &SOUND[..from], &SOUND[to..]);
        if let Err(faults) = Design::from_ron(&text) {
            prop_assert!(!faults.is_empty());
            prop_assert!(faults.iter().all(|fault| fault.at.is_some()), "{:?} in {}", faults, text);
        }
    }
}
