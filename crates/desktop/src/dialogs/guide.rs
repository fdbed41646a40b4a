//! The guided start: measure first, say what is to be housed, and get a first carcass that holds it.

use casewright_core::design::{Design, Obstacle, ObstacleKind, ThingKind};
use casewright_core::expr::{Dim, Scope};
use casewright_core::length::Length;
use casewright_core::unit::Unit;
use egui::{Grid, Modal, RichText, ScrollArea, TextEdit, Ui};

use crate::command::tree::fresh_name;
use crate::labels;
use crate::panels::choice;
use crate::start::{self, Housed, Plan};
use crate::theme::Palette;
use crate::words::Words;

/// A thing that is offered: sizes that are openly standardised or common practice.
struct Offered {
    /// The key of the words that offer it.
    key: &'static str,
    /// The key of the name that it gets.
    name: &'static str,
    kind: ThingKind,
    size_mm: [i64; 3],
    air_mm: [i64; 3],
    mass_kg: f64,
    load_kg: f64,
}

/// Base sizes of stacking containers, 600 x 400 and 400 x 300, as in EN 13199-1; their heights and the sizes of
/// appliances and files are common practice, to be measured before anything is cut.
const OFFERED: [Offered; 5] = [
    Offered {
        key: "guide-container-large",
        name: "guide-name-container",
        kind: ThingKind::Container,
        size_mm: [400, 320, 600],
        air_mm: [5, 20, 0],
        mass_kg: 2.5,
        load_kg: 20.0,
    },
    Offered {
        key: "guide-container-small",
        name: "guide-name-small-container",
        kind: ThingKind::Container,
        size_mm: [300, 220, 400],
        air_mm: [5, 20, 0],
        mass_kg: 1.2,
        load_kg: 10.0,
    },
    Offered {
        key: "guide-washing",
        name: "guide-name-machine",
        kind: ThingKind::Appliance,
        size_mm: [600, 850, 600],
        air_mm: [10, 10, 50],
        mass_kg: 70.0,
        load_kg: 10.0,
    },
    Offered {
        key: "guide-files",
        name: "guide-name-files",
        kind: ThingKind::Other,
        size_mm: [400, 320, 290],
        air_mm: [0, 30, 0],
        mass_kg: 1.0,
        load_kg: 14.0,
    },
    Offered {
        key: "guide-basket",
        name: "guide-name-basket",
        kind: ThingKind::Bin,
        size_mm: [380, 560, 380],
        air_mm: [10, 20, 0],
        mass_kg: 1.5,
        load_kg: 8.0,
    },
];

/// The most of one thing.
const MOST: u32 = 20;

/// The guide while it is open.
#[derive(Clone, Debug)]
pub struct Guide {
    in_niche: bool,
    room: [String; 3],
    counts: [u32; OFFERED.len()],
    own_name: String,
    own_size: [String; 3],
    own_mass: String,
    /// Things with sizes of one's own, and how many of each.
    own: Vec<(Housed, u32)>,
    way_kind: usize,
    way_corner: [String; 3],
    way_size: [String; 3],
    in_the_way: Vec<Obstacle>,
}

/// What came of it.
#[derive(Clone, Debug)]
pub enum Chosen {
    /// This first carcass.
    Design(Box<Design>),
    /// An empty page.
    Empty,
    /// A file is to be opened instead.
    Open,
}

impl Default for Guide {
    fn default() -> Self {
        let texts = |sizes: [&str; 3]| sizes.map(str::to_owned);
        Self {
            in_niche: true,
            room: texts(["1500", "1900", "650"]),
            counts: [0; OFFERED.len()],
            own_name: String::new(),
            own_size: texts(["", "", ""]),
            own_mass: String::new(),
            own: Vec::new(),
            way_kind: 0,
            way_corner: texts(["0", "0", "0"]),
            way_size: texts(["", "", ""]),
            in_the_way: Vec::new(),
        }
    }
}

fn read(text: &str) -> Option<Length> {
    let length = Scope::empty(Unit::default()).length(text).ok()?;
    (length > Length::ZERO && length <= Length::LIMIT).then_some(length)
}

/// Where something begins; 0 is a place too.
fn read_place(text: &str) -> Option<Length> {
    let length = Scope::empty(Unit::default()).length(text).ok()?;
    (length.abs() <= Length::LIMIT).then_some(length)
}

/// A mass in kg; 1 kg where nothing is written.
fn read_mass(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    if text.is_empty() {
        return Some(1.0);
    }
    text.parse().ok().filter(|mass: &f64| mass.is_finite() && (0.0..=10_000.0).contains(mass))
}

fn read_all(texts: &[String; 3]) -> Option<[Length; 3]> {
    let [a, b, c] = texts;
    Some([read(a)?, read(b)?, read(c)?])
}

impl Guide {
    fn plan(&self, words: &Words) -> Option<Plan> {
        let mut things = Vec::new();
        for (offered, count) in OFFERED.iter().zip(self.counts) {
            let housed = Housed {
                name: words.say(offered.name),
                kind: offered.kind,
                size: offered.size_mm.map(Length::from_mm),
                air: offered.air_mm.map(Length::from_mm),
                mass_kg: offered.mass_kg,
                load_kg: offered.load_kg,
            };
            things.extend(std::iter::repeat_n(housed, count as usize));
        }
        for (housed, count) in &self.own {
            things.extend(std::iter::repeat_n(housed.clone(), *count as usize));
        }
        // What is written down whole counts, even where nobody has pressed the button beside it.
        things.extend(self.own_entry());
        let obstacles = self.in_the_way.iter().cloned().chain(self.way_entry(words)).collect();
        Some(Plan { in_niche: self.in_niche, room: read_all(&self.room)?, things, obstacles })
    }

    /// The thing whose sizes are being written, once they are all there.
    fn own_entry(&self) -> Option<Housed> {
        let name = self.own_name.trim();
        let size = read_all(&self.own_size).filter(|_| !name.is_empty())?;
        let mass_kg = read_mass(&self.own_mass)?;
        let (kind, air) = (ThingKind::Other, [Length::ZERO; 3]);
        Some(Housed { name: name.to_owned(), kind, size, air, mass_kg, load_kg: 0.0 })
    }

    /// The obstacle whose sizes are being written, once they are all there.
    fn way_entry(&self, words: &Words) -> Option<Obstacle> {
        read_all(&self.way_size)?;
        self.way_corner.iter().map(|text| read_place(text)).collect::<Option<Vec<_>>>()?;
        let kind = ObstacleKind::ALL.get(self.way_kind).copied().unwrap_or_default();
        let taken: Vec<String> = self.in_the_way.iter().map(|obstacle| obstacle.name.clone()).collect();
        let name = fresh_name(&labels::obstacle_kind(words, kind), &taken);
        let dims = |[a, b, c]: &[String; 3]| (Dim::new(a.trim()), Dim::new(b.trim()), Dim::new(c.trim()));
        Some(Obstacle {
            name,
            kind,
            corner: dims(&self.way_corner),
            size: dims(&self.way_size),
            keep_clear: None,
            shape: casewright_core::design::ObstacleShape::Box,
            swing: None,
        })
    }

    /// Shows the guide; gives what came of it once it is over.
    pub fn show(&mut self, ui: &Ui, words: &Words) -> Option<Chosen> {
        let mut chosen = None;
        Modal::new(egui::Id::unique("guide")).show(ui.ctx(), |ui| {
            ui.set_width(620.0);
            ui.label(RichText::new(words.say("guide-title")).heading());
            ScrollArea::vertical().max_height(ui.ctx().content_rect().height() - 190.0).show(ui, |ui| {
                self.room(ui, words);
                self.things(ui, words);
                self.in_the_way(ui, words);
            });
            ui.add_space(8.0);
            let plan = self.plan(words);
            if plan.is_none() {
                let colour = Palette::here(ui).error;
                ui.label(RichText::new(format!("✖ {}", words.say("guide-bad-size"))).color(colour));
            }
            ui.horizontal_wrapped(|ui| {
                let go = ui.add_enabled(plan.is_some(), egui::Button::new(words.say("guide-go")));
                if let Some(plan) = plan.filter(|_| go.clicked()) {
                    chosen = Some(Chosen::Design(Box::new(start::first(Unit::default(), &plan))));
                }
                if ui.button(words.say("guide-empty")).clicked() {
                    chosen = Some(Chosen::Empty);
                }
                if ui.button(words.say("guide-open")).clicked() {
                    chosen = Some(Chosen::Open);
                }
            });
        });
        if chosen.is_none() && ui.input(|input| input.key_pressed(egui::Key::Escape)) {
            chosen = Some(Chosen::Empty);
        }
        chosen
    }

    fn room(&mut self, ui: &mut Ui, words: &Words) {
        ui.add_space(6.0);
        ui.label(RichText::new(words.say("guide-room")).strong());
        ui.horizontal(|ui| {
            ui.radio_value(&mut self.in_niche, true, words.say("guide-in-niche"));
            ui.radio_value(&mut self.in_niche, false, words.say("guide-free"));
        });
        sizes(ui, words, &mut self.room, "guide-room-size");
    }

    fn things(&mut self, ui: &mut Ui, words: &Words) {
        ui.add_space(10.0);
        ui.label(RichText::new(words.say("guide-things")).strong());
        Grid::new("guide things").num_columns(3).spacing([16.0, 6.0]).show(ui, |ui| {
            for (offered, count) in OFFERED.iter().zip(&mut self.counts) {
                let size = offered.size_mm.map(|mm| mm.to_string()).join(" × ");
                counted(ui, words, &words.say(offered.key), &size, count);
            }
            for (housed, count) in &mut self.own {
                let size = housed.size.map(|length| Unit::default().input(length)).join(" × ");
                counted(ui, words, &housed.name, &size, count);
            }
        });
        self.own.retain(|(_, count)| *count > 0);
        ui.add_space(8.0);
        ui.label(RichText::new(words.say("guide-own")).strong());
        ui.horizontal(|ui| {
            ui.label(words.say("thing-name"));
            ui.add(TextEdit::singleline(&mut self.own_name).desired_width(220.0))
                .accessible_name(words.say("thing-name"));
            let mass = words.say("guide-own-mass");
            ui.label(&mass);
            ui.add(TextEdit::singleline(&mut self.own_mass).desired_width(60.0)).accessible_name(mass);
            ui.label(RichText::new("kg").weak());
        });
        sizes(ui, words, &mut self.own_size, "guide-own-size");
        let entry = self.own_entry();
        let add = ui.add_enabled(entry.is_some(), egui::Button::new(words.say("guide-own-add")));
        if let Some(housed) = entry.filter(|_| add.clicked()) {
            self.own.push((housed, 1));
            self.own_name.clear();
            self.own_mass.clear();
            self.own_size.iter_mut().for_each(String::clear);
        }
    }

    fn in_the_way(&mut self, ui: &mut Ui, words: &Words) {
        ui.add_space(10.0);
        ui.label(RichText::new(words.say("guide-in-the-way")).strong());
        self.in_the_way.retain(|obstacle| {
            let (x, y, z) = &obstacle.size;
            let row = ui.horizontal(|ui| {
                ui.label(&obstacle.name);
                ui.label(RichText::new(format!("{} × {} × {}", x.text(), y.text(), z.text())).weak());
                let fewer = words.say_with("guide-fewer", &[("name", &obstacle.name)]);
                ui.button(" − ").accessible_name(fewer).clicked()
            });
            !row.inner
        });
        ui.horizontal(|ui| {
            let label = words.say("guide-way-kind");
            ui.label(&label);
            let names = ObstacleKind::ALL.map(|kind| labels::obstacle_kind(words, kind));
            if let Some(chosen) = choice::choose_box(ui, None, &label, self.way_kind, &names, 180.0) {
                self.way_kind = chosen;
            }
        });
        sizes(ui, words, &mut self.way_size, "guide-way-size");
        let from = ["guide-from-left", "guide-from-floor", "guide-from-wall"];
        named(ui, words, &mut self.way_corner, from, "guide-way-corner");
        let entry = self.way_entry(words);
        let add = ui.add_enabled(entry.is_some(), egui::Button::new(words.say("guide-way-add")));
        let Some(obstacle) = entry.filter(|_| add.clicked()) else { return };
        self.in_the_way.push(obstacle);
        self.way_size.iter_mut().for_each(String::clear);
        self.way_corner = ["0", "0", "0"].map(str::to_owned);
    }
}

/// A row of the list of things: how many there are of one.
fn counted(ui: &mut Ui, words: &Words, name: &str, size: &str, count: &mut u32) {
    ui.label(name);
    ui.label(RichText::new(size).weak());
    ui.horizontal(|ui| {
        let fewer = words.say_with("guide-fewer", &[("name", &name)]);
        let more = words.say_with("guide-more", &[("name", &name)]);
        if ui.add_enabled(*count > 0, egui::Button::new(" − ")).accessible_name(fewer).clicked() {
            *count -= 1;
        }
        ui.label(RichText::new(count.to_string()).size(16.0));
        if ui.add_enabled(*count < MOST, egui::Button::new(" + ")).accessible_name(more).clicked() {
            *count += 1;
        }
    });
    ui.end_row();
}

/// Three sizes in a row; `whose` is the key of the words that say whose, put before width, height and depth.
fn sizes(ui: &mut Ui, words: &Words, texts: &mut [String; 3], whose: &str) {
    named(ui, words, texts, ["field-width", "field-height", "field-depth"], whose);
}

fn named(ui: &mut Ui, words: &Words, texts: &mut [String; 3], keys: [&str; 3], whose: &str) {
    ui.horizontal_wrapped(|ui| {
        for (text, key) in texts.iter_mut().zip(keys) {
            let label = words.say(key);
            ui.label(&label);
            let name = words.say_with(whose, &[("size", &label)]);
            ui.add(TextEdit::singleline(text).desired_width(80.0)).accessible_name(name);
        }
        ui.label(RichText::new("mm").weak());
    });
}
