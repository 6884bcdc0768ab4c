//! Sheet 1, Options: which ways forward there are, side by side, and what each gains and costs.

use super::matrix::Matrix;
use super::{Block, Html, hatches, matrix_html, model_of, reading};
use crate::chart::StrengthFigure;
use crate::drawing::{Drawing, Thumbnail, thumbnails};
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::project::Project;
use sisterframe_core::study::OptionKind;

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
    let matrix = Memo::new(move |_| view.study.with(|study| Matrix::of(study, view.system.get())));
    let drawings = Memo::new(move |_| {
        let kinds = matrix.with(|matrix| matrix.columns.iter().map(|column| column.kind).collect::<Vec<_>>());
        view.project.with(|project| drawings(project, &kinds))
    });
    let intro = Memo::new(move |_| {
        let mut html = Html::default();
        hatches(&mut html);
        view.study.with(|study| {
            matrix_html::lead(&mut html, study);
            reading(&mut html, &sisterframe_core::reading::options(study));
        });
        html.finish()
    });
    let table = Memo::new(move |_| {
        let chosen = view.option.get();
        matrix.with(|matrix| drawings.with(|drawings| matrix_html::table(matrix, drawings, chosen)))
    });
    view! {
        <Block html=intro/>
        <Block html=table/>
        <StrengthFigure/>
    }
}
