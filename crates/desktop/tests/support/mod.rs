//! A window to test, and how it is worked with.

#![allow(dead_code, reason = "each test file uses what it needs of it")]

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use casewright_desktop::App;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

/// A window at work on a copy of the alcove, with its own folder for everything that it keeps.
pub(crate) struct Desk {
    pub(crate) harness: Harness<'static, Option<App>>,
    pub(crate) file: PathBuf,
    pub(crate) folder: tempfile::TempDir,
}

/// How long this thread has been at work, however busy the machine is with others; by the clock where the system does
/// not say.
fn at_work() -> Duration {
    static BEGAN: std::sync::OnceLock<Instant> = std::sync::OnceLock::new();
    let said = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = said.and_then(|said| said.split(' ').next()?.parse().ok()).map(Duration::from_nanos);
    nanoseconds.unwrap_or_else(|| BEGAN.get_or_init(Instant::now).elapsed())
}

pub(crate) fn window(file: Option<PathBuf>, state: PathBuf) -> Harness<'static, Option<App>> {
    watched(file, state, |_| {})
}

/// A window of which each frame is told: how long the window's own thread was at work for it, without the painting of the
/// graphics card.
pub(crate) fn watched(
    file: Option<PathBuf>,
    state: PathBuf,
    frame: impl Fn(Duration) + 'static,
) -> Harness<'static, Option<App>> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1440.0, 900.0))
        .with_max_steps(16)
        .with_theme(egui::Theme::Light)
        .with_context_setup(casewright_desktop::theme::set_fonts)
        .build_ui_state(
            move |ui, app: &mut Option<App>| {
                let app = app.get_or_insert_with(|| App::new(ui.ctx(), file.as_deref(), Some(state.clone())));
                let began = at_work();
                app.show(ui);
                frame(at_work() - began);
            },
            None,
        );
    settle(&mut harness);
    harness
}

pub(crate) fn settle(harness: &mut Harness<'static, Option<App>>) {
    for _ in 0..3 {
        if let Some(app) = harness.state_mut() {
            app.settle();
        }
        harness.run_steps(3);
    }
}

pub(crate) fn click(harness: &mut Harness<'static, Option<App>>, name: &str) {
    harness.get_by_label(name).click();
    settle(harness);
}

/// Writes over what a field says and leaves it.
pub(crate) fn write(harness: &mut Harness<'static, Option<App>>, name: &str, text: &str) {
    harness.get_by_role_and_label(egui::Role::TextInput, name).focus();
    harness.run_steps(2);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.run_steps(1);
    harness.get_by_role_and_label(egui::Role::TextInput, name).type_text(text);
    harness.run_steps(2);
    harness.key_press(egui::Key::Enter);
    settle(harness);
}

impl Desk {
    pub(crate) fn open() -> Self {
        Self::open_copy("tests/alcove.ron")
    }

    /// The same with another file of the repository, its path from the folder of this crate.
    pub(crate) fn open_copy(of: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("alcove.ron");
        std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(of), &file).unwrap();
        let harness = window(Some(file.clone()), folder.path().join("state"));
        Self { harness, file, folder }
    }

    /// The same in a window so high that nothing must be scrolled for.
    pub(crate) fn tall() -> Self {
        let mut desk = Self::open();
        desk.harness.set_size(egui::vec2(1440.0, 2400.0));
        settle(&mut desk.harness);
        desk
    }

    /// Selects a part in the list of parts.
    pub(crate) fn select_part(&mut self, number: &str) {
        self.harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Space);
        settle(&mut self.harness);
        self.write_in_list("What do you want to do?", "list the parts");
        self.click(number);
    }

    /// Picks one of a list that drops down.
    pub(crate) fn choose(&mut self, list: &str, option: &str) {
        self.harness.get_by_role_and_label(egui::Role::ComboBox, list).click();
        settle(&mut self.harness);
        // The same words may stand in a panel; what is picked is no mere label.
        let is_entry = |node: &egui_kittest::Node<'_>| node.accesskit_node().role() != egui::Role::Label;
        self.harness.query_all_by_label(option).rfind(is_entry).unwrap().click();
        settle(&mut self.harness);
    }

    pub(crate) fn app(&self) -> &App {
        self.harness.state().as_ref().unwrap()
    }

    pub(crate) fn click(&mut self, name: &str) {
        click(&mut self.harness, name);
    }

    /// Writes over what a field says and leaves it.
    pub(crate) fn write(&mut self, name: &str, text: &str) {
        write(&mut self.harness, name, text);
    }

    /// Types into the field of a list that is open, and takes what it finds.
    pub(crate) fn write_in_list(&mut self, name: &str, text: &str) {
        self.harness.get_by_role_and_label(egui::Role::TextInput, name).type_text(text);
        self.harness.run_steps(2);
        self.harness.key_press(egui::Key::Enter);
        settle(&mut self.harness);
    }

    pub(crate) fn sees(&self, text: &str) -> bool {
        self.harness.query_all_by_label_contains(text).next().is_some()
    }

    pub(crate) fn outside(&self, axis: Axis) -> Length {
        self.app().good().unwrap().layout.as_ref().unwrap().envelope.size(axis)
    }
}
