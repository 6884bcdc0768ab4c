//! What the capacity curves say, in sentences.

use super::{capitalised, list, percent};
use crate::connection::ConnectionKind;
use crate::failure::Failure;
use crate::place::Place;
use crate::project::Direction;
use crate::pushover::{CurveEnd, LimitKind, LimitReached, Mechanism};
use crate::study::{DirectionResult, OptionResult};
use crate::units::{Dimension, System, grouped, show};
use crate::verdict::DirectionCapacity;

/// What the capacity curves of one direction show.
pub fn capacity(option: &OptionResult, direction: Direction, system: System) -> String {
    let along_x = direction == Direction::X;
    let Some(result) = option.directions.iter().find(|result| result.along_x == along_x) else {
        return String::new();
    };
    let Some(capacity) = &result.capacity else {
        return "No capacity curve can be drawn in this direction; the findings say why.".to_owned();
    };
    let mut text = vec![verdict(capacity, direction)];
    text.extend(what_is_asked(result, capacity, system));
    text.push(mechanism(&capacity.governing().curve.mechanism));
    text.extend(what_next(capacity));
    if capacity.by_strength {
        text.push(
            "Not the displacement but the loss of strength beyond it decides here: past this point the static method \
             no longer stands and a dynamic analysis would have to tell."
                .to_owned(),
        );
    }
    text.push(
        "How sure: strengths and deformation limits are means of tests that scatter by a third either way, and the \
         push is static; one or more does not mean undamaged."
            .to_owned(),
    );
    text.join(" ")
}

/// How much of the ground motion is reached, and what stops it.
pub(super) fn verdict(capacity: &DirectionCapacity, direction: Direction) -> String {
    let way = capitalised(direction.label());
    let what = capacity.limits.first().map_or_else(
        || "nothing limits it".to_owned(),
        |limit| limit_in_words(&limit.reached, &capacity.governing().curve.end),
    );
    let ratio = capacity.ratio;
    if ratio >= 1.0 {
        format!("{way} the ground motion could be {} times as strong before {what}.", grouped(ratio, 2))
    } else {
        format!("{way}, {what} at {} of the ground motion.", percent(ratio))
    }
}

/// A limit as a clause: what happens, and where.
pub fn limit_in_words(limit: &LimitReached, end: &CurveEnd) -> String {
    let (place, how) = (&limit.place, limit.failure.label());
    match limit.limit {
        LimitKind::Member => match (limit.failure, ConnectionKind::that_gives(limit.failure)) {
            (Failure::Rocking, _) => format!("{place} rocks further than is accepted for the objective"),
            (_, Some(kind)) => connection(kind, place, limit.storey),
            _ => format!("{place} deforms further than is accepted for the objective ({how})"),
        },
        LimitKind::Support => format!("{place} can no longer hold up its load ({how})"),
        LimitKind::StrengthLoss => match limit.storey {
            0 => "the building has lost a fifth of its strength".to_owned(),
            storey => format!("the building has lost a fifth of its strength as {how} in storey {storey}"),
        },
        LimitKind::CurveEnd => match end {
            CurveEnd::SuddenLoss { place, failure } => {
                format!("{place} is lost at once and the rest cannot take over ({})", failure.label())
            }
            CurveEnd::MostLost => "less than half of its strength is left, where the push stops".to_owned(),
            CurveEnd::ZeroLoad => "nothing is left to resist".to_owned(),
            CurveEnd::LimitDrift => "a storey drifts by one part in twenty, where the push stops".to_owned(),
            CurveEnd::Unstable => "the building topples under its own weight".to_owned(),
        },
    }
}

/// A connection that gives, by its kind and place.
fn connection(kind: ConnectionKind, place: &Place, storey: u32) -> String {
    match (kind, place) {
        (ConnectionKind::ConnectingSlab, _) => format!("the {place} gives way"),
        (ConnectionKind::FloorEdge, _) => format!("the {} gives way at {place}, level {storey}", kind.label()),
        (ConnectionKind::Perimeter, _) => format!("the {} give way at {place}", kind.label()),
        _ => format!("the {} gives way at {place}", kind.label()),
    }
}

/// The displacement asked for, and the largest base shear.
fn what_is_asked(result: &DirectionResult, capacity: &DirectionCapacity, system: System) -> Option<String> {
    let own = capacity.governing();
    let length = |value: f64| show(value, Dimension::Millimetres, system);
    let peak = format!(
        "the largest base shear, {} or {} of the weight, is reached at {}",
        show(own.curve.peak_kn, Dimension::Kilonewtons, system),
        percent(own.curve.peak_kn / result.weight_kn),
        length(own.curve.peak_roof_mm)
    );
    let asked = length(own.point.roof_mm);
    Some(if own.point.reached {
        format!("The ground motion asks the roof to move {asked}; {peak}.")
    } else {
        format!("The ground motion asks the roof to move {asked}, further than the building can follow; {peak}.")
    })
}

/// What would limit it next.
fn what_next(capacity: &DirectionCapacity) -> Option<String> {
    let next = capacity.limits.get(1)?;
    let (first, what) = (capacity.ratio, limit_in_words(&next.reached, &capacity.governing().curve.end));
    Some(if next.ratio < 1.02 * first {
        format!("Curing that alone gains little: almost at once {what}.")
    } else {
        format!("With that cured the figure would be {}, where {what}.", grouped(next.ratio, 2))
    })
}

/// The mechanism in a sentence.
pub fn mechanism(of: &Mechanism) -> String {
    let storeys = of.drift_share.len();
    let (worst, share) = of
        .drift_share
        .iter()
        .enumerate()
        .fold((0, f64::NEG_INFINITY), |most, (s, share)| if *share > most.1 { (s, *share) } else { most });
    let all = |row: &[[u32; 2]], s: usize| row.get(s).is_some_and(|[moved, all]| *all > 0 && *moved >= *all);
    let any = |row: &[u32]| row.iter().any(|count| *count > 0);
    let beams: Vec<usize> =
        (0..storeys).filter(|s| of.beam_ends.get(*s).is_some_and(|[moved, _]| *moved > 0)).collect();
    let slides = of.column_shears.get(worst).is_some_and(|count| *count > 0);
    let hinged = all(&of.column_heads, worst) && all(&of.column_feet, worst);
    let mut parts: Vec<String> = Vec::new();
    // More than half again what an even drift over the storeys would give.
    let gathers = storeys > 1 && share > 1.5 / storeys as f64;
    if slides && (gathers || storeys == 1) {
        parts.push(format!("columns slip in shear in storey {}", worst + 1));
    }
    if hinged {
        parts.push(format!("all columns of storey {} yield at head and foot", worst + 1));
    }
    if !beams.is_empty() {
        parts.push(match beams.as_slice() {
            [one] => format!("beams yield above storey {}", one + 1),
            many => format!("beams yield above storeys {}", spans(many)),
        });
    }
    if any(&of.beam_shears) {
        parts.push("beams shear".to_owned());
    }
    if any(&of.wall_feet) {
        parts.push("walls or footings turn at their feet".to_owned());
    }
    if any(&of.wall_shears) {
        parts.push("walls slide".to_owned());
    }
    if any(&of.joints) {
        parts.push("beam–column joints crack".to_owned());
    }
    if any(&of.slabs) {
        parts.push("connecting slabs slip".to_owned());
    }
    if any(&of.added) {
        parts.push("wings or jackets slip on their columns".to_owned());
    }
    if any(&of.floor_edges) {
        parts.push("old floors give way along their lines".to_owned());
    }
    if of.sliding > 0 {
        parts.push("footings slide".to_owned());
    }
    let feet = of.column_feet.first().is_some_and(|[moved, _]| *moved > 0);
    if feet && !hinged {
        parts.push("columns yield at the base".to_owned());
    }
    if parts.is_empty() {
        return "By then hardly anything has yielded.".to_owned();
    }
    let what = list(&parts);
    if gathers {
        format!("The movement gathers in storey {}, {} of the roof's: {what}.", worst + 1, percent(share))
    } else if storeys > 1 {
        format!("The movement spreads over the height: {what}.")
    } else {
        format!("{}.", capitalised(&what))
    }
}

/// Storeys from zero as numbers from one: "1 to 3", "1 and 3".
fn spans(storeys: &[usize]) -> String {
    match storeys {
        [first, .., last] if last - first + 1 == storeys.len() && storeys.len() > 2 => {
            format!("{} to {}", first + 1, last + 1)
        }
        _ => list(&storeys.iter().map(|s| (s + 1).to_string()).collect::<Vec<_>>()),
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::pushover::{CapacityCurve, Pattern};
    use crate::verdict::{Assessed, LimitRatio, PerformancePoint};

    fn limit(limit: LimitKind, failure: Failure) -> LimitReached {
        LimitReached {
            limit,
            place: Place::Column { x: "2".to_owned(), y: "B".to_owned(), storey: 1 },
            storey: 1,
            failure,
            roof_mm: 50.0,
            base_shear_kn: 900.0,
            position: 1.0,
        }
    }

    /// A direction with a first and a second limit.
    pub(in crate::reading) fn capacity(ratio: f64) -> DirectionCapacity {
        let first = limit(LimitKind::Support, Failure::Shear);
        let second = limit(LimitKind::StrengthLoss, Failure::Shear);
        let curve = CapacityCurve {
            along_x: true,
            pattern: Pattern::FirstMode,
            towards_higher: true,
            points: Vec::new(),
            events: Vec::new(),
            end: CurveEnd::ZeroLoad,
            peak_kn: 1000.0,
            peak_roof_mm: 40.0,
            limits: vec![first.clone(), second.clone()],
            mechanism: Mechanism::default(),
            shape: vec![1.0],
            masses_t: vec![100.0],
            imbalance: 0.0,
            modes: 1,
        };
        let point = PerformancePoint {
            roof_mm: 62.0,
            base_shear_kn: 900.0,
            reached: true,
            period_s: 0.5,
            acceleration_g: 0.6,
            corner: [20.0, 950.0],
            end: [40.0, 1000.0],
            strength_ratio: 1.5,
            largest_ratio: None,
            factors: Vec::new(),
            equivalent: [80.0, 1.2],
        };
        DirectionCapacity {
            places: Vec::new(),
            curves: vec![Assessed { curve, ratio, strength_kn: 1000.0, point }],
            governing: 0,
            strength_kn: 1000.0,
            ratio,
            by_strength: false,
            limits: vec![LimitRatio { ratio, reached: first }, LimitRatio { ratio: 1.5 * ratio, reached: second }],
        }
    }

    #[test]
    fn the_verdict_says_how_far_and_what_comes_next() {
        assert_eq!(
            verdict(&capacity(0.8), Direction::X),
            "Along x, column B-2, storey 1 can no longer hold up its load (columns shear) at 80\u{a0}% of the ground motion."
        );
        assert!(
            verdict(&capacity(1.25), Direction::Y)
                .starts_with("Along y the ground motion could be 1.25 times as strong")
        );
        let next = what_next(&capacity(0.8)).unwrap_or_default();
        assert!(
            next.starts_with("With that cured the figure would be 1.20, where the building has lost a fifth"),
            "{next}"
        );
    }

    #[test]
    fn limits_read_as_clauses() {
        let end = CurveEnd::ZeroLoad;
        let words = limit_in_words(&limit(LimitKind::Support, Failure::Shear), &end);
        assert_eq!(words, "column B-2, storey 1 can no longer hold up its load (columns shear)");
        let words = limit_in_words(&limit(LimitKind::StrengthLoss, Failure::Shear), &end);
        assert_eq!(words, "the building has lost a fifth of its strength as columns shear in storey 1");
        assert_eq!(limit_in_words(&limit(LimitKind::CurveEnd, Failure::Shear), &end), "nothing is left to resist");
    }

    #[test]
    fn a_soft_storey_is_told_from_a_sway_of_the_whole() {
        let rest = |share: &[f64]| Mechanism {
            drift_share: share.to_vec(),
            column_heads: vec![[0, 4]; share.len()],
            column_feet: vec![[0, 4]; share.len()],
            column_shears: vec![0; share.len()],
            beam_ends: vec![[0, 6]; share.len()],
            ..Mechanism::default()
        };
        let mut soft = rest(&[0.8, 0.1, 0.1]);
        soft.column_heads[0][0] = 4;
        soft.column_feet[0][0] = 4;
        assert_eq!(
            mechanism(&soft),
            "The movement gathers in storey 1, 80\u{a0}% of the roof's: all columns of storey 1 yield at head and foot."
        );
        let mut sway = rest(&[0.34, 0.33, 0.33]);
        for ends in &mut sway.beam_ends {
            ends[0] = 6;
        }
        sway.column_feet[0][0] = 4;
        assert_eq!(
            mechanism(&sway),
            "The movement spreads over the height: beams yield above storeys 1 to 3 and columns yield at the base."
        );
        assert_eq!(mechanism(&rest(&[0.4, 0.3, 0.3])), "By then hardly anything has yielded.");
    }
}
