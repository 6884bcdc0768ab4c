//! Cost index and carbon: sums of their parts, by hand on one wall, in order, and as the project's own prices say.
//!
//! Price ratios and preliminaries: common practice, no source. Carbon factors: ranges over published ones, which the
//! checks in outside/work_rates.rs hold them to.

use sisterframe_core::evaluate;
use sisterframe_core::project::{Measure, OwnWorks, Project};
use sisterframe_core::study::{Band, OptionKind, OptionResult, Study, WorksResult};
use sisterframe_core::works::Basis;
use sisterframe_core::works::cost::decant_share;
use sisterframe_tests::approx::assert_near;
use sisterframe_tests::projects::each_project;

const SCHOOL: &str = include_str!("../../demo-scenarios/school.json");

fn school() -> Project {
    Project::from_json(SCHOOL).expect("a valid demo")
}

fn works(study: &Study) -> impl Iterator<Item = (&OptionResult, &WorksResult)> {
    study.options.iter().filter_map(|option| option.works.as_ref().map(|works| (option, works)))
}

fn in_order(band: Band) -> bool {
    0.0 <= band.low && band.low <= band.mid && band.mid <= band.high
}

#[test]
fn cost_and_carbon_are_the_sums_of_their_parts() {
    let mut schemes = 0;
    each_project(40, |seed, project| {
        let study = evaluate::outline(&project);
        let floored = study.floor_area_m2 > 0.0;
        for (option, works) in works(&study) {
            let what = format!("seed {seed}, {}", option.name);
            let (cost, carbon) = (&works.cost, &works.carbon);
            for (name, whole, terms) in
                [("cost", cost.man_day_equivalents, &cost.terms), ("carbon", carbon.tonnes, &carbon.terms)]
            {
                let sum: Band = terms.iter().map(|term| term.sum).sum();
                assert!(in_order(whole), "{what}: {name} {whole:?}");
                for (got, expected) in [(whole.low, sum.low), (whole.mid, sum.mid), (whole.high, sum.high)] {
                    assert!((got - expected).abs() <= 1e-9 * expected.max(1.0), "{what}: {name}");
                }
            }
            match option.kind {
                OptionKind::AsItStands => assert!(cost.share.high == 0.0 && carbon.tonnes.high == 0.0, "{what}"),
                OptionKind::Rebuild => {
                    assert!(!floored || (cost.share.low > 1.0 && (carbon.share - 1.0).abs() < 1e-12), "{what}")
                }
                // Nothing to compare with where no bay is roofed.
                OptionKind::Scheme { .. } if !floored => assert_eq!(cost.share.high, 0.0, "{what}"),
                OptionKind::Scheme { .. } => {
                    let new_building = 5.0 * study.floor_area_m2;
                    assert_near(&what, cost.share.mid * new_building + 1.0, cost.man_day_equivalents.mid + 1.0, 1e-9);
                    schemes += usize::from(cost.share.mid > 0.0);
                }
            }
        }
    });
    assert!(schemes > 50, "{schemes} schemes cost something");
}

/// Infill walls of the school (scheme C), line by line from its activities: man-days, 0.6 a m³, 6 a tonne, 0.1 a m² of
/// forms and a bar, 1 a window, 0.15 a m² of finishes, 0.2 a m³ dug, a quarter on top, over 5 a m² of floor.
#[test]
fn the_index_by_hand() {
    let study = evaluate::outline(&school());
    let option = study.options.iter().find(|option| option.letter == "C").expect("infill walls");
    let works = option.works.as_ref().expect("works");
    let of = |codes: &[&str]| -> f64 {
        let own = works.activities.iter().filter(|own| codes.contains(&own.code.as_str()));
        own.map(|own| own.quantity).sum()
    };
    let material = 0.6 * option.added.concrete_m3
        + 6.0 * option.added.steel_t
        + 0.1 * of(&["FW_JACKET", "FW_WALL", "FW_EXT", "FALSE_SLAB"])
        + 0.1 * of(&["DRILL"])
        + of(&["REST_WIN"])
        + 0.15 * of(&["REST_PLAST", "REST_CEIL", "REST_FLOOR", "EXT_FIN"])
        + 0.2 * of(&["FND_DIG_IN", "FND_DIG_OUT"]);
    assert!(of(&["DRILL"]) > 0.0 && of(&["FW_WALL"]) > 0.0);
    let all = 1.25 * (works.man_days.mid + material);
    assert_near("man-day equivalents", works.cost.man_day_equivalents.mid, all, 1e-12);
    assert_near("index", works.cost.share.mid, all / (5.0 * study.floor_area_m2), 1e-12);
    // Concrete above C25/30 counts 300 kg a m³, steel 1.2 kg a kg, forms 1.5 kg a m², plaster 36 kg of 0.16 kg a m².
    let scheme = school().schemes.into_iter().find(|scheme| scheme.name == option.name).expect("its scheme");
    let strengths = scheme.measures.iter().filter_map(|measure| match measure {
        Measure::InfillWall(wall) => Some(wall.concrete_mpa),
        _ => None,
    });
    let concrete_t = if strengths.fold(0.0, f64::max) > 27.5 { 0.3 } else { 0.28 };
    let carbon = concrete_t * option.added.concrete_m3
        + 1.2 * option.added.steel_t
        + 1.5e-3 * of(&["FW_JACKET", "FW_WALL", "FW_EXT", "FALSE_SLAB"])
        + 0.16e-3 * 36.0 * of(&["REST_PLAST"]);
    assert_near("carbon", works.carbon.tonnes.mid, carbon, 1e-12);
    assert_near("of rebuilding", works.carbon.share, carbon / (0.65 * study.floor_area_m2), 1e-12);
}

#[test]
fn prices_of_the_project_s_own_count_and_temporary_rooms_only_when_priced() {
    let table = school();
    assert_eq!(decant_share(Basis::of(&table), 100, 1000.0), None);
    let mut own = table.clone();
    own.works = Some(OwnWorks {
        price_steel: Some(12.0),
        preliminaries: Some(0.0),
        decant_per_room_day: Some(0.5),
        ..OwnWorks::table()
    });
    own.check().expect("in range");
    let (before, after) = (evaluate::outline(&table), evaluate::outline(&own));
    for ((option, one), (_, other)) in works(&before).zip(works(&after)) {
        if !matches!(option.kind, OptionKind::Scheme { .. }) {
            continue;
        }
        let expected = one.cost.man_day_equivalents.mid / 1.25 + 6.0 * option.added.steel_t;
        assert_near(&option.name, other.cost.man_day_equivalents.mid, expected, 1e-9);
        assert_eq!(one.carbon, other.carbon, "prices emit nothing");
    }
    assert_near("decant", decant_share(Basis::of(&own), 100, 1000.0).expect("priced"), 0.01, 1e-12);
    assert_eq!(Basis::of(&own).own_figures(), 3);
}
