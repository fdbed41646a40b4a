//! Invariant: chains close. Told from the Design and the Layout alone, without asking the solver how it came about.

use casewright_core::Length;
use casewright_core::design::{Back, Bay, Construction, Divider, FrontStyle, Inside, Resolved, Stand, Top};
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::layout::{LaidBay, Layout};

/// All chains that do not close, and all boxes that overlap, in words; empty if all is well.
#[must_use]
pub fn flaws(design: &Resolved, layout: &Layout) -> Vec<String> {
    let mut found = Flaws { design, layout, lines: Vec::new() };
    found.envelope();
    found.bay(&design.carcass.bay, &design.carcass.construction);
    found.names();
    found.overlaps();
    found.lines
}

struct Flaws<'a> {
    design: &'a Resolved,
    layout: &'a Layout,
    lines: Vec<String>,
}

impl Flaws<'_> {
    fn same(&mut self, what: &str, one: Length, other: Length) {
        if one != other {
            self.lines.push(format!("{what}: {one:?} is not {other:?}"));
        }
    }

    fn laid(&mut self, bay: &Bay<Length>) -> Option<LaidBay> {
        let laid = self.layout.bay(&bay.name).cloned();
        if laid.is_none() {
            self.lines.push(format!("bay {:?} is not in the layout", bay.name));
        }
        laid
    }

    /// Stand, carcass and worktop add up to the envelope; the shell lies in it from side to side and from rear to front.
    fn envelope(&mut self) {
        let (design, envelope) = (self.design, self.layout.envelope);
        let Some(shell) = self.layout.shells.first().cloned() else {
            self.lines.push("there is no shell".to_owned());
            return;
        };
        self.same("left", shell.outer.min.x, envelope.min.x);
        self.same("right", shell.outer.max.x, envelope.max.x);
        self.same("rear", shell.outer.min.z, envelope.min.z);
        self.same("floor", envelope.min.y, Length::ZERO);
        let stand = match design.carcass.stand {
            Stand::Floor => Length::ZERO,
            Stand::Plinth { height, .. } | Stand::Feet { height, .. } | Stand::Castors { height, .. } => height,
        };
        let slab = (design.carcass.worktop.as_ref())
            .and_then(|worktop| design.materials.get(&worktop.board))
            .map_or(Length::ZERO, |material| material.thickness);
        let height = stand + shell.outer.size(Axis::Y) + slab;
        self.same("stand + carcass + worktop", height, envelope.size(Axis::Y));
        // Overlay fronts are counted in the depth of the envelope.
        let before = envelope.max.z - shell.outer.max.z;
        if before < Length::ZERO {
            self.lines.push(format!("the shell stands out of the envelope by {:?}", -before));
        }
        if design.carcass.construction.fronts == FrontStyle::Inset && !any_overlay(&design.carcass.bay) {
            self.same("front", shell.outer.max.z, envelope.max.z);
        }
        let construction = design.carcass.construction.clone();
        if design.carcass.own_shell {
            self.shell("carcass", &construction, &shell.outer, &shell.inner);
        } else if shell.inner != shell.outer {
            self.lines.push("a carcass without a shell of its own has one".to_owned());
        }
        if let Some(bay) = self.laid(&design.carcass.bay) {
            self.same("inside, left", bay.clear.min.x, shell.inner.min.x);
            self.same("inside, right", bay.clear.max.x, shell.inner.max.x);
            self.same("inside, below", bay.clear.min.y, shell.inner.min.y);
            self.same("inside, above", bay.clear.max.y, shell.inner.max.y);
        }
    }

    /// Sides, bottom and top add up with the inside to the outside.
    fn shell(&mut self, name: &str, construction: &Construction<Length>, outer: &Cuboid, inner: &Cuboid) {
        use casewright_core::design::Role;
        let thickness = |role: Role| {
            let material = construction.boards.get(&role).unwrap_or(&construction.board);
            self.design.materials.get(material).map_or(Length::ZERO, |it| it.thickness)
        };
        let (side, bottom, back) = (thickness(Role::Side), thickness(Role::Bottom), thickness(Role::Back));
        let above = match construction.top {
            Top::Panel => thickness(Role::Top),
            Top::Rails { .. } => thickness(Role::Rail),
            Top::None => Length::ZERO,
        };
        let behind = match construction.back {
            Back::None => Length::ZERO,
            Back::Applied => back,
            Back::Inset { set_back } | Back::Grooved { set_back, .. } => set_back + back,
            Back::Rebated { .. } => back,
        };
        self.same(&format!("{name}: two sides + inside"), inner.size(Axis::X) + side * 2, outer.size(Axis::X));
        self.same(&format!("{name}: bottom + inside + top"), inner.size(Axis::Y) + bottom + above, outer.size(Axis::Y));
        self.same(&format!("{name}: back + inside"), inner.size(Axis::Z) + behind, outer.size(Axis::Z));
    }

    /// The bays of a division and what stands between them add up to what is divided. `construction` is that of the shell
    /// that the bay lies in.
    fn bay(&mut self, bay: &Bay<Length>, construction: &Construction<Length>) {
        let Some(laid) = self.laid(bay) else { return };
        for axis in Axis::ALL {
            if laid.clear.size(axis) <= Length::ZERO {
                self.lines.push(format!("bay {:?} has no opening along {axis:?}", bay.name));
            }
        }
        match &bay.inside {
            Inside::Open { .. } | Inside::Holds { .. } => {}
            Inside::Across { bays, by } => self.division(&laid, bays, by, Axis::X, construction),
            Inside::Up { bays, by } => self.division(&laid, bays, by, Axis::Y, construction),
            Inside::Boxed { shell, bay: inner } => {
                let gap = shell.gap.unwrap_or_default();
                // The first shell is the carcass's own and goes by the name of the outermost bay.
                let found = self.layout.shells.iter().skip(1).find(|it| it.name == bay.name).cloned();
                let Some(found) = found else {
                    self.lines.push(format!("the shell of {:?} is missing", bay.name));
                    return;
                };
                for axis in [Axis::X, Axis::Y] {
                    let what = format!("{:?}: gap + box + gap along {axis:?}", bay.name);
                    self.same(&what, found.outer.size(axis) + gap * 2, laid.clear.size(axis));
                    let what = format!("{:?}: gap before the box along {axis:?}", bay.name);
                    self.same(&what, found.outer.min.along(axis) - laid.clear.min.along(axis), gap);
                }
                let construction = shell.construction.as_ref().unwrap_or(construction);
                self.shell(&bay.name, construction, &found.outer, &found.inner);
                if let Some(within) = self.layout.bay(&inner.name).cloned() {
                    for axis in [Axis::X, Axis::Y] {
                        let what = format!("{:?}: inside of its box along {axis:?}", bay.name);
                        self.same(&what, within.clear.min.along(axis), found.inner.min.along(axis));
                        self.same(&what, within.clear.max.along(axis), found.inner.max.along(axis));
                    }
                }
                self.bay(inner, construction);
            }
        }
    }

    fn division(
        &mut self,
        whole: &LaidBay,
        bays: &[Bay<Length>],
        by: &Divider,
        along: Axis,
        construction: &Construction<Length>,
    ) {
        let across = if along == Axis::X { Axis::Y } else { Axis::X };
        let mut reached = whole.clear.min.along(along);
        for (i, bay) in bays.iter().enumerate() {
            let Some(laid) = self.laid(bay) else { return };
            if i > 0 {
                let before = bays.get(i - 1).map(|bay| bay.name.clone()).unwrap_or_default();
                let panels: Vec<Cuboid> = (self.layout.panels.iter())
                    .filter(|panel| !panel.loose && panel.bay == before)
                    .map(|panel| panel.cuboid)
                    .filter(|panel| panel.min.along(along) == reached)
                    .filter(|panel| panel.range(across) == whole.clear.range(across))
                    .collect();
                match (by, panels.as_slice()) {
                    (Divider::Nothing, _) => {}
                    (_, [panel]) => reached = panel.max.along(along),
                    (_, found) => {
                        self.lines.push(format!("{} dividers after {before:?} in {:?}", found.len(), whole.name));
                        return;
                    }
                }
            }
            let what = format!("{:?} begins along {along:?}", bay.name);
            self.same(&what, laid.clear.min.along(along), reached);
            let what = format!("{:?} across {along:?}", bay.name);
            self.same(&what, laid.clear.size(across), whole.clear.size(across));
            reached = laid.clear.max.along(along);
            self.bay(bay, construction);
        }
        let what = format!("{:?}: bays and dividers along {along:?}", whole.name);
        self.same(&what, reached, whole.clear.max.along(along));
    }

    /// Every panel has an id of its own.
    fn names(&mut self) {
        let mut ids: Vec<&str> = self.layout.panels.iter().map(|panel| panel.id.as_str()).collect();
        ids.sort_unstable();
        for pair in ids.windows(2) {
            if let [one, other] = pair
                && one == other
            {
                self.lines.push(format!("two panels are called {one:?}"));
            }
        }
    }

    /// No panel overlaps another (a grooved back its grooves apart), no thing with its air overlaps a panel, no two
    /// things overlap.
    fn overlaps(&mut self) {
        use casewright_core::design::Role;
        let panels = &self.layout.panels;
        for (i, one) in panels.iter().enumerate() {
            for other in &panels[i + 1..] {
                let grooved = one.role == Role::Back || other.role == Role::Back;
                if one.cuboid.overlaps(&other.cuboid) && !grooved {
                    self.lines.push(format!("{:?} overlaps {:?}", one.id, other.id));
                }
            }
        }
        for thing in &self.layout.things {
            for panel in panels.iter().filter(|panel| panel.cuboid.overlaps(&thing.with_air)) {
                self.lines.push(format!("{:?} with its air overlaps {:?}", thing.name, panel.id));
            }
            if !self.layout.envelope.contains(&thing.cuboid) {
                self.lines.push(format!("{:?} stands out of the envelope", thing.name));
            }
        }
        for (i, one) in self.layout.things.iter().enumerate() {
            for other in &self.layout.things[i + 1..] {
                if one.cuboid.overlaps(&other.with_air) || other.cuboid.overlaps(&one.with_air) {
                    self.lines.push(format!("{:?} overlaps {:?}", one.name, other.name));
                }
            }
        }
    }
}

fn any_overlay(bay: &Bay<Length>) -> bool {
    let here = bay.front.as_ref().is_some_and(|front| front.style == Some(FrontStyle::Overlay));
    here || match &bay.inside {
        Inside::Across { bays, .. } | Inside::Up { bays, .. } => bays.iter().any(any_overlay),
        Inside::Boxed { bay, .. } => any_overlay(bay),
        Inside::Open { .. } | Inside::Holds { .. } => false,
    }
}
