//! Rates of work against the published figures they rest on, each worked out for the
//! crew and an eight-hour day. All SEEN in stored pages of the sources named; none is a
//! standard, and the rates are for feasibility only.

use sisterframe_core::works::rates::{Mark, Task};

const DAY_H: f64 = 8.0;

/// Units a day from hours per unit and the number of people those hours are shared by.
fn per_day(people: f64, hours_per_unit: f64) -> f64 {
    people * DAY_H / hours_per_unit
}

/// Fails unless the published production lies in the slow-to-fast range.
#[track_caller]
fn assert_in_range(task: Task, published: f64) {
    let row = task.activity();
    assert_eq!(row.mark, Mark::Seen, "{}", row.code);
    let range = row.rate.slow..=row.rate.fast;
    assert!(range.contains(&published), "{}: published {published:.2}, table {range:?} {}", row.code, row.unit);
}

/// New Zealand estimating norms (undated): forms, windows and ceilings.
#[test]
fn new_zealand_estimating_norms() {
    assert_in_range(Task::FormJacket, per_day(2.0, 2.65));
    assert_in_range(Task::FormWall, per_day(2.0, 2.2));
    assert_in_range(Task::TakeOutWindow, per_day(2.0, 2.2));
    assert_in_range(Task::RehangCeiling, per_day(2.0, 0.18 + 0.14));
    // 0.8 m² an hour for each of two carpenters.
    assert_in_range(Task::FormSoffit, 2.0 * DAY_H * 0.8);
}

/// Estimating lecture on concrete works, Malaysia 2024: steel-fixer hours per tonne.
#[test]
fn steel_fixing_hours() {
    // Columns with links come to about 49 h/t; confined work takes 1.4 times as long.
    assert_in_range(Task::FixJacketBars, per_day(3.0, 49.0 * 1.4));
    assert_in_range(Task::FixWallBars, per_day(3.0, 50.0));
    assert_in_range(Task::FixFrameBars, per_day(3.0, 44.0));
}

/// A planners' wiki on breaking out and on fit-out.
#[test]
fn breaking_out_and_fit_out() {
    // 1.8 h/m³ of brickwork, 0.15 m thick, at half speed.
    assert_in_range(Task::BreakMasonry, DAY_H / 1.8 / 0.15 / 2.0);
    // 6.2 h/m³ of reinforced slab.
    assert_in_range(Task::BreakGroundSlab, DAY_H / 6.2);
    // 2 to 9 man-hours a window, for two.
    let usual = Task::FitWindow.activity().rate.usual;
    assert!((per_day(2.0, 9.0)..=per_day(2.0, 2.0)).contains(&usual), "{usual} windows a day");
}

/// Rule-of-thumb tables 2016 and a Philippine estimate list: plastering, digging, pouring.
#[test]
fn rules_of_thumb() {
    assert_in_range(Task::Plaster, 8.0);
    assert_in_range(Task::Plaster, 17.5);
    assert_in_range(Task::DigOutside, 5.0 * DAY_H);
    assert_in_range(Task::DigOutside, 8.0 * DAY_H);
    assert_in_range(Task::PourFrame, 16.0);
    assert_in_range(Task::PourWall, 16.0);
}

/// Carbon of concrete and bars: Ökobaudat C25/30 197 kg CO₂e/m³, Boverket 0.103 kg/kg, a Taiwanese table 238, ICE 0.119 kg/kg,
/// EPiC 361; bars Boverket 0.596 kg/kg, Taiwan 0.834, ICE world 1.99, EPiC 2.1 (SEEN in published tables). The usual factor
/// lies between the least and the most of them, and the range reaches them within 5 %.
#[test]
fn carbon_factors() {
    let project = include_str!("../../demo-scenarios/school.json");
    let project = sisterframe_core::project::Project::from_json(project).expect("a valid demo");
    let study = sisterframe_core::evaluate::outline(&project);
    let terms =
        || study.options.iter().filter_map(|option| option.works.as_ref()).flat_map(|works| &works.carbon.terms);
    let concrete = [197.0, 0.103 * 2400.0, 238.0, 0.119 * 2400.0, 361.0];
    let bars = [0.596, 0.834, 1.99, 2.1];
    for (what, scale, published) in [("Concrete", 1000.0, &concrete[..]), ("Reinforcement", 1.0, &bars[..])] {
        let each = terms().find(|term| term.what == what).expect("cast and placed").each;
        let least = published.iter().copied().fold(f64::INFINITY, f64::min);
        let most = published.iter().copied().fold(0.0, f64::max);
        assert!((least..=most).contains(&(scale * each.mid)), "{what}: {each:?}");
        assert!(scale * each.low >= 0.95 * least && scale * each.low <= 1.15 * least, "{what}: {each:?}");
        assert!(scale * each.high <= 1.15 * most && scale * each.high >= 0.95 * most, "{what}: {each:?}");
    }
}
