//! What a programme comes to: rooms shut, loud days, breaks, weeks.

use super::drivers::drivers;
use super::placing::{Attempt, LOUD};
use super::steps::{Step, Works};
use super::weeks::{hours_of, loud_days, most_people};
use super::{Activity, Inside, Pace, Programme, Rules};
use crate::order;
use crate::works::calendar::{self, Calendar, Date, WorkDay};
use crate::works::rooms::{Room, RoomPlan};
use crate::works::schedule::Placed;
use serde::{Serialize, Serializer};
use std::collections::{BTreeMap, BTreeSet};

/// A room shut for a package, first and last day included.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Closure {
    /// The room, by its place in the list of rooms.
    pub room: usize,
    /// The package.
    pub package: usize,
    /// Day it is cleared.
    #[serde(serialize_with = "iso")]
    pub first: Date,
    /// Day it is handed back.
    #[serde(serialize_with = "iso")]
    pub last: Date,
    /// Days of these on which it would be in use but for the works; none where it is given back.
    pub days_in_use: u32,
    /// Whether it is given back after each shift, and stays in use.
    pub given_back: bool,
}

impl Closure {
    /// Whether its room is out of use on a day for it.
    pub fn shuts(&self, date: Date) -> bool {
        !self.given_back && (self.first..=self.last).contains(&date)
    }
}

/// What a programme comes to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figures {
    /// First day of the works.
    #[serde(serialize_with = "iso")]
    pub first: Date,
    /// Day everything is handed back.
    #[serde(serialize_with = "iso")]
    pub last: Date,
    /// Calendar weeks from the first day to the last.
    pub weeks: f64,
    /// Rooms × days they are shut on which the building is in use.
    pub room_days_in_use: u32,
    /// Rooms × working days they are shut in breaks.
    pub room_days_in_breaks: u32,
    /// Days in use with work heard through the block.
    pub loud_days_in_use: u32,
    /// Rooms in use next to, above or below loud work × such days.
    pub neighbour_loud_days: u32,
    /// Largest share of the floor of all rooms shut on a day, 0 to 1.
    pub peak_share: f64,
    /// Rooms shut on that day.
    pub peak_rooms: u32,
    /// Rooms of the building.
    pub rooms: u32,
    /// Long breaks and other breaks rooms are shut in.
    pub breaks: [u32; 2],
    /// People at work, week by week from the first day: most on a day.
    pub people: Vec<f64>,
    /// Jobs that would end beyond the days looked ahead; they have no date, and the figures count
    /// up to the last that has.
    pub unplaced: u32,
}

impl Default for Figures {
    /// Nothing is done.
    fn default() -> Self {
        Self {
            first: Date::MIN,
            last: Date::MIN,
            weeks: 0.0,
            room_days_in_use: 0,
            room_days_in_breaks: 0,
            loud_days_in_use: 0,
            neighbour_loud_days: 0,
            peak_share: 0.0,
            peak_rooms: 0,
            rooms: 0,
            breaks: [0, 0],
            people: Vec::new(),
            unplaced: 0,
        }
    }
}

/// Writes a date as ISO 8601 has it.
pub(super) fn iso<S: Serializer>(date: &Date, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&calendar::iso(*date))
}

/// Writes days as ISO 8601 has them.
pub(super) fn iso_days<S: Serializer>(dates: &[Date], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(dates.iter().map(|date| calendar::iso(*date)))
}

/// Rooms with the days they are shut, one closure for each package.
pub(super) fn closures(works: &Works, placed: &[Placed], calendar: &Calendar) -> Vec<Closure> {
    let mut spans: BTreeMap<(usize, usize), [u32; 2]> = BTreeMap::new();
    for (job, at) in works.jobs.iter().zip(placed).filter(|(_, at)| at.end > 0) {
        let Some(package) = job.package.filter(|_| matches!(job.step, Step::MoveOut | Step::HandBack)) else {
            continue;
        };
        for room in &job.rooms {
            let span = spans.entry((*room, package)).or_insert([at.start, at.end]);
            *span = [span[0].min(at.start), span[1].max(at.end)];
        }
    }
    let closure = |((room, package), [start, end]): ((usize, usize), [u32; 2])| {
        if !calendar.reaches(start) {
            return None;
        }
        let (first, last) = (calendar.day_of(start)?.date, calendar.day_of(end - 1)?.date);
        let days_in_use = days_in_use(works, calendar, room, [first, last]);
        Some(Closure { room, package, first, last, days_in_use, given_back: works.given_back[room] })
    };
    spans.into_iter().filter_map(closure).collect()
}

/// Days from the first to the last on which a room would be in use and is shut.
fn days_in_use(works: &Works, calendar: &Calendar, room: usize, [first, last]: [Date; 2]) -> u32 {
    let shut = |day: &WorkDay| !works.given_back[room] && works.uses[room].on(day);
    calendar.dates(first, last).filter(shut).count() as u32
}

/// Rooms × days they are shut on which they would be in use; a day two packages share counts once.
fn room_days_in_use(works: &Works, closures: &[Closure], calendar: &Calendar) -> u32 {
    let mut days = 0;
    for room in 0..works.uses.len() {
        let mut own: Vec<[Date; 2]> =
            closures.iter().filter(|own| own.room == room).map(|own| [own.first, own.last]).collect();
        order::sort_by_key(&mut own, |span| span[0]);
        let mut free = Date::MIN;
        for [first, last] in own {
            let from = first.max(free);
            if from <= last {
                days += days_in_use(works, calendar, room, [from, last]);
                free = last.next_day().unwrap_or(last);
            }
        }
    }
    days
}

/// The programme an attempt comes to.
pub(super) fn programme(
    works: &Works,
    attempt: &Attempt,
    rooms: Vec<Room>,
    plan: &RoomPlan<'_>,
    calendar: &Calendar,
    rules: &Rules,
    pace: Pace,
) -> Programme {
    let mut activities = Vec::with_capacity(works.jobs.len());
    for (job, at) in works.jobs.iter().zip(&attempt.placed) {
        let days = [at.start, at.end - 1].map(|hour| calendar.day_of(hour).map(|day| day.date));
        let ([Some(first), Some(last)], true) = (days, calendar.reaches(at.end - 1)) else { continue };
        activities.push(Activity { start: at.start, end: at.end, first, last, ..job.clone() });
    }
    order::sort_by_key(&mut activities, |activity| activity.start);
    let closures = closures(works, &attempt.placed, calendar);
    let loud_days = loud_days((&activities, &closures), (&rooms, plan), calendar, rules);
    let mut figures = figures((&activities, &closures, &loud_days), &rooms, plan, (calendar, rules));
    figures.room_days_in_use = room_days_in_use(works, &closures, calendar);
    figures.unplaced = (works.jobs.len() - activities.len()) as u32;
    let drivers = drivers(works, attempt, calendar);
    Programme {
        pace,
        rooms,
        activities,
        closures,
        loud_days,
        figures,
        drivers,
        spilled: attempt.spilled.clone(),
        no_break_left: rules.inside == Inside::Breaks && calendar.breaks().is_empty(),
        rules: *rules,
    }
}

fn figures(
    (activities, closures, loud_days): (&[Activity], &[Closure], &[Date]),
    rooms: &[Room],
    plan: &RoomPlan<'_>,
    (calendar, rules): (&Calendar, &Rules),
) -> Figures {
    let start = calendar.days().first().map_or(Date::MIN, |day| day.date);
    let first = activities.iter().map(|activity| activity.first).min().unwrap_or(start);
    let last = activities.iter().map(|activity| activity.last).max().unwrap_or(start);
    let all = plan.all();
    let floor_m2: f64 = all.iter().map(|room| plan.area_m2(*room)).sum();
    let mut figures = Figures {
        first,
        last,
        weeks: ((last - first).whole_days() + 1) as f64 / 7.0,
        loud_days_in_use: loud_days.len() as u32,
        rooms: all.len() as u32,
        ..Figures::default()
    };
    let mut breaks: BTreeSet<usize> = BTreeSet::new();
    let within = calendar.days().iter().enumerate().filter(|(_, day)| (first..=last).contains(&day.date));
    for (index, day) in within {
        let hours = hours_of(index);
        let mut shut: Vec<usize> =
            closures.iter().filter(|closure| closure.shuts(day.date)).map(|closure| closure.room).collect();
        order::sort_by(&mut shut, usize::cmp);
        shut.dedup();
        let count = shut.len() as u32;
        if let Some(own) = day.within {
            let free = |room: &&usize| !plan.use_of(rooms[**room]).on(day);
            figures.room_days_in_breaks += shut.iter().filter(free).count() as u32;
            if count > 0 {
                breaks.insert(own);
            }
        }
        let area: f64 = shut.iter().map(|room| plan.area_m2(rooms[*room])).sum();
        if floor_m2 > 0.0 && area / floor_m2 > figures.peak_share {
            figures.peak_share = area / floor_m2;
            figures.peak_rooms = count;
        }
        let week = ((day.date - first).whole_days() / 7) as usize;
        figures.people.resize(figures.people.len().max(week + 1), 0.0);
        figures.people[week] = figures.people[week].max(most_people(activities.iter(), hours));
        if loud_days.contains(&day.date) {
            let loud = activities.iter().filter(|activity| activity.noise >= LOUD && activity.goes_on(hours));
            let heard = |activity: &Activity| activity.clock(index, rules);
            let sources: Vec<(usize, u32)> =
                loud.flat_map(|own| own.rooms.iter().map(|room| (*room, heard(own)))).collect();
            let beside = |room: &&Room| {
                let own = rooms.iter().position(|other| other == *room);
                let open = own.is_none_or(|own| !shut.contains(&own));
                let in_use = plan.use_of(**room).clock_on(day);
                open && sources.iter().any(|(source, heard)| in_use & heard > 0 && plan.adjoin(rooms[*source], **room))
            };
            figures.neighbour_loud_days += all.iter().filter(beside).count() as u32;
        }
    }
    for own in breaks {
        figures.breaks[usize::from(!calendar.breaks()[own].long)] += 1;
    }
    figures
}
