//! Links and pictures of the documentation lead somewhere, and every picture of the guide is shown in it.

use std::path::{Path, PathBuf};

use casewright_tests::program::root;

fn pages(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            pages(&path, into);
        } else if path.extension().is_some_and(|ending| ending == "md") {
            into.push(path);
        }
    }
}

/// Where a page's links and pictures lead, without those to other sites.
fn links(text: &str) -> Vec<String> {
    let targets = text.split("](").skip(1).filter_map(|after| after.split(')').next());
    let inner = targets.map(|target| target.split(['#', ' ']).next().unwrap_or_default().to_owned());
    inner.filter(|target| !target.is_empty() && !target.contains("://") && !target.starts_with("mailto:")).collect()
}

#[test]
fn every_link_leads_somewhere() {
    let mut all = vec![root().join("README.md"), root().join("DEVELOPERS.md")];
    pages(&root().join("docs"), &mut all);
    let mut broken = Vec::new();
    for page in &all {
        let text = std::fs::read_to_string(page).expect("a page");
        let folder = page.parent().expect("a folder");
        let missing = links(&text).into_iter().filter(|link| !folder.join(link).exists());
        broken.extend(missing.map(|link| format!("{}: {link}", page.display())));
    }
    assert_eq!(broken, Vec::<String>::new());
}

#[test]
fn every_picture_of_the_guide_is_shown() {
    let guide = root().join("docs/guide");
    let text = std::fs::read_to_string(guide.join("README.md")).expect("the guide");
    let shown = links(&text);
    for entry in std::fs::read_dir(guide.join("images")).expect("pictures") {
        let name = format!("images/{}", entry.expect("an entry").file_name().to_string_lossy());
        assert!(shown.contains(&name), "{name} is shown nowhere");
    }
    assert!(shown.len() >= 8);
}
