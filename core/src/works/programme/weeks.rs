//! A programme week by week: how each room stands, what goes on outside, who is at work.

use super::placing::LOUD;
use super::{Activity, Closure, Programme, Rules, Trade};
use crate::place::Place;
use crate::works::calendar::{Calendar, DAY_HOURS, Date, WorkDay};
use crate::works::room_use::{RoomUse, clock};
use crate::works::rooms::{Room, RoomPlan};
use serde::Serialize;

/// Noise heard in the next room.
const NEXT_DOOR: u8 = 2;
const WEEK_DAYS: i64 = 7;

/// How a room stands in a week; the first that holds, from the last to the first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RoomState {
    /// Nothing of the works reaches it.
    Open,
    /// In use, with work heard in it that goes on next door, above or below.
    Noisy,
    /// Worked in out of its hours and given back after each shift.
    GivenBack,
    /// Shut until some day of the week, and handed back on it.
    HandedBack,
    /// Shut, and not handed back in the week.
    Shut,
}

/// A week of a programme.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Week {
    /// First day.
    #[serde(serialize_with = "super::figures::iso")]
    pub first: Date,
    /// Last day.
    #[serde(serialize_with = "super::figures::iso")]
    pub last: Date,
    /// Every room of the building and how it stands.
    pub rooms: Vec<(Room, RoomState)>,
    /// Members worked at from outside, each once.
    pub outside: Vec<Place>,
    /// Days in use with work heard through the block.
    pub loud_days: u32,
}

/// People of a trade, week by week.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Crew {
    /// The trade.
    pub trade: Trade,
    /// Most at once in each week from the first day of the works.
    pub weeks: Vec<f64>,
}

/// The hours of a working day, by its place in the calendar.
pub(super) const fn hours_of(day: usize) -> [u32; 2] {
    [day as u32 * DAY_HOURS, (day as u32 + 1) * DAY_HOURS]
}

impl Activity {
    /// Whether it goes on within some hours.
    pub const fn goes_on(&self, [from, end]: [u32; 2]) -> bool {
        self.start < end && self.end > from
    }

    /// Hours of the clock in which it goes on on a working day, by its place in the calendar; the
    /// lowest bit from midnight on.
    pub fn clock(&self, day: usize, rules: &Rules) -> u32 {
        let [from, end] = hours_of(day);
        let (start, stop) = (self.start.clamp(from, end), self.end.clamp(from, end));
        clock(rules.shift_begins(self.package.is_some()) + start - from, stop - start)
    }
}

/// The most people at once in some hours; what starts raises the count, so it is enough to look
/// at the first hour and at each start.
pub(super) fn most_people<'a>(activities: impl Iterator<Item = &'a Activity>, hours: [u32; 2]) -> f64 {
    let own: Vec<&Activity> = activities.filter(|activity| activity.goes_on(hours)).collect();
    let at = |hour: u32| own.iter().filter(|own| own.goes_on([hour, hour + 1])).map(|own| own.people).sum::<f64>();
    own.iter().map(|activity| at(activity.start.max(hours[0]))).fold(0.0, f64::max)
}

impl Programme {
    /// How many weeks it has, counted from its first day.
    pub fn week_count(&self) -> usize {
        ((self.figures.last - self.figures.first).whole_days() / WEEK_DAYS + 1) as usize
    }

    /// People of each trade that has anything to do, week by week.
    pub fn crews(&self, calendar: &Calendar) -> Vec<Crew> {
        let trades = Trade::ALL.into_iter().map(|trade| {
            let mut weeks = vec![0.0_f64; self.week_count()];
            let own = || self.activities.iter().filter(|activity| activity.trade == trade);
            for (index, day) in self.days(calendar) {
                let week = &mut weeks[((day.date - self.figures.first).whole_days() / WEEK_DAYS) as usize];
                *week = week.max(most_people(own(), hours_of(index)));
            }
            Crew { trade, weeks }
        });
        trades.filter(|crew| crew.weeks.iter().any(|people| *people > 0.0)).collect()
    }

    /// A week, counted from zero; the last one for weeks beyond it.
    pub fn week(&self, week: usize, plan: &RoomPlan<'_>, calendar: &Calendar, rules: &Rules) -> Week {
        let days = WEEK_DAYS * week.min(self.week_count() - 1) as i64;
        let forward = |date: Date, days: i64| (0..days).fold(date, |date, _| date.next_day().unwrap_or(date));
        let first = forward(self.figures.first, days);
        let last = forward(first, WEEK_DAYS - 1);
        let within: Vec<(usize, &WorkDay)> =
            self.days(calendar).filter(|(_, day)| (first..=last).contains(&day.date)).collect();
        let rooms = plan.all().into_iter().map(|room| {
            let own = self.closures.iter().filter(|own| self.rooms[own.room] == room);
            let own = own.filter(|own| own.first <= last && own.last >= first);
            let shut = own.clone().filter(|own| !own.given_back).map(|own| own.last).max();
            let in_use = plan.use_of(room);
            let state = match shut {
                Some(until) if until > last => RoomState::Shut,
                Some(_) => RoomState::HandedBack,
                None if own.count() > 0 => RoomState::GivenBack,
                None if within.iter().any(|day| self.heard_in((room, in_use), plan, *day, rules)) => RoomState::Noisy,
                None => RoomState::Open,
            };
            (room, state)
        });
        let rooms = rooms.collect();
        let mut outside: Vec<Place> = Vec::new();
        let goes_on = |own: &&Activity| within.iter().any(|(day, _)| own.goes_on(hours_of(*day)));
        for own in self.activities.iter().filter(|own| own.package.is_none()).filter(goes_on) {
            if !outside.contains(&own.place) {
                outside.push(own.place.clone());
            }
        }
        let loud_days = self.loud_days.iter().filter(|date| (first..=last).contains(*date)).count() as u32;
        Week { first, last, rooms, outside, loud_days }
    }

    /// Working days from the first day to the last, each with its place in the calendar.
    fn days<'a>(&self, calendar: &'a Calendar) -> impl Iterator<Item = (usize, &'a WorkDay)> + use<'a> {
        let [first, last] = [self.figures.first, self.figures.last];
        calendar.days().iter().enumerate().filter(move |(_, day)| (first..=last).contains(&day.date))
    }

    /// Whether work in a room beside it is heard in a room while it is in use.
    fn heard_in(
        &self,
        (room, in_use): (Room, RoomUse),
        plan: &RoomPlan<'_>,
        (index, day): (usize, &WorkDay),
        rules: &Rules,
    ) -> bool {
        let beside = |at: &usize| plan.adjoin(self.rooms[*at], room);
        let heard = |own: &Activity| own.noise >= NEXT_DOOR && own.rooms.iter().any(beside);
        let hours = in_use.clock_on(day);
        hours > 0 && self.activities.iter().any(|own| own.clock(index, rules) & hours > 0 && heard(own))
    }
}

/// Days with work heard through the block while a room that is not shut is in use.
pub(super) fn loud_days(
    (activities, closures): (&[Activity], &[Closure]),
    (rooms, plan): (&[Room], &RoomPlan<'_>),
    calendar: &Calendar,
    rules: &Rules,
) -> Vec<Date> {
    let last = activities.iter().map(|own| own.last).max().unwrap_or(Date::MIN);
    let uses: Vec<(Room, RoomUse)> = plan.all().into_iter().map(|room| (room, plan.use_of(room))).collect();
    let loud: Vec<&Activity> = activities.iter().filter(|own| own.noise >= LOUD).collect();
    let is_loud = |(index, day): &(usize, &WorkDay)| {
        let hours = loud.iter().fold(0, |all, own| all | own.clock(*index, rules));
        let is_shut = |room: Room| closures.iter().any(|own| rooms[own.room] == room && own.shuts(day.date));
        hours > 0 && uses.iter().any(|(room, own)| own.clock_on(day) & hours > 0 && !is_shut(*room))
    };
    let days = calendar.days().iter().enumerate().take_while(|(_, day)| day.date <= last);
    days.filter(is_loud).map(|(_, day)| day.date).collect()
}
