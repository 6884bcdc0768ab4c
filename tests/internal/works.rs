//! Quantities, labour and closed rooms against hand sums.
//!
//! The four small jobs (a jacket, two wings, a filled bay, a bay-storey of an external
//! frame) are planners' sums: common practice, no source. Their geometry is checked to
//! 1 %, what comes from rules of thumb to 15 %, labour against the slow, usual and fast
//! sums. Masses of bars are the nominal ones of ISO 6935-2 (MEMORY): 10 mm 0.617,
//! 12 mm 0.888, 16 mm 1.58, 20 mm 2.47, 22 mm 2.98, 25 mm 3.85 kg/m.

use serde_json::json;
use sisterframe_core::evaluate;
use sisterframe_core::model::{CONCRETE_KN_M3, Model};
use sisterframe_core::project::{Measure, OwnRate, OwnWorks, Project, Scheme};
use sisterframe_core::study::{ActivityResult, Band, Study, WorksResult};
use sisterframe_core::works::calendar::{Calendar, DAY_HOURS, Date, Month, WEEKDAYS};
use sisterframe_core::works::programme::{Inside, Pace, Programme, Rules, Step, of_scheme, programmes};
use sisterframe_core::works::rates::{Task, WAITS};
use sisterframe_core::works::{self, Room, RoomPlan};
use sisterframe_tests::approx::{assert_near, is_near};

/// A building of 6 m bays with 500 mm columns, 500 mm beams and one bay to a room.
pub(crate) struct Sample {
    pub storeys: usize,
    pub height_m: f64,
    pub columns_mm: u32,
    /// More keys of the building, each followed by a comma.
    pub more: &'static str,
}

pub(crate) const PLAIN: Sample = Sample { storeys: 2, height_m: 3.2, columns_mm: 500, more: "" };

impl Sample {
    /// The project with one scheme of the given measures.
    pub fn with(&self, measures: &str) -> Project {
        let Self { height_m, columns_mm, more, .. } = self;
        let storey = format!(r#"{{"height_m": {height_m}, "slab_mm": 150, "finishes_kpa": 1.5, "live_kpa": 3}}"#);
        let storeys = vec![storey; self.storeys].join(", ");
        let text = format!(
            r#"{{
  "sisterframe": 1, "name": "Sample",
  "ground_motion": {{"sxs_g": 0.6, "sx1_g": 0.3}},
  "building": {{
    "occupancy": "school", "year": 1965,
    "x_lines": [{{"name": "1", "at_m": 0}}, {{"name": "2", "at_m": 6}}, {{"name": "3", "at_m": 12}}],
    "y_lines": [{{"name": "A", "at_m": 0}}, {{"name": "B", "at_m": 6}}, {{"name": "C", "at_m": 12}}],
    "storeys": [{storeys}],
    "materials": {{"concrete_mpa": 15, "steel_mpa": 280, "hoop_steel_mpa": 280}},
    "column_types": [{{"name": "K", "x_mm": {columns_mm}, "y_mm": {columns_mm}, "bars": 8, "bar_mm": 20,
                       "hoop_mm": 8, "hoop_spacing_mm": 200}}],
    "beam_types": [{{"name": "G", "width_mm": 300, "depth_mm": 500, "top_bars": 4, "top_bar_mm": 20,
                     "bottom_bars": 2, "bottom_bar_mm": 20, "stirrup_mm": 8, "stirrup_spacing_mm": 200}}],
    "columns": [{{"column": "K"}}], "beams": [{{"beam": "G"}}], {more}
    "rooms": {{"bays_per_room": 1}}
  }},
  "schemes": [{{"name": "Scheme", "measures": [{measures}]}}]
}}"#
        );
        Project::from_json(&text).unwrap_or_else(|error| panic!("{error}"))
    }
}

fn model_of(project: &Project) -> Model {
    Model::new(&project.building, &project.schemes[0])
}

pub(crate) fn works_of(project: &Project) -> WorksResult {
    works::evaluate(&model_of(project), project, &project.schemes[0])
}

fn quantity(works: &WorksResult, task: Task) -> f64 {
    let code = task.activity().code;
    works.activities.iter().find(|activity| activity.code == code).map_or(0.0, |activity| activity.quantity)
}

/// Rooms that are emptied.
fn rooms(works: &WorksResult) -> f64 {
    quantity(works, Task::MoveOut)
}

/// Labour of the given activities.
fn labour(works: &WorksResult, keep: impl Fn(&str) -> bool) -> Band {
    works.activities.iter().filter(|activity| keep(&activity.code)).map(|activity| activity.man_days).sum()
}

/// Fast, usual and slow labour within `tolerance` of a planner's sum.
#[track_caller]
fn assert_labour(what: &str, got: Band, fast_usual_slow: [f64; 3], tolerance: f64) {
    let got = [got.low, got.mid, got.high];
    let near = got.iter().zip(fast_usual_slow).all(|(one, other)| is_near(*one, other, tolerance));
    assert!(near, "{what}: got {got:?}, a planner's sum is {fast_usual_slow:?}, within {tolerance}");
}

pub(crate) const JACKET: &str = r#"{"kind": "jacket", "x": ["1"], "y": ["A"], "storeys": [1, 1], "thickness_mm": 100, "bars": 12,
    "bar_mm": 20, "hoop_mm": 10, "hoop_spacing_mm": 100, "concrete_mpa": 28}"#;
pub(crate) const WINGS: &str = r#"{"kind": "wing_wall", "x": ["2"], "y": ["A"], "storeys": [1, 1], "direction": "x",
    "length_mm": 900, "thickness_mm": 200, "bar_mm": 16, "bar_spacing_mm": 250, "concrete_mpa": 28,
    "embedment_mm": 200}"#;
pub(crate) const INFILL: &str = r#"{"kind": "infill_wall", "line": "B", "bays": [1, 1], "storeys": [2, 2], "thickness_mm": 200,
    "bar_mm": 10, "bar_spacing_mm": 200, "dowel_mm": 16, "dowel_spacing_mm": 150, "dowel_embedment_mm": 160,
    "concrete_mpa": 28}"#;

/// An external frame of some bays that rises one storey; 600 × 650 columns, 400 × 600
/// beams and a slab of 1.2 m × 250 mm.
pub(crate) fn frame(bays: u32, more: &str) -> String {
    format!(
        r#"{{"kind": "external_frame", "face": "A", "bays": [1, {bays}], "storeys": 1, "gap_m": 1.2,
    "column_along_mm": 600, "column_across_mm": 650, "column_bars": 12, "column_bar_mm": 25,
    "beam_width_mm": 400, "beam_depth_mm": 600, "beam_bars": 4, "beam_bar_mm": 22, "concrete_mpa": 30,
    "slab_mm": 250, "across_bar_mm": 16, "across_spacing_mm": 95, "embedment_mm": 200, "along_bar_mm": 12,
    "along_spacing_mm": 150{more}}}"#
    )
}

#[test]
fn a_jacket_from_500_to_700_mm() {
    let project = PLAIN.with(JACKET);
    let works = works_of(&project);
    assert_near("concrete, m³", quantity(&works, Task::PourJacket), 0.77, 0.01);
    assert_near("formwork, m²", quantity(&works, Task::FormJacket), 9.0, 0.01);
    assert_near("interface, m²", quantity(&works, Task::Roughen), 6.4, 0.001);
    assert_near("reinforcement, t", quantity(&works, Task::FixJacketBars), 0.14, 0.15);
    assert_near("bonded bars", quantity(&works, Task::BondBars), 24.0, 0.10);
    assert_near("cores", quantity(&works, Task::CoreSlab), 12.0, 0.0);
    // Twelve bars of 20 mm and 32 hoops of 10 mm, 2.4 m each, a tenth for laps.
    let by_hand = 1.1 * (12.0 * 3.2 * 2.47 + 32.0 * 2.4 * 0.617) / 1000.0;
    assert_near("reinforcement by table, t", quantity(&works, Task::FixJacketBars), by_hand, 0.01);
    // The planner's sum is for the column; rooms are emptied once, however many columns they have.
    let column = labour(&works, |code| code != "PREP_MOVE" && code != "HANDOVER");
    assert_labour("labour", column, [9.0, 14.0, 24.0], 0.15);
    // The corner room, and the one above while the slab is cored.
    assert_eq!(rooms(&works), 2.0);
}

#[test]
fn two_wings_on_a_column() {
    let works = works_of(&PLAIN.with(WINGS));
    assert_near("concrete, m³", quantity(&works, Task::PourWall), 0.97, 0.01);
    // Two faces and one edge of each wing; the planner's 11.9 counts both edges.
    assert_near("formwork, m²", quantity(&works, Task::FormWall), 2.0 * (2.0 * 0.9 + 0.2) * 2.7, 1e-9);
    assert_near("formwork by planner, m²", quantity(&works, Task::FormWall), 11.9, 0.10);
    assert_near("reinforcement, t", quantity(&works, Task::FixWallBars), 0.13, 0.15);
    // Per wing 11 rows into the column and 4 bars into the beams above and below, in two curtains.
    assert_near("bonded bars", quantity(&works, Task::BondBars), 2.0 * (2.0 * 11.0 + 2.0 * 2.0 * 4.0), 0.0);
    assert_near("bonded bars by planner", quantity(&works, Task::BondBars), 70.0, 0.15);
    assert_near("windows out", quantity(&works, Task::TakeOutWindow), 2.0, 0.0);
    assert_near("windows in", quantity(&works, Task::FitWindow), 2.0, 0.0);
    assert_near("top gap, m", quantity(&works, Task::GroutTop), 1.8, 1e-9);
    let column = labour(&works, |code| code != "PREP_MOVE" && code != "HANDOVER");
    assert_labour("labour", column, [10.0, 15.0, 26.0], 0.15);
    assert_eq!(rooms(&works), 2.0);
}

#[test]
fn an_infill_wall_in_a_bay() {
    let works = works_of(&PLAIN.with(INFILL));
    assert_near("concrete, m³", quantity(&works, Task::PourWall), 2.97, 0.01);
    assert_near("formwork, m²", quantity(&works, Task::FormWall), 29.7, 0.01);
    assert_near("bonded bars", quantity(&works, Task::BondBars), 110.0, 0.0);
    assert_near("reinforcement, t", quantity(&works, Task::FixWallBars), 0.33, 0.15);
    // A mesh of 10 mm at 200 in two curtains with a tenth for laps; dowels of 160 + 640 mm.
    let by_hand = (1.1 * 14.85 * 20.0 * 0.617 + 110.0 * 0.8 * 1.58) / 1000.0;
    assert_near("reinforcement by table, t", quantity(&works, Task::FixWallBars), by_hand, 0.01);
    assert_near("interface, m²", quantity(&works, Task::Roughen), 16.4 * 0.2, 1e-9);
    assert_eq!(quantity(&works, Task::TakeOutWindow), 0.0, "no window inside the building");
    assert_eq!(rooms(&works), 2.0);
    assert_labour("labour", works.man_days, [20.0, 33.0, 56.0], 0.15);
}

#[test]
fn a_bay_of_an_external_frame() {
    let sample = Sample { storeys: 1, height_m: 3.5, ..PLAIN };
    // One bay more is one column, one beam and one slab more, without setting up the site.
    let [one, two] = [1, 2].map(|bays| works_of(&sample.with(&frame(bays, ""))));
    let more = |task| quantity(&two, task) - quantity(&one, task);
    let concrete = 0.6 * 0.65 * 3.5 + 0.4 * 0.6 * 5.4 + 1.2 * 6.0 * 0.25;
    assert_near("concrete, m³", more(Task::PourFrame), concrete, 1e-9);
    assert_near("concrete by planner, m³", more(Task::PourFrame), 4.6, 0.05);
    let forms = 2.5 * 3.5 + 5.4 * (0.4 + 2.0 * 0.6 - 0.25);
    assert_near("forms, m²", more(Task::FormFrame), forms, 1e-9);
    assert_near("soffit, m²", more(Task::FormSoffit), 7.2, 1e-9);
    assert_near("forms by planner, m²", more(Task::FormFrame) + more(Task::FormSoffit), 26.0, 0.15);
    assert_near("reinforcement, t", more(Task::FixFrameBars), 0.74, 0.15);
    // Column, hoops, beam, stirrups, bars across (0.2 + 1.2 + 0.4 m) and along the slab.
    let by_hand = 1.1 * (12.0 * 3.5 * 3.85 + 35.0 * 3.0 * 1.05 * 0.888)
        + 1.1 * (8.0 * 6.0 * 2.98 + 54.0 * 2.0 * 0.8 * 0.888)
        + 58.0 * 1.8 * 1.58
        + 1.1 * 16.0 * 6.0 * 0.888;
    assert_near("reinforcement by table, t", more(Task::FixFrameBars), by_hand / 1000.0, 0.01);
    assert_near("bonded bars", more(Task::BondBars), 60.0, 0.05);
    let labour = |works| labour(works, |code| code != "EXT_SITE");
    let (one, two) = (labour(&one), labour(&two));
    let bay = Band { low: two.low - one.low, mid: two.mid - one.mid, high: two.high - one.high };
    assert_labour("labour", bay, [12.0, 20.0, 32.0], 0.20);
}

#[test]
fn an_external_frame_closes_no_room() {
    let works = works_of(&PLAIN.with(&frame(2, "")));
    assert!(programme_of(&PLAIN.with(&frame(2, "")), 1).closures.is_empty());
    assert!(!works.activities.iter().any(|own| own.code == Task::MoveOut.activity().code));
    assert_eq!(quantity(&works, Task::SetUpSite), 1.0);
}

#[test]
fn plain_joints_are_not_roughened() {
    let works = works_of(&PLAIN.with(&frame(2, r#", "surface": "plain""#)));
    assert_eq!(quantity(&works, Task::Roughen), 0.0);
}

/// Weight of a jacket on a square column: 25·4·t·(b + t) kN/m (DERIVED), with the round
/// figures planners use (common practice, no source).
#[test]
fn weights_of_jackets() {
    for (b_mm, t_mm, printed, digits) in
        [(400, 75, 3.6, 0.05), (400, 100, 5.0, 1e-9), (500, 100, 6.0, 1e-9), (600, 150, 11.25, 1e-9)]
    {
        let measure = JACKET.replace("\"thickness_mm\": 100", &format!("\"thickness_mm\": {t_mm}"));
        let model = model_of(&Sample { columns_mm: b_mm, ..PLAIN }.with(&measure));
        let (b, t) = (f64::from(b_mm) / 1000.0, f64::from(t_mm) / 1000.0);
        let per_metre = works::materials(&model).concrete_m3 * CONCRETE_KN_M3 / PLAIN.height_m;
        assert_near("formula, kN/m", per_metre, 25.0 * 4.0 * t * (b + t), 1e-12);
        assert!((per_metre - printed).abs() <= digits, "{b_mm} + 2 × {t_mm}: {per_metre}, planners take {printed}");
    }
}

/// Weights of walls (common practice, no source): a wing of 0.9 × 0.2 m 4.5 kN per metre
/// of height, an infill wall of 0.2 m 5 kN/m².
#[test]
fn weights_of_walls() {
    let weight = |measure| works::materials(&model_of(&PLAIN.with(measure))).concrete_m3 * CONCRETE_KN_M3;
    assert_near("two wings", weight(WINGS), 2.0 * 4.5 * 2.7, 1e-9);
    assert_near("infill", weight(INFILL), 5.0 * 5.5 * 2.7, 1e-9);
}

/// The model weighs what it adds by its own sums (DERIVED).
#[test]
fn new_concrete_weighs_what_the_model_adds() {
    let model = model_of(&PLAIN.with(&[JACKET, WINGS, INFILL].join(", ")));
    assert_near("added weight", works::materials(&model).concrete_m3 * CONCRETE_KN_M3, model.added_kn, 1e-9);
}

#[test]
fn materials_are_what_is_poured_and_fixed() {
    let pads = r#", "footing": {"length_m": 2, "width_m": 2, "bearing_kpa": 200}"#;
    let project = PLAIN.with(&[JACKET, WINGS, INFILL, &frame(2, pads)].join(", "));
    let works = works_of(&project);
    let materials = works::materials(&model_of(&project));
    let sum = |tasks: &[Task]| tasks.iter().map(|task| quantity(&works, *task)).sum::<f64>();
    let footings = quantity(&works, Task::CastFooting);
    assert_near("pads, m³", footings, 3.0 * 2.0 * 2.0 * 0.6, 1e-12);
    let poured = sum(&[Task::PourJacket, Task::PourWall, Task::PourFrame]) + footings;
    assert_near("concrete", materials.concrete_m3, poured, 1e-12);
    let fixed = sum(&[Task::FixJacketBars, Task::FixWallBars, Task::FixFrameBars]);
    assert_near("steel", materials.steel_t, fixed + footings * works::FOOTING_STEEL_T_M3, 1e-12);
}

/// Two strips of 8 m centred on neighbouring bays of 6 m are one strip of 14 m (DERIVED).
#[test]
fn footings_that_run_into_each_other_count_once() {
    let with = |bays: &str| {
        let footing = r#", "footing": {"length_m": 8, "width_m": 1, "depth_m": 0.5, "bearing_kpa": 200}}"#;
        let measure = INFILL.replace("[1, 1]", bays).replace(r#""storeys": [2, 2], "#, "");
        works_of(&PLAIN.with(&measure.replace('}', footing)))
    };
    assert_near("one bay", quantity(&with("[1, 1]"), Task::CastFooting), 4.0, 1e-12);
    let two = with("[1, 2]");
    assert_near("two bays", quantity(&two, Task::CastFooting), 7.0, 1e-12);
    assert_eq!(rooms(&two), 8.0, "both sides of two bays in two storeys");
}

#[test]
fn masonry_and_windows_follow_the_bays() {
    let sills =
        Sample { more: r#""masonry": [{"lines": ["A", "B"], "thickness_mm": 200, "sill_mm": 1000}],"#, ..PLAIN };
    let full = Sample { more: r#""masonry": [{"lines": ["A", "B"], "thickness_mm": 200}],"#, ..PLAIN };
    let [none, sill, wall] = [&PLAIN, &sills, &full].map(|sample| works_of(&sample.with(INFILL)));
    assert_eq!([&none, &sill, &wall].map(|works| quantity(works, Task::TakeOutWindow)), [0.0, 1.0, 0.0]);
    assert_near("sill, m²", quantity(&sill, Task::BreakMasonry), 5.5 * 1.0, 1e-9);
    assert_near("full height, m²", quantity(&wall, Task::BreakMasonry), 5.5 * 2.7, 1e-9);

    let [none, sill, wall] = [&PLAIN, &sills, &full].map(|sample| works_of(&sample.with(WINGS)));
    assert_eq!([&none, &sill, &wall].map(|works| quantity(works, Task::TakeOutWindow)), [2.0, 2.0, 0.0]);
    assert_near("sills beside the column, m²", quantity(&sill, Task::BreakMasonry), 2.0 * 0.9, 1e-9);

    // Wings from both ends of bay 1 share its window.
    let both = WINGS.replace(r#""x": ["2"]"#, r#""x": ["1", "2"]"#);
    assert_near("windows of two bays", quantity(&works_of(&sills.with(&both)), Task::TakeOutWindow), 2.0, 1e-12);
}

#[test]
fn an_opening_saves_concrete_and_keeps_a_window() {
    let opening = r#", "opening": {"width_mm": 1500, "height_mm": 1200}}"#;
    let measure = INFILL.replace(r#""line": "B""#, r#""line": "A""#);
    let works = works_of(&PLAIN.with(&measure.replace('}', opening)));
    assert_near("concrete, m³", quantity(&works, Task::PourWall), (14.85 - 1.8) * 0.2, 1e-9);
    assert_near("forms, m²", quantity(&works, Task::FormWall), 2.0 * (14.85 - 1.8) + 5.4 * 0.2, 1e-9);
    assert_eq!([Task::TakeOutWindow, Task::FitWindow].map(|task| quantity(&works, task)), [1.0, 1.0]);
}

#[test]
fn sills_are_sawn_on_both_sides_of_a_freed_column() {
    let sills = Sample { more: r#""masonry": [{"lines": ["A"], "thickness_mm": 200, "sill_mm": 900}],"#, ..PLAIN };
    let release = r#"{"kind": "release", "x": ["1", "2"], "y": ["A"], "storeys": [1, 1], "gap_mm": 40}"#;
    let works = works_of(&sills.with(release));
    // One bay beside the corner column, two beside the middle one.
    assert_near("saw cuts, m", quantity(&works, Task::SawCut), 3.0 * 0.9, 1e-12);
    assert_near("masonry, m²", quantity(&works, Task::BreakMasonry), 3.0 * 0.9 * 0.04, 1e-12);
    assert_eq!(rooms(&works), 2.0);
    assert_eq!(works_of(&PLAIN.with(release)), WorksResult::default(), "no sills, nothing to cut");
}

#[test]
fn cores_follow_the_bars_through_the_floors() {
    let at = |storeys: &str, continuous: bool| {
        let measure = JACKET
            .replace("\"storeys\": [1, 1]", storeys)
            .replace("\"bars\"", &format!("\"continuous\": {continuous}, \"bars\""));
        let works = works_of(&Sample { storeys: 3, ..PLAIN }.with(&measure));
        (quantity(&works, Task::CoreSlab), quantity(&works, Task::BondBars), rooms(&works))
    };
    // Thirteen connectors a storey; the bars are bonded at the ground.
    assert_eq!(at(r#""storeys": [1, 1]"#, true), (12.0, 13.0 + 12.0, 2.0));
    assert_eq!(at(r#""storeys": [2, 2]"#, true), (24.0, 13.0, 3.0));
    assert_eq!(at(r#""storeys": [1, 3]"#, true), (24.0, 3.0 * 13.0 + 12.0, 3.0));
    assert_eq!(at(r#""storeys": [1, 3]"#, false), (0.0, 3.0 * 13.0, 3.0));
}

#[test]
fn rooms_lie_on_the_grid() {
    let building = |rooms: &str, columns: &str| {
        let text = serde_json::to_string(&PLAIN.with("").to_value()).expect("a project is JSON");
        let mut value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        value["building"]["rooms"] = serde_json::from_str(rooms).expect("JSON");
        value["building"]["columns"] = serde_json::from_str(columns).expect("JSON");
        Project::from_value(&value).unwrap_or_else(|error| panic!("{error}"))
    };
    let count = |rooms: &str, columns: &str| {
        let project = building(rooms, columns);
        RoomPlan::new(&model_of(&project), &project.building).all()
    };
    let all = r#"[{"column": "K"}]"#;
    // Two strips of two bays in two storeys.
    assert_eq!(count(r#"{"bays_per_room": 1}"#, all).len(), 8);
    assert_eq!(count(r#"{"bays_per_room": 2}"#, all).len(), 4);
    assert_eq!(count(r#"{"bays_per_room": 1, "corridor_strips": [2]}"#, all).len(), 4);
    // Without the corner column upstairs one bay has no floor.
    let corner = r#"[{"column": "K"}, {"column": "none", "x": ["3"], "y": ["C"], "storeys": [2, 2]}]"#;
    let rooms = count(r#"{"bays_per_room": 1}"#, corner);
    assert_eq!(rooms.len(), 7);
    assert!(!rooms.contains(&Room { storey: 2, strip: 2, bay: 2 }));
}

/// The programme at the usual pace, rooms shut on any day of a calendar without breaks.
fn programme_of(project: &Project, gangs: u32) -> Programme {
    let start = Date::from_calendar_date(2027, Month::March, 1).expect("a date");
    let calendar = Calendar::new(start, WEEKDAYS, WEEKDAYS, &[]).expect("a calendar");
    let rules = Rules { inside: Inside::AnyDay, gangs, ..Rules::default() };
    let all = programmes(&model_of(project), project, &calendar, &rules);
    all.into_iter().find(|own| own.pace == Pace::Usual).expect("a programme")
}

/// Working days from clearing the first room to handing back the last.
fn days_shut(programme: &Programme) -> f64 {
    let inside = || programme.activities.iter().filter(|own| own.package.is_some());
    let first = inside().map(|own| own.start).min().unwrap_or(0);
    f64::from(inside().map(|own| own.end).max().unwrap_or(0) - first) / f64::from(DAY_HOURS)
}

/// A middle column touches four rooms and a bay inside two; with gangs enough they stay shut
/// together for the crew-days of the activities and the waits, each step rounded up to an hour.
#[test]
fn rooms_round_a_member_stay_shut_together() {
    let middle = JACKET.replace(r#""x": ["1"], "y": ["A"]"#, r#""continuous": false, "x": ["2"], "y": ["B"]"#);
    // Adhesive 1 day, forms 2, paint 2; a wall waits 3 days for its grout while the forms stay on.
    for (measure, rooms, waits) in [(middle.as_str(), 4, 5.0), (INFILL, 2, 6.0)] {
        let project = PLAIN.with(measure);
        let works = works_of(&project);
        let own = programme_of(&project, 4);
        assert_eq!(own.closures.len(), rooms);
        assert!(own.closures.iter().all(|closure| closure.package == own.closures[0].package));
        let each = |activity: &ActivityResult| {
            let task = Task::ALL.iter().find(|task| task.activity().code == activity.code).expect("a known code");
            let share = if matches!(task, Task::MoveOut | Task::HandBack) { rooms as f64 } else { 1.0 };
            activity.man_days.mid / task.activity().crew / share
        };
        let by_hand = works.activities.iter().map(each).sum::<f64>() + waits;
        let steps = own.activities.iter().filter(|own| own.front.is_some()).count() + 2;
        let over = days_shut(&own) - by_hand;
        let most = steps as f64 / f64::from(DAY_HOURS);
        assert!((-1e-9..=most).contains(&over), "{measure}: {} days, {by_hand} by hand", days_shut(&own));
    }
}

/// A room is shut once for all columns round it, and its waits go on beside the work at the others.
#[test]
fn columns_of_a_room_follow_each_other() {
    let shut = |x: &str| {
        let measure = JACKET.replace(r#""x": ["1"]"#, &format!(r#""continuous": false, "x": {x}"#));
        let own = programme_of(&PLAIN.with(&measure), 1);
        let corner = own.rooms.iter().position(|room| *room == Room { storey: 1, strip: 1, bay: 1 });
        assert_eq!(own.closures.iter().filter(|closure| Some(closure.room) == corner).count(), 1);
        days_shut(&own)
    };
    let (one, other, both) = (shut(r#"["1"]"#), shut(r#"["2"]"#), shut(r#"["1", "2"]"#));
    assert!(both > one.max(other) + 1.0, "one after the other: {one}, {other}, {both}");
    assert!(both < one + other - 2.0, "waits and moving are not paid twice: {one}, {other}, {both}");
}

/// Planners give one front 10 working days for a jacket (7 to 15), 12 for two wings
/// (8 to 17), 15 for a filled bay (10 to 22): common practice, no source. One gang at a
/// time and no overlap makes the slow sums longer than theirs; the usual ones must fall
/// within their range.
#[test]
fn one_front_takes_what_planners_give_it() {
    for (measure, low, high) in [(JACKET, 7.0, 15.0), (WINGS, 8.0, 17.0), (INFILL, 10.0, 22.0)] {
        let days = days_shut(&programme_of(&PLAIN.with(measure), 1));
        assert!((low..=high).contains(&days), "{measure}: {days} not in {low}..{high}");
    }
}

/// Beams and slabs of a frame stay on their soffit forms for 7 working days before their face is finished; walls and
/// columns inside for 2, or 3 before grout.
#[test]
fn soffits_stay_on_their_forms() {
    for (measure, days) in [(frame(2, ""), 7), (JACKET.to_owned(), 2), (INFILL.to_owned(), 3)] {
        let own = programme_of(&PLAIN.with(&measure), 4);
        let casts = own.activities.iter().filter(|job| job.step == Step::Cast);
        let mut seen = 0;
        for cast in casts {
            let next = own.activities.iter().filter(|job| job.front == cast.front && job.start >= cast.end);
            let waited = next.map(|job| job.start - cast.end).min().expect("something follows");
            assert_eq!(waited, days * DAY_HOURS, "{measure}");
            seen += 1;
        }
        assert!(seen > 0, "{measure}");
    }
}

/// By hand: a wall of 5.5 m by 2.7 m and 200 mm in storey 2 weighs 74 kN, half of it on the floor
/// below it and half on the one above. What a frame outside weighs is its own at every level.
#[test]
fn what_is_added_hangs_on_the_floors_above_and_below() {
    let project = PLAIN.with(INFILL);
    let floors = works::added_per_floor_kn(&project, &project.schemes[0]);
    assert_near("in all", floors.iter().sum(), 5.5 * 2.7 * 0.2 * CONCRETE_KN_M3, 0.02);
    assert_near("floor by floor", floors[0], floors[1], 1e-9);
    assert_near("as the model has it", floors.iter().sum(), model_of(&project).added_kn, 1e-9);
    let project = Sample { storeys: 3, ..PLAIN }.with(&frame(2, "").replace("\"storeys\": 1", "\"storeys\": 2"));
    let floors = works::added_per_floor_kn(&project, &project.schemes[0]);
    let model = model_of(&project);
    assert!(floors[0] > 0.0 && floors[1] > 0.0);
    for (floor, own) in floors.iter().enumerate() {
        let level = model.frames[0].weight_kn.get(floor).copied().unwrap_or_default();
        assert_near("a frame's level", *own, level, 1e-9);
    }
}

/// Columns that fill their bay leave walls and new beams no room, so such a project is refused
/// before any quantity could come out negative.
#[test]
fn bays_without_room_are_refused() {
    let project = Sample { columns_mm: 2000, ..PLAIN }.with(&[INFILL, &frame(2, "")].join(", "));
    let mut value = project.to_value();
    for key in ["x_lines", "y_lines"] {
        for line in 0..3 {
            value["building"][key][line]["at_m"] = json!(line);
        }
    }
    let refused = Project::from_value(&value).expect_err("no room between the columns");
    assert_eq!(refused.path, "building.columns");
    assert!(refused.permitted.to_string().contains("400 mm"), "{refused}");
}

#[test]
fn a_scheme_without_measures_needs_no_works() {
    let project = PLAIN.with("");
    assert_eq!(works_of(&project), WorksResult::default());
    assert_eq!(works::materials(&model_of(&project)), works::Materials::default());
}

#[test]
fn a_thicker_jacket_needs_more_of_everything() {
    let figures = [60, 100, 150, 300].map(|thickness| {
        let measure = JACKET.replace("\"thickness_mm\": 100", &format!("\"thickness_mm\": {thickness}"));
        let project = PLAIN.with(&measure);
        let (works, materials) = (works_of(&project), works::materials(&model_of(&project)));
        [materials.concrete_m3, materials.steel_t, works.man_days.mid, works.cost.share.mid]
    });
    for pair in figures.windows(2) {
        assert!(pair[0].iter().zip(pair[1]).all(|(thin, thick)| *thin < thick), "{pair:?}");
    }
}

/// Strength of the new concrete and of the ground changes no quantity; every other slider
/// of every measure does.
#[test]
fn every_slider_moves_the_works() {
    let sills = Sample { more: r#""masonry": [{"lines": ["A"], "thickness_mm": 200, "sill_mm": 900}],"#, ..PLAIN };
    let release = r#"{"kind": "release", "x": ["1"], "y": ["A"], "gap_mm": 30}"#;
    for measure in [JACKET, WINGS, INFILL, &frame(1, ""), release] {
        let project = sills.with(measure);
        let figures = |measure: Measure| {
            let scheme = Scheme { name: "Other".to_owned(), note: String::new(), measures: vec![measure] };
            let model = Model::new(&project.building, &scheme);
            (works::evaluate(&model, &project, &scheme), works::materials(&model))
        };
        let measure = &project.schemes[0].measures[0];
        let before = figures(measure.clone());
        let sliders = measure.fields().iter().filter(|field| field.spec.slider && field.key != "concrete_mpa");
        for field in sliders {
            let mut other = measure.clone();
            let value = measure.get(field.key).and_then(|value| value.as_f64()).expect("sliders hold numbers");
            let up = if field.key == "bars" { 4.0 } else { field.spec.step };
            other.set(field.key, &json!(value + up)).unwrap_or_else(|error| panic!("{error}"));
            assert_ne!(figures(other), before, "{} of {}", field.key, measure.label());
        }
    }
}

#[test]
fn slow_is_never_quicker_than_fast() {
    let ordered = |band: Band| band.low <= band.mid && band.mid <= band.high && band.low >= 0.0;
    let mut schemes = 0;
    for text in [
        include_str!("../../demo-scenarios/school.json"),
        include_str!("../../demo-scenarios/clinic.json"),
        include_str!("../../demo-scenarios/office.json"),
        include_str!("../../demo-scenarios/corner.json"),
    ] {
        let project = Project::from_json(text).unwrap_or_else(|error| panic!("{error}"));
        let area = 1000.0;
        let rebuilt = works::rebuild(&project, area);
        for scheme in &project.schemes {
            let works = works::evaluate(&Model::new(&project.building, scheme), &project, scheme);
            for band in std::iter::once(works.man_days).chain(works.activities.iter().map(|activity| activity.man_days))
            {
                assert!(ordered(band), "{}: {band:?}", scheme.name);
            }
            assert!(works.man_days.low > 0.0, "{}", scheme.name);
            schemes += 1;
        }
        let closed = rebuilt.closed.expect("the site is closed");
        assert!(ordered(rebuilt.man_days) && ordered(closed.room_days_in_use) && ordered(closed.weeks));
    }
    assert!(schemes >= 16, "only {schemes} schemes seen");
}

/// Rebuilding shuts every room for 12, 15 or 18 months of 21 working days and takes
/// 5 man-day equivalents per m², of which 30, 40 or 50 % is labour on site, after
/// demolition: common practice, no source.
#[test]
fn rebuilding_shuts_every_room() {
    let works = works::rebuild(&PLAIN.with(""), 500.0);
    let closed = works.closed.expect("the site is closed");
    assert_eq!(closed.rooms, 8);
    assert_eq!(closed.room_days_in_use, Band { low: 8.0 * 252.0, mid: 8.0 * 315.0, high: 8.0 * 378.0 });
    assert_near("calendar weeks", closed.weeks.mid, 15.0 * 4.348, 0.01);
    assert_eq!(works_of(&PLAIN.with(JACKET)).closed, None, "what a scheme shuts is for its programme");
    let demolition = 500.0 / 40.0 * 6.0 + 500.0 / 80.0 * 5.0;
    assert_near("labour", works.man_days.mid, demolition + 500.0 * 5.0 * 0.4, 1e-12);
}

#[test]
fn the_table_of_rates_is_whole() {
    for (index, task) in Task::ALL.iter().enumerate() {
        let row = task.activity();
        let rate = row.rate;
        assert!(0.0 < rate.slow && rate.slow <= rate.usual && rate.usual <= rate.fast, "{}", row.code);
        assert!(row.crew >= 1.0 && row.noise <= 3 && !row.name.is_empty() && !row.unit.is_empty(), "{}", row.code);
        assert!(Task::ALL[..index].iter().all(|other| other.activity().code != row.code), "{} twice", row.code);
    }
    for wait in WAITS {
        assert!(0.0 < wait.days.low && wait.days.low <= wait.days.mid && wait.days.mid <= wait.days.high);
    }
}

#[test]
fn rates_of_the_project_s_own_act_everywhere_and_are_marked() {
    let table = Project::from_json(include_str!("../../demo-scenarios/school.json")).expect("a valid demo");
    let study = evaluate::outline(&table);
    let rate = Task::BondBars.activity().rate;
    let mut own = table.clone();
    own.works = Some(OwnWorks {
        rates: vec![OwnRate {
            activity: Task::BondBars.activity().code.to_owned(),
            slow: 2.0 * rate.slow,
            usual: 2.0 * rate.usual,
            fast: 2.0 * rate.fast,
            crew: 3.0 * Task::BondBars.activity().crew,
        }],
        new_build_per_m2: Some(10.0),
        rebuild_months_mid: Some(16.0),
        days_per_month: Some(20.0),
        ..OwnWorks::table()
    });
    own.check().expect("in order");
    let changed = evaluate::outline(&own);
    let mut bonded = 0;
    for (before, after) in study.options.iter().zip(&changed.options) {
        let (Some(before), Some(after)) = (&before.works, &after.works) else { continue };
        for (one, other) in before.activities.iter().zip(&after.activities) {
            let factor = match one.code.as_str() {
                "DRILL" => 1.5,
                "NEW_BUILD" => 2.0,
                _ => 1.0,
            };
            assert_near(&one.code, other.man_days.mid, factor * one.man_days.mid, 1e-12);
            if one.code == "DRILL" {
                assert_eq!(other.mark, "your own");
                bonded += 1;
            }
        }
    }
    assert!(bonded > 0, "some scheme of the school bonds bars");
    let rebuilt = |study: &Study| study.options.last().and_then(|option| option.works.clone()).expect("the rebuild");
    let closed = |study: &Study| rebuilt(study).closed.expect("the site is closed");
    let rooms = f64::from(closed(&study).rooms);
    assert_near("months", closed(&changed).room_days_in_use.mid, 16.0 * 20.0 * rooms, 1e-12);
    assert_near("months of the table", closed(&changed).room_days_in_use.low, 12.0 * 20.0 * rooms, 1e-12);
    assert!(changed.cautions.iter().any(|words| words.starts_with("4 rates and assumptions")), "it is said");
    assert_eq!(study.cautions.len() + 1, changed.cautions.len());

    // The programme of works goes by the same rates.
    let times = table.working_times.as_ref().expect("the school has working times");
    let hours = |project: &Project| -> u32 {
        let programmes = project.schemes.iter().flat_map(|scheme| of_scheme(project, scheme, times));
        programmes.flat_map(|programme| programme.activities).map(|own| own.end - own.start).sum()
    };
    assert!(hours(&own) < hours(&table), "{} {}", hours(&own), hours(&table));

    let mut renewed = study;
    evaluate::renew_works(&own, &mut renewed);
    assert_eq!(renewed, changed, "nothing but the works rests on them");
}
