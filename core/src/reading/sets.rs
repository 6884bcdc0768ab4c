//! Why two rule sets judge the same option differently.

use super::{capitalised, percent, weaker};
use crate::study::OptionResult;

/// An option as one rule set judges it.
#[derive(Clone, Copy)]
pub struct Judged<'a> {
    /// The rule set's name.
    pub rules: &'a str,
    /// Its result.
    pub option: &'a OptionResult,
}

/// Below this part two figures are not told apart.
const ALIKE: f64 = 0.02;

/// Two verdicts on one option, and which part of them differs most; nothing where one of them has none.
pub fn sets_differ(own: Judged<'_>, other: Judged<'_>) -> Option<String> {
    let headline = own.option.capacity_to_demand?;
    let there = other.option.capacity_to_demand?;
    let mut text = Vec::new();
    let verdict = |ratio: f64| if ratio >= 1.0 { "within limits" } else { "a limit exceeded" };
    text.push(if (headline.ratio >= 1.0) == (there.ratio >= 1.0) {
        format!("Both say the same: {}.", verdict(headline.ratio))
    } else {
        let [one, two] = [(own, headline.ratio), (other, there.ratio)]
            .map(|(judged, ratio)| format!("{} by the {} set", verdict(ratio), judged.rules));
        format!("{}, {two}: settle which set the authority accepts before choosing.", capitalised(&one))
    });
    if headline.along_x != there.along_x {
        text.push("They do not even name the same weaker direction.".to_owned());
    }
    let pair = [weaker(own.option, headline)?, weaker(other.option, there)?];
    let asked = pair.map(|capacity| capacity.governing().point.roof_mm);
    let accepted = pair.map(|capacity| capacity.limits.first().map_or(0.0, |limit| limit.reached.roof_mm));
    let change = |[one, two]: [f64; 2]| if one > 0.0 { two / one - 1.0 } else { 0.0 };
    let words = |change: f64, more: &str, less: &str| {
        if change.abs() < ALIKE {
            "about the same".to_owned()
        } else {
            format!("{} {}", percent(change.abs()), if change > 0.0 { more } else { less })
        }
    };
    let (accepted, asked) = (change(accepted), change(asked));
    let first = format!(
        "the roof displacement at the first limit, that is what the set accepts of members, is {} by the {} set",
        words(accepted, "larger", "smaller"),
        other.rules
    );
    let second = format!("the displacement the ground motion asks for is {}", words(asked, "larger", "smaller"));
    text.push(if accepted.abs().max(asked.abs()) < ALIKE {
        "Neither what is asked for nor what is accepted differs noticeably.".to_owned()
    } else if accepted.abs() >= asked.abs() {
        format!("What differs most is acceptance: {first}; {second}.")
    } else {
        format!("What differs most is the demand: {second} by the {} set; {first}.", other.rules)
    });
    Some(text.join(" "))
}
