//! Quick screening as markup: what it says, and the checks one by one.

use super::html::{Html, NONE, lower_first, when};
use super::model_of;
use sisterframe_core::glossary::Figure;
use sisterframe_core::project::{Direction, Project};
use sisterframe_core::screening::{
    Check, HEAVY_FLOOR, HIGH_PRIORITY_INDEX, Kind, LOW_PRIORITY_INDEX, MOST_AXIAL_RATIO, Outcome,
    SAFE_NOMINAL_STRESS_MPA, SAFE_WALL_AREA, SOFT_DRIFT, SOFT_STOREY, STRONG_COLUMNS, Says, Screening, TURNING,
    WEAK_STOREY, screening as sieve,
};
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use sisterframe_core::units::{Dimension, System, grouped, show};

/// An option with its screening along x and along y.
#[derive(Clone, Debug, PartialEq)]
pub struct Screened {
    /// Its letter; empty for the building as it stands.
    pub letter: String,
    /// Its name.
    pub name: String,
    /// Along x and along y.
    pub directions: [Option<Screening>; 2],
}

/// The building as it stands and the option looked at, screened.
pub fn screened(project: &Project, study: &Study, chosen: OptionKind) -> Vec<Screened> {
    let shown = study.options.iter().filter(|option| {
        option.kind == OptionKind::AsItStands || (option.kind == chosen && option.kind != OptionKind::Rebuild)
    });
    let of = |option: &OptionResult| Screened {
        letter: option.letter.clone(),
        name: option.name.clone(),
        directions: sieve(project, &model_of(project, option.kind), option),
    };
    shown.map(of).collect()
}

/// Rows of the table; one for average shear, of columns or of walls.
const ROWS: [Kind; 10] = [
    Kind::ColumnShear,
    Kind::PriorityIndex,
    Kind::WallAreaMap,
    Kind::AxialStress,
    Kind::WeakStorey,
    Kind::SoftStorey,
    Kind::HeavyFloor,
    Kind::Turning,
    Kind::CaptiveColumns,
    Kind::StrongBeams,
];

/// Name of a check.
const fn name(kind: Kind) -> &'static str {
    match kind {
        Kind::ColumnShear | Kind::WallShear => "Average shear stress",
        Kind::PriorityIndex => "Priority index",
        Kind::WallAreaMap => "Wall area and nominal stress",
        Kind::AxialStress => "Axial stress of columns",
        Kind::WeakStorey => "Weak storey",
        Kind::SoftStorey => "Soft storey",
        Kind::HeavyFloor => "Heavy floor",
        Kind::Turning => "Turning in plan",
        Kind::CaptiveColumns => "Captive columns",
        Kind::StrongBeams => "Beams stronger than columns",
    }
}

/// What it says.
const fn says(own: Says) -> &'static str {
    match own {
        Says::LikelyAdequate => "likely adequate",
        Says::NeedsEvaluation => "needs evaluation",
        Says::LikelyInadequate => "likely inadequate",
    }
}

/// A part of one in per cent, two decimals.
fn percent(value: f64) -> String {
    format!("{}\u{a0}%", grouped(100.0 * value, 2))
}

fn mpa(value: f64, system: System) -> String {
    show(value, Dimension::Megapascals, system)
}

/// What a check looks at, its limit and where that comes from.
fn about(kind: Kind, limit: f64, system: System) -> String {
    match kind {
        Kind::ColumnShear | Kind::WallShear => format!(
            "Elastic storey shear on the walls of the direction, where there are none on the columns with the jackets \
             that hold on to them, over the factor of the objective; at most {} (ASCE/SEI 41-17, 4.4.3; from memory).",
            mpa(limit, system)
        ),
        Kind::PriorityIndex => format!(
            "Walls and half the columns at the base over all floors; severe damage gathered below {}, little above {} \
             (Hassan and Sozen, 1997; from memory).",
            percent(LOW_PRIORITY_INDEX),
            percent(HIGH_PRIORITY_INDEX)
        ),
        Kind::WallAreaMap => format!(
            "Walls at the base over all floors, and a nominal weight over walls and columns; buildings stood from {} or \
             up to {} (Shiga, Shibata and Takahashi, 1968; from memory).",
            percent(SAFE_WALL_AREA),
            mpa(SAFE_NOMINAL_STRESS_MPA, system)
        ),
        Kind::AxialStress => format!(
            "Gravity load over area and concrete strength, jackets left out unless the column is relieved first; at most {} \
             (ASCE/SEI 41-17, chapter 17; from memory).",
            grouped(MOST_AXIAL_RATIO, 2)
        ),
        Kind::WeakStorey => format!(
            "Strength over that of the storey above; at least {} (ASCE/SEI 7-16, Table 12.3-2; from memory).",
            grouped(WEAK_STOREY, 2)
        ),
        Kind::SoftStorey => format!(
            "Stiffness over that of the storey above; at least {}, unless it drifts at most {} times as far for its \
             height (ASCE/SEI 7-16, Table 12.3-2 and 12.3.2.2; from memory).",
            grouped(SOFT_STOREY, 2),
            grouped(SOFT_DRIFT, 1)
        ),
        Kind::HeavyFloor => format!(
            "Weight over that of the lighter floor beside it, a light roof left out; at most {} (ASCE/SEI 7-16, Table \
             12.3-2; from memory).",
            grouped(HEAVY_FLOOR, 1)
        ),
        Kind::Turning => format!(
            "Drift of the outer line that moves more over the mean of both, accidental eccentricity left out; at most {} \
             (ASCE/SEI 7-16, Table 12.3-1; from memory).",
            grouped(TURNING, 1)
        ),
        Kind::CaptiveColumns => {
            "Columns held short by sills; none (ASCE/SEI 41-17, chapter 17; from memory).".to_owned()
        }
        Kind::StrongBeams => format!(
            "Joints below the roof whose columns carry less than {} times the moments of their beams; none (ACI 318-19, \
             18.7.3.2; from memory).",
            grouped(STRONG_COLUMNS, 1)
        ),
    }
}

/// The figure of a check.
fn figure(check: &Check, system: System) -> String {
    if check.outcome == Outcome::Withheld {
        return "–".to_owned();
    }
    let at = if check.storey > 0 { format!(", storey {}", check.storey) } else { String::new() };
    match check.kind {
        Kind::ColumnShear => format!("{} of columns{at}", mpa(check.value, system)),
        Kind::WallShear => format!("{} of walls{at}", mpa(check.value, system)),
        Kind::PriorityIndex => percent(check.value),
        Kind::WallAreaMap => format!("{}, {}", percent(check.value), mpa(check.second, system)),
        Kind::CaptiveColumns => format!("{} of {}", grouped(check.value, 0), grouped(check.second, 0)),
        Kind::StrongBeams if check.second == 0.0 => "no joint".to_owned(),
        Kind::StrongBeams => format!("{} of {} joints", grouped(check.value, 0), grouped(check.second, 0)),
        _ => format!("{}{at}", grouped(check.value, 2)),
    }
}

const fn outcome(own: Outcome) -> &'static str {
    match own {
        Outcome::Met => "met",
        Outcome::Between => "between",
        Outcome::NotMet => "not met",
        Outcome::Withheld => "cannot be made",
    }
}

fn called(own: &Screened) -> String {
    if own.letter.is_empty() { "As it stands".to_owned() } else { format!("{} {}", own.letter, own.name) }
}

/// The screening; nothing before there is one.
pub fn screening(screened: &[Screened], system: System) -> String {
    let mut html = Html::default();
    if screened.iter().all(|own| own.directions.iter().all(Option::is_none)) {
        return html.finish();
    }
    html.raw(
        "<section class=\"screening\" aria-labelledby=\"screening-name\"><h2 id=\"screening-name\">Quick screening",
    );
    html.ask(Figure::Screening, "screening");
    html.raw("</h2><dl class=\"screening-says\">");
    for own in screened {
        for (found, direction) in own.directions.iter().zip(Direction::BOTH) {
            let Some(found) = found else { continue };
            html.raw("<div>");
            html.leaf("dt", &[NONE], &format!("{}, {}", called(own), direction.label()));
            html.raw("<dd>");
            html.leaf("b", &[NONE], says(found.says));
            let because: Vec<String> = found.because.iter().map(|kind| lower_first(name(*kind))).collect();
            html.words(&match because.as_slice() {
                [] => ": every check that can be made is met.".to_owned(),
                names => format!(": {}.", listed(names)),
            });
            html.raw("</dd></div>");
        }
    }
    html.raw("</dl>");
    html.leaf(
        "p",
        &[("class", "note")],
        "A first sieve by areas, weights and shapes: it knows nothing of bars, laps or footings, and a scheme may pass it \
         and fail. What the building bears is told by capacity ÷ demand.",
    );
    table(&mut html, screened, system);
    html.raw("</section>");
    html.finish()
}

fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

fn table(html: &mut Html, screened: &[Screened], system: System) {
    html.raw("<details id=\"screening-checks\"><summary id=\"screening-checks-head\">The checks one by one, with limits and sources</summary>");
    html.raw("<div class=\"scroller\" id=\"screening-table\" role=\"region\" aria-label=\"Checks of the screening\" tabindex=\"0\"><table class=\"numbers sieve\"><thead><tr><th scope=\"col\">Check, its limit and source</th>");
    for own in screened {
        for direction in Direction::BOTH {
            html.leaf("th", &[("scope", "col")], &format!("{}, {}", called(own), direction.label()));
        }
    }
    html.raw("</tr></thead><tbody>");
    for kind in ROWS {
        let checks: Vec<Option<&Check>> = screened
            .iter()
            .flat_map(|own| own.directions.iter())
            .map(|found| {
                let found = found.as_ref()?;
                found
                    .check(kind)
                    .or_else(|| (kind == Kind::ColumnShear).then(|| found.check(Kind::WallShear)).flatten())
            })
            .collect();
        let Some(limit) = checks.iter().flatten().map(|check| check.limit).next() else { continue };
        html.raw("<tr><th scope=\"row\"><b>");
        html.words(name(kind));
        html.raw("</b>");
        html.note(&about(kind, limit, system));
        html.raw("</th>");
        let heads =
            screened.iter().flat_map(|own| Direction::BOTH.map(|way| format!("{}, {}", called(own), way.label())));
        for (check, head) in checks.into_iter().zip(heads) {
            html.open("td", &[("data-label", &head)]);
            if let Some(check) = check {
                let open = matches!(check.outcome, Outcome::NotMet | Outcome::Between);
                html.leaf("span", &[when(open, "class", "open")], outcome(check.outcome));
                html.note(&figure(check, system));
            } else {
                html.words("–");
            }
            html.close("td");
        }
        html.raw("</tr>");
    }
    html.raw("</tbody></table></div></details>");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use sisterframe_core::evaluate;

    fn written(system: System) -> String {
        let project = sample::project(sample::CLINIC);
        let study = evaluate::outline(&project);
        screening(&screened(&project, &study, OptionKind::Scheme { index: 1 }), system)
    }

    #[test]
    fn every_check_has_a_word_and_a_figure_in_every_direction() {
        let html = written(System::Si);
        for kind in ROWS {
            assert!(html.contains(name(kind)), "{kind:?}");
        }
        assert_eq!(html.matches("<td").count(), ROWS.len() * 4);
        assert!(html.contains("likely inadequate") || html.contains("needs evaluation"));
    }

    #[test]
    fn its_quantities_follow_the_units() {
        let html = written(System::Us);
        assert!(!html.contains("MPa") && html.contains("ksi"));
    }
}
