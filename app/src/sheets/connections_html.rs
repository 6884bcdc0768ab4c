//! Connections as markup.

use super::block::act;
use super::html::{Html, NONE, when};
use crate::drawing::{joint_drawings, size_bar};
use crate::store::Choice;
use sisterframe_core::connection::{Check, ConnectionKind, ConnectionResult, Quantity, Symbol};
use sisterframe_core::evaluate::Proposed;
use sisterframe_core::glossary::Figure;
use sisterframe_core::place::Place;
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use sisterframe_core::units::{Dimension, System, grouped, number, show};

/// Rows shown before the others are folded away.
const SHOWN: usize = 14;
/// Utilisation at the end of a bar, and the width of one, px.
const BAR: (f64, f64) = (2.0, 72.0);

/// A connection with the option it belongs to.
pub struct Listed<'s> {
    /// Place among the options and among their connections.
    pub key: (usize, usize),
    /// The option.
    pub option: &'s OptionResult,
    /// The connection.
    pub connection: &'s ConnectionResult,
}

/// Chooses an option, or all.
pub fn choosers(html: &mut Html, study: &Study, chosen: OptionKind, every: bool) {
    html.raw("<div class=\"choosers\"><div class=\"chooser\" role=\"group\" aria-label=\"Option\">");
    html.choice("joints-every", "", "joints:every", every, "", "All schemes");
    for option in study.options.iter().filter(|option| matches!(option.kind, OptionKind::Scheme { .. })) {
        let act = act(Choice::Option(option.kind));
        let pressed = !every && option.kind == chosen;
        html.choice(&format!("joints-{act}"), "", &act, pressed, &option.letter, &option.name);
    }
    html.raw("</div></div>");
}

/// A connection by name.
pub fn name(of: &ConnectionResult) -> String {
    let kind = of.kind.label();
    let mut letters = kind.chars();
    let kind = letters.next().map_or_else(String::new, |first| format!("{}{}", first.to_uppercase(), letters.as_str()));
    let bays = match of.bays {
        [0, _] => String::new(),
        [first, last] if first == last => format!(", bay {first}"),
        [first, last] => format!(", bays {first} to {last}"),
    };
    match (&of.place, of.kind) {
        // Of the feet of a line the most used stands for all.
        (Place::Column { x, y, .. }, ConnectionKind::Footing) => {
            format!("{kind}, column {y}-{x}, most used on line {}", of.line)
        }
        (Place::Column { x, y, .. }, _) => {
            let way = if of.along_x { "x" } else { "y" };
            format!("{kind}, column {y}-{x}, storey {}, along {way}", of.storey)
        }
        (_, ConnectionKind::FloorSpan) => format!("{kind} {}, level {}", of.line, of.storey),
        (_, ConnectionKind::Footing) => format!("{kind}, line {}{bays}", of.line),
        (_, ConnectionKind::Perimeter) => format!("{kind}, line {}{bays}, storey {}", of.line, of.storey),
        (_, ConnectionKind::ConnectingSlab | ConnectionKind::FloorEdge) => {
            format!("{kind}, line {}, level {}", of.line, of.storey)
        }
        _ => format!("{kind}, line {}{bays}, level {}", of.line, of.storey),
    }
}

/// A utilisation in figures.
pub fn used(value: f64) -> String {
    if value < 100.0 { grouped(value, 2) } else { "nothing left".to_owned() }
}

/// The list, the most used first.
pub fn list(rows: &[Listed<'_>], opened: Option<(usize, usize)>, every: bool, whole: bool, system: System) -> String {
    let mut html = Html::shown_in(system);
    if rows.is_empty() {
        return html.finish();
    }
    html.raw("<h2>Demand against design strength");
    html.ask(Figure::ConnectionUse, "joints");
    html.raw("</h2>");
    html.open(
        "div",
        &[
            ("class", "scroller"),
            ("id", "joints-region"),
            ("role", "region"),
            ("aria-label", "Connections, the most used first"),
            ("tabindex", "0"),
        ],
    );
    html.raw("<table class=\"numbers joint-table\"><thead><tr>");
    for head in ["Connection", "Asked for", "Carries", "Used", "Set by"] {
        html.leaf("th", &[("scope", "col")], head);
    }
    html.raw("</tr></thead><tbody>");
    let shown = if whole { rows.len() } else { SHOWN.min(rows.len()) };
    for row in &rows[..shown] {
        let own = row.connection;
        let is_open = opened == Some(row.key);
        html.open("tr", &[when(is_open, "class", "chosen")]);
        html.raw("<th scope=\"row\">");
        let act = format!("joint:{}:{}", row.key.0, row.key.1);
        let letter = if every { row.option.letter.as_str() } else { "" };
        html.choice(&act.replace(':', "-"), "joint", &act, is_open, letter, &name(own));
        html.raw("</th>");
        match own.governing() {
            Some(check) => {
                let unit = check.part.dimension();
                html.leaf("td", &[NONE], &show(check.demand, unit, system));
                html.leaf("td", &[NONE], &show(check.design, unit, system));
                html.raw("<td class=\"used\">");
                html.leaf(if check.utilisation > 1.0 { "b" } else { "span" }, &[NONE], &used(check.utilisation));
                html.bar(&size_bar(check.utilisation.min(BAR.0), BAR.0, BAR.1));
                html.raw("</td>");
                html.leaf("td", &[("class", "set-by")], check.part.label());
            }
            None => html.raw("<td colspan=\"4\" class=\"set-by\">withheld: open it to see what is missing</td>"),
        }
        html.raw("</tr>");
    }
    html.raw("</tbody></table></div><p class=\"joint-acts\">");
    if rows.len() > SHOWN {
        let words = if whole { "Show the most used only".to_owned() } else { format!("Show all {}", rows.len()) };
        button(&mut html, "joints-whole", "joints:whole", &words);
    }
    button(&mut html, "joints-save", "joints:save", "Save as a table (TSV)");
    html.raw("</p>");
    html.finish()
}

fn button(html: &mut Html, id: &str, act: &str, words: &str) {
    html.leaf("button", &[("type", "button"), ("id", id), ("class", "plain"), ("data-act", act)], words);
}

/// A connection opened: drawings, what acts, the working of every strength, remarks.
pub fn detail(row: &Listed<'_>, proposed: Option<&Option<Proposed>>, width: f64, system: System) -> String {
    let own = row.connection;
    let mut html = Html::shown_in(system);
    html.raw("<h2>");
    if !row.option.letter.is_empty() {
        html.leaf("b", &[("class", "letter")], &row.option.letter);
        html.raw(" ");
    }
    html.words(&name(own));
    html.raw("</h2><p class=\"joint-acts\">");
    button(&mut html, "joints-show", "joints:show", "Show on the building");
    if own.kind == ConnectionKind::ConnectingSlab {
        button(&mut html, "joints-propose", "joints:propose", "Propose a slab");
    }
    html.raw("</p>");
    if let Some(proposed) = proposed {
        html.leaf("p", &[("class", "proposal"), ("role", "status")], &proposal(proposed.as_ref(), system));
    }
    html.raw("<div class=\"joint-pictures\">");
    for (title, drawing) in joint_drawings(own, width, system) {
        html.raw("<figure>");
        html.drawing(&drawing, "joint-picture");
        html.leaf("figcaption", &[NONE], &format!("{title}, to scale"));
        html.raw("</figure>");
    }
    html.raw("</div>");
    html.leaf("h3", &[NONE], "What acts");
    html.words(&format!("Set by: {}.", own.bound.label()));
    quantities(&mut html, &own.acting, system);
    for (index, check) in own.checks.iter().enumerate() {
        working(&mut html, check, own.governing == Some(index), system);
    }
    html.open("details", &[("id", "joint-given")]);
    html.leaf("summary", &[NONE], "Sizes, bars and concretes");
    quantities(&mut html, &own.given, system);
    html.raw("</details>");
    if !own.remarks.is_empty() {
        html.leaf("h3", &[NONE], "To bear in mind");
        html.raw("<ul class=\"remarks\">");
        for remark in &own.remarks {
            html.leaf("li", &[NONE], remark.words());
        }
        html.raw("</ul>");
    }
    html.finish()
}

/// What became of a proposal.
fn proposal(proposed: Option<&Proposed>, system: System) -> String {
    let mm = |value: f64| show(value, Dimension::Millimetres, system);
    match proposed {
        Some(Proposed::Slab(slab)) => format!(
            "At all floors of this frame a slab {} thick would do, with bars of {} at {} across the joint in {}, embedded {}, \
             and bars of {} at {} along it: used to {} when the scheme is computed with it. Enter it on the bench to take it.",
            mm(slab.thickness_mm),
            mm(slab.across_bar_mm),
            mm(slab.across_spacing_mm),
            if slab.across_layers > 1 { "two layers" } else { "one layer" },
            mm(slab.embedment_mm),
            mm(slab.along_bar_mm),
            mm(slab.along_spacing_mm),
            grouped(slab.utilisation, 2)
        ),
        Some(Proposed::None(none)) => format!(
            "No slab between 150 and 300 mm thick with bars of 13 to 25 mm at 100 to 300 mm will do: the {} stays at {} in the \
             best of them. A longer joint, a weaker frame, or bars drilled through the beam are ways on.",
            none.part.label(),
            used(none.utilisation)
        ),
        None => "There is nothing to propose for this frame: its results are withheld.".to_owned(),
    }
}

/// A symbol with its subscript.
fn sign(html: &mut Html, of: &str) {
    // A ratio of two symbols is written as such.
    if let Some((over, under)) = of.split_once('/') {
        sign(html, over);
        html.raw("/");
        sign(html, under);
        return;
    }
    match of.split_once('_') {
        Some((base, below)) => {
            html.leaf("i", &[NONE], base);
            html.leaf("sub", &[NONE], below);
        }
        None => html.leaf("i", &[NONE], of),
    }
}

fn quantities(html: &mut Html, of: &[Quantity], system: System) {
    html.raw("<dl class=\"quantities\">");
    for own in of {
        html.raw("<div><dt>");
        sign(html, own.symbol.sign());
        html.raw(" = ");
        html.words(&value(own, system));
        html.raw("</dt>");
        html.leaf("dd", &[NONE], own.symbol.words());
        html.raw("</div>");
    }
    html.raw("</dl>");
}

fn value(of: &Quantity, system: System) -> String {
    match of.symbol.dimension() {
        Dimension::Number => number(of.value, Dimension::Number, system),
        dimension => show(of.value, dimension, system),
    }
}

/// A strength: how it is written, with its figures, against what is asked.
fn working(html: &mut Html, check: &Check, governs: bool, system: System) {
    let unit = check.part.dimension();
    html.raw("<h3>");
    let mut label = check.part.label().to_owned();
    if let Some(first) = label.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    html.words(&label);
    html.words(&format!(": used to {}", used(check.utilisation)));
    if governs {
        html.words(", governs");
    }
    html.raw("</h3><p class=\"working\">");
    let parts = parts(check.formula);
    for part in &parts {
        if check.terms.iter().any(|term| term.symbol.sign() == *part) {
            sign(html, part);
        } else {
            symbols_of_others(html, part);
        }
    }
    // Figures are put in where every symbol has one.
    let known = |part: &str| check.terms.iter().any(|term| term.symbol.sign() == part);
    let is_symbol = |part: &str| part != "min" && part.chars().any(|c| c.is_alphabetic() || c == '_');
    if parts.iter().all(|part| known(part) || !is_symbol(part)) {
        html.raw(" <span>= ");
        for part in &parts {
            match check.terms.iter().find(|term| term.symbol.sign() == *part) {
                Some(term) => html.words(&value(term, system)),
                None => html.words(part),
            }
        }
        html.raw("</span>");
    }
    html.raw(" <span>= ");
    html.leaf("strong", &[NONE], &show(check.design, unit, system));
    html.raw("</span><br>");
    html.words(&format!("Asked for {}", show(check.demand, unit, system)));
    if check.term(Symbol::Overstrength).is_some() {
        html.words(", the force times the overstrength ");
        sign(html, Symbol::Overstrength.sign());
    }
    if check.term(Symbol::Peak).is_some_and(|peak| peak > 1.0) {
        html.words(", the force times the peak ");
        sign(html, Symbol::Peak.sign());
    }
    if check.capped {
        html.words("; the upper bound sets the strength");
    }
    html.words(".");
    html.leaf("span", &[("class", "note")], check.source);
    html.raw("</p>");
    quantities(html, &check.terms, system);
}

/// What stands between the terms of a formula, symbols without a figure of their own included.
fn symbols_of_others(html: &mut Html, part: &str) {
    if part.contains('_') { sign(html, part) } else { html.words(part) }
}

/// A formula in symbols and what stands between them.
fn parts(formula: &str) -> Vec<&str> {
    let in_symbol = |c: char| c.is_alphanumeric() || c == '_';
    let mut found = Vec::new();
    let mut rest = formula;
    while let Some(first) = rest.chars().next() {
        let symbol = in_symbol(first);
        let end = rest.find(|c: char| in_symbol(c) != symbol).unwrap_or(rest.len());
        let (part, after) = rest.split_at(end);
        found.push(part);
        rest = after;
    }
    found
}

/// The list as tab-separated text, in the units shown.
pub fn table(rows: &[Listed<'_>], system: System) -> String {
    let mut text =
        "scheme\tconnection\tset by\tpart\tdemand\tdesign strength\tunit\tdemand / design strength\tsource\n"
            .to_owned();
    for row in rows {
        let own = row.connection;
        let head = format!("{}\t{}\t{}", row.option.letter, name(own), own.bound.label());
        if own.checks.is_empty() {
            text.push_str(&format!("{head}\twithheld\t\t\t\t\t\n"));
        }
        for check in &own.checks {
            let unit = check.part.dimension().unit(system);
            text.push_str(&format!(
                "{head}\t{}\t{:.1}\t{:.1}\t{}\t{}\t{}\n",
                check.part.label(),
                check.demand * unit.factor,
                check.design * unit.factor,
                unit.symbol,
                if check.utilisation < 1e6 { format!("{:.3}", check.utilisation) } else { "none left".to_owned() },
                check.source
            ));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Anchor, Drawing, Ink, Mark};
    use crate::sample;
    use sisterframe_core::evaluate::outline;
    use sisterframe_core::project::{JacketFaces, Measure, Project};

    #[test]
    fn formulas_fall_into_symbols_and_what_stands_between() {
        assert_eq!(
            parts("φ·min(μ·(C − T), V_max)"),
            ["φ", "·", "min", "(", "μ", "·(", "C", " − ", "T", "), ", "V_max", ")"]
        );
    }

    #[test]
    fn a_ratio_of_symbols_has_the_subscript_of_each() {
        let mut html = Html::default();
        sign(&mut html, Symbol::Flexibility.sign());
        assert_eq!(html.finish(), "<i>δ</i><sub>d</sub>/<i>δ</i><sub>s</sub>");
    }

    #[test]
    fn every_connection_of_the_demos_is_listed_and_worked_out() {
        let project = sample::project(sample::CLINIC);
        let study = outline(&project);
        for (place, option) in study.options.iter().enumerate() {
            let rows: Vec<Listed<'_>> = option
                .connections
                .iter()
                .enumerate()
                .map(|(index, connection)| Listed { key: (place, index), option, connection })
                .collect();
            for system in [System::Si, System::Us] {
                let listed = list(&rows, None, true, true, system);
                assert_eq!(listed.matches("<tr").count(), if rows.is_empty() { 0 } else { rows.len() + 1 });
                let lines = table(&rows, system).lines().count();
                let checks: usize = rows.iter().map(|row| row.connection.checks.len().max(1)).sum();
                assert_eq!(lines, checks + 1);
            }
            for row in &rows {
                let opened = detail(row, None, 400.0, System::Us);
                for check in &row.connection.checks {
                    // Every formula is given with figures, in the units shown, and its source.
                    assert!(opened.contains(check.source), "{}", check.source);
                    assert!(!opened.contains("kN"), "{opened}");
                }
            }
        }
    }

    /// Texts are taken to be as wide as their letters at their size.
    fn outside(drawing: &Drawing, mark: &Mark, ink: Ink) -> bool {
        let Mark::Text { at: [x, y], anchor, text } = mark else { return false };
        let letter = if matches!(ink, Ink::Small) { 6.3 } else { 7.4 };
        let long = letter * text.chars().count() as f64;
        let left = match anchor {
            Anchor::Start => *x,
            Anchor::Middle => x - long / 2.0,
            Anchor::End => x - long,
        };
        left < -2.0 || left + long > drawing.width + 2.0 || *y < 8.0 || *y > drawing.height
    }

    /// The project with its jackets on one face, or on three, by their place in the scheme.
    fn opened(mut project: Project) -> Project {
        for scheme in &mut project.schemes {
            for (place, own) in scheme.measures.iter_mut().enumerate() {
                if let Measure::Jacket(own) = own {
                    let (faces, bars) =
                        if place % 2 == 0 { (JacketFaces::HigherX, 4) } else { (JacketFaces::ThreeNotLowerY, 12) };
                    (own.faces, own.bars, own.hoop_embedment_mm) = (faces, bars, Some(200.0));
                }
            }
        }
        project
    }

    #[test]
    fn every_kind_of_connection_is_drawn_with_its_words() {
        let mut drawn = [0; ConnectionKind::ALL.len()];
        let demos = crate::store::demos().iter().map(|demo| (demo.key, (*demo.project).clone()));
        let open = opened(sample::project(sample::CLINIC));
        for (key, project) in demos.chain([("clinic with open jackets", open)]) {
            let study = outline(&project);
            for connection in study.options.iter().flat_map(|option| &option.connections) {
                for (width, system) in [(430.0, System::Si), (320.0, System::Si), (320.0, System::Us)] {
                    let drawings = joint_drawings(connection, width, system);
                    let which = format!("{key}, {}, {width}, {system:?}", name(connection));
                    // What is in balance is shown.
                    assert!(connection.free_body().is_none() || !drawings.is_empty(), "{which}");
                    for (title, drawing) in &drawings {
                        assert!(!drawing.words.is_empty() && drawing.width == width, "{which}, {title}");
                        let markup = drawing.markup();
                        assert!(!markup.contains("NaN") && !markup.contains("inf"), "{which}, {title}: {markup}");
                        let foreign = if system == System::Us { ["kN", " mm"] } else { ["kip", " in"] };
                        let all = format!("{markup}{}", drawing.words);
                        let foreign = foreign.iter().find(|unit| all.contains(&format!("{unit}<")));
                        assert!(foreign.is_none(), "{which}, {title}: {foreign:?}");
                        for shape in &drawing.shapes {
                            assert!(!outside(drawing, &shape.mark, shape.ink), "{which}, {title}: {:?}", shape.mark);
                        }
                    }
                    if !drawings.is_empty() {
                        drawn[ConnectionKind::ALL.iter().position(|kind| *kind == connection.kind).unwrap_or(0)] += 1;
                    }
                }
            }
        }
        assert!(drawn.iter().all(|count| *count > 0), "{drawn:?}");
    }
}
