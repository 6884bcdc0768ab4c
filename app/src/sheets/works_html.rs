//! The works as markup.

use super::block::act;
use super::html::{Html, NONE, when};
use crate::drawing::Drawing;
use crate::store::Choice;
use sisterframe_core::glossary::Figure;
use sisterframe_core::reading;
use sisterframe_core::study::{Added, Band, OptionKind, SiteClosed, Study, WorksResult};
use sisterframe_core::units::{Dimension, System, grouped, show};
use sisterframe_core::works::calendar::in_words;
use sisterframe_core::works::cost::Term;
use sisterframe_core::works::programme::{Alternative, Figures, Pace, Programme, Step};
use sisterframe_core::works::{Room, RoomPlan};

/// Name of a step.
pub const fn step(step: Step) -> &'static str {
    match step {
        Step::MoveOut => "clear the room",
        Step::SetUp => "set up the site",
        Step::OpenUp => "protect, survey, open up",
        Step::BreakOut => "strip and break out",
        Step::Footing => "footings",
        Step::Roughen => "roughen and core",
        Step::BondBars => "drill and bond bars",
        Step::BarsAndForms => "fix bars and forms",
        Step::Cast => "cast",
        Step::Grout => "grout the top",
        Step::Finish => "finish",
        Step::HandBack => "hand back",
    }
}

/// Name of a pace.
pub const fn pace(pace: Pace) -> &'static str {
    match pace {
        Pace::Fast => "fast",
        Pace::Usual => "usual",
        Pace::Slow => "slow",
    }
}

/// Paces in their order.
pub const PACES: [Pace; 3] = [Pace::Fast, Pace::Usual, Pace::Slow];

/// Chooses the option; on paper the one chosen and the pace stand in its place.
pub fn choosers(study: &Study, chosen: OptionKind, at: Pace) -> String {
    let mut html = Html::default();
    if let Some(own) = study.options.iter().find(|own| own.kind == chosen) {
        let title = [own.letter.as_str(), own.name.as_str()].join(" ");
        let worked =
            if matches!(chosen, OptionKind::Scheme { .. }) { format!(", {} pace", pace(at)) } else { String::new() };
        html.open("p", &[("class", "on-paper")]);
        html.leaf("strong", &[NONE], title.trim());
        html.words(&worked);
        html.close("p");
    }
    html.raw("<div class=\"choosers\"><div class=\"chooser\" role=\"group\" aria-label=\"Option\">");
    for option in &study.options {
        let act = act(Choice::Option(option.kind));
        html.choice(&format!("works-{act}"), "", &act, option.kind == chosen, &option.letter, &option.name);
    }
    html.raw("</div></div>");
    html.finish()
}

/// Where the working times come from, and what is otherwise than set.
pub fn lead(times: &str, assumed: bool, alternative: Alternative) -> String {
    let mut html = Html::default();
    html.raw("<p class=\"lead\">");
    if alternative != Alternative::AsSet {
        html.leaf("strong", &[NONE], &format!("Run otherwise: {}. ", alternative.label().to_lowercase()));
        html.words("Labour, cost, owners’ answers and the other sheets are of the works as set. ");
    }
    if assumed {
        html.leaf("strong", &[NONE], "Dates assumed. ");
    }
    html.words(times);
    html.raw("</p>");
    html.finish()
}

/// What a scheme adds: in all, and floor by floor from the lowest, kN.
pub type AddedByFloor = (Added, Vec<f64>);

/// The figures side by side, at the usual pace with the range from fast to slow.
pub fn strip(all: &[Programme], man_days: Option<Band>, added: Option<&AddedByFloor>, system: System) -> String {
    let [fast, usual, slow] = all else { return String::new() };
    let mut html = Html::shown_in(system);
    html.raw("<dl class=\"works-figures\">");
    let mut figure = |about: Figure, value: String, range: String| {
        html.raw("<div><dt>");
        html.words(about.entry(system).title);
        html.ask(about, "works");
        html.raw("</dt><dd>");
        html.leaf("b", &[NONE], &value);
        html.note(&range);
        html.raw("</dd></div>");
    };
    let count = |number: u32| grouped(f64::from(number), 0);
    let whole = |read: fn(&Figures) -> u32| {
        let [from, own, to] = [fast, usual, slow].map(|programme| read(&programme.figures));
        let (low, high) = (from.min(own).min(to), from.max(own).max(to));
        let range = if low == high { "at any pace".to_owned() } else { format!("{} – {}", count(low), count(high)) };
        (count(own), range)
    };
    // A second figure of the same kind, in brackets its range.
    let beside = |read: fn(&Figures) -> u32, what: &str| match whole(read) {
        (value, range) if range == "at any pace" => format!("; {what} {value}"),
        (value, range) => format!("; {what} {value} ({range})"),
    };
    let (value, range) = whole(|figures| figures.room_days_in_use);
    let in_breaks = beside(|figures| figures.room_days_in_breaks, "in breaks");
    figure(Figure::RoomDaysInUse, format!("{value} room-days"), format!("{range}{in_breaks}"));
    let (value, range) = whole(|figures| figures.loud_days_in_use);
    let next_door = beside(|figures| figures.neighbour_loud_days, "room-days next door");
    figure(Figure::LoudDays, format!("{value} days"), format!("{range}{next_door}"));
    let breaks = |programme: &Programme| breaks(programme.figures.breaks);
    let slower = breaks(slow);
    let range = if slower == breaks(usual) { "at slow pace too".to_owned() } else { format!("{slower} at slow pace") };
    figure(Figure::BreaksNeeded, breaks(usual), range);
    let (value, range) = whole(|figures| figures.weeks.ceil() as u32);
    figure(Figure::StartToEnd, format!("{value} weeks"), range);
    let own = &usual.figures;
    figure(
        Figure::ShutAtOnce,
        format!("{} of {}", own.peak_rooms, own.rooms),
        format!("{:.0} % of their floor; {}", 100.0 * own.peak_share, whole(|figures| figures.peak_rooms).1),
    );
    if let Some(band) = man_days {
        figure(
            Figure::ManDays,
            show(band.mid, Dimension::ManDays, system),
            format!("{} – {}", grouped(band.low, 0), grouped(band.high, 0)),
        );
    }
    if let Some((added, floors)) = added {
        let floors: Vec<String> = floors.iter().map(|kn| show(*kn, Dimension::Kilonewtons, system)).collect();
        figure(
            Figure::AddedWeight,
            show(added.weight_kn, Dimension::Kilonewtons, system),
            format!(
                "{} of the seismic weight; floors from below {}",
                show(added.weight_share, Dimension::Share, system),
                floors.join(", ")
            ),
        );
    }
    html.raw("</dl>");
    html.finish()
}

/// Long and short breaks in few words.
fn breaks([long, short]: [u32; 2]) -> String {
    match (long, short) {
        (0, 0) => "none".to_owned(),
        (long, 0) => format!("{long} long"),
        (0, short) => format!("{short} short"),
        (long, short) => format!("{long} long, {short} short"),
    }
}

/// The calendar with the choice of pace.
pub fn calendar(drawing: &Drawing, programme: &Programme, alternative: Alternative) -> String {
    let chosen = programme.pace;
    let mut html = Html::default();
    html.raw("<div class=\"chart-head\"><h2>Rooms by week</h2>");
    html.raw("<div class=\"chooser\" role=\"group\" aria-label=\"Pace of work\">");
    for own in PACES {
        let name = pace(own);
        let label = format!("{} pace", name);
        html.choice(&format!("works-pace-{name}"), "", &format!("pace:{name}"), own == chosen, "", &label);
    }
    html.raw("</div></div>");
    if alternative != Alternative::AsSet {
        html.leaf("p", &[("class", "note")], &format!("Run otherwise: {}.", alternative.label().to_lowercase()));
    }
    html.raw(
        "<div class=\"scroller\" id=\"works-calendar\" tabindex=\"0\" role=\"region\" aria-label=\"Rooms by week\">",
    );
    html.drawing(drawing, "room-calendar");
    html.raw("</div><p class=\"note works-key\">");
    let given_back = programme.closures.iter().any(|own| own.given_back);
    for (class, name) in [
        ("key-shut", "room shut"),
        ("key-nights", if given_back { "worked in out of its hours" } else { "" }),
        ("key-outside", "work outside only"),
        ("key-loud", "a loud day in use"),
        ("key-break", "break"),
    ] {
        if !name.is_empty() {
            html.leaf("span", &[("class", class)], name);
        }
    }
    html.raw("</p>");
    html.finish()
}

/// How a figure differs from that of the programme as set; nothing where it does not.
fn changed(own: i64, before: i64) -> String {
    match own - before {
        0 => String::new(),
        more if more > 0 => format!("+{more}"),
        less => format!("−{}", less.abs()),
    }
}

/// Heads of the table of ways to run the works, after the way itself.
const OTHERWISE: [&str; 8] = [
    "Handed back",
    "Weeks",
    "Rooms shut in use, room-days",
    "at slow pace",
    "Loud days in use",
    "Breaks",
    "People at most",
    "Most time goes on",
];

/// The same works run otherwise, each way beside the programme as set, and beside doing nothing and
/// building anew.
pub fn alternatives(
    lines: &[(Alternative, Option<Vec<Programme>>)],
    chosen: (Alternative, Pace),
    rebuild: Option<&SiteClosed>,
) -> String {
    let mut html = Html::default();
    html.raw("<h2>Run otherwise");
    html.ask(Figure::RunOtherwise, "works");
    html.raw("</h2>");
    let shown = lines.iter().find(|(own, _)| *own == chosen.0).and_then(|(_, programmes)| programmes.as_ref());
    if let Some(own) = shown.and_then(|all| all.iter().find(|programme| programme.pace == chosen.1)) {
        html.leaf("p", &[("class", "drivers")], &reading::drivers(own));
    }
    html.raw(
        "<div class=\"scroller\" id=\"works-otherwise\" tabindex=\"0\" role=\"region\" aria-label=\"Run otherwise\">",
    );
    html.raw("<table class=\"numbers otherwise\" role=\"table\"><thead role=\"rowgroup\"><tr role=\"row\"><th role=\"columnheader\" scope=\"col\">Works</th>");
    for head in OTHERWISE {
        html.leaf("th", &[("role", "columnheader"), ("scope", "col")], head);
    }
    html.raw("</tr></thead><tbody role=\"rowgroup\">");
    // On a phone, where the heads are out of sight, each cell says its own; the table keeps its roles
    // where it is no longer laid out as one.
    let cell = |html: &mut Html, column: usize, text: &str, change: &str| {
        let label = if column == 3 { "Room-days at slow pace" } else { OTHERWISE[column] };
        html.open("td", &[("role", "cell"), ("data-label", label), when(column == 7, "class", "word")]);
        html.words(text);
        if !change.is_empty() {
            html.raw(" ");
            html.note(change);
        }
        html.close("td");
    };
    let as_set = lines.first().and_then(|(_, programmes)| programmes.as_deref());
    for (own, programmes) in lines {
        let class = if programmes.is_none() { "undrawn" } else { "chosen-line" };
        html.open("tr", &[("role", "row"), when(programmes.is_none() || *own == chosen.0, "class", class)]);
        html.raw("<th role=\"rowheader\" scope=\"row\">");
        let key = format!("{own:?}");
        html.choice(&format!("works-{key}"), "level", &format!("otherwise:{key}"), *own == chosen.0, "", own.label());
        html.raw("</th>");
        match (programmes.as_deref(), as_set) {
            (Some([_, usual, slow]), Some([_, before, slow_before])) => {
                let figures = &usual.figures;
                cell(&mut html, 0, &in_words(figures.last), "");
                let weeks = |programme: &Programme| programme.figures.weeks.ceil() as i64;
                let rooms = |programme: &Programme| i64::from(programme.figures.room_days_in_use);
                let loud = |programme: &Programme| i64::from(programme.figures.loud_days_in_use);
                for (column, own, before) in [
                    (1, weeks(usual), weeks(before)),
                    (2, rooms(usual), rooms(before)),
                    (3, rooms(slow), rooms(slow_before)),
                    (4, loud(usual), loud(before)),
                ] {
                    cell(&mut html, column, &grouped(own as f64, 0), &changed(own, before));
                }
                cell(&mut html, 5, &breaks(figures.breaks), "");
                cell(&mut html, 6, &format!("{:.0}", figures.people.iter().copied().fold(0.0, f64::max)), "");
                let longest = reading::longest(usual).map(|(what, days)| format!("{what}, {days}"));
                cell(&mut html, 7, longest.as_deref().unwrap_or("–"), "");
            }
            _ => html.leaf("td", &[("role", "cell"), ("colspan", "8"), ("class", "note")], "being worked out"),
        }
        html.raw("</tr>");
    }
    let mut beside =
        vec![("Nothing done", ["–", "0", "0", "0", "0", "none", "0", "the risk stays"].map(str::to_owned))];
    if let Some(closed) = rebuild {
        let days = |value: f64| grouped(value, 0);
        let none = || "–".to_owned();
        let [weeks, usual, slow] = [closed.weeks.mid.ceil(), closed.room_days_in_use.mid, closed.room_days_in_use.high];
        let site = "the site is closed".to_owned();
        let figures = [none(), days(weeks), days(usual), days(slow), none(), none(), none(), site];
        beside.push(("Demolish and rebuild", figures));
    }
    for (name, figures) in beside {
        html.raw("<tr role=\"row\">");
        html.leaf("th", &[("role", "rowheader"), ("scope", "row")], name);
        for (column, figure) in figures.iter().enumerate() {
            cell(&mut html, column, figure, "");
        }
        html.raw("</tr>");
    }
    html.raw("</tbody></table></div>");
    if lines.iter().any(|(_, programmes)| programmes.is_none()) {
        html.leaf(
            "p",
            &[("class", "note on-paper")],
            "Other ways to run the works were not worked out in time for this print.",
        );
    }
    html.finish()
}

/// A room of a programme in words.
#[derive(Clone, Debug, Default)]
pub struct NamedRoom {
    /// Its name.
    pub name: String,
    /// When it is in use.
    pub in_use: String,
    /// Its hours of use where they are its own.
    pub hours: String,
}

impl NamedRoom {
    /// The rooms of a programme in their order.
    pub fn all(plan: &RoomPlan<'_>, programme: &Programme) -> Vec<Self> {
        let hours = |room| Some(plan.own(room)?.hours?.to_string());
        let named = |room: &Room| Self {
            name: plan.name(*room),
            in_use: plan.use_in_words(*room),
            hours: hours(*room).unwrap_or_default(),
        };
        programme.rooms.iter().map(named).collect()
    }
}

/// Dates of every room, and of every job, folded away; with the buttons that save them.
pub fn dates(programme: &Programme, rooms: &[NamedRoom]) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"works-files chooser on-screen\">");
    html.leaf(
        "button",
        &[
            ("type", "button"),
            ("id", "works-ics"),
            ("data-act", "save:ics"),
            when(programme.closures.is_empty(), "disabled", ""),
        ],
        "Save closures as a calendar (.ics)",
    );
    html.leaf(
        "button",
        &[("type", "button"), ("id", "works-csv"), ("data-act", "save:csv")],
        "Save all jobs as a table (.csv)",
    );
    if programme.closures.is_empty() {
        html.leaf("span", &[("class", "note")], "No room is shut: nothing to put into a calendar.");
    }
    html.raw("</div>");
    html.raw("<details id=\"works-rooms\" open><summary>When each room is shut</summary>");
    html.raw("<div class=\"scroller\" id=\"works-room-dates\" tabindex=\"0\" role=\"region\" aria-label=\"When each room is shut\"><table class=\"numbers\"><thead><tr>");
    for head in ["Room", "Storey", "In use", "Cleared", "Handed back", "Days shut in use"] {
        html.leaf("th", &[("scope", "col")], head);
    }
    html.raw("</tr></thead><tbody>");
    for closure in &programme.closures {
        html.raw("<tr>");
        let NamedRoom { name, in_use, .. } = &rooms[closure.room];
        html.leaf("th", &[("scope", "row")], name);
        for cell in [
            programme.rooms[closure.room].storey.to_string(),
            in_use.clone(),
            in_words(closure.first),
            in_words(closure.last),
            if closure.given_back { "out of its hours".to_owned() } else { closure.days_in_use.to_string() },
        ] {
            html.leaf("td", &[NONE], &cell);
        }
        html.raw("</tr>");
    }
    if programme.closures.is_empty() {
        html.raw("<tr><th colspan=\"6\" scope=\"row\">No room is shut.</th></tr>");
    }
    html.raw("</tbody></table></div></details>");
    html.finish()
}

/// How cost index and carbon add up.
pub fn sums(works: &WorksResult, system: System) -> String {
    let (cost, carbon) = (&works.cost, &works.carbon);
    if cost.terms.is_empty() {
        return String::new();
    }
    let mut html = Html::shown_in(system);
    let share = |value: f64| show(value, Dimension::Share, system);
    html.open("details", &[("id", "works-sums")]);
    html.leaf(
        "summary",
        &[("id", "works-sums-of")],
        &format!(
            "Cost index {} of a new building, carbon {} CO₂e: how they add up",
            share(cost.share.mid),
            show(carbon.tonnes.mid, Dimension::Tonnes, system)
        ),
    );
    html.ask(Figure::CostIndex, "works");
    html.ask(Figure::Carbon, "works");
    for (caption, unit, terms) in [
        ("Cost, man-day equivalents", Dimension::ManDays, &cost.terms),
        ("Carbon, CO₂e", Dimension::Tonnes, &carbon.terms),
    ] {
        html.raw("<div class=\"scroller\" role=\"region\" tabindex=\"0\" aria-label=\"");
        html.words(caption);
        html.raw("\"><table class=\"numbers\"><caption>");
        html.words(caption);
        html.raw("</caption><thead><tr><th scope=\"col\">Part</th><th scope=\"col\">Quantity</th><th scope=\"col\">Usual</th><th scope=\"col\">Fast or low</th><th scope=\"col\">Slow or high</th></tr></thead><tbody>");
        for term in terms {
            html.raw("<tr>");
            html.leaf("th", &[("scope", "row")], &term.what);
            html.leaf("td", &[NONE], &amount(term, system));
            for value in [term.sum.mid, term.sum.low, term.sum.high] {
                html.leaf("td", &[NONE], &show(value, unit, system));
            }
            html.raw("</tr>");
        }
        html.raw("</tbody></table></div>");
    }
    html.close("details");
    html.finish()
}

/// A quantity of a sum in its unit.
fn amount(term: &Term, system: System) -> String {
    let dimension = match term.unit.as_str() {
        "m²" => Dimension::SquareMetres,
        "m³" => Dimension::CubicMetres,
        "t" => Dimension::Tonnes,
        "man-day" => Dimension::ManDays,
        "" => return show(term.each.mid, Dimension::Share, system),
        unit => return format!("{} {unit}s", grouped(term.quantity, 0)),
    };
    show(term.quantity, dimension, system)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use sisterframe_core::model::Model;
    use sisterframe_core::project::Project;
    use sisterframe_core::works::programme::of_scheme;

    /// The school's infill walls at the usual pace, with the names of the rooms.
    pub(in crate::sheets) fn sample() -> (Project, Programme, Vec<NamedRoom>) {
        let project =
            Project::from_json(include_str!("../../../demo-scenarios/school.json")).expect("the demo is valid");
        let times = project.working_times.clone().expect("the school has a calendar");
        let scheme = &project.schemes[2];
        let mut all = of_scheme(&project, scheme, &times);
        let programme = all.remove(1);
        let model = Model::new(&project.building, scheme);
        let plan = RoomPlan::new(&model, &project.building);
        let names = NamedRoom::all(&plan, &programme);
        (project, programme, names)
    }

    #[test]
    fn every_figure_stands_with_its_range_and_its_question() {
        let (project, _, _) = sample();
        let times = project.working_times.clone().expect("the school has a calendar");
        let all = of_scheme(&project, &project.schemes[0], &times);
        let added = (Added { weight_kn: 1000.0, weight_share: 0.05, ..Added::default() }, vec![600.0, 300.0]);
        let html = strip(&all, Some(Band { low: 1.0, mid: 2.0, high: 3.0 }), Some(&added), System::Si);
        for figure in
            [Figure::RoomDaysInUse, Figure::LoudDays, Figure::BreaksNeeded, Figure::StartToEnd, Figure::ShutAtOnce]
        {
            assert!(
                html.contains(figure.entry(System::Si).title) && html.contains(&format!("ask-works-{figure:?}")),
                "{figure:?}"
            );
        }
        assert_eq!(html.matches("class=\"note\"").count(), 7);
        assert!(html.replace('\u{a0}', " ").contains("floors from below 600 kN, 300 kN"), "{html}");
    }

    #[test]
    fn every_way_to_run_the_works_stands_beside_the_one_as_set() {
        let (project, _, _) = sample();
        let times = project.working_times.clone().expect("the school has a calendar");
        let lines: Vec<(Alternative, Option<Vec<Programme>>)> = Alternative::ALL
            .into_iter()
            .filter_map(|own| Some((own, Some(of_scheme(&project, &project.schemes[2], &own.of(&times)?)))))
            .collect();
        let closed = SiteClosed { rooms: 12, weeks: Band::default(), room_days_in_use: Band::default() };
        let html = alternatives(&lines, (Alternative::AnyDay, Pace::Usual), Some(&closed));
        assert_eq!(html.matches("<tr").count(), lines.len() + 3, "with doing nothing, building anew and the heads");
        let days = |own: Alternative| {
            let (_, all) = lines.iter().find(|(other, _)| *other == own).expect("it is offered");
            all.as_ref().expect("drawn up")[1].figures.room_days_in_use
        };
        let more = days(Alternative::AnyDay) - days(Alternative::AsSet);
        assert!(more > 0 && html.contains(&format!("+{more}<")), "{more}: {html}");
        assert!(html.contains("What sets the duration") && !html.contains("on-paper"));
        assert_eq!((changed(3, 5), changed(5, 3), changed(4, 4)), ("−2".to_owned(), "+2".to_owned(), String::new()));
        let open = [lines[0].clone(), (Alternative::AnyDay, None)];
        assert!(alternatives(&open, (Alternative::AsSet, Pace::Usual), None).contains("not worked out in time"));
    }
}
