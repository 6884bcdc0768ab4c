//! Sheet 4, Load path: how old and new share the load, and what crosses each connecting slab.

use super::ledger::{Ledger, lines, slabs_a_level};
use super::load_path_html as written;
use super::load_path_state::{self as at_state, Stage};
use super::{Block, Html, attribute, hatches, is_narrow, model_of, reading};
use crate::chart::capacity_of;
use crate::drawing::{Flow, Look, Rows, bodies, slab_strip, stream};
use crate::live::on;
use crate::view::View;
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::project::Direction;
use sisterframe_core::study::OptionKind;

/// Width of the force stream, px.
const STREAM_PX: f64 = 420.0;
/// Width of a plan strip, px, with room and without.
const STRIP_PX: [f64; 2] = [560.0, 320.0];

/// The sheet.
#[component]
pub fn LoadPath() -> impl IntoView {
    let view = View::of_page();
    let narrow = is_narrow();
    let asked = RwSignal::new(Stage::Elastic);
    // Without a capacity curve there is only the elastic demand.
    let stage = Memo::new(move |_| {
        let direction = view.direction.get();
        let pushed = view.with_option(|option| capacity_of(option, direction).is_some()).unwrap_or(false);
        if pushed { asked.get() } else { Stage::Elastic }
    });
    let is_elastic = move || stage.get() == Stage::Elastic;
    let model = Memo::new(move |_| view.project.with(|project| model_of(project, view.option.get())));
    let flow = Memo::new(move |_| view.with_option(|option| Flow::of(option, view.direction.get())).flatten());

    let intro = Memo::new(move |_| {
        let mut html = Html::default();
        hatches(&mut html);
        let (chosen, direction) = (view.option.get(), view.direction.get());
        view.study.with(|study| written::choosers(&mut html, study, chosen, direction));
        flow.with(|flow| match flow {
            Some(flow) => {
                at_state::chooser(&mut html, stage.get());
                view.with_option(|option| {
                    if is_elastic() {
                        written::lead(&mut html, option, direction, flow);
                    }
                });
            }
            None => html.leaf("p", &[("class", "lead")], withheld(chosen)),
        });
        html.finish()
    });
    let state = Memo::new(move |_| {
        let (direction, system, stage) = (view.direction.get(), view.system.get(), stage.get());
        let faces: Vec<String> = model.with(|model| model.frames.iter().map(|frame| frame.spec.face.clone()).collect());
        view.with_option(|option| at_state::state(option, &faces, direction, stage, system)).unwrap_or_default()
    });
    let ledger = Memo::new(move |_| {
        if !is_elastic() {
            return String::new();
        }
        let (direction, system, floor) = (view.direction.get(), view.system.get(), view.floor.get());
        let look = Look { direction, width: STREAM_PX, compact: narrow.get(), chosen: floor, system };
        let found =
            view.with_option(|option| (Ledger::of(option, direction, system), slabs_a_level(option, direction)));
        let (Some((Some(ledger), slabs)), Some(flow)) = (found, flow.get()) else { return String::new() };
        model.with(|model| {
            let heights: Vec<f64> = model.floors.iter().map(|floor| floor.height_m).collect();
            let rows = Rows::of(&heights, slabs);
            let wide = stream(&flow, model, &rows, Look { compact: false, ..look });
            // The drawing above the table may need larger letters than the one beside it.
            let alone = if look.compact { stream(&flow, model, &rows, look) } else { wide.clone() };
            written::ledger(&ledger, &rows, [&wide, &alone], floor)
        })
    });
    let text = Memo::new(move |_| {
        let mut html = Html::default();
        if !is_elastic() {
            return html.finish();
        }
        if let Some(text) = view
            .with_option(|option| sisterframe_core::reading::load_path(option, view.direction.get(), view.system.get()))
            && !text.is_empty()
        {
            reading(&mut html, &text);
        }
        html.finish()
    });
    let strips = Memo::new(move |_| {
        if !is_elastic() {
            return String::new();
        }
        let (direction, level, system) = (view.direction.get(), floor_in_view(view), view.system.get());
        let width = STRIP_PX[usize::from(narrow.get())];
        let drawings = model.with(|model| {
            view.with_option(|option| {
                let here = |along_x: bool, own: u32| along_x == (direction == Direction::X) && own == level;
                let slabs = option.slabs.iter().filter(|slab| here(slab.along_x, slab.level));
                let drawn = slabs.filter_map(|slab| {
                    let frames = model.frames.iter();
                    let frame = frames.clone().find(|own| own.direction == direction && own.spec.face == slab.face)?;
                    Some(slab_strip(model, frame, slab, width, system))
                });
                drawn.collect::<Vec<_>>()
            })
        });
        written::strips(level, &drawings.unwrap_or_default())
    });
    let cut = Memo::new(move |_| {
        if !is_elastic() {
            return String::new();
        }
        let level = floor_in_view(view);
        let bodies = view.with_option(|option| bodies(option, view.direction.get(), level)).unwrap_or_default();
        let storeys = view.study.with(|study| study.storeys.len());
        written::cut_free(level, storeys, &bodies, view.system.get())
    });
    let table = Memo::new(move |_| {
        if !is_elastic() {
            return String::new();
        }
        let (direction, system) = (view.direction.get(), view.system.get());
        let rows = view.study.with(|study| view.with_option(|option| lines(study, option, direction, system)));
        written::lines(&rows.unwrap_or_default(), direction, system)
    });
    let clicked = move |event: ev::MouseEvent| {
        let act = attribute(event.target(), "data-act").unwrap_or_default();
        let place = act.strip_prefix("stage:").and_then(|place| place.parse::<usize>().ok());
        if let Some((stage, _)) = place.and_then(|place| Stage::ALL.get(place)) {
            asked.set(*stage);
        }
    };
    view! {
        <div on:click=on(clicked)>
            <Block html=intro/>
            <Block html=state class="state-of-storeys"/>
            <Block html=ledger class="ledger-of-storeys"/>
            <Block html=text/>
            <div class="side-by-side">
                <Block html=strips class="strips"/>
                <Block html=cut class="cut-free"/>
            </div>
            <Block html=table class="lines"/>
        </div>
    }
}

/// Why there is nothing to show.
fn withheld(kind: OptionKind) -> &'static str {
    match kind {
        OptionKind::Rebuild => {
            "A new building is taken to meet the current code; its load path is not computed here. Choose another option."
        }
        OptionKind::AsItStands | OptionKind::Scheme { .. } => {
            "The results of this direction are withheld; the Options sheet says why under “Watch for”."
        }
    }
}

/// The floor the lower drawings are about: the one picked, or the one whose slab is used
/// most, or the first.
fn floor_in_view(view: View) -> u32 {
    let along_x = view.direction.get() == Direction::X;
    let most_used = || {
        view.with_option(|option| {
            let slabs = option.slabs.iter().filter(|slab| slab.along_x == along_x);
            slabs.max_by(|a, b| a.utilisation.total_cmp(&b.utilisation)).map(|slab| slab.level)
        })
    };
    view.floor.get().or_else(|| most_used().flatten()).unwrap_or(1)
}
