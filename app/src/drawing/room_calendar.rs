//! Rooms by week: which are shut from when to when, what goes on outside, which days are loud,
//! how many people are at work.

use super::{Anchor, Drawing, Ink};
use sisterframe_core::works::calendar::{Calendar, Date, in_words};
use sisterframe_core::works::programme::Programme;

/// Height of a row, px.
const ROW_PX: f64 = 17.0;
/// Room for months and breaks above the rows, px.
const HEAD_PX: f64 = 36.0;
/// Height of the people at work, px.
const PEOPLE_PX: f64 = 46.0;
/// Width of a letter of small text, px.
const LETTER_PX: f64 = 6.8;

/// Time along the drawing.
struct Axis {
    first: Date,
    left: f64,
    per_day: f64,
}

impl Axis {
    /// Where a day begins.
    fn x(&self, date: Date) -> f64 {
        self.left + (date - self.first).whole_days() as f64 * self.per_day
    }

    /// From where to where a week of the works reaches, counted from their first day.
    fn week(&self, first: Date, week: usize) -> (f64, f64) {
        let from = self.x(first) + 7.0 * week as f64 * self.per_day;
        (from, from + 7.0 * self.per_day)
    }

    /// Where it ends.
    fn end(&self, date: Date) -> f64 {
        self.x(date) + self.per_day
    }
}

/// Draws a programme; names of its rooms come in their order. Every week can be clicked as an event,
/// counted from zero; the one looked at is framed.
pub fn room_calendar(programme: &Programme, names: &[String], calendar: &Calendar, week: usize, width: f64) -> Drawing {
    let figures = &programme.figures;
    let to_monday = i64::from(figures.first.weekday().number_days_from_monday());
    let first = (0..to_monday).fold(figures.first, |date, _| date.previous_day().unwrap_or(date));
    let days = (figures.last - first).whole_days() as f64 + 1.0;
    let longest = names.iter().map(|name| name.chars().count()).max().unwrap_or(0).max(9);
    let left = longest as f64 * LETTER_PX + 10.0;
    let axis = Axis { first, left, per_day: (width - left - 6.0) / days };

    let mut order: Vec<usize> = (0..programme.rooms.len()).collect();
    order.reverse();
    let storeys = {
        let mut all: Vec<u32> = order.iter().map(|room| programme.rooms[*room].storey).collect();
        all.dedup();
        all.len()
    };
    let outside = programme.activities.iter().any(|activity| activity.package.is_none());
    let rows = order.len() + storeys + usize::from(outside) + 1;
    let bottom = HEAD_PX + rows as f64 * ROW_PX;
    let mut drawing = Drawing::new(width, bottom + PEOPLE_PX + 22.0);
    grid(&mut drawing, &axis, calendar, figures.last, bottom);

    let mut y = HEAD_PX;
    let mut storey = None;
    for room in order {
        let own = programme.rooms[room].storey;
        if storey != Some(own) {
            storey = Some(own);
            drawing.text(Ink::Figure, [2.0, y + 13.0], Anchor::Start, format!("Storey {own}"));
            y += ROW_PX;
        }
        let name = names.get(room).cloned().unwrap_or_default();
        drawing.text(Ink::Small, [left - 6.0, y + 13.0], Anchor::End, name);
        drawing.line(Ink::Hairline, [left, y + ROW_PX], [width, y + ROW_PX]);
        for closure in programme.closures.iter().filter(|closure| closure.room == room) {
            let (from, to) = (axis.x(closure.first), axis.end(closure.last));
            if closure.given_back {
                // In use by day: two lines where a shut room has a bar.
                for line in [y + 6.0, y + ROW_PX - 6.0] {
                    drawing.line(Ink::Thin, [from, line], [to, line]);
                }
            } else {
                drawing.rect(Ink::Plain, [from, y + 3.0], [to, y + ROW_PX - 3.0]);
            }
        }
        y += ROW_PX;
    }
    if outside {
        drawing.text(Ink::Small, [left - 6.0, y + 13.0], Anchor::End, "Outside");
        for [from, to] in outside_spans(programme) {
            drawing.rect(Ink::Added, [axis.x(from), y + 3.0], [axis.end(to), y + ROW_PX - 3.0]);
        }
        y += ROW_PX;
    }
    drawing.text(Ink::Small, [left - 6.0, y + 13.0], Anchor::End, "Loud");
    for date in &programme.loud_days {
        let x = axis.x(*date) + axis.per_day / 2.0;
        drawing.line(Ink::Thin, [x, y + 3.0], [x, y + ROW_PX - 3.0]);
    }
    let base = bottom + PEOPLE_PX + 8.0;
    people(&mut drawing, &axis, programme, base);
    let right = axis.end(figures.last);
    for own in 0..programme.week_count() {
        let (from, to) = axis.week(figures.first, own);
        let (from, to) = ([from, HEAD_PX - 16.0], [to.min(right), base]);
        if own == week {
            drawing.rect(Ink::Pointed, from, to);
        }
        let shapes = drawing.shapes.len();
        drawing.rect(Ink::Touch, from, to);
        drawing.mark_event(shapes, own as u32);
    }
    drawing.words = words(programme, outside);
    drawing
}

/// Breaks as bands, months as lines with their names.
fn grid(drawing: &mut Drawing, axis: &Axis, calendar: &Calendar, last: Date, bottom: f64) {
    let right = axis.end(last);
    for own in calendar.breaks().iter().filter(|own| own.last >= axis.first && own.first <= last) {
        let (from, to) = (axis.x(own.first.max(axis.first)), axis.end(own.last.min(last)));
        drawing.rect(Ink::Track, [from, HEAD_PX - 16.0], [to, bottom]);
        // The year stands on the axis already.
        let name = own.name.trim_end_matches(|letter: char| letter.is_ascii_digit() || letter == ' ');
        if name.chars().count() as f64 * LETTER_PX < to - from {
            drawing.text(Ink::Small, [(from + to) / 2.0, HEAD_PX - 4.0], Anchor::Middle, name);
        }
    }
    let mut free = f64::NEG_INFINITY;
    let mut date = axis.first;
    let mut year = 0;
    while date <= last {
        if date.day() == 1 || date == axis.first {
            let x = axis.x(date);
            if date.day() == 1 {
                drawing.line(Ink::Hairline, [x, HEAD_PX - 18.0], [x, bottom]);
            }
            let month = date.month().to_string();
            let short: String = month.chars().take(3).collect();
            let text = if date.year() == year { short } else { format!("{short} {}", date.year()) };
            let space = text.chars().count() as f64 * LETTER_PX;
            // A first month of a few days would push the next one's name away.
            let room_left = date.day() == 1 || date.day() < 20 || right - x < 60.0 * axis.per_day;
            if x >= free && x + space <= right + 6.0 && room_left {
                year = date.year();
                drawing.text(Ink::Small, [x + 2.0, 12.0], Anchor::Start, text);
                free = x + space + 8.0;
            }
        }
        let Some(next) = date.next_day() else { break };
        date = next;
    }
}

/// Days of work outside, runs with less than a week between them as one.
fn outside_spans(programme: &Programme) -> Vec<[Date; 2]> {
    let mut spans: Vec<[Date; 2]> = Vec::new();
    for activity in programme.activities.iter().filter(|activity| activity.package.is_none()) {
        match spans.last_mut() {
            Some(span) if (activity.first - span[1]).whole_days() < 7 => span[1] = span[1].max(activity.last),
            _ => spans.push([activity.first, activity.last]),
        }
    }
    spans
}

/// People at work week by week, on a scale of their own.
fn people(drawing: &mut Drawing, axis: &Axis, programme: &Programme, base: f64) {
    let weeks = &programme.figures.people;
    let most = weeks.iter().copied().fold(0.0, f64::max);
    if most <= 0.0 {
        return;
    }
    drawing.text(Ink::Small, [axis.left - 6.0, base - 2.0], Anchor::End, "People");
    let (top, right) = (base - PEOPLE_PX + 14.0, axis.end(programme.figures.last));
    drawing.line(Ink::Hairline, [axis.left, base], [right, base]);
    for (week, count) in weeks.iter().enumerate().filter(|(_, count)| **count > 0.0) {
        let (from, to) = axis.week(programme.figures.first, week);
        let to = (to - 1.0).min(right).max(from + 0.5);
        drawing.rect(Ink::Plain, [from, base], [to, base - (base - top) * count / most]);
    }
    // Under the line, clear of the frame of the week looked at.
    drawing.text(Ink::Small, [axis.left, base + 12.0], Anchor::Start, format!("up to {most:.0} at once"));
}

fn words(programme: &Programme, outside: bool) -> String {
    let figures = &programme.figures;
    let rooms = programme.rooms.len();
    let out = if outside { " Work outside is drawn below them." } else { "" };
    format!(
        "Calendar of {} to {}: {rooms} rooms with the days each is shut, breaks shaded.{out} The table gives the dates.",
        in_words(figures.first),
        in_words(figures.last)
    )
}
