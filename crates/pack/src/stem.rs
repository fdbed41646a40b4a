//! The beginning of the names of all files that are made from one design.

use std::path::Path;

/// The longest stem, in bytes.
const LONGEST: usize = 80;

/// A stem for the names of written files, made of the name of the design file: letters, digits, `-` and `_`; all else
/// becomes `-`. So it can neither leave a folder nor be a name that some system keeps for itself.
#[must_use]
pub fn safe_stem(file: &Path) -> String {
    let name = file.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let mut stem = String::new();
    for letter in name.chars() {
        let kept = if letter.is_alphanumeric() || letter == '_' { letter } else { '-' };
        if stem.len() + kept.len_utf8() > LONGEST {
            break;
        }
        if !(kept == '-' && (stem.is_empty() || stem.ends_with('-'))) {
            stem.push(kept);
        }
    }
    let stem = stem.trim_end_matches('-').to_owned();
    match stem.as_str() {
        "" => "design".to_owned(),
        _ if is_kept_by_windows(&stem) => format!("{stem}-design"),
        _ => stem,
    }
}

/// Whether Windows takes a file of this name for a device.
fn is_kept_by_windows(stem: &str) -> bool {
    let stem = stem.to_ascii_lowercase();
    let is_port = |rest: &str| matches!(rest.as_bytes(), [b'1'..=b'9']);
    matches!(stem.as_str(), "con" | "prn" | "aux" | "nul")
        || ["com", "lpt"].iter().any(|port| stem.strip_prefix(port).is_some_and(is_port))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stems() {
        let check = |name: &str, expected: &str| assert_eq!(safe_stem(Path::new(name)), expected, "{name}");
        check("demo/laundry-alcove.ron", "laundry-alcove");
        check("Küche 2.ron", "Küche-2");
        check("..", "design");
        check("../.ron", "ron");
        check("a/b:c\\d*.ron", "b-c-d");
        check("con.ron", "con-design");
        check("LPT9.ron", "LPT9-design");
        check("com10.ron", "com10");
        check("---.ron", "design");
        check(&"x".repeat(300), &"x".repeat(80));
        check(&"ß".repeat(300), &"ß".repeat(40));
    }
}
