//! A place pointed at as markup: what it is, how it fails, which measures fit.

use super::block::act;
use super::capacity_html::ratio;
use super::connections::{line_of, spot_of};
use super::connections_html::{name as joint_name, used};
use super::html::{Html, NONE, when};
use super::spot::Tried;
use crate::store::Choice;
use sisterframe_core::connection::ConnectionResult;
use sisterframe_core::fitting::{Capacity, Gain, Reach, Spot};
use sisterframe_core::glossary::Figure;
use sisterframe_core::measure::describe;
use sisterframe_core::project::{Building, Direction};
use sisterframe_core::reading::SpotWords;
use sisterframe_core::study::OptionResult;
use sisterframe_core::units::{Dimension, System, show};

/// What stands for a figure that is on its way.
const COMING: &str = "…";
/// What stands for a figure that is withheld.
const WITHHELD: &str = "–";

/// What the panel is written from.
pub struct Panel<'a> {
    /// The place.
    pub spot: Spot,
    /// The same in words.
    pub words: SpotWords,
    /// The building.
    pub building: &'a Building,
    /// The option looked at with its place among all; a rebuild is taken for the building as it stands.
    pub option: Option<(usize, &'a OptionResult)>,
    /// The connection opened last.
    pub joint: Option<(usize, usize)>,
    /// Letter and name of the scheme measures go to; none for a new one.
    pub scheme: Option<(String, String)>,
    /// How far measures reach.
    pub reach: Reach,
    /// What has been tried so far.
    pub tried: Option<&'a Tried>,
    /// Units.
    pub system: System,
}

/// The panel.
pub fn panel(panel: &Panel<'_>) -> String {
    let mut html = Html::default();
    html.raw("<section id=\"spot-panel\" class=\"spot\" aria-labelledby=\"spot-name\"><div class=\"spot-head\">");
    html.leaf("h2", &[("id", "spot-name"), ("aria-live", "polite")], &panel.words.name);
    html.leaf(
        "button",
        &[("type", "button"), ("id", "spot-close"), ("class", "quiet"), ("data-act", &act(Choice::Spot(None)))],
        "Close",
    );
    html.raw("</div><div class=\"spot-body\"><div class=\"spot-known\">");
    facts(&mut html, &panel.words);
    failing(&mut html, panel);
    joints(&mut html, panel);
    html.raw("</div><div class=\"spot-measures\"><h3>Measures that fit");
    html.ask(Figure::MeasureGain, "spot");
    html.close("h3");
    reaches(&mut html, panel);
    measures(&mut html, panel);
    html.raw("</div></div></section>");
    html.finish()
}

fn facts(html: &mut Html, words: &SpotWords) {
    html.raw("<dl class=\"spot-facts\">");
    for fact in &words.facts {
        html.raw("<div><dt>");
        html.words(fact.label);
        if let Some(figure) = fact.figure {
            html.ask(figure, "spot");
        }
        html.raw("</dt>");
        html.leaf("dd", &[NONE], &fact.text);
        html.close("div");
    }
    html.close("dl");
}

fn failing(html: &mut Html, panel: &Panel<'_>) {
    let words = &panel.words;
    if !words.failing.is_empty() {
        html.raw("<h3>How it fails");
        html.ask(Figure::MemberFailure, "spot");
        html.raw("</h3><table class=\"numbers spot-failing\"><thead><tr><td></td>");
        let drift = match panel.spot {
            Spot::Storey { .. } => "Reached at a drift of",
            Spot::Line { .. } => "First lost at a drift of",
            Spot::Column { .. } | Spot::Bay { .. } => "Holds to a drift of",
        };
        for title in ["Gives way by", "Strength", "Elastic demand", drift] {
            html.leaf("th", &[("scope", "col")], title);
        }
        html.raw("</tr></thead><tbody>");
        for row in &words.failing {
            html.raw("<tr>");
            html.leaf("th", &[("scope", "row")], &row.what);
            html.leaf("td", &[("class", "word")], &row.gives);
            for cell in [&row.strength, &row.demand, &row.drift] {
                html.leaf("td", &[NONE], cell);
            }
            html.close("tr");
        }
        html.raw("</tbody></table>");
    }
    ways(html, words);
    backbones(html, words);
    for note in &words.notes {
        html.leaf("p", &[("class", "spot-note")], note);
    }
}

/// The strengths of a column or wall one by one, the least in bold.
fn ways(html: &mut Html, words: &SpotWords) {
    if words.ways.rows.is_empty() {
        return;
    }
    html.raw("<h3>Strengths one by one");
    html.ask(Figure::Ways, "spot");
    html.raw("</h3><table class=\"numbers spot-failing spot-corners spot-ways\"><thead><tr><td></td>");
    for head in &words.ways.heads {
        html.leaf("th", &[("scope", "col")], head);
    }
    html.raw("</tr></thead><tbody>");
    for row in &words.ways.rows {
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], row.label);
        for (cell, is_least) in &row.cells {
            html.raw("<td>");
            html.leaf(if *is_least { "b" } else { "span" }, &[NONE], cell);
            html.close("td");
        }
        html.close("tr");
    }
    html.raw("</tbody></table>");
}

/// The line of shear over drift of a column, each way.
fn backbones(html: &mut Html, words: &SpotWords) {
    if words.backbones.is_empty() {
        return;
    }
    html.raw("<h3>Shear and drift");
    html.ask(Figure::Backbone, "spot");
    html.raw("</h3><table class=\"numbers spot-failing spot-corners\"><thead><tr><td></td>");
    for title in ["Has its strength at", "Keeps it to", "Has lost it by", "Drops its load at"] {
        html.leaf("th", &[("scope", "col")], title);
    }
    html.raw("</tr></thead><tbody>");
    for row in &words.backbones {
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], &row.what);
        for cell in &row.corners {
            html.leaf("td", &[NONE], cell);
        }
        html.close("tr");
    }
    html.raw("</tbody></table>");
}

/// Connections named at a place before the others are left to their sheet.
const NAMED: usize = 4;

/// Connections of the option at the place, the one come from and then the most used first, each one
/// click away.
fn joints(html: &mut Html, panel: &Panel<'_>) {
    let Some((place, option)) = panel.option else { return };
    let is_here = |own: &ConnectionResult| {
        let spot = spot_of(own, panel.building);
        match panel.spot {
            // A line is seen with all that lies on it.
            Spot::Line { direction, line } => {
                (direction == Direction::X) == own.along_x
                    && line_of(&own.line, direction, panel.building) == Some(line)
            }
            Spot::Storey { storey } => own.storey == storey,
            Spot::Column { .. } | Spot::Bay { .. } => spot == Some(panel.spot),
        }
    };
    let mut found: Vec<(usize, &ConnectionResult)> =
        option.connections.iter().enumerate().filter(|(_, own)| is_here(own)).collect();
    if found.is_empty() {
        return;
    }
    sisterframe_core::order::sort_by(&mut found, |one, other| {
        let of = |own: &ConnectionResult| own.utilisation().unwrap_or(-1.0);
        of(other.1).total_cmp(&of(one.1))
    });
    // The one come from leads back.
    let come_from = panel.joint.filter(|own| own.0 == place).map(|own| own.1);
    if let Some(at) = found.iter().position(|own| Some(own.0) == come_from) {
        found[..=at].rotate_right(1);
    }
    html.raw("<h3>Connections here");
    html.ask(Figure::ConnectionUse, "spot");
    html.raw("</h3><ul class=\"spot-joints\">");
    for (index, own) in &found[..NAMED.min(found.len())] {
        html.raw("<li>");
        let act = act(Choice::Joint((place, *index)));
        let id = format!("spot-{}", act.replace(':', "-"));
        html.leaf("button", &[("type", "button"), ("id", &id), ("data-act", &act)], &joint_name(own));
        let words =
            own.utilisation().map_or_else(|| ": withheld".to_owned(), |value| format!(": used to {}", used(value)));
        html.words(&words);
        html.raw("</li>");
    }
    html.close("ul");
    if found.len() > NAMED {
        html.leaf("p", &[("class", "note")], &format!("{} more on the sheet of connections.", found.len() - NAMED));
    }
}

/// Chooses how far measures reach.
fn reaches(html: &mut Html, panel: &Panel<'_>) {
    let all = panel.spot.reaches(panel.building);
    html.raw("<div class=\"chooser\" role=\"group\" aria-label=\"How far the measure reaches\">");
    for (place, reach) in all.iter().enumerate() {
        let pressed = if *reach == panel.reach { "true" } else { "false" };
        let place = place.to_string();
        let id = format!("spot-reach-{place}");
        html.leaf(
            "button",
            &[("type", "button"), ("id", &id), ("data-reach", &place), ("aria-pressed", pressed)],
            &panel.spot.reach_in_words(*reach, panel.building),
        );
    }
    html.close("div");
}

fn measures(html: &mut Html, panel: &Panel<'_>) {
    let into = match &panel.scheme {
        Some((letter, name)) => format!("Tried one at a time on {letter} {name}, and added there."),
        None => "Tried one at a time on the building as it stands, and added in a new scheme.".to_owned(),
    };
    let weakest = match panel.spot {
        Spot::Line { .. } => " A line runs through all storeys: the strength shown is that of the weakest.",
        _ => "",
    };
    html.leaf("p", &[("class", "note")], &format!("{into}{weakest}"));
    let Some(tried) = panel.tried else {
        html.leaf("p", &[("class", "note")], "Looking for what fits.");
        return;
    };
    let stale = if tried.is_stale { "numbers spot-fits stale" } else { "numbers spot-fits" };
    html.raw("<div class=\"scroller\" id=\"spot-table\">");
    html.open("table", &[("class", stale)]);
    let storeys = tried.gains.iter().flatten().next().map(|gain| gain.storey);
    html.raw("<thead><tr><td></td><th scope=\"colgroup\" colspan=\"2\">");
    html.words(&match (panel.spot.storey(), storeys) {
        (Some(storey), _) => format!("Strength of storey {storey}"),
        (None, Some([x, y])) if x == y => format!("Strength of storey {x}"),
        _ => "Storey strength".to_owned(),
    });
    html.ask(Figure::StoreyStrength, "spot");
    html.raw("</th><th scope=\"colgroup\" colspan=\"2\">Capacity ÷ demand");
    html.ask(Figure::CapacityToDemand, "spot");
    html.raw("</th><td class=\"on-screen\"></td></tr><tr><td></td>");
    for direction in Direction::BOTH {
        let own = storeys.filter(|[x, y]| x != y).map(|storeys| storeys[direction.index()]);
        let storey = own.map_or_else(String::new, |storey| format!(", storey {storey}"));
        html.leaf("th", &[("scope", "col")], &format!("{}{storey}", direction.label()));
    }
    for direction in Direction::BOTH {
        html.leaf("th", &[("scope", "col")], direction.label());
    }
    html.raw("<td class=\"on-screen\"></td></tr></thead><tbody>");
    before(html, panel, storeys);
    for (place, fit) in tried.fits.iter().enumerate() {
        html.raw("<tr>");
        html.raw("<th scope=\"row\"><b>");
        html.words(fit.measure.label());
        html.raw("</b>");
        html.note(&describe(&fit.measure, panel.building).in_units(panel.system));
        html.close("th");
        if let Some(problem) = &fit.problem {
            html.open("td", &[("colspan", "5"), ("class", "word")]);
            html.words(&format!("Does not fit: {}.", problem.in_units(panel.system)));
            html.raw("</td></tr>");
            continue;
        }
        gains(html, tried.gains.get(place).copied(), panel.system);
        capacities(html, tried.capacities.get(place).copied());
        html.raw("<td class=\"on-screen\">");
        let into =
            panel.scheme.as_ref().map_or_else(|| "in a new scheme".to_owned(), |(letter, _)| format!("to {letter}"));
        let place = place.to_string();
        html.leaf(
            "button",
            &[
                ("type", "button"),
                ("class", "add"),
                ("id", &format!("spot-add-{place}")),
                ("data-add", &place),
                ("aria-label", &format!("Add {into}: {}", fit.measure.label().to_lowercase())),
            ],
            &format!("Add {into}"),
        );
        html.raw("</td></tr>");
    }
    html.raw("</tbody></table></div>");
    let falls = |gain: &Gain| (0..2).any(|index| gain.then_kn[index] < 0.99 * gain.now_kn[index]);
    if tried.gains.iter().flatten().any(falls) {
        html.leaf("p", &[("class", "spot-note")], FALLS);
    }
}

/// Why a measure can make a storey weaker.
const FALLS: &str = "A measure can make a storey weaker: what is stiff draws force, and if it is lost before the others \
    have come up to strength, they do not add up.";

/// The option without any of them.
fn before(html: &mut Html, panel: &Panel<'_>, weakest: Option<[u32; 2]>) {
    let Some((_, option)) = panel.option else { return };
    html.raw("<tr class=\"as-is\"><th scope=\"row\">As it is</th>");
    for (index, label) in ["Strength along x", "Strength along y"].into_iter().enumerate() {
        let result = option.directions.iter().find(|own| own.along_x == (index == 0));
        let storey = panel.spot.storey().or(weakest.map(|own| own[index])).or(result.map(|own| own.strength_storey));
        let row = result.zip(storey).and_then(|(result, storey)| result.storeys.get(storey as usize - 1));
        let text =
            row.map_or_else(|| WITHHELD.to_owned(), |row| show(row.strength_kn, Dimension::Kilonewtons, panel.system));
        html.leaf("td", &[("data-label", label)], &text);
    }
    for (index, label) in CAPACITY.into_iter().enumerate() {
        let result = option.directions.iter().find(|own| own.along_x == (index == 0));
        let own = result.and_then(|result| result.capacity.as_ref());
        let text =
            if option.pending { COMING.to_owned() } else { own.map_or(WITHHELD.to_owned(), |own| ratio(own.ratio)) };
        html.leaf("td", &[("data-label", label)], &text);
    }
    html.raw("<td class=\"on-screen\"></td></tr>");
}

const CAPACITY: [&str; 2] = ["Capacity ÷ demand along x", "Capacity ÷ demand along y"];

/// Strengths with the measure; nothing yet, or withheld.
fn gains(html: &mut Html, gain: Option<Option<Gain>>, system: System) {
    for (index, label) in ["Strength along x", "Strength along y"].into_iter().enumerate() {
        html.open("td", &[("data-label", label)]);
        match gain {
            Some(Some(gain)) => {
                let (now, then) = (gain.now_kn[index], gain.then_kn[index]);
                html.leaf("b", &[NONE], &change(now, then));
                html.note(&show(then, Dimension::Kilonewtons, system));
            }
            Some(None) => html.words(WITHHELD),
            None => {
                html.words(COMING);
                // Keeps the row as high as it will be.
                html.note("\u{a0}");
            }
        }
        html.close("td");
    }
}

/// A change as a share of what was, signed.
fn change(now: f64, then: f64) -> String {
    if now <= 0.0 {
        return "new".to_owned();
    }
    let percent = (100.0 * (then / now - 1.0)).round();
    match percent {
        0.0 => "±0\u{a0}%".to_owned(),
        more if more > 0.0 => format!("+{more:.0}\u{a0}%"),
        less => format!("−{:.0}\u{a0}%", -less),
    }
}

fn capacities(html: &mut Html, capacity: Option<Option<Capacity>>) {
    for (index, label) in CAPACITY.into_iter().enumerate() {
        let text = match capacity {
            Some(Some(Capacity(both))) => both[index].map_or(WITHHELD.to_owned(), ratio),
            Some(None) => WITHHELD.to_owned(),
            None => COMING.to_owned(),
        };
        html.leaf("td", &[("data-label", label), when(text == COMING, "aria-busy", "true")], &text);
    }
}

/// What stands in the panel's place while nothing is pointed at.
pub fn invitation() -> String {
    let mut html = Html::default();
    html.leaf(
        "p",
        &[("class", "note on-screen")],
        "Point at a column, a bay, a line’s bubble or a storey, or walk there with Tab and the arrow keys: what it is, how \
         it fails and which measures fit there.",
    );
    html.finish()
}
