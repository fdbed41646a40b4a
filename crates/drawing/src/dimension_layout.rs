//! Placing dimension chains round a view: levels, arrows, values, and values that are moved out with a leader.
//!
//! Each side works in its own frame: u along the chain, v outwards from the outline, both in paper millimetres.

use kurbo::{Circle, Point, Rect, Shape};

use crate::dimension::{Chain, DimensionStyle, Side, Span};
use crate::display::{Arrow, Display, Layer, Mark, Tone};
use crate::line::LineClass;
use crate::place::Occupied;
use crate::tag::Tag;
use crate::text::{Anchor, Text};

/// Clear space round a value, in millimetres.
const CLEAR_MM: f64 = 0.6;
/// Radius of the dot that stands for two arrows where there is no room for them, in millimetres.
const DOT_RADIUS_MM: f64 = 0.5;

/// Dimension chains laid out round an outline, in paper millimetres.
///
/// `outline` is the box of the view, `keep_clear` the box that the first dimension lines are measured from; it holds the
/// outline and whatever else stands next to it. `scale` is the paper millimetres for a model millimetre; the origin of
/// the paper is the origin of the model. Everything drawn is also added to `occupied`, whose texts are kept clear of.
#[must_use]
pub fn lay_out(
    chains: &[Chain],
    outline: Rect,
    keep_clear: Rect,
    scale: f64,
    style: &DimensionStyle,
    occupied: &mut Occupied,
) -> Display {
    let mut display = Display::new();
    for side in Side::ALL {
        let mut of_side: Vec<&Chain> =
            chains.iter().filter(|chain| chain.side == side && !chain.spans.is_empty()).collect();
        of_side.sort_by_key(|chain| (chain.rank, chain.fineness()));
        let levels = assign_levels(&of_side, scale);
        let frame = Frame { side, outline: keep_clear };
        let mut layout =
            SideLayout { frame, outline, scale, style, occupied, display: &mut display, later: Vec::new() };
        layout.run(&levels);
    }
    display
}

/// The frame of one side.
#[derive(Clone, Copy)]
struct Frame {
    side: Side,
    outline: Rect,
}

impl Frame {
    fn point(self, u: f64, v: f64) -> Point {
        match self.side {
            Side::Below => Point::new(u, self.outline.y0 - v),
            Side::Above => Point::new(u, self.outline.y1 + v),
            Side::Left => Point::new(self.outline.x0 - v, u),
            Side::Right => Point::new(self.outline.x1 + v, u),
        }
    }

    /// The v of a position across the chain, in paper millimetres.
    fn across(self, position: f64) -> f64 {
        match self.side {
            Side::Below => self.outline.y0 - position,
            Side::Above => position - self.outline.y1,
            Side::Left => self.outline.x0 - position,
            Side::Right => position - self.outline.x1,
        }
    }

    /// The direction of rising u, in radians.
    fn along_rad(self) -> f64 {
        if self.side.is_horizontal() { 0.0 } else { std::f64::consts::FRAC_PI_2 }
    }
}

/// Chains that may share a line: each stands outside every finer chain beside which it runs.
fn assign_levels<'a>(sorted: &[&'a Chain], scale: f64) -> Vec<Vec<&'a Chain>> {
    // Room for the values that end spans put beside their chain.
    const BESIDE_MM: f64 = 14.0;
    let mut placed: Vec<(usize, f64, f64)> = Vec::new();
    let mut levels: Vec<Vec<&Chain>> = Vec::new();
    for chain in sorted {
        let Some((from, to)) = chain.reach() else { continue };
        let (from, to) = (from.mm() * scale - BESIDE_MM, to.mm() * scale + BESIDE_MM);
        let level = placed
            .iter()
            .filter(|(_, start, end)| *start < to && from < *end)
            .map(|(level, ..)| level + 1)
            .max()
            .unwrap_or(0);
        placed.push((level, from, to));
        while levels.len() <= level {
            levels.push(Vec::new());
        }
        if let Some(row) = levels.get_mut(level) {
            row.push(chain);
        }
    }
    levels
}

struct SideLayout<'a> {
    frame: Frame,
    outline: Rect,
    scale: f64,
    style: &'a DimensionStyle,
    occupied: &'a mut Occupied,
    display: &'a mut Display,
    /// Where extension lines of outer levels will run, along the chain.
    later: Vec<f64>,
}

impl SideLayout<'_> {
    fn run(&mut self, levels: &[Vec<&Chain>]) {
        let style = *self.style;
        let mut line_v = style.first_mm;
        for (index, level) in levels.iter().enumerate() {
            // Extension lines of outer levels are not drawn yet, but no value of this level may stand in their way.
            self.later = levels
                .iter()
                .skip(index + 1)
                .flatten()
                .flat_map(|chain| chain.positions())
                .map(|position| position.mm() * self.scale)
                .collect();
            let before = self.display.items.len();
            for chain in level {
                self.extension_lines(chain, line_v);
            }
            let mut moved = Vec::new();
            for chain in level {
                moved.extend(self.lines_and_values(chain, line_v));
            }
            self.move_all_out(&moved, line_v);
            let drawn = Display { items: self.display.items.get(before..).unwrap_or_default().to_vec() };
            // Lines and values were taken as they were drawn; arrows and dots only now, as a value may touch its own.
            for item in drawn.items.iter().filter(|item| matches!(item.mark, Mark::Arrow(_) | Mark::Fill { .. })) {
                self.occupied.add_box(item.bounds());
            }
            let reach = drawn.bounds().map_or(line_v, |bounds| self.outermost(bounds));
            let clearance =
                if self.frame.side.text_is_outward() { 1.5 } else { style.text_gap_mm + style.height_mm + 1.2 };
            line_v = (line_v + style.pitch_mm).max(reach + clearance);
        }
    }

    fn outermost(&self, bounds: Rect) -> f64 {
        match self.frame.side {
            Side::Below => self.frame.across(bounds.y0),
            Side::Above => self.frame.across(bounds.y1),
            Side::Left => self.frame.across(bounds.x0),
            Side::Right => self.frame.across(bounds.x1),
        }
    }

    fn line(&mut self, tag: Option<&Tag>, from: (f64, f64), to: (f64, f64)) {
        let (from, to) = (self.frame.point(from.0, from.1), self.frame.point(to.0, to.1));
        self.occupied.add_line(from, to);
        self.display.segment(Layer::Dimensions, LineClass::Dimension, tag.cloned(), from, to);
    }

    fn extension_lines(&mut self, chain: &Chain, line_v: f64) {
        let edge = match self.frame.side {
            Side::Below => self.outline.y0,
            Side::Above => self.outline.y1,
            Side::Left => self.outline.x0,
            Side::Right => self.outline.x1,
        };
        let start = self.frame.across(chain.feature.map_or(edge, |feature| feature.mm() * self.scale));
        for position in chain.positions() {
            let u = position.mm() * self.scale;
            self.line(None, (u, start + self.style.start_gap_mm), (u, line_v + self.style.overshoot_mm));
        }
    }

    /// Draws the dimension lines and arrows and the values that fit; hands back those that do not, with the middle.
    fn lines_and_values<'c>(&mut self, chain: &'c Chain, line_v: f64) -> Vec<(f64, &'c Span)> {
        let mut spans: Vec<&Span> = chain.spans.iter().collect();
        spans.sort_by_key(|span| span.from);
        let (scale, arrows_inside_mm) = (self.scale, self.style.arrows_inside_mm);
        let ends = |span: &Span| (span.from.mm() * scale, span.to.mm() * scale);
        let is_wide = |span: &Span| {
            let (from, to) = ends(span);
            to - from >= arrows_inside_mm
        };
        let joints: Vec<Joint> = chain
            .positions()
            .into_iter()
            .map(|position| {
                let before = spans.iter().find(|span| span.to == position);
                let after = spans.iter().find(|span| span.from == position);
                Joint {
                    u: position.mm() * scale,
                    before: before.map(|span| is_wide(span)),
                    after: after.map(|span| is_wide(span)),
                    tag: before.or(after).and_then(|span| span.tag.clone()),
                }
            })
            .collect();
        for span in &spans {
            let (from, to) = ends(span);
            self.line(span.tag.as_ref(), (from, line_v), (to, line_v));
        }
        for joint in &joints {
            self.terminators(joint, line_v);
        }
        let mut moved = Vec::new();
        for (index, span) in spans.iter().enumerate() {
            let (from, to) = ends(span);
            if self.value_between(span, from, to, line_v) {
                continue;
            }
            let before = index.checked_sub(1).and_then(|i| spans.get(i)).map(|other| ends(other).1);
            let after = spans.get(index + 1).map(|other| ends(other).0);
            let is_first = before.is_none_or(|end| end < from);
            let is_last = after.is_none_or(|start| start > to);
            let small = !is_wide(span);
            if (small && is_last && self.value_beside(span, to, 1.0, after, line_v))
                || (small && is_first && self.value_beside(span, from, -1.0, before, line_v))
            {
                continue;
            }
            moved.push(((from + to) / 2.0, *span));
        }
        moved
    }

    fn terminators(&mut self, joint: &Joint, line_v: f64) {
        let along = self.frame.along_rad();
        let back = along + std::f64::consts::PI;
        let length = self.style.height_mm;
        // An arrow that lies before the joint points along the chain, one that lies behind points back.
        match (joint.before, joint.after) {
            (Some(true), Some(true)) => {
                self.arrow(joint, line_v, along);
                self.arrow(joint, line_v, back);
            }
            (Some(true), _) => self.arrow(joint, line_v, along),
            (_, Some(true)) => self.arrow(joint, line_v, back),
            (Some(false), Some(false)) => {
                let dot = Circle::new(self.frame.point(joint.u, line_v), DOT_RADIUS_MM).to_path(0.01);
                self.display.fill(Layer::Dimensions, Tone::Ink, joint.tag.clone(), dot);
            }
            (Some(false), None) => {
                self.line(joint.tag.as_ref(), (joint.u, line_v), (joint.u + length + 1.0, line_v));
                self.arrow(joint, line_v, back);
            }
            (None, Some(false)) => {
                self.line(joint.tag.as_ref(), (joint.u, line_v), (joint.u - length - 1.0, line_v));
                self.arrow(joint, line_v, along);
            }
            (None, None) => {}
        }
    }

    fn arrow(&mut self, joint: &Joint, line_v: f64, direction_rad: f64) {
        let arrow = Arrow { tip: self.frame.point(joint.u, line_v), direction_rad, length_mm: self.style.height_mm };
        self.display.push(Layer::Dimensions, joint.tag.clone(), Mark::Arrow(arrow));
    }

    /// A value above a line at v, anchored at u.
    fn value(&self, span: &Span, u: f64, v: f64, anchor: Anchor) -> Text {
        let gap = self.style.text_gap_mm;
        let base = if self.frame.side.text_is_outward() { v + gap } else { v - gap };
        Text::new(self.frame.point(u, base), self.style.height_mm, span.text.clone())
            .anchored(anchor)
            .rotated(self.frame.along_rad())
    }

    fn take(&mut self, span: &Span, text: Text) {
        self.occupied.add_box(text.bounds());
        self.display.text(Layer::Dimensions, span.tag.clone(), text);
    }

    /// Puts the value between its extension lines, in the middle or as near to it as other lines allow.
    fn value_between(&mut self, span: &Span, from: f64, to: f64, line_v: f64) -> bool {
        let middle = (from + to) / 2.0;
        let probe = self.value(span, middle, line_v, Anchor::Middle);
        let slack = (to - from - probe.width_mm()) / 2.0 - CLEAR_MM;
        if slack < 0.0 {
            return false;
        }
        let mut shift = 0.0;
        while shift <= slack {
            for signed in [shift, -shift] {
                let text = self.value(span, middle + signed, line_v, Anchor::Middle);
                if self.is_free(&text, CLEAR_MM * 0.9) {
                    self.take(span, text);
                    return true;
                }
            }
            shift += 0.5;
        }
        false
    }

    /// Puts the value of an end span beside the chain, over the lengthened dimension line, but not over what follows there
    /// on the same line, whose own value may have to be led out.
    fn value_beside(&mut self, span: &Span, end: f64, outwards: f64, next: Option<f64>, line_v: f64) -> bool {
        let start = end + outwards * (self.style.height_mm + 1.0);
        let anchor = if outwards > 0.0 { Anchor::Start } else { Anchor::End };
        let text = self.value(span, start, line_v, anchor);
        let stop = start + outwards * text.width_mm();
        if next.is_some_and(|next| (next - stop) * outwards < self.style.height_mm + 1.0 + CLEAR_MM) {
            return false;
        }
        let line = (self.frame.point(start, line_v), self.frame.point(stop, line_v));
        if !self.is_free(&text, 2.0 * CLEAR_MM) || !self.occupied.line_is_free(line.0, line.1) {
            return false;
        }
        self.line(span.tag.as_ref(), (start, line_v), (stop, line_v));
        self.take(span, text);
        true
    }

    /// Whether a value keeps clear of everything; across its line the gap of the line is clear space enough.
    fn is_free(&self, text: &Text, along: f64) -> bool {
        const ACROSS_MM: f64 = 0.2;
        let bounds = text.bounds();
        let wide = if self.frame.side.is_horizontal() {
            bounds.inflate(along, ACROSS_MM)
        } else {
            bounds.inflate(ACROSS_MM, along)
        };
        let (low, high) = if self.frame.side.is_horizontal() { (wide.x0, wide.x1) } else { (wide.y0, wide.y1) };
        let in_the_way = |u: &f64| low < *u && *u < high && self.is_outside(&wide);
        !self.later.iter().any(in_the_way) && self.occupied.is_free(wide, 0.0)
    }

    /// Whether a box lies beyond the line from which extension lines start.
    fn is_outside(&self, rect: &Rect) -> bool {
        self.outermost(*rect) > 0.0
    }

    /// Moves the values out that found no room in their chains: one after the other along the chain, and where one of them
    /// finds no place then, from the other end, or from the middle to both sides. What leaves fewest without one stands.
    fn move_all_out(&mut self, moved: &[(f64, &Span)], line_v: f64) {
        let count = moved.len();
        let middle_first = |i: usize| if i.is_multiple_of(2) { count / 2 + i / 2 } else { count / 2 - i.div_ceil(2) };
        // Nearly always the first order will do.
        let order = |which: usize| -> Vec<usize> {
            match which {
                0 => (0..count).collect(),
                1 => (0..count).rev().collect(),
                _ => (0..count).map(middle_first).filter(|i| *i < count).collect(),
            }
        };
        let drawn = self.display.items.len();
        let taken = self.occupied.amount();
        let mut best: Option<(usize, usize)> = None;
        for which in 0..3 {
            let without = self.move_out_in(&order(which), moved, line_v);
            if without == 0 {
                return;
            }
            self.display.items.truncate(drawn);
            self.occupied.back_to(taken);
            if best.is_none_or(|(least, _)| without < least) {
                best = Some((without, which));
            }
        }
        // If nothing is free within 300 mm the sheet is too small anyway; the collision check reports what is kept.
        self.move_out_in(&order(best.map_or(0, |it| it.1)), moved, line_v);
    }

    /// Moves the values out in this order; how many found no free place.
    fn move_out_in(&mut self, order: &[usize], moved: &[(f64, &Span)], line_v: f64) -> usize {
        let mut lanes: Vec<Lane> = moved.iter().map(|(mid, _)| Lane { u: *mid, end: None }).collect();
        let spans = order.iter().filter_map(|lane| Some((*lane, moved.get(*lane)?.1)));
        spans.filter(|(lane, span)| !self.move_out(*lane, span, line_v, &mut lanes)).count()
    }

    /// Moves a value out to the first free row beyond the line, with a leader from the middle of its span; false where no
    /// row is free.
    ///
    /// Leaders of all moved values of the level run in their own lanes, which no other value may cover; so a value can
    /// always be put beside its lane in a row further out, and the search ends.
    fn move_out(&mut self, lane: usize, span: &Span, line_v: f64, lanes: &mut [Lane]) -> bool {
        if !self.frame.side.is_horizontal() {
            return self.move_out_level(lane, span, line_v, lanes);
        }
        let Some(mid) = lanes.get(lane).map(|lane| lane.u) else { return false };
        let style = *self.style;
        let outward = self.frame.side.text_is_outward();
        let row_pitch = style.height_mm + 2.2;
        let first_row = if outward {
            line_v + style.text_gap_mm + style.height_mm + 1.2
        } else {
            line_v + style.overshoot_mm + CLEAR_MM + style.height_mm + style.text_gap_mm + 0.5
        };
        let middle: &[Anchor] = if outward { &[Anchor::Middle] } else { &[] };
        let mut choice = None;
        let mut found = false;
        'rows: for row in 0..60_u32 {
            let v = first_row + f64::from(row) * row_pitch;
            let steps = if row < 6 { 6_u32 } else { 200 };
            let beside = (0..steps).flat_map(|step| {
                let offset = 0.4 + f64::from(step) * 2.0;
                [(offset, Anchor::Start), (-offset, Anchor::End)]
            });
            for (offset, anchor) in middle.iter().map(|anchor| (0.0, *anchor)).chain(beside) {
                let text = self.value(span, mid + offset, v, anchor);
                let (low, high) = self.reach_along(&text);
                let near_v = v - style.height_mm - style.text_gap_mm - CLEAR_MM;
                let in_lane = lanes.iter().enumerate().any(|(index, other)| {
                    index != lane
                        && other.u > low - CLEAR_MM
                        && other.u < high + CLEAR_MM
                        && other.end.is_none_or(|end| end > near_v)
                });
                let leader = (self.frame.point(mid, line_v), self.frame.point(mid, v));
                let free =
                    !in_lane && self.is_free(&text, CLEAR_MM * 0.9) && self.occupied.line_is_free(leader.0, leader.1);
                choice = Some((v, text));
                if free {
                    found = true;
                    break 'rows;
                }
            }
        }
        // Beyond sixty rows the sheet is too small anyway; the value is kept, and the collision check reports it.
        if let Some((v, text)) = choice {
            self.leader_and_value(mid, span, line_v, v, text);
            if let Some(lane) = lanes.get_mut(lane) {
                lane.end = Some(v);
            }
        }
        found
    }

    /// Moves a value of an upright chain out: on a level reference line, read from below, which takes the least room
    /// along the chain. A leader runs from the middle of the span, bent where the value cannot stand beside it; leaders
    /// keep the order of their spans, so they do not cross.
    fn move_out_level(&mut self, lane: usize, span: &Span, line_v: f64, lanes: &mut [Lane]) -> bool {
        const STEP_MM: f64 = 0.75;
        let Some(mid) = lanes.get(lane).map(|lane| lane.u) else { return false };
        let style = *self.style;
        let anchor = if self.frame.side == Side::Left { Anchor::End } else { Anchor::Start };
        let first_v = line_v + style.overshoot_mm + CLEAR_MM;
        let passed = |knee: f64| {
            lanes.iter().any(|other| {
                other.end.is_some_and(|placed| (other.u < mid && placed >= knee) || (other.u > mid && placed <= knee))
            })
        };
        let mut choice = None;
        let mut found = false;
        'search: for step in 0..200_u32 {
            let v = first_v + f64::from(step) * 1.5;
            // The further out, the further aside.
            let most = ((6.0 + v - first_v) / STEP_MM) as i32;
            let offsets = std::iter::once(0).chain((1..=most).flat_map(|aside| [aside, -aside]));
            for offset in offsets {
                let u = mid + f64::from(offset) * STEP_MM;
                if passed(u) {
                    continue;
                }
                let at = self.frame.point(u, v) + kurbo::Vec2::new(0.0, style.text_gap_mm);
                let text = Text::new(at, style.height_mm, span.text.clone()).anchored(anchor);
                let bounds = text.bounds();
                let wide = Rect::new(bounds.x0, self.frame.point(u, v).y, bounds.x1, bounds.y1).inflate(CLEAR_MM, 0.3);
                let is_free = !self.later.iter().any(|later| wide.y0 < *later && *later < wide.y1)
                    && self.occupied.is_free(wide, 0.0);
                let knees = [line_v + style.overshoot_mm, v - 0.5];
                let start = self.frame.point(mid, line_v);
                let knee = knees.into_iter().find(|knee| {
                    let bend = if offset == 0 { start } else { self.frame.point(u, *knee) };
                    self.occupied.line_is_free(start, bend) && self.occupied.line_is_free(bend, self.frame.point(u, v))
                });
                choice = Some((u, v, knee.unwrap_or(v), text));
                if is_free && knee.is_some() {
                    found = true;
                    break 'search;
                }
            }
        }
        if let Some((u, v, knee, text)) = choice {
            let far = v + text.width_mm();
            if u == mid {
                self.line(span.tag.as_ref(), (mid, line_v), (mid, far));
            } else {
                self.line(span.tag.as_ref(), (mid, line_v), (u, knee));
                self.line(span.tag.as_ref(), (u, knee), (u, far));
            }
            self.take(span, text);
            if let Some(lane) = lanes.get_mut(lane) {
                lane.end = Some(u);
            }
        }
        found
    }

    /// The reach of a value along its chain.
    fn reach_along(&self, text: &Text) -> (f64, f64) {
        let bounds = text.bounds();
        if self.frame.side.is_horizontal() { (bounds.x0, bounds.x1) } else { (bounds.y0, bounds.y1) }
    }

    fn leader_and_value(&mut self, mid: f64, span: &Span, line_v: f64, v: f64, text: Text) {
        self.line(span.tag.as_ref(), (mid, line_v), (mid, v));
        let (low, high) = self.reach_along(&text);
        self.line(span.tag.as_ref(), (low.min(mid), v), (high.max(mid), v));
        self.take(span, text);
    }
}

/// One end of spans on a chain: whether a span ends here or begins here, and whether it is wide enough for arrows.
struct Joint {
    u: f64,
    before: Option<bool>,
    after: Option<bool>,
    tag: Option<Tag>,
}

/// The lane of one leader.
struct Lane {
    /// Where it starts, along the chain.
    u: f64,
    /// Once it is drawn: how far out it runs (level chains), or where its value stands along the chain (upright chains).
    end: Option<f64>,
}
