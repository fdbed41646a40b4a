//! An old cabinet in one line: `name=office shelf, size=800x2000x400, material=white 18, thickness=18, shelves=4, ...`.

use casewright_core::Length;
use casewright_core::expr::{Dim, Scope};
use casewright_core::stock::{OldBack, OldBox, OldJoint};
use casewright_core::unit::Unit;

/// An old cabinet from one line of `key=value` parted by commas. Keys: `name`, `size` (outside width x height x depth),
/// `material`, `thickness`; and where they differ from the usual `sides` (through or between), `shelves`, `set_back`, `rows`
/// (yes or no), `joint` (dowelled, screwed, grooved), `back` (none, or the material of a back nailed on), `groove` (depth,
/// where the back stands in one).
///
/// # Errors
/// What is wrong with the line, and what to write.
pub fn read_box(line: &str, unit: Unit) -> Result<OldBox, String> {
    let scope = Scope::empty(unit);
    let length = |key: &str, text: &str| {
        Dim::new(text.trim()).eval(&scope).map_err(|error| format!("{key}: {}", error.cause)).and_then(|length| {
            if length < Length::ZERO { Err(format!("{key}: {text} is less than nothing")) } else { Ok(length) }
        })
    };
    let mut old = OldBox {
        name: String::new(),
        size: (Length::ZERO, Length::ZERO, Length::ZERO),
        material: String::new(),
        thickness: Length::ZERO,
        sides_run_through: true,
        shelves: 0,
        shelf_set_back: Length::ZERO,
        rows: false,
        joint: OldJoint::Dowelled,
        back: OldBack::None,
    };
    let mut groove = None;
    for item in line.split(',').filter(|it| !it.trim().is_empty()) {
        let (key, value) = item.split_once('=').ok_or_else(|| format!("{:?} is no key=value", item.trim()))?;
        let (key, value) = (key.trim(), value.trim());
        let wrong = || format!("{key}: {value:?} is not possible here");
        match key {
            "name" => value.clone_into(&mut old.name),
            "material" => value.clone_into(&mut old.material),
            "thickness" => old.thickness = length(key, value)?,
            "set_back" => old.shelf_set_back = length(key, value)?,
            "groove" => groove = Some(length(key, value)?),
            "shelves" => old.shelves = value.parse().map_err(|_| wrong())?,
            "size" => {
                let sides: Vec<&str> = value.split(['x', '×']).collect();
                let [width, height, depth] = sides.as_slice() else { return Err(wrong()) };
                old.size = (length(key, width)?, length(key, height)?, length(key, depth)?);
            }
            "rows" => {
                old.rows = match value {
                    "yes" => true,
                    "no" => false,
                    _ => return Err(wrong()),
                }
            }
            "sides" => {
                old.sides_run_through = match value {
                    "through" => true,
                    "between" => false,
                    _ => return Err(wrong()),
                }
            }
            "joint" => {
                old.joint = match value {
                    "dowelled" => OldJoint::Dowelled,
                    "screwed" => OldJoint::Screwed,
                    "grooved" => OldJoint::Grooved,
                    _ => return Err(wrong()),
                }
            }
            "back" if value == "none" => old.back = OldBack::None,
            "back" => old.back = OldBack::Applied(value.to_owned()),
            _ => {
                return Err(format!(
                    "there is no key {key:?}; known: name, size, material, thickness, sides, shelves, set_back, rows, joint, back, groove"
                ));
            }
        }
    }
    if let (Some(depth), OldBack::Applied(material)) = (groove, &old.back) {
        old.back = OldBack::Grooved(material.clone(), depth);
    }
    let sizes = [old.size.0, old.size.1, old.size.2, old.thickness];
    if old.name.is_empty() || old.material.is_empty() || sizes.iter().any(|it| *it <= Length::ZERO) {
        return Err("name, size, material and thickness are needed; write for example \
            `name=office shelf, size=800x2000x400, material=white 18, thickness=18`"
            .to_owned());
    }
    Ok(old)
}
