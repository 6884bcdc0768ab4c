//! The capacity sheet: walking along the curve, its events, and what would lift the verdict.

use crate::page::{Page, View};
use crate::sheets::{clinic, pressed, text_of};

/// The clinic's sheet of capacity, its curve drawn.
fn capacity(view: View) -> Page {
    let page = clinic(view);
    // What was told lies over the sheet until it is put away.
    page.find("button", "Put this message away").click();
    page.turn_to("Capacity");
    page.until("the curve is drawn", |page| {
        page.all("image").iter().any(|it| it.name().starts_with("Capacity curve of"))
    });
    page
}

fn told(page: &Page) -> String {
    page.find("slider", "Along the curve").attribute("aria-valuetext").unwrap_or_default()
}

/// What is written on the chart.
fn written(page: &Page, selector: &str) -> String {
    let text = page.script("return document.querySelector(arguments[0])?.textContent ?? ''", &[selector.into()]);
    text.as_str().unwrap_or_default().to_owned()
}

/// Where the dot of the scrubber is on the chart.
fn dot(page: &Page) -> String {
    let d = page.script("return document.querySelector('.overlay .d-plain').getAttribute('d')", &[]);
    d.as_str().unwrap_or_default().to_owned()
}

#[test]
fn the_scrubber_moves_curve_storeys_and_members_by_the_keyboard() {
    let page = capacity(View::DESK);
    let scrubber = page.find("slider", "Along the curve");
    scrubber.focus();
    page.press("Home");
    page.until("it is at rest", |page| told(page).starts_with("roof 0"));
    assert!(text_of(&page, ".members-here").contains("No member has yielded."));
    let at_rest = dot(&page);
    page.press("End");
    page.until("it is at the end", |page| told(page).contains("members yielded"));
    assert_ne!(dot(&page), at_rest);
    assert!(text_of(&page, ".members-here").contains("Yielded ("));
    assert_eq!(page.focused(), "slider Along the curve");
    let sway = page.all("image").into_iter().find(|it| it.name().contains("pushed over")).expect("a drawing");
    assert!(!sway.name().contains("no member has yielded"), "{}", sway.name());
    let before = told(&page);
    page.press("ArrowLeft");
    page.until("it has moved", |page| told(page) != before);
}

#[test]
fn buttons_lead_to_the_telling_places() {
    let page = capacity(View::DESK);
    page.find("button", "First yield").focus();
    page.press("Enter");
    page.until("one event has happened", |page| told(page).contains("yielded"));
    let first = told(&page);
    page.find("button", "First limit").focus();
    page.press("Enter");
    page.until("it is further on", |page| told(page) != first);
    assert_eq!(page.focused(), "button First limit");
    page.find("button", "Performance point").focus();
    page.press("Enter");
    let line = written(&page, ".curves .d-demand-text");
    page.until("the roof is where the demand is", |page| {
        told(page).contains(line.trim_start_matches("demand ").split(',').next().unwrap_or("?"))
    });
}

#[test]
fn an_event_chosen_is_marked_on_the_curve_and_on_its_members() {
    let page = capacity(View::DESK);
    page.find("button", "Go to event 2").focus();
    page.press("Enter");
    page.until("it is held", |page| pressed(page, "Go to event 2"));
    assert_eq!(page.focused(), "button Go to event 2");
    let rings = "return [document.querySelectorAll('.overlay .d-pointed').length, document.querySelectorAll('.pushed .sway .d-pointed').length]";
    page.until("it is marked on the curve and on a member", |page| {
        let rings = page.script(rings, &[]);
        rings[0] == 1 && rings[1].as_u64().unwrap_or(0) > 0
    });
    // The other way round: a member pointed at marks its event in the list.
    page.script(
        "document.querySelector('.pushed .sway [data-event=\"1\"]').dispatchEvent(new MouseEvent('mouseover', { bubbles: true }))",
        &[],
    );
    page.until("its row is marked", |page| pressed(page, "Go to event 1"));
}

#[test]
fn other_curves_come_and_go_and_the_axes_change() {
    let page = capacity(View::DESK);
    let drawn = |page: &Page| page.script("return document.querySelectorAll('.curves .d-curve-mid').length", &[]);
    assert_eq!(drawn(&page), 1, "the building as it stands");
    page.find("button", "Curve of Jackets").click();
    page.until("two are beside it", |page| drawn(page) == 2);
    page.find("button", "Acceleration – displacement").click();
    page.until("periods are named", |page| written(page, ".curves").contains("1.0\u{a0}s"));
    page.assert_readable("acceleration against displacement");
}

#[test]
fn changes_are_tried_one_after_the_other_and_dropped_for_another_option() {
    let page = capacity(View::DESK);
    page.until("trying has begun", |page| text_of(page, ".lifts").contains("Trying "));
    page.find("button", "A Jackets").click();
    page.until("it waits again", |page| text_of(page, ".lifts").contains("Waits until"));
    page.until("trying has begun anew", |page| text_of(page, ".lifts").contains("Trying "));
    page.turn_to("Options");
    page.find("heading", "Options");
}

#[test]
fn all_changes_are_tried_in_the_end() {
    let page = capacity(View::DESK);
    page.find("button", "As it stands").click();
    page.until("all are tried", |page| text_of(page, ".lifts").contains("changes tried, one at a time"));
    assert!(text_of(&page, ".lifts").contains("storey"));
}

#[test]
fn the_sheet_is_readable_at_every_size() {
    for view in [View::DESK, View::TABLET.dark(), View::PHONE] {
        let page = capacity(view);
        page.find("button", "First limit").focus();
        page.press("Enter");
        page.until("lifts are there", |page| text_of(page, ".lifts").contains("What would lift"));
        page.assert_readable(&format!("capacity, {}", view.name()));
    }
}

#[test]
fn the_load_path_can_be_read_at_the_performance_point_and_at_the_first_limit() {
    for view in [View::DESK, View::PHONE.dark()] {
        let page = clinic(view);
        page.turn_to("Load path");
        for state in ["Performance point", "Mechanism (first limit)"] {
            page.find("button", state).focus();
            page.press("Enter");
            page.until("its storeys are told", |page| {
                pressed(page, state) && text_of(page, ".state-of-storeys").contains("of the elastic demand of")
            });
            page.assert_readable(&format!("load path, {state}, {}", view.name()));
        }
        page.find("button", "Elastic demand").focus();
        page.press("Enter");
        page.until("the stream is back", |page| text_of(page, ".cut-free").contains("A floor cut free"));
    }
}
