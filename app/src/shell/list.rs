//! The list of sheets, and the way to the bench.

use crate::live::{maybe, on, words};
use crate::state::{App, Bench};
use crate::store::{Choice, Sheet};
use leptos::prelude::*;

/// Sheets by number; below, the parts of the bench.
#[component]
pub fn SheetList() -> impl IntoView {
    let app = App::of_page();
    let sheet_item = |sheet: &Sheet| {
        let sheet = *sheet;
        let current = maybe(move || (app.selection.get().sheet == sheet).then(|| "page".to_owned()));
        view! {
            <li>
                <button type="button" class="sheet-link" aria-current=current on:click=on(move |_| app.choose(Choice::Sheet(sheet)))>
                    <span class="sheet-number">{sheet.number().to_string()}</span>
                    {sheet.title()}
                </button>
            </li>
        }
        .into_any()
    };
    let bench_item = |part: &Bench| {
        let part = *part;
        let turn = move |_| app.bench.update(|open| *open = if *open == Some(part) { None } else { Some(part) });
        let expanded = words(move || (app.bench.get() == Some(part)).to_string());
        view! {
            <li>
                <button type="button" class="bench-link" aria-expanded=expanded aria-controls="bench" on:click=on(turn)>
                    {part.title()}
                </button>
            </li>
        }
        .into_any()
    };
    view! {
        <nav aria-label="Sheets">
            <ul class="sheet-links">{Sheet::ALL.iter().map(sheet_item).collect_view()}</ul>
        </nav>
        <section class="bench-links-part" aria-labelledby="bench-links">
            <p id="bench-links" class="aside-head">"Edit on the bench"</p>
            <ul class="bench-links">{Bench::ALL.iter().map(bench_item).collect_view()}</ul>
        </section>
    }
    .into_any()
}
