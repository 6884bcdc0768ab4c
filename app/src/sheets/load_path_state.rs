//! The load path at a state of the capacity curve, instead of under the elastic demand.

use super::html::{Html, NONE};
use crate::chart::capacity_of;
use crate::drawing::share_bar;
use sisterframe_core::glossary::Figure;
use sisterframe_core::place::Class;
use sisterframe_core::project::Direction;
use sisterframe_core::pushover::CurvePoint;
use sisterframe_core::reading::limit_in_words;
use sisterframe_core::study::{DirectionResult, OptionResult};
use sisterframe_core::units::{Dimension, System, grouped, show};

/// Which forces are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Under the elastic spectrum.
    Elastic,
    /// At the performance point.
    Demand,
    /// At the first limit.
    Limit,
}

impl Stage {
    /// All of them with the names of their buttons.
    pub const ALL: [(Self, &'static str); 3] = [
        (Self::Elastic, "Elastic demand"),
        (Self::Demand, "Performance point"),
        (Self::Limit, "Mechanism (first limit)"),
    ];
}

/// Buttons that choose the state.
pub fn chooser(html: &mut Html, chosen: Stage) {
    html.raw("<div class=\"chooser stages\" role=\"group\" aria-label=\"Forces shown\">");
    for (k, (stage, name)) in Stage::ALL.into_iter().enumerate() {
        html.choice(&format!("stage-{k}"), "", &format!("stage:{k}"), stage == chosen, "", name);
    }
    html.close("div");
}

/// Storey shears, shares and slab forces at a state; an empty text for the elastic demand, which
/// has drawings of its own.
pub fn state(option: &OptionResult, faces: &[String], direction: Direction, stage: Stage, system: System) -> String {
    let along_x = direction == Direction::X;
    let result = option.directions.iter().find(|result| result.along_x == along_x);
    let (Some(result), Some(capacity)) = (result, capacity_of(option, direction)) else { return String::new() };
    let own = capacity.governing();
    let length = |mm: f64| show(mm, Dimension::Millimetres, system);
    let (point, words) = match stage {
        Stage::Elastic => return String::new(),
        Stage::Demand => (
            capacity.at_demand(),
            format!("Where the ground motion moves the roof to {}, on the capacity curve.", length(own.point.roof_mm)),
        ),
        Stage::Limit => {
            let limit = capacity.limits.first();
            let words = limit.map(|limit| limit_in_words(&limit.reached, &own.curve.end)).unwrap_or_default();
            (capacity.at_first_limit(), format!("Where {words}, on the capacity curve."))
        }
    };
    let mut html = Html::default();
    let Some(point) = point else {
        html.leaf(
            "p",
            &[NONE],
            "The capacity curve ends before the performance point: there is no such state to show.",
        );
        return html.finish();
    };
    let force = |kn: f64| show(kn, Dimension::Kilonewtons, system);
    let share = if result.base_shear_kn > 0.0 { point.base_shear_kn / result.base_shear_kn } else { 0.0 };
    html.leaf(
        "p",
        &[NONE],
        &format!(
            "{words} The lateral force is {}, {} of the elastic demand of {}; the roof has moved {}.",
            force(point.base_shear_kn),
            show(share, Dimension::Share, system),
            force(result.base_shear_kn),
            length(point.roof_mm)
        ),
    );
    table(&mut html, &point, result, option, faces, system);
    html.leaf(
        "p",
        &[("class", "note")],
        "The force stream, the free bodies and the shears of single lines are shown for the elastic demand only: at \
         this state the weight of the leaning building takes part in the balance.",
    );
    html.finish()
}

fn table(
    html: &mut Html,
    point: &CurvePoint,
    result: &DirectionResult,
    option: &OptionResult,
    faces: &[String],
    system: System,
) {
    let force = |kn: f64| show(kn, Dimension::Kilonewtons, system);
    let has_slabs = option.slabs.iter().any(|slab| slab.along_x == result.along_x);
    html.raw("<div class=\"scroller\" id=\"state-region\" role=\"region\" aria-label=\"Storeys at this state\" tabindex=\"0\"><table class=\"numbers state\"><thead><tr><th scope=\"col\">Storey</th>");
    let heads = [Figure::StoreyShear, Figure::Shares, Figure::Drift, Figure::SlabDemand];
    for figure in heads.into_iter().filter(|figure| has_slabs || *figure != Figure::SlabDemand) {
        html.raw("<th scope=\"col\">");
        html.words(if figure == Figure::SlabDemand { "Slab force" } else { figure.title() });
        html.ask(figure, "state");
        html.raw("</th>");
    }
    html.raw("</tr></thead><tbody>");
    for storey in result.storeys.iter().rev() {
        let s = storey.storey as usize - 1;
        let (Some(shear), Some(classes)) = (point.shear_kn.get(s), point.class_shear_kn.get(s)) else { continue };
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], &format!("Storey {}", storey.storey));
        html.raw("<td>");
        html.leaf("b", &[NONE], &force(*shear));
        html.note(&format!("elastic {}", force(storey.shear_kn)));
        html.raw("</td><td class=\"shares-of\">");
        if *shear != 0.0 {
            html.bar(&share_bar(classes.map(|own| own / shear), 120.0));
            for (class, own) in Class::ALL.into_iter().zip(classes).filter(|(_, own)| (*own / shear).abs() >= 5e-3) {
                let elastic = show(storey.share(class), Dimension::Share, system);
                html.note(&format!(
                    "{} {}, elastic {elastic}",
                    show(own / shear, Dimension::Share, system),
                    class.label()
                ));
            }
        }
        html.raw("</td><td>");
        let drift = point.drift_mm.get(s).copied().unwrap_or(0.0);
        html.leaf("b", &[NONE], &show(drift, Dimension::Millimetres, system));
        // Both drifts of a storey have its height in common.
        let part = if storey.drift_mm != 0.0 { drift / storey.drift_mm * storey.drift_ratio } else { 0.0 };
        html.note(&format!("{}\u{a0}%", grouped(100.0 * part, 2)));
        html.raw("</td>");
        if has_slabs {
            html.raw("<td>");
            for (face, row) in faces.iter().zip(&point.slab_kn) {
                let own = option
                    .slabs
                    .iter()
                    .find(|slab| slab.face == *face && slab.along_x == result.along_x && slab.level == storey.storey);
                if let (Some(slab), Some(kn)) = (own, row.get(s)) {
                    html.leaf("b", &[NONE], &force(*kn));
                    html.note(&format!("line {face}, of φVₙ {}", force(slab.strength_kn)));
                }
            }
            html.raw("</td>");
        }
        html.close("tr");
    }
    html.raw("</tbody></table></div>");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn a_state_tells_its_forces_beside_the_elastic_ones() {
        let project = sample::project(sample::CLINIC);
        let option = sisterframe_core::evaluate::option(&project, 3).expect("a scheme with a frame");
        let faces = ["A".to_owned()];
        assert!(state(&option, &faces, Direction::X, Stage::Elastic, System::Si).is_empty());
        for stage in [Stage::Demand, Stage::Limit] {
            let html = state(&option, &faces, Direction::X, stage, System::Si);
            assert_eq!(html.matches("<th scope=\"row\">Storey").count(), 4);
            assert_eq!(html.matches("line A, of φVₙ").count(), 4, "a slab at every level");
            assert_eq!(html.matches("<td").count(), html.matches("</td>").count());
            assert!(html.contains("of the elastic demand of"), "{html}");
        }
    }
}
