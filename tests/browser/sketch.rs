//! A whole building typed from a sketch on paper, from blank to its verdict, by keys alone.

use crate::building::{cell, heading, kept};
use crate::page::{Page, View};
use crate::sheets::text_of;
use sisterframe_core::project::Project;

/// Unfolds a part of the building and goes into it.
fn go_into(page: &Page, part: &str, first: &str) {
    heading(page, part).focus();
    page.press("Enter");
    page.press("Tab");
    page.until(&format!("{part} has the focus"), |page| page.focused() == first);
}

/// Types entries into the cells of a row from the one with the focus on; an empty one is passed over.
fn type_row(page: &Page, entries: &[&str]) {
    for (place, entry) in entries.iter().enumerate() {
        if place > 0 {
            page.press("Tab");
        }
        if !entry.is_empty() {
            page.type_text(entry);
        }
    }
    page.press("Enter");
}

/// What the sketch says.
fn is_as_sketched(project: &Project) -> bool {
    let building = &project.building;
    let storeys: Vec<f64> = building.storeys.iter().map(|storey| storey.height_m).collect();
    let columns: Vec<_> = building.column_types.iter().map(|own| (own.x_mm, own.y_mm, own.bars)).collect();
    let wall = building.walls.first().map(|wall| (wall.line.as_str(), wall.bay, wall.thickness_mm));
    let masonry = building.masonry.first().map(|own| (own.lines.0.clone(), own.bays, own.sill_mm));
    let bays = |first, last| Some(sisterframe_core::project::Span { first, last });
    storeys == [3.6, 3.2, 3.2, 3.2]
        && (building.x_lines.len(), building.y_lines.len()) == (7, 4)
        && columns == [(400.0, 400.0, 10), (355.6, 350.0, 8)]
        && building.columns.get(1).is_some_and(|own| own.storeys == bays(3, 4))
        && wall == Some(("2", 2, 180.0))
        && masonry == Some((vec!["A".to_owned(), "D".to_owned()], bays(1, 4), Some(900.0)))
}

#[test]
fn a_building_on_paper_is_typed_from_blank_to_its_verdict() {
    let page = Page::open(View::DESK);
    page.find("button", "Projects").focus();
    page.press("Enter");
    page.press("Tab");
    page.press("Enter");
    page.until("the assistant has the focus", |page| page.focused() == "textbox Name");
    page.press("ctrl+a");
    page.type_text("From the Sketch");
    for answer in ["", "1958", "", "4", "3.2", "6 x 4.2", "3 x 5.4"] {
        page.press("Tab");
        if !answer.is_empty() {
            page.press("ctrl+a");
            page.type_text(answer);
        }
    }
    page.press("Tab");
    assert_eq!(page.focused(), "checkbox Walls under the windows");
    page.press("Space");
    page.press("Enter");
    page.until("the bench goes on", |page| page.focused() == "button Name and use");

    go_into(&page, "Storeys", "gridcell 3.2");
    type_row(&page, &["3.6"]);
    go_into(&page, "Column types", "rowheader C1");
    page.press("Tab");
    type_row(&page, &["400", "400"]);
    page.until("it goes down", |page| page.focused().starts_with("gridcell"));
    page.press("Home");
    page.press("Tab");
    type_row(&page, &["14 in", "350"]);
    page.until("both types are taken", |page| {
        [(0, 1, "400"), (0, 2, "400"), (1, 1, "355.6"), (1, 2, "350")]
            .iter()
            .all(|(row, column, text)| cell(page, "column_types", *row, *column) == *text)
    });

    // In the middle of it the tab is lost.
    let typed = |project: &Project| project.building.column_types.get(1).is_some_and(|own| own.x_mm == 355.6);
    page.until("it is kept", |page| kept(page).is_some_and(|project| typed(&project)));
    let before = kept(&page);
    page.reopen();
    assert_eq!(kept(&page), before, "coming back loses nothing");
    page.find("button", "Building").focus();
    page.press("Enter");
    page.until("the bench is open again", |page| page.has("button", "Close the bench"));

    go_into(&page, "Walls", "button Add wall");
    page.press("Enter");
    page.until("a wall has the focus", |page| page.focused() == "gridcell A");
    page.press("Enter");
    page.until("its line is chosen from a list", |page| page.focused().starts_with("combobox Line"));
    page.type_text("2");
    page.press("Tab");
    page.until("the line is taken", |page| cell(page, "walls", 0, 0) == "2");
    type_row(&page, &["2", "1-4", "180"]);
    page.until("the wall is taken", |page| cell(page, "walls", 0, 3) == "180");
    go_into(&page, "Masonry", "checkbox Full-height masonry carries load");
    page.press("Tab");
    assert_eq!(page.focused(), "button Add panel");
    page.press("Enter");
    page.until("a panel has the focus", |page| page.focused() == "gridcell A");
    type_row(&page, &["A, D", "1-4", "", "120", "90 cm"]);
    page.until("all is as on the sketch", |page| kept(page).is_some_and(|project| is_as_sketched(&project)));
    assert!(!page.text().contains("not accepted"));

    // The verdict stands on the sheet beside it.
    page.until("all results are there", |page| {
        page.script("return document.querySelector('main').getAttribute('aria-busy')", &[]) == "false"
    });
    page.find("heading", "Options");
    let text = text_of(&page, "main");
    assert!(text.contains("As it stands, the building"), "{text}");
    assert!(text.contains("Sill walls hold the column short"), "{text}");
    assert!(text.contains("No scheme yet: add one on the bench"), "{text}");
    for sheet in ["Building", "Capacity", "Load path"] {
        page.press("PageDown");
        page.until("the sheet is up", |page| page.focused() == format!("heading {sheet}"));
        assert!(!text_of(&page, "main").contains("NaN"));
    }
    page.assert_readable("the typed building");
}
