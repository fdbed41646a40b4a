//! Small diagrams beside findings: a board as it bends, a piece over the edge that it may tip over, a carcass that leans, a
//! leaf that turns. Drawn in paper millimetres into a box with its lower left corner at the origin; what moves is drawn
//! larger than it is, and says so.

use casewright_core::assembly::{Motion, Mover};
use casewright_core::checks::{self, CheckOptions, PanelBend, Rack, STABILITY_CHECKS};
use casewright_core::finding::{Finding, Severity};
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::mechanics::racking::PUSH;
use casewright_core::mechanics::tipping::{
    Balance, CaseResult, Edge, Ground, Piece, STABILITY_CASES, StabilityTest, run,
};
use kurbo::{BezPath, Circle, Line, Point, Rect, Shape, Size, Vec2};

use super::scene::Scene;
use crate::display::{Arrow, Display, Layer, Mark, Tone};
use crate::font::HEIGHT_LABEL_MM;
use crate::line::LineClass;
use crate::text::{Anchor, Text};

/// Width and height of a diagram, in millimetres.
pub(super) const SIZE: Size = Size::new(44.0, 30.0);
/// How far a bend or a lean is drawn at the most, in millimetres.
const SHOWN_MM: f64 = 6.0;
/// Height of the line of text under a diagram.
const CAPTION_MM: f64 = 4.0;

/// What the diagrams of a piece are drawn from, computed once.
pub(super) struct Diagrams<'a> {
    scene: Scene<'a>,
    bends: Vec<PanelBend>,
    racks: Vec<Rack>,
    piece: Piece,
}

impl<'a> Diagrams<'a> {
    pub(super) fn new(scene: &Scene<'a>, options: &CheckOptions) -> Self {
        let Scene { design, layout, assembly, .. } = *scene;
        Self {
            scene: *scene,
            bends: checks::bends(design, layout, assembly, options),
            racks: checks::racking(design, layout, assembly, options),
            piece: checks::tipping_piece(design, layout, assembly, options),
        }
    }

    /// The diagram beside a finding. Notes say what they say in words.
    pub(super) fn beside(&self, finding: &Finding) -> Option<Display> {
        if finding.severity == Severity::Note { None } else { self.of(finding) }
    }

    /// The diagram of a finding; none for what a picture says no better.
    fn of(&self, finding: &Finding) -> Option<Display> {
        match finding.check.split('.').next() {
            Some("sag" | "strength") => self.bend(finding),
            Some("tip") => self.tip(finding),
            Some("rack") => self.lean(finding),
            _ if finding.check == "front.turn" => self.turn(finding),
            _ => None,
        }
    }

    fn bend(&self, finding: &Finding) -> Option<Display> {
        let bend = self.bends.iter().find(|bend| {
            self.scene.assembly.parts.get(bend.part).is_some_and(|part| finding.about.contains(&part.number))
        })?;
        let part = self.scene.assembly.parts.get(bend.part)?;
        let length = part.cuboid.size(Axis::X).mm();
        let deepest = bend.curve.iter().map(|at| at.1.abs()).fold(0.0, f64::max);
        if !(length > 0.0 && deepest > 0.0) {
            return None;
        }
        let across = (SIZE.width - 8.0) / length;
        let shown = SHOWN_MM / deepest;
        let level = SIZE.height - 8.0;
        let place = |x: f64, down: f64| Point::new(4.0 + x * across, level - down * shown);
        let mut display = Display::new();
        display.segment(Layer::Notes, LineClass::Hidden, None, place(0.0, 0.0), place(length, 0.0));
        let mut path = BezPath::new();
        for (i, &(x, down)) in bend.curve.iter().enumerate() {
            if i == 0 {
                path.move_to(place(x, down));
            } else {
                path.line_to(place(x, down));
            }
        }
        display.stroke(Layer::Notes, LineClass::VisibleOutline, None, path);
        for &x in &bend.supports {
            display.fill(Layer::Notes, Tone::Ink, None, support(place(x, 0.0), Vec2::new(0.0, -1.0)));
        }
        for i in 0..=6 {
            let tip = place(length * f64::from(i) / 6.0, 0.0) + Vec2::new(0.0, 0.8);
            down_arrow(&mut display, tip, 4.0);
        }
        self.caption(&mut display, &format!("sag drawn {} times", enlargement(&self.scene, shown / across)));
        Some(display)
    }

    fn tip(&self, finding: &Finding) -> Option<Display> {
        let worst_of = |test: StabilityTest| {
            let results = STABILITY_CASES.iter().filter(|it| it.test == test);
            let found = results.filter_map(|case| run(&self.piece, case));
            found.min_by(|a, b| a.balance.margin().total_cmp(&b.balance.margin()))
        };
        let test = STABILITY_CHECKS.iter().find(|(_, id)| *id == finding.check).map(|it| it.0);
        let case = test.and_then(worst_of);
        let balance = match &case {
            Some(result) => result.balance.clone(),
            None if finding.check == "tip.wall" => {
                // The fixing is asked for by the worst of all.
                let results = STABILITY_CASES.iter().filter_map(|case| run(&self.piece, case));
                let worst = results.min_by(|a, b| a.balance.margin().total_cmp(&b.balance.margin()))?;
                return Some(self.over_edge(&worst.balance, Some(&worst)));
            }
            None => {
                let level = Ground::default();
                let loads = [0.0, 1.0].into_iter();
                let all = loads.filter_map(|load| self.piece.worst(level, 1.0, load, usize::MAX));
                all.min_by(|a, b| a.margin().total_cmp(&b.margin()))?
            }
        };
        Some(self.over_edge(&balance, case.as_ref()))
    }

    /// The piece from the side, with what stands open, its centre of mass, and the edge that it turns about.
    fn over_edge(&self, balance: &Balance, case: Option<&CaseResult>) -> Display {
        let edge = &balance.edge;
        let along = if edge.outward.1.abs() >= edge.outward.0.abs() { Axis::Z } else { Axis::X };
        let outward = if along == Axis::Z { edge.outward.1 } else { edge.outward.0 };
        let body = self.scene.assembly.envelope;
        let open: Vec<Cuboid> = (self.scene.assembly.movers.iter())
            .filter(|mover| self.is_open(mover, balance))
            .filter_map(|mover| self.opened(mover))
            .collect();
        let whole = open.iter().fold(body, |all, it| all.union(it));
        let (low, high) = whole.range(along);
        let (floor, top) = (body.min.y.mm(), body.max.y.mm());
        let width = (high - low).mm().max(1.0);
        let scale = ((SIZE.width - 6.0) / width).min((SIZE.height - CAPTION_MM - 6.0) / (top - floor).max(1.0));
        // The way that it goes over is to the right.
        let x = |at: f64| {
            let from = if outward > 0.0 { at - low.mm() } else { high.mm() - at };
            (SIZE.width - width * scale) / 2.0 + from * scale
        };
        let place = |at: f64, up: f64| Point::new(x(at), CAPTION_MM + 4.0 + (up - floor) * scale);
        let rect = |it: &Cuboid| {
            let (a, b) = it.range(along);
            Rect::from_points(place(a.mm(), it.min.y.mm()), place(b.mm(), it.max.y.mm()))
        };
        let mut display = Display::new();
        display.rectangle(Layer::Notes, LineClass::VisibleOutline, None, rect(&body));
        for it in &open {
            display.rectangle(Layer::Notes, LineClass::Adjacent, None, rect(it));
        }
        let ground = CAPTION_MM + 4.0;
        display.segment(
            Layer::Notes,
            LineClass::Dimension,
            None,
            Point::new(1.0, ground),
            Point::new(SIZE.width - 1.0, ground),
        );
        let turns = place(edge_place(edge, along), floor);
        display.fill(Layer::Notes, Tone::Ink, None, support(turns, Vec2::new(0.0, -1.0)));
        let centre =
            self.piece.centre(&balance.open, case.map_or(1.0, |it| it.case.share), case.map_or(1.0, |it| it.load));
        let centre_at = place(if along == Axis::Z { centre[2] } else { centre[0] }, centre[1]);
        let foot = Point::new(centre_at.x, ground);
        for (from, to) in [(turns, centre_at), (centre_at, foot)] {
            display.segment(Layer::Notes, LineClass::Hidden, None, from, to);
        }
        display.stroke(Layer::Notes, LineClass::Dimension, None, Circle::new(centre_at, 1.2).to_path(0.01));
        display.fill(Layer::Notes, Tone::Ink, None, Circle::new(centre_at, 0.4).to_path(0.01));
        if let Some(result) = case.filter(|it| it.down > 0.0) {
            let at = edge_place(edge, along) + result.arm * outward.signum();
            let height = result
                .on
                .and_then(|i| self.piece.moving.get(i))
                .map_or(top, |moving| moving.opening.moved(moving.front, result.case.share)[1]);
            down_arrow(&mut display, place(at, height.min(top)), 5.0);
        }
        let words = match (balance.stands(), case) {
            (true, _) => format!("stands; it would go {}", edge.name()),
            (false, Some(result)) if result.down > 0.0 => format!("{:.0} N tip it {}", result.down, edge.name()),
            (false, _) => format!("tips {}", edge.name()),
        };
        self.caption(&mut display, &words);
        display
    }

    fn is_open(&self, mover: &Mover, balance: &Balance) -> bool {
        let all = self.piece.moving.iter().zip(&balance.open);
        all.filter(|it| *it.1).any(|it| it.0.id == mover.id)
    }

    /// The box of a moving part when it stands open: a drawer out by its travel, a door or flap at a right angle.
    fn opened(&self, mover: &Mover) -> Option<Cuboid> {
        let parts = mover.parts.iter().filter_map(|&i| self.scene.assembly.parts.get(i)).map(|part| part.cuboid);
        let shut = parts.reduce(|a, b| a.union(&b))?;
        Some(match mover.motion {
            Motion::Slide { direction, travel } => shut.moved(direction, travel),
            Motion::Turn { pivot, axis, .. } => {
                let thick = shut.size(Axis::Z);
                let (across, far) = if axis.axis == Axis::Y { (Axis::X, pivot.x) } else { (Axis::Y, pivot.y) };
                let reach = shut.size(across);
                let at_low = (far - shut.range(across).0).abs() < (shut.range(across).1 - far).abs();
                let flat = if at_low { (far, far + thick) } else { (far - thick, far) };
                shut.with_range(across, flat).with_range(Axis::Z, (pivot.z, pivot.z + reach))
            }
        })
    }

    fn lean(&self, finding: &Finding) -> Option<Display> {
        let shells = &self.scene.layout.shells;
        let rack = self.racks.iter().find(|rack| {
            shells.get(rack.shell).is_some_and(|shell| {
                finding.about.contains(&shell.name) || finding.place.is_some_and(|place| place == shell.outer)
            })
        })?;
        let outer = shells.get(rack.shell)?.outer;
        let (width, height) = (outer.size(Axis::X).mm(), outer.size(Axis::Y).mm());
        let scale = ((SIZE.width - 2.0 * SHOWN_MM - 8.0) / width).min((SIZE.height - CAPTION_MM - 4.0) / height);
        let (w, h) = (width * scale, height * scale);
        let left = (SIZE.width - w) / 2.0;
        let foot = CAPTION_MM + 2.0;
        let corner = |right: bool, up: bool, lean: f64| {
            let x = left + if right { w } else { 0.0 } + if up { lean } else { 0.0 };
            Point::new(x, foot + if up { h } else { 0.0 })
        };
        let quad = |lean: f64| {
            let mut path = BezPath::new();
            path.move_to(corner(false, false, lean));
            path.line_to(corner(true, false, lean));
            path.line_to(corner(true, true, lean));
            path.line_to(corner(false, true, lean));
            path.close_path();
            path
        };
        let mut display = Display::new();
        display.stroke(Layer::Notes, LineClass::Hidden, None, quad(0.0));
        display.stroke(Layer::Notes, LineClass::VisibleOutline, None, quad(SHOWN_MM));
        for it in &rack.straps {
            let x = |at: f64| left + (at - outer.min.x.mm()) * scale;
            let y = |at: f64| foot + (at - outer.min.y.mm()) * scale;
            let (a, b) = (it.opening.range(Axis::X), it.opening.range(Axis::Y));
            let box_ = [(a.0, b.0, a.1, b.1), (a.1, b.0, a.0, b.1)];
            for (x0, y0, x1, y1) in box_ {
                let line = Line::new((x(x0.mm()), y(y0.mm())), (x(x1.mm()), y(y1.mm())));
                display.segment(Layer::Notes, LineClass::Centre, None, line.p0, line.p1);
            }
        }
        let tip = corner(false, true, SHOWN_MM) - Vec2::new(1.0, 0.0);
        let tail = tip - Vec2::new(6.0, 0.0);
        display.segment(Layer::Notes, LineClass::Dimension, None, tail, tip);
        display.push(Layer::Notes, None, Mark::Arrow(Arrow { tip, direction_rad: 0.0, length_mm: 2.0 }));
        let lean = (rack.lean_per_newton * PUSH.value * scale).max(1e-6);
        let straps = if rack.straps.is_empty() { "" } else { ", straps dash-dot" };
        self.caption(&mut display, &format!("lean drawn {} times{straps}", enlargement(&self.scene, SHOWN_MM / lean)));
        Some(display)
    }

    fn turn(&self, finding: &Finding) -> Option<Display> {
        let parts = &self.scene.assembly.parts;
        let (index, leaf) = parts.iter().enumerate().find(|(_, part)| finding.about.first() == Some(&part.number))?;
        let mover = self.scene.assembly.movers.iter().find(|mover| mover.parts.contains(&index))?;
        let Motion::Turn { axis, .. } = mover.motion else { return None };
        let across = if axis.axis == Axis::Y { Axis::X } else { Axis::Y };
        let (width, thick) = (leaf.cuboid.size(across).mm(), leaf.cuboid.size(Axis::Z).mm());
        let scale = ((SIZE.width - 14.0) / width.max(1.0)).min(8.0 / thick.max(1.0));
        let (w, t) = (width * scale, thick * scale);
        let pivot = Point::new((SIZE.width - w) / 2.0, SIZE.height - 2.0 - t);
        let angle = (t / w).atan();
        let turned = |at: Point| {
            pivot + (Vec2::from_angle(angle) * (at - pivot).x) + Vec2::from_angle(angle).turn_90() * (at - pivot).y
        };
        let leaf_path = |map: &dyn Fn(Point) -> Point| {
            let mut path = BezPath::new();
            path.move_to(map(pivot));
            for (x, y) in [(w, 0.0), (w, -t), (0.0, -t)] {
                path.line_to(map(pivot + Vec2::new(x, y)));
            }
            path.close_path();
            path
        };
        let mut display = Display::new();
        display.stroke(Layer::Notes, LineClass::VisibleOutline, None, leaf_path(&|at| at));
        display.stroke(Layer::Notes, LineClass::Adjacent, None, leaf_path(&turned));
        let wall = pivot.x + w + 0.6;
        let (up, low) = (Point::new(wall, pivot.y), Point::new(wall, pivot.y - t - 4.0));
        display.segment(Layer::Notes, LineClass::VisibleOutline, None, up, low);
        display.fill(Layer::Notes, Tone::Ink, None, Circle::new(pivot, 0.5).to_path(0.01));
        self.caption(&mut display, "the rear corner swings past the gap");
        Some(display)
    }

    fn caption(&self, display: &mut Display, words: &str) {
        let at = Point::new(SIZE.width / 2.0, 1.0);
        let text = Text::new(at, HEIGHT_LABEL_MM, self.scene.say(words)).anchored(Anchor::Middle);
        display.text(Layer::Notes, None, text);
    }
}

/// Where an edge of the polygon lies along an axis, mm.
fn edge_place(edge: &Edge, along: Axis) -> f64 {
    if along == Axis::Z { edge.point.1 } else { edge.point.0 }
}

/// A small triangle with its tip at a point, spreading in a direction.
fn support(tip: Point, down: Vec2) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(tip + down * 2.4 + down.turn_90() * 1.3);
    path.line_to(tip + down * 2.4 - down.turn_90() * 1.3);
    path.close_path();
    path
}

fn down_arrow(display: &mut Display, tip: Point, length: f64) {
    display.segment(Layer::Notes, LineClass::Dimension, None, tip + Vec2::new(0.0, length), tip);
    let direction_rad = -std::f64::consts::FRAC_PI_2;
    display.push(Layer::Notes, None, Mark::Arrow(Arrow { tip, direction_rad, length_mm: 1.6 }));
}

/// How many times larger something is drawn, in round numbers.
fn enlargement(scene: &Scene<'_>, times: f64) -> String {
    match times {
        t if t >= 100.0 => format!("{:.0}", (t / 50.0).round() * 50.0),
        t if t >= 10.0 => format!("{:.0}", (t / 5.0).round() * 5.0),
        t if t >= 1.5 => format!("{t:.0}"),
        t => scene.decimal(t, 1),
    }
}
