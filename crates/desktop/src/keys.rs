//! Everything that can be done from the keyboard or the command list: one table of deeds with words and shortcuts.

use egui::{Key, KeyboardShortcut, Modifiers};

use crate::words::Words;

/// Something the user can ask for that needs nothing but the present selection.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Deed {
    /// Begins a new design.
    New,
    /// Chooses a file to open.
    Open,
    /// Saves.
    Save,
    /// Saves under another name.
    SaveAs,
    /// Reads the file again.
    Reload,
    /// Takes the last edit back.
    Undo,
    /// Makes it again.
    Redo,
    /// Opens the list of everything that can be done.
    Commands,
    /// Shows the carcass from the front, without fronts.
    ShowFront,
    /// Shows the carcass from the front, with fronts.
    ShowFronts,
    /// Shows a section through the selected bay, from the side.
    ShowSection,
    /// Shows a section from above.
    ShowPlan,
    /// Shows the carcass in space.
    ShowIsometric,
    /// Shows four views side by side, or one alone.
    ShowFour,
    /// Shows the sheets as they will print.
    ShowSheets,
    /// Writes the sheets as a PDF.
    WritePdf,
    /// Writes all that belongs to the pack into a folder.
    WriteFolder,
    /// Brings the whole drawing into view.
    Fit,
    /// Enlarges the drawing.
    ZoomIn,
    /// Makes the drawing smaller.
    ZoomOut,
    /// Selects the next bay.
    NextBay,
    /// Selects the bay before.
    PreviousBay,
    /// Selects the bay around the selected one.
    OuterBay,
    /// Selects the first bay inside the selected one.
    InnerBay,
    /// Selects the carcass as a whole.
    SelectCarcass,
    /// Selects what the piece is cut from.
    SelectStock,
    /// Puts the focus into the field of the width of what is selected.
    TypeWidth,
    /// Puts the focus into the field of the height of what is selected.
    TypeHeight,
    /// Divides the selected bay by an upright.
    DivideAcross,
    /// Divides the selected bay by a shelf.
    DivideUp,
    /// Joins the selected bay with the next one.
    Merge,
    /// Wraps the selected bay in a box of its own.
    Wrap,
    /// Takes its own box from round the selected bay.
    Unwrap,
    /// Puts a copy beside the selected bay.
    Duplicate,
    /// Takes the selected bay or thing away.
    Delete,
    /// Lets the two selected bays change places.
    Swap,
    /// Makes the selected bays equally wide.
    EqualWidths,
    /// Makes the selected bays equally high.
    EqualHeights,
    /// Copies the selected bay as text.
    CopyBay,
    /// Pastes a copied bay into the selected one.
    PasteBay,
    /// Adds a thing to be housed.
    AddThing,
    /// Shows the checks, with sliders that ask what if.
    ShowChecks,
    /// Shows how the boards are cut.
    ShowCuts,
    /// Searches proposals for the carcass and shows them.
    Arrange,
    /// The same for the selected bay alone.
    ArrangeBay,
    /// Lists the findings.
    ShowFindings,
    /// Lists the parts.
    ShowParts,
    /// Lists the steps of the work.
    ShowSteps,
    /// Shows part numbers on the drawing, or not.
    Numbers,
    /// Changes between light and dark.
    Shade,
    /// Changes the language.
    Language,
    /// Changes between millimetres and inches.
    Unit,
    /// Makes everything larger.
    Larger,
    /// Makes everything smaller.
    Smaller,
    /// Lets fields explain themselves, or no longer.
    Explain,
    /// Closes the window.
    Quit,
}

const NONE: Modifiers = Modifiers::NONE;
const CTRL: Modifiers = Modifiers::COMMAND;
const CTRL_SHIFT: Modifiers = Modifiers { shift: true, ..Modifiers::COMMAND };

const fn keys(modifiers: Modifiers, key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(modifiers, key))
}

impl Deed {
    /// Every deed but [`Self::Quit`], in the order of the command list.
    pub const ALL: [Self; 55] = [
        Self::New,
        Self::Open,
        Self::Save,
        Self::SaveAs,
        Self::Reload,
        Self::Undo,
        Self::Redo,
        Self::Commands,
        Self::ShowFront,
        Self::ShowFronts,
        Self::ShowSection,
        Self::ShowPlan,
        Self::ShowIsometric,
        Self::ShowFour,
        Self::ShowSheets,
        Self::WritePdf,
        Self::WriteFolder,
        Self::Fit,
        Self::ZoomIn,
        Self::ZoomOut,
        Self::NextBay,
        Self::PreviousBay,
        Self::OuterBay,
        Self::InnerBay,
        Self::SelectCarcass,
        Self::SelectStock,
        Self::TypeWidth,
        Self::TypeHeight,
        Self::DivideAcross,
        Self::DivideUp,
        Self::Merge,
        Self::Wrap,
        Self::Unwrap,
        Self::Duplicate,
        Self::Delete,
        Self::Swap,
        Self::EqualWidths,
        Self::EqualHeights,
        Self::CopyBay,
        Self::PasteBay,
        Self::AddThing,
        Self::ShowChecks,
        Self::ShowCuts,
        Self::Arrange,
        Self::ArrangeBay,
        Self::ShowFindings,
        Self::ShowParts,
        Self::ShowSteps,
        Self::Numbers,
        Self::Shade,
        Self::Language,
        Self::Unit,
        Self::Larger,
        Self::Smaller,
        Self::Explain,
    ];

    /// The key of its name in the word list.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::New => "deed-new",
            Self::Open => "deed-open",
            Self::Save => "deed-save",
            Self::SaveAs => "deed-save-as",
            Self::Reload => "deed-reload",
            Self::Undo => "deed-undo",
            Self::Redo => "deed-redo",
            Self::Commands => "deed-commands",
            Self::ShowFront => "deed-show-front",
            Self::ShowFronts => "deed-show-fronts",
            Self::ShowSection => "deed-show-section",
            Self::ShowPlan => "deed-show-plan",
            Self::ShowIsometric => "deed-show-isometric",
            Self::ShowFour => "deed-show-four",
            Self::ShowSheets => "deed-show-sheets",
            Self::WritePdf => "deed-write-pdf",
            Self::WriteFolder => "deed-write-folder",
            Self::Fit => "deed-fit",
            Self::ZoomIn => "deed-zoom-in",
            Self::ZoomOut => "deed-zoom-out",
            Self::NextBay => "deed-next-bay",
            Self::PreviousBay => "deed-previous-bay",
            Self::OuterBay => "deed-outer-bay",
            Self::InnerBay => "deed-inner-bay",
            Self::SelectCarcass => "deed-select-carcass",
            Self::SelectStock => "deed-select-stock",
            Self::TypeWidth => "deed-type-width",
            Self::TypeHeight => "deed-type-height",
            Self::DivideAcross => "deed-divide-across",
            Self::DivideUp => "deed-divide-up",
            Self::Merge => "deed-merge",
            Self::Wrap => "deed-wrap",
            Self::Unwrap => "deed-unwrap",
            Self::Duplicate => "deed-duplicate",
            Self::Delete => "deed-delete",
            Self::Swap => "deed-swap",
            Self::EqualWidths => "deed-equal-widths",
            Self::EqualHeights => "deed-equal-heights",
            Self::CopyBay => "deed-copy-bay",
            Self::PasteBay => "deed-paste-bay",
            Self::AddThing => "deed-add-thing",
            Self::ShowChecks => "deed-show-checks",
            Self::ShowCuts => "deed-show-cuts",
            Self::Arrange => "deed-arrange",
            Self::ArrangeBay => "deed-arrange-bay",
            Self::ShowFindings => "deed-show-findings",
            Self::ShowParts => "deed-show-parts",
            Self::ShowSteps => "deed-show-steps",
            Self::Numbers => "deed-numbers",
            Self::Shade => "deed-shade",
            Self::Language => "deed-language",
            Self::Unit => "deed-unit",
            Self::Larger => "deed-larger",
            Self::Smaller => "deed-smaller",
            Self::Explain => "deed-explain",
            Self::Quit => "deed-quit",
        }
    }

    /// Its keys, if it has any. Those without Ctrl are for when no field is being written in.
    #[must_use]
    pub const fn shortcut(self) -> Option<KeyboardShortcut> {
        match self {
            Self::New => keys(CTRL, Key::N),
            Self::Open => keys(CTRL, Key::O),
            Self::Save => keys(CTRL, Key::S),
            Self::SaveAs => keys(CTRL_SHIFT, Key::S),
            Self::Reload => keys(NONE, Key::F5),
            Self::Undo => keys(CTRL, Key::Z),
            Self::Redo => keys(CTRL, Key::Y),
            Self::Commands => keys(CTRL, Key::Space),
            Self::ShowFront => keys(NONE, Key::Num1),
            Self::ShowFronts => keys(NONE, Key::Num2),
            Self::ShowSection => keys(NONE, Key::Num3),
            Self::ShowPlan => keys(NONE, Key::Num4),
            Self::ShowIsometric => keys(NONE, Key::Num5),
            Self::ShowFour => keys(NONE, Key::Num6),
            Self::ShowSheets => keys(NONE, Key::Num7),
            Self::WritePdf => keys(CTRL, Key::P),
            Self::WriteFolder => keys(CTRL_SHIFT, Key::P),
            Self::Fit => keys(NONE, Key::Home),
            Self::ZoomIn => keys(NONE, Key::Plus),
            Self::ZoomOut => keys(NONE, Key::Minus),
            Self::NextBay => keys(NONE, Key::PageDown),
            Self::PreviousBay => keys(NONE, Key::PageUp),
            Self::OuterBay => keys(NONE, Key::Backspace),
            Self::InnerBay => keys(NONE, Key::Insert),
            Self::SelectCarcass => keys(NONE, Key::Escape),
            Self::TypeWidth => keys(NONE, Key::W),
            Self::TypeHeight => keys(NONE, Key::H),
            Self::DivideAcross => keys(NONE, Key::A),
            Self::DivideUp => keys(NONE, Key::U),
            Self::Merge => keys(NONE, Key::M),
            Self::Wrap => keys(NONE, Key::B),
            Self::Unwrap => keys(Modifiers::SHIFT, Key::B),
            Self::Duplicate => keys(CTRL, Key::D),
            Self::Delete => keys(NONE, Key::Delete),
            Self::Swap => keys(NONE, Key::X),
            Self::EqualWidths => keys(NONE, Key::E),
            Self::EqualHeights => keys(Modifiers::SHIFT, Key::E),
            Self::AddThing => keys(NONE, Key::T),
            Self::ShowChecks => keys(NONE, Key::Num9),
            Self::ShowCuts => keys(NONE, Key::Num0),
            Self::Arrange => keys(NONE, Key::Num8),
            Self::ArrangeBay => keys(Modifiers::SHIFT, Key::Num8),
            Self::Numbers => keys(NONE, Key::N),
            Self::ShowFindings => keys(NONE, Key::F2),
            Self::ShowParts => keys(NONE, Key::F3),
            Self::ShowSteps => keys(NONE, Key::F4),
            Self::Larger => keys(CTRL, Key::Plus),
            Self::Smaller => keys(CTRL, Key::Minus),
            Self::Explain => keys(NONE, Key::F1),
            Self::Quit => keys(CTRL, Key::Q),
            Self::SelectStock | Self::CopyBay | Self::PasteBay | Self::Shade | Self::Language | Self::Unit => None,
        }
    }

    /// Its name.
    #[must_use]
    pub fn say(self, words: &Words) -> String {
        words.say(self.key())
    }
}

/// The deeds whose keys were pressed since the last frame; taken out of the input. Plain keys count only while no text
/// is being written.
pub fn pressed(ctx: &egui::Context) -> Vec<Deed> {
    // While a list has dropped down or a menu is open, plain keys belong to it.
    let is_writing = ctx.text_edit_focused() || egui::Popup::is_any_open(ctx);
    let mut deeds: Vec<Deed> = Deed::ALL.into_iter().chain([Deed::Quit]).collect();
    // Longer shortcuts first, so that Ctrl+Shift+S is not taken for Ctrl+S.
    deeds.sort_by_key(|deed| std::cmp::Reverse(deed.shortcut().map_or(0, |keys| modifier_count(keys.modifiers))));
    deeds.retain(|deed| {
        let Some(shortcut) = deed.shortcut() else { return false };
        let is_plain = !shortcut.modifiers.command;
        let text_editing = matches!(deed, Deed::Undo | Deed::Redo);
        if is_writing && (is_plain && !matches!(shortcut.logical_key, Key::F1 | Key::F5) || text_editing) {
            return false;
        }
        ctx.input_mut(|input| input.consume_shortcut(&shortcut))
    });
    deeds
}

fn modifier_count(modifiers: Modifiers) -> usize {
    [modifiers.command, modifiers.shift, modifiers.alt].into_iter().filter(|held| *held).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_deeds_have_the_same_keys_or_name() {
        let deeds: Vec<_> = Deed::ALL.into_iter().chain([Deed::Quit]).collect();
        for (index, a) in deeds.iter().enumerate() {
            for b in &deeds[index + 1..] {
                assert_ne!(a, b);
                assert_ne!(a.key(), b.key());
                assert!(a.shortcut().is_none() || a.shortcut() != b.shortcut(), "{a:?} {b:?}");
            }
        }
    }
}
