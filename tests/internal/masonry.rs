//! Full-height masonry: left out when asked, and what its struts do to the columns beside them.

use crate::connections::project;
use crate::pushover_models::ready;
use serde_json::{Value, json};
use sisterframe_core::evaluate::study;
use sisterframe_core::failure::Failure;
use sisterframe_core::finding::Code;
use sisterframe_core::framing::Framing;
use sisterframe_core::model::Model;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Masonry, Project, RuleSet, Scheme};
use sisterframe_core::rules;
use sisterframe_core::study::OptionResult;
use sisterframe_tests::approx::assert_near;

/// Panels of full height in the middle bay of line A, of a given bed-joint strength, on the frame of
/// the connection tests.
fn panels(measures: &Value, shear_mpa: f64, counts: bool) -> Project {
    let mut project = project(measures);
    let text =
        json!({"lines": ["A"], "bays": [2, 2], "thickness_mm": 200, "compressive_mpa": 4, "shear_mpa": shear_mpa});
    project.building.masonry = vec![read(&text)];
    project.building.masonry_counts = counts;
    project
}

fn read(text: &Value) -> Masonry {
    let mut file = project(&json!([])).to_value();
    file["building"]["masonry"] = json!([text]);
    Project::from_value(&file).expect("masonry").building.masonry.remove(0)
}

fn standing(project: &Project) -> OptionResult {
    study(project).options[0].clone()
}

fn says(option: &OptionResult, code: Code) -> bool {
    option.findings.iter().any(|finding| finding.code == code)
}

/// Left out, panels change nothing but the weight: the lines are those of the bare frame to the last
/// bit, the weight is that with masonry, and sills go on holding columns.
#[test]
fn masonry_left_out_weighs_and_nothing_more() {
    let none = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let bare = project(&json!([]));
    for set in [RuleSet::American, RuleSet::European] {
        let with = |project: Project| Project { rules: set, ..project };
        let rules = rules::by_key(set.key()).expect("a set");
        let model = |project: &Project| Model::new(&project.building, &none);
        let weight = |model: &Model| model.floors.iter().map(|floor| floor.weight_kn).sum::<f64>();
        let (counted, left_out) = (with(panels(&json!([]), 0.2, true)), with(panels(&json!([]), 0.2, false)));
        let (a, b, c) = (model(&counted), model(&left_out), model(&bare));
        assert_eq!(weight(&a), weight(&b));
        // 2 storeys of 200 mm, 4.6 m by 3.0 m clear, 18 kN/m³; that of the lowest half-storey rests below.
        assert!(weight(&b) > weight(&c) + 70.0);
        let springs = |model: &Model, project: &Project| -> usize {
            let framing = Framing::new(model, &project.building.materials, rules).expect("framed");
            framing.lines.iter().map(|line| line.frame.storey_springs.len()).sum()
        };
        assert_eq!((springs(&a, &counted), springs(&b, &left_out)), (2, 0));
        let (with_struts, without) = (standing(&counted), standing(&left_out));
        assert!(says(&with_struts, Code::MasonryCounted) && !says(&with_struts, Code::MasonryIgnored));
        assert!(says(&without, Code::MasonryIgnored) && !says(&without, Code::MasonryCounted));
        let period = |option: &OptionResult| option.directions[0].period_s;
        assert!(period(&with_struts) < 0.9 * period(&without), "struts stiffen");
        let mut sill = left_out.clone();
        sill.building.masonry[0].sill_mm = Some(1200.0);
        assert!(model(&sill).columns.iter().any(|column| column.sill_m[0] > 1.0), "the safe side");
    }
}

/// EN 1998-1 5.9(4) and ASCE/SEI 41-17 11.4.2.3 (from memory): the column beside a panel is checked for
/// the lesser of the horizontal strength of the panel in bed-joint shear and the shear that bends the
/// column over the contact of the strut.
#[test]
fn a_strong_panel_shears_the_column_it_leans_on() {
    for set in [RuleSet::American, RuleSet::European] {
        let with = |shear_mpa: f64| Project { rules: set, ..panels(&json!([]), shear_mpa, true) };
        // Hinges are those of the first set; findings those of either.
        let struts = |project: &Project, failure: Failure| {
            let hinges = ready(project, None, false).expect("it stands").hinges;
            let [along_x, _] = hinges;
            let is_strut = move |own: &sisterframe_core::hinge::HingeStrength| {
                own.failure == failure
                    && matches!(own.hinges.first(), Some(sisterframe_core::line_mode::Hinge::StoreySpring { .. }))
            };
            along_x.into_iter().filter(is_strut).collect::<Vec<_>>()
        };
        // Weak mortar: the panels crack, the columns stay.
        let weak = with(0.05);
        assert!(!says(&standing(&weak), Code::MasonryHarms));
        let cracked = struts(&weak, Failure::Masonry);
        assert_eq!(cracked.len(), 2);
        assert_near("v·t·l", cracked[0].senses[0].expect("a strength").strength, 0.05 * 200.0 * 4600.0 / 1000.0, 1e-9);
        // Strong mortar: a column shears below what the panel would bring, and gravity support goes with it.
        let strong = with(0.6);
        assert!(says(&standing(&strong), Code::MasonryHarms));
        let sheared = struts(&strong, Failure::Shear);
        assert_eq!(sheared.len(), 2);
        for hinge in &sheared {
            let own = hinge.senses[0].expect("a strength");
            assert!(own.strength < 0.6 * 200.0 * 4600.0 / 1000.0 && hinge.vertical);
            assert_eq!((own.capping, own.accepted), (0.0, [0.0; 3]));
            assert!(matches!(&hinge.place, Place::Column { y, .. } if y == "A"), "{:?}", hinge.place);
        }
        // A jacket that carries the thrust cures it.
        let jacket = json!([{"kind": "jacket", "y": ["A"], "thickness_mm": 150, "bars": 12, "bar_mm": 19, "hoop_mm": 14,
                             "hoop_spacing_mm": 60, "concrete_mpa": 40}]);
        let cured = Project { rules: set, ..panels(&jacket, 0.5, true) };
        let options = study(&cured).options;
        assert!(says(&options[0], Code::MasonryHarms) && !says(&options[1], Code::MasonryHarms), "{set:?}");
    }
}
