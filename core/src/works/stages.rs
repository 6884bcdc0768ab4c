//! A scheme cut into stages: what of it is done when a break ends, when rooms are handed back, or
//! storey by storey. A stage is a scheme of its own that holds the members done by then, so it is
//! evaluated like any other.

use super::calendar::{Calendar, Date};
use super::programme::Programme;
use crate::measure::covers;
use crate::model::Model;
use crate::place::Place;
use crate::project::{
    Building, ExternalFrame, InfillWall, Jacket, Measure, Names, Project, Release, Scheme, Span, WingWall,
};

/// Where a stage ends.
#[derive(Clone, Debug, PartialEq)]
pub enum StageEnd {
    /// With a break.
    Break {
        /// Its name.
        name: String,
        /// Its last day.
        last: Date,
    },
    /// On a day on which rooms are handed back.
    HandedBack {
        /// The day.
        date: Date,
    },
    /// With the works.
    Works {
        /// Their last day.
        date: Date,
    },
    /// When a storey and those below it are done.
    Storey {
        /// The storey, from 1.
        storey: u32,
    },
}

/// A stage of a scheme.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// Where it ends.
    pub end: StageEnd,
    /// Members done by then; a storey of an external frame counts as one.
    pub done: usize,
    /// Members of the whole scheme.
    pub of: usize,
    /// The scheme with those members only.
    pub scheme: Scheme,
}

impl Stage {
    /// Whether the whole scheme is done.
    pub const fn is_last(&self) -> bool {
        self.done == self.of
    }
}

/// A member of a scheme with the measure that makes it alone.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Where it is.
    pub place: Place,
    /// The measure cut down to it; a storey of an external frame comes with those below.
    pub measure: Measure,
}

/// Every measure of a scheme member by member, measures in their order and members from the ground up.
pub fn parts(building: &Building, scheme: &Scheme) -> Vec<Vec<Part>> {
    let model = Model::unweighed(building, scheme);
    scheme.measures.iter().map(|measure| parts_of(measure, building, &model)).collect()
}

fn parts_of(measure: &Measure, building: &Building, model: &Model) -> Vec<Part> {
    let columns = |x: &Names, y: &Names, storeys: Option<Span>, touched: &dyn Fn(&crate::model::Column) -> bool| {
        let own = model.columns.iter().filter(|column| {
            covers(building, (x, y), storeys, (column.ix, column.iy, column.storey)) && touched(column)
        });
        let mut own: Vec<(u32, Place, [Names; 2])> = own
            .map(|column| {
                let names = [&building.x_lines[column.ix], &building.y_lines[column.iy]];
                (column.storey, model.column_place(column), names.map(|line| Names(vec![line.name.clone()])))
            })
            .collect();
        crate::order::sort_by_key(&mut own, |(storey, ..)| *storey);
        own
    };
    let alone = |storey: u32| Some(Span { first: storey, last: storey });
    match measure {
        Measure::Jacket(own) => columns(&own.x, &own.y, own.storeys, &|column| column.jacket.is_some())
            .into_iter()
            .map(|(storey, place, [x, y])| Part {
                place,
                measure: Measure::Jacket(Jacket { x, y, storeys: alone(storey), ..own.clone() }),
            })
            .collect(),
        Measure::WingWall(own) => columns(&own.x, &own.y, own.storeys, &|column| column.wings.is_some())
            .into_iter()
            .map(|(storey, place, [x, y])| Part {
                place,
                measure: Measure::WingWall(WingWall { x, y, storeys: alone(storey), ..own.clone() }),
            })
            .collect(),
        Measure::Release(own) => {
            columns(&own.x, &own.y, own.storeys, &|column| column.gap_mm.iter().any(Option::is_some))
                .into_iter()
                .map(|(storey, place, [x, y])| Part {
                    place,
                    measure: Measure::Release(Release { x, y, storeys: alone(storey), ..own.clone() }),
                })
                .collect()
        }
        Measure::InfillWall(own) => {
            let storeys = own.storeys.unwrap_or_else(|| building.all_storeys());
            let cells = storeys.iter().flat_map(|storey| own.bays.iter().map(move |bay| (storey, bay)));
            cells
                .map(|(storey, bay)| Part {
                    place: Place::Panel { line: own.line.clone(), bay, storey },
                    measure: Measure::InfillWall(InfillWall {
                        bays: Span { first: bay, last: bay },
                        storeys: alone(storey),
                        ..own.clone()
                    }),
                })
                .collect()
        }
        Measure::ExternalFrame(own) => {
            let last = model.frames.iter().find(|frame| frame.spec == *own).map_or(0, |frame| frame.storeys);
            (1..=last)
                .map(|level| Part {
                    place: Place::Slab { face: own.face.clone(), level },
                    measure: Measure::ExternalFrame(ExternalFrame { storeys: Some(level), ..own.clone() }),
                })
                .collect()
        }
    }
}

/// A scheme with those members only that are done, and how many they are. An external frame stands
/// as far up as it is done from the ground on.
pub fn with_done(scheme: &Scheme, parts: &[Vec<Part>], done: impl Fn(&Place) -> bool) -> (Scheme, usize) {
    let mut measures = Vec::new();
    let mut count = 0;
    for (measure, parts) in scheme.measures.iter().zip(parts) {
        let risen = parts.iter().take_while(|part| done(&part.place)).count();
        let own: Vec<&Part> = match measure {
            Measure::ExternalFrame(_) => parts[..risen].iter().collect(),
            _ => parts.iter().filter(|part| done(&part.place)).collect(),
        };
        count += own.len();
        match (measure, own.last()) {
            _ if own.len() == parts.len() => measures.push(measure.clone()),
            (Measure::ExternalFrame(_), Some(top)) => measures.push(top.measure.clone()),
            _ => measures.extend(own.iter().map(|part| part.measure.clone())),
        }
    }
    (Scheme { name: scheme.name.clone(), note: String::new(), measures }, count)
}

/// What of a scheme stands at the end of a day of its programme.
pub fn done_by(building: &Building, scheme: &Scheme, programme: &Programme, date: Date) -> Scheme {
    with_done(scheme, &parts(building, scheme), |place| is_done(programme, place, date)).0
}

/// Whether a member is done by the end of a day: when its last job is, whatever measure that job
/// belongs to, and the footing of a frame with it.
fn is_done(programme: &Programme, place: &Place, date: Date) -> bool {
    let footing = match place {
        Place::Slab { face, .. } => Some(Place::Footing { line: face.clone() }),
        _ => None,
    };
    let concerns = |own: &Place| own == place || footing.as_ref() == Some(own);
    let own = || programme.activities.iter().filter(|own| own.front.is_some() && concerns(&own.place));
    // Of a member without any job none is waited for, unless its jobs lie beyond the days looked ahead.
    let known = programme.figures.unplaced == 0 || own().next().is_some();
    known && own().all(|own| own.last <= date)
}

/// Stages by the programme: what is done when the building goes back into use after each break; where
/// no break meets the works, on each day on which rooms are handed back. The last stage ends with
/// the works. Ends between which no member is finished are left out.
pub fn by_programme(project: &Project, scheme: &Scheme, programme: &Programme, calendar: &Calendar) -> Vec<Stage> {
    let parts = parts(&project.building, scheme);
    let of = parts.iter().map(Vec::len).sum();
    let (begin, end) = (programme.figures.first, programme.figures.last);
    let mut ends: Vec<StageEnd> = calendar
        .breaks()
        .iter()
        .filter(|own| own.last >= begin && own.first <= end)
        .map(|own| StageEnd::Break { name: own.name.clone(), last: own.last })
        .collect();
    if ends.is_empty() {
        let mut days: Vec<Date> = programme.closures.iter().map(|closure| closure.last).collect();
        crate::order::sort_by_key(&mut days, |date| *date);
        days.dedup();
        ends.extend(days.into_iter().map(|date| StageEnd::HandedBack { date }));
    }
    ends.push(StageEnd::Works { date: end });
    let stage = |end: StageEnd| {
        let date = match &end {
            StageEnd::Break { last: date, .. } | StageEnd::HandedBack { date } | StageEnd::Works { date } => *date,
            StageEnd::Storey { .. } => return None,
        };
        let (scheme, done) = with_done(scheme, &parts, |place| is_done(programme, place, date));
        Some(Stage { end, done, of, scheme })
    };
    grown(ends.into_iter().filter_map(stage))
}

/// Stages storey by storey from the ground up.
pub fn by_storey(project: &Project, scheme: &Scheme) -> Vec<Stage> {
    let parts = parts(&project.building, scheme);
    let of = parts.iter().map(Vec::len).sum();
    let storey_of = |place: &Place| match place {
        Place::Column { storey, .. } | Place::Panel { storey, .. } | Place::Slab { level: storey, .. } => *storey,
        _ => 1,
    };
    grown((1..=project.building.storeys.len() as u32).map(|storey| {
        let (scheme, done) = with_done(scheme, &parts, |place| storey_of(place) <= storey);
        Stage { end: StageEnd::Storey { storey }, done, of, scheme }
    }))
}

/// The stages in which something is finished.
fn grown(stages: impl Iterator<Item = Stage>) -> Vec<Stage> {
    let mut kept: Vec<Stage> = Vec::new();
    for stage in stages {
        if stage.done > kept.last().map_or(0, |before| before.done) {
            kept.push(stage);
        }
    }
    kept
}
