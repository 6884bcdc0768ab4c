//! The works: quantities, labour and rooms out of use. No calendar and no cost.

pub mod calendar;
mod duration;
mod materials;
pub mod presets;
pub mod programme;
mod quantities;
pub mod rates;
mod rooms;
pub mod schedule;

pub use duration::{closed_days, man_days};
pub use materials::{DOWEL_PROJECTION, FOOTING_STEEL_T_M3, LAPS, Materials, STEEL_T_M3, materials};
pub use quantities::{MemberWorks, take_off};
pub use rooms::{Room, RoomPlan};

use crate::model::Model;
use crate::project::{Building, Scheme};
use crate::study::{ActivityResult, Band, WorksResult};
use rates::{Mark, Task};

/// What a new building costs per m² of floor, in man-day equivalents: labour, materials
/// and plant (common practice, no source).
pub const NEW_BUILD_MAN_DAY_EQUIVALENTS_PER_M2: f64 = 5.0;
/// Share of that which is labour on site (common practice, no source).
pub const NEW_BUILD_LABOUR_SHARE: Band = Band { low: 0.3, mid: 0.4, high: 0.5 };
/// Months from emptying a building to moving into a new one (common practice, no source).
pub const REBUILD_MONTHS: Band = Band { low: 12.0, mid: 15.0, high: 18.0 };
/// Working days in a month (common practice, no source).
pub const WORKING_DAYS_PER_MONTH: f64 = 21.0;

/// Works of a scheme: labour, rooms that must be emptied and how long, activities. All
/// zero for a scheme without measures.
pub fn evaluate(model: &Model, building: &Building, scheme: &Scheme) -> WorksResult {
    if scheme.measures.is_empty() {
        return WorksResult::default();
    }
    let works = take_off(model, building);
    let rooms = closed_days(&works);
    let activities: Vec<ActivityResult> = Task::ALL
        .iter()
        .map(|task| {
            let quantity = match task {
                Task::MoveOut | Task::HandBack => rooms.len() as f64,
                _ => works.iter().map(|member| member.quantity(*task)).sum(),
            };
            (*task, quantity)
        })
        .filter(|(_, quantity)| *quantity > 0.0)
        .map(|(task, quantity)| activity(task, quantity))
        .collect();
    WorksResult {
        man_days: activities.iter().map(|activity| activity.man_days).sum(),
        rooms: rooms.len() as u32,
        room_days: rooms.into_values().sum(),
        activities,
    }
}

/// Works of demolishing the building and putting up another of the same floor area, with
/// every room out of use for as long as that takes.
pub fn rebuild(building: &Building, floor_area_m2: f64) -> WorksResult {
    let as_it_stands = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let model = Model::new(building, &as_it_stands);
    let rooms = RoomPlan::new(&model, &building.rooms).all().len();
    let new_build = ActivityResult {
        code: "NEW_BUILD".to_owned(),
        name: "Build anew".to_owned(),
        quantity: floor_area_m2,
        unit: "m²".to_owned(),
        man_days: NEW_BUILD_LABOUR_SHARE * (NEW_BUILD_MAN_DAY_EQUIVALENTS_PER_M2 * floor_area_m2),
        mark: Mark::CommonPractice.label().to_owned(),
    };
    let activities = vec![activity(Task::StripOut, floor_area_m2), activity(Task::Demolish, floor_area_m2), new_build];
    WorksResult {
        man_days: activities.iter().map(|activity| activity.man_days).sum(),
        rooms: rooms as u32,
        room_days: REBUILD_MONTHS * (WORKING_DAYS_PER_MONTH * rooms as f64),
        activities,
    }
}

fn activity(task: Task, quantity: f64) -> ActivityResult {
    let row = task.activity();
    ActivityResult {
        code: row.code.to_owned(),
        name: row.name.to_owned(),
        quantity,
        unit: row.unit.to_owned(),
        man_days: man_days(task, quantity),
        mark: row.mark.label().to_owned(),
    }
}
