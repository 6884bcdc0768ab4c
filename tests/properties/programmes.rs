//! Programmes of random schemes over random calendars: nobody in two places, nothing before what it
//! stands on, rooms shut while anybody works in them, breaks kept, figures that are sums of parts.

use super::seeds;
use sisterframe_core::model::Model;
use sisterframe_core::project::{RoomDays, RoomKind};
use sisterframe_core::works::calendar::{
    Break, Calendar, DAY_HOURS, Date, Month, SIX_DAYS, WEEKDAYS, Weekday, WorkDay,
};
use sisterframe_core::works::programme::{
    Activity, Closure, Driver, Inside, Pace, Programme, RoomState, Rules, Step, Trade, Week, WorkingHours, programmes,
};
use sisterframe_core::works::{Room, RoomPlan};
use sisterframe_tests::dice::Dice;
use sisterframe_tests::projects::each_project;
use std::collections::BTreeSet;

fn day(of: Date, days: usize) -> Date {
    of + std::time::Duration::from_secs(86_400 * days as u64)
}

/// A calendar of four to twelve years' breaks, or of none.
fn calendar(dice: &mut Dice) -> Calendar {
    let month = Month::try_from(dice.whole(1, 12) as u8).expect("a month");
    let start =
        Date::from_calendar_date(dice.whole(2020, 2030) as i32, month, dice.whole(1, 28) as u8).expect("a date");
    let mut breaks = Vec::new();
    let mut at = start;
    if dice.happens(0.8) {
        for number in 0..dice.whole(1, 30) {
            let first = day(at, dice.whole(5, 120));
            at = day(first, dice.whole(2, 90));
            breaks.push(Break { name: format!("{number}"), first, last: at, long: (at - first).whole_days() > 34 });
        }
    }
    let worked = if dice.happens(0.5) { WEEKDAYS } else { SIX_DAYS };
    Calendar::new(start, worked, WEEKDAYS, &breaks).expect("a calendar")
}

fn rules(dice: &mut Dice) -> Rules {
    Rules {
        gangs: dice.whole(1, 3) as u32,
        inside: if dice.happens(0.7) { Inside::Breaks } else { Inside::AnyDay },
        whole_storeys: dice.happens(0.3),
        packages_at_once: dice.happens(0.3).then_some(1),
        quiet_drilling: dice.happens(0.3),
        loud_outside_in_breaks: dice.happens(0.3),
        outside_first: dice.happens(0.2),
        hours: [WorkingHours::Day, WorkingHours::Evenings, WorkingHours::Contained][dice.whole(0, 2)],
        begins: dice.happens(0.3).then_some(dice.whole(0, 23) as u32),
        given_back: dice.happens(0.3),
    }
}

/// Gangs: at the start of every job no more of its trade are at work than there are. Rooms: one gang
/// at a time.
fn assert_nobody_is_in_two_places(seed: u64, programme: &Programme, rules: &Rules) {
    for own in &programme.activities {
        let meanwhile = || programme.activities.iter().filter(|other| (other.start..other.end).contains(&own.start));
        let gangs = meanwhile().filter(|other| other.trade == own.trade).count();
        assert!(gangs as u32 <= rules.gangs, "project {seed}: {gangs} gangs for {}", own.trade.label());
        for room in &own.rooms {
            let there = meanwhile().filter(|other| other.rooms.contains(room)).count();
            assert!(there == 1, "project {seed}: {there} gangs in a room");
        }
    }
}

/// At a member steps follow one another; whoever works in a room finds it cleared and not yet
/// handed back.
fn assert_order(seed: u64, programme: &Programme) {
    for (index, own) in programme.activities.iter().enumerate() {
        let member = |other: &&Activity| own.front.is_some() && own.front == other.front;
        for other in programme.activities[index + 1..].iter().filter(member) {
            assert!(own.end <= other.start && own.step < other.step, "project {seed}: {own:?} before {other:?}");
        }
        let Some(package) = own.package else { continue };
        for room in &own.rooms {
            let of = |step: Step| {
                let mut all = programme.activities.iter();
                all.find(|other| other.step == step && other.package == Some(package) && other.rooms == [*room])
            };
            let (Some(cleared), Some(back)) = (of(Step::MoveOut), of(Step::HandBack)) else {
                panic!("project {seed}: a room is not cleared or not handed back");
            };
            let between = own.step == Step::MoveOut
                || own.step == Step::HandBack
                || (cleared.end <= own.start && own.end <= back.start);
            assert!(between, "project {seed}: {own:?} in a room not cleared");
        }
    }
}

/// Packages that are not said to spill lie in one break from end to end, where breaks are asked for
/// and there are any.
fn assert_breaks_kept(seed: u64, programme: &Programme, plan: &RoomPlan<'_>, calendar: &Calendar, rules: &Rules) {
    if rules.inside == Inside::AnyDay || calendar.breaks().is_empty() {
        return;
    }
    let packages = programme.activities.iter().filter_map(|own| own.package).max().map_or(0, |most| most + 1);
    for package in (0..packages).filter(|package| !programme.spilled.contains(package)) {
        let own: Vec<&Activity> = programme.activities.iter().filter(|own| own.package == Some(package)).collect();
        if own.is_empty() {
            continue;
        }
        let first = own.iter().map(|activity| activity.start).min().unwrap_or(0);
        let end = own.iter().map(|activity| activity.end).max().unwrap_or(0);
        let given_back = |own: &&Closure| own.package == package && own.given_back;
        let closures = || programme.closures.iter().filter(|own| own.package == package);
        if closures().count() == closures().filter(given_back).count() {
            continue;
        }
        let inside = (0..calendar.breaks().len())
            .filter_map(|at| calendar.hours_of(at))
            .any(|[from, to]| from <= first && end <= to);
        assert!(inside, "project {seed}: package {package} at {first}–{end} is in no break");
        let closed = programme.closures.iter().filter(|closure| {
            closure.package == package && days_of(plan, programme.rooms[closure.room]) != RoomDays::Always
        });
        assert_eq!(closed.map(|closure| closure.days_in_use).sum::<u32>(), 0, "project {seed}");
    }
}

fn days_of(plan: &RoomPlan<'_>, room: Room) -> RoomDays {
    plan.own(room).map_or(RoomDays::Building, |own| own.days)
}

/// Whether a room is in use on a day but for the works.
fn in_use(plan: &RoomPlan<'_>, room: Room, day: &WorkDay) -> bool {
    let weekend = |from: Weekday| day.date.weekday().number_from_monday() >= from.number_from_monday();
    match days_of(plan, room) {
        RoomDays::Building => day.in_use,
        RoomDays::Five => day.within.is_none() && !weekend(Weekday::Saturday),
        RoomDays::Six => day.within.is_none() && !weekend(Weekday::Sunday),
        RoomDays::Seven => day.within.is_none(),
        RoomDays::Always => true,
    }
}

/// Whether a room is in use at some minute of an hour of the clock.
fn in_hours(plan: &RoomPlan<'_>, usual: RoomKind, room: Room, hour: u32) -> bool {
    let hours = plan.own(room).and_then(|own| own.hours);
    let hours = hours.or(plan.kind(room).unwrap_or(usual).usual_hours()).expect("rooms have hours");
    let (from, to) = (u32::from(hours.from), u32::from(hours.to));
    (60 * hour..60 * hour + 60)
        .any(|minute| if from < to { from <= minute && minute < to } else { from <= minute || minute < to })
}

/// The hour at which the shift of a job begins.
fn begins(own: &Activity, rules: &Rules) -> u32 {
    let usual = if rules.hours == WorkingHours::Evenings { 18 } else { 8 };
    if own.package.is_some() { rules.begins.unwrap_or(usual) } else { 8 }
}

fn shut_on(programme: &Programme, room: Room, date: Date) -> bool {
    let mut own = programme.closures.iter().filter(|closure| programme.rooms[closure.room] == room);
    own.any(|closure| !closure.given_back && closure.first <= date && date <= closure.last)
}

/// Figures counted anew, day by day.
fn assert_figures(
    seed: u64,
    programme: &Programme,
    (plan, usual): (&RoomPlan<'_>, RoomKind),
    calendar: &Calendar,
    rules: &Rules,
) {
    let figures = &programme.figures;
    let days = calendar.days();
    let mut room_days = [0, 0];
    let mut loud = 0;
    for (index, day) in days.iter().enumerate().filter(|(_, day)| day.date <= figures.last) {
        let shut = |room: Room| shut_on(programme, room, day.date);
        let free = |room: &&Room| shut(**room) && days_of(plan, **room) != RoomDays::Always;
        let shut_in_break = programme.rooms.iter().filter(free).count() as u32;
        room_days[1] += if day.within.is_some() { shut_in_break } else { 0 };
        let hours = index as u32 * DAY_HOURS..(index as u32 + 1) * DAY_HOURS;
        let loud_hours = programme.activities.iter().filter(|own| own.noise == 3).flat_map(|own| {
            let begins = begins(own, rules);
            let hours = own.start.max(hours.start)..own.end.min(hours.end);
            hours.map(move |hour| (begins + hour % DAY_HOURS) % 24)
        });
        let loud_hours: BTreeSet<u32> = loud_hours.collect();
        let all = plan.all();
        let mut disturbed = all.iter().filter(|room| !shut(**room) && in_use(plan, **room, day));
        loud += u32::from(disturbed.any(|room| loud_hours.iter().any(|hour| in_hours(plan, usual, *room, *hour))));
    }
    let mut date = figures.first;
    while date <= figures.last {
        for room in &programme.rooms {
            room_days[0] += u32::from(shut_on(programme, *room, date) && in_use(plan, *room, &calendar.day(date)));
        }
        date = day(date, 1);
    }
    assert_eq!([figures.room_days_in_use, figures.room_days_in_breaks], room_days, "project {seed}");
    assert_eq!(figures.loud_days_in_use, loud, "project {seed}");
    let last = programme.activities.iter().map(|own| own.end).max().unwrap_or(0);
    let driven: u32 = programme.drivers.iter().map(Driver::hours).sum();
    let first = programme.activities.iter().map(|own| own.start).min().unwrap_or(0);
    assert_eq!(driven, last - first, "project {seed}: what drives the duration is not the whole of it");
    let waits = |own: &Driver| matches!(own, Driver::Break { .. });
    assert!(
        !calendar.breaks().is_empty() || !programme.drivers.iter().any(waits),
        "project {seed}: no break to wait for"
    );
    assert!((0.0..=1.0 + 1e-9).contains(&figures.peak_share), "project {seed}");
}

/// Weeks and crews counted anew from activities, closures and the calendar.
fn assert_weeks(seed: u64, programme: &Programme, plan: &RoomPlan<'_>, calendar: &Calendar, rules: &Rules) {
    let all = plan.all();
    let mut loud = 0;
    for index in 0..programme.week_count() {
        let week = programme.week(index, plan, calendar, rules);
        loud += week.loud_days;
        let days: Vec<usize> =
            (0..calendar.days().len()).filter(|day| within(calendar.days()[*day].date, &week)).collect();
        let on = |own: &Activity| {
            days.iter().any(|day| own.start / DAY_HOURS <= *day as u32 && *day as u32 <= (own.end - 1) / DAY_HOURS)
        };
        for (at, (room, state)) in week.rooms.iter().enumerate() {
            assert_eq!(*room, all[at], "project {seed}");
            let own = programme.closures.iter().filter(|own| programme.rooms[own.room] == *room);
            let own: Vec<_> = own.filter(|own| own.first <= week.last && week.first <= own.last).collect();
            let shut: Vec<_> = own.iter().filter(|own| !own.given_back).collect();
            let expected = match *state {
                RoomState::Shut => shut.iter().any(|own| own.last > week.last),
                RoomState::HandedBack => !shut.is_empty() && shut.iter().all(|own| own.last <= week.last),
                RoomState::GivenBack => shut.is_empty() && !own.is_empty(),
                RoomState::Noisy | RoomState::Open => own.is_empty(),
            };
            assert!(expected, "project {seed}: {room:?} is {state:?}");
            if *state == RoomState::Noisy {
                let beside = |own: &&Activity| own.rooms.iter().any(|at| plan.adjoin(programme.rooms[*at], *room));
                assert!(programme.activities.iter().filter(beside).any(|own| own.noise >= 2 && on(own)));
            }
        }
        let outside = programme.activities.iter().filter(|own| own.package.is_none() && on(own));
        assert!(outside.map(|own| &own.place).all(|place| week.outside.contains(place)), "project {seed}");
    }
    assert_eq!(loud, programme.figures.loud_days_in_use, "project {seed}: loud days by week");
    let crews = programme.crews(calendar);
    for (week, people) in programme.figures.people.iter().enumerate() {
        let own = || crews.iter().map(|crew| crew.weeks[week]);
        let (sum, most) = (own().sum::<f64>(), own().fold(0.0, f64::max));
        assert!(most <= *people && *people <= sum + 1e-9, "project {seed}, week {week}: {most} {people} {sum}");
    }
}

fn within(date: Date, week: &Week) -> bool {
    week.first <= date && date <= week.last
}

#[test]
fn programmes_keep_their_rules() {
    let mut dice = Dice::new(81);
    let (mut tried, mut in_breaks, mut spilled, mut given_back) = (0, 0, 0, 0);
    each_project(seeds().min(60), |seed, project| {
        for scheme in &project.schemes {
            let model = Model::new(&project.building, scheme);
            let (calendar, rules) = (calendar(&mut dice), rules(&mut dice));
            let all = programmes(&model, &project, &calendar, &rules);
            for programme in &all {
                assert_nobody_is_in_two_places(seed, programme, &rules);
                assert_order(seed, programme);
                let plan = RoomPlan::new(&model, &project.building);
                assert_breaks_kept(seed, programme, &plan, &calendar, &rules);
                let usual = RoomKind::usual(project.building.occupancy);
                assert_figures(seed, programme, (&plan, usual), &calendar, &rules);
                assert_weeks(seed, programme, &plan, &calendar, &rules);
                tried += 1;
                given_back += usize::from(programme.closures.iter().any(|own| own.given_back));
                spilled += usize::from(!programme.spilled.is_empty());
                in_breaks += usize::from(programme.figures.room_days_in_breaks > 0 && programme.spilled.is_empty());
            }
            if let [fast, usual, slow] = &all[..] {
                let work =
                    |programme: &Programme| -> u32 { programme.activities.iter().map(|own| own.end - own.start).sum() };
                assert_eq!([fast.pace, usual.pace, slow.pace], [Pace::Fast, Pace::Usual, Pace::Slow]);
                assert!(work(fast) <= work(usual) && work(usual) <= work(slow), "project {seed}");
            }
        }
    });
    println!(
        "{tried} programmes, {in_breaks} wholly in breaks, {spilled} with rooms shut in use, {given_back} given back"
    );
    assert!(tried > 100 && in_breaks > 20 && spilled > 20 && given_back > 10, "the sample is one-sided");
}

/// The same works give the same programme, and trades have names of their own.
#[test]
fn programmes_are_the_same_each_time() {
    let mut dice = Dice::new(82);
    each_project(10, |seed, project| {
        for scheme in &project.schemes {
            let model = Model::new(&project.building, scheme);
            let (calendar, rules) = (calendar(&mut dice), rules(&mut dice));
            let again = || programmes(&model, &project, &calendar, &rules);
            assert_eq!(again(), again(), "project {seed}");
            let plan = RoomPlan::new(&model, &project.building);
            let floor: f64 = plan.all().iter().map(|room| plan.area_m2(*room)).sum();
            assert!(floor >= 0.0, "project {seed}");
        }
    });
    let mut labels: Vec<&str> = Trade::ALL.iter().map(|trade| trade.label()).collect();
    labels.sort_unstable();
    labels.dedup();
    assert_eq!(labels.len(), Trade::ALL.len());
}
