//! Sheet 2, Building: what stands there, how it is made and how it moves.

use super::building_html as written;
use super::section::Viewing;
use super::spot::Pointing;
use super::{Block, Html, attribute, hatches, is_narrow, model_of, reading, screening_html, spot_html};
use crate::drawing::{FINGER_PX, PlanLook, TwistLine, ground_plan, line_elevation, twist};
use crate::live::on;
use crate::view::View;
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::project::Direction;
use sisterframe_core::study::{DirectionResult, OptionKind, Study};
use sisterframe_core::units::{Dimension, System, show};
use web_sys::EventTarget;

/// Width and greatest height of the plan, px, with room and without.
const PLAN_PX: [[f64; 2]; 2] = [[526.0, 440.0], [340.0, 420.0]];
/// The least length of a bay on a narrow page, px: room for a finger on it and on the column beside.
const LEAST_BAY_PX: f64 = 2.0 * FINGER_PX;
/// Width and greatest height of the moved plan, px.
const TWIST_PX: [[f64; 2]; 2] = [[520.0, 380.0], [340.0, 300.0]];

/// The sheet.
#[component]
pub fn Building() -> impl IntoView {
    let view = View::of_page();
    let narrow = is_narrow();
    let model = Memo::new(move |_| view.project.with(|project| model_of(project, view.option.get())));
    let storey = move || view.floor.get().unwrap_or(1);

    let intro = Memo::new(move |_| {
        let mut html = Html::default();
        hatches(&mut html);
        let (option, storey) = (view.option.get(), storey());
        view.study.with(|study| {
            written::choosers(&mut html, study, option, storey);
            view.project.with(|project| written::lead(&mut html, study, &project.building, view.system.get()));
        });
        html.raw(&spot_html::invitation());
        html.finish()
    });
    let plan = Memo::new(move |_| {
        let size = PLAN_PX[usize::from(narrow.get())];
        let look = PlanLook {
            storey: storey(),
            width: size[0],
            height: size[1],
            least_bay_px: if narrow.get() { LEAST_BAY_PX } else { 0.0 },
            line: Some(view.line.get()),
            system: view.system.get(),
        };
        let drawing = model.with(|model| {
            let draw = |results: &[DirectionResult]| ground_plan(model, look, [results.first(), results.get(1)]);
            view.with_option(|option| draw(&option.directions)).unwrap_or_else(|| draw(&[]))
        });
        model.with(|model| written::plan(&drawing, model, look.storey, view.line.get(), view.spot.get()))
    });
    let pointing = Pointing::new(view);
    let below = RwSignal::new(false);
    let panel = Memo::new(move |_| pointing.html());
    let beside = Memo::new(move |_| if below.get() { String::new() } else { panel.get() });
    let under = Memo::new(move |_| if below.get() { panel.get() } else { String::new() });
    let viewing = Viewing::new(view);
    let viewer = Memo::new(move |_| viewing.html());
    let viewer_beside = Memo::new(move |_| if below.get() { String::new() } else { viewer.get() });
    let viewer_under = Memo::new(move |_| if below.get() { viewer.get() } else { String::new() });
    // The panel stands by the drawing that was pointed at.
    let pointed = move |is_below: bool, target: Option<EventTarget>| {
        if attribute(target, "data-act").is_some_and(|act| act.starts_with("spot:")) {
            below.set(is_below);
        }
    };
    let clicked = move |is_below: bool| on(move |event: ev::MouseEvent| pointed(is_below, event.target()));
    let typed = move |is_below: bool| {
        on(move |event: ev::KeyboardEvent| {
            if matches!(event.key().as_str(), "Enter" | " ") {
                pointed(is_below, event.target());
            }
        })
    };
    let turning = Memo::new(move |_| {
        // Its place is taken while something on the plan is pointed at.
        if view.spot.get().is_some() && !below.get() {
            return String::new();
        }
        let size = TWIST_PX[usize::from(narrow.get())];
        let (direction, storey, system) = (view.direction.get(), storey(), view.system.get());
        let drawing = model.with(|model| {
            view.study.with(|study| {
                view.with_option(|option| {
                    let result = option.directions.iter().find(|own| own.along_x == (direction == Direction::X))?;
                    let moved = result.storeys.get(storey as usize - 1)?.floor;
                    let lines = twist_lines(study, result, storey, system);
                    Some(twist(model, direction, &moved, &lines, size[0], size[1], system))
                })
            })
        });
        written::turning(drawing.flatten().as_ref(), storey, direction)
    });
    let elevation = Memo::new(move |_| {
        let (direction, place) = view.line.get();
        let (way, system, narrow) = (view.direction.get(), view.system.get(), narrow.get());
        model.with(|model| {
            let heights: Vec<f64> = model.floors.iter().map(|floor| floor.height_m).collect();
            let along = model.along(direction);
            let bays = along.windows(2).map(|pair| pair[1].at_m - pair[0].at_m);
            let scale = written::storey_scale(&heights, bays.fold(f64::INFINITY, f64::min), narrow);
            let drawing = line_elevation(model, direction, place, scale);
            let name = &model.lines(direction)[place].name;
            view.study.with(|study| {
                let rows = view.with_option(|option| {
                    let result = option.directions.iter().find(|own| own.along_x == (way == Direction::X));
                    written::rows(study, result, system)
                });
                let rows = rows.unwrap_or_else(|| written::rows(study, None, system));
                written::elevation(&drawing, name, &heights, scale, way, &rows, view.spot.get())
            })
        })
    });
    let text = Memo::new(move |_| {
        let mut html = Html::default();
        let words = view.with_option(|option| {
            view.study.with(|study| sisterframe_core::reading::building(study, option, view.system.get()))
        });
        if let Some(words) = words.filter(|words| !words.is_empty()) {
            let sure = view.project.with(|project| sisterframe_core::reading::how_sure(&project.building));
            reading(&mut html, &format!("{words} {sure}"));
        }
        html.finish()
    });
    let screening = Memo::new(move |_| {
        let (chosen, system) = (view.option.get(), view.system.get());
        let screened =
            view.project.with(|project| view.study.with(|study| screening_html::screened(project, study, chosen)));
        screening_html::screening(&screened, system)
    });
    view! {
        <Block html=intro/>
        <div on:click=on(move |event: ev::MouseEvent| pointing.clicked(&event))>
            <div class="side-by-side" on:click=clicked(false) on:keydown=typed(false)>
                <Block html=plan class="plan-of-storey"/>
                <Block html=beside class="spot-cell"/>
                <Block html=turning class="turning"/>
            </div>
            <Block html=viewer_beside/>
            <div class="front">
                <div class="front-picture" on:click=clicked(true) on:keydown=typed(true)>
                    <Block html=elevation class="elevation-of-line"/>
                </div>
                <Block html=under class="spot-cell"/>
            </div>
            <Block html=viewer_under/>
        </div>
        <Block html=screening/>
        <Block html=text/>
    }
}

/// What each line carries in a storey, and what it carried before.
fn twist_lines(study: &Study, result: &DirectionResult, storey: u32, system: System) -> Vec<TwistLine> {
    let standing = study.options.iter().find(|option| option.kind == OptionKind::AsItStands);
    let before = standing.and_then(|option| option.directions.iter().find(|own| own.along_x == result.along_x));
    let at = storey as usize - 1;
    result
        .lines
        .iter()
        .filter_map(|line| {
            let shear = *line.shear_kn.get(at)?;
            let own = |result: &DirectionResult| {
                result.lines.iter().find(|own| own.name == line.name).and_then(|own| own.shear_kn.get(at)).copied()
            };
            let now = show(shear, Dimension::Kilonewtons, system);
            let words = match before.and_then(own) {
                Some(was) if (was - shear).abs() > 0.005 * was.abs().max(shear.abs()) => {
                    format!("{}: {now}, was {}", line.name, show(was, Dimension::Kilonewtons, system))
                }
                _ => format!("{}: {now}", line.name),
            };
            Some(TwistLine { name: line.name.clone(), at_m: line.ordinate_m, words })
        })
        .collect()
}
