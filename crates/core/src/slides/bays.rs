//! The bays whose slides are left to the program, with what is asked of them.

use crate::design::{
    Bay, Construction, Fitting, FrontStyle, Holding, Inside, Resolved, Role, Slide, SlideMount, Usual,
};
use crate::fittings::{Library, SIDE_SLIDE, SlideSeries, SlideWish, choose_slide, usual_mount};
use crate::geometry::Axis;
use crate::holding::{allowance, box_depth, material_for, thickness_of};
use crate::layout::Layout;
use crate::length::Length;

/// A bay whose slides are left to the program.
#[derive(Clone, Debug)]
pub(super) struct OpenBay {
    pub(super) name: String,
    /// What the design calls the slides; the library's name where it names none.
    pub(super) entry: String,
    /// What is decided of them.
    pub(super) usual: Usual<Length>,
    pub(super) mount: SlideMount,
    /// Thickness of an inset front.
    pub(super) inset: Length,
    pub(super) things: Vec<String>,
    construction: Construction<Length>,
}

/// How things that may turn are taken to lie: what the slides under them are long enough for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lies {
    /// Their shorter side from front to rear.
    Shorter,
    /// As the design gives them.
    AsGiven,
    /// Their longer side from front to rear, so that the bay may be narrow.
    Longer,
}

/// The bays of a design whose slides are left open, in the order of the tree.
pub(super) fn open_bays(design: &Resolved) -> Vec<OpenBay> {
    let mut found = Vec::new();
    let mut left: Vec<(&Bay<Length>, &Construction<Length>)> =
        vec![(&design.carcass.bay, &design.carcass.construction)];
    while let Some((bay, construction)) = left.pop() {
        match &bay.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => {
                left.extend(bays.iter().rev().map(|bay| (bay, construction)));
            }
            Inside::Boxed { shell, bay } => left.push((bay, shell.construction.as_ref().unwrap_or(construction))),
            Inside::Holds { things, by: Holding::PullOut { slide, .. } | Holding::Drawer { slide, .. } } => {
                found.extend(open_bay(design, bay, construction, things, slide.as_ref()));
            }
            Inside::Holds { .. } | Inside::Open { .. } => {}
        }
    }
    found
}

fn open_bay(
    design: &Resolved,
    bay: &Bay<Length>,
    construction: &Construction<Length>,
    things: &[String],
    slide: Option<&String>,
) -> Option<OpenBay> {
    let (entry, usual) = match slide {
        None => (SIDE_SLIDE.to_owned(), Usual::plain(SIDE_SLIDE)),
        Some(name) => match design.fittings.get(name)? {
            Fitting::Usual(usual) => (name.clone(), usual.clone()),
            _ => return None,
        },
    };
    let inset = bay.front.as_ref().filter(|it| it.style.unwrap_or(construction.fronts) == FrontStyle::Inset);
    let thickness = |own: Option<&str>| thickness_of(design, material_for(construction, Role::Front, own)).ok();
    Some(OpenBay {
        name: bay.name.clone(),
        entry,
        mount: usual_mount(&usual.of)?,
        usual,
        inset: inset.and_then(|it| thickness(it.board.as_deref())).unwrap_or_default(),
        things: things.to_vec(),
        construction: construction.clone(),
    })
}

impl OpenBay {
    /// The shortest usual slide that takes the things as they lie; the longest there is where none does.
    pub(super) fn least(&self, design: &Resolved, library: &Library, lies: Lies) -> Length {
        if let Some(length) = self.usual.length {
            return length;
        }
        let series = SlideSeries::of(library, self.mount);
        let contents = self.contents_depth(design, lies);
        let lengths = || series.lengths.iter().map(|&it| Length::from_mm_f64(it));
        let takes = |length: &Length| {
            let most = self.most_contents(design, &series, *length);
            most.is_none_or(|most| contents <= most)
        };
        lengths().find(takes).or(lengths().next_back()).unwrap_or_default()
    }

    /// The most depth that what lies on slides of this length may have; none where nothing can be said.
    fn most_contents(&self, design: &Resolved, series: &SlideSeries, length: Length) -> Option<Length> {
        let mut trial = design.clone();
        let name = "slide on trial".to_owned();
        trial.fittings.insert(name.clone(), Fitting::Slide(series.slide(&self.usual, length, 0.0)));
        let bay = trial.carcass.bay.named(&self.name)?.clone();
        let Inside::Holds { mut by, .. } = bay.inside else { return None };
        if let Holding::PullOut { slide, .. } | Holding::Drawer { slide, .. } = &mut by {
            *slide = Some(name);
        }
        let all = allowance(&trial, &self.construction, &by, bay.front.as_ref(), None).ok()?;
        all.most_contents_depth.map(|it| it.size)
    }

    /// The depth of the things with their air.
    fn contents_depth(&self, design: &Resolved, lies: Lies) -> Length {
        let things = self.things.iter().filter_map(|it| design.things.get(it));
        let depth = |it: &crate::design::Thing<Length>| {
            let own = match lies {
                Lies::Shorter if it.may_turn => it.size.0.min(it.size.2),
                Lies::Longer if it.may_turn => it.size.0.max(it.size.2),
                Lies::Shorter | Lies::Longer | Lies::AsGiven => it.size.2,
            };
            own + it.air.rear.unwrap_or_default() + it.air.front.unwrap_or_default()
        };
        things.map(depth).max().unwrap_or_default()
    }

    /// The longest usual slide for the depth that the bay has; none if none fits.
    pub(super) fn longest(&self, library: &Library, layout: &Layout) -> Option<Length> {
        let depth = layout.bay(&self.name)?.clear.size(Axis::Z);
        let wish = self.wish(0.0, 0.0, depth);
        choose_slide(&library.slides, &wish).map(|it| Length::from_mm_f64(it.length))
    }

    /// The least class that carries a mass, the highest where none does.
    pub(super) fn class(&self, library: &Library, mass_kg: f64) -> f64 {
        let series = SlideSeries::of(library, self.mount);
        let highest = series.classes_kg.last().copied().unwrap_or_default();
        let wish = SlideWish { length: Some(0.0), ..self.wish(0.0, mass_kg, Length::ZERO) };
        choose_slide(&library.slides, &wish).map_or(highest, |it| it.load_class_kg)
    }

    /// How far what is carried must come out for one to reach its rear, mm: as far as it is deep, inside the box.
    pub(super) fn reach(&self, design: &Resolved, slide: &Slide<Length>) -> f64 {
        let depth = self.contents_depth(design, Lies::AsGiven);
        if depth > Length::ZERO { depth.mm() } else { box_depth(slide).mm() }
    }

    /// What is asked of the slide in a bay so deep.
    pub(super) fn wish(&self, reach: f64, load_kg: f64, depth: Length) -> SlideWish {
        SlideWish {
            mount: self.mount,
            length: self.usual.length.map(Length::mm),
            load_class_kg: self.usual.load_kg,
            clear_depth: depth.mm(),
            inset_front: (self.inset > Length::ZERO).then(|| self.inset.mm()),
            load_kg,
            reach,
        }
    }
}
