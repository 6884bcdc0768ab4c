//! What sets the duration: the chain of jobs from the first to the last, one holding up the next.

use super::placing::{Attempt, Begun, Cause};
use super::steps::{Trade, Works};
use crate::order;
use crate::works::calendar::Calendar;
use crate::works::schedule::HeldBy;
use serde::Serialize;

/// What part of the time goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "cause", rename_all = "snake_case")]
pub enum Driver {
    /// A gang at work.
    Trade {
        /// The gang.
        trade: Trade,
        /// Working hours.
        hours: u32,
    },
    /// Concrete, adhesive or paint hardens.
    Curing {
        /// Working hours.
        hours: u32,
    },
    /// The break in which rooms may be shut, or loud work be done, has not begun.
    Break {
        /// Working hours.
        hours: u32,
    },
    /// A job waits for its turn, rooms being cleared no earlier than they have to be.
    Turn {
        /// Working hours.
        hours: u32,
    },
}

impl Driver {
    /// Working hours it takes.
    pub const fn hours(&self) -> u32 {
        match self {
            Self::Trade { hours, .. } | Self::Curing { hours } | Self::Break { hours } | Self::Turn { hours } => *hours,
        }
    }
}

/// What a job waited for before it began.
enum Wait {
    Curing,
    Break,
    Turn,
}

struct Chain<'a> {
    works: &'a Works,
    attempt: &'a Attempt,
    calendar: &'a Calendar,
}

/// Hours by cause along the chain from the first job to the one that ends last, the longest first. They add up to
/// the working hours between the two.
pub(super) fn drivers(works: &Works, attempt: &Attempt, calendar: &Calendar) -> Vec<Driver> {
    let placed = &attempt.placed;
    let chain = Chain { works, attempt, calendar };
    let mut by_trade = [0; Trade::ALL.len()];
    let (mut curing, mut breaks, mut turn) = (0, 0, 0);
    let origin = placed.iter().map(|at| at.start).min().unwrap_or(0);
    let mut current = (0..placed.len()).max_by_key(|job| (placed[*job].end, usize::MAX - job));
    // What goes before a job ends by its start, so the chain ends.
    while let Some(job) = current {
        let at = placed[job];
        by_trade[works.jobs[job].trade.resource()] += at.end - at.start;
        let (before, wait) = chain.before(job);
        let waited = at.start - before.map_or(origin, |own| placed[own].end);
        match wait {
            Wait::Curing => curing += waited,
            Wait::Break => breaks += waited,
            Wait::Turn => turn += waited,
        }
        current = before;
    }
    let trades = Trade::ALL.into_iter().map(|trade| Driver::Trade { trade, hours: by_trade[trade.resource()] });
    let waits = [Driver::Curing { hours: curing }, Driver::Break { hours: breaks }, Driver::Turn { hours: turn }];
    let mut drivers: Vec<Driver> = trades.chain(waits).filter(|driver| driver.hours() > 0).collect();
    order::sort_by_key(&mut drivers, |driver| u32::MAX - driver.hours());
    drivers
}

impl Chain<'_> {
    /// The job that held one up, and what it waited for beyond the end of that job.
    fn before(&self, job: usize) -> (Option<usize>, Wait) {
        let at = self.attempt.placed[job];
        match at.held_by {
            HeldBy::Job(before) => (Some(before), Wait::Curing),
            HeldBy::Resource(resource) => {
                let needs = |other: usize| self.works.problem.jobs[other].needs.contains(&resource);
                (self.last(at.start, needs), Wait::Turn)
            }
            HeldBy::Nothing => self.beginning(job),
        }
    }

    /// What held up a job that began as soon as it might.
    fn beginning(&self, job: usize) -> (Option<usize>, Wait) {
        let start = self.attempt.placed[job].start;
        let package = self.works.jobs[job].package;
        let begun = match package {
            Some(own) => self.attempt.begun[own],
            // Works outside begin at once, or in a break.
            None if start == 0 => return (None, Wait::Turn),
            None => Begun { from: start, cause: Cause::Break },
        };
        match begun.cause {
            Cause::AtOnce => (None, Wait::Turn),
            Cause::Outside => (self.last(begun.from, |other| self.package(other).is_none()), Wait::Turn),
            Cause::Group => (self.last(begun.from, |other| self.package(other).is_some()), Wait::Turn),
            Cause::Break => (self.in_earlier_break(job, begun.from), Wait::Break),
        }
    }

    /// The job that kept a group of rooms, or a loud job outside, from an earlier break: the last to
    /// end since the latest earlier break began that is long enough. None where there was no such break.
    fn in_earlier_break(&self, job: usize, from: u32) -> Option<usize> {
        let package = self.package(job);
        let hours = match package {
            Some(own) => {
                let jobs = || self.all().filter(|other| self.package(*other) == Some(own));
                let end = jobs().map(|other| self.attempt.placed[other].end).max().unwrap_or(from);
                end - from
            }
            None => self.works.jobs[job].hours(),
        };
        let spans = || (0..self.calendar.breaks().len()).filter_map(|own| self.calendar.hours_of(own));
        // What fits no break at all begins in one as long as this.
        let asked = spans().find(|[first, _]| *first == from).map_or(hours, |[first, end]| hours.min(end - first));
        let [first, _] = spans().rfind(|[first, end]| *first < from && end - first >= asked)?;
        let before = |other: usize| {
            let outside_too = package.is_none() || self.attempt.outside_first;
            self.attempt.placed[other].end > first && (outside_too || self.package(other).is_some())
        };
        self.last(from, before)
    }

    fn all(&self) -> std::ops::Range<usize> {
        0..self.works.jobs.len()
    }

    fn package(&self, job: usize) -> Option<usize> {
        self.works.jobs[job].package
    }

    /// The last to end by an hour of the jobs that are meant, the first of them in the list.
    fn last(&self, by: u32, meant: impl Fn(usize) -> bool) -> Option<usize> {
        let end = |job: usize| self.attempt.placed[job].end;
        self.all().filter(|job| end(*job) <= by && meant(*job)).max_by_key(|job| (end(*job), usize::MAX - job))
    }
}
