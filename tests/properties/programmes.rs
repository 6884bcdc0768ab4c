//! Programmes of random schemes over random calendars: nobody in two places, nothing before what it
//! stands on, rooms shut while anybody works in them, breaks kept, figures that are sums of parts.

use super::seeds;
use sisterframe_core::model::Model;
use sisterframe_core::works::RoomPlan;
use sisterframe_core::works::calendar::{Break, Calendar, DAY_HOURS, Date, Month, SIX_DAYS, WEEKDAYS};
use sisterframe_core::works::programme::{
    Activity, Inside, Pace, Programme, RoomState, Rules, Step, Trade, Week, WorkingHours, programmes,
};
use sisterframe_tests::dice::Dice;
use sisterframe_tests::projects::each_project;

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
        let inside = (0..calendar.breaks().len())
            .filter_map(|at| calendar.hours_of(at))
            .any(|[from, to]| from <= first && end <= to);
        assert!(inside, "project {seed}: package {package} at {first}–{end} is in no break");
        let closed = programme.closures.iter().filter(|closure| {
            closure.package == package && plan.own(programme.rooms[closure.room]).is_none_or(|own| !own.every_day)
        });
        assert_eq!(closed.map(|closure| closure.days_in_use).sum::<u32>(), 0, "project {seed}");
    }
}

/// Figures counted anew, day by day.
fn assert_figures(seed: u64, programme: &Programme, plan: &RoomPlan<'_>, calendar: &Calendar, rules: &Rules) {
    let figures = &programme.figures;
    let days = calendar.days();
    let mut room_days = [0, 0];
    let mut loud = 0;
    for (index, day) in days.iter().enumerate().filter(|(_, day)| day.date <= figures.last) {
        let every_day = |room: usize| plan.own(programme.rooms[room]).is_some_and(|own| own.every_day);
        let shut = (0..programme.rooms.len()).filter(|room| {
            if every_day(*room) {
                return false;
            }
            let mut own = programme.closures.iter().filter(|closure| closure.room == *room);
            own.any(|closure| closure.first <= day.date && day.date <= closure.last)
        });
        let shut = shut.count() as u32;
        room_days[1] += if day.within.is_some() { shut } else { 0 };
        let hours = index as u32 * DAY_HOURS..(index as u32 + 1) * DAY_HOURS;
        let heard =
            programme.activities.iter().any(|own| own.noise == 3 && own.start < hours.end && hours.start < own.end);
        loud += u32::from(heard && day.in_use && rules.hours != WorkingHours::Evenings);
    }
    let mut date = figures.first;
    while date <= figures.last {
        for (at, room) in programme.rooms.iter().enumerate() {
            let mut own = programme.closures.iter().filter(|closure| closure.room == at);
            let shut = own.any(|closure| closure.first <= date && date <= closure.last);
            let every_day = plan.own(*room).is_some_and(|own| own.every_day);
            room_days[0] += u32::from(shut && (every_day || calendar.days_in_use(date, date) == 1));
        }
        date = day(date, 1);
    }
    assert_eq!([figures.room_days_in_use, figures.room_days_in_breaks], room_days, "project {seed}");
    assert_eq!(figures.loud_days_in_use, loud, "project {seed}");
    let last = programme.activities.iter().map(|own| own.end).max().unwrap_or(0);
    let driven: u32 = programme.drivers.iter().map(sisterframe_core::works::programme::Driver::hours).sum();
    assert_eq!(driven, last, "project {seed}: what drives the duration is not the whole of it");
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
            let shut: Vec<_> = own.filter(|own| own.first <= week.last && week.first <= own.last).collect();
            let expected = match *state {
                RoomState::Shut => shut.iter().any(|own| own.last > week.last),
                RoomState::HandedBack => !shut.is_empty() && shut.iter().all(|own| own.last <= week.last),
                RoomState::Noisy | RoomState::Open => shut.is_empty(),
            };
            assert!(expected, "project {seed}: {room:?} is {state:?}");
            if *state == RoomState::Noisy {
                let beside = |own: &&Activity| own.rooms.iter().any(|at| plan.adjoin(programme.rooms[*at], *room));
                assert!(programme.activities.iter().filter(beside).any(|own| own.noise >= 2 && on(own)));
                assert!(rules.hours != WorkingHours::Evenings);
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
    let (mut tried, mut in_breaks, mut spilled) = (0, 0, 0);
    each_project(seeds().min(60), |seed, project| {
        for scheme in &project.schemes {
            let model = Model::new(&project.building, scheme);
            let (calendar, rules) = (calendar(&mut dice), rules(&mut dice));
            let all = programmes(&model, &project, &calendar, &rules);
            for programme in &all {
                assert_nobody_is_in_two_places(seed, programme, &rules);
                assert_order(seed, programme);
                let plan = RoomPlan::new(&model, &project.building.rooms);
                assert_breaks_kept(seed, programme, &plan, &calendar, &rules);
                assert_figures(seed, programme, &plan, &calendar, &rules);
                assert_weeks(seed, programme, &plan, &calendar, &rules);
                tried += 1;
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
    println!("{tried} programmes, {in_breaks} wholly in breaks, {spilled} with rooms shut in use");
    assert!(tried > 100 && in_breaks > 20 && spilled > 20, "the sample is one-sided");
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
            let plan = RoomPlan::new(&model, &project.building.rooms);
            let floor: f64 = plan.all().iter().map(|room| plan.area_m2(*room)).sum();
            assert!(floor >= 0.0, "project {seed}");
        }
    });
    let mut labels: Vec<&str> = Trade::ALL.iter().map(|trade| trade.label()).collect();
    labels.sort_unstable();
    labels.dedup();
    assert_eq!(labels.len(), Trade::ALL.len());
}
