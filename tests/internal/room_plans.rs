//! Rooms on the plan: every bay with a floor lies in one room, edits give what they say, ways out
//! are never shut, zones are shut as one.

use sisterframe_core::finding::Code;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, OwnRoom, Project, RoomDays, RoomKind, Rooms, Scheme, Span};
use sisterframe_core::study::OptionKind;
use sisterframe_core::works::calendar::{Calendar, Date, Month, WEEKDAYS};
use sisterframe_core::works::programme::{Inside, Pace, Programme, RoomState, Rules, programmes};
use sisterframe_core::works::{Room, RoomPlan, take_off};
use sisterframe_tests::projects::each_project;
use std::collections::BTreeSet;

fn as_it_stands(project: &Project) -> Model {
    Model::new(&project.building, &Scheme { name: String::new(), note: String::new(), measures: Vec::new() })
}

fn clinic() -> Project {
    Project::from_json(include_str!("../../demo-scenarios/clinic.json")).expect("a demo")
}

fn own(name: &str, kind: RoomKind, storey: u32, strips: [u32; 2], bays: [u32; 2]) -> OwnRoom {
    let span = |[first, last]: [u32; 2]| Span { first, last };
    let (strips, bays) = (span(strips), span(bays));
    OwnRoom {
        name: name.to_owned(),
        kind,
        storey,
        strips,
        bays,
        zone: String::new(),
        days: RoomDays::Building,
        hours: None,
    }
}

#[test]
fn every_bay_with_a_floor_lies_in_one_room() {
    let mut with_own = 0;
    each_project(150, |seed, project| {
        let (model, rooms) = (as_it_stands(&project), &project.building.rooms);
        let plan = RoomPlan::new(&model, &project.building);
        let all: Vec<Room> = plan.all().into_iter().chain(plan.ways_out()).collect();
        let mut seen = BTreeSet::new();
        for room in &all {
            for (strip, bay) in plan.bays(*room) {
                assert!(seen.insert((room.storey, strip, bay)), "seed {seed}: two rooms in a bay");
                assert_eq!(plan.at(room.storey, strip, bay), Some(*room), "seed {seed}");
            }
            let kept = plan.own(*room).is_none_or(|own| rooms.own.contains(own));
            assert!(kept && !plan.name(*room).is_empty(), "seed {seed}");
            with_own += usize::from(plan.own(*room).is_some());
        }
        let floors = (1..).zip(&model.cells).flat_map(|(storey, strips)| {
            (1..).zip(strips).flat_map(move |(strip, bays)| {
                (1..).zip(bays).filter(|(_, floor)| **floor).map(move |(bay, _)| (storey, strip, bay))
            })
        });
        assert_eq!(floors.collect::<BTreeSet<(u32, u32, u32)>>(), seen, "seed {seed}: bays without a room");
        for one in all.iter().take(12) {
            for other in all.iter().take(12) {
                assert_eq!(plan.adjoin(*one, *other), plan.adjoin(*other, *one), "seed {seed}");
            }
        }
    });
    assert!(with_own > 50, "only {with_own} rooms of their own were drawn");
}

/// Merging, naming and splitting: what is merged has the bays of both, is accepted by the project's
/// check, and splitting gives the grid back.
#[test]
fn edits_of_rooms_give_what_they_say() {
    let (mut merges, mut refused) = (0, 0);
    each_project(60, |seed, project| {
        let model = as_it_stands(&project);
        let before = RoomPlan::new(&model, &project.building);
        let with = |rooms: Rooms| {
            let mut changed = project.clone();
            changed.building.rooms = rooms;
            changed
        };
        for room in before.all().into_iter().take(6) {
            let neighbours = before.neighbours(room);
            for other in before.all() {
                match before.merged(room, other) {
                    None => {
                        assert!(!neighbours.contains(&other), "seed {seed}");
                        refused += 1;
                    }
                    Some(rooms) => {
                        assert!(neighbours.contains(&other), "seed {seed}");
                        let changed = with(rooms);
                        assert_eq!(changed.check(), Ok(()), "seed {seed}: merged rooms are refused");
                        let after = RoomPlan::new(&model, &changed.building);
                        let both: BTreeSet<_> = before.bays(room).chain(before.bays(other)).collect();
                        let made = after.at(room.storey, both.first().expect("bays").0, both.first().expect("bays").1);
                        let made = made.expect("a room");
                        assert_eq!(after.bays(made).collect::<BTreeSet<_>>(), both, "seed {seed}");
                        assert!(after.own(made).is_some() && after.split(made).is_some(), "seed {seed}");
                        merges += 1;
                    }
                }
            }
            let Some(rooms) = before.changed(room, |own| own.name = "Chosen".to_owned()) else { continue };
            let changed = with(rooms);
            let after = RoomPlan::new(&model, &changed.building);
            assert_eq!(after.name(room), "Chosen", "seed {seed}");
            assert_eq!(after.bays(room).collect::<Vec<_>>(), before.bays(room).collect::<Vec<_>>(), "seed {seed}");
            if before.own(room).is_none() {
                assert_eq!(after.split(room).as_ref(), Some(&project.building.rooms), "seed {seed}: split again");
            }
        }
    });
    assert!(merges > 50 && refused > 50, "{merges} merged, {refused} refused");
}

/// Whatever rooms of the project's own leave of the grid can be named: each room is a rectangle of bays.
#[test]
fn every_room_is_a_rectangle_that_can_be_named() {
    let mut cut = 0;
    each_project(150, |seed, project| {
        let model = as_it_stands(&project);
        let plan = RoomPlan::new(&model, &project.building);
        for room in plan.all().into_iter().chain(plan.ways_out()).filter(|room| plan.own(*room).is_none()) {
            let record = plan.record(room).expect("a record");
            let bays = record.strips.iter().flat_map(|strip| record.bays.iter().map(move |bay| (strip, bay)));
            assert_eq!(bays.collect::<BTreeSet<_>>(), plan.bays(room).collect(), "seed {seed}");
            cut += u32::from(record.bays.count() < project.building.rooms.bays_per_room);
        }
    });
    assert!(cut > 50, "only {cut} rooms are less than the grid's");
}
/// Dividing and merging: the halves have the bays of the whole, each on its side of the line, and
/// merged they are the room again.
#[test]
fn a_room_divided_and_merged_again_has_its_bays() {
    let (mut divided, mut uncut) = (0, 0);
    each_project(60, |seed, project| {
        let model = as_it_stands(&project);
        let before = RoomPlan::new(&model, &project.building);
        for room in before.all().into_iter().take(6) {
            let cuts = before.cuts(room);
            uncut += usize::from(cuts.is_empty());
            assert_eq!(before.divided(room, Direction::X, 0), None, "seed {seed}: the first line is no cut");
            for (way, line) in cuts {
                let mut changed = project.clone();
                changed.building.rooms = before.divided(room, way, line).expect("a cut");
                assert_eq!(changed.check(), Ok(()), "seed {seed}");
                let after = RoomPlan::new(&model, &changed.building);
                let all: BTreeSet<_> = before.bays(room).collect();
                let beyond = |(strip, bay): &(u32, u32)| if way == Direction::X { *bay > line } else { *strip > line };
                let (far, near): (BTreeSet<_>, BTreeSet<_>) = all.iter().copied().partition(beyond);
                let at = |cells: &BTreeSet<(u32, u32)>| {
                    let (strip, bay) = cells.first().expect("bays on both sides");
                    after.at(room.storey, *strip, *bay).expect("a room")
                };
                let (one, other) = (at(&near), at(&far));
                assert_eq!(after.bays(one).collect::<BTreeSet<_>>(), near, "seed {seed}");
                assert_eq!(after.bays(other).collect::<BTreeSet<_>>(), far, "seed {seed}");
                assert_ne!(after.name(one), after.name(other), "seed {seed}");
                let mut back = project.clone();
                back.building.rooms = after.merged(one, other).expect("they make a rectangle");
                let again = RoomPlan::new(&model, &back.building);
                assert_eq!(again.bays(room).collect::<BTreeSet<_>>(), all, "seed {seed}");
                divided += 1;
            }
        }
    });
    assert!(divided > 50 && uncut > 10, "{divided} divided, {uncut} too small");
}

/// By hand: a stair of the clinic's ground floor is laid in the storey above, over nothing that is
/// the project's own already.
#[test]
fn a_stair_is_laid_in_every_storey() {
    let mut project = clinic();
    let storeys = project.building.storeys.len();
    project.building.rooms.own.push(own("Stair", RoomKind::Stair, 1, [1, 1], [1, 1]));
    let model = as_it_stands(&project);
    let plan = RoomPlan::new(&model, &project.building);
    let stair = plan.at(1, 1, 1).expect("a room");
    let rooms = plan.in_every_storey(stair).expect("storeys above");
    assert_eq!(rooms.own.len(), storeys);
    assert!((1..).zip(&rooms.own).all(|(storey, own)| own.storey == storey && own.kind == RoomKind::Stair));
    let mut laid = project.clone();
    laid.building.rooms = rooms;
    let again = RoomPlan::new(&model, &laid.building);
    assert_eq!(again.in_every_storey(stair), None, "it is there already");
    // A ward of the project's own above stays.
    project.building.rooms.own.push(own("Ward 12", RoomKind::Ward, 2, [1, 1], [1, 2]));
    let plan = RoomPlan::new(&model, &project.building);
    let rooms = plan.in_every_storey(stair);
    let above = rooms.unwrap_or(project.building.rooms.clone());
    assert!(above.own.iter().all(|own| own.storey != 2 || own.name == "Ward 12"), "{above:?}");
}

fn usual_pace(project: &Project, scheme: &Scheme) -> Programme {
    let start = Date::from_calendar_date(2027, Month::March, 1).expect("a date");
    let calendar = Calendar::new(start, WEEKDAYS, WEEKDAYS, &[]).expect("a calendar");
    let rules = Rules { inside: Inside::AnyDay, packages_at_once: Some(1), ..Rules::default() };
    let all = programmes(&Model::new(&project.building, scheme), project, &calendar, &rules);
    all.into_iter().find(|programme| programme.pace == Pace::Usual).expect("a programme")
}

/// A room that becomes a stair is shut no longer, and the work in it is told of.
#[test]
fn ways_out_are_not_shut_and_work_in_them_is_told() {
    let project = clinic();
    let scheme = project.schemes.iter().find(|own| !usual_pace(&project, own).closures.is_empty()).expect("a scheme");
    let model = Model::new(&project.building, scheme);
    let plan = RoomPlan::new(&model, &project.building);
    let touched =
        take_off(&model, &project.building).into_iter().flat_map(|member| member.rooms).next().expect("a room");
    let mut changed = project.clone();
    changed.building.rooms = plan
        .changed(touched, |own| {
            own.name = "East stair".to_owned();
            own.kind = RoomKind::Stair;
        })
        .expect("a rectangle");
    assert_eq!(changed.check(), Ok(()));
    let programme = usual_pace(&changed, scheme);
    assert!(programme.closures.iter().all(|closure| programme.rooms[closure.room] != touched));
    let told = |project: &Project| {
        let study = sisterframe_core::evaluate::outline(project);
        let own = |option: &&sisterframe_core::study::OptionResult| matches!(option.kind, OptionKind::Scheme { index } if project.schemes[index].name == scheme.name);
        let option = study.options.iter().find(own).expect("the scheme").clone();
        option
            .findings
            .into_iter()
            .any(|own| own.code == Code::WayOutWorkedIn && own.text.to_string().contains("East stair"))
    };
    assert!(told(&changed) && !told(&project));
}

/// Rooms of one zone are shut together, zone after zone where one may be shut at a time.
#[test]
fn rooms_of_a_zone_are_shut_together() {
    let mut project = clinic();
    let scheme =
        project.schemes.iter().find(|own| usual_pace(&project, own).rooms.len() > 3).expect("a scheme").clone();
    let model = Model::new(&project.building, &scheme);
    let mut touched: Vec<Room> =
        take_off(&model, &project.building).into_iter().flat_map(|member| member.rooms).collect();
    touched.sort_unstable();
    touched.dedup();
    let storey = touched[0].storey;
    touched.retain(|room| room.storey == storey);
    assert!(touched.len() > 1);
    for room in &touched {
        let plan = RoomPlan::new(&model, &project.building);
        let rooms = plan.changed(*room, |own| own.zone = "North".to_owned()).expect("a rectangle");
        project.building.rooms = rooms;
    }
    assert_eq!(project.check(), Ok(()));
    let programme = usual_pace(&project, &scheme);
    let package_of = |room: &Room| {
        let own = |closure: &&sisterframe_core::works::programme::Closure| programme.rooms[closure.room] == *room;
        programme.closures.iter().find(own).map(|closure| closure.package)
    };
    let packages: BTreeSet<_> = touched.iter().map(package_of).collect();
    assert_eq!(packages.len(), 1, "{packages:?}");
}

/// By hand: a wall across a corridor shuts it, the same wall with a door does not.
#[test]
fn a_wall_across_a_corridor_is_told() {
    let text = include_str!("../format/maximal.json");
    let mut project = Project::from_json(text).expect("the widest project");
    let scheme = |opening: &str| {
        format!(
            r#"{{"kind": "infill_wall", "line": "2", "bays": [2, 2], "storeys": [1, 1], "thickness_mm": 200,
                "bar_mm": 13, "bar_spacing_mm": 200, "dowel_mm": 16, "dowel_spacing_mm": 200,
                "dowel_embedment_mm": 160, "concrete_mpa": 28{opening}}}"#
        )
    };
    for (opening, walled) in [("", true), (r#", "opening": {"width_mm": 1200, "height_mm": 2100}"#, false)] {
        let measure: serde_json::Value = serde_json::from_str(&scheme(opening)).expect("JSON");
        let mut value: serde_json::Value = serde_json::from_str(text).expect("JSON");
        value["building"]["walls"] = serde_json::json!([]);
        value["building"]["rooms"] = serde_json::json!({"bays_per_room": 1, "corridor_strips": [2]});
        value["schemes"] = serde_json::json!([{"name": "Across", "measures": [measure]}]);
        project = Project::from_value(&value).unwrap_or_else(|problem| panic!("{problem}"));
        let model = Model::new(&project.building, &project.schemes[0]);
        let told = sisterframe_core::works::ways_out(&model, &project.building);
        assert_eq!(told.iter().any(|own| own.code == Code::WayOutWalled), walled, "{told:?}");
        assert!(told.iter().any(|own| own.code == Code::WayOutWorkedIn), "work on both sides of a corridor");
    }
    // A hall beside no work is open, and a way out is not among the rooms of a week.
    project.building.rooms.own.push(own("Hall", RoomKind::Other, 2, [1, 1], [1, 1]));
    assert_eq!(project.check(), Ok(()));
    let programme = usual_pace(&project, &project.schemes[0]);
    assert!(programme.closures.is_empty(), "all of it stands in the corridor");
    let start = Date::from_calendar_date(2027, Month::March, 1).expect("a date");
    let calendar = Calendar::new(start, WEEKDAYS, WEEKDAYS, &[]).expect("a calendar");
    let model = as_it_stands(&project);
    let plan = RoomPlan::new(&model, &project.building);
    let week = programme.week(0, &plan, &calendar, &Rules::default());
    assert_eq!(week.rooms.len(), plan.all().len());
    assert!(week.rooms.iter().any(|(room, state)| plan.name(*room) == "Hall" && *state == RoomState::Open));
}
