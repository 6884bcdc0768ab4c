//! The curves under sliders: they come while the page is at rest, and what they say holds.

use crate::page::{Page, View};

/// The bench at the school's wing walls, their form unfolded.
fn wings(view: View) -> Page {
    let page = Page::open(view);
    page.find("button", "Measures").click();
    page.until("the bench is open", |page| page.has("button", "Add scheme"));
    for beginning in ["B Wing walls", "Wing walls "] {
        let own = page.all("button").into_iter().find(|part| part.name().starts_with(beginning));
        own.expect("the school has wing walls").click();
    }
    page.until("all that is in sight is foreseen", |page| {
        let words = words(page);
        words.len() > 3 && words.iter().all(|words| !words.contains("follows") && !words.contains("looked for"))
    });
    page
}

/// The words under the curves that are in sight.
fn words(page: &Page) -> Vec<String> {
    let all = page.script(
        "return [...document.querySelectorAll('.foresight .foresight-words')]
            .filter((words) => !words.closest('details:not([open])')).map((words) => words.textContent)",
        &[],
    );
    all.as_array().into_iter().flatten().filter_map(|words| words.as_str().map(str::to_owned)).collect()
}

/// Capacity ÷ demand at the head of the scheme, once nothing is to come.
fn ratio(page: &Page) -> f64 {
    page.until("results are up to date", |page| {
        page.script("return document.querySelector('main#sheets').getAttribute('aria-busy')", &[]) == "false"
    });
    let text = page.script("return document.querySelectorAll('.outcome strong')[1].textContent", &[]);
    text.as_str().and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("a number: {text:?}"))
}

fn enter(page: &Page, value: &str) {
    page.find("textbox", "Wing length in mm").write(value);
    page.press("Enter");
    page.until("it is entered", |page| page.find("slider", "Wing length").value() == value);
    // Results come with the next frame.
    page.script_later("requestAnimationFrame(() => setTimeout(arguments[0], 50))", &[]);
}

#[test]
fn the_value_named_passes_and_the_stop_before_it_does_not() {
    let page = wings(View::DESK);
    let own = words(&page).into_iter().find(|words| words.starts_with("Passes from")).expect("a crossing");
    let value = own.trim_start_matches("Passes from ").split('\u{a0}').next().expect("a value").to_owned();
    assert!(page.all("image").iter().any(|image| image.name().starts_with("Capacity ÷ demand by wing length. 200")));
    page.assert_readable("with curves under sliders");

    enter(&page, &value);
    assert!(ratio(&page) >= 1.0);
    page.until("the curve of the slider itself is not made anew", |page| words(page).contains(&own));
    let before = value.parse::<f64>().expect("a number") - 50.0;
    enter(&page, &before.to_string());
    assert!(ratio(&page) < 1.0);
    page.until("the curves of the others follow", |page| {
        words(page).iter().any(|words| words.starts_with("Does not pass within the range."))
    });
}

#[test]
fn a_drag_leaves_the_old_value_as_a_paler_tick_and_escape_returns_to_it() {
    let page = wings(View::DESK);
    let ticks = |page: &Page| {
        page.script("return document.querySelectorAll('.ahead-was').length", &[]).as_u64().unwrap_or_default()
    };
    assert_eq!(ticks(&page), 0);
    page.find("slider", "Wing length").focus();
    page.press("ArrowRight");
    page.until("the old value stays in sight", |page| ticks(page) == 1 && page.text().contains("was 800"));
    page.press("Escape");
    page.until("it is back", |page| ticks(page) == 0 && page.find("slider", "Wing length").value() == "800");
    assert_eq!(page.find("button", "Undo").property("disabled"), true);
}

#[test]
fn curves_fit_every_window() {
    for view in [View::TABLET.dark(), View::PHONE] {
        wings(view).assert_readable("with curves under sliders");
    }
}
