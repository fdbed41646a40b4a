//! Questions that must be answered before going on.

use std::path::PathBuf;

use casewright_core::design::Design;
use egui::{Modal, RichText, ScrollArea, Ui};

use super::chooser::Purpose;
use crate::words::Words;

/// What is to be done once unsaved edits are dealt with.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// Begin a new design.
    New,
    /// Choose a file to open.
    Choose,
    /// Open this file.
    Open(PathBuf),
    /// Close the window.
    Quit,
}

/// A question, or something to be read before going on.
#[derive(Clone, Debug)]
pub enum Question {
    /// There are edits that the file does not have.
    Unsaved(Next),
    /// The file was changed by someone else while there are edits.
    Changed(Box<Design>),
    /// Edits were left over from an earlier run.
    LeftOver(Box<Design>),
    /// A file with this name is there already, or a pack in this folder; it is to become the design's file, or the pack.
    Replace(PathBuf, Purpose),
    /// The file of the design was changed by someone else and cannot be read; it would be written over.
    Damaged(PathBuf),
    /// A file could not be opened.
    Unreadable {
        /// The file.
        file: String,
        /// What is wrong with it, one line each.
        faults: Vec<String>,
    },
}

/// What the user answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// The first button: save, take the file's, restore, replace, go on.
    Yes,
    /// The second button: give up the edits, keep mine.
    No,
    /// Leave everything as it is.
    Cancel,
}

/// The words of a question: title, text, and the buttons in order.
struct Wording {
    title: String,
    text: String,
    buttons: Vec<(String, Answer)>,
}

fn wording(question: &Question, words: &Words) -> Wording {
    let say = |key: &str| words.say(key);
    match question {
        Question::Unsaved(_) => Wording {
            title: say("ask-unsaved"),
            text: say("ask-unsaved-text"),
            buttons: vec![
                (say("ask-save"), Answer::Yes),
                (say("ask-discard"), Answer::No),
                (say("ask-cancel"), Answer::Cancel),
            ],
        },
        Question::Changed(_) => Wording {
            title: say("ask-changed"),
            text: say("ask-changed-text"),
            buttons: vec![(say("ask-take-file"), Answer::Yes), (say("ask-keep-mine"), Answer::No)],
        },
        Question::LeftOver(_) => Wording {
            title: say("ask-left-over"),
            text: say("ask-left-over-text"),
            buttons: vec![(say("ask-restore"), Answer::Yes), (say("ask-give-up"), Answer::No)],
        },
        Question::Replace(path, Purpose::Folder) => Wording {
            title: say("ask-replace-pack"),
            text: words.say_with("ask-replace-pack-text", &[("folder", &path.display().to_string())]),
            buttons: vec![(say("ask-replace-pack-yes"), Answer::Yes), (say("ask-cancel"), Answer::Cancel)],
        },
        Question::Replace(path, _) => Wording {
            title: say("ask-replace"),
            text: words.say_with("ask-replace-text", &[("file", &path.display().to_string())]),
            buttons: vec![(say("ask-replace-yes"), Answer::Yes), (say("ask-cancel"), Answer::Cancel)],
        },
        Question::Damaged(path) => Wording {
            title: say("ask-damaged"),
            text: words.say_with("ask-damaged-text", &[("file", &path.display().to_string())]),
            buttons: vec![(say("ask-cancel"), Answer::Cancel), (say("ask-replace-yes"), Answer::Yes)],
        },
        Question::Unreadable { file, .. } => Wording {
            title: say("ask-unreadable"),
            text: words.say_with("ask-unreadable-text", &[("file", file)]),
            buttons: vec![(say("ask-close"), Answer::Cancel)],
        },
    }
}

/// Shows a question; gives the answer once there is one.
pub fn show(ui: &Ui, words: &Words, question: &Question) -> Option<Answer> {
    let wording = wording(question, words);
    let mut answer = None;
    let modal = Modal::new(egui::Id::unique("question")).show(ui.ctx(), |ui| {
        ui.set_max_width(520.0);
        ui.label(RichText::new(&wording.title).heading());
        ui.add_space(4.0);
        ui.add(egui::Label::new(&wording.text).wrap());
        if let Question::Unreadable { faults, .. } = question {
            ScrollArea::vertical().max_height(260.0).show(ui, |ui| {
                for fault in faults {
                    ui.add(egui::Label::new(format!("✖ {fault}")).wrap());
                }
            });
        }
        ui.add_space(8.0);
        ui.horizontal_wrapped(|ui| {
            for (index, (label, value)) in wording.buttons.iter().enumerate() {
                let button = ui.button(label);
                if index == 0 && ui.memory(|memory| memory.focused().is_none()) {
                    button.request_focus();
                }
                if button.clicked() {
                    answer = Some(*value);
                }
            }
        });
    });
    let may_close = wording.buttons.iter().any(|(_, answer)| *answer == Answer::Cancel);
    if answer.is_none() && may_close && modal.should_close() {
        answer = Some(Answer::Cancel);
    }
    answer
}
