//! Labels that find no room where they belong: led out with a leader, or marked there and said in a key beside the view.

use kurbo::{Point, Rect};

use crate::display::{Display, Layer};
use crate::font::{self, HEIGHT_LABEL_MM, HEIGHT_NOTE_MM};
use crate::label::{Label, Unplaced, anywhere, on_paper};
use crate::place::{Occupied, overlap};
use crate::pointer::{Pointer, place_pointer};
use crate::text::Text;

/// More labels than this are not led out: nobody could follow so many leaders.
const MOST: usize = 24;
/// Clear space round a key, and how finely a place is sought for it, in millimetres.
const CLEAR_MM: f64 = 1.5;
const STEP_MM: f64 = 2.0;

/// What became of labels without room.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct LedOut {
    /// How many were led out or are in the key.
    pub(crate) count: usize,
    /// Those that are said nowhere.
    pub(crate) omitted: Vec<String>,
}

/// One line of a key.
struct Entry {
    mark: String,
    text: String,
}

/// Leads labels out within the outline of the view, then within all of it, or says them in a key that lies within the
/// `bounds` of the view but beside its `outline`.
pub(crate) fn lead_out(
    unplaced: Vec<Unplaced>,
    scale: f64,
    (outline, bounds): (Rect, Rect),
    occupied: &mut Occupied,
    display: &mut Display,
) -> LedOut {
    let mut led = LedOut::default();
    if unplaced.len() > MOST {
        led.omitted = unplaced.iter().map(|it| it.label.lines.join(" ")).collect();
        return led;
    }
    let mut keyed: Vec<Unplaced> = Vec::new();
    for it in unplaced {
        let mut lead = |text: String| {
            let pointer = Pointer { at: it.spots.clone(), text, tag: it.label.tag.clone(), stays: false };
            [outline, bounds].into_iter().any(|room| place_pointer(&pointer, scale, room, occupied, display))
        };
        let (whole, first) = (it.label.lines.join("  "), it.label.lines.first().cloned().unwrap_or_default());
        if it.mark.is_some() {
            keyed.push(it);
        } else if lead(whole) {
            led.count += 1;
        } else if it.label.lines.len() > 1 && lead(first.clone()) {
            let rest = Label { lines: it.label.lines.iter().skip(1).cloned().collect(), ..it.label };
            keyed.push(Unplaced { label: rest, spots: it.spots, mark: Some(first) });
        } else {
            keyed.push(it);
        }
    }
    let (taken, drawn) = (occupied.amount(), display.items.len());
    let (entries, omitted) = marked(&keyed, scale, bounds, occupied, display);
    led.omitted.extend(omitted);
    let found = [HEIGHT_NOTE_MM, HEIGHT_LABEL_MM]
        .into_iter()
        .find_map(|height| Some((height, place_of_key(&entries, height, (outline, bounds), occupied)?)));
    match found {
        Some((height, at)) => {
            led.count += entries.len();
            draw_key(&entries, height, at, occupied, display);
        }
        None => {
            // Marks without a key say nothing.
            occupied.back_to(taken);
            display.items.truncate(drawn);
            led.omitted.extend(entries.into_iter().map(|it| it.text));
        }
    }
    led
}

/// The lines of the key, their marks put into the view; and what there is no room for even so.
fn marked(
    keyed: &[Unplaced],
    scale: f64,
    bounds: Rect,
    occupied: &mut Occupied,
    display: &mut Display,
) -> (Vec<Entry>, Vec<String>) {
    let (mut entries, mut omitted) = (Vec::new(), Vec::new());
    for it in keyed {
        let text = it.label.lines.join(", ");
        if let Some(mark) = &it.mark {
            entries.push(Entry { mark: mark.clone(), text });
            continue;
        }
        let mark = format!("({})", entries.len() + 1);
        let label = Label { lines: vec![mark.clone()], ..it.label.clone() };
        let placed = if let Some(texts) = anywhere(&label, on_paper(label.within, scale), occupied) {
            for text in texts {
                occupied.add_box(text.bounds());
                display.text(Layer::Notes, label.tag.clone(), text);
            }
            true
        } else {
            let pointer = Pointer { at: it.spots.clone(), text: mark.clone(), tag: label.tag.clone(), stays: false };
            place_pointer(&pointer, scale, bounds, occupied, display)
        };
        if placed {
            entries.push(Entry { mark, text });
        } else {
            omitted.push(it.label.lines.join(" "));
        }
    }
    (entries, omitted)
}

/// The widths of the marks and of the texts of a key.
fn columns(entries: &[Entry], height: f64) -> (f64, f64) {
    let widest =
        |of: fn(&Entry) -> &String| entries.iter().map(|it| font::width_mm(of(it), height)).fold(0.0, f64::max);
    (widest(|it| &it.mark) + height, widest(|it| &it.text))
}

/// The lower left corner of a free place for a key: as far down and to the left as there is one.
fn place_of_key(entries: &[Entry], height: f64, (outline, bounds): (Rect, Rect), occupied: &Occupied) -> Option<Point> {
    let (marks, texts) = columns(entries, height);
    let size = (marks + texts, height * font::LINE_PITCH * entries.len() as f64);
    let (wide, high) = (bounds.width() - size.0, bounds.height() - size.1);
    if entries.is_empty() || wide < 0.0 || high < 0.0 {
        return entries.is_empty().then_some(Point::ZERO);
    }
    let beside = outline.inflate(CLEAR_MM, CLEAR_MM);
    let steps = |slack: f64| (0..=(slack / STEP_MM) as u32).map(|step| f64::from(step) * STEP_MM);
    let places = steps(high).flat_map(|up| steps(wide).map(move |right| Point::new(bounds.x0 + right, bounds.y0 + up)));
    places.into_iter().find(|at| {
        let place = Rect::from_origin_size(*at, size);
        !overlap(place, beside) && occupied.is_free(place, CLEAR_MM)
    })
}

fn draw_key(entries: &[Entry], height: f64, at: Point, occupied: &mut Occupied, display: &mut Display) {
    let pitch = height * font::LINE_PITCH;
    let (marks, _) = columns(entries, height);
    for (row, entry) in entries.iter().rev().enumerate() {
        let base = at.y + pitch * (row as f64 + 0.25);
        for (x, words) in [(at.x, &entry.mark), (at.x + marks, &entry.text)] {
            let text = Text::new(Point::new(x, base), height, words.clone());
            occupied.add_box(text.bounds());
            display.text(Layer::Notes, None, text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dimension::DimensionStyle;
    use crate::line::LineClass;
    use crate::place::collisions;
    use crate::view::{Axes, View};

    /// A row of narrow fronts, the walls far beyond: 10 paper millimetres each at a tenth.
    fn view(width: f64, name: &str, beyond: f64) -> View {
        let mut view = View::new("fronts", "Fronts", Axes::FRONT);
        for index in 0..3 {
            let x = f64::from(index) * width;
            let rect = Rect::new(x, 0.0, x + width, 120.0);
            view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, None, rect);
            let lines = vec![format!("FR-{index}"), format!("{name} {index}")];
            view.labels.push(Label { within: rect, lines, tag: None });
        }
        let site = Rect::new(-beyond, -beyond, 3.0 * width + beyond, 120.0 + beyond);
        view.geometry.rectangle(Layer::Site, LineClass::Adjacent, None, site);
        view
    }

    /// What is said, how much of it beside its place, and how much nowhere.
    #[track_caller]
    fn check(width: f64, name: &str, beyond: f64, expected: (usize, usize)) {
        let placed = view(width, name, beyond).lay_out(0.1, &DimensionStyle::default());
        assert_eq!((placed.led_out, placed.omitted.len()), expected, "{:?}", placed.omitted);
        assert_eq!(collisions(&placed.display), []);
        let said: Vec<&str> = placed.display.texts().map(|it| it.content.as_str()).collect();
        let all = said.join(" ");
        for index in 0..3 {
            let missing = placed.omitted.iter().any(|it| it.contains(&index.to_string()));
            assert!(missing || all.contains(&format!("FR-{index}")), "{said:?}");
            let words = format!("{name} {index}");
            assert!(missing || words.split(' ').all(|word| all.contains(word)), "{said:?}");
        }
    }

    #[test]
    fn labels_are_broken_led_out_or_said_in_a_key_before_they_are_lost() {
        check(600.0, "door", 0.0, (0, 0));
        // Broken into short lines.
        check(160.0, "drawer for pens", 0.0, (0, 0));
        // Too narrow for anything: led out, to where there is room.
        check(30.0, "door of the cupboard", 400.0, (3, 0));
        // The number has room and the name has not: in the key.
        check(95.0, "schubladenfrontblende", 400.0, (3, 0));
        // No room at all.
        check(20.0, "door of the cupboard", 0.0, (0, 3));
    }
}
