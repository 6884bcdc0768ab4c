//! The demo projects hold what their notes say they teach.

use sisterframe_core::evaluate::{outline, study};
use sisterframe_core::finding::{Code, Severity};
use sisterframe_core::place::Place;
use sisterframe_core::project::{Day, OwnRate, OwnWorks, Project, RuleSet, ShutRooms, WorkingTimes, WorkingWeek};
use sisterframe_core::reading;
use sisterframe_core::study::{DirectionResult, Failure, OptionResult, Study};
use sisterframe_core::verdict::DirectionCapacity;
use sisterframe_core::works::calendar::{DAY_HOURS, Date};
use sisterframe_core::works::programme::{Alternative, Driver, Programme, of_scheme};

/// The largest a demo file may be, bytes.
const LARGEST: usize = 40_000;

const DEMOS: [(&str, &str); 4] = [
    ("clinic", include_str!("../demo-scenarios/clinic.json")),
    ("corner", include_str!("../demo-scenarios/corner.json")),
    ("office", include_str!("../demo-scenarios/office.json")),
    ("school", include_str!("../demo-scenarios/school.json")),
];

fn project(name: &str) -> Project {
    let Some((_, text)) = DEMOS.iter().find(|(own, _)| *own == name) else { panic!("no demo {name}") };
    Project::from_json(text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn results(name: &str) -> Study {
    study(&project(name))
}

/// An option by its name.
fn option<'s>(study: &'s Study, name: &str) -> &'s OptionResult {
    study.options.iter().find(|option| option.name == name).unwrap_or_else(|| panic!("no option {name}"))
}

fn along(option: &OptionResult, along_x: bool) -> &DirectionResult {
    let found = option.directions.iter().find(|direction| direction.along_x == along_x);
    found.unwrap_or_else(|| panic!("{} has no result along that way", option.name))
}

fn capacity(option: &OptionResult, along_x: bool) -> &DirectionCapacity {
    let found = along(option, along_x).capacity.as_ref();
    found.unwrap_or_else(|| panic!("{} has no capacity curve along that way", option.name))
}

fn says(option: &OptionResult, code: Code) -> bool {
    option.findings.iter().any(|finding| finding.code == code)
}

/// Either rule set takes every demo to a verdict for every option but the rebuild.
#[test]
fn every_rule_set_takes_the_demos_to_a_verdict() {
    for (name, _) in DEMOS {
        for set in [RuleSet::American, RuleSet::European] {
            let study = study(&Project { rules: set, ..project(name) });
            for option in study.options.iter().filter(|option| !option.directions.is_empty()) {
                let what = format!("{name}, {}, {}", set.label(), option.name);
                assert!(option.capacity_to_demand.is_some_and(|own| own.ratio > 0.0), "{what}");
                assert!(option.directions.iter().all(|own| own.capacity.is_some()), "{what}");
            }
        }
    }
}

#[test]
fn demos_are_small_valid_and_say_what_they_teach() {
    for (name, text) in DEMOS {
        assert!(text.len() < LARGEST, "{name} has {} bytes", text.len());
        let project = project(name);
        assert!(project.note.contains("Teaches"), "{name} does not say what it teaches");
        assert!(project.schemes.len() >= 4, "{name}");
        assert!(project.ground_motion.note.contains("Invented"), "{name}: the site is not called invented");
        assert_eq!(project.rules.key(), "american", "{name}");
    }
}

#[test]
fn no_result_of_a_demo_is_withheld() {
    for (name, _) in DEMOS {
        let study = results(name);
        for option in &study.options[..study.options.len() - 1] {
            assert_eq!(option.directions.len(), 2, "{name}, {}", option.name);
            let trouble: Vec<Code> = option
                .findings
                .iter()
                .filter(|finding| finding.severity == Severity::Trouble)
                .map(|finding| finding.code)
                .collect();
            // A connecting slab that is too weak is a lesson; nothing else may be in trouble.
            assert!(trouble.iter().all(|code| *code == Code::SlabShort), "{name}, {}: {trouble:?}", option.name);
        }
        for (place, scheme) in project(name).schemes.iter().enumerate() {
            let option = &study.options[place + 1];
            assert_eq!(option.name, scheme.name, "{name}");
            assert!(option.works.as_ref().is_some_and(|works| works.man_days.mid > 0.0), "{name}, {}", option.name);
        }
    }
}

/// What is lost first in the weakest storey is said to fail as that member does, which is often not as most of the storey.
#[test]
fn the_first_member_of_the_weakest_storey_keeps_its_own_failure() {
    let (mut alike, mut otherwise) = (0, 0);
    for (name, _) in DEMOS {
        for set in [RuleSet::American, RuleSet::European] {
            let study = outline(&Project { rules: set, ..project(name) });
            for option in study.options.iter().filter(|option| !option.directions.is_empty()) {
                let what = format!("{name}, {}, {}", set.label(), option.name);
                let weakest = option.weakest.as_ref().unwrap_or_else(|| panic!("{what}: none is weakest"));
                let first = weakest.first.as_ref().unwrap_or_else(|| panic!("{what}: none is first"));
                let storey = &along(option, weakest.along_x).storeys[weakest.storey as usize - 1];
                let carry = || storey.members.iter().filter(|member| member.strength_kn > 0.0);
                let member = carry().find(|member| member.place == first.place);
                let member = member.unwrap_or_else(|| panic!("{what}: no {}", first.place));
                assert_eq!(first.failure, member.failure, "{what}, {}", first.place);
                assert!(carry().all(|other| other.limit_drift_mm >= member.limit_drift_mm), "{what}, {}", first.place);
                *if first.failure == weakest.failure { &mut alike } else { &mut otherwise } += 1;
            }
        }
    }
    assert!(alike > 0 && otherwise > 0, "{alike} fail as their storey does, {otherwise} do not");
}

/// Columns of a storey on some lines that fail in a way.
fn columns_failing(direction: &DirectionResult, storey: usize, lines: &[&str], failure: Failure) -> usize {
    let members = direction.storeys[storey].members.iter();
    let columns = members.filter(|member| matches!(member.place, Place::Column { .. }));
    columns.filter(|member| lines.contains(&member.line.as_str()) && member.failure == failure).count()
}

/// School: sill walls hold the columns of lines A and B short; as it stands they govern, in shear.
/// Freeing them changes how the building fails, for little.
#[test]
fn school_captive_columns_govern_until_they_are_freed() {
    let study = results("school");
    let (standing, freed) = (&study.options[0], option(&study, "Free the columns"));
    assert!(says(standing, Code::CaptiveColumn) && says(standing, Code::ColumnShearGoverned));
    assert!(!says(freed, Code::CaptiveColumn) && !says(freed, Code::ColumnShearGoverned));

    let weakest = standing.weakest.as_ref().map(|weakest| (weakest.along_x, weakest.storey, weakest.failure));
    assert_eq!(weakest, Some((true, 1, Failure::Shear)), "as it stands it is weakest along the window lines");
    let first = standing.weakest.as_ref().and_then(|weakest| weakest.first.clone()).map(|own| own.place);
    let captive = matches!(&first, Some(Place::Column { y, .. }) if y == "A" || y == "B");
    assert!(captive, "the first member lost is {first:?}");

    let (before, after) = (along(standing, true), along(freed, true));
    assert!(columns_failing(before, 0, &["A", "B"], Failure::Shear) > 0);
    for storey in 0..2 {
        assert_eq!(columns_failing(after, storey, &["A", "B"], Failure::Shear), 0, "storey {}", storey + 1);
    }
    assert_ne!(freed.weakest.as_ref().map(|weakest| weakest.failure), Some(Failure::Shear));
    // Softer and no stronger, yet it bears more: the first limit is no longer a captive column's.
    assert!(after.period_s > 1.2 * before.period_s);
    assert!(after.storeys[0].strength_drift_mm > 2.0 * before.storeys[0].strength_drift_mm);
    let (held, free) = (capacity(standing, true), capacity(freed, true));
    assert!(free.strength_kn < held.strength_kn, "{} became {}", held.strength_kn, free.strength_kn);
    assert!(held.ratio < 1.0 && free.ratio > 1.1 * held.ratio, "{} became {}", held.ratio, free.ratio);
    let place = &held.limits[0].reached.place;
    assert!(matches!(place, Place::Column { y, .. } if y == "A" || y == "B"), "the first limit is that of {place}");
    // It costs little: the least work of all schemes.
    let work = |option: &OptionResult| option.works.as_ref().map_or(0.0, |works| works.man_days.mid);
    let schemes = study.options.iter().skip(1).filter(|option| option.name != "Rebuild" && option.name != freed.name);
    for other in schemes {
        assert!(work(freed) < 0.5 * work(other), "{} takes {} man-days", other.name, work(other));
    }
}

/// Clinic: a frame on one face turns the plan. The far line C hardly gains, and carries more than
/// before in the top storey; a second frame on the far face holds it. No room closes for a frame.
#[test]
fn clinic_frame_on_one_face_leaves_the_far_line_behind() {
    let study = results("clinic");
    let shears = |option: &OptionResult, line: &str| {
        let found = along(option, true).lines.iter().find(|own| own.name == line);
        found.map(|line| line.shear_kn.clone()).unwrap_or_else(|| panic!("no line {line}"))
    };
    let standing = &study.options[0];
    let (one, both) = (option(&study, "Frame on A"), option(&study, "Frames on A and C"));
    let (before, after) = (shears(standing, "C"), shears(one, "C"));
    let top = before.len() - 1;
    assert!(after[top] > 1.05 * before[top], "line C at the top: {} became {}", before[top], after[top]);
    assert!(after[0] > 0.85 * before[0], "line C below: {} became {}", before[0], after[0]);
    let beside = shears(one, "A");
    assert!(beside[0] < 0.65 * shears(standing, "A")[0], "line A below carries {}", beside[0]);
    assert!(says(one, Code::FarSideWorse) && says(one, Code::Eccentric));
    assert!(along(standing, true).eccentricity_share < 0.01 && along(both, true).eccentricity_share < 0.01);
    for (storey, (was, is)) in before.iter().zip(shears(both, "C")).enumerate() {
        assert!(is < *was, "with both frames line C in storey {} carries {is}, before {was}", storey + 1);
    }
    // One frame is as strong as two and bears no more: the turning eats what it adds.
    let (one_bears, both_bear) = (capacity(one, true).ratio, capacity(both, true).ratio);
    assert!(one_bears < 1.05 * both_bear && one_bears > capacity(standing, true).ratio, "{one_bears}, {both_bear}");
    for option in [one, both] {
        assert!(
            programmes("clinic", &option.name).iter().all(|own| own.closures.is_empty()),
            "{} closes rooms",
            option.name
        );
        assert!(option.strength_gain.is_some_and(|gain| gain.ratio > 1.3), "{}", option.name);
    }
    let inside = programmes("clinic", "Jackets")[1].rooms.len();
    assert!(inside > 20, "jackets close {inside} rooms");
    assert!(says(option(&study, "Jackets"), Code::JointGoverns), "the old joints govern");
}

/// Office: the tall, open first storey is named as soft. Jackets there alone move the weak place
/// up; walls through the full height spread the drift.
#[test]
fn office_first_storey_is_soft_and_jackets_move_the_weak_one_up() {
    let study = results("office");
    let standing = &study.options[0];
    for along_x in [true, false] {
        let before = along(standing, along_x);
        let soft = standing.findings.iter().any(|finding| {
            finding.code == Code::SoftStorey && finding.place == Place::Storey { storey: 1 } && {
                let words = if along_x { "along x" } else { "along y" };
                finding.text.to_string().contains(words)
            }
        });
        assert!(soft, "the first storey is not named: {:?}", standing.findings);
        assert_eq!(before.strength_storey, 1);
        assert!(share_below(before) > 0.55, "{} of the drift is below", share_below(before));

        let jackets = along(option(&study, "Jackets below"), along_x);
        assert!(jackets.strength_storey > 1, "the weak storey stays");
        assert!(jackets.storeys[0].ratio > 1.5 * before.storeys[0].ratio);
        let spread = share_below(along(option(&study, "Infill walls"), along_x));
        assert!(spread < 0.6 * share_below(before), "{spread} of the drift is below");
    }
    assert!(says(option(&study, "Jackets below"), Code::WeakStoreyMoved));
    assert!(!says(standing, Code::WeakStoreyMoved));
    // Strong walls whose bars give way at once bear less than nothing done.
    let (before, infill) = (capacity(standing, true), capacity(option(&study, "Infill walls"), true));
    assert!(infill.strength_kn > before.strength_kn && infill.ratio < before.ratio, "{}", infill.ratio);
    assert_eq!(infill.limits[0].reached.failure, Failure::Perimeter);
}

/// Drift of the first storey over that of the roof.
fn share_below(direction: &DirectionResult) -> f64 {
    let all: f64 = direction.storeys.iter().map(|storey| storey.drift_mm).sum();
    direction.storeys[0].drift_mm / all
}

/// Corner: two party walls pull the centre of stiffness away. Walls at the street corner bring it
/// back; walls on the party lines add strength and more turning.
#[test]
fn corner_turns_and_strength_on_the_wrong_side_makes_it_worse() {
    let study = results("corner");
    let standing = &study.options[0];
    assert!(says(standing, Code::Eccentric));
    let (corner, party) = (option(&study, "Infill at the street corner"), option(&study, "Infill on the party lines"));
    for along_x in [true, false] {
        let [before, right, wrong] = [standing, corner, party].map(|option| along(option, along_x));
        assert!(before.eccentricity_share > 0.25, "{}", before.eccentricity_share);
        assert!(right.eccentricity_share < 0.75 * before.eccentricity_share, "{}", right.eccentricity_share);
        assert!(wrong.eccentricity_share > 1.1 * before.eccentricity_share, "{}", wrong.eccentricity_share);
        // Towards the same side: the building turns about its walls.
        assert!(wrong.eccentricity_m.signum() == before.eccentricity_m.signum());
        // The open side moves further, relative to the middle, the more the plan turns.
        let turning = |direction: &DirectionResult| {
            let drifts = direction.lines.iter().filter(|line| !line.external).map(|line| line.drift_mm[0]);
            drifts.fold(0.0, f64::max) / direction.storeys[0].drift_mm
        };
        assert!(turning(wrong) > turning(before) && turning(right) < turning(before), "{}", turning(before));
        // More strength even so, which is the trap: it bears no more than before, the other does.
        assert!(wrong.strength_kn / wrong.weight_kn > before.strength_kn / before.weight_kn);
        let [before, right, wrong] = [standing, corner, party].map(|option| capacity(option, along_x).ratio);
        assert!(wrong < 1.05 * before && right > 1.1 * before, "{before} became {wrong} and {right}");
    }
}

#[test]
fn states_at_demand_and_limit_lie_on_the_curve_and_their_parts_add_up() {
    let mut seen = 0;
    for (name, _) in DEMOS {
        for option in &results(name).options {
            for direction in &option.directions {
                let capacity = direction.capacity.as_ref().expect("a capacity");
                let (own, first) = (capacity.governing(), &capacity.limits[0].reached);
                let limit = capacity.at_first_limit().expect("a limit");
                let slack = 1e-6 * own.curve.peak_kn;
                let off = limit.base_shear_kn - first.base_shear_kn;
                assert!(off.abs() < slack, "{name} {}: {off:.0} of {:.0} kN", option.name, own.curve.peak_kn);
                for state in capacity.at_demand().into_iter().chain([limit]) {
                    seen += 1;
                    let roof: f64 = state.drift_mm.iter().sum();
                    assert!((roof - state.roof_mm).abs() < 1e-6 * state.roof_mm.abs().max(1.0));
                    for (shear, classes) in state.shear_kn.iter().zip(&state.class_shear_kn) {
                        let sum: f64 = classes.iter().sum();
                        assert!((shear - sum).abs() < 1e-9 * own.curve.peak_kn, "{name} {}", option.name);
                    }
                }
                if let Some(demand) = capacity.at_demand() {
                    assert!((demand.roof_mm - own.point.roof_mm).abs() < 1e-9 * own.point.roof_mm);
                }
            }
        }
    }
    assert!(seen > 40, "{seen}");
}

#[test]
fn the_spectrum_for_charts_meets_the_performance_points() {
    for (name, _) in DEMOS {
        let project = project(name);
        let spectrum = sisterframe_core::evaluate::elastic_spectrum(&project, 4.0, 400);
        assert_eq!(spectrum.len(), 401);
        for option in &results(name).options {
            for direction in &option.directions {
                let point = &direction.capacity.as_ref().expect("a capacity").governing().point;
                let after = spectrum.iter().position(|own| own.period_s >= point.period_s).expect("within 4 s");
                let (a, b) = (&spectrum[after - 1], &spectrum[after]);
                let part = (point.period_s - a.period_s) / (b.period_s - a.period_s);
                let between = a.acceleration_g + part * (b.acceleration_g - a.acceleration_g);
                assert!((between / point.acceleration_g - 1.0).abs() < 0.005, "{name} {}", option.name);
                // S_d = S_a·(T/2π)²: 1 g at 1 s is 248.4 mm.
                assert!((b.displacement_mm - 248.4 * b.acceleration_g * b.period_s * b.period_s).abs() < 0.1);
            }
        }
    }
}

/// The programmes of a demo's scheme at fast, usual and slow pace.
fn programmes(name: &str, scheme: &str) -> Vec<Programme> {
    let project = project(name);
    let times = project.working_times.clone().unwrap_or_else(|| panic!("{name} has no calendar"));
    let own = project.schemes.iter().find(|own| own.name == scheme).unwrap_or_else(|| panic!("no scheme {scheme}"));
    of_scheme(&project, own, &times)
}

/// An external frame is built while the school goes on; what shuts rooms fits its breaks. Jackets
/// do not fit them at a slow pace.
#[test]
fn the_school_stays_open_beside_its_frame_and_not_beside_slow_jackets() {
    for programme in programmes("school", "External frame") {
        assert_eq!(programme.figures.room_days_in_use, 0, "{:?}", programme.pace);
        assert!(programme.activities.iter().any(|activity| activity.package.is_none()));
    }
    let slow = &programmes("school", "Jackets")[2];
    assert!(slow.figures.room_days_in_use > 0 && !slow.spilled.is_empty());
}

/// The clinic never closes more than one group of rooms at once, and its frame none.
#[test]
fn the_clinic_closes_one_group_of_rooms_at_a_time() {
    assert!(programmes("clinic", "Frame on A").iter().all(|programme| programme.closures.is_empty()));
    for programme in programmes("clinic", "Infill walls") {
        for (index, own) in programme.closures.iter().enumerate() {
            for other in programme.closures[index + 1..].iter().filter(|other| other.package != own.package) {
                // One group may be handed back on the day the next is cleared.
                let apart = own.last <= other.first || other.last <= own.first;
                assert!(apart, "{own:?} and {other:?}");
            }
        }
    }
}

/// Nothing inside is loud by day in the office, whose gangs come in the evening; outside they work by
/// day, and are heard.
#[test]
fn the_office_is_quiet_by_day_but_for_work_outside() {
    let mut seen = [0, 0];
    for scheme in project("office").schemes {
        for programme in programmes("office", &scheme.name) {
            let outside = programme.activities.iter().any(|own| own.package.is_none() && own.noise == 3);
            assert_eq!(programme.figures.loud_days_in_use > 0, outside, "{}", scheme.name);
            seen[usize::from(outside)] += 1;
        }
    }
    assert!(seen[0] > 0 && seen[1] > 0, "{seen:?}");
}

/// What drives the duration is told from the first job to the last: its parts add up, and a break is
/// waited for only where there is one.
#[test]
fn what_drives_the_duration_adds_up_to_it() {
    let (mut waiting, mut grouped) = (0, 0);
    for (name, _) in DEMOS {
        let project = project(name);
        let set = project.working_times.clone().unwrap_or_else(|| panic!("{name} has no calendar"));
        for (scheme, way) in project.schemes.iter().flat_map(|own| Alternative::ALL.map(|way| (own, way))) {
            let Some(times) = way.of(&set) else { continue };
            for own in of_scheme(&project, scheme, &times) {
                let which = format!("{name}, {}, {way:?}, {:?}", scheme.name, own.pace);
                let first = own.activities.iter().map(|activity| activity.start).min().expect("an activity");
                let last = own.activities.iter().map(|activity| activity.end).max().expect("an activity");
                assert_eq!(own.drivers.iter().map(Driver::hours).sum::<u32>(), last - first, "{which}");
                let waits = own.drivers.iter().any(|driver| matches!(driver, Driver::Break { .. }));
                assert!(!waits || !times.breaks.is_empty(), "{which}: no break to wait for");
                waiting += usize::from(waits);
                grouped += usize::from(times.groups_at_once == Some(1) && own.closures.len() > 1);
            }
        }
    }
    assert!(waiting > 5 && grouped > 20, "{waiting} wait for breaks, {grouped} go group by group");
}

/// Where rooms are to be shut in breaks and the last is over, every group that is shut in use counts as
/// fitting none, and the reading says so.
#[test]
fn the_school_is_told_when_no_break_is_left() {
    let project = project("school");
    let mut times = project.working_times.clone().expect("a calendar");
    let told = |times: &WorkingTimes| of_scheme(&project, &project.schemes[2], times);
    assert!(told(&times).iter().all(|own| !own.no_break_left));
    times.start = Day::parse("2029-09-03").expect("a day");
    let all = told(&times);
    for own in &all {
        assert!(own.no_break_left && own.figures.breaks == [0, 0] && own.figures.room_days_in_use > 0);
        let groups = own.activities.iter().filter_map(|own| own.package).max().map_or(0, |most| most + 1);
        assert_eq!(own.spilled.len(), groups, "{:?}", own.pace);
    }
    assert!(reading::works(&all, false).contains("no break is left after the start, so 3 groups of rooms are shut"));
    times.shut = ShutRooms::AnyDay;
    assert!(told(&times).iter().all(|own| own.spilled.is_empty() && !own.no_break_left), "nothing asks for a break");
}

/// Slow work that fits no short break may wait for fewer breaks and end sooner; the reading says why.
#[test]
fn slow_work_may_end_sooner_and_says_why() {
    let all = programmes("school", "Free the columns");
    let weeks = |own: &Programme| own.figures.weeks;
    assert!(weeks(&all[2]) < weeks(&all[1]) && weeks(&all[0]) < weeks(&all[1]));
    assert!(reading::works(&all, false).contains("waits less for breaks, because what fits no short one"));
}

/// Weekend work at a slow pace takes over twelve years in the clinic, and every job has its own days; what
/// would end after more than thirty has no date, and the reading and the figures say so.
#[test]
fn long_programmes_are_placed_whole_or_say_what_is_not() {
    let project = project("clinic");
    let mut times = project.working_times.clone().expect("a calendar");
    times.week = WorkingWeek::Weekends;
    let told = |project: &Project| of_scheme(project, &project.schemes[2], &times);
    let all = told(&project);
    for own in &all[2].activities {
        let weekend = |date: Date| date.weekday().number_days_from_monday() > 4;
        let after = |days: i64| own.first + std::time::Duration::from_secs(86_400 * days.unsigned_abs());
        let days = (0..=(own.last - own.first).whole_days()).map(after);
        let worked = days.filter(|date| weekend(*date)).count() as u32;
        assert!(own.hours() <= worked * DAY_HOURS, "{own:?}");
    }
    assert!(all[2].figures.weeks > 12.0 * 52.0 && all.iter().all(|own| own.figures.unplaced == 0));
    let mut slow = project.clone();
    slow.works = Some(OwnWorks {
        rates: vec![OwnRate { activity: "FW_WALL".into(), slow: 0.3, usual: 10.0, fast: 15.0, crew: 2.0 }],
        ..OwnWorks::table()
    });
    let cut = told(&slow);
    let unplaced = cut[2].figures.unplaced;
    assert_eq!(unplaced as usize, all[2].activities.len() - cut[2].activities.len());
    assert!(unplaced > 0 && cut[1].figures.unplaced == 0);
    assert!(
        reading::works(&cut, false).contains("at slow pace ") && reading::works(&cut, false).contains("have no date")
    );
}
