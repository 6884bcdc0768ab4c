//! What the works are reckoned with: the table of rates and its assumptions, with what a project
//! knows better.

use super::rates::{Activity, Mark, Rate, Task};
use crate::project::{OwnWorks, Project};
use crate::study::Band;

/// What a new building costs per m² of floor, in man-day equivalents: labour, materials
/// and plant (common practice, no source).
const NEW_BUILD_PER_M2: f64 = 5.0;
/// Share of that which is labour on site (common practice, no source).
const LABOUR_SHARE: Band = Band { low: 0.3, mid: 0.4, high: 0.5 };
/// Months from emptying a building to moving into a new one (common practice, no source).
const REBUILD_MONTHS: Band = Band { low: 12.0, mid: 15.0, high: 18.0 };
/// Working days in a month (common practice, no source).
const DAYS_PER_MONTH: f64 = 21.0;

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

    fn figure(self, own: impl Fn(&OwnWorks) -> Option<f64>, table: f64) -> f64 {
        self.own.and_then(own).unwrap_or(table)
    }

    /// What a new building costs per m² of floor, man-day equivalents.
    pub fn new_build_per_m2(self) -> f64 {
        self.figure(|own| own.new_build_per_m2, NEW_BUILD_PER_M2)
    }

    /// Share of that which is labour on site.
    pub fn labour_share(self) -> Band {
        Band {
            low: self.figure(|own| own.labour_low, LABOUR_SHARE.low),
            mid: self.figure(|own| own.labour_mid, LABOUR_SHARE.mid),
            high: self.figure(|own| own.labour_high, LABOUR_SHARE.high),
        }
    }

    /// Months from emptying a building to moving into a new one.
    pub fn rebuild_months(self) -> Band {
        Band {
            low: self.figure(|own| own.rebuild_months_low, REBUILD_MONTHS.low),
            mid: self.figure(|own| own.rebuild_months_mid, REBUILD_MONTHS.mid),
            high: self.figure(|own| own.rebuild_months_high, REBUILD_MONTHS.high),
        }
    }

    /// Working days in a month.
    pub fn days_per_month(self) -> f64 {
        self.figure(|own| own.days_per_month, DAYS_PER_MONTH)
    }

    /// How many rates and assumptions are the project's own.
    pub fn own_figures(self) -> usize {
        let Some(own) = self.own else { return 0 };
        let assumptions = [
            own.new_build_per_m2,
            own.labour_low,
            own.labour_mid,
            own.labour_high,
            own.rebuild_months_low,
            own.rebuild_months_mid,
            own.rebuild_months_high,
            own.days_per_month,
        ];
        own.rates.len() + assumptions.iter().flatten().count()
    }

    /// An assumption by its key in the project file.
    pub fn assumption(self, key: &str) -> Option<f64> {
        Some(match key {
            "new_build_per_m2" => self.new_build_per_m2(),
            "labour_low" => self.labour_share().low,
            "labour_mid" => self.labour_share().mid,
            "labour_high" => self.labour_share().high,
            "rebuild_months_low" => self.rebuild_months().low,
            "rebuild_months_mid" => self.rebuild_months().mid,
            "rebuild_months_high" => self.rebuild_months().high,
            "days_per_month" => self.days_per_month(),
            _ => return None,
        })
    }
}
