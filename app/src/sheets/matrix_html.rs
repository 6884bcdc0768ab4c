//! The comparison of options as markup.

use super::block::act;
use super::html::{Html, NONE, when};
use super::matrix::{Cell, Matrix, Watch};
use crate::drawing::Drawing;
use crate::store::Choice;
use sisterframe_core::glossary::Figure;
use sisterframe_core::study::{OptionKind, Study};

/// What the sheet shows and how to read it.
pub fn lead(html: &mut Html, study: &Study) {
    let count = number_word(study.options.len());
    let motion = study.ground_motion.trim_end_matches('.');
    html.raw("<p class=\"lead\">");
    html.words(&format!(
        "{count} ways forward side by side. {motion}. Grey is the building as it stands, hatched teal is added work, \
         the rust tick is demand."
    ));
    html.raw("<span class=\"on-screen\"> Choose a column to look at that option on every sheet.");
    if !study.options.iter().any(|option| matches!(option.kind, OptionKind::Scheme { .. })) {
        html.raw(" <strong>No scheme yet: add one on the bench, under Measures.</strong>");
    }
    html.raw("</span></p>");
}

/// A small number as a word at the start of a sentence.
fn number_word(number: usize) -> String {
    const WORDS: [&str; 14] = [
        "No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve",
        "Thirteen",
    ];
    WORDS.get(number).map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// The table. It keeps its roles on a narrow page too, where it is no longer laid out as one.
///
/// On a narrow page the rows after the headlines are folded away unless `unfolded`.
pub fn table(matrix: &Matrix, drawings: &[Drawing], chosen: OptionKind, unfolded: bool) -> String {
    let mut html = Html::shown_in(matrix.system);
    let columns = format!("--columns:{}", matrix.columns.len());
    html.open(
        "div",
        &[
            ("class", "scroller matrix-region"),
            ("id", "matrix-region"),
            ("role", "region"),
            ("aria-label", "Comparison of options"),
            ("tabindex", "0"),
        ],
    );
    let class = if unfolded { "matrix" } else { "matrix folded" };
    html.open("table", &[("class", class), ("role", "table"), ("style", &columns)]);
    html.raw("<thead role=\"rowgroup\"><tr role=\"row\"><td role=\"cell\" class=\"corner\"></td>");
    for (column, drawing) in matrix.columns.iter().zip(drawings) {
        let is_chosen = column.kind == chosen;
        let class = if is_chosen { "option chosen" } else { "option" };
        html.open("th", &[("role", "columnheader"), ("scope", "col"), ("class", class)]);
        html.drawing(drawing, "thumbnail");
        let act = act(Choice::Option(column.kind));
        let id = format!("column-{act}");
        html.choice(&id, "option-name", &act, is_chosen, &column.letter, &column.name);
        for measure in &column.measures {
            html.leaf("p", &[("class", "measure")], measure);
        }
        html.close("th");
    }
    html.raw("</tr></thead><tbody role=\"rowgroup\">");
    let folded = matrix.rows.iter().filter(|row| !row.headline).count();
    let mut above = true;
    for row in &matrix.rows {
        if above && !row.headline {
            fold(&mut html, folded, unfolded);
            above = false;
        }
        html.open("tr", &[("role", "row"), when(row.headline, "class", "headline")]);
        row_head(&mut html, row.figure);
        for (cell, column) in row.cells.iter().zip(&matrix.columns) {
            open_cell(&mut html, &column.title(), column.kind == chosen, cell.stale);
            figure(&mut html, cell);
            html.close("td");
        }
        html.close("tr");
    }
    html.open("tr", &[("role", "row"), ("class", "watch")]);
    row_head(&mut html, Figure::WatchFor);
    for (place, (watch, column)) in matrix.watch.iter().zip(&matrix.columns).enumerate() {
        open_cell(&mut html, &column.title(), column.kind == chosen, false);
        findings(&mut html, watch, place);
        html.close("td");
    }
    html.raw("</tr></tbody></table></div>");
    html.finish()
}

fn row_head(html: &mut Html, figure: Figure) {
    html.raw("<th role=\"rowheader\" scope=\"row\">");
    html.words(figure.title());
    html.ask(figure, "options");
    html.close("th");
}

/// The row that opens and folds away what follows the headlines; only a narrow page shows it.
fn fold(html: &mut Html, rows: usize, unfolded: bool) {
    html.raw("<tr role=\"row\" class=\"fold\"><td role=\"cell\">");
    let expanded = if unfolded { "true" } else { "false" };
    html.open("button", &[("type", "button"), ("id", "fold"), ("data-fold", ""), ("aria-expanded", expanded)]);
    html.words(&format!("{} more figures", number_word(rows)));
    html.raw("</button></td></tr>");
}

fn open_cell(html: &mut Html, title: &str, chosen: bool, stale: bool) {
    let class = match (chosen, stale) {
        (true, true) => ("class", "chosen stale"),
        (true, false) => ("class", "chosen"),
        (false, true) => ("class", "stale"),
        (false, false) => NONE,
    };
    html.open("td", &[("role", "cell"), ("data-option", title), class]);
    if stale {
        before_the_change(html);
    }
}

/// The rule set of what follows, where two are shown.
fn of_set(html: &mut Html, set: &str) {
    if !set.is_empty() {
        html.leaf("p", &[("class", "set-name")], &format!("{set} set"));
    }
}

fn figure(html: &mut Html, cell: &Cell) {
    of_set(html, &cell.set);
    if !cell.figure.is_empty() {
        html.raw("<p class=\"figure\">");
        html.leaf("b", &[NONE], &cell.figure);
        if !cell.verdict.is_empty() {
            html.raw(" ");
            html.leaf("span", &[("class", "verdict")], &cell.verdict);
        }
        html.close("p");
    }
    if let Some(bar) = &cell.bar {
        html.bar(bar);
    }
    for line in &cell.lines {
        html.leaf("p", &[("class", "line")], line);
    }
    for note in &cell.notes {
        html.leaf("p", &[("class", "note")], note);
    }
    if let Some(beside) = &cell.beside {
        html.open("div", &[("class", if beside.stale { "beside stale" } else { "beside" })]);
        if beside.stale {
            before_the_change(html);
        }
        figure(html, beside);
        html.close("div");
    }
}

fn before_the_change(html: &mut Html) {
    html.leaf("span", &[("class", "read-only-aloud")], "Before the last change: ");
}

fn findings(html: &mut Html, watch: &Watch, place: usize) {
    if watch.first.is_empty() {
        html.leaf("p", &[("class", "note")], "nothing found");
        return;
    }
    of_set(html, &watch.set);
    let list = |html: &mut Html, findings: &[(bool, String)]| {
        html.raw("<ul>");
        for (trouble, words) in findings {
            html.raw(if *trouble { "<li><b>Trouble: </b>" } else { "<li>" });
            html.words(words);
            html.raw("</li>");
        }
        html.raw("</ul>");
    };
    list(html, &watch.first);
    if !watch.more.is_empty() {
        html.open("details", &[("id", &format!("more-{place}"))]);
        html.leaf("summary", &[("id", &format!("more-of-{place}"))], &format!("{} more", watch.more.len()));
        list(html, &watch.more);
        html.close("details");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use sisterframe_core::units::System;

    #[test]
    fn the_chosen_column_is_marked_in_every_row_and_pressed_in_its_head() {
        let matrix = Matrix::of(&sample::study(&sample::project(sample::CLINIC)), None, System::Si);
        let drawings = vec![Drawing::new(1.0, 1.0); matrix.columns.len()];
        let html = table(&matrix, &drawings, OptionKind::Scheme { index: 1 }, false);
        assert_eq!(html.matches("aria-pressed=\"true\"").count(), 1);
        assert_eq!(html.matches("class=\"chosen\"").count(), matrix.rows.len() + 1);
        assert_eq!(html.matches("<tr").count(), html.matches("</tr>").count());
        assert_eq!(html.matches("<td").count(), html.matches("</td>").count());
    }

    #[test]
    fn figures_of_before_the_last_change_are_marked_and_said_so() {
        let mut study = sample::study(&sample::project(sample::CLINIC));
        let written = |study: &Study| {
            let matrix = Matrix::of(study, None, System::Si);
            let drawings = vec![Drawing::new(1.0, 1.0); matrix.columns.len()];
            table(&matrix, &drawings, OptionKind::Scheme { index: 0 }, false)
        };
        assert!(!written(&study).contains("stale"));
        study.options[1].pending = true;
        study.options[2].pending = true;
        let html = written(&study);
        let kept = |of: usize| {
            let option = &study.options[of];
            usize::from(option.strength_gain.is_some()) + usize::from(option.capacity_to_demand.is_some())
        };
        assert!(kept(1) > 0);
        assert_eq!(html.matches("class=\"chosen stale\"").count(), kept(1));
        assert_eq!(html.matches("class=\"stale\"").count(), kept(2));
        assert_eq!(html.matches("Before the last change").count(), kept(1) + kept(2));
    }

    #[test]
    fn what_follows_the_headlines_can_be_folded_away() {
        let matrix = Matrix::of(&sample::study(&sample::project(sample::CLINIC)), None, System::Si);
        let drawings = vec![Drawing::new(1.0, 1.0); matrix.columns.len()];
        let written = |unfolded| table(&matrix, &drawings, OptionKind::AsItStands, unfolded);
        assert!(written(false).contains("matrix folded") && written(false).contains("aria-expanded=\"false\""));
        assert!(!written(true).contains("matrix folded") && written(true).contains("aria-expanded=\"true\""));
        assert!(written(false).contains("Thirteen more figures"));
    }

    #[test]
    fn a_name_given_by_the_user_stays_text() {
        let mut project = sample::project(sample::CLINIC);
        project.schemes[0].name = "<img src=x>".to_owned();
        let matrix = Matrix::of(&sample::study(&project), None, System::Si);
        let html = table(&matrix, &vec![Drawing::new(1.0, 1.0); 7], OptionKind::AsItStands, true);
        assert!(!html.contains("<img") && html.contains("&lt;img src=x&gt;"));
    }

    #[test]
    fn small_numbers_are_words() {
        assert_eq!(number_word(7), "Seven");
        assert_eq!(number_word(26), "26");
    }
}
