//! The comparison of options as plain rows of words, figures and bars.

use super::connections_html::used;
use crate::drawing::{Drawing, range_bar, ratio_bar, size_bar};
use sisterframe_core::connection::ConnectionKind;
use sisterframe_core::finding::{Code, Severity, in_words};
use sisterframe_core::glossary::Figure;
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::Direction;
use sisterframe_core::pushover::{LimitKind, LimitReached};
use sisterframe_core::reading::strength_lost;
use sisterframe_core::study::{Band, DirectionResult, Headline, OptionKind, OptionResult, Programmed, Study};
use sisterframe_core::units::{Dimension, System, grouped, number, show};
use sisterframe_core::works::calendar::YEARS_AHEAD;
use sisterframe_core::works::cost::{ASKED_FROM, ASKED_TO};
use sisterframe_core::works::programme::Figures;

/// Length of a bar, px.
const BAR_PX: f64 = 120.0;

/// A column of the comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Which option.
    pub kind: OptionKind,
    /// Letter of a scheme; empty for the comparators.
    pub letter: String,
    /// Name.
    pub name: String,
    /// What is done, a line a measure.
    pub measures: Vec<String>,
}

impl Column {
    /// Letter and name in one.
    pub fn title(&self) -> String {
        if self.letter.is_empty() { self.name.clone() } else { format!("{} {}", self.letter, self.name) }
    }
}

/// What a cell shows, from large to small.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell {
    /// The figure.
    pub figure: String,
    /// A verdict beside it.
    pub verdict: String,
    /// A bar on the scale of the row.
    pub bar: Option<Drawing>,
    /// Figures of equal rank, a line each.
    pub lines: Vec<String>,
    /// What qualifies it, a line each.
    pub notes: Vec<String>,
    /// Whether it is of the state before the last change, until its own result comes.
    pub stale: bool,
    /// The rule set it is of, where two are shown.
    pub set: String,
    /// The same by the other rule set.
    pub beside: Option<Box<Cell>>,
}

/// A row of the comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The figure it shows.
    pub figure: Figure,
    /// Whether it is one of the headlines.
    pub headline: bool,
    /// A cell a column.
    pub cells: Vec<Cell>,
}

/// What to watch for in an option.
#[derive(Clone, Debug, PartialEq)]
pub struct Watch {
    /// The gravest findings, in words; whether each is trouble.
    pub first: Vec<(bool, String)>,
    /// The others.
    pub more: Vec<(bool, String)>,
    /// The rule set they are of, where figures of two are shown.
    pub set: String,
}

/// The whole comparison.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Matrix {
    /// Options in their order.
    pub columns: Vec<Column>,
    /// Rows of figures.
    pub rows: Vec<Row>,
    /// What to watch for, by option.
    pub watch: Vec<Watch>,
    /// The units its figures are shown in.
    pub system: System,
}

impl Matrix {
    /// Puts a study side by side; where both rule sets are asked for, what rests on the set stands under the project's
    /// own by the other one too.
    pub fn of(study: &Study, other: Option<&Study>, system: System) -> Self {
        let options = &study.options;
        let in_sets = |own: &OptionResult, cell: &dyn Fn(&Study, &OptionResult) -> Cell| {
            let Some(other) = other else { return cell(study, own) };
            if own.kind == OptionKind::Rebuild {
                return cell(study, own);
            }
            let there = other.options.iter().find(|option| option.kind == own.kind);
            let there = there.map(|there| Cell { set: other.rules.clone(), ..answered(there, cell(other, there)) });
            Cell { set: study.rules.clone(), beside: there.map(Box::new), ..answered(own, cell(study, own)) }
        };
        let both = |own: &OptionResult, cell: &dyn Fn(&OptionResult) -> Cell| in_sets(own, &|_, option| cell(option));
        let row = |figure, headline, cell: &dyn Fn(&OptionResult) -> Cell| Row {
            figure,
            headline,
            cells: options.iter().map(cell).collect(),
        };
        let most = |value: &dyn Fn(&OptionResult) -> Option<f64>| options.iter().filter_map(value).fold(0.0, f64::max);
        let ratios = |option: &OptionResult| [option.strength_to_demand, option.capacity_to_demand];
        let most_ratio =
            most(&|option| ratios(option).into_iter().flatten().map(|headline| headline.ratio).reduce(f64::max));
        let beside = other.iter().flat_map(|other| &other.options).flat_map(ratios).flatten();
        let most_ratio = beside.map(|headline| headline.ratio).fold(most_ratio, f64::max).max(1.25);
        let most_days = most(&|option| option.programme.as_ref().map(|own| f64::from(own.usual().room_days_in_use)));
        let most_cost = most(&|option| option.works.as_ref().map(|works| works.cost.share.mid)).max(1.0);
        Self {
            columns: options.iter().map(|option| column(option, system)).collect(),
            rows: vec![
                row(Figure::StrengthGain, true, &|option| both(option, &strength_gain)),
                row(Figure::CapacityToDemand, true, &|option| {
                    both(option, &|option| capacity_to_demand(option, most_ratio))
                }),
                row(Figure::StrengthToDemand, false, &|option| {
                    in_sets(option, &|study, option| strength_to_demand(option, standing(study), most_ratio))
                }),
                row(Figure::WeakestStorey, false, &|option| both(option, &weakest_storey)),
                row(Figure::Period, false, &|option| both(option, &|option| period(option, system))),
                row(Figure::AddedWeight, false, &|option| added_weight(option, system)),
                row(Figure::NewMaterial, false, &|option| new_material(option, system)),
                row(Figure::ManDays, false, &|option| man_days(option, system)),
                row(Figure::CostIndex, false, &|option| cost(option, most_cost, system)),
                row(Figure::RoomDaysInUse, false, &|option| room_days(option, most_days, system)),
                row(Figure::StartToEnd, false, &weeks),
                row(Figure::LoudDays, false, &loud_days),
                row(Figure::Carbon, false, &|option| carbon(option, system)),
                row(Figure::Eccentricity, false, &|option| both(option, &|option| eccentricity(option, system))),
                row(Figure::WorstSlab, false, &|option| both(option, &slab)),
            ],
            watch: options
                .iter()
                .map(|option| {
                    let judged = other.filter(|_| option.kind != OptionKind::Rebuild);
                    Watch { set: judged.map_or_else(String::new, |_| study.rules.clone()), ..watch(option, system) }
                })
                .collect(),
            system,
        }
    }
}

fn standing(study: &Study) -> Option<&OptionResult> {
    study.options.iter().find(|option| option.kind == OptionKind::AsItStands)
}

fn column(option: &OptionResult, system: System) -> Column {
    Column {
        kind: option.kind,
        letter: option.letter.clone(),
        name: option.name.clone(),
        measures: match option.kind {
            OptionKind::AsItStands => vec!["Nothing is done".to_owned()],
            OptionKind::Rebuild => vec!["Demolish and build new".to_owned()],
            OptionKind::Scheme { .. } if option.measures.is_empty() => vec!["No measure yet".to_owned()],
            OptionKind::Scheme { .. } => gathered(&option.measures, system),
        },
    }
}

/// Lines that say the same are said once, with their number.
fn gathered(measures: &[Phrase], system: System) -> Vec<String> {
    let mut lines: Vec<(usize, &Phrase)> = Vec::new();
    for measure in measures {
        match lines.iter_mut().find(|(_, line)| *line == measure) {
            Some((count, _)) => *count += 1,
            None => lines.push((1, measure)),
        }
    }
    let line = |(count, line): (usize, &Phrase)| {
        // A span of storeys stays on one line.
        let line = line.in_units(system).replace('–', "\u{2060}–\u{2060}");
        if count == 1 { line } else { format!("{count} × {line}") }
    };
    lines.into_iter().map(line).collect()
}

fn plain(figure: impl Into<String>) -> Cell {
    Cell { figure: figure.into(), ..Cell::default() }
}

fn noted(figure: impl Into<String>, note: impl Into<String>) -> Cell {
    Cell { figure: figure.into(), notes: vec![note.into()], ..Cell::default() }
}

/// A cell for a result there is none of: what a new building meets, or a dash.
fn without(option: &OptionResult) -> Cell {
    match option.kind {
        OptionKind::Rebuild => Cell { notes: vec!["to the current code".to_owned()], ..Cell::default() },
        _ if option.pending => Cell { notes: vec!["follows".to_owned()], ..Cell::default() },
        _ => Cell { notes: vec!["withheld".to_owned()], ..Cell::default() },
    }
}

/// A cell with why there is no figure, where the rule set has no answer.
fn answered(option: &OptionResult, mut cell: Cell) -> Cell {
    if cell.figure.is_empty() && !option.pending {
        let unanswered = option.findings.iter().filter(|finding| finding.code == Code::NotInRuleSet);
        cell.notes.extend(unanswered.map(|finding| finding.text.in_units(System::Si)));
    }
    cell
}

fn way(along_x: bool) -> &'static str {
    if along_x { Direction::X.label() } else { Direction::Y.label() }
}

fn place(headline: Headline) -> String {
    format!("{}, storey {}", way(headline.along_x), headline.storey)
}

fn strength_gain(option: &OptionResult) -> Cell {
    option.strength_gain.map_or_else(
        || without(option),
        |headline| Cell {
            stale: option.pending,
            ..noted(format!("{}\u{202f}×", number(headline.ratio, Dimension::Number, System::Si)), place(headline))
        },
    )
}

fn strength_to_demand(option: &OptionResult, standing: Option<&OptionResult>, most: f64) -> Cell {
    let Some(headline) = option.strength_to_demand else { return without(option) };
    let notes = [place(headline)].into_iter().chain(standing.and_then(|standing| strength_lost(option, standing)));
    let verdict = if headline.ratio >= 1.0 {
        "✓\u{a0}reaches demand".to_owned()
    } else {
        format!("short by {}", show(1.0 - headline.ratio, Dimension::Share, System::Si))
    };
    Cell {
        figure: number(headline.ratio, Dimension::Number, System::Si),
        verdict,
        bar: Some(ratio_bar(headline.ratio, 1.0, most, BAR_PX)),
        notes: notes.collect(),
        ..Cell::default()
    }
}

/// The least of both directions, and each with what limits it.
fn capacity_to_demand(option: &OptionResult, most: f64) -> Cell {
    let Some(headline) = option.capacity_to_demand else { return without(option) };
    let ratio = |value: f64| number(value, Dimension::Number, System::Si);
    let line = |result: &DirectionResult| {
        let capacity = result.capacity.as_ref()?;
        let limit = capacity.limits.first().map(|limit| limited(&limit.reached)).unwrap_or_default();
        Some(format!("{} {}: {limit}", if result.along_x { "x" } else { "y" }, ratio(capacity.ratio)))
    };
    Cell {
        figure: ratio(headline.ratio),
        verdict: if headline.ratio >= 1.0 { "✓\u{a0}within limits" } else { "limit exceeded" }.to_owned(),
        bar: Some(ratio_bar(headline.ratio, 1.0, most, BAR_PX)),
        notes: option.directions.iter().filter_map(line).collect(),
        stale: option.pending,
        ..Cell::default()
    }
}

/// What limits a curve, in few words.
pub(super) fn limited(limit: &LimitReached) -> String {
    match limit.limit {
        LimitKind::Member => limit.place.to_string(),
        LimitKind::Support => format!("{} loses support", limit.place),
        LimitKind::StrengthLoss => format!("strength falls in storey {}", limit.storey),
        LimitKind::CurveEnd => "the curve ends".to_owned(),
    }
}

fn weakest_storey(option: &OptionResult) -> Cell {
    let Some(weakest) = &option.weakest else {
        return if option.kind == OptionKind::Rebuild { plain("–") } else { without(option) };
    };
    let mut notes = vec![weakest.failure.label().to_owned()];
    if weakest.failure.is_brittle() {
        notes.push("without warning".to_owned());
    }
    if let Some(first) = &weakest.first {
        let place = first.place.to_string();
        let storey = format!(", storey {}", weakest.storey);
        let warning =
            if first.failure.is_brittle() && !weakest.failure.is_brittle() { ", without warning" } else { "" };
        notes.push(format!(
            "first: {} ({}{warning})",
            place.strip_suffix(storey.as_str()).unwrap_or(&place),
            first.failure.gives()
        ));
    }
    Cell {
        figure: format!("Storey {}", weakest.storey),
        verdict: way(weakest.along_x).to_owned(),
        notes,
        ..Cell::default()
    }
}

/// A figure for each direction.
fn each_way(option: &OptionResult, text: &dyn Fn(&DirectionResult) -> String) -> Cell {
    if option.directions.is_empty() {
        return if option.kind == OptionKind::Rebuild { plain("–") } else { without(option) };
    }
    let lines = option.directions.iter();
    Cell {
        lines: lines.map(|result| format!("{}: {}", if result.along_x { "x" } else { "y" }, text(result))).collect(),
        ..Cell::default()
    }
}

fn period(option: &OptionResult, system: System) -> Cell {
    each_way(option, &|result| show(result.period_s, Dimension::Seconds, system))
}

fn eccentricity(option: &OptionResult, system: System) -> Cell {
    each_way(option, &|result| {
        let share = result.eccentricity_share.abs();
        if share < 5e-4 {
            return "none".to_owned();
        }
        let length = show(result.eccentricity_m.abs(), Dimension::Metres, system);
        format!("{length}, {}", show(share, Dimension::Share, system))
    })
}

fn added_weight(option: &OptionResult, system: System) -> Cell {
    match option.kind {
        OptionKind::Scheme { .. } => noted(
            show(option.added.weight_kn, Dimension::Kilonewtons, system),
            format!("{} of seismic weight", show(option.added.weight_share, Dimension::Share, system)),
        ),
        OptionKind::AsItStands | OptionKind::Rebuild => plain("–"),
    }
}

fn new_material(option: &OptionResult, system: System) -> Cell {
    if option.added.concrete_m3 == 0.0 && option.added.steel_t == 0.0 {
        return plain("–");
    }
    Cell {
        lines: vec![
            format!("{} concrete", show(option.added.concrete_m3, Dimension::CubicMetres, system)),
            format!("{} steel", show(option.added.steel_t, Dimension::Tonnes, system)),
        ],
        ..Cell::default()
    }
}

fn band(band: Band, dimension: Dimension, system: System) -> String {
    format!("{}\u{2060}–\u{2060}{}", number(band.low, dimension, system), show(band.high, dimension, system))
}

fn man_days(option: &OptionResult, system: System) -> Cell {
    match &option.works {
        Some(works) if works.man_days.high > 0.0 => noted(
            show(works.man_days.mid, Dimension::ManDays, system),
            band(works.man_days, Dimension::ManDays, system),
        ),
        Some(_) => plain("none"),
        None => plain("–"),
    }
}

/// The index with the span in which agencies ask whether to replace.
fn cost(option: &OptionResult, most: f64, system: System) -> Cell {
    let Some(works) = &option.works else { return plain("–") };
    let cost = &works.cost;
    if cost.share.high == 0.0 {
        return plain(if cost.man_day_equivalents.high == 0.0 { "none" } else { "–" });
    }
    let share = |value: f64| show(value, Dimension::Share, system);
    let mut notes = vec![band(cost.share, Dimension::Share, system)];
    if let Some([from, to]) = cost.usual.filter(|[from, to]| !(*from..=*to).contains(&cost.share.mid)) {
        let side = if cost.share.mid < from { "below" } else { "above" };
        notes.push(format!(
            "{side} the usual {}\u{2060}–\u{2060}{} of whole schemes",
            number(from, Dimension::Share, system),
            share(to)
        ));
    }
    if option.kind != OptionKind::Rebuild && cost.share.mid >= ASKED_FROM {
        notes.push("agencies ask whether to replace".to_owned());
    }
    Cell {
        figure: share(cost.share.mid),
        verdict: "of a new building".to_owned(),
        bar: Some(range_bar([cost.share.low, cost.share.mid, cost.share.high], [ASKED_FROM, ASKED_TO], most, BAR_PX)),
        notes,
        ..Cell::default()
    }
}

fn carbon(option: &OptionResult, system: System) -> Cell {
    let Some(works) = option.works.as_ref().filter(|works| works.carbon.tonnes.high > 0.0) else {
        return plain("none");
    };
    let carbon = &works.carbon;
    let mut notes = vec![band(carbon.tonnes, Dimension::Tonnes, system)];
    if option.kind != OptionKind::Rebuild {
        notes.push(format!("{} of rebuilding", show(carbon.share, Dimension::Share, system)));
    }
    Cell {
        figure: show(carbon.tonnes.mid, Dimension::Tonnes, system),
        verdict: "CO₂e".to_owned(),
        notes,
        ..Cell::default()
    }
}

/// A figure of the programme of an option, or what stands in its place.
fn of_programme(option: &OptionResult, cell: &dyn Fn(&Programmed) -> Cell) -> Cell {
    match &option.programme {
        Some(own) => Cell { stale: option.programme_pending, ..cell(own) },
        None if option.programme_pending => Cell { notes: vec!["follows".to_owned()], ..Cell::default() },
        None => plain("none"),
    }
}

/// Least to most over the paces, where they differ: slow work may wait for fewer breaks and end sooner.
fn range(own: &Programmed, read: &dyn Fn(&Figures) -> u32) -> String {
    let [fast, usual, slow] = [0, 1, 2].map(|pace| read(&own.paces[pace]));
    let (least, most) = (fast.min(usual).min(slow), fast.max(usual).max(slow));
    if least == most {
        "at any pace".to_owned()
    } else {
        format!("{}\u{2060}–\u{2060}{}", grouped(f64::from(least), 0), grouped(f64::from(most), 0))
    }
}

fn counted(count: u32, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

fn room_days(option: &OptionResult, most: f64, system: System) -> Cell {
    if option.kind == OptionKind::Rebuild {
        let Some(closed) = option.works.as_ref().and_then(|works| works.closed.as_ref()) else { return plain("–") };
        let days = closed.room_days_in_use;
        let [low, high] = [days.low, days.high].map(|days| grouped(days, 0));
        return Cell {
            figure: "all rooms".to_owned(),
            notes: vec![format!("{low}\u{2060}–\u{2060}{high} room-days in use"), "the site is closed".to_owned()],
            ..Cell::default()
        };
    }
    of_programme(option, &|own| {
        let usual = own.usual();
        let mut notes = vec![range(own, &|figures| figures.room_days_in_use)];
        if usual.room_days_in_breaks > 0 {
            notes.push(format!("{} more in breaks", grouped(f64::from(usual.room_days_in_breaks), 0)));
        }
        if usual.peak_rooms > 0 {
            notes.push(format!(
                "{} shut at once, {} of the floor",
                counted(usual.peak_rooms, "room", "rooms"),
                show(usual.peak_share, Dimension::Share, system)
            ));
        } else {
            notes.push("no room is shut".to_owned());
        }
        Cell {
            figure: grouped(f64::from(usual.room_days_in_use), 0),
            verdict: "room-days".to_owned(),
            bar: Some(size_bar(f64::from(usual.room_days_in_use), most, BAR_PX)),
            notes,
            ..Cell::default()
        }
    })
}

/// Weeks, the breaks used, and what spills.
fn weeks(option: &OptionResult) -> Cell {
    if option.kind == OptionKind::Rebuild {
        let Some(closed) = option.works.as_ref().and_then(|works| works.closed.as_ref()) else { return plain("–") };
        let (weeks, days) = (|weeks: f64| grouped(weeks.ceil(), 0), closed.weeks);
        return noted(
            format!("{} weeks", weeks(days.mid)),
            format!("{}\u{2060}–\u{2060}{}", weeks(days.low), weeks(days.high)),
        );
    }
    of_programme(option, &|own| {
        let mut notes = vec![range(own, &|figures| figures.weeks.ceil() as u32)];
        if own.paces.iter().any(|figures| figures.unplaced > 0) {
            notes.push(format!("more than {YEARS_AHEAD} years: not placed whole"));
        }
        let [long, short] = own.usual().breaks;
        let mut used = Vec::new();
        if long > 0 {
            used.push(counted(long, "long break", "long breaks"));
        }
        if short > 0 {
            used.push(counted(short, "short break", "short breaks"));
        }
        if !used.is_empty() {
            notes.push(format!("in {}", used.join(", ")));
        }
        let [_, usual, slow] = own.spilled;
        if usual > 0 {
            notes.push(format!("{} in no break", counted(usual, "group of rooms fits", "groups of rooms fit")));
        } else if slow > 0 {
            notes.push(format!("slow work spills {}", counted(slow, "group of rooms", "groups of rooms")));
        }
        Cell { figure: counted(own.usual().weeks.ceil() as u32, "week", "weeks"), notes, ..Cell::default() }
    })
}

fn loud_days(option: &OptionResult) -> Cell {
    if option.kind == OptionKind::Rebuild {
        return plain("–");
    }
    of_programme(option, &|own| {
        let mut notes = vec![range(own, &|figures| figures.loud_days_in_use)];
        if own.usual().neighbour_loud_days > 0 {
            notes.push(format!(
                "{} next to rooms in use",
                counted(own.usual().neighbour_loud_days, "room-day", "room-days")
            ));
        }
        Cell { figure: counted(own.usual().loud_days_in_use, "day", "days"), notes, ..Cell::default() }
    })
}

/// The most used part of all connecting slabs, as the sheet of connections names it: the old slab behind a joint may be
/// weaker than the joint.
fn slab(option: &OptionResult) -> Cell {
    let slabs = option.connections.iter().filter(|own| own.kind == ConnectionKind::ConnectingSlab);
    let most = slabs
        .filter_map(|own| Some((own, own.governing()?)))
        .max_by(|(_, one), (_, other)| one.utilisation.total_cmp(&other.utilisation));
    let Some((worst, check)) = most else { return plain("–") };
    let verdict = if check.utilisation > 1.0 { "too weak" } else { "✓\u{a0}carries" };
    Cell {
        figure: used(check.utilisation),
        verdict: verdict.to_owned(),
        notes: vec![format!("line {}, level {}", worst.line, worst.storey), check.part.label().to_owned()],
        ..Cell::default()
    }
}

fn watch(option: &OptionResult, system: System) -> Watch {
    const SHOWN: usize = 3;
    let mut words: Vec<(bool, String)> = in_words(&option.findings, system)
        .into_iter()
        .map(|(severity, text)| (severity == Severity::Trouble, text))
        .collect();
    let more = words.split_off(words.len().min(SHOWN));
    Watch { first: words, more, set: String::new() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn matrix() -> Matrix {
        Matrix::of(&sample::study(&sample::project(sample::CLINIC)), None, System::Si)
    }

    fn row(matrix: &Matrix, figure: Figure) -> &Row {
        matrix.rows.iter().find(|row| row.figure == figure).expect("every figure has a row")
    }

    #[test]
    fn every_row_has_a_cell_for_every_option_in_their_order() {
        let matrix = matrix();
        let titles: Vec<String> = matrix.columns.iter().map(Column::title).collect();
        assert_eq!(titles[0], "As it stands");
        assert_eq!(titles[1], "A Jackets");
        assert_eq!(titles[6], "Rebuild");
        assert!(matrix.rows.iter().all(|row| row.cells.len() == 7));
        assert_eq!(matrix.watch.len(), 7);
    }

    #[test]
    fn says_in_a_word_whether_the_demand_is_reached() {
        let matrix = matrix();
        let cells = &row(&matrix, Figure::StrengthToDemand).cells;
        assert_eq!((cells[0].figure.as_str(), cells[0].verdict.as_str()), ("0.42", "short by 58\u{a0}%"));
        assert_eq!((cells[5].figure.as_str(), cells[5].verdict.as_str()), ("1.12", "✓\u{a0}reaches demand"));
        assert_eq!(cells[6].notes, ["to the current code"]);
    }

    #[test]
    fn the_demand_tick_stands_at_the_same_place_in_every_bar() {
        let matrix = matrix();
        let ticks: Vec<_> = row(&matrix, Figure::StrengthToDemand)
            .cells
            .iter()
            .filter_map(|cell| cell.bar.as_ref())
            .map(|bar| bar.shapes.last().cloned().expect("a tick"))
            .collect();
        assert_eq!(ticks.len(), 6);
        assert!(ticks.windows(2).all(|pair| pair[0] == pair[1]));
    }

    /// The comparison and the sheet of connections name the same part with the same figure, and the old slab is one.
    #[test]
    fn the_part_of_a_slab_that_is_used_most_is_named() {
        let study = sisterframe_core::evaluate::outline(&sample::project(sample::CLINIC));
        let matrix = Matrix::of(&study, None, System::Si);
        let cells = &row(&matrix, Figure::WorstSlab).cells;
        assert_eq!(cells[0].figure, "–");
        let slabs = || study.options[4].connections.iter().filter(|own| own.kind == ConnectionKind::ConnectingSlab);
        let most = slabs().flat_map(|own| &own.checks).map(|check| check.utilisation).fold(0.0, f64::max);
        let named = slabs().filter(|own| own.utilisation() == Some(most)).filter_map(|own| own.governing());
        let labels: Vec<&str> = named.map(|check| check.part.label()).collect();
        assert_eq!(cells[4].figure, used(most));
        assert!(cells[4].notes[0].starts_with("line A, level "), "{:?}", cells[4]);
        assert!(labels.contains(&cells[4].notes[1].as_str()), "{:?}", cells[4]);
        assert_eq!(cells[4].verdict.contains("weak"), most > 1.0);
        let told = sisterframe_core::reading::options(&study);
        assert!(most > 1.0 && told.contains("the connecting slab of D"), "{told}");
    }

    #[test]
    fn capacity_over_demand_names_what_limits_it_in_both_directions() {
        let project = sample::project(sample::CLINIC);
        let matrix = Matrix::of(&sisterframe_core::evaluate::study(&project), None, System::Si);
        let cells = &row(&matrix, Figure::CapacityToDemand).cells;
        for cell in &cells[..6] {
            assert_eq!(cell.notes.len(), 2, "{cell:?}");
            let least = cell.notes.iter().filter_map(|note| note[2..].split(':').next()).min();
            assert_eq!(least, Some(cell.figure.as_str()), "the figure is the lesser of both");
        }
        assert_eq!(cells[6].notes, ["to the current code"]);
    }

    /// The member printed first in the weakest storey stands beside its own failure.
    #[test]
    fn what_is_lost_first_is_printed_with_its_own_failure() {
        let mut otherwise = 0;
        let school = include_str!("../../../demo-scenarios/school.json");
        for demo in [sample::CLINIC, school] {
            let study = sisterframe_core::evaluate::outline(&sample::project(demo));
            let matrix = Matrix::of(&study, None, System::Si);
            for (option, cell) in study.options.iter().zip(&row(&matrix, Figure::WeakestStorey).cells) {
                let Some(weakest) = &option.weakest else { continue };
                let result = option.directions.iter().find(|own| own.along_x == weakest.along_x).expect("a result");
                let members = result.storeys[weakest.storey as usize - 1].members.iter();
                let least = members.filter(|own| own.strength_kn > 0.0);
                let least = least.min_by(|a, b| a.limit_drift_mm.total_cmp(&b.limit_drift_mm)).expect("a member");
                let printed = cell.notes.iter().find(|note| note.starts_with("first: ")).expect("a member");
                let place = least.place.to_string();
                assert!(
                    place.starts_with(printed["first: ".len()..].split(" (").next().expect("a place")),
                    "{printed}"
                );
                assert!(printed.contains(least.failure.gives()), "{printed}: {:?}", least.failure);
                let sudden = least.failure.is_brittle() || weakest.failure.is_brittle();
                assert_eq!(cell.notes.concat().contains("without warning"), sudden, "{cell:?}");
                otherwise += u32::from(least.failure != weakest.failure);
            }
        }
        assert!(otherwise > 0, "members of the demos fail otherwise than their storeys");
    }

    /// Jackets that leave the joints as built: more force is asked of a stiffer building, by equilibrium of the two
    /// ratios in one storey.
    #[test]
    fn a_ratio_of_forces_that_falls_says_what_of_it_changed() {
        let study = sisterframe_core::evaluate::outline(&sample::project(sample::CLINIC));
        let matrix = Matrix::of(&study, None, System::Si);
        let cells = &row(&matrix, Figure::StrengthToDemand).cells;
        assert_eq!(cells[0].notes.len(), 1, "{:?}", cells[0]);
        let [before, jackets] = [&study.options[0], &study.options[1]];
        let headline = jackets.strength_to_demand.expect("a ratio");
        assert!(headline.ratio < before.strength_to_demand.expect("a ratio").ratio);
        let note = &cells[1].notes[1];
        let numbers: Vec<f64> = note
            .split(|letter: char| !letter.is_ascii_digit() && letter != '.')
            .filter_map(|part| part.parse().ok())
            .collect();
        let [was, asked, strength] = numbers[..] else { panic!("{note}") };
        assert!((was - before.strength_to_demand.expect("a ratio").ratio).abs() < 0.006, "{note}");
        let same = &before.directions[usize::from(!headline.along_x)].storeys[headline.storey as usize - 1];
        assert!((headline.ratio - same.ratio * strength / asked).abs() < 0.01, "{note}");
    }

    #[test]
    fn strength_over_demand_is_not_called_capacity() {
        let matrix = matrix();
        let strength = row(&matrix, Figure::StrengthToDemand);
        assert!(!format!("{strength:?}").to_lowercase().contains("capacity"));
    }
}
