//! The whole page: bar, sheet list, bench, sheets.

use crate::bench::{Assistant, BenchDrawer};
use crate::files::{keep, open, save};
use crate::live::{whether, words};
use crate::shell::{Bar, Messages, PageFoot, SheetFrame, SheetList};
use crate::state::{App, Bench};
use crate::store::{Choice, Sheet, Shelf};
use leptos::ev;
use leptos::mount::mount_to_body;
use leptos::prelude::*;
use sisterframe_core::evaluate;
use std::time::Duration;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;

/// From this width on the bench stands beside the sheet.
const WIDE: &str = "(min-width: 68rem)";

/// How long the first frame has before capacity curves are computed.
const FIRST: Duration = Duration::from_millis(30);

/// Finds the last project, computes it and shows the page.
pub fn show() {
    let Some(found) = keep::found() else { return };
    let study = keep::guarded(|| evaluate::outline(&found.state.project));
    mount_to_body(move || {
        let app = App::new(found.state, study, Shelf::default());
        app.shelf.set(found.shelf);
        if let Some(words) = found.words {
            app.warn(words);
            keep::put_shelf(app);
        }
        provide_context(app);
        provide_context(app.view());
        listen(app);
        keep::project(app);
        app.renewal.follow(app, FIRST);
        view! { <Page/> }
    });
}

/// Everything on the screen.
#[component]
fn Page() -> impl IntoView {
    let app = App::of_page();
    let covered = whether(move || app.bench.get().is_some() && !app.wide.get());
    let busy = Memo::new(move |_| {
        app.study.with(|study| study.options.iter().any(|option| option.pending || option.programme_pending))
            || app
                .renewal
                .beside()
                .study()
                .with(|study| study.as_ref().is_some_and(|study| study.options.iter().any(|option| option.pending)))
    });
    let pending = words(move || busy.get().to_string());
    let sheets = move || match app.printing.get() {
        true => Sheet::ALL.to_vec(),
        false => vec![app.selection.get().sheet],
    };
    view! {
        <div class="top-of-page" inert=covered><Bar/></div>
        <div
            class="desk"
            class:with-bench=whether(move || app.bench.get().is_some())
            class:broad=whether(move || app.bench.get().is_some_and(Bench::is_broad))
        >
            <div class="aside" inert=covered><SheetList/></div>
            <BenchDrawer/>
            <main id="sheets" inert=covered aria-busy=pending>
                <For each=sheets key=|sheet| *sheet let(sheet)>
                    <SheetFrame sheet=sheet/>
                </For>
            </main>
        </div>
        <Messages/>
        <Assistant/>
        <PageFoot/>
    }
    .into_any()
}

/// Keys, files, window size, printing, leaving.
fn listen(app: App) {
    open::listen(app);
    keep::listen(app);
    let keys = window_event_listener(ev::keydown, move |event| key(app, &event));
    let hidden = window_event_listener_untyped("pagehide", move |_| keep::project(app));
    let covered = window_event_listener_untyped("visibilitychange", move |_| keep::project(app));
    let before = window_event_listener_untyped("beforeprint", move |_| {
        app.renewal.finish(app);
        app.printing.set(true);
    });
    let after = window_event_listener_untyped("afterprint", move |_| app.printing.set(false));
    on_cleanup(move || {
        for handle in [keys, hidden, covered, before, after] {
            handle.remove();
        }
    });
    if let Ok(Some(query)) = window().match_media(WIDE) {
        app.wide.set(query.matches());
        let listened = query.clone();
        let changed = Closure::<dyn Fn()>::new(move || app.wide.set(listened.matches())).into_js_value();
        let _ = query.add_event_listener_with_callback("change", changed.unchecked_ref());
    }
}

/// Keys that work anywhere on the page.
fn key(app: App, event: &ev::KeyboardEvent) {
    if event.default_prevented() || event.is_composing() {
        return;
    }
    let command = (event.ctrl_key() || event.meta_key()) && !event.alt_key();
    match (command, event.shift_key(), event.key().to_lowercase().as_str()) {
        (true, false, "z") => app.undo(),
        (true, true, "z") | (true, false, "y") => app.redo(),
        (true, false, "s") => save::save(app),
        (true, true, "s") => save::save_as(app),
        (true, false, "o") => crate::shell::pick_file(),
        (false, false, "pageup" | "pagedown") if !is_choice(event) => {
            let sheet = app.selection.get_untracked().sheet;
            app.choose(Choice::Sheet(sheet.turned(event.key() == "PageDown")));
            // What had the keyboard is gone with the sheet it stood on.
            request_animation_frame(focus_heading);
        }
        (false, false, "escape") if app.bench.get_untracked().is_some() && !app.wide.get_untracked() => {
            app.bench.set(None);
        }
        _ => return,
    }
    event.prevent_default();
}

/// Gives the keyboard to the heading of the sheet that is turned up.
fn focus_heading() {
    if let Ok(Some(heading)) = document().query_selector("#sheets h1")
        && let Ok(heading) = heading.dyn_into::<web_sys::HtmlElement>()
    {
        let _ = heading.focus();
    }
}

/// Whether the key goes to a list of choices, which uses page keys itself.
fn is_choice(event: &ev::KeyboardEvent) -> bool {
    event
        .target()
        .and_then(|target| target.dyn_into::<web_sys::Element>().ok())
        .is_some_and(|element| element.tag_name() == "SELECT")
}
