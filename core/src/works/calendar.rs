//! Working days, breaks and days in use: when work may be done, and when somebody is taught,
//! treated or at a desk meanwhile.

use std::fmt;
pub use time::{Date, Month, Weekday};

/// Hours in a working day, as the table of rates counts them.
pub const DAY_HOURS: u32 = 8;
/// Years looked ahead: programmes that would take longer are cut off and say so.
pub const YEARS_AHEAD: usize = 30;
const MOST_DAYS: usize = 366 * YEARS_AHEAD;

/// A break in the use of the building, first and last day included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Break {
    /// Its name.
    pub name: String,
    /// First day out of use.
    pub first: Date,
    /// Last day out of use.
    pub last: Date,
    /// Whether it is the long one of the year.
    pub long: bool,
}

/// Which days of the week, from Monday.
pub type Week = [bool; 7];

/// Monday to Friday.
pub const WEEKDAYS: Week = [true, true, true, true, true, false, false];
/// Monday to Saturday.
pub const SIX_DAYS: Week = [true, true, true, true, true, true, false];

/// What is refused about a calendar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CalendarError {
    /// No day of the week is worked.
    NothingWorked,
    /// A break ends before it begins.
    BreakBackwards(String),
    /// Two breaks share a day.
    BreaksOverlap(String, String),
}

impl fmt::Display for CalendarError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NothingWorked => write!(f, "no day of the week is worked"),
            Self::BreakBackwards(name) => write!(f, "{name} ends before it begins"),
            Self::BreaksOverlap(one, other) => write!(f, "{one} and {other} share a day"),
        }
    }
}

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WorkDay {
    /// Its date.
    pub date: Date,
    /// Whether the building is in use on it.
    pub in_use: bool,
    /// The break it lies in.
    pub within: Option<usize>,
}

/// Working days in their order, with the breaks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Calendar {
    days: Vec<WorkDay>,
    breaks: Vec<Break>,
    used: Week,
}

impl Calendar {
    /// Working days from a start on. Breaks come in order of their first day; breaks that are over
    /// by then are left out.
    ///
    /// # Errors
    /// A week without a working day, a break that ends before it begins, breaks that overlap.
    pub fn new(start: Date, worked: Week, used: Week, breaks: &[Break]) -> Result<Self, CalendarError> {
        if !worked.contains(&true) {
            return Err(CalendarError::NothingWorked);
        }
        let mut breaks: Vec<Break> = breaks.to_vec();
        crate::order::sort_by_key(&mut breaks, |own| own.first);
        if let Some(own) = breaks.iter().find(|own| own.last < own.first) {
            return Err(CalendarError::BreakBackwards(own.name.clone()));
        }
        if let Some(pair) = breaks.windows(2).find(|pair| pair[1].first <= pair[0].last) {
            return Err(CalendarError::BreaksOverlap(pair[0].name.clone(), pair[1].name.clone()));
        }
        breaks.retain(|own| own.last >= start);
        let mut days = Vec::new();
        let mut next = Some(start);
        let mut current = 0;
        for _ in 0..MOST_DAYS {
            let Some(date) = next else { break };
            while breaks.get(current).is_some_and(|own| own.last < date) {
                current += 1;
            }
            let within = breaks.get(current).filter(|own| own.first <= date).map(|_| current);
            let weekday = usize::from(date.weekday().number_days_from_monday());
            if worked[weekday] {
                days.push(WorkDay { date, in_use: used[weekday] && within.is_none(), within });
            }
            next = date.next_day();
        }
        Ok(Self { days, breaks, used })
    }

    /// Working days in their order.
    pub fn days(&self) -> &[WorkDay] {
        &self.days
    }

    /// Breaks not yet over at the start, in their order.
    pub fn breaks(&self) -> &[Break] {
        &self.breaks
    }

    /// The working day an hour lies in; the last one for hours beyond the calendar, none where no
    /// day is worked before dates run out.
    pub fn day_of(&self, hour: u32) -> Option<&WorkDay> {
        self.days.get((hour / DAY_HOURS) as usize).or(self.days.last())
    }

    /// Whether an hour lies on one of its working days.
    pub fn reaches(&self, hour: u32) -> bool {
        ((hour / DAY_HOURS) as usize) < self.days.len()
    }

    /// First hour of a break and the hour after its last; none where no day of it is worked.
    pub fn hours_of(&self, of: usize) -> Option<[u32; 2]> {
        let first = self.days.iter().position(|day| day.within == Some(of))?;
        let count = self.days[first..].iter().take_while(|day| day.within == Some(of)).count();
        Some([first, first + count].map(|day| day as u32 * DAY_HOURS))
    }

    /// A date, worked or not: whether the building would be in use on it but for the works, and the
    /// break it lies in.
    pub fn day(&self, date: Date) -> WorkDay {
        let weekday = usize::from(date.weekday().number_days_from_monday());
        let within = self.breaks.iter().position(|own| (own.first..=own.last).contains(&date));
        WorkDay { date, in_use: self.used[weekday] && within.is_none(), within }
    }

    /// Dates from one to another, both included, worked or not.
    pub fn dates(&self, first: Date, last: Date) -> impl Iterator<Item = WorkDay> + '_ {
        let mut next = Some(first);
        std::iter::from_fn(move || {
            let date = next.filter(|date| *date <= last)?;
            next = date.next_day();
            Some(self.day(date))
        })
    }

    /// Days between two dates, both included, on which the building would be in use but for the
    /// works: days of the week in use outside breaks.
    pub fn days_in_use(&self, first: Date, last: Date) -> u32 {
        self.dates(first, last).filter(|day| day.in_use).count() as u32
    }
}

/// A day in words, such as 4 January 2027.
pub fn in_words(date: Date) -> String {
    format!("{} {} {}", date.day(), date.month(), date.year())
}

/// A day as ISO 8601 has it, YYYY-MM-DD.
pub fn iso(date: Date) -> String {
    format!("{:04}-{:02}-{:02}", date.year(), u8::from(date.month()), date.day())
}
