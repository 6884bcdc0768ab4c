//! When works may be done: start, working week, breaks, gangs (format 1).

use super::fields::{Control, FieldError, Path, Spec, Wire, choice, record};
use crate::works::calendar::{Break, Calendar, CalendarError, Date, Month, SIX_DAYS, WEEKDAYS, iso};
use crate::works::programme::{Inside, Rules, WorkingHours};
use serde_json::{Value, json};
use std::fmt;

/// A day of the civil calendar, written YYYY-MM-DD as ISO 8601 has it; years 1900 to 2199.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(pub Date);

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&iso(self.0))
    }
}

impl Day {
    /// Reads YYYY-MM-DD; none for anything else and for days the calendar does not have.
    ///
    /// ```
    /// use sisterframe_core::project::Day;
    /// assert_eq!(Day::parse("2028-02-29").map(|day| day.to_string()).as_deref(), Some("2028-02-29"));
    /// assert_eq!(Day::parse("2027-02-29"), None);
    /// assert_eq!(Day::parse("29.2.2028"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Self> {
        let shape = text.len() == 10
            && text.bytes().enumerate().all(|(at, byte)| match at {
                4 | 7 => byte == b'-',
                _ => byte.is_ascii_digit(),
            });
        if !shape {
            return None;
        }
        let year: i32 = text[..4].parse().ok()?;
        let month = Month::try_from(text[5..7].parse::<u8>().ok()?).ok()?;
        let date = Date::from_calendar_date(year, month, text[8..].parse().ok()?).ok()?;
        (1900..2200).contains(&year).then_some(Self(date))
    }
}

impl Wire for Day {
    const CONTROL: Control = Control::Text;
    fn read(value: &Value, at: &Path<'_>, _: &Spec) -> Result<Self, FieldError> {
        value.as_str().and_then(Self::parse).ok_or_else(|| {
            FieldError::new(at, value, "a day is needed here, as year-month-day", "1900-01-01 to 2199-12-31")
        })
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self.to_string()))
    }
    fn schema(spec: &Spec) -> Value {
        json!({"type": "string", "format": "date", "title": spec.label})
    }
}

choice! {
    /// Days of the week that are worked.
    pub enum WorkingWeek {
        /// Monday to Friday.
        Five = "five", "Monday to Friday";
        /// Monday to Saturday.
        Six = "six", "Monday to Saturday";
        /// Every day.
        Seven = "seven", "every day";
        /// Saturday and Sunday.
        Weekends = "weekends", "Saturday and Sunday";
    }
}

choice! {
    /// Days of the week on which the building is in use.
    pub enum WeekInUse {
        /// Monday to Friday.
        Five = "five", "Monday to Friday";
        /// Monday to Saturday.
        Six = "six", "Monday to Saturday";
        /// Every day.
        Seven = "seven", "every day";
    }
}

choice! {
    /// When rooms may be shut.
    pub enum ShutRooms {
        /// In breaks as far as they are long enough.
        Breaks = "breaks", "in breaks as far as they are long enough";
        /// On any working day.
        AnyDay = "any_day", "on any working day";
    }
}

choice! {
    /// Hours of work inside.
    pub enum HoursInside {
        /// By day, the rooms being empty.
        Day = "day", "by day";
        /// Evenings and nights.
        Evenings = "evenings", "evenings and nights";
        /// By day beside patients, behind screens.
        Contained = "contained", "by day, behind screens beside patients";
    }
}

record! {
    /// A break in the use of the building.
    pub struct BreakPeriod {
        /// Its name.
        name: String = Spec { min: 1.0, ..Spec::text("Break", 24) };
        /// First day out of use.
        first: Day = Spec::of("First day");
        /// Last day out of use.
        last: Day = Spec::of("Last day");
        /// Whether it is the long one of the year.
        long: bool = Spec::of("Long break").or("false");
    }
}

record! {
    /// When and how works may be done.
    pub struct WorkingTimes {
        /// First day on which work may begin.
        start: Day = Spec::of("Works may begin");
        /// Days of the week that are worked.
        week: WorkingWeek = Spec::of("Working week").or("\"five\"");
        /// Days of the week on which the building is in use.
        in_use: WeekInUse = Spec::of("Building in use").or("\"five\"");
        /// Breaks in its use.
        breaks: Vec<BreakPeriod> = Spec::list("Breaks", 0, 80).or("[]");
        /// When rooms may be shut.
        shut: ShutRooms = Spec::of("Rooms may be shut").or("\"breaks\"");
        /// Gangs of each trade.
        gangs: u32 = Spec::whole("Gangs of each trade", 1, 6).or("2");
        /// Hours of work inside.
        hours: HoursInside = Spec::of("Work inside").or("\"day\"");
        /// Hour of the day at which work inside begins; the usual one where left out.
        begins: Option<u32> = Spec::whole("Work inside begins, o'clock", 0, 23);
        /// Rooms that are not in use while work goes on are cleaned up and given back after each shift.
        given_back: bool = Spec::of("Rooms given back after each shift").or("false");
        /// Whole storeys are shut together.
        whole_storeys: bool = Spec::of("Whole storeys at a time").or("false");
        /// Groups of rooms shut at once; any number where left out.
        groups_at_once: Option<u32> = Spec::whole("Groups of rooms shut at once", 1, 20);
        /// Bars are drilled wet with diamond.
        quiet_drilling: bool = Spec::of("Quiet drilling").or("false");
        /// Loud work outside waits for breaks.
        loud_in_breaks: bool = Spec::of("Loud work outside in breaks only").or("false");
        /// Works outside are done before any room is shut.
        outside_first: bool = Spec::of("Outside works first").or("false");
    }
}

impl WorkingTimes {
    /// Working days with the breaks.
    ///
    /// # Errors
    /// Breaks that end before they begin or share a day.
    pub fn calendar(&self) -> Result<Calendar, CalendarError> {
        let worked = match self.week {
            WorkingWeek::Five => WEEKDAYS,
            WorkingWeek::Six => SIX_DAYS,
            WorkingWeek::Seven => [true; 7],
            WorkingWeek::Weekends => WEEKDAYS.map(|weekday| !weekday),
        };
        let used = match self.in_use {
            WeekInUse::Five => WEEKDAYS,
            WeekInUse::Six => SIX_DAYS,
            WeekInUse::Seven => [true; 7],
        };
        let period =
            |own: &BreakPeriod| Break { name: own.name.clone(), first: own.first.0, last: own.last.0, long: own.long };
        let breaks: Vec<Break> = self.breaks.iter().map(period).collect();
        Calendar::new(self.start.0, worked, used, &breaks)
    }

    /// How the works are run.
    pub fn rules(&self) -> Rules {
        Rules {
            gangs: self.gangs,
            inside: match self.shut {
                ShutRooms::Breaks => Inside::Breaks,
                ShutRooms::AnyDay => Inside::AnyDay,
            },
            whole_storeys: self.whole_storeys,
            packages_at_once: self.groups_at_once,
            quiet_drilling: self.quiet_drilling,
            loud_outside_in_breaks: self.loud_in_breaks,
            outside_first: self.outside_first,
            hours: match self.hours {
                HoursInside::Day => WorkingHours::Day,
                HoursInside::Evenings => WorkingHours::Evenings,
                HoursInside::Contained => WorkingHours::Contained,
            },
            begins: self.begins,
            given_back: self.given_back,
        }
    }

    /// Checks what single fields cannot: breaks in themselves and against each other.
    ///
    /// # Errors
    /// The break that is refused, by its place in the list.
    pub(super) fn check(&self) -> Result<(), FieldError> {
        for (index, own) in self.breaks.iter().enumerate() {
            let refuse = |problem: String, permitted: &'static str| FieldError {
                path: format!("working_times.breaks[{index}].last"),
                value: own.last.to_string(),
                problem: problem.into(),
                permitted: permitted.into(),
            };
            if own.last < own.first {
                return Err(refuse("the break ends before it begins".to_owned(), "a day not before the first"));
            }
            let shared = self.breaks[..index].iter().find(|other| own.first <= other.last && other.first <= own.last);
            if let Some(other) = shared {
                return Err(refuse(
                    format!("the break shares a day with {}", other.name),
                    "breaks that do not overlap",
                ));
            }
        }
        Ok(())
    }
}
