//! Labour of a scheme activity by activity, folded away.

use super::html::{Html, NONE};
use sisterframe_core::project::{HoursInside, WorkingTimes};
use sisterframe_core::study::{Band, WorksResult};
use sisterframe_core::units::{Dimension, System, grouped, number, show};
use sisterframe_core::works::Basis;
use sisterframe_core::works::rates::{Activity, Task, dimension_of};

/// A quantity in its unit; pieces to so many decimals.
fn quantity(value: f64, unit: &str, decimals: usize, system: System) -> String {
    match dimension_of(unit) {
        Dimension::Number => format!("{} {unit}{}", grouped(value, decimals), if value > 1.0 { "s" } else { "" }),
        dimension => show(value, dimension, system),
    }
}

/// What a crew does in a day at the usual pace, and how many they are.
fn rate(activity: &Activity, system: System) -> String {
    let (usual, people) = (activity.rate.usual, activity.crew);
    let decimals = if usual.fract() == 0.0 { 0 } else { 2 };
    let usual = quantity(usual, activity.unit, decimals, system);
    format!("{usual} by {}", grouped(people, usize::from(people.fract() != 0.0)))
}

fn range(band: Band) -> String {
    let [low, high] = [band.low, band.high].map(|own| number(own, Dimension::ManDays, System::Si));
    format!("{low} – {high}")
}

/// How the working times change labour, in words; nothing where they do not.
fn slowed(times: &WorkingTimes) -> String {
    let Band { low, mid, high } = times.rules().inside(Band { low: 1.0, mid: 1.0, high: 1.0 });
    let mut words = String::new();
    if high > 1.0 {
        let mut why = match times.hours {
            HoursInside::Day => String::new(),
            other => other.label().to_owned(),
        };
        if times.given_back {
            why.push_str(if why.is_empty() { "" } else { ", " });
            why.push_str("rooms given back after each shift");
        }
        words = format!(
            " What is done in rooms takes {mid:.2} times as many ({low:.2} – {high:.2}): {why} (common practice, no source)."
        );
    }
    words
}

/// Every activity with its quantity, what a crew does in a day, its man-days and where the rate comes from; the sum is
/// the figure above.
pub fn labour(works: &WorksResult, basis: Basis<'_>, times: &WorkingTimes, system: System) -> String {
    if works.activities.is_empty() {
        return String::new();
    }
    let mut html = Html::default();
    html.open("details", &[("id", "works-labour"), ("class", "on-screen")]);
    let total = show(works.man_days.mid, Dimension::ManDays, system);
    html.leaf("summary", &[("id", "works-labour-of")], &format!("Labour by activity: {total}"));
    let inside = works.activities.iter().any(|own| own.inside > 0.0);
    let about = format!(
        "Man-days are quantity × people ÷ what their crew does in a day.{}",
        if inside { slowed(times) } else { String::new() }
    );
    html.leaf("p", &[("class", "note")], &about);
    html.raw("<div class=\"scroller\" id=\"works-labour-table\" role=\"region\" tabindex=\"0\" aria-label=\"Labour by activity\"><table class=\"numbers\"><thead><tr>");
    for head in ["Activity", "Quantity", "Of it in rooms", "Crew in a day", "Man-days", "Fast – slow", "Where from"] {
        html.leaf("th", &[("scope", "col")], head);
    }
    html.raw("</tr></thead><tbody>");
    for own in &works.activities {
        // A new building is no activity of the table.
        let row = Task::by_code(&own.code).map(|task| basis.activity(task));
        let inside = match own.inside {
            inside if inside <= 0.0 => "none".to_owned(),
            inside if inside >= own.quantity => "all".to_owned(),
            inside => quantity(inside, &own.unit, 0, system),
        };
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], &own.name);
        for cell in [
            quantity(own.quantity, &own.unit, 0, system),
            inside,
            row.map_or_else(|| "as assumed".to_owned(), |row| rate(&row, system)),
            number(own.man_days.mid, Dimension::ManDays, system),
            range(own.man_days),
            own.mark.clone(),
        ] {
            html.leaf("td", &[NONE], &cell);
        }
        html.raw("</tr>");
    }
    html.raw("</tbody><tfoot><tr><th scope=\"row\" colspan=\"4\">In all</th>");
    for cell in [number(works.man_days.mid, Dimension::ManDays, system), range(works.man_days), String::new()] {
        html.leaf("td", &[NONE], &cell);
    }
    html.raw("</tr></tfoot></table></div>");
    html.close("details");
    html.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use sisterframe_core::model::Model;
    use sisterframe_core::project::Project;
    use sisterframe_core::works::evaluate;

    /// Text of every cell of a row, by the name it begins with.
    fn cells(html: &str, name: &str) -> Vec<String> {
        let own = html.split("<tr>").find(|row| row.contains(&format!(">{name}</th>"))).unwrap_or_default();
        let texts = own.split("<td>").skip(1).filter_map(|cell| cell.split("</td>").next());
        texts.map(|text| text.replace(['\u{a0}', '\u{202f}'], " ")).collect()
    }

    #[test]
    fn every_activity_stands_with_its_sum_in_the_units_shown() {
        let project = Project::from_json(include_str!("../../../demo-scenarios/office.json")).expect("a valid demo");
        let times = project.working_times.clone().expect("the office has working times");
        let scheme = &project.schemes[1];
        let works = evaluate(&Model::new(&project.building, scheme), &project, scheme);
        let shown = |system| labour(&works, Basis::of(&project), &times, system);
        let html = shown(System::Si);
        assert_eq!(html.matches("<tr>").count(), works.activities.len() + 2);
        // Evenings at 0.65 of the rates by day, 0.8 to 0.5.
        assert!(html.contains("takes 1.54 times as many (1.25 – 2.00)"), "{html}");
        let roughened = works.activities.iter().find(|own| own.code == "ROUGH").expect("old concrete is roughened");
        let si = cells(&html, &roughened.name);
        assert_eq!(si[0], show(roughened.quantity, Dimension::SquareMetres, System::Si).replace('\u{a0}', " "));
        assert_eq!(si[2], "14.0 m² by 2");
        let us = cells(&shown(System::Us), &roughened.name);
        assert_eq!(us[2], "151 ft² by 2");
        assert_eq!(us[3..], si[3..], "man-days and marks are of no system");
        let summed = works.activities.iter().map(|own| own.man_days.mid).sum::<f64>();
        let all = number(summed, Dimension::ManDays, System::Si).replace('\u{202f}', " ");
        assert_eq!(cells(&html, "In all")[0], all);
    }
}
