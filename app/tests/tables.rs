//! Tables of records: rows, cells, blocks, and what refers to them.

use proptest::prelude::*;
use serde_json::{Value, json};
use sisterframe_app::store::{
    Cell, Command, Document, Entry, List, Origin, RoomEdit, Root, RowEdit, Schedule, Slot, State, block_of, cell_slot,
    cell_text, cell_value, cell_value_of, demos, text_of,
};
use sisterframe_core::project::{Direction, Measure, OwnRoom, Project, RoomDays, RoomKind, Span};
use sisterframe_core::units::System;
use sisterframe_core::works::Room;

fn demo(key: &str) -> Document {
    let demo = demos().iter().find(|demo| demo.key == key).expect("a demo of this key");
    Document::new(State { project: demo.project.clone(), origin: Origin::Own })
}

fn rows(document: &mut Document, list: List, edit: RowEdit) -> Result<(), String> {
    document.apply(&Command::Rows { list, edit }).map(drop).map_err(|error| error.to_string())
}

/// Types a text into a cell, as the page does.
fn type_in(document: &mut Document, list: List, row: usize, keys: &str, text: &str) -> bool {
    let column = list.columns().into_iter().find(|column| column.keys == keys).expect("a column");
    let value = cell_value_of(document.project(), list, &column, text, System::Si);
    document.enter(&cell_slot(list, row, keys), text, value)
}

fn shown(project: &Project, list: List, row: usize, keys: &str) -> String {
    let column = list.columns().into_iter().find(|column| column.keys == keys).expect("a column");
    cell_text(&column, cell_value(&list.rows(project)[row], keys), System::Si)
}

fn paste(document: &mut Document, list: List, row: usize, column: usize, text: &str) -> Result<(usize, usize), String> {
    let columns = list.columns();
    let mut entries = Vec::new();
    for (down, cells) in block_of(text).into_iter().enumerate() {
        for (across, text) in cells.into_iter().enumerate() {
            let column = &columns[column + across];
            let value = cell_value_of(document.project(), list, column, &text, System::Si);
            entries.push(Entry { row: row + down, keys: column.keys.clone(), text, value });
        }
    }
    document.enter_cells(list, entries).map(|done| (done.taken, done.refused)).map_err(|error| error.to_string())
}

#[test]
fn every_list_shows_what_it_holds_and_takes_its_own_text_back() {
    for demo in demos() {
        for list in List::ALL {
            for (place, row) in list.rows(&demo.project).iter().enumerate() {
                for column in list.columns() {
                    for system in [System::Si, System::Us] {
                        let value = cell_value(row, &column.keys);
                        let text = cell_text(&column, value, system);
                        let back = cell_value_of(&demo.project, list, &column, &text, system)
                            .unwrap_or_else(|error| panic!("{} row {place}: {error}", list.path()));
                        let value = value.cloned().unwrap_or(Value::Null);
                        match (value.as_f64(), back.as_f64()) {
                            // Nine figures are shown.
                            (Some(held), Some(back)) => assert!((held - back).abs() <= 1e-8 * held.abs(), "{text}"),
                            _ => assert_eq!(back, value, "{} {}: {text}", list.path(), column.keys),
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn cells_take_words_as_people_write_them() {
    let document = demo("school");
    let project = document.project().clone();
    let read = |list: List, keys: &str, text: &str| {
        let column = list.columns().into_iter().find(|column| column.keys == keys).expect("a column");
        cell_value_of(&project, list, &column, text, System::Si).map_err(|error| error.problem.to_string())
    };
    assert_eq!(read(List::Columns, "x", "all"), Ok(json!([])));
    assert_eq!(read(List::Columns, "x", "2-4, 8"), Ok(json!(["2", "3", "4", "8"])));
    assert_eq!(read(List::Columns, "y", "c; a"), Ok(json!(["A", "C"])), "in the order of the grid");
    assert_eq!(read(List::Columns, "y", "A, Q"), Err("“Q” is no line here".to_owned()));
    assert_eq!(read(List::Columns, "storeys", ""), Ok(Value::Null));
    assert_eq!(read(List::Columns, "storeys", "2"), Ok(json!([2, 2])));
    assert_eq!(read(List::Columns, "storeys", "1 to 3"), Ok(json!([1, 3])));
    assert!(read(List::Columns, "storeys", "top").is_err());
    assert_eq!(read(List::Columns, "column", "k2"), Ok(json!("K2")));
    assert_eq!(read(List::ColumnTypes, "hooks", "135"), Ok(json!("135")));
    assert_eq!(read(List::ColumnTypes, "base", "pin"), Ok(json!("pinned")));
    assert_eq!(read(List::ColumnTypes, "x_mm", "16 in"), Ok(json!(406.4)));
    assert_eq!(read(List::ColumnTypes, "lap_mm", ""), Ok(Value::Null));
    assert_eq!(read(List::ColumnTypes, "bar_mm", "#8"), Ok(json!(25.4)));
    assert_eq!(read(List::Walls, "storeys", ""), Err("a number, or a first and a last, is needed here".to_owned()));
}

#[test]
fn a_block_keeps_its_breaks_tabs_and_inches() {
    assert_eq!(block_of("a\tb\r\n12\"\t\"x\ty\"\n"), vec![vec!["a", "b"], vec!["12\"", "x\ty"]]);
    let cells = vec![vec!["a \"b\"".to_owned(), "c\td".to_owned()], vec![String::new(), "e".to_owned()]];
    assert_eq!(block_of(&text_of(&cells)), cells);
    assert_eq!(block_of(""), Vec::<Vec<String>>::new());
}

#[test]
fn a_renamed_type_or_line_is_renamed_wherever_it_is_named_in_one_step() {
    let mut document = demo("school");
    let before = document.state().clone();
    assert!(type_in(&mut document, List::ColumnTypes, 1, "name", "C-300"));
    assert_eq!(document.project().building.columns[1].column, "C-300");
    assert!(document.undo().is_some());
    assert_eq!(document.state(), &before);

    assert!(type_in(&mut document, List::YLines, 0, "name", "S"));
    let project = document.project();
    assert_eq!(project.building.masonry[0].lines.0, ["S"]);
    assert_eq!(project.building.beams[1].lines.0, ["S", "B", "C"]);
    let text = project.to_json();
    assert!(!text.contains("\"A\""), "no scheme names the old line");
    assert_eq!(project.check(), Ok(()));
    assert!(document.undo().is_some());
    assert_eq!(document.state(), &before);
}

#[test]
fn names_that_change_places_are_followed_at_once() {
    let mut document = demo("school");
    assert_eq!(paste(&mut document, List::ColumnTypes, 0, 0, "K2\nK1"), Ok((2, 0)));
    let building = &document.project().building;
    assert_eq!((building.columns[0].column.as_str(), building.columns[1].column.as_str()), ("K2", "K1"));
}

#[test]
fn what_is_still_referred_to_is_not_deleted_and_the_places_are_told() {
    let mut document = demo("school");
    let before = document.state().clone();
    let refused = rows(&mut document, List::ColumnTypes, RowEdit::Delete { first: 1, count: 1 }).expect_err("in use");
    assert!(refused.contains("it is still named by row 2 of “Columns where”"), "{refused}");
    let refused = rows(&mut document, List::XLines, RowEdit::Delete { first: 7, count: 1 }).expect_err("in use");
    assert!(refused.contains("no bay left for infill walls of scheme “Infill walls”"), "{refused}");
    let refused = rows(&mut document, List::YLines, RowEdit::Delete { first: 1, count: 1 }).expect_err("in use");
    assert!(refused.contains("it is still named by row 2 of “Beams where”, masonry 2, column jackets"), "{refused}");
    assert_eq!(document.state(), &before);
}

#[test]
fn bays_and_storeys_keep_their_places_when_lines_and_storeys_come_and_go() {
    let mut document = demo("school");
    let frame = |document: &Document| {
        let mut measures = document.project().schemes.iter().flat_map(|scheme| &scheme.measures);
        measures.find_map(|own| if let Measure::ExternalFrame(own) = own { Some(own.bays) } else { None })
    };
    // Wings would close the short bays.
    document.apply(&Command::DeleteScheme { scheme: 1 }).expect("there");
    let bays = frame(&document).expect("a frame");
    // A line within the first bay: what stood in bays from the second on moves up by one.
    rows(&mut document, List::XLines, RowEdit::Add { at: 1 }).expect("room");
    let project = document.project();
    assert_eq!(project.building.x_lines[1].at_m, 2.25);
    assert!(!project.building.x_lines[1].name.is_empty());
    let now = frame(&document).expect("a frame");
    assert_eq!((now.first, now.last), (bays.first + 1, bays.last + 1));
    rows(&mut document, List::XLines, RowEdit::Delete { first: 1, count: 1 }).expect("nothing names it");
    assert_eq!(frame(&document), Some(bays));

    // The walls stand in storeys 1 to 3; with a storey put in below the top they reach to 4.
    let lowest = |document: &Document| document.project().building.walls[0].storeys;
    rows(&mut document, List::Storeys, RowEdit::Duplicate { first: 1, count: 1 }).expect("room");
    assert_eq!((lowest(&document).first, lowest(&document).last), (1, 4));
    rows(&mut document, List::Storeys, RowEdit::Delete { first: 0, count: 1 }).expect("three are left");
    assert_eq!((lowest(&document).first, lowest(&document).last), (1, 3));
    assert_eq!(document.project().check(), Ok(()));
}

#[test]
fn rooms_keep_their_places_when_lines_and_storeys_come_and_go() {
    let mut project = Project::clone(demo("school").project());
    let span = |first, last| Span { first, last };
    let (name, kind) = ("Library".to_owned(), RoomKind::Classroom);
    let (zone, days) = (String::new(), RoomDays::Building);
    project.building.rooms.own =
        vec![OwnRoom { name, kind, storey: 3, strips: span(1, 1), bays: span(3, 4), zone, days, hours: None }];
    // Wings would close the short bays.
    project.schemes.remove(1);
    assert_eq!(project.check(), Ok(()));
    let mut document = Document::new(State { project: project.into(), origin: Origin::Own });
    let room = |document: &Document| document.project().building.rooms.own[0].clone();
    rows(&mut document, List::XLines, RowEdit::Add { at: 1 }).expect("room");
    assert_eq!(room(&document).bays, span(4, 5));
    rows(&mut document, List::Storeys, RowEdit::Duplicate { first: 0, count: 1 }).expect("room");
    assert_eq!(room(&document).storey, 4);
    let refused = rows(&mut document, List::Storeys, RowEdit::Delete { first: 3, count: 1 }).expect_err("in use");
    assert!(refused.contains("room “Library”"), "{refused}");
    assert_eq!(document.project().check(), Ok(()));
}

#[test]
fn rooms_are_put_in_named_and_refused_in_their_cells() {
    let mut document = demo("school");
    rows(&mut document, List::Rooms, RowEdit::Add { at: 0 }).expect("a room of the grid");
    assert_eq!(shown(document.project(), List::Rooms, 0, "kind"), "classroom", "what the building is for");
    assert!(type_in(&mut document, List::Rooms, 0, "kind", "stair"), "{:?}", document.drafts());
    assert!(type_in(&mut document, List::Rooms, 0, "name", "Stair 1"), "{:?}", document.drafts());
    rows(&mut document, List::Rooms, RowEdit::Duplicate { first: 0, count: 1 }).expect("the next room of the grid");
    let own = &document.project().building.rooms.own;
    assert!(own.len() == 2 && !own[0].overlaps(&own[1]) && own[0].kind == own[1].kind, "{own:?}");
    assert!(!type_in(&mut document, List::Rooms, 1, "name", "Stair 1"), "two rooms of a storey by one name");
    assert!(!type_in(&mut document, List::Rooms, 1, "bays", "1-99"), "beyond the last line");
    assert_eq!(document.drafts().len(), 2);
    let count = document.project().building.rooms.own.len();
    while rows(&mut document, List::Rooms, RowEdit::Add { at: count }).is_ok() {}
    assert!(document.project().building.rooms.own.len() > 10, "as many as the grid has");
    assert_eq!(document.project().check(), Ok(()));
}

#[test]
fn a_room_chosen_on_the_plan_is_changed_in_one_step_and_refused_in_words() {
    let mut document = demo("school");
    let room = Room { storey: 1, strip: 1, bay: 1 };
    let edit = |document: &mut Document, room, edit| {
        document.apply(&Command::Room { room, edit }).map(|done| done.words).map_err(|error| error.to_string())
    };
    let before = document.project().clone();
    let words = edit(&mut document, room, RoomEdit::Name("Library".to_owned())).expect("a name");
    assert!(words.contains("named Library"), "{words}");
    edit(&mut document, room, RoomEdit::Kind(RoomKind::Office)).expect("a kind");
    let [own] = &document.project().building.rooms.own[..] else { panic!("one room of its own") };
    assert_eq!((own.name.as_str(), own.kind, own.storey), ("Library", RoomKind::Office, 1));
    let beside = Room { bay: own.bays.last + 1, ..room };
    let refused = edit(&mut document, beside, RoomEdit::Name("Library".to_owned())).expect_err("taken");
    assert!(refused.contains("name") && refused.contains("two rooms of this storey"), "{refused}");
    let refused = edit(&mut document, room, RoomEdit::Name(String::new())).expect_err("no name");
    assert!(refused.contains("building.rooms.own[0].name"), "{refused}");
    edit(&mut document, room, RoomEdit::Name("x".repeat(25))).expect_err("too long");
    edit(&mut document, room, RoomEdit::Merge(beside)).expect("neighbours");
    assert_eq!(document.project().building.rooms.own.len(), 1);
    edit(&mut document, room, RoomEdit::Divide(Direction::X, 1)).expect("a line inside");
    edit(&mut document, room, RoomEdit::Divide(Direction::X, 99)).expect_err("no such line inside");
    edit(&mut document, Room { storey: 9, ..room }, RoomEdit::Back).expect_err("no such room");
    for _ in 0..4 {
        assert!(document.undo().is_some());
    }
    assert_eq!(document.project(), &before);
}

#[test]
fn a_block_grows_the_list_and_what_is_refused_stays_in_its_cell() {
    let mut document = demo("clinic");
    let list = List::ColumnTypes;
    let count = list.count(document.project());
    let before = document.state().clone();
    let block = "P1\t300\t300\t8\t16\nP2\t9000\t300\tmany\t16\nP3\t350\t350\t7\t16";
    assert_eq!(paste(&mut document, list, count, 0, block), Ok((12, 3)));
    assert_eq!(list.count(document.project()), count + 3);
    let reason = |row: usize, keys: &str| document.drafts()[&cell_slot(list, row, keys)].error.problem.to_string();
    assert_eq!(reason(count + 1, "x_mm"), "above the permitted range");
    assert_eq!(reason(count + 1, "bars"), "a number is needed here");
    assert_eq!(reason(count + 2, "bars"), "an even number is needed");
    assert_eq!(document.drafts()[&cell_slot(list, count + 1, "x_mm")].text, "9000");
    assert_eq!(document.project().check(), Ok(()));
    assert!(document.undo().is_some());
    assert_eq!(document.state(), &before);
    assert!(document.drafts().is_empty(), "entries in rows that are gone go with them");

    let long: String = (0..70).map(|n| format!("Q{n}\n")).collect();
    let refused = paste(&mut document, list, 0, 0, &long).expect_err("more than the list takes");
    assert!(refused.contains("list of 1 to 60"), "{refused}");
    assert_eq!(document.state(), &before);
}

#[test]
fn an_entry_refused_for_the_sake_of_another_is_taken_once_it_fits() {
    let mut document = demo("clinic");
    let first = document.project().building.x_lines[1].at_m;
    let second = document.project().building.x_lines[2].at_m;
    let far = second + 2.0;
    assert!(!type_in(&mut document, List::XLines, 1, "at_m", &far.to_string()), "beyond the next line");
    assert_eq!(document.project().building.x_lines[1].at_m, first);
    let last = List::XLines.count(document.project());
    for row in (2..last).rev() {
        let moved = document.project().building.x_lines[row].at_m + 8.0;
        assert!(type_in(&mut document, List::XLines, row, "at_m", &moved.to_string()), "{:?}", document.drafts());
    }
    assert_eq!(document.project().building.x_lines[1].at_m, far);
    assert!(document.drafts().is_empty());
}

#[test]
fn records_inside_rows_come_and_go_with_their_cells() {
    let mut document = demo("school");
    assert!(type_in(&mut document, List::Walls, 0, "opening.width_mm", "1200"), "{:?}", document.drafts());
    let wall = document.project().building.walls[0].clone();
    assert_eq!(wall.opening.map(|own| (own.width_mm, own.height_mm)), Some((1200.0, 2000.0)));
    assert!(type_in(&mut document, List::Walls, 0, "opening.height_mm", ""));
    assert_eq!(document.project().building.walls[0].opening, None);
    assert!(type_in(&mut document, List::Walls, 0, "footing.length_m", ""));
    assert_eq!(shown(document.project(), List::Walls, 0, "footing.width_m"), "");
}

#[test]
fn lists_start_from_nothing_and_new_rows_stand_where_there_is_room() {
    let mut document = demo("office");
    for list in [List::Walls, List::Masonry, List::Spectrum] {
        let count = list.count(document.project());
        if count > 0 {
            rows(&mut document, list, RowEdit::Delete { first: 0, count }).expect("nothing refers to them");
        }
        rows(&mut document, list, RowEdit::Add { at: 0 }).unwrap_or_else(|error| panic!("{list:?}: {error}"));
        let made = list.count(document.project());
        assert_eq!(made, if list == List::Spectrum { 2 } else { 1 });
        rows(&mut document, list, RowEdit::Add { at: made }).unwrap_or_else(|error| panic!("{list:?}: {error}"));
        rows(&mut document, list, RowEdit::Duplicate { first: 0, count: 1 })
            .unwrap_or_else(|error| panic!("{list:?}: {error}"));
    }
    let walls = &document.project().building.walls;
    assert!(
        walls
            .iter()
            .enumerate()
            .all(|(n, wall)| walls[..n].iter().all(|own| (&own.line, own.bay) != (&wall.line, wall.bay)))
    );
}

/// A deed on a table, from numbers that any project can serve.
#[derive(Clone, Debug)]
enum Deed {
    Edit { list: usize, kind: usize, one: usize, other: usize },
    Type { list: usize, row: usize, column: usize, text: String },
    Step { list: usize, row: usize, column: usize, steps: i32 },
    Paste { list: usize, row: usize, column: usize, from: usize },
    Undo,
    Demo(usize),
}

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    let n = || 0..40usize;
    let deed = prop_oneof![
        4 => (n(), n(), n(), n()).prop_map(|(list, kind, one, other)| Deed::Edit { list, kind, one, other }),
        1 => (n(), n(), n(), "[ -~]{0,5}").prop_map(|(list, row, column, text)| Deed::Type { list, row, column, text }),
        4 => (n(), n(), n(), -9..9i32).prop_map(|(list, row, column, steps)| Deed::Step { list, row, column, steps }),
        2 => (n(), n(), n(), n()).prop_map(|(list, row, column, from)| Deed::Paste { list, row, column, from }),
        1 => Just(Deed::Undo),
        1 => n().prop_map(Deed::Demo),
    ];
    prop::collection::vec(deed, 1..16)
}

/// Does a deed; what is refused must leave the state as it was.
fn act(document: &mut Document, deed: &Deed) {
    let before = document.state().clone();
    let list_of = |list: &usize| List::ALL[list % List::ALL.len()];
    match deed {
        Deed::Edit { list, kind, one, other } => {
            let list = list_of(list);
            let count = list.count(document.project());
            let (first, last) = (one % (count + 1), other % (count + 1));
            let edit = match kind % 4 {
                0 => RowEdit::Add { at: first },
                1 => RowEdit::Duplicate { first, count: 1 + other % 3 },
                2 => RowEdit::Delete { first, count: 1 + other % 2 },
                _ => RowEdit::Move { from: first, to: last },
            };
            if rows(document, list, edit).is_err() {
                assert_eq!(document.state(), &before);
            }
        }
        Deed::Type { list, row, column, text } => {
            let list = list_of(list);
            let count = list.count(document.project());
            if count > 0 {
                let columns = list.columns();
                let keys = columns[column % columns.len()].keys.clone();
                let row = row % count;
                if !type_in(document, list, row, &keys, text) {
                    assert_eq!(document.state(), &before);
                    assert!(document.drafts().contains_key(&cell_slot(list, row, &keys)));
                }
            }
        }
        Deed::Step { list, row, column, steps } => {
            let list = list_of(list);
            let held = list.rows(document.project());
            if !held.is_empty() {
                let columns = list.columns();
                let column = &columns[column % columns.len()];
                let row = row % held.len();
                if let Some(number) = cell_value(&held[row], &column.keys).and_then(Value::as_f64) {
                    let text = (number + f64::from(*steps) * column.field.spec.step).to_string();
                    type_in(document, list, row, &column.keys, &text);
                }
            }
        }
        Deed::Paste { list, row, column, from } => {
            let list = list_of(list);
            let (columns, held) = (list.columns(), list.rows(document.project()));
            if held.is_empty() {
                return;
            }
            let column = column % columns.len();
            let block: Vec<Vec<String>> = held
                .iter()
                .cycle()
                .skip(from % held.len())
                .take(1 + from % 5)
                .map(|row| {
                    columns[column..].iter().map(|own| cell_text(own, cell_value(row, &own.keys), System::Si)).collect()
                })
                .collect();
            if paste(document, list, row % held.len(), column, &text_of(&block)).is_err() {
                assert_eq!(document.state(), &before);
            }
        }
        Deed::Undo => drop(document.undo()),
        Deed::Demo(which) => {
            let demo = &demos()[which % demos().len()];
            let state = State { project: demo.project.clone(), origin: Origin::Demo(demo.key.to_owned()) };
            document.apply(&Command::Replace(state)).expect("a valid demo");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    #[test]
    fn undo_takes_back_every_change_of_a_table_and_redo_brings_it_again(deeds in deeds()) {
        let mut document = demo("school");
        let mut states = vec![document.state().clone()];
        for deed in deeds.iter().filter(|deed| !matches!(deed, Deed::Undo)) {
            act(&mut document, deed);
            prop_assert_eq!(document.project().check(), Ok(()));
            if document.state() != states.last().expect("never empty") {
                states.push(document.state().clone());
            }
        }
        for earlier in states.iter().rev().skip(1) {
            prop_assert!(document.undo().is_some());
            prop_assert_eq!(document.state(), earlier);
        }
        prop_assert!(document.undo().is_none());
        for later in &states[1..] {
            prop_assert!(document.redo().is_some());
            prop_assert_eq!(document.state(), later);
        }
    }

    #[test]
    fn saved_and_opened_again_a_project_of_tables_is_the_same(deeds in deeds()) {
        let mut document = demo("school");
        for deed in &deeds {
            act(&mut document, deed);
            for slot in document.drafts().keys() {
                prop_assert!(slot.field(document.project()).is_some(), "{}", slot.path());
            }
        }
        let project = document.project();
        prop_assert_eq!(&Project::from_json(&project.to_json()), &Ok((**project).clone()));
    }
}

#[test]
fn a_fill_gives_every_cell_its_value_in_one_step() {
    let mut document = demo("school");
    let before = document.state().clone();
    let cell = |row: usize| Cell { row, keys: "height_m".to_owned(), value: json!(3.3) };
    rows(&mut document, List::Storeys, RowEdit::Fill { grow: 0, cells: vec![cell(0), cell(1), cell(2)] })
        .expect("valid");
    assert!(document.project().building.storeys.iter().all(|storey| storey.height_m == 3.3));
    assert_eq!(document.undo().as_deref(), Some("3 cells of storeys"));
    assert_eq!(document.state(), &before);
    let year = Slot::new(Root::Building, "year");
    assert!(document.enter(&year, "1958", Ok(json!(1958))));
    assert_eq!(document.project().building.year, 1958);
}

/// The fields a schedule's columns are taken for.
fn guessed(text: &str, list: List) -> Vec<(String, String)> {
    let schedule = Schedule::read(text);
    let columns = list.columns();
    let places = schedule.guess(list);
    let named = columns
        .iter()
        .zip(&places)
        .filter_map(|(column, place)| Some((column.keys.clone(), schedule.heads[(*place)?].clone())));
    named.collect()
}

#[test]
fn the_heads_of_a_schedule_are_guessed() {
    let pairs = |all: &[(&str, &str)]| -> Vec<(String, String)> {
        all.iter().map(|(key, head)| ((*key).to_owned(), (*head).to_owned())).collect()
    };
    assert_eq!(
        guessed("Mark;b (in);h (in);No. of bars;Bar dia;Tie dia;Tie spacing (in);Cover\n", List::ColumnTypes),
        pairs(&[
            ("name", "Mark"),
            ("x_mm", "b (in)"),
            ("y_mm", "h (in)"),
            ("bars", "No. of bars"),
            ("bar_mm", "Bar dia"),
            ("cover_mm", "Cover"),
            ("hoop_mm", "Tie dia"),
            ("hoop_spacing_mm", "Tie spacing (in)"),
        ])
    );
    // The tables' own heads lead back to their fields.
    for list in [List::ColumnTypes, List::BeamTypes, List::Storeys] {
        let columns = list.columns();
        let heads: Vec<&str> = columns.iter().map(|column| column.field.spec.label).collect();
        let found = guessed(&heads.join("\t"), list);
        for (column, (key, head)) in columns.iter().zip(&found) {
            assert_eq!((key.as_str(), head.as_str()), (column.keys.as_str(), column.field.spec.label));
        }
        assert_eq!(found.len(), columns.len(), "{list:?}: {found:?}");
    }
}

#[test]
fn a_schedule_changes_the_types_it_names_and_adds_the_others_in_one_step() {
    let mut document = demo("school");
    let before = document.state().clone();
    let list = List::ColumnTypes;
    let text = "Mark,b (in),h (in),Bars,Bar dia,Hoop diameter (mm)\nK2,16,18,8,#8,6\n\"P,1\",20,20,12,25 mm,10\nP2,20,20,eleven,25,10\nP2,20,20,8,25,10\n";
    let schedule = Schedule::read(text);
    let entries = schedule.entries(document.project(), list, &schedule.guess(list), System::Si);
    let problems: Vec<String> = entries
        .iter()
        .flatten()
        .filter_map(|entry| entry.value.as_ref().err())
        .map(|error| error.problem.to_string())
        .collect();
    assert_eq!(problems, ["a number is needed here", "an earlier row of the schedule has this name"]);
    let good = entries.into_iter().take(2).flatten().collect();
    let done = document.enter_cells(list, good).expect("valid");
    assert_eq!((done.taken, done.refused, done.grown), (12, 0, 1));
    let types = &document.project().building.column_types;
    assert_eq!(types.len(), 3);
    assert_eq!((types[1].name.as_str(), types[1].x_mm, types[1].bar_mm, types[1].hoop_mm), ("K2", 406.4, 25.4, 6.0));
    assert_eq!((types[2].name.as_str(), types[2].y_mm, types[2].bar_mm), ("P,1", 508.0, 25.0));
    assert!(document.undo().is_some());
    assert_eq!(document.state(), &before);
}

#[test]
fn showing_other_units_changes_no_stored_bit() {
    for demo in demos() {
        let document = Document::new(State { project: demo.project.clone(), origin: Origin::Own });
        let before = document.project().to_json();
        for list in List::ALL {
            for row in list.rows(document.project()) {
                for column in list.columns() {
                    let si = cell_text(&column, cell_value(&row, &column.keys), System::Si);
                    let us = cell_text(&column, cell_value(&row, &column.keys), System::Us);
                    let length = column.field.spec.dimension.unit(System::Us).factor != 1.0;
                    assert!(!length || si.is_empty() || si == "0" || si != us, "{}: {si}", column.keys);
                }
            }
        }
        assert_eq!(document.project().to_json(), before);
    }
}

#[test]
fn a_bay_given_another_length_moves_the_lines_beyond_it() {
    let mut document = demo("school");
    let before = document.state().clone();
    let list = List::XLines;
    let at = |document: &Document| -> Vec<f64> {
        document.project().building.x_lines.iter().map(|line| line.at_m).collect()
    };
    let old = at(&document);
    assert_eq!(shown(document.project(), list, 1, "bay_m").parse::<f64>().ok(), Some(old[2] - old[1]));
    assert!(type_in(&mut document, list, 1, "bay_m", "5,5 m"));
    for (line, (old, new)) in old.iter().zip(at(&document)).enumerate() {
        let by = if line < 2 { 0.0 } else { 5.5 - (before_bay(&before)) };
        assert!((new - old - by).abs() < 1e-6, "line {line}: {old} {new}");
    }
    assert!(!document.project().to_json().contains("bay_m"), "the file holds ordinates only");
    let last = old.len() - 1;
    assert_eq!(shown(document.project(), list, last, "bay_m"), "");
    for (row, text, why) in [(last, "5", "no bay after the last line"), (0, "40", "too short or too long")] {
        assert!(!type_in(&mut document, list, row, "bay_m", text));
        let draft = &document.drafts()[&cell_slot(list, row, "bay_m")];
        assert!(draft.error.problem.to_string().contains(why), "{:?}", draft.error);
    }
    // A column of lengths pasted is one step, each bay from where the one before ends.
    let lengths = vec!["6"; last].join("\n");
    assert_eq!(paste(&mut document, list, 0, 2, &lengths), Ok((last, 0)));
    let even: Vec<f64> = (0..=last).map(|line| old[0] + 6.0 * line as f64).collect();
    assert!(at(&document).iter().zip(&even).all(|(one, other)| (one - other).abs() < 1e-9), "{:?}", at(&document));
    assert!(document.undo().is_some() && document.undo().is_some());
    assert_eq!(document.state(), &before);
}

/// The second bay of a project along x.
fn before_bay(state: &State) -> f64 {
    let lines = &state.project.building.x_lines;
    lines[2].at_m - lines[1].at_m
}

#[test]
fn storeys_that_change_places_leave_what_stands_at_their_numbers() {
    let mut document = demo("school");
    let before = document.state().clone();
    let heights =
        |state: &State| -> Vec<f64> { state.project.building.storeys.iter().map(|storey| storey.height_m).collect() };
    assert!(type_in(&mut document, List::Storeys, 0, "height_m", "4.35"));
    let raised = heights(document.state());
    rows(&mut document, List::Storeys, RowEdit::Move { from: 0, to: 2 }).expect("any order of storeys stands");
    assert_eq!(heights(document.state()), [raised[1], raised[2], raised[0]]);
    let (old, new) = (&before.project, document.project());
    assert_eq!((&old.schemes, &old.building.walls), (&new.schemes, &new.building.walls));
    assert_eq!((&old.building.masonry, &old.building.columns), (&new.building.masonry, &new.building.columns));
    while document.undo().is_some() {}
    assert_eq!(document.state(), &before);
}
