//! What fits at a place: what it would bring is what the changed project itself gives, and every
//! place offers something or says why not.

use sisterframe_core::evaluate::{self, study};
use sisterframe_core::fitting::{Fit, Reach, Spot, capacity, fits, gain};
use sisterframe_core::project::{Direction, Measure, Project, Scheme};
use sisterframe_core::study::OptionKind;
use sisterframe_core::units::System;
use sisterframe_tests::projects;
use sisterframe_tests::scenarios::{demo, demos};

/// The project with a measure as its user would have it, and the place of its scheme.
fn added(project: &Project, option: OptionKind, measure: &Measure) -> (Project, usize) {
    let mut project = project.clone();
    let index = match option {
        OptionKind::Scheme { index } => index,
        OptionKind::AsItStands | OptionKind::Rebuild => {
            let name = "Tried".to_owned();
            project.schemes.push(Scheme { name, note: String::new(), measures: Vec::new() });
            project.schemes.len() - 1
        }
    };
    project.schemes[index].measures.push(measure.clone());
    (project, index)
}

/// Every place of a building.
fn spots(project: &Project) -> Vec<Spot> {
    let building = &project.building;
    let mut all = Vec::new();
    for storey in building.all_storeys().iter() {
        all.push(Spot::Storey { storey });
        for x in 0..building.x_lines.len() {
            all.extend((0..building.y_lines.len()).map(|y| Spot::Column { x, y, storey }));
        }
    }
    for direction in Direction::BOTH {
        let lines = building.bays(direction.across()) as usize + 1;
        for line in 0..lines {
            all.push(Spot::Line { direction, line });
            for storey in building.all_storeys().iter() {
                let bays = 1..=building.bays(direction);
                all.extend(bays.map(|bay| Spot::Bay { direction, line, bay, storey }));
            }
        }
    }
    all
}

#[test]
fn what_a_measure_would_bring_is_the_study_of_the_project_with_it() {
    let mut compared = 0;
    for (name, project) in demos() {
        let before = study(&project);
        let last = OptionKind::Scheme { index: project.schemes.len() - 1 };
        let places = [
            (OptionKind::AsItStands, Spot::Column { x: 1, y: 0, storey: 1 }, Reach::Everywhere),
            (OptionKind::Rebuild, Spot::Bay { direction: Direction::X, line: 1, bay: 1, storey: 1 }, Reach::AllStoreys),
            (last, Spot::Storey { storey: 2 }, Reach::AllStoreys),
            (last, Spot::Line { direction: Direction::Y, line: 0 }, Reach::Here),
        ];
        for (option, spot, reach) in places {
            // Sizes round in inches bring as much as they give, like those round in millimetres.
            let system = if option == OptionKind::AsItStands { System::Us } else { System::Si };
            for fit in fits(&project, option, spot, reach, system).iter().filter(|fit| fit.problem.is_none()) {
                let gain = gain(&project, option, spot, &fit.measure, &before).expect("a gain");
                let (after, index) = added(&project, option, &fit.measure);
                after.check().unwrap_or_else(|error| panic!("{name}: {error}"));
                let after = evaluate::option(&after, index).expect("the scheme");
                let own = if option == OptionKind::Rebuild { OptionKind::AsItStands } else { option };
                let now = before.options.iter().find(|found| found.kind == own).expect("the option");
                for at in [0, 1] {
                    let (now, then) = (&now.directions[at], &after.directions[at]);
                    let storey = spot.storey().unwrap_or(now.strength_storey);
                    assert_eq!(gain.storey[at], storey);
                    let row = storey as usize - 1;
                    assert_eq!(gain.now_kn[at], now.storeys[row].strength_kn, "{name}: {spot:?}");
                    assert_eq!(gain.then_kn[at], then.storeys[row].strength_kn, "{name}: {spot:?} {:?}", fit.measure);
                    assert_eq!(gain.to_demand[at], [now.storeys[row].ratio, then.storeys[row].ratio]);
                }
                if compared % 6 == 0 {
                    let found = capacity(&project, option, &fit.measure, &before).expect("curves");
                    let expected = &after.directions;
                    for at in [0, 1] {
                        assert_eq!(found.0[at], expected[at].capacity.as_ref().map(|capacity| capacity.ratio));
                    }
                }
                compared += 1;
            }
        }
    }
    assert!(compared > 40, "{compared} measures compared");
}

/// Checks what is offered at a place; how many measures fit.
fn offered(project: &Project, option: OptionKind, spot: Spot) -> usize {
    let building = &project.building;
    assert!(spot.is_in(building), "{spot:?}");
    assert!(!spot.name(&building.x_lines, &building.y_lines).is_empty());
    let mut fitting = 0;
    for reach in spot.reaches(building) {
        assert!(!spot.reach_in_words(reach, building).is_empty());
        let all = fits(project, option, spot, reach, System::Si);
        assert!(!all.is_empty(), "{spot:?} {reach:?} offers nothing and says nothing");
        for Fit { measure, problem } in all {
            match problem {
                Some(words) => assert!(words.to_string().len() > 12, "{spot:?}: “{words}”"),
                None => {
                    let (project, _) = added(project, option, &measure);
                    project.check().unwrap_or_else(|error| panic!("{spot:?} {reach:?} offers {measure:?}: {error}"));
                    fitting += 1;
                }
            }
        }
    }
    fitting
}

#[test]
fn every_place_of_the_demos_offers_measures_that_pass_or_says_why_not() {
    for (name, project) in demos() {
        let options = (0..project.schemes.len()).map(|index| OptionKind::Scheme { index });
        for (turn, option) in [OptionKind::AsItStands, OptionKind::Rebuild].into_iter().chain(options).enumerate() {
            let mut fitting = 0;
            for spot in spots(&project).into_iter().skip(turn).step_by(if turn == 0 { 3 } else { 17 }) {
                fitting += offered(&project, option, spot);
            }
            assert!(fitting > 0, "{name}: nothing fits {option:?}");
        }
    }
}

#[test]
fn every_place_of_random_buildings_offers_measures_that_pass_or_says_why_not() {
    let mut fitting = 0;
    projects::each_project(24, |seed, project| {
        let step = 11 + (seed as usize % 5);
        let index = project.schemes.len().checked_sub(1);
        for spot in spots(&project).into_iter().skip(seed as usize % step).step_by(step) {
            fitting += offered(&project, OptionKind::AsItStands, spot);
            if let Some(index) = index {
                fitting += offered(&project, OptionKind::Scheme { index }, spot);
            }
        }
    });
    assert!(fitting > 200, "{fitting} measures fitted");
}

#[test]
fn what_does_not_fit_says_so_in_the_words_of_the_check() {
    let project = demo("school");
    let problem = |option, spot, kind: &str| {
        let all = fits(&project, option, spot, Reach::Here, System::Si);
        all.into_iter()
            .find(|fit| fit.measure.kind() == kind)
            .expect("the kind is offered")
            .problem
            .map(|words| words.to_string())
    };
    let inner = Spot::Line { direction: Direction::X, line: 1 };
    let words = problem(OptionKind::AsItStands, inner, "external_frame").expect("not before an inner line");
    assert!(words.contains("outer line"), "{words}");
    let jackets = |measure: &Measure| matches!(measure, Measure::Jacket(_));
    let index = project.schemes.iter().position(|scheme| scheme.measures.iter().any(jackets)).expect("jackets");
    let Some(Measure::Jacket(own)) = project.schemes[index].measures.iter().find(|own| jackets(own)) else {
        unreachable!("found above")
    };
    let x = project.building.x_lines.iter().position(|line| own.x.covers(&line.name)).expect("a line");
    let y = project.building.y_lines.iter().position(|line| own.y.covers(&line.name)).expect("a line");
    let spot = Spot::Column { x, y, storey: own.storeys.map_or(1, |span| span.first) };
    let words = problem(OptionKind::Scheme { index }, spot, "jacket").expect("one jacket to a column");
    assert!(words.contains("two jackets"), "{words}");
    let office = demo("office");
    let free = fits(&office, OptionKind::AsItStands, Spot::Column { x: 1, y: 1, storey: 2 }, Reach::Here, System::Si);
    let release = free.iter().find(|fit| fit.measure.kind() == "release").expect("release is considered");
    assert!(release.problem.as_ref().is_some_and(|words| words.to_string().contains("no sill")), "{release:?}");
}

#[test]
fn a_captive_column_is_told_as_one_and_figures_are_those_of_the_study() {
    use sisterframe_core::model::Model;
    use sisterframe_core::reading::spot;
    use sisterframe_core::study::Corner;
    use sisterframe_core::units::{Dimension, System, show};
    let project = demo("school");
    let bare = Scheme { name: "none".to_owned(), note: String::new(), measures: Vec::new() };
    let model = Model::new(&project.building, &bare);
    let study = study(&project);
    // Line A has sills of 1.5 m, line C none.
    let words = |y: usize, system| {
        let place = Spot::Column { x: 2, y, storey: 1 };
        spot(place, &project.building, &model, Some(&study.options[0]), system)
    };
    let held = words(0, System::Si);
    assert_eq!(held.name, "Column A-3, storey 1");
    assert!(held.notes.iter().any(|note| note.starts_with("A captive column along x")), "{:?}", held.notes);
    assert!(!words(2, System::Si).notes.iter().any(|note| note.contains("captive")));
    let along_x = &study.options[0].directions[0].storeys[0];
    let member = along_x.members.iter().find(|own| own.place.to_string() == "column A-3, storey 1").expect("there");
    let line = member.backbone.expect("a column has one");
    let [x, y] = held.backbones.as_slice() else { panic!("{:?}", held.backbones) };
    assert_eq!((x.what.as_str(), y.what.as_str()), ("along x", "along y"));
    let drift = |corner: Corner| show(corner.drift_mm, Dimension::Millimetres, System::Si);
    let axial = line.axial_loss.expect("it is pressed");
    assert_eq!(
        [&x.corners[0], &x.corners[1], &x.corners[3]],
        [&drift(line.yields), &drift(line.capping), &drift(axial)]
    );
    assert!(x.corners[2].starts_with(&drift(line.lateral_loss)), "{x:?}");
    let ratio = show(member.joint_ratio.expect("beams frame in"), Dimension::Number, System::Si);
    let fact = held.facts.iter().find(|fact| fact.label == "Columns over beams").expect("told");
    assert!(fact.text.starts_with(&format!("{ratio} along x")), "{fact:?}");
    let strength = show(member.strength_kn, Dimension::Kilonewtons, System::Si);
    assert_eq!(held.failing[0].strength, strength);
    // In bold stands the least one, which is the strength.
    let least: Vec<&str> =
        held.ways.rows.iter().filter(|row| row.cells[0].1).map(|row| row.cells[0].0.as_str()).collect();
    assert!(matches!(least[..], [own] if own.starts_with(&strength)), "{least:?} of {strength}");
    for system in [System::Si, System::Us] {
        for place in spots(&project) {
            let words = spot(place, &project.building, &model, Some(&study.options[0]), system);
            let text = format!("{words:?}");
            assert!(!words.name.is_empty() && (!words.facts.is_empty() || !words.notes.is_empty()), "{place:?}");
            let foreign: &[&str] =
                if system == System::Us { &["\u{a0}kN", "\u{a0}mm", "\u{a0}m\""] } else { &["\u{a0}kip", "\u{a0}in"] };
            assert!(foreign.iter().all(|unit| !text.contains(unit)), "{text}");
        }
    }
}

/// The face of a scheme with an external frame tells the frame's strength storey by storey, as the study has it.
#[test]
fn a_face_tells_the_external_frame_before_it() {
    use sisterframe_core::model::Model;
    use sisterframe_core::place::Place;
    use sisterframe_core::reading::spot;
    use sisterframe_core::units::{Dimension, System, show};
    let project = demo("clinic");
    let study = study(&project);
    let (index, face) = (0..)
        .zip(&project.schemes)
        .find_map(|(index, scheme)| {
            scheme.measures.iter().find_map(|own| match own {
                Measure::ExternalFrame(own) => Some((index, own.face.clone())),
                _ => None,
            })
        })
        .expect("a scheme with a frame");
    let option = study.options.iter().find(|own| own.kind == OptionKind::Scheme { index }).expect("evaluated");
    let model = Model::new(&project.building, &project.schemes[index]);
    let (direction, line) = project.building.line(&face).expect("a line");
    let words = spot(Spot::Line { direction, line }, &project.building, &model, Some(option), System::Si);
    let result = option.directions.iter().find(|own| own.along_x == (direction == Direction::X)).expect("along it");
    let frame = |own: &&sisterframe_core::study::MemberResult| matches!(&own.place, Place::FrameColumn { face: own, .. } if *own == face);
    let members: Vec<_> = result.storeys.iter().filter_map(|row| row.members.iter().find(frame)).collect();
    let rows: Vec<_> = words.failing.iter().filter(|row| row.what.starts_with("frame, ")).collect();
    assert!(!members.is_empty() && rows.len() == members.len(), "{rows:?}");
    for (row, member) in rows.iter().zip(&members) {
        assert_eq!(row.strength, show(member.strength_kn, Dimension::Kilonewtons, System::Si));
    }
    let least = members.iter().filter_map(|own| own.joint_ratio).fold(f64::INFINITY, f64::min);
    let told = format!("{} of the external frame", show(least, Dimension::Number, System::Si));
    assert!(words.facts.iter().any(|fact| fact.text == told), "{:?}", words.facts);
    let bare = spot(Spot::Line { direction, line }, &project.building, &model, study.options.first(), System::Si);
    assert!(!bare.failing.iter().any(|row| row.what.starts_with("frame")), "nothing stands before it as built");
}
