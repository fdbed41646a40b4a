//! Small designs for tests, built in code.

use std::collections::BTreeMap;

use indexmap::IndexMap;

use crate::design::{
    Access, Air, Bay, Carcass, Construction, Design, Divider, Envelope, Extension, Extent, Fitting, Front, FrontStyle,
    Hinge, Holding, Inside, Material, MaterialKind, Opens, Resolved, Slide, SlideMount, Thing, ThingKind, Want,
};
use crate::length::Length;
use crate::unit::{Step, Unit};

pub(crate) fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

pub(crate) fn material(thickness: Length, kind: MaterialKind) -> Material<Length> {
    Material { thickness, kind, grain: false, density_kg_m3: None, modulus_mpa: None, finish: String::new() }
}

pub(crate) fn bay(name: &str, inside: Inside<Length>) -> Bay<Length> {
    Bay::plain(name, inside)
}

pub(crate) fn front(opens: Opens) -> Front<Length> {
    Front::plain(opens)
}

pub(crate) fn inset_front(opens: Opens) -> Front<Length> {
    Front { style: Some(FrontStyle::Inset), ..Front::plain(opens) }
}

/// Side-mounted slides 12.7 mm thick, and under-mounted ones that leave 21 mm to the inside of the box.
pub(crate) fn slides() -> IndexMap<String, Fitting<Length>> {
    let slide = |mount, side_space, height, length| {
        Fitting::Slide(Slide {
            mount,
            length: mm(length),
            side_space,
            height,
            load_kg: 40.0,
            extension: Extension::Full,
        })
    };
    IndexMap::from([
        ("side 450".to_owned(), slide(SlideMount::Side, Length::from_um(12_700), mm(45), 450)),
        ("under 450".to_owned(), slide(SlideMount::Under, mm(21), mm(27), 450)),
        ("side 250".to_owned(), slide(SlideMount::Side, Length::from_um(12_700), mm(35), 250)),
        ("under 250".to_owned(), slide(SlideMount::Under, mm(21), mm(13), 250)),
        ("cup hinge".to_owned(), Fitting::Hinge(Hinge { cup: mm(35), cup_depth: mm(13), opens_deg: 110.0 })),
    ])
}

/// Boards of 18, 19, 16 and 4 mm, no banding, an open bay 900 x 800 x 560.
pub(crate) fn design() -> Resolved {
    let envelope = Envelope {
        width: Extent::Fixed(mm(900)),
        height: Extent::Fixed(mm(800)),
        depth: Extent::Fixed(mm(560)),
        from_left: None,
        from_wall: None,
    };
    let carcass = Carcass::plain(envelope, construction(), bay("whole", Inside::Open { shelves: 0 }));
    Design {
        title: "sample".to_owned(),
        materials: IndexMap::from([
            ("carcass board".to_owned(), material(mm(18), MaterialKind::Particleboard)),
            ("front board".to_owned(), material(mm(19), MaterialKind::Mdf)),
            ("box board".to_owned(), material(mm(16), MaterialKind::Plywood)),
            ("thin board".to_owned(), material(mm(4), MaterialKind::Hardboard)),
        ]),
        fittings: slides(),
        ..Design::plain(Unit::Millimetre { step: Step::new(Length::from_um(500)).unwrap() }, carcass)
    }
}

pub(crate) fn construction() -> Construction<Length> {
    use crate::design::Role;
    Construction {
        boards: BTreeMap::from([(Role::Front, "front board".to_owned()), (Role::Back, "thin board".to_owned())]),
        ..Construction::plain("carcass board")
    }
}

pub(crate) fn drawer(slide: &str) -> Holding<Length> {
    Holding::Drawer {
        slide: Some(slide.to_owned()),
        board: Some("box board".to_owned()),
        bottom: Some("thin board".to_owned()),
    }
}

pub(crate) fn pull_out(slide: &str, strips: Option<Length>) -> Holding<Length> {
    Holding::PullOut { slide: Some(slide.to_owned()), board: None, strips }
}
pub(crate) fn thing(width: i64, height: i64, depth: i64) -> Thing<Length> {
    Thing {
        kind: ThingKind::Crate,
        size: (mm(width), mm(height), mm(depth)),
        mass_kg: 2.0,
        load_kg: 15.0,
        air: Air::default(),
        may_turn: false,
        access: Access::Open,
        pull_outs: Vec::new(),
        lead: None,
    }
}

pub(crate) fn across(name: &str, bays: Vec<Bay<Length>>) -> Bay<Length> {
    bay(name, Inside::Across { bays, by: Divider::Panel })
}

pub(crate) fn up(name: &str, bays: Vec<Bay<Length>>) -> Bay<Length> {
    bay(name, Inside::Up { bays, by: Divider::Panel })
}

pub(crate) fn open(name: &str, shelves: u32) -> Bay<Length> {
    bay(name, Inside::Open { shelves })
}

pub(crate) fn holds(name: &str, things: &[&str], by: Holding<Length>) -> Bay<Length> {
    bay(name, Inside::Holds { things: things.iter().map(|&it| it.to_owned()).collect(), by })
}

impl Bay<Length> {
    pub(crate) fn behind(mut self, opens: Opens) -> Self {
        self.front = Some(front(opens));
        self
    }
}

/// The sample with this bay inside.
pub(crate) fn design_of(bay: Bay<Length>) -> Resolved {
    let mut design = design();
    design.carcass.bay = bay;
    design
}

/// A cabinet with a drawer over open space at the left, and a door before a crate on a pull-out at the right.
pub(crate) fn cabinet() -> Resolved {
    let mut drawer_bay = holds("odds", &[], drawer("side 450")).behind(Opens::WithHolding);
    drawer_bay.height = Want::Fixed(mm(160));
    let left = up("left", vec![open("books", 1), drawer_bay]);
    let right = holds("crates", &["crate"], pull_out("under 450", Some(mm(40)))).behind(Opens::HingedRight);
    let mut design = design_of(across("whole", vec![left, right]));
    design.things.insert("crate".to_owned(), thing(300, 220, 400));
    design
}
