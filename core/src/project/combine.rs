//! Which measures exclude each other on a member.

use super::fields::{Names, Span};
use super::{Building, Direction, Measure, Scheme, Sides};

/// The first measure of a scheme that does not go with an earlier one, and why.
///
/// Jackets and wing walls exclude each other on a column; a column gets one jacket and
/// one pair of wings in a direction; an infill wall excludes a wing wall beside the same
/// bay in that direction and a release of its own sill; one external frame to a face.
pub fn combination_problem(building: &Building, scheme: &Scheme) -> Option<(usize, String)> {
    for (place, measure) in scheme.measures.iter().enumerate() {
        for earlier in &scheme.measures[..place] {
            if let Some(problem) = excluded(building, earlier, measure).or_else(|| excluded(building, measure, earlier))
            {
                return Some((place, problem));
            }
        }
    }
    None
}

/// Why two measures exclude each other.
fn excluded(building: &Building, one: &Measure, other: &Measure) -> Option<String> {
    let all = building.all_storeys();
    let meet = |a: Option<Span>, b: Option<Span>| {
        let (a, b) = (a.unwrap_or(all), b.unwrap_or(all));
        a.iter().any(|storey| b.contains(storey))
    };
    let share = |(x1, y1, s1): (&Names, &Names, Option<Span>), (x2, y2, s2): (&Names, &Names, Option<Span>)| {
        meet(s1, s2)
            && building.x_lines.iter().any(|line| x1.covers(&line.name) && x2.covers(&line.name))
            && building.y_lines.iter().any(|line| y1.covers(&line.name) && y2.covers(&line.name))
    };
    match (one, other) {
        (Measure::Jacket(a), Measure::Jacket(b)) if share((&a.x, &a.y, a.storeys), (&b.x, &b.y, b.storeys)) => {
            Some("a column would get two jackets".to_owned())
        }
        (Measure::Jacket(a), Measure::WingWall(b)) if share((&a.x, &a.y, a.storeys), (&b.x, &b.y, b.storeys)) => {
            Some("a column would get a jacket and a wing wall on one face".to_owned())
        }
        (Measure::WingWall(a), Measure::WingWall(b)) if share((&a.x, &a.y, a.storeys), (&b.x, &b.y, b.storeys)) => {
            if a.direction != b.direction {
                Some(
                    "a column would get wings in both directions; that corner section is outside this method"
                        .to_owned(),
                )
            } else {
                Some("a column would get wings twice in one direction".to_owned())
            }
        }
        (Measure::InfillWall(a), Measure::InfillWall(b)) => {
            let same = a.line == b.line && a.bays.iter().any(|bay| b.bays.contains(bay)) && meet(a.storeys, b.storeys);
            same.then(|| "two infill walls would stand in one bay".to_owned())
        }
        (Measure::InfillWall(a), Measure::WingWall(b)) => {
            let (direction, index) = building.line(&a.line)?;
            if direction != b.direction || !meet(a.storeys, b.storeys) {
                return None;
            }
            let (along, on_line) = match direction {
                Direction::X => (&building.x_lines, b.y.covers(&building.y_lines[index].name)),
                Direction::Y => (&building.y_lines, b.x.covers(&building.x_lines[index].name)),
            };
            let names = match direction {
                Direction::X => &b.x,
                Direction::Y => &b.y,
            };
            let beside = (a.bays.first - 1..=a.bays.last).any(|end| {
                let inside = match b.sides {
                    Sides::Both => true,
                    Sides::Higher => end < a.bays.last,
                    Sides::Lower => end > a.bays.first - 1,
                };
                inside && names.covers(&along[end as usize].name)
            });
            (on_line && beside).then(|| "a wing wall would stand inside a bay that is filled".to_owned())
        }
        (Measure::InfillWall(a), Measure::Release(b)) => {
            let (direction, index) = building.line(&a.line)?;
            let has_sill = building.masonry.iter().any(|panel| {
                panel.sill_mm.is_some()
                    && panel.lines.covers(&a.line)
                    && meet(panel.storeys, a.storeys)
                    && a.bays.iter().any(|bay| panel.bays.is_none_or(|span| span.contains(bay)))
            });
            let on_line = match direction {
                Direction::X => b.y.0.iter().any(|name| *name == building.y_lines[index].name),
                Direction::Y => b.x.0.iter().any(|name| *name == building.x_lines[index].name),
            };
            // Freeing every column of the building leaves walls alone; naming this line does not.
            (has_sill && on_line && meet(a.storeys, b.storeys)).then(|| {
                "the infill wall replaces the sill that would be cut free; free the other columns only".to_owned()
            })
        }
        (Measure::Release(a), Measure::Release(b)) if share((&a.x, &a.y, a.storeys), (&b.x, &b.y, b.storeys)) => {
            Some("a column would be freed twice".to_owned())
        }
        (Measure::ExternalFrame(a), Measure::ExternalFrame(b)) if a.face == b.face => {
            Some("two external frames would stand in front of one face".to_owned())
        }
        _ => None,
    }
}
