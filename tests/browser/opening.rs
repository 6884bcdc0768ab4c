//! The file opens from disk on its own, and says so in words where it cannot.

use std::fs;

use crate::page::{Page, View, built, scratch};
use sisterframe_core::project::Project;

#[test]
fn it_opens_readable_at_every_size_and_scheme() {
    let mut page = Page::open(View::DESK);
    for view in View::all() {
        page.resize(view);
        page.reload();
        assert!(page.has("heading", "Options"));
        page.assert_readable(&view.name());
    }
}

#[test]
fn it_says_what_it_is_not_for() {
    let page = Page::open(View::PHONE);
    let text = page.text();
    assert!(text.contains("licensed engineer"), "{text}");
    assert!(text.contains("Feasibility only"), "{text}");
}

/// The built page with one change, opened without waiting for it to start.
fn altered(change: impl Fn(&str) -> String) -> Page {
    let text = fs::read_to_string(built()).expect("the built page");
    let changed = change(&text);
    assert_ne!(text, changed, "the change has no effect");
    let path = scratch("altered").with_extension("html");
    fs::write(&path, changed).expect("a scratch file");
    Page::open_file(View::PHONE, &path)
}

fn awaits_alert(page: &Page, words: &str) {
    page.until("an alert is shown", |page| page.all("alert").iter().any(|alert| alert.text().contains(words)));
    page.assert_readable(words);
}

/// The page with one character of its packed module changed, this far into it.
fn damaged(part: f64) -> Page {
    altered(|text| {
        let begin = text.find("id=\"module\">").expect("the module") + 12;
        let end = begin + text[begin..].find('<').expect("its end");
        let at = begin + (part * (end - begin) as f64) as usize;
        let other = if &text[at..=at] == "A" { "B" } else { "A" };
        format!("{}{other}{}", &text[..at], &text[at + 1..])
    })
}

#[test]
fn a_damaged_file_says_so() {
    for part in [0.0, 0.3, 0.99] {
        awaits_alert(&damaged(part), "damaged");
    }
}

#[test]
fn a_browser_without_webassembly_is_told() {
    let page = altered(|text| {
        text.replacen("<script id=\"glue\">", "<script>delete window.WebAssembly</script><script id=\"glue\">", 1)
    });
    awaits_alert(&page, "too old");
}

#[test]
fn a_browser_that_cannot_read_the_script_is_told() {
    let page = altered(|text| text.replacen("<script id=\"glue\">", "<script id=\"glue\">a syntax to come;", 1));
    assert!(page.text().contains("too old"), "{}", page.text());
    assert_eq!(page.console().len(), 1, "the browser's complaint about the script");
}

#[test]
fn a_stopped_calculation_locks_the_page() {
    // A module of one function that traps, called by a key as a calculation of ours would be.
    let trap = "<script>addEventListener('keydown', (event) => {
        const bytes = [0,97,115,109,1,0,0,0,1,4,1,96,0,0,3,2,1,0,7,5,1,1,102,0,0,10,5,1,3,0,0,11];
        if (event.key === 'F9') new WebAssembly.Instance(new WebAssembly.Module(Uint8Array.from(bytes))).exports.f();
    })</script><script id=\"glue\">";
    let page = altered(|text| text.replacen("<script id=\"glue\">", trap, 1));
    page.find("heading", "Options");
    page.press("F9");
    awaits_alert(&page, "Do not use the figures");
    assert!(!page.has("heading", "Options"), "the page can still be read and used");
    assert_eq!(page.console().len(), 1, "the browser's report of the stop");
    page.find("link", "Save the last good project").click();
    let saved = page.saved("harbour-row-school-block-b.sisterframe.json");
    assert!(Project::from_json(&String::from_utf8_lossy(&saved)).is_ok());
    // At rest it was not the project that stopped it; while its curves are computed it is.
    let mark = |page: &Page| page.script("return localStorage.getItem('sisterframe.opening')", &[]);
    assert!(mark(&page).is_null());
    page.script("sisterframe.computing = true", &[]);
    page.press("F9");
    page.until("the next visit is warned", |page| mark(page) == "1");
    assert_eq!(page.console().len(), 1, "the browser's report of the second stop");
}

#[test]
fn its_own_policy_forbids_every_kind_of_request() {
    let page = Page::open(View::DESK);
    let forbidden = page.script_later(
        "const done = arguments[0];
         const said = [];
         addEventListener('securitypolicyviolation', (event) => said.push(event.effectiveDirective));
         const out = 'http://example.invalid/';
         fetch(out).catch(() => {});
         navigator.sendBeacon(out);
         const add = (name, facts) => document.body.append(Object.assign(document.createElement(name), facts));
         add('img', { alt: '', src: out });
         add('script', { src: out });
         add('link', { rel: 'stylesheet', href: out });
         add('iframe', { title: 'x', src: out });
         add('base', { href: out });
         setTimeout(() => done([...new Set(said)].sort()), 300);",
        &[],
    );
    let expected = ["base-uri", "connect-src", "frame-src", "img-src", "script-src-elem", "style-src-elem"];
    assert_eq!(forbidden, serde_json::json!(expected));
    page.requests();
    page.console();
}
