//! A few pictures of the window, compared with those kept beside this test: that it looks as it did, not only that it
//! answers. Renew them with `UPDATE_SNAPSHOTS=true cargo test -p casewright-desktop --test pictures`, and look at each.
//! They are drawn by a software renderer (lavapipe), which `.ci/setup` installs.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

use std::path::{Path, PathBuf};

use casewright_desktop::App;
use egui_kittest::kittest::Queryable;
use egui_kittest::{Harness, SnapshotOptions};

/// Pixels that may differ, of 1,152,000: edges of letters, between versions of the renderer.
const MAY_DIFFER: usize = 600;

fn window(file: PathBuf, state: PathBuf) -> Harness<'static, Option<App>> {
    Harness::builder()
        .with_size(egui::vec2(1280.0, 900.0))
        .with_max_steps(16)
        .with_theme(egui::Theme::Light)
        .with_context_setup(casewright_desktop::theme::set_fonts)
        .wgpu()
        .build_ui_state(
            move |ui, app: &mut Option<App>| {
                app.get_or_insert_with(|| App::new(ui.ctx(), Some(file.as_path()), Some(state.clone()))).show(ui);
            },
            None,
        )
}

fn settle(harness: &mut Harness<'static, Option<App>>) {
    for _ in 0..3 {
        if let Some(app) = harness.state_mut() {
            app.settle();
        }
        harness.run_steps(3);
    }
}

/// The window after pressing the buttons of these names, one after the other.
fn check(buttons: &[&str], picture: &str) {
    check_of("tests/alcove.ron", buttons, picture);
}

/// The same with another file of the repository, its path from the folder of this crate.
fn check_of(design: &str, buttons: &[&str], picture: &str) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("alcove.ron");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(design), &file).unwrap();
    let mut harness = window(file, folder.path().join("state"));
    settle(&mut harness);
    for name in buttons {
        harness.get_by_label(name).click();
        settle(&mut harness);
    }
    let options = SnapshotOptions::new().max_failed_pixels(MAY_DIFFER);
    harness.snapshot_options(picture, &options);
}

#[test]
fn the_elevation() {
    check(&[], "elevation");
}

#[test]
fn all_four_views() {
    check(&["All four"], "all_four");
}

#[test]
fn the_sheets() {
    check(&["Sheets"], "sheets");
}

#[test]
fn the_proposals() {
    check(&["Propose carcasses"], "proposals");
}

#[test]
fn the_checks() {
    check(&["Checks"], "checks");
}

#[test]
fn the_cutting_plan() {
    check_of("../../demo/laundry-alcove.ron", &["Cutting"], "cutting");
}
