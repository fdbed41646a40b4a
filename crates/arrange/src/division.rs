//! A division of a space among units: rows and stacks.

use casewright_core::Length;

use crate::curve::{Curve, Size};
use crate::request::Request;

/// Who stands beside or over whom.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Division {
    /// One unit, by its index into [`Request::units`].
    Unit(usize),
    /// From left to right; none of them is a row.
    Row(Vec<Division>),
    /// From the floor up; none of them is a stack.
    Stack(Vec<Division>),
}

impl Division {
    /// What it is directly divided into.
    #[must_use]
    pub fn children(&self) -> &[Self] {
        match self {
            Self::Unit(_) => &[],
            Self::Row(children) | Self::Stack(children) => children,
        }
    }

    /// The units in it, in its own order.
    #[must_use]
    pub fn units(&self) -> Vec<usize> {
        match self {
            Self::Unit(unit) => vec![*unit],
            Self::Row(children) | Self::Stack(children) => children.iter().flat_map(Self::units).collect(),
        }
    }

    /// How deep it is divided: 0 for a unit.
    #[must_use]
    pub fn depth(&self) -> usize {
        self.children().iter().map(|it| it.depth() + 1).max().unwrap_or(0)
    }

    /// The least sizes in which it can be made.
    #[must_use]
    pub fn curve(&self, request: &Request) -> Curve {
        let place = &request.place;
        match self {
            Self::Unit(unit) => request.units.get(*unit).map(|it| it.curve.clone()).unwrap_or_default(),
            Self::Row(children) => {
                let mut curves = children.iter().map(|it| it.curve(request));
                let first = curves.next().unwrap_or_default();
                curves.fold(first, |all, it| all.beside(&it, place.upright))
            }
            Self::Stack(children) => {
                let mut carried = false;
                let mut all: Option<Curve> = None;
                for child in children {
                    let curve = child.curve(request);
                    let slides = request.is_carried(child);
                    let between = if carried && slides { Length::ZERO } else { place.shelf };
                    carried |= slides;
                    all = Some(match all {
                        Some(all) => all.stacked(&curve, between),
                        None => curve,
                    });
                }
                all.unwrap_or_default()
            }
        }
    }

    /// The divisions that differ from it by two units, or two neighbours in a row or stack, that have changed places.
    #[must_use]
    pub fn neighbours(&self) -> Vec<Self> {
        let units = self.units();
        let mut all = Vec::new();
        for (i, &one) in units.iter().enumerate() {
            for &other in units.iter().skip(i + 1) {
                all.push(self.swapped(one, other));
            }
        }
        self.reordered(&mut |it| all.push(it));
        all
    }

    fn swapped(&self, one: usize, other: usize) -> Self {
        let inside = |children: &[Self]| children.iter().map(|it| it.swapped(one, other)).collect();
        match self {
            Self::Unit(unit) if *unit == one => Self::Unit(other),
            Self::Unit(unit) if *unit == other => Self::Unit(one),
            Self::Unit(unit) => Self::Unit(*unit),
            Self::Row(children) => Self::Row(inside(children)),
            Self::Stack(children) => Self::Stack(inside(children)),
        }
    }

    /// Gives each division in which one pair of neighbours, of which one at least is divided, has changed places.
    fn reordered(&self, give: &mut dyn FnMut(Self)) {
        let (Self::Row(children) | Self::Stack(children)) = self else { return };
        let with = |children: Vec<Self>| match self {
            Self::Row(_) => Self::Row(children),
            _ => Self::Stack(children),
        };
        for (i, pair) in children.windows(2).enumerate() {
            if pair.iter().any(|it| !it.children().is_empty()) {
                let mut other = children.clone();
                other.swap(i, i + 1);
                give(with(other));
            }
        }
        for (i, child) in children.iter().enumerate() {
            child.reordered(&mut |it| {
                let mut other = children.clone();
                if let Some(place) = other.get_mut(i) {
                    *place = it;
                }
                give(with(other));
            });
        }
    }

    /// Its shape without the names of units, the same for all orders.
    #[must_use]
    pub fn shape(&self) -> String {
        let inside = |children: &[Self]| {
            let mut shapes: Vec<String> = children.iter().map(Self::shape).collect();
            shapes.sort();
            shapes.join(" ")
        };
        match self {
            Self::Unit(_) => "unit".to_owned(),
            Self::Row(children) => format!("row({})", inside(children)),
            Self::Stack(children) => format!("stack({})", inside(children)),
        }
    }

    /// The size that it takes in a box: as narrow as the height of the box allows in a row, as low as its width allows in
    /// a stack.
    #[must_use]
    pub fn size_in(&self, request: &Request, room: Size) -> Option<Size> {
        self.curve(request)
            .within(room)
            .steps()
            .iter()
            .copied()
            .min_by(|a, b| a.area_mm2().total_cmp(&b.area_mm2()).then_with(|| a.cmp(b)))
    }
}
