//! Sheet 1, Options: which ways forward there are, side by side, and what each gains and costs.

use super::matrix::Matrix;
use super::{Block, Html, Questions, attribute, both_sets, hatches, matrix_html, model_of, reading};
use crate::chart::StrengthFigure;
use crate::drawing::{Drawing, Thumbnail, thumbnails};
use crate::live::on;
use crate::view::View;
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::project::Project;
use sisterframe_core::study::OptionKind;
use wasm_bindgen::JsCast;

/// The box a small drawing has to fit into, px.
const THUMBNAIL_PX: [f64; 2] = [150.0, 96.0];

/// The small drawings of a project's options, to one scale.
fn drawings(project: &Project, kinds: &[OptionKind]) -> Vec<Drawing> {
    let models: Vec<_> = kinds.iter().map(|kind| (*kind, model_of(project, *kind))).collect();
    let options: Vec<Thumbnail> = models
        .iter()
        .map(|(kind, model)| match kind {
            OptionKind::Rebuild => Thumbnail::Rebuilt(model),
            OptionKind::AsItStands | OptionKind::Scheme { .. } => Thumbnail::Building(model),
        })
        .collect();
    let [width, height] = THUMBNAIL_PX;
    thumbnails(&options, width, height)
}

/// The sheet.
#[component]
pub fn Options() -> impl IntoView {
    let view = View::of_page();
    let matrix = Memo::new(move |_| {
        view.beside.with(|beside| view.study.with(|study| Matrix::of(study, beside.as_deref(), view.system.get())))
    });
    let drawings = Memo::new(move |_| {
        let kinds = matrix.with(|matrix| matrix.columns.iter().map(|column| column.kind).collect::<Vec<_>>());
        view.project.with(|project| drawings(project, &kinds))
    });
    let intro = Memo::new(move |_| {
        let mut html = Html::default();
        hatches(&mut html);
        view.study.with(|study| {
            matrix_html::lead(&mut html, study);
            let sure = view.project.with(|project| sisterframe_core::reading::how_sure(&project.building));
            reading(&mut html, &format!("{} {sure}", sisterframe_core::reading::options(study)));
        });
        both_sets::switch(&mut html, view.both_sets.get());
        html.finish()
    });
    let reasons = Memo::new(move |_| {
        let (kind, system) = (view.option.get(), view.system.get());
        view.beside.with(|beside| {
            let Some(beside) = beside else { return String::new() };
            view.study.with(|study| both_sets::reasons(study, beside, kind, system))
        })
    });
    let unfolded = RwSignal::new(false);
    let table = Memo::new(move |_| {
        let (chosen, unfolded) = (view.option.get(), unfolded.get());
        matrix.with(|matrix| drawings.with(|drawings| matrix_html::table(matrix, drawings, chosen, unfolded)))
    });
    // A scheme that is added or chosen elsewhere may stand beyond the edge.
    let columns = Memo::new(move |_| matrix.with(|matrix| matrix.columns.len()));
    Effect::new(move |_| {
        view.option.track();
        columns.track();
        request_animation_frame(show_chosen);
    });
    let clicked = move |event: ev::MouseEvent| {
        if attribute(event.target(), "data-fold").is_some() {
            unfolded.update(|unfolded| *unfolded = !*unfolded);
        }
    };
    view! {
        <Block html=intro/>
        <Questions sheet="options"/>
        <div on:click=on(clicked)>
            <Block html=table/>
        </div>
        <Block html=reasons/>
        <StrengthFigure/>
    }
}

/// Brings the chosen column into the part of the comparison that is in view.
fn show_chosen() {
    let Some(region) = document().get_element_by_id("matrix-region") else { return };
    let part =
        |selector: &str| region.query_selector(selector).ok().flatten().map(|part| part.get_bounding_client_rect());
    let (Some(column), Some(heads)) = (part(".option.chosen"), part(".corner")) else { return };
    // The heads of the rows stay in place and cover what scrolls beneath them.
    let (left, right) = (heads.right(), region.get_bounding_client_rect().right());
    let mut beyond = (column.right() - right).max(0.0) - (left - column.left()).max(0.0);
    if beyond > 0.0
        && let Ok(options) = region.query_selector_all(".option")
    {
        // As far as the next column's start, or words of one cut through would peep out beside the heads.
        let starts = (0..options.length()).filter_map(|place| options.get(place)?.dyn_into::<web_sys::Element>().ok());
        let starts = starts.map(|option| option.get_bounding_client_rect().left() - left);
        beyond = starts.filter(|start| *start >= beyond).fold(column.left() - left, f64::min).ceil();
    }
    if beyond != 0.0 {
        region.set_scroll_left(region.scroll_left() + beyond.round() as i32);
    }
}
