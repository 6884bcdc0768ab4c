//! What the sizing aid found for an external frame, in words.

use super::{capitalised, limit_in_words};
use crate::evaluate::{SizeTarget, SizingOutcome, SizingStop, TriedSizes};
use crate::failure::Failure;
use crate::units::{Dimension, System, grouped, show};

/// A figure of the frame before and after, and what is asked of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizingRow {
    /// Which figure.
    pub label: String,
    /// With the sizes as they are; a dash where it is withheld.
    pub now: String,
    /// With the sizes proposed.
    pub proposed: String,
    /// What is asked for, and how much is to spare; empty where nothing is.
    pub asked: String,
}

/// A part of its direction's capacity ÷ demand below which the other direction's counts as unchanged.
const ALIKE: f64 = 0.01;

/// What the proposal reaches, why not less would do, or why not more is reached.
pub fn sizing(found: &SizingOutcome, system: System) -> String {
    let spec = found.target.field().spec;
    let shown = |value: f64| show(value, spec.dimension, system);
    let wanted = shown(found.wanted);
    let best = shown(found.target.of(&found.best));
    let way = found.direction.label();
    let what = format!("{} {way}", found.target.field().spec.label.to_lowercase());
    let mut text = Vec::new();
    if found.reaches {
        text.push(format!("With these sizes the {what} is {best}; {wanted} is asked for."));
        text.push(match &found.smaller {
            Some(smaller) => {
                let value = found.target.of(smaller);
                let size = show(smaller.sizes.column_along_mm, Dimension::Millimetres, system);
                let falls = if value >= found.wanted {
                    "reach that too, but sway further than the drift limit".to_owned()
                } else if shown(value) == wanted {
                    "fall just short".to_owned()
                } else {
                    format!("give {}", shown(value))
                };
                format!("Columns one step smaller, {size} along the face, {falls}.")
            }
            None => "Nothing smaller is offered.".to_owned(),
        });
    } else {
        text.push(format!(
            "No sizes offered bring the {what} to {wanted}; these come closest with {best}, of {} tried.",
            found.evaluated
        ));
    }
    if found.reaches && !found.keeps_drift {
        text.push("None keeps the drift limit besides.".to_owned());
    }
    match found.stop {
        Some(SizingStop::Largest) => {
            text.push("Larger frames do not fit the bays, the storeys or the permitted sizes.".to_owned());
        }
        Some(SizingStop::LargerGivesLess) if !found.reaches => text.push("Larger frames give less.".to_owned()),
        _ => {}
    }
    let face = &found.face;
    match found.best.gives {
        Failure::Rocking => text.push(
            "Its footings lift before its beams yield: larger pads would let it take more."
                .to_owned(),
        ),
        Failure::Slab => text.push(format!(
            "The connecting slabs of line {face} reach their strength before its beams yield: sheet Connections proposes stronger ones."
        )),
        _ if found.best.slab.is_some_and(|used| used > 1.0) => text.push(format!(
            "With these sizes the connecting slabs of line {face} are too weak: sheet Connections proposes stronger ones."
        )),
        _ => {}
    }
    if let Some((limit, end)) = &found.best.limit {
        text.push(format!("{}, what stops it first: {}.", capitalised(way), limit_in_words(limit, end)));
    }
    if let Some(now) = &found.now
        && found.best.of_scheme < (1.0 - ALIKE) * now.of_scheme
    {
        text.push(format!(
            "Beware: capacity ÷ demand of the scheme falls from {} to {}.",
            grouped(now.of_scheme, 2),
            grouped(found.best.of_scheme, 2)
        ));
    }
    text.join(" ")
}

/// The figures with their limits.
pub fn sizing_rows(found: &SizingOutcome, system: System) -> Vec<SizingRow> {
    let of = |tried: &TriedSizes| {
        let sizes = &tried.sizes;
        [
            Some(tried.share),
            Some(tried.strength_kn),
            Some(tried.capacity_to_demand),
            Some(tried.of_scheme),
            tried.drift,
            tried.columns_over_beams,
            Some(sizes.column_steel()),
            Some(sizes.beam_steel(found.stirrup_mm)),
            Some(tried.frame_kn),
            tried.slab,
        ]
    };
    let rules = &found.proportions;
    let [column, beam] = [rules.column_steel, rules.beam_steel].map(|[least, most]| (Some(least), Some(most)));
    let way = found.direction.label();
    let of_target = |target: SizeTarget| {
        let spec = target.field().spec;
        let least = (target == found.target).then_some(found.wanted);
        (format!("{} {way}", spec.label), spec.dimension, (least, None))
    };
    let own =
        |label: &str, dimension: Dimension, asked: (Option<f64>, Option<f64>)| (label.to_owned(), dimension, asked);
    let [share, strength, capacity] = SizeTarget::ALL.map(of_target);
    // The least and the most that is asked for.
    let all = [
        share,
        strength,
        capacity,
        own("Capacity ÷ demand, weaker direction", Dimension::Number, (None, None)),
        own("Largest storey drift ÷ height", Dimension::Share, (None, Some(found.drift_limit))),
        own("Columns over beams", Dimension::Number, (Some(rules.columns_over_beams), None)),
        own("Column bars ÷ section", Dimension::Share, column),
        own("Beam bars ÷ web", Dimension::Share, beam),
        own("Strength of the frame, storey 1", Dimension::Kilonewtons, (None, None)),
        own("Connecting slab, force ÷ strength", Dimension::Number, (None, Some(1.0))),
    ];
    let (now, best) = (found.now.as_ref().map(of), of(&found.best));
    let mut rows = Vec::new();
    for (place, (label, dimension, (least, most))) in all.into_iter().enumerate() {
        let shown = |value: f64| show(value, dimension, system);
        let told = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), shown);
        let mut asked = match (least, most) {
            (Some(least), Some(most)) => format!("{} to {}", shown(least), shown(most)),
            (Some(least), None) => format!("at least {}", shown(least)),
            (None, Some(most)) => format!("at most {}", shown(most)),
            (None, None) => String::new(),
        };
        if let (Some(value), false) = (best[place], asked.is_empty()) {
            let over = least.map_or(f64::INFINITY, |least| value / least - 1.0);
            let spare = over.min(most.map_or(f64::INFINITY, |most| 1.0 - value / most));
            asked.push_str(&if spare < 0.0 {
                ", not kept".to_owned()
            } else {
                format!(", {} to spare", show(spare, Dimension::Share, system))
            });
        }
        let now = told(now.and_then(|now| now[place]));
        rows.push(SizingRow { label, now, proposed: told(best[place]), asked });
    }
    rows
}
