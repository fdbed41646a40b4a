//! What may be done with anything at all: each takes bytes, must come to an end, and must not panic. Fuzzing calls these
//! (tests/fuzz, which takes in this file alone and needs nothing that draws), and a test replays what fuzzing has found
//! (tests/fuzz_corpus.rs).

use casewright_core::design::{Bay, Design};
use casewright_core::expr::Scope;
use casewright_core::pipeline::derive;
use casewright_core::unit::DecimalMark;
use casewright_core::unit::Unit;
use casewright_stock::{TableForm, read_box, read_table, write_table_as};

/// Does something with anything at all.
pub type Run = fn(&[u8]);

/// What can be fuzzed, by name.
pub const ALL: [(&str, Run); 4] = [("design", design), ("expression", expression), ("table", table), ("bay", bay)];

/// Designs with more bays are read and written but not derived, so that one run stays short.
const MOST_BAYS: usize = 24;

fn bays(bay: &Bay) -> usize {
    1 + bay.children().iter().map(bays).sum::<usize>()
}

/// The text of a design file: read, written, read again; and derived if it is small.
pub fn design(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let Ok((design, faults)) = Design::read(text) else { return };
    let written = design.to_ron().expect("what was read can be written");
    let (again, _) = Design::read(&written).expect("what was written can be read");
    // One with a `NaN`, which is a fault of its own, is equal to nothing: its text must be the same.
    let same = design == again || again.to_ron().ok().as_ref() == Some(&written);
    assert!(same, "written and read it is another design:\n{written}");
    if faults.is_empty()
        && bays(&design.carcass.bay) <= MOST_BAYS
        && let Err(error) = derive(&design)
    {
        assert!(!error.to_string().contains("internal error"), "{error}");
    }
}

/// A length expression, in millimetres and in inches, alone and with parameters.
pub fn expression(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    for unit in [Unit::default(), Unit::inch(32).unwrap_or_default()] {
        if let Ok(length) = Scope::empty(unit).length(first) {
            let shown = unit.input(length);
            assert_eq!(Scope::empty(unit).length(&shown).ok(), Some(length), "{first:?} is written {shown:?}");
        }
        let (scope, _) = Scope::new(rest.lines().filter_map(|line| line.split_once('=')), unit);
        let _either = scope.length(first);
    }
}

/// A table of boards, or the line of an old cabinet.
pub fn table(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for unit in [Unit::default(), Unit::inch(32).unwrap_or_default()] {
        if let Ok(boards) = read_table(text, unit) {
            for form in
                [TableForm::default(), TableForm::of(DecimalMark::Comma), TableForm::clipboard(DecimalMark::Comma)]
            {
                let written = write_table_as(&boards, unit, form);
                let again = read_table(&written, unit).expect("what was written can be read");
                assert_eq!(boards, again, "written and read they are other boards:\n{written}");
            }
        }
        let _either = read_box(text, unit);
    }
}

/// Text on the clipboard that may be a bay.
pub fn bay(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Some(bay) = Bay::from_ron(text) {
        let written = bay.to_ron().expect("what was read can be written");
        assert_eq!(Bay::from_ron(&written), Some(bay), "written and read it is another bay");
    }
}
