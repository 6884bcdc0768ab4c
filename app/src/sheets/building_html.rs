//! The building as markup.

use super::block::act;
use super::direction_chooser;
use super::html::{Html, NONE, rem};
use crate::drawing::{Drawing, FINGER_PX, LINE_HEAD_PX};
use crate::store::Choice;
use sisterframe_core::eras::assumed_in_words;
use sisterframe_core::fitting::Spot;
use sisterframe_core::glossary::Figure;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Building, Direction};
use sisterframe_core::study::{DirectionResult, OptionKind, Study};
use sisterframe_core::units::{Dimension, System, show};

/// The least height of a row of the storey table, px.
const LEAST_ROW_PX: f64 = 46.0;
/// How many assumed values are shown unfolded, and what ends one.
const ASSUMED_SHOWN: usize = 4;
const ASSUMED_END: &str = "; ";

/// Chooses option and storey.
pub fn choosers(html: &mut Html, study: &Study, chosen: OptionKind, storey: u32) {
    html.raw("<div class=\"choosers\"><div class=\"chooser\" role=\"group\" aria-label=\"Option\">");
    for option in study.options.iter().filter(|option| option.kind != OptionKind::Rebuild) {
        let act = act(Choice::Option(option.kind));
        html.choice(&format!("building-{act}"), "", &act, option.kind == chosen, &option.letter, &option.name);
    }
    html.raw("</div><div class=\"chooser\" role=\"group\" aria-label=\"Storey of the plan\">");
    for own in 1..=study.storeys.len() as u32 {
        let act = act(Choice::Floor(Some(own)));
        html.choice(&format!("building-storey-{own}"), "", &act, own == storey, "", &format!("Storey {own}"));
    }
    html.raw("</div></div>");
}

/// The building in a line.
pub fn lead(html: &mut Html, study: &Study, building: &Building, system: System) {
    let height = study.storeys.last().map_or(0.0, |storey| storey.level_m);
    html.raw("<p class=\"lead\">");
    html.leaf("strong", &[NONE], &format!("{}. ", study.project));
    html.words(&format!(
        "{} storeys, {} high, {} of floors, {} seismic weight. Drawn to scale; plan with y upwards, columns as they stand \
         in the storey, beams over it.",
        study.storeys.len(),
        show(height, Dimension::Metres, system),
        show(study.floor_area_m2, Dimension::SquareMetres, system),
        show(study.weight_kn, Dimension::Kilonewtons, system)
    ));
    html.close("p");
    for (place, sentence) in assumed_in_words(building, system).iter().enumerate() {
        assumed(html, place, sentence);
    }
}

/// What stands assumed; a long row of it is folded after the first few.
fn assumed(html: &mut Html, place: usize, sentence: &str) {
    let ends: Vec<(usize, &str)> = sentence.match_indices(ASSUMED_END).collect();
    // One or two more are shown rather than folded.
    let fold = ends.get(ASSUMED_SHOWN - 1).filter(|_| ends.len() > ASSUMED_SHOWN + 1);
    let Some((at, _)) = fold else {
        html.leaf("p", &[("class", "note assumed")], sentence);
        return;
    };
    let (first, more) = sentence.split_at(*at);
    html.open("details", &[("class", "note assumed"), ("id", &format!("assumed-{place}"))]);
    let words = format!("{first}; and {} more", ends.len() + 1 - ASSUMED_SHOWN);
    html.leaf("summary", &[("id", &format!("assumed-head-{place}"))], &words);
    html.words(more.trim_start_matches(ASSUMED_END));
    html.close("details");
}

/// The plan, and the choice of the line drawn from the front.
pub fn plan(drawing: &Drawing, model: &Model, storey: u32, line: (Direction, usize), chosen: Option<Spot>) -> String {
    let mut html = Html::default();
    html.raw("<h2>");
    html.words(&format!("Plan of storey {storey}"));
    html.ask(Figure::Eccentricity, "plan");
    html.close("h2");
    html.raw("<div class=\"scroller\" id=\"plan-picture\">");
    html.map(drawing, "ground-plan", chosen);
    html.close("div");
    html.raw("<p class=\"note plan-key\">Grey stands, hatched is added; sills are outlined, full panels and walls filled.</p>");
    html.raw("<div class=\"chooser lines-of-plan\" role=\"group\" aria-label=\"Line drawn from the front\">");
    for direction in Direction::BOTH {
        for (place, own) in model.lines(direction).iter().enumerate() {
            let act = act(Choice::Line(direction, place));
            let name = format!("Line {}", own.name);
            html.choice(&format!("building-{act}"), "", &act, line == (direction, place), "", &name);
        }
    }
    html.close("div");
    html.finish()
}

/// How the floor moves.
pub fn turning(drawing: Option<&Drawing>, storey: u32, direction: Direction) -> String {
    let Some(drawing) = drawing else { return String::new() };
    let mut html = Html::default();
    html.raw("<h2>");
    html.words(&format!("How the floor over storey {storey} moves"));
    html.ask(Figure::Twist, "twist");
    html.close("h2");
    direction_chooser(&mut html, "Direction of the shaking", "twist", direction);
    html.drawing(drawing, "twist");
    html.leaf("p", &[("class", "note")], &drawing.words);
    html.finish()
}

/// Pixels a metre that give every storey of the elevation the height of a row.
pub fn storey_scale(heights_m: &[f64], shortest_bay_m: f64, narrow: bool) -> f64 {
    let least = heights_m.iter().copied().fold(f64::INFINITY, f64::min).max(0.5);
    // Room for a finger on a bay and on the column beside it.
    let usual = (2.0 * FINGER_PX / shortest_bay_m).clamp(if narrow { 9.0 } else { 14.0 }, 18.0);
    // On a narrow page the table stands below, so its rows ask for nothing.
    if narrow { usual } else { usual.max(LEAST_ROW_PX / least) }
}

/// Figures of a storey, as words.
pub struct StoreyRow {
    storey: u32,
    cells: Vec<String>,
}

/// Heads of the storey table with the figures that explain themselves.
const HEADS: [(&str, Option<Figure>); 7] = [
    ("Height", None),
    ("Floor", None),
    ("Weight", Some(Figure::SeismicWeight)),
    ("Stiffness", Some(Figure::StoreyStiffness)),
    ("Strength", Some(Figure::StoreyStrength)),
    ("Strength ÷ demand", Some(Figure::StrengthToDemand)),
    ("Gives way by", None),
];

/// Figures of all storeys from the roof down; stiffness and strength only where there is a result.
pub fn rows(study: &Study, result: Option<&DirectionResult>, system: System) -> Vec<StoreyRow> {
    let facts = study.storeys.iter().rev();
    facts
        .map(|own| {
            let storey = result.and_then(|result| result.storeys.get(own.storey as usize - 1));
            // Jackets and walls weigh too: the weight is that of the option whose strength stands beside it.
            let weight_kn = storey.map_or(own.weight_kn, |storey| storey.floor.weight_kn);
            let mut cells = vec![
                show(own.height_m, Dimension::Metres, system),
                show(own.area_m2, Dimension::SquareMetres, system),
                show(weight_kn, Dimension::Kilonewtons, system),
            ];
            if let Some(storey) = storey {
                cells.push(show(storey.stiffness_kn_m, Dimension::KilonewtonsPerMetre, system));
                cells.push(show(storey.strength_kn, Dimension::Kilonewtons, system));
                let ratio =
                    if storey.ratio < 100.0 { show(storey.ratio, Dimension::Number, system) } else { "–".to_owned() };
                cells.push(ratio);
                cells.push(storey.failure.label().to_owned());
            } else {
                cells.extend(std::iter::repeat_n("–".to_owned(), 4));
            }
            StoreyRow { storey: own.storey, cells }
        })
        .collect()
}

/// Elevation of a line with the table of storeys beside it.
pub fn elevation(
    drawing: &Drawing,
    line: &str,
    heights_m: &[f64],
    scale: f64,
    along: Direction,
    rows: &[StoreyRow],
    chosen: Option<Spot>,
) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"choosers\"><h2>");
    html.words(&format!("Line {line} from the front, and the storeys {}", along.label()));
    html.raw("</h2>");
    direction_chooser(&mut html, "Direction of stiffness and strength", "storeys", along);
    html.raw("</div><div class=\"line-and-storeys\"><div class=\"scroller line-picture\" id=\"line-picture\" tabindex=\"0\" role=\"group\" aria-label=\"Elevation\">");
    html.map(drawing, "line-elevation", chosen);
    html.raw("</div><div class=\"scroller\" id=\"storey-table\" tabindex=\"0\" role=\"group\" aria-label=\"Storeys\">");
    html.raw(
        "<table class=\"numbers storeys\" role=\"table\"><caption class=\"read-only-aloud\">Storeys from the roof down</caption>",
    );
    let head = format!("height:{}", rem(LINE_HEAD_PX));
    // It keeps its roles on a narrow page too, where it is no longer laid out as a table.
    html.open("thead", &[("role", "rowgroup")]);
    html.open("tr", &[("role", "row"), ("style", &head)]);
    html.raw("<th role=\"columnheader\" scope=\"col\">Storey</th>");
    for (title, figure) in HEADS {
        html.raw("<th role=\"columnheader\" scope=\"col\">");
        html.words(title);
        if let Some(figure) = figure {
            html.ask(figure, "storeys");
        }
        html.close("th");
    }
    html.raw("</tr></thead><tbody role=\"rowgroup\">");
    for (row, height) in rows.iter().zip(heights_m.iter().rev()) {
        let height = format!("height:{}", rem(height * scale));
        let spot = Spot::Storey { storey: row.storey };
        let is_chosen = chosen == Some(spot);
        let act = act(Choice::Spot((!is_chosen).then_some(spot)));
        let id = format!("storeys-row-{}", row.storey);
        html.open("tr", &[("role", "row"), ("id", &id), ("style", &height), ("data-act", &act)]);
        html.raw("<th role=\"rowheader\" scope=\"row\">");
        let name = row.storey.to_string();
        html.leaf(
            "button",
            &[
                ("type", "button"),
                ("class", "level"),
                ("id", &format!("storeys-pick-{name}")),
                ("data-act", &act),
                ("aria-label", &format!("Storey {name}: what fits there")),
                ("aria-pressed", if is_chosen { "true" } else { "false" }),
            ],
            &name,
        );
        html.close("th");
        for (cell, (title, _)) in row.cells.iter().zip(HEADS) {
            html.leaf("td", &[("role", "cell"), ("data-label", title)], cell);
        }
        html.close("tr");
    }
    html.raw("</tbody></table></div></div>");
    html.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    /// The weights beside an option's strengths are its own, jackets included, and add up to its seismic weight.
    #[test]
    fn floors_weigh_what_the_chosen_option_does() {
        let study = sisterframe_core::evaluate::outline(&sample::project(sample::CLINIC));
        let jackets = &study.options[1].directions[0];
        let sum: f64 = jackets.storeys.iter().map(|storey| storey.floor.weight_kn).sum();
        assert!((sum / jackets.weight_kn - 1.0).abs() < 1e-9, "{sum}");
        let weights = |result| -> Vec<String> {
            rows(&study, result, System::Si).into_iter().map(|row| row.cells[2].clone()).collect()
        };
        let standing = weights(None);
        assert_eq!(weights(Some(&study.options[0].directions[0])), standing);
        let with = weights(Some(jackets));
        assert!(with.iter().zip(&standing).all(|(own, before)| own != before), "{with:?}");
    }

    #[test]
    fn only_a_long_row_of_assumed_values_is_folded_and_none_is_lost() {
        let sentence = |count: usize| {
            let all: Vec<String> = (1..=count).map(|value| format!("value {value}")).collect();
            format!("Assumed: {}.", all.join("; "))
        };
        for count in [1, 4, 6, 7, 15] {
            let mut html = Html::default();
            assumed(&mut html, 0, &sentence(count));
            let html = html.finish();
            assert_eq!(html.contains("<details"), count > 6, "{html}");
            assert!((1..=count).all(|value| html.contains(&format!("value {value}"))), "{html}");
            if count > 6 {
                let head = html.split("</summary>").next().expect("a head");
                assert!(head.ends_with(&format!("value 4; and {} more", count - 4)), "{html}");
            }
        }
    }
}
