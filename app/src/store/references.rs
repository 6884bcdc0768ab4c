//! What refers to grid lines, types and storeys, and how it follows when they change.
//!
//! Names are followed everywhere at once. Bays and storeys are told by number, so a line or
//! storey put in or taken out renumbers what lies beyond it.

use super::list::List;
use sisterframe_core::project::{Direction, FieldError, Measure, Names, Project, Span};

/// Where a reference stands, in words.
type Place<'a> = &'a dyn Fn() -> String;

/// What a name refers to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Named {
    Line,
    ColumnType,
    BeamType,
}

impl Named {
    const fn of(list: List) -> Option<Self> {
        match list {
            List::XLines | List::YLines => Some(Self::Line),
            List::ColumnTypes => Some(Self::ColumnType),
            List::BeamTypes => Some(Self::BeamType),
            _ => None,
        }
    }
}

/// Shows every name in the project that refers to something else.
fn each_name(project: &mut Project, see: &mut dyn FnMut(Named, &mut String, Place<'_>)) {
    let building = &mut project.building;
    for (row, placing) in building.columns.iter_mut().enumerate() {
        let place = || format!("row {} of “Columns where”", row + 1);
        see(Named::ColumnType, &mut placing.column, &place);
        for name in placing.x.0.iter_mut().chain(&mut placing.y.0) {
            see(Named::Line, name, &place);
        }
    }
    for (row, placing) in building.beams.iter_mut().enumerate() {
        let place = || format!("row {} of “Beams where”", row + 1);
        see(Named::BeamType, &mut placing.beam, &place);
        placing.lines.0.iter_mut().for_each(|name| see(Named::Line, name, &place));
    }
    for (row, wall) in building.walls.iter_mut().enumerate() {
        see(Named::Line, &mut wall.line, &|| format!("wall {}", row + 1));
    }
    for (row, panel) in building.masonry.iter_mut().enumerate() {
        panel.lines.0.iter_mut().for_each(|name| see(Named::Line, name, &|| format!("masonry {}", row + 1)));
    }
    for scheme in &mut project.schemes {
        let of_scheme = &scheme.name;
        for measure in &mut scheme.measures {
            let label = measure.label().to_lowercase();
            let place = || format!("{label} of scheme “{of_scheme}”");
            let mut both = |x: &mut Names, y: &mut Names| {
                x.0.iter_mut().chain(&mut y.0).for_each(|name| see(Named::Line, name, &place));
            };
            match measure {
                Measure::Jacket(own) => both(&mut own.x, &mut own.y),
                Measure::WingWall(own) => both(&mut own.x, &mut own.y),
                Measure::Release(own) => both(&mut own.x, &mut own.y),
                Measure::InfillWall(own) => see(Named::Line, &mut own.line, &place),
                Measure::ExternalFrame(own) => see(Named::Line, &mut own.face, &place),
            }
        }
    }
}

/// Shows every span of storeys.
fn each_storeys(project: &mut Project, see: &mut dyn FnMut(&mut Span, Place<'_>)) {
    let building = &mut project.building;
    let mut optional = |span: &mut Option<Span>, place: Place<'_>| {
        if let Some(span) = span {
            see(span, place);
        }
    };
    for (row, own) in building.columns.iter_mut().enumerate() {
        optional(&mut own.storeys, &|| format!("row {} of “Columns where”", row + 1));
    }
    for (row, own) in building.beams.iter_mut().enumerate() {
        optional(&mut own.storeys, &|| format!("row {} of “Beams where”", row + 1));
    }
    for (row, own) in building.masonry.iter_mut().enumerate() {
        optional(&mut own.storeys, &|| format!("masonry {}", row + 1));
    }
    for scheme in &mut project.schemes {
        let of_scheme = &scheme.name;
        for measure in &mut scheme.measures {
            let label = measure.label().to_lowercase();
            let place = || format!("{label} of scheme “{of_scheme}”");
            match measure {
                Measure::Jacket(own) => optional(&mut own.storeys, &place),
                Measure::WingWall(own) => optional(&mut own.storeys, &place),
                Measure::Release(own) => optional(&mut own.storeys, &place),
                Measure::InfillWall(own) => optional(&mut own.storeys, &place),
                Measure::ExternalFrame(own) => {
                    let mut span = own.storeys.map(|last| Span { first: 1, last });
                    optional(&mut span, &place);
                    own.storeys = span.map(|span| span.last);
                }
            }
        }
    }
    for (row, own) in project.building.walls.iter_mut().enumerate() {
        see(&mut own.storeys, &|| format!("wall {}", row + 1));
    }
    for own in &mut project.building.rooms.own {
        let mut span = Span { first: own.storey, last: own.storey };
        see(&mut span, &|| format!("room “{}”", own.name));
        own.storey = span.first;
    }
}

/// Shows every span of bays along lines of a direction. A row for lines of both directions
/// counts bays along each and belongs to neither.
fn each_bays(project: &mut Project, along: Direction, see: &mut dyn FnMut(&mut Span, Place<'_>)) {
    let lines = match along {
        Direction::X => &project.building.y_lines,
        Direction::Y => &project.building.x_lines,
    };
    let own: Vec<String> = lines.iter().map(|line| line.name.clone()).collect();
    let all_along = |names: &Names| !names.0.is_empty() && names.0.iter().all(|name| own.contains(name));
    let building = &mut project.building;
    for (row, placing) in building.beams.iter_mut().enumerate() {
        if let (true, Some(span)) = (all_along(&placing.lines), &mut placing.bays) {
            see(span, &|| format!("row {} of “Beams where”", row + 1));
        }
    }
    for (row, panel) in building.masonry.iter_mut().enumerate() {
        if let (true, Some(span)) = (all_along(&panel.lines), &mut panel.bays) {
            see(span, &|| format!("masonry {}", row + 1));
        }
    }
    for (row, wall) in building.walls.iter_mut().enumerate() {
        if own.contains(&wall.line) {
            let mut span = Span { first: wall.bay, last: wall.bay };
            see(&mut span, &|| format!("wall {}", row + 1));
            // Where its bay is split, a wall stands in the first part.
            wall.bay = span.first;
        }
    }
    for own in &mut building.rooms.own {
        let span = if along == Direction::X { &mut own.bays } else { &mut own.strips };
        see(span, &|| format!("room “{}”", own.name));
    }
    if along == Direction::Y {
        for strip in &mut building.rooms.corridor_strips.0 {
            let mut span = Span { first: *strip, last: *strip };
            see(&mut span, &|| "the corridors".to_owned());
            *strip = span.first;
        }
    }
    for scheme in &mut project.schemes {
        let of_scheme = &scheme.name;
        for measure in &mut scheme.measures {
            let label = measure.label().to_lowercase();
            let place = || format!("{label} of scheme “{of_scheme}”");
            match measure {
                Measure::InfillWall(wall) if own.contains(&wall.line) => see(&mut wall.bays, &place),
                Measure::ExternalFrame(frame) if own.contains(&frame.face) => see(&mut frame.bays, &place),
                _ => {}
            }
        }
    }
}

/// Lets everything that refers to rows of a list follow their new names and places. `now`
/// gives for each old row its new place and name, or `None` if it goes.
///
/// # Errors
/// Where something still refers to a row that goes: in words, with the places.
pub fn follow(project: &mut Project, list: List, now: &[Option<(usize, Option<String>)>]) -> Result<(), FieldError> {
    let places: Vec<Option<usize>> = now.iter().map(|row| row.as_ref().map(|(place, _)| *place)).collect();
    match list {
        List::Storeys => renumber(project, list, &places)?,
        List::XLines | List::YLines => {
            renumber(project, list, &places)?;
            rename(project, list, now)?;
        }
        List::ColumnTypes | List::BeamTypes => rename(project, list, now)?,
        _ => {}
    }
    Ok(())
}

/// The names of a list's rows.
fn names(project: &Project, list: List) -> Vec<String> {
    let building = &project.building;
    match list {
        List::XLines => building.x_lines.iter().map(|own| own.name.clone()).collect(),
        List::YLines => building.y_lines.iter().map(|own| own.name.clone()).collect(),
        List::ColumnTypes => building.column_types.iter().map(|own| own.name.clone()).collect(),
        List::BeamTypes => building.beam_types.iter().map(|own| own.name.clone()).collect(),
        _ => Vec::new(),
    }
}

fn rename(project: &mut Project, list: List, now: &[Option<(usize, Option<String>)>]) -> Result<(), FieldError> {
    let Some(kind) = Named::of(list) else { return Ok(()) };
    let mut changed: Vec<(String, Option<String>)> = Vec::new();
    for (old, row) in names(project, list).into_iter().zip(now) {
        let new = row.as_ref().and_then(|(_, name)| name.clone());
        if new.as_ref() != Some(&old) {
            changed.push((old, new));
        }
    }
    if changed.is_empty() {
        return Ok(());
    }
    let mut held: Vec<(String, String)> = Vec::new();
    each_name(project, &mut |of, name, place| {
        let own = changed.iter().find(|(old, _)| of == kind && old == name);
        match own {
            Some((_, Some(new))) => name.clone_from(new),
            Some((old, None)) => {
                let own = (old.clone(), place());
                if !held.contains(&own) {
                    held.push(own);
                }
            }
            None => {}
        }
    });
    let Some((name, _)) = held.first() else { return Ok(()) };
    let places: Vec<String> = held.iter().filter(|(own, _)| own == name).map(|(_, place)| place.clone()).collect();
    Err(still_used(list, name, "it is still named by", &places))
}

/// A refusal to take a row that something still refers to.
fn still_used(list: List, name: &str, why: &str, places: &[String]) -> FieldError {
    const NAMED: usize = 4;
    let mut words = places.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
    if places.len() > NAMED {
        words.push_str(&format!(" and {} more", places.len() - NAMED));
    }
    FieldError {
        path: list.path(),
        value: format!("“{name}”"),
        problem: format!("this {} cannot go: {why} {words}", list.row_word()).into(),
        permitted: "change or delete those first".into(),
    }
}

fn renumber(project: &mut Project, list: List, places: &[Option<usize>]) -> Result<(), FieldError> {
    let kept: Vec<usize> = places.iter().flatten().copied().collect();
    let moved = places.iter().enumerate().any(|(old, new)| *new != Some(old));
    // Rows that change places among themselves keep the numbers by place.
    if !moved || !kept.is_sorted() {
        return Ok(());
    }
    let mut lost: Vec<String> = Vec::new();
    let mut follow = |span: &mut Span, new: Option<Span>, place: Place<'_>| match new {
        Some(new) => *span = new,
        None => lost.push(place()),
    };
    match list {
        List::Storeys => each_storeys(project, &mut |span, place| {
            let within = places.iter().take(span.last as usize).skip(span.first as usize - 1).flatten();
            let (first, last) = (within.clone().min(), within.max());
            let new = first.zip(last).map(|(first, last)| Span { first: *first as u32 + 1, last: *last as u32 + 1 });
            follow(span, new, place);
        }),
        _ => {
            let along = if list == List::XLines { Direction::X } else { Direction::Y };
            each_bays(project, along, &mut |span, place| {
                // A bay whose line goes reaches to the next one that stays.
                let (low, high) = (span.first as usize - 1, span.last as usize);
                let lower = places.iter().take(low + 1).rev().flatten().next().or(places.iter().flatten().next());
                let upper = places.iter().skip(high).flatten().next().or(places.iter().flatten().next_back());
                let new = lower.zip(upper).filter(|(lower, upper)| lower < upper);
                let new = new.map(|(lower, upper)| Span { first: *lower as u32 + 1, last: *upper as u32 });
                follow(span, new, place);
            });
        }
    }
    match lost.is_empty() {
        true => Ok(()),
        false => {
            let gone = places.iter().position(Option::is_none).unwrap_or(0);
            let name =
                list.rows(project).get(gone).map_or_else(String::new, |row| list.row_name(row, gone, places.len()));
            let loss = if list == List::Storeys { "there is no storey left for" } else { "there is no bay left for" };
            Err(still_used(list, &name, loss, &lost))
        }
    }
}
