//! Figures of the works that differ from the table of rates and its assumptions (format 1).
//!
//! The file holds only what is another than in the table, so that a project follows the table
//! wherever its author did not know better.

use super::Project;
use super::fields::{FieldError, Spec, record};
use crate::units::Dimension::{Days, Number, Share};
use crate::works::Basis;
use crate::works::rates::Task;

const CODE: Spec = Spec { min: 1.0, ..Spec::text("Activity", 24) };
const PEOPLE: Spec = Spec::number("Crew", Number, 0.5, 40.0, 0.5);

/// Units of work a crew does in a day; the unit is the activity's.
const fn per_day(label: &'static str) -> Spec {
    Spec::number(label, Number, 0.001, 10_000.0, 1.0)
}

const fn labour(label: &'static str) -> Spec {
    Spec::number(label, Share, 0.05, 0.95, 0.01)
}

/// What a piece or a unit of material costs, in man-days of those who work with it.
const fn price(label: &'static str) -> Spec {
    Spec::number(label, Number, 0.0, 100.0, 0.05)
}

const fn months(label: &'static str) -> Spec {
    Spec::number(label, Number, 1.0, 120.0, 1.0)
}

record! {
    /// What a crew does in a day at one activity.
    pub struct OwnRate {
        /// The activity's code in the table of rates.
        activity: String = CODE;
        /// Slow work, in the activity's unit per crew and working day of eight hours.
        slow: f64 = per_day("Slow");
        /// Usual work.
        usual: f64 = per_day("Usual");
        /// Fast work.
        fast: f64 = per_day("Fast");
        /// People in the crew.
        crew: f64 = PEOPLE;
    }
}

record! {
    /// Rates and assumptions of the works that differ from the table; what is left out is the table's.
    pub struct OwnWorks {
        /// Activities with a rate of their own.
        rates: Vec<OwnRate> = Spec::list("Rates", 0, 100).or("[]");
        /// What a new building costs per m² of floor, in man-days and what they would buy.
        new_build_per_m2: Option<f64> =
            Spec::number("New building per square metre of floor, man-day equivalents", Number, 0.5, 50.0, 0.1);
        /// Least share of that which is labour on site.
        labour_low: Option<f64> = labour("Labour share of a new building, low");
        /// Usual share.
        labour_mid: Option<f64> = labour("Labour share of a new building, usual");
        /// Largest share.
        labour_high: Option<f64> = labour("Labour share of a new building, high");
        /// Fewest months from emptying the building to moving into a new one.
        rebuild_months_low: Option<f64> = months("Months to rebuild, low");
        /// Usual months.
        rebuild_months_mid: Option<f64> = months("Months to rebuild, usual");
        /// Most months.
        rebuild_months_high: Option<f64> = months("Months to rebuild, high");
        /// Working days in a month.
        days_per_month: Option<f64> = Spec::number("Working days in a month", Days, 10.0, 31.0, 1.0);
        /// Price of a cubic metre of concrete, man-day equivalents.
        price_concrete: Option<f64> = price("Concrete per cubic metre, man-day equivalents");
        /// Price of a tonne of reinforcement.
        price_steel: Option<f64> = price("Reinforcement per tonne, man-day equivalents");
        /// Price of a square metre of forms.
        price_formwork: Option<f64> = price("Forms per square metre, man-day equivalents");
        /// Price of a bonded bar.
        price_bar: Option<f64> = price("A bonded bar, man-day equivalents");
        /// Price of a window.
        price_window: Option<f64> = price("A window, man-day equivalents");
        /// Price of a square metre of finishes.
        price_finish: Option<f64> = price("Finishes per square metre, man-day equivalents");
        /// Price of a cubic metre of excavation.
        price_excavation: Option<f64> = price("Excavation per cubic metre, man-day equivalents");
        /// Site costs on top of labour and material.
        preliminaries: Option<f64> = Spec::number("Preliminaries on top", Share, 0.0, 1.0, 0.01);
        /// What standing in for a room costs on a day it would be in use.
        decant_per_room_day: Option<f64> = price("Temporary room, man-day equivalents a day");
    }
}

impl OwnWorks {
    /// Nothing but the table.
    pub const fn table() -> Self {
        Self {
            rates: Vec::new(),
            new_build_per_m2: None,
            labour_low: None,
            labour_mid: None,
            labour_high: None,
            rebuild_months_low: None,
            rebuild_months_mid: None,
            rebuild_months_high: None,
            days_per_month: None,
            price_concrete: None,
            price_steel: None,
            price_formwork: None,
            price_bar: None,
            price_window: None,
            price_finish: None,
            price_excavation: None,
            preliminaries: None,
            decant_per_room_day: None,
        }
    }

    /// An assumption by its key, where it differs from the table.
    pub fn assumption(&self, key: &str) -> Option<f64> {
        match key {
            "new_build_per_m2" => self.new_build_per_m2,
            "labour_low" => self.labour_low,
            "labour_mid" => self.labour_mid,
            "labour_high" => self.labour_high,
            "rebuild_months_low" => self.rebuild_months_low,
            "rebuild_months_mid" => self.rebuild_months_mid,
            "rebuild_months_high" => self.rebuild_months_high,
            "days_per_month" => self.days_per_month,
            "price_concrete" => self.price_concrete,
            "price_steel" => self.price_steel,
            "price_formwork" => self.price_formwork,
            "price_bar" => self.price_bar,
            "price_window" => self.price_window,
            "price_finish" => self.price_finish,
            "price_excavation" => self.price_excavation,
            "preliminaries" => self.preliminaries,
            "decant_per_room_day" => self.decant_per_room_day,
            _ => None,
        }
    }

    /// As a project holds it: not at all where nothing differs from the table.
    pub fn held(self) -> Option<Self> {
        (self != Self::table()).then_some(self)
    }
}

impl OwnRate {
    /// Slow work does not do more than usual work, nor usual more than fast.
    ///
    /// # Errors
    /// The first of the three that is out of order, with its key as the path.
    pub fn check_order(&self) -> Result<(), FieldError> {
        in_order([("slow", "slow", self.slow), ("usual", "usual", self.usual), ("fast", "fast", self.fast)])
    }
}

/// Refuses three values, each with its key and its word, of which a later one is less than the one before.
fn in_order(values: [(&str, &str, f64); 3]) -> Result<(), FieldError> {
    for pair in values.windows(2) {
        let [(_, before, low), (key, word, value)] = [pair[0], pair[1]];
        if value < low {
            return Err(FieldError {
                path: key.to_owned(),
                value: value.to_string(),
                problem: format!("the {word} value is below the {before} one").into(),
                permitted: format!("{} ≤ {} ≤ {}", values[0].1, values[1].1, values[2].1).into(),
            });
        }
    }
    Ok(())
}

/// Rates of activities there are, each once, and low, usual and high in order.
pub(super) fn check(project: &Project) -> Result<(), FieldError> {
    let Some(own) = &project.works else { return Ok(()) };
    for (index, rate) in own.rates.iter().enumerate() {
        let path = format!("works.rates[{index}]");
        let of_activity = |problem: &str, permitted: &str| {
            Err(FieldError {
                path: format!("{path}.activity"),
                value: format!("“{}”", rate.activity),
                problem: problem.into(),
                permitted: permitted.into(),
            })
        };
        if Task::by_code(&rate.activity).is_none() {
            return of_activity("no such activity", "a code of the table of rates, such as POUR_WALL");
        }
        if own.rates[..index].iter().any(|other| other.activity == rate.activity) {
            return of_activity("two rates for this activity", "one rate for each activity");
        }
        rate.check_order().map_err(|error| FieldError { path: format!("{path}.{}", error.path), ..error })?;
    }
    let basis = Basis::of(project);
    let (labour, months) = (basis.labour_share(), basis.rebuild_months());
    for (head, band) in [("labour", labour), ("rebuild_months", months)] {
        let keys = ["low", "mid", "high"].map(|end| format!("{head}_{end}"));
        in_order([(&keys[0], "low", band.low), (&keys[1], "usual", band.mid), (&keys[2], "high", band.high)])
            .map_err(|error| FieldError { path: format!("works.{}", error.path), ..error })?;
    }
    Ok(())
}
