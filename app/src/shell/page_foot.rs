//! The line at the foot of every printed page: which project and sheet a loose page belongs to.

use crate::live::words;
use crate::store::Sheet;
use crate::view::View;
use leptos::prelude::*;
use std::fmt::Write;

/// The styles of the pages.
#[component]
pub fn PageFoot() -> impl IntoView {
    let view = View::of_page();
    let style = words(move || view.project.with(|project| feet(&project.name)));
    view! { <style>{style}</style> }.into_any()
}

/// A kind of page for every sheet, with its foot.
fn feet(project: &str) -> String {
    let project = string(project);
    let mut style = String::new();
    let last = Sheet::ALL.len();
    for sheet in Sheet::ALL {
        let (number, title) = (sheet.number(), sheet.title());
        // Writing to a string does not fail.
        let _ = write!(
            style,
            "[aria-labelledby=sheet-{number}]{{page:sheet-{number}}}@page sheet-{number}{{@bottom-left{{content:\"{project} · \
             Sheet {number} of {last}, {title} · Feasibility only: local code and licensed engineer decide\"}}}}"
        );
    }
    style
}

/// A text as part of a string of a style sheet.
fn string(text: &str) -> String {
    let mut safe = String::new();
    for letter in text.chars() {
        if letter.is_alphanumeric() || matches!(letter, ' ' | ',' | '.' | '-' | '·') {
            safe.push(letter);
        } else {
            let _ = write!(safe, "\\{:x} ", u32::from(letter));
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_end_the_string_it_stands_in() {
        assert_eq!(string("Mill \"A\"\\ }\n"), "Mill \\22 A\\22 \\5c  \\7d \\a ");
        let style = feet("\"}body{display:none}");
        assert!(style.contains("Sheet 2 of") && !style.contains("\"}body"), "{style}");
    }
}
