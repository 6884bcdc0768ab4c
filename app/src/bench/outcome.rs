//! What an edit does to the scheme: its strength, and its capacity against the demand.

use crate::bench::held::Held;
use crate::live::words;
use crate::state::App;
use leptos::prelude::*;
use sisterframe_core::study::{Headline, OptionKind, OptionResult};
use sisterframe_core::units::{Dimension, System, number};

/// Two ratios of an option.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    gain: Option<Headline>,
    to_demand: Option<Headline>,
}

impl Outcome {
    fn of(option: &OptionResult) -> Self {
        Self { gain: option.strength_gain, to_demand: option.capacity_to_demand }
    }
}

/// The outcome of an option of the page.
pub fn outcome(app: App, option: OptionKind) -> Option<Outcome> {
    app.study.with(|study| study.options.iter().find(|own| own.kind == option).map(Outcome::of))
}

fn ratio(headline: Option<Headline>) -> String {
    headline.map_or_else(|| "withheld".to_owned(), |headline| number(headline.ratio, Dimension::Number, System::Si))
}

fn place(headline: Headline) -> String {
    format!("storey {}, along {}", headline.storey, if headline.along_x { "x" } else { "y" })
}

/// The outcome of a scheme, at the head of its measures.
pub fn scheme_outcome(app: App, scheme: usize) -> AnyView {
    let own = Memo::new(move |_| outcome(app, OptionKind::Scheme { index: scheme }));
    let gain = words(move || ratio(own.get().and_then(|own| own.gain)));
    let to_demand = words(move || ratio(own.get().and_then(|own| own.to_demand)));
    let at = words(move || own.get().and_then(|own| own.to_demand).map_or_else(String::new, place));
    view! {
        <dl class="outcome">
            <div><dt>"Strength gain"</dt><dd><strong>{gain}</strong>" ×"</dd></div>
            <div><dt>"Capacity ÷ demand"</dt><dd><strong>{to_demand}</strong>" "<small>{at}</small></dd></div>
        </dl>
    }
    .into_any()
}

/// What a slider's field gives now, and gave when the visit to it began.
#[derive(Clone, Copy)]
pub struct Outcomes {
    now: Memo<Option<Outcome>>,
    before: Memo<Option<Outcome>>,
}

impl Outcomes {
    /// Capacity ÷ demand now, and when the visit began.
    pub fn ratios(self) -> [Option<f64>; 2] {
        [self.now, self.before].map(|outcome| Some(outcome.get()?.to_demand?.ratio))
    }
}

/// The outcomes of the scheme a field belongs to, or of the option looked at.
pub fn outcomes(app: App, held: Held) -> Outcomes {
    let scheme = held.slot().root.scheme();
    let now = Memo::new(move |_| {
        let option = match scheme {
            Some(index) => OptionKind::Scheme { index },
            None => app.selection.get().option,
        };
        outcome(app, option)
    });
    let visiting = Memo::new(move |_| held.was.get().is_some());
    // The outcome when the visit began.
    let before = Memo::new(move |_| if visiting.get() { now.get_untracked() } else { None });
    Outcomes { now, before }
}

/// The outcome under a slider that is in use, with what it was before.
pub fn slider_outcome(Outcomes { now, before }: Outcomes) -> AnyView {
    let words = words(move || {
        let Some(now) = now.get() else { return String::new() };
        let before = before.get().unwrap_or(now);
        let change = |name: &str, was: Option<Headline>, is: Option<Headline>| {
            let (was, is) = (ratio(was), ratio(is));
            if was == is { format!("{name} {is}") } else { format!("{name} {is}, was {was}") }
        };
        let gain = change("Strength gain", before.gain, now.gain);
        let to_demand = change("capacity ÷ demand", before.to_demand, now.to_demand);
        format!("{gain}; {to_demand}")
    });
    view! { <p class="slider-outcome">{words}</p> }.into_any()
}
