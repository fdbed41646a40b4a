//! Random designs with nasty values: odd thicknesses, sizes off the step, deep trees, shares far apart, ties between bays
//! that have nothing to do with each other. Many can be solved, many contradict themselves; none may do harm.

use casewright_core::Length;
use casewright_core::design::{
    Access, Air, Assumed, Back, Bay, Carcass, Construction, Design, Divider, Envelope, Extent, Fitting, FlapStay,
    Front, FrontPoint, FrontStyle, Handle, Holding, Inside, JointChoice, JointKind, LidString, Material, MaterialKind,
    Niche, Opens, Overhang, OwnPullOut, Resolved, Role, SCHEMA, SheetNotes, Shell, Site, Stand, Thing, ThingKind,
    ThingSide, Tie, TieEdge, TiltHinge, TiltStay, TiltStop, Top, TopShape, Usual, Want, Worktop,
};
use casewright_core::unit::Unit;
use indexmap::IndexMap;
use proptest::prelude::*;

/// Nanometres.
const fn nm(nm: i64) -> Length {
    Length::from_nm(nm)
}

/// A length between two numbers of millimetres: whole, half, tenths, 1/64 in, or any count of nanometres.
fn length(least_mm: i64, most_mm: i64) -> impl Strategy<Value = Length> {
    prop_oneof![
        4 => (least_mm..=most_mm).prop_map(Length::from_mm),
        2 => (least_mm * 2..=most_mm * 2).prop_map(|halves| nm(halves * 500_000)),
        2 => (least_mm * 10..=most_mm * 10).prop_map(|tenths| nm(tenths * 100_000)),
        2 => (least_mm * 2..=most_mm * 2).prop_map(|sixty_fourths| nm(sixty_fourths * 396_875 + 396_875)),
        1 => (least_mm * 1_000_000..=most_mm * 1_000_000).prop_map(nm),
    ]
}

fn unit() -> impl Strategy<Value = Unit> {
    prop_oneof![
        4 => Just(500_000),
        2 => Just(100_000),
        1 => Just(1_000),
        1 => Just(1_000_000),
        1 => Just(10_000_000),
        1 => Just(333_000),
    ]
    .prop_map(|step| Unit::millimetre(nm(step)).unwrap_or_default())
    .boxed()
    .prop_union(prop_oneof![Just(16), Just(32), Just(64)].prop_map(|d| Unit::inch(d).unwrap_or_default()).boxed())
}

fn thickness() -> impl Strategy<Value = Length> {
    prop_oneof![
        4 => Just(18_000_000),
        1 => Just(15_000_000),
        1 => Just(18_256_250), // 23/32 in
        1 => Just(19_050_000), // 3/4 in
        1 => Just(16_200_000),
        1 => Just(3_000_000),
        1 => Just(40_000_000),
        1 => 1_000_000_i64..45_000_000,
    ]
    .prop_map(nm)
}

fn extent(least_mm: i64, most_mm: i64) -> impl Strategy<Value = Extent<Length>> {
    prop_oneof![
        1 => length(least_mm, most_mm).prop_map(Extent::Fixed),
        4 => length((least_mm + most_mm) / 2, most_mm).prop_map(Extent::Fixed),
        2 => length((least_mm + most_mm) / 2, most_mm).prop_map(Extent::AtMost),
        1 => Just(Extent::FillNiche),
        3 => Just(Extent::Snug),
    ]
}

fn want() -> impl Strategy<Value = Want<Length>> {
    prop_oneof![
        24 => Just(Want::Free),
        1 => length(10, 300).prop_map(Want::Fixed),
        1 => length(0, 200).prop_map(Want::AtLeast),
        1 => length(100, 2500).prop_map(Want::AtMost),
        1 => (length(0, 150), length(0, 900)).prop_map(|(low, more)| Want::Between(low, low + more + Length::from_mm(1))),
        4 => length(1, 2000).prop_map(Want::Prefer),
    ]
}

fn share() -> impl Strategy<Value = Option<f64>> {
    prop_oneof![6 => Just(None), 2 => (1..6_u8).prop_map(|n| Some(f64::from(n))), 1 => (0.001..1000.0).prop_map(Some)]
}

fn divider() -> impl Strategy<Value = Divider> {
    prop_oneof![5 => Just(Divider::Panel), 1 => Just(Divider::Of("thin".to_owned())), 1 => Just(Divider::Nothing)]
}

fn front() -> impl Strategy<Value = Option<Front<Length>>> {
    let opens = prop_oneof![
        Just(Opens::HingedLeft),
        Just(Opens::HingedRight),
        Just(Opens::Pair),
        Just(Opens::HingedBelow),
        Just(Opens::HingedAbove),
        Just(Opens::Fixed),
    ];
    let style = prop_oneof![3 => Just(None), 1 => Just(Some(FrontStyle::Overlay)), 1 => Just(Some(FrontStyle::Inset))];
    let front =
        (opens, style, handle(), prop::option::of(flap_stay())).prop_map(|(opens, style, handle, stay)| Front {
            style,
            handle: handle.filter(|_| opens != Opens::Fixed),
            stay: stay.filter(|_| matches!(opens, Opens::HingedBelow | Opens::HingedAbove)).map(Box::new),
            ..Front::plain(opens)
        });
    prop_oneof![3 => Just(None), 1 => front.prop_map(Some)]
}

/// What holds a flap: a string, or something of the library among [`fittings`].
fn flap_stay() -> impl Strategy<Value = FlapStay<Length>> {
    let end = || (length(0, 200), length(20, 200));
    let with = prop_oneof![2 => Just(None), 1 => Just(Some("lid stay")), 1 => Just(Some("gas strut 50"))];
    (end(), end(), tilt_stop(), with, any::<bool>()).prop_map(|(carcass, flap, stop, with, both_sides)| FlapStay {
        carcass,
        flap,
        stop,
        with: with.map(str::to_owned),
        both_sides,
    })
}

fn tilt_stop() -> impl Strategy<Value = TiltStop<Length>> {
    prop_oneof![
        2 => Just(TiltStop::AtLargest),
        1 => (1.0..90.0).prop_map(TiltStop::At),
        1 => length(5, 300).prop_map(TiltStop::Long),
    ]
}

/// The name of a handle of [`fittings`].
fn handle() -> impl Strategy<Value = Option<String>> {
    prop_oneof![3 => Just(None), 1 => Just(Some("bar")), 1 => Just(Some("knob")), 1 => Just(Some("own grip"))]
        .prop_map(|it| it.map(str::to_owned))
}

/// What comes out on slides or tilts, with or without a front that moves along.
fn moving() -> impl Strategy<Value = (Holding<Length>, Option<Front<Length>>)> {
    let slide = || {
        prop_oneof![
            2 => Just(None),
            1 => Just(Some("open side")),
            1 => Just(Some("open under")),
            1 => Just(Some("short side")),
            1 => Just(Some("short under")),
        ]
        .prop_map(|it| it.map(str::to_owned))
    };
    let strips = || prop_oneof![1 => Just(None), 1 => length(20, 60).prop_map(Some)];
    let bottom = prop_oneof![1 => Just(None), 1 => Just(Some("thin".to_owned()))];
    let end = || (length(0, 120), length(20, 200));
    let lid = (end(), end(), end(), prop::option::of(end()), 0.0..60.0)
        .prop_map(|(hinge, carcass, lid, pulley, starts_deg)| LidString { hinge, carcass, lid, pulley, starts_deg });
    let stay = (end(), end(), tilt_stop(), prop::option::of(lid)).prop_map(|(carcass, compartment, stop, lid)| {
        TiltStay { carcass, compartment, stop, with: None, both_sides: false, lid }
    });
    let hinge = prop_oneof![Just(TiltHinge::Below), Just(TiltHinge::Above)];
    let holding = prop_oneof![
        2 => (slide(), strips()).prop_map(|(slide, strips)| Holding::PullOut { slide, board: None, strips }),
        2 => (slide(), bottom).prop_map(|(slide, bottom)| Holding::Drawer { slide, board: None, bottom }),
        1 => (hinge, 5.0..60.0, any::<bool>(), prop::option::of(stay)).prop_map(|(hinge, opens_deg, lid, stay)| {
            Holding::TiltOut { hinge, opens_deg, lid, board: None, stay: stay.map(Box::new) }
        }),
    ];
    let front = handle().prop_map(|handle| Front { handle, ..Front::plain(Opens::WithHolding) });
    (holding, prop_oneof![1 => Just(None), 3 => front.prop_map(Some)])
}

/// Usual hardware, open and decided, and a handle of the design's own.
fn fittings() -> impl Strategy<Value = IndexMap<String, Fitting<Length>>> {
    let apart = prop_oneof![1 => Just(None), 2 => length(10, 200).prop_map(Some)];
    let space = prop_oneof![2 => Just(None), 1 => length(10, 20).prop_map(Some)];
    (apart, length(1, 60), space).prop_map(|(holes_apart, stands_out, side_space)| {
        let usual = |of: &str| Usual::plain(of);
        let short = |of: &str, load_kg: f64| Usual {
            length: Some(Length::from_mm(250)),
            load_kg: Some(load_kg),
            ..Usual::plain(of)
        };
        let all = [
            ("open side", Usual { side_space, ..usual("side-mounted slide") }),
            ("open under", usual("under-mounted slide")),
            ("short side", short("side-mounted slide", 25.0)),
            ("short under", short("under-mounted slide", 30.0)),
            ("hinge", usual("cup hinge")),
            ("lid stay", usual("lid stay")),
            ("gas strut 50", usual("gas strut 50")),
            ("bar", usual("bar handle")),
            ("knob", usual("knob")),
        ];
        let own = ("own grip".to_owned(), Fitting::Handle(Handle { holes_apart, stands_out }));
        all.into_iter().map(|(name, it)| (name.to_owned(), Fitting::Usual(it))).chain([own]).collect()
    })
}

fn bay_of(inside: impl Strategy<Value = Inside<Length>>) -> impl Strategy<Value = Bay<Length>> {
    (want(), want(), share(), inside).prop_map(|(width, height, share, inside)| Bay {
        name: String::new(),
        width,
        height,
        share,
        inside,
        front: None,
    })
}

fn leaf() -> impl Strategy<Value = Bay<Length>> {
    // Which things a bay holds is filled in when the tree is whole.
    let holds = prop_oneof![
        2 => Just(Holding::Standing),
        1 => length(10, 120).prop_map(|under| Holding::Shelf { under }),
    ];
    let inside = prop_oneof![
        2 => (0..4_u32).prop_map(|shelves| Inside::Open { shelves }),
        2 => (1..3_usize, holds).prop_map(|(count, by)| Inside::Holds { things: vec![String::new(); count], by }),
    ];
    let still = (bay_of(inside), front()).prop_map(|(bay, front)| Bay { front, ..bay });
    let moves = (bay_of(Just(Inside::Open { shelves: 0 })), moving(), 0..3_usize);
    let moves = moves.prop_map(|(bay, (by, front), count)| {
        // What stands on a platform is at least one thing.
        let count = if matches!(by, Holding::PullOut { .. }) { count.max(1) } else { count };
        Bay { front, inside: Inside::Holds { things: vec![String::new(); count], by }, ..bay }
    });
    prop_oneof![4 => still, 1 => moves]
}

fn tree() -> impl Strategy<Value = Bay<Length>> {
    leaf().prop_recursive(4, 24, 3, |inner| {
        let bays = prop::collection::vec(inner.clone(), 1..5);
        let gap = prop_oneof![2 => Just(None), 1 => length(0, 12).prop_map(Some)];
        bay_of(prop_oneof![
            4 => (bays.clone(), divider()).prop_map(|(bays, by)| Inside::Across { bays, by }),
            4 => (bays, divider()).prop_map(|(bays, by)| Inside::Up { bays, by }),
            1 => (gap, inner, prop::option::of(joint())).prop_map(|(gap, bay, joint)| Inside::Boxed {
                shell: Shell { gap, construction: None, joint },
                bay: Box::new(bay),
            }),
        ])
    })
}

fn thing() -> impl Strategy<Value = Thing<Length>> {
    let size = prop_oneof![
        4 => (length(5, 120), length(5, 120), length(5, 200)),
        1 => (length(5, 300), length(5, 300), length(5, 300)),
    ];
    let gap = || prop_oneof![2 => Just(None), 1 => length(0, 25).prop_map(Some)];
    let air = (gap(), gap(), gap(), gap(), gap(), gap()).prop_map(|(sides, left, right, top, rear, front)| Air {
        sides,
        left,
        right,
        top,
        rear,
        front,
    });
    let own = (length(0, 40), length(0, 40), length(1, 60), length(1, 300), prop::option::of(length(1, 100)), side());
    let own = own.prop_map(|(left, low, size, travel, depth, towards)| OwnPullOut {
        name: "tray".to_owned(),
        corner: (left, low),
        size: (size, size),
        travel,
        depth,
        towards,
    });
    let pull_outs = prop_oneof![4 => Just(Vec::new()), 1 => own.prop_map(|it| vec![it])];
    (size, air, any::<bool>(), pull_outs).prop_map(|(size, air, may_turn, pull_outs)| Thing {
        kind: ThingKind::Other,
        size,
        mass_kg: 1.0,
        load_kg: 0.0,
        air,
        may_turn,
        access: Access::Open,
        pull_outs,
        lead: None,
    })
}

fn side() -> impl Strategy<Value = ThingSide> {
    prop_oneof![Just(ThingSide::Front), Just(ThingSide::Left), Just(ThingSide::Right), Just(ThingSide::Top)]
}

/// How panels are joined; depths up to more than a thin board has.
fn joint() -> impl Strategy<Value = JointKind<Length>> {
    prop_oneof![
        3 => Just(JointKind::Screwed),
        2 => Just(JointKind::Dowelled("8x40".to_owned())),
        2 => prop_oneof![Just("8x40"), Just("6x30"), Just("12x60")]
            .prop_map(|dowel| JointKind::DowelledAndScrewed(dowel.to_owned())),
        1 => Just(JointKind::Angled),
        1 => length(1, 6).prop_map(|depth| JointKind::Housed { depth }),
        1 => length(1, 6).prop_map(|depth| JointKind::Rebated { depth }),
    ]
}

/// Choices for single joints; the bays are filled in when the tree is whole.
fn choices() -> impl Strategy<Value = Vec<(JointChoice<Length>, Option<prop::sample::Index>)>> {
    let role = || {
        prop_oneof![
            Just(Role::Side),
            Just(Role::Upright),
            Just(Role::Bottom),
            Just(Role::Top),
            Just(Role::Shelf),
            Just(Role::Rail),
            Just(Role::Back),
        ]
    };
    let shift = prop_oneof![2 => Just(None), 1 => length(-60, 60).prop_map(Some)];
    let by = prop_oneof![1 => Just(None), 5 => joint().prop_map(Some)];
    let one = (role(), prop::option::of(role()), by, shift, prop::option::weighted(0.4, any::<prop::sample::Index>()));
    let one = one.prop_filter("says something", |(.., by, shift, _)| by.is_some() || shift.is_some());
    let one =
        one.prop_map(|(of, to, by, shift, bay)| (JointChoice { of, bay: None, to, to_bay: None, by, shift }, bay));
    prop_oneof![5 => Just(Vec::new()), 1 => prop::collection::vec(one, 1..3)]
}

fn construction() -> impl Strategy<Value = Construction<Length>> {
    let top = prop_oneof![
        3 => Just(Top::Panel),
        1 => length(40, 120).prop_map(|width| Top::Rails { width }),
        1 => Just(Top::None),
    ];
    let back = prop_oneof![
        2 => Just(Back::None),
        2 => Just(Back::Applied),
        1 => length(0, 40).prop_map(|set_back| Back::Inset { set_back }),
        1 => length(0, 40).prop_map(|set_back| Back::Grooved { set_back, depth: Length::from_mm(1) }),
        1 => length(1, 9).prop_map(|depth| Back::Rebated { depth }),
    ];
    let fronts = prop_oneof![Just(FrontStyle::Overlay), Just(FrontStyle::Inset)];
    let shelf_set_back = prop_oneof![Just(None), length(0, 30).prop_map(Some)];
    let backs = prop_oneof![3 => Just("thin"), 1 => Just("main")];
    let all = (any::<bool>(), top, (back, backs), fronts, shelf_set_back, joint());
    all.prop_map(|(sides_run_through, top, (back, backs), fronts, set_back, joint)| Construction {
        board: "main".to_owned(),
        boards: [(Role::Back, backs.to_owned())].into_iter().collect(),
        from_stock: Default::default(),
        sides_run_through,
        top,
        back,
        joint,
        shelf_set_back: set_back,
        fronts,
        reveal: None,
        banding: Vec::new(),
    })
}

fn stand() -> impl Strategy<Value = Stand<Length>> {
    prop_oneof![
        2 => Just(Stand::Floor),
        1 => (length(20, 150), length(0, 60)).prop_map(|(height, set_back)| Stand::Plinth { height, set_back, load_kg: None }),
        1 => length(10, 200).prop_map(|height| Stand::Feet { height, load_kg: None }),
        1 => length(40, 130).prop_map(|height| Stand::Castors { height, load_kg: None }),
    ]
}

fn material(thickness: Length) -> Material<Length> {
    Material {
        thickness,
        kind: MaterialKind::Plywood,
        grain: false,
        density_kg_m3: None,
        modulus_mpa: None,
        finish: String::new(),
    }
}

/// Two bays by their places in the list of names, and which tie joins them.
fn ties() -> impl Strategy<Value = Vec<(u8, prop::sample::Index, prop::sample::Index)>> {
    let one = (0..6_u8, any::<prop::sample::Index>(), any::<prop::sample::Index>());
    prop_oneof![5 => Just(Vec::new()), 1 => prop::collection::vec(one, 1..3)]
}

/// Does something with random designs: their generator nests large frames, and the program itself needs no such stack. A
/// panic goes on.
pub fn with_room<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> T {
    let thread = std::thread::Builder::new().stack_size(64 << 20).spawn(work).expect("the system gives a thread");
    thread.join().unwrap_or_else(|cause| std::panic::resume_unwind(cause))
}

/// How many cases: `CASEWRIGHT_CASES`, or the usual number.
#[must_use]
pub fn cases(usual: u32) -> u32 {
    std::env::var("CASEWRIGHT_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// Any design.
pub fn design() -> impl Strategy<Value = Resolved> {
    let envelope = (extent(120, 3000), extent(120, 2600), extent(80, 900), length(0, 50), length(0, 30));
    let materials = (thickness(), 1_000_000_i64..10_000_000);
    let flags = (prop::bool::weighted(0.25), prop::bool::weighted(0.85));
    let things = (prop::collection::vec(thing(), 3..7), fittings());
    let joined = (ties(), choices());
    (unit(), envelope, materials, construction(), stand(), flags, tree(), things, joined).prop_map(
        |(
            unit,
            (width, height, depth, left, wall),
            (main, thin),
            construction,
            stand,
            (worktop, own_shell),
            mut bay,
            (pool, fittings),
            (ties, choices),
        )| {
            let mut naming = Naming { pool, things: IndexMap::new(), names: Vec::new() };
            naming.bay(&mut bay);
            let ties = ties.into_iter().filter_map(|(kind, one, other)| tie(&naming.names, kind, one, other)).collect();
            let joints = choices
                .into_iter()
                .map(|(choice, bay)| JointChoice { bay: bay.map(|it| it.get(&naming.names).clone()), ..choice });
            let joints = joints.collect();
            Design {
                schema: SCHEMA,
                title: "random".to_owned(),
                sheet: SheetNotes::default(),
                unit,
                parameters: IndexMap::new(),
                site: Site {
                    niche: Some(Niche {
                        width: Length::from_mm(2500),
                        height: Some(Length::from_mm(2400)),
                        above: None,
                        depth: Some(Length::from_mm(700)),
                        left_wall: true,
                        right_wall: true,
                    }),
                    ..Site::default()
                },
                things: naming.things,
                materials: [("main".to_owned(), material(main)), ("thin".to_owned(), material(nm(thin)))].into(),
                banding: IndexMap::new(),
                boards: Vec::new(),
                saw: casewright_core::design::Saw::default(),
                supplies: Default::default(),
                fittings,
                assumed: Assumed::default(),
                as_built: casewright_core::design::AsBuilt::default(),
                arrange: casewright_core::design::Arrange::default(),
                progress: casewright_core::design::Progress::default(),
                carcass: Carcass {
                    envelope: Envelope { width, height, depth, from_left: Some(left), from_wall: Some(wall) },
                    construction,
                    own_shell,
                    stand,
                    worktop: worktop.then(|| Worktop {
                        board: "main".to_owned(),
                        overhang: Overhang { front: None, left: None, right: None, rear: None },
                        shape: (thin % 2 == 0).then(top_shape),
                    }),
                    bay,
                    openings: Vec::new(),
                    ties,
                    joints,
                },
            }
        },
    )
}

/// A bowed front, joined near the left end.
fn top_shape() -> TopShape<Length> {
    let mm = |mm| Some(Length::from_mm(mm));
    let bowed = FrontPoint { at: (Length::ZERO, Length::ZERO), round: None, bow: mm(15) };
    TopShape { front: vec![bowed], joints: vec![Length::from_mm(20)], ..TopShape::default() }
}

fn tie(names: &[String], kind: u8, one: prop::sample::Index, other: prop::sample::Index) -> Option<Tie> {
    let (one, other) = (one.get(names), other.get(names));
    let bays = vec![one.clone(), other.clone()];
    let line = |edge| Some(Tie::InLine { edge, bays: bays.clone() });
    match kind {
        _ if one == other => None,
        0 => Some(Tie::SameWidth(bays)),
        1 => Some(Tie::SameHeight(bays)),
        2 => line(TieEdge::Left),
        3 => line(TieEdge::Right),
        4 => line(TieEdge::Lower),
        _ => line(TieEdge::Upper),
    }
}

/// Gives every bay a name of its own, and every thing that a bay holds.
struct Naming {
    pool: Vec<Thing<Length>>,
    things: IndexMap<String, Thing<Length>>,
    names: Vec<String>,
}

impl Naming {
    fn bay(&mut self, bay: &mut Bay<Length>) {
        bay.name = format!("bay {}", self.names.len() + 1);
        self.names.push(bay.name.clone());
        match &mut bay.inside {
            Inside::Open { .. } => {}
            Inside::Holds { things, .. } => {
                for name in things {
                    *name = format!("thing {}", self.things.len() + 1);
                    if let Some(thing) = self.pool.get(self.things.len() % self.pool.len().max(1)) {
                        self.things.insert(name.clone(), thing.clone());
                    }
                }
            }
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => bays.iter_mut().for_each(|bay| self.bay(bay)),
            Inside::Boxed { bay, .. } => self.bay(bay),
        }
    }
}
