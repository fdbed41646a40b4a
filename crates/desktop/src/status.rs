//! What goes on, said at the end of a line that is there anyway: whatever is said, nothing else moves.

use casewright_pack::Step;
use egui::{RichText, Ui};

use crate::notice::Notice;
use crate::panels::Action;
use crate::theme::Palette;
use crate::words::Words;

/// The least room for a text, in points; with less it is not shown.
const LEAST: f32 = 60.0;

/// What is at work, and what there is to say.
pub(crate) struct Status<'s> {
    /// The words.
    pub(crate) words: &'s Words,
    /// Whether something is being worked out.
    pub(crate) is_busy: bool,
    /// How far a pack that is to be written has come.
    pub(crate) writing: Option<Writing>,
    /// What there is to say.
    pub(crate) notice: Option<&'s Notice>,
}

/// How far a pack that is to be written has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Writing {
    /// The design is being worked out.
    Waiting,
    /// The cutting is being planned; how far, 0 to 1.
    Planning(f32),
    /// Its sheets are drawn, and then written.
    Making(Step),
}

impl Writing {
    /// How far it has come with what it is at, 0 to 1.
    fn share(self) -> f32 {
        let of = |done: usize, count: usize| done as f32 / count.max(1) as f32;
        match self {
            Self::Waiting => 0.0,
            Self::Planning(share) => share,
            Self::Making(Step::Drawing(done, count) | Step::Writing(done, count)) => of(done, count),
        }
    }

    fn say(self, words: &Words) -> String {
        match self {
            Self::Waiting => words.say("bar-working"),
            Self::Planning(_) => words.say("bar-planning"),
            Self::Making(Step::Drawing(..)) => words.say("bar-drawing"),
            Self::Making(Step::Writing(done, count)) => {
                words.say_with("bar-writing", &[("page", &(done + 1).min(count)), ("count", &count)])
            }
        }
    }
}

impl Status<'_> {
    /// Shows it in what is left of the line.
    pub(crate) fn show(&self, ui: &mut Ui, actions: &mut Vec<Action>) {
        let ink = Palette::here(ui).ink_soft;
        if let Some(writing) = self.writing {
            let text = writing.say(self.words);
            let bar = egui::ProgressBar::new(writing.share()).desired_width(100.0).desired_height(14.0);
            ui.add(bar).accessible_name(&text);
            // Before the words, whose length changes: who aims at it must not miss it.
            if ui.button(self.words.say("bar-stop")).clicked() {
                actions.push(Action::StopWriting);
            }
            self.text(ui, &text, None, ink);
        } else if self.is_busy {
            ui.add(egui::Spinner::new().size(14.0));
            self.text(ui, &self.words.say("bar-working"), None, ink);
        }
        if let Some(notice) = self.notice {
            self.text(ui, &notice.say(self.words), notice.path(), Palette::here(ui).mark);
        }
    }

    /// A text in the room that is left; shortened if need be, it is whole when pointed at.
    fn text(&self, ui: &mut Ui, text: &str, path: Option<&str>, colour: egui::Color32) {
        let room = ui.available_width() - ui.spacing().item_spacing.x;
        if room < LEAST {
            return;
        }
        let font = egui::TextStyle::Body.resolve(ui.style());
        let one_line = text.replace('\n', " ");
        let fits = |text: &str| ui.painter().layout_no_wrap(text.to_owned(), font.clone(), colour).rect.width() <= room;
        let shown = in_room(&one_line, path, &fits);
        let is_whole = shown == text;
        let label = egui::Label::new(RichText::new(shown).color(colour)).extend();
        let response = ui.add(label);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, text));
        if !is_whole {
            response.on_hover_text(text);
        }
    }
}

/// A text as it fits: with the path in it shortened in the middle, and if that is not enough, without its end.
fn in_room(text: &str, path: Option<&str>, fits: &dyn Fn(&str) -> bool) -> String {
    if fits(text) {
        return text.to_owned();
    }
    /// Less of a path than this says nothing.
    const LEAST_OF_PATH: usize = 12;
    let with_path = |path: &str, kept: usize| text.replacen(path, &shortened(path, kept), 1);
    if let Some(path) = path.filter(|path| path.chars().count() > LEAST_OF_PATH)
        && let Some(kept) = most(LEAST_OF_PATH, path.chars().count(), &|kept| fits(&with_path(path, kept)))
    {
        return with_path(path, kept);
    }
    let cut = |kept: usize| text.chars().take(kept).chain(['…']).collect::<String>();
    most(0, text.chars().count(), &|kept| fits(&cut(kept))).map_or_else(|| "…".to_owned(), cut)
}

/// The largest number from `least` on, below `end`, that does; nothing if not even the least does.
fn most(least: usize, end: usize, does: &dyn Fn(usize) -> bool) -> Option<usize> {
    if !does(least) {
        return None;
    }
    let (mut low, mut high) = (least, end);
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if does(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

/// A path or a name with only so many of its characters: where it begins, and above all how it ends.
pub(crate) fn shortened(path: &str, kept: usize) -> String {
    let count = path.chars().count();
    if kept >= count {
        return path.to_owned();
    }
    let start = kept / 4;
    path.chars().take(start).chain(['…']).chain(path.chars().skip(count - (kept - start))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_shortened_in_its_middle_and_only_as_far_as_need_be() {
        let path = "/home/somebody/workshop/designs/laundry-alcove.ron";
        let text = format!("Saved to {path}");
        let check = |room: usize, expected: &str| {
            let found = in_room(&text, Some(path), &|text| text.chars().count() <= room);
            assert_eq!(found, expected);
            assert!(found.chars().count() <= room);
        };
        check(100, &text);
        check(58, "Saved to /home/somebo…/workshop/designs/laundry-alcove.ron");
        check(40, "Saved to /home/s…igns/laundry-alcove.ron");
        check(24, "Saved to /ho…-alcove.ron");
        check(12, "Saved to /h…");
        check(1, "…");
    }

    #[test]
    fn a_text_without_a_path_loses_its_end() {
        let found = in_room("Select one bay first.", None, &|text| text.chars().count() <= 11);
        assert_eq!(found, "Select one…");
    }
}
