//! A whole building from nine answers, to start from where nothing is typed yet.
//!
//! Every value it gives is an assumption, and the project's remark says so. Materials, hoops, laps,
//! cover and live loads are those typical of the era and practice (`eras`), noted in the building as
//! assumed; sections follow common practice, no source. They are what an engineer would pencil in
//! before the drawings are found, not a design.

mod layout;

use crate::eras;
use crate::phrase::Phrase;
use crate::project::{
    Control, FORMAT, Field, FieldError, GroundMotion, Objective, Occupancy, Practice, Project, Record, RuleSet, Spec,
    Units, Wire,
};
use crate::units::{Dimension, System, typed};

/// The most bays the assistant lays out in one direction.
const MAX_BAYS: usize = 20;
/// Shortest and longest span it lays out, m.
const SPANS_M: (f64, f64) = (1.5, 12.0);
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
    /// Where the practice of its time was at home.
    pub practice: Practice,
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
    /// The units whose round numbers the building is made of.
    pub system: System,
}

impl Default for Answers {
    fn default() -> Self {
        Self::usual(System::Si)
    }
}

impl Answers {
    /// The answers to start from, in round numbers of a system of units.
    pub fn usual(system: System) -> Self {
        let feet = |feet: f64| feet / Dimension::Metres.unit(System::Us).factor;
        let (height_m, along_m, deep_m, corridor_m) = match system {
            System::Si => (3.5, 4.5, 7.0, 2.5),
            System::Us => (feet(11.5), feet(15.0), feet(23.0), feet(8.0)),
        };
        Self {
            name: "New building".to_owned(),
            occupancy: Occupancy::School,
            year: 1965,
            practice: Practice::Other,
            storeys: 3,
            height_m,
            spans_x_m: vec![along_m; 6],
            spans_y_m: vec![deep_m, corridor_m],
            sills: true,
            system,
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
    question("year", Spec { dimension: Dimension::Year, ..Spec::whole("Built", 1880, 2100) }, Control::Whole),
    question("practice", Spec::of("By the practice of"), <Practice as Wire>::CONTROL),
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

/// How many spans of what length there may be.
fn spans_permitted() -> Phrase {
    let mut words = Phrase::from(format!("up to {MAX_BAYS} spans of "));
    words.extend([Phrase::between(SPANS_M.0, SPANS_M.1, Dimension::Metres)]);
    words
}

fn remark(answers: &Answers) -> String {
    let era = eras::era(answers.practice, answers.year);
    format!(
        "Started from nine answers: every value is an assumption until it is replaced. Materials, share of column bars, \
         hoops, laps, cover, live loads and masonry are typical of {} (listed under Typical of its time on the bench, \
         each with its source); slabs, sections, beam bars and finishes follow common practice, no source. The ground \
         motion stands in for the site's own.",
        eras::time_and_place(answers.practice, era)
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
        units: if answers.system == System::Si { Units::Si } else { Units::Us },
        ground_motion: ground_motion(answers.occupancy),
        building: layout::building(answers),
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
