//! The design that a new document begins with: an empty carcass, or a first carcass round what is to be housed.

use casewright_core::design::{
    Access, Air, Bay, Carcass, Construction, Design, Divider, Envelope, Extent, Holding, Inside, Material,
    MaterialKind, Niche, Obstacle, Site, Thing, ThingKind, Want,
};
use casewright_core::expr::Dim;
use casewright_core::length::Length;
use casewright_core::unit::Unit;
use indexmap::IndexMap;

use crate::command::tree::fresh_name;

/// The thickness of the board of a first carcass, mm.
const BOARD_MM: i64 = 18;
/// Free height that is worth a bay of its own, mm.
const WORTH_MM: i64 = 150;
/// Free height left above what stands in a bay, mm.
const HEADROOM_MM: i64 = 20;

/// An empty carcass, 1000 wide, 900 high and 400 deep, of 18 mm plywood.
#[must_use]
pub fn blank() -> Design {
    let mm = |mm| Length::from_mm(mm);
    design(Unit::default(), None, [mm(1000), mm(900), mm(400)], IndexMap::new(), open("inside".to_owned()))
}

/// What a guided start asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Whether it stands in a niche of the size below; else that is the size that it may have.
    pub in_niche: bool,
    /// Width, height and depth that there is.
    pub room: [Length; 3],
    /// What is to be housed: name, kind, and width, height and depth.
    pub things: Vec<Housed>,
    /// What is in the way, in site axes.
    pub obstacles: Vec<Obstacle>,
}

/// A thing to be housed by a first carcass.
#[derive(Clone, Debug, PartialEq)]
pub struct Housed {
    /// What it is called.
    pub name: String,
    /// What kind of thing it is.
    pub kind: ThingKind,
    /// Width, height and depth.
    pub size: [Length; 3],
    /// Air that it needs at the sides, above and behind.
    pub air: [Length; 3],
    /// Mass when empty, kg.
    pub mass_kg: f64,
    /// Mass of what it may hold, kg.
    pub load_kg: f64,
}

impl Housed {
    fn need(&self) -> [Length; 3] {
        let [w, h, d] = self.size;
        let [sides, top, rear] = self.air;
        [w + sides * 2, h + top.max(Length::from_mm(HEADROOM_MM)), d + rear]
    }
}

/// A first carcass that holds the things, side by side in columns, the tallest first, with open space above where it is
/// worth having. Whether it fits is the solver's to say.
#[must_use]
pub fn first(unit: Unit, plan: &Plan) -> Design {
    let board = Length::from_mm(BOARD_MM);
    let [width, height, depth] = plan.room;
    let columns = columns(&plan.things, width - board * 2, height - board * 2);
    let mut names: Vec<String> = vec!["inside".to_owned()];
    let mut things = IndexMap::new();
    let mut bays = Vec::new();
    for column in &columns {
        let mut stack = Vec::new();
        let mut used = Length::ZERO;
        for housed in column {
            let taken: Vec<String> = things.keys().cloned().collect();
            let thing = fresh_name(&housed.name, &taken);
            things.insert(thing.clone(), thing_of(unit, housed));
            let mut bay = open(fresh(&mut names, &format!("{} bay", housed.name)));
            bay.inside = Inside::Holds { things: vec![thing], by: Holding::Standing };
            bay.height = Want::Prefer(Dim::of(housed.need()[1], unit));
            used += housed.need()[1] + board;
            stack.push(bay);
        }
        if height - board * 2 - used >= Length::from_mm(WORTH_MM) {
            stack.push(open(fresh(&mut names, "open")));
        } else if let Some(last) = stack.last_mut() {
            // The topmost takes what is left.
            last.height = Want::Free;
        }
        let bay = match stack.len() {
            1 => stack.pop(),
            _ => Some(Bay {
                inside: Inside::Up { bays: stack, by: Divider::Panel },
                ..open(fresh(&mut names, "column"))
            }),
        };
        bays.extend(bay);
    }
    let root = match bays.len() {
        0 => open("inside".to_owned()),
        1 => bays.pop().map_or_else(|| open("inside".to_owned()), |bay| Bay { name: "inside".to_owned(), ..bay }),
        _ => Bay { inside: Inside::Across { bays, by: Divider::Panel }, ..open("inside".to_owned()) },
    };
    let niche = plan.in_niche.then_some([width, height, depth]);
    let mut first = design(unit, niche, [width, height, depth], things, root);
    first.site.obstacles.clone_from(&plan.obstacles);
    first
}

/// Things in columns: the tallest first, each onto a column of about its width that has the height left, else into a
/// new one, else, where the width is used up, onto whatever column has the height left.
fn columns(things: &[Housed], width: Length, height: Length) -> Vec<Vec<&Housed>> {
    let board = Length::from_mm(BOARD_MM);
    let mut sorted: Vec<&Housed> = things.iter().collect();
    sorted.sort_by_key(|housed| std::cmp::Reverse((housed.need()[1], housed.need()[0])));
    let mut columns: Vec<(Length, Length, Vec<&Housed>)> = Vec::new();
    for housed in sorted {
        let [w, h, _] = housed.need();
        let has_height = |(_, used, _): &(Length, Length, Vec<&Housed>)| *used + h + board <= height;
        let is_alike = |(width, ..): &(Length, Length, Vec<&Housed>)| *width * 4 <= w * 5 && w * 4 <= *width * 5;
        let used_width: Length = columns.iter().map(|(width, ..)| *width + board).sum();
        let alike = columns.iter().position(|column| has_height(column) && is_alike(column));
        let any = || columns.iter().position(|column| has_height(column) && column.0 >= w);
        let place = if used_width + w > width { alike.or_else(any) } else { alike };
        match place.and_then(|index| columns.get_mut(index)) {
            Some((width, used, column)) => {
                *width = (*width).max(w);
                *used += h + board;
                column.push(housed);
            }
            None => columns.push((w, h, vec![housed])),
        }
    }
    columns.into_iter().map(|(_, _, column)| column).collect()
}

fn fresh(names: &mut Vec<String>, stem: &str) -> String {
    let name = fresh_name(stem, names);
    names.push(name.clone());
    name
}

fn thing_of(unit: Unit, housed: &Housed) -> Thing {
    let dim = |length| Dim::of(length, unit);
    let some = |length: Length| (length > Length::ZERO).then(|| dim(length));
    let [w, h, d] = housed.size;
    let [sides, top, rear] = housed.air;
    Thing {
        kind: housed.kind,
        size: (dim(w), dim(h), dim(d)),
        mass_kg: housed.mass_kg,
        load_kg: housed.load_kg,
        air: Air { sides: some(sides), top: some(top), rear: some(rear), ..Air::default() },
        may_turn: !matches!(housed.kind, ThingKind::Appliance),
        access: Access::Open,
        pull_outs: Vec::new(),
        lead: None,
    }
}

fn open(name: String) -> Bay {
    Bay::plain(name, Inside::Open { shelves: 0 })
}

fn design(
    unit: Unit,
    niche: Option<[Length; 3]>,
    [width, height, depth]: [Length; 3],
    things: IndexMap<String, Thing>,
    bay: Bay,
) -> Design {
    let dim = |length| Dim::of(length, unit);
    let board = "plywood 18".to_owned();
    let material = Material {
        thickness: dim(Length::from_mm(BOARD_MM)),
        kind: MaterialKind::Plywood,
        grain: false,
        density_kg_m3: None,
        modulus_mpa: None,
        finish: String::new(),
    };
    let niche = niche.map(|[width, height, depth]| Niche {
        width: dim(width),
        height: Some(dim(height)),
        above: None,
        depth: Some(dim(depth)),
        left_wall: true,
        right_wall: true,
    });
    let across = if niche.is_some() { Extent::FillNiche } else { Extent::Fixed(dim(width)) };
    let envelope = Envelope {
        width: across,
        height: Extent::Fixed(dim(height)),
        depth: Extent::Fixed(dim(depth)),
        from_left: None,
        from_wall: None,
    };
    let carcass = Carcass::plain(envelope, Construction::plain(board.clone()), bay);
    Design {
        site: Site { niche, ..Site::default() },
        things,
        materials: IndexMap::from([(board, material)]),
        ..Design::plain(unit, carcass)
    }
}

#[cfg(test)]
mod tests {
    use casewright_core::solve::solve;

    use super::*;
    use crate::command::tree;

    fn housed(name: &str, size: [i64; 3]) -> Housed {
        Housed {
            name: name.into(),
            kind: ThingKind::Container,
            size: size.map(Length::from_mm),
            air: [Length::ZERO; 3],
            mass_kg: 2.0,
            load_kg: 10.0,
        }
    }

    #[track_caller]
    fn check(room: [i64; 3], things: &[Housed], bays: usize) {
        for in_niche in [false, true] {
            let plan =
                Plan { in_niche, room: room.map(Length::from_mm), things: things.to_vec(), obstacles: Vec::new() };
            let design = first(Unit::default(), &plan);
            let text = design.to_ron().unwrap();
            assert_eq!(Design::from_ron(&text).unwrap(), design);
            let resolved = design.resolve().unwrap();
            let layout = solve(&resolved).unwrap_or_else(|error| panic!("{error}")).layout;
            assert_eq!(layout.things.len(), things.len());
            assert_eq!(tree::names(&design).len(), bays);
        }
    }

    #[test]
    fn a_first_carcass_holds_what_it_is_to_hold() {
        check([1000, 900, 400], &[], 1);
        check([800, 1900, 650], &[housed("dryer", [600, 850, 600])], 3);
        let crates = vec![housed("crate", [400, 320, 600]); 4];
        check([1000, 900, 650], &crates, 7);
        let mut mixed = crates;
        mixed.push(housed("dryer", [600, 850, 600]));
        check([1600, 1500, 650], &mixed, 9);
    }
}
