//! Edits as they are made in the window, at random but the same at each run.

use casewright_core::design::resolve::map_lengths;
use casewright_core::design::{Design, Holding, Inside, TiltHinge};
use casewright_core::expr::Dim;
use casewright_core::text::FieldPath;
use casewright_core::unit::Unit;
use casewright_desktop::command::{Command, Name, tree};
use serde_json::json;

/// The lengths of a design with their places.
pub(crate) fn lengths(design: &Design) -> Vec<(FieldPath, Dim)> {
    let mut found = Vec::new();
    map_lengths(design, &mut |dim: &Dim, path, _| {
        found.push((path.clone(), dim.clone()));
        dim.clone()
    });
    found
}

/// Whether no comment may go with what the edit takes away.
pub(crate) fn keeps_all(command: &Command) -> bool {
    matches!(
        command,
        Command::SetLength { .. }
            | Command::SetParameter { text: Some(_), .. }
            | Command::SetUnit(_)
            | Command::RenameBay { .. }
            | Command::RenameThing { .. }
            | Command::AddThing { .. }
            | Command::Wrap(_)
            | Command::Duplicate(_)
    )
}

/// Edits, one after the other.
pub(crate) struct Edits {
    state: u64,
    count: usize,
}

impl Edits {
    pub(crate) const fn new(seed: u64) -> Self {
        Self { state: seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1, count: 0 }
    }

    /// Xorshift (Marsaglia 2003), which is enough to pick by.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        usize::try_from(self.state >> 33).unwrap() % end.max(1)
    }

    pub(crate) fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    fn pick<T: Clone>(&mut self, all: &[T]) -> Option<T> {
        let at = self.below(all.len());
        all.get(at).cloned()
    }

    fn length(&mut self) -> String {
        let size = self.below(800);
        let texts = [size.to_string(), format!("{size}.5"), format!("{size} mm"), format!("{size} + 2 * 18")];
        self.pick(&texts).unwrap()
    }

    fn holding(&mut self) -> Holding {
        let all = [
            Holding::Standing,
            Holding::Shelf { under: Dim::new(self.length()) },
            Holding::PullOut { slide: None, board: None, strips: Some(Dim::new("40")) },
            Holding::Drawer { slide: None, board: None, bottom: None },
            Holding::TiltOut { hinge: TiltHinge::Below, opens_deg: 40.0, lid: true, board: None, stay: None },
        ];
        self.pick(&all).unwrap()
    }

    /// The next edit; it may be refused.
    pub(crate) fn next(&mut self, design: &Design) -> Command {
        self.count += 1;
        let names = tree::names(design);
        let bay = self.pick(&names).unwrap();
        let other = self.pick(&names).unwrap();
        let things: Vec<String> = design.things.keys().cloned().collect();
        let thing = self.pick(&things).unwrap_or_default();
        let fresh = format!("new {}", self.count);
        let path = tree::path_of(design, &bay).unwrap();
        let field = |path: FieldPath, value| Command::SetField { path, value, name: Name::new("edit-title") };
        match self.below(24) {
            0 => field(FieldPath::root().field("title"), json!(format!("{fresh} \"quoted\" // \\ \n {bay}"))),
            1 => {
                let size = self.length();
                let wants = [json!("Free"), json!({ "Fixed": size }), json!({ "Between": ["1", size] })];
                let want = self.pick(&wants).unwrap();
                field(path.field(if self.one_in(2) { "width" } else { "height" }), want)
            }
            2 => field(path.field("share"), json!(self.below(4))),
            3 => field(path.field("front"), json!({ "opens": "WithHolding" })),
            4 => match self.pick(&design.parameters.keys().cloned().collect::<Vec<_>>()) {
                Some(name) => Command::SetParameter { name, text: Some(self.length()) },
                None => Command::SetParameter { name: fresh, text: Some("30".to_owned()) },
            },
            5 => Command::SetParameter { name: fresh, text: Some(self.length()) },
            6 => Command::SetUnit(if self.one_in(2) { Unit::inch(16).unwrap() } else { Unit::default() }),
            7 => Command::RenameBay { from: bay, to: fresh },
            8 => Command::RenameThing { from: thing, to: fresh },
            9 => match design.things.get(&thing) {
                Some(thing) => Command::AddThing { name: fresh, thing: Box::new(thing.clone()) },
                None => Command::Duplicate(bay),
            },
            10 if self.one_in(3) => Command::RemoveThing(thing),
            11 => Command::Divide { bay, across: self.one_in(2), at: Some(Dim::new("200")) },
            12 => Command::Merge(bay),
            13 => Command::Wrap(bay),
            14 => Command::Unwrap(bay),
            15 => Command::Duplicate(bay),
            16 => Command::Delete(bay),
            17 => Command::Swap(bay, other),
            18 => Command::PutThing { thing, bay },
            19 => Command::SetHolding { bay, by: self.holding() },
            20 => Command::MakeEqual { bays: vec![bay, other], width: self.one_in(2) },
            21 => {
                let sizes = names.iter().map(|name| (name.clone(), Dim::new(self.length()))).collect();
                Command::DragDivider { bay, width: self.one_in(2), sizes }
            }
            22 => match design.carcass.bay.named(&other).filter(|bay| !matches!(bay.inside, Inside::Boxed { .. })) {
                Some(copied) => Command::Paste { into: bay, bay: Box::new(copied.clone()) },
                None => Command::Wrap(bay),
            },
            _ => match self.pick(&lengths(design)) {
                Some((path, _)) => Command::SetLength { path, text: self.length() },
                None => Command::Divide { bay, across: true, at: None },
            },
        }
    }
}
