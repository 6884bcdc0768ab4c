//! A whole building from eight answers, to start from where nothing is typed yet.
//!
//! Every value it gives is an assumption, and the project's remark says so. Concrete and bars
//! are the defaults by year of ASCE 41-17 tables 10-2 and 10-3 (lower bounds, from memory),
//! live loads those of ASCE 7-16 table 4.3-1 (from memory); sections, bars, hoops and laps
//! follow the practice of their time (common practice, no source). They are what an engineer
//! would pencil in before the drawings are found, not a design.

use crate::phrase::Phrase;
use crate::project::{
    Base, BeamPlacing, BeamType, Building, ColumnPlacing, ColumnType, Corridors, FORMAT, Field, FieldError, GridLine,
    GroundMotion, Hooks, Knowledge, Masonry, Materials, Names, Objective, Occupancy, Project, Record, Rooms, RuleSet,
    Span, Spec, Storey, Units,
};
use crate::project::{Control, Wire};
use crate::units::{Dimension, System, typed};

/// The most bays the assistant lays out in one direction.
const MAX_BAYS: usize = 20;
/// Shortest and longest span it lays out, m.
const SPANS_M: (f64, f64) = (2.5, 10.0);
/// The most storeys it stacks: beyond them a first-mode static method is not enough.
const MAX_STOREYS: u32 = 8;

/// The answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Answers {
    /// Name of the building.
    pub name: String,
    /// What it is used for.
    pub occupancy: Occupancy,
    /// Year of construction.
    pub year: u32,
    /// Storeys.
    pub storeys: u32,
    /// Floor to floor, m.
    pub height_m: f64,
    /// Spans along x in order, m.
    pub spans_x_m: Vec<f64>,
    /// Spans along y in order, m.
    pub spans_y_m: Vec<f64>,
    /// Whether walls stand under the windows of both long sides.
    pub sills: bool,
}

impl Default for Answers {
    fn default() -> Self {
        Self {
            name: "New building".to_owned(),
            occupancy: Occupancy::School,
            year: 1965,
            storeys: 3,
            height_m: 3.5,
            spans_x_m: vec![4.5; 6],
            spans_y_m: vec![7.0, 2.5],
            sills: true,
        }
    }
}

const fn question(key: &'static str, spec: Spec, control: Control) -> Field {
    Field { key, spec, control, optional: false }
}

/// The questions, described as the fields of a project are. Spans are asked as text and read
/// by [`spans`].
pub const QUESTIONS: &[Field] = &[
    question("name", Spec { min: 1.0, ..Spec::text("Name", 80) }, Control::Text),
    question("occupancy", Spec::of("Use"), <Occupancy as Wire>::CONTROL),
    question("year", Spec { dimension: Dimension::Year, ..Spec::whole("Built", 1900, 2100) }, Control::Whole),
    question("storeys", Spec::whole("Storeys", 1, MAX_STOREYS), Control::Whole),
    question("height_m", Spec::number("Storey height", Dimension::Metres, 2.4, 5.0, 0.05), Control::Number),
    question("spans_x", Spec { min: 1.0, ..Spec::text("Spans along x", 80) }, Control::Text),
    question("spans_y", Spec { min: 1.0, ..Spec::text("Spans along y", 80) }, Control::Text),
    question("sills", Spec::of("Walls under the windows"), Control::Flag),
];

/// Spans as people write them: `6 × 4.5`, or `7.2 2.7 7.2`, or both; a unit may follow each.
///
/// # Errors
/// What is no span, in words.
///
/// ```
/// use sisterframe_core::assistant::spans;
/// use sisterframe_core::units::System;
/// assert_eq!(spans("2 x 4.5; 6", System::Si), Ok(vec![4.5, 4.5, 6.0]));
/// assert_eq!(spans("3 × 15 ft", System::Si), Ok(vec![4.572; 3]));
/// assert!(spans("0 x 4", System::Si).is_err());
/// ```
pub fn spans(text: &str, system: System) -> Result<Vec<f64>, FieldError> {
    let refused = |value: &str, problem: &str| {
        let such_as = if system == System::Si { ", such as 6 × 4.5 or 7.2 2.7" } else { ", such as 6 × 15 or 24 9" };
        let permitted = spans_permitted().and(such_as);
        FieldError { path: "spans".to_owned(), value: value.to_owned(), problem: problem.into(), permitted }
    };
    let spaced = text.replace(['×', '*', 'X'], "x").replace([';', '+', '/', '\n', '\t'], " ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut all = Vec::new();
    let mut rest = words.as_slice();
    while let Some((first, after)) = rest.split_first() {
        rest = after;
        // A count, its sign and a span may stand apart or together.
        let (count, span) = match (first.split_once('x'), rest) {
            (Some((count, "")), [span, after @ ..]) if !count.is_empty() => {
                rest = after;
                (count, (*span).to_owned())
            }
            (Some((count, span)), _) => (count, span.to_owned()),
            (None, [sign, span, after @ ..]) if *sign == "x" => {
                rest = after;
                (*first, (*span).to_owned())
            }
            (None, [joined, after @ ..]) if joined.starts_with('x') => {
                rest = after;
                (*first, joined[1..].to_owned())
            }
            (None, _) => ("1", (*first).to_owned()),
        };
        let mut span = span;
        if let [unit, after @ ..] = rest
            && unit.starts_with(|c: char| c.is_alphabetic() && c != 'x')
        {
            span = format!("{span} {unit}");
            rest = after;
        }
        let count: usize = count.parse().map_err(|_| refused(count, "a count of spans is needed before ×"))?;
        let length =
            typed(&span, Dimension::Metres, system).map_err(|_| refused(&span, "a span in numbers is needed"))?;
        if !(SPANS_M.0..=SPANS_M.1).contains(&length) {
            return Err(refused(&span, "a span is too short or too long"));
        }
        if count == 0 || all.len() + count > MAX_BAYS {
            return Err(refused(text, "no spans, or too many"));
        }
        all.extend(std::iter::repeat_n(length, count));
    }
    if all.is_empty() { Err(refused(text, "spans are needed here")) } else { Ok(all) }
}

/// The defaults of a year: ASCE 41-17 table 10-2 (columns; lower bound of its range) and
/// table 10-3 (the lowest grade rolled then), both entered from memory.
fn materials(year: u32) -> Materials {
    const PSI: f64 = 0.006_894_757;
    let concrete_psi = match year {
        ..=1919 => 1500.0,
        1920..=1949 => 2000.0,
        _ => 3000.0,
    };
    let steel_psi = if year < 1960 { 33_000.0 } else { 40_000.0 };
    let to_half = |mpa: f64| (2.0 * mpa).floor() / 2.0;
    let steel_mpa = (steel_psi * PSI).floor();
    Materials {
        concrete_mpa: to_half(concrete_psi * PSI),
        steel_mpa,
        hoop_steel_mpa: steel_mpa,
        knowledge: Knowledge::Assumed,
    }
}

/// Hoops, hooks and laps of a time (common practice, no source).
struct Detailing {
    hoop_mm: f64,
    hoop_spacing_mm: f64,
    hooks: Hooks,
    /// Lap length over bar diameter.
    lap: f64,
    stirrup_spacing_mm: f64,
}

impl Detailing {
    const fn of(year: u32) -> Self {
        match year {
            ..=1971 => {
                Self { hoop_mm: 6.0, hoop_spacing_mm: 250.0, hooks: Hooks::Right, lap: 24.0, stirrup_spacing_mm: 250.0 }
            }
            1972..=1989 => Self {
                hoop_mm: 10.0,
                hoop_spacing_mm: 200.0,
                hooks: Hooks::Right,
                lap: 36.0,
                stirrup_spacing_mm: 200.0,
            },
            _ => Self {
                hoop_mm: 10.0,
                hoop_spacing_mm: 100.0,
                hooks: Hooks::Seismic,
                lap: 48.0,
                stirrup_spacing_mm: 150.0,
            },
        }
    }
}

/// The live load of a use, kPa: ASCE 7-16 table 4.3-1, from memory.
const fn live_kpa(occupancy: Occupancy) -> f64 {
    match occupancy {
        Occupancy::School | Occupancy::Clinic => 1.92,
        Occupancy::Office | Occupancy::Other => 2.4,
    }
}

/// Up to a multiple.
fn up_to(value: f64, step: f64) -> f64 {
    (value / step).ceil() * step
}

/// Bars that give an area, an even count of the smallest size of which no more than `most` are needed.
fn bars(area_mm2: f64, least: u32, most: u32) -> (u32, f64) {
    const SIZES_MM: [f64; 6] = [16.0, 19.0, 22.0, 25.0, 29.0, 32.0];
    let count = |size: f64| {
        let needed = (area_mm2 / (0.25 * std::f64::consts::PI * size * size)).ceil() as u32;
        (needed + needed % 2).max(least)
    };
    let size = SIZES_MM.into_iter().find(|size| count(*size) <= most).unwrap_or(32.0);
    (count(size).min(most), size)
}

/// The widest strip a line carries, m: half the spans on both of its sides.
fn strip_m(spans: &[f64]) -> f64 {
    let inner = spans.windows(2).map(|pair| 0.5 * (pair[0] + pair[1])).fold(0.0, f64::max);
    inner.max(0.5 * spans.iter().copied().fold(0.0, f64::max))
}

fn longest(spans: &[f64]) -> f64 {
    spans.iter().copied().fold(0.0, f64::max)
}

/// A column that carries its load at about a third of the concrete's strength, with 1.2 % of
/// bars (common practice, no source), and leaves room in the shortest bay.
fn column_type(name: &str, load_kn: f64, shortest_m: f64, year: u32) -> ColumnType {
    let own = materials(year);
    let detailing = Detailing::of(year);
    let room_mm = ((1000.0 * shortest_m - 600.0) / 50.0).floor() * 50.0;
    let side_mm = up_to((1000.0 * load_kn / (0.35 * own.concrete_mpa)).sqrt(), 50.0).clamp(300.0, room_mm.min(2000.0));
    let most = (side_mm / 40.0) as u32;
    let (count, bar_mm) = bars(0.012 * side_mm * side_mm, 8, (most + most % 2).clamp(8, 60));
    let legs = if year < 1972 { 2 } else { ((side_mm / 350.0).ceil() as u32 + 1).clamp(2, 12) };
    ColumnType {
        name: name.to_owned(),
        x_mm: side_mm,
        y_mm: side_mm,
        bars: count,
        bar_mm,
        cover_mm: 30.0,
        hoop_mm: detailing.hoop_mm,
        hoop_spacing_mm: detailing.hoop_spacing_mm,
        hoop_legs_x: legs,
        hoop_legs_y: legs,
        hooks: detailing.hooks,
        lap_mm: Some(up_to(detailing.lap * bar_mm, 10.0)),
        base: Base::Fixed,
    }
}

/// A beam as deep as an eleventh of its span, with bars for the moment of its load at half
/// their yield strength (common practice, no source).
fn beam_type(name: &str, span_m: f64, load_kn_m: f64, widest_mm: f64, answers: &Answers) -> BeamType {
    let detailing = Detailing::of(answers.year);
    let half_storey = (500.0 * answers.height_m / 50.0).floor() * 50.0;
    let depth_mm = up_to(1000.0 * span_m / 11.0, 50.0).clamp(350.0, half_storey.max(350.0));
    let width_mm = up_to(0.5 * depth_mm, 50.0).max(250.0).min(widest_mm);
    let moment_knm = load_kn_m * span_m * span_m / 11.0;
    let lever_mm = 0.8 * depth_mm;
    let area_mm2 = 1e6 * moment_knm / (0.5 * materials(answers.year).steel_mpa * lever_mm);
    let (top_bars, top_bar_mm) = bars(area_mm2, 2, 6.max((width_mm / 60.0) as u32));
    BeamType {
        name: name.to_owned(),
        width_mm,
        depth_mm,
        top_bars,
        top_bar_mm,
        bottom_bars: (top_bars / 2).max(2),
        bottom_bar_mm: top_bar_mm,
        cover_mm: 30.0,
        stirrup_mm: 10.0,
        stirrup_spacing_mm: detailing.stirrup_spacing_mm,
    }
}

fn lines(spans: &[f64], name: impl Fn(usize) -> String) -> Vec<GridLine> {
    let mut at_m = 0.0;
    let mut lines = vec![GridLine { name: name(0), at_m }];
    for (place, span) in spans.iter().enumerate() {
        at_m += span;
        // To the millimetre, so that sums of spans stay readable.
        lines.push(GridLine { name: name(place + 1), at_m: (at_m * 1000.0).round() / 1000.0 });
    }
    lines
}

/// Letters in order: A, B … Z.
fn lettered(place: usize) -> String {
    char::from(b'A' + (place % 26) as u8).to_string()
}

/// How many spans of what length there may be.
fn spans_permitted() -> Phrase {
    let mut words = Phrase::from(format!("up to {MAX_BAYS} spans of "));
    words.extend([Phrase::between(SPANS_M.0, SPANS_M.1, Dimension::Metres)]);
    words
}

fn remark(answers: &Answers) -> String {
    format!(
        "Started from eight answers: every value is an assumption until it is replaced. Concrete and bars are \
         lower-bound defaults for {} (ASCE 41-17 tables 10-2 and 10-3, from memory); live loads are of \
         ASCE 7-16 table 4.3-1 (from memory); slabs, sections, bars, hoops, laps and masonry follow common practice, no \
         source. The ground motion stands in for the site's own.",
        answers.year
    )
}

/// The project the answers describe.
///
/// # Errors
/// The first answer outside its range, by its key.
pub fn project(answers: &Answers) -> Result<Project, FieldError> {
    let asked = |key: &str, value: f64| {
        let Some(question) = QUESTIONS.iter().find(|question| question.key == key) else { return Ok(()) };
        if (question.spec.min..=question.spec.max).contains(&value) {
            return Ok(());
        }
        Err(FieldError {
            path: key.to_owned(),
            value: value.to_string(),
            problem: "outside the permitted range".into(),
            permitted: question.spec.range(),
        })
    };
    asked("year", f64::from(answers.year))?;
    asked("storeys", f64::from(answers.storeys))?;
    asked("height_m", answers.height_m)?;
    for (key, spans) in [("spans_x", &answers.spans_x_m), ("spans_y", &answers.spans_y_m)] {
        let fit = |span: &f64| (SPANS_M.0..=SPANS_M.1).contains(span);
        if spans.is_empty() || spans.len() > MAX_BAYS || !spans.iter().all(fit) {
            return Err(FieldError {
                path: key.to_owned(),
                value: format!("{} spans", spans.len()),
                problem: "outside the permitted range".into(),
                permitted: spans_permitted(),
            });
        }
    }
    let project = Project {
        sisterframe: FORMAT,
        name: String::new(),
        note: remark(answers),
        rules: RuleSet::USUAL,
        units: Units::Si,
        ground_motion: ground_motion(answers.occupancy),
        building: building(answers),
        schemes: Vec::new(),
        working_times: None,
        works: None,
    };
    named(project, &answers.name)
}

fn named(mut project: Project, name: &str) -> Result<Project, FieldError> {
    project.set("name", &serde_json::Value::from(name.trim()))?;
    project.check()?;
    Ok(project)
}

/// A motion of moderate hazard on firm ground, to be replaced by the site's own. Importance:
/// ASCE 7-16 table 1.5-2, from memory.
fn ground_motion(occupancy: Occupancy) -> GroundMotion {
    let (importance, objective) = match occupancy {
        Occupancy::School => (1.25, Objective::LifeSafety),
        Occupancy::Clinic => (1.5, Objective::ImmediateUse),
        Occupancy::Office | Occupancy::Other => (1.0, Objective::LifeSafety),
    };
    GroundMotion {
        note: "Assumption: replace it by the motion of the site".to_owned(),
        sxs_g: 0.5,
        sx1_g: 0.25,
        tl_s: 8.0,
        by_ground: None,
        damping: 0.05,
        importance,
        objective,
        table: Vec::new(),
    }
}

fn building(answers: &Answers) -> Building {
    let (along_x, along_y) = (&answers.spans_x_m, &answers.spans_y_m);
    // The slab spans the shorter way between beams.
    let slab_span = longest(along_x).min(longest(along_y));
    let slab_mm = up_to(1000.0 * slab_span / 35.0, 10.0).max(120.0);
    let floor =
        |finishes_kpa: f64, live_kpa: f64| Storey { height_m: answers.height_m, slab_mm, finishes_kpa, live_kpa };
    let mut storeys = vec![floor(1.5, live_kpa(answers.occupancy)); answers.storeys as usize - 1];
    storeys.push(floor(1.2, 0.96));
    // Beams, columns and partitions beside the slab, kPa (common practice, no source).
    let floor_kpa = slab_mm / 1000.0 * 24.0 + 1.5 + live_kpa(answers.occupancy) + 3.0;
    let (strip_x, strip_y) = (strip_m(along_x), strip_m(along_y));
    let load_kn = |floors: u32| strip_x * strip_y * floor_kpa * f64::from(floors);
    let shortest = along_x.iter().chain(along_y).copied().fold(f64::INFINITY, f64::min);
    let lower = column_type("C1", load_kn(answers.storeys), shortest, answers.year);
    let x_lines = lines(along_x, |place| (place + 1).to_string());
    let y_lines = lines(along_y, lettered);
    let all = |column: &str, storeys| ColumnPlacing {
        column: column.to_owned(),
        x: Names::default(),
        y: Names::default(),
        storeys,
    };
    let mut column_types = vec![lower];
    let mut columns = vec![all("C1", None)];
    // From four storeys on the upper half has smaller columns.
    if answers.storeys >= 4 {
        let first = answers.storeys / 2 + 1;
        column_types.push(column_type("C2", load_kn(answers.storeys + 1 - first), shortest, answers.year));
        columns.push(all("C2", Some(Span { first, last: answers.storeys })));
    }
    let narrowest = column_types.iter().map(|column| column.x_mm).fold(f64::INFINITY, f64::min);
    let beam_types = vec![
        beam_type("B1", longest(along_x), strip_y * floor_kpa, narrowest, answers),
        beam_type("B2", longest(along_y), strip_x * floor_kpa, narrowest, answers),
    ];
    let beam = |beam: &str, lines: &[GridLine]| BeamPlacing {
        beam: beam.to_owned(),
        lines: Names(lines.iter().map(|line| line.name.clone()).collect()),
        bays: None,
        storeys: None,
    };
    let beams = vec![beam("B1", &y_lines), beam("B2", &x_lines)];
    let mut masonry = Vec::new();
    if answers.sills {
        let fronts = [y_lines.first(), y_lines.last()].into_iter().flatten();
        masonry.push(Masonry {
            lines: Names(fronts.map(|line| line.name.clone()).collect()),
            bays: None,
            storeys: None,
            thickness_mm: 200.0,
            sill_mm: Some(900.0),
            compressive_mpa: 4.0,
            shear_mpa: 0.2,
        });
    }
    // A strip too narrow for rooms beside wider ones is taken for a corridor.
    let is_corridor = |span: &f64| *span <= 3.5 && longest(along_y) > 1.5 * span;
    let strips = along_y.iter().enumerate().filter(|(_, span)| is_corridor(span));
    let most = along_x.len() as u32;
    Building {
        occupancy: answers.occupancy,
        year: answers.year,
        x_lines,
        y_lines,
        storeys,
        live_share: 0.25,
        materials: materials(answers.year),
        column_types,
        beam_types,
        columns,
        beams,
        walls: Vec::new(),
        masonry,
        masonry_counts: true,
        rooms: Rooms {
            bays_per_room: if answers.occupancy == Occupancy::School { most.min(2) } else { 1 },
            corridor_strips: Corridors(strips.map(|(place, _)| place as u32 + 1).collect()),
            own: Vec::new(),
        },
    }
}
