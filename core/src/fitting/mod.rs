//! What fits at a place of a building: measures to try there, and what each would bring.
//!
//! A place may be a column, a bay, a line or a storey; how far a measure reaches from there is a
//! choice of its own. Every measure offered is one the project file accepts; every one that is
//! not carries the reason. What it brings is the evaluation of the project with it, nothing less.

mod gain;
mod places;
mod spot;
pub mod start;

pub use gain::{Capacity, Gain, capacity, changed, gain};
pub use places::{faces, from_middle, panels, usual_bays};
pub use spot::{Reach, Spot};

use crate::model::Model;
use crate::phrase::Phrase;
use crate::project::{Building, Direction, GridLine, Measure, Names, Project, Scheme, Span};
use crate::study::OptionKind;
use crate::units::System;

/// A measure to try at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The measure with the values it would start with.
    pub measure: Measure,
    /// Why it does not fit, in words.
    pub problem: Option<Phrase>,
}

/// The measures of an option: those of its scheme, none for the building as it stands and a rebuild.
fn scheme_of(project: &Project, option: OptionKind) -> Scheme {
    match option {
        OptionKind::Scheme { index } => project.schemes.get(index).cloned(),
        OptionKind::AsItStands | OptionKind::Rebuild => None,
    }
    .unwrap_or_else(|| Scheme { name: "Measures tried".to_owned(), note: String::new(), measures: Vec::new() })
}

/// Measures of every kind that makes sense at a place, with that reach, in round numbers of the units shown; those
/// that do not fit say why.
pub fn fits(project: &Project, option: OptionKind, spot: Spot, reach: Reach, system: System) -> Vec<Fit> {
    let building = &project.building;
    let scheme = scheme_of(project, option);
    let before = Model::unweighed(building, &scheme);
    let problem = |measure: &Measure| {
        let mut scheme = scheme.clone();
        scheme.measures.push(measure.clone());
        let tried = Project { schemes: vec![scheme], ..project.clone() };
        if let Err(error) = tried.check() {
            // A combination has no value of its own, so there is no range to add.
            let mut problem = error.problem;
            if !error.value.is_empty() {
                problem.extend([Phrase::from("; "), error.permitted]);
            }
            return Some(problem);
        }
        (Model::unweighed(building, &tried.schemes[0]) == before).then(|| nothing_to_do(measure).into())
    };
    let all = candidates(building, spot, reach).into_iter().map(|own| start::measure_in(own, building, system));
    all.map(|measure| Fit { problem: problem(&measure), measure }).collect()
}

/// Why a measure that is accepted changes nothing.
const fn nothing_to_do(measure: &Measure) -> &'static str {
    match measure {
        Measure::Jacket(_) => "no column stands here",
        Measure::WingWall(_) => "no free bay lies beside a column here in that direction",
        Measure::InfillWall(_) | Measure::ExternalFrame(_) => "nothing stands here to join it to",
        Measure::Release(_) => "no sill wall holds a column here",
    }
}

/// The columns and storeys of a measure on columns.
struct Columns {
    x: Names,
    y: Names,
    storeys: Option<Span>,
}

impl Columns {
    fn jacket(&self) -> Measure {
        let mut jacket = start::jacket(self.x.clone(), self.y.clone());
        jacket.storeys = self.storeys;
        Measure::Jacket(jacket)
    }

    fn wings(&self, building: &Building, direction: Direction) -> Measure {
        let mut wings = start::wing_wall(building, direction, self.x.clone(), self.y.clone());
        wings.storeys = self.storeys;
        Measure::WingWall(wings)
    }

    fn release(&self) -> Measure {
        let mut release = start::release(self.x.clone(), self.y.clone());
        release.storeys = self.storeys;
        Measure::Release(release)
    }
}

fn infill(building: &Building, line: &str, bays: Span, storeys: Option<Span>) -> Measure {
    let mut wall = start::infill_wall(building, line, bays);
    wall.storeys = storeys;
    Measure::InfillWall(wall)
}

/// A frame from the ground up to a storey.
fn frame(building: &Building, face: &str, bays: Span, up_to: Option<u32>) -> Measure {
    let mut frame = start::external_frame(building, face, bays);
    frame.storeys = up_to.filter(|storey| *storey < building.storeys.len() as u32);
    Measure::ExternalFrame(frame)
}

fn name(lines: &[GridLine], place: usize) -> Names {
    Names(lines.get(place).map(|line| line.name.clone()).into_iter().collect())
}

/// What could be tried there, whether it fits or not.
fn candidates(building: &Building, spot: Spot, reach: Reach) -> Vec<Measure> {
    let (x_lines, y_lines) = (&building.x_lines, &building.y_lines);
    match spot {
        Spot::Column { x, y, storey } => {
            let (all, own) = (Names::default, Some(Span { first: storey, last: storey }));
            let columns = match reach {
                Reach::AllStoreys => Columns { x: name(x_lines, x), y: name(y_lines, y), storeys: None },
                Reach::Line(Direction::X) => Columns { x: all(), y: name(y_lines, y), storeys: own },
                Reach::Line(Direction::Y) => Columns { x: name(x_lines, x), y: all(), storeys: own },
                Reach::Everywhere => Columns { x: all(), y: all(), storeys: own },
                _ => Columns { x: name(x_lines, x), y: name(y_lines, y), storeys: own },
            };
            let wings = Direction::BOTH.map(|direction| columns.wings(building, direction));
            [columns.jacket()].into_iter().chain(wings).chain([columns.release()]).collect()
        }
        Spot::Bay { direction, line, bay, storey } => {
            let own = Some(Span { first: storey, last: storey });
            let (bays, storeys) = match reach {
                Reach::AllStoreys => (Span { first: bay, last: bay }, None),
                Reach::Line(_) => (Span { first: 1, last: building.bays(direction) }, own),
                _ => (Span { first: bay, last: bay }, own),
            };
            on_line(building, (direction, line), bays, storeys, storeys.map(|_| storey))
        }
        Spot::Line { direction, line } => {
            let most = building.bays(direction);
            let bays = match reach {
                Reach::InnerBays if most > 2 => Span { first: 2, last: most - 1 },
                Reach::MiddleBay => {
                    let middle = from_middle(most).first().copied().unwrap_or(1);
                    Span { first: middle, last: middle }
                }
                _ => Span { first: 1, last: most },
            };
            on_line(building, (direction, line), bays, None, None)
        }
        Spot::Storey { storey } => {
            let storeys = match reach {
                Reach::FromGround => Some(Span { first: 1, last: storey }),
                Reach::AllStoreys => None,
                _ => Some(Span { first: storey, last: storey }),
            };
            let columns = Columns { x: Names::default(), y: Names::default(), storeys };
            let wings = Direction::BOTH.map(|direction| columns.wings(building, direction));
            let best = |direction: Direction| {
                let mut places = panels(building).into_iter();
                places.find(|(line, _)| building.line(line).is_some_and(|(own, _)| own == direction))
            };
            let walls = Direction::BOTH.into_iter().filter_map(best);
            let walls = walls.map(|(line, bay)| infill(building, &line, Span { first: bay, last: bay }, storeys));
            let mut seen: Vec<Direction> = Vec::new();
            let frames = faces(building).into_iter().filter(|(_, direction)| {
                let first = !seen.contains(direction);
                seen.push(*direction);
                first
            });
            let up_to = storeys.map(|span| span.last);
            let frames = frames
                .map(|(face, direction)| frame(building, &face.name, usual_bays(building.bays(direction)), up_to));
            let frames: Vec<Measure> = frames.collect();
            [columns.jacket()].into_iter().chain(wings).chain(walls).chain(frames).chain([columns.release()]).collect()
        }
    }
}

/// Measures on bays of a line and on the columns at their ends.
fn on_line(
    building: &Building,
    (direction, line): (Direction, usize),
    bays: Span,
    storeys: Option<Span>,
    up_to: Option<u32>,
) -> Vec<Measure> {
    let (lines, along) = match direction {
        Direction::X => (&building.y_lines, &building.x_lines),
        Direction::Y => (&building.x_lines, &building.y_lines),
    };
    let Some(own) = lines.get(line) else { return Vec::new() };
    let whole = bays.count() == building.bays(direction);
    let ends = along.iter().take(bays.last as usize + 1).skip(bays.first as usize - 1);
    let ends = if whole { Names::default() } else { Names(ends.map(|line| line.name.clone()).collect()) };
    let itself = name(lines, line);
    let (x, y) = match direction {
        Direction::X => (ends, itself),
        Direction::Y => (itself, ends),
    };
    let columns = Columns { x, y, storeys };
    vec![
        infill(building, &own.name, bays, storeys),
        columns.wings(building, direction),
        columns.jacket(),
        frame(building, &own.name, bays, up_to),
        columns.release(),
    ]
}
