//! The Works sheet: the calendar of rooms, what it comes to, other ways to run it, files of it.

use crate::page::{Page, View};
use crate::sheets::{DEMOS, take, text_of};

/// The sheet with all its programmes drawn up.
fn works(view: View) -> Page {
    let page = Page::open(view);
    page.turn_to("Works");
    drawn_up(&page);
    page
}

fn drawn_up(page: &Page) {
    page.until("every line is drawn up", |page| {
        let text = page.text();
        let missing = ["being worked out", "being drawn up", "being evaluated"];
        text.contains("Run otherwise") && !missing.iter().any(|words| text.contains(words))
    });
}

/// The figure under a name of the strip.
fn figure(page: &Page, name: &str) -> String {
    let text = page.script(
        "return [...document.querySelectorAll('.works-figures div')]
            .find((own) => own.querySelector('dt').textContent.startsWith(arguments[0]))?.querySelector('b').textContent ?? ''",
        &[name.into()],
    );
    text.as_str().unwrap_or_default().to_owned()
}

#[test]
fn a_frame_outside_leaves_the_school_open_and_jackets_do_not_at_a_slow_pace() {
    let page = works(View::DESK);
    assert_eq!(figure(&page, "Rooms shut in use"), "0 room-days");
    assert!(page.text().contains("Rooms are shut in breaks only"));
    assert!(page.all("image").iter().any(|image| image.name().starts_with("Calendar of 1 February 2027")));
    page.find("button", "A Jackets").click();
    drawn_up(&page);
    page.find("button", "slow pace").click();
    page.until("slow dates are shown", |page| {
        let cells = page.script(
            "return [...document.querySelectorAll('.works-dates tbody tr td:last-child')].map((cell) => Number(cell.textContent))",
            &[],
        );
        cells.as_array().is_some_and(|cells| cells.iter().any(|days| days.as_f64().unwrap_or(0.0) > 0.0))
    });
    assert!(page.text().contains("more time than any break has"));
}

#[test]
fn another_way_to_run_the_works_is_shown_by_keyboard_and_changes_nothing() {
    let page = works(View::DESK);
    let before = page.text();
    page.find("button", "Rooms shut on any working day").focus();
    page.press("Enter");
    page.until("the calendar shows it", |page| page.text().contains("Run otherwise: rooms shut on any working day."));
    assert_eq!(page.focused(), "button Rooms shut on any working day", "the focus stays");
    assert_ne!(figure(&page, "Rooms shut in use"), "0 room-days");
    page.find("button", "As set on the bench").focus();
    page.press("Enter");
    page.until("it is as it was", |page| page.text() == before);
    assert!(page.find("button", "Undo").property("disabled") == true, "looking is no edit");
}

#[test]
fn a_week_is_turned_to_by_keys_and_on_the_calendar() {
    let page = works(View::DESK);
    page.find("button", "A Jackets").click();
    drawn_up(&page);
    let week = |page: &Page| page.find("slider", "Week of the works").attribute("aria-valuetext").unwrap_or_default();
    let shows = |page: &Page, number: u32| {
        let own = format!("Week {number} of ");
        week(page).starts_with(&own) && page.text().contains(&own)
    };
    page.find("slider", "Week of the works").focus();
    page.press("Home");
    page.until("the first week is shown", |page| shows(page, 1));
    page.press("ArrowRight");
    page.until("the next is shown", |page| shows(page, 2));
    assert_eq!(page.focused(), "slider Week of the works");
    page.find("button", "Week before").focus();
    page.press("Enter");
    page.until("the first is shown again", |page| shows(page, 1));
    page.script(
        "document.querySelector('.room-calendar [data-event=\"4\"]').dispatchEvent(new MouseEvent('click', { bubbles: true }))",
        &[],
    );
    page.until("the week clicked is shown", |page| shows(page, 5));
    let plans = page.all("image").iter().filter(|image| image.name().starts_with("Plan of storey")).count();
    assert_eq!(plans, 3, "a plan for every storey");
    // Its rooms are those the calendar has shut then.
    let text = page.text();
    assert!(text.contains("rooms of 12 shut") && text.contains("Shut A–B / 1–3"), "{text}");
    assert!(page.find("button", "Undo").property("disabled") == true, "looking is no edit");
}

/// What the panel of the room chosen says.
fn room_panel(page: &Page) -> String {
    text_of(page, "#room-panel").replace('\u{a0}', " ")
}

#[test]
fn a_room_is_chosen_by_keys_named_and_merged_and_the_calendar_has_its_name() {
    let page = works(View::DESK);
    page.find("button", "A Jackets").click();
    drawn_up(&page);
    page.find("button", "Room A–B / 1–3, storey 1").focus();
    page.press("ArrowRight");
    page.until("the room beside it", |page| page.focused().contains("Room A–B / 3–5"));
    page.press("Enter");
    page.until("its panel is open", |page| room_panel(page).contains("A–B / 3–5, storey 1"));
    assert!(room_panel(&page).contains("Shut from"), "{}", room_panel(&page));
    page.find("textbox", "Name").focus();
    page.press("ctrl+a");
    page.type_text("Library");
    page.press("Enter");
    page.until("plan and calendar have the name", |page| {
        let drawn = page.script("return document.querySelector('.room-calendar').textContent", &[]);
        room_panel(page).contains("Library, storey 1") && drawn.as_str().is_some_and(|own| own.contains("Library"))
    });
    drawn_up(&page);
    assert!(text_of(&page, ".works-dates").contains("Library"));
    // Hours of its own stand beside its name and in the table of dates.
    page.find("textbox", "Hours of use").focus();
    page.type_text("17-21:30");
    page.press("Enter");
    page.until("the calendar has its hours", |page| {
        let drawn = page.script("return document.querySelector('.room-calendar').textContent", &[]);
        drawn.as_str().is_some_and(|own| own.contains("Library, 17:00-21:30"))
    });
    drawn_up(&page);
    assert!(text_of(&page, ".works-dates").contains("as the building, 17:00-21:30"));
    page.assert_readable("a room chosen");
    // A name that another room of the storey has is refused where it stands.
    page.find("button", "Room A–B / 1–3, storey 1").click();
    page.until("the other is chosen", |page| room_panel(page).contains("A–B / 1–3, storey 1"));
    page.find("textbox", "Name").focus();
    page.press("ctrl+a");
    page.type_text("Library");
    page.press("Enter");
    page.until("the reason is told", |page| room_panel(page).contains("Two rooms of this storey have this name"));
    assert_eq!(page.find("textbox", "Name").value(), "Library", "as typed");
    page.find("button", "Merge with Library").focus();
    page.press("Enter");
    page.until("they are one", |page| {
        room_panel(page).contains("a room of your own") && page.has("button", "Divide at line 3")
    });
    page.press("Escape");
    page.until("it is let go", |page| room_panel(page).is_empty());
    page.until("the keyboard is on the plan", |page| page.focused().contains("Room "));
    for _ in 0..3 {
        page.press("ctrl+z");
    }
    page.until("three steps take it all back", |page| !text_of(page, "main").contains("Library"));
}

#[test]
fn closures_and_jobs_are_saved_as_files() {
    let page = works(View::DESK);
    page.find("button", "Save closures as a calendar (.ics)").click();
    let text = page.saved("harbour-row-school-block-b-closures.ics");
    let text = String::from_utf8(text).expect("text");
    assert!(text.starts_with("BEGIN:VCALENDAR\r\n") && text.contains("DTSTART;VALUE=DATE:2027"), "{text}");
    page.find("button", "Save all jobs as a table (.csv)").click();
    let table = String::from_utf8(page.saved("harbour-row-school-block-b-works.csv")).expect("text");
    assert!(table.trim_start_matches('\u{feff}').starts_with("first day,") && table.lines().count() > 100, "{table}");
    // A button is not written anew between press and release, or its click would be lost.
    page.script(
        "window.held = document.getElementById('works-csv');
         held.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true }));
         window.slow = document.querySelector('[data-act=\"pace:slow\"]');
         slow.click()",
        &[],
    );
    let connected = |page: &Page, name: &str| page.script(&format!("return {name}.isConnected"), &[]) == true;
    page.until("the pace is taken", |page| !connected(page, "slow"));
    assert!(connected(&page, "held"));
    page.script("held.dispatchEvent(new PointerEvent('pointerup', { bubbles: true }))", &[]);
    page.until("the dates are written anew", |page| !connected(page, "held"));
}

#[test]
fn the_works_of_every_demo_are_readable() {
    for view in [View::DESK.dark(), View::TABLET, View::PHONE] {
        let page = Page::open(view);
        for demo in DEMOS {
            take(&page, demo);
            page.turn_to("Works");
            drawn_up(&page);
            page.assert_readable(&format!("{demo}, Works, {}", view.name()));
        }
    }
}

/// Dates are assumed until they are set; a day typed in moves the programme, one there is not is refused in its field, and
/// both ways back work.
#[test]
fn working_times_are_set_on_the_bench_and_the_programme_follows() {
    let page = Page::open(View::DESK);
    page.turn_to("Works");
    page.script(
        "[...document.querySelectorAll('.bench-link')].find((own) => own.innerText.trim() === 'Works').click()",
        &[],
    );
    page.until("the form is there", |page| page.has("button", "Set these working times"));
    if !page.text().contains("Assumed from the use") {
        page.find("button", "Assume them again").click();
    }
    page.until("they are assumed", |page| page.text().contains("Assumed from the use"));
    assert!(!page.has("textbox", "Works may begin"));
    page.find("button", "Set these working times").click();
    page.until("they are set", |page| page.has("textbox", "Works may begin"));
    let begin = || page.find("textbox", "Works may begin");
    begin().write("2031-02-30");
    page.press("Enter");
    page.until("the reason stands in its place", |page| page.text().contains("A day is needed here"));
    begin().write("2031-03-03");
    page.press("Enter");
    page.until("the programme begins then", |page| page.text().contains("Work may begin on 3 March 2031"));
    page.assert_readable("with working times of its own");
    page.find("button", "Undo").click();
    page.until("one step takes it back", |page| !page.text().contains("Work may begin on 3 March 2031"));
}

/// Texts of the rows of the table of stages.
fn stages(page: &Page) -> Vec<String> {
    page.until("every stage is worked out", |page| {
        let rows = page.script("return document.querySelectorAll('.stages tbody tr').length", &[]);
        rows.as_u64().is_some_and(|rows| rows > 1) && !text_of(page, ".works-stages").contains("being evaluated")
    });
    let rows =
        page.script("return [...document.querySelectorAll('.stages tbody tr')].map((row) => row.innerText)", &[]);
    rows.as_array().into_iter().flatten().filter_map(|row| row.as_str().map(str::to_owned)).collect()
}

#[test]
fn stages_stand_beside_the_building_as_it_stands_and_are_cut_otherwise_by_a_key() {
    let page = works(View::DESK);
    page.find("button", "A Jackets").click();
    drawn_up(&page);
    let by_programme = stages(&page);
    assert!(by_programme[0].starts_with("As it stands") && by_programme.len() > 1, "{by_programme:?}");
    assert!(by_programme.last().is_some_and(|row| row.contains("\tall ")), "{by_programme:?}");
    page.find("button", "Storey by storey").focus();
    page.press("Enter");
    page.until("it is cut by storeys", |page| text_of(page, ".stages").contains("Storey 1"));
    let by_storey = stages(&page);
    assert!(by_storey[1].starts_with("Storey 1\t"), "{by_storey:?}");
    assert_eq!(page.focused(), "button Storey by storey", "the focus stays");
    // However it is cut, all of it done is the scheme.
    let figures = |row: Option<&String>| row.map(|row| row.split('\t').skip(2).map(str::to_owned).collect::<Vec<_>>());
    assert_eq!(figures(by_storey.last()), figures(by_programme.last()));
    page.assert_readable("Works with stages");
}
