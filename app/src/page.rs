//! The frame around the sheets: header, sheet, title block, caution.

use leptos::prelude::*;

/// Everything on the screen.
#[component]
pub fn Page() -> impl IntoView {
    view! {
        <Header/>
        <main class="desk">
            <article class="sheet" aria-labelledby="sheet-name">
                <h1 id="sheet-name">"Retrofit schemes"</h1>
                <footer class="sheet-foot">
                    <Caution/>
                    <TitleBlock/>
                </footer>
            </article>
        </main>
    }
}

/// The tool's mark and name.
#[component]
fn Header() -> impl IntoView {
    view! {
        <header class="top">
            <svg class="mark" viewBox="0 0 32 24" aria-hidden="true">
                <path class="mark-existing" d="M3 23V3h11v20M3 13h11"/>
                <path class="mark-link" d="M14 3h5M14 13h5"/>
                <path class="mark-added" d="M19 23V3h10v20M19 13h10"/>
            </svg>
            <span class="name">"Sisterframe"</span>
        </header>
    }
}

/// What the figures are not for.
#[component]
fn Caution() -> impl IntoView {
    view! {
        <p class="caution">
            "For choosing a direction to study, not for building from. Before anything is built, a licensed \
            structural engineer has to survey the building and the ground and apply the code in force there."
        </p>
    }
}

/// The title block every drawing carries.
#[component]
fn TitleBlock() -> impl IntoView {
    view! {
        <dl class="title-block">
            <div><dt>"Units"</dt><dd>"SI"</dd></div>
            <div><dt>"Version"</dt><dd>{env!("CARGO_PKG_VERSION")}</dd></div>
            <div><dt>"Status"</dt><dd>"Feasibility only"</dd></div>
        </dl>
    }
}
