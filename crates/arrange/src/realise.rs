//! From a division to a Design: rows and stacks become bays, each unit takes the first way of holding that has room, and
//! what is left over becomes open space where it is of use.

use casewright_core::Length;
use casewright_core::design::{Bay, Design, Divider, Inside, Want};
use casewright_core::expr::Dim;

use crate::curve::Size;
use crate::division::Division;
use crate::request::{LEAST_OPEN_HEIGHT, LEAST_OPEN_WIDTH, Request, Unit, divided, without_dangling};

/// Open space is made of what is left of a stack from this clear height on (own choice).
const WORTH_A_BAY: Length = Length::from_mm(120);

/// The design with the division in the place of what was there, and the choice that each unit in it took.
pub(crate) fn design(request: &Request, division: &Division) -> Option<(Design, Vec<(usize, usize)>)> {
    let place = &request.place;
    let least = division.size_in(request, place.room)?;
    // Where the envelope is given, all of it is there to be used.
    let room = Size {
        width: if place.may_shrink[0] { least.width } else { place.room.width },
        height: if place.may_shrink[1] { least.height } else { place.room.height },
    };
    let mut making = Making { request, choices: Vec::new(), rows: 0, columns: 0, spaces: 0 };
    let made = making.bay(division, room, false)?;
    let mut design = request.design.clone();
    let area = design.carcass.bay.named_mut(&request.area)?;
    if made.children().is_empty() && request.area == request.design.carcass.bay.name {
        *area = made;
    } else {
        area.inside = match made.inside {
            Inside::Open { .. } | Inside::Holds { .. } => Inside::Up { bays: vec![made], by: Divider::Panel },
            divided => divided,
        };
    }
    without_dangling(&mut design);
    Some((design, making.choices))
}

struct Making<'r> {
    request: &'r Request,
    choices: Vec<(usize, usize)>,
    rows: usize,
    columns: usize,
    spaces: usize,
}

impl Making<'_> {
    /// The bay of a division in a clear space of this size. `in_stack` tells whether it lies in a stack, which takes up what
    /// is left over its height.
    fn bay(&mut self, division: &Division, room: Size, in_stack: bool) -> Option<Bay> {
        match division {
            Division::Unit(index) => {
                let unit = self.request.units.get(*index)?;
                let bay = self.unit(*index, unit, room)?;
                let least = unit.curve.narrowest(room.height)?;
                let left = room.height - least.height - self.request.place.shelf;
                if in_stack || unit.is_open || left < WORTH_A_BAY {
                    return Some(bay);
                }
                let space = self.space();
                let name = self.name(false);
                Some(divided(name, false, vec![bay, space], Divider::Panel))
            }
            Division::Row(children) => {
                let mut bays = Vec::new();
                for child in children {
                    let width = child.curve(self.request).narrowest(room.height)?.width;
                    bays.push(self.bay(child, Size { width, height: room.height }, in_stack)?);
                }
                let name = self.name(true);
                Some(divided(name, true, bays, Divider::Panel))
            }
            Division::Stack(children) => {
                let mut bays = Vec::new();
                let mut run: Vec<Bay> = Vec::new();
                for child in children {
                    let height = child.curve(self.request).lowest(room.width)?.height;
                    let bay = self.bay(child, Size { width: room.width, height }, true)?;
                    if self.request.is_carried(child) {
                        run.push(bay);
                    } else {
                        self.close(&mut run, &mut bays);
                        bays.push(bay);
                    }
                }
                self.close(&mut run, &mut bays);
                let has_open =
                    division.units().iter().filter_map(|&it| self.request.units.get(it)).any(|it| it.is_open);
                let left = room.height - division.curve(self.request).lowest(room.width)?.height;
                if !has_open && !in_stack && left - self.request.place.shelf >= WORTH_A_BAY {
                    bays.push(self.space());
                }
                let name = self.name(false);
                if let [only] = bays.as_slice() {
                    return Some(only.clone());
                }
                Some(divided(name, false, bays, Divider::Panel))
            }
        }
    }

    /// Units on slides that lie over one another become a bay of their own without shelves.
    fn close(&mut self, run: &mut Vec<Bay>, bays: &mut Vec<Bay>) {
        let units = std::mem::take(run);
        if units.len() > 1 {
            let name = self.name(false);
            bays.push(divided(name, false, units, Divider::Nothing));
        } else {
            bays.extend(units);
        }
    }

    /// The bay of a unit: of its first choice that has room in a clear space of this size.
    fn unit(&mut self, index: usize, unit: &Unit, room: Size) -> Option<Bay> {
        let place = &self.request.place;
        let (chosen, choice, size) = unit.choices.iter().enumerate().find_map(|(i, choice)| {
            let fits = |it: &&[Length; 3]| it[2] <= place.depth && room.holds(Size { width: it[0], height: it[1] });
            Some((i, choice, choice.sizes.iter().find(fits)?))
        })?;
        self.choices.push((index, chosen));
        let mut bay = choice.bay.clone();
        // What is held takes what it needs; open space takes the rest, and stays of use.
        let dim = |length: Length| Dim::of(length, self.request.design.unit);
        match (&bay.height, unit.is_open) {
            (Want::Free, true) => bay.height = Want::AtLeast(dim(size[1])),
            (Want::Free, false) => bay.height = Want::Prefer(dim(size[1])),
            _ => {}
        }
        match (&bay.width, unit.is_appliance) {
            (Want::Free, true) => bay.width = Want::Prefer(dim(size[0])),
            (Want::Free, false) if unit.things.is_empty() && choice.bay.children().is_empty() => {
                bay.width = Want::AtLeast(dim(size[0]));
            }
            _ => {}
        }
        Some(bay)
    }

    /// Open space for what is left.
    fn space(&mut self) -> Bay {
        self.spaces += 1;
        let at_least = |least: Length| Want::AtLeast(Dim::of(least, self.request.design.unit));
        Bay {
            width: at_least(LEAST_OPEN_WIDTH),
            height: at_least(LEAST_OPEN_HEIGHT),
            ..Bay::plain(self.free_name("space", self.spaces), Inside::Open { shelves: 0 })
        }
    }

    fn name(&mut self, across: bool) -> String {
        let (word, count) = if across { ("row", &mut self.rows) } else { ("column", &mut self.columns) };
        *count += 1;
        let count = *count;
        self.free_name(word, count)
    }

    /// A name that no bay of the design or of a choice has.
    fn free_name(&self, word: &str, count: usize) -> String {
        let root = &self.request.design.carcass.bay;
        let taken = |name: &str| {
            root.named(name).is_some()
                || self.request.units.iter().any(|it| it.choices.iter().any(|it| it.bay.name == name))
        };
        let mut name = format!("{word} {count}");
        while taken(&name) {
            name.push('\'');
        }
        name
    }
}
