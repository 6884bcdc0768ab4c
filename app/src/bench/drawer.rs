//! The drawer itself: beside the sheet where there is room, over it where there is not.

use crate::bench::building::building;
use crate::bench::measures::measures;
use crate::bench::motion::motion;
use crate::bench::works::works;
use crate::live::{maybe, on, part, whether, words};
use crate::state::{App, Bench};
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The drawer. Over the sheet it takes the focus, the rest of the page is out of reach, and
/// Escape closes it; then the focus returns to where it was.
#[component]
pub fn BenchDrawer() -> impl IntoView {
    let app = App::of_page();
    let close = NodeRef::<html::Button>::new();
    let is_open = Memo::new(move |_| app.bench.get().is_some());
    let over = Memo::new(move |_| is_open.get() && !app.wide.get());
    let returns_to = StoredValue::new_local(None::<web_sys::HtmlElement>);
    Effect::new(move |was_over: Option<bool>| {
        let over = over.get();
        if over && was_over != Some(true) {
            let active = document().active_element().and_then(|element| element.dyn_into().ok());
            returns_to.set_value(active);
            // In the next frame the drawer is drawn; what is hidden takes no focus.
            request_animation_frame(move || {
                if let Some(close) = close.get_untracked() {
                    let _ = close.focus();
                }
            });
        } else if !over
            && was_over == Some(true)
            && let Some(element) = returns_to.try_update_value(Option::take).flatten()
        {
            let _ = element.focus();
        }
        over
    });
    let open = Memo::new(move |_| app.bench.get());
    let away = move |_| app.bench.set(None);
    let form = move || match open.get() {
        Some(Bench::Building) => building(app),
        Some(Bench::Measures) => measures(app),
        Some(Bench::Motion) => motion(app),
        Some(Bench::Works) => works(app),
        None => ().into_any(),
    };
    let role = words(move || if over.get() { "dialog" } else { "complementary" }.to_owned());
    view! {
        <div class="scrim" hidden=whether(move || !over.get()) on:click=on(away)></div>
        <aside
            id="bench"
            class="bench"
            class:broad=whether(move || open.get().is_some_and(Bench::is_broad))
            class:over=whether(move || over.get())
            hidden=whether(move || !is_open.get())
            role=role
            aria-modal=maybe(move || over.get().then(|| "true".to_owned()))
            aria-labelledby="bench-title"
        >
            <div class="bench-head">
                <h2 id="bench-title">{words(move || open.get().map_or("Bench", Bench::title).to_owned())}</h2>
                <button type="button" class="quiet" node_ref=close aria-label="Close the bench" on:click=on(away)>
                    "Close"
                </button>
            </div>
            {part(form)}
        </aside>
    }
    .into_any()
}
