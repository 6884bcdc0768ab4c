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

/// Takes demos in turn to sizes and looks at what is there.
fn each_size(demos: &[&str], views: &[View], mut look: impl FnMut(&Page, &str, &mut Found)) {
    let mut found = Found::default();
    let mut page = Page::open(View::DESK);
    for demo in demos {
        page.resize(View::DESK);
        take(&page, demo);
        for view in views {
            page.resize(*view);
            look(&page, &format!("{demo}, {}", view.name()), &mut found);
        }
    }
    found.assert_none();
}

/// Looks at every sheet.
fn each_sheet(page: &Page, place: &str, found: &mut Found, look: impl Fn(&Page) -> Vec<String>) {
    for sheet in SHEETS {
        turn_to(page, sheet);
        found.add(&format!("{place}, {sheet}"), look(page));
    }
}

/// Looks at every part of the bench that is there.
fn each_bench(page: &Page, place: &str, found: &mut Found, look: impl Fn(&Page) -> Vec<String>) {
    for bench in BENCHES {
        if open_bench(page, bench) {
            found.add(&format!("{place}, bench, {bench}"), look(page));
            page.find("button", "Close the bench").click();
        }
    }
}

const SIZES: [View; 3] = [View::DESK, View::TABLET, View::PHONE];

#[test]
fn nothing_overlaps_on_any_sheet_of_any_demo() {
    each_size(&DEMOS, &SIZES, |page, place, found| {
        for us in [false, true] {
            choose(page, us);
            each_sheet(page, &format!("{place}, US {us}"), found, Page::overlaps_and_clips);
        }
    });
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
    each_size(&DEMOS, &SIZES, |page, place, found| {
        for sheet in &SHEETS[1..] {
            turn_to(page, sheet);
            for option in 0..choices(page, 0) {
                choose_at(page, 0, option);
                for other in 0..choices(page, 1).min(2) {
                    choose_at(page, 1, other);
                    turn_to(page, sheet);
                    found.add(&format!("{place}, {sheet}, option {option}, then {other}"), page.overlaps_and_clips());
                }
            }
        }
    });
}

#[test]
fn nothing_overlaps_on_the_bench() {
    each_size(&[DEMOS[0], DEMOS[3]], &SIZES, |page, place, found| {
        for us in [false, true] {
            choose(page, us);
            each_bench(page, &format!("{place}, US {us}"), found, Page::overlaps_and_clips);
        }
    });
}

#[test]
fn nothing_stands_in_a_readers_way_on_any_sheet_or_bench() {
    let views = [View::DESK, View::DESK.dark(), View::PHONE, View::PHONE.dark()];
    each_size(&DEMOS, &views, |page, place, found| {
        each_sheet(page, place, found, Page::axe);
        if place.starts_with(DEMOS[0]) {
            each_bench(page, place, found, Page::axe);
        }
    });
}

#[test]
fn it_stays_readable_at_the_narrowest_width_and_at_double_size() {
    // Half the width in CSS pixels is what a reader at 200 % gets.
    let views = [360, 720].map(|width| View { width, height: 640, ..View::DESK });
    each_size(&DEMOS, &views, |page, place, found| {
        each_sheet(page, place, found, Page::overlaps_and_clips);
        if place.starts_with(DEMOS[0]) {
            each_bench(page, place, found, Page::overlaps_and_clips);
        }
    });
}
