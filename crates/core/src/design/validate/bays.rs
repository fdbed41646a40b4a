//! The bay tree: its depth, its names, and what each bay holds.

use std::collections::BTreeMap;

use super::Check;
use crate::{
    design::{Bay, Fitting, Front, Holding, Inside, Opens, Tie},
    text::FieldPath,
};

/// What may be put between the ends of a string.
const HOLDER: &str = "stay, damper or strut";

/// The most bays inside each other.
pub const MAX_DEPTH: usize = 24;

/// Calls `each` for every bay with its path, from the outside in and in the order of the file, down to a little more
/// than [`MAX_DEPTH`].
pub(super) fn each_bay<'b, L>(root: &'b Bay<L>, each: &mut dyn FnMut(&'b Bay<L>, &FieldPath)) {
    let mut open = vec![(root, FieldPath::root().field("carcass").field("bay"), 1)];
    while let Some((bay, path, depth)) = open.pop() {
        each(bay, &path);
        if depth > MAX_DEPTH {
            continue;
        }
        let inside = path.field("inside");
        match &bay.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => {
                let list = inside.field("bays");
                open.extend(bays.iter().enumerate().rev().map(|(i, bay)| (bay, list.index(i), depth + 1)));
            }
            Inside::Boxed { bay, .. } => open.push((bay, inside.field("bay"), depth + 1)),
            Inside::Open { .. } | Inside::Holds { .. } => {}
        }
    }
}

/// How deep a path goes into the bay tree, the outermost bay counting 1.
fn depth(path: &FieldPath) -> usize {
    path.segments()
        .iter()
        .filter(|segment| matches!(segment, crate::text::Segment::Field(name) if name == "inside"))
        .count()
        + 1
}

impl Check<'_, '_> {
    /// Answers whether the tree is no deeper than allowed.
    pub(super) fn bays(&mut self) -> bool {
        let design = self.design;
        let mut names: BTreeMap<&str, FieldPath> = BTreeMap::new();
        let mut used: BTreeMap<&str, &str> = BTreeMap::new();
        let mut too_deep = false;
        each_bay(&design.carcass.bay, &mut |bay, path| {
            if depth(path) > MAX_DEPTH && !too_deep {
                too_deep = true;
                self.fault(
                    path,
                    format!("bays are nested more than {MAX_DEPTH} deep"),
                    "divide fewer bays inside each other",
                );
            }
            self.bay_name(bay, path, &mut names);
            self.content(bay, path, &mut used);
            if let Some(front) = &bay.front {
                self.front(front, &path.field("front"));
            }
        });
        self.ties(&names);
        !too_deep
    }

    fn bay_name<'d>(&mut self, bay: &'d Bay, path: &FieldPath, names: &mut BTreeMap<&'d str, FieldPath>) {
        let at = path.field("name");
        if bay.name.trim().is_empty() {
            return self.fault(&at, "this bay has no name", "give it one of its own");
        }
        if let Some(first) = names.get(bay.name.as_str()) {
            let line =
                self.index.and_then(|index| index.locate_near(first)).map(|at| format!(", first in line {}", at.line));
            let cause = format!("two bays are called {:?}{}", bay.name, line.unwrap_or_default());
            return self.fault(&at, cause, "rename one of them");
        }
        names.insert(&bay.name, at);
    }

    fn content<'d>(&mut self, bay: &'d Bay, path: &FieldPath, used: &mut BTreeMap<&'d str, &'d str>) {
        let design = self.design;
        let inside = path.field("inside");
        match &bay.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } if bays.is_empty() => {
                let cause = format!("the bay {:?} is divided into nothing", bay.name);
                self.fault(&inside.field("bays"), cause, "add bays, or write `inside: Open()`");
            }
            Inside::Holds { things, by } => {
                let list = inside.field("things");
                let may_be_empty = matches!(by, Holding::Drawer { .. } | Holding::TiltOut { .. });
                if things.is_empty() && !may_be_empty {
                    let at = if self.index.is_some_and(|index| index.span(&list).is_none()) { &inside } else { &list };
                    self.fault(
                        at,
                        format!("the bay {:?} holds nothing", bay.name),
                        "name a thing, or write `inside: Open()`",
                    );
                }
                for (i, thing) in things.iter().enumerate() {
                    let at = list.index(i);
                    self.known(&at, "thing", thing, design.things.keys());
                    if let Some(other) = used.insert(thing, &bay.name) {
                        let cause = if other == bay.name {
                            format!("the thing {thing:?} is in this bay twice")
                        } else {
                            format!("the thing {thing:?} is already in the bay {other:?}")
                        };
                        self.fault(&at, cause, "delete it here or there, or add a second thing");
                    }
                }
                self.holding(by, &inside.field("by"));
            }
            _ => {}
        }
        let moves = matches!(
            &bay.inside,
            Inside::Holds { by: Holding::PullOut { .. } | Holding::Drawer { .. } | Holding::TiltOut { .. }, .. }
        );
        let pulls = matches!(&bay.inside, Inside::Holds { by: Holding::PullOut { .. }, .. });
        if bay.front.as_ref().is_some_and(|it| it.brackets.is_some() && it.opens == Opens::WithHolding) && !pulls {
            let at = path.field("front").field("brackets");
            self.fault(&at, "only a front that moves with a pull-out takes brackets", "delete it");
        }
        if bay.front.as_ref().is_some_and(|front| front.opens == Opens::WithHolding) && !moves {
            let cause = "nothing moves behind this front that could take it along";
            self.fault(
                &path.field("front").field("opens"),
                cause,
                "write another way to open, or hold by a drawer, pull-out or tilt-out",
            );
        }
    }

    fn holding(&mut self, by: &Holding, path: &FieldPath) {
        let design = self.design;
        let (slide, boards): (_, [(&str, &Option<String>); 2]) = match by {
            Holding::Standing | Holding::Shelf { .. } => return,
            Holding::PullOut { slide, board, .. } => (slide.as_ref(), [("board", board), ("bottom", &None)]),
            Holding::Drawer { slide, board, bottom } => (slide.as_ref(), [("board", board), ("bottom", bottom)]),
            Holding::TiltOut { board, stay, .. } => {
                if let Some(name) = stay.as_ref().and_then(|it| it.with.as_ref()) {
                    self.fitting(&path.field("stay").field("with"), HOLDER, name, &Fitting::is_holder);
                }
                (None, [("board", board), ("bottom", &None)])
            }
        };
        if let Some(slide) = slide {
            self.fitting(&path.field("slide"), "slide", slide, &Fitting::is_slide);
        }
        for (field, board) in boards {
            if let Some(board) = board {
                self.known(&path.field(field), "material", board, design.materials.keys());
            }
        }
    }

    /// Adds a fault if there is no fitting of this name, or one of another kind.
    fn fitting(&mut self, at: &FieldPath, kind: &str, name: &str, is: &dyn Fn(&Fitting) -> bool) {
        let design = self.design;
        match design.fittings.get(name) {
            // What the library does not know is a fault of the entry.
            Some(it) if is(it) || it.is_unknown() => {}
            Some(_) => self.fault(at, format!("the fitting {name:?} is no {kind}"), format!("name a {kind}")),
            None => self.known(at, kind, name, design.fittings.iter().filter(|(_, it)| is(it)).map(|(name, _)| name)),
        }
    }

    fn front(&mut self, front: &Front, path: &FieldPath) {
        if let Some(brackets) = &front.brackets {
            let at = path.field("brackets");
            if front.opens == Opens::WithHolding {
                self.fitting(&at, "bracket", brackets, &Fitting::is_bracket);
            } else {
                self.fault(&at, "only a front that moves with a pull-out takes brackets", "delete it");
            }
        }
        if let Some(stay) = &front.stay {
            let at = path.field("stay");
            if !matches!(front.opens, Opens::HingedBelow | Opens::HingedAbove) {
                self.fault(&at, "only a flap that hinges below or above takes a stay", "delete it");
            } else if let Some(name) = &stay.with {
                self.fitting(&at.field("with"), HOLDER, name, &Fitting::is_holder);
            }
        }
        let Some(handle) = &front.handle else { return };
        let at = path.field("handle");
        if front.opens == Opens::Fixed {
            return self.fault(&at, "a front that does not open needs no handle", "delete it, or let the front open");
        }
        self.fitting(&at, "handle", handle, &Fitting::is_handle);
    }

    fn ties(&mut self, names: &BTreeMap<&str, FieldPath>) {
        let known: Vec<String> = names.keys().map(|name| (*name).to_owned()).collect();
        let design = self.design;
        for (i, tie) in design.carcass.ties.iter().enumerate() {
            let at = FieldPath::root().field("carcass").field("ties").index(i);
            let (bays, list) = match tie {
                Tie::SameWidth(bays) | Tie::SameHeight(bays) | Tie::GrainMatch(bays) => (bays, at.clone()),
                Tie::InLine { bays, .. } => (bays, at.field("bays")),
            };
            if bays.len() < 2 {
                self.fault(&at, "a tie needs at least two bays", "name another bay, or delete the tie");
            }
            for (j, bay) in bays.iter().enumerate() {
                self.known(&list.index(j), "bay", bay, &known);
                if bays.iter().take(j).any(|other| other == bay) {
                    self.fault(&list.index(j), format!("the bay {bay:?} is in this tie twice"), "delete it once");
                }
            }
        }
    }
}
