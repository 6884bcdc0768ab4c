//! The load path as markup.

use super::block::act;
use super::direction_chooser;
use super::html::{Html, NONE, rem, when};
use super::ledger::{Ledger, LedgerRow, LineRow, SlabRow, StoreyRow, level_name};
use crate::drawing::{Body, Drawing, Flow, Rows, free_body};
use crate::store::Choice;
use sisterframe_core::glossary::Figure;
use sisterframe_core::project::Direction;
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use sisterframe_core::units::{Dimension, System, show};

/// Chooses option and direction.
pub fn choosers(html: &mut Html, study: &Study, chosen: OptionKind, direction: Direction) {
    html.raw("<div class=\"choosers\"><div class=\"chooser\" role=\"group\" aria-label=\"Option\">");
    for option in study.options.iter().filter(|option| option.kind != OptionKind::Rebuild) {
        let act = act(Choice::Option(option.kind));
        html.choice(&format!("path-{act}"), "", &act, option.kind == chosen, &option.letter, &option.name);
    }
    html.close("div");
    direction_chooser(html, "Direction of the load path", "path", direction);
    html.close("div");
}

/// What the drawing shows and how to read it.
pub fn lead(html: &mut Html, option: &OptionResult, direction: Direction, flow: &Flow) {
    let letter = if option.letter.is_empty() { String::new() } else { format!("{} ", option.letter) };
    html.raw("<p class=\"lead\">");
    html.leaf("strong", &[NONE], &format!("{letter}{}, {}. ", option.name, direction.label()));
    html.words(
        "Forces of the elastic spectrum, not divided by any factor. The width of a band is its force, on one scale; \
         heights are to scale, lengths are not.",
    );
    html.words(match flow.frames.len() {
        0 => "",
        1 => " The external frame stands in front of the building, parallel to it; it is drawn unfolded beside it.",
        _ => {
            " The external frames stand in front of the building, parallel to it; they are drawn unfolded beside it, \
             and as one."
        }
    });
    html.raw("<span class=\"on-screen\"> Pick a floor to cut it free.</span></p>");
}

/// The storey ledger with the drawing beside it, and the same drawing for above it.
pub fn ledger(ledger: &Ledger, rows: &Rows, [wide, alone]: [&Drawing; 2], floor: Option<u32>) -> String {
    let mut html = Html::shown_in(ledger.system);
    html.raw("<div class=\"stream-alone\">");
    html.drawing(alone, "flow");
    html.close("div");
    let class = if ledger.has_slabs { "ledger with-slabs" } else { "ledger" };
    html.open("table", &[("class", class), ("role", "table")]);
    html.leaf(
        "caption",
        &[("class", "read-only-aloud")],
        "Storey ledger, from the roof down: storeys and the floors between them by turns",
    );
    html.raw("<thead role=\"rowgroup\"><tr role=\"row\"><td role=\"cell\" class=\"ledger-picture\"></td>");
    html.raw("<td role=\"cell\" class=\"corner\"></td>");
    let slabs = [Figure::SlabDemand, Figure::ShearFriction, Figure::StripShear, Figure::Utilisation];
    let heads = [Figure::StoreyShear, Figure::Shares, Figure::Drift].into_iter();
    for figure in heads.chain(slabs.into_iter().filter(|_| ledger.has_slabs)) {
        html.raw("<th role=\"columnheader\" scope=\"col\">");
        html.words(figure.title());
        html.ask(figure, "ledger");
        html.close("th");
    }
    html.raw("</tr></thead><tbody role=\"rowgroup\">");
    let count = ledger.rows.len();
    for (place, LedgerRow { level, storey, slabs }) in ledger.rows.iter().enumerate() {
        let is_chosen = floor == Some(storey.storey);
        let class = if is_chosen { "floor chosen" } else { "floor" };
        open_row(&mut html, class, rows.floor_px);
        if place == 0 {
            let span = (2 * count + 1).to_string();
            html.open("td", &[("class", "ledger-picture"), ("role", "cell"), ("rowspan", &span)]);
            html.drawing(wide, "flow");
            html.close("td");
        }
        html.raw("<th role=\"rowheader\" scope=\"row\">");
        let next = Choice::Floor((!is_chosen).then_some(storey.storey));
        html.choice(&format!("level-{}", storey.storey), "level", &act(next), is_chosen, "", level);
        html.raw("</th><td role=\"cell\" class=\"line\" colspan=\"3\"></td>");
        if !slabs.is_empty() {
            slab_cells(&mut html, slabs);
        }
        html.close("tr");
        let height = rows.storey_px.get(count - 1 - place).copied().unwrap_or(rows.floor_px);
        open_row(&mut html, "storey", height);
        storey_cells(&mut html, storey);
        if ledger.has_slabs {
            html.raw("<td role=\"cell\" class=\"empty\" colspan=\"4\"></td>");
        }
        html.close("tr");
    }
    open_row(&mut html, "ground", rows.ground_px);
    html.raw("<th role=\"rowheader\" scope=\"row\">Ground</th></tr></tbody></table>");
    html.finish()
}

fn open_row(html: &mut Html, class: &str, height_px: f64) {
    let height = format!("height:{}", rem(height_px));
    html.open("tr", &[("role", "row"), ("class", class), ("style", &height)]);
}

/// Figures of the connecting slabs of a level, the lesser strength underlined.
fn slab_cells(html: &mut Html, slabs: &[SlabRow]) {
    let cell = |html: &mut Html, label: &str, write: &dyn Fn(&mut Html, &SlabRow)| {
        html.open("td", &[("role", "cell"), ("class", "slab"), ("data-label", label)]);
        for slab in slabs {
            html.raw("<div class=\"one-slab\">");
            if let Some(face) = &slab.face {
                html.leaf("span", &[("class", "face")], face);
            }
            html.raw("<div>");
            write(html, slab);
            html.raw("</div></div>");
        }
        html.close("td");
    };
    let bound = |html: &mut Html, text: &str| html.leaf("span", &[("class", "note bound")], text);
    let strength = |html: &mut Html, text: &str, governs: bool| {
        if governs {
            html.leaf("u", &[("class", "governs")], text);
            html.raw("<span class=\"read-only-aloud\"> governs</span>");
        } else {
            html.words(text);
        }
    };
    cell(html, "Slab demand", &|html, slab| {
        html.leaf("b", &[NONE], &slab.demand);
        bound(html, slab.bound);
    });
    cell(html, "Shear friction φVₙ", &|html, slab| {
        strength(html, &slab.friction, slab.friction_governs);
        if slab.anchorage_limited {
            bound(html, "by anchorage");
        }
        if let Some(peak) = &slab.peak {
            bound(html, &format!("÷ {peak} for peaks"));
        }
    });
    cell(html, "Strip in shear φVₙ", &|html, slab| strength(html, &slab.strip, !slab.friction_governs));
    cell(html, "Utilisation", &|html, slab| {
        html.leaf("b", &[NONE], &slab.utilisation);
        bound(html, if slab.short { "too weak" } else { "carries" });
        if let Some(weaker) = &slab.weaker {
            bound(html, weaker);
        }
    });
}

fn storey_cells(html: &mut Html, storey: &StoreyRow) {
    html.leaf("th", &[("role", "rowheader"), ("scope", "row")], &format!("Storey {}", storey.storey));
    html.raw("<td role=\"cell\" data-label=\"Storey shear\">");
    html.leaf("b", &[NONE], &storey.shear);
    html.raw("</td><td role=\"cell\" data-label=\"Shares\">");
    html.bar(&storey.bar);
    html.raw("<p class=\"shares\">");
    for (class, share) in &storey.shares {
        html.raw("<span class=\"share\">");
        html.words(share);
        html.raw(" ");
        html.note(class.label());
        html.raw("</span> ");
    }
    html.raw("</p></td><td role=\"cell\" data-label=\"Storey drift\">");
    html.words(&storey.drift);
    html.raw(" ");
    html.note(&storey.part);
    html.close("td");
}

/// Connecting slabs of a level seen from above; nothing without any.
pub fn strips(level: u32, drawings: &[Drawing]) -> String {
    if drawings.is_empty() {
        return String::new();
    }
    let mut html = Html::default();
    html.leaf("h2", &[NONE], &format!("Connecting slab from above, level {level}"));
    html.leaf(
        "p",
        &[("class", "note")],
        "The slab works in shear in its own plane: one edge is pushed with the building, the other held by the frame. \
         Across the face the drawing is widened.",
    );
    for drawing in drawings {
        html.drawing(drawing, "strip");
    }
    html.finish()
}

/// A floor cut free, with the forces on it; nothing without results.
pub fn cut_free(level: u32, storeys: usize, bodies: &[Body], system: System) -> String {
    if bodies.is_empty() {
        return String::new();
    }
    let mut html = Html::default();
    html.raw("<h2>A floor cut free: ");
    html.words(&level_name(level, storeys).to_lowercase());
    html.ask(Figure::FloorForce, "cut");
    html.raw("</h2><div class=\"chooser\" role=\"group\" aria-label=\"Floor cut free\">");
    for own in 1..=storeys as u32 {
        let act = act(Choice::Floor(Some(own)));
        html.choice(&format!("cut-{own}"), "", &act, own == level, "", &level_name(own, storeys));
    }
    html.close("div");
    let most = bodies.iter().flat_map(|body| &body.terms).map(|term| term.force_kn.abs()).fold(0.0, f64::max);
    for body in bodies {
        floor(&mut html, body, most, system);
    }
    html.finish()
}

fn floor(html: &mut Html, body: &Body, most_kn: f64, system: System) {
    let force = |value: f64| show(value, Dimension::Kilonewtons, system);
    html.raw("<div class=\"body\">");
    html.drawing(&free_body(body, most_kn, system), "free-body");
    html.raw("<table class=\"numbers\">");
    html.leaf("caption", &[NONE], &body.name);
    html.raw("<tbody>");
    let row = |html: &mut Html, name: &str, value: f64| {
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], name);
        html.leaf("td", &[NONE], &force(value));
        html.close("tr");
    };
    for term in &body.terms {
        row(html, &term.name, term.force_kn);
    }
    html.raw("</tbody><tfoot>");
    // What is left below a millionth is rounding, not force.
    let rest = body.rest_kn();
    row(html, "Sum", if rest.abs() <= 1e-6 * most_kn { 0.0 } else { rest });
    html.raw("</tfoot></table></div>");
}

/// What every frame line carries; nothing without results.
pub fn lines(rows: &[LineRow], direction: Direction, system: System) -> String {
    let Some(first) = rows.first() else { return String::new() };
    let force = Dimension::Kilonewtons.unit(system).symbol;
    let length = Dimension::Millimetres.unit(system).symbol;
    let mut html = Html::default();
    html.raw("<h2>What each line carries, ");
    html.words(direction.label());
    html.ask(Figure::LineShear, "lines");
    html.close("h2");
    html.leaf(
        "p",
        &[("class", "note")],
        &format!(
            "Storey shear ({force}); below it the shear with accidental eccentricity (“with ecc.”) to the worse side, and the drift \
             of the line ({length}). ▲ marks a line that carries clearly more than in the building as it stands; “was” is \
             what it carried there, with eccentricity."
        ),
    );
    html.open(
        "div",
        &[
            ("class", "scroller"),
            ("id", "lines-region"),
            ("role", "region"),
            ("aria-label", "Shears of the lines"),
            ("tabindex", "0"),
        ],
    );
    html.raw("<table class=\"numbers\"><thead><tr><th scope=\"col\">Line</th><th scope=\"col\">Stands at</th>");
    for storey in 1..=first.cells.len() {
        html.leaf("th", &[("scope", "col")], &format!("Storey {storey}"));
    }
    html.raw("</tr></thead><tbody>");
    for row in rows {
        let worse = row.is_worse();
        html.open("tr", &[when(worse, "class", "worse-line")]);
        html.raw("<th scope=\"row\">");
        html.words(&row.name);
        html.raw(if worse { " ▲" } else { "" });
        html.note(if row.external { "external frame" } else { "frame line" });
        html.close("th");
        html.leaf("td", &[NONE], &row.ordinate);
        for cell in &row.cells {
            html.raw("<td>");
            html.leaf("b", &[NONE], &cell.shear);
            html.note(&format!("with ecc. {}", cell.with_accidental));
            if let Some(before) = &cell.before {
                html.leaf("span", &[("class", "note worse")], &format!("▲ was {before}"));
            }
            html.note(&format!("drift {}", cell.drift));
            html.close("td");
        }
        html.close("tr");
    }
    html.raw("</tbody></table></div>");
    html.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::bodies;
    use crate::sample;

    fn study() -> Study {
        sample::study(&sample::project(sample::CLINIC))
    }

    #[test]
    fn the_ledger_has_a_row_for_every_floor_and_storey_and_one_underlined_strength_a_slab() {
        let study = study();
        let found = Ledger::of(&study.options[5], Direction::X, System::Si).expect("along x there are results");
        let rows = Rows::of(&[3.8, 3.4, 3.4, 3.4], 2);
        let drawing = Drawing::new(1.0, 1.0);
        let html = ledger(&found, &rows, [&drawing, &drawing], Some(2));
        assert_eq!(html.matches("class=\"floor").count(), 4);
        assert_eq!(html.matches("class=\"storey\"").count(), 4);
        assert_eq!(html.matches("class=\"governs\"").count(), 8, "two slabs at each of four levels");
        assert_eq!(html.matches("aria-pressed=\"true\"").count(), 1);
        assert!(html.contains("data-act=\"floor:none\""), "pressing the picked floor lets it go");
    }

    #[test]
    fn a_floor_cut_free_shows_that_its_forces_sum_to_nothing() {
        let study = study();
        let bodies = bodies(&study.options[4], Direction::X, 2);
        let html = cut_free(2, 4, &bodies, System::Si);
        assert_eq!(html.matches("<th scope=\"row\">Sum</th><td>0\u{a0}kN</td>").count(), 2);
        assert!(cut_free(2, 4, &[], System::Si).is_empty());
    }

    #[test]
    fn a_line_made_worse_says_what_it_carried_before() {
        let study = study();
        let mut rows = super::super::ledger::lines(&study, &study.options[4], Direction::X, System::Si);
        rows[2].cells[0].before = Some("375".to_owned());
        let html = lines(&rows, Direction::X, System::Si);
        assert!(html.contains("▲ was 375") && html.contains("class=\"worse-line\""));
    }
}
