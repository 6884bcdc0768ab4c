//! Every combination of answers gives a valid building that can be computed.

use sisterframe_core::assistant::{Answers, project, spans};
use sisterframe_core::eras::PRACTICES;
use sisterframe_core::evaluate;
use sisterframe_core::finding::Severity;
use sisterframe_core::project::{Occupancy, Practice, Project, Units};
use sisterframe_core::study::OptionKind;
use sisterframe_core::units::System;
use sisterframe_tests::dice::Dice;

const USES: [Occupancy; 4] = [Occupancy::School, Occupancy::Clinic, Occupancy::Office, Occupancy::Other];

/// Checks a building of some answers: valid, kept by the file, computed without trouble.
fn check(answers: &Answers) {
    let made = project(answers).unwrap_or_else(|error| panic!("{answers:?}: {error}"));
    assert_eq!(Project::from_json(&made.to_json()), Ok(made.clone()));
    let study = evaluate::study(&made);
    let as_built = study.options.iter().find(|option| option.kind == OptionKind::AsItStands).expect("always there");
    let trouble: Vec<String> = as_built
        .findings
        .iter()
        .filter(|finding| finding.severity == Severity::Trouble)
        .map(|finding| finding.text.to_string())
        .collect();
    assert!(trouble.is_empty(), "{answers:?}: {trouble:?}");
    assert!(as_built.strength_to_demand.is_some(), "{answers:?}");
}

#[test]
fn the_corners_of_every_question_give_a_building_without_trouble() {
    for year in [1900, 1919, 1949, 1960, 1971, 1989, 2100] {
        for storeys in [1, 4, 8] {
            for span in [2.5, 10.0] {
                for (height_m, sills, use_of) in [(2.4, true, 0), (5.0, false, 1), (5.0, true, 2), (2.4, false, 3)] {
                    check(&Answers {
                        name: "Corner".to_owned(),
                        occupancy: USES[use_of],
                        year,
                        practice: PRACTICES[use_of],
                        storeys,
                        height_m,
                        spans_x_m: vec![span; 2],
                        spans_y_m: vec![10.0 + 2.5 - span],
                        sills,
                        system: if storeys == 4 { System::Us } else { System::Si },
                    });
                }
            }
        }
    }
}

#[test]
fn any_answers_give_a_building_without_trouble() {
    for seed in 0..48 {
        let mut dice = Dice::new(seed);
        let mut spans =
            |most: usize| -> Vec<f64> { (0..dice.whole(1, most)).map(|_| dice.whole(25, 100) as f64 / 10.0).collect() };
        let (spans_x_m, spans_y_m) = (spans(6), spans(4));
        check(&Answers {
            name: format!("Seed {seed}"),
            occupancy: USES[dice.whole(0, 3)],
            year: dice.whole(1900, 2100) as u32,
            practice: PRACTICES[dice.whole(0, 3)],
            storeys: dice.whole(1, 8) as u32,
            height_m: dice.whole(48, 100) as f64 / 20.0,
            spans_x_m,
            spans_y_m,
            sills: dice.happens(0.5),
            system: if seed % 2 == 0 { System::Si } else { System::Us },
        });
    }
}

#[test]
fn the_largest_grid_is_laid_out() {
    let answers = Answers { spans_x_m: vec![4.0; 20], spans_y_m: vec![6.0; 20], ..Answers::default() };
    let made = project(&answers).expect("within the limits");
    assert_eq!((made.building.x_lines.len(), made.building.y_lines.len()), (21, 21));
    assert_eq!(made.building.y_lines[20].name, "U");
}

#[test]
fn an_answer_out_of_range_is_named() {
    let refused = |answers: Answers| project(&answers).expect_err("refused").path;
    assert_eq!(refused(Answers { year: 1850, ..Answers::default() }), "year");
    let narrow = Answers { spans_y_m: vec![12.0, 1.5], ..Answers::default() };
    assert!(project(&narrow).is_ok(), "a corridor of 1.5 m beside a hall of 12 m");
    assert_eq!(refused(Answers { spans_y_m: vec![12.0, 1.4], ..Answers::default() }), "spans_y");
    assert_eq!(refused(Answers { storeys: 0, ..Answers::default() }), "storeys");
    assert_eq!(refused(Answers { height_m: f64::NAN, ..Answers::default() }), "height_m");
    assert_eq!(refused(Answers { spans_y_m: vec![40.0], ..Answers::default() }), "spans_y");
    assert_eq!(refused(Answers { spans_x_m: vec![], ..Answers::default() }), "spans_x");
    assert_eq!(refused(Answers { name: "  ".to_owned(), ..Answers::default() }), "name");
}

#[test]
fn spans_are_read_as_people_write_them() {
    for (text, wanted) in [
        ("6x4.5", vec![4.5; 6]),
        ("6 x 4.5", vec![4.5; 6]),
        ("6 ×4.5", vec![4.5; 6]),
        ("6× 4.5 m", vec![4.5; 6]),
        ("7,2 2,7 7,2", vec![7.2, 2.7, 7.2]),
        ("2*3 + 5", vec![3.0, 3.0, 5.0]),
    ] {
        assert_eq!(spans(text, System::Si), Ok(wanted), "{text}");
    }
    let feet = spans("2 x 20; 10", System::Us).expect("feet");
    assert!(feet.iter().zip([6.096, 6.096, 3.048]).all(|(own, wanted): (&f64, f64)| (own - wanted).abs() < 1e-9));
    for text in ["", "x", "4.5 x", "x 4", "two", "-1 x 4", "3 x 40", "21 x 4", "999999999999 x 4", "1.5 x 4"] {
        assert!(spans(text, System::Si).is_err(), "{text}");
    }
}

/// ASCE 41-17 tables 10-2 and 10-3, entered from memory: lower bounds for columns and bars by
/// year, in psi.
#[test]
fn materials_are_the_defaults_of_their_year() {
    for (year, concrete_psi, steel_psi) in
        [(1910, 1500.0, 33_000.0), (1935, 2000.0, 33_000.0), (1958, 3000.0, 33_000.0), (1975, 3000.0, 40_000.0)]
    {
        let answers = Answers { year, practice: Practice::NorthAmerica, ..Answers::default() };
        let own = project(&answers).expect("valid").building.materials;
        let psi = |mpa: f64| mpa / 0.006_894_757;
        assert!((psi(own.concrete_mpa) - concrete_psi).abs() < 80.0, "{year}: {}", own.concrete_mpa);
        assert!((psi(own.steel_mpa) - steel_psi).abs() < 150.0, "{year}: {}", own.steel_mpa);
    }
}

/// In US units sections are whole inches, slabs half inches, bars those of ASTM A615 (from memory), and what is typical
/// of the era round in psi and psf.
#[test]
fn a_building_made_in_us_units_is_round_in_them() {
    let answers = Answers { practice: Practice::NorthAmerica, ..Answers::usual(System::Us) };
    let made = project(&answers).expect("valid");
    assert_eq!(made.units, Units::Us);
    let own = &made.building;
    let whole = |value: f64, unit: f64, what: &str| {
        let count = value / unit;
        assert!((count - count.round()).abs() < 1e-4 * count.max(1.0) && count > 0.5, "{what}: {value}");
    };
    for column in &own.column_types {
        whole(column.x_mm, 25.4, "column");
        whole(column.cover_mm, 25.4 / 4.0, "cover");
        whole(column.hoop_spacing_mm, 25.4, "hoop spacing");
        whole(column.lap_mm.expect("a lap"), 25.4, "lap");
        assert!([15.875, 19.05, 22.225, 25.4, 28.65, 32.26].contains(&column.bar_mm), "{}", column.bar_mm);
        assert!([6.35, 9.525, 12.7].contains(&column.hoop_mm), "{}", column.hoop_mm);
    }
    for beam in &own.beam_types {
        whole(beam.width_mm, 25.4, "width");
        whole(beam.depth_mm, 25.4, "depth");
    }
    for storey in &own.storeys {
        whole(storey.slab_mm, 12.7, "slab");
        whole(storey.height_m, 0.3048 / 2.0, "height");
        whole(storey.live_kpa, 5.0 * 0.047_880_26, "live load");
        whole(storey.finishes_kpa, 5.0 * 0.047_880_26, "finishes");
    }
    whole(own.materials.concrete_mpa, 6.894_757, "concrete");
    whole(own.materials.steel_mpa, 10.0 * 6.894_757, "bars");
    assert_eq!(own.assumed.len(), sisterframe_core::eras::FEATURES.len(), "all of it is noted");
}
