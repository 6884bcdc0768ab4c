//! Every evaluation ends, with numbers, and always with the same ones.

use crate::{PUSHED, evaluated, seeds, studied};
use sisterframe_core::evaluate::{option, outline, outline_option, study, whole_option};
use sisterframe_core::finding::Code;
use sisterframe_core::project::Project;
use sisterframe_core::study::{OptionKind, OptionResult};
use sisterframe_tests::numbers::{assert_every_number_is_one, numbers};
use sisterframe_tests::projects::{Coverage, each_project};

#[test]
fn every_number_is_a_number() {
    let mut coverage = Coverage::default();
    let mut options = 0;
    let mut withheld = 0;
    each_project(2 * seeds(), |seed, project| {
        coverage.count(&project);
        let study = studied(seed);
        assert_eq!(study.options.len(), project.schemes.len() + 2, "seed {seed}");
        assert_every_number_is_one(&format!("seed {seed}"), &*study);
        for option in &study.options {
            options += 1;
            withheld += usize::from(is_withheld(option));
            assert_withheld_for_a_reason(seed, option);
        }
    });
    println!("{}{options:6}  options, {withheld} of them withheld", coverage.table());
    assert_eq!(coverage.missing(), Vec::<&str>::new(), "the draws do not reach everything");
    assert!(withheld * 20 < options, "{withheld} of {options} options are withheld");
}

fn is_withheld(option: &OptionResult) -> bool {
    option.kind != OptionKind::Rebuild && option.directions.is_empty()
}

/// Results that are not there are explained by a finding; results that are there are numbers.
fn assert_withheld_for_a_reason(seed: u64, option: &OptionResult) {
    let name = &option.name;
    if is_withheld(option) {
        let said = option.findings.iter().any(|it| matches!(it.code, Code::Unstable | Code::NotInRuleSet));
        assert!(said, "seed {seed}, {name}: withheld without a word");
        assert!(option.strength_to_demand.is_none() && option.weakest.is_none(), "seed {seed}, {name}");
    } else if option.kind != OptionKind::Rebuild {
        assert_eq!(option.directions.len(), 2, "seed {seed}, {name}");
        for headline in
            [option.strength_gain, option.strength_to_demand, option.capacity_to_demand].into_iter().flatten()
        {
            assert!(headline.ratio.is_finite() && headline.ratio >= 0.0, "seed {seed}, {name}: {headline:?}");
        }
        assert!(option.strength_to_demand.is_some(), "seed {seed}, {name}");
        let needed = option.ductility_needed.unwrap_or(1.0);
        assert!(needed.is_finite() && needed >= 1.0, "seed {seed}, {name}: ductility {needed}");
    }
}

#[test]
fn two_runs_give_the_same_bits() {
    each_project(seeds(), |seed, project| {
        let (once, again) = (studied(seed), evaluated(seed, &project));
        assert_eq!(bits(&*once), bits(&again), "seed {seed}");
        assert_eq!(*once, again, "seed {seed}");
    });
}

fn bits(of: &impl serde::Serialize) -> Vec<(String, u64)> {
    numbers(of).into_iter().map(|(path, number)| (path, number.to_bits())).collect()
}

#[test]
fn one_option_alone_is_the_option_of_the_study() {
    each_project(seeds().div_ceil(PUSHED), |seed, project| {
        let study = study(&project);
        for index in 0..project.schemes.len() {
            let alone = option(&project, index);
            assert_eq!(alone.as_ref(), study.options.get(index + 1), "seed {seed}, scheme {index}");
            let kind = OptionKind::Scheme { index };
            assert_eq!(whole_option(&project, kind, &study), alone, "seed {seed}, scheme {index}");
        }
        assert_eq!(option(&project, project.schemes.len()), None);
    });
}

/// What is shown first and what follows make the whole: an outline completed option by option is the
/// study, and the outline of one option is that of all.
#[test]
fn an_outline_completed_is_the_study() {
    each_project(seeds().div_ceil(PUSHED), |seed, project| {
        let mut growing = outline(&project);
        let kinds: Vec<OptionKind> = growing.options.iter().map(|option| option.kind).collect();
        for (place, kind) in kinds.iter().enumerate() {
            assert_eq!(growing.options[place].pending, *kind != OptionKind::Rebuild, "seed {seed}");
            let one = outline_option(&project, *kind, &outline(&project));
            assert_eq!(one.as_ref(), Some(&growing.options[place]), "seed {seed}, option {place}");
        }
        for (place, kind) in kinds.into_iter().enumerate() {
            let whole = whole_option(&project, kind, &growing).expect("an option of the project");
            growing.options[place] = whole;
        }
        assert_eq!(growing, study(&project), "seed {seed}");
    });
}

#[test]
fn a_scheme_without_measures_is_the_building_as_it_stands() {
    each_project(seeds(), |seed, project| {
        let study = studied(seed);
        let standing = &study.options[0];
        let index = project.schemes.iter().position(|scheme| scheme.measures.is_empty());
        let Some(index) = index else { panic!("seed {seed}: every drawn project has an empty scheme") };
        let mut empty = study.options[index + 1].clone();
        assert_eq!(empty.kind, OptionKind::Scheme { index });
        empty.kind = standing.kind;
        empty.name.clone_from(&standing.name);
        empty.letter.clone_from(&standing.letter);
        assert_eq!(bits(&empty), bits(standing), "seed {seed}");
        assert_eq!(&empty, standing, "seed {seed}");
    });
}

#[test]
fn a_project_survives_its_file() {
    each_project(seeds(), |seed, project| {
        let text = project.to_json();
        let again = Project::from_json(&text);
        assert_eq!(again.as_ref(), Ok(&project), "seed {seed}");
        assert_eq!(again.map(|again| again.to_json()), Ok(text), "seed {seed}");
    });
}
