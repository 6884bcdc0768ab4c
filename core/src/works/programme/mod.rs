//! The programme of works: which gang is where on which day, which rooms are shut from when to
//! when, and what drives the duration.
//!
//! Rooms that a member touches together are shut together (a *package*). Packages are placed
//! from the ground up, each into the first break that takes it from clearing to handing back;
//! one that fits no break runs on into days in use, and says so. Works outside stand in no room
//! and go on at any time. Holds for one pace of work; [`programmes`] gives all three.

mod drivers;
mod figures;
mod placing;
mod steps;
mod weeks;

pub use drivers::Driver;
pub use figures::{Closure, Figures};
pub use steps::{Step, Trade};
pub use weeks::{Crew, RoomState, Week};

use super::basis::Basis;
use super::calendar::{Calendar, Date};
use super::quantities::{MemberWorks, take_off};
use super::rates::Task;
use super::rooms::{Room, RoomPlan};
use super::schedule::Priority;
use crate::model::Model;
use crate::order;
use crate::place::Place;
use crate::project::{Project, Scheme, ShutRooms, WorkingTimes};
use crate::study::Band;
use placing::Attempt;
use serde::Serialize;

/// How quickly gangs work: slow, usual or fast values of every rate and wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Pace {
    /// Fast rates, short waits.
    Fast,
    /// Usual rates.
    Usual,
    /// Slow rates, long waits.
    Slow,
}

impl Pace {
    /// The value of an estimate at this pace.
    pub const fn of(self, band: Band) -> f64 {
        match self {
            Self::Fast => band.low,
            Self::Usual => band.mid,
            Self::Slow => band.high,
        }
    }
}

/// When rooms may be shut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inside {
    /// In breaks only, as far as they are long enough.
    Breaks,
    /// On any working day.
    AnyDay,
}

/// Hours in which gangs work inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WorkingHours {
    /// By day, the rooms being empty.
    Day,
    /// Evenings and nights of a building in use by day.
    Evenings,
    /// By day beside patients, behind screens and under extraction.
    Contained,
}

impl WorkingHours {
    /// Factor on the rates of work inside; fast first (common practice, no source).
    pub const fn rate_factor(self) -> Band {
        match self {
            Self::Day => Band { low: 1.0, mid: 1.0, high: 1.0 },
            Self::Evenings => Band { low: 0.8, mid: 0.65, high: 0.5 },
            Self::Contained => Band { low: 0.75, mid: 0.6, high: 0.4 },
        }
    }
}

/// How the works are run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules {
    /// Gangs of each trade, at least one.
    pub gangs: u32,
    /// When rooms may be shut.
    pub inside: Inside,
    /// Whole storeys are shut together.
    pub whole_storeys: bool,
    /// Packages shut at once; any number where left out.
    pub packages_at_once: Option<u32>,
    /// Bars are drilled wet with diamond: slower, and heard in the room only.
    pub quiet_drilling: bool,
    /// Loud work outside waits for breaks.
    pub loud_outside_in_breaks: bool,
    /// Works outside are done before any room is shut.
    pub outside_first: bool,
    /// Hours of work inside.
    pub hours: WorkingHours,
    /// Hour of the clock at which work inside begins; the usual one where left out.
    pub begins: Option<u32>,
    /// Rooms out of use while gangs work are cleaned up and given back after each shift.
    pub given_back: bool,
}

impl Rules {
    /// Hour of the clock at which a shift begins, inside or outside.
    pub(super) const fn shift_begins(&self, inside: bool) -> u32 {
        match (self.begins, self.hours) {
            (Some(hour), _) if inside => hour,
            (None, WorkingHours::Evenings) if inside => EVENING,
            _ => MORNING,
        }
    }

    /// Factor on the rates of work inside at a pace.
    pub(super) const fn rate_factor(&self, pace: Pace) -> f64 {
        let factor = pace.of(self.hours.rate_factor());
        if self.given_back { factor * pace.of(GIVING_BACK) } else { factor }
    }

    /// What labour by day in empty rooms becomes inside.
    pub fn inside(&self, by_day: Band) -> Band {
        let [low, mid, high] =
            [Pace::Fast, Pace::Usual, Pace::Slow].map(|pace| pace.of(by_day) / self.rate_factor(pace));
        Band { low, mid, high }
    }

    /// The activity by which something of the take-off is done.
    pub(super) const fn done_as(&self, task: Task) -> Task {
        match task {
            Task::BondBars if self.quiet_drilling => Task::BondBarsQuietly,
            other => other,
        }
    }
}

/// Hours of the clock at which shifts usually begin, by day and in the evening (common practice, no
/// source). A shift is the working day without its pause.
const MORNING: u32 = 8;
const EVENING: u32 = 18;

/// What is left of a shift where rooms are cleaned up for use after it; fast first (common practice,
/// no source).
pub const GIVING_BACK: Band = Band { low: 0.9, mid: 0.85, high: 0.75 };

impl Default for Rules {
    fn default() -> Self {
        Self {
            gangs: 1,
            inside: Inside::Breaks,
            whole_storeys: false,
            packages_at_once: None,
            quiet_drilling: false,
            loud_outside_in_breaks: false,
            outside_first: false,
            hours: WorkingHours::Day,
            begins: None,
            given_back: false,
        }
    }
}

/// Another way to run the same works.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Alternative {
    /// As the project says.
    AsSet,
    /// One gang more of each trade.
    OneGangMore,
    /// Whole storeys shut together.
    WholeStoreys,
    /// Bars drilled wet with diamond.
    QuietDrilling,
    /// Rooms shut on any working day.
    AnyDay,
    /// Works outside before any room is shut.
    OutsideFirst,
    /// Loud work outside in breaks only.
    LoudInBreaks,
}

impl Alternative {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::AsSet,
        Self::OneGangMore,
        Self::WholeStoreys,
        Self::QuietDrilling,
        Self::AnyDay,
        Self::OutsideFirst,
        Self::LoudInBreaks,
    ];

    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::AsSet => "As set on the bench",
            Self::OneGangMore => "One gang more of each trade",
            Self::WholeStoreys => "One whole storey at a time",
            Self::QuietDrilling => "Bars drilled wet with diamond",
            Self::AnyDay => "Rooms shut on any working day",
            Self::OutsideFirst => "Outside works first",
            Self::LoudInBreaks => "Loud work outside in breaks only",
        }
    }

    /// Working times changed so; `None` where that changes nothing.
    pub fn of(self, times: &WorkingTimes) -> Option<WorkingTimes> {
        let mut other = times.clone();
        match self {
            Self::AsSet => return Some(other),
            Self::OneGangMore => other.gangs += 1,
            Self::WholeStoreys => {
                other.whole_storeys = true;
                other.groups_at_once = Some(1);
            }
            Self::QuietDrilling => other.quiet_drilling = true,
            Self::AnyDay => other.shut = ShutRooms::AnyDay,
            Self::OutsideFirst => other.outside_first = true,
            Self::LoudInBreaks if times.breaks.is_empty() => {}
            Self::LoudInBreaks => other.loud_in_breaks = true,
        }
        (other != *times).then_some(other)
    }
}

/// A job in its place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Activity {
    /// What is done.
    pub step: Step,
    /// By whom.
    pub trade: Trade,
    /// At which member; the building for clearing and handing back rooms.
    pub place: Place,
    /// The member, by its place in the take-off; none for clearing and handing back rooms.
    pub front: Option<usize>,
    /// Rooms the gang stands in, by their place in [`Programme::rooms`].
    pub rooms: Vec<usize>,
    /// Rooms shut together, counted from zero; none for work outside.
    pub package: Option<usize>,
    /// Loudest activity: 0 not heard, 1 in the room, 2 next door, 3 through the block.
    pub noise: u8,
    /// People at work.
    pub people: f64,
    /// What it consists of, quantities in the units of the table of rates.
    #[serde(skip)]
    pub quantities: Vec<(Task, f64)>,
    /// Labour: people × days of each of these; less than what the gang is held for, which goes by whole hours.
    #[serde(skip)]
    pub man_days: f64,
    /// First working hour, from zero.
    pub start: u32,
    /// Working hour after the last.
    pub end: u32,
    /// First day.
    #[serde(serialize_with = "figures::iso")]
    pub first: Date,
    /// Last day.
    #[serde(serialize_with = "figures::iso")]
    pub last: Date,
}

impl Activity {
    /// A job that takes some working hours, not placed yet; the rest is for the caller to say.
    const fn taking(hours: u32) -> Self {
        Self {
            step: Step::SetUp,
            trade: Trade::Moving,
            place: Place::Building,
            front: None,
            rooms: Vec::new(),
            package: None,
            noise: 0,
            people: 0.0,
            quantities: Vec::new(),
            man_days: 0.0,
            start: 0,
            end: hours,
            first: Date::MIN,
            last: Date::MIN,
        }
    }

    /// Working hours of the gang.
    pub const fn hours(&self) -> u32 {
        self.end - self.start
    }
}

/// A programme at one pace.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Programme {
    /// The pace.
    pub pace: Pace,
    /// Rooms touched, in the order of storeys.
    pub rooms: Vec<Room>,
    /// Jobs in the order of their start.
    pub activities: Vec<Activity>,
    /// Rooms with the days they are shut.
    pub closures: Vec<Closure>,
    /// Days in use with work heard through the block.
    #[serde(serialize_with = "figures::iso_days")]
    pub loud_days: Vec<Date>,
    /// What it comes to.
    pub figures: Figures,
    /// What the time goes on along the chain from the first job to the last; hours by cause, the longest first.
    pub drivers: Vec<Driver>,
    /// Packages that fit no break and are shut while the building is in use.
    pub spilled: Vec<usize>,
    /// Whether rooms are to be shut in breaks and none is left after the start.
    pub no_break_left: bool,
    /// How the works are run.
    #[serde(skip)]
    pub rules: Rules,
}

/// The programme of a scheme at slow, usual and fast pace, in the order fast, usual, slow. Empty
/// where nothing is done.
pub fn programmes(model: &Model, project: &Project, calendar: &Calendar, rules: &Rules) -> Vec<Programme> {
    let (building, basis) = (&project.building, Basis::of(project));
    let members = take_off(model, building);
    if members.is_empty() {
        return Vec::new();
    }
    let plan = RoomPlan::new(model, building);
    let pace = |pace| programme(&members, basis, &plan, calendar, rules, pace);
    [Pace::Fast, Pace::Usual, Pace::Slow].into_iter().map(pace).collect()
}

/// The programme of a scheme at fast, usual and slow pace in given working times; empty where
/// nothing is done or the times make no calendar, which the reader of projects refuses.
pub fn of_scheme(project: &Project, scheme: &Scheme, times: &WorkingTimes) -> Vec<Programme> {
    let Ok(calendar) = times.calendar() else { return Vec::new() };
    programmes(&Model::new(&project.building, scheme), project, &calendar, &times.rules())
}

/// The programme of works at one pace.
pub fn programme(
    members: &[MemberWorks],
    basis: Basis<'_>,
    plan: &RoomPlan<'_>,
    calendar: &Calendar,
    rules: &Rules,
    pace: Pace,
) -> Programme {
    let mut rooms: Vec<Room> =
        members.iter().flat_map(|member| member.rooms.iter().chain(&member.cored_rooms)).copied().collect();
    order::sort_by(&mut rooms, Room::cmp);
    rooms.dedup();
    let works = steps::jobs(members, basis, (&rooms, plan), pace, rules, calendar);
    let mut best = Attempt::new(&works, calendar, rules, Priority::Listed);
    for priority in &Priority::ALL[1..] {
        let attempt = Attempt::new(&works, calendar, rules, *priority);
        if attempt.worth(&works, calendar) < best.worth(&works, calendar) {
            best = attempt;
        }
    }
    figures::programme(&works, &best, rooms, plan, calendar, rules, pace)
}
