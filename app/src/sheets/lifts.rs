//! What would lift capacity ÷ demand: one change after the other, tried while the page is at rest.

use super::Block;
use super::capacity_html::ratio;
use super::html::{Html, NONE};
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::evaluate::{Trial, trials, tried};
use sisterframe_core::glossary::Figure;
use sisterframe_core::order;
use sisterframe_core::project::Project;
use sisterframe_core::study::{Headline, OptionKind};
use sisterframe_core::units::{System, show};
use std::sync::Arc;
use std::time::Duration;

/// How long the page has to be at rest before anything is tried.
const REST: Duration = Duration::from_millis(400);
/// A change of the ratio that is worth a line.
const WORTH: f64 = 0.005;
/// Lines shown before the others are folded away.
const SHOWN: usize = 8;

/// What has been tried so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lifting {
    trials: Vec<Trial>,
    /// Results in the order of the trials; `None` where a change cannot be made.
    results: Vec<Option<Headline>>,
}

/// The panel.
#[component]
pub fn Lifts() -> impl IntoView {
    let view = View::of_page();
    let lifting = RwSignal::new(None::<Lifting>);
    // Counts the questions asked; an answer to an older one is dropped.
    let asked = StoredValue::new(0_u32);
    let pending = Memo::new(move |_| view.with_option(|option| option.pending).unwrap_or(true));
    Effect::new(move |_| {
        let (project, option, system) = (view.project.get(), view.option.get(), view.system.get());
        let own = asked.get_value().wrapping_add(1);
        asked.set_value(own);
        lifting.set(None);
        if pending.get() {
            return;
        }
        set_timeout(move || begin(lifting, asked, own, (project, option, system)), REST);
    });
    let html = Memo::new(move |_| {
        let (project, option, system) = (view.project.get(), view.option.get(), view.system.get());
        let now = view.with_option(|option| option.capacity_to_demand).flatten();
        lifting.with(|lifting| panel(lifting.as_ref(), &project, option, now, system))
    });
    view! { <Block html=html class="lifts"/> }
}

fn begin(
    lifting: RwSignal<Option<Lifting>>,
    asked: StoredValue<u32>,
    own: u32,
    (project, option, system): (Arc<Project>, OptionKind, System),
) {
    if asked.try_get_value() == Some(own) {
        let trials = trials(&project, option, system);
        lifting.set(Some(Lifting { trials, results: Vec::new() }));
        next(lifting, asked, own, project, option);
    }
}

/// Tries one change and makes room for the page before the next.
fn next(
    lifting: RwSignal<Option<Lifting>>,
    asked: StoredValue<u32>,
    own: u32,
    project: Arc<Project>,
    option: OptionKind,
) {
    request_animation_frame(move || {
        // The sheet may be gone, or another question asked, by the time the frame comes.
        if asked.try_get_value() != Some(own) {
            return;
        }
        let trial = lifting.with_untracked(|own| {
            let own = own.as_ref()?;
            own.trials.get(own.results.len()).cloned()
        });
        let Some(trial) = trial else { return };
        let result = tried(&project, option, &trial);
        lifting.update(|lifting| {
            if let Some(lifting) = lifting {
                lifting.results.push(result);
            }
        });
        set_timeout(move || next(lifting, asked, own, project, option), Duration::ZERO);
    });
}

/// A change in words.
fn change(trial: &Trial, project: &Project, option: OptionKind, system: System) -> String {
    let measure = |place: usize| match option {
        OptionKind::Scheme { index } => project.schemes.get(index).and_then(|scheme| scheme.measures.get(place)),
        OptionKind::AsItStands | OptionKind::Rebuild => None,
    };
    // Measures of one kind are told apart by their place in the list of the bench.
    let name = |place: usize| {
        let Some(own) = measure(place) else { return String::new() };
        let alike = (0..).map_while(measure).filter(|other| other.kind() == own.kind()).count();
        let before = (0..place).filter_map(measure).filter(|other| other.kind() == own.kind()).count();
        if alike > 1 { format!("{} {}", own.label(), before + 1) } else { own.label().to_owned() }
    };
    match trial {
        Trial::Stronger { storey } => format!("All members of storey {storey} a tenth stronger"),
        Trial::Tougher { storey } => format!("All members of storey {storey} able to deform a tenth further"),
        Trial::Without { measure } => format!("Without {}", name(*measure).to_lowercase()),
        Trial::Dimension { measure: place, key, from, to } => {
            let spec = measure(*place).and_then(|own| own.fields().iter().find(|field| field.key == *key));
            let Some(spec) = spec.map(|field| field.spec) else { return String::new() };
            let shown = |value: f64| show(value, spec.dimension, system);
            format!("{}: {} {}\u{a0}→ {}", name(*place), spec.label.to_lowercase(), shown(*from), shown(*to))
        }
    }
}

/// The panel as markup.
pub fn panel(
    lifting: Option<&Lifting>,
    project: &Project,
    option: OptionKind,
    now: Option<Headline>,
    system: System,
) -> String {
    let Some(now) = now else { return String::new() };
    let way = |along_x: bool| if along_x { "along x" } else { "along y" };
    let mut html = Html::default();
    // Paper does not wait: a list that has not begun is left off it.
    let place = if lifting.is_none() { "note on-screen" } else { "note" };
    html.raw(if lifting.is_none() { "<h2 class=\"on-screen\">" } else { "<h2>" });
    html.words("What would lift it most");
    html.ask(Figure::Lift, "lifts");
    html.raw("</h2>");
    let state = match lifting {
        None => "Waits until the page is at rest.".to_owned(),
        Some(own) if own.results.len() < own.trials.len() => {
            format!("Trying {} of {}.", own.results.len() + 1, own.trials.len())
        }
        Some(own) => format!("{} changes tried, one at a time.", own.trials.len()),
    };
    let intro = format!("Now {}, decided {} in storey {}. {state}", ratio(now.ratio), way(now.along_x), now.storey);
    html.leaf("p", &[("class", place)], &intro);
    let Some(own) = lifting else { return html.finish() };
    let mut found: Vec<(f64, String, String)> = own
        .trials
        .iter()
        .zip(&own.results)
        .filter_map(|(trial, result)| {
            let result = (*result)?;
            let decides = if result.along_x != now.along_x {
                format!("then decided {}", way(result.along_x))
            } else if result.storey != now.storey {
                format!("then decided in storey {}", result.storey)
            } else {
                String::new()
            };
            Some((result.ratio, change(trial, project, option, system), decides))
        })
        .collect();
    order::sort_by(&mut found, |one, other| other.0.total_cmp(&one.0));
    let (lifts, rest): (Vec<_>, Vec<_>) = found.into_iter().partition(|(value, ..)| *value > now.ratio + WORTH);
    let (mut lowers, same): (Vec<_>, Vec<_>) = rest.into_iter().partition(|(value, ..)| *value < now.ratio - WORTH);
    lowers.reverse();
    let is_done = own.results.len() == own.trials.len();
    html.raw("<div class=\"lift-lists\">");
    if lifts.is_empty() && is_done {
        html.leaf(
            "p",
            &[NONE],
            "None of these changes lifts it: what decides is not helped by a tenth more of one thing.",
        );
    }
    list(&mut html, "Would lift it", "lift", &lifts);
    list(&mut html, "Would lower it", "lower", &lowers);
    html.raw("</div>");
    if is_done && !same.is_empty() {
        let words =
            if same.len() == 1 { "1 change leaves it".to_owned() } else { format!("{} changes leave it", same.len()) };
        html.leaf("p", &[("class", "note")], &format!("{words} as it is."));
    }
    html.finish()
}

fn list(html: &mut Html, title: &str, id: &str, rows: &[(f64, String, String)]) {
    if rows.is_empty() {
        return;
    }
    html.raw("<div>");
    html.leaf("h3", &[NONE], title);
    let (shown, more) = rows.split_at(rows.len().min(SHOWN));
    items(html, shown);
    if !more.is_empty() {
        html.open("details", &[("id", &format!("more-{id}"))]);
        html.leaf("summary", &[("id", &format!("more-of-{id}"))], &format!("{} more", more.len()));
        items(html, more);
        html.close("details");
    }
    html.close("div");
}

fn items(html: &mut Html, rows: &[(f64, String, String)]) {
    html.raw("<ul class=\"lift-list\">");
    for (value, words, decides) in rows {
        html.raw("<li>");
        html.words(words);
        html.raw(": ");
        html.leaf("b", &[NONE], &ratio(*value));
        if !decides.is_empty() {
            html.words(&format!(", {decides}"));
        }
        html.raw("</li>");
    }
    html.raw("</ul>");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn headline(ratio: f64, along_x: bool) -> Headline {
        Headline { ratio, along_x, storey: 1 }
    }

    fn shown(results: Vec<Option<Headline>>) -> String {
        let project = sample::project(sample::CLINIC);
        let trials = vec![
            Trial::Stronger { storey: 1 },
            Trial::Tougher { storey: 2 },
            Trial::Dimension { measure: 0, key: "thickness_mm", from: 100.0, to: 110.0 },
            Trial::Without { measure: 0 },
        ];
        let lifting = Lifting { trials, results };
        let option = OptionKind::Scheme { index: 0 };
        panel(Some(&lifting), &project, option, Some(headline(1.0, true)), System::Si)
    }

    #[test]
    fn the_best_change_comes_first_and_what_caps_it_is_said() {
        let html = shown(vec![
            Some(headline(1.1, true)),
            Some(headline(1.0, true)),
            Some(headline(1.25, false)),
            Some(headline(0.8, true)),
        ]);
        let at = |text: &str| html.find(text).unwrap_or_else(|| panic!("{text} in {html}"));
        assert!(at("<b>1.25</b>, then decided along y") < at("<b>1.10</b>"));
        assert!(at("Would lift it</h3>") < at("Would lower it</h3>") && at("Without") > at("Would lower it"));
        assert!(html.contains("100\u{a0}mm\u{a0}→ 110\u{a0}mm"), "{html}");
        assert!(html.contains("4 changes tried") && html.contains("1 change leaves it as it is."));
    }

    #[test]
    fn while_trying_it_says_how_far_it_is_and_what_cannot_be_made_is_left_out() {
        let html = shown(vec![None, Some(headline(1.3, true))]);
        assert!(html.contains("Trying 3 of 4.") && !html.contains("storey 1 a tenth"), "{html}");
    }
}
