//! Working times to start from, by kind of use: how long breaks are and when they usually fall.
//!
//! Lengths of school breaks follow published lists of school holidays (long ones read there, short
//! ones from memory); dates are common practice, no source. The user's own calendar replaces them.

use super::calendar::{Date, Month};
use super::programme::Rules;
use crate::project::{
    BreakPeriod, Day, HoursInside, Occupancy, Project, ShutRooms, WeekInUse, WorkingTimes, WorkingWeek,
};

/// Years of breaks written out from the year of the start on; one that runs at the start may have begun the year before.
const YEARS: i32 = 6;

/// A break of every year: it begins on the first Monday from a day of the year on.
struct Yearly {
    name: &'static str,
    month: Month,
    day: u8,
    weeks: u8,
    long: bool,
}

const fn short(name: &'static str, month: Month, day: u8, weeks: u8) -> Yearly {
    Yearly { name, month, day, weeks, long: false }
}

const fn long(name: &'static str, month: Month, day: u8, weeks: u8) -> Yearly {
    Yearly { name, month, day, weeks, long: true }
}

/// Working times of a kind of use.
pub struct Preset {
    /// Its key.
    pub key: &'static str,
    /// In words.
    pub label: &'static str,
    breaks: &'static [Yearly],
    in_use: WeekInUse,
    shut: ShutRooms,
    hours: HoursInside,
    groups_at_once: Option<u32>,
}

/// How the works of a project are run; breaks have no part in it.
pub(super) fn rules_of(project: &Project) -> Rules {
    of_project(project, Day(Date::MIN)).0.rules()
}

/// The working times of a project, or those usual for its use from a day on; whether they are assumed so.
pub fn of_project(project: &Project, from: Day) -> (WorkingTimes, bool) {
    match &project.working_times {
        Some(own) => (own.clone(), false),
        None => (Preset::usual(project.building.occupancy).times(from), true),
    }
}

const SCHOOL: Preset = Preset {
    key: "",
    label: "",
    breaks: &[],
    in_use: WeekInUse::Five,
    shut: ShutRooms::Breaks,
    hours: HoursInside::Day,
    groups_at_once: None,
};

/// All presets.
pub const PRESETS: &[Preset] = &[
    Preset {
        key: "school_six",
        label: "School, six weeks in northern summer",
        breaks: &[
            short("Mid-winter", Month::February, 11, 1),
            short("Spring", Month::April, 1, 2),
            short("Early summer", Month::May, 25, 1),
            long("Summer", Month::July, 20, 6),
            short("Autumn", Month::October, 20, 1),
            short("Year's end", Month::December, 20, 2),
        ],
        ..SCHOOL
    },
    Preset {
        key: "school_nine",
        label: "School, nine weeks in northern summer",
        breaks: &[
            short("Mid-winter", Month::February, 3, 1),
            short("Spring", Month::April, 1, 1),
            long("Summer", Month::July, 1, 9),
            short("Autumn", Month::October, 25, 1),
            short("Year's end", Month::December, 21, 2),
        ],
        ..SCHOOL
    },
    Preset {
        key: "school_twelve",
        label: "School, twelve weeks in northern summer",
        breaks: &[
            short("Spring", Month::April, 1, 1),
            long("Summer", Month::June, 10, 12),
            short("Year's end", Month::December, 21, 2),
        ],
        ..SCHOOL
    },
    Preset {
        key: "school_south",
        label: "School, seven weeks in southern summer",
        breaks: &[
            short("Autumn", Month::April, 10, 2),
            short("Winter", Month::July, 3, 2),
            short("Spring", Month::September, 25, 2),
            long("Summer", Month::December, 15, 7),
        ],
        ..SCHOOL
    },
    Preset {
        key: "clinic",
        label: "Clinic, one group of rooms closed at a time",
        in_use: WeekInUse::Seven,
        shut: ShutRooms::AnyDay,
        hours: HoursInside::Contained,
        groups_at_once: Some(1),
        ..SCHOOL
    },
    Preset {
        key: "office",
        label: "Office, evenings and nights inside",
        shut: ShutRooms::AnyDay,
        hours: HoursInside::Evenings,
        groups_at_once: Some(1),
        ..SCHOOL
    },
    Preset { key: "empty", label: "Building stands empty", shut: ShutRooms::AnyDay, ..SCHOOL },
];

impl Preset {
    /// The preset of a key.
    pub fn of(key: &str) -> Option<&'static Self> {
        PRESETS.iter().find(|preset| preset.key == key)
    }

    /// The one to start from for a use.
    pub fn usual(occupancy: Occupancy) -> &'static Self {
        let key = match occupancy {
            Occupancy::School => "school_six",
            Occupancy::Clinic => "clinic",
            Occupancy::Office => "office",
            Occupancy::Other => "empty",
        };
        Self::of(key).unwrap_or(&PRESETS[0])
    }

    /// Working times from a start on, with the breaks of six years written out.
    pub fn times(&self, start: Day) -> WorkingTimes {
        let mut breaks: Vec<BreakPeriod> = (start.0.year() - 1..start.0.year() + YEARS)
            .flat_map(|year| self.breaks.iter().filter_map(move |own| own.in_year(year)))
            .collect();
        breaks.retain(|own| own.last >= start);
        WorkingTimes {
            start,
            week: WorkingWeek::Five,
            in_use: self.in_use,
            breaks,
            shut: self.shut,
            gangs: 2,
            hours: self.hours,
            begins: None,
            given_back: false,
            whole_storeys: false,
            groups_at_once: self.groups_at_once,
            quiet_drilling: false,
            loud_in_breaks: false,
            outside_first: false,
        }
    }
}

impl Yearly {
    /// From its Monday to the last Sunday; none where the calendar does not reach so far.
    fn in_year(&self, year: i32) -> Option<BreakPeriod> {
        let from = Date::from_calendar_date(year, self.month, self.day).ok()?;
        let to_monday = (7 - i64::from(from.weekday().number_days_from_monday())) % 7;
        let first = from.checked_add(time::Duration::days(to_monday))?;
        let last = first.checked_add(time::Duration::days(i64::from(self.weeks) * 7 - 1))?;
        Some(BreakPeriod { name: format!("{} {year}", self.name), first: Day(first), last: Day(last), long: self.long })
    }
}
