//! What a scheme costs and emits, built up from its quantities.
//!
//! Cost is an index: man-days and material in man-days of those who work with it, with site costs on top, over what a
//! new building of the same floor area costs in the same coin. It ranks schemes; it is no price.

use super::basis::Basis;
use super::rates::Task;
use crate::project::{Measure, Scheme};
use crate::study::{ActivityResult, Band};
use serde::Serialize;

/// From this share of a new building on, agencies begin to ask whether to replace (common practice, no source).
pub const ASKED_FROM: f64 = 0.4;
/// From this share on they usually do.
pub const ASKED_TO: f64 = 0.7;

/// A line of a sum.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Term {
    /// What it is.
    pub what: String,
    /// How much of it.
    pub quantity: f64,
    /// In what unit.
    pub unit: String,
    /// What one unit counts.
    pub each: Band,
    /// Quantity times that.
    pub sum: Band,
}

/// Cost of an option.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Cost {
    /// Over a new building of the same floor area, temporary rooms left out.
    pub share: Band,
    /// Man-day equivalents in all.
    pub man_day_equivalents: Band,
    /// What it is made up of, man-day equivalents.
    pub terms: Vec<Term>,
    /// Usual range of such schemes over a new building (common practice, no source); none where nothing is known.
    pub usual: Option<[f64; 2]>,
}

/// Carbon of an option.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Carbon {
    /// Of new concrete, steel, forms and finishes, t CO₂e.
    pub tonnes: Band,
    /// Over demolishing and building anew, usual values.
    pub share: f64,
    /// What it is made up of, t CO₂e.
    pub terms: Vec<Term>,
}

/// Carbon factors, kg CO₂e per unit, low, usual, high. Concrete per m³ up to C25/30 and above, steel per kg, forms per m² and
/// use, mortar per kg: ranges over published factors of national databases (read there: Ökobaudat, Boverket, ICE, EPiC,
/// Taiwan; forms and low values worked out from them).
const CONCRETE_KG: Band = Band { low: 200.0, mid: 280.0, high: 360.0 };
const STRONG_CONCRETE_KG: Band = Band { low: 220.0, mid: 300.0, high: 400.0 };
const STEEL_KG: Band = Band { low: 0.6, mid: 1.2, high: 2.0 };
const FORMS_KG: Band = Band { low: 0.8, mid: 1.5, high: 4.0 };
const MORTAR_KG: Band = Band { low: 0.12, mid: 0.16, high: 0.2 };
/// Characteristic strength above which the factors of stronger concrete are taken, MPa.
const STRONG_MPA: f64 = 27.5;
/// Plaster on a square metre of new face, kg: 20 mm (common practice, no source).
const PLASTER_KG_M2: f64 = 36.0;
/// Demolishing, and building anew with its materials and site, kg CO₂e per m² of floor (published benchmark tables;
/// the range is worked out from them).
const DEMOLITION_KG_M2: Band = Band { low: 35.0, mid: 50.0, high: 70.0 };
const REBUILD_KG_M2: Band = Band { low: 350.0, mid: 600.0, high: 950.0 };

/// Usual cost of schemes that treat a whole building over a new one (common practice, no source): walls, wing walls,
/// jackets, external frames.
const USUAL_WALLS: [f64; 2] = [0.06, 0.20];
const USUAL_WINGS: [f64; 2] = [0.09, 0.25];
const USUAL_JACKETS: [f64; 2] = [0.12, 0.35];
const USUAL_FRAMES: [f64; 2] = [0.15, 0.40];

const fn even(value: f64) -> Band {
    Band { low: value, mid: value, high: value }
}

fn term(what: &str, quantity: f64, unit: &str, each: Band) -> Term {
    Term { what: what.to_owned(), quantity, unit: unit.to_owned(), each, sum: each * quantity }
}

/// Quantity of some activities together, in the unit they share.
fn quantity(activities: &[ActivityResult], tasks: &[Task]) -> f64 {
    let own = activities.iter().filter(|own| tasks.iter().any(|task| task.activity().code == own.code));
    own.map(|own| own.quantity).sum()
}

fn forms_m2(activities: &[ActivityResult]) -> f64 {
    quantity(activities, &[Task::FormJacket, Task::FormWall, Task::FormFrame, Task::FormSoffit])
}

/// Sum of man-days and prices with preliminaries, over a new building.
fn added_up(mut terms: Vec<Term>, man_days: Band, preliminaries: f64, new_building: f64) -> Cost {
    terms.insert(
        0,
        Term {
            what: "Labour".to_owned(),
            quantity: man_days.mid,
            unit: "man-day".to_owned(),
            each: even(1.0),
            sum: man_days,
        },
    );
    let before: Band = terms.iter().map(|term| term.sum).sum();
    terms.push(Term {
        what: "Preliminaries".to_owned(),
        quantity: before.mid,
        unit: String::new(),
        each: even(preliminaries),
        sum: before * preliminaries,
    });
    terms.retain(|term| term.sum.high > 0.0);
    let all: Band = terms.iter().map(|term| term.sum).sum();
    let share = if new_building > 0.0 { all * (1.0 / new_building) } else { Band::default() };
    Cost { share, man_day_equivalents: all, terms, usual: None }
}

/// What is cast and placed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed {
    /// Concrete, m³.
    pub concrete_m3: f64,
    /// Reinforcement, t.
    pub steel_t: f64,
}

/// Cost of a scheme from its labour, its activities and what is cast and placed, on a building of a floor area.
pub(super) fn scheme(
    basis: Basis<'_>,
    scheme: &Scheme,
    man_days: Band,
    activities: &[ActivityResult],
    placed: Placed,
    floor_area_m2: f64,
) -> Cost {
    let price = |what, quantity, unit, key| term(what, quantity, unit, even(basis.price(key)));
    let of = |tasks: &[Task]| quantity(activities, tasks);
    let terms = vec![
        price("Concrete", placed.concrete_m3, "m³", "price_concrete"),
        price("Reinforcement", placed.steel_t, "t", "price_steel"),
        price("Forms", forms_m2(activities), "m²", "price_formwork"),
        price("Bonded bars", of(&[Task::BondBars, Task::BondBarsQuietly]), "bar", "price_bar"),
        price("Windows", of(&[Task::FitWindow]), "window", "price_window"),
        price(
            "Finishes",
            of(&[Task::Plaster, Task::RehangCeiling, Task::PatchFloor, Task::FinishFace]),
            "m²",
            "price_finish",
        ),
        price("Excavation", of(&[Task::DigInside, Task::DigOutside]), "m³", "price_excavation"),
    ];
    let new_building = basis.new_build_per_m2() * floor_area_m2;
    Cost { usual: usual(scheme), ..added_up(terms, man_days, basis.preliminaries(), new_building) }
}

/// From the least of any technique of a scheme to the most of all together.
fn usual(scheme: &Scheme) -> Option<[f64; 2]> {
    let mut techniques: Vec<[f64; 2]> = scheme
        .measures
        .iter()
        .filter_map(|measure| match measure {
            Measure::Jacket(_) => Some(USUAL_JACKETS),
            Measure::WingWall(_) => Some(USUAL_WINGS),
            Measure::InfillWall(_) => Some(USUAL_WALLS),
            Measure::ExternalFrame(_) => Some(USUAL_FRAMES),
            Measure::Release(_) => None,
        })
        .collect();
    techniques.dedup();
    let least = techniques.iter().map(|own| own[0]).reduce(f64::min)?;
    Some([least, techniques.iter().map(|own| own[1]).sum()])
}

/// Carbon of a scheme against demolishing and building anew.
pub(super) fn scheme_carbon(
    scheme: &Scheme,
    activities: &[ActivityResult],
    placed: Placed,
    floor_area_m2: f64,
) -> Carbon {
    let strongest = scheme.measures.iter().filter_map(new_concrete_mpa).fold(0.0, f64::max);
    let concrete = if strongest > STRONG_MPA { STRONG_CONCRETE_KG } else { CONCRETE_KG };
    let terms = vec![
        term("Concrete", placed.concrete_m3, "m³", concrete * 1e-3),
        // Tonnes of steel, factors per kilogram: the thousands cancel.
        term("Reinforcement", placed.steel_t, "t", STEEL_KG),
        term("Forms", forms_m2(activities), "m²", FORMS_KG * 1e-3),
        term("Plaster", quantity(activities, &[Task::Plaster]), "m²", MORTAR_KG * (1e-3 * PLASTER_KG_M2)),
    ];
    let rebuilt = rebuild_carbon(floor_area_m2).tonnes.mid;
    emitted(terms, rebuilt)
}

fn emitted(mut terms: Vec<Term>, rebuilt: f64) -> Carbon {
    terms.retain(|term| term.sum.high > 0.0);
    let tonnes: Band = terms.iter().map(|term| term.sum).sum();
    Carbon { tonnes, share: if rebuilt > 0.0 { tonnes.mid / rebuilt } else { 0.0 }, terms }
}

fn new_concrete_mpa(measure: &Measure) -> Option<f64> {
    match measure {
        Measure::Jacket(own) => Some(own.concrete_mpa),
        Measure::WingWall(own) => Some(own.concrete_mpa),
        Measure::InfillWall(own) => Some(own.concrete_mpa),
        Measure::ExternalFrame(own) => Some(own.concrete_mpa),
        Measure::Release(_) => None,
    }
}

/// Cost of demolishing, with the labour it takes, and of a new building, which is one by definition.
pub(super) fn rebuild(basis: Basis<'_>, demolition: Band, floor_area_m2: f64) -> Cost {
    let new_building = basis.new_build_per_m2() * floor_area_m2;
    let mut cost = added_up(Vec::new(), demolition, basis.preliminaries(), new_building);
    cost.terms.insert(0, term("New building", floor_area_m2, "m²", even(basis.new_build_per_m2())));
    cost.man_day_equivalents += even(new_building);
    if new_building > 0.0 {
        cost.share += even(1.0);
    }
    cost
}

/// Carbon of demolishing and building anew.
pub(super) fn rebuild_carbon(floor_area_m2: f64) -> Carbon {
    let terms = vec![
        term("Demolition", floor_area_m2, "m²", DEMOLITION_KG_M2 * 1e-3),
        term("New building", floor_area_m2, "m²", REBUILD_KG_M2 * 1e-3),
    ];
    let all: f64 = terms.iter().map(|term| term.sum.mid).sum();
    emitted(terms, all)
}

/// What temporary rooms cost over a new building of a floor area, for room-days in use; `None` until the owner names a
/// price.
pub fn decant_share(basis: Basis<'_>, room_days_in_use: u32, floor_area_m2: f64) -> Option<f64> {
    let (each, new_building) = (basis.decant_per_room_day(), basis.new_build_per_m2() * floor_area_m2);
    (each > 0.0 && new_building > 0.0).then(|| each * f64::from(room_days_in_use) / new_building)
}
