//! A week of the works on the plan of every storey.

use super::html::{Html, NONE};
use crate::drawing::WeekPlan;
use sisterframe_core::model::Model;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Project, Scheme, WorkingTimes};
use sisterframe_core::works::RoomPlan;
use sisterframe_core::works::calendar::{Date, in_words};
use sisterframe_core::works::programme::{Programme, RoomState, Week};
use sisterframe_core::works::stages::done_by;

/// The slider that turns to a week.
pub const SLIDER: &str = "works-week";

/// The week with the most rooms shut, counted from zero; the first of them.
pub fn busiest(programme: &Programme) -> usize {
    let first = programme.figures.first;
    let mut most = (0, 0);
    for week in 0..programme.week_count() {
        let within = |date: Date| (date - first).whole_days().div_euclid(7);
        let shut = programme
            .closures
            .iter()
            .filter(|own| (within(own.first)..=within(own.last)).contains(&(week as i64)))
            .count();
        if shut > most.1 {
            most = (week, shut);
        }
    }
    most.0
}

/// A week's number and first day, as the slider says it.
pub fn told(programme: &Programme, week: usize) -> String {
    let first = (0..7 * week).fold(programme.figures.first, |date, _| date.next_day().unwrap_or(date));
    format!("Week {} of {}, from {}", week + 1, programme.week_count(), in_words(first))
}

/// Turns to a week.
pub fn control(programme: &Programme, week: usize) -> String {
    let mut html = Html::default();
    html.raw("<h2>Storey by storey in a week</h2><div class=\"chooser week-line on-screen\">");
    let button = |html: &mut Html, id: &str, act: &str, name: &str| {
        html.leaf("button", &[("type", "button"), ("id", id), ("data-act", act)], name);
    };
    button(&mut html, "works-week-before", "week:before", "Week before");
    let (value, most) = ((week + 1).to_string(), programme.week_count().to_string());
    html.open(
        "input",
        &[
            ("type", "range"),
            ("id", SLIDER),
            ("min", "1"),
            ("max", &most),
            ("value", &value),
            ("aria-label", "Week of the works"),
            ("aria-valuetext", &told(programme, week)),
        ],
    );
    button(&mut html, "works-week-after", "week:after", "Week after");
    html.close("div");
    html.finish()
}

/// The plans of a week, each at a width and at most a height, px.
pub fn plans(
    project: &Project,
    scheme: &Scheme,
    programme: &Programme,
    times: &WorkingTimes,
    week: usize,
    [width, height]: [f64; 2],
) -> Option<String> {
    let whole = Model::new(&project.building, scheme);
    let rooms = RoomPlan::new(&whole, &project.building);
    let own = programme.week(week, &rooms, &times.calendar().ok()?, &times.rules());
    let standing = Model::new(&project.building, &done_by(&project.building, scheme, programme, own.last));
    let inside = inside(programme, &own);
    let plan = WeekPlan { standing: &standing, whole: &whole, rooms: &rooms, week: &own, inside: &inside };
    let mut html = Html::default();
    html.raw("<p class=\"week-told\" role=\"status\">");
    html.leaf("strong", &[NONE], &format!("{}. ", told(programme, week.min(programme.week_count() - 1))));
    html.words(&summary(&own));
    html.raw("</p><div class=\"week-plans\">");
    for storey in (1..=project.building.storeys.len() as u32).rev() {
        html.raw("<figure>");
        html.leaf("h3", &[NONE], &format!("Storey {storey}"));
        html.drawing(&plan.storey(storey, width, height), "week-plan");
        html.leaf("figcaption", &[("class", "note")], &sentence(&plan.words(storey)));
        html.raw("</figure>");
    }
    html.raw("</div><p class=\"note works-key\">");
    for (class, name) in [
        ("key-crossed", "shut"),
        ("key-back", "handed back"),
        ("key-given-back", "worked in out of its hours"),
        ("key-lines", "in use, work next door, above or below"),
        ("key-member", "worked at inside"),
        ("key-dots", "work outside"),
        ("key-outside", "added work done"),
    ] {
        html.leaf("span", &[("class", class)], name);
    }
    html.raw("</p>");
    Some(html.finish())
}

/// Members worked at inside in a week, each once.
fn inside(programme: &Programme, week: &Week) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    let own = programme.activities.iter().filter(|own| own.package.is_some() && own.front.is_some());
    for own in own.filter(|own| own.first <= week.last && own.last >= week.first) {
        if !places.contains(&own.place) {
            places.push(own.place.clone());
        }
    }
    places
}

/// A week in a line.
fn summary(week: &Week) -> String {
    let count = |state: RoomState| week.rooms.iter().filter(|(_, own)| *own == state).count();
    let (shut, back, noisy) = (count(RoomState::Shut), count(RoomState::HandedBack), count(RoomState::Noisy));
    let rooms = |count: usize| if count == 1 { "1 room".to_owned() } else { format!("{count} rooms") };
    let mut text = match shut + back {
        0 => "No room is shut".to_owned(),
        all => format!("{} of {} shut", rooms(all), week.rooms.len()),
    };
    match back {
        0 => {}
        back if shut == 0 => {
            text.push_str(if back == 1 { " and handed back this week" } else { " and all handed back this week" })
        }
        back => text.push_str(&format!(", {back} of them handed back this week")),
    }
    match count(RoomState::GivenBack) {
        0 => {}
        own => text.push_str(&format!("; {} worked in out of hours", rooms(own))),
    }
    if noisy > 0 {
        text.push_str(&format!("; {} in use beside the work", rooms(noisy)));
    }
    if week.outside.contains(&Place::Building) {
        text.push_str("; the site is set up");
    } else if !week.outside.is_empty() {
        text.push_str("; work outside");
    }
    match week.loud_days {
        0 => text.push('.'),
        1 => text.push_str("; loud through the whole block on 1 day in use."),
        days => text.push_str(&format!("; loud through the whole block on {days} days in use.")),
    }
    text
}

/// Words as a sentence.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
