//! The capacity sheet as markup.

use super::block::act;
use super::direction_chooser;
use super::html::{Html, NONE, rem, when};
use super::walk::{Group, lines_of, short};
use crate::chart::{Axes, capacity_of};
use crate::drawing::{Drawing, Ink, MemberMark, MemberState, share_bar};
use crate::store::Choice;
use sisterframe_core::glossary::Figure;
use sisterframe_core::order;
use sisterframe_core::place::Class;
use sisterframe_core::project::Direction;
use sisterframe_core::pushover::{CapacityCurve, CurveEnd, CurvePoint, Pattern};
use sisterframe_core::reading::limit_in_words;
use sisterframe_core::study::{DirectionResult, Headline, OptionKind, OptionResult, Study};
use sisterframe_core::units::{Dimension, System, grouped, number, show};
use sisterframe_core::verdict::{Assessed, DirectionCapacity};

/// A ratio with the decimals it is worth.
pub fn ratio(value: f64) -> String {
    grouped(value, 2)
}

/// A length with its unit.
pub fn length(mm: f64, system: System) -> String {
    show(mm, Dimension::Millimetres, system)
}

fn force(kn: f64, system: System) -> String {
    show(kn, Dimension::Kilonewtons, system)
}

/// Options and directions to look at, and what is pushed how.
pub fn intro(html: &mut Html, study: &Study, option: &OptionResult, direction: Direction) {
    html.raw("<div class=\"choosers\"><div class=\"chooser\" role=\"group\" aria-label=\"Option\">");
    for own in study.options.iter().filter(|own| own.kind != OptionKind::Rebuild) {
        let act = act(Choice::Option(own.kind));
        html.choice(&format!("capacity-{act}"), "", &act, own.kind == option.kind, &own.letter, &own.name);
    }
    html.close("div");
    direction_chooser(html, "Direction of the push", "capacity", direction);
    html.raw("</div><p class=\"lead\">");
    let letter = if option.letter.is_empty() { String::new() } else { format!("{} ", option.letter) };
    html.leaf("strong", &[NONE], &format!("{letter}{}, {}. ", option.name, direction.label()));
    match capacity_of(option, direction) {
        Some(capacity) => {
            let curve = &capacity.governing().curve;
            let pattern = match curve.pattern {
                Pattern::FirstMode => "forces in the shape of the governing mode",
                Pattern::Uniform => "forces in proportion to the masses",
            };
            let sense = if curve.towards_higher { "towards higher" } else { "towards lower" };
            html.words(&format!(
                "Pushed sideways until something limits it: {pattern}, {sense} ordinates. {}.",
                study.ground_motion.trim_end_matches('.')
            ));
            if option.pending {
                html.leaf("strong", &[NONE], " Of the state before the last change; the curve follows.");
            }
            html.raw("<span class=\"on-screen\"> Drag along the curve to see what happens where.</span>");
        }
        None if option.kind == OptionKind::Rebuild => {
            html.words(
                "A new building is taken to meet the current code and is not pushed over here. Choose another option.",
            );
        }
        None => {
            html.words("There is no capacity curve in this direction; the Options sheet says why under “Watch for”.")
        }
    }
    html.raw("</p>");
}

/// Capacity ÷ demand in both directions with what limits it, never without the strength beside.
pub fn verdict(html: &mut Html, option: &OptionResult, direction: Direction, system: System) {
    if option.directions.is_empty() {
        return;
    }
    html.raw(if option.pending { "<div class=\"verdicts stale\">" } else { "<div class=\"verdicts\">" });
    for own in Direction::BOTH {
        let looked_at = own == direction;
        html.open("section", &[("class", if looked_at { "verdict-of looked-at" } else { "verdict-of" })]);
        html.raw("<h2>");
        html.words(&format!("Capacity ÷ demand {}", own.label()));
        if looked_at {
            html.ask(Figure::CapacityToDemand, "verdict");
        }
        html.raw("</h2>");
        match capacity_of(option, own) {
            Some(capacity) => direction_verdict(html, capacity, system),
            None => html.note(if option.pending { "follows" } else { "withheld" }),
        }
        html.close("section");
    }
    html.raw("<section class=\"verdict-of\"><h2>Strength gain");
    html.ask(Figure::StrengthGain, "verdict");
    html.raw("</h2>");
    let place = |it: Headline| format!("{}, storey {}", if it.along_x { "along x" } else { "along y" }, it.storey);
    if let Some(gain) = option.strength_gain {
        html.raw("<p class=\"ratio\">");
        html.leaf("b", &[NONE], &format!("{}\u{202f}×", ratio(gain.ratio)));
        html.words(&format!(" {}", place(gain)));
        html.raw("</p>");
    } else {
        html.note(if option.pending { "follows" } else { "withheld" });
    }
    html.raw("</section></div>");
}

fn direction_verdict(html: &mut Html, capacity: &DirectionCapacity, system: System) {
    html.raw("<p class=\"ratio\">");
    html.leaf("b", &[NONE], &ratio(capacity.ratio));
    html.raw(if capacity.ratio >= 1.0 {
        " ✓\u{a0}the first limit is not reached"
    } else {
        " the first limit is exceeded"
    });
    html.raw("</p>");
    let end = &capacity.governing().curve.end;
    let Some((first, later)) = capacity.limits.split_first() else { return };
    html.raw("<p>");
    html.words(&format!(
        "{} (roof at {})",
        capitalised(&limit_in_words(&first.reached, end)),
        length(first.reached.roof_mm, system)
    ));
    if capacity.by_strength {
        html.words("; before that, the method itself ends: strength falls too fast for a static judgement");
    }
    html.raw("</p>");
    if let Some((next, others)) = later.split_first() {
        // What limits it then, the reading says.
        let others: String = others.iter().map(|limit| format!(", then {}", ratio(limit.ratio))).collect();
        html.note(&format!("{} once that is cured{others}", ratio(next.ratio)));
    }
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// Heading of the chart with the choice of axes and of curves beside the one looked at.
pub fn chart_head(
    study: &Study,
    chosen: OptionKind,
    direction: Direction,
    beside: &[OptionKind],
    axes: Axes,
) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"chart-head\"><h2>Capacity curve and demand");
    html.ask(Figure::CapacityCurve, "chart");
    html.ask(Figure::PerformancePoint, "chart");
    html.raw("</h2><div class=\"chooser\" role=\"group\" aria-label=\"Axes\">");
    html.choice("axes-roof", "", "axes:roof", axes == Axes::Roof, "", "Base shear – roof displacement");
    html.choice("axes-spectral", "", "axes:spectral", axes == Axes::Spectral, "", "Acceleration – displacement");
    html.raw("</div></div><div class=\"chooser beside\" role=\"group\" aria-label=\"Curves beside it\"><span class=\"note\">Beside it</span>");
    for (index, own) in study.options.iter().enumerate() {
        if own.kind == chosen || capacity_of(own, direction).is_none() {
            continue;
        }
        let name = if own.letter.is_empty() { &own.name } else { &own.letter };
        let pressed = beside.contains(&own.kind);
        let title = format!("Curve of {}", if own.letter.is_empty() { "the building as it stands" } else { &own.name });
        html.open(
            "button",
            &[
                ("type", "button"),
                ("id", &format!("beside-{index}")),
                ("data-act", &format!("beside:{index}")),
                ("aria-pressed", if pressed { "true" } else { "false" }),
                ("aria-label", &title),
            ],
        );
        html.words(name);
        html.close("button");
    }
    html.close("div");
    html.finish()
}

/// Groups of events on the curve, in words.
pub fn events(capacity: &DirectionCapacity, groups: &[Group], pointed: Option<u32>, system: System) -> String {
    let curve = &capacity.governing().curve;
    let mut html = Html::default();
    html.raw("<h2>What happens along the curve");
    html.ask(Figure::FirstLimit, "events");
    html.raw("</h2>");
    open_region(&mut html, "events-region", "Events along the curve");
    html.raw("<table class=\"numbers events\" role=\"table\"><thead role=\"rowgroup\"><tr role=\"row\">");
    for (class, head) in [("", "No."), ("", "Roof"), ("", "Base shear"), ("what", "What happens")] {
        html.leaf("th", &[("role", "columnheader"), ("scope", "col"), when(!class.is_empty(), "class", class)], head);
    }
    html.raw("</tr></thead><tbody role=\"rowgroup\">");
    for group in groups {
        let Some(first) = group.events.first().and_then(|k| curve.events.get(*k)) else { continue };
        let is_pointed = pointed == Some(group.number);
        html.open(
            "tr",
            &[("role", "row"), ("data-event", &group.number.to_string()), when(is_pointed, "class", "pointed")],
        );
        html.raw("<th role=\"rowheader\" scope=\"row\">");
        let name = format!("Go to event {}", group.number);
        html.open(
            "button",
            &[
                ("type", "button"),
                ("class", "event"),
                ("id", &format!("event-{}", group.number)),
                ("data-act", &format!("event:{}", group.number)),
                ("aria-label", &name),
                ("aria-pressed", if is_pointed { "true" } else { "false" }),
            ],
        );
        html.words(&group.number.to_string());
        html.raw("</button></th>");
        html.leaf("td", &[("role", "cell"), ("class", "figure")], &length(first.roof_mm, system));
        html.leaf("td", &[("role", "cell"), ("class", "figure")], &force(first.base_shear_kn, system));
        html.raw("<td role=\"cell\" class=\"what\">");
        for line in lines_of(curve, &capacity.places, group) {
            html.leaf("p", &[NONE], &line);
        }
        html.raw("</td></tr>");
    }
    html.raw("</tbody></table></div>");
    let end = match &curve.end {
        CurveEnd::LimitDrift => "The push stops at a storey drift of 5\u{a0}%.".to_owned(),
        CurveEnd::MostLost => "The push stops where most of the strength is lost.".to_owned(),
        CurveEnd::ZeroLoad => "The curve ends where nothing resists any more.".to_owned(),
        CurveEnd::SuddenLoss { place, .. } => format!("The curve ends where {place} is lost at once."),
        CurveEnd::Unstable => "The building does not stand under its own weight.".to_owned(),
    };
    let shown: usize = groups.iter().map(|group| group.events.len()).sum();
    let more = curve.events.len() - shown;
    let beyond = if more > 0 { format!(" {more} more events lie beyond the chart.") } else { String::new() };
    html.leaf("p", &[("class", "note")], &format!("{end}{beyond}"));
    html.finish()
}

fn open_region(html: &mut Html, id: &str, name: &str) {
    html.open("div", &[("class", "scroller"), ("id", id), ("role", "region"), ("aria-label", name), ("tabindex", "0")]);
}

/// Places of the scrubber to go to at once.
pub fn jumps(places: &[(&'static str, Option<f64>)]) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"chooser jumps\" role=\"group\" aria-label=\"Go to\">");
    for (k, (name, place)) in places.iter().enumerate() {
        let act = place.map(|place| format!("jump:{place}")).unwrap_or_default();
        html.open(
            "button",
            &[
                ("type", "button"),
                ("id", &format!("jump-{k}")),
                ("data-act", &act),
                when(place.is_none(), "disabled", "disabled"),
            ],
        );
        html.words(name);
        html.close("button");
    }
    html.close("div");
    html.finish()
}

/// Where the scrubber is, in words.
pub fn here(point: &CurvePoint, marks: &[MemberMark], height_m: f64, weight_kn: f64, system: System) -> String {
    let mut text = format!(
        "roof {} ({}\u{a0}%), base shear {} ({} of the weight)",
        length(point.roof_mm, system),
        grouped(point.roof_mm / 10.0 / height_m, 2),
        force(point.base_shear_kn, system),
        grouped(point.base_shear_kn / weight_kn.max(1e-9), 2)
    );
    for state in MemberState::ALL {
        let count = marks.iter().filter(|mark| mark.state == Some(state)).count();
        if count > 0 {
            let noun = match (state, count) {
                (MemberState::Yielded, 1) => "member yielded",
                (MemberState::Yielded, _) => "members yielded",
                (MemberState::Losing, _) => "losing strength",
                (MemberState::Lost, _) => "without gravity support",
            };
            text.push_str(&format!(", {count} {noun}"));
        }
    }
    text
}

/// What the storey ledger of the push shows.
pub struct StoreyLook<'a> {
    /// The option looked at.
    pub own: &'a Assessed,
    /// The building as it stands.
    pub standing: Option<&'a Assessed>,
    /// How far curves are drawn, mm of roof displacement.
    pub shown_mm: f64,
    /// Where the scrubber is.
    pub now: &'a CurvePoint,
    /// State at the performance point, if it is reached.
    pub demand: Option<&'a CurvePoint>,
    /// State at the first limit.
    pub limit: Option<&'a CurvePoint>,
    /// Storey heights, m.
    pub heights_m: &'a [f64],
    /// Heights of the rows, px, from the ground up.
    pub storey_px: &'a [f64],
    /// Names of the external frames' faces.
    pub faces: &'a [String],
    /// Units.
    pub system: System,
}

/// Width of a small curve, px.
const SMALL_PX: f64 = 150.0;

/// Storeys from the top down beside the drawing.
pub fn storeys(look: &StoreyLook<'_>, picture: &Drawing) -> String {
    let mut html = Html::default();
    let has_slabs = look.now.slab_kn.iter().any(|row| !row.is_empty());
    html.raw("<table class=\"pushed\" role=\"table\"><caption class=\"read-only-aloud\">Storeys where the scrubber is, from the top down</caption><thead role=\"rowgroup\"><tr role=\"row\"><td role=\"cell\" class=\"pushed-picture\"></td><td role=\"cell\"></td>");
    let head = |html: &mut Html, title: &str, figure: Option<Figure>| {
        html.raw("<th role=\"columnheader\" scope=\"col\">");
        html.words(title);
        if let Some(figure) = figure {
            html.ask(figure, "pushed");
        }
        html.close("th");
    };
    head(&mut html, "Shear – drift", Some(Figure::StoreyCurve));
    head(&mut html, "Storey drift", Some(Figure::Drift));
    head(&mut html, "Storey shear and shares here", Some(Figure::Shares));
    if has_slabs {
        head(&mut html, "Connecting slab here", Some(Figure::SlabDemand));
    }
    html.raw("</tr></thead><tbody role=\"rowgroup\">");
    let count = look.heights_m.len();
    let scale = SmallScale::of(look);
    for s in (0..count).rev() {
        let height = format!("height:{}", rem(look.storey_px[s]));
        html.open("tr", &[("role", "row"), ("style", &height)]);
        if s + 1 == count {
            html.open("td", &[("role", "cell"), ("class", "pushed-picture"), ("rowspan", &count.to_string())]);
            html.drawing(picture, "sway");
            html.close("td");
        }
        html.leaf("th", &[("role", "rowheader"), ("scope", "row")], &format!("Storey {}", s + 1));
        html.raw("<td role=\"cell\" class=\"small-curve\">");
        html.drawing(&small(look, &scale, s, (look.storey_px[s] - 12.0).min(96.0)), "");
        html.raw("</td>");
        storey_cells(&mut html, look, s, has_slabs);
        html.close("tr");
    }
    html.raw("</tbody></table>");
    html.finish()
}

fn storey_cells(html: &mut Html, look: &StoreyLook<'_>, s: usize, has_slabs: bool) {
    let system = look.system;
    let share = |point: &CurvePoint| {
        let drift = point.drift_mm.get(s).copied().unwrap_or(0.0);
        format!("{}\u{a0}%", grouped(drift / 10.0 / look.heights_m[s], 2))
    };
    html.raw("<td role=\"cell\" data-label=\"Storey drift\"><dl class=\"drifts\">");
    let row = |html: &mut Html, name: &str, value: &str, class: &str| {
        html.open("div", &[("class", class)]);
        html.leaf("dt", &[NONE], name);
        html.leaf("dd", &[NONE], value);
        html.close("div");
    };
    row(html, "here", &share(look.now), "now");
    row(html, "at demand", &look.demand.map_or_else(|| "not reached".to_owned(), share), "");
    row(html, "at first limit", &look.limit.map_or_else(|| "–".to_owned(), share), "");
    html.raw("</dl></td><td role=\"cell\" data-label=\"Storey shear and shares here\">");
    let shear = look.now.shear_kn.get(s).copied().unwrap_or(0.0);
    let classes = look.now.class_shear_kn.get(s).copied().unwrap_or_default();
    html.leaf("b", &[NONE], &force(shear, system));
    // Hardly any shear has no shares.
    let most = look.now.shear_kn.iter().fold(0.0_f64, |most, own| most.max(own.abs()));
    if shear.abs() > 0.01 * most {
        let shares = classes.map(|own| own / shear);
        html.bar(&share_bar(shares, 110.0));
        html.raw("<p class=\"shares\">");
        for (class, own) in Class::ALL.into_iter().zip(shares).filter(|(_, own)| own.abs() >= 5e-3) {
            html.raw("<span class=\"share\">");
            html.words(&show(own, Dimension::Share, system));
            html.raw(" ");
            html.note(class.label());
            html.raw("</span> ");
        }
        html.raw("</p>");
    }
    html.raw("</td>");
    if has_slabs {
        html.raw("<td role=\"cell\" data-label=\"Connecting slab here\">");
        for (face, row) in look.faces.iter().zip(&look.now.slab_kn) {
            if let Some(own) = row.get(s) {
                html.raw("<p>");
                html.leaf("b", &[NONE], &force(*own, system));
                html.note(&format!("line {face}, level {}", s + 1));
                html.raw("</p>");
            }
        }
        html.raw("</td>");
    }
}

/// One scale for all small curves.
struct SmallScale {
    drift_mm: f64,
    shear_kn: f64,
}

impl SmallScale {
    fn of(look: &StoreyLook<'_>) -> Self {
        let mut scale = Self { drift_mm: 1e-9, shear_kn: 1e-9 };
        for point in shown(&look.own.curve, look.shown_mm) {
            scale.drift_mm = point.drift_mm.iter().fold(scale.drift_mm, |most, own| most.max(*own));
            scale.shear_kn = point.shear_kn.iter().fold(scale.shear_kn, |most, own| most.max(*own));
        }
        for point in look.standing.into_iter().flat_map(|own| shown(&own.curve, look.shown_mm)) {
            scale.shear_kn = point.shear_kn.iter().fold(scale.shear_kn, |most, own| most.max(*own));
        }
        scale
    }
}

fn shown(curve: &CapacityCurve, shown_mm: f64) -> impl Iterator<Item = &CurvePoint> {
    curve.points.iter().take_while(move |point| point.roof_mm <= shown_mm)
}

/// Shear against drift of a storey.
fn small(look: &StoreyLook<'_>, scale: &SmallScale, s: usize, height: f64) -> Drawing {
    let mut drawing = Drawing::new(SMALL_PX, height);
    let (wide, high) = (SMALL_PX - 12.0, height - 10.0);
    let at = |drift: f64, shear: f64| {
        [4.0 + (drift / scale.drift_mm).clamp(-0.02, 1.02) * wide, height - 4.0 - shear / scale.shear_kn * high]
    };
    let line = |curve: &CapacityCurve| -> Vec<[f64; 2]> {
        shown(curve, look.shown_mm)
            .take_while(|point| point.drift_mm[s] <= 1.02 * scale.drift_mm)
            .map(|point| at(point.drift_mm[s], point.shear_kn[s]))
            .collect()
    };
    drawing.polyline(Ink::Thin, &[vec![[4.0, 2.0], [4.0, height - 4.0], [SMALL_PX - 4.0, height - 4.0]]]);
    if let Some(standing) = look.standing {
        drawing.polyline(Ink::CurveThin, &[line(&standing.curve)]);
    }
    drawing.polyline(Ink::CurveMid, &[line(&look.own.curve)]);
    if let Some(demand) = look.demand {
        let [x, _] = at(demand.drift_mm[s], 0.0);
        drawing.line(Ink::DemandLine, [x, 2.0], [x, height - 4.0]);
    }
    drawing.circle(Ink::Plain, at(look.now.drift_mm[s], look.now.shear_kn[s]), 4.0);
    let percent = |point: &CurvePoint| grouped(point.drift_mm[s] / 10.0 / look.heights_m[s], 2);
    drawing.words = format!(
        "Storey {}: shear against drift; here {}\u{a0}% and {}",
        s + 1,
        percent(look.now),
        force(look.now.shear_kn[s], look.system)
    );
    drawing
}

/// Which line is drawn, the legend of the marks and how much the sway is exaggerated.
pub fn picture_head(lines: &[String], chosen: usize, own: usize, factor: f64) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"chooser\" role=\"group\" aria-label=\"Line drawn\">");
    for (k, name) in lines.iter().enumerate() {
        let title = if k >= own { format!("Frame {name}") } else { format!("Line {name}") };
        html.choice(&format!("line-{k}"), "", &format!("line:{k}"), k == chosen, "", &title);
    }
    html.raw("</div><p class=\"legend\">");
    for state in MemberState::ALL {
        let mut mark = Drawing::new(17.0, 17.0);
        state.draw(&mut mark, [8.5, 8.5]);
        html.raw("<span class=\"state\">");
        html.bar(&mark);
        html.words(&format!(" {}", state.label()));
        html.raw("</span> ");
    }
    html.ask(Figure::MemberStates, "sway");
    html.raw("</p>");
    html.leaf("p", &[("class", "note")], &format!("Sway drawn {} times.", grouped(factor, 0)));
    html.finish()
}

/// Members by state, those worst off first.
pub fn members(marks: &[MemberMark]) -> String {
    let mut html = Html::default();
    html.raw("<h2>Members here</h2>");
    if marks.is_empty() {
        html.leaf("p", &[("class", "note")], "No member has yielded.");
        return html.finish();
    }
    for state in MemberState::ALL.into_iter().rev() {
        let own: Vec<&MemberMark> = marks.iter().filter(|mark| mark.state == Some(state)).collect();
        if own.is_empty() {
            continue;
        }
        let title = format!("{} ({})", capitalised(state.label()), own.len());
        // Most members yield; their names are there for who wants them.
        let folded = state == MemberState::Yielded;
        if folded {
            html.raw("<details id=\"members-yielded\">");
            html.leaf("summary", &[("id", "members-yielded-head")], &title);
        } else {
            html.leaf("h3", &[NONE], &title);
        }
        let mut storeys: Vec<(u32, Vec<String>)> = Vec::new();
        for mark in own {
            let name = match mark.failure {
                sisterframe_core::study::Failure::Joint => format!("joint at {}", short(&mark.place)),
                _ => short(&mark.place),
            };
            let storey = storey_of(&mark.place);
            match storeys.iter_mut().find(|(own, _)| *own == storey) {
                Some((_, names)) => names.push(name),
                None => storeys.push((storey, vec![name])),
            }
        }
        order::sort_by_key(&mut storeys, |(storey, _)| *storey);
        html.raw("<ul class=\"members\">");
        for (storey, mut names) in storeys {
            order::sort_by(&mut names, String::cmp);
            names.dedup();
            html.raw("<li>");
            html.leaf("b", &[NONE], &format!("Storey {storey}: "));
            html.words(&names.join(", "));
            html.raw("</li>");
        }
        html.raw("</ul>");
        if folded {
            html.close("details");
        }
    }
    html.finish()
}

fn storey_of(place: &sisterframe_core::place::Place) -> u32 {
    use sisterframe_core::place::Place;
    match place {
        Place::Storey { storey }
        | Place::Column { storey, .. }
        | Place::Beam { storey, .. }
        | Place::Panel { storey, .. }
        | Place::FrameColumn { storey, .. } => *storey,
        Place::Slab { level, .. } => *level,
        Place::Building | Place::Line { .. } | Place::Footing { .. } => 1,
    }
}

/// The points of the curve.
pub fn numbers(capacity: &DirectionCapacity, system: System) -> String {
    let curve = &capacity.governing().curve;
    let mut html = Html::default();
    html.raw("<details id=\"curve-data\"><summary id=\"curve-data-head\">Numbers of the curve</summary>");
    open_region(&mut html, "curve-region", "Numbers of the curve");
    html.raw("<table class=\"numbers\"><thead><tr><th scope=\"col\">Point</th>");
    let (mm, kn) = (Dimension::Millimetres.unit(system).symbol, Dimension::Kilonewtons.unit(system).symbol);
    html.leaf("th", &[("scope", "col")], &format!("Roof, {mm}"));
    html.leaf("th", &[("scope", "col")], &format!("Base shear, {kn}"));
    for s in 1..=curve.points.first().map_or(0, |point| point.drift_mm.len()) {
        html.leaf("th", &[("scope", "col")], &format!("Drift {s}, {mm}"));
    }
    html.raw("</tr></thead><tbody>");
    for (k, point) in curve.points.iter().enumerate() {
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], &k.to_string());
        html.leaf("td", &[NONE], &number(point.roof_mm, Dimension::Millimetres, system));
        html.leaf("td", &[NONE], &number(point.base_shear_kn, Dimension::Kilonewtons, system));
        for drift in &point.drift_mm {
            html.leaf("td", &[NONE], &number(*drift, Dimension::Millimetres, system));
        }
        html.close("tr");
    }
    html.raw("</tbody></table></div></details>");
    html.finish()
}

/// Storey springs of a hand calculation beside the frames.
pub fn by_hand(result: &DirectionResult, system: System) -> String {
    let Some(capacity) = &result.capacity else { return String::new() };
    let mut html = Html::default();
    let [frames, springs] = result.roof_stiffness_kn_m;
    let times =
        |hand: f64, ours: f64| if ours > 0.0 { format!("{} ×", grouped(hand / ours, 2)) } else { "–".to_owned() };
    html.raw("<details id=\"by-hand\"><summary id=\"by-hand-head\">By hand: one spring a storey</summary>");
    html.raw("<table class=\"numbers\"><thead><tr><td></td><th scope=\"col\">Frames</th><th scope=\"col\">Storey springs</th><th scope=\"col\">By hand ÷ frames</th></tr></thead><tbody>");
    let rows = [
        ("Base shear over roof displacement", frames, springs, Dimension::KilonewtonsPerMetre),
        ("Largest base shear", capacity.strength_kn, result.strength_kn, Dimension::Kilonewtons),
    ];
    for (what, ours, hand, dimension) in rows {
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], what);
        for text in [show(ours, dimension, system), show(hand, dimension, system), times(hand, ours)] {
            html.leaf("td", &[NONE], &text);
        }
        html.raw("</tr>");
    }
    html.raw("</tbody></table>");
    html.note(
        "Columns by the D-value method, walls held against rotation in every storey, strengths summed at one drift of the \
         storey. Springs miss how walls turn over the height and rock on their footings, and how joints and beams let go \
         before columns.",
    );
    html.close("details");
    html.finish()
}
