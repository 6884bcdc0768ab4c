//! What owners ask: every question has an answer in a sentence, and its figures are the results'.

use sisterframe_core::evaluate;
use sisterframe_core::project::{Day, Project};
use sisterframe_core::reading::{Answer, questions};
use sisterframe_core::study::{OptionKind, Study};
use sisterframe_core::units::{Dimension, System, grouped, show};
use sisterframe_core::works::presets::of_project;
use sisterframe_tests::projects::each_project;

const DEMOS: [&str; 4] = [
    include_str!("../../demo-scenarios/school.json"),
    include_str!("../../demo-scenarios/clinic.json"),
    include_str!("../../demo-scenarios/office.json"),
    include_str!("../../demo-scenarios/corner.json"),
];

/// The study with its programmes.
fn whole(project: &Project) -> Study {
    let mut study = evaluate::study(project);
    let (times, _) = of_project(project, Day::parse("2027-01-01").expect("a day"));
    for option in &mut study.options {
        if let OptionKind::Scheme { index } = option.kind {
            option.programme = evaluate::programmed(project, index, &times);
            option.programme_pending = false;
        }
    }
    study
}

fn assert_told(which: &str, answers: &[Answer]) {
    assert_eq!(answers.len(), 13, "{which}");
    for Answer { question, answer, known } in answers {
        assert!(question.ends_with('?'), "{which}: {question}");
        assert!(answer.ends_with('.') && answer.len() > 8, "{which}: {question} {answer}");
        assert!(!answer.contains("NaN") && !answer.contains("inf ") && !answer.contains("  "), "{which}: {answer}");
        assert_eq!(answer.starts_with("Not known: "), !known && !answer.contains("Concrete of"), "{which}: {answer}");
        assert!(answer.chars().next().is_some_and(|first| !first.is_lowercase()), "{which}: {answer}");
    }
}

#[test]
fn answers_carry_the_figures_of_the_results() {
    for text in DEMOS {
        let project = Project::from_json(text).expect("a valid demo");
        let study = whole(&project);
        for option in &study.options {
            let which = format!("{}, {}", project.name, option.name);
            let answers = questions(&study, &project, option, System::Si);
            assert_told(&which, &answers);
            let of = |start: &str| {
                let found = answers.iter().find(|own| own.question.starts_with(start));
                found.unwrap_or_else(|| panic!("{which}: {start}")).answer.as_str()
            };
            let standing = study.options[0].capacity_to_demand.expect("a verdict").ratio;
            assert!(of("Is it safe").contains(&grouped(standing, 2)), "{which}");
            for scheme in study.options.iter().filter(|own| matches!(own.kind, OptionKind::Scheme { .. })) {
                let after = grouped(scheme.capacity_to_demand.expect("a verdict").ratio, 2);
                assert!(of("How much safer").contains(&format!("{} {after}", scheme.letter)), "{which}");
            }
            let works = option.works.as_ref().expect("works");
            if works.cost.share.high > 0.0 {
                let share = show(works.cost.share.mid, Dimension::Share, System::Si);
                assert!(of("What does it cost").contains(&share), "{which}");
                assert!(of("How much carbon").contains(&show(works.carbon.tonnes.mid, Dimension::Tonnes, System::Si)));
            }
            let Some(programme) = &option.programme else { continue };
            let own = programme.usual();
            let rooms = of("Which rooms");
            if own.peak_rooms == 0 {
                assert!(rooms.starts_with("None"), "{which}: {rooms}");
                assert!(of("Can it all").starts_with("No room"), "{which}");
            } else {
                assert!(rooms.contains(&format!("At most {} of ", own.peak_rooms)), "{which}: {rooms}");
                if own.room_days_in_use > 1 {
                    let days = grouped(f64::from(own.room_days_in_use), 0);
                    assert!(rooms.contains(&format!("{days} room-days")), "{which}: {rooms}");
                }
            }
            let one_long = |pace: usize| {
                let own = &programme.paces[pace];
                own.breaks == [1, 0] && own.room_days_in_use == 0 && programme.spilled[pace] == 0
            };
            let shut = own.peak_rooms > 0;
            assert_eq!(of("Can it all").starts_with("Yes"), shut && (one_long(1) || one_long(2)), "{which}");
            if own.room_days_in_use > 1 {
                let days = format!("{} room-days in use", grouped(f64::from(own.room_days_in_use), 0));
                assert!(of("Can it all").contains(&days), "{which}: {}", of("Can it all"));
            }
            assert!(of("Can it be split").starts_with("Not known"), "{which}: stages are not in the results");
            assert_eq!(of("Which days").starts_with("None"), own.loud_days_in_use == 0, "{which}");
        }
    }
}

#[test]
fn every_question_is_answered_whatever_is_drawn() {
    each_project(30, |seed, project| {
        let study = evaluate::outline(&project);
        for option in &study.options {
            for system in [System::Si, System::Us] {
                assert_told(&format!("seed {seed}, {}", option.name), &questions(&study, &project, option, system));
            }
        }
    });
}
