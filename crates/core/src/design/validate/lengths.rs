//! Every length of a design evaluated and held against what is possible.

use std::ops::RangeInclusive;

use super::Check;
use crate::{
    Length,
    design::{Extent, Fitting, Resolved, Want, resolve::Sign, resolve::map_lengths},
    text::{Fault, FieldPath, Segment},
    unit::DecimalMark,
};

/// The largest size of a piece or thing.
const LARGEST: Length = Length::from_mm(10_000);
/// The largest size of a site.
const LARGEST_SITE: Length = Length::from_mm(50_000);

impl Check<'_, '_> {
    /// Evaluates all lengths; those at fault become zero.
    pub(super) fn lengths(&mut self) -> Resolved {
        let (scope, errors) = super::parameters(self.design);
        for error in errors {
            let path = FieldPath::root().field("parameters").key(error.parameter.as_deref().unwrap_or_default());
            self.faults.push(Fault::expression(path, error, self.index));
        }
        let design = self.design;
        let mut resolved = map_lengths(design, &mut |dim, path, sign| match dim.eval(&scope) {
            Ok(length) => {
                self.limits(length, path, sign);
                length
            }
            Err(error) => {
                if !error.consequence {
                    self.faults.push(Fault::expression(path.clone(), error, self.index));
                }
                Length::ZERO
            }
        });
        if let Err(error) = crate::fittings::library() {
            self.fault(&FieldPath::root(), error.to_string(), "report it");
        }
        for (name, fault) in crate::fittings::fill(&mut resolved) {
            let path = FieldPath::root().field("fittings").key(&name).field(fault.field);
            self.fault(&path, fault.cause, fault.mend);
        }
        self.spoilt(&resolved);
        self.good(&resolved);
        self.between(&resolved);
        self.struts(&resolved);
        self.niche();
        self.outlines(&resolved);
        resolved
    }

    pub(super) fn say(&self, length: Length) -> String {
        self.design.unit.format_named(length, DecimalMark::Point)
    }

    fn limits(&mut self, length: Length, path: &FieldPath, sign: Sign) {
        let written = self.say(length);
        match sign {
            Sign::AboveZero if length <= Length::ZERO => {
                return self.fault(path, format!("{written} is no size"), "write a length above zero");
            }
            Sign::ZeroOrMore if length < Length::ZERO => {
                return self.fault(path, format!("{written} is less than nothing"), "write zero or more");
            }
            _ => {}
        }
        let (what, range) = possible(path);
        if !range.contains(&length) {
            let (least, most) = (self.say(*range.start()), self.say(*range.end()));
            self.fault(
                path,
                format!("{written} is not possible for {what}"),
                format!("write a length from {least} to {most}"),
            );
        }
    }

    /// A board of which nothing is left is a mistake in the figures.
    fn spoilt(&mut self, resolved: &Resolved) {
        for (i, board) in resolved.boards.iter().enumerate() {
            let Some((start, end, near, far)) = board.spoilt else { continue };
            if start + end >= board.size.0 || near + far >= board.size.1 {
                let path = FieldPath::root().field("boards").index(i).field("spoilt");
                self.fault(
                    &path,
                    format!("nothing is left of the board {:?}", board.name),
                    "write smaller strips, or delete the board",
                );
            }
        }
    }

    /// Good rectangles lie on their board.
    fn good(&mut self, resolved: &Resolved) {
        for (i, board) in resolved.boards.iter().enumerate() {
            for (k, (x, y, length, width)) in board.good.iter().enumerate() {
                if *x + *length > board.size.0 || *y + *width > board.size.1 {
                    let path = FieldPath::root().field("boards").index(i).field("good").index(k);
                    let cause = format!("this good rectangle reaches over the edge of the board {:?}", board.name);
                    self.fault(
                        &path,
                        cause,
                        "write from the start, from the near edge, length and width, on the board",
                    );
                }
            }
        }
    }

    /// A strut is longer when it is out than when it is in.
    fn struts(&mut self, resolved: &Resolved) {
        for (name, fitting) in &resolved.fittings {
            let Fitting::Strut(strut) = fitting else { continue };
            if strut.length_out <= strut.length_in && strut.length_out > Length::ZERO {
                let path = FieldPath::root().field("fittings").key(name).field("length_out");
                let (short, long) = (self.say(strut.length_in), self.say(strut.length_out));
                let cause = format!("a strut of {short} fully in cannot be {long} fully out");
                self.fault(&path, cause, "write the longer length in `length_out`");
            }
        }
    }

    fn between(&mut self, resolved: &Resolved) {
        let mut wrong = Vec::new();
        super::bays::each_bay(&resolved.carcass.bay, &mut |bay, path| {
            for (want, field) in [(&bay.width, "width"), (&bay.height, "height")] {
                if let Want::Between(low, high) = want
                    && low > high
                    && *high > Length::ZERO
                {
                    wrong.push((path.field(field), *low, *high));
                }
            }
        });
        for (path, low, high) in wrong {
            let cause = format!("no size is from {} to {}", self.say(low), self.say(high));
            self.fault(&path, cause, "write the smaller length first");
        }
    }

    /// What fills the niche needs one that says how large it is.
    fn niche(&mut self) {
        let envelope = &self.design.carcass.envelope;
        let niche = self.design.site.niche.as_ref();
        let sizes = [
            ("width", &envelope.width, niche.is_some()),
            ("height", &envelope.height, niche.is_some_and(|niche| niche.height.is_some())),
            ("depth", &envelope.depth, niche.is_some_and(|niche| niche.depth.is_some())),
        ];
        for (name, extent, given) in sizes {
            if *extent == Extent::FillNiche && !given {
                let path = FieldPath::root().field("carcass").field("envelope").field(name);
                let (cause, add) = match niche {
                    None => ("the site has no niche to fill".to_owned(), "a niche to the site".to_owned()),
                    Some(_) => (format!("the niche has no {name} to fill"), format!("the {name} to the niche")),
                };
                self.fault(&path, cause, format!("add {add}, or write Fixed(...) or AtMost(...) here"));
            }
        }
    }
}

/// What the length at `path` is called, and its possible range. The ranges only catch slips of the pen (common
/// practice: boards from 0.4 mm veneers to thick slabs, bandings from 0.1 mm foil to solid lippings).
fn possible(path: &FieldPath) -> (&'static str, RangeInclusive<Length>) {
    let name = |segment: Option<&Segment>| match segment {
        Some(Segment::Field(name)) => name.clone(),
        _ => String::new(),
    };
    let (first, last) = (name(path.segments().first()), name(path.segments().last()));
    let up_to = |most: Length| Length::ZERO..=most;
    let um = Length::from_um;
    if first == "site" {
        return ("a site", -LARGEST_SITE..=LARGEST_SITE);
    }
    // Walls swing both ways about their line, and so may a front step.
    if path.segments().iter().any(|it| matches!(it, Segment::Field(name) if name == "shape")) {
        return ("the shape of a worktop", -LARGEST..=LARGEST);
    }
    // Strings may be tied on either side of their hinge.
    if path.segments().iter().any(|it| matches!(it, Segment::Field(name) if name == "stay")) {
        return ("an end of a string", -LARGEST..=LARGEST);
    }
    match (first.as_str(), last.as_str()) {
        ("materials", "thickness") => ("the thickness of a board", um(400)..=um(200_000)),
        ("boards", "thickness") => ("the thickness of a board", um(400)..=um(200_000)),
        ("saw", "kerf" | "trim") => ("a saw cut", up_to(um(50_000))),
        ("banding", "thickness") => ("the thickness of a banding", um(100)..=um(20_000)),
        ("banding", "sold_in") => ("a bar of banding", um(100_000)..=LARGEST),
        ("carcass", "shift") => ("a pattern of dowels to move by", -um(100_000)..=um(100_000)),
        (_, "reveal") => ("a gap round a front", up_to(um(100_000))),
        ("fittings", "stands_out") => ("how far a handle stands out", up_to(um(200_000))),
        (_, "cup" | "cup_depth") => ("the cup of a hinge", up_to(um(60_000))),
        (_, "front" | "left" | "right" | "rear") => ("this distance", -LARGEST..=LARGEST),
        _ => ("a piece of furniture", up_to(LARGEST)),
    }
}
