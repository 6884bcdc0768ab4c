//! Days and hours of use, by hand on small calendars: what shuts a room, what disturbs it, what leaves
//! it in use.

use sisterframe_core::model::Model;
use sisterframe_core::project::{Project, RoomDays, UseHours};
use sisterframe_core::works::calendar::{Break, Calendar, Date, Month, WEEKDAYS};
use sisterframe_core::works::programme::{Inside, Pace, Programme, RoomState, Rules, Week, WorkingHours, programmes};
use sisterframe_core::works::{Room, RoomPlan};

/// Three rooms in a row of a one-storey building; a jacket on a corner column stands in the first of
/// them, a bay long, the second lies beside it, the third beyond.
fn three_rooms() -> Project {
    let mut value: serde_json::Value =
        serde_json::from_str(include_str!("../../demo-scenarios/school.json")).expect("JSON");
    let line = |name: &str, at: f64| serde_json::json!({"name": name, "at_m": at});
    let building = &mut value["building"];
    building["x_lines"] = serde_json::json!([line("1", 0.0), line("2", 6.0), line("3", 12.0), line("4", 18.0)]);
    building["y_lines"] = serde_json::json!([line("A", 0.0), line("B", 6.0)]);
    let storey = building["storeys"][0].clone();
    building["storeys"] = serde_json::json!([storey]);
    for list in ["walls", "masonry"] {
        building[list] = serde_json::json!([]);
    }
    let columns: serde_json::Value = building["columns"][0].clone();
    building["columns"] = serde_json::json!([columns]);
    let beams: serde_json::Value = building["beams"][0].clone();
    building["beams"] = serde_json::json!([beams]);
    let own =
        |name: &str, bay: u32| serde_json::json!({"name": name, "storey": 1, "strips": [1, 1], "bays": [bay, bay]});
    building["rooms"] =
        serde_json::json!({"bays_per_room": 1, "own": [own("First", 1), own("Second", 2), own("Third", 3)]});
    value["schemes"] = serde_json::json!([{"name": "A jacket", "measures": [{
        "kind": "jacket", "x": ["1"], "y": ["A"], "storeys": [1, 1], "thickness_mm": 100, "bars": 12, "bar_mm": 19,
        "hoop_mm": 12, "hoop_spacing_mm": 100, "concrete_mpa": 28
    }]}]);
    Project::from_value(&value).unwrap_or_else(|problem| panic!("{problem}"))
}

fn day(month: Month, day: u8) -> Date {
    Date::from_calendar_date(2027, month, day).expect("a date")
}

/// Monday to Friday from Monday 1 March 2027 on, with a break from the given day on.
fn calendar(breaks: Option<[Date; 2]>) -> Calendar {
    let breaks: Vec<Break> =
        breaks.into_iter().map(|[first, last]| Break { name: "Break".to_owned(), first, last, long: false }).collect();
    Calendar::new(day(Month::March, 1), WEEKDAYS, WEEKDAYS, &breaks).expect("a calendar")
}

fn usual(project: &Project, calendar: &Calendar, rules: &Rules) -> Programme {
    let all = programmes(&Model::new(&project.building, &project.schemes[0]), project, calendar, rules);
    all.into_iter().find(|own| own.pace == Pace::Usual).expect("a programme")
}

fn week(project: &Project, programme: &Programme, calendar: &Calendar, rules: &Rules) -> Week {
    let model = Model::new(&project.building, &project.schemes[0]);
    programme.week(0, &RoomPlan::new(&model, &project.building), calendar, rules)
}

fn hours(text: &str) -> Option<UseHours> {
    Some(UseHours::parse(text).expect("hours"))
}

const ANY_DAY: Rules = Rules {
    gangs: 1,
    inside: Inside::AnyDay,
    whole_storeys: false,
    packages_at_once: None,
    quiet_drilling: false,
    loud_outside_in_breaks: false,
    outside_first: false,
    hours: WorkingHours::Day,
    begins: None,
    given_back: false,
};

/// A room shut from a Monday counts the days its own week has: five, six or seven of them, in breaks
/// too where it is in use then.
#[test]
fn a_room_counts_the_days_it_is_in_use() {
    let mut project = three_rooms();
    // The first week is a break.
    let calendar = calendar(Some([day(Month::March, 1), day(Month::March, 7)]));
    let mut of = |days: RoomDays| {
        project.building.rooms.own[0].days = days;
        let programme = usual(&project, &calendar, &ANY_DAY);
        let [closure] = &programme.closures[..] else { panic!("one room is shut: {:?}", programme.closures) };
        ([closure.first, closure.last], closure.days_in_use, programme.figures.room_days_in_breaks)
    };
    let (span, building, in_breaks) = of(RoomDays::Building);
    let [first, last] = span;
    assert_eq!(first, day(Month::March, 1));
    assert!(last > day(Month::March, 8) && last < day(Month::March, 20), "shut over the end of the break: {last}");
    // Dates of March 2027 from the 8th to the last day; the 13th is a Saturday, the 14th a Sunday.
    let after = u32::from(last.day()) - 7;
    let [saturday, sunday] = [13, 14].map(|own| u32::from(last.day() >= own));
    assert_eq!((building, in_breaks), (after - saturday - sunday, 5));
    assert_eq!(of(RoomDays::Five), (span, after - saturday - sunday, 5));
    assert_eq!(of(RoomDays::Six), (span, after - sunday, 5));
    assert_eq!(of(RoomDays::Seven), (span, after, 5));
    assert_eq!(of(RoomDays::Always), (span, after + 7, 0));
}

/// Gangs drill from eight to four. A room next door that is used in the evening hears nothing of it;
/// one that is used until nine in the morning only where drilling begins by then.
#[test]
fn loud_work_counts_in_hours_of_use() {
    let mut project = three_rooms();
    let calendar = calendar(None);
    let mut loud = |used: Option<UseHours>, rules: &Rules| {
        for own in &mut project.building.rooms.own[1..] {
            own.hours = used;
        }
        let programme = usual(&project, &calendar, rules);
        let states: Vec<RoomState> =
            week(&project, &programme, &calendar, rules).rooms.into_iter().map(|(_, state)| state).collect();
        (programme.figures.loud_days_in_use, programme.figures.neighbour_loud_days, states[1])
    };
    let (days, beside, state) = loud(None, &ANY_DAY);
    assert!(days > 0 && state == RoomState::Noisy, "{days} {state:?}");
    // One of the two rooms in use lies beside the work.
    assert_eq!(beside, days);
    assert_eq!(loud(hours("08:00-16:00"), &ANY_DAY), (days, days, RoomState::Noisy));
    assert_eq!(loud(hours("16:00-22:00"), &ANY_DAY), (0, 0, RoomState::Open));
    assert_eq!(loud(hours("00:00-24:00"), &ANY_DAY), (days, days, RoomState::Noisy));
    // By night those sleep badly who are there by night.
    let evenings = Rules { hours: WorkingHours::Evenings, ..ANY_DAY };
    assert_eq!(loud(None, &evenings), (0, 0, RoomState::Open));
    let (night, next_door, state) = loud(hours("22:00-06:00"), &evenings);
    assert!(night > 0 && next_door == night && state == RoomState::Noisy, "{night} {next_door} {state:?}");
    // From 18:00 on a shift lasts until 02:00.
    assert_eq!(loud(hours("02:00-18:00"), &evenings), (0, 0, RoomState::Open));
    assert_eq!(loud(hours("08:00-16:00"), &Rules { begins: Some(16), ..ANY_DAY }), (0, 0, RoomState::Open));
    let early = Rules { begins: Some(0), ..ANY_DAY };
    assert_eq!(loud(hours("08:00-16:00"), &early), (0, 0, RoomState::Open));
    assert!(loud(hours("07:59-16:00"), &early).0 > 0);
}

/// A room that is empty while gangs work stays in use where it is given back after each shift; it
/// needs no break then, and the work takes longer.
#[test]
fn rooms_given_back_after_each_shift_stay_in_use() {
    let mut project = three_rooms();
    let summer = [day(Month::July, 5), day(Month::August, 22)];
    let calendar = calendar(Some(summer));
    let in_breaks = Rules { inside: Inside::Breaks, hours: WorkingHours::Evenings, ..ANY_DAY };
    let shut = usual(&project, &calendar, &in_breaks);
    assert!(shut.figures.first >= summer[0] && !shut.closures[0].given_back);
    assert_eq!((shut.figures.room_days_in_use, shut.figures.breaks), (0, [0, 1]));
    let rules = Rules { given_back: true, ..in_breaks };
    let lent = usual(&project, &calendar, &rules);
    assert_eq!(lent.figures.first, day(Month::March, 1), "no break is waited for");
    assert!(lent.closures.iter().all(|own| own.given_back && own.days_in_use == 0) && lent.spilled.is_empty());
    let figures = &lent.figures;
    assert_eq!((figures.room_days_in_use, figures.room_days_in_breaks, figures.peak_rooms), (0, 0, 0));
    assert_eq!((figures.breaks, figures.loud_days_in_use), ([0, 0], 0));
    let states = week(&project, &lent, &calendar, &rules).rooms;
    assert_eq!(
        states.iter().map(|(_, own)| *own).collect::<Vec<_>>(),
        [RoomState::GivenBack, RoomState::Open, RoomState::Open]
    );
    let told = |own: &Programme| sisterframe_core::reading::works(std::slice::from_ref(own), false);
    assert!(told(&lent).contains("Props, forms and fresh concrete stay in them") && !told(&shut).contains("Props"));
    let work = |own: &Programme| own.activities.iter().map(|own| own.hours()).sum::<u32>();
    assert!(work(&lent) > work(&shut));
    // A room with somebody in it in the evening is shut all the same.
    project.building.rooms.own[0].hours = hours("08:00-18:30");
    let other = usual(&project, &calendar, &rules);
    assert!(other.figures.first >= summer[0] && !other.closures[0].given_back);
    // By day only a room that is used in the evening stays in use.
    project.building.rooms.own[0].hours = hours("17:00-21:00");
    let by_day = usual(&project, &calendar, &Rules { given_back: true, ..ANY_DAY });
    assert!(by_day.closures[0].given_back);
    assert!(by_day.figures.loud_days_in_use > 0, "the others are in use by day");
}

/// Ways out are in use as long as a room of their storey.
#[test]
fn a_corridor_is_in_use_as_long_as_its_rooms() {
    let mut project = three_rooms();
    let kinds = [("classroom", "08:00-12:00"), ("office", "10:00-20:00"), ("corridor", "")];
    for (own, (kind, used)) in project.building.rooms.own.iter_mut().zip(kinds) {
        use sisterframe_core::project::Record;
        own.set("kind", &serde_json::json!(kind)).expect("a kind");
        own.hours = UseHours::parse(used);
    }
    let model = Model::new(&project.building, &project.schemes[0]);
    let plan = RoomPlan::new(&model, &project.building);
    let clock = plan.use_of(Room { storey: 1, strip: 1, bay: 3 }).clock;
    assert_eq!(clock, (8..20).fold(0, |all, hour| all | 1 << hour));
}

/// Files from before rooms had days of use are read in their words.
#[test]
fn rooms_in_use_every_day_are_read_as_before() {
    let mut value = three_rooms().to_value();
    for (at, every_day) in [(0, true), (1, false)] {
        let room = value.pointer_mut(&format!("/building/rooms/own/{at}")).and_then(serde_json::Value::as_object_mut);
        let room = room.expect("a room");
        room.remove("days");
        room.insert("every_day".to_owned(), serde_json::json!(every_day));
    }
    let project = Project::from_value(&value).unwrap_or_else(|problem| panic!("{problem}"));
    let days: Vec<RoomDays> = project.building.rooms.own.iter().map(|own| own.days).collect();
    assert_eq!(days, [RoomDays::Always, RoomDays::Building, RoomDays::Building]);
    value["building"]["rooms"]["own"][0]["every_day"] = serde_json::json!("yes");
    let refused = Project::from_value(&value).expect_err("no flag");
    assert!(refused.path.starts_with("building.rooms.own[0].every_day"), "{refused}");
    value["building"]["rooms"]["own"][0].as_object_mut().expect("a room").remove("every_day");
    value["building"]["rooms"]["own"][0]["hours"] = serde_json::json!("8 to 25");
    let refused = Project::from_value(&value).expect_err("no hours");
    assert_eq!(refused.path, "building.rooms.own[0].hours");
}
