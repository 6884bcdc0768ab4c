//! Sheet 1, Options: which ways forward there are, side by side, and what each gains and costs.

use super::matrix::{Cell, Column, Matrix, Row, Watch};
use super::{Ask, Hatches, Reading, bar, model_of, picture};
use crate::chart::StrengthFigure;
use crate::drawing::{Drawing, Thumbnail, thumbnails};
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::glossary::Figure;
use sisterframe_core::project::Project;
use sisterframe_core::reading;
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
    let kinds =
        Memo::new(move |_| view.study.with(|study| study.options.iter().map(|option| option.kind).collect::<Vec<_>>()));
    let drawings = Memo::new(move |_| view.project.with(|project| drawings(project, &kinds.get())));
    let text = Memo::new(move |_| view.study.with(|study| reading::options(study)));
    let motion = Memo::new(move |_| view.study.with(|study| study.ground_motion.trim_end_matches('.').to_owned()));
    let count = move || matrix.with(|matrix| matrix.columns.len());
    view! {
        <Hatches/>
        <p class="lead">
            {move || number_word(count())} " ways forward side by side. " {move || motion.get()}
            ". Grey is the building as it stands, hatched teal is added work, the rust tick is demand. \
            Choose a column to look at that option on every sheet."
        </p>
        <Reading text=text/>
        <div class="scroller matrix-region" role="region" aria-label="Comparison of options" tabindex="0">
            <table class="matrix" role="table" style:--columns=move || count().to_string()>
                <thead role="rowgroup">
                    <tr role="row">
                        <td role="cell" class="corner"></td>
                        {move || {
                            let columns = matrix.with(|matrix| matrix.columns.clone());
                            columns.into_iter().zip(drawings.get()).map(|(column, drawing)| head(view, column, &drawing)).collect_view()
                        }}
                    </tr>
                </thead>
                <tbody role="rowgroup">
                    {move || matrix.with(|matrix| matrix.rows.iter().map(|row| figures(view, matrix, row)).collect_view())}
                    {move || matrix.with(|matrix| watches(view, matrix))}
                </tbody>
            </table>
        </div>
        <StrengthFigure/>
    }
}

/// A small number as a word at the start of a sentence.
fn number_word(number: usize) -> String {
    const WORDS: [&str; 13] =
        ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"];
    WORDS.get(number).map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// The head of a column: its drawing, its name as a button, what is done.
fn head(view: View, column: Column, drawing: &Drawing) -> impl IntoView + use<> {
    let kind = column.kind;
    let chosen = move || view.option.get() == kind;
    view! {
        <th role="columnheader" scope="col" class="option" class:chosen=chosen>
            {picture(drawing, "picture thumbnail")}
            <button
                type="button"
                class="option-name"
                aria-pressed=move || chosen().to_string()
                on:click=move |_| view.choose_option(kind)
            >
                {(!column.letter.is_empty()).then(|| view! { <span class="letter">{column.letter.clone()}</span> " " })}
                {column.name.clone()}
            </button>
            {column.measures.into_iter().map(|measure| view! { <p class="measure">{measure}</p> }).collect_view()}
        </th>
    }
}

/// A row of figures.
fn figures(view: View, matrix: &Matrix, row: &Row) -> impl IntoView + use<> {
    let title = row.figure.entry().title;
    let cells = row
        .cells
        .iter()
        .zip(&matrix.columns)
        .map(|(cell, column)| {
            let kind = column.kind;
            view! {
                <td role="cell" data-option=column.title() class:chosen=move || view.option.get() == kind>
                    {figure(cell)}
                </td>
            }
        })
        .collect_view();
    view! {
        <tr role="row" class:headline=row.headline>
            <th role="rowheader" scope="row">{title} <Ask figure=row.figure within="options"/></th>
            {cells}
        </tr>
    }
}

/// What a cell shows.
fn figure(cell: &Cell) -> impl IntoView + use<> {
    let first = (!cell.figure.is_empty()).then(|| {
        view! {
            <p class="figure">
                <b>{cell.figure.clone()}</b>
                {(!cell.verdict.is_empty()).then(|| view! { " " <span class="verdict">{cell.verdict.clone()}</span> })}
            </p>
        }
    });
    view! {
        {first}
        {cell.bar.as_ref().map(bar)}
        {cell.lines.iter().map(|line| view! { <p class="line">{line.clone()}</p> }).collect_view()}
        {cell.notes.iter().map(|note| view! { <p class="note">{note.clone()}</p> }).collect_view()}
    }
}

/// The row of what to watch for.
fn watches(view: View, matrix: &Matrix) -> impl IntoView + use<> {
    let cells = matrix
        .watch
        .iter()
        .zip(&matrix.columns)
        .map(|(watch, column)| {
            let kind = column.kind;
            view! {
                <td role="cell" data-option=column.title() class:chosen=move || view.option.get() == kind>
                    {findings(watch)}
                </td>
            }
        })
        .collect_view();
    view! {
        <tr role="row" class="watch">
            <th role="rowheader" scope="row">
                {Figure::WatchFor.entry().title} <Ask figure=Figure::WatchFor within="options"/>
            </th>
            {cells}
        </tr>
    }
}

fn findings(watch: &Watch) -> impl IntoView + use<> {
    let list = |findings: &[(bool, String)]| {
        findings
            .iter()
            .map(|(trouble, words)| {
                view! {
                    <li>
                        {trouble.then(|| view! { <b>"Trouble: "</b> })}
                        {words.clone()}
                    </li>
                }
            })
            .collect_view()
    };
    if watch.first.is_empty() {
        return view! { <p class="note">"nothing found"</p> }.into_any();
    }
    let more = (!watch.more.is_empty()).then(|| {
        view! {
            <details>
                <summary>{format!("{} more", watch.more.len())}</summary>
                <ul>{list(&watch.more)}</ul>
            </details>
        }
    });
    view! {
        <ul>{list(&watch.first)}</ul>
        {more}
    }
    .into_any()
}
