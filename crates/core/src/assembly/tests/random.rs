//! Random designs for property tests: any tree of bays with any holding, front and construction.

use std::collections::BTreeMap;

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

use crate::design::{
    Back, BandRule, Banding, Bay, Construction, Divider, Edge, Front, FrontStyle, Holding, Inside, JointChoice,
    JointKind, Opens, Overhang, Resolved, Role, Shell, Stand, TiltHinge, Top, Want, Worktop,
};
use crate::length::Length;
use crate::sample::{self, mm};

/// Tenths of a millimetre.
fn tenths(range: std::ops::Range<i64>) -> impl Strategy<Value = Length> + Clone {
    range.prop_map(|tenths| Length::from_um(tenths * 100))
}

fn front() -> impl Strategy<Value = Front<Length>> + Clone {
    let opens = select(vec![
        Opens::HingedLeft,
        Opens::HingedRight,
        Opens::Pair,
        Opens::HingedBelow,
        Opens::HingedAbove,
        Opens::WithHolding,
        Opens::Fixed,
    ]);
    let style = option::of(select(vec![FrontStyle::Overlay, FrontStyle::Inset]));
    (opens, style).prop_map(|(opens, style)| Front { style, ..Front::plain(opens) })
}

fn holding() -> impl Strategy<Value = Holding<Length>> + Clone {
    let slide = select(vec!["side 250", "under 250"]);
    let board = option::of(Just("box board".to_owned()));
    prop_oneof![
        Just(Holding::Standing),
        tenths(500..1500).prop_map(|under| Holding::Shelf { under }),
        (slide.clone(), board.clone(), option::of(tenths(200..600)))
            .prop_map(|(slide, board, strips)| Holding::PullOut { slide: Some(slide.to_owned()), board, strips }),
        (slide, board.clone(), option::of(Just("thin board".to_owned())))
            .prop_map(|(slide, board, bottom)| Holding::Drawer { slide: Some(slide.to_owned()), board, bottom }),
        (select(vec![TiltHinge::Below, TiltHinge::Above]), 10.0..60.0, any::<bool>(), board)
            .prop_map(|(hinge, opens_deg, lid, board)| Holding::TiltOut { hinge, opens_deg, lid, board, stay: None }),
    ]
}

fn leaf() -> impl Strategy<Value = Bay<Length>> + Clone {
    let inside = prop_oneof![
        (0u32..3).prop_map(|shelves| Inside::Open { shelves }),
        (holding(), 0usize..=2).prop_map(|(by, count)| Inside::Holds { things: vec!["thing".to_owned(); count], by }),
    ];
    (inside, option::of(front())).prop_map(|(inside, front)| {
        let mut bay = sample::bay("", inside);
        bay.front = front;
        bay
    })
}

fn divider() -> impl Strategy<Value = Divider> + Clone {
    prop_oneof![4 => Just(Divider::Panel), 1 => Just(Divider::Of("front board".to_owned())), 1 => Just(Divider::Nothing)]
}

fn tree() -> impl Strategy<Value = Bay<Length>> {
    leaf().prop_recursive(3, 10, 3, |inner| {
        let bays = vec(inner.clone(), 2..4);
        let gap = option::of(tenths(0..30));
        let inside = prop_oneof![
            3 => (bays.clone(), divider()).prop_map(|(bays, by)| Inside::Across { bays, by }),
            3 => (bays, divider()).prop_map(|(bays, by)| Inside::Up { bays, by }),
            1 => (inner, gap, option::of(construction()), option::of(joint_kind())).prop_map(|(bay, gap, construction, joint)| Inside::Boxed {
                shell: Shell { gap, joint: joint.filter(|_| construction.is_none()), construction },
                bay: Box::new(bay),
            }),
        ];
        (inside, option::weighted(0.2, front())).prop_map(|(inside, front)| {
            let mut bay = sample::bay("", inside);
            bay.front = front;
            bay
        })
    })
}

fn joint_kind() -> impl Strategy<Value = JointKind<Length>> + Clone {
    prop_oneof![
        Just(JointKind::Dowelled("8x40".to_owned())),
        Just(JointKind::Screwed),
        Just(JointKind::Angled),
        tenths(30..80).prop_map(|depth| JointKind::Housed { depth }),
        tenths(30..80).prop_map(|depth| JointKind::Rebated { depth }),
        Just(JointKind::DowelledAndScrewed("6x30".to_owned())),
    ]
}

/// Choices for joints of any parts, some of which are there.
fn choices() -> impl Strategy<Value = Vec<JointChoice<Length>>> {
    let role = || {
        select(vec![
            Role::Side,
            Role::Upright,
            Role::Bottom,
            Role::Top,
            Role::Shelf,
            Role::Back,
            Role::Rail,
            Role::DrawerSide,
            Role::DrawerEnd,
            Role::BinSide,
            Role::BinPanel,
        ])
    };
    let bay = || option::weighted(0.3, (0..6).prop_map(|i| format!("bay {i}")));
    let shift = option::weighted(0.3, tenths(-400..400));
    let one = (role(), bay(), option::of(role()), bay(), option::weighted(0.9, joint_kind()), shift);
    let one = one.prop_map(|(of, bay, to, to_bay, by, shift)| JointChoice { of, bay, to, to_bay, by, shift });
    prop_oneof![1 => Just(Vec::new()), 1 => vec(one, 1..4)]
}

fn construction() -> impl Strategy<Value = Construction<Length>> + Clone {
    let top = prop_oneof![Just(Top::Panel), Just(Top::Rails { width: mm(100) }), Just(Top::None)];
    let back = prop_oneof![
        Just(Back::None),
        Just(Back::Applied),
        tenths(0..200).prop_map(|set_back| Back::Inset { set_back }),
        (tenths(0..200), tenths(20..90)).prop_map(|(set_back, depth)| Back::Grooved { set_back, depth }),
        tenths(20..90).prop_map(|depth| Back::Rebated { depth }),
    ];
    let joint = joint_kind();
    let thick_back = prop::bool::weighted(0.3);
    let style = select(vec![FrontStyle::Overlay, FrontStyle::Inset]);
    let set_back = option::of(tenths(0..200));
    (any::<bool>(), top, back, joint, set_back, style, option::of(tenths(15..45)), thick_back).prop_map(
        |(sides_run_through, top, back, joint, shelf_set_back, fronts, reveal, thick_back)| Construction {
            boards: boards(thick_back),
            sides_run_through,
            top,
            back,
            joint,
            shelf_set_back,
            fronts,
            reveal,
            banding: vec![
                BandRule {
                    roles: vec![Role::Side, Role::Upright, Role::Shelf, Role::Bottom, Role::Top],
                    edges: vec![Edge::Front],
                    band: "thin band".to_owned(),
                },
                BandRule {
                    roles: vec![Role::Front, Role::Shelf],
                    edges: vec![Edge::Left, Edge::Right, Edge::Lower, Edge::Upper],
                    band: "thick band".to_owned(),
                },
            ],
            ..sample::construction()
        },
    )
}

/// The boards of the sample, with a back as thick as all else if wanted: it then takes the joints of the construction.
fn boards(thick_back: bool) -> BTreeMap<Role, String> {
    let mut boards = sample::construction().boards;
    if thick_back {
        boards.insert(Role::Back, "carcass board".to_owned());
    }
    boards
}

fn stand() -> impl Strategy<Value = Stand<Length>> {
    prop_oneof![
        Just(Stand::Floor),
        (tenths(600..1200), tenths(300..600)).prop_map(|(height, set_back)| Stand::Plinth {
            height,
            set_back,
            load_kg: None
        }),
        tenths(600..1200).prop_map(|height| Stand::Feet { height, load_kg: None }),
        tenths(600..1200).prop_map(|height| Stand::Castors { height, load_kg: None }),
    ]
}

/// Any design; most have a layout.
pub(crate) fn designs() -> impl Strategy<Value = Resolved> {
    let size = (tenths(6_000..30_000), tenths(6_000..24_000), tenths(4_500..7_000));
    let thing = (50i64..250, 50i64..250, 50i64..200);
    let worktop = option::of(tenths(0..400));
    let flags = (any::<bool>(), any::<bool>());
    (size, tree(), construction(), stand(), worktop, thing, flags, choices()).prop_map(
        |(size, bay, construction, stand, worktop, thing, (own_shell, grain), joints)| {
            let mut design = sample::design_of(bay);
            let envelope = &mut design.carcass.envelope;
            envelope.width = crate::design::Extent::Fixed(size.0);
            envelope.height = crate::design::Extent::Fixed(size.1);
            envelope.depth = crate::design::Extent::Fixed(size.2);
            design.carcass.construction = construction;
            design.carcass.own_shell = own_shell;
            design.carcass.joints = joints;
            design.carcass.stand = stand;
            design.carcass.worktop = worktop.map(|overhang| Worktop {
                board: "carcass board".to_owned(),
                overhang: Overhang { front: Some(overhang), left: None, right: Some(overhang), rear: None },
                shape: None,
            });
            let band = |thickness| Banding { thickness, width: None, sold_in: None, finish: String::new() };
            design.banding.insert("thin band".to_owned(), band(Length::from_um(400)));
            design.banding.insert("thick band".to_owned(), band(mm(2)));
            for material in design.materials.values_mut() {
                material.grain = grain;
            }
            let thing = sample::thing(thing.0, thing.1, thing.2);
            name_all(&mut design, &thing);
            design
        },
    )
}

/// Gives every bay and thing its own name.
fn name_all(design: &mut Resolved, thing: &crate::design::Thing<Length>) {
    let mut things = BTreeMap::new();
    let mut waiting = vec![&mut design.carcass.bay];
    let mut count = 0;
    while let Some(bay) = waiting.pop() {
        bay.name = format!("bay {count}");
        count += 1;
        if count % 5 == 0 {
            bay.width = Want::AtLeast(mm(100));
        }
        match &mut bay.inside {
            Inside::Open { .. } => {}
            Inside::Holds { things: held, .. } => {
                for name in held {
                    *name = format!("thing {}", things.len());
                    let mut thing = thing.clone();
                    thing.air.top = Some(mm(10));
                    thing.air.rear = Some(Length::from_um(12_300));
                    thing.air.sides = (count % 2 == 0).then_some(mm(20));
                    things.insert(name.clone(), thing);
                }
            }
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => waiting.extend(bays),
            Inside::Boxed { bay, .. } => waiting.push(bay),
        }
    }
    design.things.extend(things);
}
