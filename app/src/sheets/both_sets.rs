//! Verdicts of both rule sets: the switch, and why they differ for the option looked at.

use super::block::act;
use super::html::Html;
use super::matrix::limited;
use crate::store::Choice;
use sisterframe_core::reading::{Judged, sets_differ};
use sisterframe_core::study::{DirectionResult, OptionKind, OptionResult, Study};
use sisterframe_core::units::{Dimension, System, show};
use sisterframe_core::verdict::DirectionCapacity;

/// The switch that puts the other set's verdicts under the project's own.
pub fn switch(html: &mut Html, both: bool) {
    html.raw("<div class=\"chooser both-sets\" role=\"group\" aria-label=\"Rule sets\">");
    html.choice("both-sets", "", &act(Choice::BothSets(!both)), both, "", "Verdicts of both rule sets");
    html.close("div");
}

/// A row of the comparison: its name and how its figure is read off a result.
type Compared = (&'static str, fn(&DirectionResult, &DirectionCapacity, System) -> String);

const ROWS: [Compared; 7] = [
    ("Elastic period, by the effective stiffness of members", |result, _, system| {
        show(result.period_s, Dimension::Seconds, system)
    }),
    ("Spectral acceleration at the effective period", |_, capacity, system| {
        format!("{}\u{a0}g", show(capacity.governing().point.acceleration_g, Dimension::Number, system))
    }),
    ("Roof displacement the ground motion asks for", |_, capacity, system| {
        show(capacity.governing().point.roof_mm, Dimension::Millimetres, system)
    }),
    ("Roof displacement at the first limit", |_, capacity, system| {
        let first = capacity.limits.first();
        first.map_or_else(|| "–".to_owned(), |limit| show(limit.reached.roof_mm, Dimension::Millimetres, system))
    }),
    ("First limit", |_, capacity, _| {
        capacity.limits.first().map_or_else(|| "–".to_owned(), |limit| limited(&limit.reached))
    }),
    ("Largest base shear", |_, capacity, system| show(capacity.strength_kn, Dimension::Kilonewtons, system)),
    ("Capacity ÷ demand", |_, capacity, system| show(capacity.ratio, Dimension::Number, system)),
];

/// Why the two sets differ for an option: what each finds in the direction each calls weaker.
pub fn reasons(study: &Study, other: &Study, kind: OptionKind, system: System) -> String {
    let find = |study: &'_ Study| study.options.iter().position(|option| option.kind == kind);
    let (Some(here), Some(there)) = (find(study), find(other)) else { return String::new() };
    let (own, there) = (&study.options[here], &other.options[there]);
    let mut html = Html::shown_in(system);
    html.raw("<section class=\"set-reasons\" aria-labelledby=\"set-reasons\">");
    html.leaf("h2", &[("id", "set-reasons")], &format!("Why the two sets differ: {}", title(own)));
    if own.kind == OptionKind::Rebuild {
        html.leaf("p", &[], "A new building is designed to the current code; neither set judges it here.");
        html.close("section");
        return html.finish();
    }
    let judged = [(study, own), (other, there)].map(|(study, option)| Judged { rules: &study.rules, option });
    let words = match sets_differ(judged[0], judged[1]) {
        Some(words) => words,
        None if own.pending || there.pending => "The verdicts follow.".to_owned(),
        None => "One of the sets withholds its verdict; the findings under Watch for, in that set, say why.".to_owned(),
    };
    html.leaf("p", &[("class", "reading")], &words);
    let columns: Vec<(String, &DirectionResult, &DirectionCapacity)> = judged.iter().filter_map(weaker).collect();
    if let [_, _] = columns[..] {
        html.raw(
            "<div class=\"scroller\" id=\"set-table\" role=\"region\" tabindex=\"0\" aria-label=\"Both rule sets\">",
        );
        html.raw("<table class=\"numbers\"><caption>The weaker direction of each set, same building and ground motion</caption>");
        html.raw("<thead><tr><td></td>");
        for (head, ..) in &columns {
            html.leaf("th", &[("scope", "col")], head);
        }
        html.raw("</tr></thead><tbody>");
        for (name, figure) in ROWS {
            html.raw("<tr>");
            html.leaf("th", &[("scope", "row")], name);
            for (_, result, capacity) in &columns {
                html.leaf("td", &[], &figure(result, capacity, system));
            }
            html.raw("</tr>");
        }
        html.raw("</tbody></table></div>");
    }
    html.leaf(
        "p",
        &[("class", "note")],
        "The sets differ in the stiffness they give cracked members, in how much deformation they accept of a member \
         at the objective, and in how they foresee the displacement. Both read the ground motion of the project; which \
         of them counts is for the authority and the licensed engineer to say.",
    );
    html.close("section");
    html.finish()
}

/// Head, result and capacity of the direction a set calls weaker.
fn weaker<'a>(judged: &Judged<'a>) -> Option<(String, &'a DirectionResult, &'a DirectionCapacity)> {
    let headline = judged.option.capacity_to_demand?;
    let result = judged.option.directions.iter().find(|result| result.along_x == headline.along_x)?;
    let way = if headline.along_x { "along x" } else { "along y" };
    Some((format!("{} set, {way}", judged.rules), result, result.capacity.as_ref()?))
}

fn title(option: &OptionResult) -> String {
    if option.letter.is_empty() { option.name.clone() } else { format!("{} {}", option.letter, option.name) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use crate::sheets::matrix::Matrix;
    use sisterframe_core::evaluate;
    use sisterframe_core::glossary::Figure;

    #[test]
    fn the_figure_under_each_verdict_is_what_the_project_gives_in_the_other_set() {
        let project = sample::project(sample::CLINIC);
        let other = evaluate::by_other_set(&project).expect("two complete sets");
        let (own, there) = (evaluate::study(&project), evaluate::study(&other));
        let (both, alone) = (Matrix::of(&own, Some(&there), System::Si), Matrix::of(&there, None, System::Si));
        for figure in [
            Figure::StrengthGain,
            Figure::CapacityToDemand,
            Figure::StrengthToDemand,
            Figure::WeakestStorey,
            Figure::Period,
            Figure::Eccentricity,
            Figure::WorstSlab,
        ] {
            let row = |matrix: &Matrix| matrix.rows.iter().find(|row| row.figure == figure).cloned().expect("a row");
            for (cell, alone) in row(&both).cells.iter().zip(&row(&alone).cells).take(own.options.len() - 1) {
                let beside = cell.beside.as_ref().expect("the other set's");
                assert_eq!((&cell.set, &beside.set), (&own.rules, &there.rules));
                assert_eq!(
                    (&beside.figure, &beside.verdict, &beside.lines, &beside.notes),
                    (&alone.figure, &alone.verdict, &alone.lines, &alone.notes)
                );
            }
        }
        let kind = OptionKind::Scheme { index: 3 };
        let html = reasons(&own, &there, kind, System::Si);
        for study in [&own, &there] {
            let option = study.options.iter().find(|option| option.kind == kind).expect("scheme D");
            let ratio = option.capacity_to_demand.expect("a verdict").ratio;
            assert!(html.contains(&format!("<td>{}</td>", show(ratio, Dimension::Number, System::Si))), "{html}");
        }
        assert!(reasons(&own, &there, OptionKind::Rebuild, System::Us).contains("designed to the current code"));
    }

    #[test]
    fn a_verdict_that_is_withheld_is_said_to_be() {
        let project = sample::project(sample::CLINIC);
        let (own, mut there) = (evaluate::study(&project), evaluate::outline(&project));
        assert!(reasons(&own, &there, OptionKind::AsItStands, System::Si).contains("follow"));
        there.options[0].pending = false;
        assert!(reasons(&own, &there, OptionKind::AsItStands, System::Si).contains("withholds"));
    }
}
