//! The libraries: every licence is one that deny.toml allows, every direct one stands in docs/dependencies.md with its licence, and
//! what is shipped holds none under the exceptions made for tests.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use casewright_tests::program::root;
use serde_json::Value;

/// What cargo knows of the whole tree, on all systems.
fn metadata() -> Value {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let output = Command::new(cargo)
        .args(["metadata", "--locked", "--format-version", "1"])
        .current_dir(root())
        .output()
        .expect("cargo");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_default()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map(Vec::as_slice).unwrap_or_default()
}

/// The quoted texts between two marks of deny.toml.
fn quoted(from: &str, to: &str) -> BTreeSet<String> {
    let deny = std::fs::read_to_string(root().join("deny.toml")).expect("deny.toml");
    let (_, after) = deny.split_once(from).expect(from);
    let (within, _) = after.split_once(to).expect(to);
    within.split('"').skip(1).step_by(2).map(str::to_owned).collect()
}

/// Whether a licence expression of SPDX can be met by what is allowed. The old `/` stands for `OR`.
fn is_met(expression: &str, allowed: &BTreeSet<String>) -> bool {
    let expression = expression.replace('/', " OR ");
    let words: Vec<String> =
        expression.replace('(', " ( ").replace(')', " ) ").split_whitespace().map(str::to_owned).collect();
    let mut at = 0;
    any(&words, &mut at, allowed) && at == words.len()
}

fn any(words: &[String], at: &mut usize, allowed: &BTreeSet<String>) -> bool {
    let mut met = all(words, at, allowed);
    while words.get(*at).is_some_and(|word| word == "OR") {
        *at += 1;
        met |= all(words, at, allowed);
    }
    met
}

fn all(words: &[String], at: &mut usize, allowed: &BTreeSet<String>) -> bool {
    let mut met = one(words, at, allowed);
    while words.get(*at).is_some_and(|word| word == "AND") {
        *at += 1;
        met &= one(words, at, allowed);
    }
    met
}

fn one(words: &[String], at: &mut usize, allowed: &BTreeSet<String>) -> bool {
    let Some(word) = words.get(*at) else { return false };
    *at += 1;
    if word == "(" {
        let met = any(words, at, allowed);
        *at += 1;
        return met;
    }
    let mut name = word.clone();
    if words.get(*at).is_some_and(|word| word == "WITH") {
        name = format!("{name} WITH {}", words.get(*at + 1).map(String::as_str).unwrap_or_default());
        *at += 2;
    }
    allowed.contains(&name)
}

#[test]
fn licence_expressions_are_understood() {
    let allowed: BTreeSet<String> = ["MIT", "Zlib", "Apache-2.0 WITH LLVM-exception"].map(str::to_owned).into();
    for (expression, expected) in [
        ("MIT", true),
        ("GPL-2.0", false),
        ("GPL-2.0 OR MIT", true),
        ("Unlicense/MIT", true),
        ("MIT AND GPL-2.0", false),
        ("(GPL-2.0 OR MIT) AND Zlib", true),
        ("(GPL-2.0 OR MIT) AND Unicode-3.0", false),
        ("Apache-2.0 WITH LLVM-exception OR GPL-2.0", true),
        ("Apache-2.0", false),
        ("", false),
    ] {
        assert_eq!(is_met(expression, &allowed), expected, "{expression}");
    }
}

#[test]
fn licences_are_allowed_and_the_exceptions_are_not_shipped() {
    let metadata = metadata();
    let allowed = quoted("allow = [", "]\nconfidence");
    let excepted = quoted("crate = ", "}]");
    assert!(allowed.len() > 5 && excepted.len() == 1, "{allowed:?} {excepted:?}");
    let packages: BTreeMap<&str, &Value> =
        list(&metadata, "packages").iter().map(|package| (text(package, "id"), package)).collect();
    let mut refused = Vec::new();
    for package in packages.values() {
        let (name, licence) = (text(package, "name"), text(package, "license"));
        if !is_met(licence, &allowed) && !excepted.contains(name) {
            refused.push(format!("{name}: {licence:?}"));
        }
        let source = text(package, "source");
        let is_ours = source.is_empty() && name.starts_with("casewright");
        assert!(is_ours || source.contains("crates.io"), "{name} comes from {source:?}");
    }
    assert_eq!(refused, Vec::<String>::new());
    // What the program is made of: everything below it but what is for tests.
    let nodes: BTreeMap<&str, &Value> =
        list(&metadata["resolve"], "nodes").iter().map(|node| (text(node, "id"), node)).collect();
    let program = packages.iter().find(|(_, package)| text(package, "name") == "casewright").expect("the program").0;
    let mut shipped = vec![*program];
    let mut at = 0;
    while let Some(id) = shipped.get(at).copied() {
        for dependency in nodes.get(id).map(|node| list(node, "deps")).unwrap_or_default() {
            let is_for_tests = list(dependency, "dep_kinds").iter().all(|kind| text(kind, "kind") == "dev");
            if !is_for_tests && !shipped.contains(&text(dependency, "pkg")) {
                shipped.push(text(dependency, "pkg"));
            }
        }
        at += 1;
    }
    assert!(shipped.len() > 100, "{}", shipped.len());
    for id in shipped {
        let name = text(packages[id], "name");
        assert!(!excepted.contains(name), "{name} is for tests only, but is shipped");
    }
}

#[test]
fn direct_dependencies_stand_in_the_documentation() {
    let metadata = metadata();
    let page = std::fs::read_to_string(root().join("docs/dependencies.md")).expect("the page");
    let rows: Vec<(Vec<&str>, &str)> = page
        .lines()
        .filter_map(|line| {
            let cells: Vec<&str> = line.strip_prefix("| ")?.split(" | ").collect();
            Some((cells.first()?.split(", ").collect(), *cells.get(2)?))
        })
        .collect();
    let mut missing = Vec::new();
    let mut named = BTreeSet::new();
    let members: Vec<&str> = list(&metadata, "workspace_members").iter().filter_map(Value::as_str).collect();
    for package in list(&metadata, "packages").iter().filter(|package| members.contains(&text(package, "id"))) {
        for dependency in list(package, "dependencies").iter().filter(|it| it["path"].is_null()) {
            let name = text(dependency, "name");
            named.insert(name.to_owned());
            let Some((_, said)) = rows.iter().find(|(names, _)| names.contains(&name)) else {
                missing.push(format!("{name} is not in docs/dependencies.md"));
                continue;
            };
            let licences: BTreeSet<&str> = list(&metadata, "packages")
                .iter()
                .filter(|package| text(package, "name") == name)
                .flat_map(|package| text(package, "license").split([' ', '/', '(', ')']))
                .filter(|word| !matches!(*word, "" | "OR" | "AND" | "WITH"))
                .collect();
            missing.extend(
                licences
                    .iter()
                    .filter(|it| !said.contains(**it))
                    .map(|it| format!("{name}: {it} is not said, but {said}")),
            );
        }
    }
    // The fuzzing workspace has one of its own.
    named.insert("libfuzzer-sys".to_owned());
    let gone = rows.iter().flat_map(|(names, _)| names).filter(|name| **name != "crate" && !named.contains(**name));
    missing.extend(gone.map(|name| format!("{name} is in docs/dependencies.md, but used nowhere")));
    missing.sort();
    missing.dedup();
    assert_eq!(missing, Vec::<String>::new());
}
