//! Rates and assumptions on the bench: they act, are marked, and go back to the table.

use crate::page::{Page, View};
use crate::sheets::text_of;

/// The bench at the works of the first demo.
fn works(view: View) -> Page {
    let page = Page::open(view);
    page.find("button", "Works").click();
    page.until("the table is there", |page| page.has("grid", "Rates"));
    page
}

/// The row of the options sheet that begins with these words.
fn row(page: &Page, beginning: &str) -> String {
    let text = page.script(
        "return [...document.querySelectorAll('.matrix tr')].map((row) => row.innerText)
            .find((text) => text.startsWith(arguments[0])) ?? ''",
        &[beginning.into()],
    );
    text.as_str().unwrap_or_default().to_owned()
}

fn cell(page: &Page, activity: &str, column: &str) -> String {
    let text = page.script(
        "const table = [...document.querySelectorAll('#bench table')].find((own) => own.textContent.includes(arguments[0]));
         const at = [...table.querySelectorAll('thead th')].findIndex((head) => head.textContent === arguments[1]);
         const row = [...table.querySelectorAll('tbody tr')].find((row) => row.textContent.startsWith(arguments[0]));
         return row.children[at].textContent",
        &[activity.into(), column.into()],
    );
    text.as_str().unwrap_or_default().to_owned()
}

#[test]
fn a_rate_typed_in_by_the_keyboard_acts_is_marked_and_goes_back() {
    const DRILL: &str = "Drill, clean and bond bars";
    let page = works(View::DESK);
    let before = row(&page, "Labour");
    assert!(!before.is_empty() && cell(&page, DRILL, "Where from").starts_with("common practice"));
    page.script(
        "const row = [...document.querySelectorAll('#bench tbody tr')].find((row) => row.textContent.startsWith(arguments[0]));
         row.children[0].focus()",
        &[DRILL.into()],
    );
    // The name cannot be typed over.
    page.press("x");
    assert!(cell(&page, DRILL, "Activity").starts_with(DRILL));
    page.press("ArrowRight");
    page.type_text("15");
    page.press("Tab");
    page.type_text("30");
    page.press("Enter");
    page.until("the mark follows", |page| cell(page, DRILL, "Where from") == "your own");
    assert!(cell(&page, DRILL, "Note").contains("30, 60, 100"), "the table's stays in sight");
    page.until("man-days follow", |page| row(page, "Labour") != before);
    page.until("the sheet says so", |page| text_of(page, ".cautions").contains("One rate or assumption"));
    page.assert_readable("with a rate of one's own");

    // A slow value above the usual one stays in its cell with the reason.
    page.script(
        "const row = [...document.querySelectorAll('#bench tbody tr')].find((row) => row.textContent.startsWith(arguments[0]));
         row.children[1].focus()",
        &[DRILL.into()],
    );
    page.type_text("50");
    page.press("Enter");
    page.until("the reason is told", |page| page.text().contains("The usual value is below the slow one"));

    page.find("button", "All back to the table").click();
    page.until("all is the table's", |page| cell(page, DRILL, "Usual") == "60" && row(page, "Labour") == before);
    assert_eq!(cell(&page, DRILL, "Slow"), "30", "nothing typed over it is left");
    page.press("ctrl+z");
    page.until("one step brings it back", |page| cell(page, DRILL, "Usual") != "60");
}

#[test]
fn an_assumption_acts_on_the_rebuild_and_has_a_way_back() {
    let page = works(View::DESK);
    let before = row(&page, "Labour");
    let name = "New building per square metre of floor, man-day equivalents";
    page.find("textbox", name).write("7");
    page.press("Enter");
    page.until("man-days follow", |page| row(page, "Labour") != before);
    page.find("button", &format!("Back to the table: {name}")).click();
    page.until("they are back", |page| row(page, "Labour") == before);
    page.until("and so is the field", |page| page.find("textbox", name).value() == "5");
}

#[test]
fn the_works_fit_every_window_and_pass_the_checks_of_access() {
    for view in View::all() {
        let page = works(view);
        page.assert_readable("at the works");
    }
}
