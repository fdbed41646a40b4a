//! The walk down the bay tree: faces of every bay and divider, and what each bay asks of its opening.

use super::model::{Faces, Model, Node, PanelSpec, weight};
use super::need::{self, LEAST_OPENING};
use super::reason::{Reason, ReasonKind};
use super::shell;
use crate::axis::{Face, MustKind, Span, WishKind};
use crate::design::{Bay, Construction, Divider, FrontStyle, Holding, Inside, Role, Want};
use crate::geometry::Axis;
use crate::holding;
use crate::layout::Closing;
use crate::length::Length;
use crate::text::{Fault, FieldPath};

/// Where the walk is.
#[derive(Clone)]
pub(super) struct Place<'d> {
    pub(super) path: FieldPath,
    pub(super) parent: Option<usize>,
    pub(super) depth: usize,
    pub(super) shell: usize,
    pub(super) construction: &'d Construction<Length>,
    pub(super) faces: Faces,
    pub(super) closed_by: [Closing; 4],
}

/// The smallest width and height that contents give a bay; none where it is open space only.
type Least = [Option<Length>; 2];

/// Adds a bay and all that is in it.
pub(super) fn add_bay<'d>(
    model: &mut Model<'d>,
    bay: &'d Bay<Length>,
    place: &Place<'d>,
    turned: &dyn Fn(&str) -> bool,
) -> Least {
    let index = model.nodes.len();
    let needs = match need::of_bay(model.design, place.construction, bay, turned) {
        Ok(needs) => needs,
        Err(error) => {
            model.faults.push(Fault::at_path(place.path.field("inside").field("by"), error.to_string()));
            None
        }
    };
    let mut least: Least = [None, None];
    if let Some(needs) = &needs {
        least = [Some(needs.total(Axis::X)), Some(needs.total(Axis::Y))];
    }
    let is_leaf = !matches!(bay.inside, Inside::Across { .. } | Inside::Up { .. } | Inside::Boxed { .. });
    model.nodes.push(Node {
        name: &bay.name,
        path: place.path.clone(),
        parent: place.parent,
        depth: place.depth,
        shell: place.shell,
        faces: place.faces,
        closed_by: place.closed_by,
        is_leaf,
        needs,
    });
    ask_wants(model, bay, place);
    if is_leaf {
        ask_leaf(model, bay, place, index);
    }

    let inner = behind_front(model, bay, place, index);
    ask_depth_inside(model, bay, place, &inner);
    match &bay.inside {
        Inside::Open { shelves } => loose_shelves(model, bay, &inner, *shelves),
        Inside::Holds { by, .. } => own_shelf(model, bay, &inner, by),
        Inside::Across { bays, by } => least = divide(model, bays, by, Axis::X, &inner, turned),
        Inside::Up { bays, by } => least = divide(model, bays, by, Axis::Y, &inner, turned),
        Inside::Boxed { shell: asked, bay: inside } => {
            let construction = asked.construction.as_ref().unwrap_or(place.construction);
            let at = match asked.construction {
                Some(_) => inner.path.field("shell").field("construction"),
                None => FieldPath::root().field("carcass").field("construction"),
            };
            let outer = shell::drawn_in(inner.faces, asked.gap.unwrap_or_default());
            let prefix = format!("{} ", bay.name);
            let within = shell::build(model, &bay.name, &prefix, at, construction, outer);
            let taken = [Axis::X, Axis::Y].map(|axis| {
                let (all, free) = (place.faces[axis.index()], within.faces[axis.index()]);
                (free.0.offset - all.0.offset) + (all.1.offset - free.1.offset)
            });
            let next = Place {
                path: inner.path.field("bay"),
                shell: within.shell,
                construction,
                faces: within.faces,
                closed_by: within.closed_by,
                ..inner
            };
            let of_inside = add_bay(model, inside, &next, turned);
            least = [of_inside[0].map(|size| size + taken[0]), of_inside[1].map(|size| size + taken[1])];
        }
    }
    for (size, want) in least.iter_mut().zip([&bay.width, &bay.height]) {
        match want {
            Want::Fixed(fixed) => *size = Some(*fixed),
            Want::AtLeast(low) | Want::Between(low, _) => *size = Some(size.unwrap_or_default().max(*low)),
            Want::Free | Want::AtMost(_) | Want::Prefer(_) => {}
        }
    }
    least
}

/// The place of what is inside a bay: behind its own front, if that sits inside the carcass.
fn behind_front<'d>(model: &Model<'d>, bay: &Bay<Length>, place: &Place<'d>, index: usize) -> Place<'d> {
    let mut inner = place.clone();
    inner.path = place.path.field("inside");
    inner.parent = Some(index);
    inner.depth = place.depth + 1;
    if let Some(front) = &bay.front
        && front.style.unwrap_or(place.construction.fronts) == FrontStyle::Inset
    {
        let material = front.board.as_deref().unwrap_or_else(|| Model::board(place.construction, Role::Front));
        inner.faces[2].1 = inner.faces[2].1.plus(-(model.thickness(material) + holding::PLAY_BEHIND_FRONT));
    }
    inner
}

fn ask_wants(model: &mut Model<'_>, bay: &Bay<Length>, place: &Place<'_>) {
    for (axis, want, name) in [(Axis::X, &bay.width, "width"), (Axis::Y, &bay.height, "height")] {
        let span = Model::span(place.faces[axis.index()]);
        let field = place.path.field(name);
        let reason = |kind, field: &FieldPath| Reason { kind, field: field.clone(), about: vec![bay.name.clone()] };
        match want {
            Want::Free => {}
            Want::Fixed(size) => model.must(axis, MustKind::Exactly(span, *size), reason(ReasonKind::BayFixed, &field)),
            Want::AtLeast(size) => {
                model.must(axis, MustKind::AtLeast(span, *size), reason(ReasonKind::BayLeast, &field));
            }
            Want::AtMost(size) => model.must(axis, MustKind::AtMost(span, *size), reason(ReasonKind::BayMost, &field)),
            Want::Between(low, high) => {
                model.must(axis, MustKind::AtLeast(span, *low), reason(ReasonKind::BayLeast, &field.index(0)));
                model.must(axis, MustKind::AtMost(span, *high), reason(ReasonKind::BayMost, &field.index(1)));
            }
            Want::Prefer(size) => {
                let wish = WishKind::Size { span, target: *size };
                model.wish(axis, wish, weight::PREFER, reason(ReasonKind::Wish("preferred size"), &field));
            }
        }
    }
}

/// A bay that is not divided must have an opening, and room for what it holds.
fn ask_leaf(model: &mut Model<'_>, bay: &Bay<Length>, place: &Place<'_>, index: usize) {
    for axis in Axis::ALL {
        let span = Model::span(place.faces[axis.index()]);
        let opening = Reason { kind: ReasonKind::Opening, field: place.path.clone(), about: vec![bay.name.clone()] };
        model.must(axis, MustKind::AtLeast(span, LEAST_OPENING), opening);
        let Some(needs) = model.nodes.get(index).and_then(|node| node.needs.as_ref()) else { continue };
        let total = needs.total(axis);
        if total > LEAST_OPENING {
            let mut about = vec![bay.name.clone()];
            about.extend(needs.things.iter().map(|it| it.name.to_owned()));
            let sum = needs.terms[axis.index()].clone();
            let reason = Reason { kind: ReasonKind::Holds { sum }, field: place.path.field("inside"), about };
            model.must(axis, MustKind::AtLeast(span, total), reason);
        }
    }
    ask_carried_depth(model, bay, place, index);
}

/// Behind an inset front, and for shelves set back, some depth must be left inside.
fn ask_depth_inside(model: &mut Model<'_>, bay: &Bay<Length>, place: &Place<'_>, inner: &Place<'_>) {
    let set_back = place.construction.shelf_set_back.unwrap_or_default();
    let (rear, front) = inner.faces[2];
    let inside = (rear, front.plus(-set_back));
    if inside != place.faces[2] {
        let opening = Reason { kind: ReasonKind::Opening, field: place.path.clone(), about: vec![bay.name.clone()] };
        model.must(Axis::Z, MustKind::AtLeast(Model::span(inside), LEAST_OPENING), opening);
    }
}

/// What runs on slides may be no deeper than these allow, whatever the bay.
fn ask_carried_depth(model: &mut Model<'_>, bay: &Bay<Length>, place: &Place<'_>, index: usize) {
    let Some(needs) = model.nodes.get(index).and_then(|node| node.needs.as_ref()) else { return };
    let Some(most) = needs.allowance.most_contents_depth.clone() else { return };
    if needs.things.is_empty() {
        return;
    }
    let mut about = vec![bay.name.clone()];
    about.extend(needs.things.iter().map(|it| it.name.to_owned()));
    let depth = Span::between(Face::fixed(Length::ZERO), Face::fixed(needs.contents_depth));
    let field = place.path.field("inside").field("by");
    let reason = Reason { kind: ReasonKind::Carried { what: most.reason }, field, about };
    model.must(Axis::Z, MustKind::AtMost(depth, most.size), reason);
}

/// Divides a bay along `axis` and adds its bays; returns the smallest sizes that these give it.
fn divide<'d>(
    model: &mut Model<'d>,
    bays: &'d [Bay<Length>],
    by: &'d Divider,
    axis: Axis,
    place: &Place<'d>,
    turned: &dyn Fn(&str) -> bool,
) -> Least {
    let (role, low_side, high_side) = if axis == Axis::X { (Role::Upright, 0, 1) } else { (Role::Shelf, 2, 3) };
    let material = match by {
        Divider::Panel => Some(Model::board(place.construction, role).to_owned()),
        Divider::Of(material) => Some(material.clone()),
        Divider::Nothing => None,
    };
    let thickness = material.as_deref().map(|it| model.thickness(it)).unwrap_or_default();
    let whole = place.faces[axis.index()];
    let mut low = whole.0;
    let mut closed_low = place.closed_by[low_side];
    let mut spans: Vec<Span> = Vec::with_capacity(bays.len());
    let mut leasts: Vec<Least> = Vec::with_capacity(bays.len());
    for (i, bay) in bays.iter().enumerate() {
        let mut next = place.clone();
        next.path = place.path.field("bays").index(i);
        next.closed_by[low_side] = closed_low;
        let mut after = None;
        if i + 1 < bays.len() {
            let face = Face::at(model.problems[axis.index()].add_var());
            let mut faces = place.faces;
            faces[axis.index()] = (face, face.plus(thickness));
            if role == Role::Shelf {
                faces[2].1 = faces[2].1.plus(-place.construction.shelf_set_back.unwrap_or_default());
            }
            next.faces[axis.index()] = (low, face);
            next.closed_by[high_side] = match &material {
                Some(material) => {
                    model.panels.push(PanelSpec {
                        id: divider_id(axis, &bay.name),
                        role,
                        faces,
                        material: material.clone(),
                        shell: place.shell,
                        bay: bay.name.clone(),
                        loose: false,
                    });
                    Closing::Panel(model.panels.len() - 1)
                }
                None => Closing::Nothing,
            };
            after = Some((face.plus(thickness), next.closed_by[high_side]));
        } else {
            next.faces[axis.index()] = (low, whole.1);
        }
        spans.push(Model::span(next.faces[axis.index()]));
        leasts.push(add_bay(model, bay, &next, turned));
        if let Some((face, closing)) = after {
            (low, closed_low) = (face, closing);
        }
    }
    wish_shares(model, bays, axis, place, &spans, &leasts);

    let along = if axis == Axis::X { 0 } else { 1 };
    let mut least: Least = [None, None];
    for (i, of_bay) in leasts.iter().enumerate() {
        least[1 - along] = least[1 - along].max(of_bay[1 - along]);
        if leasts.iter().any(|it| it[along].is_some()) {
            let gap = if i == 0 { Length::ZERO } else { thickness };
            let sum = least[along].unwrap_or_default() + gap + of_bay[along].unwrap_or(LEAST_OPENING);
            least[along] = Some(sum);
        }
    }
    least
}

/// What the bays of one division wish for along it: those with a share, and open space, divide what is left by shares;
/// those that hold something keep close to what they need.
fn wish_shares(
    model: &mut Model<'_>,
    bays: &[Bay<Length>],
    axis: Axis,
    place: &Place<'_>,
    spans: &[Span],
    leasts: &[Least],
) {
    let along = if axis == Axis::X { 0 } else { 1 };
    let mut sharing: Option<(Span, f64)> = None;
    for (i, ((bay, span), least)) in bays.iter().zip(spans).zip(leasts).enumerate() {
        let want = if axis == Axis::X { &bay.width } else { &bay.height };
        let field = place.path.field("bays").index(i);
        match (want, bay.share, least[along]) {
            (Want::Fixed(_) | Want::Prefer(_), None, _) => {}
            (_, None, Some(least)) => {
                let kind = ReasonKind::Wish("close to what it holds");
                let wish = WishKind::Size { span: *span, target: least };
                model.wish(axis, wish, weight::SNUG, Reason { kind, field, about: vec![bay.name.clone()] });
            }
            (_, share, _) => {
                let share = share.unwrap_or(1.0);
                if let Some((before, share_before)) = sharing {
                    let kind = ReasonKind::Wish("share of what is left");
                    let wish = WishKind::Proportion { a: before, share_a: share_before, b: *span, share_b: share };
                    model.wish(axis, wish, weight::SHARE, Reason { kind, field, about: vec![bay.name.clone()] });
                }
                sharing = Some((*span, share));
            }
        }
    }
}

/// Loose shelves that divide an open bay evenly, 1 mm free at each end (common practice).
fn loose_shelves(model: &mut Model<'_>, bay: &Bay<Length>, place: &Place<'_>, count: u32) {
    const PLAY: Length = Length::from_mm(1);
    let material = Model::board(place.construction, Role::Shelf).to_owned();
    let thickness = model.thickness(&material);
    let whole = place.faces[1];
    let about = || vec![bay.name.clone()];
    let field = place.path.field("shelves");
    let mut low = whole.0;
    let mut before: Option<Span> = None;
    for i in 0..=count {
        let face = if i == count { whole.1 } else { Face::at(model.problems[1].add_var()) };
        let span = Span::between(low, face);
        let opening = Reason { kind: ReasonKind::Opening, field: field.clone(), about: about() };
        model.must(Axis::Y, MustKind::AtLeast(span, LEAST_OPENING), opening);
        if let Some(before) = before {
            let reason = Reason { kind: ReasonKind::Wish("evenly spaced"), field: field.clone(), about: about() };
            let wish = WishKind::Proportion { a: before, share_a: 1.0, b: span, share_b: 1.0 };
            model.wish(Axis::Y, wish, weight::SHARE, reason);
        }
        before = Some(span);
        if i < count {
            let mut faces = place.faces;
            faces[0] = (faces[0].0.plus(PLAY), faces[0].1.plus(-PLAY));
            faces[1] = (face, face.plus(thickness));
            faces[2].1 = faces[2].1.plus(-place.construction.shelf_set_back.unwrap_or_default());
            model.panels.push(PanelSpec {
                id: format!("loose shelf {} in {}", i + 1, bay.name),
                role: Role::Shelf,
                faces,
                material: material.clone(),
                shell: place.shell,
                bay: bay.name.clone(),
                loose: true,
            });
            low = face.plus(thickness);
        }
    }
}

/// The shelf under things that stand above free space.
fn own_shelf(model: &mut Model<'_>, bay: &Bay<Length>, place: &Place<'_>, by: &Holding<Length>) {
    let Holding::Shelf { under } = by else { return };
    let material = Model::board(place.construction, Role::Shelf).to_owned();
    let low = place.faces[1].0.plus(*under);
    let mut faces = place.faces;
    faces[1] = (low, low.plus(model.thickness(&material)));
    faces[2].1 = faces[2].1.plus(-place.construction.shelf_set_back.unwrap_or_default());
    model.panels.push(PanelSpec {
        id: format!("shelf in {}", bay.name),
        role: Role::Shelf,
        faces,
        material,
        shell: place.shell,
        bay: bay.name.clone(),
        loose: false,
    });
}

fn divider_id(axis: Axis, before: &str) -> String {
    if axis == Axis::X { format!("upright right of {before}") } else { format!("shelf over {before}") }
}
