//! Jobs with waits between them on limited gangs: a serial schedule-generation scheme.
//!
//! Time counts in working hours from zero; what lies between two working days is not there.
//! Jobs are taken in the order of a priority rule and each is placed at the earliest hour at
//! which what goes before it is done and all it needs is free (Kolisch 1996, *Serial and parallel
//! resource-constrained project scheduling methods revisited*, MEMORY). Several rules are tried,
//! each also shifted to the right and back (Valls, Ballestín and Quintanilla 2005, *Justification
//! and RCPSP*, MEMORY), and the shortest is kept. The same jobs give the same schedule always.

use crate::order;

/// A wait after another job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct After {
    /// The job that goes before, by its place in the list.
    pub job: usize,
    /// Working hours from its end to the earliest start.
    pub wait: u32,
}

/// A job that is not interrupted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Working hours it takes.
    pub hours: u32,
    /// What it needs one of while it goes on: gangs and rooms, by their place in the list.
    pub needs: Vec<usize>,
    /// What goes before it; earlier jobs of the list only.
    pub after: Vec<After>,
}

/// Jobs and how many of each resource there are.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// The jobs; what goes before a job stands before it.
    pub jobs: Vec<Job>,
    /// How many of each resource there are, at least one of what is needed.
    pub capacity: Vec<u32>,
}

/// What held a job back until it began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeldBy {
    /// Nothing: it begins as soon as it may.
    Nothing,
    /// A job that goes before it, with the wait after it.
    Job(usize),
    /// A gang or room that was taken.
    Resource(usize),
}

/// A job in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// First hour, from zero.
    pub start: u32,
    /// Hour after the last.
    pub end: u32,
    /// What held it back.
    pub held_by: HeldBy,
}

/// Hours in which resources are taken.
#[derive(Clone, Debug)]
pub struct Timeline {
    capacity: Vec<u32>,
    /// Units taken, by resource and hour; hours beyond the list are free.
    taken: Vec<Vec<u32>>,
}

impl Timeline {
    /// With everything free.
    pub fn new(capacity: &[u32]) -> Self {
        Self { capacity: capacity.to_vec(), taken: vec![Vec::new(); capacity.len()] }
    }

    /// The earliest hour from `from` at which all of `needs` are free for `hours`, and which
    /// resource was the last to hold it back. Resources with no unit at all are taken as one.
    pub fn earliest(&self, needs: &[usize], hours: u32, from: u32) -> (u32, Option<usize>) {
        let (mut start, mut held) = (from, None);
        'search: loop {
            for resource in needs {
                let taken = &self.taken[*resource];
                let most = self.capacity[*resource].max(1);
                let window = start as usize..(start + hours) as usize;
                // From the last hour back, so that the search jumps as far as it can.
                let clash = window.rev().find(|hour| taken.get(*hour).is_some_and(|units| *units >= most));
                if let Some(hour) = clash {
                    start = hour as u32 + 1;
                    held = Some(*resource);
                    continue 'search;
                }
            }
            return (start, held);
        }
    }

    /// Takes one of each of `needs`.
    pub fn take(&mut self, needs: &[usize], start: u32, end: u32) {
        for resource in needs {
            let taken = &mut self.taken[*resource];
            if taken.len() < end as usize {
                taken.resize(end as usize, 0);
            }
            for units in &mut taken[start as usize..end as usize] {
                *units += 1;
            }
        }
    }

    /// Gives back what [`Timeline::take`] took.
    pub fn release(&mut self, needs: &[usize], start: u32, end: u32) {
        for resource in needs {
            for units in &mut self.taken[*resource][start as usize..end as usize] {
                *units -= 1;
            }
        }
    }
}

/// The order in which jobs that may begin are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Priority {
    /// As listed.
    Listed,
    /// The longest chain of jobs and waits still to follow first.
    LongestTail,
    /// The most jobs still to follow first.
    MostFollowers,
    /// The longest job first.
    Longest,
    /// The shortest job first.
    Shortest,
}

impl Priority {
    /// All rules, in the order in which they are tried.
    pub const ALL: [Self; 5] = [Self::Listed, Self::LongestTail, Self::MostFollowers, Self::Longest, Self::Shortest];
}

impl Problem {
    /// Hours from the start of each job to the end of all that follows it, resources apart.
    pub fn tails(&self) -> Vec<u32> {
        let mut tails: Vec<u32> = self.jobs.iter().map(|job| job.hours).collect();
        for (index, job) in self.jobs.iter().enumerate().rev() {
            for before in &job.after {
                let through = self.jobs[before.job].hours + before.wait + tails[index];
                tails[before.job] = tails[before.job].max(through);
            }
        }
        tails
    }

    /// How many jobs follow each, directly or through others.
    fn followers(&self) -> Vec<usize> {
        let mut sets: Vec<Vec<bool>> = vec![vec![false; self.jobs.len()]; self.jobs.len()];
        for (index, job) in self.jobs.iter().enumerate().rev() {
            for before in &job.after {
                let own = std::mem::take(&mut sets[index]);
                for (into, from) in sets[before.job].iter_mut().zip(&own) {
                    *into |= *from;
                }
                sets[before.job][index] = true;
                sets[index] = own;
            }
        }
        sets.iter().map(|set| set.iter().filter(|follows| **follows).count()).collect()
    }

    /// Jobs in the order of a rule, none before what goes before it.
    pub fn order(&self, priority: Priority) -> Vec<usize> {
        let rank: Vec<usize> = match priority {
            Priority::Listed => (0..self.jobs.len()).collect(),
            Priority::LongestTail => self.tails().iter().map(|tail| usize::MAX - *tail as usize).collect(),
            Priority::MostFollowers => self.followers().iter().map(|count| usize::MAX - count).collect(),
            Priority::Longest => self.jobs.iter().map(|job| usize::MAX - job.hours as usize).collect(),
            Priority::Shortest => self.jobs.iter().map(|job| job.hours as usize).collect(),
        };
        self.by_rank(&rank)
    }

    /// Of the jobs whose predecessors are taken, the one of least rank next; ties as listed.
    fn by_rank(&self, rank: &[usize]) -> Vec<usize> {
        let mut missing: Vec<usize> = self.jobs.iter().map(|job| job.after.len()).collect();
        let mut following: Vec<Vec<usize>> = vec![Vec::new(); self.jobs.len()];
        for (index, job) in self.jobs.iter().enumerate() {
            for before in &job.after {
                following[before.job].push(index);
            }
        }
        let mut ready: Vec<usize> = (0..self.jobs.len()).filter(|job| missing[*job] == 0).collect();
        let mut taken = Vec::with_capacity(self.jobs.len());
        while let Some(at) = (0..ready.len()).min_by_key(|at| (rank[ready[*at]], ready[*at])) {
            let job = ready.swap_remove(at);
            taken.push(job);
            for next in &following[job] {
                missing[*next] -= 1;
                if missing[*next] == 0 {
                    ready.push(*next);
                }
            }
        }
        taken
    }

    /// Places jobs in an order that keeps what goes before a job before it.
    pub fn serial(&self, order: &[usize]) -> Vec<Placed> {
        let mut timeline = Timeline::new(&self.capacity);
        let idle = Placed { start: 0, end: 0, held_by: HeldBy::Nothing };
        let mut placed = vec![idle; self.jobs.len()];
        for index in order {
            placed[*index] = self.place(*index, &placed, &timeline, 0);
            timeline.take(&self.jobs[*index].needs, placed[*index].start, placed[*index].end);
        }
        placed
    }

    /// Where a job goes on a timeline, not before `from`, once those before it are placed.
    pub fn place(&self, index: usize, placed: &[Placed], timeline: &Timeline, from: u32) -> Placed {
        let job = &self.jobs[index];
        let (mut earliest, mut held_by) = (from, HeldBy::Nothing);
        for before in &job.after {
            let free = placed[before.job].end + before.wait;
            if free > earliest {
                (earliest, held_by) = (free, HeldBy::Job(before.job));
            }
        }
        let (start, held) = timeline.earliest(&job.needs, job.hours, earliest);
        Placed { start, end: start + job.hours, held_by: held.map_or(held_by, HeldBy::Resource) }
    }

    /// The shortest schedule the rules find.
    pub fn best(&self) -> Vec<Placed> {
        let mut best: Vec<Placed> = Vec::new();
        for priority in Priority::ALL {
            let first = self.serial(&self.order(priority));
            let justified = self.justify(&first);
            for candidate in [first, justified] {
                if best.is_empty() || length(&candidate) < length(&best) {
                    best = candidate;
                }
            }
        }
        best
    }

    /// All jobs shifted as late as they go, the last to end first, and back as early as they go.
    /// Never longer than before.
    fn justify(&self, placed: &[Placed]) -> Vec<Placed> {
        let backwards = self.backwards();
        let last = self.jobs.len();
        let mut order: Vec<usize> = (0..last).collect();
        order::sort_by_key(&mut order, |job| (u32::MAX - placed[*job].end, usize::MAX - *job));
        let mirrored: Vec<usize> = order.iter().map(|job| last - 1 - job).collect();
        let late = backwards.serial(&mirrored);
        // In the mirrored problem the end of a job is the hours from its start to the very end.
        let rank: Vec<usize> = (0..last).map(|job| usize::MAX - late[last - 1 - job].end as usize).collect();
        self.serial(&self.by_rank(&rank))
    }

    /// The problem read from the end: what follows a job goes before it.
    fn backwards(&self) -> Self {
        let last = self.jobs.len();
        let mirror = |job: &Job| Job { hours: job.hours, needs: job.needs.clone(), after: Vec::new() };
        let mut jobs: Vec<Job> = self.jobs.iter().rev().map(mirror).collect();
        for (index, job) in self.jobs.iter().enumerate() {
            for before in &job.after {
                let link = After { job: last - 1 - index, wait: before.wait };
                jobs[last - 1 - before.job].after.push(link);
            }
        }
        Self { jobs, capacity: self.capacity.clone() }
    }
}

/// Hours until the last job is done.
pub fn length(placed: &[Placed]) -> u32 {
    placed.iter().map(|job| job.end).max().unwrap_or(0)
}
