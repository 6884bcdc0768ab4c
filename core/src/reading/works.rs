//! The works in a paragraph: when, which rooms, how loud, what drives it, how sure.

use crate::units::grouped;
use crate::works::calendar::in_words;
use crate::works::programme::{Driver, Pace, Programme};

/// Working hours in a day, for words.
const DAY_HOURS: f64 = crate::works::calendar::DAY_HOURS as f64;

fn count(number: u32, one: &str, many: &str) -> String {
    if number == 1 { format!("one {one}") } else { format!("{number} {many}") }
}

fn weeks(programme: &Programme) -> String {
    let weeks = programme.figures.weeks;
    if weeks < 1.5 { "about a week".to_owned() } else { format!("{:.0} weeks", weeks.ceil()) }
}

/// Breaks used, long ones first.
fn breaks([long, short]: [u32; 2]) -> String {
    match (long, short) {
        (long, 0) => count(long, "long break", "long breaks"),
        (0, short) => count(short, "short break", "short breaks"),
        (long, short) => {
            format!("{} and {}", count(long, "long break", "long breaks"), count(short, "short one", "short ones"))
        }
    }
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
        words.push(if other.room_days_in_use == 0 && own.room_days_in_use == 0 {
            format!("Slow work takes {} and still fits the breaks.", weeks(slow))
        } else {
            format!(
                "Slow work takes {} and shuts rooms for {} in use.",
                weeks(slow),
                count(other.room_days_in_use, "room-day", "room-days")
            )
        });
    }
    if !usual.spilled.is_empty() {
        let groups = count(usual.spilled.len() as u32, "group of rooms needs", "groups of rooms need");
        words.push(format!("Watch for this: {groups} more time than any break has."));
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

/// What most of the time goes on, waiting for a break apart: what, and how long.
pub fn longest(programme: &Programme) -> Option<(&'static str, String)> {
    programme.drivers.iter().find(|driver| !matches!(driver, Driver::Break { .. })).map(part)
}

/// What most of the time goes on, in a sentence.
fn driven(programme: &Programme) -> Option<String> {
    let (what, most) = longest(programme)?;
    let waiting = programme.drivers.iter().find(|driver| matches!(driver, Driver::Break { .. }));
    let all = days(in_all(programme));
    Some(match waiting {
        Some(own) => {
            format!(
                "From the first job to the last pass {all}, {} of them waiting for breaks; of the rest most goes on {what}, {most}.",
                days(own.hours())
            )
        }
        None => format!(
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
