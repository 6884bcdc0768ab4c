//! From quantities to man-days and to the working days rooms are shut.
//!
//! Fronts follow one rule: a room is a front, worked by one gang at a time. Everything
//! that touches the room is done one activity after the other, member after member, and
//! the room stays shut from the day it is emptied until it is handed back. Waits that
//! keep it shut count once each. A slab that is cored shuts the room on its other side for
//! the coring alone. Work done from outside, such as an external frame's, stands in no
//! room and shuts none, loud as it is. Holidays and second gangs are not known here.

use super::basis::Basis;
use super::quantities::MemberWorks;
use super::rates::{ADHESIVE_CURES, Activity, Closes, FORMS_STAY, PAINT_AIRS, Task, WALL_BEFORE_GROUT};
use super::rooms::Room;
use crate::study::Band;
use std::collections::BTreeMap;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul};

impl Add for Band {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, mid: self.mid + other.mid, high: self.high + other.high }
    }
}

impl AddAssign for Band {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Mul<f64> for Band {
    type Output = Self;

    fn mul(self, factor: f64) -> Self {
        Self { low: self.low * factor, mid: self.mid * factor, high: self.high * factor }
    }
}

impl Sum for Band {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), Self::add)
    }
}

/// Labour of an activity: quantity ÷ rate × people in the crew, man-days.
pub fn man_days(activity: &Activity, quantity: f64) -> Band {
    activity.rate.crew_days(quantity) * activity.crew
}

/// What keeps a room shut.
#[derive(Clone, Debug, Default)]
struct Closure {
    crew_days: Band,
    tasks: Vec<Task>,
}

impl Closure {
    fn add(&mut self, basis: Basis<'_>, task: Task, quantity: f64) {
        let activity = basis.activity(task);
        if activity.closes == Closes::No {
            return;
        }
        self.crew_days += activity.rate.crew_days(quantity);
        if !self.tasks.contains(&task) {
            self.tasks.push(task);
        }
    }

    /// Waits that follow from what is done in the room. The wall ages inside its forms, so
    /// the longer of those two waits counts.
    fn waits(&self) -> Band {
        let any = |tasks: &[Task]| tasks.iter().any(|task| self.tasks.contains(task));
        let when = |there: bool, days: Band| if there { days } else { Band::default() };
        let forms = when(any(&[Task::FormJacket, Task::FormWall]), FORMS_STAY.days);
        let grout = when(any(&[Task::GroutTop]), WALL_BEFORE_GROUT.days);
        let aged =
            Band { low: forms.low.max(grout.low), mid: forms.mid.max(grout.mid), high: forms.high.max(grout.high) };
        when(any(&[Task::BondBars]), ADHESIVE_CURES.days) + aged + when(any(&[Task::Paint]), PAINT_AIRS.days)
    }

    fn days(&self) -> Band {
        self.crew_days + self.waits()
    }
}

/// Working days each touched room is shut.
pub fn closed_days(works: &[MemberWorks], basis: Basis<'_>) -> BTreeMap<Room, Band> {
    let mut closures: BTreeMap<Room, Closure> = BTreeMap::new();
    for member in works {
        for room in &member.rooms {
            let closure = closures.entry(*room).or_default();
            for (task, quantity) in &member.quantities {
                closure.add(basis, *task, *quantity);
            }
        }
        for room in &member.cored_rooms {
            closures.entry(*room).or_default().add(basis, Task::CoreSlab, member.quantity(Task::CoreSlab));
        }
    }
    for closure in closures.values_mut() {
        closure.add(basis, Task::MoveOut, 1.0);
        closure.add(basis, Task::HandBack, 1.0);
    }
    closures.into_iter().map(|(room, closure)| (room, closure.days())).collect()
}
