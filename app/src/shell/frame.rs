//! The frame of a sheet: its name, the sheet, cautions and title block.

use crate::files::keep;
use crate::live::{part, words};
use crate::sheets::{Building, Capacity, Connections, LoadPath, Options, Works};
use crate::store::Sheet;
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::units::System;

/// A sheet with its frame.
#[component]
pub fn SheetFrame(
    /// Which.
    sheet: Sheet,
) -> impl IntoView {
    let view = View::of_page();
    let heading = || format!("sheet-{}", sheet.number());
    let body = match sheet {
        Sheet::Options => Options().into_any(),
        Sheet::Building => Building().into_any(),
        Sheet::Capacity => Capacity().into_any(),
        Sheet::LoadPath => LoadPath().into_any(),
        Sheet::Connections => Connections().into_any(),
        Sheet::Works => Works().into_any(),
    };
    let refused = move || {
        let words = match view.refused.get() {
            0 => return ().into_any(),
            1 => "One entry on the bench is not accepted; the figures are of the last accepted value.".to_owned(),
            count => {
                format!("{count} entries on the bench are not accepted; the figures are of the last accepted values.")
            }
        };
        view! { <p class="refused-note">{words}</p> }.into_any()
    };
    view! {
        <article class="sheet" aria-labelledby=heading()>
            <h1 id=heading() tabindex="-1">{sheet.title()}</h1>
            {part(refused)}
            {body}
            <footer class="sheet-foot">
                <Cautions/>
                <TitleBlock sheet=sheet/>
            </footer>
        </article>
    }
    .into_any()
}

/// What the figures are not for.
#[component]
fn Cautions() -> impl IntoView {
    let view = View::of_page();
    let cautions = Memo::new(move |_| view.study.with(|study| study.cautions.clone()));
    let one = |words: String| view! { <li>{words}</li> }.into_any();
    view! {
        <section class="cautions" aria-label="Cautions">
            <ul>{part(move || cautions.get().into_iter().map(one).collect_view().into_any())}</ul>
        </section>
    }
    .into_any()
}

/// The title block every drawing carries.
#[component]
fn TitleBlock(
    /// The sheet it stands on.
    sheet: Sheet,
) -> impl IntoView {
    let view = View::of_page();
    let project = words(move || view.project.with(|project| project.name.clone()));
    let rules = words(move || view.study.with(|study| study.rules.clone()));
    let units = words(move || {
        match view.system.get() {
            System::Si => "SI",
            System::Us => "US",
        }
        .to_owned()
    });
    let still = |text: String| words(move || text.clone());
    let cell =
        |term: &'static str, value: Signal<String>| view! { <div><dt>{term}</dt><dd>{value}</dd></div> }.into_any();
    let cells = [
        cell("Project", project),
        cell("Sheet", still(format!("{} of {} · {}", sheet.number(), Sheet::ALL.len(), sheet.title()))),
        cell("Rules", rules),
        cell("Units", units),
        cell("Date", still(keep::today())),
        cell("Status", still("Feasibility only".to_owned())),
    ];
    view! { <dl class="title-block">{cells.into_iter().collect_view()}</dl> }.into_any()
}
