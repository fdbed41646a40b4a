//! The right column for a bay: how large it is and why, what is asked of it, what it holds and what is left.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{
    Bay, Fitting, FlapStay, Front, Holding, Inside, LidString, Opens, TiltHinge, TiltStay, TiltStop, Want,
};
use casewright_core::expr::Dim;
use casewright_core::geometry::Axis;
use casewright_core::layout::Layout;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::{Action, Desk, choice, field, heading, measured, openings, trouble};
use crate::command::{Command, Name, tree};
use crate::keys::Deed;
use crate::labels;
use crate::selection::Selection;
use crate::theme::{Palette, figures};

/// What the column shows of a bay's place in the solved carcass.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solved {
    /// Clear width, height and depth.
    pub size: [Length; 3],
    /// For each thing in it: its name, and what is left over beside, above and before it with its air.
    pub left: Vec<(String, [Length; 3])>,
}

impl Solved {
    /// The solved place of a bay; none if the layout does not have it.
    #[must_use]
    pub fn of(layout: &Layout, name: &str) -> Option<Self> {
        let index = layout.bays.iter().position(|bay| bay.name == name)?;
        let clear = layout.bays.get(index)?.clear;
        let things: Vec<_> = layout.things.iter().filter(|thing| thing.bay == index).collect();
        let widths: Length = things.iter().map(|thing| thing.with_air.size(Axis::X)).sum();
        let left = things.iter().map(|thing| {
            let over = |axis| clear.size(axis) - thing.with_air.size(axis);
            // Side by side, they share what is left of the width.
            (thing.name.clone(), [clear.size(Axis::X) - widths, over(Axis::Y), over(Axis::Z)])
        });
        Some(Self { size: Axis::ALL.map(|axis| clear.size(axis)), left: left.collect() })
    }
}

/// Shows a bay.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>, name: &str) {
    let Some(bay) = desk.design.carcass.bay.named(name) else { return };
    let Some(path) = tree::path_of(desk.design, name) else { return };
    title(ui, desk, bay);
    let solved = desk.good.and_then(|good| Solved::of(good.layout.as_ref()?, name));
    if let Some(solved) = &solved {
        sizes(ui, desk, solved);
    }
    changes(ui, desk, bay);
    if let Some(latest) = desk.latest {
        for trouble in trouble::about(&latest.troubles, &path) {
            trouble::show(ui, desk, trouble, false);
        }
    }
    heading(ui, &desk.words.say("bay-asked"));
    let size = |axis: usize| solved.as_ref().and_then(|solved| solved.size.get(axis).copied());
    want(ui, desk, &desk.words.say("field-width"), &path.field("width"), &bay.width, size(0));
    want(ui, desk, &desk.words.say("field-height"), &path.field("height"), &bay.height, size(1));
    let share = field::Number {
        label: &desk.words.say("bay-share"),
        path: &path.field("share"),
        value: bay.share,
        unit: "",
        optional: true,
        whole: false,
    };
    share.show(ui, desk);
    why(ui, desk, name);
    heading(ui, &desk.words.say("bay-holds"));
    inside(ui, desk, bay, &path, solved.as_ref());
    heading(ui, &desk.words.say("bay-front"));
    front(ui, desk, bay, &path);
    openings::show(ui, desk, name);
    if let (Some(solved), true) = (&solved, bay.children().is_empty()) {
        measured::bay(ui, desk, name, solved.size);
    }
}

/// Shows several bays at once.
pub fn show_several(ui: &mut Ui, desk: &mut Desk<'_>, names: &[String]) {
    ui.label(RichText::new(desk.words.say_with("bays-several", &[("count", &names.len())])).heading());
    let layout = desk.good.and_then(|good| good.layout.as_ref());
    let mut total = Length::ZERO;
    for name in names {
        let size = layout.and_then(|layout| Solved::of(layout, name)).map(|solved| solved.size);
        if let Some([w, h, d]) = size {
            total += w;
            ui.label(format!("{name}: {} × {} × {}", desk.show(w), desk.show(h), desk.show(d)));
        } else {
            ui.label(name);
        }
    }
    ui.label(desk.words.say_with("bays-total", &[("width", &desk.show(total))]));
    ui.horizontal_wrapped(|ui| {
        for deed in [Deed::EqualWidths, Deed::EqualHeights, Deed::Swap] {
            let enabled = deed != Deed::Swap || names.len() == 2;
            if ui.add_enabled(enabled, egui::Button::new(deed.say(desk.words))).clicked() {
                desk.actions.push(Action::Do(deed));
            }
        }
        let have_fronts =
            names.iter().all(|name| desk.design.carcass.bay.named(name).is_some_and(|bay| bay.front.is_some()));
        let button = egui::Button::new(desk.words.say("match-grain"));
        let button = ui.add_enabled(have_fronts, button).on_disabled_hover_text(desk.words.say("match-grain-fronts"));
        if button.clicked() {
            desk.edit(Command::MatchGrain(names.to_vec()));
        }
    });
}

fn title(ui: &mut Ui, desk: &mut Desk<'_>, bay: &Bay) {
    let palette = Palette::here(ui);
    ui.label(RichText::new(labels::inside(desk.words, &bay.inside)).color(palette.ink_soft));
    let taken = tree::names(desk.design);
    let from = bay.name.clone();
    let key = format!("bay name {from}");
    let words = desk.words;
    field::text(ui, desk, (&words.say("bay-name"), &key), &from, |to| {
        let to = field::free_name(words, to, &taken)?;
        Ok(Command::RenameBay { from: from.clone(), to })
    });
}

fn sizes(ui: &mut Ui, desk: &Desk<'_>, solved: &Solved) {
    let [w, h, d] = solved.size.map(|size| desk.show(size));
    ui.label(RichText::new(format!("{w} × {h} × {d}")).text_style(figures()));
    ui.label(RichText::new(desk.words.say("bay-clear")).small().color(Palette::here(ui).ink_soft));
}

/// What is asked of one size: how, and how much.
fn want(ui: &mut Ui, desk: &mut Desk<'_>, label: &str, path: &FieldPath, want: &Want, now: Option<Length>) {
    let options = ["want-free", "want-fixed", "want-at-least", "want-at-most", "want-between", "want-prefer"];
    let options = options.map(|key| desk.words.say(key));
    let index = match want {
        Want::Free => 0,
        Want::Fixed(_) => 1,
        Want::AtLeast(_) => 2,
        Want::AtMost(_) => 3,
        Want::Between(..) => 4,
        Want::Prefer(_) => 5,
    };
    let amount = (!matches!(want, Want::Free | Want::Between(..))).then_some(path);
    if let Some(chosen) = field::asked(ui, desk, label, (index, &options), (path, amount)) {
        let value = want_of(chosen, want, now.map(|now| desk.lengths.input(now)));
        desk.edit(Command::SetField { path: path.clone(), value, name: Name::about("edit-field", label) });
    }
    if matches!(want, Want::Between(..)) {
        for (index, key) in ["field-from", "field-to"].into_iter().enumerate() {
            field::length(ui, desk, &desk.words.say(key), &path.index(index), Sign::ZeroOrMore);
        }
    }
}

/// The want of another kind that comes nearest to what was asked: with the number that was there, else the size now.
fn want_of(kind: usize, before: &Want, now: Option<String>) -> Value {
    let text = |dim: &Dim| dim.text().to_owned();
    let fallback = now.unwrap_or_else(|| "300".to_owned());
    let (low, high) = match before {
        Want::Free => (fallback.clone(), fallback),
        Want::Fixed(a) | Want::AtLeast(a) | Want::AtMost(a) | Want::Prefer(a) => (text(a), text(a)),
        Want::Between(a, b) => (text(a), text(b)),
    };
    match kind {
        0 => json!("Free"),
        1 => json!({ "Fixed": low }),
        2 => json!({ "AtLeast": low }),
        3 => json!({ "AtMost": high }),
        4 => json!({ "Between": [low, high] }),
        _ => json!({ "Prefer": low }),
    }
}

fn why(ui: &mut Ui, desk: &mut Desk<'_>, name: &str) {
    let Some(latest) = desk.latest.filter(|latest| latest.why.bay == name) else { return };
    if latest.why.lines.is_empty() {
        return;
    }
    heading(ui, &desk.words.say("bay-why"));
    for line in &latest.why.lines {
        let size = desk.show(line.size);
        let axis = desk.words.say(line.axis_key());
        ui.label(RichText::new(format!("{axis} {size}")).strong());
        for reason in &line.reasons {
            let reason = desk.words.sentence(reason);
            ui.add(egui::Label::new(format!("· {reason}")).wrap());
        }
        let range = match (line.least, line.most) {
            (Some(least), Some(most)) if least == most => desk.words.say("why-cannot-move"),
            (Some(least), Some(most)) => {
                desk.words.say_with("why-between", &[("least", &desk.show(least)), ("most", &desk.show(most))])
            }
            (Some(least), None) => desk.words.say_with("why-from", &[("least", &desk.show(least))]),
            (None, Some(most)) => desk.words.say_with("why-up-to", &[("most", &desk.show(most))]),
            (None, None) => continue,
        };
        ui.label(RichText::new(range).color(Palette::here(ui).ink_soft));
    }
}

fn inside(ui: &mut Ui, desk: &mut Desk<'_>, bay: &Bay, path: &FieldPath, solved: Option<&Solved>) {
    let at = path.field("inside");
    match &bay.inside {
        Inside::Open { shelves } => {
            let label = desk.words.say("bay-shelves");
            let shelves = Some(f64::from(*shelves));
            let path = at.field("shelves");
            field::Number { label: &label, path: &path, value: shelves, unit: "", optional: false, whole: true }
                .show(ui, desk);
            carried_by(ui, desk, bay);
        }
        Inside::Holds { things, by } => {
            for thing in things {
                let left = solved.and_then(|solved| solved.left.iter().find(|(name, _)| name == thing));
                one_thing(ui, desk, thing, left.map(|(_, left)| *left));
            }
            carried_by(ui, desk, bay);
            holding(ui, desk, by, &at.field("by"));
        }
        Inside::Across { bays, by } | Inside::Up { bays, by } => {
            for inner in bays {
                if ui.link(&inner.name).clicked() {
                    desk.select(Selection::bay(&inner.name));
                }
            }
            super::carcass::divider(ui, desk, by, &at.field("by"));
        }
        Inside::Boxed { bay: inner, shell } => {
            if ui.link(&inner.name).clicked() {
                desk.select(Selection::bay(&inner.name));
            }
            let label = desk.words.say("field-gap");
            field::optional_length(ui, desk, &label, &at.field("shell").field("gap"), Sign::ZeroOrMore);
            super::joints::of_box(ui, desk, &at.field("shell").field("joint"), shell.joint.as_ref());
        }
    }
}

fn one_thing(ui: &mut Ui, desk: &mut Desk<'_>, thing: &str, left: Option<[Length; 3]>) {
    ui.horizontal(|ui| {
        if ui.link(RichText::new(thing).strong()).clicked() {
            desk.select(Selection::Thing(thing.to_owned()));
        }
    });
    if let Some(left) = left {
        let [w, h, d] = left.map(|left| desk.show(left));
        let text = desk.words.say_with("bay-left", &[("width", &w), ("height", &h), ("depth", &d)]);
        ui.add(egui::Label::new(RichText::new(text).color(Palette::here(ui).ink_soft)).wrap());
    }
}

/// The names of the fittings of one kind.
fn fittings(desk: &Desk<'_>, is: fn(&Fitting) -> bool) -> Vec<String> {
    desk.design.fittings.iter().filter(|(_, fitting)| is(fitting)).map(|(name, _)| name.clone()).collect()
}

/// What carries the things: one of the kinds. Those on slides get the first of the design, or leave them to the program.
fn carried_by(ui: &mut Ui, desk: &mut Desk<'_>, bay: &Bay) {
    let now = match &bay.inside {
        Inside::Holds { by, .. } => Some(by),
        _ => None,
    };
    let mut options: Vec<Holding> = vec![Holding::Standing, Holding::Shelf { under: Dim::new("100") }];
    let slide = fittings(desk, Fitting::is_slide).into_iter().next();
    options.push(Holding::PullOut { slide: slide.clone(), board: None, strips: None });
    options.push(Holding::Drawer { slide, board: None, bottom: None });
    options.push(Holding::TiltOut { hinge: TiltHinge::Below, opens_deg: 40.0, lid: false, board: None, stay: None });
    let mut names: Vec<String> = options.iter().map(|by| labels::holding(desk.words, by)).collect();
    let is_now = |by: &Holding| now.is_some_and(|now| std::mem::discriminant(now) == std::mem::discriminant(by));
    let index = options.iter().position(is_now).unwrap_or_else(|| {
        names.push(desk.words.say("holding-none"));
        names.len() - 1
    });
    let label = desk.words.say("bay-carried-by");
    if let Some(by) = choice::choose(ui, Some((desk.words, "holding")), &label, index, &names)
        .and_then(|chosen| options.into_iter().nth(chosen))
    {
        desk.edit(Command::SetHolding { bay: bay.name.clone(), by });
    }
}

fn holding(ui: &mut Ui, desk: &mut Desk<'_>, by: &Holding, at: &FieldPath) {
    match by {
        Holding::Standing => {}
        Holding::Shelf { .. } => {
            field::length(ui, desk, &desk.words.say("field-under"), &at.field("under"), Sign::ZeroOrMore);
        }
        Holding::PullOut { slide, .. } => {
            slide_choice(ui, desk, slide.as_deref(), at);
            field::optional_length(ui, desk, &desk.words.say("field-strips"), &at.field("strips"), Sign::AboveZero);
        }
        Holding::Drawer { slide, .. } => slide_choice(ui, desk, slide.as_deref(), at),
        Holding::TiltOut { hinge, opens_deg, lid, stay, .. } => {
            let options =
                vec![(desk.words.say("opens-below"), json!("Below")), (desk.words.say("opens-above"), json!("Above"))];
            let now = usize::from(*hinge == TiltHinge::Above);
            choice::field(ui, desk, &desk.words.say("bay-hinge"), &at.field("hinge"), now, options);
            let label = desk.words.say("bay-opens-deg");
            let path = at.field("opens_deg");
            field::Number {
                label: &label,
                path: &path,
                value: Some(*opens_deg),
                unit: "°",
                optional: false,
                whole: false,
            }
            .show(ui, desk);
            choice::switch(ui, desk, &desk.words.say("bay-lid"), &at.field("lid"), *lid);
            self::stay(ui, desk, stay.as_deref(), &at.field("stay"));
        }
    }
}

fn slide_choice(ui: &mut Ui, desk: &mut Desk<'_>, slide: Option<&str>, at: &FieldPath) {
    let open = desk.words.say("bay-slide-open");
    named(ui, desk, "bay-slide", &at.field("slide"), (slide, open), fittings(desk, Fitting::is_slide));
}

/// One of the names of fittings, or none of them, which is called `nothing`.
fn named(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    key: &str,
    at: &FieldPath,
    (now, nothing): (Option<&str>, String),
    names: Vec<String>,
) {
    let index = match now {
        None => 0,
        Some(now) => names.iter().position(|name| name == now).map_or(usize::MAX, |index| index + 1),
    };
    let mut options = vec![(nothing, Value::Null)];
    options.extend(names.into_iter().map(|name| (name.clone(), Value::String(name))));
    choice::field(ui, desk, &desk.words.say(key), at, index, options);
}

/// Whether a front turns about its lower or upper edge by itself.
const fn is_flap(opens: Opens) -> bool {
    matches!(opens, Opens::HingedBelow | Opens::HingedAbove)
}

/// What holds a flap: nothing, or something between two ends.
fn flap_stay(ui: &mut Ui, desk: &mut Desk<'_>, stay: Option<&FlapStay>, at: &FieldPath) {
    let options = vec![
        (desk.words.say("flap-stay-none"), Value::Null),
        (desk.words.say("stay-own"), json!({ "carcass": ["120", "60"], "flap": ["30", "150"] })),
    ];
    choice::field(ui, desk, &desk.words.say("flap-stay"), at, usize::from(stay.is_some()), options);
    let Some(stay) = stay else { return };
    ends(ui, desk, at, &["carcass", "flap"]);
    held_by(ui, desk, at, (stay.with.as_deref(), stay.both_sides), &stay.stop);
}

/// The string that stops a tilting compartment: the one that the program proposes, or one with ends of its own.
fn stay(ui: &mut Ui, desk: &mut Desk<'_>, stay: Option<&TiltStay>, at: &FieldPath) {
    let options = vec![
        (desk.words.say("stay-proposed"), Value::Null),
        (desk.words.say("stay-own"), json!({ "carcass": ["60", "200"], "compartment": ["60", "200"] })),
    ];
    choice::field(ui, desk, &desk.words.say("bay-stay"), at, usize::from(stay.is_some()), options);
    let Some(stay) = stay else { return };
    ends(ui, desk, at, &["carcass", "compartment"]);
    held_by(ui, desk, at, (stay.with.as_deref(), stay.both_sides), &stay.stop);
    lid_string(ui, desk, stay.lid.as_ref(), &at.field("lid"));
}

/// What is between two ends, at one side or both, and how long it is, unless it has a length of its own.
fn held_by(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    at: &FieldPath,
    (with, both_sides): (Option<&str>, bool),
    given: &TiltStop,
) {
    let holders = fittings(desk, Fitting::is_holder);
    if with.is_some() || !holders.is_empty() {
        let string = desk.words.say("stay-string");
        named(ui, desk, "stay-with", &at.field("with"), (with, string), holders);
    }
    choice::switch(ui, desk, &desk.words.say("stay-both"), &at.field("both_sides"), both_sides);
    if with.and_then(|it| desk.design.fittings.get(it)).is_some_and(Fitting::has_own_length) {
        // Its own length goes before.
        return;
    }
    let stop = at.field("stop");
    let options = vec![
        (desk.words.say("stop-largest"), json!("AtLargest")),
        (desk.words.say("stop-at"), json!({ "At": 30.0 })),
        (desk.words.say("stop-long"), json!({ "Long": "200" })),
    ];
    let now = match given {
        TiltStop::AtLargest => 0,
        TiltStop::At(_) => 1,
        TiltStop::Long(_) => 2,
    };
    choice::field(ui, desk, &desk.words.say("stay-stop"), &stop, now, options);
    match given {
        TiltStop::AtLargest => {}
        TiltStop::At(angle) => degrees(ui, desk, "stay-stop-deg", &stop, ("At", *angle)),
        TiltStop::Long(_) => {
            field::length(ui, desk, &desk.words.say("stay-length"), &stop, Sign::AboveZero);
        }
    }
}

/// Ends in the section, each by two lengths.
fn ends(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath, names: &[&str]) {
    for end in names {
        for index in 0..2 {
            let path = at.field(end).index(index);
            field::length(ui, desk, &labels::length(desk.words, &path), &path, Sign::Any);
        }
    }
}

/// An angle; `within` is the variant that holds it.
fn degrees(ui: &mut Ui, desk: &mut Desk<'_>, key: &str, at: &FieldPath, (within, value): (&str, f64)) {
    let (label, path) = (desk.words.say(key), if within.is_empty() { at.clone() } else { at.field(within) });
    field::Number { label: &label, path: &path, value: Some(value), unit: "°", optional: false, whole: false }
        .show(ui, desk);
}

/// The string that opens the lid along, with its pulley.
fn lid_string(ui: &mut Ui, desk: &mut Desk<'_>, lid: Option<&LidString>, at: &FieldPath) {
    let own = json!({ "hinge": ["280", "400"], "carcass": ["60", "500"], "lid": ["40", "400"], "starts_deg": 10.0 });
    let options = vec![(desk.words.say("lid-string-none"), Value::Null), (desk.words.say("stay-own"), own)];
    choice::field(ui, desk, &desk.words.say("lid-string"), at, usize::from(lid.is_some()), options);
    let Some(lid) = lid else { return };
    ends(ui, desk, at, &["hinge", "carcass", "lid"]);
    let pulley = at.field("pulley");
    let options =
        vec![(desk.words.say("pulley-none"), Value::Null), (desk.words.say("pulley-on"), json!(["40", "500"]))];
    choice::field(ui, desk, &desk.words.say("lid-pulley"), &pulley, usize::from(lid.pulley.is_some()), options);
    if lid.pulley.is_some() {
        ends(ui, desk, at, &["pulley"]);
    }
    degrees(ui, desk, "lid-starts", &at.field("starts_deg"), ("", lid.starts_deg));
}

fn front(ui: &mut Ui, desk: &mut Desk<'_>, bay: &Bay, path: &FieldPath) {
    let moves =
        matches!(&bay.inside, Inside::Holds { by, .. } if !matches!(by, Holding::Standing | Holding::Shelf { .. }));
    let mut kinds =
        vec![Opens::HingedLeft, Opens::HingedRight, Opens::Pair, Opens::HingedBelow, Opens::HingedAbove, Opens::Fixed];
    if moves || bay.front.as_ref().is_some_and(|front| front.opens == Opens::WithHolding) {
        kinds.insert(0, Opens::WithHolding);
    }
    let at = path.field("front");
    let front_of = |opens: Opens| match &bay.front {
        Some(front) => {
            let stay = front.stay.clone().filter(|_| is_flap(opens));
            Front { opens, stay, ..front.clone() }
        }
        None => Front::plain(opens),
    };
    let mut options = vec![(desk.words.say("front-none"), Value::Null)];
    for kind in &kinds {
        let value = serde_json::to_value(front_of(*kind)).unwrap_or_default();
        options.push((labels::opens(desk.words, *kind), value));
    }
    let now = bay.front.as_ref().and_then(|front| kinds.iter().position(|kind| *kind == front.opens));
    choice::field(ui, desk, &desk.words.say("bay-closed-by"), &at, now.map_or(0, |now| now + 1), options);
    if let Some(front) = &bay.front {
        let styles = [None, Some("Overlay"), Some("Inset")].into_iter();
        let keys = ["front-as-carcass", "front-overlay", "front-inset"];
        let options = keys.iter().zip(styles).map(|(key, style)| (desk.words.say(key), json!(style))).collect();
        let now = match front.style {
            None => 0,
            Some(casewright_core::design::FrontStyle::Overlay) => 1,
            Some(casewright_core::design::FrontStyle::Inset) => 2,
        };
        choice::field(ui, desk, &desk.words.say("front-sits"), &at.field("style"), now, options);
        let handles = fittings(desk, Fitting::is_handle);
        if front.opens != Opens::Fixed && (front.handle.is_some() || !handles.is_empty()) {
            let none = desk.words.say("handle-none");
            named(ui, desk, "front-handle", &at.field("handle"), (front.handle.as_deref(), none), handles);
        }
        let brackets = fittings(desk, Fitting::is_bracket);
        let pulls = matches!(&bay.inside, Inside::Holds { by: Holding::PullOut { .. }, .. });
        if pulls && front.opens == Opens::WithHolding && (front.brackets.is_some() || !brackets.is_empty()) {
            let none = desk.words.say("brackets-none");
            named(ui, desk, "front-brackets", &at.field("brackets"), (front.brackets.as_deref(), none), brackets);
        }
        if is_flap(front.opens) {
            flap_stay(ui, desk, front.stay.as_deref(), &at.field("stay"));
        }
    }
}

/// Whether something can be done with a bay at all.
#[must_use]
pub fn is_possible(bay: &Bay, parent: Option<(&Bay, usize)>, deed: Deed) -> bool {
    let row = parent.map(|(above, index)| match &above.inside {
        Inside::Across { bays, .. } | Inside::Up { bays, .. } => (bays.len(), index),
        _ => (0, 0),
    });
    match deed {
        Deed::Merge => row.is_some_and(|(count, index)| index + 1 < count),
        Deed::Duplicate => row.is_some_and(|(count, _)| count > 0),
        Deed::Delete => parent.is_some(),
        Deed::Unwrap => matches!(bay.inside, Inside::Boxed { .. }),
        _ => true,
    }
}

fn changes(ui: &mut Ui, desk: &mut Desk<'_>, bay: &Bay) {
    let parent = tree::parent(&desk.design.carcass.bay, &bay.name);
    let wrap = if matches!(bay.inside, Inside::Boxed { .. }) { Deed::Unwrap } else { Deed::Wrap };
    ui.horizontal_wrapped(|ui| {
        for deed in [Deed::DivideAcross, Deed::DivideUp, Deed::Merge, wrap, Deed::Duplicate, Deed::Delete] {
            let button = egui::Button::new(deed.say(desk.words));
            let hint = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
            if ui.add_enabled(is_possible(bay, parent, deed), button).on_hover_text(hint).clicked() {
                desk.actions.push(Action::Do(deed));
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn another_kind_of_want_keeps_the_number() {
        let fixed = Want::Fixed(Dim::new("400"));
        let check = |kind, before: &Want, expected: Value| {
            assert_eq!(want_of(kind, before, Some("512.5".into())), expected);
            let read: Want = serde_json::from_value(expected).unwrap();
            assert!(kind == 0 || read != Want::Free);
        };
        check(0, &fixed, json!("Free"));
        check(2, &fixed, json!({ "AtLeast": "400" }));
        check(4, &fixed, json!({ "Between": ["400", "400"] }));
        check(1, &Want::Free, json!({ "Fixed": "512.5" }));
        check(3, &Want::Between(Dim::new("2"), Dim::new("gap * 2")), json!({ "AtMost": "gap * 2" }));
    }

    #[test]
    fn only_what_is_possible_is_offered() {
        let design = sample::design();
        let root = &design.carcass.bay;
        let check = |name: &str, deed, expected| {
            let bay = root.named(name).unwrap();
            assert_eq!(is_possible(bay, tree::parent(root, name), deed), expected, "{name} {deed:?}");
        };
        check("whole", Deed::Delete, false);
        check("whole", Deed::Duplicate, false);
        check("left", Deed::Merge, true);
        check("right", Deed::Merge, false);
        check("upper", Deed::Unwrap, false);
        check("upper", Deed::Delete, true);
    }
}
