//! Rooms as markup: the plan, the form of the one chosen, when it is shut.

use super::block::act;
use super::html::{Html, NONE, when};
use super::works_html::pace;
use super::works_rooms::{Refused, Shut};
use crate::drawing::Drawing;
use crate::store::Choice;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, RoomDays, RoomKind};
use sisterframe_core::units::{Dimension, System, show};
use sisterframe_core::works::calendar::in_words;
use sisterframe_core::works::{Room, RoomPlan};

/// The heading of the panel.
pub const HEAD: &str = "room-name";
/// The field of the name.
pub const NAME: &str = "room-own-name";
/// The field of the kind.
pub const KIND: &str = "room-kind";
/// The field of the zone.
pub const ZONE: &str = "room-zone";
/// The field of the days of use.
pub const DAYS: &str = "room-days";
/// The field of the hours of use.
pub const HOURS: &str = "room-hours";
/// Where buttons stand.
pub const DOINGS: &str = "room-doings";
/// Fields of the panel.
pub const FIELDS: [&str; 5] = [NAME, KIND, ZONE, DAYS, HOURS];
/// Kinds in their order.
pub const KINDS: [RoomKind; 6] =
    [RoomKind::Classroom, RoomKind::Ward, RoomKind::Office, RoomKind::Corridor, RoomKind::Stair, RoomKind::Other];
/// Days of use in their order.
pub const ALL_DAYS: [RoomDays; 5] =
    [RoomDays::Building, RoomDays::Five, RoomDays::Six, RoomDays::Seven, RoomDays::Always];

/// The plan with the choice of its storey.
pub fn plan(drawing: &Drawing, storeys: u32, storey: u32, chosen: Option<Room>) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"chart-head\"><h2>Rooms</h2><div class=\"chooser\" role=\"group\" aria-label=\"Storey of the rooms\">");
    for own in 1..=storeys {
        let act = act(Choice::Floor(Some(own)));
        html.choice(&format!("works-storey-{own}"), "", &act, own == storey, "", &format!("Storey {own}"));
    }
    html.raw("</div></div><p class=\"note\">Choose a room to name it, say what it is for, merge or divide it. Corridors and stairs are kept open. Names in ink are your own, the others are those of the grid.</p>");
    html.raw("<div class=\"scroller\" id=\"room-picture\">");
    html.map(drawing, "room-plan", chosen);
    html.raw("</div>");
    html.finish()
}

/// What the room chosen is, and what can be changed of it.
pub fn form(plan: &RoomPlan<'_>, model: &Model, room: Room, refused: Option<&Refused>, system: System) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"spot-head\">");
    let title = format!("{}, storey {}", plan.name(room), room.storey);
    html.leaf("h2", &[("id", HEAD), ("tabindex", "-1"), ("aria-live", "polite")], &title);
    html.leaf(
        "button",
        &[("type", "button"), ("id", "room-close"), ("class", "quiet"), ("data-act", &act(Choice::Room(None)))],
        "Close",
    );
    html.raw("</div>");
    let bays = plan.bays(room).count();
    let bays = if bays == 1 { "1 bay".to_owned() } else { format!("{bays} bays") };
    let area = show(plan.area_m2(room), Dimension::SquareMetres, system);
    let origin = if plan.own(room).is_some() { "a room of your own" } else { "a room of the grid" };
    html.leaf("p", &[("class", "spot-note")], &format!("{area} of floor in {bays}, {origin}."));
    let Some(record) = plan.record(room) else { return html.finish() };
    html.raw("<div class=\"room-form\">");
    let error_of = |field: &str| refused.filter(|own| own.field == field);
    let choice = |html: &mut Html, id: &str, label: &str, words: &[(&str, &str, bool)]| {
        html.raw("<div class=\"field text\">");
        html.leaf("label", &[("for", id)], label);
        html.open("select", &[("id", id)]);
        for (key, name, own) in words {
            html.leaf("option", &[("value", key), when(*own, "selected", "")], name);
        }
        html.raw("</select></div>");
    };
    let text_field = |html: &mut Html, id: &str, label: &str, value: &str, note: &str| {
        let error = error_of(id);
        html.raw("<div class=\"field text\">");
        html.leaf("label", &[("for", id)], label);
        let reason = format!("{id}-error");
        html.open(
            "input",
            &[
                ("type", "text"),
                ("id", id),
                ("autocomplete", "off"),
                ("value", error.map_or(value, |own| own.text.as_str())),
                when(error.is_some(), "aria-invalid", "true"),
                when(error.is_some() || !note.is_empty(), "aria-describedby", &reason),
            ],
        );
        if let Some(own) = error {
            html.leaf("p", &[("class", "error"), ("id", &reason), ("role", "alert")], &own.why);
        } else if !note.is_empty() {
            html.leaf("p", &[("class", "field-note"), ("id", &reason)], note);
        }
        html.raw("</div>");
    };
    text_field(&mut html, NAME, "Name", &record.name, "");
    choice(&mut html, KIND, "Kind", &KINDS.map(|own| (own.key(), own.label(), own == record.kind)));
    text_field(&mut html, ZONE, "Zone shut as one", &record.zone, "");
    choice(&mut html, DAYS, "Days of use", &ALL_DAYS.map(|own| (own.key(), own.label(), own == record.days)));
    let usual = record.kind.usual_hours().map_or("those of the rooms it serves".to_owned(), |own| own.to_string());
    let note = format!("24-hour clock, such as 8-15:30. Left empty: {usual}.");
    text_field(&mut html, HOURS, "Hours of use", &record.hours.map_or(String::new(), |own| own.to_string()), &note);
    html.raw("</div>");
    doings(&mut html, plan, model, room);
    if let Some(own) = error_of(DOINGS) {
        html.leaf("p", &[("class", "error"), ("role", "alert")], &own.why);
    }
    html.finish()
}

/// Buttons that merge, divide and give back.
fn doings(html: &mut Html, plan: &RoomPlan<'_>, model: &Model, room: Room) {
    let button = |html: &mut Html, doing: &str, name: &str, words: &str| {
        let id = format!("room-{}", doing.replace(':', "-"));
        let named = ("aria-label", words);
        let label = if words.is_empty() { NONE } else { named };
        html.leaf("button", &[("type", "button"), ("id", &id), ("data-room", doing), label], name);
    };
    let neighbours = plan.neighbours(room);
    let cuts = plan.cuts(room);
    if !neighbours.is_empty() {
        html.raw("<div class=\"room-doing\"><span class=\"label\">Merge with</span><div class=\"chooser\">");
        for other in neighbours {
            let doing = format!("merge:{}:{}:{}", other.storey, other.strip, other.bay);
            let name = plan.name(other);
            button(html, &doing, &name, &format!("Merge with {name}"));
        }
        html.raw("</div></div>");
    }
    if !cuts.is_empty() {
        html.raw("<div class=\"room-doing\"><span class=\"label\">Divide at line</span><div class=\"chooser\">");
        for (way, line) in cuts {
            let name = model.along(way).get(line as usize).map_or("", |own| own.name.as_str());
            let way = if way == Direction::X { "x" } else { "y" };
            button(html, &format!("divide:{way}:{line}"), name, &format!("Divide at line {name}"));
        }
        html.raw("</div></div>");
    }
    if plan.own(room).is_some() {
        html.raw("<div class=\"chooser room-doing\">");
        if plan.in_every_storey(room).is_some() {
            button(html, "every-storey", "The same in every storey", "");
        }
        button(html, "back", "Back to the rooms of the grid", "");
        html.raw("</div>");
    }
}

/// When a room is shut.
pub fn when_shut(room: Room, is_way_out: bool, shut: Option<&Shut>) -> String {
    let mut html = Html::default();
    let mut say = |text: &str| html.leaf("p", &[("class", "spot-note")], text);
    let Some(shut) = shut else {
        say("This option has no works.");
        return html.finish();
    };
    let pace = pace(shut.pace);
    let own: Vec<_> = shut.closures.iter().filter(|(other, _)| *other == room).map(|(_, closure)| closure).collect();
    if is_way_out {
        say(
            "Kept open during the works: it is a way out. Work that stands in it is told among the notes of this option on the Options sheet.",
        );
    } else if own.is_empty() {
        say(&format!("Not shut by this scheme at the {pace} pace."));
    }
    for closure in own {
        if closure.given_back {
            let (first, last) = (in_words(closure.first), in_words(closure.last));
            say(&format!(
                "Worked in from {first} to {last} at the {pace} pace, out of its hours, and given back after each shift."
            ));
            continue;
        }
        let days = match closure.days_in_use {
            0 => "on no day it would be in use".to_owned(),
            1 => "on 1 day it would be in use".to_owned(),
            days => format!("on {days} days it would be in use"),
        };
        let (first, last) = (in_words(closure.first), in_words(closure.last));
        say(&format!("Shut from {first} to {last} at the {pace} pace, {days}."));
    }
    html.finish()
}
