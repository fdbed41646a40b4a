//! Edits: what each makes of the tree, and that none is lost or damages the design.

use casewright_core::design::{Bay, Design, Holding, Inside, Tie, Want};
use casewright_core::expr::Dim;
use casewright_core::text::FieldPath;
use proptest::prelude::*;
use serde_json::json;

use super::{Command, Name, Refusal, field, tree};
use crate::document::Document;
use crate::sample;

/// The tree in one line: `whole[left{2} right(crates<crate> upper{0})]`.
fn line(bay: &Bay) -> String {
    let inner = |bays: &[Bay]| bays.iter().map(line).collect::<Vec<_>>().join(" ");
    let name = &bay.name;
    match &bay.inside {
        Inside::Open { shelves } => format!("{name}{{{shelves}}}"),
        Inside::Holds { things, .. } => format!("{name}<{}>", things.join(",")),
        Inside::Across { bays, .. } => format!("{name}[{}]", inner(bays)),
        Inside::Up { bays, .. } => format!("{name}({})", inner(bays)),
        Inside::Boxed { bay, .. } => format!("{name}|{}|", line(bay)),
    }
}

#[track_caller]
fn check(commands: &[Command], expected: &str) {
    let mut design = sample::design();
    for command in commands {
        design = command.apply(&design).unwrap();
    }
    assert_eq!(line(&design.carcass.bay), expected);
}

fn divide(bay: &str, across: bool) -> Command {
    Command::Divide { bay: bay.into(), across, at: None }
}

#[test]
fn each_edit_of_the_tree_does_what_it_says() {
    check(&[], "whole[left{2} right(crates<crate> upper{0})]");
    check(&[divide("left", true)], "whole[left{2} left 2{0} right(crates<crate> upper{0})]");
    check(&[divide("left", false)], "whole[left(left 3{2} left 2{0}) right(crates<crate> upper{0})]");
    check(&[divide("upper", false)], "whole[left{2} right(crates<crate> upper{0} upper 2{0})]");
    check(&[Command::Merge("crates".into())], "whole[left{2} right<crate>]");
    check(&[Command::Merge("left".into())], "whole(crates<crate> upper{0})");
    check(&[Command::Wrap("upper".into())], "whole[left{2} right(crates<crate> upper|upper 2{0}|)]");
    let wrapped = [Command::Wrap("upper".into()), Command::Unwrap("upper".into())];
    check(&wrapped, "whole[left{2} right(crates<crate> upper{0})]");
    check(&[Command::Duplicate("crates".into())], "whole[left{2} right(crates<crate> crates 2{0} upper{0})]");
    check(&[Command::Delete("crates".into())], "whole[left{2} right{0}]");
    check(&[Command::Delete("left".into())], "whole(crates<crate> upper{0})");
    check(&[Command::Swap("left".into(), "crates".into())], "whole[crates<crate> right(left{2} upper{0})]");
    check(
        &[Command::PutThing { thing: "crate".into(), bay: "left".into() }],
        "whole[left<crate> right(crates{0} upper{0})]",
    );
    check(&[Command::RemoveThing("crate".into())], "whole[left{2} right(crates{0} upper{0})]");
    check(
        &[Command::RenameThing { from: "crate".into(), to: "box".into() }],
        "whole[left{2} right(crates<box> upper{0})]",
    );
    let copied = sample::design().carcass.bay.named("right").cloned().unwrap();
    check(
        &[Command::Paste { into: "left".into(), bay: Box::new(copied) }],
        "whole[left(crates 2{0} upper 2{0}) right(crates<crate> upper{0})]",
    );
}

#[test]
fn swapped_bays_leave_the_sizes_with_the_places() {
    let design = Command::Swap("left".into(), "crates".into()).apply(&sample::design()).unwrap();
    let at_left = design.carcass.bay.named("crates").unwrap();
    assert_eq!(at_left.width, Want::Fixed(Dim::new("400")));
    assert_eq!(design.carcass.bay.named("left").unwrap().width, Want::Free);
}

#[test]
fn ties_follow_renaming_and_go_with_their_bays() {
    let renamed = Command::RenameBay { from: "left".into(), to: "west".into() }.apply(&sample::design()).unwrap();
    assert!(matches!(&renamed.carcass.ties[0], Tie::InLine { bays, .. } if bays[0] == "west"));
    let gone = Command::Delete("left".into()).apply(&sample::design()).unwrap();
    assert!(gone.carcass.ties.is_empty());
}

#[test]
fn what_cannot_be_done_is_refused() {
    let check = |command: Command, expected: Refusal| {
        assert_eq!(command.apply(&sample::design()).unwrap_err(), expected);
    };
    check(Command::Merge("whole".into()), Refusal::NotHere("whole".into()));
    check(Command::Merge("right".into()), Refusal::NotHere("right".into()));
    check(Command::Merge("nowhere".into()), Refusal::NoBay("nowhere".into()));
    check(Command::Swap("right".into(), "upper".into()), Refusal::NotHere("upper".into()));
    check(Command::RenameBay { from: "left".into(), to: "upper".into() }, Refusal::NameTaken("upper".into()));
    check(Command::RenameBay { from: "left".into(), to: " ".into() }, Refusal::NameEmpty);
    check(Command::PutThing { thing: "crate".into(), bay: "right".into() }, Refusal::NotHere("right".into()));
    check(Command::PutThing { thing: "boat".into(), bay: "left".into() }, Refusal::NoThing("boat".into()));
    let path = FieldPath::root().field("carcass").field("colour");
    check(Command::SetLength { path: path.clone(), text: "5".into() }, Refusal::NoField(path));
}

#[test]
fn every_field_is_found_by_its_place_and_written_alone() {
    let design = sample::design();
    let root = FieldPath::root();
    let left = tree::path_of(&design, "left").unwrap();
    let crates = tree::path_of(&design, "crates").unwrap();
    let set = |path: &FieldPath, value| field::with_value(&design, path, value).unwrap();
    assert_eq!(tree::owner(&design, &crates.field("height")).as_deref(), Some("crates"));

    let after = set(&left.field("width"), json!({ "AtLeast": "350" }));
    assert_eq!(after.carcass.bay.named("left").unwrap().width, Want::AtLeast(Dim::new("350")));
    let after = set(&root.field("things").key("crate").field("air").field("rear"), json!("12"));
    assert_eq!(after.things["crate"].air.rear, Some(Dim::new("12")));
    let after = set(&crates.field("inside").field("things"), json!([]));
    assert_eq!(line(&after.carcass.bay), "whole[left{2} right(crates<> upper{0})]");
    let after = set(&left.field("inside").field("shelves"), json!(4));
    assert_eq!(line(after.carcass.bay.named("left").unwrap()), "left{4}");

    let path = left.field("width");
    assert!(matches!(field::with_value(&design, &path, json!({ "Wide": 3 })), Err(Refusal::Misfit { .. })));
}

#[test]
fn the_order_of_things_survives_writing_a_field() {
    let mut design = sample::design();
    let thing = design.things["crate"].clone();
    for name in ["zinc tub", "apple box", "Fixed"] {
        design.things.insert(name.into(), thing.clone());
    }
    let path = FieldPath::root().field("things").key("Fixed").field("mass_kg");
    let after = field::with_value(&design, &path, json!(7.25)).unwrap();
    assert!(after.things.keys().eq(design.things.keys()));
    assert_eq!(after.things["Fixed"].mass_kg, 7.25);
}

fn any_command() -> impl Strategy<Value = Command> {
    let bay = || prop::sample::select(vec!["whole", "left", "right", "crates", "upper", "left 2", "upper 2", "none"]);
    let bay = move || bay().prop_map(str::to_owned);
    prop_oneof![
        (bay(), any::<bool>()).prop_map(|(bay, across)| Command::Divide { bay, across, at: None }),
        bay().prop_map(Command::Merge),
        bay().prop_map(Command::Wrap),
        bay().prop_map(Command::Unwrap),
        bay().prop_map(Command::Duplicate),
        bay().prop_map(Command::Delete),
        (bay(), bay()).prop_map(|(a, b)| Command::Swap(a, b)),
        bay().prop_map(|bay| Command::PutThing { thing: "crate".into(), bay }),
        bay().prop_map(|bay| Command::SetHolding { bay, by: Holding::Shelf { under: Dim::new("80") } }),
        (bay(), bay()).prop_map(|(from, to)| Command::RenameBay { from, to }),
        (bay(), bay()).prop_map(|(a, b)| Command::MakeEqual { bays: vec![a, b], width: true }),
        (bay(), any::<bool>()).prop_map(|(bay, width)| Command::DragDivider {
            bay: bay.clone(),
            width,
            sizes: vec![(bay, Dim::new("300"))],
        }),
        bay().prop_map(|into| {
            let bay = Box::new(sample::design().carcass.bay);
            Command::Paste { into, bay }
        }),
        Just(Command::SetParameter { name: "gap".into(), text: None }),
        Just(Command::RemoveThing("crate".into())),
    ]
}

/// Names are unique, divisions have two bays or more, ties name bays that are there.
fn is_sound(design: &Design) -> Result<(), String> {
    let mut names = tree::names(design);
    let count = names.len();
    names.sort();
    names.dedup();
    if names.len() != count {
        return Err(format!("a name is there twice: {}", line(&design.carcass.bay)));
    }
    let mut thin = None;
    tree::walk(design, &mut |bay, _, _| {
        if let Inside::Across { bays, .. } | Inside::Up { bays, .. } = &bay.inside
            && bays.len() < 2
        {
            thin = Some(bay.name.clone());
        }
    });
    thin.map_or(Ok(()), |name| Err(format!("{name} is divided into fewer than two")))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn any_run_of_edits_is_undone_and_redone_exactly(commands in prop::collection::vec(any_command(), 1..25)) {
        let mut document = Document::new(sample::design());
        let mut states = vec![(**document.design()).clone()];
        for command in &commands {
            let before = document.revision();
            let result = document.apply(command);
            document.end_gesture();
            prop_assert!(result.is_ok() || document.revision() == before);
            if document.revision() != before {
                prop_assert_eq!(is_sound(document.design()), Ok(()), "after {:?}", command);
                states.push((**document.design()).clone());
            }
        }
        for expected in states.iter().rev().skip(1) {
            document.undo();
            prop_assert_eq!(&**document.design(), expected);
        }
        for expected in states.iter().skip(1) {
            document.redo();
            prop_assert_eq!(&**document.design(), expected);
        }
        prop_assert!(document.redo_name().is_none());
    }
}

#[test]
fn edits_have_names_in_both_languages() {
    use crate::words::{Language, Words};
    let name = divide("left", true).name();
    assert_eq!(name, Name::about("edit-divide-across", "left"));
    assert_eq!(name.say(&Words::new(Language::English)), "Divide left by an upright");
    assert_eq!(name.say(&Words::new(Language::German)), "left mit Mittelseite teilen");
}

#[test]
fn another_unit_leaves_every_length_what_it_is() {
    let mut design = sample::design();
    design.carcass.bay.width = Want::AtMost(Dim::new("960 + 2 * gap"));
    design.carcass.bay.height = Want::AtMost(Dim::new("300 * gap"));
    let inches = Command::SetUnit(casewright_core::unit::Unit::inch(32).unwrap()).apply(&design).unwrap();
    let back = Command::SetUnit(design.unit).apply(&inches).unwrap();
    let lengths = |design: &Design| {
        let scope = design.scope();
        let mut all = Vec::new();
        let _same = casewright_core::design::resolve::map_lengths(design, &mut |dim: &Dim, at, _| {
            all.push((at.to_string(), scope.length(dim.text()).unwrap()));
        });
        all
    };
    assert_eq!(lengths(&inches), lengths(&design));
    assert_eq!(lengths(&back), lengths(&design));
    assert_eq!(inches.carcass.bay.named("left").unwrap().width, Want::Fixed(Dim::new("400 mm")));
}

/// The design of the sample with an opening, a single joint, measured sizes and a lead that refer to names.
fn with_references() -> Design {
    let mut value = serde_json::to_value(sample::design()).unwrap();
    value["carcass"]["openings"] = serde_json::json!([{ "panel": "Shelf", "bay": "crates", "size": ["40", "40"] }]);
    value["carcass"]["joints"] = serde_json::json!([{ "of": "Shelf", "bay": "crates", "shift": "5" }]);
    value["carcass"]["ties"] = serde_json::json!([{ "SameWidth": ["left", "right"] }]);
    value["as_built"]["openings"] = serde_json::json!({ "crates": { "width": "500" } });
    value["as_built"]["diagonals"] = serde_json::json!({ "crates": ["700", "701"] });
    value["site"]["obstacles"] = serde_json::json!([
        { "name": "socket", "kind": "Socket", "corner": ["100", "100", "0"], "size": ["80", "80", "20"] }
    ]);
    value["things"]["crate"]["lead"] = serde_json::json!({ "length": "1500", "socket": "socket" });
    serde_json::from_value(value).unwrap()
}

#[test]
fn what_refers_to_a_name_follows_it() {
    let design = with_references();
    let after = Command::RenameBay { from: "crates".into(), to: "boxes".into() }.apply(&design).unwrap();
    assert_eq!(after.carcass.openings[0].bay, "boxes");
    assert_eq!(after.carcass.joints[0].bay.as_deref(), Some("boxes"));
    assert!(after.as_built.openings.contains_key("boxes") && after.as_built.diagonals.contains_key("boxes"));
    let faults = |design: &Design| Design::read(&design.to_ron().unwrap()).unwrap().1;
    assert_eq!(faults(&after).len(), faults(&design).len());
    let back = Command::RenameBay { from: "boxes".into(), to: "crates".into() }.apply(&after).unwrap();
    assert_eq!(back, design);
    let after = Command::RenameObstacle { from: "socket".into(), to: "double socket".into() }.apply(&design).unwrap();
    assert_eq!(after.site.obstacles[0].name, "double socket");
    assert_eq!(after.things["crate"].lead.as_ref().unwrap().socket.as_deref(), Some("double socket"));
    assert_eq!(faults(&after).len(), faults(&design).len());
}

#[test]
fn a_socket_that_is_removed_is_no_longer_asked_for() {
    let after = Command::RemoveObstacle("socket".into()).apply(&with_references()).unwrap();
    assert!(after.site.obstacles.is_empty());
    assert_eq!(after.things["crate"].lead.as_ref().unwrap().socket, None);
    assert!(after.resolve().is_ok());
}

#[test]
fn what_is_about_a_bay_goes_with_it() {
    let after = Command::Delete("crates".into()).apply(&with_references()).unwrap();
    assert!(after.carcass.openings.is_empty() && after.carcass.joints.is_empty());
    assert!(after.as_built.openings.is_empty() && after.as_built.diagonals.is_empty());
    assert!(Design::read(&after.to_ron().unwrap()).unwrap().1.is_empty());
}

#[test]
fn fronts_are_cut_from_one_board_once() {
    let design = sample::design();
    let matched = Command::MatchGrain(vec!["left".into(), "right".into()]);
    let once = matched.apply(&design).unwrap();
    assert_eq!(once.carcass.ties.len(), design.carcass.ties.len() + 1);
    assert_eq!(matched.apply(&once).unwrap(), once);
    assert!(Command::MatchGrain(vec!["left".into()]).apply(&design).is_err());
    assert!(Command::MatchGrain(vec!["left".into(), "none".into()]).apply(&design).is_err());
}
