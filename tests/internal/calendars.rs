//! Working days and breaks against the civil calendar: days of the week as known, leap years and
//! year ends counted by hand.

use sisterframe_core::project::Day;
use sisterframe_core::works::calendar::{Break, Calendar, CalendarError, DAY_HOURS, Date, Month, SIX_DAYS, WEEKDAYS};
use sisterframe_core::works::presets::{PRESETS, Preset};
use sisterframe_tests::dice::Dice;

fn date(year: i32, month: u8, day: u8) -> Date {
    let month = Month::try_from(month).unwrap_or_else(|error| panic!("{error}"));
    Date::from_calendar_date(year, month, day).unwrap_or_else(|error| panic!("{error}"))
}

fn own(name: &str, first: Date, last: Date) -> Break {
    Break { name: name.to_owned(), first, last, long: false }
}

fn calendar(start: Date, breaks: &[Break]) -> Calendar {
    Calendar::new(start, WEEKDAYS, WEEKDAYS, breaks).unwrap_or_else(|error| panic!("{error}"))
}

/// 28 February 2024 was a Wednesday, 2024 a leap year, 2023 none (Gregorian calendar; a century is
/// a leap year only where 400 divides it: 2000, not 2100).
#[test]
fn leap_days_are_worked_where_there_are_any() {
    let days = |start| calendar(start, &[]).days()[..3].iter().map(|day| day.date).collect::<Vec<_>>();
    assert_eq!(days(date(2024, 2, 28)), [date(2024, 2, 28), date(2024, 2, 29), date(2024, 3, 1)]);
    assert_eq!(days(date(2023, 2, 28)), [date(2023, 2, 28), date(2023, 3, 1), date(2023, 3, 2)]);
    assert_eq!(days(date(2100, 2, 26)), [date(2100, 2, 26), date(2100, 3, 1), date(2100, 3, 2)]);
    // Years of 366 and 365 days: 262 and 261 weekdays or one less, as they fall.
    let year = |year| calendar(date(year, 1, 1), &[]).days_in_use(date(year, 1, 1), date(year, 12, 31));
    // 2024 begins on a Monday and ends on a Tuesday: 52 weeks and two weekdays.
    assert_eq!(year(2024), 262);
    // 2023 begins and ends on a Sunday: 52 weeks and no weekday more.
    assert_eq!(year(2023), 260);
}

/// Monday 22 December 2025 to Friday 2 January 2026: ten weekdays over the year's end; twelve
/// working days with Saturdays, of which the last is 3 January and outside.
#[test]
fn a_break_over_the_end_of_the_year_is_one_break() {
    let winter = own("Winter", date(2025, 12, 22), date(2026, 1, 2));
    let calendar = calendar(date(2025, 12, 1), std::slice::from_ref(&winter));
    assert_eq!(calendar.hours_of(0), Some([15 * DAY_HOURS, 25 * DAY_HOURS]));
    assert_eq!(calendar.days_in_use(date(2025, 12, 15), date(2026, 1, 9)), 10);
    let with_saturdays =
        Calendar::new(date(2025, 12, 1), SIX_DAYS, WEEKDAYS, &[winter]).unwrap_or_else(|error| panic!("{error}"));
    let [first, end] = with_saturdays.hours_of(0).expect("days of the break are worked");
    assert_eq!((end - first) / DAY_HOURS, 11);
    assert!(with_saturdays.days().iter().all(|day| !day.in_use || day.date.weekday().number_days_from_monday() < 5));
}

#[test]
fn what_makes_no_sense_is_refused_in_words() {
    let (march, april) = (date(2026, 3, 30), date(2026, 4, 10));
    let of = |breaks: &[Break]| Calendar::new(date(2026, 1, 1), WEEKDAYS, WEEKDAYS, breaks);
    assert_eq!(of(&[own("Spring", april, march)]), Err(CalendarError::BreakBackwards("Spring".to_owned())));
    let overlap = of(&[own("Exams", april, april), own("Spring", march, april)]);
    let error = overlap.expect_err("the breaks share a day");
    assert_eq!(error.to_string(), "Spring and Exams share a day");
    assert_eq!(Calendar::new(march, [false; 7], WEEKDAYS, &[]), Err(CalendarError::NothingWorked));
}

/// Every working day lies in at most one break and is in use only outside all; breaks found hour by
/// hour are those found day by day.
#[test]
fn breaks_take_exactly_their_days() {
    let mut dice = Dice::new(71);
    for _ in 0..40 {
        let start = date(dice.whole(2000, 2090) as i32, dice.whole(1, 12) as u8, dice.whole(1, 28) as u8);
        let mut at = start;
        let mut breaks = Vec::new();
        for number in 0..dice.whole(0, 6) {
            let first = at + time_days(dice.whole(1, 90));
            at = first + time_days(dice.whole(0, 80));
            breaks.push(own(&format!("Break {number}"), first, at));
        }
        let calendar = calendar(start, &breaks);
        for day in &calendar.days()[..900] {
            let within = breaks.iter().position(|own| own.first <= day.date && day.date <= own.last);
            assert_eq!(day.within, within);
            assert_eq!(day.in_use, within.is_none());
        }
        for (index, own) in breaks.iter().enumerate() {
            let worked = calendar.days().iter().filter(|day| day.within == Some(index)).count() as u32;
            let hours = calendar.hours_of(index).map_or(0, |[first, end]| end - first);
            assert_eq!(hours, worked * DAY_HOURS, "{own:?}");
        }
    }
}

fn time_days(days: usize) -> std::time::Duration {
    std::time::Duration::from_secs(days as u64 * 86_400)
}

/// Every preset makes a calendar from any start; its long breaks last as many weeks as it says and
/// begin on a Monday.
#[test]
fn presets_are_calendars_from_any_start() {
    let weeks = |label: &str| {
        let words = [("six", 6), ("seven", 7), ("nine", 9), ("twelve", 12)];
        words.iter().find(|(word, _)| label.contains(&format!("{word} weeks"))).map(|(_, weeks)| *weeks)
    };
    let mut dice = Dice::new(72);
    for preset in PRESETS {
        for _ in 0..30 {
            let start = date(dice.whole(1990, 2150) as i32, dice.whole(1, 12) as u8, dice.whole(1, 28) as u8);
            let times = preset.times(Day(start));
            let calendar = times.calendar().unwrap_or_else(|error| panic!("{}: {error}", preset.label));
            assert_eq!(calendar.breaks().len(), times.breaks.len());
            let long: Vec<_> = times.breaks.iter().filter(|own| own.long).collect();
            assert_eq!(long.is_empty(), weeks(preset.label).is_none(), "{}", preset.label);
            for own in long {
                assert_eq!(own.first.0.weekday().number_days_from_monday(), 0);
                assert_eq!((own.last.0 - own.first.0).whole_days() + 1, 7 * weeks(preset.label).unwrap_or(0));
            }
        }
    }
}

/// A break that runs at the start has begun the year before. 15 December 2028 is a Friday: seven weeks from Monday 18
/// December on end on Sunday 4 February 2029.
#[test]
fn a_break_that_runs_at_the_start_is_among_those_of_a_preset() {
    let of = |key: &str, start| Preset::of(key).expect("a preset").times(Day(start)).breaks;
    let first = |key: &str, start| of(key, start)[0].clone();
    let summer = first("school_south", date(2029, 1, 2));
    assert_eq!(
        (summer.name.as_str(), summer.first.0, summer.last.0),
        ("Summer 2028", date(2028, 12, 18), date(2029, 2, 4))
    );
    assert!(summer.long && first("school_south", date(2029, 2, 4)) == summer);
    assert_eq!(first("school_south", date(2029, 2, 5)).name, "Autumn 2029", "it is over");
    for key in ["school_six", "school_nine", "school_twelve"] {
        assert_eq!(first(key, date(2029, 1, 1)).name, "Year's end 2028", "{key}");
    }
    // Its days before the start are none of the calendar's; the rest is.
    let calendar = Preset::of("school_south").expect("a preset").times(Day(date(2029, 1, 2))).calendar();
    assert_eq!(calendar.expect("a calendar").hours_of(0), Some([0, 24 * DAY_HOURS]));
}
