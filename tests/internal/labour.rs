//! Labour as the works are run: hours that slow what is done in rooms, the quiet way to drill, and the jobs of a
//! programme against the sum by activity.
//!
//! Factors on rates are common practice, no source, typed in again here, fast first: evenings and nights 0.8, 0.65,
//! 0.5; beside patients behind screens 0.75, 0.6, 0.4; rooms given back after each shift 0.9, 0.85, 0.75 of these.

use super::works::{INFILL, JACKET, PLAIN, Sample, frame, works_of};
use sisterframe_core::project::{Day, HoursInside, Project, WorkingTimes};
use sisterframe_core::study::{ActivityResult, Band, WorksResult};
use sisterframe_core::works::calendar::{Date, Month};
use sisterframe_core::works::presets::Preset;
use sisterframe_core::works::programme::of_scheme;
use sisterframe_core::works::rates::Task;
use sisterframe_tests::approx::assert_near;

fn by_day() -> WorkingTimes {
    let start = Date::from_calendar_date(2027, Month::March, 1).unwrap_or_else(|error| panic!("{error}"));
    Preset::of("empty").expect("a preset").times(Day(start))
}

fn run(project: &Project, times: &WorkingTimes) -> WorksResult {
    works_of(&Project { working_times: Some(times.clone()), ..project.clone() })
}

fn of<'a>(works: &'a WorksResult, code: &str) -> Option<&'a ActivityResult> {
    works.activities.iter().find(|own| own.code == code)
}

#[track_caller]
fn assert_slowed(what: &str, one: &ActivityResult, other: &ActivityResult, [fast, usual, slow]: [f64; 3]) {
    assert_eq!((&one.code, one.quantity), (&other.code, other.quantity), "{what}");
    assert_near(what, other.man_days.low, one.man_days.low / fast, 1e-12);
    assert_near(what, other.man_days.mid, one.man_days.mid / usual, 1e-12);
    assert_near(what, other.man_days.high, one.man_days.high / slow, 1e-12);
}

#[test]
fn hours_slow_what_is_done_in_rooms_and_nothing_else() {
    let project = PLAIN.with(INFILL);
    let day = run(&project, &by_day());
    assert_eq!(day, works_of(&project), "a school is worked at by day");
    let evenings = WorkingTimes { hours: HoursInside::Evenings, ..by_day() };
    let contained = WorkingTimes { hours: HoursInside::Contained, ..by_day() };
    let back = WorkingTimes { given_back: true, ..by_day() };
    let both = WorkingTimes { given_back: true, ..evenings.clone() };
    for (times, factor) in [
        (&evenings, [0.8, 0.65, 0.5]),
        (&contained, [0.75, 0.6, 0.4]),
        (&back, [0.9, 0.85, 0.75]),
        (&both, [0.8 * 0.9, 0.65 * 0.85, 0.5 * 0.75]),
    ] {
        let other = run(&project, times);
        assert_eq!(day.activities.len(), other.activities.len());
        for (one, other) in day.activities.iter().zip(&other.activities) {
            assert_eq!(one.inside, one.quantity, "a wall inside the building: {}", one.code);
            assert_slowed(&one.code, one, other, factor);
        }
        // Man-days cost what they take, preliminaries of a quarter on them.
        let more = other.man_days.mid - day.man_days.mid;
        let cost = other.cost.man_day_equivalents.mid - day.cost.man_day_equivalents.mid;
        assert!(more > 0.0);
        assert_near("cost", cost, 1.25 * more, 1e-9);
        assert_eq!(other.carbon, day.carbon);
    }
    // A frame stands outside.
    let outside = Sample { storeys: 1, height_m: 3.5, ..PLAIN }.with(&frame(2, ""));
    let works = run(&outside, &by_day());
    assert!(works.activities.iter().all(|own| own.inside == 0.0 && own.quantity > 0.0));
    assert_eq!(run(&outside, &both), works);
}

/// 110 bars by two at 20, 35 and 60 a day in place of 30, 60 and 100.
#[test]
fn bars_drilled_the_quiet_way_take_longer() {
    let project = PLAIN.with(INFILL);
    let quiet = run(&project, &WorkingTimes { quiet_drilling: true, ..by_day() });
    let day = run(&project, &by_day());
    let (loud, own) = (of(&day, "DRILL").expect("loud"), of(&quiet, "DRILL_QUIET").expect("quiet"));
    assert!(of(&quiet, "DRILL").is_none() && of(&day, "DRILL_QUIET").is_none());
    assert_eq!((own.quantity, loud.quantity), (110.0, 110.0));
    assert_near("usual", own.man_days.mid, 110.0 * 2.0 / 35.0, 1e-12);
    assert_near("fast", own.man_days.low, 110.0 * 2.0 / 60.0, 1e-12);
    assert_near("slow", own.man_days.high, 110.0 * 2.0 / 20.0, 1e-12);
    assert_near("in all", quiet.man_days.mid - day.man_days.mid, 110.0 * 2.0 * (1.0 / 35.0 - 1.0 / 60.0), 1e-9);
    let bars = |works: &WorksResult| works.cost.terms.iter().find(|own| own.what == "Bonded bars").cloned();
    assert_eq!(bars(&quiet), bars(&day), "a bar is a bar");
}

/// Each job of a programme holds what it consists of: at every pace the jobs add up to the sum by activity. Only rooms
/// that are emptied again for another group of rooms are more.
#[test]
fn jobs_add_up_to_the_sum_by_activity() {
    let mut projects: Vec<Project> = [
        include_str!("../../demo-scenarios/school.json"),
        include_str!("../../demo-scenarios/clinic.json"),
        include_str!("../../demo-scenarios/office.json"),
    ]
    .into_iter()
    .map(|text| Project::from_json(text).unwrap_or_else(|error| panic!("{error}")))
    .collect();
    projects.push(PLAIN.with(&[JACKET, INFILL].join(", ")));
    let mut quiet = 0;
    for project in projects {
        let times = project.working_times.clone().unwrap_or(WorkingTimes { quiet_drilling: true, ..by_day() });
        quiet += usize::from(times.quiet_drilling);
        for scheme in project.schemes.iter().take(2) {
            let own = Project { schemes: vec![scheme.clone()], working_times: Some(times.clone()), ..project.clone() };
            let works = works_of(&own);
            for programme in of_scheme(&own, scheme, &times) {
                let moved = |code: &str| ["PREP_MOVE", "HANDOVER"].contains(&code);
                let at = |band: Band| programme.pace.of(band);
                let by_activity: f64 =
                    works.activities.iter().filter(|own| !moved(&own.code)).map(|own| at(own.man_days)).sum();
                let jobs = programme.activities.iter().filter(|job| job.front.is_some());
                let what = format!("{}, {:?}", scheme.name, programme.pace);
                assert_near(&what, jobs.clone().map(|job| job.man_days).sum(), by_activity, 1e-9);
                for task in Task::ALL {
                    let done = jobs.clone().flat_map(|job| &job.quantities).filter(|(own, _)| own == task);
                    let done: f64 = done.map(|(_, quantity)| quantity).fold(0.0, |sum, own| sum + own);
                    let code = task.activity().code;
                    if !moved(code) {
                        assert_near(code, done, of(&works, code).map_or(0.0, |own| own.quantity), 1e-9);
                    }
                }
                // A gang is held for whole hours and with the largest crew of a step.
                for job in &programme.activities {
                    let held = job.people * f64::from(job.hours()) / 8.0;
                    assert!(job.man_days > 0.0 && job.man_days <= held + 1e-9, "{what}: {job:?}");
                }
                let emptied = programme.activities.iter().filter(|job| job.front.is_none());
                let rooms: f64 =
                    works.activities.iter().filter(|own| moved(&own.code)).map(|own| at(own.man_days)).sum();
                assert!(emptied.map(|job| job.man_days).sum::<f64>() >= rooms - 1e-9, "{what}");
            }
        }
    }
    assert!(quiet > 0);
}
