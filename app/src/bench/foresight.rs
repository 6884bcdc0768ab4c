//! The curve under a slider of a measure: what its whole range would give.

use crate::ahead::Ahead;
use crate::bench::held::Held;
use crate::bench::outcome::Outcomes;
use crate::chart::{SliderCurve, Standing};
use crate::live::words;
use crate::sheets::Html;
use crate::state::App;
use crate::store::Root;
use leptos::html;
use leptos::prelude::*;
use serde_json::Value;
use sisterframe_core::evaluate::{Dial, Foresight};
use sisterframe_core::glossary::Figure;
use sisterframe_core::study::OptionKind;

/// The curve; nothing under sliders of anything but a measure.
pub fn foresight(app: App, held: Held, outcomes: Outcomes) -> AnyView {
    let slot = held.slot();
    let Root::Measure(scheme, measure) = slot.root else { return ().into_any() };
    let place = NodeRef::<html::Div>::new();
    let dial = Dial { scheme, measure, keys: slot.keys };
    let ahead = app.foresights.of_slider(app, dial, held.field.spec, place);
    let pending = Memo::new(move |_| {
        let kind = OptionKind::Scheme { index: scheme };
        app.study.with(|study| study.options.iter().any(|option| option.kind == kind && option.pending))
    });
    // The memo spares the page what would be written anew without a change.
    let markup = Memo::new(move |_| {
        let [now, before] = outcomes.ratios();
        let (value, was) = (held.value.get(), held.was.get());
        let standing =
            |value: &Option<Value>, ratio: Option<f64>| Some(Standing { value: value.as_ref()?.as_f64()?, ratio });
        let is_moved = was.is_some() && was != value;
        // Curves that are still to come say nothing of the value now.
        let now = standing(&value, now.filter(|_| !pending.get()));
        let was = standing(&was, before).filter(|_| is_moved);
        ahead.with(|ahead| markup(ahead.as_ref(), held, app, now, was))
    });
    view! { <div class="foresight" node_ref=place inner_html=words(move || markup.get())></div> }.into_any()
}

fn markup(ahead: Option<&Ahead>, held: Held, app: App, now: Option<Standing>, was: Option<Standing>) -> String {
    let nothing;
    let (foresight, is_old) = match ahead {
        Some(own) => (&own.foresight, own.is_old),
        None => {
            nothing = Foresight::new(&held.field.spec, app.system.get());
            (&nothing, false)
        }
    };
    SliderCurve { spec: &held.field.spec, foresight, now, was, is_old, system: app.system.get() }.html()
}

/// What the curves are, at the head of a measure's form.
pub fn foresight_about(scheme: usize, measure: usize) -> String {
    let mut html = Html::default();
    html.open("p", &[("class", "foresight-words")]);
    html.words("Under each slider: capacity ÷ demand over its range. Above the dotted line it passes; dashes: along y decides.");
    html.ask(Figure::Foresight, &format!("ahead-{scheme}-{measure}"));
    html.close("p");
    html.finish()
}
