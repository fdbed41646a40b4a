//! The list of everything that can be done, searched by typing.

use egui::{Key, Modal, RichText, ScrollArea, TextEdit, Ui};

use crate::keys::Deed;
use crate::words::Words;

/// The list while it is open.
#[derive(Clone, Debug)]
pub struct Commands {
    search: String,
    chosen: usize,
    is_new: bool,
}

/// What came of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// Do this.
    Deed(Deed),
    /// Nothing.
    Nothing,
}

/// The deeds whose words contain every word of the search, in the order of the table.
#[must_use]
pub fn matching(words: &Words, search: &str) -> Vec<(Deed, String)> {
    let search = search.to_lowercase();
    let pieces: Vec<&str> = search.split_whitespace().collect();
    let named = Deed::ALL.into_iter().map(|deed| (deed, deed.say(words)));
    named.filter(|(_, name)| pieces.iter().all(|piece| name.to_lowercase().contains(piece))).collect()
}

impl Default for Commands {
    fn default() -> Self {
        Self { search: String::new(), chosen: 0, is_new: true }
    }
}

impl Commands {
    /// Shows the list; gives what came of it once it is over.
    pub fn show(&mut self, ui: &Ui, words: &Words) -> Option<Chosen> {
        let mut result = None;
        let modal = Modal::new(egui::Id::unique("commands")).show(ui.ctx(), |ui| {
            ui.set_width(460.0);
            let (up, down) = ui.input_mut(|input| {
                let none = egui::Modifiers::NONE;
                (input.consume_key(none, Key::ArrowUp), input.consume_key(none, Key::ArrowDown))
            });
            let edit = TextEdit::singleline(&mut self.search).desired_width(f32::INFINITY);
            let response =
                ui.add(edit.hint_text(words.say("commands-search"))).accessible_name(words.say("commands-search"));
            if std::mem::take(&mut self.is_new) {
                response.request_focus();
            }
            let found = matching(words, &self.search);
            let last = found.len().saturating_sub(1);
            if response.changed() {
                self.chosen = 0;
            }
            if down {
                self.chosen = (self.chosen + 1).min(last);
            }
            if up {
                self.chosen = self.chosen.saturating_sub(1);
            }
            if response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter)) {
                result = found.get(self.chosen).map(|(deed, _)| Chosen::Deed(*deed));
            }
            ui.add_space(6.0);
            ScrollArea::vertical().max_height(360.0).auto_shrink([false, true]).show(ui, |ui| {
                if found.is_empty() {
                    ui.label(words.say("commands-none"));
                }
                for (index, (deed, name)) in found.iter().enumerate() {
                    let keys = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
                    let button = egui::Button::selectable(index == self.chosen, name)
                        .right_text(RichText::new(keys).weak())
                        .min_size(egui::vec2(ui.available_width(), 24.0));
                    let response = ui.add(button).accessible_name(name);
                    if index == self.chosen && (up || down) {
                        response.scroll_to_me(None);
                    }
                    if response.clicked() {
                        result = Some(Chosen::Deed(*deed));
                    }
                }
            });
        });
        if result.is_none() && modal.should_close() {
            result = Some(Chosen::Nothing);
        }
        result
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Language;

    #[test]
    fn typing_narrows_the_list() {
        let words = Words::new(Language::English);
        assert_eq!(matching(&words, "").len(), Deed::ALL.len());
        let found: Vec<Deed> = matching(&words, "divide shelf").into_iter().map(|(deed, _)| deed).collect();
        assert_eq!(found, [Deed::DivideUp]);
        assert!(matching(&words, "no such thing").is_empty());
    }
}
