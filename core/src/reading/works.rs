//! The works in a paragraph: when, which rooms, how loud, what drives it, how sure.

use crate::study::SiteClosed;
use crate::units::grouped;
use crate::works::calendar::{YEARS_AHEAD, in_words};
use crate::works::programme::{Driver, Pace, Programme, WorkingHours};

/// Working hours in a day, for words.
const DAY_HOURS: f64 = crate::works::calendar::DAY_HOURS as f64;

fn count(number: u32, one: &str, many: &str) -> String {
    if number == 1 { format!("one {one}") } else { format!("{} {many}", grouped(f64::from(number), 0)) }
}

fn weeks(programme: &Programme) -> String {
    let weeks = programme.figures.weeks;
    if weeks < 1.5 { "about a week".to_owned() } else { format!("{} weeks", grouped(weeks.ceil(), 0)) }
}

/// How the works are run where that takes time; nothing where they go on at all places at once.
fn way(programme: &Programme) -> Option<String> {
    let rules = &programme.rules;
    let outside = programme.activities.iter().any(|own| own.package.is_none());
    let inside = programme.activities.iter().any(|own| own.package.is_some());
    let mut ways: Vec<String> = Vec::new();
    let groups = programme.activities.iter().filter_map(|own| own.package).max().unwrap_or(0);
    match rules.packages_at_once {
        Some(1) if groups > 0 => {
            ways.push("one group of rooms is worked in at a time, so that their times add up".to_owned())
        }
        Some(most) if groups >= most as usize => ways.push(format!("{most} groups of rooms are worked in at once")),
        _ => {}
    }
    for (told, words) in [
        (rules.whole_storeys && inside, "a storey's rooms are one group"),
        (rules.hours == WorkingHours::Evenings && inside, "gangs inside come in evenings and nights"),
        (rules.hours == WorkingHours::Contained && inside, "gangs inside work behind screens"),
        (rules.quiet_drilling, "bars are drilled wet with diamond"),
        (rules.loud_outside_in_breaks && outside, "loud work outside waits for breaks"),
        (rules.outside_first && outside && inside, "works outside come first"),
    ] {
        if told {
            ways.push(words.to_owned());
        }
    }
    (!ways.is_empty()).then(|| format!("As they are run, {}.", ways.join("; ")))
}

/// Breaks used, long ones first.
pub(super) fn breaks([long, short]: [u32; 2]) -> String {
    match (long, short) {
        (long, 0) => count(long, "long break", "long breaks"),
        (0, short) => count(short, "short break", "short breaks"),
        (long, short) => {
            format!("{} and {}", count(long, "long break", "long breaks"), count(short, "short one", "short ones"))
        }
    }
}

/// For how long the site of a rebuild is closed.
pub(super) fn site_closed(closed: Option<&SiteClosed>) -> String {
    let mut words =
        "The site is closed from the day the building is emptied to the day of moving into the new one".to_owned();
    if let Some(own) = closed {
        let weeks = |weeks: f64| grouped(weeks.ceil(), 0);
        words.push_str(&format!(
            ": all {} for about {} weeks, {} at best and {} at worst",
            count(own.rooms, "room", "rooms"),
            weeks(own.weeks.mid),
            weeks(own.weeks.low),
            weeks(own.weeks.high)
        ));
    }
    words + "."
}

/// The paragraph where the building is taken down and built anew.
pub fn rebuilt(closed: Option<&SiteClosed>) -> String {
    let mut words = site_closed(closed);
    if let Some(own) = closed {
        let days = |days: f64| grouped(days, 0);
        words.push_str(&format!(
            " That is {} room-days in use, from {} to {}, for which other rooms have to be found.",
            days(own.room_days_in_use.mid),
            days(own.room_days_in_use.low),
            days(own.room_days_in_use.high)
        ));
    }
    words.push_str(" How sure: the months are assumed for a low building of any kind, not planned for this one, so no job has a date; design and permits come before.");
    words
}

/// The paragraph; `assumed` where the project says nothing about working times.
pub fn works(all: &[Programme], assumed: bool) -> String {
    let of = |pace: Pace| all.iter().find(|programme| programme.pace == pace);
    let Some(usual) = of(Pace::Usual) else {
        return "Nothing is done, so no room is shut; what the building is at risk of stays as it is.".to_owned();
    };
    let own = &usual.figures;
    let shuts = |programme: &Programme| programme.closures.iter().any(|closure| !closure.given_back);
    let mut words = vec![format!(
        "At the usual pace the works run from {} to {}, {}.",
        in_words(own.first),
        in_words(own.last),
        weeks(usual)
    )];
    for (programme, pace) in [(usual, "at the usual pace"), (of(Pace::Slow).unwrap_or(usual), "at slow pace")] {
        if programme.figures.unplaced > 0 {
            let jobs = count(programme.figures.unplaced, "job would end", "jobs would end");
            words.push(format!(
                "Watch for this: {pace} {jobs} more than {YEARS_AHEAD} years after the start, so they have no date, and weeks and days shut count up to there only."
            ));
        }
    }
    words.extend(way(usual));
    words.push(if usual.closures.is_empty() {
        "All of it stands outside, and no room is shut.".to_owned()
    } else if !shuts(usual) {
        "No room is shut while it is in use.".to_owned()
    } else if own.room_days_in_use == 0 && own.breaks != [0, 0] {
        format!(
            "Rooms are shut in breaks only: {}, up to {:.0}\u{a0}% of the floor at once.",
            breaks(own.breaks),
            100.0 * own.peak_share
        )
    } else {
        let within = if own.breaks == [0, 0] { String::new() } else { format!(" beside {}", breaks(own.breaks)) };
        format!(
            "Rooms are shut for {} on which the building is in use{within}, up to {:.0}\u{a0}% of the floor at once.",
            count(own.room_days_in_use, "room-day", "room-days"),
            100.0 * own.peak_share
        )
    });
    if usual.closures.iter().any(|closure| closure.given_back) {
        let given_back = if shuts(usual) { "Other rooms" } else { "Rooms" };
        words.push(format!(
            "{given_back} are worked in out of their hours and given back after each shift. Props, forms and fresh concrete stay in them meanwhile: whoever is in charge of the site says each time whether people may go in."
        ));
    }
    if let Some(slow) = of(Pace::Slow).filter(|slow| shuts(slow)) {
        let other = &slow.figures;
        let mut told = if other.room_days_in_use == 0 && own.room_days_in_use == 0 {
            format!("Slow work takes {} and still fits the breaks", weeks(slow))
        } else {
            format!(
                "Slow work takes {} and shuts rooms for {} in use",
                weeks(slow),
                count(other.room_days_in_use, "room-day", "room-days")
            )
        };
        // A slower pace fits fewer breaks, so it may wait for fewer and end sooner.
        if other.weeks.ceil() < own.weeks.ceil() && waiting(slow) < waiting(usual) {
            told.push_str(if other.room_days_in_use > own.room_days_in_use {
                "; it waits less for breaks, because more of it is done while the building is in use"
            } else {
                "; it waits less for breaks, because what fits no short one is done in a longer one"
            });
        }
        words.push(told + ".");
    }
    if !usual.spilled.is_empty() {
        let spilled = usual.spilled.len() as u32;
        words.push(if usual.no_break_left {
            let groups = count(spilled, "group of rooms is", "groups of rooms are");
            format!("Watch for this: no break is left after the start, so {groups} shut while the building is in use.")
        } else {
            let groups = count(spilled, "group of rooms needs", "groups of rooms need");
            format!("Watch for this: {groups} more time than any break has.")
        });
    }
    words.push(match own.loud_days_in_use {
        0 => "No day in use is loud through the block.".to_owned(),
        days => format!("{} loud through the whole block.", count(days, "day in use is", "days in use are")),
    });
    if let Some(words_of) = driven(usual) {
        words.push(words_of);
    }
    let dates = if assumed { "the dates are assumed, not this owner's; " } else { "" };
    words.push(format!(
        "How sure: {dates}rates are ranges, many of them planners' judgement; what is hidden behind finishes may cost weeks."
    ));
    words.join(" ")
}

/// Working hours as days.
fn days(hours: u32) -> String {
    let days = f64::from(hours) / DAY_HOURS;
    if days < 1.5 { "a day".to_owned() } else { format!("{} working days", grouped(days, 0)) }
}

/// What a part of the time goes on, and how long.
fn part(driver: &Driver) -> (&'static str, String) {
    let what = match driver {
        Driver::Trade { trade, .. } => trade.label(),
        Driver::Curing { .. } => "hardening and airing",
        Driver::Break { .. } => "waiting for the break",
        Driver::Turn { .. } => "waiting for a turn",
    };
    (what, days(driver.hours()))
}

/// Working hours from the first job to the last, along the chain.
fn in_all(programme: &Programme) -> u32 {
    programme.drivers.iter().map(Driver::hours).sum()
}

/// Working hours along the chain that are waited for breaks.
fn waiting(programme: &Programme) -> u32 {
    let breaks = programme.drivers.iter().filter(|driver| matches!(driver, Driver::Break { .. }));
    breaks.map(Driver::hours).sum()
}

/// What most of the time goes on, waiting for a break apart: what, and how long.
pub fn longest(programme: &Programme) -> Option<(&'static str, String)> {
    programme.drivers.iter().find(|driver| !matches!(driver, Driver::Break { .. })).map(part)
}

/// What most of the time goes on, in a sentence.
fn driven(programme: &Programme) -> Option<String> {
    let (what, most) = longest(programme)?;
    let all = days(in_all(programme));
    Some(match waiting(programme) {
        hours if hours > 0 => format!(
            "From the first job to the last pass {all}; waiting for breaks takes {} of them, and of the rest most goes on {what}, {most}.",
            grouped(f64::from(hours) / DAY_HOURS, 0)
        ),
        _ => format!(
            "Of the {all} from the first job to the last, one holding up the next, most goes on {what}, {most}."
        ),
    })
}

/// What sets the duration: the chain of jobs from the first to the last, by what its time goes on.
pub fn drivers(programme: &Programme) -> String {
    let parts: Vec<String> = programme
        .drivers
        .iter()
        .map(|driver| {
            let (what, days) = part(driver);
            format!("{what}, {days}")
        })
        .collect();
    format!(
        "What sets the duration: the chain of jobs from the first to the last, one holding up the next, {} in all, goes on {}. Only what shortens this chain brings the end forward.",
        days(in_all(programme)),
        parts.join("; ")
    )
}
