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
    let rules = &found.proportions;
    let target = |kind: SizeTarget| (kind == found.target).then_some(found.wanted);
    let stirrup_mm = found.stirrup_mm;
    let way = found.direction.label();
    type Of = Box<dyn Fn(&TriedSizes) -> Option<f64>>;
    // What is asked for: the least, the most.
    let row = |label: String, dimension: Dimension, of: Of, asked: [Option<f64>; 2]| {
        let shown = |value: f64| show(value, dimension, system);
        let told = |tried: Option<&TriedSizes>| tried.and_then(&of).map_or_else(|| "–".to_owned(), shown);
        let spare = of(&found.best).map_or_else(String::new, |value| {
            let parts = [asked[0].map(|least| value / least - 1.0), asked[1].map(|most| 1.0 - value / most)];
            match parts.into_iter().flatten().reduce(f64::min) {
                Some(part) if part >= 0.0 => format!(", {} to spare", show(part, Dimension::Share, system)),
                Some(_) => ", not kept".to_owned(),
                None => String::new(),
            }
        });
        let asked = match asked {
            [Some(least), Some(most)] => format!("{} to {}{spare}", shown(least), shown(most)),
            [Some(least), None] => format!("at least {}{spare}", shown(least)),
            [None, Some(most)] => format!("at most {}{spare}", shown(most)),
            [None, None] => String::new(),
        };
        SizingRow { label, now: told(found.now.as_ref()), proposed: told(Some(&found.best)), asked }
    };
    let of_target = |kind: SizeTarget| {
        let spec = kind.field().spec;
        row(
            format!("{} {way}", spec.label),
            spec.dimension,
            Box::new(move |tried| Some(kind.of(tried))),
            [target(kind), None],
        )
    };
    let share = |value: [f64; 2]| value.map(Some);
    vec![
        of_target(SizeTarget::Share),
        of_target(SizeTarget::Strength),
        of_target(SizeTarget::CapacityToDemand),
        row(
            "Capacity ÷ demand, weaker direction".to_owned(),
            Dimension::Number,
            Box::new(|tried| Some(tried.of_scheme)),
            [None, None],
        ),
        row(
            "Largest storey drift ÷ height".to_owned(),
            Dimension::Share,
            Box::new(|tried| tried.drift),
            [None, Some(found.drift_limit)],
        ),
        row(
            "Columns over beams".to_owned(),
            Dimension::Number,
            Box::new(|tried| tried.columns_over_beams),
            [Some(rules.columns_over_beams), None],
        ),
        row(
            "Column bars ÷ section".to_owned(),
            Dimension::Share,
            Box::new(|tried| Some(tried.sizes.column_steel())),
            share(rules.column_steel),
        ),
        row(
            "Beam bars ÷ web".to_owned(),
            Dimension::Share,
            Box::new(move |tried| Some(tried.sizes.beam_steel(stirrup_mm))),
            share(rules.beam_steel),
        ),
        row(
            "Strength of the frame, storey 1".to_owned(),
            Dimension::Kilonewtons,
            Box::new(|tried| Some(tried.frame_kn)),
            [None, None],
        ),
        row(
            "Connecting slab, force ÷ strength".to_owned(),
            Dimension::Number,
            Box::new(|tried| tried.slab),
            [None, Some(1.0)],
        ),
    ]
}
