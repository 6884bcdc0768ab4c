//! What owners ask, under a heading that opens.

use super::{Block, Html};
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::reading::questions;
use sisterframe_core::study::{OptionKind, OptionResult};

/// The panel for the option looked at; `sheet` keeps its parts apart from those of other sheets.
#[component]
pub fn Questions(sheet: &'static str) -> impl IntoView {
    let view = View::of_page();
    let html = Memo::new(move |_| {
        let (kind, system) = (view.option.get(), view.system.get());
        view.study.with(|study| {
            let Some(option) = study.options.iter().find(|option| option.kind == kind) else { return String::new() };
            let mut html = Html::shown_in(system);
            html.open("details", &[("class", "questions"), ("id", &format!("questions-{sheet}"))]);
            let heading = format!("What owners ask, answered for {}", title(option));
            html.leaf("summary", &[("id", &format!("questions-of-{sheet}"))], &heading);
            html.raw("<dl>");
            for own in view.project.with(|project| questions(study, project, option, system)) {
                html.leaf("dt", &[], own.question);
                html.leaf("dd", &[("class", if own.known { "" } else { "open" })], &own.answer);
            }
            html.raw("</dl>");
            html.close("details");
            html.finish()
        })
    });
    view! { <Block html=html/> }
}

fn title(option: &OptionResult) -> String {
    match option.kind {
        OptionKind::AsItStands => "the building as it stands".to_owned(),
        OptionKind::Rebuild => "rebuilding".to_owned(),
        OptionKind::Scheme { .. } => format!("{} {}", option.letter, option.name),
    }
}
