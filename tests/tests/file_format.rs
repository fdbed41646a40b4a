//! docs/file-format.md is what the types of the design file say: every field is documented, every example can be read, and
//! what the page lists is what the reader knows.

use casewright_core::design::{Design, SCHEMA};
use casewright_core::pipeline::derive;
use casewright_tests::file_format::examples;
use casewright_tests::file_format::page::{FILES, LAST_FILES, page};
use casewright_tests::file_format::types::{Shape, Sources};
use casewright_tests::program::root;

fn sources() -> Sources {
    let files: Vec<&str> = FILES.into_iter().chain(LAST_FILES).collect();
    Sources::read(&root().join("crates/core/src"), &files).expect("sources")
}

#[test]
fn the_page_is_up_to_date() {
    let text = page(&sources()).unwrap_or_else(|faults| panic!("{}", faults.join("\n")));
    let file = root().join("docs/file-format.md");
    if std::env::var_os("CASEWRIGHT_BLESS").is_some() {
        std::fs::write(&file, &text).expect("the page");
    }
    let old = std::fs::read_to_string(&file).unwrap_or_default();
    let differing = old.lines().zip(text.lines()).find(|(old, new)| old != new);
    assert!(
        old == text,
        "docs/file-format.md is old, first at {differing:?}; renew it with CASEWRIGHT_BLESS=1 cargo test --workspace --test file_format"
    );
}

#[test]
fn every_example_can_be_read() {
    let faults: Vec<String> = examples::all()
        .iter()
        .filter_map(|example| (example.fault)(example.text).map(|fault| format!("{}: {fault}", example.of)))
        .collect();
    assert_eq!(faults, Vec::<String>::new());
    // The reader is the strict one: what no type has is refused.
    let site = examples::all().into_iter().find(|example| example.of == "Niche").expect("an example");
    assert!((site.fault)("(width: 900, heigth: 2400)").is_some_and(|fault| fault.contains("heigth")));
}

#[test]
fn the_page_lists_what_the_reader_knows() {
    let sources = sources();
    for example in examples::all() {
        let Some(kind) = sources.kinds.get(example.of) else { panic!("{} is in no source", example.of) };
        let listed: Vec<&str> = match &kind.shape {
            Shape::Fields(fields) => fields.iter().map(|field| field.name.as_str()).collect(),
            Shape::Choice(variants) => variants.iter().map(|variant| variant.name.as_str()).collect(),
            Shape::Plain => continue,
        };
        assert_eq!((example.names)(), listed, "{}", example.of);
    }
}

/// Of each schema a file is kept as it was written then; a change of the types that breaks it wants a migration.
#[test]
fn a_file_of_each_schema_is_still_read() {
    let kept = [(1, 34, "Laundry alcove")];
    assert_eq!(kept.len(), usize::try_from(SCHEMA).expect("a small number"), "keep a file of each schema");
    for (schema, parts, title) in kept {
        let file = root().join(format!("tests/data/schema/{schema}.ron"));
        let text = std::fs::read_to_string(&file).expect("the file");
        assert!(text.contains(&format!("schema: {schema},")));
        let design = Design::from_ron(&text).unwrap_or_else(|faults| panic!("{}: {faults:?}", file.display()));
        assert_eq!(design.title, title);
        let derived = derive(&design).expect("a piece");
        assert_eq!(derived.assembly.parts.len(), parts);
    }
}

#[test]
fn a_field_without_documentation_is_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = "//! About.\n\n/// A thing.\n#[derive(Deserialize)]\npub struct Design {\n    pub bare: String,\n}\n";
    std::fs::write(folder.path().join("a.rs"), text).expect("a file");
    let sources = Sources::read(folder.path(), &["a.rs"]).expect("sources");
    assert_eq!(sources.faults, ["a.rs: Design.bare has no documentation"]);
    assert!(page(&sources).is_err());
}
