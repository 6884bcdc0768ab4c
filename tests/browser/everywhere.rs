//! Every sheet of every demo, and everything on the bench, at every size, scheme and in both
//! systems of units: nothing overlaps, is cut off or stands in a reader's way.

use crate::page::{Page, View};
use crate::sheets::{DEMOS, take};
use crate::units::{BENCHES, SHEETS, choose, open_bench};

/// Everything found, told at once, so that one look shows all there is to mend.
#[derive(Default)]
struct Found(Vec<String>);

impl Found {
    fn add(&mut self, place: &str, found: Vec<String>) {
        self.0.extend(found.into_iter().map(|text| format!("{place}: {text}")));
    }

    #[track_caller]
    fn assert_none(self) {
        assert!(self.0.is_empty(), "{} things:\n{}", self.0.len(), self.0.join("\n"));
    }
}

/// Turns to a sheet and waits until it is drawn for this window.
fn turn_to(page: &Page, sheet: &str) {
    page.turn_to(sheet);
    page.until("the sheet is up", |page| page.has("heading", sheet));
    // A drawing that follows the width of the window is drawn anew in the next frame.
    page.script_later("requestAnimationFrame(() => requestAnimationFrame(arguments[0]))", &[]);
}

#[test]
fn nothing_overlaps_on_any_sheet_of_any_demo() {
    let mut found = Found::default();
    let mut page = Page::open(View::DESK);
    for demo in DEMOS {
        page.resize(View::DESK);
        take(&page, demo);
        for view in [View::DESK, View::TABLET, View::PHONE] {
            page.resize(view);
            for us in [false, true] {
                choose(&page, us);
                for sheet in SHEETS {
                    turn_to(&page, sheet);
                    let place = format!("{demo}, {sheet}, {} px, {}", view.width, if us { "US" } else { "SI" });
                    found.add(&place, page.overlaps_and_clips());
                }
            }
        }
    }
    found.assert_none();
}

/// How many buttons a row of choices of the sheet has: options in the first row, directions or
/// storeys in the second.
fn choices(page: &Page, row: u64) -> u64 {
    let count =
        page.script(&format!("return {CHOICES}[arguments[0]]?.querySelectorAll('button').length ?? 0"), &[row.into()]);
    count.as_u64().unwrap_or(0)
}

fn choose_at(page: &Page, row: u64, place: u64) {
    page.script(
        &format!("{CHOICES}[arguments[0]].querySelectorAll('button')[arguments[1]].click()"),
        &[row.into(), place.into()],
    );
}

const CHOICES: &str = "[...document.querySelectorAll('.choosers .chooser')].filter((own) => own.checkVisibility())";

#[test]
fn nothing_overlaps_for_any_scheme_on_the_sheets_of_one() {
    let mut found = Found::default();
    let mut page = Page::open(View::DESK);
    for demo in DEMOS {
        page.resize(View::DESK);
        take(&page, demo);
        for view in [View::DESK, View::TABLET, View::PHONE] {
            page.resize(view);
            for sheet in &SHEETS[1..] {
                turn_to(&page, sheet);
                for option in 0..choices(&page, 0) {
                    choose_at(&page, 0, option);
                    for other in 0..choices(&page, 1).min(2) {
                        choose_at(&page, 1, other);
                        turn_to(&page, sheet);
                        let place = format!("{demo}, {sheet}, option {option}, then {other}, {} px", view.width);
                        found.add(&place, page.overlaps_and_clips());
                    }
                }
            }
        }
    }
    found.assert_none();
}

#[test]
fn nothing_overlaps_on_the_bench() {
    let mut found = Found::default();
    let mut page = Page::open(View::DESK);
    for demo in [DEMOS[0], DEMOS[3]] {
        page.resize(View::DESK);
        take(&page, demo);
        for view in [View::DESK, View::TABLET, View::PHONE] {
            page.resize(view);
            for us in [false, true] {
                choose(&page, us);
                for bench in BENCHES {
                    if open_bench(&page, bench) {
                        found.add(
                            &format!("{demo}, bench, {bench}, {} px, US {us}", view.width),
                            page.overlaps_and_clips(),
                        );
                        page.find("button", "Close the bench").click();
                    }
                }
            }
        }
    }
    found.assert_none();
}

#[test]
fn nothing_stands_in_a_readers_way_on_any_sheet_or_bench() {
    let mut found = Found::default();
    let mut page = Page::open(View::DESK);
    for demo in DEMOS {
        page.resize(View::DESK);
        take(&page, demo);
        for view in [View::DESK, View::DESK.dark(), View::PHONE, View::PHONE.dark()] {
            page.resize(view);
            for sheet in SHEETS {
                turn_to(&page, sheet);
                found.add(&format!("{demo}, {sheet}, {}", view.name()), page.axe());
            }
            if demo == DEMOS[0] {
                for bench in BENCHES {
                    if open_bench(&page, bench) {
                        found.add(&format!("bench, {bench}, {}", view.name()), page.axe());
                        page.find("button", "Close the bench").click();
                    }
                }
            }
        }
    }
    found.assert_none();
}

#[test]
fn it_stays_readable_at_the_narrowest_width_and_at_double_size() {
    let mut found = Found::default();
    // Half the width in CSS pixels is what a reader at 200 % gets.
    for width in [360, 720] {
        let page = Page::open(View { width, height: 640, ..View::DESK });
        for demo in DEMOS {
            take(&page, demo);
            for sheet in SHEETS {
                turn_to(&page, sheet);
                found.add(&format!("{demo}, {sheet}, {width} px"), page.overlaps_and_clips());
            }
        }
        for bench in BENCHES {
            if open_bench(&page, bench) {
                found.add(&format!("bench, {bench}, {width} px"), page.overlaps_and_clips());
                page.find("button", "Close the bench").click();
            }
        }
    }
    found.assert_none();
}
