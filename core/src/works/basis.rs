//! What the works are reckoned with: the table of rates and its assumptions, with what a project
//! knows better.

use super::rates::{Activity, Mark, Rate, Task};
use crate::project::{OwnWorks, Project};
use crate::study::Band;

/// Assumptions by their key in the project file (common practice, no source): what a new building costs per m² of
/// floor in man-day equivalents of labour, materials and plant; the share of that which is labour on site; months from
/// emptying a building to moving into a new one; working days in a month; prices in man-day equivalents per m³ of
/// concrete, t of reinforcement, m² of forms, bonded bar, window, m² of finishes, m³ dug; preliminaries as a share of
/// all that; and what a temporary room costs a day, which is nothing until the owner says.
const ASSUMPTIONS: [(&str, f64); 17] = [
    ("new_build_per_m2", 5.0),
    ("labour_low", 0.3),
    ("labour_mid", 0.4),
    ("labour_high", 0.5),
    ("rebuild_months_low", 12.0),
    ("rebuild_months_mid", 15.0),
    ("rebuild_months_high", 18.0),
    ("days_per_month", 21.0),
    ("price_concrete", 0.6),
    ("price_steel", 6.0),
    ("price_formwork", 0.1),
    ("price_bar", 0.1),
    ("price_window", 1.0),
    ("price_finish", 0.15),
    ("price_excavation", 0.2),
    ("preliminaries", 0.25),
    ("decant_per_room_day", 0.0),
];

/// The figures the works are reckoned with.
#[derive(Clone, Copy, Debug, Default)]
pub struct Basis<'p> {
    own: Option<&'p OwnWorks>,
}

impl Basis<'static> {
    /// The table alone.
    pub const TABLE: Self = Self { own: None };
}

impl<'p> Basis<'p> {
    /// The table with what a project knows better.
    pub fn of(project: &'p Project) -> Self {
        Self { own: project.works.as_ref() }
    }

    /// An activity with its rate.
    pub fn activity(self, task: Task) -> Activity {
        let table = task.activity();
        let own = self.own.and_then(|own| own.rates.iter().find(|rate| rate.activity == table.code));
        match own {
            Some(own) => Activity {
                rate: Rate { slow: own.slow, usual: own.usual, fast: own.fast },
                crew: own.crew,
                mark: Mark::Own,
                ..*table
            },
            None => *table,
        }
    }

    /// An assumption by its key in the project file.
    pub fn assumption(self, key: &str) -> Option<f64> {
        let table = ASSUMPTIONS.iter().find(|(own, _)| *own == key).map(|(_, value)| *value)?;
        Some(self.own.and_then(|own| own.assumption(key)).unwrap_or(table))
    }

    /// An assumption of the table above.
    fn figure(self, key: &str) -> f64 {
        self.assumption(key).unwrap_or(0.0)
    }

    fn band(self, keys: [&str; 3]) -> Band {
        let [low, mid, high] = keys.map(|key| self.figure(key));
        Band { low, mid, high }
    }

    /// What a new building costs per m² of floor, man-day equivalents.
    pub fn new_build_per_m2(self) -> f64 {
        self.figure("new_build_per_m2")
    }

    /// Share of that which is labour on site.
    pub fn labour_share(self) -> Band {
        self.band(["labour_low", "labour_mid", "labour_high"])
    }

    /// Months from emptying a building to moving into a new one.
    pub fn rebuild_months(self) -> Band {
        self.band(["rebuild_months_low", "rebuild_months_mid", "rebuild_months_high"])
    }

    /// Working days in a month.
    pub fn days_per_month(self) -> f64 {
        self.figure("days_per_month")
    }

    /// Price of what a key of the table names, man-day equivalents.
    pub(super) fn price(self, key: &str) -> f64 {
        self.figure(key)
    }

    /// Site costs as a share of labour and material.
    pub fn preliminaries(self) -> f64 {
        self.figure("preliminaries")
    }

    /// What a temporary room costs on a day, man-day equivalents; zero until the owner says.
    pub fn decant_per_room_day(self) -> f64 {
        self.figure("decant_per_room_day")
    }

    /// How many rates and assumptions are the project's own.
    pub fn own_figures(self) -> usize {
        let Some(own) = self.own else { return 0 };
        own.rates.len() + ASSUMPTIONS.iter().filter(|(key, _)| own.assumption(key).is_some()).count()
    }
}
