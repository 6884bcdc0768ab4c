//! The works as files: closures as a calendar, jobs as a table.

use super::html::lower_first;
use super::works_html::{NamedRoom, pace, step};
use sisterframe_core::works::calendar::iso;
use sisterframe_core::works::programme::{Activity, Alternative, Programme};
use sisterframe_core::works::rates::Task;
use std::fmt::Write;

/// Rooms a job stands in, in words.
fn where_to(activity: &Activity, rooms: &[NamedRoom], programme: &Programme) -> String {
    let rooms: Vec<String> = activity
        .rooms
        .iter()
        .map(|room| format!("{}, storey {}", rooms[*room].name, programme.rooms[*room].storey))
        .collect();
    rooms.join("; ")
}

/// A field of a comma-separated table (RFC 4180).
fn csv_field(text: &str) -> String {
    if text.contains([',', '"', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
}

/// Which works a file is of.
#[derive(Clone, Copy, Debug)]
pub struct Of<'a> {
    /// The project.
    pub project: &'a str,
    /// The scheme.
    pub scheme: &'a str,
    /// The way they are run.
    pub alternative: Alternative,
}

/// Heads of the table of jobs.
const HEADS: &str = "first day,last day,working hours,trade,people,step,member,rooms,rooms in use,heard,activities,quantities,units,man-days,scheme,pace,run,project";

/// At most three decimals, without zeros at the end.
fn plain(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// All jobs as comma-separated values, each with what it consists of and the works it is of. Quantities are in the
/// units of the table of rates; where there are several they stand in the order of their activities.
pub fn csv(programme: &Programme, rooms: &[NamedRoom], of: Of<'_>) -> String {
    let mut text = format!("{HEADS}\r\n");
    for activity in &programme.activities {
        let heard = ["not", "in the room", "next door", "through the block"][usize::from(activity.noise.min(3))];
        let place = match activity.front {
            Some(_) => activity.place.to_string(),
            None => String::new(),
        };
        let listed = |each: &dyn Fn(&Task, f64) -> String| {
            activity.quantities.iter().map(|(task, quantity)| each(task, *quantity)).collect::<Vec<_>>().join("; ")
        };
        let cells = [
            iso(activity.first),
            iso(activity.last),
            activity.hours().to_string(),
            activity.trade.label().to_owned(),
            format!("{:.0}", activity.people),
            step(activity.step).to_owned(),
            place,
            where_to(activity, rooms, programme),
            activity.rooms.iter().map(|room| rooms[*room].in_use.as_str()).collect::<Vec<_>>().join("; "),
            heard.to_owned(),
            listed(&|task, _| task.activity().name.to_owned()),
            listed(&|_, quantity| plain(quantity)),
            listed(&|task, _| task.activity().unit.to_owned()),
            plain(activity.man_days),
            of.scheme.to_owned(),
            pace(programme.pace).to_owned(),
            lower_first(of.alternative.label()),
            of.project.to_owned(),
        ];
        let line: Vec<String> = cells.iter().map(|cell| csv_field(cell)).collect();
        // Writing to a string does not fail.
        let _ = write!(text, "{}\r\n", line.join(","));
    }
    text
}

/// A text as iCalendar holds it: special letters escaped, lines of at most 75 octets (RFC 5545, 3.1
/// and 3.3.11).
fn ics_line(name: &str, text: &str) -> String {
    let mut escaped = String::new();
    for letter in text.chars() {
        match letter {
            '\\' | ';' | ',' => {
                escaped.push('\\');
                escaped.push(letter);
            }
            '\n' => escaped.push_str("\\n"),
            other => escaped.push(other),
        }
    }
    let mut line = String::new();
    let mut octets = 0;
    for letter in format!("{name}:{escaped}").chars() {
        if octets + letter.len_utf8() > 74 {
            line.push_str("\r\n ");
            octets = 1;
        }
        line.push(letter);
        octets += letter.len_utf8();
    }
    line.push_str("\r\n");
    line
}

/// A number that is the same for the same words whenever and wherever they are hashed: FNV-1a of 64 bits.
fn hash(words: &str) -> u64 {
    words.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, octet| (hash ^ u64::from(octet)).wrapping_mul(0x0100_0000_01b3))
}

/// Closures as an iCalendar file of whole-day events (RFC 5545); the end is the day after the last. An event keeps its
/// id when its days move, so that a calendar that takes the file again changes it; other works have other ids. `None`
/// where nothing is shut: a calendar holds one event at least (3.6).
pub fn ics(programme: &Programme, rooms: &[NamedRoom], of: Of<'_>, stamp: &str) -> Option<String> {
    if programme.closures.is_empty() {
        return None;
    }
    let compact = |text: String| text.replace('-', "");
    let run = lower_first(of.alternative.label());
    let works = hash(&format!("{}\n{}\n{}\n{run}", of.project, of.scheme, pace(programme.pace)));
    let mut text =
        String::from("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Sisterframe//Works//EN\r\nCALSCALE:GREGORIAN\r\n");
    // Of the whole calendar (RFC 7986, 5.1).
    text.push_str(&ics_line("NAME", &format!("{}: {}, {} pace, {run}", of.project, of.scheme, pace(programme.pace))));
    for closure in &programme.closures {
        let room = &programme.rooms[closure.room];
        let after = closure.last.next_day().unwrap_or(closure.last);
        text.push_str("BEGIN:VEVENT\r\n");
        let id = format!("{works:016x}-{}-{}-{}-{}@sisterframe", room.storey, room.strip, room.bay, closure.package);
        text.push_str(&ics_line("UID", &id));
        let _ = write!(text, "DTSTAMP:{stamp}\r\nDTSTART;VALUE=DATE:{}\r\n", compact(iso(closure.first)));
        let _ = write!(text, "DTEND;VALUE=DATE:{}\r\n", compact(iso(after)));
        let what = if closure.given_back { "worked in out of its hours" } else { "shut" };
        let name = &rooms[closure.room].name;
        text.push_str(&ics_line("SUMMARY", &format!("{name}, storey {}: {what} ({})", room.storey, of.scheme)));
        let about = format!(
            "{}: {}, {} pace, {run}. Feasibility only; {} of these days are in use.",
            of.project,
            of.scheme,
            pace(programme.pace),
            closure.days_in_use
        );
        text.push_str(&ics_line("DESCRIPTION", &about));
        text.push_str("END:VEVENT\r\n");
    }
    text.push_str("END:VCALENDAR\r\n");
    Some(text)
}

#[cfg(test)]
mod tests {
    use super::super::works_html::{dates, tests::sample};
    use super::*;
    use icalendar::{Calendar, CalendarDateTime, Component, DatePerhapsTime};
    use sisterframe_core::works::programme::Pace;

    /// What a reader of iCalendar files by others makes of the file: one event for every closure, with
    /// its days, the end not included (RFC 5545, 3.6.1).
    #[test]
    fn closures_are_read_back_from_the_calendar_file() {
        let (project, programme, names) = sample();
        let of = Of {
            project: &project.name,
            scheme: "Infill, in four bays; \\ all storeys",
            alternative: Alternative::OneGangMore,
        };
        let text = ics(&programme, &names, of, "20270101T000000Z").expect("rooms are shut");
        assert!(text.split("\r\n").all(|line| line.len() <= 75), "a line is too long");
        let read: Calendar = text.parse().expect("the file is read");
        let events: Vec<_> = read.components.iter().filter_map(|part| part.as_event()).collect();
        assert_eq!(events.len(), programme.closures.len());
        assert!(!events.is_empty());
        for (event, closure) in events.iter().zip(&programme.closures) {
            let Some(DatePerhapsTime::Date(start)) = event.get_start() else { panic!("a day is needed") };
            let Some(DatePerhapsTime::Date(end)) = event.get_end() else { panic!("a day is needed") };
            assert_eq!(start.to_string(), iso(closure.first));
            assert_eq!(end.to_string(), iso(closure.last.next_day().expect("a day follows")));
            assert!(event.get_summary().is_some_and(|own| own.contains(&names[closure.room].name)));
            let about = event.get_description().expect("it says what of");
            assert!(about.contains("Infill, in four bays; \\ all storeys"), "{about}");
            assert!(about.contains("usual pace, one gang more of each trade"), "{about}");
            let Some(CalendarDateTime::Utc(stamp)) = event.get_timestamp().map(CalendarDateTime::Utc) else {
                panic!("a stamp")
            };
            assert_eq!(stamp.date_naive().to_string(), "2027-01-01");
        }
        let mut ids: Vec<_> = events.iter().map(|event| event.get_uid()).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), events.len(), "every event has an id of its own");
        // The reader leaves what is escaped in a name as it stands.
        let name = read.get_name().expect("the calendar has a name").replace("\\,", ",");
        assert!(name.contains(&project.name) && name.contains("one gang more"), "{name}");
    }

    /// Files of two projects, schemes, paces or ways of working stand beside each other in one calendar; the same works
    /// on other days replace what was there.
    #[test]
    fn events_of_other_works_have_other_ids_and_moved_ones_keep_theirs() {
        let (project, programme, names) = sample();
        let ids = |programme: &Programme, of: Of<'_>| -> Vec<String> {
            let text = ics(programme, &names, of, "20270101T000000Z").expect("rooms are shut");
            text.lines().filter_map(|line| Some(line.strip_prefix("UID:")?.to_owned())).collect()
        };
        let of = Of { project: &project.name, scheme: "Walls", alternative: Alternative::AsSet };
        let own = ids(&programme, of);
        assert_eq!(own.len(), programme.closures.len());
        let slow = Programme { pace: Pace::Slow, ..programme.clone() };
        for other in [
            ids(&programme, Of { project: "Other", ..of }),
            ids(&programme, Of { scheme: "Frames", ..of }),
            ids(&programme, Of { alternative: Alternative::AnyDay, ..of }),
            ids(&slow, of),
        ] {
            assert!(other.iter().all(|id| !own.contains(id)), "{other:?}");
        }
        let mut moved = programme.clone();
        for closure in &mut moved.closures {
            closure.last = closure.last.next_day().expect("a day follows");
            closure.first = closure.first.next_day().expect("a day follows");
        }
        assert_eq!(ids(&moved, of), own);
        moved.closures.clear();
        assert_eq!(ics(&moved, &names, of, "20270101T000000Z"), None, "nothing to put into a calendar");
        let html = dates(&moved, &names);
        assert!(html.contains("disabled") && html.contains("nothing to put into a calendar"), "{html}");
        assert!(!dates(&programme, &names).contains("disabled"));
        // Published test values of the hash (MEMORY of the lists of its authors).
        assert_eq!([hash("a"), hash("foobar")], [0xaf63_dc4c_8601_ec8c, 0x8594_4171_f739_67e8]);
    }

    #[test]
    fn the_table_of_jobs_holds_every_job_once() {
        let (project, programme, names) = sample();
        let of = Of { project: &project.name, scheme: "Infill walls", alternative: Alternative::AsSet };
        let text = csv(&programme, &names, of);
        let lines: Vec<&str> = text.trim_end().split("\r\n").collect();
        assert_eq!(lines.len(), programme.activities.len() + 1);
        // Lines without quotes have a comma between any two fields and nowhere else.
        let columns = lines[0].split(',').count();
        assert!(lines.iter().all(|line| line.contains('"') || line.split(',').count() == columns));
        let hours: u32 = lines[1..].iter().filter_map(|line| line.split(',').nth(2)?.parse::<u32>().ok()).sum();
        assert_eq!(hours, programme.activities.iter().map(|activity| activity.end - activity.start).sum::<u32>());
        let first = &programme.activities[0];
        let (task, quantity) = first.quantities[0];
        let row = task.activity();
        assert!(lines[1].contains(&format!("{},{},{},", row.name, plain(quantity), row.unit)), "{}", lines[1]);
        assert!(lines[1].contains(&plain(first.man_days)) && lines[1].contains("as set on the bench"), "{}", lines[1]);
        assert_eq!([plain(0.140_04), plain(12.0), plain(0.0)], ["0.14", "12", "0"]);
        assert_eq!(csv_field("a \"b\", c"), "\"a \"\"b\"\", c\"");
    }
}
