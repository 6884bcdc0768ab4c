//! The building's forms and tables.

use crate::bench::eras::{assumed_count, typical_of_its_time};
use crate::bench::field::fields;
use crate::bench::lines::tick;
use crate::bench::schedule::schedule;
use crate::bench::table::table;
use crate::live::{on, part, part_while, whether, words};
use crate::state::App;
use crate::store::{List, Root, Slot};
use leptos::prelude::*;
use serde_json::json;
use sisterframe_core::order::sort_by_key;
use sisterframe_core::project::{Building, Control, Field, Materials, Project, Record, Rooms};

/// A heading of the building's part of the bench and what it holds.
struct Part {
    title: &'static str,
    /// Lists it counts in its heading.
    lists: &'static [List],
    /// What to know, in a sentence.
    lead: &'static str,
}

/// How lines, bays and storeys are named in cells.
const NAMING: &str =
    "Lines: all, or names such as A, C or 1–4. Bays and storeys: all, 2, or 1–3, storeys counted from the ground.";

/// The part that tells what was usual when the building was put up.
const TYPICAL: &str = "Typical of its time";

const PARTS: [Part; 12] = [
    Part { title: "Name and use", lists: &[], lead: "" },
    Part {
        title: TYPICAL,
        lists: &[],
        lead: "What was usual then can stand in until it is known. What is taken is noted as assumed, here and on the Building sheet, until you type your own value or say that it is known.",
    },
    Part {
        title: "Storeys",
        lists: &[List::Storeys],
        lead: "From the ground up; slab, finishes and live load are those of the floor on top of the storey. A storey moved takes these along; walls, masonry and measures keep their storey numbers.",
    },
    Part {
        title: "Grid",
        lists: &[List::XLines, List::YLines],
        lead: "A bay given another length moves the lines beyond it. A line put in or taken out renumbers the bays beyond it, and a new name is followed everywhere.",
    },
    Part {
        title: "Column types",
        lists: &[List::ColumnTypes],
        lead: "Leave the lap length empty where the bars run through.",
    },
    Part {
        title: "Columns where",
        lists: &[List::Columns],
        lead: "A later row overrides an earlier one; none leaves the column out.",
    },
    Part {
        title: "Beam types",
        lists: &[List::BeamTypes],
        lead: "Bars are those at the ends; the slab is counted as the flange.",
    },
    Part {
        title: "Beams where",
        lists: &[List::Beams],
        lead: "A later row overrides an earlier one; none leaves the beam out.",
    },
    Part {
        title: "Walls",
        lists: &[List::Walls],
        lead: "Reinforced concrete between two columns. A wall without a footing is held down by its load alone.",
    },
    Part {
        title: "Masonry",
        lists: &[List::Masonry],
        lead: "Between columns. Leave the sill height empty where the panel reaches the beam. Masonry that does not carry load still weighs, and its sills still hold columns; try both, since counting it can help or harm.",
    },
    Part { title: "Materials", lists: &[], lead: "" },
    Part { title: "Rooms", lists: &[], lead: "Works close whole rooms; a room takes so many bays along x." },
];

/// Every part of the building, each under its heading.
pub fn building(app: App) -> AnyView {
    PARTS.iter().enumerate().map(|(place, own)| building_part(app, place, own)).collect_view().into_any()
}

fn building_part(app: App, place: usize, own: &'static Part) -> AnyView {
    let open = RwSignal::new(place == 0);
    let counted = words(move || {
        let counts = own.lists.iter().map(|list| app.project.with(|project| list.count(project)).to_string());
        counts.collect::<Vec<_>>().join(" × ")
    });
    let count = if own.title == TYPICAL { assumed_count(app) } else { counted };
    let refused = words(move || {
        let here = app.document.with(|document| document.drafts().keys().filter(|slot| is_here(own, slot)).count());
        if here == 0 { String::new() } else { format!("{here} not accepted") }
    });
    view! {
        <section class="bench-part" aria-label=own.title>
            <h3>
                <button
                    type="button"
                    class="part-title"
                    aria-expanded=words(move || open.get().to_string())
                    on:click=on(move |_| open.update(|open| *open = !*open))
                >
                    <span>{own.title}</span>
                    <span class="part-count">{count}</span>
                    <span class="part-refused">{refused}</span>
                </button>
            </h3>
            {part_while(open.into(), move || view! { <div class="part-body">{body(app, own)}</div> }.into_any())}
        </section>
    }
    .into_any()
}

/// Whether a value is edited under this heading.
fn is_here(own: &Part, slot: &Slot) -> bool {
    match slot.root {
        Root::Row(list, _) => own.lists.contains(&list),
        Root::Project => own.title == "Name and use",
        Root::Building => match slot.keys.split('.').next() {
            Some("materials") => own.title == "Materials",
            Some("practice" | "assumed") => own.title == TYPICAL,
            Some("rooms") => own.title == "Rooms",
            Some("masonry_counts") => own.title == "Masonry",
            _ => own.title == "Name and use",
        },
        _ => false,
    }
}

fn body(app: App, own: &'static Part) -> AnyView {
    let lead = match own.lead {
        "" => ().into_any(),
        lead => view! { <p class="bench-lead">{lead}</p> }.into_any(),
    };
    let of = |all: &'static [Field], keys: &[&str]| -> Vec<Field> {
        keys.iter().filter_map(|key| all.iter().find(|field| field.key == *key)).copied().collect()
    };
    let in_building = |keys: &[&str]| fields(app, of(Building::FIELDS, keys), |key| Slot::new(Root::Building, key));
    let within = |record: &'static str, all: &'static [Field]| {
        let single = all.iter().filter(|field| field.control != Control::Part).copied().collect();
        fields(app, single, |key| Slot::new(Root::Building, record).within(key))
    };
    let content = match own.title {
        "Name and use" => view! {
            {fields(app, of(Project::FIELDS, &["name", "note"]), |key| Slot::new(Root::Project, key))}
            {in_building(&["occupancy", "year", "live_share"])}
        }
        .into_any(),
        TYPICAL => typical_of_its_time(app, of(Building::FIELDS, &["practice"])),
        "Materials" => within("materials", Materials::FIELDS),
        "Rooms" => view! { {within("rooms", Rooms::FIELDS)} {corridors(app)} }.into_any(),
        "Masonry" => view! { {in_building(&["masonry_counts"])} {one_table(app, List::Masonry, false)} }.into_any(),
        _ => own.lists.iter().map(|list| one_table(app, *list, own.lists.len() > 1)).collect_view().into_any(),
    };
    let places = own.lists.iter().any(|list| list.fields().iter().any(|field| matches!(field.control, Control::Names)));
    let naming = if places { view! { <p class="field-note">{NAMING}</p> }.into_any() } else { ().into_any() };
    view! { {lead} {content} {naming} }.into_any()
}

fn one_table(app: App, list: List, headed: bool) -> AnyView {
    let label = list.field().spec.label;
    let head = if headed { view! { <h4>{label}</h4> }.into_any() } else { ().into_any() };
    let from_schedule =
        if matches!(list, List::ColumnTypes | List::BeamTypes) { schedule(app, list) } else { ().into_any() };
    view! { {head} {table(app, list, label)} {from_schedule} }.into_any()
}

/// Which strips between lines across y are corridors.
fn corridors(app: App) -> AnyView {
    let slot = StoredValue::new(Slot::new(Root::Building, "rooms.corridor_strips"));
    let ticked = Memo::new(move |_| app.project.with(|project| project.building.rooms.corridor_strips.0.clone()));
    let strips = Memo::new(move |_| -> Vec<String> {
        app.project.with(|project| {
            let lines = &project.building.y_lines;
            lines.windows(2).map(|pair| format!("{}–{}", pair[0].name, pair[1].name)).collect()
        })
    });
    let turn = move |strip: u32, on: bool| {
        let mut all = ticked.get_untracked();
        all.retain(|own| *own != strip);
        if on {
            all.push(strip);
        }
        sort_by_key(&mut all, |own| *own);
        app.enter(&slot.get_value(), "", Ok(json!(all)));
    };
    let boxes = move || {
        let one = |(place, name): (usize, String)| {
            let strip = place as u32 + 1;
            let id = format!("corridor-{strip}");
            let own = whether(move || ticked.with(|ticked| ticked.contains(&strip)));
            tick(id, name, own, move |ticked| turn(strip, ticked))
        };
        strips.get().into_iter().enumerate().map(one).collect_view().into_any()
    };
    view! {
        <fieldset class="field lines">
            <legend>"Corridors between lines"</legend>
            {part(boxes)}
        </fieldset>
    }
    .into_any()
}
