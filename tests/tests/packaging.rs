//! What a package brings along: desktop entry, metainfo and icon are valid, name each other, and are where the Debian package
//! looks for them.

use std::path::PathBuf;
use std::process::Command;

use casewright_tests::program::root;

fn packaging() -> PathBuf {
    root().join("assets/packaging")
}

/// The value of a key in a desktop entry.
fn entry(key: &str) -> String {
    let text = std::fs::read_to_string(packaging().join("casewright.desktop")).expect("the desktop entry");
    let value = text.lines().find_map(|line| line.strip_prefix(key)?.strip_prefix('='));
    value.unwrap_or_else(|| panic!("no {key}")).to_owned()
}

/// What stands in the first element of that name in the metainfo.
fn element(name: &str) -> String {
    let text = std::fs::read_to_string(packaging().join("org.example.casewright.metainfo.xml")).expect("the metainfo");
    let after = text.split_once(&format!("<{name}")).and_then(|(_, after)| after.split_once('>'));
    let value = after.and_then(|(_, after)| after.split_once("</")).map(|(value, _)| value.trim().to_owned());
    value.unwrap_or_else(|| panic!("no {name}"))
}

#[test]
fn entry_metainfo_and_window_name_each_other() {
    let desktop = std::fs::read_to_string(root().join("crates/desktop/src/lib.rs")).expect("the window");
    assert!(desktop.contains("const APP_ID: &str = \"casewright\";"), "the desktop entry is named by the app id");
    assert_eq!(entry("StartupWMClass"), "casewright");
    assert_eq!((entry("Icon"), entry("Exec")), ("casewright".to_owned(), "casewright %f".to_owned()));
    assert_eq!(element("launchable"), "casewright.desktop");
    assert_eq!(element("id"), "org.example.casewright");
    assert_eq!(element("name"), entry("Name"));
    let metainfo =
        std::fs::read_to_string(packaging().join("org.example.casewright.metainfo.xml")).expect("the metainfo");
    let version = format!("<release version=\"{}\"", env!("CARGO_PKG_VERSION"));
    assert!(metainfo.contains(&version), "the version of Cargo.toml is the newest release");
    assert_eq!(element("project_license"), "MIT OR Apache-2.0");
}

#[test]
fn the_validators_of_the_desktop_find_nothing() {
    let check = |tool: &str, args: &[&str]| match Command::new(tool).args(args).current_dir(packaging()).output() {
        Err(_) => println!("not checked: {tool} is not installed"),
        Ok(output) => {
            let said = [output.stdout, output.stderr].concat();
            assert!(output.status.success(), "{tool}: {}", String::from_utf8_lossy(&said));
        }
    };
    check("desktop-file-validate", &["casewright.desktop"]);
    check("appstreamcli", &["validate", "--no-net", "org.example.casewright.metainfo.xml"]);
}

#[test]
fn what_the_debian_package_takes_along_is_there() {
    let crate_folder = root().join("crates/casewright");
    let text = std::fs::read_to_string(crate_folder.join("Cargo.toml")).expect("Cargo.toml");
    let (_, assets) = text.split_once("assets = [").expect("assets");
    let sources = assets.lines().filter_map(|line| line.trim().strip_prefix("[\"")?.split_once('"').map(|it| it.0));
    let mut count = 0;
    for source in sources.filter(|source| !source.starts_with("target/")) {
        count += 1;
        let named = crate_folder.join(source.trim_end_matches("*.ron"));
        assert!(named.exists(), "{source}");
    }
    assert!(count >= 8, "{count}");
}
