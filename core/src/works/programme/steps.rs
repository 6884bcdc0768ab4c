//! From the quantities of each member to jobs in their order.
//!
//! A member is a front: its steps follow one another. A room is emptied before the first step
//! inside it and handed back after the last. A wall, jacket or storey of a frame is cast after
//! what stands under it.

use super::{Activity, Pace, Rules};
use crate::order;
use crate::place::Place;
use crate::works::basis::Basis;
use crate::works::calendar::{Calendar, DAY_HOURS};
use crate::works::quantities::MemberWorks;
use crate::works::rates::{ADHESIVE_CURES, FORMS_STAY, PAINT_AIRS, SOFFITS_STAY, Task, WALL_BEFORE_GROUT, Wait};
use crate::works::room_use::{RoomUse, clock};
use crate::works::rooms::{Room, RoomPlan};
use crate::works::schedule::{After, Job, Problem};
use serde::Serialize;

/// A gang that works for the whole job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Trade {
    /// Clears rooms, protects and hands back.
    Moving,
    /// Strips, breaks out, saws.
    Stripping,
    /// Digs and casts footings.
    Groundwork,
    /// Roughens, cores, drills and bonds.
    Drilling,
    /// Fixes bars and forms.
    BarsAndForms,
    /// Places concrete and grout.
    Concreting,
    /// Plasters, paints, refits.
    Finishing,
}

impl Trade {
    /// All trades, in the order of the works.
    pub const ALL: [Self; 7] = [
        Self::Moving,
        Self::Stripping,
        Self::Groundwork,
        Self::Drilling,
        Self::BarsAndForms,
        Self::Concreting,
        Self::Finishing,
    ];

    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Moving => "moving out and back",
            Self::Stripping => "stripping and breaking out",
            Self::Groundwork => "groundwork",
            Self::Drilling => "roughening and drilling",
            Self::BarsAndForms => "bars and forms",
            Self::Concreting => "concreting",
            Self::Finishing => "finishing",
        }
    }

    /// Its place in the list of resources.
    pub(super) const fn resource(self) -> usize {
        self as usize
    }
}

/// A step of the works at a member or in a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// The room is cleared.
    MoveOut,
    /// Hoarding, gates and ways.
    SetUp,
    /// Protection, survey, services, windows, ceilings, props, scaffold.
    OpenUp,
    /// Plaster and masonry come off, sills are sawn.
    BreakOut,
    /// Footings.
    Footing,
    /// Old concrete is roughened, slabs are cored.
    Roughen,
    /// Bars are bonded into old concrete.
    BondBars,
    /// Bars and forms.
    BarsAndForms,
    /// Concrete.
    Cast,
    /// The gap under the beam is grouted.
    Grout,
    /// Finishes, windows, services.
    Finish,
    /// The room is cleaned and handed back.
    HandBack,
}

/// A step with who does it, what it consists of, and what is waited for after it where there is
/// any of the activity named.
type Row = (Step, Trade, &'static [Task], Option<(Option<Task>, &'static Wait)>);

/// The steps of a member in their order.
const STEPS: &[Row] = &[
    (Step::SetUp, Trade::Stripping, &[Task::SetUpSite], None),
    (
        Step::OpenUp,
        Trade::Stripping,
        &[
            Task::Scaffold,
            Task::Protect,
            Task::Survey,
            Task::CutServices,
            Task::TakeOutWindow,
            Task::TakeDownCeiling,
            Task::Prop,
        ],
        None,
    ),
    (Step::BreakOut, Trade::Stripping, &[Task::StripPlaster, Task::StripFace, Task::SawCut, Task::BreakMasonry], None),
    (
        Step::Footing,
        Trade::Groundwork,
        &[Task::BreakGroundSlab, Task::DigInside, Task::DigOutside, Task::Micropile, Task::CastFooting],
        None,
    ),
    (Step::Roughen, Trade::Drilling, &[Task::Roughen, Task::CoreSlab], None),
    (Step::BondBars, Trade::Drilling, &[Task::BondBars, Task::BondBarsQuietly], Some((None, &ADHESIVE_CURES))),
    (
        Step::BarsAndForms,
        Trade::BarsAndForms,
        &[
            Task::FixJacketBars,
            Task::FixWallBars,
            Task::FixFrameBars,
            Task::FormJacket,
            Task::FormWall,
            Task::FormFrame,
            Task::FormSoffit,
            Task::ErectPrecast,
        ],
        None,
    ),
    (
        Step::Cast,
        Trade::Concreting,
        &[Task::PourJacket, Task::PourWall, Task::PourFrame, Task::ShotcreteDry, Task::ShotcreteWet],
        Some((None, &FORMS_STAY)),
    ),
    (Step::Grout, Trade::Concreting, &[Task::GroutTop], None),
    (
        Step::Finish,
        Trade::Finishing,
        &[
            Task::Plaster,
            Task::FitWindow,
            Task::RehangCeiling,
            Task::ReconnectServices,
            Task::PatchFloor,
            Task::Paint,
            Task::FinishFace,
        ],
        Some((Some(Task::Paint), &PAINT_AIRS)),
    ),
];

/// All jobs with what they need and what goes before them.
#[derive(Clone, Debug, Default)]
pub(super) struct Works {
    /// Without their time, which the schedule gives them.
    pub jobs: Vec<Activity>,
    pub problem: Problem,
    pub packages: usize,
    /// When each room is in use.
    pub uses: Vec<RoomUse>,
    /// Rooms that stay in use: given back after each shift, and never in use within one.
    pub given_back: Vec<bool>,
}

/// Rooms that are shut together because a member touches both or they are one zone, storey by storey.
fn packages(works: &[MemberWorks], rooms: &[Room], plan: &RoomPlan<'_>, whole_storeys: bool) -> Vec<usize> {
    let mut of: Vec<usize> = (0..rooms.len()).collect();
    let find = |room: &Room| rooms.iter().position(|own| own == room);
    let zone = |room: &Room| {
        let same = |other: &&Room| other.storey == room.storey && plan.zone(**other) == plan.zone(*room);
        let own: Vec<Room> = rooms.iter().filter(same).copied().collect();
        if plan.zone(*room).is_empty() { Vec::new() } else { own }
    };
    let zones: Vec<Vec<Room>> = rooms.iter().map(zone).collect();
    for together in works.iter().map(|member| &member.rooms).chain(&zones) {
        let own: Vec<usize> = together.iter().filter_map(find).map(|at| of[at]).collect();
        if let Some(least) = own.iter().min().copied() {
            for package in of.iter_mut().filter(|package| own.contains(package)) {
                *package = least;
            }
        }
    }
    if whole_storeys {
        let first = |room: &Room| rooms.iter().position(|own| own.storey == room.storey).unwrap_or(0);
        of = rooms.iter().map(first).collect();
    }
    let mut names = of.clone();
    names.dedup();
    order::sort_by(&mut names, usize::cmp);
    names.dedup();
    of.iter().map(|package| names.iter().position(|name| name == package).unwrap_or(0)).collect()
}

/// All jobs of the works at a pace; `rooms` holds every room a member touches.
pub(super) fn jobs(
    members: &[MemberWorks],
    basis: Basis<'_>,
    (rooms, plan): (&[Room], &RoomPlan<'_>),
    pace: Pace,
    rules: &Rules,
    calendar: &Calendar,
) -> Works {
    let package_of = packages(members, rooms, plan, rules.whole_storeys);
    let mut all =
        Builder { pace, rules, basis, works: Works::default(), emptied: Vec::new(), casts: Vec::new(), set_up: None };
    let gangs = Trade::ALL.iter().map(|_| rules.gangs.max(1));
    all.works.problem.capacity = gangs.chain(rooms.iter().map(|_| 1)).collect();
    all.works.uses = rooms.iter().map(|room| plan.use_of(*room)).collect();
    let shift = clock(rules.shift_begins(true), DAY_HOURS);
    all.works.given_back = all.works.uses.iter().map(|own| rules.given_back && own.is_free(calendar, shift)).collect();
    all.works.packages = package_of.iter().map(|package| package + 1).max().unwrap_or(0);

    // From the ground up and room by room, as a gang goes through; the site is set up first.
    let find = |room: &Room| rooms.iter().position(|own| own == room);
    let key = |member: &MemberWorks| {
        let sets_up = member.quantity(Task::SetUpSite) > 0.0;
        (!sets_up, storey_of(&member.place), member.rooms.iter().filter_map(find).min())
    };
    let mut order: Vec<(usize, &MemberWorks)> = members.iter().enumerate().collect();
    order::sort_by(&mut order, |one, other| key(one.1).cmp(&key(other.1)));
    for (front, member) in order {
        let own: Vec<usize> = member.rooms.iter().filter_map(find).collect();
        let cored: Vec<usize> = member.cored_rooms.iter().filter_map(find).filter(|room| !own.contains(room)).collect();
        let package = own.first().map(|room| package_of[*room]);
        all.member((front, member), &own, &cored, package);
    }
    all.hand_back();
    all.works
}

/// A room emptied for a package, and what must be done before it is handed back.
struct Emptied {
    package: usize,
    room: usize,
    job: usize,
    last: Vec<After>,
}

struct Builder<'a> {
    pace: Pace,
    rules: &'a Rules,
    basis: Basis<'a>,
    works: Works,
    emptied: Vec<Emptied>,
    /// Where concrete is cast, by which job.
    casts: Vec<(&'a Place, usize)>,
    set_up: Option<usize>,
}

impl<'a> Builder<'a> {
    /// The jobs of a member, one after the other.
    fn member(
        &mut self,
        (front, member): (usize, &'a MemberWorks),
        own: &[usize],
        cored: &[usize],
        package: Option<usize>,
    ) {
        let mut before: Vec<After> = Vec::new();
        let mut emptied: Vec<usize> = Vec::new();
        if let Some(package) = package {
            emptied = own.iter().map(|room| self.empty(package, *room)).collect();
            before = emptied.iter().map(|at| After { job: self.emptied[*at].job, wait: 0 }).collect();
        } else if let Some(job) = self.set_up {
            before.push(After { job, wait: 0 });
        }
        for (step, trade, tasks, wait) in STEPS {
            let mut after = before.clone();
            let mut stands_in = own.to_vec();
            let mut cored_here: Vec<usize> = Vec::new();
            match (step, package) {
                (Step::Cast, _) => after.extend(self.under(&member.place).map(|job| After { job, wait: 0 })),
                (Step::Roughen, Some(package)) if member.quantity(Task::CoreSlab) > 0.0 => {
                    cored_here = cored.iter().map(|room| self.empty(package, *room)).collect();
                    after.extend(cored_here.iter().map(|at| After { job: self.emptied[*at].job, wait: 0 }));
                    stands_in.extend(cored);
                }
                _ => {}
            }
            let Some(mut job) = self.step(*step, *trade, tasks, member, package) else { continue };
            job.front = Some(front);
            job.rooms = stands_in;
            let index = self.push(job, after);
            for at in cored_here {
                self.emptied[at].last.push(After { job: index, wait: 0 });
            }
            let mut waits = 0;
            if let Some((task, wait)) = wait.filter(|(task, _)| task.is_none_or(|task| member.quantity(task) > 0.0)) {
                // Outside nobody waits for paint to air.
                if task != Some(Task::Paint) || package.is_some() {
                    waits = self.wait(wait);
                }
            }
            match step {
                Step::SetUp => self.set_up = Some(index),
                Step::Cast => {
                    self.casts.push((&member.place, index));
                    if member.quantity(Task::GroutTop) > 0.0 {
                        waits = waits.max(self.wait(&WALL_BEFORE_GROUT));
                    }
                    if [Task::FormFrame, Task::FormSoffit].iter().any(|task| member.quantity(*task) > 0.0) {
                        waits = waits.max(self.wait(&SOFFITS_STAY));
                    }
                }
                _ => {}
            }
            before = vec![After { job: index, wait: waits }];
        }
        for at in emptied {
            self.emptied[at].last.extend(&before);
        }
    }

    /// A step of a member; none where it has nothing of it.
    fn step(
        &self,
        step: Step,
        trade: Trade,
        tasks: &[Task],
        member: &MemberWorks,
        package: Option<usize>,
    ) -> Option<Activity> {
        let (mut crew_days, mut man_days, mut people, mut noise) = (0.0, 0.0, 0.0_f64, 0);
        let mut quantities = Vec::new();
        for task in tasks {
            let quantity = member.quantity(*task);
            if quantity <= 0.0 {
                continue;
            }
            let task = self.rules.done_as(*task);
            let activity = self.basis.activity(task);
            let days = self.pace.of(activity.rate.crew_days(quantity));
            crew_days += days;
            man_days += days * activity.crew;
            quantities.push((task, quantity));
            people = people.max(activity.crew);
            noise = noise.max(activity.noise);
        }
        let factor = if package.is_some() { self.rules.rate_factor(self.pace) } else { 1.0 };
        (crew_days > 0.0).then(|| Activity {
            step,
            trade,
            place: member.place.clone(),
            front: None,
            rooms: Vec::new(),
            package,
            noise,
            people,
            quantities,
            man_days: man_days / factor,
            ..Activity::taking(hours(crew_days / factor))
        })
    }

    /// The room as emptied for a package, once.
    fn empty(&mut self, package: usize, room: usize) -> usize {
        let known = self.emptied.iter().position(|own| (own.package, own.room) == (package, room));
        known.unwrap_or_else(|| {
            let job = self.room_job(Step::MoveOut, Task::MoveOut, package, room, Vec::new());
            self.emptied.push(Emptied { package, room, job, last: Vec::new() });
            self.emptied.len() - 1
        })
    }

    fn hand_back(&mut self) {
        for own in std::mem::take(&mut self.emptied) {
            self.room_job(Step::HandBack, Task::HandBack, own.package, own.room, own.last);
        }
    }

    fn room_job(&mut self, step: Step, task: Task, package: usize, room: usize, after: Vec<After>) -> usize {
        let activity = self.basis.activity(task);
        let crew_days = self.pace.of(activity.rate.crew_days(1.0)) / self.rules.rate_factor(self.pace);
        let job = Activity {
            step,
            trade: Trade::Moving,
            place: Place::Building,
            front: None,
            rooms: vec![room],
            package: Some(package),
            noise: activity.noise,
            people: activity.crew,
            quantities: vec![(task, 1.0)],
            man_days: crew_days * activity.crew,
            ..Activity::taking(hours(crew_days))
        };
        self.push(job, after)
    }

    fn push(&mut self, job: Activity, after: Vec<After>) -> usize {
        let rooms = job.rooms.iter().map(|room| Trade::ALL.len() + room);
        let needs = std::iter::once(job.trade.resource()).chain(rooms).collect();
        self.works.problem.jobs.push(Job { hours: job.hours(), needs, after });
        self.works.jobs.push(job);
        self.works.jobs.len() - 1
    }

    fn wait(&self, wait: &Wait) -> u32 {
        (self.pace.of(wait.days) * f64::from(DAY_HOURS)).round() as u32
    }

    /// What is cast in the storey below at the same place, the footing under it included.
    fn under(&self, place: &'a Place) -> impl Iterator<Item = usize> + '_ {
        self.casts.iter().filter(move |(own, _)| is_under(own, place)).map(|(_, job)| *job)
    }
}

/// Working hours, at least one.
fn hours(crew_days: f64) -> u32 {
    // A hair of slack so that a whole number of hours is not raised by rounding.
    ((crew_days * f64::from(DAY_HOURS) - 1e-9).ceil().max(1.0)) as u32
}

/// Storey a member's works belong to; footings and the site come first.
fn storey_of(place: &Place) -> u32 {
    match place {
        Place::Column { storey, .. } | Place::Panel { storey, .. } => *storey,
        Place::Slab { level, .. } => *level,
        _ => 0,
    }
}

/// Whether something is cast straight under a place.
fn is_under(below: &Place, above: &Place) -> bool {
    match (below, above) {
        (Place::Column { x, y, storey }, Place::Column { x: of_x, y: of_y, storey: top }) => {
            (x, y, storey + 1) == (of_x, of_y, *top)
        }
        (Place::Panel { line, bay, storey }, Place::Panel { line: of, bay: other, storey: top }) => {
            (line, bay, storey + 1) == (of, other, *top)
        }
        (Place::Slab { face, level }, Place::Slab { face: of, level: top }) => (face, level + 1) == (of, *top),
        (Place::Footing { line }, Place::Slab { face, level: 1 }) => line == face,
        _ => false,
    }
}
