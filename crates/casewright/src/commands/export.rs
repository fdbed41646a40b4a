//! `casewright export`: the sheets as PDF and SVG, the lists as CSV.

use std::path::Path;

use crate::failure::{CLEAN, Failure};
use crate::source::Source;
use crate::{files, lists, print};

/// Writes everything into the folder, named after the design file.
///
/// # Errors
/// The design cannot be read or cannot be solved; something cannot be written.
pub(crate) fn run(file: &Path, out: &Path) -> Result<u8, Failure> {
    let work = Source::read(file)?.derive()?;
    let stem = files::safe_stem(file);
    let written = vec![
        (format!("{stem}-parts.csv"), lists::parts(&work)?),
        (format!("{stem}-banding.csv"), lists::banding(&work)?),
        (format!("{stem}-fittings.csv"), lists::fittings(&work)?),
    ];
    files::write_into_folder(out, &written)?;
    for (name, _) in &written {
        print(&format!("{}\n", out.join(name).display()))?;
    }
    Ok(CLEAN)
}
