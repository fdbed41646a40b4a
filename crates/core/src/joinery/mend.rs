//! What would keep two holes apart: single changes of the design, each kept only if the piece, built again with it, no
//! longer has the two meet and has nothing new to find in its joinery.

use std::collections::BTreeMap;

use super::check::check_rest;
use super::dowels::DIN_68150_1;
use super::walls::{Meeting, Wall, walls};
use crate::as_built;
use crate::assembly::{self, Assembly, JoinedBy, Part, Purpose};
use crate::design::{JointChoice, JointKind, Resolved, Role};
use crate::finding::{Finding, Severity};
use crate::layout::Layout;
use crate::length::Length;
use crate::solve::solve;

/// How many mends are offered for one finding.
const MOST: usize = 2;
/// How many changes are tried for all findings together: each builds the piece again.
const MOST_TRIED: usize = 120;
/// How far patterns are moved, mm: a third and a half of the system pitch and that itself.
const MOVES_MM: [i64; 6] = [16, -16, 32, -32, 10, -10];
/// Usual thicknesses of boards, mm (common practice).
const USUAL_MM: [i64; 7] = [12, 15, 16, 18, 19, 22, 25];

/// A change of the design that keeps holes apart, tried out.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleMend {
    /// The change in words.
    pub words: String,
    /// What is changed.
    pub edit: HoleEdit,
}

/// One change of a design.
#[derive(Clone, Debug, PartialEq)]
pub enum HoleEdit {
    /// One more choice for a joint, after all that are there.
    Joint(JointChoice<Length>),
    /// The parts of this role are of another material of the design.
    Board(Role, String),
    /// A material is so thick.
    Thickness(String, Length),
}

impl HoleEdit {
    /// Which way it goes about it: the pattern, the dowels, the board.
    const fn way(&self) -> usize {
        match self {
            Self::Joint(choice) if choice.by.is_none() => 0,
            Self::Joint(_) => 1,
            Self::Board(..) | Self::Thickness(..) => 2,
        }
    }

    /// The design with the change.
    #[must_use]
    pub fn applied(&self, design: &Resolved) -> Resolved {
        let mut changed = design.clone();
        match self {
            Self::Joint(choice) => changed.carcass.joints.push(choice.clone()),
            Self::Board(role, material) => {
                changed.carcass.construction.boards.insert(*role, material.clone());
            }
            Self::Thickness(material, to) => {
                if let Some(material) = changed.materials.get_mut(material) {
                    material.thickness = *to;
                }
            }
        }
        changed
    }
}

/// As [`check()`](super::check()), and for holes that meet each other or a groove it says what keeps them apart, tried out.
#[must_use]
pub fn check_and_mend(design: &Resolved, layout: &Layout, assembly: &Assembly) -> Vec<Finding> {
    let (thin, rest) = (walls(assembly), check_rest(assembly));
    let tried = tried(design, layout, assembly, &thin, &rest);
    let mended = thin.into_iter().zip(tried).map(|(wall, mends)| {
        let mut finding = wall.finding;
        if let (Some(mends), Some(meeting)) = (mends, wall.between) {
            let words: Vec<&str> = mends.iter().map(|it| it.words.as_str()).collect();
            finding.mend = Some(if words.is_empty() {
                format!("{}; no other pattern, dowels or board that was tried keeps them apart", meeting.apart)
            } else {
                format!("{}; built again, each keeps them apart", words.join(", or "))
            });
        }
        finding
    });
    mended.chain(rest).collect()
}

/// For each wall the changes that were tried and help; none where a hole comes near the outside, or where too much was
/// tried already.
pub(super) fn tried(
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    thin: &[Wall],
    rest: &[Finding],
) -> Vec<Option<Vec<HoleMend>>> {
    let before = tally(thin, rest);
    let mut left = MOST_TRIED;
    // Holes of one joint meet those of another more than once: what mends the first is tried but once.
    let mut known: BTreeMap<(usize, &[Purpose; 2]), Vec<HoleMend>> = BTreeMap::new();
    let mends = thin.iter().map(|wall| {
        let meeting = wall.between.as_ref()?;
        let key = (meeting.part, &meeting.purposes);
        if !known.contains_key(&key) && left == 0 {
            return None;
        }
        Some(known.entry(key).or_insert_with(|| mends(design, layout, assembly, meeting, &before, &mut left)).clone())
    });
    mends.collect()
}

/// Changes that keep the two cuts of a meeting apart.
fn mends(
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    meeting: &Meeting,
    before: &Tally,
    left: &mut usize,
) -> Vec<HoleMend> {
    let Some(part) = assembly.parts.get(meeting.part) else { return Vec::new() };
    let mut found: Vec<HoleMend> = Vec::new();
    for mend in candidates(design, assembly, part, meeting) {
        if found.len() >= MOST || *left == 0 {
            break;
        }
        // One of each way: two moves of one pattern are no choice.
        if found.iter().any(|it| it.edit.way() == mend.edit.way()) {
            continue;
        }
        *left -= 1;
        if keeps_apart(design, layout, part, meeting, before, &mend.edit) {
            found.push(mend);
        }
    }
    found
}

/// Whether the piece with this change has the two apart, and nothing new to find.
fn keeps_apart(
    design: &Resolved,
    layout: &Layout,
    part: &Part,
    meeting: &Meeting,
    before: &Tally,
    edit: &HoleEdit,
) -> bool {
    let changed = edit.applied(design);
    let built = match edit {
        // How parts are joined decides no size of the layout.
        HoleEdit::Joint(_) => assembly::build(&changed, layout).ok(),
        HoleEdit::Board(..) | HoleEdit::Thickness(..) => {
            solve(&changed).ok().and_then(|solved| assembly::build(&changed, &solved.layout).ok())
        }
    };
    let Some(mut built) = built else { return false };
    as_built::freeze(&changed, &mut built);
    let thin = walls(&built);
    let same = |it: &Meeting| {
        let other = built.parts.get(it.part).map(|it| it.number.as_str());
        other == Some(part.number.as_str()) && it.purposes == meeting.purposes
    };
    if thin.iter().filter_map(|it| it.between.as_ref()).any(same) {
        return false;
    }
    let after = tally(&thin, &check_rest(&built));
    after.iter().all(|(key, count)| before.get(key).is_some_and(|was| count <= was))
}

/// How often each kind of finding is there about the same parts.
type Tally = BTreeMap<(&'static str, Severity, Vec<String>), usize>;

fn tally(thin: &[Wall], rest: &[Finding]) -> Tally {
    let mut tally = Tally::new();
    for finding in thin.iter().map(|it| &it.finding).chain(rest) {
        *tally.entry((finding.check, finding.severity, finding.about.clone())).or_default() += 1;
    }
    tally
}

fn candidates(design: &Resolved, assembly: &Assembly, part: &Part, meeting: &Meeting) -> Vec<HoleMend> {
    let mut all = Vec::new();
    let mut joints: Vec<usize> = meeting.joints.iter().flatten().copied().collect();
    joints.dedup();
    // What was laid later gives way first.
    joints.sort_unstable_by(|a, b| b.cmp(a));
    for &index in &joints {
        let Some(joint) = assembly.joints.get(index) else { continue };
        let (Some(face), Some(edge)) = (assembly.parts.get(joint.face_part), assembly.parts.get(joint.edge_part))
        else {
            continue;
        };
        let pair = format!("{} and {}", edge.number, face.number);
        let choice = |by, shift| JointChoice {
            of: edge.role,
            bay: Some(edge.bay.clone()),
            to: Some(face.role),
            to_bay: Some(face.bay.clone()),
            by,
            shift,
        };
        let mut add = |words: String, choice| all.push(HoleMend { words, edit: HoleEdit::Joint(choice) });
        for by in MOVES_MM {
            let way = if by > 0 { "further from" } else { "nearer to" };
            let words = format!("the pattern between {pair} {} mm {way} its datum end", by.abs());
            add(words, choice(None, Some(Length::from_mm(by))));
        }
        if let JoinedBy::Dowels { diameter, length, with_screws } = joint.kind {
            let thick = edge.finished.thickness;
            for (d, l) in DIN_68150_1 {
                let (other, long) = (Length::from_mm(d), Length::from_mm(l));
                // No larger than what is there, and of a diameter that suits the edge.
                let suits = other * 5 >= thick * 2 && other * 5 <= thick * 3;
                if (other, long) == (diameter, length) || other > diameter || long > length || !suits {
                    continue;
                }
                let size = format!("{d}x{l}");
                let words = format!("dowels {size} between {pair}");
                let kind = if with_screws { JointKind::DowelledAndScrewed(size) } else { JointKind::Dowelled(size) };
                add(words, choice(Some(kind), None));
            }
        }
    }
    all.extend(instead_of_grooves(assembly, part, meeting));
    all.extend(thicker(design, part));
    all
}

/// Dowels where the edge of a part stands in a groove that another cut meets.
fn instead_of_grooves(assembly: &Assembly, part: &Part, meeting: &Meeting) -> Vec<HoleMend> {
    let seated = assembly.joints.iter().filter(|it| it.face_part == meeting.part && it.kind.seat().is_some());
    let of_joint = seated.filter_map(|joint| {
        let edge = assembly.parts.get(joint.edge_part)?;
        let is_seat =
            |purpose: &Purpose| matches!(purpose, Purpose::Groove { of } | Purpose::Rebate { of } if *of == edge.name);
        meeting.purposes.iter().any(is_seat).then(|| {
            let choice = JointChoice {
                of: edge.role,
                bay: Some(edge.bay.clone()),
                to: Some(part.role),
                to_bay: Some(part.bay.clone()),
                by: Some(JointKind::Dowelled("8x40".to_owned())),
                shift: None,
            };
            let words = format!("dowels 8x40 between {} and {}", edge.number, part.number);
            HoleMend { words, edit: HoleEdit::Joint(choice) }
        })
    });
    of_joint.collect()
}

/// A thicker board for the part: a material of the design, else the next usual thickness of its own.
fn thicker(design: &Resolved, part: &Part) -> Vec<HoleMend> {
    let Some(own) = design.materials.get(&part.material) else { return Vec::new() };
    let mut others: Vec<(&String, Length)> = design
        .materials
        .iter()
        .filter(|(_, it)| it.kind == own.kind && it.thickness > own.thickness)
        .map(|(name, it)| (name, it.thickness))
        .collect();
    others.sort_by_key(|it| it.1);
    if let Some((name, _)) = others.first() {
        let words = format!("{name} for every {}", part.role.word());
        return vec![HoleMend { words, edit: HoleEdit::Board(part.role, (*name).clone()) }];
    }
    let next = USUAL_MM.map(Length::from_mm).into_iter().find(|it| *it > own.thickness);
    next.map(|to| HoleMend {
        words: format!("the board {} {} mm thick", part.material, to.mm()),
        edit: HoleEdit::Thickness(part.material.clone(), to),
    })
    .into_iter()
    .collect()
}
