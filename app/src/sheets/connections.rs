//! Sheet 5, Connections: is every link between old and new, and every footing, strong enough.

use super::block::spot_code;
use super::connections_html::{self as written, Listed};
use super::pointing::arrive;
use super::{Block, Html, attribute, hatches, is_narrow, reading};
use crate::files::save::download;
use crate::live::on;
use crate::store::{Choice, Sheet};
use crate::view::View;
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::connection::{ConnectionKind, ConnectionResult};
use sisterframe_core::evaluate::{Proposed, propose_slab};
use sisterframe_core::fitting::Spot;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Building, Direction};
use sisterframe_core::study::{OptionKind, Study};

/// Width of a drawing, px, with room and without.
const DRAWING_PX: [f64; 2] = [430.0, 320.0];

/// A connection by its place among the options and among theirs.
type Key = (usize, usize);

/// What the sheet itself is asked to look at.
#[derive(Clone, Copy)]
struct Asked {
    /// All schemes together.
    every: RwSignal<bool>,
    /// The whole list instead of the most used.
    whole: RwSignal<bool>,
    /// A slab proposed for the connection opened.
    proposed: RwSignal<Option<(Key, Option<Proposed>)>>,
}

/// The sheet.
#[component]
pub fn Connections() -> impl IntoView {
    let view = View::of_page();
    let narrow = is_narrow();
    let asked = Asked { every: RwSignal::new(false), whole: RwSignal::new(false), proposed: RwSignal::new(None) };
    // What was opened or proposed belongs to one option of one state of the project.
    Effect::new(move |before: Option<OptionKind>| {
        let now = view.option.get();
        if before.is_some_and(|before| before != now) {
            asked.every.set(false);
        }
        now
    });
    Effect::new(move |_| {
        view.project.track();
        asked.proposed.set(None);
    });
    let keys = Memo::new(move |_| view.study.with(|study| keys(study, view.option.get(), asked.every.get())));
    let opened = Memo::new(move |_| {
        keys.with(|keys| view.joint.get().filter(|held| keys.contains(held)).or_else(|| keys.first().copied()))
    });
    let intro = Memo::new(move |_| {
        let mut html = Html::default();
        hatches(&mut html);
        let (chosen, every) = (view.option.get(), asked.every.get());
        view.study.with(|study| written::choosers(&mut html, study, chosen, every));
        if chosen == OptionKind::Rebuild && !every {
            html.leaf(
                "p",
                &[("class", "lead")],
                "A new building has no joint with the old one. Choose another option.",
            );
        } else if !every && let Some(text) = view.with_option(sisterframe_core::reading::connections) {
            reading(&mut html, &text);
        }
        html.finish()
    });
    let list = Memo::new(move |_| {
        let (system, every, whole, opened) = (view.system.get(), asked.every.get(), asked.whole.get(), opened.get());
        view.study.with(|study| {
            let rows: Vec<Listed<'_>> = keys.with(|keys| rows(study, keys));
            written::list(&rows, opened, every, whole, system)
        })
    });
    let detail = Memo::new(move |_| {
        let system = view.system.get();
        let width = DRAWING_PX[usize::from(narrow.get())];
        let Some(key) = opened.get() else { return String::new() };
        let proposed = asked.proposed.with(|own| own.clone().filter(|(of, _)| *of == key).map(|(_, what)| what));
        view.study.with(|study| {
            let Some(row) = rows(study, &[key]).into_iter().next() else { return String::new() };
            written::detail(&row, proposed.as_ref(), width, system)
        })
    });
    let clicked = move |event: ev::MouseEvent| {
        let act = attribute(event.target(), "data-act").unwrap_or_default();
        match act.as_str() {
            "joints:every" => asked.every.set(true),
            "joints:whole" => asked.whole.update(|whole| *whole = !*whole),
            "joints:save" => {
                let system = view.system.get_untracked();
                let text = view
                    .study
                    .with_untracked(|study| keys.with_untracked(|keys| written::table(&rows(study, keys), system)));
                let _ = download("connections.tsv", "text/tab-separated-values", &text);
            }
            "joints:propose" => {
                if let Some(key) = opened.get_untracked() {
                    asked.proposed.set(Some((key, propose(view, key))));
                }
            }
            "joints:show" => {
                if let Some(key) = opened.get_untracked() {
                    show(view, key);
                }
            }
            other => {
                if other.starts_with("option:") {
                    asked.every.set(false);
                }
            }
        }
    };
    view! {
        <div on:click=on(clicked)>
            <Block html=intro/>
            <div class="joints">
                <Block html=list class="joint-list"/>
                <Block html=detail class="joint-detail"/>
            </div>
        </div>
    }
}

/// Connections to list, the most used first.
fn keys(study: &Study, chosen: OptionKind, every: bool) -> Vec<Key> {
    let mut all: Vec<(Key, f64)> = Vec::new();
    for (place, option) in study.options.iter().enumerate() {
        if every || option.kind == chosen {
            all.extend(
                option
                    .connections
                    .iter()
                    .enumerate()
                    .map(|(index, own)| ((place, index), own.utilisation().unwrap_or(-1.0))),
            );
        }
    }
    sisterframe_core::order::sort_by(&mut all, |one, other| other.1.total_cmp(&one.1));
    all.into_iter().map(|(key, _)| key).collect()
}

fn rows<'s>(study: &'s Study, keys: &[Key]) -> Vec<Listed<'s>> {
    let found = keys.iter().filter_map(|&key| {
        let option = study.options.get(key.0)?;
        Some(Listed { key, option, connection: option.connections.get(key.1)? })
    });
    found.collect()
}

/// A slab for the frame of a connection.
fn propose(view: View, (place, index): Key) -> Option<Proposed> {
    view.study.with_untracked(|study| {
        let option = study.options.get(place)?;
        let OptionKind::Scheme { index: scheme } = option.kind else { return None };
        let connection = option.connections.get(index)?;
        view.project.with_untracked(|project| propose_slab(project, scheme, &connection.line, study).ok().flatten())
    })
}

/// Turns to the building with the option, line, floor and place of a connection; it stays open for
/// the way back.
fn show(view: View, key: Key) {
    let found = view.study.with_untracked(|study| {
        let option = study.options.get(key.0)?;
        Some((option.kind, option.connections.get(key.1)?.clone()))
    });
    let Some((kind, own)) = found else { return };
    let direction = if own.along_x { Direction::X } else { Direction::Y };
    let project = view.project.get_untracked();
    view.choose_option(kind);
    view.choose_direction(direction);
    let foot = own.kind == ConnectionKind::Footing;
    view.choose_floor((!foot).then_some(own.storey));
    let spot = spot_of(&own, &project.building);
    view.choose.run(Choice::Spot(spot));
    if let Some(line) = line_of(&own.line, direction, &project.building) {
        view.choose.run(Choice::Line(direction, line));
    }
    view.choose.run(Choice::Joint(key));
    view.choose_sheet(Sheet::Building);
    if let Some(spot) = spot {
        arrive(format!("[data-spot=\"{}\"]", spot_code(spot)));
    }
}

/// The place of a line of a building by its name.
pub fn line_of(name: &str, direction: Direction, building: &Building) -> Option<usize> {
    let lines = match direction {
        Direction::X => &building.y_lines,
        Direction::Y => &building.x_lines,
    };
    lines.iter().position(|line| line.name == name)
}

/// Where on the drawings of the building a connection is.
pub fn spot_of(own: &ConnectionResult, building: &Building) -> Option<Spot> {
    let direction = if own.along_x { Direction::X } else { Direction::Y };
    let line = || line_of(&own.line, direction, building);
    let bay = |bay: u32, storey: u32| Some(Spot::Bay { direction, line: line()?, bay, storey });
    match &own.place {
        Place::Building => None,
        Place::Storey { storey } => Some(Spot::Storey { storey: *storey }),
        Place::Column { x, y, storey } => Some(Spot::Column {
            x: line_of(x, Direction::Y, building)?,
            y: line_of(y, Direction::X, building)?,
            storey: *storey,
        }),
        Place::Beam { bay: own, storey, .. } | Place::Panel { bay: own, storey, .. } => bay(*own, *storey),
        Place::Footing { .. } if own.bays[0] > 0 && own.bays[0] == own.bays[1] => bay(own.bays[0], 1),
        Place::Line { .. } | Place::FrameColumn { .. } | Place::Slab { .. } | Place::Footing { .. } => {
            Some(Spot::Line { direction, line: line()? })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sisterframe_core::evaluate::outline;

    #[test]
    fn every_connection_has_its_place_on_the_drawings() {
        let mut found = [0; ConnectionKind::ALL.len()];
        for demo in crate::store::demos() {
            let building = &demo.project.building;
            for own in outline(&demo.project).options.iter().flat_map(|option| &option.connections) {
                let spot = spot_of(own, building);
                assert!(spot.is_some_and(|spot| spot.is_in(building)), "{}: {:?}, {spot:?}", demo.key, own.place);
                // A column is seen on both lines through it; all else on its own.
                let direction = if own.along_x { Direction::X } else { Direction::Y };
                if let (Some(line), Some(spot)) = (line_of(&own.line, direction, building), spot) {
                    assert!(spot.is_on((direction, line)), "{}: {:?}, {spot:?}", demo.key, own.place);
                }
                found[ConnectionKind::ALL.iter().position(|kind| *kind == own.kind).unwrap_or(0)] += 1;
            }
        }
        assert!(found.iter().all(|count| *count > 0), "{found:?}");
    }
}
