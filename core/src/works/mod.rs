//! The works: quantities, labour, rooms out of use, programme, cost index and carbon.

mod basis;
pub mod calendar;
pub mod cost;
mod labour;
mod materials;
pub mod presets;
pub mod programme;
mod quantities;
pub mod rates;
mod room_edits;
mod room_use;
mod rooms;
pub mod schedule;
pub mod stages;
mod ways_out;

pub use basis::Basis;
pub use labour::man_days;
pub use materials::{DOWEL_PROJECTION, FOOTING_STEEL_T_M3, LAPS, Materials, STEEL_T_M3, materials};
pub use quantities::{MemberWorks, take_off};
pub use room_use::RoomUse;
pub use rooms::{Room, RoomPlan};
pub use ways_out::ways_out;

use crate::model::Model;
use crate::project::{Project, Scheme};
use crate::study::{ActivityResult, SiteClosed, WorksResult};
use rates::{Mark, Task};

/// Calendar weeks in a month, a year of 365.25 days taken.
const WEEKS_PER_MONTH: f64 = 365.25 / 12.0 / 7.0;

/// Works of a scheme, run as the project says or as is usual for its use: labour, activities, cost
/// and carbon. All zero for a scheme without measures. Which rooms are shut, when and how long is for
/// its programme to say.
pub fn evaluate(model: &Model, project: &Project, scheme: &Scheme) -> WorksResult {
    if scheme.measures.is_empty() {
        return WorksResult::default();
    }
    let (basis, rules) = (Basis::of(project), presets::rules_of(project));
    let works = take_off(model, &project.building);
    // Rooms emptied and handed back; a room shut twice is counted once, as in the sums of planners.
    let mut rooms: Vec<Room> = Vec::new();
    for room in works.iter().flat_map(|member| member.rooms.iter().chain(&member.cored_rooms)) {
        if !rooms.contains(room) {
            rooms.push(*room);
        }
    }
    let of = |task: Task, inside: bool| {
        let members = works.iter().filter(|member| member.rooms.is_empty() != inside);
        let own = members.flat_map(|member| &member.quantities).filter(|(own, _)| rules.done_as(*own) == task);
        own.fold(0.0, |sum, (_, quantity)| sum + quantity)
    };
    let activities: Vec<ActivityResult> = Task::ALL
        .iter()
        .map(|task| match task {
            Task::MoveOut | Task::HandBack => (*task, 0.0, rooms.len() as f64),
            _ => (*task, of(*task, false), of(*task, true)),
        })
        .filter(|(_, outside, inside)| outside + inside > 0.0)
        .map(|(task, outside, inside)| {
            let (row, outside) = (basis.activity(task), activity(basis, task, outside));
            let man_days = outside.man_days + rules.inside(man_days(&row, inside));
            ActivityResult { quantity: outside.quantity + inside, inside, man_days, ..outside }
        })
        .collect();
    let man_days = activities.iter().map(|activity| activity.man_days).sum();
    let Materials { concrete_m3, steel_t } = materials(model);
    let placed = cost::Placed { concrete_m3, steel_t };
    let floor_area_m2 = model.floors.iter().map(|floor| floor.area_m2).sum();
    WorksResult {
        man_days,
        closed: None,
        cost: cost::scheme(basis, scheme, man_days, &activities, placed, floor_area_m2),
        carbon: cost::scheme_carbon(scheme, &activities, placed, floor_area_m2),
        activities,
    }
}

/// Weight a scheme adds to each floor, kN, from the lowest; what stands on the ground itself is in none.
pub fn added_per_floor_kn(project: &Project, scheme: &Scheme) -> Vec<f64> {
    let bare = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let (before, after) = (Model::new(&project.building, &bare), Model::new(&project.building, scheme));
    let of_frames = |floor: usize| after.frames.iter().filter_map(|frame| frame.weight_kn.get(floor)).sum::<f64>();
    let floors = before.floors.iter().zip(&after.floors).enumerate();
    floors.map(|(floor, (before, after))| after.weight_kn - before.weight_kn + of_frames(floor)).collect()
}

/// Works of demolishing the building and putting up another of the same floor area, with
/// every room out of use for as long as that takes.
pub fn rebuild(project: &Project, floor_area_m2: f64) -> WorksResult {
    let (building, basis) = (&project.building, Basis::of(project));
    let as_it_stands = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let model = Model::new(building, &as_it_stands);
    let rooms = RoomPlan::new(&model, building).all().len() as u32;
    let months = basis.rebuild_months();
    let new_build = ActivityResult {
        code: "NEW_BUILD".to_owned(),
        name: "Build anew".to_owned(),
        quantity: floor_area_m2,
        inside: 0.0,
        unit: "m²".to_owned(),
        man_days: basis.labour_share() * (basis.new_build_per_m2() * floor_area_m2),
        mark: Mark::CommonPractice.label().to_owned(),
    };
    let activities =
        vec![activity(basis, Task::StripOut, floor_area_m2), activity(basis, Task::Demolish, floor_area_m2), new_build];
    let demolition = activities[..2].iter().map(|activity| activity.man_days).sum();
    WorksResult {
        cost: cost::rebuild(basis, demolition, floor_area_m2),
        carbon: cost::rebuild_carbon(floor_area_m2),
        man_days: activities.iter().map(|activity| activity.man_days).sum(),
        closed: Some(SiteClosed {
            rooms,
            weeks: months * WEEKS_PER_MONTH,
            room_days_in_use: months * (basis.days_per_month() * f64::from(rooms)),
        }),
        activities,
    }
}

/// An activity outside, or in an empty building.
fn activity(basis: Basis<'_>, task: Task, quantity: f64) -> ActivityResult {
    let row = basis.activity(task);
    ActivityResult {
        code: row.code.to_owned(),
        name: row.name.to_owned(),
        quantity,
        inside: 0.0,
        unit: row.unit.to_owned(),
        man_days: man_days(&row, quantity),
        mark: row.mark.label().to_owned(),
    }
}
