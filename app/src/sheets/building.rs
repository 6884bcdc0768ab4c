//! Sheet 2, Building: what stands there, how it is made and how it moves.

use super::building_html as written;
use super::{Block, Html, hatches, is_narrow, model_of, reading};
use crate::drawing::{PlanLook, TwistLine, ground_plan, line_elevation, twist};
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::project::Direction;
use sisterframe_core::study::{DirectionResult, OptionKind, Study};
use sisterframe_core::units::{Dimension, System, show};

/// Width and greatest height of the plan, px, with room and without.
const PLAN_PX: [[f64; 2]; 2] = [[620.0, 470.0], [340.0, 420.0]];
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
            written::lead(&mut html, study, view.system.get());
        });
        html.finish()
    });
    let plan = Memo::new(move |_| {
        let size = PLAN_PX[usize::from(narrow.get())];
        let look = PlanLook {
            storey: storey(),
            width: size[0],
            height: size[1],
            line: view.line.get(),
            system: view.system.get(),
        };
        let drawing = model.with(|model| {
            let draw = |results: &[DirectionResult]| ground_plan(model, look, [results.first(), results.get(1)]);
            view.with_option(|option| draw(&option.directions)).unwrap_or_else(|| draw(&[]))
        });
        model.with(|model| written::plan(&drawing, model, look.storey, look.line))
    });
    let turning = Memo::new(move |_| {
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
        let (along, system, narrow) = (view.direction.get(), view.system.get(), narrow.get());
        model.with(|model| {
            let heights: Vec<f64> = model.floors.iter().map(|floor| floor.height_m).collect();
            let scale = written::storey_scale(&heights, narrow);
            let drawing = line_elevation(model, direction, place, scale);
            let name = &model.lines(direction)[place].name;
            view.study.with(|study| {
                let rows = view.with_option(|option| {
                    let result = option.directions.iter().find(|own| own.along_x == (along == Direction::X));
                    written::rows(study, result, system)
                });
                let rows = rows.unwrap_or_else(|| written::rows(study, None, system));
                written::elevation(&drawing, name, &heights, scale, along, &rows)
            })
        })
    });
    let text = Memo::new(move |_| {
        let mut html = Html::default();
        let words = view.with_option(|option| {
            view.study.with(|study| {
                let standing = study.options.iter().find(|own| own.kind == OptionKind::AsItStands);
                sisterframe_core::reading::building(study, standing.unwrap_or(option), view.system.get())
            })
        });
        if let Some(words) = words.filter(|words| !words.is_empty()) {
            reading(&mut html, &words);
        }
        html.finish()
    });
    view! {
        <Block html=intro/>
        <div class="side-by-side">
            <Block html=plan class="plan-of-storey"/>
            <Block html=turning class="turning"/>
        </div>
        <Block html=elevation class="elevation-of-line"/>
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
