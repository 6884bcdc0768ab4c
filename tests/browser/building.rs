//! The building on the bench: tables that are typed and pasted into as spreadsheets are.

use crate::page::{Page, View};
use crate::part::Part;
use serde_json::Value;
use sisterframe_core::project::{Practice, Project};

/// Opens the building on the bench with one of its parts unfolded.
fn open_part(page: &Page, part: &str) {
    if !page.has("button", "Close the bench") {
        page.find("button", "Building").click();
    }
    page.until("the bench is open", |page| page.has("button", "Close the bench"));
    let head = heading(page, part);
    if head.property("expanded") != true {
        head.click();
    }
}

pub fn heading<'p>(page: &'p Page, part: &str) -> Part<'p> {
    let found = page.all("button").into_iter().find(|own| {
        own.name() == part
            || own
                .name()
                .strip_prefix(part)
                .is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()))
    });
    found.unwrap_or_else(|| panic!("no part {part:?}"))
}

/// Text of a cell by its row and column in the table of a list.
pub fn cell(page: &Page, list: &str, row: usize, column: usize) -> String {
    let text = page.script(
        "return document.getElementById(arguments[0])?.innerText ?? ''",
        &[format!("{list}-{row}-{column}").into()],
    );
    text.as_str().unwrap_or_default().to_owned()
}

/// What the kept project holds.
pub fn kept(page: &Page) -> Option<Project> {
    let kept = page.script("return JSON.parse(localStorage.getItem('sisterframe.project') ?? '{}').state ?? ''", &[]);
    let state: Value = serde_json::from_str(kept.as_str()?).ok()?;
    Project::from_value(&state["project"]).ok()
}

#[test]
fn tables_are_readable_on_desk_tablet_and_phone() {
    let page = Page::open(View::DESK);
    for view in [View::DESK.dark(), View::TABLET, View::PHONE.dark()] {
        let mut page = Page::open(view);
        for part in [
            "Typical of its time",
            "Storeys",
            "Grid",
            "Column types",
            "Columns where",
            "Walls",
            "Masonry",
            "Materials",
            "Rooms",
        ] {
            open_part(&page, part);
        }
        page.assert_readable(&format!("the building on the bench, {}", view.name()));
        page.resize(view);
    }
    open_part(&page, "Storeys");
    page.find("grid", "Storeys");
    let heads: Vec<String> = page.all("columnheader").iter().map(|head| head.name().to_owned()).collect();
    assert!(heads.iter().any(|head| head == "Height, m"), "{heads:?}");
    assert!(page.all("rowheader").iter().any(|row| row.name() == "3, top"));
}

#[test]
fn a_table_is_moved_about_in_and_typed_into_by_keys() {
    let page = Page::open(View::DESK);
    open_part(&page, "Storeys");
    page.press("Tab");
    assert_eq!(page.focused(), "gridcell 3.9");
    // Typing begins an entry, Enter ends it and goes down.
    page.type_text("3.4");
    page.press("Enter");
    page.until("the height is taken", |page| cell(page, "storeys", 0, 0) == "3.4");
    page.until("the next cell has the focus", |page| page.focused() == "gridcell 3.5");
    page.press("Tab");
    page.type_text("6 in");
    page.press("Tab");
    page.until("a unit typed is heeded", |page| cell(page, "storeys", 1, 1) == "152.4");
    page.press("shift+Tab");
    page.press("F2");
    page.until("F2 edits", |page| page.focused() == "textbox Slab, storey 2");
    page.type_text("99999");
    page.press("Escape");
    page.until("Escape leaves the cell as it was", |page| page.focused() == "gridcell 152.4");
    page.press("Home");
    page.type_text("99");
    page.press("Tab");
    page.until("the reason is told", |page| page.text().contains("Storey 2, height, “99”: Above the permitted range."));
    assert_eq!(cell(&page, "storeys", 1, 0), "99", "the entry stays in its cell");
    assert!(page.text().contains("One entry on the bench is not accepted"));
    page.assert_readable("with a refused cell");
    page.press("ArrowUp");
    page.press("Home");
    page.press("shift+ArrowDown");
    page.press("shift+ArrowDown");
    page.press("ctrl+d");
    page.until("the column is filled", |page| (0..3).all(|row| cell(page, "storeys", row, 0) == "3.4"));
    page.until("and kept", |page| {
        kept(page).is_some_and(|project| project.building.storeys.iter().all(|storey| storey.height_m == 3.4))
    });
    page.press("ctrl+z");
    page.until("in one step", |page| cell(page, "storeys", 1, 0) == "3.5");
    page.press("ctrl+Enter");
    page.until("a row is put in", |page| page.all("rowheader").iter().any(|row| row.name() == "4, top"));
    page.press("Escape");
    page.until("Escape leaves the table", |page| page.focused() == "button Add storey");
}

#[test]
fn a_block_of_forty_rows_is_pasted_and_found_again() {
    let page = Page::open(View::DESK);
    open_part(&page, "Column types");
    let table = page.find("grid", "Column types");
    assert_eq!(table.property("multiselectable"), true);
    page.press("Tab");
    page.press("ctrl+End");
    page.press("Home");
    page.press("ctrl+Enter");
    page.until("a row is put in", |page| cell(page, "column_types", 2, 0) == "K3");
    page.until("and has the focus", |page| page.focused() == "rowheader K3");
    let block: String = (1..=40).map(|n| format!("S{n}\t{}\t{}\t8\t19\n", 300 + 10 * n, 16 + n % 2)).collect();
    let block = block.replace("S7\t370", "S7\tlots");
    page.paste(&block);
    page.until("all rows are there", |page| cell(page, "column_types", 41, 0) == "S40");
    assert!(page.text().contains("159 cells in 39 new rows; 41 not accepted"), "{}", page.text());
    page.press("ctrl+z");
    page.until("one step takes them back", |page| cell(page, "column_types", 41, 0).is_empty());
    let block = block.replace("lots", "370").replace("\t16\t", "\t400\t").replace("\t17\t", "\t450\t");
    page.paste(&block);
    page.until("a good block is taken whole", |page| page.text().contains("200 cells in 39 new rows."));
    let seventh =
        |project: &Project| project.building.column_types.iter().any(|own| own.name == "S7" && own.x_mm == 370.0);
    page.until("it is kept", |page| kept(page).is_some_and(|project| seventh(&project)));
    let before = kept(&page);
    page.reopen();
    assert_eq!(kept(&page), before);
    open_part(&page, "Column types");
    assert_eq!(cell(&page, "column_types", 41, 0), "S40");
}

#[test]
fn a_small_building_is_typed_from_blank_with_the_keyboard_alone() {
    let page = Page::open(View::DESK);
    page.find("button", "Projects").focus();
    page.press("Enter");
    page.press("Tab");
    assert!(page.focused().starts_with("button New building …"), "{}", page.focused());
    page.press("Enter");
    page.until("the assistant has the focus", |page| page.focused() == "textbox Name");
    page.assert_readable("the assistant");
    page.press("ctrl+a");
    page.type_text("Mill Lane Infants");
    for (_, text) in [
        ("use", ""),
        ("year", "1956"),
        ("practice", ""),
        ("storeys", "2"),
        ("height", "40"),
        ("x", "2 x 4"),
        ("y", "6"),
    ] {
        page.press("Tab");
        if !text.is_empty() {
            page.press("ctrl+a");
            page.type_text(text);
        }
    }
    page.press("Enter");
    page.until("the height is refused", |page| page.text().contains("Permitted: 2.4 to 5 m."));
    page.until("and has the focus", |page| page.focused() == "textbox Storey height");
    page.press("ctrl+a");
    page.type_text("12 ft");
    page.press("Enter");
    page.until("the building is open", |page| {
        page.find("textbox", "Project name").value() == "Mill Lane Infants" && page.has("button", "Close the bench")
    });
    assert!(page.text().contains("every value is an assumption until it is replaced") || kept(&page).is_some());

    // Storeys: a third one, lower than the others.
    let unfold = |part: &str| {
        heading(&page, part).focus();
        page.press("Enter");
        page.press("Tab");
    };
    // What was typical of 1956 elsewhere, all in one step.
    unfold("Typical of its time");
    page.until("the practice has the focus", |page| page.focused().starts_with("combobox By the practice of"));
    page.type_text("J");
    page.until("it is taken", |page| kept(page).is_some_and(|own| own.building.practice == Practice::Japan));
    while !page.focused().starts_with("button Take all") {
        page.press("Tab");
    }
    page.press("Enter");
    page.until("all is as was typical", |page| page.text().contains("All is as typical of Japan, 1950 to 1959."));
    page.until("and noted", |page| {
        kept(page).is_some_and(|own| {
            let of_japan = own.building.assumed.iter().filter(|note| note.practice == Practice::Japan).count();
            own.building.materials.concrete_mpa == 15.0 && of_japan > 8
        })
    });
    unfold("Storeys");
    page.until("the table has the focus", |page| page.focused().starts_with("gridcell 3.65"));
    page.press("ctrl+End");
    page.press("ctrl+Enter");
    page.until("a storey is put in", |page| page.all("rowheader").iter().any(|row| row.name() == "3, top"));
    page.press("Home");
    page.type_text("3");
    page.press("Enter");
    // Grid: another line across x, and a new name for one across y.
    unfold("Grid");
    page.until("the grid has the focus", |page| page.focused() == "rowheader 1");
    page.press("ctrl+End");
    page.press("ctrl+Enter");
    page.until("a line is put in", |page| cell(page, "x_lines", 3, 1) == "12");
    // Past the length of a bay that is not there.
    page.press("ArrowLeft");
    page.type_text("12.5");
    page.press("Enter");
    page.until("its ordinate is taken", |page| cell(page, "x_lines", 3, 1) == "12.5");
    // A second column type, and where it stands.
    unfold("Column types");
    page.until("the types have the focus", |page| page.focused() == "rowheader C1");
    page.press("ctrl+Enter");
    page.until("a type is put in", |page| cell(page, "column_types", 1, 0) == "C2");
    page.press("Tab");
    page.until("its size has the focus", |page| page.focused().starts_with("gridcell"));
    page.type_text("350");
    page.press("Tab");
    page.type_text("14 in");
    page.press("Enter");
    unfold("Columns where");
    page.until("the places have the focus", |page| page.focused() == "gridcell C1");
    page.press("ctrl+Enter");
    page.until("a row is put in", |page| cell(page, "columns", 1, 0) == "C1");
    page.type_text("C");
    page.until("a choice is offered", |page| page.focused().starts_with("combobox Column type"));
    page.press("ArrowDown");
    page.press("Tab");
    page.until("the type is chosen", |page| cell(page, "columns", 1, 0) == "C2");
    page.type_text("1, 4");
    page.press("Enter");
    page.until("its lines are taken", |page| cell(page, "columns", 1, 1) == "1, 4");
    page.until("all is kept", |page| {
        kept(page).is_some_and(|project| {
            let building = &project.building;
            building.storeys.len() == 3
                && building.storeys[2].height_m == 3.0
                && building.x_lines.get(3).is_some_and(|own| own.at_m == 12.5)
                && building.column_types.get(1).is_some_and(|own| own.y_mm == 355.6)
                && building.columns.get(1).is_some_and(|own| own.column == "C2" && own.x.0 == ["1", "4"])
        })
    });
    let before = kept(&page);
    page.reload();
    assert_eq!(kept(&page), before, "coming back loses nothing");
    assert_eq!(page.find("textbox", "Project name").value(), "Mill Lane Infants");
}

#[test]
fn units_are_switched_and_nothing_stored_changes() {
    let page = Page::open(View::DESK);
    open_part(&page, "Storeys");
    page.find("textbox", "Remark").write("Own");
    page.press("Tab");
    page.until("it is kept", |page| kept(page).is_some_and(|project| project.note == "Own"));
    let before = kept(&page);
    page.find("button", "US").click();
    page.until("feet are shown", |page| cell(page, "storeys", 0, 0).starts_with("12.79"));
    assert!(page.all("columnheader").iter().any(|head| head.name() == "Height, ft"));
    assert!(page.text().contains("kip"), "the sheet follows");
    page.assert_readable("in US units");
    page.reload();
    assert_eq!(page.find("button", "US").property("pressed"), "true", "the choice is kept");
    page.find("button", "SI").click();
    page.until("and taken back", |page| page.find("button", "SI").property("pressed") == "true");
    assert_eq!(kept(&page), before);
}

#[test]
fn a_column_schedule_is_matched_looked_over_and_taken() {
    let page = Page::open(View::DESK);
    open_part(&page, "Column types");
    page.find("button", "From a schedule …").click();
    let text = page.find_containing("textbox", "Rows under a line of heads");
    text.set("Mark,b (in),h (in),Bars,Bar dia\nK2,16,18,8,#8\nP1,20,20,7,25 mm\nP2,20,20,12,25 mm");
    page.until("the columns are matched", |page| page.has("combobox", "Size along x"));
    assert_eq!(page.find("combobox", "Size along x").value(), "1");
    assert!(page.text().contains("K2, changed") && page.text().contains("P2, new"));
    assert!(page.text().contains("Bars, “7”: An even number is needed."), "{}", page.text());
    page.assert_readable("a schedule looked over");
    text.set("Mark,b (in),h (in),Bars,Bar dia\nK2,16,18,8,#8\nP1,20,20,8,25 mm\nP2,20,20,12,25 mm");
    page.find("button", "Take 3 rows").click();
    page.until("they are in the table", |page| cell(page, "column_types", 3, 0) == "P2");
    assert_eq!(cell(&page, "column_types", 1, 1), "406.4");
    page.press("ctrl+z");
    page.until("one step takes them back", |page| cell(page, "column_types", 3, 0).is_empty());
    assert_eq!(cell(&page, "column_types", 1, 1), "400");
}

#[test]
#[ignore = "writes pictures and checks nothing"]
fn look_at_tables() {
    let mut page = Page::open(View::DESK);
    for view in View::all() {
        page.resize(view);
        page.reload();
        open_part(&page, "Storeys");
        open_part(&page, "Grid");
        println!("{}", page.picture_of_window(&format!("building-{}", view.name())).display());
        open_part(&page, "Column types");
        page.find("button", "From a schedule …").click();
        let text = page.find_containing("textbox", "Rows under a line of heads");
        text.set("Mark,b (in),h (in),Bars,Bar dia\nK2,16,18,8,#8\nP1,20,20,7,25 mm\nP2,20,20,12,25 mm");
        page.until("the columns are matched", |page| page.has("combobox", "Size along x"));
        page.script("document.querySelector('.schedule').scrollIntoView()", &[]);
        println!("{}", page.picture_of_window(&format!("schedule-{}", view.name())).display());
        page.reload();
        page.find("button", "Projects").click();
        page.find_containing("button", "New building").click();
        page.until("the assistant is open", |page| page.has("textbox", "Storey height"));
        println!("{}", page.picture_of_window(&format!("assistant-{}", view.name())).display());
        page.press("Escape");
    }
}
