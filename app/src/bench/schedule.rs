//! Types from a schedule: pasted or from a file, its columns matched to fields, its rows
//! looked over before they are taken.
//!
//! Written as markup and read back when something in it changes, like the tables.

use crate::bench::held::refusal_words;
use crate::live::{listen, on, part_while, value_of, words};
use crate::sheets::{Html, when};
use crate::state::{App, in_words};
use crate::store::{Document, Entry, List, Root, Schedule};
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Element, HtmlElement, HtmlInputElement};

/// The button under a table, and what it opens.
pub fn schedule(app: App, list: List) -> AnyView {
    let open = RwSignal::new(false);
    view! {
        <div class="schedule">
            <button
                type="button"
                aria-expanded=words(move || open.get().to_string())
                on:click=on(move |_| open.update(|open| *open = !*open))
            >
                "From a schedule …"
            </button>
            {part_while(open.into(), move || panel(app, list, open))}
        </div>
    }
    .into_any()
}

fn panel(app: App, list: List, open: RwSignal<bool>) -> AnyView {
    let place = NodeRef::<html::Div>::new();
    Effect::new(move |_| {
        let Some(place) = place.get() else { return };
        place.set_inner_html(&entry_markup(list));
        listen(&place, &["input", "change", "click"], move |event| {
            let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
            let Some(target) = target else { return };
            match (event.type_().as_str(), target.tag_name().as_str()) {
                ("input", "TEXTAREA") => show(app, list, None),
                ("change", "SELECT") => show(app, list, Some(target.id())),
                ("change", "INPUT") => read_file(app, list, target.unchecked_into()),
                ("click", "BUTTON") if take(app, list) => open.set(false),
                _ => {}
            }
        });
    });
    view! { <div class="schedule-panel" node_ref=place></div> }.into_any()
}

fn id(list: List, what: &str) -> String {
    format!("schedule-{}-{what}", list.key())
}

fn part_of(list: List, what: &str) -> Option<HtmlElement> {
    document().get_element_by_id(&id(list, what))?.dyn_into().ok()
}

/// Where a schedule is put in.
fn entry_markup(list: List) -> String {
    let mut html = Html::default();
    let text = id(list, "text");
    html.open("div", &[("class", "field text")]);
    html.leaf("label", &[("for", &text)], "Rows under a line of heads: pasted from a spreadsheet, or CSV");
    html.leaf("textarea", &[("id", &text), ("rows", "4"), ("spellcheck", "false")], "");
    html.close("div");
    html.open(
        "input",
        &[("type", "file"), ("accept", ".csv,.tsv,.txt,text/*"), ("aria-label", "File with a schedule")],
    );
    html.leaf("div", &[("id", &id(list, "rows"))], "");
    html.finish()
}

fn read_file(app: App, list: List, field: HtmlInputElement) {
    let Some(file) = field.files().and_then(|files| files.get(0)) else { return };
    leptos::task::spawn_local(async move {
        match JsFuture::from(file.text()).await {
            Ok(text) => {
                if let Some(area) = part_of(list, "text") {
                    let _ = js_sys::Reflect::set(&area, &"value".into(), &text);
                }
                show(app, list, None);
            }
            Err(_) => app.warn("The browser cannot read this file."),
        }
    });
}

/// The schedule that was put in, and which of its columns hold which fields: as chosen where
/// `chosen` says so, else as guessed.
fn held(list: List, chosen: bool) -> (Schedule, Vec<Option<usize>>) {
    let read = Schedule::read(&part_of(list, "text").map_or_else(String::new, |area| value_of(&area)));
    let fields = if chosen {
        let one = |place: usize| {
            let field = part_of(list, &place.to_string())?;
            value_of(&field).parse().ok()
        };
        (0..list.columns().len()).map(one).collect()
    } else {
        read.guess(list)
    };
    (read, fields)
}

fn entries(app: App, list: List, chosen: bool) -> (Schedule, Vec<Option<usize>>, Vec<Vec<Entry>>) {
    let (read, fields) = held(list, chosen);
    let project = app.project.get_untracked();
    let entries = read.entries(&project, list, &fields, app.system.get_untracked());
    (read, fields, entries)
}

/// Shows how the columns are matched and what the rows give.
fn show(app: App, list: List, changed: Option<String>) {
    let (read, fields, entries) = entries(app, list, changed.is_some());
    if let Some(place) = part_of(list, "rows") {
        place.set_inner_html(&rows_markup(app, list, &read, &fields, &entries));
    }
    let field = changed.and_then(|changed| document().get_element_by_id(&changed));
    if let Some(field) = field.and_then(|field| field.dyn_into::<HtmlElement>().ok()) {
        let _ = field.focus();
    }
}

/// Takes the rows in one step.
fn take(app: App, list: List) -> bool {
    let (_, _, entries) = entries(app, list, true);
    let rows = entries.len();
    let Some(done) = app.enter_cells(list, entries.into_iter().flatten().collect()) else { return false };
    let refused = match done.refused {
        0 => String::new(),
        count => format!(" {count} cells are not accepted and stay in the table as typed."),
    };
    app.tell(format!("{rows} rows of the schedule are taken, {} of them new.{refused}", done.grown));
    true
}

fn rows_markup(app: App, list: List, read: &Schedule, fields: &[Option<usize>], entries: &[Vec<Entry>]) -> String {
    let mut html = Html::default();
    if entries.is_empty() {
        return html.finish();
    }
    let columns = list.columns();
    html.leaf("h4", &[], "Columns of the schedule");
    html.open("div", &[("class", "field schedule-fields")]);
    for (place, (column, field)) in columns.iter().zip(fields).enumerate() {
        let own = id(list, &place.to_string());
        html.open("div", &[("class", "field-line")]);
        html.leaf("label", &[("for", &own)], column.field.spec.label);
        html.open("select", &[("id", &own)]);
        html.leaf("option", &[("value", "")], "not given");
        for (at, head) in read.heads.iter().enumerate() {
            html.leaf("option", &[("value", &at.to_string()), when(*field == Some(at), "selected", "")], head);
        }
        html.close("select");
        html.close("div");
    }
    html.close("div");
    html.leaf("h4", &[], "What its rows give");
    // Taken by way of trial, so that what only the whole building refuses is told too.
    let mut trial = Document::new(app.document.with_untracked(|document| document.state().clone()));
    if let Err(error) = trial.enter_cells(list, entries.iter().flatten().cloned().collect()) {
        html.leaf("p", &[("class", "error")], &in_words(&error, app.system.get_untracked()));
    }
    let count = app.project.with_untracked(|project| list.count(project));
    html.open("ol", &[("class", "schedule-rows"), ("tabindex", "0"), ("aria-label", "Rows of the schedule")]);
    for own in entries {
        let Some(first) = own.first() else { continue };
        html.open("li", &[]);
        html.words(&format!("{}, {}", first.text, if first.row < count { "changed" } else { "new" }));
        for (slot, draft) in trial.drafts() {
            let here = matches!(slot.root, Root::Row(of, row) if of == list && row == first.row);
            let entry = own.iter().find(|entry| entry.keys == slot.keys && entry.text == draft.text);
            let column = columns.iter().find(|column| column.keys == slot.keys);
            if let (true, Some(entry), Some(column)) = (here, entry, column) {
                let words = refusal_words(&draft.error, app.system.get_untracked());
                let words = format!("{}, “{}”: {words}", column.field.spec.label, entry.text);
                html.leaf("p", &[("class", "error")], &words);
            }
        }
        html.close("li");
    }
    html.close("ol");
    html.leaf(
        "p",
        &[("class", "field-note")],
        "A row whose name the table has changes that row; the others are put in at the end. What the schedule does \
         not give is as in the last row of the table.",
    );
    html.leaf("button", &[("type", "button")], &format!("Take {} rows", entries.len()));
    html.finish()
}
