//! Stages of a scheme: what is done when, and whether the building is worse off meanwhile.
//!
//! DERIVED: a stage is a scheme with part of the members, so all that is asked of it follows from the
//! whole scheme, from the dates of the programme, and from the evaluation of the scheme written out.

use sisterframe_core::evaluate::{self, LESS, MORE_ECCENTRIC, StageResult, option, stage};
use sisterframe_core::finding::Code;
use sisterframe_core::order::sort_by_key;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Day, InfillWall, Measure, Project, Scheme, Span};
use sisterframe_core::study::OptionResult;
use sisterframe_core::works::presets::Preset;
use sisterframe_core::works::programme::{Pace, Programme, of_scheme};
use sisterframe_core::works::stages::{Stage, StageEnd, by_programme, by_storey, parts, with_done};
use sisterframe_tests::approx::is_near;
use sisterframe_tests::scenarios::{demo, demos};

fn standing(project: &Project) -> OptionResult {
    evaluate::study(&Project { schemes: Vec::new(), ..project.clone() }).options.swap_remove(0)
}

/// A scheme with every member in a measure of its own.
fn one_by_one(project: &Project, scheme: &Scheme) -> Scheme {
    let parts = parts(&project.building, scheme);
    let mut measures = Vec::new();
    for (measure, parts) in scheme.measures.iter().zip(parts) {
        match measure {
            Measure::ExternalFrame(_) => measures.extend(parts.last().map(|part| part.measure.clone())),
            _ => measures.extend(parts.into_iter().map(|part| part.measure)),
        }
    }
    Scheme { measures, ..scheme.clone() }
}

fn storeys(option: &OptionResult) -> Vec<[f64; 3]> {
    let all = option.directions.iter().flat_map(|direction| {
        direction.storeys.iter().map(|storey| [storey.strength_kn, storey.stiffness_kn_m, direction.eccentricity_m])
    });
    all.collect()
}

#[test]
fn a_scheme_written_member_by_member_is_the_scheme() {
    for (name, mut project) in demos() {
        let schemes = project.schemes.clone();
        for (index, scheme) in schemes.iter().enumerate() {
            let whole = option(&project, index).expect("the scheme is there");
            let apart = one_by_one(&project, scheme);
            assert!(
                apart.measures.len() > scheme.measures.len()
                    || scheme.measures.iter().all(|own| matches!(own, Measure::ExternalFrame(_))),
                "{name} {index}: nothing was taken apart"
            );
            let named = std::mem::replace(&mut project.schemes[index], apart);
            let own = option(&project, index).expect("the scheme is there");
            project.schemes[index] = named;
            assert!(is_near(own.added.weight_kn, whole.added.weight_kn, 1e-9), "{name} {index}: weight");
            assert_eq!(own.directions.len(), whole.directions.len());
            for (own, whole) in storeys(&own).iter().zip(&storeys(&whole)) {
                for (own, whole) in own.iter().zip(whole) {
                    assert!((own - whole).abs() <= 1e-6 * whole.abs().max(1.0), "{name} {index}: {own}, {whole}");
                }
            }
        }
    }
}

/// Programmes at the usual pace with their stages.
fn programmes(project: &Project) -> Vec<(Scheme, Programme, Vec<Stage>)> {
    let start = Day::parse("2027-01-04").expect("a day");
    let times = project.working_times.clone().unwrap_or(Preset::usual(project.building.occupancy).times(start));
    let calendar = times.calendar().expect("a calendar");
    let schemes = project.schemes.iter().filter_map(|scheme| {
        let programme = of_scheme(project, scheme, &times).into_iter().find(|own| own.pace == Pace::Usual)?;
        let stages = by_programme(project, scheme, &programme, &calendar);
        Some((scheme.clone(), programme, stages))
    });
    schemes.collect()
}

/// The places a stage's scheme makes, in order.
fn places(project: &Project, scheme: &Scheme) -> Vec<Place> {
    let mut all: Vec<Place> = parts(&project.building, scheme).into_iter().flatten().map(|part| part.place).collect();
    sort_by_key(&mut all, Clone::clone);
    all
}

#[test]
fn stages_grow_up_to_the_scheme_and_hold_what_is_done_by_then() {
    let (mut by_break, mut by_room) = (0, 0);
    for (name, project) in demos() {
        for (scheme, programme, stages) in programmes(&project) {
            let whole = places(&project, &scheme);
            let last = stages.last().expect("there is a stage");
            assert!(last.is_last() && last.scheme.measures == scheme.measures, "{name}: the last is the scheme");
            assert!(stages.windows(2).all(|pair| pair[0].done < pair[1].done), "{name}: stages grow");
            assert_eq!(stages[0].of, whole.len(), "{name}");
            for own in &stages {
                let date = match &own.end {
                    StageEnd::Break { last, .. } => {
                        by_break += 1;
                        *last
                    }
                    StageEnd::HandedBack { date } => {
                        by_room += 1;
                        *date
                    }
                    StageEnd::Works { date } => *date,
                    StageEnd::Storey { .. } => panic!("{name}: no storey here"),
                };
                let made = places(&project, &own.scheme);
                assert_eq!(made.len(), own.done, "{name}: what is counted is what is made");
                // Found anew from the jobs: a member with one still to come is not made.
                let open = |place: &Place| {
                    programme.activities.iter().any(|job| job.front.is_some() && job.place == *place && job.last > date)
                };
                assert!(made.iter().all(|place| !open(place)), "{name}: a member is made before it is done");
                for place in whole.iter().filter(|place| !made.contains(place)) {
                    // A storey of a frame waits for its footing and for those below.
                    let waits = matches!(place, Place::Slab { .. });
                    assert!(open(place) || waits, "{name}: {place} is done and not made");
                }
            }
        }
    }
    assert!(by_break > 5 && by_room > 2, "{by_break} by break, {by_room} by rooms handed back");
}

#[test]
fn storey_by_storey_nothing_stands_above_the_stage() {
    for (name, project) in demos() {
        for scheme in &project.schemes {
            let stages = by_storey(&project, scheme);
            assert_eq!(stages.last().map(|own| own.scheme.measures.clone()), Some(scheme.measures.clone()), "{name}");
            for own in &stages {
                let StageEnd::Storey { storey: top } = own.end else { panic!("a storey") };
                for place in places(&project, &own.scheme) {
                    let storey = match place {
                        Place::Column { storey, .. } | Place::Panel { storey, .. } => storey,
                        Place::Slab { level, .. } => level,
                        other => panic!("{name}: {other}"),
                    };
                    assert!(storey <= top, "{name}: storey {storey} in the stage up to {top}");
                }
            }
        }
    }
}

fn codes(result: &StageResult) -> Vec<Code> {
    result.findings.iter().map(|finding| finding.code).collect()
}

#[test]
fn the_last_stage_is_the_option_and_warnings_follow_from_the_figures() {
    let mut warned = 0;
    for (name, project) in demos() {
        let standing = standing(&project);
        for (index, scheme) in project.schemes.iter().enumerate() {
            let whole = option(&project, index).expect("the scheme is there");
            let last = stage(&project, scheme, &standing);
            assert_eq!(last.capacity_to_demand, whole.capacity_to_demand, "{name} {index}");
            let strengths: Vec<f64> =
                whole.directions.iter().flat_map(|own| &own.storeys).map(|own| own.strength_kn).collect();
            assert_eq!(last.storeys.iter().map(|own| own.strength_kn).collect::<Vec<_>>(), strengths, "{name} {index}");
            for own in by_storey(&project, scheme) {
                let result = stage(&project, &own.scheme, &standing);
                let codes = codes(&result);
                let weaker = result.storeys.iter().filter(|own| own.strength_kn < (1.0 - LESS) * own.before_kn).count();
                assert_eq!(codes.iter().filter(|code| **code == Code::StageWeaker).count(), weaker, "{name} {index}");
                let turns = result.eccentricity.iter().filter(|own| own[0] > own[1] + MORE_ECCENTRIC).count();
                assert_eq!(codes.iter().filter(|code| **code == Code::StageMoreEccentric).count(), turns);
                warned += usize::from(!codes.is_empty());
                let least = result.least().and_then(|own| own.ratio()).expect("every storey has a strength");
                assert!(result.storeys.iter().all(|own| own.ratio().is_none_or(|ratio| ratio >= least)));
            }
        }
    }
    assert!(warned > 0, "no stage of any demo is worse than before");
}

/// DERIVED: walls on two opposite sides alike keep a symmetric plan symmetric; one of them alone moves
/// the centre of stiffness towards it.
#[test]
fn one_of_two_walls_alone_turns_the_plan() {
    // Without its old walls, which stand in these bays.
    let mut project = demo("school");
    let lines = [project.building.x_lines.first(), project.building.x_lines.last()]
        .map(|line| line.expect("a line").name.clone());
    let infill = project.schemes.iter().flat_map(|scheme| &scheme.measures).find_map(|measure| match measure {
        Measure::InfillWall(infill) => Some(infill.clone()),
        _ => None,
    });
    let infill = infill.expect("the school has infill walls");
    let wall = |line: &String| {
        Measure::InfillWall(InfillWall { line: line.clone(), bays: Span { first: 1, last: 1 }, ..infill.clone() })
    };
    let scheme = Scheme { name: "Ends".to_owned(), note: String::new(), measures: lines.iter().map(wall).collect() };
    project.schemes = vec![scheme.clone()];
    project.building.walls.clear();
    project.check().expect("two end walls are valid");
    let standing = standing(&project);
    let parts = parts(&project.building, &scheme);
    let one = with_done(&scheme, &parts, |place| matches!(place, Place::Panel { line, .. } if *line == lines[0]));
    assert_eq!(one.1, project.building.storeys.len());
    let half = stage(&project, &one.0, &standing);
    let both = stage(&project, &scheme, &standing);
    assert!(codes(&half).contains(&Code::StageMoreEccentric), "{:?}", half.eccentricity);
    assert!(!codes(&both).contains(&Code::StageMoreEccentric), "{:?}", both.eccentricity);
}
