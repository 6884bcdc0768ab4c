//! When rooms are in use, and whether that is while gangs are at work.

use super::calendar::{Calendar, WorkDay};
use super::rooms::{Room, RoomPlan};
use crate::project::RoomDays;

/// Days and hours of use of a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoomUse {
    /// The days.
    pub days: RoomDays,
    /// Hours of the clock, the lowest bit from midnight on.
    pub clock: u32,
}

impl RoomUse {
    /// Whether the room is in use on a day but for the works.
    pub fn on(self, day: &WorkDay) -> bool {
        let weekday = day.date.weekday().number_days_from_monday();
        match self.days {
            RoomDays::Building => day.in_use,
            RoomDays::Five => weekday < 5 && day.within.is_none(),
            RoomDays::Six => weekday < 6 && day.within.is_none(),
            RoomDays::Seven => day.within.is_none(),
            RoomDays::Always => true,
        }
    }

    /// Hours of the clock in which it is in use on a day, none of them where it is not. Hours after
    /// midnight count to the day before.
    pub fn clock_on(self, day: &WorkDay) -> u32 {
        if self.on(day) { self.clock } else { 0 }
    }

    /// Whether it is never in use on a working day within hours of the clock.
    pub(super) fn is_free(self, calendar: &Calendar, clock: u32) -> bool {
        calendar.days().iter().all(|day| self.clock_on(day) & clock == 0)
    }
}

/// Hours of the clock from one on, so many of them.
pub(super) fn clock(from: u32, hours: u32) -> u32 {
    (from..from + hours).fold(0, |all, hour| all | 1 << (hour % 24))
}

impl RoomPlan<'_> {
    /// Days and hours of use of a room; a way out is in use as long as any room of its storey.
    pub fn use_of(&self, room: Room) -> RoomUse {
        let own = self.own(room);
        let days = own.map_or(RoomDays::Building, |own| own.days);
        let kind = |room: Room| self.kind(room).unwrap_or(self.usual);
        let hours = own.and_then(|own| own.hours).or(kind(room).usual_hours());
        let served = || {
            let storey = self.all().into_iter().filter(|other| other.storey == room.storey);
            storey.fold(0, |all, other| all | self.use_of(other).clock)
        };
        RoomUse { days, clock: hours.map_or_else(served, |hours| hours.clock()) }
    }

    /// Days and hours of use in words, such as “as the building, 08:00-16:00”.
    pub fn use_in_words(&self, room: Room) -> String {
        let own = self.own(room);
        let days = own.map_or(RoomDays::Building, |own| own.days).label();
        let kind = self.kind(room).unwrap_or(self.usual);
        match own.and_then(|own| own.hours).or(kind.usual_hours()) {
            Some(hours) => format!("{days}, {hours}"),
            None => format!("{days}, as long as a room of the storey"),
        }
    }
}
