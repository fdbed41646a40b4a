//! The ways of leads: drawn from the front and from above with the holes that they go through, and as lines for the list.

use std::collections::BTreeSet;

use casewright_core::Length;
use casewright_core::checks::{PlacedOpening, place_opening};
use casewright_core::design::Role;
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::routes::{HOLE, LeadRoute, Pass};
use kurbo::{BezPath, Circle, Rect, Shape};

use super::cautions::Concern;
use super::chains::span;
use super::elevation::draw_things;
use super::pack::{Pack, PackOptions, title_block};
use super::scene::{DrawnPart, Scene, bodies, draw_areas, draw_parts, drawn_parts, mm, view_rect};
use super::site::draw_site;
use crate::compose::{ComposeError, Place, largest_scale_by, lay_all, titled_bounds};
use crate::dimension::{Chain, Side, Span};
use crate::display::Layer;
use crate::label::Label;
use crate::line::LineClass;
use crate::pointer::Pointer;
use crate::tag::Tag;
use crate::view::{Axes, View};

/// The name of this sheet.
const NAME: &str = "Lead routes";

/// What is to be done for the leads, line by line, each with whether it is ticked.
pub(crate) fn lead_lines(scene: &Scene<'_>) -> Vec<(String, bool)> {
    let f = |length: Length| scene.format(length);
    let mut lines = Vec::new();
    let thing = |index: usize| scene.assembly.things.get(index).map_or("", |it| it.name.as_str());
    for route in scene.leads {
        let socket = scene.design.site.obstacles.get(route.socket).map_or("", |it| it.name.as_str());
        let name = thing(route.thing);
        let Some(way) = &route.way else {
            lines.push((
                if route.unsought {
                    format!("{name}: no route was searched for its lead to {socket}, the piece has too many faces")
                } else {
                    format!("{name}: no route for its lead to {socket}, see the checks")
                },
                false,
            ));
            continue;
        };
        let (need, spare) = (route.need(), route.lead - route.need());
        lines.push((
            format!(
                "{name}: its lead runs {} to {socket} and must be {} long with slack and plug",
                f(way.length),
                f(need)
            ),
            false,
        ));
        let text = if spare >= Length::ZERO {
            format!("its lead is {} long: {} to spare, tied up loosely, never coiled", f(route.lead), f(spare))
        } else {
            format!("its lead is {} long: {} too short, see the checks", f(route.lead), f(-spare))
        };
        lines.push((text, false));
        for pass in &way.passes {
            if let Some(line) = pass_line(scene, pass) {
                lines.push((line, true));
            }
        }
        for &other in &way.past {
            lines.push((format!("clip it to the wall behind {}, away from what gets hot", thing(other)), true));
        }
        if route.travel > Length::ZERO {
            lines.push((
                format!("leave a loop for {} of pull-out behind {name}, clear of slides and wheels", f(route.travel)),
                true,
            ));
        }
    }
    if !lines.is_empty() {
        lines.push((
            "Plug into a fixed socket: no extension lead, no junction inside the piece, nothing coiled or pinched. Fixed \
             wiring is for licensed people, by local code."
                .to_owned(),
            false,
        ));
    }
    lines
}

/// The opening of the design that a lead goes through, at its place.
fn opening_of(scene: &Scene<'_>, pass: &Pass) -> Option<PlacedOpening> {
    let opening = scene.design.carcass.openings.get(pass.opening?)?;
    place_opening(scene.layout, scene.assembly, opening)
}

/// Where a lead goes through a panel, from the panel's own edges: to where an opening begins, or to the middle of a hole.
fn pass_line(scene: &Scene<'_>, pass: &Pass) -> Option<String> {
    let part = scene.assembly.parts.get(pass.part)?;
    let opening = opening_of(scene, pass);
    let from = |axis: Axis| {
        let at = opening.map_or(pass.at.along(axis), |it| it.cuboid.range(axis).0);
        let size = scene.format(at - part.cuboid.range(axis).0);
        match axis {
            Axis::X => format!("{size} from its left end"),
            Axis::Y => format!("{size} from its lower edge"),
            Axis::Z => format!("{size} from its rear edge"),
        }
    };
    let sides: Vec<String> =
        Axis::ALL.into_iter().filter(|axis| *axis != part.world_from_part.thickness_axis()).map(from).collect();
    let (first, second) = (sides.first()?, sides.get(1)?);
    Some(match pass.opening {
        Some(_) => format!("through the opening in {}: begins {first}, {second}", part.number),
        None => format!("hole of {} with a grommet in {}: {first}, {second}", scene.format(HOLE), part.number),
    })
}

/// Adds the sheet, if any lead has a way.
pub(super) fn add(pack: &mut Pack, scene: &Scene<'_>, options: &PackOptions) -> Result<(), ComposeError> {
    let routes = scene.leads;
    if routes.iter().all(|it| it.way.is_none()) {
        return Ok(());
    }
    let front = lead_view(scene, routes, Axes::FRONT, "leads-front", "Leads from the front, fronts removed");
    let above = lead_view(scene, routes, Axes::FROM_ABOVE, "leads-plan", "Leads from above, worktop and top removed");
    let style = options.style;
    let scale_of = |views: &[(Place, &View)]| {
        let bounds = &mut |view: &View, scale| titled_bounds(view, scale, scale, &style);
        largest_scale_by(views, options.format, options.at_most, bounds)
    };
    let both = [(Place::Front, &front), (Place::FromAbove, &above)];
    let beside = [(Place::Front, &front), (Place::Free, &above)];
    let (views, scale) = match (scale_of(&both), scale_of(&beside)) {
        (Some(one), Some(other)) if other.factor() > one.factor() => (beside, other),
        (Some(one), _) => (both, one),
        (None, Some(other)) => (beside, other),
        (None, None) => return Err(ComposeError::TooLarge { format: options.format.name() }),
    };
    let mut add = |views: &[(Place, &View)], scale| {
        pack.add_drawn(
            lay_all(views, scale, &style),
            options.format,
            title_block(scene, NAME, "Installation", Concern::Nothing),
        )
    };
    // Each on a sheet of its own where both are larger so.
    let alone = [&front, &above].map(|view| [(Place::Front, view)]);
    let scales = alone.each_ref().map(|view| scale_of(view));
    if let [Some(one), Some(other)] = scales
        && one.factor().min(other.factor()) > scale.factor()
    {
        return alone.iter().zip([one, other]).try_for_each(|(view, scale)| add(view, scale));
    }
    add(&views, scale)
}

/// The piece with its leads in a straight view: the leads thick, what they go through with sizes from the panel's edges.
fn lead_view<'a>(scene: &Scene<'a>, routes: &[LeadRoute], axes: Axes, id: &str, title: &str) -> View {
    let mut view = scene.view(id, title, axes);
    let from_front = axes == Axes::FRONT;
    let parts: Vec<DrawnPart<'a>> = drawn_parts(scene, None, |part| match part.role {
        Role::Front => false,
        Role::Worktop | Role::Top | Role::Rail => from_front,
        _ => true,
    });
    draw_areas(&mut view, scene, &parts);
    draw_parts(&mut view, &parts, false);
    draw_things(&mut view, scene, |_| true);
    draw_site(&mut view, scene, &bodies(&parts), |_| true);
    let mut sockets: BTreeSet<usize> = BTreeSet::new();
    for route in routes {
        let Some(way) = &route.way else { continue };
        let mut path = BezPath::new();
        for (index, point) in way.points.iter().enumerate() {
            let at = axes.project(mm(*point));
            if index == 0 {
                path.move_to(at);
            } else {
                path.line_to(at);
            }
        }
        let thing = scene.assembly.things.get(route.thing);
        let tag = thing.map(|it| Tag::Thing(it.name.clone()));
        view.geometry.stroke(Layer::Movement, LineClass::VisibleOutline, tag.clone(), path);
        // The mouth of the lead: a dot within a ring.
        let exit = axes.project(mm(route.exit));
        view.geometry.stroke(
            Layer::Movement,
            LineClass::VisibleOutline,
            tag.clone(),
            Circle::new(exit, 8.0).to_path(0.1),
        );
        if let Some(thing) = thing {
            let within = view_rect(axes, &thing.cuboid);
            view.labels.push(Label { within, lines: vec![thing.name.clone()], tag: tag.clone() });
        }
        if let Some(socket) = scene.design.site.obstacles.get(route.socket)
            && sockets.insert(route.socket)
        {
            let (x, y, z) = socket.corner;
            let (width, height, depth) = socket.size;
            let solid = Cuboid::from_ranges((x, x + width), (y, y + height), (z, z + depth));
            let rect = view_rect(axes, &solid);
            let tag = Some(Tag::Site(socket.name.clone()));
            // Whatever stands before it, it is shown: that is where the lead ends.
            view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, tag.clone(), rect);
            // Above it from the front; from above on the side of the person, where no title stands.
            let (low, high) =
                if from_front { (rect.y1 + 15.0, rect.y1 + 150.0) } else { (rect.y0 - 150.0, rect.y0 - 15.0) };
            let within = Rect::new(rect.x0 - 250.0, low, rect.x1 + 250.0, high);
            view.labels.push(Label { within, lines: vec![socket.name.clone()], tag });
        }
        for pass in &way.passes {
            hole(&mut view, scene, pass, axes);
        }
    }
    view
}

/// A hole that a lead goes through: its circle where one looks through it, and its place from the edges of its panel.
fn hole(view: &mut View, scene: &Scene<'_>, pass: &Pass, axes: Axes) {
    let Some(part) = scene.assembly.parts.get(pass.part) else { return };
    let Axes::Straight(right, up) = axes else { return };
    let through = part.world_from_part.thickness_axis();
    let tag = Some(Tag::Part(part.number.clone()));
    let at = axes.project(mm(pass.at));
    let radius = HOLE.mm() / 2.0;
    let seen_through = axes.to_viewer().get(through.index()).is_some_and(|it| *it != 0.0);
    let opening = opening_of(scene, pass);
    if let Some(placed) = opening {
        let rect = view_rect(axes, &placed.cuboid);
        view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, tag.clone(), rect);
    }
    if pass.opening.is_none() {
        if seen_through {
            view.geometry.stroke(
                Layer::Movement,
                LineClass::VisibleOutline,
                tag.clone(),
                Circle::new(at, radius).to_path(0.1),
            );
        } else {
            let cut = view_rect(axes, &part.cuboid);
            let (w, h) = if right.axis == through { (cut.width(), 2.0 * radius) } else { (2.0 * radius, cut.height()) };
            let cut = Rect::from_center_size(at, (w, h));
            view.geometry.rectangle(Layer::Movement, LineClass::VisibleOutline, tag.clone(), cut);
        }
        view.pointers.push(Pointer {
            at: vec![kurbo::Point::new(at.x + radius * 0.7, at.y + radius * 0.7), at],
            text: scene.say(&format!("Ø{} in {}", scene.dimension(HOLE), part.number)),
            tag: tag.clone(),
            stays: false,
        });
    }
    // Beside the piece on the side that is nearer.
    let middle = view_rect(axes, &scene.assembly.envelope).center().x;
    let beside = if at.x < middle { Side::Left } else { Side::Right };
    for (direction, side) in [(right, Side::Above), (up, beside)] {
        let axis = direction.axis;
        // Nothing is given twice: what lies along the wall is given from the front.
        if axis == through || (axis == Axis::X && axes != Axes::FRONT) {
            continue;
        }
        // To the middle of a hole; to an opening and over it.
        let low = part.cuboid.range(axis).0;
        let marks = match opening {
            Some(placed) => vec![low, placed.cuboid.range(axis).0, placed.cuboid.range(axis).1],
            None => vec![low, pass.at.along(axis)],
        };
        let sign = if direction.negative { -1 } else { 1 };
        let pairs = marks.windows(2).filter_map(|pair| if let [from, to] = pair { Some((*from, *to)) } else { None });
        let spans: Vec<Span> =
            pairs.filter(|it| it.0 < it.1).map(|it| span(scene, it.0, it.1, sign, tag.clone())).collect();
        if !spans.is_empty() {
            view.chains.push(Chain { side, rank: 0, feature: None, spans });
        }
    }
}
