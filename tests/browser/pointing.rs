//! Pointing at places of the drawings: by pointer, by finger and by keys.

use crate::page::{Page, View};
use crate::part::Part;

/// The place of a code in a drawing.
fn place<'p>(page: &'p Page, name: &str) -> Part<'p> {
    page.find("button", name)
}

/// Waits until every figure of the panel is there.
fn settled(page: &Page) {
    page.until("all measures are tried", |page| {
        let text = page.script("return document.querySelector('.spot-fits')?.innerText ?? '…'", &[]);
        !text.as_str().unwrap_or("…").contains('…')
    });
}

fn panel(page: &Page) -> String {
    let text = page.script("return document.getElementById('spot-panel')?.innerText ?? ''", &[]);
    text.as_str().unwrap_or_default().replace('\u{a0}', " ")
}

/// Top of an element, px from the top of the window.
fn top(page: &Page, id: &str) -> f64 {
    let top = page.script("return document.getElementById(arguments[0]).getBoundingClientRect().top", &[id.into()]);
    top.as_f64().unwrap_or(f64::NAN)
}

#[test]
fn a_column_pointed_at_tells_what_it_is_and_a_measure_chosen_there_is_one_step() {
    let page = Page::open(View::DESK);
    page.turn_to("Building");
    page.find("button", "As it stands").click();
    let before = top(&page, "ground-plan-column-2-0-1");
    place(&page, "Column A-3, storey 1").click();
    page.until("the panel is open", |page| panel(page).contains("Column A-3, storey 1"));
    assert!((top(&page, "ground-plan-column-2-0-1") - before).abs() < 3.0, "the column stays under the pointer");
    settled(&page);
    let text = panel(&page);
    for wanted in [
        "400 × 450 mm",
        "A captive column along x",
        "How it fails",
        "Shear and drift",
        "Columns over beams",
        "Column jackets",
        "Release of captive",
    ] {
        assert!(text.contains(wanted), "{wanted}: {text}");
    }
    page.until("what acts on its section is there", |page| {
        let text = page.script("return document.getElementById('section-view')?.innerText ?? ''", &[]);
        text.as_str().unwrap_or_default().contains("Foot, at first yield")
    });
    page.find("button", "This column, all storeys").click();
    page.until("the measures reach through all storeys", |page| panel(page).contains("100 mm, all storeys"));
    settled(&page);
    page.assert_readable("a column pointed at");
    page.find("button", "Add in a new scheme: column jackets").click();
    page.until("the bench is open at the measure", |page| page.focused().contains("Column jackets"));
    page.until("it is told", |page| {
        page.text().replace('\u{a0}', " ").contains("Jacket 1 column, 100 mm, all storeys. Undo takes it out")
    });
    page.until("the scheme is looked at", |page| {
        page.all("button").iter().any(|own| own.name().starts_with("F Scheme") && own.property("pressed") == "true")
    });
    settled(&page);
    assert!(panel(&page).contains("Does not fit: a column would get two jackets."), "{}", panel(&page));
    page.press("ctrl+z");
    page.until("one undo takes scheme and measure out", |page| !page.text().contains("F Scheme"));
}

#[test]
fn keys_lead_from_place_to_place_pick_one_and_let_it_go() {
    let page = Page::open(View::DESK);
    page.turn_to("Building");
    place(&page, "Column A-1, storey 1").focus();
    page.press("ArrowRight");
    page.until("a bay lies between", |page| page.focused().contains("Bay 1–2 of line A"));
    page.press("ArrowRight");
    page.until("then the next column", |page| page.focused().contains("Column A-2"));
    page.press("ArrowUp");
    page.until("the bay behind it", |page| page.focused().contains("Bay A–B of line 2"));
    page.press("Enter");
    page.until("the panel is open", |page| panel(page).contains("Bay A–B of line 2, storey 1"));
    page.until("the focus stays", |page| page.focused().contains("Bay A–B of line 2"));
    page.until("its line is drawn", |page| page.text().contains("Line 2 from the front"));
    // One stop of the Tab key to a drawing.
    let stops = page.script("return document.querySelectorAll('.ground-plan [tabindex=\"0\"]').length", &[]);
    assert_eq!(stops, 1);
    page.press("Escape");
    page.until("it is let go", |page| panel(page).is_empty());
    page.until("the focus is where it was", |page| page.focused().contains("Bay A–B of line 2"));
    // The table of storeys points too, and what is pointed at goes along with the storey.
    page.find("button", "Storey 2: what fits there").click();
    page.until("the storey is told", |page| panel(page).contains("Storey 2"));
    page.find("button", "Storey 3").click();
    page.until("it follows", |page| panel(page).contains("Storey 3"));
}

#[test]
fn fingers_have_room_and_nothing_overlaps_at_any_size() {
    for view in [View::PHONE, View::TABLET.dark(), View::DESK.dark(), View::PHONE.dark()] {
        let page = Page::open(view);
        page.turn_to("Building");
        let bay = place(&page, "Bay 3–4 of line A, storey 1");
        if view.width < 500 {
            let small = page.script(
                "return [...document.querySelectorAll('.spot-target')].map((own) => [own.id, own.getBoundingClientRect()])
                   .filter(([, box]) => box.width < 23.5 || box.height < 23.5).map(([id]) => id)",
                &[],
            );
            assert_eq!(small, serde_json::json!([]), "{}: targets smaller than a finger needs", view.name());
        }
        bay.click();
        page.until("the panel is open", |page| panel(page).contains("Bay 3–4 of line A"));
        settled(&page);
        let window = page.script("return window.innerHeight", &[]).as_f64().unwrap_or(0.0);
        assert!(top(&page, "spot-panel") < window - 100.0, "{}: the panel is in sight", view.name());
        page.assert_readable(&format!("a bay pointed at, {}", view.name()));
    }
}

#[test]
fn every_kind_of_connection_leads_to_its_place_on_the_building_and_back() {
    for view in [View::DESK, View::PHONE.dark()] {
        there_and_back(&Page::open(view));
    }
}

fn there_and_back(page: &Page) {
    page.turn_to("Connections");
    for kind in [
        "Connecting slab",
        "Bars round the infill",
        "Edge of wing walls",
        "Face of jackets",
        "Collector beam",
        "Edge of the old floor",
        "Footing",
    ] {
        page.find("button", "All schemes").click();
        if let Some(whole) = page.all("button").iter().find(|own| own.name().starts_with("Show all")) {
            whole.click();
        }
        page.until("it is listed", |page| page.all("button").iter().any(|own| own.name().contains(kind)));
        let rows = page.all("button");
        rows.iter().find(|own| own.name().contains(kind)).into_iter().for_each(Part::click);
        let title = || {
            let title = page.script("return document.querySelector('.joint-detail h2')?.innerText ?? ''", &[]);
            title.as_str().unwrap_or_default().trim_start_matches(|letter: char| letter.is_ascii_uppercase()).to_owned()
        };
        page.until("the connection is opened", |_| title().contains(kind));
        let name = title();
        page.assert_readable(&name);
        page.find("button", "Show on the building").click();
        page.until("its place is pointed at", |page| panel(page).contains("Connections here"));
        page.until("the keyboard is there", |page| {
            page.script("return document.activeElement.matches('[data-spot]')", &[]) == true
        });
        let first = page.script("return document.querySelector('.spot-joints button').innerText", &[]);
        assert!(name.ends_with(first.as_str().unwrap_or("?")), "{first}, come from {name}");
        let first = page.script("return document.querySelector('.spot-joints button').id", &[]);
        page.script("document.getElementById(arguments[0]).click()", &[first]);
        page.until("the same connection is open again", |_| title() == name);
        page.until("the keyboard is at it", |page| page.focused().contains("Show on the building"));
    }
}

#[test]
fn a_note_stays_open_while_the_panel_is_written_anew() {
    let page = Page::open(View::DESK);
    page.turn_to("Building");
    place(&page, "Column A-3, storey 1").click();
    page.until("the panel is open", |page| panel(page).contains("Column A-3, storey 1"));
    page.script("document.getElementById('ask-spot-MeasureGain').click()", &[]);
    let note = |page: &Page| {
        page.script(
            "const note = document.querySelector(':popover-open'); return note && [note.id, note.getBoundingClientRect().top]",
            &[],
        )
    };
    page.until("it is answered", |page| !note(page).is_null());
    let before = note(&page);
    settled(&page);
    let (after, place) = (note(&page), |note: &serde_json::Value| note[1].as_f64().unwrap_or(f64::NAN));
    assert_eq!(after[0], before[0], "the same note");
    // Tables above it may settle by a part of a pixel.
    assert!((place(&after) - place(&before)).abs() < 1.0, "in the same place: {before}, {after}");
    page.press("Escape");
    page.until("the note closes and the panel stays", |page| note(page).is_null() && !panel(page).is_empty());
}
