//! Stages of the works on the Works sheet: each set beside the building as it stands.

use super::Block;
use super::html::{Html, when};
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::evaluate::{StageResult, stage};
use sisterframe_core::finding::{Code, Finding};
use sisterframe_core::glossary::Figure;
use sisterframe_core::project::{Direction, Project};
use sisterframe_core::study::{OptionKind, OptionResult};
use sisterframe_core::units::System;
use sisterframe_core::works::calendar::in_words;
use sisterframe_core::works::stages::{Stage, StageEnd};
use std::sync::Arc;
use std::time::Duration;

/// How long the page has to be at rest before stages are evaluated.
const REST: Duration = Duration::from_millis(400);
/// Room for the page between one stage and the next.
const BETWEEN: Duration = Duration::from_millis(15);

/// Ways to cut a scheme, with their keys in the page and their names.
pub const CUTS: [(&str, &str); 2] = [("programme", "As the programme runs"), ("storey", "Storey by storey")];

/// A scheme of a project cut into stages.
#[derive(Clone, Debug, PartialEq)]
pub struct Staged {
    /// The project it belongs to.
    pub project: Arc<Project>,
    /// The stages, in their order.
    pub stages: Vec<Stage>,
}

/// The stages of what is looked at, worked out one after the other while the page is at rest.
#[component]
pub fn Stages(
    /// What is cut; none where there is no scheme or no programme yet.
    staged: Memo<Option<Staged>>,
    /// How it is cut, by key.
    cut: RwSignal<&'static str>,
) -> impl IntoView {
    let view = View::of_page();
    let results = RwSignal::new(Vec::<Option<StageResult>>::new());
    let asked = StoredValue::new(0_u32);
    // Nothing is compared before the building as it stands has its own curves.
    let standing = Memo::new(move |_| {
        view.study
            .with(|study| study.options.iter().find(|own| own.kind == OptionKind::AsItStands && !own.pending).cloned())
    });
    Effect::new(move |_| {
        let count = staged.with(|staged| staged.as_ref().map_or(0, |staged| staged.stages.len()));
        let ready = standing.with(Option::is_some);
        let own = asked.get_value().wrapping_add(1);
        asked.set_value(own);
        results.set(vec![None; count]);
        if ready && count > 0 && view.printing.get_untracked() {
            // Paper waits for nothing.
            while evaluate_one(staged, standing, results) {}
        } else if ready && count > 0 {
            set_timeout(move || next(staged, standing, results, asked, own), REST);
        }
    });
    let html = Memo::new(move |_| {
        staged.with(|staged| {
            let Some(staged) = staged else { return String::new() };
            results.with(|results| {
                standing.with(|standing| written(staged, results, standing.as_ref(), cut.get(), view.system.get()))
            })
        })
    });
    view! { <Block html=html class="works-stages"/> }
}

/// Evaluates one stage and makes room for the page before the next.
fn next(
    staged: Memo<Option<Staged>>,
    standing: Memo<Option<OptionResult>>,
    results: RwSignal<Vec<Option<StageResult>>>,
    asked: StoredValue<u32>,
    own: u32,
) {
    // The sheet may be gone, or another question asked, meanwhile.
    if asked.try_get_value() != Some(own) {
        return;
    }
    if evaluate_one(staged, standing, results) {
        set_timeout(move || next(staged, standing, results, asked, own), BETWEEN);
    }
}

/// Evaluates the first stage that has no result; false where there is none.
fn evaluate_one(
    staged: Memo<Option<Staged>>,
    standing: Memo<Option<OptionResult>>,
    results: RwSignal<Vec<Option<StageResult>>>,
) -> bool {
    let Some(place) = results.with_untracked(|results| results.iter().position(Option::is_none)) else { return false };
    let result = staged.with_untracked(|staged| {
        let staged = staged.as_ref()?;
        standing.with_untracked(|standing| {
            Some(stage(&staged.project, &staged.stages.get(place)?.scheme, standing.as_ref()?))
        })
    });
    let Some(result) = result else { return false };
    results.update(|results| {
        if let Some(missing) = results.get_mut(place) {
            *missing = Some(result);
        }
    });
    true
}

/// Where a stage ends, in words.
fn end_in_words(end: &StageEnd) -> String {
    match end {
        StageEnd::Break { name, last } => format!("{name}, until {}", in_words(*last)),
        StageEnd::HandedBack { date } => format!("Rooms handed back {}", in_words(*date)),
        StageEnd::Works { date } => format!("End of the works, {}", in_words(*date)),
        StageEnd::Storey { storey: 1 } => "Storey 1".to_owned(),
        StageEnd::Storey { storey } => format!("Storeys 1–{storey}"),
    }
}

/// Shares of the plan along x and along y.
fn shares(all: impl Iterator<Item = f64>) -> String {
    all.map(|share| format!("{:.0} %", 100.0 * share.abs())).collect::<Vec<_>>().join(" · ")
}

/// How many stages are worse than before, in a sentence or two.
fn told(results: &[Option<StageResult>]) -> String {
    let Some(known) = results.iter().cloned().collect::<Option<Vec<StageResult>>>() else {
        return "The stages are being evaluated.".to_owned();
    };
    let is_worse = |own: &StageResult| !own.findings.is_empty();
    let Some((last, before)) = known.split_last() else { return String::new() };
    let between = before.iter().filter(|own| is_worse(own)).count();
    let way = match (between, before.len()) {
        (_, 0) => "Everything is finished in one stage.".to_owned(),
        (0, _) => {
            "No stage on the way is weaker, more eccentric or bears less than the building as it stands.".to_owned()
        }
        (1, 1) => {
            "The one stage on the way is worse in some way than the building as it stands: do not stop there, or strengthen in another order."
                .to_owned()
        }
        (1, count) => format!(
            "1 of {count} stages on the way is worse in some way than the building as it stands: do not stop there, or strengthen in another order."
        ),
        (worse, count) => format!(
            "{worse} of {count} stages on the way are worse in some way than the building as it stands: do not stop there, or strengthen in another order."
        ),
    };
    if is_worse(last) { format!("{way} The whole scheme, once finished, is worse in some way too.") } else { way }
}

/// Heads of the table, after where a stage ends.
const HEADS: [&str; 5] = [
    "Members",
    "Capacity ÷ demand",
    "Storey that gains least",
    "Eccentricity, shaking along x · y",
    "Beside the building as it stands",
];

/// A cell under one of the heads, which it says itself where they are out of sight.
fn cell(html: &mut Html, column: usize, text: &str) {
    html.leaf("td", &[("role", "cell"), ("data-label", HEADS[column])], text);
}

/// The table.
fn written(
    staged: &Staged,
    results: &[Option<StageResult>],
    standing: Option<&OptionResult>,
    cut: &str,
    system: System,
) -> String {
    let mut html = Html::shown_in(system);
    let open = results.iter().any(Option::is_none);
    html.open("section", &[("aria-label", "Stages"), when(open, "class", "undrawn")]);
    html.raw("<div class=\"chart-head\"><h2>Stage by stage");
    html.ask(Figure::StagedSafety, "works");
    html.raw("</h2><div class=\"chooser on-screen\" role=\"group\" aria-label=\"Stages\">");
    for (key, name) in CUTS {
        html.choice(&format!("works-cut-{key}"), "", &format!("cut:{key}"), key == cut, "", name);
    }
    html.raw("</div></div>");
    html.leaf("p", &[("role", "status")], &told(results));
    html.raw(
        "<div class=\"scroller\" id=\"works-stages\" tabindex=\"0\" role=\"region\" aria-label=\"Stage by stage\">",
    );
    // On a phone each stage is a card; the table keeps its roles where it is no longer laid out as one.
    html.raw("<table class=\"numbers stages\" role=\"table\"><thead role=\"rowgroup\"><tr role=\"row\">");
    for head in std::iter::once("Done by").chain(HEADS) {
        html.leaf("th", &[("role", "columnheader"), ("scope", "col")], head);
    }
    html.raw("</tr></thead><tbody role=\"rowgroup\"><tr role=\"row\">");
    html.leaf("th", &[("role", "rowheader"), ("scope", "row")], "As it stands");
    let ratio = |ratio: Option<f64>| ratio.map_or_else(|| "–".to_owned(), |ratio| format!("{ratio:.2}"));
    cell(&mut html, 0, "none");
    cell(&mut html, 1, &ratio(standing.and_then(|own| own.capacity_to_demand).map(|own| own.ratio)));
    cell(&mut html, 2, "× 1.00");
    let before =
        standing.map_or_else(String::new, |own| shares(own.directions.iter().map(|own| own.eccentricity_share)));
    cell(&mut html, 3, &before);
    html.raw("<td role=\"cell\"></td></tr>");
    for (stage, result) in staged.stages.iter().zip(results) {
        html.raw("<tr role=\"row\">");
        html.leaf("th", &[("role", "rowheader"), ("scope", "row")], &end_in_words(&stage.end));
        let done =
            if stage.is_last() { format!("all {}", stage.of) } else { format!("{} of {}", stage.done, stage.of) };
        cell(&mut html, 0, &done);
        match result {
            Some(result) => figures(&mut html, result, system),
            None => html.leaf("td", &[("role", "cell"), ("colspan", "4"), ("class", "note")], "being evaluated"),
        }
        html.raw("</tr>");
    }
    html.raw("</tbody></table></div>");
    html.leaf(
        "p",
        &[("class", "note")],
        "Each stage is taken as finished and hardened. Props, openings and members half done in between are not in these figures: whoever plans the works has to check them, day by day.",
    );
    if open {
        html.leaf("p", &[("class", "note on-paper")], "The stages were not evaluated in time for this print.");
    }
    html.close("section");
    html.finish()
}

/// What a stage comes to.
fn figures(html: &mut Html, result: &StageResult, system: System) {
    let capacity = result.capacity_to_demand.map_or_else(|| "–".to_owned(), |own| format!("{:.2}", own.ratio));
    cell(html, 1, &capacity);
    let least = result.least().and_then(|own| {
        let direction = if own.along_x { Direction::X } else { Direction::Y };
        Some(format!("× {:.2}, storey {} {}", own.ratio()?, own.storey, direction.label()))
    });
    cell(html, 2, &least.unwrap_or_else(|| "–".to_owned()));
    cell(html, 3, &shares(result.eccentricity.iter().map(|own| own[0])));
    if result.findings.is_empty() {
        html.leaf("td", &[("role", "cell"), ("class", "told")], "No weaker storey, no more eccentric, bears no less.");
        return;
    }
    html.raw("<td role=\"cell\" class=\"told behind\"><strong>Worse. </strong>");
    html.words(&worse(&result.findings, system));
    html.raw("</td>");
}

/// What is worse, in few words, like with like; what keeps a stage from being evaluated in its own.
fn worse(findings: &[Finding], system: System) -> String {
    let heads = [
        (Code::StageBearsLess, "Bears less"),
        (Code::StageWeaker, "Weaker"),
        (Code::StageMoreEccentric, "More eccentric"),
    ];
    let mut said: Vec<String> = Vec::new();
    for (code, head) in heads {
        let own = findings.iter().filter(|own| own.code == code);
        let details: Vec<String> = own.map(|own| own.detail.in_units(system)).collect();
        if !details.is_empty() {
            said.push(format!("{head}: {}.", details.join("; ")));
        }
    }
    let others = findings.iter().filter(|own| heads.iter().all(|(code, _)| own.code != *code));
    said.extend(others.map(|own| format!("{}.", own.text.in_units(system))));
    said.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use sisterframe_core::evaluate::study;
    use sisterframe_core::works::stages::by_storey;

    #[test]
    fn every_stage_has_its_row_and_what_is_worse_is_said() {
        let project =
            Project::from_json(include_str!("../../../demo-scenarios/school.json")).expect("the demo is valid");
        let standing = study(&Project { schemes: Vec::new(), ..project.clone() }).options.swap_remove(0);
        for scheme in &project.schemes {
            let stages = by_storey(&project, scheme);
            let staged = Staged { project: Arc::new(project.clone()), stages };
            let results: Vec<Option<StageResult>> =
                staged.stages.iter().map(|own| Some(stage(&project, &own.scheme, &standing))).collect();
            let html = written(&staged, &results, Some(&standing), "storey", System::Si);
            assert_eq!(html.matches("<tr role=\"row\">").count(), staged.stages.len() + 2);
            let worse = results.iter().flatten().filter(|own| !own.findings.is_empty()).count();
            assert_eq!(html.matches("<strong>Worse. </strong>").count(), worse);
            assert!(!html.contains("being evaluated"));
            let mut open = results;
            open[0] = None;
            let html = written(&staged, &open, Some(&standing), "storey", System::Si);
            assert!(html.contains("being evaluated") && html.contains("undrawn"));
        }
    }
}
