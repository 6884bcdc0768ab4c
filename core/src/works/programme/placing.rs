//! Packages into breaks, works outside round them.

use super::figures::closures;
use super::steps::Works;
use super::{Inside, Rules};
use crate::works::calendar::Calendar;
use crate::works::schedule::{HeldBy, Placed, Priority, Timeline, length};

/// Breaks looked at for a package that fits none.
const BREAKS_LOOKED_AT: usize = 12;

/// All jobs placed with one rule of priority.
pub(super) struct Attempt {
    pub placed: Vec<Placed>,
    /// Packages that fit no break.
    pub spilled: Vec<usize>,
    /// When each package might begin, and why not before.
    pub begun: Vec<Begun>,
    /// Whether works outside came first.
    pub outside_first: bool,
}

/// The earliest hour of a package in its place.
#[derive(Clone, Copy)]
pub(super) struct Begun {
    pub from: u32,
    pub cause: Cause,
}

/// What set the earliest hour of a package.
#[derive(Clone, Copy)]
pub(super) enum Cause {
    /// Nothing.
    AtOnce,
    /// Works outside came first.
    Outside,
    /// Another group of rooms was shut.
    Group,
    /// Its break began.
    Break,
}

/// Hours a package is in work, from clearing to handing back.
type Span = [u32; 2];

struct Placing<'a> {
    works: &'a Works,
    calendar: &'a Calendar,
    rules: &'a Rules,
    order: Vec<usize>,
    timeline: Timeline,
    placed: Vec<Placed>,
    spans: Vec<Span>,
    begun: Vec<Begun>,
}

impl Attempt {
    pub fn new(works: &Works, calendar: &Calendar, rules: &Rules, priority: Priority) -> Self {
        let idle = Placed { start: 0, end: 0, held_by: HeldBy::Nothing };
        let mut placing = Placing {
            works,
            calendar,
            rules,
            order: works.problem.order(priority),
            timeline: Timeline::new(&works.problem.capacity),
            placed: vec![idle; works.jobs.len()],
            spans: Vec::new(),
            begun: vec![Begun { from: 0, cause: Cause::AtOnce }; works.packages],
        };
        let mut from = 0;
        if rules.outside_first {
            placing.outside();
            from = length(&placing.placed);
        }
        let mut spilled = Vec::new();
        for package in 0..works.packages {
            if !placing.package(package, from) {
                spilled.push(package);
            }
        }
        if !rules.outside_first {
            placing.outside();
        }
        Self { placed: placing.placed, spilled, begun: placing.begun, outside_first: rules.outside_first }
    }

    /// What is least in the better programme: room-days in use, then hours.
    pub fn worth(&self, works: &Works, calendar: &Calendar) -> (u32, u32) {
        let in_use = closures(works, &self.placed, calendar).iter().map(|closure| closure.days_in_use).sum();
        (in_use, length(&self.placed))
    }
}

impl Placing<'_> {
    fn jobs_of(&self, package: Option<usize>) -> Vec<usize> {
        self.order.iter().copied().filter(|job| self.works.jobs[*job].package == package).collect()
    }

    fn put(&mut self, job: usize, placed: Placed) {
        self.timeline.take(&self.works.problem.jobs[job].needs, placed.start, placed.end);
        self.placed[job] = placed;
    }

    fn take_back(&mut self, jobs: &[usize]) {
        for job in jobs {
            let placed = self.placed[*job];
            self.timeline.release(&self.works.problem.jobs[*job].needs, placed.start, placed.end);
        }
    }

    /// Works outside, loud ones in breaks where that is asked for and a break is long enough.
    fn outside(&mut self) {
        for job in self.jobs_of(None) {
            let mut placed = self.works.problem.place(job, &self.placed, &self.timeline, 0);
            if self.rules.loud_outside_in_breaks && self.works.jobs[job].noise >= LOUD {
                let in_break = (0..self.calendar.breaks().len()).find_map(|own| {
                    let [first, end] = self.calendar.hours_of(own)?;
                    let there = self.works.problem.place(job, &self.placed, &self.timeline, first);
                    (there.end <= end).then_some(there)
                });
                placed = in_break.unwrap_or(placed);
            }
            self.put(job, placed);
        }
    }

    /// Puts a package where it may go, not before `from`; false where it fits no break.
    fn package(&mut self, package: usize, from: u32) -> bool {
        let jobs = self.jobs_of(Some(package));
        if jobs.is_empty() {
            return true;
        }
        // Rooms given back after each shift need no break.
        let stays_in_use =
            jobs.iter().flat_map(|job| &self.works.jobs[*job].rooms).all(|own| self.works.given_back[*own]);
        let breaks: Vec<Span> = match self.rules.inside {
            Inside::AnyDay => Vec::new(),
            Inside::Breaks if stays_in_use => Vec::new(),
            Inside::Breaks => (0..self.calendar.breaks().len()).filter_map(|own| self.calendar.hours_of(own)).collect(),
        };
        // The earliest hour in a break, and what sets it.
        let within = |first: u32| {
            let cause = if from > first { Cause::Outside } else { Cause::Break };
            Begun { from: from.max(first), cause }
        };
        for [first, end] in &breaks {
            if let Some(begun) = self.try_within(&jobs, within(*first), *end) {
                self.begun[package] = begun;
                return true;
            }
        }
        // No break takes it: where it shuts rooms in use for the fewest days.
        let mut starts: Vec<Begun> = breaks.iter().take(BREAKS_LOOKED_AT).map(|[first, _]| within(*first)).collect();
        if starts.is_empty() {
            starts.push(Begun { from, cause: if from > 0 { Cause::Outside } else { Cause::AtOnce } });
        }
        let mut best: Option<((u32, u32), Begun)> = None;
        for start in starts {
            self.try_within(&jobs, start, u32::MAX);
            let in_use: u32 = closures(self.works, &self.placed, self.calendar)
                .iter()
                .filter(|closure| closure.package == package)
                .map(|closure| closure.days_in_use)
                .sum();
            let worth = (in_use, jobs.iter().map(|job| self.placed[*job].end).max().unwrap_or(0));
            self.take_back(&jobs);
            self.spans.pop();
            if best.is_none_or(|(known, _)| worth < known) {
                best = Some((worth, start));
            }
        }
        let Some(((in_use, _), start)) = best else { return true };
        if let Some(begun) = self.try_within(&jobs, start, u32::MAX) {
            self.begun[package] = begun;
        }
        let asks_for_break = self.rules.inside == Inside::Breaks && !stays_in_use;
        !asks_for_break || (breaks.is_empty() && in_use == 0)
    }

    /// Places the jobs of a package between two hours and says when it might begin, or leaves all as it was.
    fn try_within(&mut self, jobs: &[usize], mut begun: Begun, end: u32) -> Option<Begun> {
        loop {
            for (count, job) in jobs.iter().enumerate() {
                let placed = self.works.problem.place(*job, &self.placed, &self.timeline, begun.from);
                self.put(*job, placed);
                if placed.end > end {
                    self.take_back(&jobs[..=count]);
                    return None;
                }
            }
            self.move_out_late(jobs);
            let start = jobs.iter().map(|job| self.placed[*job].start).min().unwrap_or(begun.from);
            let last = jobs.iter().map(|job| self.placed[*job].end).max().unwrap_or(begun.from);
            let meanwhile: Vec<Span> =
                self.spans.iter().copied().filter(|[first, end]| *first < last && start < *end).collect();
            let too_many = self.rules.packages_at_once.is_some_and(|most| meanwhile.len() >= most.max(1) as usize);
            let next = meanwhile.iter().map(|[_, end]| *end).min();
            match next.filter(|_| too_many) {
                Some(next) => {
                    self.take_back(jobs);
                    begun = Begun { from: next.max(begun.from + 1), cause: Cause::Group };
                }
                None => {
                    self.spans.push([start, last]);
                    return Some(begun);
                }
            }
        }
    }

    /// Clears each room as late as the first job in it allows.
    fn move_out_late(&mut self, jobs: &[usize]) {
        for job in jobs {
            if self.works.jobs[*job].step != super::Step::MoveOut {
                continue;
            }
            let follows = |other: &&usize| self.works.problem.jobs[**other].after.iter().any(|after| after.job == *job);
            let Some(needed) = jobs.iter().filter(follows).map(|other| self.placed[*other].start).min() else {
                continue;
            };
            let own = self.placed[*job];
            let needs = &self.works.problem.jobs[*job].needs;
            let hours = own.end - own.start;
            self.timeline.release(needs, own.start, own.end);
            let late = (own.start..=needed - hours).rev().find(|start| {
                let (free, _) = self.timeline.earliest(needs, hours, *start);
                free == *start
            });
            let start = late.unwrap_or(own.start);
            self.put(*job, Placed { start, end: start + hours, ..own });
        }
    }
}

/// Noise that carries through the whole block.
pub(super) const LOUD: u8 = 3;
