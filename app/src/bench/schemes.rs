//! The list of schemes: choose, add, copy, move, delete.

use crate::live::{maybe, on, part, whether};
use crate::state::App;
use crate::store::{Choice, Command};
use leptos::prelude::*;
use sisterframe_core::evaluate::letter;
use sisterframe_core::study::OptionKind;

/// The list with its tools.
pub fn scheme_list(app: App, chosen: Memo<Option<usize>>) -> AnyView {
    let names = Memo::new(move |_| -> Vec<String> {
        app.project.with(|project| project.schemes.iter().map(|scheme| scheme.name.clone()).collect())
    });
    let row = move |(place, name): (usize, String)| {
        let current = maybe(move || (chosen.get() == Some(place)).then(|| "true".to_owned()));
        let choose = move |_| app.choose(Choice::Option(OptionKind::Scheme { index: place }));
        view! {
            <li>
                <button type="button" class="scheme-row" aria-current=current on:click=on(choose)>
                    <span class="scheme-letter">{letter(place)}</span>
                    <span>{name}</span>
                </button>
            </li>
        }
        .into_any()
    };
    let rows = move || names.get().into_iter().enumerate().map(row).collect_view().into_any();
    let tool = |name: &'static str, words: &'static str, idle: Signal<bool>, act: Box<dyn Fn()>| {
        view! {
            <button type="button" aria-label=name disabled=idle on:click=on(move |_| act())>{words}</button>
        }
        .into_any()
    };
    let apply = move |command: Option<Command>| command.and_then(|command| app.apply(&command));
    let own = move || chosen.get_untracked();
    let shift = move |by: isize| {
        apply(own().and_then(|from| Some(Command::MoveScheme { from, to: from.checked_add_signed(by)? })));
    };
    let delete = move || {
        if let Some(done) = apply(own().map(|scheme| Command::DeleteScheme { scheme })) {
            app.tell(format!("Done: {}. Undo brings it back.", done.words));
        }
    };
    let none = whether(move || chosen.get().is_none());
    let at_top = whether(move || chosen.get().is_none_or(|place| place == 0));
    let at_end = whether(move || chosen.get().is_none_or(|place| place + 1 >= names.with(Vec::len)));
    let tools = [
        tool("Add scheme", "Add", whether(|| false), Box::new(move || drop(apply(Some(Command::AddScheme))))),
        tool(
            "Duplicate scheme",
            "Duplicate",
            none,
            Box::new(move || drop(apply(own().map(|scheme| Command::DuplicateScheme { scheme })))),
        ),
        tool("Delete scheme", "Delete", none, Box::new(delete)),
        tool("Move scheme up", "↑", at_top, Box::new(move || shift(-1))),
        tool("Move scheme down", "↓", at_end, Box::new(move || shift(1))),
    ];
    view! {
        <section aria-labelledby="schemes-head">
            <h3 id="schemes-head">"Schemes"</h3>
            <ul class="scheme-rows">{part(rows)}</ul>
            <div class="tool-row" role="group" aria-label="Schemes">{tools.into_iter().collect_view()}</div>
        </section>
    }
    .into_any()
}
