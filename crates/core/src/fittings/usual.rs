//! Usual hardware that a design names: the figures of the library with what the design gives itself put before them.

use super::library::{Library, library};
use crate::design::{
    Bracket, Damper, Extension, Fitting, Handle, Hinge, LidStay, Resolved, Slide, SlideMount, Strut, Usual,
};
use crate::length::Length;
use crate::text::nearest;

/// What the library calls slides on the outside of a box.
pub const SIDE_SLIDE: &str = "side-mounted slide";
/// What the library calls slides under a box.
pub const UNDER_SLIDE: &str = "under-mounted slide";
/// What the library calls a hinge with a cup.
pub const CUP_HINGE: &str = "cup hinge";

/// What is wrong with an entry that refers to the library.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UsualFault {
    /// The field of the entry.
    pub field: &'static str,
    /// What is wrong.
    pub cause: String,
    /// What would mend it.
    pub mend: String,
}

/// The names of what a design may refer to, in the order of the library.
#[must_use]
pub fn usual_names(library: &Library) -> Vec<String> {
    let handles = library.sundries.handles.iter().map(|it| it.name.clone());
    let holders = library.hinges.holders().map(str::to_owned);
    let brackets = library.sundries.brackets.iter().map(|it| it.name.clone());
    let first = [SIDE_SLIDE, UNDER_SLIDE, CUP_HINGE].map(str::to_owned).into_iter();
    first.chain(handles).chain(holders).chain(brackets).collect()
}

/// Where slides of this name are mounted; none if it is no slide of the library.
#[must_use]
pub fn usual_mount(name: &str) -> Option<SlideMount> {
    match name {
        SIDE_SLIDE => Some(SlideMount::Side),
        UNDER_SLIDE => Some(SlideMount::Under),
        _ => None,
    }
}

/// Puts the full figures in the place of each entry that refers to the library; slides that are left to the program stay
/// as they are. Gives the faults with the names of their entries.
pub fn fill(design: &mut Resolved) -> Vec<(String, UsualFault)> {
    let mut faults = Vec::new();
    for (name, fitting) in &mut design.fittings {
        let Fitting::Usual(usual) = fitting else { continue };
        match full(usual) {
            Ok(Some(found)) => *fitting = found,
            Ok(None) => {}
            Err(found) => faults.extend(found.into_iter().map(|fault| (name.clone(), fault))),
        }
    }
    faults
}

/// The full figures of an entry; none for a slide whose length or load class is left to the program.
///
/// # Errors
/// A name that the library does not have, fields that its kind does not have, or sizes that are not usual.
pub fn full(usual: &Usual<Length>) -> Result<Option<Fitting<Length>>, Vec<UsualFault>> {
    let library = library().map_err(|error| vec![fault("of", error.to_string(), "report it")])?;
    let mut faults = Vec::new();
    let found = if let Some(mount) = usual_mount(&usual.of) {
        foreign(usual, &["length", "load_kg", "extension", "side_space", "height"], &mut faults);
        let series = SlideSeries::of(library, mount);
        faults.extend(usual.length.and_then(|it| unusual("length", it.mm(), &series.lengths, " mm")));
        faults.extend(usual.load_kg.and_then(|it| unusual("load_kg", it, &series.classes_kg, " kg")));
        usual.length.zip(usual.load_kg).map(|(length, load_kg)| Fitting::Slide(series.slide(usual, length, load_kg)))
    } else if usual.of == CUP_HINGE {
        foreign(usual, &["cup", "cup_depth", "opens_deg"], &mut faults);
        let data = &library.hinges.cup_hinge;
        Some(Fitting::Hinge(Hinge {
            cup: usual.cup.unwrap_or_else(|| mm(data.cup.0)),
            cup_depth: usual.cup_depth.unwrap_or_else(|| mm(data.cup_depth.0)),
            opens_deg: usual.opens_deg.unwrap_or(data.opens_deg.0),
        }))
    } else if let Some(data) = library.sundries.handles.iter().find(|it| it.name == usual.of) {
        foreign(usual, &["holes_apart", "stands_out"], &mut faults);
        let series = &data.holes_apart.0;
        match usual.holes_apart {
            Some(_) if series.is_empty() => faults.push(fault(
                "holes_apart",
                format!("a usual {} has a single hole", usual.of),
                "delete it, or write Handle(...) with your maker's figures",
            )),
            Some(apart) => faults.extend(unusual("holes_apart", apart.mm(), series, " mm")),
            None => {}
        }
        Some(Fitting::Handle(Handle {
            holes_apart: usual.holes_apart.or(series.get(1).or(series.first()).map(|&it| mm(it))),
            stands_out: usual.stands_out.unwrap_or_else(|| mm(data.stands_out.0)),
        }))
    } else if let Some(data) = library.hinges.stays.iter().find(|it| it.name == usual.of) {
        foreign(usual, &[], &mut faults);
        let length = (data.length.0 > 0.0).then(|| mm(data.length.0));
        Some(Fitting::Stay(LidStay { length, holds_nm: data.holds_nm.0 }))
    } else if let Some(data) = library.hinges.dampers.iter().find(|it| it.name == usual.of) {
        foreign(usual, &[], &mut faults);
        Some(Fitting::Damper(Damper { stroke: mm(data.stroke.0), force_n: data.force_n.0 }))
    } else if let Some(data) = library.hinges.struts.iter().find(|it| it.name == usual.of) {
        foreign(usual, &[], &mut faults);
        let (length_in, length_out) = data.length.0;
        Some(Fitting::Strut(Strut {
            length_in: mm(length_in),
            length_out: mm(length_out),
            force_n: data.force_n.0,
            force_in_n: Some(data.force_in_n.0),
        }))
    } else if let Some(data) = library.sundries.brackets.iter().find(|it| it.name == usual.of) {
        foreign(usual, &[], &mut faults);
        Some(Fitting::Bracket(Bracket { leg: mm(data.leg.0), width: mm(data.width.0), holds_n: data.holds_n.0 }))
    } else {
        let names = usual_names(library);
        let mend = match nearest(&usual.of, &names) {
            Some(other) => format!("did you mean \"{other}\"?"),
            None => format!("known: {}", names.join(", ")),
        };
        faults.push(fault("of", format!("there is no usual fitting called {:?}", usual.of), mend));
        None
    };
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

/// What usual slides there are of one mount.
#[derive(Clone, Debug, PartialEq)]
pub struct SlideSeries {
    mount: SlideMount,
    /// Nominal lengths, mm, the shortest first.
    pub lengths: Vec<f64>,
    /// Load classes of a pair, kg, the least first.
    pub classes_kg: Vec<f64>,
    side_space: Length,
    height: Length,
}

impl SlideSeries {
    /// The series of a mount.
    #[must_use]
    pub fn of(library: &Library, mount: SlideMount) -> Self {
        let (side, under) = (&library.slides.side_mounted, &library.slides.under_mounted);
        let (lengths, classes, side_space, height) = match mount {
            SlideMount::Side => (&side.lengths.0, &side.load_classes_kg.0, side.side_space.0, side.height.0),
            SlideMount::Under => {
                (&under.lengths.0, &under.load_classes_kg.0, under.inside_less.0 / 2.0, under.height.0)
            }
        };
        let sorted = |values: &[f64]| {
            let mut values = values.to_vec();
            values.sort_by(f64::total_cmp);
            values
        };
        Self {
            mount,
            lengths: sorted(lengths),
            classes_kg: sorted(classes),
            side_space: mm(side_space),
            height: mm(height),
        }
    }

    /// The slide of a length and class, with what the entry gives itself.
    #[must_use]
    pub fn slide(&self, usual: &Usual<Length>, length: Length, load_kg: f64) -> Slide<Length> {
        Slide {
            mount: self.mount,
            length,
            side_space: usual.side_space.unwrap_or(self.side_space),
            height: usual.height.unwrap_or(self.height),
            load_kg,
            extension: usual.extension.unwrap_or(Extension::Full),
        }
    }
}

fn mm(value: f64) -> Length {
    Length::from_mm_f64(value)
}

fn fault(field: &'static str, cause: impl Into<String>, mend: impl Into<String>) -> UsualFault {
    UsualFault { field, cause: cause.into(), mend: mend.into() }
}

/// A size that is not in its series, with the nearest that is.
fn unusual(field: &'static str, value: f64, series: &[f64], unit: &str) -> Option<UsualFault> {
    if series.iter().any(|it| (it - value).abs() < 1e-6) {
        return None;
    }
    let near = series.iter().copied().min_by(|a, b| (a - value).abs().total_cmp(&(b - value).abs()))?;
    let all: Vec<String> = series.iter().map(ToString::to_string).collect();
    let cause = format!("{value}{unit} is not among the usual ones");
    Some(fault(
        field,
        cause,
        format!("write {near}{unit}, or your maker's figures in full; usual are {}{unit}", all.join(", ")),
    ))
}

/// Fields that are given although the kind does not have them.
fn foreign(usual: &Usual<Length>, own: &[&str], faults: &mut Vec<UsualFault>) {
    let given = [
        ("length", usual.length.is_some()),
        ("load_kg", usual.load_kg.is_some()),
        ("extension", usual.extension.is_some()),
        ("side_space", usual.side_space.is_some()),
        ("height", usual.height.is_some()),
        ("cup", usual.cup.is_some()),
        ("cup_depth", usual.cup_depth.is_some()),
        ("opens_deg", usual.opens_deg.is_some()),
        ("holes_apart", usual.holes_apart.is_some()),
        ("stands_out", usual.stands_out.is_some()),
    ];
    for (field, _) in given.into_iter().filter(|(field, given)| *given && !own.contains(field)) {
        let cause = format!("a usual {} has no `{field}`", usual.of);
        let mend = if own.is_empty() {
            "delete it, or write the fitting with your maker's figures in full".to_owned()
        } else {
            format!("delete it; fields here: {}", own.join(", "))
        };
        faults.push(fault(field, cause, mend));
    }
}
