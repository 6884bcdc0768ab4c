//! The model of the strength chart: storey strength against elastic demand, by option.

use sisterframe_core::order;
use sisterframe_core::project::Direction;
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use sisterframe_core::units::{Dimension, System};

/// Strength and demand of one option, storey by storey from the ground up, in display units.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Which option.
    pub kind: OptionKind,
    /// What its curve is marked with: a letter, or two words for the building as it stands.
    pub mark: String,
    /// Its name.
    pub name: String,
    /// Storey strengths.
    pub strength: Vec<f64>,
    /// Storey shears under the elastic demand.
    pub demand: Vec<f64>,
    /// Dashes of its curve, px; empty for an unbroken one.
    pub dashes: &'static [f64],
}

/// What the chart shows.
#[derive(Clone, Debug, PartialEq)]
pub struct StrengthChart {
    /// The direction.
    pub direction: Direction,
    /// Levels of the floors from the ground up, in display units, the ground first.
    pub levels: Vec<f64>,
    /// Every option with results, in order.
    pub profiles: Vec<Profile>,
    /// The option drawn heavily, with its demand.
    pub chosen: usize,
    /// Symbol of the unit of force.
    pub force_unit: &'static str,
    /// Symbol of the unit of height.
    pub height_unit: &'static str,
}

/// Dash patterns, in the order of the schemes; they come round again after the last.
pub const DASHES: [&[f64]; 6] =
    [&[7.0, 3.0], &[2.0, 2.5], &[10.0, 3.0, 2.0, 3.0], &[4.0, 4.0], &[14.0, 4.0], &[6.0, 2.0, 2.0, 2.0, 2.0, 2.0]];

impl StrengthChart {
    /// Picks the chart's numbers out of a study. The option looked at is drawn heavily; if
    /// it has no results, the building as it stands is.
    pub fn of(study: &Study, chosen: OptionKind, direction: Direction, system: System) -> Self {
        let force = Dimension::Kilonewtons.unit(system);
        let height = Dimension::Metres.unit(system);
        let profiles: Vec<Profile> =
            study.options.iter().filter_map(|option| profile(option, direction, force.factor)).collect();
        let chosen = profiles.iter().position(|profile| profile.kind == chosen).unwrap_or(0);
        let levels =
            std::iter::once(0.0).chain(study.storeys.iter().map(|storey| storey.level_m * height.factor)).collect();
        Self { direction, levels, profiles, chosen, force_unit: force.symbol, height_unit: height.symbol }
    }

    /// The largest force on the chart.
    pub fn most(&self) -> f64 {
        let shown = self.profiles.iter().flat_map(|profile| profile.strength.iter().chain(&profile.demand));
        shown.copied().fold(0.0, f64::max)
    }

    /// What the chart shows, for those who do not see it.
    pub fn words(&self) -> String {
        let way = self.direction.label();
        let Some(chosen) = self.profiles.get(self.chosen) else {
            return format!("No storey strengths {way} to show.");
        };
        let short: Vec<String> = chosen
            .strength
            .iter()
            .zip(&chosen.demand)
            .zip(1..)
            .filter(|((strength, demand), _)| strength < demand)
            .map(|(_, storey)| storey.to_string())
            .collect();
        let verdict = if short.is_empty() {
            "its strength is above the elastic demand in every storey".to_owned()
        } else if short.len() == chosen.strength.len() {
            "its strength is below the elastic demand in every storey".to_owned()
        } else {
            format!("its strength is below the elastic demand in storey {}", short.join(", "))
        };
        format!(
            "Chart of storey strength {way} for {} options over the height of the building, with the elastic demand. \
             Drawn heavily: {}; {verdict}. The table beside it has the numbers.",
            self.profiles.len(),
            chosen.name
        )
    }
}

fn profile(option: &OptionResult, direction: Direction, factor: f64) -> Option<Profile> {
    let result = option.directions.iter().find(|result| result.along_x == (direction == Direction::X))?;
    let (mark, name, dashes): (_, _, &'static [f64]) = match option.kind {
        OptionKind::AsItStands => ("as it stands".to_owned(), "the building as it stands".to_owned(), &[]),
        OptionKind::Scheme { index } => {
            (option.letter.clone(), format!("scheme {}, {}", option.letter, option.name), DASHES[index % DASHES.len()])
        }
        OptionKind::Rebuild => ("rebuild".to_owned(), "a new building".to_owned(), &[1.0, 2.0]),
    };
    Some(Profile {
        kind: option.kind,
        mark,
        name,
        strength: result.storeys.iter().map(|storey| storey.strength_kn * factor).collect(),
        demand: result.storeys.iter().map(|storey| storey.shear_kn * factor).collect(),
        dashes,
    })
}

/// The corners of a value held over each storey, from the ground up: (force, height).
pub fn steps(levels: &[f64], values: &[f64]) -> Vec<(f64, f64)> {
    values
        .iter()
        .zip(levels.windows(2))
        .flat_map(|(value, storey)| [(*value, storey[0]), (*value, storey[1])])
        .collect()
}

/// Cuts a line through points into dashes; a pattern of marks and gaps, never ending.
pub fn dashed(points: &[(f64, f64)], pattern: &[f64]) -> Vec<Vec<(f64, f64)>> {
    if pattern.is_empty() || pattern.iter().any(|length| *length <= 0.0) {
        return vec![points.to_vec()];
    }
    let mut dashes = Vec::new();
    let mut dash = points.first().map(|point| vec![*point]).unwrap_or_default();
    let (mut place, mut left) = (0, pattern[0]);
    for pair in points.windows(2) {
        let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
        let length = ((x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0)).sqrt();
        let mut done = 0.0;
        while length - done >= left {
            done += left;
            let at = (x0 + (x1 - x0) * done / length, y0 + (y1 - y0) * done / length);
            if place % 2 == 0 {
                dash.push(at);
                dashes.push(std::mem::take(&mut dash));
            } else {
                dash = vec![at];
            }
            place += 1;
            left = pattern[place % pattern.len()];
        }
        left -= length - done;
        if place % 2 == 0 {
            dash.push((x1, y1));
        }
    }
    if dash.len() > 1 {
        dashes.push(dash);
    }
    dashes
}

/// Moves places of labels apart so that none is nearer to the next than its room, each as
/// little as the others allow (least squares), keeping their order and, as far as all of
/// them fit, within bounds.
///
/// With the rooms taken off, places must only not fall: isotonic regression by pooling
/// neighbours that would overlap.
pub fn parted(places: &[f64], rooms: &[f64], least: f64, most: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order::sort_by(&mut order, |a, b| places[*a].total_cmp(&places[*b]));
    let mut taken = 0.0;
    let offsets: Vec<f64> = order
        .iter()
        .map(|index| {
            taken += rooms[*index];
            taken - rooms[*index] / 2.0
        })
        .collect();
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (index, offset) in order.iter().zip(&offsets) {
        pools.push((places[*index] - offset, 1));
        while let [.., (low, low_count), (high, high_count)] = pools[..]
            && low > high
        {
            let count = low_count + high_count;
            pools.truncate(pools.len() - 2);
            pools.push(((low * low_count as f64 + high * high_count as f64) / count as f64, count));
        }
    }
    let free = pools.into_iter().flat_map(|(place, count)| std::iter::repeat_n(place, count));
    let mut moved = places.to_vec();
    for ((index, offset), place) in order.iter().zip(&offsets).zip(free) {
        moved[*index] = place.min(most - taken).max(least) + offset;
    }
    moved
}

/// Round numbers from nothing to beyond `most`, about `count` of them.
pub fn ticks(most: f64, count: usize) -> Vec<f64> {
    if most.is_nan() || most <= 0.0 {
        return vec![0.0, 1.0];
    }
    let rough = most / count.max(1) as f64;
    let mut power = 1.0;
    while power * 10.0 <= rough {
        power *= 10.0;
    }
    while power > rough {
        power /= 10.0;
    }
    // A quarter is round only where it is a whole number.
    let digits: &[f64] = if power >= 10.0 { &[1.0, 2.0, 2.5, 5.0, 10.0] } else { &[1.0, 2.0, 5.0, 10.0] };
    let step = digits.iter().map(|digit| digit * power).find(|step| *step >= rough).unwrap_or(power);
    let mut ticks = vec![0.0];
    while ticks[ticks.len() - 1] < most {
        ticks.push(ticks.len() as f64 * step);
    }
    ticks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn chart(scheme: usize) -> StrengthChart {
        let study = sample::study(&sample::project(sample::CLINIC));
        StrengthChart::of(&study, OptionKind::Scheme { index: scheme }, Direction::X, System::Si)
    }

    #[test]
    fn shows_every_option_with_results_and_none_without() {
        let chart = chart(1);
        let marks: Vec<&str> = chart.profiles.iter().map(|profile| profile.mark.as_str()).collect();
        assert_eq!(marks, ["as it stands", "A", "B", "C", "D", "E"]);
        assert_eq!(chart.chosen, 2);
        assert_eq!(chart.levels.len(), 5);
    }

    #[test]
    fn neighbouring_schemes_have_different_dashes() {
        let chart = chart(0);
        for pair in chart.profiles.windows(2) {
            assert_ne!(pair[0].dashes, pair[1].dashes);
        }
    }

    #[test]
    fn says_in_which_storeys_the_strength_is_short() {
        let mut chart = chart(0);
        let profile = &mut chart.profiles[1];
        profile.strength = vec![1.0, 3.0, 1.0, 3.0];
        profile.demand = vec![2.0; 4];
        assert!(chart.words().contains("below the elastic demand in storey 1, 3."), "{}", chart.words());
    }

    #[test]
    fn dashes_add_up_to_the_pattern() {
        let line = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0)];
        let dashes = dashed(&line, &[4.0, 2.0]);
        assert_eq!(dashes[0], [(0.0, 0.0), (4.0, 0.0)]);
        // The second dash runs from 6 to 10 and ends in the corner; the fourth goes on after it.
        assert_eq!(dashes[1], [(6.0, 0.0), (10.0, 0.0)]);
        assert_eq!(dashes[2], [(10.0, 2.0), (10.0, 6.0)]);
        assert_eq!(dashed(&line, &[]), [line.to_vec()]);
    }

    #[test]
    fn labels_part_without_changing_their_order() {
        let moved = parted(&[10.0, 12.0, 50.0], &[8.0, 8.0, 8.0], 0.0, 100.0);
        assert!(moved[1] - moved[0] >= 8.0 - 1e-9 && moved[2] == 50.0);
        assert!((moved[0] + moved[1] - 22.0).abs() < 1e-9, "both give way alike");
        let moved = parted(&[99.0, 98.0], &[10.0, 10.0], 0.0, 100.0);
        assert_eq!(moved, [95.0, 85.0]);
    }

    #[test]
    fn ticks_are_round_and_reach_beyond_the_largest_value() {
        assert_eq!(ticks(9037.0, 5), [0.0, 2000.0, 4000.0, 6000.0, 8000.0, 10_000.0]);
        assert_eq!(ticks(11_150.0, 5), [0.0, 2500.0, 5000.0, 7500.0, 10_000.0, 12_500.0]);
        assert_eq!(ticks(0.7, 4), [0.0, 0.2, 0.4, 0.6000000000000001, 0.8]);
        assert_eq!(ticks(0.0, 4), [0.0, 1.0]);
        assert_eq!(ticks(f64::NAN, 4), [0.0, 1.0]);
    }
}
