//! The sheets as they are read: options side by side, and the load path.

use serde_json::json;

use crate::page::{Page, View};

pub const DEMOS: [&str; 4] =
    ["Harbour Row School, Block B", "Tern Lane Clinic", "Quarry Street Offices", "Two Streets House"];

/// Opens the page with a demo scenario.
pub fn open(view: View, demo: &str) -> Page {
    let page = Page::open(view);
    take(&page, demo);
    page
}

pub fn take(page: &Page, demo: &str) {
    page.find("button", "Projects").click();
    page.find_containing("button", demo).click();
    page.until(&format!("{demo} is open"), |page| page.find("textbox", "Project name").value() == demo);
    // Capacity curves follow option by option; until they are all there, tables are written anew.
    page.until("all results are there", |page| {
        page.script("return document.querySelector('main').getAttribute('aria-busy')", &[]) == "false"
    });
}

/// The clinic, whose scheme D stands an external frame in front of line A.
pub fn clinic(view: View) -> Page {
    open(view, DEMOS[1])
}

pub fn pressed(page: &Page, button: &str) -> bool {
    page.find("button", button).property("pressed") == "true"
}

/// Text of the first element that fits a selector.
pub fn text_of(page: &Page, selector: &str) -> String {
    let text = page.script("return document.querySelector(arguments[0])?.innerText ?? ''", &[json!(selector)]);
    text.as_str().unwrap_or_default().to_owned()
}

#[test]
fn options_stand_side_by_side_with_their_drawings_and_figures() {
    let page = clinic(View::DESK);
    let heads: Vec<String> = page.all("columnheader").iter().map(|head| head.name().to_owned()).collect();
    for name in ["As it stands", "A Jackets", "D Frame on A", "Rebuild"] {
        assert!(heads.iter().any(|head| head.contains(name)), "{name}: {heads:?}");
    }
    let pictures = page.all("image");
    assert!(pictures.iter().any(|picture| picture.name().starts_with("Elevation of line A")));
    for figure in [
        "Strength gain",
        "Capacity ÷ demand",
        "Strength ÷ elastic demand",
        "Weakest storey",
        "Rooms shut in use",
        "Cost index",
        "Carbon",
        "Watch for",
    ] {
        assert_eq!(page.all("rowheader").iter().filter(|row| row.name().starts_with(figure)).count(), 1, "{figure}");
    }
}

#[test]
fn a_column_chosen_is_the_option_on_the_next_sheet() {
    let page = clinic(View::DESK);
    page.find("button", "B Wing walls").click();
    page.until("B is chosen", |page| pressed(page, "B Wing walls"));
    assert!(!pressed(&page, "D Frame on A"));
    assert_eq!(page.focused(), "button B Wing walls", "the focus stays where the reader is");
    // The other rule set's verdicts follow under the project's own, and go again.
    page.find("button", "Verdicts of both rule sets").click();
    page.until("every option has two verdicts", |page| {
        page.script("return document.querySelectorAll('.matrix .headline .beside:not(.stale) .figure').length", &[])
            == 12
    });
    page.until("it is said why they differ", |page| page.text().contains("Why the two sets differ: B Wing walls"));
    page.find("button", "Verdicts of both rule sets").click();
    page.until("they are gone", |page| !page.text().contains("Why the two sets differ"));
    page.turn_to("Load path");
    page.until("the load path is of B", |page| page.text().contains("B Wing walls, along x."));
}

#[test]
fn every_figure_says_where_it_comes_from() {
    let page = clinic(View::DESK);
    let questions: Vec<String> = page
        .all("button")
        .iter()
        .map(|button| button.name().to_owned())
        .filter(|name| name.starts_with("About "))
        .collect();
    assert!(questions.len() >= 12, "{questions:?}");
    for question in questions {
        page.find("button", &question).focus();
        page.press("Enter");
        page.until(&format!("{question} is answered"), |page| text_of(page, ".about:popover-open").len() > 120);
        page.press("Escape");
        page.until("the note closes", |page| text_of(page, ".about:popover-open").is_empty());
        assert_eq!(page.focused(), format!("button {question}"));
    }
}

#[test]
fn an_answer_stands_inside_the_window_and_is_readable() {
    for view in [View::DESK, View::PHONE] {
        let page = clinic(view);
        page.find("button", "Put this message away").click();
        page.find("button", "About capacity ÷ demand").click();
        page.until("it is answered", |page| !text_of(page, ".about:popover-open").is_empty());
        let inside = page.script(
            "const r = document.querySelector('.about:popover-open').getBoundingClientRect();
             return r.left >= 0 && r.top >= 0 && r.right <= innerWidth && r.bottom <= innerHeight;",
            &[],
        );
        assert_eq!(inside, true, "{}", view.name());
        // It lies over the sheet, so only what it says itself is judged.
        assert_eq!(page.axe(), Vec::<String>::new(), "{}", view.name());
    }
}

#[test]
fn the_chart_is_as_sharp_as_the_screen_and_follows_the_scheme_of_colours() {
    let mut page = clinic(View::DESK);
    // Dark ink on light paper or the other way round: the lightness most of the drawn pixels have.
    let ink = |page: &Page| {
        page.script(
            "const c = document.querySelector('canvas');
             const copy = new OffscreenCanvas(c.width, c.height).getContext('2d', { willReadFrequently: true });
             copy.drawImage(c, 0, 0);
             const d = copy.getImageData(0, 0, c.width, c.height).data;
             let sum = 0, count = 0;
             for (let i = 0; i < d.length; i += 4) if (d[i + 3] > 200) { sum += d[i]; count += 1; }
             return [c.width / c.clientWidth, count, sum / Math.max(count, 1)];",
            &[],
        )
    };
    page.until("the chart is drawn", |page| ink(page)[1].as_f64().unwrap_or(0.0) > 500.0);
    let light = ink(&page)[2].as_f64().expect("a lightness");
    page.resize(View::DESK.dark());
    page.until("the chart is drawn light on dark", |page| ink(page)[2].as_f64().unwrap_or(0.0) > light + 40.0);
    assert!(page.all("image").iter().any(|image| image.name().starts_with("Chart of storey strength along x")));
    page.until("it is as dense as the screen", |page| {
        let dense = page.script("return devicePixelRatio", &[]);
        (ink(page)[0].as_f64().unwrap_or(0.0) - dense.as_f64().unwrap_or(1.0)).abs() < 0.01
    });
}

#[test]
fn the_printed_chart_is_a_picture_of_lines() {
    let page = clinic(View::DESK.dark());
    page.script("dispatchEvent(new Event('beforeprint'))", &[]);
    page.until("the picture is there", |page| {
        page.script("return document.querySelectorAll('.printed svg text').length", &[]).as_u64().unwrap_or(0) > 8
    });
    page.script("dispatchEvent(new Event('afterprint'))", &[]);
}

#[test]
fn the_direction_is_turned_by_the_keyboard() {
    let page = clinic(View::DESK);
    page.turn_to("Load path");
    page.find("button", "along y").focus();
    page.press("Enter");
    page.until("the direction is y", |page| pressed(page, "along y"));
    assert_eq!(page.focused(), "button along y");
    assert!(
        page.has("heading", "What each line carries, along y")
            || page.text().contains("What each line carries, along y")
    );
}

#[test]
fn a_floor_picked_in_the_ledger_or_on_the_drawing_is_cut_free_in_balance() {
    let page = clinic(View::DESK);
    page.turn_to("Load path");
    let sums = |page: &Page| {
        let sums = page
            .script("return [...document.querySelectorAll('.cut-free tfoot td')].map((cell) => cell.innerText)", &[]);
        sums.as_array().into_iter().flatten().filter_map(|sum| sum.as_str().map(str::to_owned)).collect::<Vec<_>>()
    };
    for level in ["Level 1", "Level 2", "Level 3", "Roof"] {
        let button =
            page.all("button").into_iter().find(|button| button.name() == level).expect("a level in the ledger");
        button.focus();
        page.press("Enter");
        page.until(&format!("{level} is cut free"), |page| {
            text_of(page, ".cut-free h2").to_lowercase().contains(&level.to_lowercase())
        });
        assert_eq!(sums(&page), ["0\u{a0}kN", "0\u{a0}kN"], "{level}: the building's floor and the frame's");
        assert_eq!(page.focused(), format!("button {level}"));
    }
    page.script(
        "document.querySelector('.ledger [data-floor=\"2\"]').dispatchEvent(new MouseEvent('click', { bubbles: true }))",
        &[],
    );
    page.until("level 2 is cut free", |page| text_of(page, ".cut-free h2").contains("level 2"));
}

#[test]
fn the_rows_of_the_ledger_stand_where_the_floors_are_drawn() {
    let page = clinic(View::DESK);
    page.turn_to("Load path");
    // The outline of a floor on the drawing and its row in the table have the same middle.
    let apart = page.script(
        "const middle = (e) => { const r = e.getBoundingClientRect(); return r.top + r.height / 2; };
         return [...document.querySelectorAll('.ledger tr.floor')].map((row, place, rows) => {
           const floor = document.querySelector(`.ledger [data-floor='${rows.length - place}']`);
           return Math.abs(middle(row) - middle(floor));
         });",
        &[],
    );
    let apart: Vec<f64> = apart.as_array().into_iter().flatten().filter_map(serde_json::Value::as_f64).collect();
    assert_eq!(apart.len(), 4);
    assert!(apart.iter().all(|gap| *gap < 1.5), "{apart:?}");
}

#[test]
fn on_a_phone_tables_keep_their_roles() {
    let page = clinic(View::PHONE);
    assert!(page.all("columnheader").len() >= 7, "a head for every option");
    let headlines = page.all("rowheader").len();
    assert!((3..12).contains(&headlines), "{headlines} rows: the others are folded away");
    page.find("button", "Thirteen more figures").focus();
    page.press("Enter");
    page.until("the others are there", |page| page.all("rowheader").len() >= 12);
    assert_eq!(page.focused(), "button Thirteen more figures");
    assert!(page.all("rowheader").len() >= 12);
    page.turn_to("Load path");
    page.until("the ledger is there", |page| page.all("rowheader").iter().any(|row| row.name() == "Storey 4"));
}

#[test]
fn a_rebuild_says_why_it_has_no_load_path() {
    let page = clinic(View::DESK);
    page.find("button", "Rebuild").click();
    page.turn_to("Load path");
    page.until("it says why", |page| page.text().contains("its load path is not computed here"));
    page.assert_readable("a rebuild on the load path");
}
