//! Edits of the bay tree and of what it holds.

use casewright_core::design::{Bay, Design, Divider, Holding, Inside, Shell, Tie, Want};
use casewright_core::expr::Dim;

use super::tree::{bay_of_thing, fresh_name, names, parent, parent_mut};
use super::{Command, Refusal, referring};

/// Makes the edit in place; the Design may be left half changed when it refuses.
pub(super) fn apply(command: &Command, design: &mut Design) -> Result<(), Refusal> {
    match command {
        Command::RenameBay { from, to } => rename_bay(design, from, to),
        Command::RenameThing { from, to } => rename_thing(design, from, to),
        Command::RenameObstacle { from, to } => rename_obstacle(design, from, to),
        Command::RemoveObstacle(name) => {
            let obstacles = &mut design.site.obstacles;
            let index = obstacles.iter().position(|it| it.name == *name);
            obstacles.remove(index.ok_or_else(|| Refusal::NoThing(name.clone()))?);
            referring::forget_obstacle(design, name);
            Ok(())
        }
        Command::AddThing { name, thing } => {
            if name.trim().is_empty() {
                return Err(Refusal::NameEmpty);
            }
            if design.things.contains_key(name) {
                return Err(Refusal::NameTaken(name.clone()));
            }
            design.things.insert(name.clone(), (**thing).clone());
            Ok(())
        }
        Command::RemoveThing(name) => {
            design.things.shift_remove(name).ok_or_else(|| Refusal::NoThing(name.clone()))?;
            take_out(&mut design.carcass.bay, name);
            Ok(())
        }
        Command::Divide { bay, across, at } => divide(design, bay, *across, at.as_ref()),
        Command::Merge(bay) => merge(design, bay),
        Command::Wrap(bay) => wrap(design, bay),
        Command::Unwrap(bay) => unwrap(design, bay),
        Command::Duplicate(bay) => duplicate(design, bay),
        Command::Delete(bay) => delete(design, bay),
        Command::Swap(a, b) => swap(design, a, b),
        Command::MatchGrain(bays) => match_grain(design, bays),
        Command::PutThing { thing, bay } => put_thing(design, thing, bay),
        Command::SetHolding { bay, by } => set_holding(design, bay, by),
        Command::MakeEqual { bays, width } => make_equal(design, bays, *width),
        Command::DragDivider { bay, width, sizes } => drag_divider(design, bay, *width, sizes),
        Command::Paste { into, bay } => paste(design, into, bay),
        Command::SetLength { .. }
        | Command::SetField { .. }
        | Command::SetParameter { .. }
        | Command::SetUnit(_)
        | Command::Replace { .. } => Ok(()),
    }
}

fn bay_of<'d>(design: &'d mut Design, name: &str) -> Result<&'d mut Bay, Refusal> {
    design.carcass.bay.named_mut(name).ok_or_else(|| Refusal::NoBay(name.to_owned()))
}

fn rename_bay(design: &mut Design, from: &str, to: &str) -> Result<(), Refusal> {
    if to.trim().is_empty() {
        return Err(Refusal::NameEmpty);
    }
    if from != to && design.carcass.bay.named(to).is_some() {
        return Err(Refusal::NameTaken(to.to_owned()));
    }
    bay_of(design, from)?.name = to.to_owned();
    referring::rename_bay(design, from, to);
    Ok(())
}

fn rename_thing(design: &mut Design, from: &str, to: &str) -> Result<(), Refusal> {
    if to.trim().is_empty() {
        return Err(Refusal::NameEmpty);
    }
    let index = design.things.get_index_of(from).ok_or_else(|| Refusal::NoThing(from.to_owned()))?;
    if from == to {
        return Ok(());
    }
    if design.things.contains_key(to) {
        return Err(Refusal::NameTaken(to.to_owned()));
    }
    if let Some(thing) = design.things.shift_remove(from) {
        design.things.shift_insert(index, to.to_owned(), thing);
    }
    for_holders(&mut design.carcass.bay, &mut |things| {
        for thing in things.iter_mut().filter(|thing| *thing == from) {
            *thing = to.to_owned();
        }
    });
    Ok(())
}

fn rename_obstacle(design: &mut Design, from: &str, to: &str) -> Result<(), Refusal> {
    if to.trim().is_empty() {
        return Err(Refusal::NameEmpty);
    }
    let obstacles = &mut design.site.obstacles;
    if from != to && obstacles.iter().any(|it| it.name == to) {
        return Err(Refusal::NameTaken(to.to_owned()));
    }
    let Some(obstacle) = obstacles.iter_mut().find(|it| it.name == from) else {
        return Err(Refusal::NoThing(from.to_owned()));
    };
    to.clone_into(&mut obstacle.name);
    referring::rename_obstacle(design, from, to);
    Ok(())
}

/// The fronts of these bays come from one board; what was asked of them before in that way no longer holds.
fn match_grain(design: &mut Design, bays: &[String]) -> Result<(), Refusal> {
    if bays.len() < 2 {
        return Err(Refusal::NotHere(bays.join(", ")));
    }
    for name in bays {
        bay_of(design, name)?;
    }
    let ties = &mut design.carcass.ties;
    ties.retain(|tie| !matches!(tie, Tie::GrainMatch(of) if of.iter().any(|bay| bays.contains(bay))));
    ties.push(Tie::GrainMatch(bays.to_vec()));
    Ok(())
}

fn for_holders(bay: &mut Bay, each: &mut dyn FnMut(&mut Vec<String>)) {
    if let Inside::Holds { things, .. } = &mut bay.inside {
        each(things);
    }
    for child in bay.children_mut() {
        for_holders(child, each);
    }
}

/// Takes a thing out of whatever bay holds it; a bay that only carried it becomes open, a drawer stays.
fn take_out(bay: &mut Bay, thing: &str) {
    if let Inside::Holds { things, by } = &mut bay.inside {
        let before = things.len();
        things.retain(|name| name != thing);
        if things.is_empty() && before > 0 && !matches!(by, Holding::Drawer { .. }) {
            bay.inside = Inside::Open { shelves: 0 };
            bay.front = bay.front.take().filter(|front| front.opens != casewright_core::design::Opens::WithHolding);
        }
    }
    for child in bay.children_mut() {
        take_out(child, thing);
    }
}

fn open_bay(name: String) -> Bay {
    Bay::plain(name, Inside::Open { shelves: 0 })
}

fn divide(design: &mut Design, name: &str, across: bool, at: Option<&Dim>) -> Result<(), Refusal> {
    let taken = names(design);
    let second = open_bay(fresh_name(name, &taken));
    let wish = at.map_or(Want::Free, |at| Want::Prefer(at.clone()));

    // A bay that is already one of a row or stack gets a neighbour, so that dividing twice makes three bays side by
    // side and not one inside the other.
    if let Some((above, index)) = parent_mut(&mut design.carcass.bay, name)
        && let (Inside::Across { bays, .. }, true) | (Inside::Up { bays, .. }, false) = (&mut above.inside, across)
        && let Some(first) = bays.get_mut(index)
    {
        let size = if across { &mut first.width } else { &mut first.height };
        // What was asked of the whole can hold for neither half.
        *size = wish;
        let share = first.share.map(|share| share / 2.0);
        first.share = share;
        let mut second = second;
        second.share = share;
        if across {
            second.height = first.height.clone();
        } else {
            second.width = first.width.clone();
        }
        bays.insert(index + 1, second);
        return Ok(());
    }

    let outer = bay_of(design, name)?;
    let inside = std::mem::replace(&mut outer.inside, Inside::Open { shelves: 0 });
    let moves = outer.front.as_ref().is_some_and(|front| front.opens == casewright_core::design::Opens::WithHolding);
    let mut first = open_bay(String::new());
    first.inside = inside;
    if moves {
        first.front = outer.front.take();
    }
    let taken = [taken, vec![second.name.clone()]].concat();
    first.name = fresh_name(name, &taken);
    *(if across { &mut first.width } else { &mut first.height }) = wish;
    let bays = vec![first, second];
    outer.inside =
        if across { Inside::Across { bays, by: Divider::Panel } } else { Inside::Up { bays, by: Divider::Panel } };
    Ok(())
}

/// The bays of the division that the named bay is one of, with its place there.
fn row_of<'d>(design: &'d mut Design, name: &str) -> Result<(&'d mut Vec<Bay>, usize), Refusal> {
    if design.carcass.bay.named(name).is_none() {
        return Err(Refusal::NoBay(name.to_owned()));
    }
    match parent_mut(&mut design.carcass.bay, name) {
        Some((above, index)) => match &mut above.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => Ok((bays, index)),
            _ => Err(Refusal::NotHere(name.to_owned())),
        },
        None => Err(Refusal::NotHere(name.to_owned())),
    }
}

fn merge(design: &mut Design, name: &str) -> Result<(), Refusal> {
    let (bays, index) = row_of(design, name)?;
    if index + 1 >= bays.len() {
        return Err(Refusal::NotHere(name.to_owned()));
    }
    let next = bays.remove(index + 1);
    let Some(first) = bays.get_mut(index) else { return Err(Refusal::NotHere(name.to_owned())) };
    if let (Inside::Open { .. }, false) = (&first.inside, matches!(next.inside, Inside::Open { .. })) {
        first.inside = next.inside;
        first.front = first.front.take().or(next.front);
    }
    first.width = Want::Free;
    first.height = Want::Free;
    first.share = match (first.share, next.share) {
        (None, None) => None,
        (a, b) => Some(a.unwrap_or(1.0) + b.unwrap_or(1.0)),
    };
    collapse(design, name);
    referring::forget_gone(design);
    Ok(())
}

/// A division with one bay left is no division: its bay's content becomes that of the divided one.
fn collapse(design: &mut Design, child: &str) {
    let Some((above, _)) = parent_mut(&mut design.carcass.bay, child) else { return };
    if let Inside::Across { bays, .. } | Inside::Up { bays, .. } = &mut above.inside
        && bays.len() == 1
        && let Some(only) = bays.pop()
    {
        above.inside = only.inside;
        above.front = above.front.take().or(only.front);
    }
}

fn wrap(design: &mut Design, name: &str) -> Result<(), Refusal> {
    let taken = names(design);
    let outer = bay_of(design, name)?;
    let mut inner = open_bay(fresh_name(name, &taken));
    inner.inside = std::mem::replace(&mut outer.inside, Inside::Open { shelves: 0 });
    inner.front = outer.front.take();
    outer.inside = Inside::Boxed { shell: Shell { gap: None, construction: None, joint: None }, bay: Box::new(inner) };
    Ok(())
}

fn unwrap(design: &mut Design, name: &str) -> Result<(), Refusal> {
    let outer = bay_of(design, name)?;
    match std::mem::replace(&mut outer.inside, Inside::Open { shelves: 0 }) {
        Inside::Boxed { bay, .. } => {
            outer.inside = bay.inside;
            outer.front = outer.front.take().or(bay.front);
            referring::forget_gone(design);
            Ok(())
        }
        _ => Err(Refusal::NotHere(name.to_owned())),
    }
}

/// The bay with fresh names throughout and without its things, which stand in the original.
fn copied(bay: &Bay, taken: &mut Vec<String>, keep_things: bool) -> Bay {
    let mut copy = bay.clone();
    freshen(&mut copy, taken, keep_things);
    copy
}

fn freshen(bay: &mut Bay, taken: &mut Vec<String>, keep_things: bool) {
    bay.name = fresh_name(&bay.name, taken);
    taken.push(bay.name.clone());
    if let Inside::Holds { things, by } = &mut bay.inside
        && !keep_things
    {
        things.clear();
        if !matches!(by, Holding::Drawer { .. }) {
            bay.inside = Inside::Open { shelves: 0 };
            bay.front = bay.front.take().filter(|front| front.opens != casewright_core::design::Opens::WithHolding);
        }
    }
    for child in bay.children_mut() {
        freshen(child, taken, keep_things);
    }
}

fn duplicate(design: &mut Design, name: &str) -> Result<(), Refusal> {
    let mut taken = names(design);
    let original = design.carcass.bay.named(name).ok_or_else(|| Refusal::NoBay(name.to_owned()))?;
    let copy = copied(original, &mut taken, false);
    let (bays, index) = row_of(design, name)?;
    bays.insert(index + 1, copy);
    Ok(())
}

fn delete(design: &mut Design, name: &str) -> Result<(), Refusal> {
    if let Some((above, _)) = parent(&design.carcass.bay, name)
        && matches!(above.inside, Inside::Boxed { .. })
    {
        let outer = above.name.clone();
        bay_of(design, &outer)?.inside = Inside::Open { shelves: 0 };
        referring::forget_gone(design);
        return Ok(());
    }
    let (bays, index) = row_of(design, name)?;
    bays.remove(index);
    let left = bays.first().map(|bay| bay.name.clone());
    if let Some(left) = left.filter(|_| bays.len() == 1) {
        collapse(design, &left);
    }
    referring::forget_gone(design);
    Ok(())
}

/// The bays change places with all that is in them; what is asked of their place (size, share) stays with the place.
fn swap(design: &mut Design, a: &str, b: &str) -> Result<(), Refusal> {
    for (outer, inner) in [(a, b), (b, a)] {
        let bay = design.carcass.bay.named(outer).ok_or_else(|| Refusal::NoBay(outer.to_owned()))?;
        if bay.named(inner).is_some() {
            return Err(Refusal::NotHere(inner.to_owned()));
        }
    }
    let nothing = || open_bay(String::new());
    let mut first = std::mem::replace(bay_of(design, a)?, nothing());
    let second = bay_of(design, b)?;
    std::mem::swap(&mut first, second);
    keep_place(second, &mut first);
    // The bay at the place of `a` has lost its name, so it is the only one without.
    *bay_of(design, "")? = first;
    Ok(())
}

/// Gives each the sizes that were asked of the other's place.
fn keep_place(a: &mut Bay, b: &mut Bay) {
    std::mem::swap(&mut a.width, &mut b.width);
    std::mem::swap(&mut a.height, &mut b.height);
    std::mem::swap(&mut a.share, &mut b.share);
}

fn put_thing(design: &mut Design, thing: &str, name: &str) -> Result<(), Refusal> {
    if !design.things.contains_key(thing) {
        return Err(Refusal::NoThing(thing.to_owned()));
    }
    let target = design.carcass.bay.named(name).ok_or_else(|| Refusal::NoBay(name.to_owned()))?;
    if !target.children().is_empty() {
        return Err(Refusal::NotHere(name.to_owned()));
    }
    if bay_of_thing(design, thing).as_deref() != Some(name) {
        take_out(&mut design.carcass.bay, thing);
    }
    let target = bay_of(design, name)?;
    match &mut target.inside {
        Inside::Holds { things, .. } if things.iter().any(|name| name == thing) => {}
        Inside::Holds { things, .. } => things.push(thing.to_owned()),
        _ => target.inside = Inside::Holds { things: vec![thing.to_owned()], by: Holding::Standing },
    }
    Ok(())
}

fn set_holding(design: &mut Design, name: &str, holding: &Holding) -> Result<(), Refusal> {
    let bay = bay_of(design, name)?;
    match &mut bay.inside {
        Inside::Holds { by, .. } => *by = holding.clone(),
        Inside::Open { .. } => bay.inside = Inside::Holds { things: Vec::new(), by: holding.clone() },
        _ => return Err(Refusal::NotHere(name.to_owned())),
    }
    Ok(())
}

fn make_equal(design: &mut Design, bays: &[String], width: bool) -> Result<(), Refusal> {
    if bays.len() < 2 {
        return Err(Refusal::NotHere(bays.join(", ")));
    }
    for name in bays {
        let bay = bay_of(design, name)?;
        let size = if width { &mut bay.width } else { &mut bay.height };
        if matches!(size, Want::Prefer(_)) {
            *size = Want::Free;
        }
    }
    let tie = if width { Tie::SameWidth(bays.to_vec()) } else { Tie::SameHeight(bays.to_vec()) };
    if !design.carcass.ties.contains(&tie) {
        design.carcass.ties.push(tie);
    }
    Ok(())
}

/// A size that is dragged stays fixed if it was; one that was free becomes a preference; bounds stay what they are.
fn dragged(want: &mut Want, size: &Dim) {
    match want {
        Want::Free | Want::Prefer(_) => *want = Want::Prefer(size.clone()),
        Want::Fixed(fixed) => *fixed = size.clone(),
        Want::AtLeast(_) | Want::AtMost(_) | Want::Between(..) => {}
    }
}

fn drag_divider(design: &mut Design, name: &str, width: bool, sizes: &[(String, Dim)]) -> Result<(), Refusal> {
    let (bays, _) = row_of(design, name)?;
    let last = bays.last().map(|bay| bay.name.clone());
    for bay in bays.iter_mut() {
        let is_last = last.as_ref() == Some(&bay.name);
        let want = if width { &mut bay.width } else { &mut bay.height };
        let size = sizes.iter().find(|(sized, _)| *sized == bay.name).map(|(_, size)| size);
        match (size, &want) {
            // The last takes what the others leave; a preference of its own would pull against them.
            (_, Want::Free | Want::Prefer(_)) if is_last => *want = Want::Free,
            (Some(size), _) if bay.name == name => dragged(want, size),
            (Some(size), Want::Free | Want::Prefer(_)) => *want = Want::Prefer(size.clone()),
            _ => {}
        }
    }
    Ok(())
}

fn paste(design: &mut Design, into: &str, bay: &Bay) -> Result<(), Refusal> {
    let mut taken = names(design);
    let mut copy = copied(bay, &mut taken, true);
    // A thing stands in one place only, and only if it is there at all.
    let mut homeless: Vec<String> = Vec::new();
    for_holders(&mut copy, &mut |things| homeless.extend(things.iter().cloned()));
    for thing in homeless {
        let is_free = design.things.contains_key(&thing) && bay_of_thing(design, &thing).is_none();
        if !is_free {
            take_out(&mut copy, &thing);
        }
    }
    let target = bay_of(design, into)?;
    target.inside = copy.inside;
    target.front = copy.front;
    referring::forget_gone(design);
    Ok(())
}
