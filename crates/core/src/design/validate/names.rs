//! Names that must lead to something: materials, bandings and dowels of constructions, fronts, dividers and boards.

use std::collections::BTreeMap;

use super::{Check, bays::each_bay};
use crate::{
    Length,
    design::{Access, Arrange, Construction, Divider, Inside, JointKind, ObstacleKind, Opens},
    text::FieldPath,
};

/// Diameter and length of a dowel written as `8x40`, whole millimetres; `None` if it is written otherwise or is not
/// possible. Diameters are from 3 to 20 mm, lengths from 10 to 200 mm (common practice).
#[must_use]
pub fn dowel(text: &str) -> Option<(Length, Length)> {
    let (diameter, length) = text.split_once(['x', '×'])?;
    let whole = |text: &str| text.trim().parse::<i64>().ok();
    let (diameter, length) = (whole(diameter)?, whole(length)?);
    let possible = (3..=20).contains(&diameter) && (10..=200).contains(&length);
    possible.then(|| (Length::from_mm(diameter), Length::from_mm(length)))
}

impl Check<'_, '_> {
    pub(super) fn names(&mut self) {
        let design = self.design;
        let root = FieldPath::root();
        self.given(&root.field("things"), design.things.keys());
        self.given(&root.field("materials"), design.materials.keys());
        self.given(&root.field("banding"), design.banding.keys());
        self.given(&root.field("fittings"), design.fittings.keys());
        self.given(&root.field("supplies"), design.supplies.keys());
        self.unique(
            &root.field("site").field("obstacles"),
            "obstacles",
            design.site.obstacles.iter().map(|it| &it.name),
        );
        self.unique(&root.field("boards"), "boards", design.boards.iter().map(|it| &it.name));
        for (i, board) in design.boards.iter().enumerate() {
            let at = root.field("boards").index(i);
            self.material(&at.field("material"), &board.material);
            for (k, kept) in board.banded.iter().enumerate() {
                let band = at.field("banded").index(k).field("band");
                self.known(&band, "banding", &kept.band, design.banding.keys());
            }
        }
        for (name, thing) in &design.things {
            if let Access::FrontDoor { opens: Opens::WithHolding | Opens::Fixed, .. } = thing.access {
                let at = root.field("things").key(name).field("access").field("opens");
                let cause = format!("the door of {name:?} cannot open like this");
                self.fault(&at, cause, "write HingedLeft, HingedRight, HingedBelow, HingedAbove or Pair");
            }
        }
        self.thing_names();
        let carcass = root.field("carcass");
        self.construction(&carcass.field("construction"), &design.carcass.construction);
        if let Some(worktop) = &design.carcass.worktop {
            self.material(&carcass.field("worktop").field("board"), &worktop.board);
        }
        let mut bays = Vec::new();
        each_bay(&design.carcass.bay, &mut |bay, _| bays.push(&bay.name));
        for (i, opening) in design.carcass.openings.iter().enumerate() {
            let at = carcass.field("openings").index(i);
            self.known(&at.field("bay"), "bay", &opening.bay, bays.iter().copied());
            if !opening.panel.may_have_openings() {
                let cause = format!("openings are not cut in parts of the role {:?}", opening.panel);
                let mend = "write Plinth, Back, Bottom, Top, Shelf, Side, Upright, Worktop or Front";
                self.fault(&at.field("panel"), cause, mend);
            }
        }
        self.joint_choices(&carcass.field("joints"), &bays);
        self.arrange(&root.field("arrange"), &bays);
        each_bay(&design.carcass.bay, &mut |bay, path| {
            let inside = path.field("inside");
            match &bay.inside {
                Inside::Across { by: Divider::Of(board), .. } | Inside::Up { by: Divider::Of(board), .. } => {
                    self.material(&inside.field("by"), board);
                }
                Inside::Boxed { shell, .. } => {
                    if let Some(construction) = &shell.construction {
                        self.construction(&inside.field("shell").field("construction"), construction);
                    }
                    if let Some(joint) = &shell.joint {
                        let at = inside.field("shell").field("joint");
                        self.joint_kind(&at, joint);
                        if shell.construction.is_some() {
                            let cause = "this box says how it is joined here and in its construction";
                            self.fault(&at, cause, "write it in the construction only");
                        }
                    }
                }
                _ => {}
            }
            if let Some(board) = bay.front.as_ref().and_then(|front| front.board.as_ref()) {
                self.material(&path.field("front").field("board"), board);
            }
        });
    }

    /// Sockets that leads name, and what comes out of things.
    fn thing_names(&mut self) {
        let design = self.design;
        let sockets = || design.site.obstacles.iter().filter(|it| it.kind == ObstacleKind::Socket).map(|it| &it.name);
        for (name, thing) in &design.things {
            let path = FieldPath::root().field("things").key(name);
            if let Some(socket) = thing.lead.as_ref().and_then(|it| it.socket.as_ref()) {
                self.known(&path.field("lead").field("socket"), "socket", socket, sockets());
            }
            self.unique(&path.field("pull_outs"), "pull-outs", thing.pull_outs.iter().map(|it| &it.name));
        }
    }

    /// Names of things or bays that proposals are asked about, and how much the criteria count.
    fn arrange(&mut self, at: &FieldPath, bays: &[&String]) {
        let design = self.design;
        let arrange = &design.arrange;
        let lists = [("wished", &arrange.wished), ("free", &arrange.free), ("often", &arrange.often)];
        let known: Vec<&String> = design.things.keys().chain(bays.iter().copied()).collect();
        for (field, names) in lists {
            for (i, name) in names.iter().enumerate() {
                self.known(&at.field(field).index(i), "thing or bay", name, known.iter().copied());
            }
        }
        for (i, group) in arrange.together.iter().enumerate() {
            for (j, name) in group.iter().enumerate() {
                let at = at.field("together").index(i).index(j);
                self.known(&at, "thing or bay", name, known.iter().copied());
            }
        }
        for (i, name) in arrange.keep.iter().enumerate() {
            self.known(&at.field("keep").index(i), "bay", name, bays.iter().copied());
        }
        for (key, weight) in &arrange.weights {
            let at = at.field("weights").key(key);
            let known: Vec<String> = Arrange::CRITERIA.iter().map(|it| (*it).to_owned()).collect();
            self.known(&at, "criterion", key, known.iter());
            if !(weight.is_finite() && (0.0..=100.0).contains(weight)) {
                self.fault(&at, format!("a weight of {weight} makes no sense"), "write a number from 0 to 100");
            }
        }
    }

    fn material(&mut self, path: &FieldPath, name: &str) {
        let design = self.design;
        self.known(path, "material", name, design.materials.keys());
    }

    fn construction(&mut self, path: &FieldPath, construction: &Construction) {
        let design = self.design;
        self.material(&path.field("board"), &construction.board);
        for (role, board) in &construction.boards {
            self.material(&path.field("boards").key(&format!("{role:?}")), board);
        }
        for (role, family) in &construction.from_stock {
            let families = design.boards.iter().map(|it| &it.family);
            self.known(&path.field("from_stock").key(&format!("{role:?}")), "stock family", family, families);
        }
        self.joint_kind(&path.field("joint"), &construction.joint);
        for (i, rule) in construction.banding.iter().enumerate() {
            self.known(&path.field("banding").index(i).field("band"), "banding", &rule.band, design.banding.keys());
        }
    }

    fn joint_kind(&mut self, path: &FieldPath, kind: &JointKind) {
        if let Some(size) = kind.dowel().filter(|size| dowel(size).is_none()) {
            let cause = format!("{size:?} is no size of a dowel");
            self.fault(path, cause, "write diameter x length in mm, as in \"8x40\"");
        }
    }

    /// Choices for single joints: bays that are there, and something that is otherwise.
    fn joint_choices(&mut self, path: &FieldPath, bays: &[&String]) {
        let design = self.design;
        for (i, choice) in design.carcass.joints.iter().enumerate() {
            let at = path.index(i);
            for (field, bay) in [("bay", &choice.bay), ("to_bay", &choice.to_bay)] {
                if let Some(bay) = bay {
                    self.known(&at.field(field), "bay", bay, bays.iter().copied());
                }
            }
            if let Some(kind) = &choice.by {
                self.joint_kind(&at.field("by"), kind);
            } else if choice.shift.is_none() {
                self.fault(&at, "this choice for a joint changes nothing", "say `by` what it is made, or its `shift`");
            }
        }
    }

    /// Keys of a map are unique by themselves, but may be empty.
    fn given<'n>(&mut self, path: &FieldPath, names: impl IntoIterator<Item = &'n String>) {
        for name in names {
            if name.trim().is_empty() {
                self.fault(&path.key(name), "this name is empty", "give it a name");
            }
        }
    }

    fn unique<'n>(&mut self, path: &FieldPath, kind: &str, names: impl IntoIterator<Item = &'n String>) {
        let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
        for (i, name) in names.into_iter().enumerate() {
            let at = path.index(i).field("name");
            if name.trim().is_empty() {
                self.fault(&at, "this name is empty", "give it a name");
            } else if let Some(first) = seen.get(name.as_str()) {
                let place = path.index(*first).field("name");
                let line = self
                    .index
                    .and_then(|index| index.locate_near(&place))
                    .map(|at| format!(", first in line {}", at.line));
                let cause = format!("two {kind} are called {name:?}{}", line.unwrap_or_default());
                self.fault(&at, cause, "rename one of them");
            } else {
                seen.insert(name, i);
            }
        }
    }
}
