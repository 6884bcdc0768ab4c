//! The sheets on paper: what stands on each page, and how many there are.

use crate::page::{Page, View};
use crate::sheets::{DEMOS, take};
use crate::units::{NUMBERS, SHEETS};
use sisterframe_core::finding::CAUTIONS;

const PAPERS: [(&str, f64, f64); 2] = [("a4", 210.0, 297.0), ("letter", 215.9, 279.4)];

/// The most pages a demo may take; the school takes most.
const MOST_PAGES: usize = 19;

/// A text without its spaces, since lines break on paper where they will, and with the letters
/// of ligatures apart.
fn plain(text: &str) -> String {
    const LIGATURES: [(char, &str); 5] = [('ﬀ', "ff"), ('ﬁ', "fi"), ('ﬂ', "fl"), ('ﬃ', "ffi"), ('ﬄ', "ffl")];
    let mut plain = String::new();
    for letter in text.chars().filter(|letter| !letter.is_whitespace()) {
        match LIGATURES.iter().find(|(own, _)| *own == letter) {
            Some((_, apart)) => plain.push_str(apart),
            None => plain.push(letter),
        }
    }
    plain
}

#[test]
fn every_sheet_is_printed_whole_with_its_title_block_and_cautions() {
    let page = Page::open(View::DESK.dark());
    let last = SHEETS.len();
    for demo in DEMOS {
        take(&page, demo);
        for (paper, width_mm, height_mm) in PAPERS {
            let name = format!("print-{}-{paper}", demo.split(' ').next().unwrap_or(demo));
            let printed = page.print(&name, width_mm, height_mm);
            let what = format!("{demo} on {paper}, {}", printed.path.display());
            let pages: Vec<String> = printed.pages.iter().map(|text| plain(text)).collect();
            assert!(pages.len() <= MOST_PAGES, "{what}: {} pages", pages.len());
            for (number, sheet) in NUMBERS.into_iter().zip(SHEETS) {
                // Every page says at its foot which project and sheet it is of.
                let foot = plain(&format!("{demo} · Sheet {number} of {last}, {sheet} · Feasibility only"));
                let own: Vec<&String> = pages.iter().filter(|text| text.contains(&foot)).collect();
                assert!(!own.is_empty(), "{what}: no page of {sheet}: {:?}", printed.pages);
                for caution in CAUTIONS {
                    assert!(own[0].contains(&plain(caution)), "{what}, {sheet}: without {caution:?}");
                }
                let block = plain(&format!("{number} of {last} · {sheet}"));
                let first = own.first().expect("there is one");
                assert!(first.contains(&block), "{what}, {sheet}: no title block on its first page");
                for text in &own {
                    assert!(text.len() > foot.len() + 200, "{what}, {sheet}: a page of a heading alone: {text}");
                }
            }
            let works = plain(&printed.pages.join(" "));
            assert!(!works.contains(&plain("being drawn up")), "{what}: works unfinished");
            assert!(works.contains(&plain("Rooms by week")), "{what}: no calendar of rooms");
            let feet = pages.iter().filter(|text| text.contains(&plain(&format!("of {last},")))).count();
            assert_eq!(feet, pages.len(), "{what}: a page that belongs to no sheet");
        }
    }
    assert!(!page.has("heading", "Load path"), "after printing, one sheet is turned up again");
}

#[test]
fn paper_is_white_whatever_the_scheme_of_the_screen() {
    let page = Page::open(View::DESK.dark());
    page.session.command("Emulation.setEmulatedMedia", serde_json::json!({ "media": "print" }));
    let colours = page.script(
        "const sheet = getComputedStyle(document.querySelector('.sheet'));
         return [getComputedStyle(document.body).backgroundColor, sheet.backgroundColor, sheet.color];",
        &[],
    );
    assert_eq!(colours, serde_json::json!(["rgb(255, 255, 255)", "rgb(255, 255, 255)", "rgb(0, 0, 0)"]));
}
