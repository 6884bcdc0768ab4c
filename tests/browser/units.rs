//! In US units nothing on the page is said in SI, and the other way round.

use crate::page::{Page, View};
use crate::sheets::{DEMOS, take};

/// The sheets, as the list beside them names them.
pub const SHEETS: [&str; 6] = ["Options", "Building", "Capacity", "Load path", "Connections", "Works"];

/// Their numbers in the set.
pub const NUMBERS: [u32; 6] = [1, 2, 3, 4, 5, 6];

/// What the bench holds, as the links to it name it; a link that is not there is passed over.
pub const BENCHES: [&str; 4] = ["Building", "Ground motion", "Measures", "Works"];

/// Every text a reader may meet, drawn, folded away or read aloud, that names a unit of the other
/// system. What people wrote themselves, and sources quoted as printed, are left alone.
const FOREIGN: &str = r#"
const us = arguments[0];
// A unit is a word of its own: after a number, after a comma in the head of a column, or in brackets.
const other = us
  ? /(?<![\p{L}\d/·])(?:kN|kNm|MN|MPa|kPa|mm|cm|m²|m³|mm²)(?![\p{L}])|\d[ \u00a0\u202f]?(?:m|t)(?![\p{L}\d²³/′])|, (?:m|t)$/u
  : /(?<![\p{L}\d/·])(?:kips?|ksi|psi|psf|ksf|lb|ft²|ft³|yd³|in²)(?![\p{L}])|\d[ \u00a0\u202f]?ft(?![\p{L}])|\d\u00a0(?:in|ton)(?![\p{L}])|, (?:ft|in|ton)$/u;
const found = new Set();
const look = (text, where) => {
  const plain = (text ?? '').replace(/\s+/g, (space) => (/\u00a0/.test(space) ? '\u00a0' : ' ')).trim();
  if (other.test(plain)) found.add(`${where}: ${plain.slice(0, 160)}`);
};
// Remarks people typed, and sources of rates as they were printed.
const own = 'textarea, .told.long';
const walker = document.createTreeWalker(document.querySelector('#app') ?? document.body, NodeFilter.SHOW_TEXT);
for (let node = walker.nextNode(); node; node = walker.nextNode()) {
  const parent = node.parentElement;
  if (!['SCRIPT', 'STYLE', 'TEMPLATE'].includes(parent.tagName) && !parent.closest(own)) look(node.textContent, parent.localName);
}
for (const element of document.querySelectorAll('[aria-label], [aria-valuetext], [title], [aria-description], [placeholder]')) {
  if (element.closest(own)) continue;
  for (const name of ['aria-label', 'aria-valuetext', 'title', 'aria-description', 'placeholder']) look(element.getAttribute(name), name);
}
return [...found].slice(0, 20);
"#;

/// Words in units of the other system than the one chosen.
fn foreign(page: &Page, us: bool) -> Vec<String> {
    let found = page.script(FOREIGN, &[us.into()]);
    found.as_array().into_iter().flatten().filter_map(|text| text.as_str().map(str::to_owned)).collect()
}

/// Chooses the units shown.
pub fn choose(page: &Page, us: bool) {
    page.find("button", if us { "US" } else { "SI" }).click();
    page.until("the units are chosen", |page| {
        page.find("button", if us { "US" } else { "SI" }).property("pressed") == "true"
    });
}

/// Opens a part of the bench with everything in it unfolded; `false` where there is none.
pub fn open_bench(page: &Page, bench: &str) -> bool {
    let links = page.script(
        "const link = [...document.querySelectorAll('.bench-link')].find((own) => own.innerText.trim() === arguments[0]);
         if (link && link.getAttribute('aria-expanded') !== 'true') link.click();
         return Boolean(link);",
        &[bench.into()],
    );
    if links != true {
        return false;
    }
    page.until("the bench is open", |page| page.has("button", "Close the bench"));
    for _ in 0..2 {
        page.script(
            "for (const own of document.querySelectorAll('#bench button[aria-expanded=false]')) own.click();
             for (const own of document.querySelectorAll('#bench details')) own.open = true;",
            &[],
        );
    }
    true
}

#[test]
fn no_unit_of_the_other_system_is_left_anywhere() {
    let page = Page::open(View::DESK);
    let mut all = Vec::new();
    for demo in DEMOS {
        take(&page, demo);
        for us in [true, false] {
            choose(&page, us);
            for sheet in SHEETS {
                page.turn_to(sheet);
                page.until("the sheet is up", |page| page.has("heading", sheet));
                // The charts are pictures; printed, they have words.
                page.script("dispatchEvent(new Event('beforeprint'))", &[]);
                let said = foreign(&page, us);
                page.script("dispatchEvent(new Event('afterprint'))", &[]);
                all.extend(said.into_iter().map(|text| format!("{demo}, {sheet}: {text}")));
            }
            for bench in BENCHES {
                if open_bench(&page, bench) {
                    all.extend(foreign(&page, us).into_iter().map(|text| format!("{demo}, bench, {bench}: {text}")));
                    page.find("button", "Close the bench").click();
                }
            }
        }
    }
    assert!(all.is_empty(), "{} texts:\n{}", all.len(), all.join("\n"));
}

#[test]
fn a_unit_of_the_other_system_would_be_found() {
    let page = Page::open_text(
        View::DESK,
        "<!doctype html><html lang=en><title>Check</title><body><p>Storey 1 in line 2, 12 of 3 t</p>
         <p>100 kN</p><p>3.5 m</p><p aria-label=\"12 kip\">x</p><th>Height, ft</th><p>4.2&nbsp;in</p><p>12 in storey 2</p>",
    );
    assert_eq!(foreign(&page, true), ["p: Storey 1 in line 2, 12 of 3 t", "p: 100 kN", "p: 3.5 m"]);
    assert_eq!(foreign(&page, false).len(), 3, "{:?}", foreign(&page, false));
}
